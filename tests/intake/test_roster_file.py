from __future__ import annotations

from datetime import date

import openpyxl
import pytest

from hotelwatch.core.facts import BedDescribed, FloorPlaced, RoomDescribed, Side
from hotelwatch.core.problems import InputRefused
from hotelwatch.intake.roster_file import ROSTER_FIELDS, read_roster, take
from tests.build import rules
from tests.intake.files import csv_file, xlsx_file

HEADINGS = (
    "Room",
    "Floor",
    "Wing",
    "Side",
    "Order",
    "Type",
    "Beds",
    "Encased",
    "Connecting",
    "Suite",
    "Width",
)
GOOD = ("101", "1", "N", "left", "1", "Twin", "2 box spring", "no", "", "", "")


def row(**changes):
    """A good row but for these cells."""
    return tuple(changes.get(name.lower(), cell) for name, cell in zip(HEADINGS, GOOD, strict=True))


def reading(tmp_path, *rows, headings=HEADINGS, **more):
    return read_roster(csv_file(tmp_path / "r.csv", [headings, *rows]), rules(), **more)


def found(result, *, blocking=None):
    return [
        (p.row, p.column, p.code)
        for p in result.problems
        if blocking is None or p.blocking is blocking
    ]


def rooms(result):
    return {f.room: f for f in result.facts if isinstance(f, RoomDescribed)}


def beds(result):
    return {f.bed: (f.kind, f.encased) for f in result.facts if isinstance(f, BedDescribed)}


def floors(result):
    return [(f.floor, f.level) for f in result.facts if isinstance(f, FloorPlaced)]


# --- good rows --------------------------------------------------------------------------


def test_a_full_row_becomes_a_floor_a_room_and_its_beds(tmp_path):
    result = reading(
        tmp_path,
        row(encased="1", beds="2 box spring, 1 sofa bed", connecting="103", width="4,5 "),
        row(room="103", order="2", connecting="101", suite="Garden", side="Right"),
    )
    assert result.problems == ()
    assert result.facts == (
        FloorPlaced("1", 1),
        RoomDescribed("101", "1", "N", Side.LEFT, 1, "Twin", ("103",), "", 4.5),
        BedDescribed("101/A", "101", "box_spring", encased=True),
        BedDescribed("101/B", "101", "box_spring", encased=False),
        BedDescribed("101/C", "101", "sofa_bed", encased=False),
        RoomDescribed("103", "1", "N", Side.RIGHT, 2, "Twin", ("101",), "Garden", 0.0),
        BedDescribed("103/A", "103", "box_spring", encased=False),
        BedDescribed("103/B", "103", "box_spring", encased=False),
    )
    assert (result.rows_read, result.rows_bad, result.kept_out) == (2, 0, ())
    assert take(result, keep_good=False) == result.facts


def test_a_workbook_and_a_text_file_give_the_same_facts(tmp_path):
    table = [HEADINGS, row(), row(room="103", order="2")]
    book = read_roster(xlsx_file(tmp_path / "r.xlsx", table), rules())
    assert book.facts == reading(tmp_path, *table[1:]).facts


