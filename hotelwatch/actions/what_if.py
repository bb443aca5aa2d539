"""What if: the house read once, then tried with other teams, minutes, cycles, rooms kept.

The planner's arrays take their time to load, so they are brought in when first asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hotelwatch.actions.rounds import weighed
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.outlook import Change, Outlook
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import Occupancy

if TYPE_CHECKING:
    from hotelwatch.core.planning.what_if import Ground


@dataclass(frozen=True, eq=False)
class Prepared:
    """What things are tried on, and what comes of it as things are."""

    ground: Ground
    as_is: Outlook


def prepare_trials(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Prepared:
    """Read the house's situation once. ``progress`` may raise Stopped."""
    from hotelwatch.core.planning.what_if import Ground, what_if

    ground = Ground(house, occupancy, weighed(house, occupancy, wish))
    return Prepared(ground, what_if(ground, Change(), progress))


def is_at_hand(prepared: Prepared, change: Change) -> bool:
    """Whether a change can be tried at once, without reading the house anew for it."""
    return prepared.ground.has_read(change.cycle_percent)


def try_out(prepared: Prepared, change: Change, progress: Progress = silent) -> Outlook:
    """What would come of a change. Nothing is written down. ``progress`` may raise Stopped."""
    if change == Change():
        return prepared.as_is
    from hotelwatch.core.planning.what_if import what_if

    return what_if(prepared.ground, change, progress)
