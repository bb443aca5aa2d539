"""A house's facts as records of its rooms: what each look saw, what was told, found, treated."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from hotelwatch.core.checks.coverage import builds_on
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    CaseNo,
    CheckKind,
    RoomChecked,
    RoomNo,
)
from hotelwatch.core.house import House
from hotelwatch.core.odds.nights import Nights, nights
from hotelwatch.core.odds.places import (
    NOTHING,
    Parts,
    mean_parts,
    seen_of_beds,
    shares_of_bed,
    shown,
    together,
)
from hotelwatch.core.odds.record import (
    Evidence,
    Found,
    Looked,
    RoomRecord,
    Told,
    Treated,
    Unreported,
)
from hotelwatch.core.odds.settings import Look, Setting
from hotelwatch.core.odds.told import SignThen, Span, ToldOf, first_described_on, told_of
from hotelwatch.core.records import Kept
from hotelwatch.core.stays.openings import Occupancy

DAYS_OF_RECORD = 730
"""Older days of a record say nothing that later looks would not."""
DAYS_BEFORE = 365
"""Columns before a record begins, for what may have come in earlier."""
DAYS_A_WEEK = 7
NOTICES = {CheckKind.BRIEF: "notice_linen"}
"""Which figure says how well a kind of check notices; others are deep."""


@dataclass(frozen=True)
class Visit:
    """What one visit to a room looked at, and which figure says how well."""

    day: int
    entry: int
    seen: Parts
    notice: str
    has_find: bool


@dataclass(frozen=True)
class Records:
    """The records of rooms, from which a stance's are made."""

    nights: Nights
    plain: Mapping[RoomNo, PlainRecord]

    @property
    def today(self) -> int:
        """Today's column."""
        return self.nights.days - 1

    @property
    def span(self) -> Span:
        """Its days as columns."""
        return Span(self.nights.first_on, self.today)

    def day_of(self, column: int) -> date:
        """The date of a column."""
        return self.nights.first_on + timedelta(days=column)


@dataclass(frozen=True)
class PlainRecord:
    """A room's record before a stance says how well its looks notice."""

    row: int
    """Of the room in ``Nights``."""
    began: int
    shares: Parts
    visits: tuple[Visit, ...]
    """Clean ones and those with a find."""
    traps: tuple[tuple[int, float], ...]
    """Empty traps: day, share of the time that they must stand."""
    signs: tuple[SignThen, ...]
    """Day, weight, whether it was judged to be bed bugs, the visit's entry if one met it."""
    treated: tuple[int, ...]
    moved_in: tuple[tuple[int, float], ...]


def records(house: House, occupancy: Occupancy, today: date) -> Records:
    """The records of every room, as known on a day."""
    return records_of(house, nights_at_hand(house, occupancy, today), house.rooms)


def nights_at_hand(house: House, occupancy: Occupancy, today: date) -> Records:
    """The nights of every room, without any record yet."""
    described = first_described_on(house, house.rooms)
    earliest = min((_began_on(house, room, described) for room in house.rooms), default=today)
    first_on = max(earliest, today - timedelta(days=DAYS_OF_RECORD)) - timedelta(days=DAYS_BEFORE)
    return Records(nights(house, occupancy, first_on=first_on, today=today), {})


def records_of(
    house: House,
    known: Records,
    rooms: Iterable[RoomNo],
    *,
    taken_as_found: frozenset[CaseNo] = frozenset(),
) -> Records:
    """The same records with those of some rooms made anew.

    Signs of cases ``taken_as_found`` count as judged to be bed bugs.
    """
    rows = {room: row for row, room in enumerate(known.nights.rooms)}
    wanted = [room for room in rooms if room in rows and room in house.rooms]
    told = told_of(house, known.span, wanted, taken_as_found)
    anew = {room: _plain(house, known, room, row=rows[room], told=told) for room in wanted}
    return replace(known, plain={**known.plain, **anew})


def record_in(
    house: House, known: Records, room: RoomNo, setting: Setting, *, with_silence: bool = True
) -> RoomRecord:
    """A room's record as one stance reads it; without the silence of bed-making if so asked."""
    plain = known.plain[room]
    looks: list[Evidence] = []
    by_entry = {visit.entry: visit for visit in plain.visits}
    glance = setting.look(house.rules.odds.looks["glance"])
    traps = setting.look(house.rules.odds.looks["traps"])
    for visit in plain.visits:
        if not visit.has_find and any(visit.seen):
            looks.append(Looked(visit.day, Look(visit.seen, setting.notice[visit.notice])))
    looks += [Looked(day, traps, share) for day, share in plain.traps]
    for day, weight, is_judged, entry in plain.signs:
        if not is_judged:
            looks.append(Told(day, setting.sign_ratios[weight]))
            continue
        met = by_entry.get(entry) if entry is not None else None
        look = Look(met.seen, setting.notice[met.notice]) if met and any(met.seen) else glance
        looks.append(Found(day, look))
    looks += [Treated(day) for day in plain.treated]
    return RoomRecord(
        arrivals=known.nights.arrivals_of(plain.row),
        let=known.nights.let_of(plain.row),
        began=plain.began,
        evidence=tuple(looks),
        moved_in=plain.moved_in,
        shares=plain.shares,
        extra=tuple(_silence(known, plain, setting, glance)) if with_silence else (),
    )


