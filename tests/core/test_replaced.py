"""Which bookings a new list makes forgotten."""

from __future__ import annotations

from dataclasses import replace

from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.stays.replaced import replaced_by
from tests.build import day

TODAY = day(40)


def stay(booking, room, arrives, leaves, status=StayStatus.BOOKED):
    return Stay(booking, room, "", day(arrives), day(leaves), status)


def test_of_three_known_a_list_of_one_makes_two_forgotten():
    known = [stay("b1", "101", 39, 42), stay("b2", "102", 41, 43), stay("b3", "", 45, 47)]
    found = replaced_by(known, [replace(known[1], room="104")], TODAY)
    assert (found.known, [one.booking for one in found.gone]) == (3, ["b1", "b3"])
    assert found.is_most


def test_what_is_over_or_takes_no_room_is_no_loss_and_half_is_not_most():
    known = [
        stay("b1", "101", 30, 40),
        stay("b2", "102", 41, 43, StayStatus.CANCELLED),
        stay("b3", "103", 41, 43),
        stay("b4", "104", 41, 43),
    ]
    found = replaced_by(known, [replace(known[2], status=StayStatus.CANCELLED)], TODAY)
    assert (found.known, [one.booking for one in found.gone]) == (2, ["b4"])
    assert not found.is_most


def test_a_booking_of_two_rooms_goes_by_the_room_that_the_list_no_longer_has():
    known = [stay("b1", "101", 41, 43), stay("b1", "102", 41, 43)]
    found = replaced_by(known, known[:1], TODAY)
    assert (found.known, len(found.gone)) == (2, 1)
