"""Rows of the rounds' calendar: cells, corridors, why a team is away; and where a room may go."""

from __future__ import annotations

from dataclasses import replace

from hotelwatch.core.case_facts import QuarantinePlaced
from hotelwatch.core.checks.calendar import Away
from hotelwatch.core.checks.slots import slot_rows
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import CaseNo, RoomNo, SlotPublished, TeamName
from hotelwatch.core.round_facts import (
    CheckPinned,
    DayForbidden,
    HouseDaysClosed,
    TeamDaysChanged,
    TeamPinned,
)
from hotelwatch.core.rounds.calendar_rows import Shown, calendar_rows
from hotelwatch.core.rounds.leaning import Leaning
from hotelwatch.core.rounds.moving import Hindrance, Moving, Target, able_teams, swapped
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.wording.plan_calendar import no_swap_sentence
from tests.build import day, house, moment, rules

BLUE, RED = TeamName("blue"), TeamName("red")
DAYS = tuple(days_from(day(0), 7))


def inn():
    """Two floors, two teams; day 0 is a Monday."""
    build = house().floors("1", "2").team("blue", 60).team("red", 30, people=1)
    build.room("101", floor="1").bed("A").room("102", floor="1").bed("A")
    return build.room("201", floor="2").bed("A")


def slot(number, room, position, team=BLUE, **more):
    return SlotPublished(day(number), team, position, RoomNo(room), (f"{room}/A",), 20, **more)


def rows_of(build, slots, today=0):
    seen = occupancy(build.house, day(today))
    return slot_rows(build.house, seen, slots, now=moment(today))


def shown_calendar(build, slots, **more):
    shown = Shown(rows_of(build, slots), **more)
    return calendar_rows(build.house, DAYS, shown, today=day(0))


def test_a_cell_has_its_rooms_by_corridor_in_walking_order_and_its_minutes():
    slots = [slot(0, "201", 1), slot(0, "101", 2), slot(0, "102", 3)]
    rows = shown_calendar(inn(), slots)
    cell = rows.cells[day(0), BLUE]
    assert [(one.floor, [c.room for c in one.chips]) for one in cell.corridors] == [
        ("2", ["201"]),
        ("1", ["101", "102"]),
    ]
    # 3 rooms of 20 minutes, and the way to each of 2 corridors.
    ways = 2 * rules().figures.corridor_minutes.value
    assert (cell.used, cell.minutes, cell.away) == (60 + ways, 60, None)
    assert rows.teams == (BLUE, RED)
    assert set(rows.cells) == {(on, team) for on in DAYS for team in (BLUE, RED)}
    assert rows.find(RoomNo("102")).row.position == 3
    assert rows.find(RoomNo("999")) is None


def test_a_room_in_parts_is_found_by_its_beds():
    parts = [replace(slot(0, "101", n), beds=(f"101/{n}",)) for n in (1, 2)]
    rows = shown_calendar(inn(), parts)
    assert rows.find(RoomNo("101")).row.position == 1
    assert rows.find(RoomNo("101"), ("101/2",)).row.position == 2
    assert rows.find(RoomNo("101"), ("101/3",)).row.position == 1


def test_a_day_without_the_team_says_why():
    build = inn().team("green", 30, kept_free=30)
    build.record(HouseDaysClosed(day(1), day(1), "holiday"))
    build.record(TeamDaysChanged(BLUE, day(2), day(2), 0, "leave"))
    build.record(TeamDaysChanged(BLUE, day(5), day(5), 45, "extra shift"))
    rows = shown_calendar(build, [])
    told = {n: (c.away, c.reason) for n in range(7) if (c := rows.cells[day(n), BLUE])}
    assert told == {
        0: (None, ""),
        1: (Away.CLOSED, "holiday"),
        2: (Away.CHANGED, "leave"),
        3: (None, ""),
        4: (None, ""),
        5: (None, "extra shift"),
        6: (Away.NOT_ITS_WEEKDAY, ""),
    }
    assert rows.cells[day(5), BLUE].is_changed
    assert rows.cells[day(0), TeamName("green")].away is Away.NOTHING_LEFT


def test_a_team_that_is_gone_stands_while_a_sheet_of_it_is_left():
    build = inn()
    build.record(replace(build.house.teams[RED], in_use=False))
    assert shown_calendar(build, []).teams == (BLUE,)
    rows = shown_calendar(build, [slot(1, "101", 1, RED)])
    assert rows.teams == (BLUE, RED)
    assert rows.cells[day(1), RED].away is Away.GONE