def test_room_labels_stay_text_with_their_zeros(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    for line in (["Room No.", "Floor", "Beds"], [101, 1, "1 box spring"], [102.0, 1, "1 crib"]):
        sheet.append(line)
    sheet["A2"].number_format = "0000"
    path = tmp_path / "zeros.xlsx"
    book.save(path)
    assert list(rooms(read_roster(path, rules()))) == ["0101", "102"]


def test_columns_are_found_in_any_order_and_under_other_names(tmp_path):
    result = reading(
        tmp_path,
        ("4.0", "N", "L", "yes", "platform", "2", "0101", "EG", "x"),
        headings=(
            "ROOM WIDTH (m)",
            "Building",
            "Side of the corridor",
            "Beds encased",
            "Kind of bed",
            "No. of beds",
            "Room\u00a0No.",
            "Storey",
            "Colour of the door",
        ),
    )
    assert result.mapping == {
        "width": "ROOM WIDTH (m)",
        "wing": "Building",
        "side": "Side of the corridor",
        "encased": "Beds encased",
        "bed_kind": "Kind of bed",
        "bed_count": "No. of beds",
        "room": "Room No.",
        "floor": "Storey",
    }
    assert set(result.mapping) <= set(ROSTER_FIELDS)
    assert beds(result) == {"0101/A": ("platform", True), "0101/B": ("platform", True)}
    assert rooms(result)["0101"].width_m == 4.0


def test_a_person_may_say_which_column_is_which(tmp_path):
    lines = [("Z", "S", "B"), ("7", "2", "bunk")]
    path = csv_file(tmp_path / "r.csv", lines)
    before = read_roster(path, rules())
    assert found(before) == [(0, "", "no_headings")]
    assert before.preview == (("Z", "S", "B"), ("7", "2", "bunk"))
    with pytest.raises(InputRefused):
        take(before, keep_good=True)
    mapping = {"room": "Room", "floor": "Etage"}
    result = reading(
        tmp_path, ("7", "bunk", "2"), headings=("Room", "Floor", "Etage"), mapping=mapping
    )
    assert rooms(result)["7"].floor == "2"
    assert result.mapping == mapping


def test_a_mapping_to_a_column_that_is_not_there_is_a_problem(tmp_path):
    result = reading(tmp_path, row(), mapping={"room": "Room", "floor": "Level of joy"})
    assert found(result) == [(1, "Level of joy", "heading_unknown")]
    assert result.facts == ()


def test_needed_columns_that_are_not_found_are_named_once(tmp_path):
    result = reading(tmp_path, ("1", "crib"), ("2", "crib"), headings=("Room", "Beds"))
    assert found(result) == [(1, "", "field_missing")]
    assert result.problems[0].values == {"field": "floor"}


def test_counts_may_stand_in_columns_headed_by_kinds_of_bed(tmp_path):
    result = reading(
        tmp_path,
        ("1", "1", "2", "", "x", "yes"),
        ("2", "1", "-", "1", "0", "no"),
        headings=("Room", "Floor", "Box springs", "Sofa bed", "Cot", "Encased"),
    )
    assert beds(result) == {
        "1/A": ("box_spring", True),
        "1/B": ("box_spring", True),
        "1/C": ("crib", False),
        "2/A": ("sofa_bed", False),
    }


def test_beds_that_cannot_be_encased_are_not_even_if_a_row_says_all_are(tmp_path):
    result = reading(tmp_path, row(beds="1 sofa bed, 1 divan", encased="yes"))
    assert beds(result) == {"101/A": ("sofa_bed", False), "101/B": ("divan", True)}


def test_suites_keep_their_names_and_yes_is_no_name(tmp_path):
    result = reading(
        tmp_path,
        row(suite="Garden"),
        row(room="103", order="2", suite="yes"),
        row(room="105", order="3", suite="no"),
        row(room="107", order="4", suite="1"),
    )
    assert [room.suite for room in rooms(result).values()] == ["Garden", "", "", "1"]
    assert found(result) == [(3, "Suite", "suite_without_name")]


def test_the_preview_shows_the_first_rows_under_their_headings(tmp_path):
    result = reading(tmp_path, *(row(room=str(n), order=str(n)) for n in range(1, 30)))
    assert result.headings == HEADINGS
    assert len(result.preview) == 8
    assert result.preview[2][:5] == ("3", "1", "N", "left", "3")
    assert result.rows_read == 29


# --- bad rows -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "column", "code", "values"),
    [
        ({"room": ""}, "Room", "room_missing", {}),
        ({"room": "4-Apr"}, "Room", "date_for_room", {"value": "4-Apr"}),
        ({"room": "16.04.2026"}, "Room", "date_for_room", {"value": "16.04.2026"}),
        ({"room": "2026-04-16"}, "Room", "date_for_room", {"value": "2026-04-16"}),
        ({"room": "1.2E+04"}, "Room", "room_as_power", {"value": "1.2E+04"}),
        ({"room": "101/102"}, "Room", "room_label_odd", {"value": "101/102"}),
        ({"room": "Total of all rooms on floor"}, "Room", "room_label_odd", {}),
        ({"floor": ""}, "Floor", "floor_missing", {"room": "101"}),
        ({"floor": "Moon deck"}, "Floor", "floor_order_unknown", {"floor": "Moon deck"}),
        ({"side": ""}, "Side", "side_unknown", {"value": ""}),
        ({"side": "north"}, "Side", "side_unknown", {"value": "north"}),
        ({"order": ""}, "Order", "order_missing", {"room": "101"}),
        ({"order": "0"}, "Order", "number_absurd", {"value": "0", "low": "1", "high": "400"}),
        ({"order": "-2"}, "Order", "number_absurd", {"value": "-2"}),
        ({"order": "2.5"}, "Order", "not_a_number", {"value": "2.5"}),
        ({"order": "third"}, "Order", "not_a_number", {"value": "third", "field": "order"}),
        ({"beds": "2 hammock"}, "Beds", "bed_kind_unknown", {"value": "2 hammock"}),
        ({"beds": "2 queen"}, "Beds", "bed_kind_not_said", {"value": "2 queen"}),
        ({"beds": "2"}, "Beds", "bed_kind_not_said", {"value": "2"}),
        ({"beds": "2 box spring 3"}, "Beds", "bed_count_unclear", {"value": "2 box spring 3"}),
        ({"beds": "500 crib"}, "Beds", "bed_count_unclear", {"value": "500"}),
        ({"encased": "some"}, "Encased", "encased_unclear", {"value": "some"}),
        ({"encased": "3"}, "Encased", "encased_too_many", {"value": "3", "beds": "2"}),
        ({"connecting": "999"}, "Connecting", "connecting_unknown", {"value": "999"}),
        ({"connecting": "yes"}, "Connecting", "connecting_unknown", {"value": "yes"}),
        ({"connecting": "101"}, "Connecting", "connecting_itself", {"room": "101"}),
        ({"width": "-4"}, "Width", "number_absurd", {"field": "width", "value": "-4"}),
        ({"width": "400"}, "Width", "number_absurd", {"value": "400"}),
        ({"width": "wide"}, "Width", "not_a_number", {"value": "wide"}),
    ],
)
def test_a_bad_row_is_named_with_its_row_column_and_code(tmp_path, changes, column, code, values):
    good = row(room="103", order="2")
    result = reading(tmp_path, good, row(**changes))
    assert found(result, blocking=True) == [(3, column, code)]
    assert values.items() <= result.problems[0].values.items()
    assert list(rooms(result)) == ["103"]
    assert result.rows_bad == 1
    with pytest.raises(InputRefused) as refused:
        take(result, keep_good=False)
    assert refused.value.problems == list(result.problems)
    assert take(result, keep_good=True) == result.facts


