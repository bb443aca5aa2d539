"""House rules that are compared: cycle, way of checking, ring, follow-ups, minutes a day."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.facts import TeamDescribed
from hotelwatch.core.house import House
from hotelwatch.core.odds.cycle_ways import CheckWay, look_of, shares_of
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.settings import Look, Setting
from hotelwatch.core.odds.simulation.hotel import SimulatedHotel
from hotelwatch.core.odds_figures import OddsRules

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


def house_rule_of(house: House, way: CheckWay) -> HouseRule:
    """The rule that a house follows now, as far as its figures and teams say.

    One cycle stands for all rooms: the one that most rooms have.
    """
    figures = house.rules.figures
    cycles = Counter(house.cycle_of(room) for room in house.rooms)
    usual = int(figures.cycle_days.value)
    ring = {Kind(code) for code in house.profile.ring_kinds} | {Kind.SAME_SUITE}
    teams = tuple(house.teams.values())
    return HouseRule(
        cycle_days=max(cycles, key=lambda days: (cycles[days], days), default=usual),
        minutes_by_weekday=tuple(_minutes_on(weekday, teams) for weekday in WEEK),
        way=way,
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


def minutes_needed(
    hotel: SimulatedHotel, rule: HouseRule, minutes: Floats, *, rooms_a_way: float
) -> float:
    """Minutes a day, all days alike, that the cycle takes, ``rooms_a_way`` at each corridor."""
    ways = hotel.size * rule.corridor_minutes / rooms_a_way
    return float(minutes.sum() + ways) / rule.cycle_days


@dataclass(frozen=True, slots=True)
class Checking:
    """What a rule's deep look is in one stance: what it sees, where insects sit, its minutes."""

    look: Look
    shares: tuple[float, ...]
    minutes: Floats
    """Of a team, for each room."""


def checking(
    rules: OddsRules, setting: Setting, rule: HouseRule, hotel: SimulatedHotel
) -> Checking:
    """A rule's deep look in one stance."""
    figures, stance, way, usual = rules.figures, setting.stance, rule.way, hotel.usual
    beds = hotel.encased_minutes if way.encased else hotel.beds_minutes
    extra = 0.0
    if way.cover_opened and not way.encased:
        extra += usual.covers * figures.extra_minutes_cover.of(stance)
    if way.headboard_off:
        extra += usual.headboards * figures.extra_minutes_headboard.of(stance)
    return Checking(
        look=look_of(rules, setting, way),
        shares=shares_of(way, usual),
        minutes=hotel.setup_minutes + beds * way.longer + extra,
    )
