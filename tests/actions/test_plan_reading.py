"""What is read off a round in the background: what it leans on, what a hand costs, why not."""

from __future__ import annotations

import pytest

from hotelwatch.actions.plan_reading import Reading, read_plan
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.progress import Stopped
from hotelwatch.core.round_facts import CheckPinned
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment, rules

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAYS = 14


def read(built, **more):
    seen, wish = occupancy(built.house, day(0)), Wish(day(0), DAYS, moment(0))
    plan = plan_rounds(built.house, seen, wish)
    return plan, read_plan(built.house, seen, wish, plan.slots, **more)


def busy():
    """Ten rooms, eight let for long; the other two are due by day 10, and stand empty from day 3.

    Two bookings without a room begin on days 3 and 9. The team works on Wednesdays, days 2
    and 9: where those guests come and go is our guess, which may not hold for a week.
    """
    built = house().team("blue", 300, works_on=("wed",))
    for number in range(10):
        looked_on = day(10 - 91) if number in (8, 9) else day(-5)
        built.room(f"10{number}").bed("A").checked("A", looked_on)
    built.stays(*((f"10{number}", -5, 20) for number in range(8)))
    return built.stays(("108", -5, 3), ("109", -5, 3), ("", 3, 9), ("", 9, 20))


def test_visits_far_ahead_lean_on_windows_that_bookings_may_close():
    plan, told = read(busy())
    enough = rules().figures.certain_enough.value
    assert told.leanings
    slots = {(slot.on, slot.room) for slot in plan.slots}
    for one in told.leanings:
        assert (one.on, one.room) in slots
        assert one.on == day(9)
        assert one.chance < enough


def test_without_bookings_nothing_is_said_of_windows():
    _plan, told = read(house().team("blue", 60).room("101").bed("A").checked("A", day(-85)))
    assert told.leanings == ()
    assert (told.choices, told.price, told.why) == (0, None, ())


def test_a_pin_that_makes_a_bed_late_costs_its_bed_days():
    built = house().team("blue", 60, works_on=EVERY_DAY)
    built.room("101").bed("A").checked("A", day(3 - 91))
    built.record(CheckPinned("101", day(8)))
    _plan, told = read(built)
    with_hand, without = told.price
    # Due on day 3, pinned to day 8: overdue on the days 4 to 8.
    assert (told.choices, with_hand.overdue_bed_days, without.overdue_bed_days) == (1, 5, 0)


def test_what_a_pin_costs_is_not_worked_out_for_what_is_published(monkeypatch):
    from hotelwatch.core.planning import planner

    built = house().team("blue", 60, works_on=EVERY_DAY).room("101").bed("A")
    built.checked("A", day(3 - 91)).record(CheckPinned("101", day(8)))
    monkeypatch.setattr(planner, "price_of_hand", None)
    _plan, told = read(built, is_published=True)
    assert (told.choices, told.price) == (0, None)


def test_what_its_own_morning_will_add_is_not_told_as_put_off():
    """Two rooms that fall due in the days published, on no sheet yet, with minutes to spare."""
    built = house().team("blue", 60, works_on=EVERY_DAY)
    for number in range(2):
        built.room(f"10{number}").bed("A").checked("A", day(9 - 91))
    seen, wish = occupancy(built.house, day(0)), Wish(day(0), DAYS, moment(0))
    [alone] = read_plan(built.house, seen, wish, ()).why
    assert sorted(alone.rooms) == ["100", "101"]
    assert read_plan(built.house, seen, wish, (), is_published=True).why == ()


def test_without_teams_there_is_nothing_to_weigh():
    built = house().room("101").bed("A").checked("A", day(-5))
    assert read(built)[1] == Reading()


def test_beds_that_nobody_has_looked_at_are_told():
    built = house().team("blue", 60).room("101").bed("A").bed("B").checked("A", day(-5))
    _plan, told = read(built)
    assert (told.first_round.beds, told.first_round.of) == (1, 2)


def test_it_can_be_stopped():
    def stop(_share, _step):
        raise Stopped

    with pytest.raises(Stopped):
        read(busy(), progress=stop)
