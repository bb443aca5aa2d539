"""A month's figures: every part of its book, put together from the house."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.seasons import seasons_noted
from hotelwatch.core.days import local_day, moment_of, month_bounds, month_of
from hotelwatch.core.facts import StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.local_rules.judging import judged
from hotelwatch.core.local_rules.rows import Period
from hotelwatch.core.month import story, work
from hotelwatch.core.month.account import Account
from hotelwatch.core.month.changes import change_rows
from hotelwatch.core.month.counts import count
from hotelwatch.core.month.due import Span, due_rows
from hotelwatch.core.month.evidence import treatment_rows
from hotelwatch.core.month.kept import kept_lets, kept_reasons, with_reasons
from hotelwatch.core.month.known import Days, closings, entry_days, house_at, known_house
from hotelwatch.core.month.naming import with_shown_names
from hotelwatch.core.month.pages import page_rows
from hotelwatch.core.month.rows import LetRow, LookRow, MonthFigures, MonthRows
from hotelwatch.core.month.why import Reasons
from hotelwatch.core.parameters import Figure, Figures
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.stays.openings import occupancy

ONE_DAY = timedelta(days=1)


def figures(
    house: House,
    month: str,
    *,
    now: datetime,
    progress: Progress = silent,
    days: Days | None = None,
) -> MonthFigures:
    """The figures of a month given as YYYY-MM, as known at its closing or else now.

    ``days`` are ``entry_days`` of this house, where they are at hand for several months.

    Raises Refusal: "no_such_month", "month_to_come" while it has not begun,
    "month_not_at_hand" where the house was loaded without its checks.
    """
    span = span_of(house, month, now)
    known = known_house(house, month)
    days = entry_days(house, house.zone) if days is None else days
    at_end = house_at(known, span.until_on, days)
    progress(0.1, "reading_due")
    reasons = Reasons(at_end, occupancy(known, span.overdue_before))
    due = due_rows(known, span, reasons, days)
    kept = kept_reasons(known, month)
    if kept is not None:
        due = with_reasons(due, kept)
    progress(0.6, "reading_checks")
    checks = work.check_rows(at_end, span)
    end = min(now, _end_of(span, known))
    before = _house_before(known, span, days)
    look_rows = _look_rows(at_end, span)
    account = _account(house, known, at_end, span=span, looks=look_rows, now=now)
    rows = MonthRows(
        due=due,
        looks=look_rows,
        checks=checks,
        sightings=story.sighting_rows(at_end, span),
        cases=story.case_rows(before, at_end),
        asked=story.asked_rows(before, at_end, span, end),
        treatments=treatment_rows(at_end, span),
        quarantines=story.quarantine_rows(at_end, span, end),
        lets=_let_rows(known, at_end, month, span, end),
        team_days=work.team_days(at_end, span, checks),
        people=work.people_rows(checks),
        changes=change_rows(known, month),
    )
    progress(1.0, "counting")
    room_nights = story.room_nights(at_end, span, end)
    told = MonthFigures(
        account=account,
        counts=count(rows, span, room_nights=room_nights),
        rows=rows,
        used=_used(known.rules.figures),
        place_lists=work.place_lists(at_end),
        pages=page_rows(known, at_end, rows, month=month, span=span, end=end),
        local_rules=judged(at_end, Period(span.first_on, span.until_on, end)),
    )
    return with_shown_names(known, told)


def period_of(house: House, month: str, now: datetime) -> tuple[House, Period]:
    """The house as a month's account knows it at its end, and the days of the account.

    Refusals as those of ``figures``.
    """
    span = span_of(house, month, now)
    known = known_house(house, month)
    end = min(now, _end_of(span, known))
    return house_at(known, span.until_on), Period(span.first_on, span.until_on, end)


def span_of(house: House, month: str, now: datetime) -> Span:
    """The days that a month's account covers at a moment."""
    today = local_day(now, house.zone)
    try:
        first_on, last_on = month_bounds(month)
    except ValueError as error:
        raise Refusal("no_such_month", month=month) from error
    if first_on > today:
        raise Refusal("month_to_come", month=month)
    if house.complete_from is not None and house.complete_from > first_on:
        raise Refusal("month_not_at_hand", month=month)
    return Span(
        first_on=first_on,
        last_on=last_on,
        until_on=min(last_on, today),
        overdue_before=min(last_on + ONE_DAY, today),
    )


