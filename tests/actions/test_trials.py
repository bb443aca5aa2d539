"""Blind trials on a real file: what is written down, and what is refused and why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.actions.trials import TrialEnding, end_trial, hide_dummy, note_blind_pair
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CheckKind, RoomNo
from hotelwatch.core.odds.learning.trials import TrialState, trials
from hotelwatch.core.problems import Refusal
from hotelwatch.core.trial_facts import BlindPair, DummyFate, DummyHidden
from hotelwatch.wording.problems import refusal_sentence
from tests.build import rules

TODAY = date(2026, 3, 9)
HIDDEN = DummyHidden("D1", RoomNo("101"), "101/A", "base_underside", TODAY, "maria")
FOUND = TrialEnding("D1", TODAY, True, DummyFate.COLLECTED, ("Ana", " "))


def refused(call, *told):
    with pytest.raises(Refusal) as caught:
        call(*told)
    what, mend = refusal_sentence(caught.value)
    assert "…" not in what + mend
    return caught.value.code, what


def look(hotel, room="101"):
    return full_look(
        hotel.house, RoomNo(room), on=hotel.today(), by=("Ana", "Bo"), kind=CheckKind.DEEP
    )


def test_a_trial_from_hiding_to_end_survives_the_file(hotel, clock):
    hide_dummy(hotel, HIDDEN)
    record_looks(hotel, [look(hotel)])
    end_trial(hotel, FOUND)
    again = open_hotel(hotel.path, rules(), clock=clock, by="maria")
    for house in (hotel.house, again.house):
        (one,) = trials(house)
        assert one.state is TrialState.FOUND
        assert one.looked_by == ("Ana", "Bo")
        assert one.ended.looked_by == ("Ana",)
    again.close()


def test_hiding_is_refused_where_it_cant_be_true(hotel):
    def code(**changed):
        return refused(hide_dummy, hotel, replace(HIDDEN, **changed))

    assert code(dummy=" ")[0] == "dummy_needs_label"
    assert code(by="")[0] == "dummy_needs_hider"
    assert code(hidden_on=TODAY + timedelta(days=1))[0] == "day_to_come"
    assert code(room=RoomNo("999")) == ("unknown_room", "There is no room 999 in use.")
    assert code(bed="102/A") == ("unknown_bed", "There is no bed 102/A in room 101.")
    assert code(bed="101/Z")[0] == "unknown_bed"
    assert code(place="slats") == ("unknown_place", "101/A has no place “Slats”.")
    assert code(bed="")[0] == "unknown_place"
    assert trials(hotel.house) == ()


def test_a_label_in_use_is_refused_until_its_trial_has_ended(hotel):
    hide_dummy(hotel, HIDDEN)
    other = replace(HIDDEN, room=RoomNo("102"), bed="102/A")
    code, what = refused(hide_dummy, hotel, other)
    assert code == "dummy_still_hidden"
    assert "room 101" in what
    end_trial(hotel, FOUND)
    hide_dummy(hotel, other)
    assert [one.hidden.room for one in trials(hotel.house)] == ["102", "101"]


def test_an_end_is_refused_where_it_cant_be_true(hotel):
    assert refused(end_trial, hotel, FOUND)[0] == "unknown_dummy"
    hide_dummy(hotel, HIDDEN)
    early = replace(FOUND, ended_on=TODAY - timedelta(days=1))
    assert refused(end_trial, hotel, early)[0] == "trial_ends_before_hidden"
    late = replace(FOUND, ended_on=TODAY + timedelta(days=1))
    assert refused(end_trial, hotel, late)[0] == "day_to_come"
    code, what = refused(end_trial, hotel, replace(FOUND, fate=None))
    assert code == "dummy_not_collected"
    assert "101/A" in what
    assert "Underside of the box spring" in what
    assert trials(hotel.house)[0].state is TrialState.HIDDEN


def test_a_place_of_the_room_needs_no_bed(hotel):
    hide_dummy(hotel, replace(HIDDEN, bed="", place="luggage_rack"))
    record_looks(hotel, [look(hotel)])
    end_trial(hotel, replace(FOUND, was_found=False, fate=DummyFate.COLLECTED))
    (one,) = trials(hotel.house)
    assert one.state is TrialState.MISSED


def test_a_hiding_is_taken_back_with_its_reason(hotel):
    hide_dummy(hotel, HIDDEN)
    take_back(hotel, max(hotel.house.entries), reason="it was room 102")
    assert trials(hotel.house) == ()
    hide_dummy(hotel, replace(HIDDEN, room=RoomNo("102"), bed="102/A"))
    assert trials(hotel.house)[0].hidden.room == "102"


def test_two_blind_looks_are_two_people_near_in_time(hotel, clock):
    now = clock.moment
    pair = BlindPair(
        RoomNo("101"), "Ana", now - timedelta(hours=40), True, "Bo", now, second_found=False
    )

    def code(**changed):
        return refused(note_blind_pair, hotel, replace(pair, **changed))[0]

    assert code(room=RoomNo("999")) == "unknown_room"
    assert code(second_by=" ") == "blind_pair_needs_two"
    assert code(second_by="ana") == "named_twice"
    assert code(second_at=now + timedelta(minutes=1)) == "moment_to_come"
    assert code(first_at=now - timedelta(hours=49)) == "blind_looks_too_far_apart"
    assert hotel.house.all_of(BlindPair) == ()
    note_blind_pair(hotel, replace(pair, first_at=now - timedelta(hours=48)))
    note_blind_pair(hotel, pair)
    assert len(hotel.house.all_of(BlindPair)) == 2
