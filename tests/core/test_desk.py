"""Front desk's list: what not to sell, whom it touches, what was let all the same."""

from __future__ import annotations

from dataclasses import fields, replace

from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.desk import (
    Block,
    Condition,
    DeskList,
    Touched,
    TouchedArrival,
    desk_list,
)
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, day, house, moment

ONE = CaseNo("2026-001")
ROOM = RoomNo("102")


def hotel(rooms=8, **more) -> Build:
    built = house()
    for number in range(101, 101 + rooms):
        built.room(str(number), room_type="double", **more).bed("A")
    return built


def see(built: Build, room="102", at=None, sign=Sign.LIVE_INSECT) -> Build:
    at_hand = built.house
    sighted = Sighted(CaseNo(""), RoomNo(room), "", "", sign, 1, "anna", at or moment(0))
    near = neighbours(at_hand, lay_out(at_hand))
    return built.record(*answer_sighting(at_hand, near, sighted).facts)


def judge(built: Build, outcome: Outcome, number=0) -> Build:
    return built.record(CaseJudged(ONE, outcome, "Dr. Vey", "entomologist", day(number)))


def treat(built: Build, number: int) -> Build:
    return built.record(
        TreatmentRecorded(ONE, ROOM, day(number), "heat", "firm", "L-1", moment(number, 18))
    )


def lift(built: Build, number: int) -> Build:
    return built.record(QuarantineLifted(ROOM, ONE, moment(number), "mara", False, "sold out"))


def stay(room: str, arrives: int, leaves: int, status=StayStatus.BOOKED, **more) -> Stay:
    booking = more.pop("booking", f"{room}-{arrives}")
    return Stay(booking, room, "double", day(arrives), day(leaves), status)


def book(built: Build, *stays: Stay) -> Build:
    built.house = built.house.with_stays((*built.house.stays, *stays))
    return built


def listed(built: Build, number: int, hour: int = 12) -> DeskList:
    return desk_list(built.house, occupancy(built.house, day(number)), moment(number, hour))


# --- blocks -----------------------------------------------------------------------------------


def test_a_room_is_blocked_from_the_moment_of_the_sign():
    (block,) = listed(see(hotel(), at=moment(0, 10)), 0).blocks
    assert block == Block(ROOM, moment(0, 10), None, Condition.UNTIL_RELEASED)
    assert listed(see(hotel(), at=moment(0, 10)), 0, hour=9).blocks == ()


# "Until" is the earliest possible day, recomputed, with the condition that fixes it
# (common practice, no source).
def test_until_when_is_recomputed_from_the_condition_that_fixes_it():
    built = judge(see(hotel()), Outcome.CONFIRMED)
    found = [listed(built, 0).blocks[0]]
    treat(built.on(1), 1)
    found.append(listed(built, 1).blocks[0])
    found.append(listed(built, 2).blocks[0])
    built._room = ROOM
    for number in (2, 9, 16, 23):
        built.on(number).checked("A", day(number), kind=CheckKind.CLEARANCE)
    found.append(listed(built, 23).blocks[0])
    assert [(block.condition, block.earliest_until) for block in found] == [
        (Condition.WORK_TO_BE_DONE, day(22)),
        (Condition.WORK_GOING_ON, day(23)),
        (Condition.TO_BE_LOOKED_AT, day(23)),
        (Condition.READY_FOR_RELEASE, day(23)),
    ]


def test_a_room_held_by_two_cases_is_blocked_once_until_the_slower_one():
    built = judge(see(hotel()), Outcome.UNDETERMINED)
    two = CaseNo("2026-002")
    built.on(1).record(
        Sighted(two, ROOM, "", "", Sign.EGGS, 0, "boris", moment(1)),
        QuarantinePlaced(ROOM, two, moment(1), "sighting"),
    )
    (block,) = listed(built, 1).blocks
    assert (block.from_at, block.earliest_until) == (moment(0), None)
    built.record(CaseJudged(two, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(1)))
    (block,) = listed(built, 1).blocks
    assert block.earliest_until == day(23)
    assert block.condition is Condition.WORK_TO_BE_DONE
    built.record(QuarantineLifted(ROOM, two, moment(1, 11), "mara", False, "moved to the other"))
    (block,) = listed(built, 1).blocks
    assert block.earliest_until == day(2 + 7)
    assert block.condition is Condition.TO_BE_LOOKED_AT


