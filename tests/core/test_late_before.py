"""What is late before a plan begins, worked by hand; rooms late for one cause told together."""

from __future__ import annotations

import pytest

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import CycleChosen, RoomNo, Scope
from hotelwatch.core.planning.late_before import LateSum
from hotelwatch.core.planning.planner import plan_of
from hotelwatch.core.planning.reasons import reasons
from hotelwatch.core.planning.shortfall import Binds, Shortfall
from hotelwatch.core.planning.situation import situation_of
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.wording import language
from hotelwatch.wording.late_before import (
    ADVICE,
    TOGETHER,
    late_before_sentence,
    late_sum_sentence,
    told_together,
)
from tests.build import day, house, moment

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def inn(*stays, minutes=42, days=10, later=0):
    """Three rooms of 20 minutes (set-up 6, a box spring 14), due on days -1 to -3, or later."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 30))
    built.team("blue", minutes, works_on=EVERY_DAY)
    for number in (1, 2, 3):
        built.room(f"10{number}").bed("A").checked("A", day(later - 30 - number))
    built.stays(*stays)
    return built.house, occupancy(built.house, day(0)), Wish(day(0), days, moment(0, 6))


def found(*stays, **more):
    return reasons(*inn(*stays, **more))


def test_a_backlog_that_minutes_bind():
    late = found().late_before
    assert (late.rooms, late.beds, late.minutes) == (3, 3, 60)
    # Due on day -3, the oldest is late from day -2 on; 42 minutes a day, so 84 by day 1.
    assert (late.since_on, late.done_on, late.had_minutes) == (day(-2), day(1), 84)
    language.use("en")
    said = late_before_sentence(late)
    assert "3 beds, the oldest since Sat 3 Jan, 60 minutes" in said
    assert "too few minutes to catch up before Tue 6 Jan" in said


def test_late_days_of_a_backlog_and_of_reasons_add_up_to_the_plan_s():
    # 20 minutes a room and 8 of walking, 42 a day: one room a day, on days 0, 1 and 2. Each
    # day up to that of its look is a late day of a bed that is late already: 1 + 2 + 3.
    told = found()
    assert told.late_before.overdue_bed_days == 6
    assert told.late == LateSum(total=6, already=6, told=0, outside=0)
    language.use("en")
    assert "On these days that is 6 late days." in late_before_sentence(told.late_before)
    assert late_sum_sentence(told.late) == (
        "Late days within the days planned: 6, all of beds late already."
    )


def test_a_room_that_waits_longer_than_its_opening_asks_for_is_counted_apart():
    """Due on days 4, 3 and 2; two open on day 6, one on none of ten days: 2 + 3 + 7."""
    stays = ("101", -5, 6), ("102", -5, 6), ("103", -5, 60)
    assert found(*stays, minutes=48, later=5).late == LateSum(12, 0, 12, 0)
    # With 42 minutes a day only one of the two is done on day 6; the other waits a day more.
    late = found(*stays, later=5).late
    assert (late.total, late.told, late.others) == (13, 12, 1)


@pytest.mark.parametrize("minutes", [42, 48, 120])
@pytest.mark.parametrize("later", [0, 2, 5])
def test_the_sum_is_what_a_reading_of_the_plan_day_by_day_counts(minutes, later):
    situation = situation_of(*inn(("101", -5, 6), ("103", -5, 60), minutes=minutes, later=later))
    looked = {bed: slot.on for slot in plan_of(situation).slots for bed in slot.beds}
    due = {look.bed: look.due_on for look in looks(situation.house, day(0))}
    counted = sum(
        due_on < on <= looked.get(bed, on) for bed, due_on in due.items() for on in situation.days
    )
    late = found(("101", -5, 6), ("103", -5, 60), minutes=minutes, later=later).late
    assert late.total == counted
    assert min(late.already, late.told, late.others) >= 0


def test_a_sum_of_late_days_says_what_it_holds():
    language.use("en")
    assert late_sum_sentence(LateSum(0, 0, 0, 0)) == ""
    assert late_sum_sentence(LateSum(14, 8, 6, 0)) == (
        "Late days within the days planned: 14 = 8 of beds late already + 6 of the rooms below."
    )
    assert late_sum_sentence(LateSum(20, 8, 6, 3)) == (
        "Late days within the days planned: 20 = 8 of beds late already + 6 of the rooms below"
        " + 6 more than these reasons bring by themselves. 3 late days of beds that no team of"
        " these days may or can look at."
    )
    assert late_sum_sentence(LateSum(5, 0, 6, 0)) == "Late days within the days planned: 5."


def test_a_backlog_that_openings_bind():
    late = found(("101", -5, 6)).late_before
    assert (late.done_on, late.is_minutes) == (day(6), False)
    shut = found(("101", -5, 60)).late_before
    assert (shut.done_on, shut.shut, shut.is_minutes) == (None, ("101",), False)
    assert found(days=1).late_before.done_on is None
    # Whether guests or days off are in the way is told with the room; here it may be either.
    language.use("en")
    assert "Room 101 can't be entered on any of these days while a team that can do it works." in (
        late_before_sentence(shut)
    )


def test_rooms_that_open_on_one_day_are_told_together_and_add_up():
    shortfalls = found(("101", -5, 6), ("102", -5, 6), ("103", -5, 60), later=5).shortfalls
    language.use("en")
    told = told_together(shortfalls)
    both = next((said, some) for said, some in told if len(some) > 1)
    # Due on days 4 and 3, looked at on day 6 at the earliest: 2 and 3 bed-days.
    assert sorted(one.overdue_bed_days for one in both[1]) == [2, 3]
    assert "The first day for them is Sun 11 Jan: 5 late days" in both[0]
    assert both[0].startswith("2 rooms can't be entered")
    for one in both[1]:
        assert f"{one.rooms[0]} (due " in both[0]
    assert sum(len(some) for _, some in told) == len(shortfalls)
    # What is late for longest is told first.
    late = [sum(one.overdue_bed_days for one in some) for _, some in told]
    assert len(late) > 1
    assert late == sorted(late, reverse=True)


def test_a_room_in_several_visits_is_told_as_one():
    one, other = (
        Shortfall(
            binds=Binds.NO_OPENING,
            rows=(row,),
            rooms=(RoomNo("101"),),
            days=(),
            until_on=day(row),
            needed=20,
            minutes=0,
            overdue_bed_days=row,
        )
        for row in (2, 3)
    )
    language.use("en")
    ((said, some),) = told_together([one, other])
    assert said.startswith("Room 101 can't be entered")
    assert "at least 5 late days" in said
    assert some == (one, other)


def test_rooms_that_open_on_a_day_off_are_told_together_with_that_day():
    """Empty on the weekend alone, when nobody works; due on Sunday and Saturday before."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 30)).team("blue", 200)
    for number in (1, 2):
        room = f"10{number}"
        built.room(room).bed("A").checked("A", day(7 - 30 - number))
        built.stays((room, -5, 5), (room, 6, 60))
    shortfalls = reasons(
        built.house, occupancy(built.house, day(0)), Wish(day(0), 10, moment(0, 6))
    ).shortfalls
    ((said, some),) = told_together(shortfalls)
    assert len(some) == 2
    assert said.startswith("2 rooms can be entered by their due day, but only while no team")
    # Days 5 and 6; due on those too, and on none of ten days looked at: 3 and 4 late days.
    assert "works (Sat 10 Jan and Sun 11 Jan). None of these days will do: at least 7 late" in said
    assert "102 (due Sat 10 Jan, 4), 101 (due Sun 11 Jan, 3)" in said


def test_whatever_is_told_together_has_its_sentence_and_what_would_mend_it():
    assert set(TOGETHER) == set(ADVICE)
