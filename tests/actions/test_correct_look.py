"""Correcting a look that was written down: what stays, what falls, what is refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import (
    SetGoing,
    correct_look,
    preview_finds,
    record_looks,
    set_going_by,
)
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.release import lift_quarantine
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.story import entries_to_take_back
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.checks.coverage import last_look
from hotelwatch.core.checks.looking import find, full_look, leave_out
from hotelwatch.core.checks.recorded import look_of_entry
from hotelwatch.core.days import add_hours, moment_of
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.problems import Refusal


def full(hotel, room):
    return full_look(hotel.house, room, on=hotel.today(), by=("Ana", "Bogdan"), kind=CheckKind.DEEP)


def last(hotel):
    return max(hotel.house.entries)


def first_bed(hotel, room):
    return hotel.house.beds_of(room)[0].bed


def with_find(hotel, room):
    return find(full(hotel, room), first_bed(hotel, room), "mattress_top", Sign.LIVE_INSECT)


def test_one_rooms_look_is_corrected_and_the_entrys_other_rooms_stay(hotel):
    record_looks(hotel, [full(hotel, "101"), full(hotel, "102")])
    entry = last(hotel)
    bed = first_bed(hotel, "101")
    gap = leave_out(full(hotel, "101"), bed, "base_underside", "no_time")
    correct_look(hotel, entry, gap, reason="They could not lift it")
    assert last_look(hotel.house, bed, hotel.today()) is None
    assert last_look(hotel.house, first_bed(hotel, "102"), hotel.today()) == hotel.today()
    assert look_of_entry(hotel.house, last(hotel), "101") == gap
    assert hotel.house.entries[last(hotel)].corrects == entry
    assert hotel.house.entries[last(hotel)].note == "They could not lift it"


def test_a_correction_needs_a_reason_and_writes_nothing_without(hotel):
    record_looks(hotel, [full(hotel, "101")])
    entry = last(hotel)
    with pytest.raises(Refusal, match="correction_needs_reason"):
        correct_look(hotel, entry, full(hotel, "101"), reason=" ")
    assert last(hotel) == entry


def test_an_entry_that_says_nothing_of_the_room_cannot_be_corrected_by_it(hotel):
    record_looks(hotel, [full(hotel, "101")])
    with pytest.raises(Refusal, match="entry_of_other_rooms"):
        correct_look(hotel, last(hotel), full(hotel, "102"), reason="wrong room")


def test_a_corrected_find_keeps_its_case_its_moment_and_its_quarantine(hotel):
    record_looks(hotel, [with_find(hotel, "101")])
    entry = last(hotel)
    before = set_going_by(hotel, entry)
    look = replace(look_of_entry(hotel.house, entry, "101"), noted="By the piping")
    foretold = preview_finds(hotel, look, corrects=entry)
    correct_look(hotel, entry, look, reason="Note forgotten")
    assert set_going_by(hotel, last(hotel)) == before == foretold
    assert before.quarantine == ("101",)
    assert hotel.house.quarantined(hotel.now()) == {"101"}
    assert list(hotel.house.sightings) == list(before.cases)


def test_a_find_taken_out_by_a_correction_takes_its_case_along(hotel):
    record_looks(hotel, [with_find(hotel, "101")])
    correct_look(hotel, last(hotel), full(hotel, "101"), reason="It was lint")
    assert hotel.house.sightings == {}
    assert hotel.house.quarantined(hotel.now()) == frozenset()


def test_a_find_added_by_a_correction_opens_a_case(hotel):
    record_looks(hotel, [full(hotel, "101")])
    correct_look(hotel, last(hotel), with_find(hotel, "101"), reason="Find forgotten")
    assert len(hotel.house.sightings) == 1
    assert hotel.house.quarantined(hotel.now()) == {"101"}


def test_a_find_in_another_room_of_the_entry_stands(hotel):
    record_looks(hotel, [full(hotel, "101"), with_find(hotel, "102")])
    before = set_going_by(hotel, last(hotel))
    correct_look(
        hotel, last(hotel), replace(full(hotel, "101"), noted="Lamp"), reason="Note forgotten"
    )
    assert set_going_by(hotel, last(hotel)) == before
    assert hotel.house.quarantined(hotel.now()) == {"102"}


def test_a_case_that_went_on_is_not_begun_again(hotel):
    record_looks(hotel, [with_find(hotel, "101")])
    entry = last(hotel)
    (case,) = hotel.house.sightings
    judge_case(
        hotel, CaseJudged(case, Outcome.CONFIRMED, "J. Marder", "entomologist", hotel.today())
    )
    with pytest.raises(Refusal) as told:
        correct_look(hotel, entry, full(hotel, "101"), reason="It was lint")
    assert (told.value.code, told.value.values["case"]) == ("case_moved_on", case)


def test_a_clean_look_sets_nothing_going_and_a_find_says_what_it_would(hotel):
    assert preview_finds(hotel, full(hotel, "101")) == SetGoing()
    told = preview_finds(hotel, with_find(hotel, "101"))
    assert hotel.house.sightings == {}
    record_looks(hotel, [with_find(hotel, "101")])
    assert set_going_by(hotel, last(hotel)) == told
    assert "101" in told.to_look_at
    assert told.by_at is not None


def test_a_find_is_not_of_a_moment_to_come(hotel):
    entry = last(hotel)
    look = replace(with_find(hotel, "101"), found_at=hotel.now().replace(year=2100))
    with pytest.raises(Refusal, match="moment_to_come"):
        record_looks(hotel, [look])
    assert last(hotel) == entry


def test_a_find_of_an_earlier_day_needs_its_moment_and_one_of_that_day(hotel, clock):
    clock.moment += timedelta(days=2)
    on = hotel.today() - timedelta(days=1)
    late = replace(with_find(hotel, "101"), checked_on=on)
    entry = last(hotel)
    for found_at, code in ((None, "moment_of_find_missing"), (clock(), "found_on_another_day")):
        with pytest.raises(Refusal, match=code):
            record_looks(hotel, [replace(late, found_at=found_at)])
    assert last(hotel) == entry
    found_at = moment_of(on, "10:40", hotel.zone)
    record_looks(hotel, [replace(late, found_at=found_at)])
    assert hotel.house.quarantines[0][0].from_at == found_at
    record_looks(hotel, [replace(full(hotel, "102"), checked_on=on)])


# --- taking back the first of several signs ----------------------------------------------------


def log(hotel, room, sign):
    return log_sighting(
        hotel, Sighted(CaseNo(""), RoomNo(room), "", "", sign, 0, "ana", hotel.now())
    )


def wishes(hotel):
    return {(state.asked.room, state.asked.by_at) for state in open_asked(hotel.house)}


def test_a_room_stays_closed_where_another_sign_stands(hotel, clock):
    case = log(hotel, "102", Sign.DARK_SPOTS)
    first = last(hotel)
    asked = {room for room, _ in wishes(hotel)}
    clock.moment += timedelta(hours=1)
    record_looks(hotel, [full(hotel, "103")])
    log(hotel, "102", Sign.LIVE_INSECT)
    seen_at = hotel.now()
    clock.moment += timedelta(hours=1)
    take_back(hotel, first, reason="It was said of room 202")
    assert hotel.house.quarantined(hotel.now()) == {"102"}
    # 103 was looked at, and so is not asked for again; the others count from the sign left.
    hours = hotel.house.rules.figures.neighbour_check_hours.value
    assert wishes(hotel) == {(no, add_hours(seen_at, hours)) for no in asked - {"103"}}
    assert case_of(hotel.house, case).evidence is Evidence.STRONG
    assert entries_to_take_back(hotel.house, case, now=hotel.now())[0].entry < last(hotel)


def test_a_room_given_back_is_not_closed_again_by_a_correction(hotel):
    case = log(hotel, "102", Sign.BITES_REPORTED)
    first = last(hotel)
    log(hotel, "102", Sign.DARK_SPOTS)
    lift_quarantine(hotel, RoomNo("102"), case, by="mara", reason="mattress replaced")
    take_back(hotel, first, reason="It was said of room 202")
    assert hotel.house.quarantined(hotel.now()) == frozenset()


def test_the_only_sign_taken_back_takes_everything_along(hotel):
    log(hotel, "102", Sign.BITES_REPORTED)
    take_back(hotel, last(hotel), reason="It was said of another hotel")
    assert hotel.house.quarantined(hotel.now()) == frozenset()
    assert wishes(hotel) == set()
    assert hotel.house.sightings == {}
