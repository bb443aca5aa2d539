"""A quarter side by side: LibreOffice counts what the program counted, month by month."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import openpyxl
import pytest
import python_calamine

from hotelwatch.core.month.figures import figures
from hotelwatch.core.month.periods import begun, months_of, spans_of
from hotelwatch.core.problems import Refusal
from hotelwatch.papers.month_record import RecordProof
from hotelwatch.papers.span_book import span_book
from hotelwatch.papers.target import write_safely
from tests.build import day
from tests.papers.office import converted, needs_office
from tests.papers.test_month_book import CLAIMS, a_house

NOW = datetime(2026, 4, 2, 9, tzinfo=UTC)
MONTHS = ("2026-01", "2026-02", "2026-03")


def quarter():
    return tuple(figures(a_house(), month, now=NOW) for month in MONTHS)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("span") / "quarter.xlsx"
    claims = replace(CLAIMS, kind="span", period="2026-Q1")
    write_safely(span_book(quarter(), claims=claims, proof=RecordProof(42, "c0", ())), path)
    return path


def rows_of(path: Path, sheet: str, first: str) -> list[dict[str, object]]:
    rows = python_calamine.load_workbook(path).get_sheet_by_name(sheet).to_python()
    top = next(number for number, row in enumerate(rows) if row and row[0] == first)
    return [dict(zip(rows[top], row, strict=True)) for row in rows[top + 1 :] if row[0] != ""]


@needs_office
def test_each_month_counts_its_own_rows_of_the_common_tables(book: Path) -> None:
    again = converted(book)
    counted = rows_of(again, "Months side by side", "What")
    told = rows_of(book, "As counted by the program", "What")

    assert len(counted) == len(told) > 50
    for file, program in zip(counted, told, strict=True):
        assert file["What"] == program["What"]
        for month in MONTHS:
            assert file[month] == pytest.approx(program[month], abs=0.005), file
    agree = rows_of(again, "As counted by the program", "What")
    assert {row["Do both agree"] for row in agree} == {"agrees"}


@needs_office
def test_sums_over_months_are_sums_and_what_stands_for_a_day_has_none(book: Path) -> None:
    rows = {row["Its name in formulas"]: row for row in rows_of(converted(book), *SIDE)}

    due = rows["undersides_due"]
    assert due["Together"] == sum(m.counts.due for m in quarter()) > 0
    worst = rows["most_days_late"]
    assert worst["Together"] == max(m.counts.worst_late_days for m in quarter()) > 0
    assert rows["cases_open_at_end"]["Together"] == ""


SIDE = ("Months side by side", "What")


@needs_office
def test_numbers_of_the_first_page_follow_a_table_changed_later(book: Path, tmp_path: Path) -> None:
    changed = openpyxl.load_workbook(book)
    sheet = changed["Due and done"]
    cell = next(c for row in sheet.iter_rows() for c in row if c.value == "not looked at")
    cell.value = "looked at in time"
    changed.save(tmp_path / "changed.xlsx")

    rows = rows_of(converted(tmp_path / "changed.xlsx"), "As counted by the program", "What")

    assert [row["What"] for row in rows if row["Do both agree"] == "differs"] == [
        "Of these looked at in time",
        "Of these not looked at",
    ]


def test_a_quarter_and_a_year_have_their_months_and_others_none() -> None:
    # ISO 8601 has no quarters; business practice: the first one is January to March.
    assert months_of("2026-Q1") == MONTHS
    assert months_of("2026-q4") == ("2026-10", "2026-11", "2026-12")
    assert len(months_of("2026")) == 12
    assert months_of("2026-02") == ("2026-02",)
    assert spans_of("2026-05") == ("2026-Q2", "2026")
    for wrong in ("2026-13", "2026-00", "2026-Q5", "26", "2026-2", ""):
        with pytest.raises(Refusal) as refused:
            months_of(wrong)
        assert refused.value.code == "no_such_month"


def test_months_to_come_are_left_out_and_a_span_to_come_is_refused() -> None:
    assert begun(months_of("2026"), day(30)) == ("2026-01", "2026-02")
    with pytest.raises(Refusal) as refused:
        begun(months_of("2027"), day(30))
    assert refused.value.code == "month_to_come"
