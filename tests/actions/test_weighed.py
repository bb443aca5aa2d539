"""Rounds by odds: whoever plans, tries, explains or prices does so with the same weights."""

from __future__ import annotations

from dataclasses import replace

from hotelwatch.actions.plan_reading import read_plan
from hotelwatch.actions.rounds import draft_round, weighed, weights_of
from hotelwatch.actions.what_if import prepare_trials
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.round_facts import DayForbidden
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
TODAY, CASE = 95, CaseNo("2026-001")


def an_inn(*facts):
    """Two beds in 101, one in 106 next to a find; minutes for one of the rooms a day."""
    built = house().team("Early", 45, works_on=EVERY_DAY)
    for number in (2, 3, 4, 5):
        built.room(f"10{number}").bed("A").checked("A", day(TODAY - 20))
    built.room("106").bed("A").checked("A", day(0))
    built.room("101").bed("A").checked("A", day(0)).bed("B").checked("B", day(0))
    built.on(20).record(
        Sighted(CASE, RoomNo("105"), "", "", Sign.LIVE_INSECT, 3, "Ana", moment(20)),
        CaseJudged(CASE, Outcome.CONFIRMED, "Dr. Lis", "licence", day(20)),
    )
    return built.record(RuleChosen("rounds_by", "odds"), *facts)


def of(built):
    seen = occupancy(built.house, day(TODAY))
    return built.house, seen, Wish(day(TODAY), 7, moment(TODAY, 6))


def test_the_plan_by_odds_is_another_one_here():
    inn, seen, wish = of(an_inn())
    weights = weights_of(inn, seen, day(TODAY))
    # Else 101 would go first: it saves two late days for each day that it goes sooner.
    assert weights[RoomNo("106")] > 2 * weights[RoomNo("101")]
    by_cycle = an_inn(RuleChosen("rounds_by", "cycle"))
    assert draft_round(inn, seen, wish).slots[0].room == "106"
    assert draft_round(*of(by_cycle)).slots[0].room == "101"
    assert weighed(*of(by_cycle)).weights == {}
    own = replace(wish, weights={RoomNo("101"): 9.0})
    assert weighed(inn, seen, own) == own


def test_as_it_is_what_keeps_rooms_and_the_price_of_a_hand_are_of_the_plan_that_is_shown():
    inn = of(an_inn(DayForbidden(RoomNo("104"), day(TODAY + 1))))
    plan = draft_round(*inn)
    late = plan.proof.overdue_bed_days
    assert (
        late
        == draft_round(*of(an_inn(RuleChosen("rounds_by", "cycle")))).proof.overdue_bed_days + 1
    )
    assert prepare_trials(*inn).as_is.overdue_bed_days == late
    told = read_plan(*inn, plan.slots)
    assert told.late.total == late
    assert [one.overdue_bed_days for one in told.price] == [late, late]
