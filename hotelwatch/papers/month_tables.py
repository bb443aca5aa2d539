"""The tables of the month's book: headings and rows, made from the month's figures."""

from __future__ import annotations

from hotelwatch.core.month.due_rows import DueRow, DueState
from hotelwatch.core.month.rows import CheckRow, LookRow, MonthFigures
from hotelwatch.papers import month_words as words
from hotelwatch.papers.listings import Attention, Listing, Value
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label, label, place_label

HOUR = 60
FIRST = {
    state: place
    for place, state in enumerate(
        (
            DueState.NOT_DONE,
            DueState.LATE,
            DueState.AHEAD,
            DueState.IN_TIME,
            DueState.NO_LONGER_DUE,
        )
    )
}
"""In which order states stand: what is late comes first."""


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
    order = sorted(figures.rows.due, key=lambda row: (FIRST[row.state], -row.late_days))
    return Listing("due", headings, tuple(_due_row(row) for row in order))


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
        _("Days overdue"),
        _("Mainly because"),
        _("Due date is spread"),
    )
    behind = {row.bed: row for row in figures.rows.due if row.state is DueState.NOT_DONE}
    rows = tuple(_look_row(row, behind.get(row.bed)) for row in figures.rows.looks)
    return Listing("looks", headings, rows)


def look_states() -> tuple[str, str, str]:
    """How a bed can stand: within its cycle, waiting for its first look, overdue."""
    return _("within its cycle"), _("first look to come"), _("overdue")


def _look_row(row: LookRow, behind: DueRow | None) -> tuple[Value, ...]:
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
        behind.late_days if behind else None,
        words.why_late(behind.why[0].why) if behind and behind.why else "",
        row.is_spread,
    )


def checks(figures: MonthFigures) -> Listing:
    """The checks written down, with what was not looked at."""
    headings = (
        _("Day"),
        _("Room"),
        _("Bed"),
        _("Kind of check"),
        _("Form version"),
        _("Looked by"),
        _("Begun at"),
        _("Done at"),
        _("Aids used"),
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
        row.form_version or None,
        ", ".join(row.by),
        row.from_clock,
        row.until_clock,
        words.aids(row.aids),
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
