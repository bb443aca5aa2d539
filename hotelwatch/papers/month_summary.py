"""The first page of the month's book: the month in a minute, counted twice.

Each number stands as the program counted it and, beside it, as a formula over
the tables of the file, so that a table changed later shows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

from hotelwatch.core.cases.case import Stage
from hotelwatch.core.month.due_rows import DueState, WhyLate
from hotelwatch.core.month.rows import CaseClass, MonthFigures
from hotelwatch.papers import month_case_tables as case_tables
from hotelwatch.papers import month_counts, month_record
from hotelwatch.papers import month_tables as tables
from hotelwatch.papers import month_words as words
from hotelwatch.papers.listings import ROW, Formula, Listing, Sheet, column_of, text_in_formula
from hotelwatch.papers.month_formulas import Counting, Line, Over
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label

WIDEST = 80


def opening_lines(figures: MonthFigures) -> list[str]:
    """The month in a few sentences."""
    counts = figures.counts
    lines = [
        ngettext(
            "{due} underside was due: {in_time} looked at in time, {late} late, "
            "{not_done} not looked at.",
            "{due} undersides were due: {in_time} looked at in time, {late} late, "
            "{not_done} not looked at.",
            counts.due,
        ).format(
            due=counts.due, in_time=counts.in_time, late=counts.late, not_done=counts.not_done
        ),
        _("Beds at the end: {beds}, overdue: {overdue}, never looked at: {never}.").format(
            beds=counts.beds, overdue=counts.beds_overdue, never=counts.beds_never_looked_at
        ),
        _(
            "Cases: {start} open at the start, {new} new, {closed} closed, {end} open at the end."
        ).format(
            start=counts.cases_open_at_start,
            new=counts.cases_new + counts.cases_reopened,
            closed=counts.cases_closed,
            end=counts.cases_open_at_end,
        ),
        _(
            "Nights in quarantine: {nights}. Given back on a person's reason: {reason}. Let while "
            "in quarantine: {lets}."
        ).format(
            nights=counts.quarantine_nights,
            reason=counts.lifted_on_reason,
            lets=counts.lets_against,
        ),
    ]
    if counts.no_longer_due:
        lines.insert(1, _("Taken off the roster: {count}.").format(count=counts.no_longer_due))
    if counts.ahead:
        lines.insert(1, _("Due later this month: {count}.").format(count=counts.ahead))
    if not figures.account.is_complete:
        lines.insert(0, _("The month still runs: this is an account so far."))
    return lines


def summary(figures: MonthFigures, sheets: Sequence[Sheet] = ()) -> Listing:
    """The numbers, each as the program counted it and as a formula over the file's tables.

    The last ones are how many rows each table of ``sheets`` has.
    """
    headings = (
        _("What"),
        _("As counted by the program"),
        _("As counted by this file"),
        _("Do both agree"),
        _("On charts"),
        _("Its name in formulas"),
    )
    agrees, differs = text_in_formula(_("agrees")), text_in_formula(_("differs"))
    compared = f"IF(ABS(B{ROW}-C{ROW})<0.005,{agrees},{differs})"
    lines = [*lines_of(figures), *row_lines(sheets)]
    rows = tuple(
        (
            line.name,
            line.value,
            Formula(line.formula, line.value, is_decimal=isinstance(line.value, float)),
            Formula(compared, _("agrees")),
            line.short,
            line.key,
        )
        for line in lines
    )
    names = tuple((line.key, number, 2) for number, line in enumerate(lines))
    return Listing("summary", headings, rows, widest=WIDEST, names=names)


def row_lines(sheets: Sequence[Sheet]) -> list[Line]:
    """How many rows each table has; its first column is filled in every row."""
    return [
        Line(
            f"rows_{part.name}",
            _("Rows of the page “{page}”, table {table}").format(page=sheet.title, table=part.name),
            len(part.rows),
            f"COUNTA({column_of(part.name, part.headings[0])})",
        )
        for sheet in sheets
        for part in sheet.parts
        if isinstance(part, Listing)
    ]


def lines_of(figures: MonthFigures) -> list[Line]:
    """Every number of the summary, in the order of the page."""
    over = Over(figures)
    return [
        *_due_lines(figures, over),
        *_bed_lines(figures, over),
        *_check_lines(figures, over),
        *_case_lines(figures, over),
        *_quarantine_lines(figures, over),
        *_work_lines(figures, over),
        *month_counts.age_lines(figures, over),
        *month_counts.page_lines(figures, over),
        *month_counts.state_lines(figures, over),
    ]


def span_lines(figures: MonthFigures, month: date) -> list[Line]:
    """The numbers of one month among several: those that its rows alone give."""
    over = Over(figures, month)
    return [
        *_due_lines(figures, over),
        *_check_lines(figures, over),
        *_case_lines(figures, over),
        *_quarantine_lines(figures, over),
        *_work_lines(figures, over),
        *month_counts.page_lines(figures, over),
    ]


def _due_lines(figures: MonthFigures, over: Over) -> list[Line]:
    counts, table = figures.counts, over(tables.due)
    by_state = {
        DueState.IN_TIME: counts.in_time,
        DueState.LATE: counts.late,
        DueState.NOT_DONE: counts.not_done,
        DueState.AHEAD: counts.ahead,
        DueState.NO_LONGER_DUE: counts.no_longer_due,
    }
    mainly = Counter(row.why[0].why for row in figures.rows.due if row.why)
    return [
        Line("undersides_due", _("Undersides due"), counts.due, table.filled(_("Bed"))),
        *(
            Line(
                f"due_{state.value}",
                _("Of these {state}").format(state=words.due_state(state)),
                value,
                table.equal(_("State"), words.due_state(state)),
                short=words.due_state(state),
            )
            for state, value in by_state.items()
        ),
        *(
            Line(
                f"late_{why.value}",
                _("Late or not looked at, mainly because: {why}").format(why=words.why_late(why)),
                mainly[why],
                table.equal(_("Mainly because"), words.why_late(why)),
                short=words.why_late(why),
            )
            for why in WhyLate
        ),
        Line(
            "most_days_late",
            _("Most days late"),
            counts.worst_late_days,
            table.highest(_("Days late")),
        ),
    ]


def _bed_lines(figures: MonthFigures, over: Over) -> list[Line]:
    counts, looks = figures.counts, over(tables.last_looks)
    first = figures.account.first_on
    last_looked = _("Underside last looked at")
    since = f'">="&DATE({first.year},{first.month},{first.day})'
    _within, _first, overdue = tables.look_states()
    return [
        Line("beds_in_use", _("Beds in use at the end"), counts.beds, looks.filled(_("Bed"))),
        Line(
            "beds_looked_at",
            _("Beds whose underside was looked at this month"),
            counts.beds_looked_at,
            f"COUNTIF({looks.column(last_looked)},{since})",
        ),
        Line(
            "beds_overdue",
            _("Beds overdue at the end"),
            counts.beds_overdue,
            looks.equal(_("State"), overdue),
        ),
        Line(
            "beds_never_looked_at",
            _("Beds never looked at"),
            counts.beds_never_looked_at,
            f"{looks.filled(_('Bed'))}-{looks.filled(last_looked)}",
        ),
    ]


def _check_lines(figures: MonthFigures, over: Over) -> list[Line]:
    counts, checks = figures.counts, over(tables.checks)
    return [
        Line("bed_checks", _("Checks of beds"), counts.bed_checks, checks.filled(_("Bed"))),
        Line(
            "bed_checks_complete",
            _("Of these with the whole underside looked at"),
            counts.bed_checks_complete,
            checks.equal(_("Underside looked at"), words.yes_no(True)),
        ),
    ]


def _case_lines(figures: MonthFigures, over: Over) -> list[Line]:
    counts, cases = figures.counts, over(case_tables.cases)
    sightings, asked = (
        over(case_tables.sightings),
        over(case_tables.asked),
    )
    yes, no = words.yes_no(True), words.yes_no(False)
    start, new, end = _("Open at start"), _("New"), _("Open at end")
    stages = Counter(row.stage for row in figures.rows.cases)
    reopened = cases.all_equal((start, no), (new, no), (end, yes))
    balance = f"{cases.equal(start, yes)}+{cases.equal(new, yes)}+{reopened}-{cases.equal(end, no)}"
    return [
        Line("signs_seen", _("Sightings"), counts.sightings, sightings.filled(_("Case"))),
        Line(
            "cases_open_at_start",
            _("Cases open at the start"),
            counts.cases_open_at_start,
            cases.equal(start, yes),
        ),
        Line("cases_new", _("New cases"), counts.cases_new, cases.equal(new, yes)),
        *_new_by_class(figures, cases),
        Line("cases_reopened", _("Cases open again"), counts.cases_reopened, reopened),
        Line("cases_closed", _("Cases closed"), counts.cases_closed, cases.equal(end, no)),
        Line(
            "cases_open_at_end",
            _("Cases open at the end"),
            counts.cases_open_at_end,
            cases.equal(end, yes),
        ),
        Line(
            "cases_balance",
            _("Start and new and open again, less closed: open at the end"),
            counts.cases_open_at_end,
            balance,
        ),
        *(
            Line(
                f"cases_of_stage_{stage.value}",
                _("Cases with stage: {stage}").format(stage=label(stage)),
                stages[stage],
                cases.equal(_("Stage"), label(stage)),
            )
            for stage in Stage
        ),
        Line(
            "checks_asked_for",
            _("Checks that cases asked for"),
            counts.asked,
            asked.filled(_("Room")),
        ),
        Line(
            "checks_asked_for_late",
            _("Of these late"),
            counts.asked_late,
            asked.equal(_("Late"), yes),
        ),
    ]


def _new_by_class(figures: MonthFigures, cases: Counting) -> list[Line]:
    """New cases by what they are called by now; together they are all new ones."""
    of_class = {
        found: cases.all_equal(
            (_("New"), words.yes_no(True)), (_("Class"), words.case_class(found))
        )
        for found in CaseClass
    }
    many = Counter(row.case_class for row in figures.rows.cases if row.is_new)
    lines = [
        Line(
            f"cases_new_{found.value.removeprefix('class_')}",
            _("Of new cases {found}").format(found=words.case_class(found)),
            many[found],
            formula,
        )
        for found, formula in of_class.items()
    ]
    together = _("Suspected, confirmed and ruled out: new cases")
    formula = "+".join(of_class.values())
    return [*lines, Line("cases_new_balance", together, figures.counts.cases_new, formula)]


def _quarantine_lines(figures: MonthFigures, over: Over) -> list[Line]:
    counts, table = figures.counts, over(case_tables.quarantines)
    lets = over(case_tables.lets)
    conditions, reason, _still = case_tables.lift_words()
    return [
        Line("quarantines_held", _("Quarantines"), counts.quarantines, table.filled(_("Room"))),
        Line(
            "nights_in_quarantine",
            _("Nights in quarantine, summed over quarantines"),
            sum(row.nights for row in figures.rows.quarantines),
            table.summed(_("Nights this month")),
        ),
        Line(
            "lifted_on_conditions",
            _("Lifted on the conditions"),
            counts.lifted_on_conditions,
            table.equal(_("Lifted because of"), conditions),
        ),
        Line(
            "lifted_on_a_reason",
            _("Lifted on a person's reason"),
            counts.lifted_on_reason,
            table.equal(_("Lifted because of"), reason),
        ),
        Line(
            "let_in_quarantine",
            _("Rooms let while in quarantine"),
            counts.lets_against,
            lets.filled(_("Booking")),
        ),
    ]


def _work_lines(figures: MonthFigures, over: Over) -> list[Line]:
    counts, days = figures.counts, over(tables.team_days)
    return [
        Line(
            "minutes_recorded",
            _("Minutes recorded"),
            counts.minutes,
            days.summed(_("Minutes recorded")),
        ),
        Line(
            "people_hours",
            _("People-hours"),
            counts.people_minutes / tables.HOUR,
            days.summed(_("People-hours")),
        ),
        Line(
            "late_entries",
            _("Late entries and corrections"),
            counts.changes,
            over(month_record.changes).filled(_("Entry")),
        ),
    ]
