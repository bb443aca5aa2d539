"""Deadlines that cases set going: answers, words to an authority, judgements, treatments.

The rooms that a case asks for have a page of their own. A deadline stands in the book of
every month in which it ran: it began before the month's end and was not met before its start.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime

from hotelwatch.core.case_facts import CaseJudged, Sighted
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.notices import (
    ANSWER_GUEST,
    TELL_AUTHORITY,
    first_given,
    started_at,
    told_by_guest,
)
from hotelwatch.core.checks.asked import SERVING, is_ruled_out
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.clocks import clock_for, due_at
from hotelwatch.core.days import add_hours, local_day
from hotelwatch.core.facts import BedChecked, CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.page_rows import ClockRow
from hotelwatch.core.profile import Unit
from hotelwatch.core.treatment_facts import TreatmentRecorded

JUDGE = "judge_specimen"
TREAT = "treat"
EVALUATE = "evaluate_treatment"
Done = datetime | date | None


def clock_rows(house: House, span: Span, now: datetime) -> tuple[ClockRow, ...]:
    """Every deadline of the month, by when it was due."""
    found = [
        row
        for case in house.sightings
        for of_duty in (_answers, _authority, _judgement, _treatment, _evaluation)
        for row in of_duty(house, case, now)
        if _concerns(row, house, span)
    ]
    return tuple(sorted(found, key=lambda row: (row.due_at, row.case, row.duty, row.room)))


def _concerns(row: ClockRow, house: House, span: Span) -> bool:
    if local_day(row.started_at, house.zone) > span.until_on:
        return False
    if not row.is_wanted and row.done_at is None:
        return local_day(row.started_at, house.zone) >= span.first_on
    return row.done_at is None or _day(row.done_at, house) >= span.first_on


def _row(
    house: House, case: CaseNo, duty: str, *, started: tuple[RoomNo, datetime], hours: float = 0
) -> Callable[[Done, str, datetime], ClockRow]:
    """A row once it is known when and by whom it was met."""
    room, start = started
    clock = clock_for(house, duty)
    by_at = due_at(house, clock, start) if clock else add_hours(start, hours)

    def made(done: Done, by: str, now: datetime) -> ClockRow:
        return ClockRow(
            duty=duty,
            case=case,
            room=room,
            started_at=start,
            due_at=by_at,
            unit=clock.unit if clock else Unit.HOURS,
            is_local=house.profile.clock(duty) is not None,
            done_at=done,
            by=by,
            is_late=_is_late(house, done, by_at, now),
            is_wanted=not is_ruled_out(house, case) or done is not None,
        )

    return made


def _is_late(house: House, done: Done, by_at: datetime, now: datetime) -> bool:
    if done is None:
        return now > by_at
    if isinstance(done, datetime):
        return done > by_at
    return done > local_day(by_at, house.zone)


def _answers(house: House, case: CaseNo, now: datetime) -> Iterator[ClockRow]:
    """One for each time that guests told something of a room and waited for an answer."""
    hours = house.rules.figures.reporter_answer_hours.value
    answered: dict[RoomNo, datetime] = {}
    for kept in house.kept_of_case(Sighted, case):
        sign = kept.fact
        if not told_by_guest(sign):
            continue
        if sign.room in answered and sign.seen_at <= answered[sign.room]:
            continue
        given = first_given(house, case, ANSWER_GUEST, sign.seen_at)
        answered[sign.room] = given.given_at if given else datetime.max.replace(tzinfo=now.tzinfo)
        made = _row(house, case, ANSWER_GUEST, started=(sign.room, sign.seen_at), hours=hours)
        yield made(given.given_at if given else None, given.by if given else "", now)


def _authority(house: House, case: CaseNo, now: datetime) -> Iterator[ClockRow]:
    clock = house.profile.clock(TELL_AUTHORITY)
    since = started_at(house, case, clock.starts) if clock else None
    if since is None:
        return
    given = first_given(house, case, TELL_AUTHORITY, since)
    made = _row(house, case, TELL_AUTHORITY, started=(case_of(house, case).room, since))
    yield made(given.given_at if given else None, given.by if given else "", now)


def _judgement(house: House, case: CaseNo, now: datetime) -> Iterator[ClockRow]:
    found = case_of(house, case)
    judged = house.kept_of_case(CaseJudged, case)
    if not judged and not house.rules.responses[found.evidence].wants_judgement:
        return
    first = min(row.fact.seen_at for row in house.kept_of_case(Sighted, case))
    hours = house.rules.figures.specimen_hours.value
    made = _row(house, case, JUDGE, started=(found.room, first), hours=hours)
    fact = judged[0].fact if judged else None
    yield made(fact.judged_on if fact else None, fact.judged_by if fact else "", now)


def _treatment(house: House, case: CaseNo, now: datetime) -> Iterator[ClockRow]:
    clock = clock_for(house, TREAT)
    start = started_at(house, case, clock.starts) if clock else None
    if start is None:
        return
    treated = sorted(
        (row.fact for row in house.kept_of_case(TreatmentRecorded, case)),
        key=lambda fact: fact.treated_on,
    )
    made = _row(house, case, TREAT, started=(case_of(house, case).room, start))
    first = treated[0] if treated else None
    yield made(first.treated_on if first else None, first.firm if first else "", now)


def _evaluation(house: House, case: CaseNo, now: datetime) -> Iterator[ClockRow]:
    """The first look of each treated room after its last treatment."""
    clock = clock_for(house, EVALUATE)
    start = started_at(house, case, clock.starts) if clock else None
    if start is None:
        return
    day = local_day(start, house.zone)
    rooms = {
        row.fact.room
        for row in house.kept_of_case(TreatmentRecorded, case)
        if row.fact.treated_on == day
    }
    for room in sorted(rooms):
        look = _first_look(house, room, day)
        made = _row(house, case, EVALUATE, started=(room, start))
        by = ", ".join(look.by) if look else ""
        yield made(look.checked_on if look else None, by, now)


def _first_look(house: House, room: RoomNo, after: date) -> BedChecked | None:
    looks = [
        row.fact
        for bed in house.beds_of(room)
        for row in house.checks_by_bed.get(bed.bed, ())
        if row.fact.kind in SERVING
        and row.fact.checked_on > after
        and underside_seen(house, row.fact)
    ]
    return min(looks, key=lambda check: check.checked_on, default=None)


def _day(done: datetime | date, house: House) -> date:
    return local_day(done, house.zone) if isinstance(done, datetime) else done
