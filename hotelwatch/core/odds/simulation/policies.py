"""House rules that are compared: cycle, way of checking, ring, follow-ups, minutes a day.

Without arrays, so that pages and words may know them from the start.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from math import ceil

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.facts import TeamDescribed
from hotelwatch.core.house import House
from hotelwatch.core.odds.cycles.cycle_hotel import now_of
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay

HOURS_A_DAY = 24
WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
RINGS: Mapping[str, tuple[Kind, ...]] = {
    "none": (),
    "walls": (Kind.SHARES_WALL, Kind.CONNECTS, Kind.SAME_SUITE),
    "all": tuple(Kind),
}
"""Which neighbours of a find are looked at, by the name of the choice."""


@dataclass(frozen=True, slots=True)
class HouseRule:
    """How a hotel looks for insects and what it does at a find; days, and minutes of a team."""

    cycle_days: int
    minutes_by_weekday: tuple[float, ...]
    """Of all teams together, for deep looks and the ways to them, from Monday on."""
    way: CheckWay
    ring: tuple[Kind, ...]
    """Kinds of neighbours that are looked at after a find."""
    ring_days: int
    """They are looked at so many days after it at the latest; a guest who stays is asked."""
    follow_ups: int
    follow_up_days: int
    """Between the treatment and the first follow-up, and from each to the next."""
    trap_days: int
    early_share: float
    """How much of its cycle before it is due a room may be looked at, once a team is there."""
    corridor_minutes: float
    """To get to a corridor, once a day."""

    @property
    def early_days(self) -> int:
        """So many days before it is due a room may be looked at."""
        return ceil(self.early_share * self.cycle_days)

    @property
    def closed_days(self) -> int:
        """Nights for which a room is closed after a find: until its last follow-up."""
        return max(1, self.follow_ups * self.follow_up_days)


def house_rule_of(house: House, today: date) -> HouseRule:
    """The rule that a house follows now, as far as its record, its figures and teams say.

    One cycle, the middle room's, stands for all rooms.
    """
    figures, now = house.rules.figures, now_of(house, today)
    ring = {Kind(code) for code in house.profile.ring_kinds} | {Kind.SAME_SUITE}
    teams = tuple(house.teams.values())
    return HouseRule(
        cycle_days=now.cycle_days,
        minutes_by_weekday=tuple(_minutes_on(weekday, teams) for weekday in WEEK),
        way=now.way,
        ring=tuple(kind for kind in Kind if kind in ring),
        ring_days=ceil(figures.neighbour_check_hours.value / HOURS_A_DAY),
        follow_ups=int(figures.clean_checks_after_treatment.value),
        follow_up_days=int(figures.days_between_clean_checks.value),
        trap_days=int(figures.trap_days.value),
        early_share=figures.early_share.value,
        corridor_minutes=figures.corridor_minutes.value,
    )


def _minutes_on(weekday: str, teams: tuple[TeamDescribed, ...]) -> float:
    return float(sum(team.minutes - team.kept_free for team in teams if weekday in team.works_on))
