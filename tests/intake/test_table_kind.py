"""Which kind of table a file is taken for. What the files hold is invented."""

from __future__ import annotations

import openpyxl
import pytest

from hotelwatch import paths
from hotelwatch.core.problems import Refusal
from hotelwatch.intake.table_kind import TableKind, kinds_of, settings_kind
from tests.intake.files import csv_file, xlsx_file

ROSTER, BOOKINGS = TableKind.ROSTER, TableKind.BOOKINGS


@pytest.mark.parametrize(
    ("headings", "kinds"),
    [
        (("Room", "Floor", "Beds"), {ROSTER}),
        (("Door no", "Storey", "Wing"), {ROSTER}),
        (("Booking", "Room", "Arrival", "Departure"), {BOOKINGS}),
        (("From", "Nights", "Category"), {BOOKINGS}),
        (("Room", "Floor", "Arrival", "Departure"), {ROSTER, BOOKINGS}),
        (("Room", "Type"), set()),
        (("Arrival", "Room"), set()),
        (("Colour", "Weight"), set()),
    ],
)
@pytest.mark.parametrize("make", [csv_file, xlsx_file], ids=["csv", "xlsx"])
def test_headings_tell_the_kind(tmp_path, headings, kinds, make):
    name = "table.csv" if make is csv_file else "table.xlsx"
    path = make(tmp_path / name, [headings, ["1"] * len(headings)])
    assert kinds_of(path) == kinds


def test_headings_may_stand_below_a_title(tmp_path):
    rows = [["Our house"], [], ["Room", "Floor"], ["101", "1"]]
    assert kinds_of(xlsx_file(tmp_path / "titled.xlsx", rows)) == {ROSTER}


def test_a_workbook_with_a_sheet_of_each_may_be_either(tmp_path):
    book = openpyxl.Workbook()
    for row in (["Room", "Floor"], ["101", "1"]):
        book.active.append(row)
    other = book.create_sheet("Let")
    for row in (["Room", "Arrival", "Nights"], ["101", "2026-01-05", 2]):
        other.append(row)
    book.save(tmp_path / "both.xlsx")
    assert kinds_of(tmp_path / "both.xlsx") == {ROSTER, BOOKINGS}


def test_the_invented_hotels_files_are_known():
    folder = paths.demo_hotel()
    assert kinds_of(folder / "roster.xlsx") == {ROSTER}
    assert kinds_of(folder / "roster.csv") == {ROSTER}
    assert kinds_of(folder / "bookings.csv") == {BOOKINGS}


def test_a_file_that_is_no_table_is_refused(tmp_path):
    (tmp_path / "picture.xlsx").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
    with pytest.raises(Refusal):
        kinds_of(tmp_path / "picture.xlsx")


@pytest.mark.parametrize(
    ("headings", "kind"),
    [
        (("team", "people", "minutes", "works_on"), TableKind.TEAMS),
        (("Works on", "Minutes", "People", "Team", "Language"), TableKind.TEAMS),
        (("wing", "x_m", "y_m", "bearing_deg"), TableKind.WINGS),
        (("name", "wing", "along_m", "kind"), TableKind.STAIRS),
        (("Time", "Mattress core °C", "Air °C"), TableKind.PROBES),
        (("Time", "Mattress", "Air"), None),  # no unit is named
        (("Colour", "Weight"), None),
    ],
)
def test_headings_tell_small_tables_too(tmp_path, headings, kind):
    path = csv_file(tmp_path / "table.csv", [headings, ["1"] * len(headings)])
    assert settings_kind(path) is kind


@pytest.mark.parametrize("name", ["teams", "wings", "stairs"])
def test_the_invented_hotels_small_tables_are_known(name):
    path = paths.demo_hotel() / f"{name}.csv"
    assert kinds_of(path) == frozenset()
    assert settings_kind(path) is TableKind(name)
