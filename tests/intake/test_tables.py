from __future__ import annotations

import io
import os
import shutil
import subprocess
import zipfile
from datetime import date, datetime

import openpyxl
import pytest
from python_calamine import CalamineWorkbook

from hotelwatch import paths
from hotelwatch.core.problems import Refusal
from hotelwatch.intake import grids, xlsx_grid
from hotelwatch.intake import tables as tables_module
from hotelwatch.intake.cells import Mark, number_text, tidy
from hotelwatch.intake.grids import FileCode, counted_rows
from hotelwatch.intake.tables import TablePlace, letter, read_table
from hotelwatch.intake.words import read_words, shipped_words
from tests.intake.files import csv_file, known, ods_cell, ods_file, ods_row, xlsx_file

IS_KNOWN = known("room", "floor", "beds", "box spring", "sofa bed", "wing")


def values(table):
    return [(row.number, dict(row.cells)) for row in table.rows]


def needs_office():
    return shutil.which("soffice") or pytest.skip("soffice is not installed")


def converted(path, kind, tmp_path):
    """The file as LibreOffice saves it in another kind."""
    office = needs_office()
    profile = (tmp_path / "office").as_uri()
    command = [office, "--headless", f"-env:UserInstallation={profile}", "--convert-to", kind]
    run = subprocess.run(
        [*command, "--outdir", str(tmp_path), str(path)],
        capture_output=True,
        text=True,
        timeout=100,
        check=False,
        env={**os.environ, "HOME": str(tmp_path)},
    )
    made = path.with_suffix(f".{kind}")
    assert made.exists(), run.stderr
    return made


# --- cells ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "number_format", "text"),
    [
        (101, "0000", "0101"),
        (101.0, "0000", "0101"),
        (103.0, "General", "103"),
        (103, "0", "103"),
        (12345, "0000", "12345"),
        (3, '"G"00', "G03"),
        (7, "\\P\\H00", "PH07"),
        (101, "0000;[Red]-0000", "0101"),
        (-1, "0000", "-1"),
        (4.5, "0.0", "4.5"),
        (0.1 + 0.2, "General", "0.3"),
        (float("inf"), "General", "inf"),
    ],
)
def test_a_number_is_read_as_its_cell_shows_it(value, number_format, text):
    assert number_text(value, number_format) == text


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        (" 0104 ", "0104"),
        ("0105\u00a0", "0105"),
        ("\u2003A\u2009B\u3000", "A B"),
        ("１０１", "101"),  # full-width digits; Unicode Standard Annex 15, NFKC
        ("12\u200b0\ufeff", "120"),
        ("2  box\tspring\n 1 crib ", "2 box spring\n1 crib"),
    ],
)
def test_text_loses_spaces_around_it_and_invisible_signs(raw, text):
    assert tidy(raw) == text


def test_columns_have_the_letters_of_a_spreadsheet():
    for column in (1, 26, 27, 52, 702, 703, 16384):
        assert letter(column) == openpyxl.utils.get_column_letter(column)


# --- xlsx ------------------------------------------------------------------------


