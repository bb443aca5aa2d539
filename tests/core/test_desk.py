"""Front desk's list: what not to sell, whom it touches, what was let all the same."""

from __future__ import annotations

from dataclasses import fields, replace

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
from hotelwatch.core.cases.blocks import Block, BlockKind, Condition
from hotelwatch.core.cases.desk import DeskList, desk_list
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.release import release_range
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.touched import Touched, TouchedArrival
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.profile import Releaser
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
    at_hand = built.house
    around = Around(neighbours(at_hand, lay_out(at_hand)), record_of(at_hand))
    now = moment(number, hour)
    return desk_list(at_hand, occupancy(at_hand, day(number)), now, around=around)


def blocks_of(built: Build, number: int, hour: int = 12, kind=BlockKind.CLOSED) -> list[Block]:
    found = [row.block for row in listed(built, number, hour).blocks]
    return [block for block in found if block.kind is kind]


# --- blocks -----------------------------------------------------------------------------------


def test_a_room_is_blocked_from_the_moment_of_the_sign():
    (block,) = blocks_of(see(hotel(), at=moment(0, 10)), 0)
    assert (block.room, block.from_at, block.earliest_until) == (ROOM, moment(0, 10), None)
    assert (block.condition, block.kind) == (Condition.UNTIL_RELEASED, BlockKind.CLOSED)
    assert blocks_of(see(hotel(), at=moment(0, 10)), 0, hour=9) == []


# "Until" is the earliest possible day, recomputed, with the condition that fixes it
# (common practice, no source). The days themselves: tests/core/test_release.py.
def test_until_when_is_recomputed_from_the_condition_that_fixes_it():
    built = judge(see(hotel()), Outcome.CONFIRMED)
    seen = []
    for number in (0, 1, 2):
        if number == 1:
            treat(built.on(1), 1)
        (block,) = blocks_of(built, number)
        told = release_range(built.house, ONE, ROOM, moment(number, 12))
        days = (block.earliest_until, block.expected_until, block.latest_until)
        assert days == (told.earliest, told.expected, told.latest)
        assert day(number) < block.earliest_until <= block.expected_until <= block.latest_until
        seen.append(block.condition)
    assert seen == [
        Condition.WORK_TO_BE_DONE,
        Condition.WORK_GOING_ON,
        Condition.TO_BE_LOOKED_AT,
    ]


def test_a_room_that_waits_for_nothing_is_ready_for_its_release():
    (block,) = blocks_of(judge(see(hotel()), Outcome.NOT_BED_BUG), 0)
    assert block.condition is Condition.READY_FOR_RELEASE
    assert (block.earliest_until, block.expected_until, block.review_on) == (day(0),) * 3


# The release of a confirmed room by the health officer: a state's rule, read in hosted
# copies (Alabama Adm. Code 420-3-11-.12(2)).
def test_who_may_release_follows_the_profile_once_it_is_confirmed():
    built = see(hotel().record(RuleChosen("release_by", "health_officer")))
    assert blocks_of(built, 0)[0].release_by is Releaser.HOTEL
    judge(built, Outcome.CONFIRMED)
    assert blocks_of(built, 0)[0].release_by is Releaser.HEALTH_OFFICER


# Inspect-then-sell: one of three settings between two published rules (close the rooms
# around; or inspect and serve if found), practice.
def test_rooms_around_a_sign_are_held_until_somebody_has_looked():
    built = see(hotel())
    held = blocks_of(built, 0, kind=BlockKind.HELD)
    assert [block.room for block in held] == ["101", "103"]
    assert {block.condition for block in held} == {Condition.TO_BE_LOOKED_AT}
    assert {(block.earliest_until, block.expected_until) for block in held} == {(day(0), day(1))}
    for room in ("101", "103"):
        built._room = RoomNo(room)
        built.on(0).checked("A", day(0), kind=CheckKind.ASKED)
    assert blocks_of(built, 0, kind=BlockKind.HELD) == []


def test_only_an_arrival_before_the_look_is_touched_by_a_held_room():
    built = book(
        see(hotel()),
        stay("103", -2, 4, StayStatus.IN_HOUSE),
        stay("101", 0, 2),
        stay("101", 5, 7),
    )
    assert [(row.room, row.stay.arrives_on) for row in listed(built, 0).arrivals] == [
        ("101", day(0))
    ]


def test_a_room_held_by_two_cases_is_blocked_once_until_the_slower_one():
    built = judge(see(hotel()), Outcome.UNDETERMINED)
    two = CaseNo("2026-002")
    built.on(1).record(
        Sighted(two, ROOM, "", "", Sign.EGGS, 0, "boris", moment(1)),
        QuarantinePlaced(ROOM, two, moment(1), "sighting"),
    )
    (block,) = blocks_of(built, 1)
    assert (block.from_at, block.earliest_until) == (moment(0), None)
    built.record(CaseJudged(two, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(1)))
    (block,) = blocks_of(built, 1)
    slower = release_range(built.house, two, ROOM, moment(1, 12))
    assert block.earliest_until == slower.earliest
    assert block.condition is Condition.WORK_TO_BE_DONE
    built.record(QuarantineLifted(ROOM, two, moment(1, 11), "mara", False, "moved to the other"))
    (block,) = blocks_of(built, 1)
    assert block.earliest_until == day(2 + 7)
    assert block.condition is Condition.TO_BE_LOOKED_AT


def test_a_quarantine_whose_sighting_was_corrected_is_still_blocked():
    built = hotel().record(QuarantinePlaced(ROOM, ONE, moment(0), "sighting"))
    (block,) = blocks_of(built, 0)
    assert (block.room, block.from_at, block.earliest_until) == (ROOM, moment(0), None)
    assert block.condition is Condition.UNTIL_RELEASED


def test_a_lifted_room_is_no_longer_blocked():
    built = lift(see(hotel()), 1)
    assert blocks_of(built, 1) == []


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


def test_arrivals_after_the_expected_day_of_release_are_not_touched():
    built = judge(see(hotel()), Outcome.CONFIRMED)
    (block,) = blocks_of(built, 0)
    last = (block.expected_until - day(0)).days
    book(built, stay("102", last - 1, last), stay("102", last, last + 1))
    assert [row.stay.arrives_on for row in listed(built, 0).arrivals] == [day(last - 1)]


def test_an_arrival_today_is_touched_though_the_room_could_be_given_back():
    built = judge(see(hotel()), Outcome.NOT_BED_BUG)
    book(built, stay("102", 0, 2), stay("102", 2, 3))
    assert [row.stay.arrives_on for row in listed(built, 0).arrivals] == [day(0)]


def test_a_booking_without_a_room_is_foreseen_elsewhere_while_the_block_holds():
    built = see(hotel(rooms=4))
    book(built, replace(stay("", 0, 2, booking="free"), room=""))
    assert listed(built, 0).arrivals == ()


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
