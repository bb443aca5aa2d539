"""Who is owed word because of a case, and by when.

A guest who told something waits for an answer; some local rules want an authority told.
What was said stands as NoticeGiven; nobody is told by the program.

Source: 24 hours for whoever reported: HUD notices 2011-20 and 2012-17, for housing, read
second-hand; an authority's clock stands in the hotel's profile with its source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from hotelwatch.core.case_facts import CaseJudged, NoticeGiven, Outcome, Sighted, Sign
from hotelwatch.core.checks.asked import is_ruled_out
from hotelwatch.core.clocks import due_at
from hotelwatch.core.days import add_hours, moment_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.profile import Start
from hotelwatch.core.treatment_facts import TreatmentRecorded

ANSWER_GUEST = "answer_guest"
TELL_AUTHORITY = "tell_authority"
NOTICES = (ANSWER_GUEST, TELL_AUTHORITY)
GUESTS_SIGNS = frozenset({Sign.BITES_REPORTED, Sign.GUEST_WORD})
"""Signs that only a guest can have told."""
NOON = "12:00"


@dataclass(frozen=True, slots=True)
class OwedNotice:
    """Word that somebody waits for."""

    notice: str
    room: RoomNo
    since: datetime
    due_at: datetime
    to: str = ""
    """An authority in words; empty for a guest."""


def owed_notices(house: House, case: CaseNo) -> tuple[OwedNotice, ...]:
    """Notices that a case still owes, by deadline."""
    return tuple(sorted(_owed(house, case), key=lambda owed: owed.due_at))


def told_by_guest(sighted: Sighted) -> bool:
    """Whether a guest told a sign."""
    return sighted.by_guest or sighted.sign in GUESTS_SIGNS


def first_given(house: House, case: CaseNo, notice: str, since: datetime) -> NoticeGiven | None:
    """The first such word given because of a case since a moment; None: not yet."""
    given = (
        row.fact
        for row in house.kept_of_case(NoticeGiven, case)
        if row.fact.notice == notice and row.fact.given_at >= since
    )
    return min(given, key=lambda fact: fact.given_at, default=None)


def started_at(house: House, case: CaseNo, start: Start) -> datetime | None:
    """When the event came from which a clock runs; None while it has not.

    A judgement and a treatment bear a day only: noon of it counts.
    """
    signs = [row.fact for row in house.kept_of_case(Sighted, case)]
    if start is Start.SIGHTING:
        return min((sign.seen_at for sign in signs), default=None)
    if start is Start.REPORT:
        return min((sign.seen_at for sign in signs if told_by_guest(sign)), default=None)
    if start is Start.CONFIRMATION:
        judged = (row.fact for row in house.kept_of_case(CaseJudged, case))
        days = [fact.judged_on for fact in judged if fact.outcome is Outcome.CONFIRMED]
        return moment_of(min(days), NOON, house.zone) if days else None
    treated = [row.fact.treated_on for row in house.kept_of_case(TreatmentRecorded, case)]
    return moment_of(max(treated), NOON, house.zone) if treated else None


def _owed(house: House, case: CaseNo) -> Iterator[OwedNotice]:
    yield from _answers(house, case)
    clock = house.profile.clock(TELL_AUTHORITY)
    since = started_at(house, case, clock.starts) if clock else None
    if clock is None or since is None or first_given(house, case, TELL_AUTHORITY, since):
        return
    if not is_ruled_out(house, case):
        room = house.kept_of_case(Sighted, case)[0].fact.room
        by_at = due_at(house, clock, since)
        yield OwedNotice(TELL_AUTHORITY, room, since, by_at, house.profile.authority)


def _answers(house: House, case: CaseNo) -> Iterator[OwedNotice]:
    """One answer for each room in which guests told something since the last answer."""
    clock = house.profile.clock(ANSWER_GUEST)
    rooms: set[RoomNo] = set()
    for row in house.kept_of_case(Sighted, case):
        sign = row.fact
        if not told_by_guest(sign) or sign.room in rooms:
            continue
        if first_given(house, case, ANSWER_GUEST, sign.seen_at):
            continue
        rooms.add(sign.room)
        hours = house.rules.figures.reporter_answer_hours.value
        by_at = due_at(house, clock, sign.seen_at) if clock else add_hours(sign.seen_at, hours)
        yield OwedNotice(ANSWER_GUEST, sign.room, sign.seen_at, by_at)
