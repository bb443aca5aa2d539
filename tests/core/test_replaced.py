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


def test_what_is_known_as_it_is_is_only_counted():
    over = [stay("b0", "100", 30, 35, StayStatus.LEFT), stay("b1", "101", 38, 40)]
    known = [*over, stay("b2", "102", 39, 43), stay("b3", "103", 41, 43), stay("b4", "", 44, 46)]
    left = replace(known[1], status=StayStatus.LEFT)
    moved, late = replace(known[4], room="104"), stay("b5", "101", 45, 46)
    found = replaced_by(known, [late, known[0], left, *known[2:4], moved], TODAY)
    assert found.changed == ((known[1], left), (known[4], moved))
    assert (found.added, found.gone, found.unchanged) == ((late,), (), 3)
    again = replaced_by([late, left, moved], [late, left, moved], TODAY)
    assert (again.changed, again.added, again.gone, again.unchanged) == ((), (), (), 3)


def test_a_stay_that_is_over_is_kept_beside_a_new_one_of_the_same_booking():
    known = [stay("b1", "101", 30, 35)]
    new = stay("b1", "102", 42, 44)
    found = replaced_by(known, [new], TODAY)
    assert (found.changed, found.added, found.gone) == ((), (new,), ())


def test_of_what_was_over_before_the_record_at_hand_nothing_is_said():
    old = stay("b1", "101", 10, 12, StayStatus.LEFT)
    assert replaced_by([], [old], TODAY, since=day(20)).added == ()
    assert replaced_by([], [old], TODAY, since=day(12)).added == (old,)


def test_a_booking_of_two_rooms_goes_by_the_room_that_the_list_no_longer_has():
    known = [stay("b1", "101", 41, 43), stay("b1", "102", 41, 43)]
    found = replaced_by(known, known[:1], TODAY)
    assert (found.known, len(found.gone)) == (2, 1)


def test_of_a_booking_of_two_rooms_the_one_that_stays_is_paired_with_itself():
    known = [stay("b1", "101", 1, 4), stay("b1", "102", 1, 4)]
    new = [stay("b1", "102", 1, 5), stay("b1", "103", 1, 4)]
    changed = replaced_by(known, new, day(0)).changed
    assert {(before.room, after.room) for before, after in changed} == {
        ("102", "102"),
        ("101", "103"),
    }
