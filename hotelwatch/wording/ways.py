"""What the way from room to room takes for granted, said in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from hotelwatch.core.building.walking import Ways
from hotelwatch.core.parameters import Figures
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label


def assumed_sentences(ways: Ways, figures: Figures) -> Iterator[str]:
    """A sentence for each thing that nobody said or measured."""
    for assumed in ways.assumed:
        yield _("Assumed: {what}.").format(what=label(assumed))
    yield _(
        "Assumed: people walk {speed} m a minute; a storey of stairs counts as {storey} m, "
        "a ride in a lift as {ride} m."
    ).format(
        speed=f"{figures.walking_m_per_minute.value:g}",
        storey=f"{figures.stair_metres_per_storey.value:g}",
        ride=f"{figures.lift_ride_metres.value:g}",
    )
