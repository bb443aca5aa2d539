"""A book from months ago against the hotel's file: agreeing, touched, followed by more."""

from __future__ import annotations

import shutil
import zipfile
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import openpyxl
import pytest

from hotelwatch.actions.book_check import check_book
from hotelwatch.actions.book_reasons import RestsOn
from hotelwatch.actions.books import write_book
from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.choices import choose_rule
from hotelwatch.actions.hotel import choose_cycle, start_hotel
from hotelwatch.actions.reports import close_month, month_figures
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.facts import (
    CaseNo,
    HotelDescribed,
    RoomNo,
    Scope,
    StaysImported,
)
from hotelwatch.core.month.due_rows import WhyLate
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.intake.book_file import read_book
from hotelwatch.store.connection import sqlite3
from tests.build import rules
from tests.papers.office import converted, needs_office


def sighted(hotel, room, **more) -> Sighted:
    told = Sighted(CaseNo(""), RoomNo(room), "", "", Sign.CAST_SKIN, 1, "carla", hotel.now())
    return replace(told, **more)


ODDS = "How likely it was missed"


@pytest.fixture
def book(hotel, clock, tmp_path) -> Path:
    log_sighting(hotel, sighted(hotel, "102"))
    clock.moment += timedelta(days=30)
    path = tmp_path / "march.xlsx"
    write_book(hotel.path, rules(), "2026-03", path, hotel.now())
    return path


def touched(book: Path, sheet: str, was: object, is_now: object) -> Path:
    changed = openpyxl.load_workbook(book)
    cells = (cell for row in changed[sheet].iter_rows() for cell in row)
    next(cell for cell in cells if cell.value == was).value = is_now
    path = book.with_name("touched.xlsx")
    changed.save(path)
    return path


def test_a_book_left_alone_is_the_very_file_that_the_record_makes(hotel, book) -> None:
    found = check_book(hotel.path, rules(), book)

    assert found.agrees
    assert found.is_same_file
    assert found.differences == ()
    assert found.cells > 500


def test_a_book_says_of_itself_whether_it_has_the_odds_and_is_checked_so(hotel, book) -> None:
    path = book.with_name("odds.xlsx")
    write_book(hotel.path, rules(), "2026-03", path, hotel.now(), with_odds=True)
    plain, full = openpyxl.load_workbook(book), openpyxl.load_workbook(path)

    assert set(full.sheetnames) - set(plain.sheetnames) == {ODDS}
    assert "on a command line --odds" in str(list(plain["Summary"].values))
    assert "--odds" not in str(list(full["Summary"].values))
    rooms = {row[0] for row in full[ODDS].values} & set(hotel.house.rooms)
    assert rooms == set(hotel.house.rooms)
    assert check_book(hotel.path, rules(), path).is_same_file


def test_what_is_written_down_later_changes_nothing_and_is_told(hotel, clock, book) -> None:
    clock.moment += timedelta(days=90)
    log_sighting(hotel, sighted(hotel, "103", seen_at=hotel.now() - timedelta(days=120)))
    choose_rule(hotel, "names_outside", "initials")

    found = check_book(hotel.path, rules(), book)

    assert found.is_same_file
    assert {row.kind for row in found.later} >= {"Sighted"}
    assert {row.month for row in found.later} == {"2026-03"}


def test_a_cell_touched_by_hand_is_named_with_what_the_record_says(hotel, book) -> None:
    found = check_book(hotel.path, rules(), touched(book, "Sightings", "102", "201"))

    assert not found.agrees
    cells = [one for one in found.differences if one.why == "cell" and one.sheet == "Sightings"]
    assert [(one.cell, one.book, one.record) for one in cells] == [("B6", "201", "102")]


