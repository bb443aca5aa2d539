"""Looks after those planned, where a cycle is short enough for more than one in a plan.

Lateness is counted over all looks of a bed by ``overdue_days``, which knows no planner.
Set-up 6 minutes, a box spring 14; day 0 is a Monday.
"""

from __future__ import annotations

from collections import defaultdict
from datetime import timedelta
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import QuarantinePlaced
from hotelwatch.core.checks.walked import ways_minutes
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.facts import (
    CycleChosen,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    Scope,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import SeasonNoted
from hotelwatch.core.rounds.draft import draft_rows
from hotelwatch.core.rounds.mending import mended
from hotelwatch.core.rounds.moving import Hindrance, Moving, Target, swapped
from hotelwatch.core.rounds.plan import WhyNot, Wish
from hotelwatch.core.rounds.team_days import drafted_round, team_days
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment
from tests.core.overdue import overdue_days
from tests.core.test_planner import CASE, EVERY_DAY, ask, houses


def weekly(minutes=60, works_on=EVERY_DAY, **figures):
    """A team and one room whose bed is due today and then every seventh day."""
    figures = {"corridor_minutes": 0, "early_share": 0} | figures
    built = house(**figures).record(CycleChosen(Scope.HOUSE, "", 7))
    built.team("blue", minutes, works_on=works_on)
    return another(built, "101")


def another(built, room, *, due_in=0, cycle=7):
    built.room(room).bed("A").checked("A", day(due_in - cycle))
    return built.record(CycleChosen(Scope.ROOM, room, cycle))


def plan(built, days=28, *, is_strict=False):
    wish = Wish(day(0), days, moment(0, 6), is_strict=is_strict)
    return plan_rounds(built.house, occupancy(built.house, day(0)), wish)


def looks(planned):
    """Room, day, day by which it is due; in days from today."""
    return [
        (one.slot.room, (one.slot.on - day(0)).days, (one.due_on - day(0)).days)
        for one in planned.again
    ]


@pytest.mark.parametrize("is_strict", [False, True])
def test_a_room_of_every_seventh_day_stands_four_times_in_four_weeks(is_strict):
    planned = plan(weekly(), is_strict=is_strict)
    assert [(slot.room, slot.on) for slot in planned.slots] == [("101", day(0))]
    assert looks(planned) == [("101", 7, 7), ("101", 14, 14), ("101", 21, 21)]
    assert (planned.proof.again, planned.proof.again_in_time) == (3, 3)
    assert planned.left_again == ()


@pytest.mark.parametrize(("days", "expected"), [(7, []), (8, [("101", 7, 7)])])
def test_what_comes_due_on_the_last_day_is_looked_at_then(days, expected):
    """Of eight days the last is the seventh after today."""
    assert looks(plan(weekly(), days)) == expected


def test_what_is_planned_already_is_not_moved_for_them():
    """One visit each Monday: the second one goes to the other room, the third one is too late."""
    built = another(weekly(20, works_on=("mon",)), "102", due_in=7, cycle=90)
    planned = plan(built)
    assert [(slot.room, slot.on) for slot in planned.slots] == [("101", day(0)), ("102", day(7))]
    assert looks(planned) == [("101", 14, 7), ("101", 21, 21)]
    assert (planned.proof.again, planned.proof.again_in_time) == (2, 1)
    assert planned.proof.overdue_bed_days == 0


def test_what_finds_no_day_is_named_with_its_due_day():
    built = weekly(early_share=0.25).stays(("101", 1, 40))
    planned = plan(built)
    assert planned.again == ()
    assert [(one.room, one.due_on, one.why) for one in planned.left_again] == [
        ("101", day(7), WhyNot.SHUT_AGAIN)
    ]
    assert planned.left_out == ()
    assert (planned.proof.again, planned.proof.again_in_time) == (1, 0)


def test_a_room_in_quarantine_is_looked_at_for_its_case_alone():
    built = weekly().record(QuarantinePlaced(RoomNo("101"), CASE, moment(-1), "sighting"))
    ask(built, "101")
    planned = plan(built)
    assert [slot.asked_by for slot in planned.slots] == [CASE]
    assert (planned.again, planned.left_again, planned.proof.again) == ((), (), 0)


def test_a_look_that_a_case_asked_for_is_followed_by_a_usual_one():
    planned = plan(ask(weekly(), "101"), days=14)
    assert [slot.asked_by for slot in planned.slots] == [CASE]
    assert [one.slot.asked_by for one in planned.again] == [""]


def test_a_sheet_keeps_its_hours_with_what_stands_there_already():
    """Rooms open from 11, the shift ends at 12: three visits of 20 minutes, not four."""
    built = weekly(250, works_on=())
    built.record(HotelDescribed("House of tests", "Europe/Vienna", leave_by="11:00"))
    shift = {"from_clock": "06:00", "until_clock": "12:00"}
    built.record(TeamDescribed(TeamName("blue"), 2, 250, ("mon",), **shift))
    nights = [(-3, 0), (0, 7), (7, 40)]
    built.stays(*(("101", *night) for night in nights))
    for room in ("102", "103", "104"):
        another(built, room, due_in=7, cycle=90)
        built.stays((room, -3, 7), (room, 7, 40))
    planned = plan(built)
    that_day = [slot for slot in planned.slots if slot.on == day(7)]
    assert len(that_day) == 3
    assert looks(planned) == []
    assert [one.room for one in planned.left_again] == ["101"]


def test_what_is_done_today_is_no_look_that_comes_again():
    """Two of three published rooms are done or let by now: the one left has another place."""
    built = weekly(160)
    for room in ("102", "103"):
        another(built, room)
    first = plan(built)
    built.record(RoundPublished(first.from_on, first.until_on), *first.slots)
    built.room("103", order=3).checked("A", day(0)).stays(("101", -1, 30))
    planned = plan(built)
    assert {slot.room for slot in planned.slots if slot.on == day(0)} == {"102", "103"}
    assert {room for room, *_ in looks(planned)} == {"102", "103"}


# --- where a draft is looked at -----------------------------------------------------------------


def test_a_draft_shows_them_among_its_rooms_and_its_papers_too():
    built = another(weekly(), "102", due_in=7, cycle=90)
    planned = plan(built)
    rows = draft_rows(built.house, occupancy(built.house, day(0)), planned, now=moment(0))
    shown = [(row.on, row.room, row.is_again) for row in rows]
    assert shown == [
        (day(0), "101", False),
        (day(7), "101", True),
        (day(7), "102", False),
        (day(14), "101", True),
        (day(21), "101", True),
    ]
    assert [row.due_on for row in rows if row.is_again] == [day(7), day(14), day(21)]
    page = team_days(built.house, drafted_round(planned))
    assert [len(one.rooms) for one in page if one.rooms] == [1, 2, 1, 1]
    assert {slot.room for slot in planned.slots} == {"101", "102"}


def test_a_hand_moves_the_look_before_and_not_what_follows_it():
    built = weekly()
    built.team("red", works_on=EVERY_DAY)
    seen = occupancy(built.house, day(0))
    planned = plan(built)
    first, *again = draft_rows(built.house, seen, planned, now=moment(0))
    moving = Moving(built.house, seen, today=day(0), now=moment(0))
    to = Target(day(3), TeamName("red"))
    assert moving.hindrance(first, to) is None
    assert {moving.hindrance(row, to) for row in again} == {Hindrance.COMES_AGAIN}
    assert swapped((first, *again), (), (TeamName("blue"), TeamName("red"))) == {"101": "red"}


def test_a_first_answer_to_a_change_leaves_out_what_followed_the_look_that_changed():
    built = another(weekly(), "102")
    planned = plan(built)
    built.stays(("101", -1, 30))
    seen = occupancy(built.house, day(0))
    after = mended(built.house, seen, planned, rooms={RoomNo("101")}, today=day(0))
    assert {one.slot.room for one in after.again} == {"102"}


# --- laws -----------------------------------------------------------------------------------------


@settings(deadline=None)
@given(houses(), st.integers(9, 40), st.sampled_from([0, 7]))
def test_looks_that_follow_keep_every_rule(built, days, way):
    built.record(FigureChosen("corridor_minutes", way, "measured"))
    planned, hotel = plan(built, days), built.house
    seen = occupancy(hotel, day(0))
    sheets, of_room = defaultdict(list), defaultdict(list)
    for slot in (*planned.slots, *(one.slot for one in planned.again)):
        sheets[slot.on, slot.team].append(slot)
        of_room[slot.room].append(slot.on)
    for (on, team), slots in sheets.items():
        used = sum(slot.minutes for slot in slots)
        used += ways_minutes(hotel, (slot.room for slot in slots))
        assert used <= hotel.teams[team].minutes
        assert EVERY_DAY[on.weekday()] in hotel.teams[team].works_on
        assert len({slot.room for slot in slots}) == len(slots)
    for one in planned.again:
        cycle = timedelta(days=hotel.cycle_of(one.slot.room))
        before = [on for on in of_room[one.slot.room] if on < one.slot.on]
        assert max(before) + cycle == one.due_on
        assert one.slot.on - max(before) >= timedelta(days=ceil(0.25 * cycle.days))
        assert seen.opening(one.slot.room, one.slot.on) is not None
        assert one.slot.room not in hotel.quarantined(moment(0, 6))
    for left in planned.left_again:
        last = max(of_room[left.room])
        assert last + timedelta(days=hotel.cycle_of(left.room)) == left.due_on < day(days)
    assert planned.proof.again == len(planned.again) + len(planned.left_again)


@settings(deadline=None)
@given(houses(), st.integers(9, 40))
def test_late_days_of_all_looks_are_those_of_first_ones_and_of_what_follows(built, days):
    planned, hotel = plan(built, days), built.house
    until, total = day(days - 1), 0
    followed = {one.slot.room for one in planned.again} | {one.room for one in planned.left_again}
    for room in followed:
        firsts = [slot.on for slot in planned.slots if slot.room == room]
        looked_on = firsts + [one.slot.on for one in planned.again if one.slot.room == room]
        cycle = hotel.cycle_of(room)
        total += overdue_days(looked_on, cycle, from_on=day(0), until_on=until)
    again = sum(max(0, (one.slot.on - one.due_on).days) for one in planned.again)
    never = sum((until - one.due_on).days for one in planned.left_again)
    assert total == again + never


def test_a_season_brings_the_look_after_the_planned_one_forward():
    """Cycles run twice as fast from day 4 on: 28 days are over on day 16, and 14 days later."""
    built = house(corridor_minutes=0, early_share=0).record(CycleChosen(Scope.HOUSE, "", 28))
    built.team("blue", 60, works_on=EVERY_DAY)
    another(built, "101", cycle=28)
    built.record(SeasonNoted("trade fair", day(5), day(60), 100))
    assert looks(plan(built, 40)) == [("101", 16, 16), ("101", 30, 30)]