def test_a_quarantine_whose_sighting_was_corrected_is_still_blocked():
    built = hotel().record(QuarantinePlaced(ROOM, ONE, moment(0), "sighting"))
    (block,) = listed(built, 0).blocks
    assert block == Block(ROOM, moment(0), None, Condition.UNTIL_RELEASED)


def test_a_lifted_room_is_no_longer_blocked():
    built = lift(see(hotel()), 1)
    assert listed(built, 1).blocks == ()


def test_nothing_on_the_list_tells_of_a_case():
    for kind in (Block, TouchedArrival):
        assert not {field.name for field in fields(kind)} & {"case", "cases", "reason", "sign"}
    words = " ".join(Condition)
    assert not any(word in words for word in ("bug", "insect", "treat", "sight", "quarantine"))


# --- guests -----------------------------------------------------------------------------------


def test_guests_in_house_come_first_then_arrivals_by_day():
    built = see(hotel())
    book(
        built,
        stay("102", 9, 11),
        stay("102", 1, 4),
        stay("102", -2, 1, StayStatus.IN_HOUSE),
        stay("102", 4, 6, StayStatus.CANCELLED),
        stay("102", -4, -2, StayStatus.LEFT),
    )
    rows = listed(built, 0).arrivals
    assert [(row.touched, row.from_on) for row in rows] == [
        (Touched.IN_HOUSE, day(0)),
        (Touched.ARRIVING, day(1)),
        (Touched.ARRIVING, day(9)),
    ]
    assert {row.room for row in rows} == {"102"}
    assert not any(row.is_provisional for row in rows)


def test_a_guest_who_leaves_today_is_not_moved():
    built = book(see(hotel()), stay("102", -2, 0, StayStatus.IN_HOUSE))
    assert listed(built, 0).arrivals == ()


def test_arrivals_after_the_earliest_day_of_release_are_not_touched():
    built = judge(see(hotel()), Outcome.CONFIRMED)
    book(built, stay("102", 21, 23), stay("102", 23, 24))
    assert [row.stay.arrives_on for row in listed(built, 0).arrivals] == [day(21)]


def test_an_arrival_today_is_touched_though_the_room_could_be_given_back():
    built = judge(see(hotel()), Outcome.NOT_BED_BUG)
    book(built, stay("102", 0, 2), stay("102", 2, 3))
    assert [row.stay.arrives_on for row in listed(built, 0).arrivals] == [day(0)]


# A new room not next to, above or below the first (traveller and lodging advice, read
# second-hand), outside every ring.
def test_a_guest_is_moved_only_to_free_rooms_of_the_type_that_no_case_wants_looked_at():
    built = see(hotel())
    built.room("120", room_type="single").bed("A")
    book(built, stay("102", -1, 3, StayStatus.IN_HOUSE), stay("104", 2, 5), stay("105", 3, 5))
    (row,) = listed(built, 0).arrivals
    assert row.candidates == ("105", "106", "107")


def test_a_room_that_was_asked_for_and_looked_at_is_still_no_candidate():
    built = see(hotel(rooms=3))
    book(built, stay("102", 0, 2))
    for room in ("101", "103"):
        built._room = RoomNo(room)
        built.checked("A", day(0), kind=CheckKind.ASKED)
    assert listed(built, 0).arrivals[0].candidates == ()


def test_nobody_is_moved_to_the_other_key_of_a_blocked_suite():
    built = hotel()
    built.room("201", suite="Linden", room_type="double").bed("A")
    built.room("202", suite="Linden", room_type="double").bed("A")
    see(built, "201")
    book(built, stay("201", 0, 2))
    struck = QuarantineLifted(RoomNo("202"), ONE, moment(0), "mara", False, "stands empty")
    built.record(struck)
    candidates = listed(built, 0).arrivals[0].candidates
    assert candidates
    assert "202" not in candidates


