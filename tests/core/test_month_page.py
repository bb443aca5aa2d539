from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.facts import RoomNo, RoundPublished, SlotPublished, TeamName
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.rounds.month_page import WhyNoTeam, month_page
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.rounds.team_days import (
    Round,
    drafted_round,
    published_ahead,
    published_round,
    team_days,
    withdrawn,
)
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.printing.round_words import Detail, day_lines
from tests.build import day, house, moment

BLUE, RED = TeamName("blue"), TeamName("red")


def slot(on, team, position, room, **more):
    beds = more.pop("beds", (f"{room}/A",))
    return SlotPublished(day(on), team, position, RoomNo(room), beds, 20, **more)


def an_inn():
    build = house().floors("1", "2").team("blue").team("red", minutes=90)
    for room, floor, wing in (
        ("101", "1", "North"),
        ("102", "1", "North"),
        ("103", "1", "South"),
        ("201", "2", "North"),
    ):
        build.room(room, floor=floor, wing=wing).bed("A")
    return build


def published(build, first, last, *slots):
    return build.record(RoundPublished(day(first), day(last)), *slots)


def rows(build, first, last, today=0):
    told = published_round(build.house, day(first), day(last))
    return month_page(build.house, told, day(today))


def test_days_published_before_they_began_show_only_what_is_fixed():
    # Published on day 0; days 5 and 6 are Saturday and Sunday, without a team.
    build = published(an_inn(), 0, 7, slot(0, BLUE, 1, "101"), slot(2, BLUE, 1, "102"))
    page = rows(build, 0, 7)
    told = [day.is_filled_up_later for day in page.days if day.teams]
    assert told == [False, True, True, True, True, True]
    assert page.filled_up_from == day(1)
    # On the morning of day 1 that day is filled up.
    published(build.on(1), 1, 7, slot(1, BLUE, 1, "103"), slot(2, BLUE, 1, "102"))
    assert rows(build, 0, 7).filled_up_from == day(2)
    assert rows(build, 0, 1).filled_up_from is None


def test_a_round_published_whole_is_not_filled_up_later():
    build = an_inn().record(RoundPublished(day(0), day(4), is_whole=True), slot(2, BLUE, 1, "102"))
    assert rows(build, 0, 4).filled_up_from is None


def test_no_morning_to_come_fills_up_a_day_that_is_over():
    # Published on day 0 for the week; nobody published a morning since.
    build = published(an_inn(), 0, 4, slot(2, BLUE, 1, "102"))
    assert rows(build, 0, 4, today=2).filled_up_from == day(2)
    assert rows(build, 0, 4, today=9).filled_up_from is None


def test_a_team_has_its_rooms_in_walking_order_whatever_order_they_were_written_in():
    build = published(
        an_inn(), 0, 4, slot(1, BLUE, 2, "102"), slot(1, BLUE, 3, "201"), slot(1, BLUE, 1, "103")
    )
    (blue, red) = rows(build, 1, 1).days[0].teams
    assert [visit.room for visit in blue.rooms] == ["103", "102", "201"]
    assert (blue.used, blue.minutes) == (60 + 3 * 8, 120)  # three corridors, eight minutes each
    assert (red.rooms, red.used, red.minutes) == ((), 0, 90)


def test_corridors_are_counted_in_walking_order():
    build = published(
        an_inn(), 0, 4, *(slot(0, BLUE, n, r) for n, r in enumerate(("101", "102", "201", "103")))
    )
    blue = rows(build, 0, 0).days[0].teams[0]
    assert list(blue.corridors.items()) == [
        (("1", "North"), 2),
        (("2", "North"), 1),
        (("1", "South"), 1),
    ]


def test_asked_rooms_and_parts_of_rooms_are_marked():
    build = an_inn()
    build.room("104").bed("A").bed("B")
    published(build, 0, 4, slot(0, BLUE, 1, "101", asked_by="2026-001"), slot(0, BLUE, 2, "104"))
    page = rows(build, 0, 4)
    asked, part = page.days[0].teams[0].rooms
    assert (asked.is_asked, asked.is_part) == (True, False)
    assert (part.is_asked, part.is_part) == (False, True)
    assert page.has_asked
    assert page.has_parts


def test_weeks_run_from_monday_to_sunday_and_hold_each_day_once():
    page = rows(published(an_inn(), 2, 17), 2, 17)
    assert [len(week) for week in page.weeks] == [7, 7, 7]
    assert [one.on for one in page.days] == [day(n) for n in range(2, 18)]
    for week in page.weeks:
        assert all(one is None or one.on.weekday() == n for n, one in enumerate(week))


@given(st.integers(-400, 400), st.integers(0, 60))
@settings(max_examples=60, deadline=None)
def test_any_span_of_days_is_a_calendar(first, span):
    page = rows(an_inn(), first, first + span)
    assert [one.on for one in page.days] == [day(first + n) for n in range(span + 1)]
    assert all(len(week) == 7 and any(week) for week in page.weeks)


