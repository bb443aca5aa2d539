"""A team's sheet."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.sheet import team_sheet, visit_minutes, walking_order
from hotelwatch.core.checks.slots import SlotState
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    CaseNo,
    RoomNo,
    RoundPublished,
    Side,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.core.stays.openings import OpeningKind, occupancy
from tests.build import day, house, moment

BLUE = TeamName("blue")


def slot(room, position, *beds, on=0, team="blue", asked_by=""):
    labels = tuple(f"{room}/{letter}" for letter in beds)
    return SlotPublished(day(on), TeamName(team), position, RoomNo(room), labels, 20, asked_by)


def sheet_of(built, on=0, team=BLUE):
    return team_sheet(built.house, occupancy(built.house, day(on)), on=day(on), team=team)


def a_house():
    built = house().team("blue").team("red")
    built.room("101").bed("A").bed("B", "platform", encased=True)
    return built.room("102").bed("A", "sofa_bed")


def test_a_sheet_has_its_teams_rooms_of_the_day_in_their_order():
    built = a_house().record(
        RoundPublished(day(0), day(1)),
        slot("102", 2, "A"),
        slot("101", 1, "A", "B"),
        slot("102", 1, "A", on=1),
    )
    sheet = sheet_of(built)
    assert [(room.room, room.position) for room in sheet.rooms] == [("101", 1), ("102", 2)]
    # Forty minutes of rooms, and eight to get to their corridor.
    assert (sheet.team.team, sheet.on, sheet.minutes) == ("blue", day(0), 48)
    assert not sheet_of(built, team=TeamName("red")).rooms
    assert [room.room for room in sheet_of(built, on=1).rooms] == ["102"]


def test_a_beds_places_stand_in_looking_order_as_it_is_built():
    built = a_house().record(RoundPublished(day(0), day(0)), slot("101", 1, "A", "B"))
    (room,) = sheet_of(built).rooms
    kinds = built.house.rules.bed_kinds
    assert [bed.bed for bed in room.beds] == ["101/A", "101/B"]
    assert room.beds[0].places == kinds["box_spring"].places
    assert room.beds[1].places == kinds["platform"].encased_places
    # Common practice, no source: what is seen first, what is hidden last on the bed.
    codes = [place.code for place in room.beds[0].places]
    assert codes.index("mattress_top") < codes.index("mattress_underside")
    assert codes.index("mattress_underside") < codes.index("base_underside")
    assert codes.index("base_underside") < codes.index("frame_joints")
    assert room.places == built.house.rules.room_places


def test_a_sheet_names_only_the_beds_that_are_wanted():
    built = a_house().record(RoundPublished(day(0), day(0)), slot("101", 1, "B"))
    assert [bed.bed for bed in sheet_of(built).rooms[0].beds] == ["101/B"]


def test_a_sheet_gives_the_hours_in_which_a_room_can_be_entered():
    built = a_house().stays(("101", -2, 0), ("102", -2, 2))
    built.record(RoundPublished(day(0), day(0)), slot("101", 1, "A"), slot("102", 2, "A"))
    departed, staying = sheet_of(built).rooms
    assert departed.opening.kind is OpeningKind.AFTER_DEPARTURE
    assert departed.opening.from_clock == "11:00"
    assert staying.opening is None


def test_an_asked_room_says_which_case_and_why():
    built = a_house()
    case = CaseNo("2026-001")
    built.record(
        Sighted(case, RoomNo("102"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(0)),
        CheckAsked(case, RoomNo("101"), ("shares_wall", "connects"), moment(1)),
        CheckAsked(CaseNo("2026-002"), RoomNo("101"), ("above",), moment(2)),
    )
    built.record(RoundPublished(day(0), day(0)), slot("101", 1, "A", asked_by=case))
    (room,) = sheet_of(built).rooms
    assert (room.asked_by, room.reasons) == (case, ("shares_wall", "connects"))
    assert room.neighbours_note == "102"


def test_a_routine_room_has_no_reason():
    built = a_house().record(RoundPublished(day(0), day(0)), slot("101", 1, "A"))
    (room,) = sheet_of(built).rooms
    assert (room.asked_by, room.reasons, room.neighbours_note) == ("", (), "")


def test_what_left_the_roster_leaves_the_sheet():
    built = a_house().record(RoundPublished(day(0), day(0)), slot("101", 1, "A", "B"))
    built.record(BedDescribed(BedNo("101/A"), RoomNo("101"), "box_spring", in_use=False))
    assert [bed.bed for bed in sheet_of(built).rooms[0].beds] == ["101/B"]


def test_what_was_looked_at_or_closed_that_day_is_passed_and_takes_no_minutes():
    # The team comes back for 103 alone: 20 minutes, and 8 to get to the corridor.
    built = house().team("blue")
    built.room("101").bed("A").bed("B").checked("A", day(0)).checked("B", day(0))
    built.room("102").bed("A").checked("A", day(0), seen=("mattress_top",))
    built.room("103").bed("A").bed("B").checked("A", day(0)).room("104").bed("A")
    built.record(
        RoundPublished(day(0), day(0)),
        slot("101", 1, "A", "B"),
        slot("102", 2, "A"),
        slot("103", 3, "A", "B"),
        slot("104", 4, "A"),
        QuarantinePlaced(RoomNo("101"), CaseNo("2026-001"), moment(0, 15), "sighting"),
        QuarantinePlaced(RoomNo("104"), CaseNo("2026-001"), moment(0, 15), "sighting"),
    )
    sheet = sheet_of(built)
    assert [(room.room, room.position) for room in sheet.rooms] == [("103", 3)]
    assert sheet.minutes == 28
    assert [(one.room, one.position, one.beds) for one in sheet.passed] == [
        ("101", 1, 2),
        ("102", 2, 1),
        ("104", 4, 1),
    ]
    assert [(one.state, one.is_closed) for one in sheet.passed] == [
        (SlotState.LOOKED_AT, True),
        (SlotState.WITH_GAPS, False),
        (SlotState.IN_QUARANTINE, True),
    ]


def test_a_room_that_its_own_case_closed_that_day_stays_to_be_looked_at():
    built = a_house()
    case = CaseNo("2026-001")
    built.record(
        RoundPublished(day(0), day(0)),
        slot("101", 1, "A", asked_by=case),
        QuarantinePlaced(RoomNo("101"), case, moment(0, 15), "sighting"),
    )
    sheet = sheet_of(built)
    assert ([room.room for room in sheet.rooms], sheet.passed) == (["101"], ())


def test_an_unknown_team_is_refused():
    with pytest.raises(Refusal, match="unknown_team"):
        sheet_of(a_house(), team=TeamName("green"))


def test_a_team_out_of_use_keeps_its_old_sheets():
    built = a_house().record(RoundPublished(day(0), day(0)), slot("101", 1, "A"))
    built.team("blue", in_use=False)
    assert len(sheet_of(built).rooms) == 1


def test_setting_up_a_room_is_counted_once():
    built = a_house()
    figures = built.house.rules.figures
    both = visit_minutes(built.house, built.house.beds_of(RoomNo("101")))
    assert both == figures.room_setup_minutes.value + 14 + 7


def test_the_way_goes_up_by_level_not_by_label():
    built = house().floors("L", "M", "2", "14")
    for floor in ("14", "2", "L", "M"):
        built.room(f"{floor}01", floor=floor)
    order = walking_order(built.house, built.house.rooms)
    assert order == ("L01", "M01", "201", "1401")


def test_the_way_goes_along_both_sides_and_ends_across_the_far_end():
    built = house()
    built.room("110", side=Side.END, order=1)
    for order in (1, 2, 3):
        built.room(f"10{order}", side=Side.LEFT, order=order)
        built.room(f"12{order}", side=Side.RIGHT, order=order)
    order = walking_order(built.house, built.house.rooms)
    assert order == ("101", "121", "102", "122", "103", "123", "110")


def test_the_way_begins_at_the_stair_that_is_nearest():
    built = house()
    for order in (1, 2, 3):
        built.room(f"10{order}", order=order)
    built.record(StairPlaced("back stair", "", 12.0))
    assert walking_order(built.house, built.house.rooms) == ("103", "102", "101")


def test_a_wing_is_finished_before_the_next_begins():
    built = house()
    for wing in ("west", "east"):
        for order in (1, 2):
            built.room(f"{wing[0]}{order}", wing=wing, order=order)
    assert walking_order(built.house, built.house.rooms) == ("e1", "e2", "w1", "w2")


@given(st.permutations(["101", "102", "103", "104"]), st.integers(0, 4))
def test_the_way_is_the_same_however_the_rooms_are_named(rooms, count):
    built = house()
    for number in range(4):
        built.room(f"{101 + number}")
    asked = rooms[:count]
    assert walking_order(built.house, [*asked, *asked]) == tuple(sorted(asked))
