from __future__ import annotations

import re
import tempfile
import zipfile
from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import openpyxl
import pytest
import python_calamine
from hypothesis import given, settings
from hypothesis import strategies as st
from xlsxwriter import Workbook

from hotelwatch.core.problems import Refusal
from hotelwatch.papers.listings import (
    Attention,
    Book,
    Formula,
    Frame,
    Listing,
    Sheet,
    column_of,
    text_in_formula,
)
from hotelwatch.papers.sheets import safe_text
from hotelwatch.papers.target import NotReadBack, refuse_target, write_safely
from hotelwatch.papers.workbook import save_book
from tests.papers.office import converted, needs_office

MADE_AT = datetime(2026, 2, 1, 8, tzinfo=UTC)
RISKY = ("=1+1", "+1", "-5", "@SUM(A1)", "\tx", '=HYPERLINK("x")', "'quoted", "0101", "1-2", "12E3")


def frame(paper: str = "A4", hotel: str = "Hotel & Spa of tests") -> Frame:
    zone = "Europe/Vienna"
    return Frame(hotel, "January 2026", paper, ZoneInfo(zone), zone, "hotelwatch test")


def written(tmp_path: Path, *rows: tuple, headings: tuple[str, ...], paper: str = "A4") -> Path:
    sheet = Sheet("Rows", (Listing("rows", headings, rows),))
    write_safely(Book(frame(paper), MADE_AT, (sheet,)), tmp_path / "rows.xlsx")
    return tmp_path / "rows.xlsx"


def table_of(path: Path, sheet: str = "Rows") -> list[list]:
    """What a second reader finds from the heading row on."""
    rows = python_calamine.load_workbook(path).get_sheet_by_name(sheet).to_python()
    top = next(number for number, row in enumerate(rows) if row[0] in ("Text", "What"))
    return rows[top + 1 :]


def test_text_that_begins_like_a_formula_or_a_number_stays_text(tmp_path: Path) -> None:
    path = written(tmp_path, *[(text,) for text in RISKY], headings=("Text",))

    assert [row[0] for row in table_of(path)] == list(RISKY)
    cells = openpyxl.load_workbook(path)["Rows"]["A"]
    assert {cell.data_type for cell in cells if cell.value is not None} == {"s"}
    assert [cell.value for cell in cells if cell.quotePrefix] == list(RISKY[:6])


@needs_office
def test_text_stays_text_when_another_program_saves_it(tmp_path: Path) -> None:
    path = written(tmp_path, *[(text,) for text in RISKY], headings=("Text",))

    assert [row[0] for row in table_of(converted(path))] == list(RISKY)


@settings(deadline=None)
@given(st.text(max_size=60))
def test_any_text_can_be_written_and_reads_the_same_but_for_what_xml_cannot_hold(text: str) -> None:
    path = Path(tempfile.mkdtemp()) / "any.xlsx"
    sheet = Sheet("Rows", (Listing("rows", ("Text",), ((text,),)),))
    save_book(Book(frame(), MADE_AT, (sheet,)), path)
    cell = openpyxl.load_workbook(path)["Rows"]["A5"]
    path.unlink()
    path.parent.rmdir()

    # openpyxl leaves escapes of ST_Xstring as they are; a carriage return is written as one.
    read = re.sub("_x([0-9A-F]{4})_", lambda found: chr(int(found[1], 16)), cell.value or "")
    assert read == safe_text(text)
    assert len(safe_text(text)) == len(text)


def test_control_characters_are_shown_and_do_not_break_the_file(tmp_path: Path) -> None:
    path = written(tmp_path, ("a\x0bb\x00c\ufffe",), headings=("Text",))

    assert table_of(path)[0][0] == "a\ufffdb\ufffdc\ufffd"


def test_text_that_looks_like_an_escape_of_the_format_reads_as_it_was_typed(tmp_path: Path) -> None:
    # ISO/IEC 29500 (ECMA-376), ST_Xstring: _xHHHH_ stands for a character; _x005F_ for its "_".
    path = written(tmp_path, ("_x0041_",), headings=("Text",))

    assert table_of(path)[0][0] == "_x0041_"


