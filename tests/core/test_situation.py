"""The house as a problem of arrays, and a choice back as sheets."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked, Sighted, Sign
from hotelwatch.core.facts import CaseNo, HotelDescribed, RoomNo, RoundPublished
from hotelwatch.core.planning.as_sheets import left_out_of, slots_of, team_days_of
from hotelwatch.core.planning.planner import plan_of, plan_rounds
from hotelwatch.core.planning.problem import NEVER, Choice
from hotelwatch.core.planning.situation import situation_of
from hotelwatch.core.planning.what_if import Ground, what_if
from hotelwatch.core.round_facts import CheckPinned, DayForbidden, TeamPinned
from hotelwatch.core.rounds.outlook import Change
from hotelwatch.core.rounds.plan import WhyNot, Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment
from tests.core.problems import problem

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
CASE = CaseNo("2026-001")
# From the shipped assumptions: 6 minutes a room, 14 a box spring, 12 a bunk, 8 a corridor.
SETUP, BOX, BUNK, WAY = 6, 14, 12, 8


def situation(built, *, days=7, hour=6):
    seen = occupancy(built.house, day(0))
    return situation_of(built.house, seen, Wish(day(0), days, moment(0, hour)))


def an_inn(minutes=120):
    """Two floors; 101 to 103 below, 201 above, due on days 0 to 3."""
    built = house().floors("1", "2").team("blue", minutes, works_on=EVERY_DAY)
    for in_days, (room, floor) in enumerate(
        (("101", "1"), ("102", "1"), ("103", "1"), ("201", "2"))
    ):
        built.room(room, floor=floor).bed("A").checked("A", day(in_days - 91))
    return built


def publish(built, slots, until=6):
    return built.record(RoundPublished(day(0), day(until)), *slots)


# --- the house as arrays ----------------------------------------------------------------------


def test_visits_days_and_corridors_stand_in_arrays():
    built = an_inn().stays(("102", -1, 3))
    problem = situation(built, days=5).problem
    assert problem.rooms == ("101", "102", "103", "201")
    assert problem.days == tuple(day(n) for n in range(5))
    assert problem.minutes.tolist() == [SETUP + BOX] * 4
    assert problem.due.tolist() == [0, 1, 2, 3]
    assert problem.cycle.tolist() == [91] * 4
    assert problem.needs.tolist() == [2] * 4
    assert problem.area[:3].tolist() == [problem.area[0]] * 3
    assert problem.area[3] != problem.area[0]
    # The guest of 102 stays over days 0 to 2 and leaves on day 3.
    assert problem.open[1].tolist() == [False, False, False, True, True]
    assert problem.open[0].all()
    assert problem.team_minutes.tolist() == [[120]] * 5
    assert problem.area_minutes == WAY
    assert problem.shut is None
    assert (problem.was_on == NEVER).all()


def test_a_shift_shuts_rooms_that_open_outside_it():
    built = an_inn().team("late", 100, works_on=EVERY_DAY, from_clock="18:00", until_clock="22:00")
    built.stays(("101", -3, 0), ("101", 0, 9))
    found = situation(built, days=2)
    # 101 is open between departure and arrival only, hours before the late shift.
    row, late = found.problem.rooms.index("101"), found.problem.teams.index("late")
    assert found.problem.shut[row, 0].tolist() == [team == late for team in range(2)]


def test_a_part_is_no_longer_than_what_a_shift_meets_of_an_opening():
    built = house().team("blue", 400, from_clock="12:00", until_clock="20:00", works_on=EVERY_DAY)
    built.room("001")
    for letter in "ABCDEFGHIJKLMNOPQRSTUVWX":
        built.bed(letter, "bunk").checked(letter, day(-91))
    # Somebody else every night: between departure and arrival is all the time there is.
    built.stays(*(("001", n, n + 1) for n in range(-1, 20)))
    seen = occupancy(built.house, day(0))
    opening = seen.opening(RoomNo("001"), day(1))
    assert (opening.from_clock, opening.until_clock) == ("11:00", "15:00")
    found = situation(built)
    # Of the 294 minutes that the room takes, 180 fit between noon and the arrival.
    assert [visit.minutes for visit in found.visits] == [SETUP + 14 * BUNK, SETUP + 10 * BUNK]
    assert sorted(b.bed for visit in found.visits for b in visit.beds) == sorted(built.house.beds)
    assert found.problem.open.all()


def test_pins_forbidden_days_and_published_sheets_are_read():
    built = an_inn().team("red", 60, works_on=EVERY_DAY)
    publish(built, plan_rounds(
        built.house, occupancy(built.house, day(0)), Wish(day(0), 7, moment(0, 6))
    ).slots)  # fmt: skip
    built.record(
        CheckPinned(RoomNo("102"), day(4)),
        TeamPinned(RoomNo("103"), "red"),
        DayForbidden(RoomNo("201"), day(0)),
    )
    problem = situation(built).problem
    row = {room: number for number, room in enumerate(problem.rooms)}
    assert problem.pinned_on[row["102"]] == 4
    assert problem.pinned_on[row["101"]] == NEVER
    assert problem.teams[problem.pinned_team[row["103"]]] == "red"
    assert not problem.open[row["201"], 0]
    assert problem.open[row["201"], 1]
    for number, room in enumerate(problem.rooms):
        (slot,) = (s for slots in built.house.slots.values() for s in slots if s.room == room)
        assert problem.days[problem.was_on[number]] == slot.on
        assert problem.teams[problem.was_team[number]] == slot.team


def test_a_bed_just_looked_at_is_no_part_of_the_next_visit():
    built = house().team("blue", works_on=EVERY_DAY)
    built.room("101").bed("A").bed("B").checked("A", day(-91)).checked("B", day(-1))
    (visit,) = situation(built).visits
    assert [bed.bed for bed in visit.beds] == ["101/A"]
    # Due on the same day they are looked at together.
    built.room("102").bed("A").bed("B").checked("A", day(-91)).checked("B", day(-80))
    two = next(visit for visit in situation(built).visits if visit.room == "102")
    assert [bed.bed for bed in two.beds] == ["102/A", "102/B"]


def test_a_case_asks_and_remembers_only_tries_since_it_asked():
    built = an_inn()
    built.record(
        Sighted(CASE, RoomNo("103"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(0, 1)),
        CheckAsked(CASE, RoomNo("103"), ("sighting",), moment(2)),
    )
    problem = situation(built).problem
    row = problem.rooms.index("103")
    assert problem.is_asked.tolist() == [room == "103" for room in problem.rooms]
    assert problem.due[row] == 2
    assert problem.waits_since[row] < -1000


# --- what is done today -----------------------------------------------------------------------


def test_what_is_done_today_keeps_its_slot_its_minutes_and_its_way():
    built = an_inn(minutes=60)
    first = plan_of(situation(built))
    assert [slot.room for slot in first.slots if slot.on == day(0)] == ["101", "102"]
    publish(built, first.slots)
    built.room("101", order=1).checked("A", day(0))
    found = situation(built)
    assert [slot.room for slot in found.done] == ["101"]
    assert "101" not in found.problem.rooms
    # 20 minutes and the way are spent; the corridor has been gone to.
    assert found.problem.team_minutes[0].tolist() == [60 - SETUP - BOX - WAY]
    assert found.problem.team_minutes[1].tolist() == [60]
    again = plan_of(found)
    assert [slot.room for slot in again.slots if slot.on == day(0)] == ["101", "102"]
    today = again.minutes_by_day[0]
    assert (today.used, today.minutes) == (WAY + 2 * (SETUP + BOX), 60)


# --- a choice as sheets -------------------------------------------------------------------------


@st.composite
def choices(draw):
    """Any choice for the inn with two teams, good or bad."""
    built = an_inn(300).team("red", 300, works_on=EVERY_DAY)
    found = situation(built)
    days = st.integers(NEVER, found.problem.horizon - 1)
    count = found.problem.visits
    on = np.array(draw(st.lists(days, min_size=count, max_size=count)))
    team = np.array(draw(st.lists(st.integers(0, 1), min_size=count, max_size=count)))
    return found, Choice(on, np.where(on == NEVER, NEVER, team))


@settings(deadline=None)
@given(choices())
def test_a_choice_comes_back_as_its_sheets(drawn):
    found, choice = drawn
    problem = found.problem
    slots = slots_of(found, choice)
    told = {(slot.room, slot.on, slot.team) for slot in slots}
    placed = np.flatnonzero(choice.on != NEVER)
    assert told == {
        (problem.rooms[v], problem.days[choice.on[v]], problem.teams[choice.team[v]])
        for v in placed
    }
    assert [(s.on, s.team, s.position) for s in slots] == sorted(
        (s.on, s.team, s.position) for s in slots
    )
    ways = {(s.on, s.team, s.room[0]) for s in slots}
    used = sum(one.used for one in team_days_of(found, slots))
    assert used == sum(problem.minutes[placed]) + WAY * len(ways)
    left = {one.room for one in left_out_of(found, choice)}
    assert left == {problem.rooms[v] for v in range(problem.visits) if choice.on[v] == NEVER}


def test_two_parts_of_a_room_on_one_sheet_are_one_visit_set_up_once():
    built = house().team("blue", SETUP + 2 * BUNK + WAY, works_on=EVERY_DAY).room("001")
    for letter in "ABCD":
        built.bed(letter, "bunk").checked(letter, day(-91))
    found = situation(built)
    assert found.problem.rooms == ("001", "001")
    (slot,) = slots_of(found, Choice(np.array([3, 3]), np.array([0, 0])))
    assert slot.beds == ("001/A", "001/B", "001/C", "001/D")
    assert slot.minutes == SETUP + 4 * BUNK
    one, other = slots_of(found, Choice(np.array([3, 4]), np.array([0, 0])))
    assert {*one.beds, *other.beds} == set(slot.beds)
    (left,) = left_out_of(found, Choice(np.array([3, NEVER]), np.array([0, NEVER])))
    assert (left.why, set(left.only_beds)) == (WhyNot.NO_MINUTES, set(other.beds))


def test_ways_come_out_of_a_teams_minutes():
    built = an_inn(minutes=2 * WAY + 2 * (SETUP + BOX))
    planned = plan_of(situation(built))
    assert all(one.used <= one.minutes for one in planned.minutes_by_day)
    first = [slot.room for slot in planned.slots if slot.on == day(0)]
    assert first == ["101", "102"]
    assert planned.minutes_by_day[0].used == WAY + 2 * (SETUP + BOX)


@pytest.mark.parametrize("minutes", [SETUP + BOX + WAY - 1, SETUP + BOX + WAY])
def test_a_room_whose_way_does_not_fit_is_too_long(minutes):
    planned = plan_of(situation(an_inn(minutes)))
    is_too_long = minutes < SETUP + BOX + WAY
    assert [left.why for left in planned.left_out] == [WhyNot.TOO_LONG] * (4 * is_too_long)
    assert len(planned.slots) == 4 * (not is_too_long)


def test_what_has_passed_of_a_day_s_openings_is_gone():
    """Rooms change hands from 11:00 to 15:00, Vienna (UTC+1); a visit of a bed takes 20 minutes."""
    hours = HotelDescribed("House of tests", "Europe/Vienna", leave_by="11:00", arrive_from="15:00")
    built = house().record(hours).team("blue", 200)
    for room in ("101", "102", "103"):
        built.room(room).bed("A").checked("A", day(-91))
    built.stays(("101", -3, 0), ("101", 0, 20), ("102", -3, 0))

    def open_today(at):
        seen = occupancy(built.house, day(0))
        found = situation_of(built.house, seen, Wish(day(0), 14, at))
        rows = dict(zip(found.problem.rooms, found.problem.open[:, 0], strict=True))
        return sorted(room for room, is_open in rows.items() if is_open)

    assert open_today(moment(0, 5)) == ["101", "102", "103"]
    assert open_today(moment(0, 13) + timedelta(minutes=40)) == ["101", "102", "103"]
    assert open_today(moment(0, 13) + timedelta(minutes=41)) == ["102", "103"]
    # Before midnight nothing is open for so long any more; a plan from another day on is whole.
    assert open_today(moment(0, 22) + timedelta(minutes=45)) == []
    assert open_today(moment(-1, 22) + timedelta(minutes=30)) == ["101", "102", "103"]


def test_each_bed_of_a_room_is_late_from_its_own_due_day():
    """Both rooms are looked at on Friday; of 102 a bed goes along that is due in three weeks."""
    built = house().team("blue", 240, works_on=("fri",))
    for room, looked_at in (("101", -40), ("102", -69)):
        built.room(room).bed("A").checked("A", day(-91)).bed("B").checked("B", day(looked_at))
    seen, wish = occupancy(built.house, day(0)), Wish(day(0), 14, moment(0, 6))
    plan = plan_rounds(built.house, seen, wish)
    assert [(slot.on, slot.beds) for slot in plan.slots] == [
        (day(4), ("101/A",)),
        (day(4), ("102/A", "102/B")),
    ]
    # Beds A are overdue as days 1 to 4 begin, no other ever is.
    assert (plan.proof.overdue_bed_days, plan.proof.fewest) == (2 * 4, 2 * 4)
    outlook = what_if(Ground(built.house, seen, wish), Change())
    assert [day.late_beds for day in outlook.days] == [0, 2, 2, 2, 2] + 9 * [0]


@given(
    st.lists(
        st.tuples(st.integers(-9, 9), st.lists(st.integers(0, 9), min_size=1, max_size=3)),
        min_size=1,
        max_size=4,
    ),
    st.data(),
)
def test_late_bed_days_are_counted_bed_by_bed(rooms, data):
    horizon = 7
    on = data.draw(st.lists(st.integers(-1, horizon - 1), min_size=len(rooms), max_size=len(rooms)))
    most = max(len(lags) for _, lags in rooms)
    lags = np.array([[*lags, *[NEVER] * (most - len(lags))] for _, lags in rooms])
    due = [due for due, _ in rooms]
    one = problem([20] * len(rooms), due, [range(horizon)] * len(rooms), [60] * horizon, lags=lags)
    choice = Choice(np.array(on), np.array(on))
    by_hand = sum(
        due + lag < number and (at == NEVER or at >= number)
        for (due, lags_of), at in zip(rooms, on, strict=True)
        for lag in lags_of
        for number in range(horizon)
    )
    assert one.overdue_bed_days(choice) == by_hand
    assert sum(one.late_beds(choice, day) for day in range(horizon)) == by_hand
