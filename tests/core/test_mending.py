"""A plan's first answer to a change: only what changed is looked at anew."""

from __future__ import annotations

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import CheckPinned, DayForbidden, TeamPinned
from hotelwatch.core.rounds.mending import mended
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

BLUE, RED = TeamName("blue"), TeamName("red")


def hotel():
    built = house(corridor_minutes=8).team("blue", 60).team("red", 60)
    for number in range(1, 9):
        built.room(f"10{number}").bed("A").checked("A", day(number - 92))
    return built


def plan(built):
    return plan_rounds(built.house, occupancy(built.house, day(0)), Wish(day(0), 7, moment(0, 6)))


def after(built, planned, *rooms):
    seen = occupancy(built.house, day(0))
    return mended(built.house, seen, planned, rooms=[RoomNo(r) for r in rooms], today=day(0))


def stands(planned):
    return {slot.room: (slot.on, slot.team) for slot in planned.slots}


def test_nothing_that_changed_changes_nothing():
    built = hotel()
    planned = plan(built)
    assert after(built, planned) is planned
    assert after(built, planned, "101", "105") == planned


def test_a_pinned_room_goes_to_its_day_and_team_and_the_sums_follow():
    built = hotel()
    planned = plan(built)
    built.record(CheckPinned(RoomNo("101"), day(3), "red"))
    now = after(built, planned, "101")
    assert stands(now) == {**stands(planned), "101": (day(3), RED)}
    for one in now.minutes_by_day:
        sheet = [slot for slot in now.slots if (slot.on, slot.team) == (one.on, one.team)]
        assert one.used == sum(slot.minutes for slot in sheet) + (8 if sheet else 0)
        assert [slot.position for slot in sheet] == list(range(1, len(sheet) + 1))
    built.record(TeamPinned(RoomNo("102"), "blue"))
    assert stands(after(built, now, "102"))["102"][1] == BLUE


def test_what_was_looked_at_or_cannot_be_entered_any_more_leaves_the_plan():
    built = hotel()
    planned = plan(built)
    later = [room for room, (on, _) in stands(planned).items() if on > day(0)]
    assert later
    built.room(later[0], order=int(later[0][-1])).checked("A", day(0))
    assert later[0] not in stands(after(built, planned, later[0]))
    today = [room for room, (on, _) in stands(planned).items() if on == day(0)]
    built.record(DayForbidden(RoomNo(today[0]), day(0)))
    now = after(built, planned, today[0])
    assert today[0] not in stands(now)
    assert (day(0), RoomNo(today[0])) not in now.firm
    assert len(now.slots) == len(planned.slots) - 1


def test_a_pin_is_promised_at_once_as_it_is_once_planned_anew():
    built = hotel()
    planned = plan(built)
    built.record(CheckPinned(RoomNo("108"), day(4), "red"))
    now = after(built, planned, "108")
    assert (day(4), RoomNo("108")) in now.firm & plan(built).firm


def test_parts_of_a_room_that_come_to_one_sheet_are_one_visit():
    """Set-up 6 minutes, a box spring 14: two beds take 34, of a day of 40; the third one waits."""
    built = house(corridor_minutes=0).team("blue", 40).room("101")
    for bed in "ABC":
        built.bed(bed).checked(bed, day(-95))
    planned = plan(built)
    assert [len(slot.beds) for slot in planned.slots] == [2, 1]
    built.record(CheckPinned(RoomNo("101"), day(3)))
    (only,) = after(built, planned, "101").slots
    assert (only.on, only.position, only.minutes) == (day(3), 1, 48)
    assert only.beds == ("101/A", "101/B", "101/C")
