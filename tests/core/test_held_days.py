"""Days that a supervisor chose or a guest agreed to: what goes before them, and how early.

Worked by hand; day 0 is a Monday. Set-up 6 minutes, a box spring 14, no way to the corridor.
"""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import CheckAsked, Sighted, Sign
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.reasons import reasons
from hotelwatch.core.planning.what_if import Ground, what_if
from hotelwatch.core.round_facts import CheckPinned, VisitArranged
from hotelwatch.core.rounds.outlook import Change
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.wording import language
from hotelwatch.wording.shortfalls import shortfall_sentence
from tests.build import day, house, moment

CASE = CaseNo("2026-001")
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def planned(built, *, is_strict=False):
    wish = Wish(day(0), 14, moment(0, 5), is_strict=is_strict)
    plan = plan_rounds(built.house, occupancy(built.house, day(0)), wish)
    return {slot.room: (slot.on - day(0)).days for slot in plan.slots}, plan


def agreed(built, room, on):
    return built.on(-1).record(VisitArranged(RoomNo(room), day(on), "11:00", "12:00", "ana"))


def inn(minutes):
    return house(corridor_minutes=0).team("blue", minutes, works_on=EVERY_DAY)


@pytest.mark.parametrize("is_strict", [False, True])
def test_what_a_case_asks_for_goes_before_a_look_that_a_guest_agreed_to(is_strict):
    """One visit a day; 102 opens today alone, 101 was agreed for today and opens on day 3."""
    built = inn(20)
    built.room("101").bed("A").checked("A", day(9 - 91))
    built.room("102").bed("A").checked("A", day(-30))
    built.stays(("101", -8, 3), ("102", -8, 0), ("102", 0, 20))
    seen = Sighted(CASE, RoomNo("102"), "", "seats", Sign.DARK_SPOTS, 0, "ana", moment(-1, 7))
    built.record(seen, CheckAsked(CASE, RoomNo("102"), ("sighting",), moment(0, 20)))
    days, plan = planned(agreed(built, "101", 0), is_strict=is_strict)
    assert days["102"] == 0
    assert 3 <= days["101"] <= 9
    assert (plan.proof.overdue_bed_days, plan.left_out) == (0, ())


@pytest.mark.parametrize("is_strict", [False, True])
def test_a_guest_s_day_is_kept_before_routine_looks(is_strict):
    """One visit a day: 102, due on Wednesday too, gives way on the day that 101's guest agreed."""
    built = inn(20)
    for room in ("101", "102"):
        built.room(room).bed("A").checked("A", day(2 - 91))
    built.stays(("101", -8, 20))
    days, _ = planned(agreed(built, "101", 1), is_strict=is_strict)
    assert days["101"] == 1
    assert days["102"] in (0, 2)


def test_a_room_that_opens_sooner_is_not_kept_late_by_what_a_guest_agreed_to():
    """Due on day 2; the guest leaves that day, though the look was agreed for day 4."""
    built = inn(60)
    built.room("101").bed("A").checked("A", day(2 - 91))
    built.stays(("101", -8, 2), ("101", 2, 9))
    days, plan = planned(agreed(built, "101", 4))
    assert (days, plan.proof.overdue_bed_days) == ({"101": 2}, 0)


@pytest.mark.parametrize("looked_on", [-1, -60])
def test_a_supervisor_s_day_is_kept_however_early_the_look_is(looked_on):
    built = inn(60)
    built.room("101").bed("A").checked("A", day(looked_on))
    assert planned(built)[0].get("101") != 5
    built.record(CheckPinned(RoomNo("101"), day(5)))
    assert planned(built)[0]["101"] == 5


def test_a_day_that_a_supervisor_chose_brings_what_it_brings_whatever_the_minutes():
    """Due on day 2, pinned to day 5: late as days 3, 4 and 5 begin."""
    built = inn(60)
    built.room("101").bed("A").checked("A", day(2 - 91)).record(CheckPinned(RoomNo("101"), day(5)))
    _, plan = planned(built)
    assert (plan.proof.overdue_bed_days, plan.proof.fewest) == (3, 3)
    seen, wish = occupancy(built.house, day(0)), Wish(day(0), 14, moment(0, 5))
    assert what_if(Ground(built.house, seen, wish), Change(minutes_percent=500)).fewest == 3


def test_a_sum_that_pins_make_short_names_them():
    """Two visits of 20 minutes kept to one day of 20, due then; without the pins both fit."""
    built = inn(20)
    for room in ("101", "102"):
        built.room(room).bed("A").checked("A", day(2 - 91)).record(
            CheckPinned(RoomNo(room), day(1))
        )
    seen, wish = occupancy(built.house, day(0)), Wish(day(0), 14, moment(0, 5))
    (one,) = reasons(built.house, seen, wish).shortfalls
    assert (one.needed, one.minutes, one.held) == (40, 20, ("101", "102"))
    language.use("en")
    assert "Rooms 101 and 102 are pinned by hand" in shortfall_sentence(one)