def test_every_problem_of_every_row_is_told_at_once(tmp_path):
    result = reading(
        tmp_path,
        row(floor="", side="up", beds="hammock"),
        row(room="", order="x", width="0.1"),
        row(room="105", order="7"),
    )
    assert sorted(found(result)) == [
        (2, "Beds", "bed_kind_unknown"),
        (2, "Floor", "floor_missing"),
        (2, "Side", "side_unknown"),
        (3, "Order", "not_a_number"),
        (3, "Room", "room_missing"),
        (3, "Width", "number_absurd"),
    ]
    assert result.kept_out == ("101",)


def test_dates_and_formulas_in_a_workbook_are_named_with_their_cell(tmp_path):
    table = [
        HEADINGS,
        row(room=date(2026, 4, 16)),
        row(room="103", order="=1+1"),
        row(room="105", order="3", floor=date(2026, 1, 1)),
        row(room="107", order="4"),
    ]
    result = read_roster(xlsx_file(tmp_path / "r.xlsx", table), rules())
    assert found(result) == [
        (2, "Room", "date_for_room"),
        (3, "Order", "formula_without_value"),
        (4, "Floor", "date_in_cell"),
        (4, "Floor", "floor_missing"),
    ]
    assert list(rooms(result)) == ["107"]


def test_a_room_without_beds_is_taken_and_told(tmp_path):
    result = reading(tmp_path, row(beds="-"))
    assert found(result, blocking=False) == [(2, "Beds", "no_beds")]
    assert list(rooms(result)) == ["101"]


# --- between rows -----------------------------------------------------------------------------


def test_two_different_rows_of_one_room_are_both_kept_out(tmp_path):
    result = reading(tmp_path, row(), row(room="103", order="2"), row(order="3"))
    assert found(result) == [(2, "Room", "room_twice"), (4, "Room", "room_twice")]
    assert [p.values["other_row"] for p in result.problems] == ["4", "2"]
    assert list(rooms(result)) == ["103"]
    assert result.kept_out == ("101",)


def test_a_row_repeated_word_for_word_is_taken_once(tmp_path):
    result = reading(tmp_path, row(), row())
    assert found(result, blocking=False) == [(3, "Room", "row_repeated")]
    assert list(rooms(result)) == ["101"]


