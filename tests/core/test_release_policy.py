"""The settable conditions of a release, its range of days, and what a find sets back."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from hotelwatch.core.case_facts import NoticeGiven, QuarantineLifted, QuarantinePlaced, Sign
from hotelwatch.core.cases.conditions import RELEASE_WORD, conditions
from hotelwatch.core.cases.release import check_lifting, release_range
from hotelwatch.core.cases.set_back import set_back
from hotelwatch.core.checks.follow_ups import DueBy, VisitDay, follow_up, visit_days
from hotelwatch.core.choice_facts import FigureChosen, ProfileChosen, RuleChosen
from hotelwatch.core.facts import CheckKind, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead, TreatmentOrdered
from tests.build import Build, day, house, moment
from tests.core.test_release import (
    BETWEEN,
    ONE,
    ROOM,
    codes,
    confirmed,
    judged,
    looked,
    missing,
    sign,
    suspected,
    treated,
)

from hotelwatch.core.case_facts import Outcome  # isort: skip

BED_PLACES = ("bedding", "mattress_top", "mattress_label", "mattress_underside", "base_edge")
UNDERSIDE = ("mattress_underside", "base_underside", "base_staple_line", "base_corner_caps")


def chosen(figure: str, value: float) -> FigureChosen:
    return FigureChosen(figure, value, "a reason")


def lifted(number: int, competence="entomologist") -> QuarantineLifted:
    return QuarantineLifted(ROOM, ONE, moment(number, 20), "mara", True, "", competence)


def spans(built: Build, number: int):
    found = release_range(built.house, ONE, ROOM, moment(number, 20))
    return found.earliest, found.expected, found.latest, found.because


# --- conditions -----------------------------------------------------------------------------


def test_one_of_the_clean_checks_has_to_be_a_full_one():
    built = looked(confirmed(), 2, 9, 16, 23, seen=UNDERSIDE)
    assert codes(built, 23) == ["full_check"]
    assert missing(built, 23)[0].values["beds"] == ("305/A",)
    every = tuple(
        p.code for p in built.house.rules.bed_kinds["box_spring"].places_of(encased=False)
    )
    assert {"base_corner_caps", "base_staple_line"} <= set(every)
    looked(built, 24, seen=[code for code in every if code != "base_inside"])
    assert codes(built, 24) == []


def test_a_hotel_may_ask_for_the_dust_cover_to_be_opened():
    places = house().house.rules.bed_kinds["box_spring"].places_of(encased=False)
    shut = [place.code for place in places if place.code != "base_inside"]
    built = looked(confirmed(), 2, 9, 16, 23, seen=shut)
    assert codes(built, 23) == []
    built.record(RuleChosen("full_check", "cover_opened"))
    assert codes(built, 23) == ["full_check"]
    assert codes(looked(built, 24), 24) == []


def test_a_hotel_chooses_how_many_clean_checks_and_how_far_apart():
    built = confirmed().record(
        chosen("clean_checks_after_treatment", 3), chosen("days_between_clean_checks", 5)
    )
    assert codes(looked(built, 2, 7, 14), 14) == []


# At 18 °C the slowest egg takes 22.5 days and 15 % more: four checks in three weeks all
# come too early (Omori 1941, Usinger 1966, from memory).
def test_one_clean_check_is_made_after_the_slowest_egg_has_hatched():
    built = confirmed().record(chosen("room_celsius", 18))
    looked(built, 2, 9, 16, 23)
    assert codes(built, 23) == ["after_hatch"]
    assert missing(built, 23)[0].values["next_from"] == day(1 + 26)
    assert spans(built, 23)[0] == day(27)
    assert codes(looked(built, 26), 26) == ["after_hatch"]
    assert codes(looked(built, 27), 27) == []


def test_where_the_eggs_time_is_not_known_no_condition_stands_in_for_it():
    built = confirmed().record(RuleChosen("species", "tropical"))
    looked(built, 2, 9, 16, 23)
    assert codes(built, 23) == ["eggs_not_known"]
    assert spans(built, 23) == (None, None, None, "eggs_not_known")
    assert codes(built.record(chosen("room_celsius", 26)), 23) == []


def test_traps_that_stand_in_the_room_are_read():
    built = confirmed().record(MonitorPlaced("T1", ROOM, "under a leg", day(2), "anna"))
    looked(built, 2, 9, 16, 23)
    assert codes(built, 23) == ["traps_read"]
    built.record(MonitorRead("T1", ROOM, day(22), "anna", 0))
    assert codes(built, 23) == []
    built.record(MonitorRead("T1", ROOM, day(23), "anna", 1))
    assert codes(built, 23) == ["clean_checks", "full_check", "after_hatch"]


def test_a_trap_nobody_has_looked_into_yet_is_not_said_to_be_read():
    built = confirmed().record(MonitorPlaced("T1", ROOM, "under a leg", day(20), "anna"))
    looked(built, 2, 9, 16, 23)
    assert codes(built, 23) == ["traps_read"]
    built.record(MonitorPlaced("T2", ROOM, "under the sofa", day(23), "anna"))
    built.record(MonitorRead("T1", ROOM, day(23), "anna", 0))
    assert codes(built, 23) == []
    assert codes(built, 24) == ["traps_read"]


# Three empty 14-day readings: a research convention (from memory). An empty trap is no
# proof: the clean checks are wanted all the same.
def test_a_hotel_may_ask_for_empty_readings_of_traps_that_stood_for_two_weeks():
    built = confirmed().record(chosen("trap_readings_wanted", 2))
    built.record(MonitorPlaced("T1", ROOM, "under a leg", day(2), "anna"))
    looked(built, 2, 9, 16, 23)
    for number in (10, 16, 23, 30):
        built.record(MonitorRead("T1", ROOM, day(number), "anna", 0))
    assert codes(built, 29) == ["trap_readings"]
    assert missing(built, 29)[0].values == {
        "room": ROOM,
        "have": 1,
        "need": 2,
        "next_from": day(30),
    }
    assert codes(built, 30) == []


@pytest.mark.parametrize(
    ("profile", "whose"), [("closed_ring", "licensed"), ("alabama", "health_officer")]
)
def test_where_the_rules_say_so_the_release_waits_for_another_ones_word(profile, whose):
    built = confirmed().record(ProfileChosen(profile))
    looked(built, 2, 9, 16, 23)
    assert [(lack.code, lack.values["whose"]) for lack in missing(built, 23)] == [
        ("release_word", whose)
    ]
    early = NoticeGiven(ONE, RELEASE_WORD, "an office", moment(1), "mara")
    assert codes(built.record(early), 23) == ["release_word"]
    built.record(NoticeGiven(ONE, RELEASE_WORD, "an office", moment(23), "mara", "no. 7"))
    assert codes(built, 23) == []


def test_a_word_for_one_room_is_none_for_another():
    built = confirmed().record(RuleChosen("release_by", "health_officer"))
    looked(built, 2, 9, 16, 23)
    word = NoticeGiven(ONE, RELEASE_WORD, "an office", moment(23), "mara", room="306")
    assert codes(built.record(word), 23) == ["release_word"]


def test_who_signs_for_a_treated_room_is_competent():
    built = looked(confirmed(), 2, 9, 16, 23)
    with pytest.raises(Refusal) as refused:
        check_lifting(built.house, lifted(23, competence=" "), moment(23, 20))
    assert refused.value.code == "lifting_needs_competence"
    check_lifting(built.house, lifted(23), moment(23, 20))
    built.record(RuleChosen("sign_off", "named"))
    check_lifting(built.house, lifted(23, competence=""), moment(23, 20))


def test_a_room_closed_only_as_a_neighbour_wants_one_clean_look():
    built = house().room("305").bed("A").room("307").bed("A")
    built.record(
        sign(),
        QuarantinePlaced(ROOM, ONE, moment(0), "sighting"),
        QuarantinePlaced(RoomNo("307"), ONE, moment(0), "ring_held"),
    )
    held = [
        c.code for c in conditions(built.house, ONE, RoomNo("307"), now=moment(1)) if not c.is_met
    ]
    assert held == ["clean_checks"]
    built.checked("A", day(1), kind=CheckKind.ASKED)
    assert all(c.is_met for c in conditions(built.house, ONE, RoomNo("307"), now=moment(1)))
    built.record(sign(Sign.CAST_SKIN, number=2, room=RoomNo("307")))
    found = conditions(built.house, ONE, RoomNo("307"), now=moment(3))
    assert [c.code for c in found if not c.is_met] == ["judgement"]


def test_each_condition_says_who_met_it_and_when():
    built = looked(confirmed(), 2, 9, 16, 23)
    found = {c.code: c for c in conditions(built.house, ONE, ROOM, now=moment(23, 20))}
    assert (found["judgement"].met_on, found["judgement"].by) == (day(0), ("Dr. Vey",))
    assert (found["treatment"].met_on, found["treatment"].by) == (day(1), ("an invented firm",))
    assert (found["clean_checks"].met_on, found["clean_checks"].by) == (day(23), ("anna", "boris"))
    assert all(condition.is_met for condition in found.values())


def test_that_a_room_stood_empty_is_no_condition():
    built = confirmed()
    assert codes(built, 400) == ["clean_checks", "full_check", "after_hatch"]


# --- range ----------------------------------------------------------------------------------

WAIT = 1
TREATMENT = 3
JUDGEMENT = 2
CHECKS = 1 + 3 * BETWEEN
SLOW = 1 + WAIT + 3 * (BETWEEN + WAIT)


def test_before_a_judgement_nobody_can_say_the_earliest_day():
    found = spans(suspected(), 0)
    expected = day(JUDGEMENT + TREATMENT + SLOW)
    latest = expected + timedelta(days=TREATMENT + SLOW)
    assert found == (None, expected, latest, "judgement")


def test_the_range_follows_from_what_is_left():
    built = suspected().record(judged(Outcome.CONFIRMED))
    expected = day(TREATMENT + SLOW)
    latest = expected + timedelta(days=TREATMENT + SLOW)
    assert spans(built, 0) == (day(CHECKS), expected, latest, "treatment")
    built.record(treated(1))
    assert spans(built, 1)[:2] == (day(1 + CHECKS), day(1 + SLOW))
    looked(built, 2)
    assert spans(built, 2)[:2] == (day(23), day(2 + BETWEEN + WAIT + 2 * (BETWEEN + WAIT)))
    looked(built, 9, 16, 23)
    assert spans(built, 23) == (day(23), day(23), day(23), "ready")


def test_an_ordered_visit_is_expected_on_its_day():
    built = suspected().record(judged(Outcome.CONFIRMED))
    built.record(TreatmentOrdered(ONE, (ROOM,), "a firm", moment(10), "", "mara"))
    assert spans(built, 0)[1] == day(10 + SLOW)


@pytest.mark.parametrize("number", range(0, 50, 3))
def test_the_three_days_stand_in_order_whatever_has_been_done(number):
    built = looked(confirmed(), *[n for n in (2, 9, 16) if n <= number])
    earliest, expected, latest, _ = spans(built, number)
    assert day(number) <= earliest <= expected <= latest


# --- what a find sets back ------------------------------------------------------------------


def test_a_find_says_to_what_it_set_the_clock_back():
    built = looked(confirmed(), 2, 9, 16)
    assert set_back(built.house, ONE, ROOM, moment(16, 20)) is None
    built.record(sign(Sign.CAST_SKIN, number=20))
    found = set_back(built.house, ONE, ROOM, moment(20, 20))
    assert (found.found_on, found.lost, found.counts_from) == (day(20), 3, day(21))
    assert not found.treat_again
    assert found.expected_before == day(23 + WAIT)
    assert found.expected_after == day(21 + WAIT + 3 * (BETWEEN + WAIT))


def test_a_live_insect_sets_back_to_another_treatment():
    built = looked(confirmed(), 2, 9).record(sign(number=16))
    found = set_back(built.house, ONE, ROOM, moment(16, 20))
    assert (found.treat_again, found.counts_from, found.lost) == (True, None, 2)
    built.record(treated(20))
    assert set_back(built.house, ONE, ROOM, moment(20, 20)) is None


# --- follow-ups -----------------------------------------------------------------------------


# Follow-up days: 14, 28, 42 (chemical) and 7, 14, 28 (heat), derived from egg hatch; a
# 14-day visit at 18 °C is too early (the slowest egg takes 26 days).
def test_visits_follow_the_method_and_say_which_come_too_early():
    built = house().house
    heat, spray = (
        treated(0),
        treated(0).__class__(ONE, ROOM, day(0), "chemical", "a firm", "L-1", moment(0, 18)),
    )
    assert visit_days(built, spray) == tuple(VisitDay(day(n), False) for n in (14, 28, 42))
    assert visit_days(built, heat) == (
        VisitDay(day(7), True),
        VisitDay(day(14), False),
        VisitDay(day(28), False),
    )
    cold = house().record(chosen("room_celsius", 18)).house
    assert [v.is_before_hatch for v in visit_days(cold, spray)] == [True, False, False]


def test_a_follow_up_is_due_by_the_evaluation_then_by_the_next_visit():
    built = suspected().record(judged(Outcome.CONFIRMED))
    built.record(
        treated(1).__class__(ONE, ROOM, day(1), "chemical", "a firm", "L-1", moment(1, 18))
    )
    look = follow_up(built.house, ONE, ROOM, day(1))
    assert (look.kind, look.from_on, look.by_on, look.because) == (
        CheckKind.CLEARANCE,
        day(2),
        day(15),
        DueBy.EVALUATION,
    )
    assert look.beds == ("305/A",)
    looked(built, 10)
    look = follow_up(built.house, ONE, ROOM, day(10))
    assert (look.from_on, look.by_on, look.because) == (day(17), day(17), DueBy.VISIT)


def test_the_look_after_hatching_is_due_before_a_new_female_could_lay():
    built = confirmed().record(chosen("room_celsius", 27))
    lays_from = day(1 + 26)
    looked(built, 2)
    days: set[date] = set()
    for number in range(2, 28):
        look = follow_up(built.house, ONE, ROOM, day(number))
        days.add(look.by_on)
    assert max(days) <= lays_from


def test_a_room_whose_find_wants_another_treatment_wants_no_look():
    built = looked(confirmed(), 2, 9).record(sign(number=16))
    assert follow_up(built.house, ONE, ROOM, day(16)) is None


def test_nobody_is_let_in_before_the_time_of_reentry_whatever_was_judged():
    for outcome in (Outcome.NOT_BED_BUG, Outcome.UNDETERMINED):
        built = suspected().record(treated(1, reenter=30)).record(judged(outcome))
        looked(built, 2, 9, kind=CheckKind.DEEP)
        assert codes(built, 29) == ["reentry"]
        assert codes(built, 31) == []


def test_a_hotel_may_count_deep_checks_after_a_treatment_too():
    built = looked(confirmed(), 2, 9, 16, 23, kind=CheckKind.DEEP)
    assert missing(built, 23)[0].values["have"] == 0
    built.record(RuleChosen("clean_kinds", "deep_too"))
    assert codes(built, 23) == []
    assert follow_up(looked(confirmed(), 2).house, ONE, ROOM, day(3)).kind is CheckKind.CLEARANCE
