"""Releases in words: conditions, days, the watch; and never that a room is free."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from zoneinfo import ZoneInfo

import pytest

from hotelwatch.core.case_facts import CaseClosed, NoticeGiven
from hotelwatch.core.cases.conditions import Condition
from hotelwatch.core.cases.release import ReleaseRange
from hotelwatch.core.cases.set_back import SetBack
from hotelwatch.core.checks.eggs import EggsUnknown, egg_dates
from hotelwatch.core.checks.follow_ups import VisitDay
from hotelwatch.core.checks.missed import chance_all_missed
from hotelwatch.core.checks.monitors import Monitor, Reading
from hotelwatch.core.checks.watching import Gap, Watch
from hotelwatch.core.choice_facts import FigureChosen, RuleChosen
from hotelwatch.core.treatment_facts import MonitorRead
from hotelwatch.wording import language
from hotelwatch.wording.release import (
    BECAUSE,
    MET,
    UNKNOWN,
    condition_sentence,
    egg_lines,
    missed_sentence,
    monitor_sentence,
    range_lines,
    set_back_sentence,
    visits_sentence,
    watch_lines,
    why_not_empty,
)
from hotelwatch.wording.release_lines import release_line
from hotelwatch.wording.steps import MISSING
from tests.build import day, house, moment

VIENNA = ZoneInfo("Europe/Vienna")
# Conditions that are only ever missing: nothing meets them but their going away.
NEVER_MET = {"treatment_after_find", "eggs_not_known"}


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def test_every_condition_can_be_told_as_met_and_as_what_one_waits_for():
    assert set(MET) == set(MISSING) - NEVER_MET
    assert set(BECAUSE) == {*MISSING, "ready"}
    assert set(UNKNOWN) == set(EggsUnknown)


def test_a_condition_that_is_met_says_by_whom_and_when():
    values = {"room": "305", "bed": "305/A", "have": 4, "need": 4, "next_from": day(1)}
    met = Condition("clean_checks", values, True, day(23), ("anna", "boris"))
    assert condition_sentence(met, VIENNA) == (
        "305/A: 4 clean checks with the underside looked at. Wed 28 Jan 2026, anna and boris."
    )
    read = Condition("traps_read", {"room": "305", "monitors": ("T1",)}, True, day(2))
    assert "no proof" in condition_sentence(read, VIENNA)
    missing = Condition("release_word", {"room": "305", "whose": "health_officer"})
    assert "has yet to give the word that 305 may be let" in condition_sentence(missing, VIENNA)


def test_a_range_says_what_each_day_supposes():
    said = dict(range_lines(ReleaseRange(day(1), day(2), day(3), "clean_checks")))
    assert said["At the earliest"].startswith("Tue 6 Jan 2026, if all")
    assert "assumptions" in said["Expected"]
    assert "one more find" in said["At the latest"]
    ready = dict(range_lines(ReleaseRange(day(1), day(1), day(1), "ready")))
    assert ready == {"Now": "Its conditions are met; it waits for a named person."}
    unknown = dict(range_lines(ReleaseRange(None, None, None, "eggs_not_known")))
    assert unknown["Expected"] == "nobody can say"


def test_the_eggs_days_say_what_fixed_them():
    said = " ".join(egg_lines(egg_dates(house().house, day(0)), house().house))
    assert "Not before Sun 18 Jan 2026" in said
    assert "13 days at 22 °C" in said
    assert "Not after Fri 20 Feb 2026" in said
    assert "from memory" in said
    cold = house().record(FigureChosen("room_celsius", 15, "measured")).house
    assert "Colder than 17 °C nothing is known" in " ".join(
        egg_lines(egg_dates(cold, day(0)), cold)
    )
    other = house().record(RuleChosen("species", "tropical")).house
    assert "24 to 28 °C only" in " ".join(egg_lines(egg_dates(other, day(0)), other))


def test_visits_that_come_too_early_are_marked():
    said = visits_sentence((VisitDay(day(7), True), VisitDay(day(14), False)))
    assert "Mon 12 Jan (too early to tell of the eggs) and Mon 19 Jan" in said
    assert "assumption" in said


# Polanco, Miller, Brewster 2011, Insects 2:232-242; Cooper, Wang, Singh 2015, PLOS ONE.
def test_why_an_empty_room_is_no_condition_is_said_with_the_published_days():
    said = why_not_empty(house().house)
    assert "41.5 to 142.6 days" in said
    assert "57, 113 and 134 days" in said


def test_a_find_is_told_with_what_it_set_back():
    back = SetBack(day(20), "305", 3, day(21), False, day(24), day(46))
    said = set_back_sentence(back)
    assert "set the clean checks back to none" in said
    assert "Mon 26 Jan 2026" in said
    again = SetBack(day(20), "305", 3, None, True, day(24), None)
    assert "wants another treatment" in set_back_sentence(again)
    assert "nobody can say" in set_back_sentence(again)


def test_a_watch_is_told_with_its_gaps_and_proves_nothing():
    gaps = (Gap(day(20), day(22), ("305",)),)
    watch = Watch("c", ("305",), day(1), "treatment", 60, 18, 1, gaps, day(64), day(30), True)
    said = "\n".join(watch_lines(watch))
    assert "18 of 60 clean covered days." in said
    assert "1 more day counts once the traps" in said
    assert "no check, no trap in 305" in said
    assert "It ends on Tue 10 Mar 2026" in said
    assert "Covered until Wed 4 Feb 2026" in said
    bare = replace(watch, is_covered=False)
    assert "Today is not covered" in "\n".join(watch_lines(bare))
    assert said.endswith("That is no proof that nothing is there.")


def test_a_trap_is_told_where_it_stands_and_when_it_was_read():
    def told(taken=None, readings=()) -> str:
        one = Monitor("T1", "305", "bed A", day(1), day(1), "anna", taken, readings)
        return monitor_sentence(one, day(30))

    assert "nobody has looked into it" in told()
    assert "stood in 305" in told(taken=day(9))
    empty = Reading(day(8), day(8), "anna", 0, False)
    assert "empty, which is no proof" in told(readings=(empty,))
    assert "2 caught" in told(readings=(Reading(day(8), day(8), "anna", 2, False),))


def test_lines_of_the_story():
    word = NoticeGiven("c", "release_word", "an office", moment(1), "Ana", "no. 7", room="305")
    assert release_line(word) == "an office gave the word that 305 may be let. Receipt: no. 7."
    assert "no proof" in release_line(MonitorRead("T1", "305", date(2026, 1, 5), "Ana", 0))
    assert "had caught 2" in release_line(MonitorRead("T1", "305", date(2026, 1, 5), "Ana", 2))
    assert "the watch was over" in release_line(CaseClosed("c", moment(1), "Ana", True))
    assert "before" in release_line(CaseClosed("c", moment(1), "Ana", False, "torn down"))


def test_no_sentence_says_that_a_room_is_free():
    said = " ".join([*MET.values(), *BECAUSE.values(), *UNKNOWN.values(), *MISSING.values()])
    for word in ("free of", "bed bug free", "clear of", "safe"):
        assert word not in said.lower()


# Source: 72 +-3 % found by a brief check in homes: Wang, Singh, Zha, Cooper 2016, J Med
# Entomol 53(3). 0.28 once is 28 %, four times 0.6 %: from 50 to below 1 % takes four looks
# (0.5 * 0.0061 / (0.5 * 0.0061 + 0.5) = 0.61 %), three leave 2.1 %.
def test_a_chance_is_named_only_of_looks_that_miss():
    known = house().house

    def said(*have):
        found = [Condition("clean_checks", {"have": n, "need": 4}) for n in have]
        return missed_sentence(found, known)

    assert said(0) == said() == ""
    assert "1 clean look would have missed it with a chance of 28 %" in said(1)
    assert "4 clean looks would all have missed it with a chance of 0.6 %" in said(4)
    # The bed that was looked at least often decides.
    assert "1 clean look" in said(4, 1)
    assert "assumptions" in said(4)
    assert chance_all_missed(4, known.rules.figures) == pytest.approx(0.0061, abs=1e-4)
    assert 0.5 * 0.28**4 / (0.5 * 0.28**4 + 0.5) < 0.01 < 0.5 * 0.28**3 / (0.5 * 0.28**3 + 0.5)
