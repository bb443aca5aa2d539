from __future__ import annotations

import pytest

from hotelwatch.core.building.roster import compare
from hotelwatch.core.facts import BedDescribed, RoomDescribed
from hotelwatch.intake.room_columns import read_columns
from tests.build import house


@pytest.fixture
def inn():
    build = house()
    build.room("0101", room_type="Double").bed("A").bed("B")
    build.room("0102", room_type="Double", suite="Lake").bed("A", encased=True)
    build.room("0103", room_type="Twin")
    return build.house


@pytest.fixture
def read(inn, tmp_path):
    def reading(text, mapping=None):
        path = tmp_path / "pasted.tsv"
        path.write_text(text, "utf-8")
        return read_columns(path, inn, mapping)

    return reading


def told(reading, inn):
    changes = compare(inn, reading.reading.facts, leave=tuple(inn.rooms))
    return {change.room: change.what for change in changes}


def problems(reading):
    return [(one.row, str(one.code)) for one in reading.reading.problems]


def test_rooms_and_encasements_with_headings(read, inn):
    found = read("Room\tEncased\n0101\tyes\n0102\tno\n")
    assert found.reading.mapping == {"room": "Room", "encased": "Encased"}
    assert told(found, inn) == {
        "0101": ("bed_encased:0101/A", "bed_encased:0101/B"),
        "0102": ("bed_encased:0102/A",),
    }


def test_without_headings_columns_are_told_by_what_stands_in_them(read, inn):
    found = read("Suite king\t0102\tyes\nTwin\t0101\t1\n")
    assert found.reading.mapping == {"type": "A", "room": "B", "encased": "C"}
    assert told(found, inn) == {
        "0101": ("room_type", "bed_encased:0101/A"),
        "0102": ("room_type",),
    }


def test_one_known_heading_is_enough(read, inn):
    found = read("Room\tWhat it is now\n0101\tQueen\n", {"room": "Room", "type": "What it is now"})
    assert found.reading.heading_row == 1
    assert told(found, inn) == {"0101": ("room_type",)}


def test_rooms_not_named_and_cells_left_empty_stay_as_they_are(read, inn):
    found = read("Room\tType\tSuite\n0102\t\t-\n")
    (room,) = [fact for fact in found.reading.facts if isinstance(fact, RoomDescribed)]
    (bed,) = [fact for fact in found.reading.facts if isinstance(fact, BedDescribed)]
    assert (room.room_type, room.suite) == ("Double", "")
    assert bed == inn.beds["0102/A"]
    assert told(found, inn) == {"0102": ("suite",)}


def test_noughts_that_a_spreadsheet_dropped_are_found_again_and_said(read, inn):
    found = read("Room\tType\n101\tQueen\n")
    assert problems(found) == [(2, "room_read_as")]
    assert told(found, inn) == {"0101": ("room_type",)}


def test_problems_are_named_by_the_pasted_line(read, inn):
    found = read("Room\tEncased\n0101\tyes\n999\tyes\n\t\n0102\tperhaps\n0101\tno\n")
    assert problems(found) == [
        (3, "room_unknown"),
        (5, "encased_unclear"),
        (6, "room_twice"),
    ]
    assert (found.reading.rows_read, found.reading.rows_bad) == (4, 3)
    assert list(told(found, inn)) == ["0101"]


def test_a_column_of_rooms_alone_says_nothing(read):
    found = read("0101\n0102\n")
    assert problems(found) == [(0, "field_missing")]
    assert found.reading.facts == ()
