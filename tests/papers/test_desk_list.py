from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import openpyxl
import python_calamine

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import QuarantinePlaced, Sighted, Sign
from hotelwatch.core.cases.desk import desk_list
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.facts import CaseNo, HotelDescribed, RoomNo
from hotelwatch.core.round_facts import NightAsked
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.papers.desk_list import write_desk_list
from tests.build import day, house, moment

CASE = CaseNo("2026-001")


def written(tmp_path: Path, paper: str = "A4") -> Path:
    built = house().record(HotelDescribed("House of tests", "Europe/Vienna", paper))
    for number in ("0101", "0102", "0103", "0104"):
        built.room(number).bed("A")
    built.on(5).record(
        Sighted(
            CASE, RoomNo("0102"), "", "", Sign.LIVE_INSECT, 1, "zelda", moment(5), "secret note"
        ),
        QuarantinePlaced(RoomNo("0102"), CASE, moment(5), "sighting"),
    )
    built.record(NightAsked(RoomNo("0101"), day(20), "2026-001: live insects next door"))
    built.stays(("0102", 3, 9), ("0101", 2, 20))
    desk = listed(built.house)
    path = tmp_path / "desk.xlsx"
    write_desk_list(path, desk, hotel=built.house.hotel, program="hotelwatch test")
    return path


def listed(known):
    around = Around(neighbours(known, lay_out(known)), record_of(known))
    return desk_list(known, occupancy(known, day(7)), moment(7), around=around)


def rows_of(path: Path, sheet: str) -> list[list]:
    rows = python_calamine.load_workbook(path).get_sheet_by_name(sheet).to_python()
    top = next(n for n, row in enumerate(rows) if "Room" in row)
    return [row for row in rows[top + 1 :] if any(row)]


def test_front_desk_is_told_which_rooms_not_to_sell_from_when(tmp_path: Path) -> None:
    rows = rows_of(written(tmp_path), "Not to sell")

    # 09:00 UTC on 10 January is 10:00 in Vienna (IANA Europe/Vienna).
    assert [row[:3] for row in rows] == [["0102", datetime(2026, 1, 10, 10), "until released"]]


def test_front_desk_is_told_which_guests_are_touched(tmp_path: Path) -> None:
    row = rows_of(written(tmp_path), "Guests touched")[0]

    assert row[:2] == ["Move the guest", "0102"]
    assert row[3:6] == [day(3), day(9), day(7)]
    # 0101 and 0103 lie next to it; nobody ever looked at 0104.
    assert row[6:8] == ["0104", "have it looked at first"]


def test_the_days_of_its_end_and_its_cost_stand_beside_a_room(tmp_path: Path) -> None:
    row = rows_of(written(tmp_path), "Not to sell")[0]

    # Blocked on day 5, before guests arrive; now is day 7, and a guest had it both nights
    # and is booked for two more. Until it was judged nobody can name the earliest day.
    assert row[2] == "until released"
    assert row[5:7] == ["Until given back", "Housekeeping"]
    assert row[8:] == [0, (row[3] - day(7)).days, 2]


def test_nights_let_all_the_same_are_listed(tmp_path: Path) -> None:
    row = rows_of(written(tmp_path), "Let all the same")[0]

    assert (row[0], row[2]) == ("0102", date(2026, 1, 10))
    assert row[4] == "guest in house stayed on"


def test_the_list_bears_its_moment_and_no_detail_of_a_case(tmp_path: Path) -> None:
    book = python_calamine.load_workbook(written(tmp_path))
    cells = [
        str(cell)
        for name in book.sheet_names
        for row in book.get_sheet_by_name(name).to_python()
        for cell in row
    ]
    said = " ".join(cells).lower()

    assert "as of mon 12 jan 2026, 10:00 cet" in said
    for word in ("bed bug", "bug", "insect", "sign", "quarantine", "case", CASE, "zelda", "secret"):
        assert word not in said


def test_the_list_prints_on_the_hotels_paper(tmp_path: Path) -> None:
    # ECMA-376 part 1, 18.3.1.63: paperSize 9 is A4, 1 is Letter.
    for paper, size in (("A4", "9"), ("Letter", "1")):
        for sheet in openpyxl.load_workbook(written(tmp_path, paper)).worksheets:
            assert str(sheet.page_setup.paperSize) == size


def test_a_booking_without_a_number_shows_no_reference_of_the_programs_own(tmp_path: Path) -> None:
    built = house().record(HotelDescribed("House of tests", "Europe/Vienna")).room("0102").bed("A")
    built.on(5).record(QuarantinePlaced(RoomNo("0102"), CASE, moment(5), "sighting"))
    built.stays(("0102", 3, 9))
    nameless = [replace(stay, booking="row-13eb59394ad7") for stay in built.house.stays]
    at_hand = built.house.with_stays(nameless)
    desk = listed(at_hand)
    path = tmp_path / "desk.xlsx"
    write_desk_list(path, desk, hotel=HotelDescribed("House of tests", "Europe/Vienna"), program="")
    for sheet in ("Guests touched", "Let all the same"):
        assert "without a number" in rows_of(path, sheet)[0]


def test_nights_asked_for_stand_with_cost_and_saving_but_no_reason(tmp_path: Path) -> None:
    path = written(tmp_path)
    row = rows_of(path, "Please keep free")[0]

    # 0101 is let until day 20; the night of day 20 was asked for. As booked it opens on
    # day 22 anyhow, two days later, and its one bed is not due by then.
    assert row[0] == "0101"
    assert row[1] == date(2026, 1, 25)
    assert row[2] == "1 room-night"
    assert row[4] == 0
    assert row[5] == "not answered yet"
    cells = [
        str(cell)
        for sheet in python_calamine.load_workbook(path).sheet_names
        for row in python_calamine.load_workbook(path).get_sheet_by_name(sheet).to_python()
        for cell in row
    ]
    assert not [cell for cell in cells if "live" in cell or "2026-001" in cell]
