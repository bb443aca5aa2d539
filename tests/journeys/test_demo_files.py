"""The invented hotel's files: read without a blocking problem, and as its README tells."""

from __future__ import annotations

import csv
import random
from datetime import date, timedelta
from math import hypot

import pytest
from openpyxl import load_workbook

from hotelwatch import paths
from hotelwatch.actions.demo.bookings import draw_bookings, listed_on
from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.walking import Ways
from hotelwatch.core.facts import RoomDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import StayStatus
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.intake.roster_file import read_roster
from hotelwatch.intake.settings_files import read_stairs, read_teams, read_wings
from hotelwatch.intake.stays_file import read_stays
from tests.build import rules
from tests.core.by_shapely import GEOMETRIC, by_hotelwatch, by_shapely
from tests.core.hotels import with_facts

FILES = paths.demo_hotel()


@pytest.fixture(scope="module")
def reading():
    return read_roster(FILES / "roster.xlsx", rules())


@pytest.fixture(scope="module")
def hotel(reading):
    wings, teams = read_wings(FILES / "wings.csv"), read_teams(FILES / "teams.csv")
    stairs = read_stairs(FILES / "stairs.csv")
    return with_facts(House(shipped=rules()), *reading.facts, *wings, *teams, *stairs)


@pytest.fixture(scope="module")
def ways(hotel):
    return Ways(hotel, lay_out(hotel))


@pytest.fixture(scope="module")
def near(hotel):
    return {
        str(room): {str(other.room): set(other.kinds) for other in those}
        for room, those in neighbours(hotel, lay_out(hotel)).items()
    }


# --- the roster -------------------------------------------------------------------------


def test_the_messy_workbook_and_the_tidy_csv_say_the_same(reading):
    tidy = read_roster(FILES / "roster.csv", rules())
    assert tidy.facts == reading.facts
    assert len(tidy.facts) == 5 + 63 + 98


@pytest.mark.parametrize("name", ["roster.xlsx", "roster.csv"])
def test_nothing_keeps_a_row_out(name):
    problems = read_roster(FILES / name, rules()).problems
    assert [(p.code, p.values["room"], p.blocking) for p in problems] == [
        ("connecting_one_sided", "203", False)
    ]


def test_the_workbook_has_the_faults_of_real_ones():
    sheet = load_workbook(FILES / "roster.xlsx").active
    cells = [cell for row in sheet.iter_rows() for cell in row]
    assert {(cell.value, cell.number_format) for cell in cells} >= {(1, "0000"), (21, "0000")}
    assert any(isinstance(cell.value, str) and cell.value.endswith(" ") for cell in cells)
    assert {str(merged) for merged in sheet.merged_cells.ranges} >= {"A1:K1", "B4:E4"}
    assert any(not any(cell.value for cell in row) for row in sheet.iter_rows(min_row=6))


def test_every_kind_of_bed_stands_somewhere_open_and_encased(hotel):
    kinds = {bed.kind for bed in hotel.beds.values()}
    assert kinds == set(rules().bed_kinds)
    for kind in ("box_spring", "platform"):
        assert {bed.encased for bed in hotel.beds.values() if bed.kind == kind} == {True, False}
    assert [bed.kind for bed in hotel.beds_of(RoomNo("0021"))] == ["bunk"] * 4


def test_a_floor_number_is_skipped_and_labels_keep_their_zeros(hotel, near):
    assert list(hotel.floors) == ["G", "1", "2", "3", "5"]
    assert hotel.rooms[RoomNo("0001")].floor == "G"
    assert near["301"]["501"] == {Kind.ABOVE}
    assert near["101"]["0001"] == {Kind.BELOW}


# --- the story, as its README tells it ------------------------------------------------------


def test_the_lift_parts_105_and_109(near):
    assert "109" not in near["105"]
    assert near["109"].keys() == {"110", "111", "209"}


def test_the_linen_store_parts_124_and_126(near):
    assert "126" not in near["124"]
    assert Kind.BELOW not in set().union(*near["225"].values())
    assert Kind.ABOVE not in set().union(*near["0025"].values())


@pytest.mark.parametrize("floor", "1235")
def test_a_room_lies_across_the_end_of_the_lake_wing(near, floor):
    walls = {room for room, kinds in near[f"{floor}11"].items() if Kind.SHARES_WALL in kinds}
    assert walls == {f"{floor}09", f"{floor}10"}


@pytest.mark.parametrize("room", ["101", "121", "124"])
def test_the_first_room_of_a_corridor_has_one_side_neighbour(near, room):
    assert sum(Kind.SHARES_WALL in kinds for kinds in near[room].values()) == (room != "124")


