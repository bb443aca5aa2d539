"""What if: each change against what comes of the house with that change written down."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked, Sighted, Sign
from hotelwatch.core.facts import (
    CaseNo,
    CycleChosen,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.planning import what_if as tried
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.problem import NEVER, Choice
from hotelwatch.core.planning.rolling import Rolled
from hotelwatch.core.planning.what_if import Ground, what_if
from hotelwatch.core.round_facts import CheckPinned, DayForbidden, TeamDaysChanged
from hotelwatch.core.rounds.outlook import WHOLE, Change
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
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


def test_what_is_done_today_takes_its_minutes_once_however_many_the_day_has():
    built = built_of([-70, -70], 60, minutes=90)
    sheet = SlotPublished(day(0), TeamName("blue"), 1, RoomNo("102"), ("102/A",), 20)
    built.record(RoundPublished(day(0), day(0)), sheet).checked("A", day(0))
    # 20 minutes for the room and 8 for the way are spent, as resources/parameters.toml says.
    twice = what_if(ground_of(built), Change(minutes_percent=200)).days[0]
    assert what_if(ground_of(built), Change()).days[0].minutes == 62
    assert twice.minutes == 180 - 28
    assert what_if(ground_of(built), Change(minutes_percent=10)).days[0].minutes == 0


def test_rooms_that_come_due_once_more_are_counted_as_such():
    built = built_of([-20, -5], 10)
    # Both are looked at on the first day and due again ten days later, within fourteen.
    assert what_if(ground_of(built), Change()).again == 2
    assert what_if(ground_of(built), Change(cycle_percent=200)).again == 0


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


def let(built, *rooms, until=12):
    """Guests in rooms from day -2 until a day."""
    return built.stays(*((room, -2, until) for room in rooms))


def late_days(built, **change):
    return what_if(ground_of(built), Change(**change)).overdue_bed_days


def test_a_room_is_kept_for_a_day_on_which_somebody_can_look_at_its_bed():
    """A box spring takes two people. They work on Wednesdays: days 2 and 9; it is due on day 5."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 35))
    built.team("alone", 60, people=1, works_on=EVERY_DAY).team("pair", 60, works_on=("wed",))
    let(built.room("101").bed("A").checked("A", day(-30)), "101", until=20)
    # Late on the days 6 to 13.
    assert late_days(built) == 8
    assert late_days(built, keeps_rooms=1) == 0


def test_no_more_rooms_are_kept_on_a_day_than_its_minutes_are_for():
    """Three rooms late already; 28 minutes are one room of 20 and a way of 8, so one a day.

    As things are one is looked at on day 12, one on 13, one never. A day counts as it begins,
    the last one with what nobody looks at.
    """
    built = let(built_of([-50] * 3, 35, minutes=28), "101", "102", "103")
    assert late_days(built) == 13 + 14 + 14
    for rooms in (1, 2, 5):
        assert late_days(built, keeps_rooms=rooms) == 1 + 2 + 3


def test_a_room_kept_drives_out_none_that_cannot_wait():
    """One room a day. 101 can be entered on day 5 alone, its last; 102 is let, due on day 5 too.

    102 is kept for the day before, not for the same.
    """
    built = built_of([-30, -30], 35, minutes=28)
    built.stays(("101", -2, 5), ("101", 5, 20), ("102", -2, 20))
    assert late_days(built) == 8
    assert late_days(built, keeps_rooms=1) == 0


def test_no_room_is_kept_on_a_day_that_is_forbidden_for_it():
    """Late already: kept for day 3, the first that is not forbidden; 0 to 3 are late days."""
    built = let(built_of([-50], 35), "101")
    built.record(*(DayForbidden(RoomNo("101"), day(number)) for number in range(3)))
    assert late_days(built, keeps_rooms=1) == 4


def test_a_pinned_room_is_kept_for_its_day():
    built = let(built_of([-50], 35), "101").record(CheckPinned(RoomNo("101"), day(6)))
    assert late_days(built, keeps_rooms=1) == 7


def test_a_room_is_kept_from_the_day_on_which_it_may_be_entered_again():
    """Late already, treated and shut until day 3: 0 to 3 are late days."""
    built = let(built_of([-50], 35), "101")
    treated = (CaseNo("2026-001"), RoomNo("101"), day(-1), "heat", "a firm", "L-1", moment(3))
    built.record(TreatmentRecorded(*treated))
    assert late_days(built, keeps_rooms=1) == 4


