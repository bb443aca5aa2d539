from __future__ import annotations

from dataclasses import replace

from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.facts import RoundPublished, StaysImported
from hotelwatch.core.guide import INVENTED, MY_HOTEL, next_step
from hotelwatch.wording.guide import STEPS, end_text, step_text
from tests.build import day, house


def codes(build, passed=()):
    step = next_step(MY_HOTEL, build.house, passed)
    return step.code if step else None


def test_each_step_ticks_itself_once_the_record_shows_it():
    build = house()
    assert codes(build) == "roster"
    build.room("101").bed("A")
    assert codes(build) == "bookings"
    build.record(StaysImported("b.csv", "0", day(0), 0, 0))
    assert codes(build) == "local_rules"
    build.record(ProfileChosen("general"))
    assert codes(build) == "team"
    build.team("Early")
    assert codes(build) == "round"
    build.record(RoundPublished(day(0), day(6)))
    assert codes(build) == "sheet"
    assert codes(build, {"sheet"}) == "first_check"
    build.checked("A", day(0))
    assert codes(build, {"sheet"}) is None


def test_a_step_may_be_left_out_and_one_taken_out_of_turn_counts():
    build = house().team("Early")
    assert codes(build, {"roster", "bookings", "local_rules"}) == "round"


def test_in_the_invented_hotel_only_what_came_since_counts():
    build = house().room("101").bed("A")
    last = max(build.house.entries)
    build.house = replace(
        build.house,
        entries={n: replace(e, action="record_check") for n, e in build.house.entries.items()},
    )
    seen = {"see_today", "see_house"}
    assert next_step(INVENTED, build.house, seen, since=last).code == "record_check"
    assert next_step(INVENTED, build.house, seen).code == "undo_it"


def test_every_step_is_said_with_its_number():
    for way in (MY_HOTEL, INVENTED):
        assert {step.code for step in way.steps} <= STEPS.keys()
        assert step_text(way, way.steps[2]).startswith("3 of 7: ")
        assert end_text(way)
