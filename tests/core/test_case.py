"""A case as its facts tell it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.case import (
    Evidence,
    Stage,
    case_of,
    cases,
    is_open,
    next_case_no,
    open_case_in,
    weight_of,
)
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    CaseNo,
    CheckKind,
    RoomChecked,
    RoomNo,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, day, house, moment, rules

ONE = CaseNo("2026-001")
MIDDLE = RoomNo("102")


def three_rooms() -> Build:
    built = house()
    for room in ("101", "102", "103"):
        built.room(room).bed("A")
    return built


def sighted(room=MIDDLE, sign=Sign.LIVE_INSECT, at=None, case="", bed=""):
    return Sighted(CaseNo(case), room, bed, "base_staple_line", sign, 1, "anna", at or moment(0))


def answer(built: Build, sign: Sighted) -> Build:
    at_hand = built.house
    return built.record(
        *answer_sighting(at_hand, neighbours(at_hand, lay_out(at_hand)), sign).facts
    )


def judge(built: Build, outcome: Outcome, number: int = 0) -> Build:
    return built.record(CaseJudged(ONE, outcome, "Dr. Vey", "entomologist", day(number)))


def treat(built: Build, number: int, room: RoomNo = MIDDLE) -> Build:
    return built.record(
        TreatmentRecorded(
            ONE, room, day(number), "heat", "an invented firm", "L-1", moment(number, 18)
        )
    )


def look(built: Build, room: str, number: int, kind=CheckKind.ASKED, **more) -> Build:
    built._room = RoomNo(room)
    return built.checked("A", day(number), kind=kind, **more)


def lift(built: Build, number: int, room: RoomNo = MIDDLE) -> Build:
    lifted = QuarantineLifted(room, ONE, moment(number, 20), "mara", False, "mattress replaced")
    return built.record(lifted)


# Order from strong to weak: common practice, no source; classes of live insect, eggs,
# cast skins and spots: best management practices for bed bugs (2011), 9.2 to 9.4.
@pytest.mark.parametrize(
    ("sign", "weight"),
    [
        (Sign.LIVE_INSECT, Evidence.STRONG),
        (Sign.EGGS, Evidence.STRONG),
        (Sign.CAST_SKIN, Evidence.MODERATE),
        (Sign.DEAD_INSECT, Evidence.MODERATE),
        (Sign.DARK_SPOTS, Evidence.MODERATE),
        (Sign.BLOOD_SPOT, Evidence.WEAK),
        (Sign.BITES_REPORTED, Evidence.WEAK),
        (Sign.GUEST_WORD, Evidence.WEAK),
    ],
)
def test_each_sign_has_its_weight(sign, weight):
    assert weight_of(three_rooms().house, sighted(sign=sign)) is weight


def test_every_sign_says_how_well_its_weight_is_known():
    for sign in Sign:
        known = rules().evidence[sign]
        assert known.source, sign
        assert known.note, sign


def test_the_strongest_sign_is_the_evidence_of_a_case():
    built = answer(three_rooms(), sighted(sign=Sign.BITES_REPORTED))
    assert case_of(built.house, ONE).evidence is Evidence.WEAK
    answer(built, sighted(sign=Sign.DARK_SPOTS))
    assert case_of(built.house, ONE).evidence is Evidence.MODERATE


def test_a_case_goes_from_suspicion_over_treatment_to_release():
    built = answer(three_rooms(), sighted())
    stages = [case_of(built.house, ONE).stage]
    for step in (
        lambda: judge(built, Outcome.CONFIRMED),
        lambda: treat(built.on(1), 1),
        lambda: look(built.on(2), "102", 2, CheckKind.CLEARANCE),
        lambda: lift(built.on(3), 3),
    ):
        step()
        stages.append(case_of(built.house, ONE).stage)
    assert stages == [
        Stage.SUSPECTED,
        Stage.CONFIRMED,
        Stage.IN_TREATMENT,
        Stage.UNDER_FOLLOW_UP,
        Stage.RELEASED,
    ]


def test_a_live_insect_after_treatment_calls_for_treatment_again():
    built = judge(answer(three_rooms(), sighted()), Outcome.CONFIRMED)
    treat(built.on(1), 1)
    look(built.on(8), "102", 8, CheckKind.CLEARANCE)
    answer(built.on(9), sighted(at=moment(9)))
    assert case_of(built.house, ONE).stage is Stage.CONFIRMED


def test_a_judgement_does_not_cover_a_sign_written_down_after_it():
    built = judge(answer(three_rooms(), sighted(sign=Sign.DARK_SPOTS)), Outcome.NOT_BED_BUG)
    assert case_of(built.house, ONE).stage is Stage.RULED_OUT
    answer(built.on(1), sighted(at=moment(1)))
    assert len(cases(built.house)) == 1
    case = case_of(built.house, ONE)
    assert case.stage is Stage.SUSPECTED
    assert case.judged is None
    assert case.answer_from == moment(1)


def test_a_confirmation_covers_later_signs():
    built = judge(answer(three_rooms(), sighted()), Outcome.CONFIRMED)
    answer(built, sighted(sign=Sign.DARK_SPOTS))
    assert case_of(built.house, ONE).stage is Stage.CONFIRMED


def test_the_latest_judgement_stands():
    built = judge(answer(three_rooms(), sighted()), Outcome.CONFIRMED)
    judge(built, Outcome.UNDETERMINED)
    assert case_of(built.house, ONE).stage is Stage.UNDETERMINED


def test_a_case_stays_open_until_its_neighbours_were_looked_at_and_its_room_given_back():
    built = answer(three_rooms(), sighted())
    lift(built.on(1), 1)
    assert case_of(built.house, ONE).is_open
    for room in ("101", "102", "103"):
        look(built.on(1), room, 1)
    assert not case_of(built.house, ONE).is_open


def test_a_case_ruled_out_is_closed_once_its_room_is_given_back():
    built = judge(answer(three_rooms(), sighted()), Outcome.NOT_BED_BUG)
    assert case_of(built.house, ONE).is_open
    lift(built, 0)
    case = case_of(built.house, ONE)
    assert not case.is_open
    assert not any(state.is_open for state in case.asked)


def test_correcting_a_sighting_undoes_its_case():
    built = answer(three_rooms(), sighted())
    built.record(corrects=max(built.house.entries), note="wrong room")
    assert cases(built.house) == ()
    assert not built.house.quarantined(moment(1))


def test_a_case_without_sightings_asks_for_nothing():
    built = three_rooms().record(sighted(case=ONE))
    built.record(CheckAsked(ONE, RoomNo("101"), ("shares_wall",), moment(1)))
    assert [state.asked.room for state in open_asked(built.house)] == ["101"]
    built.record(corrects=max(built.house.entries) - 1, note="wrong room")
    assert open_asked(built.house) == ()


def test_a_number_once_given_is_not_given_again():
    built = answer(three_rooms(), sighted())
    assert next_case_no(built.house, day(0)) == "2026-002"
    built.record(corrects=max(built.house.entries), note="wrong room")
    assert next_case_no(built.house, day(0)) == "2026-002"
    assert next_case_no(built.house, day(400)) == "2027-001"


def test_a_find_in_a_room_that_a_case_asked_for_belongs_to_it():
    built = answer(three_rooms(), sighted())
    assert open_case_in(built.house, MIDDLE) == ONE
    assert open_case_in(built.house, RoomNo("101")) == ONE
    assert open_case_in(built.house, RoomNo("999")) is None


def test_a_suites_other_key_shares_its_case():
    built = house().room("101", suite="Linden").bed("A").room("102", suite="Linden").bed("A")
    answer(built, sighted(room=RoomNo("101")))
    assert open_case_in(built.house, RoomNo("102")) == ONE


def test_an_unknown_case_is_refused():
    with pytest.raises(Refusal) as refused:
        case_of(house().house, ONE)
    assert refused.value.code == "unknown_case"


# --- asked checks ---------------------------------------------------------------------------


def asked_of(built: Build, room: str):
    return next(s for s in case_of(built.house, ONE).asked if s.asked.room == room)


def test_an_asked_room_is_done_when_every_bed_was_looked_at_from_below():
    built = house().room("101").bed("A").bed("B").room("102").bed("A")
    answer(built, sighted(room=RoomNo("102")))
    look(built.on(1), "101", 1)
    assert asked_of(built, "101").done_on is None
    built.on(2).checked("A", day(2))
    built._room = RoomNo("101")
    built.checked("B", day(2), seen=("mattress_top",))
    assert asked_of(built, "101").done_on is None
    built.on(3).checked("B", day(3))
    assert asked_of(built, "101").done_on == day(3)


def test_a_brief_check_does_not_serve():
    built = answer(three_rooms(), sighted())
    look(built, "101", 0, CheckKind.BRIEF)
    assert asked_of(built, "101").is_open


def test_a_check_of_the_day_before_does_not_serve():
    built = three_rooms()
    look(built, "101", 0)
    answer(built.on(1), sighted(at=moment(1)))
    assert asked_of(built, "101").is_open


def test_a_check_typed_in_late_serves_if_made_after_the_sign():
    built = answer(three_rooms().on(2), sighted(at=moment(0)))
    look(built.on(3), "101", 1)
    assert asked_of(built, "101").done_on == day(1)


def test_a_check_known_before_the_asking_and_of_an_earlier_day_does_not_serve():
    built = three_rooms()
    look(built.on(1), "101", 1)
    answer(built.on(2), sighted(at=moment(0)))
    assert asked_of(built, "101").is_open


def test_the_check_that_found_it_serves_its_own_room():
    built = three_rooms()
    look(built, "102", 0, CheckKind.DEEP, found=("base_staple_line:live_insect",))
    answer(built, sighted())
    assert asked_of(built, "102").done_on == day(0)


def test_an_asked_check_is_late_after_its_moment_and_when_done_on_a_later_day():
    built = answer(three_rooms(), sighted(at=moment(0, 9)))
    state = asked_of(built, "101")
    assert not state.is_late(moment(1, 9))
    assert state.is_late(datetime(2026, 1, 6, 9, 0, 1, tzinfo=UTC))
    look(built.on(2), "101", 2)
    assert asked_of(built, "101").is_late(moment(2))
    look(built.on(2), "103", 1)
    assert not asked_of(built, "103").is_late(moment(2))


# Two centres sharing a neighbour: one check may serve both if its date fits both
# (common practice, no source).
def test_one_check_serves_every_case_that_asked_for_the_room():
    built = answer(three_rooms(), sighted(room=RoomNo("101")))
    answer(built, sighted(room=RoomNo("103")))
    look(built.on(1), "102", 1)
    two = case_of(built.house, CaseNo("2026-002"))
    shared = next(state for state in two.asked if state.asked.room == "102")
    assert asked_of(built, "102").done_on == shared.done_on == day(1)


def test_a_room_without_beds_is_done_by_a_look_at_the_room():
    built = house().room("101").room("102").bed("A")
    answer(built, sighted(room=RoomNo("102"), bed=BedNo("102/A")))
    assert asked_of(built, "101").is_open
    built.record(RoomChecked(RoomNo("101"), day(1), CheckKind.ASKED, ("anna",), ("seats",)))
    assert asked_of(built, "101").done_on == day(1)


def test_a_bed_that_came_after_the_look_does_not_ask_for_another_one():
    built = answer(three_rooms(), sighted())
    for room in ("101", "102", "103"):
        look(built.on(1), room, 1)
    lift(built.on(2), 2)
    assert not is_open(built.house, ONE)
    built._room = RoomNo("101")
    built.on(60).bed("B")
    assert not is_open(built.house, ONE)
    assert open_asked(built.house) == ()


def test_a_bed_that_came_before_the_look_must_be_looked_at_too():
    built = answer(three_rooms(), sighted())
    built._room = RoomNo("101")
    built.on(1).bed("B")
    look(built.on(2), "101", 2)
    left = {state.asked.room: state.beds_left for state in open_asked(built.house)}
    assert left["101"] == ("101/B",)


def test_a_bed_that_was_taken_out_and_came_back_counts_from_its_coming_back():
    built = three_rooms()
    built._room = RoomNo("101")
    built.bed("B")
    built.on(1).record(BedDescribed(BedNo("101/B"), RoomNo("101"), "box_spring", in_use=False))
    answer(built, sighted())
    look(built.on(2), "101", 2)
    built.on(30).bed("B")
    assert "101" not in {state.asked.room for state in open_asked(built.house)}


def test_nobody_is_asked_to_look_at_a_room_that_left_the_roster():
    built = answer(three_rooms(), sighted())
    for room in ("101", "102"):
        look(built.on(1), room, 1)
    lift(built.on(2), 2)
    assert is_open(built.house, ONE)
    built.record(replace(built.house.rooms[RoomNo("103")], in_use=False))
    assert not is_open(built.house, ONE)
