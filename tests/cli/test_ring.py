"""A case's ring, carts and guests who moved, by command."""

from __future__ import annotations

from datetime import timedelta

import pytest

PAIR = ("--who", "Ana", "--who", "Bogdan")


@pytest.fixture
def found(hotel):
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    return hotel


def rows(told):
    """The ring's table by room: the words after its label."""
    lines = [line.split(maxsplit=2) for line in told.splitlines()[1:-1]]
    return {line[1]: line[2] for line in lines}


def test_a_ring_is_listed_by_what_is_next_with_its_reasons_and_whether_it_grows(found):
    told = found("ring", found.file, "2026-001")
    listed = rows(told)
    assert list(listed) == ["102", "101", "103"]
    assert "shares a wall with 102" in listed["101"]
    assert "To be looked at" in listed["101"]
    assert told.splitlines()[-1].startswith("The ring goes on: 2 rooms")
    assert "no case 2026-009" in found("ring", found.file, "2026-009", exit_code=1)


def test_a_find_in_a_room_of_the_ring_makes_it_grow(found):
    found.now += timedelta(hours=2)
    found("record", found.file, "103", *PAIR, "--found", "A:base_underside:live_insect")
    told = found("ring", found.file, "2026-001")
    assert "shares a wall with 103" in rows(told)["104"]
    assert "Sign found" in rows(told)["103"]


def test_a_ring_all_looked_at_says_that_it_has_stopped(found):
    for room in ("101", "103"):
        found("record", found.file, room, *PAIR, "--kind", "asked")
    told = found("ring", found.file, "2026-001").splitlines()[-1]
    assert told.startswith("The ring has stopped growing: 2 rooms")
    assert "no proof" in told


def test_guests_who_moved_out_take_the_ring_with_them(found):
    found("guest-moved", found.file, "102", "104", "--case", "2026-001", "--by", "mara")
    assert "had the same guests as 102" in rows(found("ring", found.file, "2026-001"))["104"]
    assert "no room 999" in found("guest-moved", found.file, "102", "999", exit_code=1)
    wrong = ("guest-moved", found.file, "102", "104", "--booking", "b7")
    assert "no booking b7" in found(*wrong, exit_code=1)


def test_a_cart_ties_its_rooms_once_they_are_asked_for(found):
    assert "No cart is known yet." in found("cart", found.file)
    assert "102 and 104" in found("cart", found.file, "one", "102", "104", "--from", "2026-03-02")
    told = found("ring", found.file, "2026-001")
    assert "Not asked for yet" in rows(told)["104"]
    asked = rows(found("ring", found.file, "2026-001", "--ask"))["104"]
    assert "served by the same cart as 102" in asked
    assert "To be looked at" in asked
    assert "wants no room" in found("ring", found.file, "2026-001", "--ask", exit_code=1)
    assert "No cart is known yet." in found("cart", found.file, "one", "--no-longer")


def test_a_whole_floor_is_asked_for_where_the_ring_covers_most_of_it(found):
    # Three of the floor's four rooms: more than half.
    told = found("ring", found.file, "2026-001")
    assert "It covers 3 of the 4 rooms of floor 1" in told
    told = found("ring", found.file, "2026-001", "--whole-floor", "1")
    assert "on the floor of 102" in rows(told)["104"]
    again = ("ring", found.file, "2026-001", "--whole-floor", "1")
    assert "floor 1" in found(*again, exit_code=1)


def test_stays_of_the_rooms_with_a_sign_are_listed_by_number(found):
    # The look-back ships as 60 days: from 8 January on.
    bookings = found.table(
        "bookings.csv",
        "Booking,Room,Arrival,Departure,Status\n"
        "B1,102,2026-03-01,2026-03-04,left\nB2,102,2026-01-02,2026-01-07,left\n"
        "B3,103,2026-03-01,2026-03-04,left\n",
    )
    found("load", "bookings", found.file, bookings)
    told = found("ring", found.file, "2026-001", "--stays")
    assert "B1" in told
    assert "B2" not in told
    assert "B3" not in told
