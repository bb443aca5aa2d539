"""A quarter or a year in one workbook: months side by side over the tables of all of them."""

from __future__ import annotations

from collections.abc import Iterator

from hotelwatch.core.cases.case import Stage
from hotelwatch.core.month.due_rows import DueState
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.papers import month_case_tables as cases
from hotelwatch.papers import month_evidence as proofs
from hotelwatch.papers import month_pages as pages
from hotelwatch.papers import month_record as record
from hotelwatch.papers import month_tables as tables
from hotelwatch.papers.book_claims import Claims, claims_listing
from hotelwatch.papers.listings import (
    ROW,
    BigNumber,
    Book,
    Chart,
    Formula,
    FrontPage,
    Lines,
    Listing,
    Sheet,
    Value,
    text_in_formula,
)
from hotelwatch.papers.month_book import frame_of
from hotelwatch.papers.month_formulas import Line, Make, stacked
from hotelwatch.papers.month_front import (
    language_lines,
    late_lines,
    lifted_lines,
    lifted_on_reasons,
    record_sentence,
    signatures,
)
from hotelwatch.papers.month_record import WIDE, RecordProof
from hotelwatch.papers.month_summary import span_lines
from hotelwatch.papers.sheets import sheet_title
from hotelwatch.wording.dates import day_text, month_text
from hotelwatch.wording.language import _, ngettext

NOT_ADDED = frozenset(
    {
        *("cases_open_at_start", "cases_open_at_end", "cases_balance"),
        *(f"cases_of_stage_{stage.value}" for stage in Stage),
    }
)
"""Numbers that stand for a day: those of several months make no sum."""
HIGHEST = frozenset({"most_days_late"})
TREND = ("undersides_due", "due_in_time", "due_late", "due_not_done", "nights_in_quarantine")
Months = tuple[MonthFigures, ...]


def span_book(months: Months, *, claims: Claims, proof: RecordProof | None = None) -> Book:
    """The book of several months before it is written; each as its own book knows it."""
    last = months[-1].account
    frame = frame_of(last, span_text(claims.period), program=claims.program)
    by_month = [span_lines(figures, figures.account.first_on) for figures in months]
    sheets = (
        Sheet(_("First page"), (_front(months, by_month, proof),)),
        Sheet(_("Months side by side"), (_side_by_side(months, by_month),), (_each_note(),)),
        Sheet(_("As counted by the program"), (_again(months, by_month),), (_again_note(),)),
        Sheet(_("By month"), (_trend(months, by_month),)),
        *_tables(months),
        Sheet(
            _("Record and limits"),
            (Lines(tuple(_lines(months, proof)), WIDE), claims_listing(claims)),
        ),
    )
    return Book(frame, last.made_at, sheets, is_protected=True)


def span_text(period: str) -> str:
    """A quarter or a year in words."""
    year, _dash, quarter = period.partition("-Q")
    if not quarter:
        return year
    return _("quarter {n} of {year}").format(n=quarter, year=year)


def _tables(months: Months) -> Iterator[Sheet]:
    for title, make in _makes():
        yield Sheet(title, (stacked(make, months),))
    last = months[-1]
    as_of = _("As of {day}.").format(day=day_text(last.account.until_on))
    yield Sheet(_("Last looks"), (tables.last_looks(last),), (as_of,))
    yield Sheet(_("Training due"), (pages.training_states(last),), (as_of,))


def _makes() -> tuple[tuple[str, Make], ...]:
    return (
        (_("Due and done"), tables.due),
        (_("Checks"), tables.checks),
        (_("Sightings"), cases.sightings),
        (_("Cases"), cases.cases),
        (_("Deadlines"), pages.clocks),
        (_("Checks asked for"), cases.asked),
        (_("Quarantines"), cases.quarantines),
        (_("Let in quarantine"), cases.lets),
        (_("Treatments"), cases.treatments),
        (_("Follow-up visits"), proofs.visits),
        (_("Watch and closing"), proofs.watches),
        (_("Answers and notices"), proofs.notices),
        (_("Photos, specimens, papers"), proofs.kept),
        (_("Staff hours"), tables.team_days),
        (_("Lifting"), pages.lifts),
        (_("Not lifted"), proofs.left_lifts),
        (_("Training"), pages.trainings),
        (_("Blind trials"), pages.trials),
        (_("Changes of policy"), pages.policy),
        (_("Refusals"), pages.refusals),
        (_("Late entries and corrections"), record.changes),
    )


def _each_note() -> str:
    return _("Each number is a formula over the tables of this file.")


def _again_note() -> str:
    return _("What the program counted for each month, and whether this file agrees.")


# --- side by side -----------------------------------------------------------------------------


def _side_by_side(months: Months, by_month: list[list[Line]]) -> Listing:
    columns = tuple(figures.account.month for figures in months)
    headings = (_("What"), *columns, _("Together"), _("Its name in formulas"))
    rows: list[tuple[Value, ...]] = []
    names: list[tuple[str, int, int]] = []
    for number, of_line in enumerate(zip(*by_month, strict=True)):
        first = of_line[0]
        rows.append((first.name, *map(_counted, of_line), _together(of_line), first.key))
        names.append((first.key, number, len(months) + (first.key not in NOT_ADDED)))
    return Listing("months", headings, tuple(rows), widest=70, names=tuple(names))


def _counted(line: Line) -> Formula:
    return Formula(line.formula, line.value, is_decimal=isinstance(line.value, float))


