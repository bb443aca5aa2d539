"""Specimens as their labels tell them.

What a label names: room, place, date, finder: a university's response kit for hotels.
"""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    Sighted,
    Sign,
    SpecimenNoted,
    SpecimenStep,
)
from hotelwatch.core.cases.specimens import specimen_text, specimens, specimens_named
from hotelwatch.core.problems import Refusal
from tests.build import day, house, moment

CASE = "2026-001"


def sighted(room="101", place="base_underside", by="Anna", at=1):
    return Sighted(CASE, room, f"{room}/A", place, Sign.LIVE_INSECT, 1, by, moment(at))


def noted(label, step=SpecimenStep.KEPT, where="safe", by="Boris", at=1, room="101"):
    return SpecimenNoted(CASE, label, room, step, where, by, moment(at, 10))


@pytest.fixture
def inn():
    return house().room("101").bed("A").room("102").bed("A")


def test_it_tells_of_the_sign_that_it_was_written_down_with(inn):
    inn.record(sighted(place="headboard_back", by="Cleo", at=0))
    inn.record(sighted(), noted("T-1"))
    (one,) = specimens(inn.house, CASE)
    assert (one.label, one.room, one.bed, one.place) == ("T-1", "101", "101/A", "base_underside")
    assert (one.found_by, one.found_at) == ("Anna", moment(1))


def test_one_taken_later_tells_of_the_rooms_last_sign_before(inn):
    inn.record(sighted())
    inn.record(sighted("102", by="Cleo", at=2))
    inn.record(noted("T-1", at=3, room="102"))
    (one,) = specimens(inn.house, CASE)
    assert (one.room, one.found_by, one.found_at) == ("102", "Cleo", moment(2))


def test_where_nobody_saw_a_sign_in_its_room_place_and_finder_are_left_to_the_pen(inn):
    inn.record(sighted())
    inn.record(noted("T-1", room="102"))
    (one,) = specimens(inn.house, CASE)
    assert (one.place, one.found_by, one.found_at) == ("", "", moment(1, 10))


def test_the_last_word_of_each_step_counts(inn):
    inn.record(sighted(), noted("T-1"))
    inn.record(noted("T-1", SpecimenStep.SENT, "office", at=2))
    inn.record(noted("T-1", SpecimenStep.SENT, "laboratory", at=3))
    (one,) = specimens(inn.house, CASE)
    assert {step: fact.where for step, fact in one.steps.items()} == {
        SpecimenStep.KEPT: "safe",
        SpecimenStep.SENT: "laboratory",
    }


def test_a_judgement_stands_on_the_label_of_a_cases_only_specimen(inn):
    inn.record(sighted(), noted("T-1"))
    inn.record(CaseJudged(CASE, Outcome.CONFIRMED, "Dr Fay", "entomologist", day(4)))
    assert specimens(inn.house, CASE)[0].judged.judged_by == "Dr Fay"
    inn.record(noted("T-2"))
    assert [one.judged for one in specimens(inn.house, CASE)] == [None, None]


def test_a_mark_says_what_it_is_in_letters_that_lie_alike_on_most_keyboards(inn):
    inn.record(sighted(), noted("T 7"))
    said = specimen_text(inn.house, specimens(inn.house, CASE)[0])
    assert said.split(" ")[0] == "KEPT"
    assert said.endswith(" 2026 001 T 7")
    assert not set("AMQWYZ-/:") & set(said.removesuffix("T 7"))


def test_what_is_not_there_is_refused(inn):
    with pytest.raises(Refusal) as told:
        specimens(inn.house, CASE)
    assert told.value.code == "unknown_case"
    inn.record(sighted())
    with pytest.raises(Refusal) as told:
        specimens_named(inn.house, CASE, ())
    assert told.value.code == "no_specimens"
    inn.record(noted("T-1"), noted("T-2"))
    assert [one.label for one in specimens_named(inn.house, CASE, ("T-2",))] == ["T-2"]
    with pytest.raises(Refusal) as told:
        specimens_named(inn.house, CASE, ("T-3",))
    assert (told.value.code, told.value.values["label"]) == ("no_specimen", "T-3")
