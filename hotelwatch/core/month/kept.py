"""What a month's closing keeps: why undersides were late, and rooms let in quarantine.

Both rest on bookings, and bookings of earlier times are replaced by those read in later. So
the closing writes down what was told of them, and the book of a closed month says that,
whenever it is made.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from hotelwatch.core.case_facts import LetExplained
from hotelwatch.core.facts import BedNo, Fact, MonthClosed
from hotelwatch.core.house import House
from hotelwatch.core.month.due_rows import DueRow, WhyDays, WhyLate
from hotelwatch.core.month.known import closings
from hotelwatch.core.month.rows import LetRow, MonthFigures
from hotelwatch.core.record_facts import LateReasonKept, LetKept

Reasons = Mapping[tuple[BedNo, date], tuple[WhyDays, ...]]
"""Why each underside was late, by bed and due date."""


def facts_at_closing(told: MonthFigures) -> tuple[Fact, ...]:
    """What the closing of a month writes down, the closing itself first."""
    month = told.account.month
    late = [row for row in told.rows.due if row.why]
    reasons = [LateReasonKept(month, row.bed, row.due_on, _codes(row.why)) for row in late]
    lets = [
        LetKept(
            month=month,
            room=row.room,
            booking=row.booking,
            arrives_on=row.arrives_on,
            leaves_on=row.leaves_on,
            first_night=row.first_night,
            nights=row.nights,
            quarantined_from=row.quarantined_from,
            was_let_blocked=row.was_let_blocked,
            was_known=row.was_known,
        )
        for row in told.rows.lets
    ]
    return (MonthClosed(month), *reasons, *lets)


def kept_reasons(house: House, month: str) -> Reasons | None:
    """The reasons that a month's closing kept; None where it is open."""
    if month not in closings(house):
        return None
    kept = (fact for fact in house.all_of(LateReasonKept) if fact.month == month)
    return {(fact.bed, fact.due_on): _days(fact.why) for fact in kept}


def kept_lets(known: House, at_end: House, month: str) -> tuple[LetRow, ...] | None:
    """The rooms let in quarantine that a month's closing kept; None where it is open.

    ``at_end`` says until when each quarantine held and what was said to it, as ``let_rows``.
    """
    if month not in closings(known):
        return None
    words = {(w.room, w.booking, w.first_night): w for w in at_end.all_of(LetExplained)}
    ends = {(p.room, p.from_at): lifted for p, lifted in at_end.quarantines}
    rows = []
    for let in known.all_of(LetKept):
        if let.month != month:
            continue
        lifted = ends.get((let.room, let.quarantined_from))
        word = words.get((let.room, let.booking, let.first_night))
        rows.append(
            LetRow(
                room=let.room,
                booking=let.booking,
                arrives_on=let.arrives_on,
                leaves_on=let.leaves_on,
                first_night=let.first_night,
                nights=let.nights,
                quarantined_from=let.quarantined_from,
                quarantined_until=lifted.lifted_at if lifted else None,
                was_let_blocked=let.was_let_blocked,
                was_known=let.was_known,
                explained=word.note if word else "",
                explained_by=word.by if word else "",
            )
        )
    return tuple(rows)


def with_reasons(due: Sequence[DueRow], reasons: Reasons) -> tuple[DueRow, ...]:
    """The same rows, with these reasons for those that are late and named there."""
    return tuple(
        replace(row, why=reasons[row.bed, row.due_on])
        if row.why and (row.bed, row.due_on) in reasons
        else row
        for row in due
    )


def _codes(why: Sequence[WhyDays]) -> tuple[str, ...]:
    return tuple(f"{one.why.value}:{one.days}" for one in why)


def _days(codes: Sequence[str]) -> tuple[WhyDays, ...]:
    parted = (code.partition(":") for code in codes)
    return tuple(WhyDays(WhyLate(why), int(days)) for why, _colon, days in parted)