def test_a_chip_says_what_is_promised_pinned_and_uncertain():
    build = inn()
    build.record(CheckPinned(RoomNo("101"), day(0)), TeamPinned(RoomNo("102"), RED))
    slots = [slot(0, "101", 1), slot(0, "102", 2), slot(1, "102", 1, RED)]
    key = (day(0), RoomNo("102"))
    leans = Leaning(RoomNo("102"), day(0), 0.4, None)
    rows = shown_calendar(build, slots, likely=frozenset({key}), leanings=(leans,))
    first, second = rows.cells[day(0), BLUE].chips
    (third,) = rows.cells[day(1), RED].chips
    assert (first.is_firm, first.is_day_pinned, first.leaning) == (True, True, None)
    assert (second.is_firm, second.is_pinned, second.leaning) == (False, False, leans)
    assert (third.is_firm, third.is_team_pinned) == (True, True)


# --- where a room may go --------------------------------------------------------------------


def moving(build, today=0):
    seen = occupancy(build.house, day(today))
    return Moving(build.house, seen, today=day(today), now=moment(today))


def hindered(build, number, team=BLUE, *, row=None):
    row = row or rows_of(build, [slot(0, "101", 1)])[0]
    return moving(build).hindrance(row, Target(day(number), team))


def test_a_room_goes_where_it_can_be_entered_and_a_team_is_there():
    build = inn().stays(("101", 1, 4))
    build.record(DayForbidden(RoomNo("101"), day(4)))
    build.record(HouseDaysClosed(day(7), day(7), "holiday"))
    # The guest arrives on day 1 and leaves on day 4: inside it, nobody enters.
    assert {n: hindered(build, n) for n in (-1, 0, 1, 2, 3, 4, 5, 7, 8)} == {
        -1: Hindrance.DAY_IS_OVER,
        0: None,
        1: None,
        2: Hindrance.GUEST_STAYS,
        3: Hindrance.GUEST_STAYS,
        4: Hindrance.DAY_FORBIDDEN,
        5: Hindrance.TEAM_AWAY,
        7: Hindrance.HOUSE_CLOSED,
        8: None,
    }


def test_a_box_spring_wants_two_people_and_a_visit_its_minutes_and_hours():
    build = inn().team("short", 15).team("late", 60, from_clock="16:00", until_clock="22:00")
    build.stays(("101", 1, 4))
    assert hindered(build, 0, RED) is Hindrance.TOO_FEW_PEOPLE
    assert hindered(build, 0, TeamName("short")) is Hindrance.TOO_LONG
    assert hindered(build, 0, TeamName("late")) is None
    # On the day of arrival the room is the guest's from 15:00 on.
    assert hindered(build, 1, TeamName("late")) is Hindrance.OUTSIDE_SHIFT
    (row,) = rows_of(build, [slot(0, "101", 1)])
    short_first = (RED, TeamName("short"), TeamName("late"), BLUE)
    assert moving(build).first_team(row, day(0), short_first) == "late"
    assert moving(build).first_team(row, day(2), short_first) is None
    assert [team.team for team in able_teams(build.house, row)] == ["blue", "late", "short"]


def test_quarantine_lets_in_its_own_case_only():
    build = inn()
    build.record(QuarantinePlaced(RoomNo("101"), CaseNo("2026-001"), moment(0), "sighting"))
    (routine,) = rows_of(build, [slot(0, "101", 1)])
    (asked,) = rows_of(build, [slot(0, "101", 1, asked_by="2026-001")])
    assert hindered(build, 1, row=routine) is Hindrance.IN_QUARANTINE
    assert hindered(build, 1, row=asked) is None


def test_what_is_done_stays_where_it_is():
    build = inn()
    build.room("103", floor="1").bed("A").checked("A", day(0))
    (row,) = rows_of(build, [slot(0, "103", 1)])
    assert hindered(build, 1, row=row) is Hindrance.IS_DONE
    (todo,) = rows_of(build, [slot(0, "101", 1, RED)])
    assert swapped((row,), (todo,), (BLUE, RED)) == {"101": "blue"}


def test_sheets_are_swapped_only_if_each_fits_the_other_team_s_day():
    """Two rooms of 20 minutes on one corridor, 8 to get there: 48 in all, for a day of 47."""
    build = inn().team("brief", 47).team("just", 48)
    rows = rows_of(build, [slot(0, "101", 1), slot(0, "102", 2)])
    assert sum(row.minutes for row in rows) == 40

    def swap_with(team):
        return moving(build).of_swap(rows, swapped(rows, (), (BLUE, TeamName(team))))

    assert swap_with("brief") == (rows[0], "brief", Hindrance.DAY_TOO_SHORT)
    assert no_swap_sentence(*swap_with("brief")) == (
        "The sheets can't be swapped. All rooms of the sheet of blue together, walking counted,"
        " take longer than brief has on Mon 5 Jan. Move some of them by hand instead."
    )
    assert swap_with("just") is None
