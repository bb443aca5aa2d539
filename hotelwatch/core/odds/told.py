"""What a house tells of its rooms besides looks: signs, treatments, moves, empty traps."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.case_facts import CaseJudged, GuestMoved, Outcome, Sighted
from hotelwatch.core.checks.asked import is_ruled_out, judgement_of
from hotelwatch.core.checks.signs import weight_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence as Weight
from hotelwatch.core.records import Kept
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead

SOON_DAYS = 7
"""What came from a room up to so many days after a find there may have come from it, too."""
SignThen = tuple[int, Weight, bool, int | None]
"""A sign's day, its weight, whether it was judged to be bed bugs, and the entry that told it."""


@dataclass(frozen=True, slots=True)
class Span:
    """Days as columns: the first one's date and the last column, today's."""

    first_on: date
    today: int

    def column(self, day: date) -> int:
        """The column of a day; below 0 or beyond today for one outside."""
        return (day - self.first_on).days


@dataclass(frozen=True)
class ToldOf:
    """What the house tells of rooms, by room."""

    described: Mapping[RoomNo, date]
    """The day on which each entered the roster."""
    signs: Mapping[RoomNo, tuple[SignThen, ...]]
    moved: Mapping[RoomNo, tuple[tuple[int, float], ...]]
    traps: Mapping[RoomNo, tuple[tuple[int, float], ...]]
    clean_finds: frozenset[tuple[int, RoomNo]]
    """Entries and rooms of which all finds were judged to be something else."""


def told_of(house: House, span: Span, rooms: Iterable[RoomNo], taken: frozenset[CaseNo]) -> ToldOf:
    """What the house tells of these rooms within a span of days.

    Signs of cases ``taken`` count as judged to be bed bugs.
    """
    told_by: dict[bool, set[tuple[int, RoomNo]]] = {True: set(), False: set()}
    for case, rows in house.sightings.items():
        told_by[is_ruled_out(house, case)] |= {(row.entry, row.fact.room) for row in rows}
    signs = _signs(house, span, taken)
    return ToldOf(
        described=first_described_on(house, rooms),
        signs=signs,
        moved=_moved_in(house, span, signs),
        traps=_traps(house, span),
        clean_finds=frozenset(told_by[True] - told_by[False]),
    )


def _signs(
    house: House, span: Span, taken: frozenset[CaseNo]
) -> dict[RoomNo, tuple[SignThen, ...]]:
    """The sign of each case that counts in each room, without cases that were ruled out.

    The strongest; of those judged to be bed bugs the first, since it was there by then. After
    a treatment one of those since: what is found then is a find again.
    """
    found: defaultdict[RoomNo, list[SignThen]] = defaultdict(list)
    for case, rows in house.sightings.items():
        if is_ruled_out(house, case):
            continue
        stretches: defaultdict[tuple[RoomNo, int], list[Kept[Sighted]]] = defaultdict(list)
        for row in rows:
            treated = house.treated_on.get(row.fact.room, ())
            stretches[row.fact.room, bisect_left(treated, _seen_on(house, row))].append(row)
        is_taken = case in taken
        is_confirmed = is_taken or _is_confirmed(judgement_of(house, case))
        is_weak_all = all(weight_of(house, row.fact) is Weight.WEAK for row in rows)
        for (room, _treatments), signs in stretches.items():
            row = min(signs, key=lambda one: _rank(house, one, is_confirmed=is_confirmed))
            day = span.column(_seen_on(house, row))
            weight = weight_of(house, row.fact)
            if 0 <= day <= span.today:
                counts = weight is not Weight.WEAK or is_weak_all
                is_judged = is_taken or (is_confirmed and counts)
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
    span: Span,
    signs: Mapping[RoomNo, tuple[SignThen, ...]],
) -> dict[RoomNo, tuple[tuple[int, float], ...]]:
    """Guests and furniture that came from a room in which insects were found soon after."""
    moved: defaultdict[RoomNo, list[tuple[int, float]]] = defaultdict(list)
    look_back = int(house.rules.figures.look_back_days.value)
    told: list[GuestMoved | FurnitureMoved] = [
        *(fact for fact in house.all_of(GuestMoved) if not fact.before_arrival),
        *house.all_of(FurnitureMoved),
    ]
    for fact in told:
        day = span.column(fact.moved_on)
        was_there = any(
            is_judged and day - SOON_DAYS <= found_on <= day + look_back
            for found_on, _weight, is_judged, _entry in signs.get(fact.from_room, ())
        )
        if was_there and 0 <= day <= span.today:
            moved[fact.to_room].append((day, 1.0))
    return {room: tuple(of_room) for room, of_room in moved.items()}


def _traps(house: House, span: Span) -> dict[RoomNo, tuple[tuple[int, float], ...]]:
    """Days on which traps of a room were read empty, with how long they stood of what they must.

    Several traps of a room count as one: four found no more than one (Vail, Chandler 2017,
    J Econ Entomol 110:1187-1194). So do several readings of a trap on a day: it was not empty
    if one of them found something.
    """
    must = house.rules.figures.trap_days.value
    placed: defaultdict[str, list[date]] = defaultdict(list)
    for fact in house.all_of(MonitorPlaced):
        if fact.is_there:
            placed[fact.monitor].append(fact.placed_on)
    caught: defaultdict[str, Counter[tuple[date, RoomNo]]] = defaultdict(Counter)
    for read in house.all_of(MonitorRead):
        caught[read.monitor][read.read_on, read.room] += read.caught
    best: defaultdict[RoomNo, dict[int, float]] = defaultdict(dict)
    for monitor, of_trap in caught.items():
        for (read_on, room), count in of_trap.items():
            began = [placed_on for placed_on in placed[monitor] if placed_on <= read_on]
            began += [earlier for earlier, _ in of_trap if earlier < read_on]
            day = span.column(read_on)
            if began and not count and 0 <= day <= span.today:
                share = min(1.0, (read_on - max(began)).days / must)
                best[room][day] = max(share, best[room].get(day, 0.0))
    return {room: tuple(sorted(days.items())) for room, days in best.items()}


def first_described_on(house: House, rooms: Iterable[RoomNo]) -> dict[RoomNo, date]:
    """The day on which each of these rooms first entered the roster."""
    first: dict[RoomNo, date] = {}
    wanted = frozenset(rooms)
    for row in house.kept_of(RoomDescribed):
        if row.fact.room in wanted and row.fact.room not in first:
            first[row.fact.room] = local_day(house.entry_of(row).recorded_at, house.zone)
    return first
