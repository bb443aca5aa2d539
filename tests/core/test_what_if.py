"""What if: each change against what comes of the house with that change written down."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked, Sighted, Sign
from hotelwatch.core.facts import CaseNo, CycleChosen, RoomNo, Scope
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.what_if import Ground, what_if
from hotelwatch.core.rounds.outlook import WHOLE, Change
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment
from tests.core.overdue import overdue_days

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAYS = 14


def ground_of(built):
    return Ground(built.house, occupancy(built.house, day(0)), Wish(day(0), DAYS, moment(0)))


def built_of(looked_on, cycle, *, minutes=60):
    built = house().record(CycleChosen(Scope.HOUSE, "", cycle))
    built.team("blue", minutes, works_on=EVERY_DAY)
    for number, on in enumerate(looked_on):
        built.room(str(101 + number)).bed("A").checked("A", day(on))
    return built


def test_half_the_cycle_wants_rooms_that_no_plan_of_today_would_look_at():
    """Last seen on day -20, due on day 40; by half the cycle on day 10, late on 11, 12, 13."""
    ground = ground_of(built_of([-20] * 4, 60))
    nobody = Change(minutes_percent=0, cycle_percent=50)
    assert [one.late_beds for one in what_if(ground, nobody).days] == [0] * 11 + [4] * 3
    assert what_if(ground, nobody).overdue_bed_days == 12
    assert what_if(ground, Change(cycle_percent=50)).overdue_bed_days == 0
    assert what_if(ground, Change(minutes_percent=0)).overdue_bed_days == 0


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(-70, -1), min_size=1, max_size=8),
    st.integers(10, 70),
    st.sampled_from([25, 50, 80, 95, 120, 200]),
)
def test_without_minutes_beds_are_late_as_counted_from_their_last_looks(looked_on, cycle, percent):
    """Counted for each bed by itself, without the planner; a day counts as it begins."""
    outlook = what_if(
        ground_of(built_of(looked_on, cycle)), Change(minutes_percent=0, cycle_percent=percent)
    )
    for number, told in enumerate(outlook.days):
        span = {"from_on": day(number), "until_on": day(number)}
        chosen = max(1, cycle * percent // 100)
        late = sum(overdue_days([day(on)], chosen, **span) for on in looked_on)
        assert told.late_beds == late


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.integers(-70, -1), min_size=1, max_size=8),
    st.integers(10, 70),
    st.sampled_from(
        [(0, WHOLE, 50), (0, WHOLE, 80), (0, WHOLE, 150), (0, 200, WHOLE), (1, 50, 60)]
    ),
)
def test_it_says_what_the_plan_says_once_the_change_is_made(looked_on, cycle, change):
    teams, minutes, percent = change
    told = what_if(
        ground_of(built_of(looked_on, cycle)), Change(teams, minutes, cycle_percent=percent)
    )
    made = built_of(looked_on, max(1, cycle * percent // WHOLE), minutes=60 * minutes // WHOLE)
    if teams:
        made.team("green", 60 * minutes // WHOLE, works_on=EVERY_DAY)
    seen = occupancy(made.house, day(0))
    plan = plan_rounds(made.house, seen, Wish(day(0), DAYS, moment(0)))
    assert told.overdue_bed_days == plan.proof.overdue_bed_days
    rooms = [sum(slot.on == one.on for slot in plan.slots) for one in told.days]
    assert [one.rooms for one in told.days] == rooms


def test_other_cycles_are_read_once_and_leave_the_house_as_it_is():
    ground = ground_of(built_of([-20] * 4, 60))
    entries = max(ground.house.entries)
    halved = ground.situation(50)
    assert ground.situation(50) is halved
    assert ground.situation() is ground.situation()
    assert ground.situation(80) is not halved
    assert max(ground.house.entries) == entries
    assert ground.house.cycle_of("101") == 60


def test_rooms_left_unsold_are_those_that_have_no_other_day_in_time():
    """One guest stays past the due day, in each of two rooms: a room a day saves all of it."""
    built = built_of([-30, -30], 35)
    built.stays(("101", -2, 12), ("102", -2, 12))
    ground = ground_of(built)
    # Due on day 5; the guests leave on day 12: six late days, from 6 on, and 12's own morning.
    assert what_if(ground, Change()).overdue_bed_days == 2 * (12 - 5)
    assert what_if(ground, Change(keeps_rooms=1)).overdue_bed_days == 0


@pytest.mark.parametrize("percent", [50, WHOLE, 150])
def test_a_deadline_of_a_case_is_no_cycle(percent):
    built = built_of([-20], 60)
    case = CaseNo("2026-001")
    sign = Sighted(case, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(0, 1))
    built.record(sign, CheckAsked(case, RoomNo("101"), ("sighting",), moment(1)))
    told = what_if(ground_of(built), Change(minutes_percent=0, cycle_percent=percent))
    assert [one.late_beds for one in told.days] == [0, 0] + [1] * (DAYS - 2)
