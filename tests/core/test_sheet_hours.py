"""Sheets against the hours of their rooms and teams, by a simulation minute by minute.

Earliest end first does whatever can be done (Horn 1974, from memory); the simulation shares
no code with the planner. Set-up 6 minutes, a box spring 14; day 0 is a Monday.
"""

from __future__ import annotations

from collections import defaultdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.facts import HotelDescribed, RoomNo, TeamDescribed, TeamName
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.within_hours import fits
from hotelwatch.core.round_facts import VisitArranged
from hotelwatch.core.rounds.plan import WhyNot, Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
HOTEL = HotelDescribed("House of tests", "Europe/Vienna", leave_by="11:00", arrive_from="15:00")
FROM, UNTIL = 11 * 60, 15 * 60
"""Minutes of the day between which rooms change hands in that hotel."""


def can_be_done(jobs):
    """Each minute goes to the job that has begun and ends first."""
    left = [minutes for _, _, minutes in jobs]
    for minute in range(max((end for _, end, _ in jobs), default=0)):
        ready = [n for n, (begin, end, _) in enumerate(jobs) if begin <= minute < end and left[n]]
        if ready:
            left[min(ready, key=lambda n: jobs[n][1])] -= 1
    return not any(left)


@given(
    st.lists(
        st.tuples(st.integers(0, 30), st.integers(0, 30), st.integers(1, 12)).map(
            lambda job: (min(job[:2]), max(job[:2]), job[2])
        ),
        max_size=6,
    )
)
def test_jobs_fit_if_a_clock_gets_through_with_them(jobs):
    assert fits(jobs) == can_be_done(jobs)


def changing_hands(rooms, **shift):
    """Rooms of 20 minutes, let anew on each of the first four days, then for weeks."""
    built = house(corridor_minutes=0).record(HOTEL)
    built.record(TeamDescribed(TeamName("early"), 2, 250, EVERY_DAY, **shift))
    for number in range(rooms):
        room = f"1{number:02}"
        built.room(room).bed("A").checked("A", day(-91))
        nights = ((-3, 0), (0, 1), (1, 2), (2, 3), (3, 40))
        built.stays(*((room, *night) for night in nights))
    return built.house


def planned(hotel, *, is_strict):
    wish = Wish(day(0), 7, moment(0, 4), is_strict=is_strict)
    return plan_rounds(hotel, occupancy(hotel, day(0)), wish)


@pytest.mark.parametrize("is_strict", [False, True])
def test_a_shift_that_ends_at_noon_leaves_an_hour_for_rooms_that_open_at_eleven(is_strict):
    """Three rooms of 20 minutes a day, on four days: twelve of fourteen, whatever the minutes."""
    plan = planned(changing_hands(14, from_clock="06:00", until_clock="12:00"), is_strict=is_strict)
    sheets = defaultdict(list)
    for slot in plan.slots:
        sheets[slot.on].append((FROM, 12 * 60, slot.minutes))
    assert {(on - day(0)).days: len(jobs) for on, jobs in sheets.items()} == dict.fromkeys(
        range(4), 3
    )
    assert all(can_be_done(jobs) for jobs in sheets.values())
    assert [left.why for left in plan.left_out] == [WhyNot.NO_MINUTES] * 2


@pytest.mark.parametrize("is_strict", [False, True])
def test_a_shift_that_lasts_leaves_all_four_hours(is_strict):
    """Twelve rooms of 20 minutes are 240, as long as rooms stand open; 250 would be thirteen."""
    plan = planned(changing_hands(13), is_strict=is_strict)
    assert {
        (on - day(0)).days: sum(slot.on == on for slot in plan.slots)
        for on in {slot.on for slot in plan.slots}
    } == {0: 12, 1: 1}
    assert UNTIL - FROM == 12 * 20


def test_a_room_whose_hours_end_early_is_walked_to_first():
    """103 was agreed for 8 to 9, 101 opens at 11: by the shortest way it would come after that."""
    built = house().record(HOTEL)
    built.record(
        TeamDescribed(TeamName("blue"), 2, 120, EVERY_DAY, from_clock="07:00", until_clock="15:00")
    )
    for order, room in enumerate(("101", "102", "103")):
        built.room(room, order=order).bed("A").checked("A", day(-92))
    built.stays(("101", -3, 0), ("101", 0, 30), ("103", -9, 30))
    built.on(-1).record(VisitArranged(RoomNo("103"), day(0), "08:00", "09:00", "ana"))
    plan = planned(built.house, is_strict=False)
    assert [slot.room for slot in plan.slots] == ["103", "101", "102"]
    # Without hours that end early the shortest way stands.
    later = house().record(HOTEL).team("blue", 120, works_on=EVERY_DAY)
    for order, room in enumerate(("101", "102", "103")):
        later.room(room, order=order).bed("A").checked("A", day(-92))
    assert [slot.room for slot in planned(later.house, is_strict=False).slots] in (
        ["101", "102", "103"],
        ["103", "102", "101"],
    )
