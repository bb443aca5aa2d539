"""What was lifted while looking, day by day; what was done with linen and things."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date, datetime

from hotelwatch.core.beds import BedKind
from hotelwatch.core.checks.lifting import LIFTING_MOVES, screened
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, BedNo
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.page_rows import CareRow, LeftLiftRow, LiftRow
from hotelwatch.core.treatment_facts import CareDone, ItemDiscarded

TWO = 2
NO_SECOND = "no_second_person"
"""A code of core.checks.place_looks.WHY_UNSEEN."""
_Key = tuple[date, str, bool, str]


def lift_rows(house: House, span: Span) -> tuple[LiftRow, ...]:
    """The moves that lift something, by day, kind of bed and move.

    A move counts once for a check that looked at a place which takes it. Weights are
    assumptions; what was lifted apart from checks nobody wrote down.
    """
    times: Counter[_Key] = Counter()
    by_one: Counter[_Key] = Counter()
    aids: defaultdict[_Key, set[str]] = defaultdict(set)
    for check in house.all_of(BedChecked):
        if not span.holds(check.checked_on):
            continue
        for key in _moves(house, check):
            times[key] += 1
            by_one[key] += len(check.by) < TWO
            aids[key].update(check.aids)
    return tuple(
        _lift(house, key, times=times[key], by_one=by_one[key], aids=aids[key])
        for key in sorted(times)
    )


def _moves(house: House, check: BedChecked) -> Iterator[_Key]:
    bed = house.beds.get(BedNo(check.bed))
    kind = house.rules.bed_kinds.get(bed.kind) if bed else None
    if bed is None or kind is None:
        return
    seen = set(check.seen)
    places = kind.places_of(encased=bed.encased)
    moves = {place.move for place in places if place.code in seen}
    for move in moves & LIFTING_MOVES:
        yield check.checked_on, bed.kind, bed.encased, move


def _lift(house: House, key: _Key, *, times: int, by_one: int, aids: set[str]) -> LiftRow:
    on, code, encased, move = key
    kind: BedKind = house.rules.bed_kinds[code]
    weight = kind.lifts_kg.get(move, 0.0)
    found = screened(house.rules.figures, move, weight)
    return LiftRow(
        on=on,
        kind=code,
        encased=encased,
        move=move,
        times=times,
        weight_kg=weight,
        takes_two=found.takes_two,
        by_one=by_one,
        aids=tuple(sorted(aids)),
        index=found.shared if weight else None,
    )


def left_lift_rows(house: House, span: Span) -> tuple[LeftLiftRow, ...]:
    """Places left out in the month for want of a second person to lift, by day and bed."""
    rows = [
        LeftLiftRow(check.checked_on, check.room, check.bed, place, kept.entry)
        for kept in house.kept_of(BedChecked)
        if span.holds((check := kept.fact).checked_on)
        for place, _colon, why in (pair.partition(":") for pair in check.unseen)
        if why == NO_SECOND
    ]
    return tuple(sorted(rows, key=lambda row: (row.on, row.bed, row.place, row.entry)))


def care_rows(house: House, span: Span) -> tuple[CareRow, ...]:
    """Linen, luggage and tools taken care of in the month, and things thrown away, by day."""
    rows = [*_care(house, span), *_discarded(house, span)]
    return tuple(sorted(rows, key=lambda row: (_day(house, row), row.case, row.room, row.what)))


def _care(house: House, span: Span) -> Iterator[CareRow]:
    for fact in house.all_of(CareDone):
        if span.holds(local_day(fact.done_at, house.zone)):
            yield CareRow(
                case=fact.case,
                room=fact.room,
                done_at=fact.done_at,
                what=fact.step,
                is_discarded=False,
                by=fact.by,
                celsius=fact.celsius,
                minutes=fact.minutes,
                noted=fact.noted,
            )


def _discarded(house: House, span: Span) -> Iterator[CareRow]:
    for fact in house.all_of(ItemDiscarded):
        if span.holds(fact.discarded_on):
            yield CareRow(
                case=fact.case,
                room=fact.room,
                done_at=fact.discarded_on,
                what=fact.what,
                is_discarded=True,
                by=fact.by,
                celsius=0.0,
                minutes=0,
                noted="",
                is_unusable=fact.is_unusable,
                is_labelled=fact.is_labelled,
            )


def _day(house: House, row: CareRow) -> date:
    at = row.done_at
    return local_day(at, house.zone) if isinstance(at, datetime) else at
