"""Guests who changed rooms, carts and furniture: open cases ask for what these tie."""

from __future__ import annotations

from datetime import timedelta

import pytest

from hotelwatch.actions.calendar import move_furniture
from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.links import (
    ask_rooms,
    ask_whole_floor,
    record_guest_move,
    ring,
    serve_with_cart,
)
from hotelwatch.actions.roster import load_stays, preview_stays
from hotelwatch.core.case_facts import CheckAsked, GuestMoved, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.ring_rooms import RoomState
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.checks.looking import find, full_look
from hotelwatch.core.choice_facts import CartServes
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import FurnitureMoved

R101, R102, R103, R204 = map(RoomNo, ("101", "102", "103", "204"))


def log(hotel, room, sign=Sign.LIVE_INSECT):
    return log_sighting(
        hotel, Sighted(CaseNo(""), RoomNo(room), "", "", sign, 0, "ana", hotel.now())
    )


def move(hotel, from_room, to_room, **more):
    return GuestMoved(RoomNo(from_room), RoomNo(to_room), hotel.today(), "", "mara", **more)


def asked(hotel):
    return {state.asked.room: state.asked.reasons for state in open_asked(hotel.house)}


def test_guests_moved_because_of_a_case_take_their_room_onto_its_list(hotel):
    case = log(hotel, "102")
    assert "204" not in asked(hotel)
    record_guest_move(hotel, move(hotel, "102", "204", because_of=case))
    assert asked(hotel)["204"] == ("same_guests",)
    (wish,) = [f for f in hotel.house.all_of(CheckAsked) if f.room == "204"]
    assert (wish.case, wish.source) == (case, "102")


def test_moves_chosen_together_are_one_entry_and_written_once(hotel):
    log(hotel, "102")
    before = max(hotel.house.entries)
    moves = (move(hotel, "102", "204"), move(hotel, "101", "201"))
    record_guest_move(hotel, *moves)
    record_guest_move(hotel, *moves)
    assert max(hotel.house.entries) == before + 1
    assert "201" not in asked(hotel)  # nothing was seen in 101


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"to_room": "102"}, "same_room"),
        ({"to_room": "999"}, "unknown_room"),
        ({"by": " "}, "who_moved_missing"),
        ({"booking": "b1"}, "unknown_booking"),
        ({"because_of": "2026-009"}, "unknown_case"),
        ({"moved_on": 1}, "day_to_come"),
    ],
)
def test_what_can_not_be_true_of_a_move_is_refused(hotel, change, code):
    told = {
        "from_room": "102",
        "to_room": "204",
        "moved_on": 0,
        "booking": "",
        "by": "mara",
        "because_of": "",
        **change,
    }
    told["moved_on"] = hotel.today() + timedelta(days=told["moved_on"])
    before = max(hotel.house.entries)
    with pytest.raises(Refusal) as refused:
        record_guest_move(hotel, GuestMoved(**told))
    assert refused.value.code == code
    assert max(hotel.house.entries) == before


def test_furniture_carried_out_of_a_room_with_a_sign_takes_its_room_onto_the_list(hotel):
    log(hotel, "102")
    move_furniture(hotel, FurnitureMoved(R102, R204, hotel.today(), "armchair"))
    assert asked(hotel)["204"] == ("furniture",)


def test_a_carts_rooms_are_asked_for_with_the_sign_and_later_only_on_wish(hotel):
    case = log(hotel, "102")
    serve_with_cart(hotel, CartServes("blue", ("102", "204"), hotel.today()))
    assert "204" not in asked(hotel)
    ask_rooms(hotel, case)
    assert asked(hotel)["204"] == ("same_cart",)
    with pytest.raises(Refusal, match="nothing_to_ask"):
        ask_rooms(hotel, case)
    with pytest.raises(Refusal, match="floor_not_offered"):
        ask_whole_floor(hotel, case, "2")


