from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.case_facts import CaseJudged, CheckAsked, Outcome, Sighted, Sign
from hotelwatch.core.checks.looking import checked_facts, find, finds, full_look, leave_out
from hotelwatch.core.checks.recorded import (
    SHOWN_DAYS,
    checked_that_day,
    entry_scope,
    last_people,
    look_of_entry,
    moved_on,
    recorded_rows,
)
from hotelwatch.core.facts import CheckKind, RoundPublished, SlotPublished
from hotelwatch.core.problems import Refusal
from tests.build import day, house, moment

WHO = ("Anna", "Boris")


def inn():
    return house().room("101").bed("A").bed("B").room("102").bed("A").room("103")


def full(build, room, on=40, **more):
    look = full_look(build.house, room, on=day(on), by=WHO, kind=CheckKind.DEEP)
    return replace(look, **more)


def record(build, *looks, corrects=None):
    facts = [fact for look in looks for fact in checked_facts(look)]
    build.record(*facts, corrects=corrects, note="mistyped" if corrects else "")
    return max(build.house.entries)


def found(build, look, case="2026-001"):
    facts = [*checked_facts(look), *(replace(one, case=case) for one in finds(look, moment(40)))]
    build.record(*facts, CheckAsked(case, "102", ("shares_wall",), moment(41)))
    return max(build.house.entries)


def test_checks_stand_with_the_latest_day_first_and_rooms_as_one_walks():
    build = inn()
    record(build, full(build, "102", on=38))
    record(build, full(build, "101", on=40), full(build, "103", on=40))
    rows = recorded_rows(build.house, day(40))
    assert [(row.room, row.bed) for row in rows] == [
        ("101", "101/A"),
        ("101", "101/B"),
        ("101", ""),
        ("103", ""),
        ("102", "102/A"),
        ("102", ""),
    ]
    assert [row.counts for row in rows[:3]] == [True, True, None]
    assert {row.recorded_by for row in rows} == {"tester"}


def test_old_checks_and_those_taken_back_are_not_shown():
    build = inn()
    record(build, full(build, "102", on=40 - SHOWN_DAYS - 1))
    wrong = record(build, full(build, "101"))
    build.record(corrects=wrong, note="wrong room")
    assert recorded_rows(build.house, day(40)) == ()


def test_a_look_comes_back_as_it_was_typed():
    build = inn()
    look = leave_out(full(build, "101", noted="Lamp"), "101/A", "base_underside", "no_time")
    look = find(look, "101/B", "mattress_top", Sign.EGGS)
    look = replace(look, asked_by="2026-009", found_at=moment(39))
    entry = found(build, look)
    assert look_of_entry(build.house, entry, "101") == look
    with pytest.raises(Refusal, match="entry_of_other_rooms"):
        look_of_entry(build.house, entry, "102")
    with pytest.raises(Refusal, match="no_such_entry"):
        look_of_entry(build.house, entry + 1, "101")


def test_an_entry_falls_with_all_its_rooms_and_cases():
    build = inn()
    look = find(full(build, "101"), "101/B", "mattress_top", Sign.EGGS)
    entry = found(build, look)
    assert entry_scope(build.house, entry).rooms == ("101",)
    assert entry_scope(build.house, entry).cases == ("2026-001",)
    both = record(build, full(build, "102"), full(build, "103"))
    assert entry_scope(build.house, both).rooms == ("102", "103")
    assert entry_scope(build.house, both).cases == ()


def test_a_case_moves_on_with_a_judgement_or_with_an_asked_look():
    build = inn()
    entry = found(build, find(full(build, "101"), "101/B", "mattress_top", Sign.EGGS))
    assert moved_on(build.house, entry) == ()
    looked = build.house
    record(build, full(build, "102"))
    assert moved_on(build.house, entry) == ("2026-001",)
    build.house = looked
    build.record(CaseJudged("2026-001", Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(40)))
    assert moved_on(build.house, entry) == ("2026-001",)


def test_a_look_asked_for_and_made_before_does_not_move_a_case_on():
    build = inn()
    build.record(Sighted("2026-001", "101", "", "", Sign.EGGS, 1, "Anna", moment(39)))
    build.record(CheckAsked("2026-001", "102", ("shares_wall",), moment(40)))
    record(build, full(build, "102"))
    look = find(full(build, "101"), "101/B", "mattress_top", Sign.EGGS)
    facts = [
        *checked_facts(look),
        *(replace(one, case="2026-001") for one in finds(look, moment(40))),
    ]
    build.record(*facts)
    assert moved_on(build.house, max(build.house.entries)) == ()


def test_a_room_looked_at_that_day_says_in_which_entry():
    build = inn()
    record(build, full(build, "101"))
    last = record(build, full(build, "101"))
    in_103 = record(build, full(build, "103"))
    assert checked_that_day(build.house, full(build, "101")).number == last
    assert checked_that_day(build.house, full(build, "103")).number == in_103
    assert checked_that_day(build.house, full(build, "101", on=39)) is None
    assert checked_that_day(build.house, full(build, "102")) is None


def test_a_check_of_a_rooms_other_beds_is_no_second_one():
    build = inn()
    both = full(build, "101")
    record(build, replace(both, beds=both.beds[:1]))
    assert checked_that_day(build.house, both) is not None
    assert checked_that_day(build.house, replace(both, beds=both.beds[1:])) is None


def test_names_are_those_of_the_teams_own_sheet():
    build = inn().team("Blue").team("Red")
    record(build, full(build, "101"))
    build.record(
        RoundPublished(day(20), day(20)),
        SlotPublished(day(20), "Blue", 1, "101", ("101/A",), 20),
        SlotPublished(day(20), "Red", 1, "101", ("101/B",), 20),
        SlotPublished(day(20), "Red", 2, "103", ("103/A",), 20),
    )
    assert last_people(build.house, "Blue") == last_people(build.house, "Red") == ()
    both = full(build, "101", on=20)
    record(build, replace(both, by=("Cleo", "Dan"), beds=both.beds[:1], seen=(), unseen=()))
    assert last_people(build.house, "Blue") == ("Cleo", "Dan")
    assert last_people(build.house, "Red") == ()
    record(build, replace(full(build, "103", on=20), by=("Eva",)))
    assert (last_people(build.house, "Blue"), last_people(build.house, "Red")) == (
        ("Cleo", "Dan"),
        ("Eva",),
    )
    assert last_people(build.house) == ("Eva",)


def test_who_looked_last_is_whoever_was_written_down_last():
    build = inn()
    assert last_people(build.house) == ()
    record(build, full(build, "101"))
    record(build, replace(full(build, "103", on=20), by=("Cleo",)))
    assert last_people(build.house) == ("Cleo",)
