"""Front desk's actions: a guest moved, types ranked, and that files come out of it."""

from __future__ import annotations

from datetime import timedelta

import pytest

from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.desk import (
    front_desk,
    move_guest,
    rank_types,
    touched_guest,
    write_desk_calendar,
)
from hotelwatch.core.case_facts import CheckAsked, GuestMoved, Sighted, Sign
from hotelwatch.core.choice_facts import RoomTypesRanked
from hotelwatch.core.facts import CaseNo, RoomNo, StaysImported
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay, StayStatus


def see(hotel, room="102"):
    return log_sighting(
        hotel, Sighted(CaseNo(""), RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "ana", hotel.now())
    )


def book(hotel, *rows):
    today = hotel.today()
    stays = [
        Stay(booking, room, "Double", today + timedelta(a), today + timedelta(b), status)
        for booking, room, a, b, status in rows
    ]
    hotel.record_stays(stays, StaysImported("list.csv", "0" * 64, today, len(stays), 0))


def test_a_guest_in_house_is_moved_with_one_word_and_the_ring_follows(hotel):
    book(hotel, ("b1", "102", -1, 3, StayStatus.IN_HOUSE))
    case = see(hotel)
    row = touched_guest(front_desk(hotel), RoomNo("102"))
    assert row.move is not None
    to_room = row.move.room
    move_guest(hotel, row, to_room)
    moved = hotel.house.all_of(GuestMoved)[-1]
    assert (moved.from_room, moved.to_room, moved.booking) == ("102", to_room, "b1")
    assert (moved.because_of, moved.before_arrival) == (case, False)
    asked = {fact.room for fact in hotel.house.all_of(CheckAsked) if fact.case == case}
    assert to_room in asked
    again = touched_guest(front_desk(hotel), RoomNo("102"), "b1")
    assert again.move is not None
    assert again.move.is_agreed
    assert again.move.room == to_room


# Insects are carried by people and belongings: who never slept in the room carries none.
def test_a_room_changed_before_the_guests_came_ties_no_rooms(hotel):
    book(hotel, ("b1", "102", 1, 3, StayStatus.BOOKED))
    case = see(hotel)
    row = touched_guest(front_desk(hotel), RoomNo("102"))
    asked = {fact.room for fact in hotel.house.all_of(CheckAsked) if fact.case == case}
    move_guest(hotel, row, row.move.room)
    moved = hotel.house.all_of(GuestMoved)[-1]
    assert (moved.before_arrival, moved.moved_on) == (True, hotel.today())
    assert {fact.room for fact in hotel.house.all_of(CheckAsked) if fact.case == case} == asked


def test_nobody_is_moved_into_a_room_that_is_not_to_be_sold(hotel):
    book(hotel, ("b1", "102", 1, 3, StayStatus.BOOKED))
    see(hotel)
    row = touched_guest(front_desk(hotel), RoomNo("102"))
    for room, code in (("101", "room_is_blocked"), ("102", "room_is_blocked")):
        with pytest.raises(Refusal) as refused:
            move_guest(hotel, row, RoomNo(room))
        assert refused.value.code == code
    with pytest.raises(Refusal) as refused:
        touched_guest(front_desk(hotel), RoomNo("103"))
    assert refused.value.code == "nobody_to_move"


def test_types_are_ranked_once_and_only_those_that_there_are(hotel):
    kinds = sorted({room.room_type for room in hotel.house.rooms.values()})
    rank_types(hotel, kinds)
    assert hotel.house.all_of(RoomTypesRanked)[-1].types == tuple(kinds)
    last = max(hotel.house.entries)
    rank_types(hotel, kinds)
    assert max(hotel.house.entries) == last
    for wrong, code in ((["castle"], "unknown_room_type"), ([kinds[0]] * 2, "type_twice")):
        with pytest.raises(Refusal) as refused:
            rank_types(hotel, wrong)
        assert refused.value.code == code


def test_a_calendar_without_an_event_is_refused(hotel, tmp_path):
    for deadlines, code in ((False, "nothing_blocked"), (True, "nothing_due")):
        with pytest.raises(Refusal) as refused:
            write_desk_calendar(hotel, tmp_path / "a.ics", deadlines=deadlines)
        assert refused.value.code == code
    see(hotel)
    # The room of the sign, and those around it that wait for a look.
    count = len(front_desk(hotel).blocks)
    assert count > 1
    assert write_desk_calendar(hotel, tmp_path / "a.ics") == count
    assert write_desk_calendar(hotel, tmp_path / "b.ics", deadlines=True) > 1