def test_a_booking_without_a_room_is_foreseen_elsewhere_while_the_block_holds():
    built = see(hotel(rooms=4))
    book(built, replace(stay("", 0, 2, booking="free"), room=""))
    assert listed(built, 0).arrivals == ()


SPANS = st.lists(
    st.tuples(st.integers(101, 108), st.integers(-3, 20), st.integers(1, 6)), max_size=9
)


@settings(max_examples=80, deadline=None)
@given(SPANS, st.lists(st.sampled_from(["102", "105", "107"]), min_size=1, max_size=3))
def test_no_candidate_is_blocked_taken_or_asked_for(spans, rooms):
    built = hotel()
    for room in dict.fromkeys(rooms):
        see(built, room)
    book(
        built, *(stay(str(no), on, on + n, booking=f"b{i}") for i, (no, on, n) in enumerate(spans))
    )
    asked = {
        fact.room for rows in built.house.asked.values() for fact in (row.fact for row in rows)
    }
    desk = listed(built, 0)
    touched = {row.stay for row in desk.arrivals}
    for row in desk.arrivals:
        assert len(row.candidates) <= 3
        for room in row.candidates:
            assert room not in asked | {block.room for block in desk.blocks}
            taken = [s for s in built.house.stays if s.room == room]
            nights = {day(n) for n in range(40) if row.from_on <= day(n) < row.stay.leaves_on}
            assert not any(s.arrives_on <= night < s.leaves_on for s in taken for night in nights)
    for booked in built.house.stays:
        if booked.room in rooms and booked.leaves_on > day(0):
            assert booked in touched


# --- let against a block ----------------------------------------------------------------------


# Trade check case: room let while blocked: one row in "lets against block".
def test_a_room_let_while_blocked_is_one_row():
    built = see(hotel())
    book(built, stay("102", 1, 4, StayStatus.IN_HOUSE), stay("103", 1, 4, StayStatus.IN_HOUSE))
    (row,) = listed(built, 3).lets_against
    assert (row.room, row.first_night, row.nights) == ("102", day(1), 2)
    assert row.was_let_blocked
    assert (row.from_at, row.until_at) == (moment(0), None)


def test_a_guest_who_checked_in_today_into_a_blocked_room_is_shown_at_once():
    built = book(see(hotel()), stay("102", 1, 4, StayStatus.IN_HOUSE))
    assert [row.first_night for row in listed(built, 1, hour=16).lets_against] == [day(1)]


def test_a_guest_in_house_who_stayed_on_is_told_apart():
    built = book(see(hotel()), stay("102", -2, 3, StayStatus.IN_HOUSE))
    assert listed(built, 0).lets_against == ()
    (row,) = listed(built, 2).lets_against
    assert (row.first_night, row.nights, row.was_let_blocked) == (day(0), 2, False)


def test_a_let_stays_on_record_after_the_block_has_ended():
    built = book(lift(see(hotel()), 2), stay("102", 1, 4, StayStatus.LEFT))
    (row,) = listed(built, 30).lets_against
    assert (row.nights, row.until_at) == (1, moment(2))


def test_lets_before_and_after_a_block_and_bookings_to_come_are_no_rows():
    built = lift(see(hotel(), at=moment(0, 10)), 2)
    book(
        built,
        stay("102", -3, 0, StayStatus.LEFT),
        stay("102", 2, 4, StayStatus.LEFT),
        stay("102", 1, 2, StayStatus.NO_SHOW, booking="none"),
    )
    assert listed(built, 20).lets_against == ()
    built = book(see(hotel()), stay("102", 1, 4))
    assert listed(built, 1).lets_against == ()


def test_two_quarantines_of_one_room_make_one_row_a_booking():
    built = lift(see(hotel()), 2)
    see(built.on(2), at=moment(2, 10))
    book(built, stay("102", 0, 5, StayStatus.IN_HOUSE))
    (row,) = listed(built, 5).lets_against
    assert row.nights == 5