def test_501_is_as_wide_as_two_rooms(near):
    assert near["501"] == {
        "301": {Kind.BELOW},
        "303": {Kind.BELOW},
        "502": {Kind.ACROSS},
        "504": {Kind.ACROSS},
        "505": {Kind.SHARES_WALL},
    }


def test_the_suite_has_two_keys(near):
    assert near["508"]["510"] == {Kind.SHARES_WALL, Kind.CONNECTS, Kind.SAME_SUITE}


@pytest.mark.parametrize(
    ("one", "other"), [("103", "105"), ("203", "205"), ("304", "306"), ("309", "311")]
)
def test_connecting_doors_lead_both_ways(near, one, other):
    assert Kind.CONNECTS in near[one][other]
    assert Kind.CONNECTS in near[other][one]


def test_the_lift_stands_where_its_bay_was_left_out(hotel, ways):
    assert hotel.stairs["Lift"].along_m == 14  # bays of 4 metres: 107 would be from 12 to 16
    ride = hotel.rules.figures.lift_ride_metres.value
    storey = hotel.rules.figures.stair_metres_per_storey.value
    assert ways.metres("108", "208") == min(ride, 14 + storey + 14)
    assert ways.metres("308", "508") == min(ride, 14 + storey + 14)
    assert ways.assumed == ()


def test_the_lobby_joins_both_wings(ways):
    lobby = hypot(8, 4)  # the Garden wing begins 8 metres west and 4 north of the Lake wing
    assert ways.metres("101", "121") == pytest.approx(2 + lobby + 2, abs=0.002)


def test_one_goes_round_by_both_stairs(ways):
    """From the far end of the Garden wing one comes down its own stair, not the lobby's."""
    storey = rules().figures.stair_metres_per_storey.value
    assert ways.metres("126", "226") == 2 + storey + 2
    assert ways.route(["121", "126", "226", "221"]) == ("121", "126", "226", "221")


def test_both_wings_have_a_place_and_stand_at_an_angle(hotel):
    assert hotel.wings.keys() == {room.wing for room in hotel.rooms.values()}
    assert hotel.wings["Garden"].bearing_deg - hotel.wings["Lake"].bearing_deg == 120


def test_the_neighbours_are_those_that_shapely_finds(hotel):
    ours = by_hotelwatch(hotel)
    assert set().union(*ours.values()) == GEOMETRIC
    assert ours == by_shapely(hotel)


def test_the_teams_work_every_day_of_the_week(hotel):
    days = [day for team in hotel.teams.values() for day in team.works_on]
    assert sorted(days) == sorted(("mon", "tue", "wed", "thu", "fri", "sat", "sun"))


# --- bookings -------------------------------------------------------------------------------


def test_the_example_bookings_are_read_without_a_problem(hotel):
    types = {room.room_type for room in hotel.rooms.values()}
    read = read_stays(FILES / "bookings.csv", rooms=hotel.rooms.keys(), room_types=types)
    assert read.problems == ()
    assert len(read.stays) == read.rows_read == 41
    assert {stay.status for stay in read.stays} == set(StayStatus)
    assert any(not stay.room for stay in read.stays)


def test_the_example_bookings_have_iso_days():
    with (FILES / "bookings.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            # ISO 8601 calendar dates, as datetime.date.fromisoformat takes them
            assert date.fromisoformat(row["Arrival"]) < date.fromisoformat(row["Departure"])


@pytest.mark.parametrize("start", range(3))
def test_made_up_bookings_fit_the_house(hotel, start):
    today = date(2026, 5, 4)
    drawn = draw_bookings(
        tuple(hotel.rooms.values()),
        first=today - timedelta(days=60),
        last=today + timedelta(days=60),
        rng=random.Random(start),
    )
    stays = listed_on(drawn, today)
    seen = occupancy(hotel.with_stays(stays), today)
    assert sum(not stay.room and stay.counts for stay in stays) > 20
    assert seen.unplaced == ()


# --- the README ------------------------------------------------------------------------------


def test_the_readme_explains_every_column():
    text = (FILES / "README.md").read_text("utf-8")
    for name in ("roster.csv", "bookings.csv"):
        with (FILES / name).open(encoding="utf-8", newline="") as file:
            for heading in next(csv.reader(file)):
                assert f"| {heading} |" in text
    for name in ("wings.csv", "stairs.csv", "teams.csv"):
        with (FILES / name).open(encoding="utf-8", newline="") as file:
            assert all(
                f"`{heading}`" in text or heading in text for heading in next(csv.reader(file))
            )


def test_the_readme_counts_rooms_and_beds_rightly(hotel, reading):
    text = (FILES / "README.md").read_text("utf-8")
    rooms = sum(isinstance(fact, RoomDescribed) for fact in reading.facts)
    assert f"{rooms} rooms and {len(hotel.beds)} beds" in text