def test_a_formula_replaced_by_a_number_shows_even_if_the_number_is_right(hotel, book) -> None:
    changed = openpyxl.load_workbook(book)
    for row in changed["Summary"].iter_rows():
        for cell in row:
            if cell.data_type == "f" and cell.column_letter == "C":
                found = cell.coordinate
    changed["Summary"][found].value = 0
    path = book.with_name("fixed.xlsx")
    changed.save(path)

    told = check_book(hotel.path, rules(), path)

    assert [one.cell for one in told.differences if one.why == "formula"] == [found]


@pytest.mark.long
@needs_office
def test_a_book_saved_by_another_program_still_agrees(hotel, book) -> None:
    found = check_book(hotel.path, rules(), converted(book))

    assert not found.is_same_file
    assert [one for one in found.differences if one.why == "cell"] == []


def test_a_signature_typed_on_its_line_speaks_against_nobody(hotel, book) -> None:
    changed = openpyxl.load_workbook(book)
    front = changed["First page"]
    row = next(c.row for (c,) in front["A1:A80"] if str(c.value).startswith("Prepared by"))
    assert front.cell(row, 5).protection.locked is False
    front.cell(row, 5).value = "M. Grau, 1 April"
    changed.save(book.with_name("signed.xlsx"))

    found = check_book(hotel.path, rules(), book.with_name("signed.xlsx"))

    assert [one.why for one in found.differences if one.sheet == "First page"] == ["filled_in"]


def test_a_missing_and_an_added_page_are_named(hotel, book) -> None:
    changed = openpyxl.load_workbook(book)
    del changed["Quarantines"]
    changed.create_sheet("More")
    changed.save(book.with_name("pages.xlsx"))

    found = check_book(hotel.path, rules(), book.with_name("pages.xlsx"))
    whole = {(one.why, one.sheet) for one in found.differences if not one.cell}

    assert whole == {("sheet_missing", "Quarantines"), ("sheet_added", "More")}


def test_a_book_of_another_hotel_is_refused(hotel, book, tmp_path, clock) -> None:
    described = HotelDescribed("Other", "UTC")
    other = start_hotel(tmp_path / "o.hotel", described, rules(), clock=clock, by="m")
    other.close()
    with pytest.raises(Refusal) as refused:
        check_book(other.path, rules(), book)
    assert refused.value.code == "book_of_another_hotel"


def test_an_older_copy_of_the_file_is_told_from_a_book_that_knows_more(hotel, book, tmp_path):
    older = tmp_path / "older.hotel"
    shutil.copy(hotel.path, older)
    log_sighting(hotel, sighted(hotel, "201"))
    write_book(hotel.path, rules(), "2026-03", book, hotel.now())
    with pytest.raises(Refusal) as refused:
        check_book(older, rules(), book)
    assert refused.value.code == "book_knows_more"


def test_a_record_changed_after_the_book_was_printed_does_not_hold(hotel, book) -> None:
    changed = sqlite3.connect(hotel.path)
    guard = "SELECT sql FROM sqlite_master WHERE name = 'sighted_no_update'"
    (again,) = changed.execute(guard).fetchone()
    changed.execute("DROP TRIGGER sighted_no_update")
    changed.execute("UPDATE sighted SET room = '103'")
    changed.execute(again)
    changed.commit()
    changed.close()

    found = check_book(hotel.path, rules(), book)

    assert not found.agrees
    assert "digest_differs" in {fault.code for fault in found.faults}
    assert "103" in {one.record for one in found.differences if one.sheet == "Sightings"}


def test_a_name_that_was_made_to_mean_another_cell_shows(hotel, book) -> None:
    changed = openpyxl.load_workbook(book)
    changed.defined_names["undersides_due"].attr_text = "Summary!$C$9"
    changed.save(book.with_name("names.xlsx"))

    found = check_book(hotel.path, rules(), book.with_name("names.xlsx"))

    assert [(one.cell, one.book) for one in found.differences if one.why == "name"] == [
        ("undersides_due", "Summary!$C$9")
    ]


