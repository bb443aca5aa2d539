"""A month's sightings, cases, asked checks, quarantines and rooms let against them."""

from __future__ import annotations

from collections.abc import Iterator, Set
from datetime import date, datetime, timedelta

from hotelwatch.core.case_facts import (
    CaseClosed,
    Outcome,
    PhotoKept,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
    SpecimenNoted,
)
from hotelwatch.core.cases.case import Case, cases
from hotelwatch.core.cases.conditions import conditions
from hotelwatch.core.cases.lets import lets_against_blocks
from hotelwatch.core.cases.notices import ANSWER_GUEST, first_given, told_by_guest
from hotelwatch.core.cases.ring_rule import asks_ring
from hotelwatch.core.checks.asked import SERVING, AskedState, asked_states, judgement_of, open_asked
from hotelwatch.core.checks.watching import closing_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.rows import (
    AskedRow,
    CaseClass,
    CaseRow,
    HowKnown,
    LetRow,
    QuarantineRow,
    SightingRow,
)
from hotelwatch.core.records import Kept
from hotelwatch.core.stays.nights import first_night_after


def sighting_rows(house: House, span: Span) -> tuple[SightingRow, ...]:
    """The sightings seen in the month, by when they were seen."""
    seen = (
        row for row in house.kept_of(Sighted) if span.holds(local_day(row.fact.seen_at, house.zone))
    )
    checked = {kept.entry for kind in (BedChecked, RoomChecked) for kept in house.kept_of(kind)}
    return tuple(
        _sighting_row(house, row, checked)
        for row in sorted(seen, key=lambda row: (row.fact.seen_at, row.entry))
    )


def _sighting_row(house: House, row: Kept[Sighted], checked: Set[int]) -> SightingRow:
    sign = row.fact
    judged = judgement_of(house, sign.case)
    answer = None
    if told_by_guest(sign):
        answer = first_given(house, sign.case, ANSWER_GUEST, sign.seen_at)
    labels = (one.fact for one in house.kept_of_case(SpecimenNoted, sign.case))
    return SightingRow(
        case=sign.case,
        room=sign.room,
        bed=sign.bed,
        place=sign.place,
        sign=sign.sign,
        count=sign.count,
        seen_by=sign.seen_by,
        seen_at=sign.seen_at,
        noted=sign.noted,
        entry=row.entry,
        recorded_at=house.entry_of(row).recorded_at,
        how=_how(sign, is_of_check=row.entry in checked),
        answered_at=answer.given_at if answer else None,
        specimens=tuple(dict.fromkeys(one.label for one in labels if one.room == sign.room)),
        photos=len(house.kept_of_case(PhotoKept, sign.case)),
        case_class=class_of(judged.outcome if judged else None),
        judged_by=judged.judged_by if judged else "",
        competence=judged.competence if judged else "",
        judged_on=judged.judged_on if judged else None,
    )


def _how(sign: Sighted, *, is_of_check: bool) -> HowKnown:
    if told_by_guest(sign):
        return HowKnown.GUEST
    if sign.sign is Sign.DOG_ALERT:
        return HowKnown.DOG
    return HowKnown.CHECK if is_of_check else HowKnown.STAFF


def class_of(outcome: Outcome | None) -> CaseClass:
    """What a judgement makes of a case; undetermined stays suspected."""
    if outcome is Outcome.CONFIRMED:
        return CaseClass.CONFIRMED
    return CaseClass.RULED_OUT if outcome is Outcome.NOT_BED_BUG else CaseClass.SUSPECTED


def case_rows(at_start: House, at_end: House) -> tuple[CaseRow, ...]:
    """Cases that were open at the start, are new, or are open at the end.

    ``at_start`` is what the book before this one knew, so that one month's end is
    the next month's start even where a sighting was written down late.
    """
    before = {case.no: case for case in cases(at_start)}
    rows = (
        _case_row(case, before.get(case.no), closing_of(at_end, case.no)) for case in cases(at_end)
    )
    shown = (row for row in rows if row.was_open_at_start or row.is_new or row.is_open)
    withdrawn = (
        _case_row(case, case, None, is_open=False)
        for no, case in before.items()
        if case.is_open and no not in at_end.sightings
    )
    return tuple(sorted([*shown, *withdrawn], key=lambda row: row.case))


def _case_row(
    case: Case, before: Case | None, closed: CaseClosed | None, *, is_open: bool | None = None
) -> CaseRow:
    judged = case.judged
    return CaseRow(
        case=case.no,
        room=case.room,
        opened_at=case.opened_at,
        evidence=case.evidence,
        stage=case.stage,
        outcome=judged.outcome if judged else None,
        judged_by=judged.judged_by if judged else "",
        competence=judged.competence if judged else "",
        judged_on=judged.judged_on if judged else None,
        was_open_at_start=before is not None and before.is_open,
        is_new=before is None,
        is_open=case.is_open if is_open is None else is_open,
        case_class=class_of(judged.outcome if judged else None),
        closed_at=closed.closed_at if closed else None,
        closed_by=closed.by if closed else "",
    )


