"""The month's book: one workbook that can be read without the program."""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo

from hotelwatch.core.month.rows import Account, MonthFigures
from hotelwatch.core.progress import Progress, silent
from hotelwatch.papers import month_case_tables, month_summary, month_tables
from hotelwatch.papers import month_record as record
from hotelwatch.papers.listings import WIDEST_COLUMN, Book, Frame, Lines, Listing, Sheet
from hotelwatch.papers.month_record import RecordProof
from hotelwatch.papers.target import refuse_target, write_safely
from hotelwatch.wording.dates import day_text, month_text
from hotelwatch.wording.language import _

WIDE = (WIDEST_COLUMN,) * 4


def write_month_book(
    path: Path,
    figures: MonthFigures,
    *,
    program: str,
    proof: RecordProof | None = None,
    progress: Progress = silent,
) -> None:
    """Write a month's book to ``path``; the old file stays until the new one is whole.

    ``proof`` is what a verification of the hotel's file found; None says in the
    book that it was not verified. Raises Refusal as ``target.write_safely`` says.
    """
    refuse_target(path)
    write_safely(month_book(figures, program=program, proof=proof), path, progress)


def month_book(figures: MonthFigures, *, program: str, proof: RecordProof | None = None) -> Book:
    """The month's book before it is written."""
    frame = frame_of(figures.account, program=program)
    tables = (Sheet(title, (table,), notes) for title, notes, table in _listings(figures))
    sheets = (
        Sheet(_("Summary"), (month_summary.summary(figures),)),
        *tables,
        Sheet(_("Record and limits"), _record(figures, frame, proof)),
    )
    return Book(frame, figures.account.made_at, sheets, is_protected=True)


def frame_of(account: Account, *, program: str) -> Frame:
    """What every sheet of the book bears."""
    return Frame(
        hotel=account.hotel,
        subject=month_text(account.month),
        paper=account.paper,
        zone=ZoneInfo(account.zone),
        zone_name=account.zone,
        program=program,
    )


def _listings(figures: MonthFigures) -> list[tuple[str, tuple[str, ...], Listing]]:
    """Each sheet with a table: its title, what it says of itself, and the table."""
    assumed = _("Figures marked as an assumption were measured by nobody; correct them to yours.")
    return [
        (_("Due and done"), (_due_note(figures),), month_tables.due(figures)),
        (_("Last looks"), (_looks_note(figures),), month_tables.last_looks(figures)),
        (_("Checks"), (), month_tables.checks(figures)),
        (_("Lists of places"), (_lists_note(),), month_tables.place_lists(figures)),
        (_("Sightings"), (_sightings_note(),), month_case_tables.sightings(figures)),
        (_("Cases"), (_cases_note(figures),), month_case_tables.cases(figures)),
        (_("Checks asked for"), (), month_case_tables.asked(figures)),
        (_("Quarantines"), (), month_case_tables.quarantines(figures)),
        (_("Let in quarantine"), (_("There should be none."),), month_case_tables.lets(figures)),
        (
            _("Treatments"),
            (_("As the licensed firms reported it."),),
            month_case_tables.treatments(figures),
        ),
        (_("Staff hours"), (), month_tables.team_days(figures)),
        (_("Staff by name"), (_("In the order of names."),), month_tables.people(figures)),
        (_("Late entries and corrections"), (), record.changes(figures)),
        (_("Figures and sources"), (assumed,), record.figures_used(figures)),
    ]


def _due_note(figures: MonthFigures) -> str:
    return _("Undersides due until {day} or overdue on {first}.").format(
        day=day_text(figures.account.last_on), first=day_text(figures.account.first_on)
    )


def _looks_note(figures: MonthFigures) -> str:
    return _("As of {day}.").format(day=day_text(figures.account.until_on))


def _lists_note() -> str:
    return _("What “every place of its list” means: common practice, no source.")


def _sightings_note() -> str:
    return _("What was seen or reported is suspected until a competent person has judged it.")


def _cases_note(figures: MonthFigures) -> str:
    return _("As they stood on {day}.").format(day=day_text(figures.account.until_on))


def _record(figures: MonthFigures, frame: Frame, proof: RecordProof | None) -> tuple[Lines, ...]:
    title = _("How it was looked and counted, and what that can't say")
    return (
        Lines(tuple(record.record_lines(figures, frame, proof)), WIDE),
        Lines(("", title, *record.limit_lines(figures)), WIDE),
    )
