"""What the record teaches: twenty trials make the assumption give way, nineteen do not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scipy import stats

from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.facts import BedNo, CaseNo, CheckKind, RoomNo
from hotelwatch.core.odds.learning.learned import INTRODUCTIONS, NOTICE, learned
from hotelwatch.core.odds.learning.occupancy import Repeated
from hotelwatch.core.odds.learning.trials import TrialState
from hotelwatch.core.records import StayStatus
from hotelwatch.core.standing import Standing
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.core.trial_facts import BlindPair, DummyEnded, DummyFate, DummyHidden
from tests.build import day, house, moment

PLACES = ("base_underside", "mattress_top", "mattress_underside")
ROOM = RoomNo("101")


def inn_with_trials(count, *, found, more_people=("boris",)):
    """So many trials, a day apart each, of which the first ``found`` were found."""
    build = house().room(ROOM).bed("A")
    for number in range(count):
        place = PLACES[number % len(PLACES)]
        label = f"D{number}"
        build.record(DummyHidden(label, ROOM, "101/A", place, day(2 * number), "maria"))
        build.checked("A", day(2 * number + 1), by=("anna", *more_people))
        is_found = number < found
        on = day(2 * number + 1)
        build.record(DummyEnded(label, ROOM, on, is_found, (), DummyFate.COLLECTED))
    return build


def judged_case(build, number, room=ROOM, outcome=Outcome.CONFIRMED, *, seen=10):
    case = CaseNo(f"2026-{number:03}")
    sign = Sighted(case, room, BedNo(""), "", Sign.LIVE_INSECT, 1, "anna", moment(seen))
    return build.record(sign).record(CaseJudged(case, outcome, "Dr. Vey", "zoologist", day(seen)))


# --- noticing --------------------------------------------------------------------------


def test_twenty_trials_take_the_assumptions_place_and_nineteen_do_not():
    nineteen = inn_with_trials(19, found=14).house
    known = learned(nineteen, day(100))
    assert (known.notice.found, known.notice.behind, known.notice.is_enough) == (14, 19, False)
    assert known.measured(nineteen.rules.odds) == {}

    twenty = inn_with_trials(20, found=14).house
    known = learned(twenty, day(100))
    assert known.notice.is_enough
    measured = known.measured(twenty.rules.odds)[NOTICE]
    belief = stats.beta(14.5, 6.5)
    assert measured.value == pytest.approx(belief.median())
    assert (measured.cautious, measured.optimistic) == pytest.approx(belief.ppf([0.05, 0.95]))
    assert measured.standing is Standing.MEASURED
    assert twenty.rules.odds.figures.notice_deep.standing is Standing.ASSUMPTION
    with_it = twenty.rules.odds.with_figures(known.measured(twenty.rules.odds))
    assert with_it.figures.notice_deep == measured


def test_dummies_where_nobody_looked_do_not_fill_the_twenty():
    build = inn_with_trials(19, found=14)
    build.record(DummyHidden("E", ROOM, "101/A", "base_underside", day(60), "maria"))
    build.checked("A", day(61), seen=["mattress_top"])
    build.record(DummyEnded("E", ROOM, day(61), False, (), DummyFate.COLLECTED))
    known = learned(build.house, day(100))
    assert known.notice.behind == 19
    assert known.states[TrialState.NOT_LOOKED_AT] == 1
    assert not known.enough


def test_before_the_first_trial_nothing_is_learned():
    known = learned(house().room(ROOM).bed("A").house, day(3))
    assert known.notice is None
    assert known.introductions is None
    assert known.by_place == {}
    assert known.pairs is None
    assert known.repeats == ()
    assert known.enough == ()


def test_each_place_has_its_own_tally_and_range():
    known = learned(inn_with_trials(20, found=14).house, day(100))
    assert set(known.by_place) == set(PLACES)
    assert sum(seen.trials for seen in known.by_place.values()) == 20
    assert sum(seen.found for seen in known.by_place.values()) == 14


def test_all_found_is_held_below_a_certainty():
    build = inn_with_trials(80, found=80)
    measured = learned(build.house, day(300)).measured(build.house.rules.odds)[NOTICE]
    assert measured.optimistic == measured.high < 1.0


def test_what_the_hotel_chose_itself_is_not_replaced():
    build = inn_with_trials(20, found=14).record(FigureChosen(NOTICE, 0.4, "weighed"))
    known = learned(build.house, day(100))
    assert known.notice.is_enough
    assert known.measured(build.house.rules.odds) == {}


def test_nobody_has_a_figure_before_twenty_trials_of_their_own():
    known = learned(inn_with_trials(20, found=14, more_people=()).house, day(100))
    assert [own.name for own in known.people.own] == ["anna"]
    assert known.people.own[0].notice.trials == 20
    known = learned(inn_with_trials(19, found=14).house, day(100))
    assert known.people.own == ()
    assert known.people.too_few == ("anna", "boris")


def test_a_hotel_may_ask_for_more_trials():
    build = inn_with_trials(20, found=14).record(
        FigureChosen("trials_before_learned", 30, "careful")
    )
    assert not learned(build.house, day(100)).notice.is_enough


# --- introductions ------------------------------------------------------------------------


def inn_with_stays(count):
    build = house().room(ROOM).bed("A")
    return build.stays(*((ROOM, number % 300, number % 300 + 1) for number in range(count)))


def test_introductions_follow_finds_and_stays():
    build = judged_case(judged_case(inn_with_stays(40_000), 1), 2, seen=200)
    figures = build.house.rules.odds.figures
    known = learned(build.house, day(300), found_share=0.8).introductions
    per_stay = figures.introductions_per_room_year.value / figures.stays_per_room_year.value
    belief = stats.gamma(1 + 2, scale=1 / (1 / per_stay + 40_000 * 0.8))
    year = figures.stays_per_room_year.value
    assert (known.found, known.behind) == (2, 40_000)
    assert known.value == pytest.approx(belief.mean() * year)
    assert known.optimistic == pytest.approx(belief.ppf(0.05) * year)
    assert known.cautious == pytest.approx(belief.ppf(0.95) * year)
    assert known.is_enough
    assert (
        learned(build.house, day(300), found_share=0.8)
        .measured(build.house.rules.odds)[INTRODUCTIONS]
        .standing
        is Standing.MEASURED
    )


def test_few_stays_leave_the_assumption_standing():
    known = learned(inn_with_stays(2000).house, day(300), found_share=0.8)
    assert known.introductions.behind == 2000
    assert not known.introductions.is_enough
    assert known.enough == ()


def test_only_confirmed_cases_and_stays_that_began_count():
    build = judged_case(inn_with_stays(300), 1)
    judged_case(build, 2, outcome=Outcome.NOT_BED_BUG)
    judged_case(build, 3, outcome=Outcome.UNDETERMINED)
    known = learned(build.house, day(99), found_share=1.0).introductions
    assert (known.found, known.behind) == (1, 100)
    cancelled = replace(build.house.stays[0], status=StayStatus.CANCELLED)
    fewer = build.house.with_stays((cancelled, *build.house.stays[1:]))
    assert learned(fewer, day(99), found_share=1.0).introductions.behind == 99
    assert learned(build.house, day(99)).introductions is None


# --- looks repeated and apart -----------------------------------------------------------------


def test_looks_within_a_week_are_repeated_looks_and_a_treatment_parts_them():
    build = house().room(ROOM).bed("A")
    for on, found in ((0, ()), (3, ("mattress_top:live_insect",)), (7, ()), (20, ()), (30, ())):
        build.checked("A", day(on), found=found)
    build.checked("A", day(31), kind=CheckKind.BRIEF)
    assert learned(build.house, day(50)).repeats == (Repeated(1, 3),)
    treated = TreatmentRecorded(
        CaseNo("2026-001"), ROOM, day(5), "heat", "a firm", "L-1", moment(5, 20)
    )
    assert learned(build.record(treated).house, day(50)).repeats == (Repeated(1, 2),)


def test_blind_pairs_are_taken_together():
    build = house().room(ROOM).bed("A")
    for first, second in [(True, True)] * 2 + [(True, False)] * 3 + [(False, True)] * 2:
        build.record(BlindPair(ROOM, "anna", moment(1), first, "boris", moment(2), second))
    pairs = learned(build.house, day(9)).pairs
    assert (pairs.first, pairs.second, pairs.both, pairs.total) == (5, 4, 2, 9)
