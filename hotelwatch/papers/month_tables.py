"""The tables of the month's book: headings and rows, made from the month's figures."""

from __future__ import annotations

from hotelwatch.core.month.rows import (
    CaseRow,
    CheckRow,
    DueRow,
    DueState,
    LookRow,
    MonthFigures,
    QuarantineRow,
)
from hotelwatch.papers import month_words as words
from hotelwatch.papers.workbook import Attention, Listing, Value
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label, label, place_label

HOUR = 60


def due(figures: MonthFigures) -> Listing:
    """What was due, done, late and why."""
    headings = (
        _("Room"),
        _("Bed"),
        _("Due on"),
        _("Overdue at the start"),
        _("State"),
        _("Looked at on"),
        _("Days late"),
        _("Mainly because"),
        _("Each day's reason"),
        _("Underside places left out"),
    )
    return Listing("due", headings, tuple(_due_row(row) for row in figures.rows.due))


def _due_row(row: DueRow) -> tuple[Value, ...]:
    state = words.due_state(row.state)
    is_late = row.state in (DueState.LATE, DueState.NOT_DONE)
    return (
        row.room,
        row.bed,
        row.due_on,
        row.was_overdue_at_start,
        Attention(state) if is_late else state,
        row.looked_on,
        row.late_days if is_late else None,
        words.why_late(row.why[0].why) if row.why else "",
        words.why_sentence(row),
        words.unseen(row.left_out),
    )


def last_looks(figures: MonthFigures) -> Listing:
    """Each bed's last underside look and the next one due."""
    headings = (
        _("Room"),
        _("Bed"),
        _("Kind of bed"),
        _("Encased"),
        _("Underside last looked at"),
        _("Days since"),
        _("Cycle in days"),
        _("Next due on"),
        _("State"),
        _("Due date is spread"),
    )
    return Listing("looks", headings, tuple(_look_row(row) for row in figures.rows.looks))


def look_states() -> tuple[str, str, str]:
    """How a bed can stand: within its cycle, waiting for its first look, overdue."""
    return _("within its cycle"), _("first look to come"), _("overdue")


def _look_row(row: LookRow) -> tuple[Value, ...]:
    within, first, overdue = look_states()
    return (
        row.room,
        row.bed,
        bed_label(row.kind),
        row.encased,
        row.last_on,
        row.days_since,
        row.cycle_days,
        row.due_on,
        Attention(overdue) if row.is_overdue else within if row.last_on else first,
        row.is_spread,
    )


def checks(figures: MonthFigures) -> Listing:
    """The checks written down, with what was not looked at."""
    headings = (
        _("Day"),
        _("Room"),
        _("Bed"),
        _("Kind of check"),
        _("Looked by"),
        _("Minutes"),
        _("Underside looked at"),
        _("Looked at"),
        _("Not looked at and why"),
        _("Found"),
        _("For case"),
        _("Note"),
        _("Written down"),
        _("Entry"),
    )
    rows = tuple(_check_row(row, figures) for row in figures.rows.checks)
    return Listing("checks", headings, rows)


def _check_row(row: CheckRow, figures: MonthFigures) -> tuple[Value, ...]:
    found = words.found(row.found)
    return (
        row.checked_on,
        row.room,
        row.bed,
        label(row.kind),
        ", ".join(row.by),
        row.minutes,
        row.is_underside_seen,
        _seen(row, figures),
        words.unseen(row.unseen),
        Attention(found) if found else "",
        row.asked_by,
        row.noted,
        row.recorded_at,
        row.entry,
    )


def _seen(row: CheckRow, figures: MonthFigures) -> str:
    """The places looked at; where it is the whole list, so, with what is optional in it."""
    if not row.is_list_seen:
        return words.places(row.seen)
    lists = figures.place_lists
    optional = {place.code for one in lists for place in one.places if place.optional}
    more = words.places(code for code in row.seen if code in optional)
    if more:
        return _("every place of its list; also {places}").format(places=more)
    return _("every place of its list")


def place_lists(figures: MonthFigures) -> Listing:
    """The places of each kind of bed in use and of a room, in looking order."""
    headings = (
        _("List"),
        _("Encased"),
        _("Step"),
        _("Place"),
        _("Belongs to the underside"),
        _("Only on suspicion"),
    )
    rows = tuple(
        (
            bed_label(one.kind) if one.kind else _("Room beside its beds"),
            one.encased,
            step,
            place_label(place.code),
            place.underside,
            place.optional,
        )
        for one in figures.place_lists
        for step, place in enumerate(one.places, 1)
    )
    return Listing("places", headings, rows)


def sightings(figures: MonthFigures) -> Listing:
    """What was seen or reported."""
    headings = (
        _("Case"),
        _("Room"),
        _("Bed"),
        _("Place"),
        _("Sign"),
        _("How many"),
        _("Seen by"),
        _("Seen at"),
        _("Written down"),
        _("Note"),
        _("Entry"),
    )
    rows = tuple(
        (
            row.case,
            row.room,
            row.bed,
            place_label(row.place) if row.place else "",
            label(row.sign),
            row.count or None,
            row.seen_by,
            row.seen_at,
            row.recorded_at,
            row.noted,
            row.entry,
        )
        for row in figures.rows.sightings
    )
    return Listing("sightings", headings, rows)


