"""What blocks cost in room nights, and which nights of a blocked room were let."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    GuestMoved,
    LetExplained,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.blocks import BlockKind, blocks
from hotelwatch.core.cases.costs import block_costs, total_cost
from hotelwatch.core.cases.lets import lets_against_blocks
from hotelwatch.core.facts import CaseNo, RoomNo, StaysImported, TeamDescribed, TeamName
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.stays.nights import first_night_after
from hotelwatch.core.stays.openings import occupancy
from tests.build import Build, day, house, moment

ONE = CaseNo("2026-001")
ROOM = RoomNo("102")
ONE_DAY = timedelta(days=1)
IN_HOUSE, LEFT = StayStatus.IN_HOUSE, StayStatus.LEFT


def blocked(at=None, *, typed_on=0, rooms=("102",), around=()) -> Build:
    built = house()
    for number in range(101, 108):
        built.room(str(number), room_type="double").bed("A")
    at = at or moment(0)
    built.on(typed_on)
    for number, room in enumerate(rooms, 1):
        case = CaseNo(f"2026-{number:03d}")
        built.record(
            Sighted(case, RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "anna", at),
            QuarantinePlaced(RoomNo(room), case, at, "sighting"),
            *(CheckAsked(case, RoomNo(near), ("wall",), at + ONE_DAY) for near in around),
        )
    return built


def lift(built: Build, number: int, hour=9) -> Build:
    return built.on(number).record(
        QuarantineLifted(ROOM, ONE, moment(number, hour), "mara", False, "sold out")
    )


def stay(room: str, arrives: int, leaves: int, status=StayStatus.BOOKED, booking="") -> Stay:
    return Stay(booking or f"{room}-{arrives}", room, "double", day(arrives), day(leaves), status)


def book(built: Build, *stays: Stay) -> Build:
    built.house = built.house.with_stays((*built.house.stays, *stays))
    return built


def lets(built: Build, number: int, hour=12):
    return lets_against_blocks(built.house, moment(number, hour))


def costs(built: Build, number: int, hour=12):
    at_hand, now = built.house, moment(number, hour)
    as_booked = occupancy(at_hand, day(number))
    return block_costs(at_hand, as_booked, blocks(at_hand, as_booked, now), now=now)


def told(built: Build, number: int, room: str) -> tuple[int, int | None, int]:
    """A room's nights lost, to come, and of these sold."""
    as_booked = occupancy(built.house, day(number))
    found = blocks(built.house, as_booked, moment(number, 12))
    (cost,) = (
        cost
        for block, cost in zip(found, costs(built, number), strict=True)
        if block.room == room and block.kind is BlockKind.HELD
    )
    return cost.lost, cost.expected, cost.sold


# --- what a night is ----------------------------------------------------------------------------


# Vienna is one hour ahead of UTC in January (IANA); guests arrive from 15:00, 14:00 UTC.
@pytest.mark.parametrize(("hour", "night"), [(9, 0), (14, 0), (15, 1), (22, 1)])
def test_a_night_belongs_to_what_held_at_the_hour_of_arrival(hour, night):
    built = house()
    assert first_night_after(built.house, moment(0, hour)) == day(night)


# --- costs --------------------------------------------------------------------------------------


def test_nights_are_lost_from_the_first_whose_guests_could_not_arrive():
    (cost,) = costs(blocked(moment(0, 9)), 3)
    assert (cost.lost, cost.let) == (3, 0)
    (late,) = costs(blocked(moment(0, 15)), 3)
    assert late.lost == 2
    (now,) = costs(blocked(moment(0, 9)), 0)
    assert now.lost == 0


def test_nights_to_come_run_from_tonight_to_the_day_it_is_expected_back():
    built = blocked().record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    book(built, stay("102", 1, 3), stay("102", 5, 6), stay("102", 4, 5, StayStatus.CANCELLED))
    (cost,) = costs(built, 0)
    (block,) = blocks(built.house, occupancy(built.house, day(0)), moment(0, 12))
    assert cost.expected == (block.expected_until - day(0)).days
    assert cost.at_most == (block.latest_until - day(0)).days
    assert cost.sold == 3


def test_a_night_that_somebody_slept_in_it_is_not_lost_but_let():
    built = book(blocked(), stay("102", 0, 2, LEFT), stay("102", 3, 4, LEFT))
    (cost,) = costs(built, 5)
    assert (cost.lost, cost.let, cost.sold) == (2, 3, 0)


# A room let twice on a day is one night (trade: night is not stay).
def test_two_stays_of_one_night_count_one_night():
    built = book(blocked(), stay("102", 1, 2, LEFT, "a"), stay("102", 1, 2, LEFT, "b"))
    (cost,) = costs(built, 3)
    assert (cost.lost, cost.let, cost.sold) == (2, 1, 0)


def test_nights_of_a_guest_who_was_moved_out_count_as_sold():
    built = book(blocked(), stay("106", -1, 3, IN_HOUSE, "b1"))
    built.record(GuestMoved(ROOM, RoomNo("106"), day(0), "b1", "ines", ONE))
    (cost,) = costs(built, 1)
    assert (cost.lost, cost.sold) == (1, 3)


# By hand: nights 0, 1 and 2 were held. 101's guest slept in it on all three; 103's on night 0,
# and one who came anew on night 2. Only 103's night 1 was lost, and nobody had been given it.
def test_a_night_that_a_known_guest_slept_in_a_held_room_is_never_lost():
    built = blocked(around=("101", "103"))
    book(built, stay("101", -2, 6, IN_HOUSE), stay("103", -1, 1, LEFT), stay("103", 2, 3, LEFT))
    assert told(built, 3, "101") == (0, 0, 0)
    assert told(built, 3, "103") == (1, 0, 0)