def test_a_room_that_is_kept_can_be_entered_all_the_shift():
    """Due on day 5, let until day 20; the shift is over before any guest has to leave."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 35))
    built.team("blue", 60, works_on=EVERY_DAY, from_clock="08:00", until_clock="09:00")
    let(built.room("101").bed("A").checked("A", day(-30)), "101", until=20)
    assert late_days(built) == 8
    assert late_days(built, keeps_rooms=1) == 0


def test_as_things_are_it_says_what_the_plan_says_of_hours_too():
    """Five rooms change guests on day 1, their last: open from 11:00, the shift ends at 12:00.

    Three visits of 20 minutes fit; two rooms are late on the days 2 to 13.
    """
    built = house().record(CycleChosen(Scope.HOUSE, "", 35))
    built.team("blue", 240, works_on=EVERY_DAY, from_clock="08:00", until_clock="12:00")
    for number in range(101, 106):
        built.room(str(number)).bed("A").checked("A", day(-34))
        built.stays((str(number), -2, 1), (str(number), 1, 20))
    seen = occupancy(built.house, day(0))
    plan = plan_rounds(built.house, seen, Wish(day(0), DAYS, moment(0)))
    assert late_days(built) == plan.proof.overdue_bed_days == 2 * 12


def test_what_is_done_as_things_are_stands_where_a_change_can_only_help(monkeypatch):
    """A planner that from here on plans nothing: two rooms due on day 5, late on 6 to 13."""
    ground = ground_of(built_of([-30, -30], 35))
    assert ground.choice().on.tolist() != [NEVER, NEVER]
    nothing = np.full(2, NEVER)
    monkeypatch.setattr(tried, "filled", lambda *_: Rolled(Choice(nothing, nothing), nothing > 0))
    for helps in (Change(teams=1), Change(minutes_percent=110), Change(keeps_rooms=1)):
        assert what_if(ground, helps).overdue_bed_days == 0
    for harms in (Change(teams=-1), Change(minutes_percent=90)):
        assert what_if(ground, harms).overdue_bed_days == 2 * 8


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(-70, -1), st.integers(-9, 9), st.integers(1, 20)),
        min_size=1,
        max_size=9,
    ),
    st.sampled_from([Change(1), Change(0, 110), Change(0, 150), Change(keeps_rooms=1)]),
)
def test_more_hands_minutes_or_rooms_bring_no_late_days(rooms, change):
    built = built_of([on for on, _, _ in rooms], 35, minutes=48)
    built.stays(*((str(101 + n), at, at + nights) for n, (_, at, nights) in enumerate(rooms)))
    ground = ground_of(built)
    as_is, with_it = what_if(ground, Change()), what_if(ground, change)
    assert with_it.overdue_bed_days <= as_is.overdue_bed_days
    assert with_it.fewest <= with_it.overdue_bed_days


@pytest.mark.parametrize("percent", [50, WHOLE, 150])
def test_a_deadline_of_a_case_is_no_cycle(percent):
    built = built_of([-20], 60)
    case = CaseNo("2026-001")
    sign = Sighted(case, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(0, 1))
    built.record(sign, CheckAsked(case, RoomNo("101"), ("sighting",), moment(1)))
    told = what_if(ground_of(built), Change(minutes_percent=0, cycle_percent=percent))
    assert [one.late_beds for one in told.days] == [0, 0] + [1] * (DAYS - 2)


def test_a_way_made_this_morning_is_not_counted_again():
    """110 minutes less 30 of 200, looked at: the rest of its corridor takes four of 20."""
    built = house(corridor_minutes=10).team("blue", 110, works_on=EVERY_DAY)
    for number in range(200, 208):
        built.room(str(number)).bed("A").checked("A", day(-150))
    built.record(
        RoundPublished(day(0), day(0)),
        SlotPublished(day(0), TeamName("blue"), 1, RoomNo("200"), ("200/A",), 20),
    )
    built.room("200", order=1).checked("A", day(0))
    today = what_if(ground_of(built), Change()).days[0]
    assert (today.rooms, today.used, today.minutes) == (4, 80, 80)


def test_two_parts_of_a_room_on_one_sheet_are_set_up_once():
    """Three beds of 14 minutes, set-up 6: parted for the usual day of 40, together on 120."""
    built = house(corridor_minutes=0).team("blue", 40, works_on=EVERY_DAY).room("101")
    for bed in "ABC":
        built.bed(bed).checked(bed, day(-95))
    built.record(TeamDaysChanged(TeamName("blue"), day(0), day(0), 120, ""))
    ground = ground_of(built)
    (slot,) = plan_rounds(built.house, ground.occupancy, ground.wish).slots
    today = what_if(ground, Change()).days[0]
    assert (today.rooms, today.used) == (1, slot.minutes) == (1, 48)


def test_a_team_that_can_look_at_no_bed_is_neither_counted_nor_let_go_first():
    """A supervisor alone, last by name; the bed needs two people."""
    built = built_of([-95, -95], 91, minutes=20).team("zoe", 45, people=1, works_on=EVERY_DAY)
    ground = ground_of(built)
    assert [one.minutes for one in what_if(ground, Change()).days] == [20] * DAYS
    assert [one.minutes for one in what_if(ground, Change(teams=1)).days] == [40] * DAYS
    assert [one.rooms for one in what_if(ground, Change(teams=-1)).days] == [0] * DAYS