def test_labels_that_differ_by_zeros_are_both_taken_and_told(tmp_path):
    result = reading(tmp_path, row(), row(room="0101", order="2"))
    assert found(result, blocking=False) == [(3, "Room", "rooms_alike")]
    assert result.problems[0].values == {"room": "0101", "other_room": "101", "other_row": "2"}
    assert list(rooms(result)) == ["101", "0101"]


def test_two_rooms_in_one_bay_are_both_kept_out(tmp_path):
    result = reading(
        tmp_path, row(), row(room="103"), row(room="105", side="right"), row(room="201", floor="2")
    )
    assert found(result) == [(2, "Order", "same_bay"), (3, "Order", "same_bay")]
    assert list(rooms(result)) == ["105", "201"]


def test_a_door_named_on_one_side_only_is_made_mutual(tmp_path):
    result = reading(tmp_path, row(connecting="103"), row(room="103", order="2"))
    assert found(result) == [(2, "Connecting", "connecting_one_sided")]
    assert {no: room.connects_to for no, room in rooms(result).items()} == {
        "101": ("103",),
        "103": ("101",),
    }


def test_a_connecting_room_that_lost_its_zeros_is_found_and_told(tmp_path):
    result = reading(
        tmp_path,
        row(room="0101", connecting="103 & 105"),
        row(room="0103", order="2", connecting="0101"),
        row(room="0105", order="3", connecting="0101"),
    )
    assert found(result) == [(2, "Connecting", "connecting_read_as")] * 2
    assert rooms(result)["0101"].connects_to == ("0103", "0105")


def test_a_door_to_a_room_kept_out_is_left_out_and_told(tmp_path):
    result = reading(
        tmp_path,
        row(connecting="103"),
        row(room="103", order="2", connecting="101", beds="hammock"),
    )
    assert found(result, blocking=False) == [(2, "Connecting", "connecting_kept_out")]
    assert rooms(result)["101"].connects_to == ()


# --- where rooms lie -----------------------------------------------------------------------------


def plain(tmp_path, *labels, **more):
    """A roster of rooms and floors only: "305@3" or, in wing N, "305@3|N"."""
    lines = []
    for label in labels:
        room, place = label.split("@")
        floor, _, wing = place.partition("|")
        lines.append((room, floor, wing, "1 box spring"))
    return reading(tmp_path, *lines, headings=("Room", "Floor", "Wing", "Beds"), **more)


def spots(result):
    return {no: (room.side.value, room.order) for no, room in rooms(result).items()}


def test_without_sides_odd_numbers_are_left_and_even_ones_right_and_that_is_told(tmp_path):
    # Common practice, no source: odd one side, even the other.
    labels = (f"{floor}{n:02}@{floor}" for floor in (2, 3, 4) for n in range(1, 13))
    result = plain(tmp_path, *labels)
    assert found(result) == [(0, "", "sides_assumed"), (0, "", "order_assumed")]
    assert not any(problem.blocking for problem in result.problems)
    assert spots(result)["303"] == ("left", 2)
    assert spots(result)["305"] == ("left", 3)
    assert spots(result)["306"] == ("right", 3)
    assert spots(result)["405"] == spots(result)["205"] == ("left", 3)


def test_a_corridor_with_odd_numbers_only_has_one_side(tmp_path):
    result = plain(tmp_path, "101@1|A", "103@1|A", "105@1|A", "102@1|B")
    assert spots(result) == {
        "101": ("left", 1),
        "103": ("left", 2),
        "105": ("left", 3),
        "102": ("left", 1),
    }
    assert result.problems[0].values == {"how": "one_side"}


def test_a_number_that_faces_none_and_stands_on_no_floor_leaves_no_bay(tmp_path):
    result = plain(tmp_path, "101@1", "102@1", "107@1", "108@1", "204@2", "202@2")
    # 103 and 104 are one bay since floor 2 has 204; 105 and 106 are nowhere.
    assert spots(result)["101"] == ("left", 1)
    assert spots(result)["107"] == ("left", 3)
    assert spots(result)["204"] == ("right", 2)


def test_sides_of_the_column_may_be_said_as_odd_and_even(tmp_path):
    result = reading(tmp_path, row(side="odd"), row(room="102", side="EVEN"))
    assert spots(result) == {"101": ("left", 1), "102": ("right", 1)}


