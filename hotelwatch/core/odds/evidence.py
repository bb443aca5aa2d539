"""A house's facts as records of its rooms: what each look saw, what was told, found, treated."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

import numpy as np

from hotelwatch.core.case_facts import CaseJudged, GuestMoved, Outcome, Sighted
from hotelwatch.core.checks.asked import is_ruled_out, judgement_of
from hotelwatch.core.checks.coverage import builds_on
from hotelwatch.core.checks.signs import weight_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, CheckKind, RoomChecked, RoomDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.nights import Nights, nights
from hotelwatch.core.odds.places import NOTHING, Parts, mean_parts, shares_of_bed, shown, together
from hotelwatch.core.odds.record import Evidence, Found, Looked, RoomRecord, Told, Treated
from hotelwatch.core.odds.settings import Look, Setting
from hotelwatch.core.parameters import Evidence as Weight
from hotelwatch.core.records import Kept
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead

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
        return int(self.nights.arrivals.shape[1]) - 1

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
    signs: tuple[tuple[int, Weight, bool, int | None], ...]
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
    told = _told_of(house, known, wanted, taken_as_found)
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
        arrivals=known.nights.arrivals[plain.row],
        let=known.nights.let[plain.row],
        began=plain.began,
        evidence=tuple(looks),
        moved_in=plain.moved_in,
        shares=plain.shares,
        extra=tuple(_silence(known, plain, setting, glance)) if with_silence else (),
    )


def _silence(
    known: Records, plain: PlainRecord, setting: Setting, glance: Look
) -> Iterator[Looked]:
    """That bed-making reported nothing, week by week."""
    if not setting.glance_weight:
        return
    let = known.nights.let[plain.row, plain.began :]
    firsts = np.arange(0, len(let), DAYS_A_WEEK)
    # Told apart to a quarter, so that few kinds of silence need a table.
    made = np.round(np.add.reduceat(let, firsts) * 4) / 4
    lasts = np.minimum(firsts + DAYS_A_WEEK, len(let)) - 1 + plain.began
    for last, times in zip(lasts.tolist(), made.tolist(), strict=True):
        if times:
            yield Looked(last, glance, times * setting.glance_weight)


# --- from facts ------------------------------------------------------------------------------


@dataclass(frozen=True)
class _ToldOf:
    """What the house tells of rooms, by room."""

    described: Mapping[RoomNo, date]
    """The day on which each entered the roster."""
    signs: Mapping[RoomNo, tuple[tuple[int, Weight, bool, int | None], ...]]
    moved: Mapping[RoomNo, tuple[tuple[int, float], ...]]
    traps: Mapping[RoomNo, tuple[tuple[int, float], ...]]
    clean_finds: frozenset[tuple[int, RoomNo]]
    """Entries and rooms of which all finds were judged to be something else."""


def _plain(house: House, known: Records, room: RoomNo, *, row: int, told: _ToldOf) -> PlainRecord:
    rules = house.rules
    today = known.today
    of_beds = [
        shares_of_bed(rules.odds, rules.bed_kinds[bed.kind], encased=bed.encased)
        for bed in house.beds_of(room)
        if bed.kind in rules.bed_kinds
    ]
    treated = (_column(known, day) for day in house.treated_on.get(room, ()))
    began = max(0, _column(known, _began_on(house, room, told.described)))
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


def _column(known: Records, day: date) -> int:
    return (day - known.nights.first_on).days


def _visits(house: House, known: Records, room: RoomNo, told: _ToldOf) -> Iterator[Visit]:
    """Looks at a room's beds and other places, those of one entry and day together."""
    groups: defaultdict[tuple[int, int], list[BedChecked | RoomChecked]] = defaultdict(list)
    kept: list[Kept[BedChecked] | Kept[RoomChecked]] = list(house.kept_room_checks.get(room, ()))
    for bed in house.beds_of(room):
        kept += house.checks_by_bed.get(bed.bed, ())
    for row in kept:
        column = _column(known, row.fact.checked_on)
        if row.fact.room == room and 0 <= column <= known.today:
            groups[column, row.entry].append(row.fact)
    beds = len(house.beds_of(room))
    for (column, entry), facts in sorted(groups.items()):
        yield _visit(house, facts, beds=beds, at=(column, entry), told=told)


def _visit(
    house: House,
    facts: list[BedChecked | RoomChecked],
    *,
    beds: int,
    at: tuple[int, int],
    told: _ToldOf,
) -> Visit:
    rules = house.rules
    of_beds: list[Parts] = []
    of_room = NOTHING
    for fact in facts:
        if isinstance(fact, BedChecked):
            of_beds.append(_shown_of_bed(house, fact))
        else:
            codes = [place.code for place in rules.room_places]
            of_room = together(of_room, shown(rules.odds, codes, fact.seen))
    of_beds += [NOTHING] * (beds - len(of_beds))
    found = any(fact.found for fact in facts)
    return Visit(
        day=at[0],
        entry=at[1],
        seen=together(mean_parts(of_beds), of_room),
        notice=NOTICES.get(facts[0].kind, "notice_deep"),
        has_find=found and (at[1], facts[0].room) not in told.clean_finds,
    )


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


