"""Ways of checking that a cycle can have, what each looks at, and steps from one to another."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from hotelwatch.core.beds import BedKind
from hotelwatch.core.odds.places import Parts, mean_parts, shares_of_bed
from hotelwatch.core.odds.settings import Look, Setting
from hotelwatch.core.odds_figures import OddsRules
from hotelwatch.core.parameters import Rules

LENGTHS = (14, 21, 28, 30, 45, 60, 90, 120, 150, 183, 270, 365)
"""Cycle lengths in days that are compared unless others are asked for."""
LONGER = 1.5
"""By how much a step makes the looking longer: half as long again."""
SHORTER = 0.9
"""A step to a shorter cycle goes at least so far, in times of today's."""
HEADBOARD = "headboard_front"
"""The place by which a kind of bed shows that it has a headboard."""
HEADBOARD_BACK = "headboard_back"
"""The place of a room that is seen once its headboard is off."""
LOOKS = {
    (False, False): "deep_closed",
    (True, False): "deep_cover",
    (False, True): "deep_headboard",
    (True, True): "deep_full",
}
"""The look of a deep check: dust cover opened, headboard off."""


@dataclass(frozen=True, slots=True)
class CheckWay:
    """How rooms are looked at in each cycle."""

    cover_opened: bool = False
    headboard_off: bool = False
    encased: bool = False
    """Whether all beds are; else each as it is."""
    traps: bool = False
    longer: float = 1.0
    """Time spent looking, in times of the usual: twice the time is twice the search effort."""

    @property
    def look(self) -> str:
        """The kind of look, a key of ``OddsRules.looks``. An encased base has no inside to see."""
        return LOOKS[self.cover_opened and not self.encased, self.headboard_off]


@dataclass(frozen=True, slots=True)
class UsualRoom:
    """A mean room: its beds, and the work of one deep check in minutes of one person."""

    beds: float
    encased_beds: float
    covers: float
    """Beds whose base has an inside behind a dust cover, not encased."""
    headboards: float
    shares: Parts
    """Where infestations mainly sit, with each bed encased or not, as it is."""
    encased_shares: Parts
    """The same with every bed encased that has an inside of its base."""
    people: float
    """Who come together: extra minutes count for each."""
    setup_work: float
    beds_work: float
    """With each bed as it is."""
    encased_work: float
    """With every bed encased."""


def room_of(rules: Rules, beds: Iterable[tuple[str, bool]], *, rooms: int = 1) -> UsualRoom:
    """The mean of so many rooms that have these beds between them: kind, whether encased."""
    odds, people = rules.odds, rules.figures.team_people.value
    kinds = [(rules.bed_kinds[kind], encased) for kind, encased in beds]
    inside = [bool(inside_of(odds, kind, encased=False)) for kind, _ in kinds]
    covers = [has and not was for (_, was), has in zip(kinds, inside, strict=True)]
    headboards = [any(place.code == HEADBOARD for place in kind.places) for kind, _ in kinds]
    works = [kind.people * kind.minutes_of(encased=was) for kind, was in kinds]
    as_is = [shares_of_bed(odds, kind, encased=was) for kind, was in kinds]
    encased = [
        shares_of_bed(odds, kind, encased=was or has)
        for (kind, was), has in zip(kinds, inside, strict=True)
    ]
    return UsualRoom(
        beds=len(kinds) / rooms,
        encased_beds=sum(was for _, was in kinds) / rooms,
        covers=sum(covers) / rooms,
        headboards=sum(headboards) / rooms,
        shares=mean_parts(as_is) if kinds else odds.shares,
        encased_shares=mean_parts(encased) if kinds else odds.shares,
        people=people,
        setup_work=rules.figures.room_setup_minutes.value * people,
        beds_work=sum(works) / rooms,
        encased_work=sum(kind.people * kind.encased_minutes for kind, _ in kinds) / rooms,
    )


def inside_of(rules: OddsRules, kind: BedKind, *, encased: bool) -> frozenset[str]:
    """Codes of the places of a bed that lie inside its base, behind a dust cover."""
    places = kind.places_of(encased=encased)
    return frozenset(p.code for p in places if "base_inside" in rules.shows.get(p.code, {}))


def look_of(rules: OddsRules, setting: Setting, way: CheckWay) -> Look:
    """What one check sees; looking longer is more search effort at the same places."""
    usual = setting.look(rules.looks[way.look])
    return replace(usual, notice=usual.notice * way.longer)


def shares_of(way: CheckWay, room: UsualRoom) -> Parts:
    """Where infestations of such a room mainly sit, in the order of PLACES."""
    return room.encased_shares if way.encased else room.shares


class Step(StrEnum):
    """What more one may do than today."""

    SHORTER = "shorter"
    COVER = "cover"
    HEADBOARD = "headboard"
    ENCASING = "encasing"
    TRAPS = "traps"
    LONGER = "longer"


def steps_from(
    way: CheckWay, cycle_days: int, room: UsualRoom, *, lengths: Sequence[int] = LENGTHS
) -> Mapping[Step, tuple[CheckWay, int]]:
    """Way and cycle length after each step that can still be taken."""
    found: dict[Step, tuple[CheckWay, int]] = {}
    if shorter := [days for days in lengths if days <= SHORTER * cycle_days]:
        found[Step.SHORTER] = (way, max(shorter))
    if not way.cover_opened and not way.encased and room.covers:
        found[Step.COVER] = (replace(way, cover_opened=True), cycle_days)
    if not way.headboard_off and room.headboards:
        found[Step.HEADBOARD] = (replace(way, headboard_off=True), cycle_days)
    if not way.encased and room.covers:
        found[Step.ENCASING] = (replace(way, encased=True), cycle_days)
    if not way.traps:
        found[Step.TRAPS] = (replace(way, traps=True), cycle_days)
    found[Step.LONGER] = (replace(way, longer=way.longer * LONGER), cycle_days)
    return found