def cases(figures: MonthFigures) -> Listing:
    """The cases of the month as they stood at its end."""
    headings = (
        _("Case"),
        _("Room"),
        _("Opened"),
        _("Stage"),
        _("Weight of the signs"),
        _("Judgement"),
        _("Judged by"),
        _("Competent through"),
        _("Judged on"),
        _("Open at start"),
        _("New"),
        _("Open at end"),
    )
    return Listing("cases", headings, tuple(_case_row(row) for row in figures.rows.cases))


def _case_row(row: CaseRow) -> tuple[Value, ...]:
    stage = label(row.stage)
    return (
        row.case,
        row.room,
        row.opened_at,
        Attention(stage) if row.is_open else stage,
        label(row.evidence),
        label(row.outcome) if row.outcome else _("not judged"),
        row.judged_by,
        row.competence,
        row.judged_on,
        row.was_open_at_start,
        row.is_new,
        row.is_open,
    )


def asked(figures: MonthFigures) -> Listing:
    """The rooms that cases wanted looked at, by when, and when it was done."""
    headings = (
        _("Case"),
        _("Room"),
        _("Why this room"),
        _("Wanted by"),
        _("All beds looked at on"),
        _("State"),
        _("Late"),
    )
    rows: list[tuple[Value, ...]] = []
    for row in figures.rows.asked:
        open_word = _("still to do") if row.is_wanted else _("no longer wanted")
        state = _("done") if row.done_on else open_word
        reasons = ", ".join(label(reason) for reason in row.reasons)
        late = Attention(words.yes_no(True)) if row.is_late else words.yes_no(False)
        rows.append((row.case, row.room, reasons, row.by_at, row.done_on, state, late))
    return Listing("asked", headings, tuple(rows))


def quarantines(figures: MonthFigures) -> Listing:
    """The rooms closed to guests, from when to when, and on what they were given back."""
    headings = (
        _("Room"),
        _("Case"),
        _("From"),
        _("Why"),
        _("Placed by"),
        _("Until"),
        _("Lifted by"),
        _("Lifted on"),
        _("Reason given"),
        _("Nights this month"),
    )
    rows = tuple(_quarantine_row(row) for row in figures.rows.quarantines)
    return Listing("quarantines", headings, rows)


def lift_words() -> tuple[str, str, str]:
    """On what a quarantine was lifted: its conditions, a person's reason, or not yet."""
    return _("its conditions"), _("a person's reason"), _("still in quarantine")


def _quarantine_row(row: QuarantineRow) -> tuple[Value, ...]:
    conditions, reason, still = lift_words()
    lifted_on: Value = still
    if row.lifted_at is not None:
        lifted_on = conditions if row.conditions_met else Attention(reason)
    return (
        row.room,
        row.case,
        row.from_at,
        label(row.reason),
        row.placed_by,
        row.lifted_at,
        row.lifted_by,
        lifted_on,
        row.lift_reason,
        row.nights,
    )


def lets(figures: MonthFigures) -> Listing:
    """Rooms let while in quarantine; there should be none."""
    headings = (
        _("Room"),
        _("Booking"),
        _("Arrival"),
        _("Departure"),
        _("First night"),
        _("Nights"),
        _("How"),
        _("In quarantine from"),
        _("In quarantine until"),
    )
    rows = tuple(
        (
            row.room,
            Attention(row.booking),
            row.arrives_on,
            row.leaves_on,
            row.first_night,
            row.nights,
            _("let anew") if row.was_let_blocked else _("guest in house stayed on"),
            row.quarantined_from,
            row.quarantined_until,
        )
        for row in figures.rows.lets
    )
    return Listing("lets", headings, rows)


def treatments(figures: MonthFigures) -> Listing:
    """Licensed work, as the firms reported it."""
    headings = (
        _("Room"),
        _("Case"),
        _("Treated on"),
        _("Method"),
        _("Firm"),
        _("Licence"),
        _("Entry allowed from"),
        _("Note"),
    )
    rows = tuple(
        (
            row.room,
            row.case,
            row.treated_on,
            row.method,
            row.firm,
            row.licence,
            row.reenter_at,
            row.noted,
        )
        for row in figures.rows.treatments
    )
    return Listing("treatments", headings, rows)


def team_days(figures: MonthFigures) -> Listing:
    """What each team was planned for and what was written down, day by day."""
    headings = (
        _("Day"),
        _("Team"),
        _("Rooms planned"),
        _("Minutes planned"),
        _("Beds looked at"),
        _("Minutes recorded"),
        _("People-hours"),
    )
    rows = tuple(
        (
            row.on,
            row.team or _("on no sheet"),
            row.planned_rooms,
            row.planned_minutes,
            row.beds,
            row.minutes,
            row.people_minutes / HOUR,
        )
        for row in figures.rows.team_days
    )
    return Listing("team_days", headings, rows)


def people(figures: MonthFigures) -> Listing:
    """Each person's recorded time, by name."""
    headings = (_("Person"), _("Days"), _("Beds looked at"), _("Minutes recorded"))
    rows = tuple((row.person, row.days, row.beds, row.minutes) for row in figures.rows.people)
    return Listing("people", headings, rows)