def _told_of(
    house: House, known: Records, rooms: Iterable[RoomNo], taken: frozenset[CaseNo]
) -> _ToldOf:
    told_by: dict[bool, set[tuple[int, RoomNo]]] = {True: set(), False: set()}
    for case, rows in house.sightings.items():
        told_by[is_ruled_out(house, case)] |= {(row.entry, row.fact.room) for row in rows}
    signs = _signs(house, known, taken)
    return _ToldOf(
        described=first_described_on(house, rooms),
        signs=signs,
        moved=_moved_in(house, known, signs),
        traps=_traps(house, known),
        clean_finds=frozenset(told_by[True] - told_by[False]),
    )


def _signs(
    house: House, known: Records, taken: frozenset[CaseNo]
) -> dict[RoomNo, tuple[tuple[int, Weight, bool, int | None], ...]]:
    """The sign of each case that counts in each room, without cases that were ruled out.

    The strongest; of those judged to be bed bugs the first, since it was there by then. After
    a treatment one of those since: what is found then is a find again.
    """
    found: defaultdict[RoomNo, list[tuple[int, Weight, bool, int | None]]] = defaultdict(list)
    for case, rows in house.sightings.items():
        if is_ruled_out(house, case):
            continue
        stretches: defaultdict[tuple[RoomNo, int], list[Kept[Sighted]]] = defaultdict(list)
        for row in rows:
            treated = house.treated_on.get(row.fact.room, ())
            stretches[row.fact.room, bisect_left(treated, _seen_on(house, row))].append(row)
        is_taken = case in taken
        is_confirmed = is_taken or _is_confirmed(judgement_of(house, case))
        for (room, _treatments), signs in stretches.items():
            row = min(signs, key=lambda one: _rank(house, one, is_confirmed=is_confirmed))
            day = _column(known, _seen_on(house, row))
            weight = weight_of(house, row.fact)
            if 0 <= day <= known.today:
                is_judged = is_taken or (is_confirmed and weight is not Weight.WEAK)
                found[room].append((day, weight, is_judged, row.entry))
    return {room: tuple(signs) for room, signs in found.items()}


def _seen_on(house: House, row: Kept[Sighted]) -> date:
    return local_day(row.fact.seen_at, house.zone)


def _rank(house: House, row: Kept[Sighted], *, is_confirmed: bool) -> tuple[int, datetime]:
    weight = weight_of(house, row.fact)
    rank = int(weight is Weight.WEAK) if is_confirmed else list(Weight).index(weight)
    return rank, row.fact.seen_at


def _is_confirmed(judged: CaseJudged | None) -> bool:
    return judged is not None and judged.outcome is Outcome.CONFIRMED


def _moved_in(
    house: House,
    known: Records,
    signs: Mapping[RoomNo, tuple[tuple[int, Weight, bool, int | None], ...]],
) -> dict[RoomNo, tuple[tuple[int, float], ...]]:
    """Guests and furniture that came from a room in which insects were found soon after."""
    moved: defaultdict[RoomNo, list[tuple[int, float]]] = defaultdict(list)
    look_back = int(house.rules.figures.look_back_days.value)
    told: list[GuestMoved | FurnitureMoved] = [
        *(fact for fact in house.all_of(GuestMoved) if not fact.before_arrival),
        *house.all_of(FurnitureMoved),
    ]
    for fact in told:
        day = _column(known, fact.moved_on)
        was_there = any(
            is_judged and day - DAYS_A_WEEK <= found_on <= day + look_back
            for found_on, _weight, is_judged, _entry in signs.get(fact.from_room, ())
        )
        if was_there and 0 <= day <= known.today:
            moved[fact.to_room].append((day, 1.0))
    return {room: tuple(of_room) for room, of_room in moved.items()}


def _traps(house: House, known: Records) -> dict[RoomNo, tuple[tuple[int, float], ...]]:
    """Days on which traps of a room were read empty, with how long they stood of what they must.

    Several traps of a room count as one: four found no more than one (Vail, Chandler 2017,
    J Econ Entomol 110:1187-1194).
    """
    must = house.rules.figures.trap_days.value
    placed: defaultdict[str, list[date]] = defaultdict(list)
    for fact in house.all_of(MonitorPlaced):
        if fact.is_there:
            placed[fact.monitor].append(fact.placed_on)
    reads: defaultdict[str, list[MonitorRead]] = defaultdict(list)
    for read in house.all_of(MonitorRead):
        reads[read.monitor].append(read)
    best: defaultdict[RoomNo, dict[int, float]] = defaultdict(dict)
    for monitor, of_trap in reads.items():
        since = sorted(placed.get(monitor, ()))
        for read in sorted(of_trap, key=lambda one: one.read_on):
            before = [day for day in since if day <= read.read_on]
            day = _column(known, read.read_on)
            if before and not read.caught and 0 <= day <= known.today:
                share = min(1.0, (read.read_on - before[-1]).days / must)
                best[read.room][day] = max(share, best[read.room].get(day, 0.0))
            since = sorted([*since, read.read_on])
    return {room: tuple(sorted(days.items())) for room, days in best.items()}


def first_described_on(house: House, rooms: Iterable[RoomNo]) -> dict[RoomNo, date]:
    """The day on which each of these rooms first entered the roster."""
    first: dict[RoomNo, date] = {}
    wanted = frozenset(rooms)
    for row in house.kept_of(RoomDescribed):
        if row.fact.room in wanted and row.fact.room not in first:
            first[row.fact.room] = local_day(house.entry_of(row).recorded_at, house.zone)
    return first