def test_a_day_without_a_team_says_why():
    build = published(an_inn(), 0, 13)
    build.record(HouseDaysClosed(day(1), day(1), "Epiphany"))
    build.record(TeamDaysChanged(BLUE, day(2), day(2), 0, "holiday"))
    build.record(TeamDaysChanged(RED, day(2), day(3), 0, ""))
    told = {one.on: one for one in rows(build, 0, 20).days}
    assert told[day(0)].why is None
    assert (told[day(1)].why, told[day(1)].reason) == (WhyNoTeam.CLOSED, "Epiphany")
    assert told[day(2)].why is WhyNoTeam.AWAY
    assert [(one.team, one.reason) for one in told[day(2)].away] == [
        (BLUE, "holiday"),
        (RED, ""),
    ]
    # Red is away on day 3, blue works: a team is there, and who is not is said all the same.
    assert told[day(3)].why is None
    assert [one.team for one in told[day(3)].away] == [RED]
    assert told[day(5)].why is WhyNoTeam.DAY_OFF
    assert told[day(14)].why is WhyNoTeam.NOT_PLANNED
    assert told[day(19)].why is WhyNoTeam.DAY_OFF


def test_a_day_all_of_whose_minutes_are_in_reserve_is_no_day_off():
    # Blue and red keep 30 minutes free; an entered change of 30 leaves as little as 30 usual ones.
    build = house().team("blue", 30, kept_free=30).team("red", 90, kept_free=30)
    published(build, 0, 6)
    build.record(TeamDaysChanged(RED, day(0), day(0), 30, "course"))
    build.record(TeamDaysChanged(RED, day(1), day(1), 0, "leave"))
    told = rows(build, 0, 6).days
    assert [one.why for one in told[:3]] == [WhyNoTeam.NOTHING_LEFT] * 2 + [None]
    assert [line for _kind, line in day_lines(told[0], Detail.NUMBERS)] == [
        "All minutes are in reserve"
    ]
    assert [line for _kind, line in day_lines(told[1], Detail.NUMBERS)] == [
        "red is away: leave",
        "All minutes are in reserve",
    ]
    assert told[5].why is WhyNoTeam.DAY_OFF


def test_a_day_off_is_no_absence():
    build = published(an_inn(), 0, 13)
    build.record(TeamDaysChanged(BLUE, day(4), day(6), 0, "holiday"))
    told = rows(build, 4, 6).days
    assert [len(one.away) for one in told] == [1, 0, 0]


def test_a_room_gone_from_the_roster_is_left_out():
    build = published(an_inn(), 0, 4, slot(0, BLUE, 1, "101"), slot(0, BLUE, 2, "999"))
    assert [v.room for v in rows(build, 0, 0).days[0].teams[0].rooms] == ["101"]


# --- which round ---------------------------------------------------------------------------


def test_each_day_is_as_its_last_publication_has_it():
    build = published(an_inn(), 0, 9, slot(0, BLUE, 1, "101"), slot(8, BLUE, 1, "102"))
    first = max(build.house.entries)
    published(build, 7, 13, slot(8, RED, 1, "103"))
    told = published_round(build.house, day(0), day(13))
    assert {entry.number for on, entry in told.entries.items() if on < day(7)} == {first}
    assert {entry.number for on, entry in told.entries.items() if on >= day(7)} == {first + 1}
    assert told.last_entry.number == first + 1
    assert [(one.team, one.rooms[0].room) for one in team_days(build.house, told) if one.rooms] == [
        (BLUE, "101"),
        (RED, "103"),
    ]


def test_what_was_published_once_and_is_no_more_is_named():
    build = published(an_inn(), 0, 9, slot(0, BLUE, 1, "101"), slot(8, BLUE, 1, "102"))
    published(build, 7, 13, slot(8, RED, 1, "103"))
    assert withdrawn(build.house, published_round(build.house, day(0), day(13))) == [(day(8), BLUE)]
    assert withdrawn(build.house, published_round(build.house, day(0), day(6))) == []


def test_the_days_published_from_today_on():
    build = published(an_inn(), 0, 9)
    published(build, 20, 22)
    assert published_ahead(build.house, day(3)) == (day(3), day(22))
    assert published_ahead(build.house, day(12)) == (day(20), day(22))
    assert published_ahead(build.house, day(23)) is None
    assert published_ahead(house().house, day(0)) is None


def test_a_draft_covers_its_days_and_has_no_entry():
    build = an_inn()
    wish = Wish(from_on=day(0), days=7, now=moment(0))
    plan = plan_rounds(build.house, occupancy(build.house, day(0)), wish)
    told = drafted_round(plan)
    assert told.is_draft
    assert told.last_entry is None
    assert told.covers(day(6))
    assert not told.covers(day(7))
    page = month_page(build.house, told, day(0))
    assert sum(one.rooms for one in page.days) == len(plan.slots) > 0
    assert withdrawn(build.house, told) == []


def test_a_draft_out_of_order_is_shown_in_walking_order_all_the_same():
    slots = (slot(1, BLUE, 2, "101"), slot(0, BLUE, 1, "103"), slot(1, BLUE, 1, "102"))
    told = Round(day(0), day(6), slots, {}, is_draft=True)
    shown = [
        (one.on, *(visit.room for visit in one.rooms))
        for one in team_days(an_inn().house, told)
        if one.rooms
    ]
    assert shown == [(day(0), "103"), (day(1), "102", "101")]


@pytest.mark.parametrize("first", [0, 3, 7])
def test_every_slot_of_the_span_stands_on_the_page_once(first):
    build = an_inn()
    slots = [slot(n, BLUE if n % 2 else RED, 1, "101") for n in range(12)]
    published(build, 0, 11, *slots)
    page = rows(build, first, 11)
    shown = [(one.on, team.team) for one in page.days for team in one.teams if team.rooms]
    assert shown == [(one.on, one.team) for one in slots if one.on >= day(first)]