# By hand: the guest of 101 stays, until day 4, when it can be looked at. In 103 the guest
# leaves on day 1 and the look is due by day 1: tonight is slept in, none is lost.
def test_nights_to_come_of_a_guest_who_stays_in_a_held_room_are_not_lost():
    built = blocked(around=("101", "103"))
    book(built, stay("101", -2, 4, IN_HOUSE), stay("103", -1, 1, IN_HOUSE))
    assert told(built, 0, "101") == (0, 0, 0)
    assert told(built, 0, "103") == (0, 0, 0)
    # Nobody works before day 3, so 103 is kept empty for nights 1 and 2; the first was given.
    built.record(TeamDescribed(TeamName("One"), 2, 300, ("thu", "fri")))
    book(built, stay("103", 1, 2))
    assert told(built, 0, "103") == (0, 2, 1)


# By hand: told on day 1 to move out of the held room; the guest's bookings still say 101.
def test_nights_after_a_guest_moved_out_of_a_held_room_are_lost():
    built = blocked(around=("101",))
    book(built, stay("101", -2, 6, IN_HOUSE, "b1"))
    built.record(GuestMoved(RoomNo("101"), RoomNo("106"), day(1), "b1", "ines", ONE))
    lost, _, _ = told(built, 3, "101")
    assert lost == 2


def test_all_together_say_how_many_have_no_end_in_sight():
    built = blocked(rooms=("102", "106"))
    built.record(CaseJudged(ONE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(0)))
    found = costs(built, 2)
    total = total_cost(found)
    assert total.lost == 4
    assert total.rooms_unknown == sum(cost.expected is None for cost in found)


# --- lets ---------------------------------------------------------------------------------------


# Sold while the block is being typed: the earlier time counts, and the conflict is shown.
def test_a_let_before_the_block_was_written_down_is_told_apart():
    built = blocked(moment(0, 9), typed_on=2)
    book(built, stay("102", 0, 1, LEFT), stay("102", 2, 4, IN_HOUSE))
    first, second = lets(built, 3)
    assert (first.from_at, first.was_known) == (moment(0, 9), False)
    assert second.was_known


# A room let for the day only is a let without a night (trade: night is not stay).
def test_a_let_for_the_day_alone_is_a_row_without_a_night():
    built = book(blocked(), stay("102", 2, 2, LEFT), stay("102", 5, 5))
    (row,) = lets(built, 3)
    assert (row.first_night, row.nights) == (day(2), 0)
    assert lets(book(blocked(), stay("102", 0, 0, LEFT)), 1)


def test_a_guest_who_was_moved_out_is_no_let_from_that_day_on_unless_bookings_say_so():
    built = book(blocked(), stay("102", -2, 6, IN_HOUSE, "b1"))
    built.record(GuestMoved(ROOM, RoomNo("106"), day(1), "b1", "ines", ONE))
    (row,) = lets(built, 4)
    assert row.nights == 1
    built.record(StaysImported("list.csv", "0" * 64, day(3), 1, 0))
    (row,) = lets(built, 4)
    assert row.nights == 4


def test_an_explanation_stands_with_its_let_and_the_last_word_counts():
    built = book(blocked(), stay("102", 1, 2, LEFT, "b1"), stay("102", 3, 4, LEFT, "b2"))
    for note in ("first word", "sold by phone"):
        built.record(LetExplained(ROOM, "b1", day(1), note, "ines"))
    first, second = lets(built, 5)
    assert (first.explained, first.explained_by) == ("sold by phone", "ines")
    assert second.explained == ""


HOURS = st.tuples(st.integers(0, 6), st.integers(0, 23))


# The same counted night by night, with the hour of arrival asked each time.
@settings(max_examples=100, deadline=None)
@given(
    HOURS, st.one_of(st.none(), HOURS), st.lists(st.tuples(st.integers(-3, 8), st.integers(1, 4)))
)
def test_lets_are_those_that_a_night_by_night_count_finds(placed, lifted, stays):
    at = moment(*placed)
    built = blocked(at)
    until = None
    if lifted is not None and moment(*lifted) > at:
        until = moment(*lifted)
        built.record(QuarantineLifted(ROOM, ONE, until, "mara", False, "sold out"))
    rows = [stay("102", a, a + n, LEFT, f"b{i}") for i, (a, n) in enumerate(stays)]
    book(built, *rows)
    now = 9
    expected = {}
    for row in rows:
        for number in range(-5, now):
            arrive = moment(number, 14)
            slept = row.arrives_on <= day(number) < row.leaves_on
            if slept and at <= arrive and (until is None or until > arrive):
                expected[row.booking] = expected.get(row.booking, 0) + 1
    found = {row.stay.booking: row.nights for row in lets(built, now)}
    assert found == expected
    (block,) = blocks(built.house, occupancy(built.house, day(now)), moment(now)) or (None,)
    if block is not None:
        nights = [n for n in range(-5, now) if at <= moment(n, 14)]
        taken = [n for n in nights if any(r.arrives_on <= day(n) < r.leaves_on for r in rows)]
        (cost,) = costs(built, now, hour=0)
        assert (cost.lost, cost.let) == (len(nights) - len(taken), len(taken))