def _together(of_line: tuple[Line, ...]) -> Value:
    """The sum over the months, the highest, or nothing where a number stands for a day."""
    first = of_line[0]
    if first.key in NOT_ADDED:
        return None
    ends = f"B{ROW}", f"{_letter(len(of_line))}{ROW}"
    values = [line.value for line in of_line]
    is_highest = first.key in HIGHEST
    result = max(values) if is_highest else sum(values)
    text = f"{'MAX' if is_highest else 'SUM'}({ends[0]}:{ends[1]})"
    return Formula(text, result, is_decimal=isinstance(result, float))


def _again(months: Months, by_month: list[list[Line]]) -> Listing:
    """The program's own numbers, in the same cells as the formulas on the sheet before."""
    columns = tuple(figures.account.month for figures in months)
    headings = (_("What"), *columns, _("Do both agree"))
    cells = f"$B{ROW}:${_letter(len(months))}{ROW}"
    other = "'" + sheet_title(_("Months side by side")).replace("'", "''") + "'!"
    agrees, differs = text_in_formula(_("agrees")), text_in_formula(_("differs"))
    same = f"SUMPRODUCT(--(ABS({other}{cells}-{cells})>=0.005))=0"
    compared = Formula(f"IF({same},{agrees},{differs})", _("agrees"))
    rows: list[tuple[Value, ...]] = []
    for of_line in zip(*by_month, strict=True):
        values: list[Value] = [line.value for line in of_line]
        rows.append((of_line[0].name, *values, compared))
    return Listing("again", headings, tuple(rows), widest=70)


def _letter(column: int) -> str:
    return chr(ord("A") + column)


def _trend(months: Months, by_month: list[list[Line]]) -> Listing:
    chosen = [{line.key: line for line in lines} for lines in by_month]
    headings = (_("Month"), *(chosen[0][key].name for key in TREND))
    rows: list[tuple[Value, ...]] = []
    for figures, lines in zip(months, chosen, strict=True):
        rows.append((figures.account.month, *(_counted(lines[key]) for key in TREND)))
    return Listing("trend", headings, tuple(rows))


# --- first and last page ----------------------------------------------------------------------


def _front(months: Months, by_month: list[list[Line]], proof: RecordProof | None) -> FrontPage:
    totals = {of[0].key: sum(line.value for line in of) for of in zip(*by_month, strict=True)}
    last = {line.key: line.value for line in by_month[-1]}
    late = totals["due_late"] + totals["due_not_done"]
    end = (0, len(months) - 1)
    charts = (
        Chart(_("Undersides due, by month"), "trend", end, names=0, series=(1,), upright=True),
        Chart(_("Not looked at, by month"), "trend", end, names=0, series=(4,), upright=True),
        Chart(_("Nights in quarantine"), "trend", end, names=0, series=(5,), upright=True),
    )
    numbers = (
        (_("undersides due"), "undersides_due", totals["undersides_due"]),
        (_("looked at in time"), "due_in_time", totals["due_in_time"]),
        (_("late or not looked at"), "due_late+due_not_done", late),
        (_("new cases"), "cases_new", totals["cases_new"]),
        (_("cases open at the end"), "cases_open_at_end", last["cases_open_at_end"]),
        (_("nights in quarantine"), "nights_in_quarantine", totals["nights_in_quarantine"]),
    )
    return FrontPage(
        sentences=(*_sentences(months), record_sentence(proof), *language_lines()),
        numbers=tuple(BigNumber(label, Formula(text, many)) for label, text, many in numbers),
        asks_title=_("What to know of it"),
        asks=tuple(_asks(months)),
        charts=charts,
        signatures=signatures(),
    )


def _sentences(months: Months) -> Iterator[str]:
    first, last = months[0].account, months[-1].account
    yield _("It covers {first} to {last}.").format(
        first=day_text(first.first_on), last=day_text(last.until_on)
    )
    yield _(
        "An underside overdue at a month's end is due again in the next: sums over months count"
        " it in each."
    )


def _asks(months: Months) -> Iterator[str]:
    still_open = [m for m in months if m.account.closed_at is None]
    if still_open:
        names = ", ".join(month_text(m.account.month) for m in still_open)
        yield _("Not closed, so that their numbers may still change: {months}.").format(
            months=names
        )
    worst = max(months, key=lambda m: sum(r.state is DueState.NOT_DONE for r in m.rows.due))
    many = worst.counts.not_done
    if many:
        yield ngettext(
            "Most were not looked at in {month}: {count} underside.",
            "Most were not looked at in {month}: {count} undersides.",
            many,
        ).format(month=month_text(worst.account.month), count=many)
    lets = sum(m.counts.lets_against for m in months)
    if lets:
        yield ngettext(
            "{n} room was let while in quarantine.", "{n} rooms were let while in quarantine.", lets
        ).format(n=lets)
    yield from late_lines(months[-1])
    held = [row for month in months for row in month.rows.quarantines]
    yield from lifted_on_reasons(held)
    yield from lifted_lines(held)


def _lines(months: Months, proof: RecordProof | None) -> Iterator[str]:
    for figures in months:
        account = figures.account
        yield _("{month} rests on entries {first} to {last}; digest of the last: {digest}").format(
            month=month_text(account.month),
            first=account.first_entry,
            last=account.last_entry,
            digest=account.last_digest or _("none"),
        )
    yield from record.proof_lines(proof)
    yield ""
    yield from record.limit_lines(months[-1])
    yield ""