def test_without_order_rooms_that_face_each_other_by_number_get_one_bay(tmp_path):
    lines = [("110", "left"), ("12A", "left"), ("111", "right"), ("9", "end"), ("117", "right")]
    headings = ("Room", "Side", "Floor")
    result = reading(tmp_path, *((*line, "1") for line in lines), headings=headings)
    assert spots(result) == {
        "110": ("left", 1),
        "12A": ("left", 2),
        "111": ("right", 2),
        "9": ("end", 1),
        "117": ("right", 3),
    }


def test_without_order_sides_counted_straight_along_are_each_put_in_order(tmp_path):
    # Practice, traps 2: other houses number along one side and back along the other.
    lines = [(str(301 + n), "left" if n < 5 else "right", "3") for n in range(10)]
    result = reading(tmp_path, *lines, headings=("Room", "Side", "Floor"))
    assert [order for _, order in spots(result).values()] == [1, 2, 3, 4, 5, 1, 2, 3, 4, 5]


def test_labels_without_digits_still_get_bays_of_their_own(tmp_path):
    result = plain(tmp_path, "Rose@1", "Lily@1", "1@1", "0101@1", "101@1")
    places = list(spots(result).values())
    assert len(set(places)) == len(places) == 5


# --- floors --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("labels", "levels"),
    [
        # Practice, traps 1: no 13; above 12 is 14, never number + 1.
        (["14", "12", "11"], [("11", 11), ("12", 12), ("14", 13)]),
        (["2", "1", "M", "G", "B"], [("B", -1), ("G", 0), ("M", 1), ("1", 2), ("2", 3)]),
        (["EG", "1. OG", "2. OG"], [("EG", 0), ("1. OG", 1), ("2. OG", 2)]),
        (["10", "9", "2"], [("2", 2), ("9", 3), ("10", 4)]),
        (["B2", "B1", "0", "PH"], [("B2", -2), ("B1", -1), ("0", 0), ("PH", 1)]),
        (["-1", "-2", "1"], [("-2", -1), ("-1", 0), ("1", 1)]),
        (
            ["3rd floor", "Ground floor", "Level 1"],
            [
                ("Ground floor", 0),
                ("Level 1", 1),
                ("3rd floor", 2),
            ],
        ),
        (["Basement", "Lobby", "Penthouse"], [("Basement", -1), ("Lobby", 0), ("Penthouse", 1)]),
    ],
)
def test_floors_are_put_from_bottom_to_top_by_their_labels(tmp_path, labels, levels):
    result = plain(tmp_path, *(f"R{n}@{label}" for n, label in enumerate(labels)))
    if "-1" not in labels:
        assert floors(result) == levels
    else:
        assert [floor for floor, _ in floors(result)] == ["-2", "-1", "1"]
    numbers = [level for _, level in floors(result)]
    assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))


def test_floors_of_the_house_keep_their_place_and_new_ones_go_between(tmp_path):
    known = {"Terrace": 5, "1": 6, "3": 7}
    same = plain(tmp_path, "a@Terrace", "b@3", floors=known)
    assert floors(same) == [("Terrace", 5), ("3", 7)]
    more = plain(tmp_path, "a@Terrace", "b@3", "c@2", "d@1", floors=known)
    assert floors(more) == [("Terrace", 5), ("1", 6), ("2", 7), ("3", 8)]


def test_levels_of_a_column_count_and_contradictions_are_named(tmp_path):
    headings = ("Room", "Floor", "Level", "Side", "Order")
    lines = [("1", "Moon", "4", "l", "1"), ("2", "Sun", "9", "l", "1"), ("3", "Moon", "", "l", "2")]
    result = reading(tmp_path, *lines, headings=headings)
    assert floors(result) == [("Moon", 4), ("Sun", 5)]
    lines += [("4", "Sun", "8", "l", "2"), ("5", "Star", "4", "l", "1"), ("6", "Sea", "", "l", "1")]
    worse = reading(tmp_path, *lines, headings=headings)
    assert found(worse, blocking=True)[-3:] == [
        (5, "Level", "level_conflict"),
        (6, "Level", "level_shared"),
        (7, "Level", "floor_order_unknown"),
    ]


def test_a_column_headed_level_alone_is_the_floor(tmp_path):
    result = reading(tmp_path, ("1", "2"), headings=("Room", "Level"))
    assert (result.mapping["floor"], floors(result)) == ("Level", [("2", 2)])
