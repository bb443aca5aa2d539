"""What the way from room to room takes for granted, said in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from hotelwatch.core.building.walking import Ways
from hotelwatch.core.parameters import Figures
from hotelwatch.wording.dates import minutes_text
from hotelwatch.wording.language import _, join
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


def corridors_sentence(figures: Figures) -> str:
    """What ways to corridors and setting up count for in minutes, and how that is known."""
    way, setup = figures.corridor_minutes, figures.room_setup_minutes
    standings = dict.fromkeys(label(figure.standing) for figure in (way, setup))
    return _("Ways to corridors: {way} each; setting up: {setup} a room ({standing}).").format(
        way=minutes_text(round(way.value)),
        setup=minutes_text(round(setup.value)),
        standing=join(list(standings)),
    )
