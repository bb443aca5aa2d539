"""Calendars, pulls, visits and nights in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.cases.keep_free import KeepFree
from hotelwatch.core.checks.coverage import FirstRound
from hotelwatch.core.checks.cycles import cycle_from
from hotelwatch.core.checks.slots import slot_rows
from hotelwatch.core.checks.sooner import PullReason, pulls
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import (
    CycleChosen,
    MonthClosed,
    RoomNo,
    Scope,
    SlotPublished,
    TeamDescribed,
)
from hotelwatch.core.round_facts import FurnitureMoved, SeasonNoted
from hotelwatch.core.rounds.calendar_rows import Chip
from hotelwatch.core.stays.agreed import AskedNight, PlannedSaving
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.papers.month_words import FACTS
from hotelwatch.wording import language, reasons, rounds
from hotelwatch.wording.asked import answer_text, sold_nights_sentence
from hotelwatch.wording.desk import night_saves_text
from hotelwatch.wording.plan_calendar import chip_sentences
from hotelwatch.wording.reasons import pull_sentence
from tests.build import day, house, moment


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def test_every_kind_of_fact_has_its_words_in_the_months_book():
    # A closing is never listed among what changed after it.
    assert {kind.__name__ for kind in FACT_KINDS} - {MonthClosed.__name__} == set(FACTS)


def test_a_first_round_says_how_its_dates_came_about():
    every = FirstRound(216, 216, day(1), day(91))
    assert rounds.first_round_sentence(every) == (
        "No bed was looked at yet. First due dates are spread over the cycle, from Tue 6 Jan to"
        " Mon 6 Apr, rooms with more beds not encased first (assumption: the greater risk)."
    )
    some = rounds.first_round_sentence(replace(every, beds=3))
    assert some.startswith("3 beds were not looked at yet. First due dates are spread")
    one = FirstRound(1, 216, day(1), day(1))
    assert rounds.first_round_sentence(one) == (
        "1 bed was not looked at yet. First due dates are spread over the cycle, here to Tue 6 Jan."
    )


def test_a_cycle_says_whose_choice_it_is_the_narrowest_one_first():
    built = house().room("101", room_type="Twin").bed("A")

    def said():
        told = cycle_from(built.house, RoomNo("101"))
        assert told.cycle_days == built.house.cycle_of(RoomNo("101"))
        return rounds.cycle_sentence(told)

    assert said() == "Due every 91 days: nobody chose (an assumption, nobody measured it)."
    for scope, which, days, words in (
        (Scope.HOUSE, "", 60, "Due every 60 days: chosen for the whole hotel."),
        (Scope.ROOM_TYPE, "Twin", 30, "Due every 30 days: chosen for rooms of type Twin."),
        (Scope.ROOM, "101", 14, "Due every 14 days: chosen for this room."),
    ):
        built.record(CycleChosen(scope, which, days))
        assert said() == words
    built.record(CycleChosen(Scope.ROOM, "101", 0))
    fair = SeasonNoted("Fair", day(0), day(9), 50)
    assert rounds.cycle_sentence(cycle_from(built.house, RoomNo("101")), [fair]) == (
        "Due every 30 days: chosen for rooms of type Twin. " + rounds.season_sentence(fair)
    )


def test_a_night_that_saves_nothing_says_so():
    night = KeepFree(RoomNo("101"), day(3), None, "", "", None, day(3), 0)
    assert night_saves_text(night) == (
        "no late day by itself: it can be entered on Thu 8 Jan anyhow; a day more helps if no team"
        " has minutes then"
    )
    assert night_saves_text(replace(night, next_open_on=None)) == "no late day"
    later = replace(night, next_open_on=day(6), overdue_bed_days=2)
    assert night_saves_text(later) == "2 late days: otherwise not before Sun 11 Jan"


def test_a_night_that_a_plan_asked_for_says_the_plan_s_number():
    night = KeepFree(RoomNo("101"), day(3), None, "", "", None, day(3), 2)
    alone = replace(night, planned=PlannedSaving(2, day(1), nights=1, together=2))
    assert night_saves_text(alone) == "2 late days, as planned on Tue 6 Jan"
    among = replace(night, planned=PlannedSaving(2, day(1), nights=4, together=8))
    assert night_saves_text(among) == (
        "2 late days, as planned on Tue 6 Jan; together the 4 nights asked for then save 8"
    )


def test_a_room_on_the_calendar_says_what_brought_its_day_forward():
    built = house().room("101").bed("A").room("102").bed("A").team("blue")
    built.record(FurnitureMoved("102", "101", day(0), "armchair"))
    slot = SlotPublished(day(1), "blue", 1, RoomNo("101"), ("101/A",), 20, "")
    seen = occupancy(built.house, day(0))
    (row,) = slot_rows(built.house, seen, [slot], now=moment(0, 12))
    said = chip_sentences(Chip(row, "1", "", True, False, False))
    assert said[2:4] == (
        "Moved between it and 102 on Mon 5 Jan: armchair.",
        "Due by Mon 12 Jan.",
    )


def test_every_reason_to_want_a_room_sooner_is_said_with_its_days():
    assert set(reasons.PULL) == set(PullReason)
    built = (
        house().room("101").bed("A").room("102").bed("A").stays(("101", -40, -38), ("101", 2, 3))
    )
    built.record(FurnitureMoved("102", "103", day(0), "armchair"))
    found = pulls(built.house, occupancy(built.house, day(0)), day(0))
    assert [pull_sentence(pull) for pull in found.values()] == [
        "Vacant since Fri 28 Nov; to be looked at before its guest of Wed 7 Jan comes.",
        "Moved between it and 103 on Mon 5 Jan: armchair.",
    ]


def test_a_room_that_is_vacant_only_from_a_day_to_come_is_not_said_to_be_so_since():
    # A guest until day 3, the next one on day 40: 37 nights.
    built = house().room("101").bed("A").stays(("101", -1, 3), ("101", 40, 41))
    found = {
        on: pulls(built.house, occupancy(built.house, day(on)), day(on))[RoomNo("101")]
        for on in (2, 3)
    }
    rest = "to be looked at before its guest of Sat 14 Feb comes."
    assert pull_sentence(found[2]) == f"Vacant from Thu 8 Jan; {rest}"
    assert pull_sentence(found[3]) == f"Vacant since Thu 8 Jan; {rest}"


def test_a_shift_is_said_as_far_as_it_is_known():
    team = TeamDescribed("blue", 2, 60)
    assert rounds.shift_text(team) == "at any hour"
    assert rounds.shift_text(replace(team, from_clock="08:00")) == "from 08:00"
    assert rounds.shift_text(replace(team, until_clock="16:00")) == "until 16:00"
    both = replace(team, from_clock="08:00", until_clock="16:00")
    assert rounds.shift_text(both) == "08:00 to 16:00"


def test_days_in_a_row_are_said_by_the_first_and_the_last():
    assert rounds.span_text(day(0), day(1)) == "Mon 5 Jan 2026 to Tue 6 Jan 2026"
    assert rounds.span_text(day(0), day(0)) == "Mon 5 Jan 2026"


def test_a_season_says_that_it_is_an_assumption():
    said = rounds.season_sentence(SeasonNoted("fair", day(0), day(1), 25))
    assert "counts as 1.25 days" in said
    assert "assumption" in said


@pytest.mark.parametrize("is_kept", [None, True, False])
def test_a_night_is_said_with_its_answer(is_kept):
    said = rounds.night_sentence(AskedNight("101", day(0), "overdue", is_kept, "Ina"))
    assert said.startswith("101, night of Mon 5 Jan 2026: overdue")
    assert ("Ina" in said) == (is_kept is not None)


def test_a_night_kept_free_and_sold_all_the_same_says_so():
    night = AskedNight("101", day(0), "overdue", True, "Ina", "fair", is_sold=True)
    assert rounds.night_sentence(night).endswith("kept free by Ina, but sold all the same: fair")
    assert answer_text(night) == "kept free, Ina, but sold all the same: fair"
    assert sold_nights_sentence([night, replace(night, room="102", night=day(1))]) == (
        "Kept free by front desk, but sold all the same: 101 on the night of Mon 5 Jan and 102 on"
        " the night of Tue 6 Jan. Speak with front desk; rounds can't count on it, so plan again."
    )
