"""Why the cycle can't be met in the days planned, and what would mend it, for a house."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.house import House
from hotelwatch.core.planning.problem import Claims
from hotelwatch.core.planning.repairs import Means, Repair, repairs
from hotelwatch.core.planning.rolling import roll
from hotelwatch.core.planning.shortfall import Shortfall, why_not
from hotelwatch.core.planning.situation import Situation, situation_of
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import ONE_DAY, Occupancy


@dataclass(frozen=True, slots=True)
class Load:
    """What the house's cycles ask of its teams for ever, whatever the bookings."""

    asked_a_day: float
    """Minutes a day: every room's visit once in its cycle, ways left out."""
    had_a_day: float
    """Minutes a day of all teams, over the days planned."""

    @property
    def is_too_much(self) -> bool:
        """Whether no plan can keep the cycles in the long run."""
        return self.asked_a_day > self.had_a_day

    @property
    def least_stretch(self) -> float:
        """All cycles longer by this factor at least would fit."""
        return self.asked_a_day / self.had_a_day if self.had_a_day else float("inf")


@dataclass(frozen=True, slots=True)
class Reasons:
    """Why not, and what to do about it."""

    load: Load
    shortfalls: tuple[Shortfall, ...]
    repairs: tuple[Repair, ...]


def reasons(house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent) -> Reasons:
    """Everything that keeps visits of the wish's days from being in time, with repairs."""
    situation = situation_of(house, occupancy, wish)
    choice = roll(situation.problem, situation.prices, progress).choice
    found = why_not(situation.problem, choice)
    means = means_of(situation, occupancy)
    return Reasons(load_of(situation), found, repairs(situation.problem, found, means))


def load_of(situation: Situation) -> Load:
    """The house's cycles against its teams' minutes."""
    house, view = situation.house, situation.view
    asked = 0.0
    for room in house.rooms:
        beds = house.beds_of(room)
        minutes = view.setup + sum(view.bed_minutes(bed) for bed in beds)
        asked += minutes / house.cycle_of(room) if beds else 0.0
    had = situation.problem.team_minutes.sum() / max(1, len(situation.days))
    return Load(asked, float(had))


def means_of(situation: Situation, occupancy: Occupancy) -> Means:
    """What front desk could keep free, and what encasing would spare."""
    house, view = situation.house, situation.view
    visits = situation.visits
    encased, unencased = [], []
    for visit in visits:
        beds = [house.beds[bed.bed] for bed in visit.beds]
        encased.append(view.setup + sum(view.bed_minutes(bed, encased=True) for bed in beds))
        unencased.append(sum(not bed.encased for bed in beds))
    return Means(
        nights=_nights(situation, occupancy),
        minutes_if_encased=np.minimum(np.array(encased, np.int64), situation.problem.minutes),
        beds_to_encase=np.array(unencased, np.int64),
    )


def _nights(situation: Situation, occupancy: Occupancy) -> Claims:
    """Days that would open if the first night of a booking to come were spent elsewhere."""
    days = situation.days
    could = np.zeros((len(situation.visits), len(days)), bool)
    for row, visit in enumerate(situation.visits):
        for column, day in enumerate(days[1:], 1):
            if day > visit.due_on:
                break
            night = day - ONE_DAY
            stay = occupancy.stay_on(visit.room, night)
            # A guest who is in the house already, or stays one night only, changes nothing.
            could[row, column] = (
                stay is not None
                and stay.arrives_on == night
                and stay.leaves_on > day
                and night > days[0]
            )
    return could
