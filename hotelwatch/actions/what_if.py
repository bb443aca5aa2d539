"""What if: the situation prepared once, then tried with other teams, minutes, cycles, rooms kept.

The planner's arrays take their time to load, so they are brought in when first asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import Occupancy

if TYPE_CHECKING:
    from hotelwatch.core.planning.situation import Situation
    from hotelwatch.core.planning.what_if import Outlook

WHOLE = 100


@dataclass(frozen=True, slots=True)
class Trial:
    """What is tried; as it stands it changes nothing."""

    teams: int = 0
    """More teams like the one with the most minutes; fewer if negative."""
    minutes_percent: int = WHOLE
    """Of what each team has each day."""
    cycle_percent: int = WHOLE
    """Of every room's cycle."""
    keeps_rooms: int = 0
    """So many rooms a day front desk keeps free."""


@dataclass(frozen=True, eq=False)
class Prepared:
    """The situation to try things on, and what comes of it as things are."""

    situation: Situation
    as_is: Outlook


def prepare_trials(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Prepared:
    """Read the house's situation once. ``progress`` may raise Stopped."""
    from hotelwatch.core.planning.situation import situation_of
    from hotelwatch.core.planning.what_if import Change, what_if

    situation = situation_of(house, occupancy, wish)
    return Prepared(situation, what_if(situation, Change(), progress))


def try_out(prepared: Prepared, trial: Trial, progress: Progress = silent) -> Outlook:
    """What would come of a trial. Nothing is written down. ``progress`` may raise Stopped."""
    if trial == Trial():
        return prepared.as_is
    from hotelwatch.core.planning.what_if import Change, what_if

    change = Change(trial.teams, trial.minutes_percent, trial.cycle_percent, trial.keeps_rooms)
    return what_if(prepared.situation, change, progress)