def _silence(
    known: Records, plain: PlainRecord, setting: Setting, glance: Look
) -> Iterator[Looked | Unreported]:
    """That bed-making and guests reported nothing, week by week."""
    if not (setting.glance_weight or setting.guest_silence):
        return
    let = known.nights.let_of(plain.row)[plain.began :]
    firsts = np.arange(0, len(let), DAYS_A_WEEK)
    # Told apart to a quarter, so that few kinds of silence need a table.
    weeks = np.round(np.add.reduceat(let, firsts) * 4) / 4
    lasts = np.minimum(firsts + DAYS_A_WEEK, len(let)) - 1 + plain.began
    for last, nights_let in zip(lasts.tolist(), weeks.tolist(), strict=True):
        if nights_let and setting.glance_weight:
            yield Looked(last, glance, nights_let * setting.glance_weight)
        if nights_let and setting.guest_silence:
            yield Unreported(last, nights_let * setting.guest_silence)


# --- from facts ------------------------------------------------------------------------------


def _plain(house: House, known: Records, room: RoomNo, *, row: int, told: ToldOf) -> PlainRecord:
    rules = house.rules
    today = known.today
    of_beds = [_shares_of(house, bed) for bed in house.beds_of(room) if bed.kind in rules.bed_kinds]
    treated = (known.span.column(day) for day in house.treated_on.get(room, ()))
    began = max(0, known.span.column(_began_on(house, room, told.described)))
    return PlainRecord(
        row=row,
        began=min(began, today),
        shares=mean_parts(of_beds) if of_beds else rules.odds.shares,
        visits=tuple(_visits(house, known, room, told)),
        traps=told.traps.get(room, ()),
        signs=told.signs.get(room, ()),
        treated=tuple(day for day in treated if 0 <= day <= today),
        moved_in=told.moved.get(room, ()),
    )


def _began_on(house: House, room: RoomNo, described: Mapping[RoomNo, date]) -> date:
    """When a room's record begins: as it entered the roster, or at its first look."""
    first = described[room]
    looks = [row.fact.checked_on for row in house.kept_room_checks.get(room, ())[:1]]
    for bed in house.beds_of(room):
        looks += [row.fact.checked_on for row in house.checks_by_bed.get(bed.bed, ())[:1]]
    began = min([first, *looks])
    return max(began, house.complete_from) if house.complete_from else began


def _visits(house: House, known: Records, room: RoomNo, told: ToldOf) -> Iterator[Visit]:
    """Looks at a room's beds and other places, those of one entry and day together."""
    groups: defaultdict[tuple[int, int], list[BedChecked | RoomChecked]] = defaultdict(list)
    kept: list[Kept[BedChecked] | Kept[RoomChecked]] = list(house.kept_room_checks.get(room, ()))
    for bed in house.beds_of(room):
        kept += house.checks_by_bed.get(bed.bed, ())
    for row in kept:
        column = known.span.column(row.fact.checked_on)
        if row.fact.room == room and 0 <= column <= known.today:
            groups[column, row.entry].append(row.fact)
    beds = house.beds_of(room)
    for (column, entry), facts in sorted(groups.items()):
        yield _visit(house, facts, beds, at=(column, entry), told=told)


def _visit(
    house: House,
    facts: list[BedChecked | RoomChecked],
    beds: tuple[BedDescribed, ...],
    *,
    at: tuple[int, int],
    told: ToldOf,
) -> Visit:
    rules = house.rules
    seen_of: dict[str, Parts] = {}
    of_room = NOTHING
    for fact in facts:
        if isinstance(fact, BedChecked):
            seen_of[fact.bed] = _shown_of_bed(house, fact)
        else:
            codes = [place.code for place in rules.room_places]
            of_room = together(of_room, shown(rules.odds, codes, fact.seen))
    of_beds = [(_shares_of(house, bed), seen_of.get(bed.bed, NOTHING)) for bed in beds]
    found = any(fact.found for fact in facts)
    return Visit(
        day=at[0],
        entry=at[1],
        seen=together(seen_of_beds(of_beds), of_room),
        notice=NOTICES.get(facts[0].kind, "notice_deep"),
        has_find=found and (at[1], facts[0].room) not in told.clean_finds,
    )


def _shares_of(house: House, bed: BedDescribed) -> Parts:
    kind = house.rules.bed_kinds.get(bed.kind)
    if kind is None:
        return house.rules.odds.shares
    return shares_of_bed(house.rules.odds, kind, encased=bed.encased)


def _shown_of_bed(house: House, fact: BedChecked) -> Parts:
    """By the build of that day; of two builds on one day, by the one that shows more."""
    kinds = house.rules.bed_kinds
    builds = [b for b in builds_on(house, fact.bed, fact.checked_on) if b.kind in kinds]
    each = [
        shown(
            house.rules.odds,
            [place.code for place in kinds[build.kind].places_of(encased=build.encased)],
            fact.seen,
        )
        for build in builds
    ]
    return max(each, key=sum, default=NOTHING)
