"""By what kind of look or word a find was noticed first, from the facts; never by whom."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CheckKind, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.past.back_rows import FoundBy
from hotelwatch.core.records import Kept
from hotelwatch.core.treatment_facts import FirmDescribed, MonitorRead

OF_CHECK = {
    CheckKind.DEEP: FoundBy.DEEP,
    CheckKind.BRIEF: FoundBy.BRIEF,
    CheckKind.ASKED: FoundBy.ASKED,
    CheckKind.CLEARANCE: FoundBy.CLEARANCE,
}
OF_GUESTS = frozenset({Sign.GUEST_WORD, Sign.BITES_REPORTED})


@dataclass(frozen=True)
class Ways:
    """What was written down with signs: looks, traps, firms."""

    by_entry: Mapping[tuple[int, RoomNo], CheckKind]
    """Kinds of looks, by the entry that they were written down in."""
    by_day: Mapping[tuple[RoomNo, date], CheckKind]
    """Kinds of looks that found something, by day: a sign may be written down by itself."""
    trapped: frozenset[tuple[int, RoomNo]]
    firms: frozenset[str]


def ways_of(house: House) -> Ways:
    """What a house wrote down with its signs."""
    by_entry: dict[tuple[int, RoomNo], CheckKind] = {}
    by_day: dict[tuple[RoomNo, date], CheckKind] = {}
    checks: list[Kept[BedChecked] | Kept[RoomChecked]] = [
        *house.kept_of(BedChecked),
        *house.kept_of(RoomChecked),
    ]
    for row in checks:
        by_entry.setdefault((row.entry, row.fact.room), row.fact.kind)
        if row.fact.found:
            by_day.setdefault((row.fact.room, row.fact.checked_on), row.fact.kind)
    return Ways(
        by_entry=by_entry,
        by_day=by_day,
        trapped=frozenset(
            (row.entry, row.fact.room) for row in house.kept_of(MonitorRead) if row.fact.caught
        ),
        firms=frozenset(fact.firm.casefold() for fact in house.all_of(FirmDescribed)),
    )


def first_noticed(house: House, ways: Ways, signs: Iterable[Kept[Sighted]]) -> tuple[date, FoundBy]:
    """The day and the way of the earliest of these signs, which are of one room."""
    row = min(signs, key=lambda one: (one.fact.seen_at, one.entry))
    return local_day(row.fact.seen_at, house.zone), _way(house, ways, row)


def _way(house: House, ways: Ways, row: Kept[Sighted]) -> FoundBy:
    sign = row.fact
    with_it = row.entry, sign.room
    if sign.by_guest or sign.sign in OF_GUESTS:
        return FoundBy.GUEST
    if sign.sign is Sign.DOG_ALERT:
        return FoundBy.DOG
    if with_it in ways.trapped:
        return FoundBy.TRAP
    kind = ways.by_entry.get(with_it)
    if kind is None and sign.seen_by.casefold() in ways.firms:
        return FoundBy.FIRM
    kind = kind or ways.by_day.get((sign.room, local_day(sign.seen_at, house.zone)))
    return FoundBy.STAFF if kind is None else OF_CHECK[kind]


Stretches = Mapping[tuple[RoomNo, int], tuple[Kept[Sighted], ...]]


def by_stretch(house: House, signs: Iterable[Kept[Sighted]]) -> Stretches:
    """A case's signs by room and by how many treatments of it came before."""
    found: defaultdict[tuple[RoomNo, int], list[Kept[Sighted]]] = defaultdict(list)
    for row in signs:
        day = local_day(row.fact.seen_at, house.zone)
        found[row.fact.room, treatments_before(house, row.fact.room, day)].append(row)
    return {key: tuple(rows) for key, rows in found.items()}


def treatments_before(house: House, room: RoomNo, day: date) -> int:
    """How many treatments a room had before a day."""
    return sum(done_on < day for done_on in house.treated_on.get(room, ()))