def asked_rows(at_start: House, house: House, span: Span, now: datetime) -> tuple[AskedRow, ...]:
    """Checks asked for in the month, or before it and still to be done when it began."""
    waiting = {(state.asked.case, state.asked.room) for state in open_asked(at_start)}
    states = (state for case in house.asked for state in asked_states(house, case))
    told = [state for state in states if _concerns(state, house, span, waiting)]
    told.sort(key=lambda state: (state.asked.by_at, state.asked.case, state.asked.room))
    return tuple(_asked_row(house, state, now) for state in told)


def _asked_row(house: House, state: AskedState, now: datetime) -> AskedRow:
    asked = state.asked
    signs = [row.fact for row in house.kept_of_case(Sighted, asked.case)]
    signed = [sign.room for sign in signs]
    looks = _looks_for(house, state)
    return AskedRow(
        case=asked.case,
        room=asked.room,
        reasons=asked.reasons,
        by_at=asked.by_at,
        done_on=state.done_on,
        is_late=state.is_late(now),
        is_wanted=state.is_wanted,
        centre=RoomNo(asked.source or (signed[0] if signed else "")),
        asked_at=state.asked_at,
        looked_by=", ".join(dict.fromkeys(name for look in looks for name in look.by)),
        has_found=asked.room in signed or any(look.found for look in looks),
        is_centre=any(sign.room == asked.room and asks_ring(house, sign) for sign in signs),
    )


def _looks_for(house: House, state: AskedState) -> list[BedChecked]:
    """The checks of a room's beds that answered a wish, as far as it is done."""
    if state.done_on is None:
        return []
    since = local_day(state.asked_at, house.zone)
    return [
        row.fact
        for bed in house.beds_of(state.asked.room)
        for row in house.checks_by_bed.get(bed.bed, ())
        if row.fact.kind in SERVING
        and min(since, state.done_on) <= row.fact.checked_on <= state.done_on
    ]


def _concerns(
    state: AskedState, house: House, span: Span, waiting: Set[tuple[CaseNo, RoomNo]]
) -> bool:
    if local_day(state.asked_at, house.zone) >= span.first_on or state.is_open:
        return True
    if state.done_on is None:
        return (state.asked.case, state.asked.room) in waiting
    return state.done_on >= span.first_on


def quarantine_rows(house: House, span: Span, end: datetime) -> tuple[QuarantineRow, ...]:
    """Quarantines that held at some time in the month until ``end``, in the order placed."""
    rows = []
    for placed, lifted in _pairs(house):
        if lifted and local_day(lifted.lifted_at, house.zone) < span.first_on:
            continue
        rows.append(
            QuarantineRow(
                room=placed.fact.room,
                case=placed.fact.case,
                from_at=placed.fact.from_at,
                reason=placed.fact.reason,
                placed_by=house.entry_of(placed).by,
                lifted_at=lifted.lifted_at if lifted else None,
                lifted_by=lifted.by if lifted else "",
                competence=lifted.competence if lifted else "",
                conditions_met=lifted.conditions_met if lifted else None,
                lift_reason=lifted.reason if lifted else "",
                nights=len(nights_of(house, span, end, (placed.fact, lifted))),
                conditions=conditions(
                    house,
                    placed.fact.case,
                    placed.fact.room,
                    now=lifted.lifted_at if lifted else end,
                ),
            )
        )
    return tuple(sorted(rows, key=lambda row: (row.from_at, row.room, row.case)))


def room_nights(house: House, span: Span, end: datetime) -> int:
    """Room-nights of the month in quarantine; a room under two cases counts once."""
    nights: set[tuple[RoomNo, date]] = set()
    for pair in house.quarantines:
        nights |= {(pair[0].room, night) for night in nights_of(house, span, end, pair)}
    return len(nights)


def nights_of(
    house: House,
    span: Span,
    end: datetime,
    quarantine: tuple[QuarantinePlaced, QuarantineLifted | None],
) -> tuple[date, ...]:
    """The nights of the month on which a quarantine held at the hour when guests arrive.

    Until ``end``: a night whose hour is yet to come does not count. So lets against a block
    and nights in quarantine count by one rule (core.stays.nights).
    """
    placed, lifted = quarantine
    first = max(span.first_on, first_night_after(house, placed.from_at))
    last = min(span.until_on + timedelta(days=1), first_night_after(house, end))
    if lifted:
        last = min(last, first_night_after(house, lifted.lifted_at))
    return tuple(first + timedelta(days=n) for n in range((last - first).days))


def _pairs(house: House) -> Iterator[tuple[Kept[QuarantinePlaced], QuarantineLifted | None]]:
    pairs = house.quarantines
    yield from zip(house.kept_of(QuarantinePlaced), (lifted for _, lifted in pairs), strict=True)


def let_rows(house: House, span: Span, now: datetime) -> tuple[LetRow, ...]:
    """Rooms let while in quarantine; each stands in the month of its first such night."""
    return tuple(
        LetRow(
            room=let.room,
            booking=let.stay.booking,
            arrives_on=let.stay.arrives_on,
            leaves_on=let.stay.leaves_on,
            first_night=let.first_night,
            nights=let.nights,
            quarantined_from=let.from_at,
            quarantined_until=let.until_at,
            was_let_blocked=let.was_let_blocked,
            was_known=let.was_known,
            explained=let.explained,
            explained_by=let.explained_by,
        )
        for let in lets_against_blocks(house, now)
        if span.holds(let.first_night)
    )