def test_days_are_days_and_moments_show_the_hotels_clock_across_the_clock_change(
    tmp_path: Path,
) -> None:
    # IANA Europe/Vienna: clocks went from 02:00 to 03:00 on 29 March 2026 at 01:00 UTC.
    before = datetime(2026, 3, 29, 0, 59, tzinfo=UTC)
    after = datetime(2026, 3, 29, 1, 0, tzinfo=UTC)
    path = written(
        tmp_path, ("x", date(2026, 2, 28), before, after), headings=("Text", "D", "M", "N")
    )

    assert table_of(path)[0][1:] == [
        date(2026, 2, 28),
        datetime(2026, 3, 29, 1, 59),
        datetime(2026, 3, 29, 3, 0),
    ]
    cells = next(openpyxl.load_workbook(path)["Rows"].iter_rows(min_row=5, max_row=5))
    # ISO 8601: year, month, day.
    assert [cell.number_format for cell in cells][1:3] == ["yyyy-mm-dd", "yyyy-mm-dd hh:mm"]


@pytest.mark.parametrize(("paper", "size"), [("A4", "9"), ("Letter", "1")])
def test_sheets_print_on_the_hotels_paper(tmp_path: Path, paper: str, size: str) -> None:
    # ECMA-376 part 1, 18.3.1.63 pageSetup: paperSize 9 is A4, 1 is Letter.
    path = written(tmp_path, ("x",), headings=("Text",), paper=paper)
    sheet = openpyxl.load_workbook(path)["Rows"]

    assert str(sheet.page_setup.paperSize) == size
    assert sheet.page_setup.orientation == "landscape"
    # ... fitToWidth is 1 where it is not said.
    assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.print_title_rows == "$4:$4"
    assert sheet.freeze_panes == "A5"
    assert sheet.oddFooter.left.text == "Hotel && Spa of tests – January 2026"
    assert sheet.oddFooter.right.text == "Page &P of &N"


@needs_office
@pytest.mark.parametrize(("paper", "points"), [("A4", (842, 595)), ("Letter", (792, 612))])
def test_pages_come_out_in_the_size_of_the_paper(
    tmp_path: Path, paper: str, points: tuple[int, int]
) -> None:
    # ISO 216: A4 is 210 × 297 mm; ANSI Letter is 8.5 × 11 in; 72 points to the inch.
    import pypdf

    rows = [(f"room {number}",) for number in range(120)]
    path = written(tmp_path, *rows, headings=("Text",), paper=paper)
    pages = pypdf.PdfReader(converted(path, "pdf")).pages

    assert len(pages) > 1
    for number, page in enumerate(pages, 1):
        box = page.mediabox
        assert (round(float(box.width)), round(float(box.height))) == points
        text = page.extract_text()
        assert "Text" in text
        assert f"Page {number} of {len(pages)}" in text
        assert "Hotel & Spa of tests" in text


@needs_office
def test_formulas_over_columns_count_what_is_there_and_nothing_in_an_empty_table(
    tmp_path: Path,
) -> None:
    heading = "State (now), x's [#1]"
    full = Listing(
        "full", ("Text", heading), (("a", Attention('it"s')), ("b", "no"), ("c", 'it"s'))
    )
    empty = Listing("empty", ("Text", "State"), ())
    quoted = text_in_formula('it"s')
    counted = (
        f"COUNTIF({column_of('full', heading)},{quoted})",
        f"COUNTA({column_of('full', 'Text')})",
        f"COUNTA({column_of('empty', 'Text')})",
    )
    numbers = Listing("numbers", ("What", "N"), tuple(("n", Formula(text)) for text in counted))
    sheets = (Sheet("full", (full,)), Sheet("empty", (empty,)), Sheet("Numbers", (numbers,)))
    write_safely(Book(frame(), MADE_AT, sheets), tmp_path / "f.xlsx")

    assert [row[1] for row in table_of(converted(tmp_path / "f.xlsx"), "Numbers")] == [2, 3, 0]