def test_files_that_are_no_book_are_refused_in_words(hotel, book, tmp_path) -> None:
    plain = tmp_path / "plain.xlsx"
    openpyxl.Workbook().save(plain)
    text = tmp_path / "text.xlsx"
    text.write_text("no workbook")
    for path, code in ((plain, "no_claims_in_book"), (text, "not_a_book")):
        with pytest.raises(Refusal) as refused:
            check_book(hotel.path, rules(), path)
        assert refused.value.code == code


def test_a_book_with_a_far_off_cell_is_refused_before_it_fills_the_memory(book, tmp_path) -> None:
    far = tmp_path / "far.xlsx"
    with zipfile.ZipFile(book) as whole, zipfile.ZipFile(far, "w") as changed:
        for part in whole.infolist():
            xml = whole.read(part)
            if part.filename == "xl/worksheets/sheet3.xml":
                row = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
                xml = xml.replace(b"</sheetData>", row)
            changed.writestr(part, xml)
    with pytest.raises(Refusal) as refused:
        read_book(far)
    assert refused.value.code == "table_too_many_columns"


# --- why beds were late, and bookings read in later ---------------------------------------------


@pytest.fixture
def late(hotel, clock) -> None:
    """Every bed due by 29 March and never looked at; no booking is known."""
    choose_cycle(hotel, Scope.HOUSE, "", 20)
    clock.moment += timedelta(days=30)


def read_in_one_long_stay(hotel, clock) -> None:
    """Bookings that say now: the same guests had every room all of March."""
    clock.moment += timedelta(days=1)
    first, last = date(2026, 3, 1), date(2026, 4, 30)
    rooms = sorted(hotel.house.rooms)
    stays = [Stay(f"b{room}", room, "", first, last, StayStatus.LEFT) for room in rooms]
    hotel.record_stays(stays, StaysImported("more.csv", "0" * 64, first, len(stays), 0))


def test_the_reasons_of_a_closed_month_stay_whatever_bookings_come(hotel, clock, late, tmp_path):
    close_month(hotel, "2026-03")
    write_book(hotel.path, rules(), "2026-03", tmp_path / "then.xlsx", hotel.now())
    read_in_one_long_stay(hotel, clock)

    found = check_book(hotel.path, rules(), tmp_path / "then.xlsx")

    assert found.agrees
    assert len(found.reasons) > 3
    assert {one.rests_on for one in found.reasons} == {RestsOn.KEPT}
    assert all(one.agrees for one in found.reasons)
    told = month_figures(hotel.path, rules(), "2026-03", hotel.now())
    assert {row.why[0].why for row in told.rows.due if row.why} == {WhyLate.NOT_PLANNED}


def test_the_reasons_of_an_open_month_are_told_line_by_line_as_not_settled(
    hotel, clock, late, tmp_path
) -> None:
    write_book(hotel.path, rules(), "2026-03", tmp_path / "then.xlsx", hotel.now())
    read_in_one_long_stay(hotel, clock)

    found = check_book(hotel.path, rules(), tmp_path / "then.xlsx")

    assert found.count == 0
    assert {one.rests_on for one in found.reasons} == {RestsOn.LATER_BOOKINGS}
    assert not any(one.agrees for one in found.reasons)
    assert all("same guests" in one.record for one in found.reasons)
    assert all("not planned" in one.book for one in found.reasons)


def test_a_kept_reason_altered_in_the_book_is_told_by_its_line(hotel, clock, late, tmp_path):
    close_month(hotel, "2026-03")
    path = tmp_path / "then.xlsx"
    write_book(hotel.path, rules(), "2026-03", path, hotel.now())
    changed = openpyxl.load_workbook(path)
    sheet = changed["Due and done"]
    cells = (cell for row in sheet.iter_rows() for cell in row if " day" in str(cell.value))
    next(cell for cell in cells if "not planned" in str(cell.value)).value = "room in quarantine"
    changed.save(path)

    found = check_book(hotel.path, rules(), path)

    assert not found.agrees
    assert [one.book for one in found.reasons if not one.agrees] == ["room in quarantine"]