def _house_before(known: House, span: Span, days: Days) -> House:
    """What the book of the month before knew of cases, at that month's end.

    That book counts only if it was closed before this one: closing it later changes nothing.
    """
    last_on = span.first_on - ONE_DAY
    return house_at(known_house(known, month_of(last_on)), last_on, days)


def _let_rows(
    known: House, at_end: House, month: str, span: Span, end: datetime
) -> tuple[LetRow, ...]:
    kept = kept_lets(known, at_end, month)
    return story.let_rows(at_end, span, end) if kept is None else kept


def _end_of(span: Span, house: House) -> datetime:
    return moment_of(span.last_on + ONE_DAY, "00:00", house.zone)


def _look_rows(house: House, span: Span) -> tuple[LookRow, ...]:
    return tuple(
        LookRow(
            bed=look.bed,
            room=look.room,
            kind=house.beds[look.bed].kind,
            encased=house.beds[look.bed].encased,
            last_on=look.last_on,
            days_since=look.days_since,
            cycle_days=look.cycle_days,
            due_on=look.due_on,
            is_overdue=look.due_on < span.overdue_before,
            is_spread=look.is_spread,
        )
        for look in looks(house, span.until_on)
    )


def _account(
    house: House,
    known: House,
    at_end: House,
    *,
    span: Span,
    looks: tuple[LookRow, ...],
    now: datetime,
) -> Account:
    month = month_of(span.first_on)
    closing = closings(house).get(month)
    hotel = known.hotel
    numbers = sorted(known.entries)
    read = known.kept_of(StaysImported)
    cycles = Counter(look.cycle_days for look in looks)
    return Account(
        month=month,
        first_on=span.first_on,
        last_on=span.last_on,
        until_on=span.until_on,
        is_complete=span.overdue_before > span.last_on,
        closed_at=house.entries[closing].recorded_at if closing is not None else None,
        closed_by=house.entries[closing].by if closing is not None else "",
        made_at=now,
        hotel=hotel.name if hotel else "",
        zone=hotel.zone if hotel else "UTC",
        paper=hotel.paper if hotel else "A4",
        rooms=len(at_end.rooms),
        first_entry=numbers[0] if numbers else 0,
        last_entry=numbers[-1] if numbers else 0,
        last_digest=known.entries[numbers[-1]].digest if numbers else "",
        programs=tuple(dict.fromkeys(known.entries[no].program for no in numbers)),
        stays_read_at=known.entry_of(read[-1]).recorded_at if read else None,
        stays_file=read[-1].fact.file_name if read else "",
        cycles=tuple(sorted(cycles.items())),
        seasons=tuple(
            season
            for season in seasons_noted(at_end)
            if season.from_on <= span.last_on
            and season.until_on >= span.first_on - timedelta(days=max(cycles, default=0))
        ),
    )


def _used(known: Figures) -> tuple[Figure, ...]:
    """The figures on which due dates, deadlines and conditions rest."""
    return (
        known.cycle_days,
        known.room_setup_minutes,
        known.neighbour_check_hours,
        known.reporter_answer_hours,
        known.specimen_hours,
        known.treat_days,
        known.evaluate_days,
        known.rules_compared_days,
        known.clean_checks_after_treatment,
        known.clean_checks_undetermined,
        known.days_between_clean_checks,
        known.visual_detection,
        known.dog_detection,
        known.dog_false_positive,
    )