def test_a_table_has_a_name_of_its_own_and_headings_that_are_text(tmp_path: Path) -> None:
    path = written(tmp_path, ("a", "b"), headings=("Text", "=More"))
    table = openpyxl.load_workbook(path)["Rows"].tables["rows"]

    assert table.ref == "A4:B5"
    assert [column.name for column in table.tableColumns] == ["Text", "=More"]
    with pytest.raises(ValueError, match="rows"):
        written(tmp_path, ("a", "b"), headings=("Text", "Text"))


def test_the_old_file_stays_until_the_new_one_was_read_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path, ("old",), headings=("Text",))

    def miscounted(book: Book, path: Path, *rest: object) -> dict[str, int]:
        return {**save_book(book, path), "Rows": 99}

    monkeypatch.setattr("hotelwatch.papers.workbook.save_book", miscounted)

    with pytest.raises(NotReadBack):
        written(tmp_path, ("new",), headings=("Text",))
    assert table_of(path)[0][0] == "old"
    assert [file.name for file in tmp_path.iterdir()] == ["rows.xlsx"]


def test_a_disk_that_is_full_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path, ("old",), headings=("Text",))

    def full(self: Workbook) -> None:
        Path(self.filename).write_bytes(b"half")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Workbook, "_store_workbook", full)
    with pytest.raises(Refusal) as refusal:
        written(tmp_path, ("new",), headings=("Text",))
    assert refusal.value.code == "disk_full"
    assert table_of(path)[0][0] == "old"
    assert [file.name for file in tmp_path.iterdir()] == ["rows.xlsx"]


def test_a_target_that_can_not_be_written_is_refused_before_any_work(tmp_path: Path) -> None:
    path = written(tmp_path, ("old",), headings=("Text",))
    cases = {
        "not_a_workbook_name": tmp_path / "book.txt",
        "no_such_folder": tmp_path / "none" / "book.xlsx",
    }
    (tmp_path / "folder.xlsx").mkdir()
    cases["target_is_folder"] = tmp_path / "folder.xlsx"
    for code, target in cases.items():
        with pytest.raises(Refusal) as refusal:
            refuse_target(target)
        assert refusal.value.code == code
    path.chmod(0o444)
    with pytest.raises(Refusal) as refusal:
        refuse_target(path)
    assert refusal.value.code == "read_only_target"


@pytest.mark.parametrize("mark", [".~lock.rows.xlsx#", "~$rows.xlsx"])
def test_a_target_that_is_open_in_a_spreadsheet_program_is_refused(
    tmp_path: Path, mark: str
) -> None:
    path = written(tmp_path, ("old",), headings=("Text",))
    (tmp_path / mark).write_text("somebody")

    with pytest.raises(Refusal) as refusal:
        write_safely(Book(frame(), MADE_AT, ()), path)
    assert refusal.value.code == "workbook_open"


def test_properties_name_hotel_month_and_moment_and_no_more(tmp_path: Path) -> None:
    path = written(tmp_path, ("x",), headings=("Text",))
    properties = openpyxl.load_workbook(path).properties

    assert properties.title == "Hotel & Spa of tests – January 2026"
    assert properties.created == datetime(2026, 2, 1, 8)
    with zipfile.ZipFile(path) as parts:
        assert not any("external" in name.lower() for name in parts.namelist())


def test_a_formula_shows_as_many_decimals_as_the_number_beside_it(tmp_path):
    row = (2.8, Formula("1.4*2", is_decimal=True), 3, Formula("1+2"))
    path = written(tmp_path, row, headings=("A", "B", "C", "D"))
    sheet = openpyxl.load_workbook(path)["Rows"]
    cells = next(cells for cells in sheet.iter_rows() if cells[0].value == 2.8)
    formats = [cell.number_format for cell in cells]
    assert formats[0] == formats[1] != formats[2] == formats[3]