@pytest.fixture
def messy(tmp_path):
    """Title rows, merged headings in two rows, number formats, a date, a formula."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Rooms"
    sheet["A1"] = "Rooms of an invented house"
    sheet.merge_cells("A1:F1")
    sheet["A2"] = "as of today"
    for column, heading in enumerate(("Room", "Floor", "Beds", None, "Wing"), 1):
        sheet.cell(4, column, heading)
    sheet.merge_cells("C4:D4")
    sheet["C5"], sheet["D5"] = "Box spring", "Sofa bed"
    for number in (101, 103):
        sheet.append([number, 1, 2, 0, " North\u00a0"])
    sheet["A6"].number_format = sheet["A7"].number_format = "0000"
    sheet["A8"], sheet["B8"], sheet["C8"] = datetime(2026, 4, 16), 2, "=1+1"
    sheet["A8"].number_format = "yyyy-mm-dd"
    sheet["A10"], sheet["B10"] = "PH1", "2"
    sheet.merge_cells("B10:B11")
    sheet["A11"] = "PH2"
    path = tmp_path / "messy.xlsx"
    book.save(path)
    return path


PLAIN = {"Floor": "1", "Beds Box spring": "2", "Beds Sofa bed": "0", "Wing": "North"}
EXPECTED = [(6, {"Room": "0101", **PLAIN}), (7, {"Room": "0103", **PLAIN})]
LAST = [(10, {"Room": "PH1", "Floor": "2"}), (11, {"Room": "PH2", "Floor": "2"})]


def test_a_messy_workbook_is_read_as_a_person_sees_it(messy):
    table = read_table(messy, IS_KNOWN)
    formula = (8, {"Room": date(2026, 4, 16), "Floor": "2", "Beds Box spring": Mark.NO_VALUE})
    assert table.heading_row == 4
    assert table.headings == ("Room", "Floor", "Beds Box spring", "Beds Sofa bed", "Wing")
    assert table.under == {"Beds Box spring": "Box spring", "Beds Sofa bed": "Sofa bed"}
    assert values(table) == [*EXPECTED, formula, *LAST]
    assert table.where == "messy.xlsx: Rooms"


def test_libreoffice_saves_the_same_table_as_ods_with_the_formula_computed(messy, tmp_path):
    table = read_table(converted(messy, "ods", tmp_path), IS_KNOWN)
    computed = (8, {"Room": date(2026, 4, 16), "Floor": "2", "Beds Box spring": "2"})
    assert values(table) == [*EXPECTED, computed, *LAST]


def test_libreoffice_saves_the_same_table_as_an_old_workbook(messy, tmp_path):
    table = read_table(converted(messy, "xls", tmp_path), IS_KNOWN)
    # The old format comes through a reader that knows no number formats: no zeros.
    assert [row.number for row in table.rows] == [6, 7, 8, 10, 11]
    assert [row.cell("Room") for row in table.rows] == [
        "101",
        "103",
        date(2026, 4, 16),
        "PH1",
        "PH2",
    ]


def test_a_formula_computed_by_libreoffice_has_its_value_and_an_error_is_one(tmp_path):
    path = xlsx_file(tmp_path / "f.xlsx", [["Room", "Floor"], ["=100+1", 1], ["=1/0", 1]])
    (tmp_path / "out").mkdir()
    table = read_table(converted(path, "ods", tmp_path), IS_KNOWN)
    assert [row.cell("Room") for row in table.rows] == ["101", Mark.ERROR]


def test_a_second_reader_sees_the_same_cells(messy):
    # python-calamine is the second reader; it knows no formats, so numbers are compared.
    rows = (
        CalamineWorkbook.from_path(messy)
        .get_sheet_by_name("Rooms")
        .to_python(skip_empty_area=False)
    )
    table = read_table(messy, IS_KNOWN)
    for row in table.rows[:2]:
        theirs = rows[row.number - 1]
        assert int(row.cell("Room")) == theirs[0]
        assert int(row.cell("Beds Box spring")) == theirs[2]


def test_a_big_workbook_read_by_the_fast_reader_gives_the_same_table(tmp_path, monkeypatch):
    rows = [["Room", "Floor", "Wing"], *([f"R{n}", n % 9, date(2026, 1, 1)] for n in range(50))]
    path = xlsx_file(tmp_path / "big.xlsx", rows)
    slow = read_table(path, IS_KNOWN)
    monkeypatch.setattr(xlsx_grid, "FULL_LOAD_BYTES", 10)
    assert read_table(path, IS_KNOWN) == slow
    assert len(slow.rows) == 50


def test_hidden_sheets_are_not_read_and_the_first_sheet_with_headings_is(tmp_path):
    book = openpyxl.Workbook()
    book.active.title = "Cover"
    book.active["A1"] = "Welcome"
    hidden = book.create_sheet("Old")
    hidden.append(["Room", "Floor"])
    hidden.sheet_state = "hidden"
    book.create_sheet("Rooms").append(["Room", "Floor"])
    book["Rooms"].append(["1", "1"])
    path = tmp_path / "sheets.xlsx"
    book.save(path)
    table = read_table(path, IS_KNOWN)
    assert (table.sheet, table.sheets) == ("Rooms", ("Cover", "Rooms"))
    assert read_table(path, IS_KNOWN, at=TablePlace("Cover")).heading_row == 0
    with pytest.raises(Refusal) as refused:
        read_table(path, IS_KNOWN, at=TablePlace("Old"))
    assert refused.value.code == "no_such_sheet"
    assert refused.value.values["sheets"] == "Cover, Rooms"


def test_a_far_off_formatted_cell_makes_no_rows(tmp_path):
    book = openpyxl.Workbook()
    book.active.append(["Room", "Floor"])
    book.active.append(["1", "1"])
    book.active.cell(1_048_576, 16_384).number_format = "0000"
    path = tmp_path / "far.xlsx"
    book.save(path)
    assert values(read_table(path, IS_KNOWN)) == [(2, {"Room": "1", "Floor": "1"})]


# --- headings -------------------------------------------------------------------------


def test_the_row_of_headings_is_the_first_with_two_known_ones(tmp_path):
    path = csv_file(
        tmp_path / "h.csv",
        [["Room list"], [], ["Room", "this says room"], ["x", "Floor", "ROOM"], ["-", 1, "12A"]],
    )
    table = read_table(path, IS_KNOWN)
    assert table.heading_row == 4
    assert values(table) == [(5, {"x": "-", "Floor": "1", "ROOM": "12A"})]


def test_a_person_may_point_to_the_row_of_headings(tmp_path):
    path = csv_file(tmp_path / "h.csv", [["a", "b"], ["Zi", "St"], ["101", "1"]])
    assert read_table(path, IS_KNOWN).heading_row == 0
    pointed = read_table(path, IS_KNOWN, at=TablePlace(heading_row=2))
    assert values(pointed) == [(3, {"Zi": "101", "St": "1"})]


def test_headings_that_stand_twice_or_not_at_all_are_told_apart(tmp_path):
    path = csv_file(tmp_path / "h.csv", [["Room", "Floor", "Floor", ""], [1, 2, 3, 4]])
    assert read_table(path, IS_KNOWN).headings == ("Room", "Floor", "Floor (2)", "D")


def test_headings_that_a_printed_list_repeats_are_no_row(tmp_path):
    path = csv_file(tmp_path / "h.csv", [["Room", "Floor"], [1, 1], ["Room", "Floor"], [2, 1]])
    assert [row.number for row in read_table(path, IS_KNOWN).rows] == [2, 4]


def test_a_row_below_plain_headings_is_not_taken_for_more_headings(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["Room", "Floor", "Beds", None])
    sheet.merge_cells("C1:D1")
    sheet.append(["101", "1", "2", "1"])
    path = tmp_path / "m.xlsx"
    book.save(path)
    table = read_table(path, IS_KNOWN)
    assert table.headings == ("Room", "Floor", "Beds", "Beds (2)")
    assert [row.number for row in table.rows] == [2]


def test_no_word_of_the_shipped_headings_means_two_things(tmp_path):
    words = shipped_words()
    assert words.roster["room no"] == "room"
    twice = tmp_path / "headings.toml"
    shipped = (paths.resources() / "headings.toml").read_text(encoding="utf-8")
    twice.write_text(shipped.replace('floor = ["floor"', 'floor = ["room", "floor"'), "utf-8")
    with pytest.raises(ValueError, match="room"):
        read_words(twice)


# --- ods --------------------------------------------------------------------------------


def test_an_ods_keeps_the_zeros_that_it_shows(tmp_path):
    path = ods_file(
        tmp_path / "a.ods",
        ods_row(ods_cell("Room"), ods_cell("Floor")),
        ods_row(ods_cell(101, shown="0101"), ods_cell(1.0, shown="1")),
        ods_row(ods_cell(1101, shown="1,101"), ods_cell(4.5, shown="4,5")),
        ods_row(ods_cell(3, shown="G03"), ods_cell(2026, shown="2.026")),
    )
    assert [row.cells for row in read_table(path, IS_KNOWN).rows] == [
        {"Room": "0101", "Floor": "1"},
        {"Room": "1101", "Floor": "4.5"},
        {"Room": "G03", "Floor": "2026"},
    ]


def test_repeated_cells_and_rows_of_an_ods_are_counted(tmp_path):
    # OpenDocument (ISO/IEC 26300): table:number-columns-repeated, table:number-rows-repeated.
    path = ods_file(
        tmp_path / "a.ods",
        ods_row(ods_cell(number_columns_repeated=1024), repeated=3),
        ods_row(ods_cell(), ods_cell("Room"), ods_cell("Floor"), ods_cell("Wing")),
        ods_row(ods_cell(), ods_cell("101"), ods_cell("1", number_columns_repeated=2)),
        ods_row(ods_cell(number_columns_repeated=1024), repeated=4),
        ods_row(ods_cell(), ods_cell("x"), ods_cell("2"), repeated=2),
        ods_row(ods_cell(number_columns_repeated=1024), repeated=1_048_565),
    )
    assert values(read_table(path, IS_KNOWN)) == [
        (5, {"Room": "101", "Floor": "1", "Wing": "1"}),
        (10, {"Room": "x", "Floor": "2"}),
        (11, {"Room": "x", "Floor": "2"}),
    ]


def test_merged_cells_of_an_ods_are_filled(tmp_path):
    covered = "<table:covered-table-cell/>"
    path = ods_file(
        tmp_path / "a.ods",
        ods_row(ods_cell("All rooms", number_columns_spanned=3), covered, covered),
        ods_row(ods_cell("Room"), ods_cell("Floor"), ods_cell("Wing")),
        ods_row(ods_cell("1"), ods_cell("7", number_rows_spanned=2), ods_cell("N")),
        ods_row(ods_cell("2"), covered, ods_cell("S")),
    )
    rows = read_table(path, IS_KNOWN).rows
    assert [(row.cell("Floor"), row.cell("Wing")) for row in rows] == [("7", "N"), ("7", "S")]


def test_text_of_an_ods_has_its_spaces_lines_and_no_comments(tmp_path):
    cell = (
        '<table:table-cell office:value-type="string"><office:annotation><text:p>mine</text:p>'
        "</office:annotation><text:p>2 box<text:s/><text:span>spring</text:span></text:p>"
        "<text:p>1 crib</text:p></table:table-cell>"
    )
    path = ods_file(
        tmp_path / "a.ods",
        ods_row(ods_cell("Room"), ods_cell("Floor")),
        ods_row(cell, ods_cell("1")),
    )
    assert read_table(path, IS_KNOWN).rows[0].cell("Room") == "2 box spring\n1 crib"


# --- what can't be read ------------------------------------------------------------------


def refusal_of(path, is_known=IS_KNOWN):
    with pytest.raises(Refusal) as refused:
        read_table(path, is_known)
    assert refused.value.values["file"] == path.name
    return refused.value.code


def test_files_that_are_no_table_say_so(tmp_path):
    def file(name, data):
        (tmp_path / name).write_bytes(data)
        return tmp_path / name

    with zipfile.ZipFile(tmp_path / "other.xlsx", "w") as archive:
        archive.writestr("readme.txt", "no workbook")
    assert refusal_of(tmp_path / "none.csv") == "no_such_table_file"
    assert refusal_of(tmp_path) == "table_file_not_readable"
    assert refusal_of(file("empty.csv", b"")) == "empty_table_file"
    assert refusal_of(file("blank.csv", b"\r\n ,\r\n")) == "empty_table_file"
    assert refusal_of(file("page.xls", b"<html><table></table></html>")) == "unknown_table_file"
    assert refusal_of(file("photo.csv", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")) == "unknown_table_file"
    assert refusal_of(tmp_path / "other.xlsx") == "unknown_table_file"
    assert refusal_of(file("half.xlsx", b"PK\x03\x04 cut off")) == "damaged_table_file"


def test_a_truncated_workbook_is_damaged(messy):
    whole = messy.read_bytes()
    messy.write_bytes(whole[: len(whole) // 2])
    assert refusal_of(messy) == "damaged_table_file"


def test_locked_files_say_so(tmp_path):
    # [MS-OFFCRYPTO]: a locked workbook is a compound file with an EncryptedPackage stream.
    locked = tmp_path / "locked.xlsx"
    stream = "EncryptedPackage".encode("utf-16-le")
    locked.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600) + stream + bytes(300))
    assert refusal_of(locked) == "encrypted_table_file"
    manifest = "<manifest:encryption-data/>"
    assert refusal_of(ods_file(tmp_path / "l.ods", manifest=manifest)) == "encrypted_table_file"


def test_what_is_too_big_is_refused(tmp_path, monkeypatch):
    wide = csv_file(tmp_path / "wide.csv", [["Room", "Floor"], ["1"] * (grids.MOST_COLUMNS + 1)])
    assert refusal_of(wide) == "table_too_many_columns"
    monkeypatch.setattr(grids, "MOST_ROWS", 5)
    many = xlsx_file(tmp_path / "many.xlsx", [["Room", "Floor"]] * 6)
    assert refusal_of(many) == "table_too_many_rows"
    monkeypatch.setattr(tables_module, "MOST_UNZIPPED", 1000)
    assert refusal_of(many) == "table_file_too_big"


def test_a_small_file_that_unfolds_to_much_is_refused_before_it_is_unfolded(tmp_path):
    path = tmp_path / "bomb.ods"
    with (
        zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive,
        archive.open("content.xml", "w", force_zip64=True) as part,
    ):
        for _ in range(410):
            part.write(bytes(1_000_000))
    assert path.stat().st_size < 1_000_000
    assert refusal_of(path) == "table_file_too_big"


def test_entities_that_unfold_one_another_are_refused(tmp_path):
    # The "billion laughs" of nested XML entities; defusedxml forbids entities.
    content = (
        '<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><office:x '
        'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0">&b;</office:x>'
    )
    path = tmp_path / "laugh.ods"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("content.xml", content)
    assert refusal_of(path) == "damaged_table_file"


def test_a_sheet_with_a_value_in_its_farthest_cell_is_refused_by_the_fast_reader(
    tmp_path, monkeypatch
):
    book = openpyxl.Workbook()
    book.active.append(["Room", "Floor"])
    book.active.cell(1_048_576, 300, "far")
    path = tmp_path / "far.xlsx"
    book.save(path)
    monkeypatch.setattr(xlsx_grid, "FULL_LOAD_BYTES", 10)
    assert refusal_of(path) == "table_too_many_columns"


class Endless:
    """A sheet that goes on without end, a row with something in it after another."""

    def __init__(self, row):
        self.row, self.asked = row, 0

    def read(self, count):
        self.asked += 1
        return self.row * (count // len(self.row))


@pytest.mark.parametrize(
    ("row", "content", "line"),
    [
        (b"<row", b"</c>", b'<row r="1"><c r="A1"><v>1</v></c><c r="B1"><v>1</v></c></row>'),
        (
            b"<table:table-row",
            b"<text:p",
            b"<table:table-row><table:table-cell><text:p>1</text:p></table:table-cell>"
            b"</table:table-row>",
        ),
    ],
)
def test_a_sheet_with_too_many_rows_is_refused_before_all_of_it_is_read(row, content, line):
    endless = Endless(line)
    with pytest.raises(Refusal) as caught:
        for _ in counted_rows("f", endless, row=row, content=content):
            pass
    assert caught.value.code == FileCode.TOO_MANY_ROWS
    assert endless.asked < 60


def test_empty_rows_are_not_counted_however_many(tmp_path):
    sheet = io.BytesIO(b'<row r="1" spans="1:3"><c r="A1" s="1"/></row>' * 400_000)
    pieces = counted_rows("f", sheet, row=b"<row", content=b"</c>")
    assert sum(map(len, pieces)) == len(sheet.getvalue())
