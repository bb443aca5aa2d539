"""Clean checks of a room that count towards giving it back, bed by bed.

A find sets the count back to nought: for the room and the other keys of its suite.
Checks closer together than figures.days_between_clean_checks count once.

The choice "full_check" says what a full check looks at: "looked_at" every place but those
that may not go back as they were, "cover_opened" those too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.checks.coverage import builds_on, underside_seen
from hotelwatch.core.checks.signs import Find, finds
from hotelwatch.core.facts import BedChecked, BedDescribed, BedNo, CheckKind, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept

COVER_OPENED = "cover_opened"


@dataclass(frozen=True, slots=True)
class CleanWanted:
    """Which clean checks are wanted: kinds, how many, on days from first to last."""

    kinds: frozenset[CheckKind]
    need: int
    first: date
    last: date
    need_full: int = 0
    """So many of them must have been full ones."""
    hatched_on: date | None = None
    """One of them must be made on this day or later; None where eggs do not matter."""


@dataclass(frozen=True, slots=True)
class CleanCount:
    """How far the clean checks of one bed have come."""

    bed: str
    """Empty for a room without beds."""
    have: int
    need: int
    next_from: date
    """The first day on which the next one counts."""
    full: int
    need_full: int
    is_after_hatch: bool
    """Whether one was made after the slowest egg had hatched, or none needs to be."""
    last_on: date | None
    """The day of the last one that counts."""
    last_by: tuple[str, ...]

    @property
    def is_met(self) -> bool:
        """Whether no further check of the bed is wanted."""
        return self.have >= self.need and self.full >= self.need_full and self.is_after_hatch


def clean_counts(house: House, room: RoomNo, wanted: CleanWanted) -> tuple[CleanCount, ...]:
    """The count of each bed of a room; of the room itself where it has none."""
    found = finds(house, room)
    beds = [bed.bed for bed in house.beds_of(room)] or [BedNo("")]
    return tuple(_count(house, room, bed, wanted=wanted, found=found) for bed in beds)


def _count(
    house: House, room: RoomNo, bed: BedNo, *, wanted: CleanWanted, found: tuple[Find, ...]
) -> CleanCount:
    between = days_between(house)
    valid = [
        check
        for check in _clean_looks(house, room, bed)
        if check.fact.kind in wanted.kinds
        and wanted.first <= check.fact.checked_on <= wanted.last
        and all(find.is_before(check.fact.checked_on, check.entry) for find in found)
    ]
    valid.sort(key=lambda check: (check.fact.checked_on, check.entry))
    counted = spaced([check.fact.checked_on for check in valid], between)
    full_days = {check.fact.checked_on for check in valid if full_seen(house, check.fact)}
    from_on = max([wanted.first, *(find.counts_from for find in found)])
    late = [c for c in valid if wanted.hatched_on and c.fact.checked_on >= wanted.hatched_on]
    next_from = counted[-1] + between if counted and len(counted) < wanted.need else from_on
    if wanted.hatched_on and len(counted) >= wanted.need - 1 and not late:
        # The last one is not made before the eggs have hatched: it would have to be made again.
        next_from = max(next_from, wanted.hatched_on)
    return CleanCount(
        bed=bed,
        have=len(counted),
        need=wanted.need,
        next_from=next_from,
        full=len(full_days),
        need_full=wanted.need_full,
        is_after_hatch=wanted.hatched_on is None or bool(late),
        last_on=valid[-1].fact.checked_on if valid else None,
        last_by=valid[-1].fact.by if valid else (),
    )


def _clean_looks(
    house: House, room: RoomNo, bed: BedNo
) -> Iterator[Kept[BedChecked] | Kept[RoomChecked]]:
    """Checks of a bed with its underside seen, or of a room without beds; without a find."""
    if bed:
        for check in house.checks_by_bed.get(bed, ()):
            is_here = check.fact.room == room and not check.fact.found
            if is_here and underside_seen(house, check.fact):
                yield check
        return
    for look in house.kept_room_checks.get(room, ()):
        if not look.fact.found:
            yield look


def full_seen(house: House, check: BedChecked | RoomChecked) -> bool:
    """Whether a check looked at every place that a full one asks for."""
    with_optional = house.choices.get("full_check") == COVER_OPENED
    seen = set(check.seen)
    if isinstance(check, RoomChecked):
        needed = {p.code for p in house.rules.room_places if with_optional or not p.optional}
        return needed <= seen
    return any(
        bool(codes) and codes <= seen
        for build in builds_on(house, check.bed, check.checked_on)
        if (codes := _places_of(house, build, with_optional=with_optional)) is not None
    )


def _places_of(house: House, bed: BedDescribed, *, with_optional: bool) -> frozenset[str] | None:
    kind = house.rules.bed_kinds.get(bed.kind)
    if kind is None:
        return None
    places = kind.places_of(encased=bed.encased)
    return frozenset(p.code for p in places if with_optional or not p.optional)


def spaced(days: list[date], between: timedelta) -> list[date]:
    """As many of these days, in order, as count: the earliest first."""
    counted: list[date] = []
    for day in days:
        if not counted or day - counted[-1] >= between:
            counted.append(day)
    return counted


def days_between(house: House) -> timedelta:
    """Clean checks closer together than this count as one."""
    return timedelta(days=int(house.rules.figures.days_between_clean_checks.value))
