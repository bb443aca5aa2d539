"""Pins, forbidden days, agreed visits and asked nights, written down in a real file."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from hotelwatch.actions import by_hand
from hotelwatch.actions.undo import redo, undo
from hotelwatch.core.facts import StaysImported
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import (
    CheckPinned,
    DayForbidden,
    NightAnswered,
    NightAsked,
    TeamPinned,
    VisitArranged,
    VisitDeclined,
)
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.stays.agreed import arranged_visits, asked_nights, declined_visits
from hotelwatch.core.stays.openings import OpeningKind

TODAY = date(2026, 3, 9)


def on(number):
    return TODAY + timedelta(days=number)


def refused(code, function, hotel, told):
    before = max(hotel.house.entries)
    with pytest.raises(Refusal) as caught:
        function(hotel, told)
    assert caught.value.code == code
    assert max(hotel.house.entries) == before


def writes(hotel):
    return max(hotel.house.entries)


def test_a_pin_is_kept_moved_and_taken_away(hotel):
    by_hand.pin_check(hotel, CheckPinned("101", on(3), "Early"))
    known = writes(hotel)
    by_hand.pin_check(hotel, CheckPinned("101", on(3), "Early"))
    assert writes(hotel) == known
    by_hand.pin_check(hotel, CheckPinned("101", on(4)))
    assert Hand(hotel.house).pin("101", TODAY) == CheckPinned("101", on(4))
    by_hand.pin_check(hotel, CheckPinned("101", on(4), holds=False))
    assert Hand(hotel.house).pin("101", TODAY) is None
    refused("nothing_pinned", by_hand.pin_check, hotel, CheckPinned("101", on(4), holds=False))


def test_a_team_is_pinned_and_both_pins_are_dropped_at_once(hotel):
    by_hand.pin_team(hotel, TeamPinned("101", "Early"))
    by_hand.pin_check(hotel, CheckPinned("101", on(3)))
    hand = Hand(hotel.house)
    assert (hand.pinned_day("101", TODAY), hand.pinned_team("101", TODAY)) == (on(3), "Early")
    known = writes(hotel)
    by_hand.drop_pins(hotel, "101")
    assert writes(hotel) == known + 1
    hand = Hand(hotel.house)
    assert (hand.pinned_day("101", TODAY), hand.pinned_team("101", TODAY)) == (None, None)
    refused("nothing_pinned", by_hand.drop_pins, hotel, "101")
    refused("nothing_pinned", by_hand.pin_team, hotel, TeamPinned("101", "Early", holds=False))


def test_nonsense_about_pins_is_refused(hotel):
    refused("unknown_room", by_hand.pin_check, hotel, CheckPinned("999", on(1)))
    refused("unknown_team", by_hand.pin_check, hotel, CheckPinned("101", on(1), "Late"))
    refused("day_is_over", by_hand.pin_check, hotel, CheckPinned("101", on(-1)))
    refused("unknown_room", by_hand.pin_team, hotel, TeamPinned("999", "Early"))
    refused("unknown_team", by_hand.pin_team, hotel, TeamPinned("101", "Late"))


def test_sheets_are_swapped_whole_or_not_at_all(hotel):
    rooms = list(hotel.house.rooms)[:2]
    pins = [CheckPinned(room, on(2), "Early") for room in rooms]
    by_hand.swap_sheets(hotel, pins)
    known = writes(hotel)
    assert hotel.house.entries[known].action == "swap_sheets"
    assert [Hand(hotel.house).pin(room, TODAY) for room in rooms] == pins
    wrong = [CheckPinned(rooms[0], on(3)), CheckPinned("x", on(3))]
    refused("unknown_room", by_hand.swap_sheets, hotel, wrong)
    assert Hand(hotel.house).pin(rooms[0], TODAY) == pins[0]


def test_a_day_can_not_be_pinned_and_forbidden_at_once(hotel):
    by_hand.forbid_day(hotel, DayForbidden("101", on(2)))
    refused("day_is_forbidden", by_hand.pin_check, hotel, CheckPinned("101", on(2)))
    by_hand.forbid_day(hotel, DayForbidden("101", on(2), holds=False))
    by_hand.pin_check(hotel, CheckPinned("101", on(2)))
    refused("day_is_pinned", by_hand.forbid_day, hotel, DayForbidden("101", on(2)))
    refused("day_not_forbidden", by_hand.forbid_day, hotel, DayForbidden("101", on(2), False))
    refused("day_is_over", by_hand.forbid_day, hotel, DayForbidden("101", on(-1)))
    refused("unknown_room", by_hand.forbid_day, hotel, DayForbidden("999", on(1)))


def let(hotel, *stays):
    known = [Stay(f"b{n}", "101", "Double", on(a), on(b)) for n, (a, b) in enumerate(stays)]
    imported = StaysImported("b.csv", "", on(-20), len(known), 0)
    hotel.record_stays(known, imported)


def visit(day, hours=("10:00", "11:00"), who="maria", room="101", **more):
    return VisitArranged(room, on(day), *hours, who, **more)


def test_a_visit_is_arranged_opens_the_room_and_is_called_off(hotel):
    let(hotel, (-5, 30))
    assert hotel.occupancy().opening("101", on(3)) is None
    by_hand.arrange_visit(hotel, visit(3))
    assert hotel.occupancy().opening("101", on(3)).kind is OpeningKind.ARRANGED
    known = writes(hotel)
    by_hand.arrange_visit(hotel, visit(3))
    assert writes(hotel) == known
    by_hand.arrange_visit(hotel, visit(3, ("14:00", "15:00")))
    assert hotel.occupancy().opening("101", on(3)).from_clock == "14:00"
    by_hand.arrange_visit(hotel, visit(3, who="", holds=False))
    assert hotel.occupancy().opening("101", on(3)) is None
    refused("no_visit_arranged", by_hand.arrange_visit, hotel, visit(3, holds=False))


def test_nonsense_about_visits_is_refused(hotel):
    let(hotel, (-5, 3), (3, 30))
    refused("guest_yet_to_come", by_hand.arrange_visit, hotel, visit(5))
    refused("unknown_room", by_hand.arrange_visit, hotel, visit(2, room="999"))
    refused("day_is_over", by_hand.arrange_visit, hotel, visit(-1))
    # The clock stands at 7:30 UTC, which is 8:30 in Vienna.
    refused("hours_are_over", by_hand.arrange_visit, hotel, visit(0, ("07:00", "08:30")))
    refused("who_asked_missing", by_hand.arrange_visit, hotel, visit(2, who=" "))
    refused("clock_goes_back", by_hand.arrange_visit, hotel, visit(2, ("11:00", "11:00")))
    refused("unknown_clock_time", by_hand.arrange_visit, hotel, visit(2, ("soon", "11:00")))
    by_hand.arrange_visit(hotel, visit(0, ("08:00", "08:31")))
    assert hotel.occupancy().opening("101", on(0)).kind is OpeningKind.ARRANGED


def test_a_no_calls_off_what_the_same_guest_agreed_to(hotel):
    let(hotel, (-5, 30))
    by_hand.arrange_visit(hotel, visit(3))
    by_hand.decline_visit(hotel, VisitDeclined("101", on(0), "maria"))
    assert hotel.occupancy().opening("101", on(3)) is None
    assert arranged_visits(hotel.house) == {}
    assert [one.on for one in declined_visits(hotel.house)["101"]] == [on(0)]
    known = writes(hotel)
    by_hand.decline_visit(hotel, VisitDeclined("101", on(0), "maria"))
    assert writes(hotel) == known
    assert hotel.house.entries[known].action == "decline_visit"


def test_undoing_a_no_brings_the_look_back_that_it_called_off(hotel):
    let(hotel, (-5, 30))
    by_hand.arrange_visit(hotel, visit(3))
    by_hand.decline_visit(hotel, VisitDeclined("101", on(0), "maria"))
    undo(hotel)
    assert declined_visits(hotel.house) == {}
    assert hotel.occupancy().opening("101", on(3)).kind is OpeningKind.ARRANGED
    redo(hotel)
    assert hotel.occupancy().opening("101", on(3)) is None


def test_nonsense_about_a_no_is_refused(hotel):
    refused("unknown_room", by_hand.decline_visit, hotel, VisitDeclined("999", on(0), "maria"))
    refused("who_asked_missing", by_hand.decline_visit, hotel, VisitDeclined("101", on(0), " "))
    later = VisitDeclined("101", on(1), "maria")
    refused("asked_later_than_today", by_hand.decline_visit, hotel, later)


def night(number, reason="overdue", room="101", **more):
    return NightAsked(room, on(number), reason, **more)


def nights(hotel):
    return {(one.room, one.night): one.is_kept for one in asked_nights(hotel.house, TODAY)}


def test_nights_are_asked_answered_and_withdrawn(hotel):
    by_hand.ask_nights(hotel, [night(2), night(3, room="102")])
    assert nights(hotel) == {("101", on(2)): None, ("102", on(3)): None}
    by_hand.answer_night(hotel, NightAnswered("101", on(2), True, "desk"))
    known = writes(hotel)
    by_hand.answer_night(hotel, NightAnswered("101", on(2), True, "desk"))
    by_hand.ask_nights(hotel, [night(2)])
    assert writes(hotel) == known
    by_hand.answer_night(hotel, NightAnswered("102", on(3), False, "desk"))
    by_hand.ask_nights(hotel, [night(3, room="102")])
    assert nights(hotel) == {("101", on(2)): True, ("102", on(3)): None}
    no = NightAnswered("102", on(3), False, "desk", "a fair")
    by_hand.answer_night(hotel, no)
    known = writes(hotel)
    by_hand.answer_night(hotel, no)
    assert writes(hotel) == known
    assert {one.note for one in asked_nights(hotel.house, TODAY)} == {"", "a fair"}
    by_hand.ask_nights(hotel, [night(3, room="102", holds=False)])
    assert nights(hotel) == {("101", on(2)): True}


def test_nonsense_about_nights_is_refused(hotel):
    refused("unknown_room", by_hand.ask_nights, hotel, [night(2, room="999")])
    refused("day_is_over", by_hand.ask_nights, hotel, [night(-1)])
    refused("night_needs_reason", by_hand.ask_nights, hotel, [night(2, reason=" ")])
    refused("night_not_asked", by_hand.ask_nights, hotel, [night(2, holds=False)])
    answer = NightAnswered("101", on(2), True, "desk")
    refused("night_not_asked", by_hand.answer_night, hotel, answer)
    by_hand.ask_nights(hotel, [night(2)])
    refused(
        "who_answered_missing", by_hand.answer_night, hotel, NightAnswered("101", on(2), True, "")
    )
