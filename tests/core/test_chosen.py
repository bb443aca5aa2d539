"""Sheets read back as a choice say the same of a plan as its proof does."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.facts import RoundPublished
from hotelwatch.core.planning.chosen import choice_of
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.problem import NEVER
from hotelwatch.core.planning.reasons import reasons_of
from hotelwatch.core.planning.shortfall import Binds
from hotelwatch.core.planning.situation import situation_of
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@settings(max_examples=25, deadline=None)
@given(
    looked=st.lists(st.integers(-120, -1), min_size=1, max_size=6),
    minutes=st.integers(25, 80),
    stays=st.lists(st.tuples(st.integers(0, 5), st.integers(0, 6), st.integers(1, 5)), max_size=3),
)
def test_a_plans_sheets_read_back_have_its_overdue_bed_days(looked, minutes, stays):
    built = house().team("blue", minutes, works_on=EVERY_DAY)
    for number, on in enumerate(looked):
        built.room(f"10{number}").bed("A").bed("B").checked("A", day(on)).checked("B", day(on))
    built.stays(
        *(
            (f"10{room}", begin, begin + nights)
            for room, begin, nights in stays
            if room < len(looked)
        )
    )
    seen, wish = occupancy(built.house, day(0)), Wish(day(0), 7, moment(0))
    plan = plan_rounds(built.house, seen, wish)
    situation = situation_of(built.house, seen, wish)
    choice = choice_of(situation, plan.slots)
    problem = situation.problem
    assert problem.overdue_bed_days(choice) == plan.proof.overdue_bed_days
    assert int((choice.on != NEVER).sum()) >= len({slot.room for slot in plan.slots})


def test_what_was_looked_at_with_a_gap_today_is_planned_again_and_counts_where_it_is():
    """Due today, a Monday, and looked at but for its underside; the team is back on Thursday."""
    built = house().team("blue", 240, works_on=("mon", "thu"))
    built.room("101").bed("A").checked("A", day(-91))
    wish = Wish(day(0), 14, moment(0, 5))
    first = plan_rounds(built.house, occupancy(built.house, day(0)), wish)
    built.record(RoundPublished(day(0), day(13)), *first.slots)
    built.checked("A", day(0), seen=["seams"])
    seen = occupancy(built.house, day(0))
    plan = plan_rounds(built.house, seen, wish)
    assert [slot.on for slot in plan.slots] == [day(0), day(3)]
    situation = situation_of(built.house, seen, wish)
    choice = choice_of(situation, plan.slots)
    assert situation.problem.overdue_bed_days(choice) == plan.proof.overdue_bed_days == 3
    why = reasons_of(situation, seen, choice)
    assert why.late.total == why.late.told == 3
    (one,) = why.shortfalls
    assert (one.binds, one.opens_on) == (Binds.LOOKED_TODAY, day(3))


def test_sheets_of_other_days_and_teams_gone_are_no_choice():
    built = house().team("blue", 60, works_on=EVERY_DAY).room("101").bed("A").checked("A", day(-99))
    seen, wish = occupancy(built.house, day(0)), Wish(day(0), 3, moment(0))
    situation = situation_of(built.house, seen, wish)
    plan = plan_rounds(built.house, seen, Wish(day(9), 3, moment(9)))
    assert plan.slots
    assert (choice_of(situation, plan.slots).on == NEVER).all()