def test_a_cart_needs_a_name_known_rooms_and_a_day_that_came(hotel):
    for cart, rooms, days, code in (
        (" ", ("102",), 0, "cart_needs_name"),
        ("blue", ("999",), 0, "unknown_room"),
        ("blue", ("102",), 1, "day_to_come"),
    ):
        with pytest.raises(Refusal, match=code):
            serve_with_cart(hotel, CartServes(cart, rooms, hotel.today() + timedelta(days=days)))


def bookings(hotel, tmp_path, *rows):
    path = tmp_path / "bookings.csv"
    text = "\n".join(("Booking,Room,Arrival,Departure,Status", *rows))
    path.write_text(text, "utf-8")
    load_stays(hotel, preview_stays(hotel.house, path, today=hotel.today()), keep_good=False)


def test_guests_who_changed_rooms_by_the_bookings_are_followed(hotel, clock, tmp_path):
    first, last = hotel.today(), hotel.today() + timedelta(days=4)
    bookings(hotel, tmp_path, f"b1,102,{first},{last},in house", f"b2,103,{first},{last},in house")
    log(hotel, "102")
    clock.moment += timedelta(days=1)
    bookings(hotel, tmp_path, f"b1,204,{first},{last},in house", f"b2,103,{first},{last},in house")
    (moved,) = hotel.house.all_of(GuestMoved)
    assert (moved.from_room, moved.to_room, moved.booking) == ("102", "204", "b1")
    assert asked(hotel)["204"] == ("same_guests",)
    entries = len(hotel.house.entries)
    bookings(hotel, tmp_path, f"b1,204,{first},{last},in house", f"b2,103,{first},{last},in house")
    assert len(hotel.house.entries) == entries + 1
    assert len(hotel.house.all_of(GuestMoved)) == 1


def test_a_room_changed_before_the_guest_came_is_no_move(hotel, tmp_path):
    first, last = hotel.today() + timedelta(days=1), hotel.today() + timedelta(days=4)
    bookings(hotel, tmp_path, f"b1,102,{first},{last},booked")
    bookings(hotel, tmp_path, f"b1,204,{first},{last},booked")
    assert hotel.house.all_of(GuestMoved) == ()


def test_a_find_recorded_in_an_asked_room_joins_and_taking_it_back_undoes_that_alone(hotel):
    case = log(hotel, "102")
    before = asked(hotel)
    look = full_look(
        hotel.house, "103", on=hotel.today(), by=("Ana", "Bogdan"), kind=CheckKind.ASKED
    )
    bed = hotel.house.beds_of(R103)[0].bed
    record_looks(hotel, [find(look, bed, "mattress_top", Sign.LIVE_INSECT)])
    grown = {row.room: row for row in ring(hotel, case).rooms}
    assert case_of(hotel.house, case).rooms == ("102", "103")
    assert grown["103"].state is RoomState.FOUND
    assert set(asked(hotel)) > set(before) - {"103"}
    take_back(hotel, max(hotel.house.entries), reason="It was lint")
    assert asked(hotel) == before
    assert case_of(hotel.house, case).rooms == ("102",)


def test_an_unknown_case_has_no_ring(hotel):
    for act in (ring, ask_rooms):
        with pytest.raises(Refusal, match="unknown_case"):
            act(hotel, CaseNo("2026-009"))
    with pytest.raises(Refusal, match="unknown_case"):
        ask_whole_floor(hotel, CaseNo("2026-009"), "1")


def test_a_room_left_out_is_asked_for_once_guests_go_there_and_not_for_less(hotel, clock, tmp_path):
    first, last = hotel.today(), hotel.today() + timedelta(days=4)
    rows = (f"b1,102,{first},{last},in house", f"b2,104,{first},{last},in house")
    bookings(hotel, tmp_path, *rows)
    sighted = Sighted(CaseNo(""), R102, "", "", Sign.LIVE_INSECT, 0, "ana", hotel.now())
    log_sighting(hotel, sighted, not_asked=frozenset({R103}))
    clock.moment += timedelta(hours=1)
    bookings(hotel, tmp_path, *rows)
    assert "103" not in asked(hotel)
    record_guest_move(hotel, move(hotel, "102", "103"))
    assert "same_guests" in asked(hotel)["103"]
