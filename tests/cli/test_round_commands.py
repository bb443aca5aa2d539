"""Calendars, pins, agreed visits and asked nights by command."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from hotelwatch.actions.open_hotel import open_hotel, whole_house
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import HotelDescribed, TeamDescribed
from tests.actions.test_weighed import TODAY as TODAY_OF_WEIGHED
from tests.actions.test_weighed import an_inn
from tests.build import day, moment, rules

TODAY = "2026-03-09"
"""A Monday, as the clock of these tests stands."""


@pytest.fixture
def inn(hotel):
    hotel("team", hotel.file, "Pair", "--minutes", 60)
    return hotel


def calendar(hotel, days=7):
    """The minutes of each day, and what is special about it."""
    lines = hotel("list", "calendar", hotel.file, "--days", days).splitlines()[1:]
    return [" ".join(line.split()[4:]) for line in lines[:days]]


def test_leave_closed_days_and_an_extra_shift_show_in_the_calendar(inn):
    assert calendar(inn) == ["1 h"] * 5 + ["–"] * 2
    inn("team-days", inn.file, "Pair", "2026-03-10", "2026-03-11", "--reason", "leave")
    inn("team-days", inn.file, "Pair", "2026-03-14", "--minutes", 45)
    inn("closed-days", inn.file, "2026-03-12", "--reason", "holiday")
    assert calendar(inn) == [
        "1 h",
        "– Pair: away, leave",
        "– Pair: away, leave",
        "– no rounds: holiday",
        "1 h",
        "45 min Pair: 45 min in place of the usual",
        "–",
    ]
    inn("team-days", inn.file, "Pair", "2026-03-11", "--as-usual")
    inn("closed-days", inn.file, "2026-03-12", "--open-again")
    assert calendar(inn)[:4] == ["1 h", "– Pair: away, leave", "1 h", "1 h"]


def test_the_calendar_says_minutes_as_plans_may_use_them(inn):
    inn("team", inn.file, "Pair", "--minutes", 60, "--keep-free", 20)
    inn("team-days", inn.file, "Pair", "2026-03-09", "--minutes", 50, "--reason", "course")
    inn("team-days", inn.file, "Pair", "2026-03-10", "--minutes", 20)
    assert calendar(inn, 3) == [
        "30 min Pair: 30 min in place of the usual, course",
        "– Pair: all of its minutes are in reserve",
        "40 min",
    ]


def test_today_may_be_said_as_a_first_and_as_a_last_day(inn):
    inn("team-days", inn.file, "Pair", "2026-03-06", "today")
    assert calendar(inn, 2) == ["– Pair: away", "1 h"]
    inn("team-days", inn.file, "Pair", "today", "--as-usual")
    assert calendar(inn, 2) == ["1 h", "1 h"]
    inn("pin", inn.file, "101", "--on", "today")
    assert "101: Mon 9 Mar 2026, by any team" in inn("list", "by-hand", inn.file)


def test_a_plan_that_goes_by_odds_says_so(inn):
    inn("cycle", inn.file, 30)
    assert "a look saves most" not in inn("plan", inn.file)
    inn("choose", inn.file, "rounds_by", "odds")
    said = inn("plan", inn.file)
    assert "rooms in which a look saves most go first" in said
    assert "These odds are assumed." in said


def test_a_plan_names_what_it_counts_on_and_where_it_falls_back_to(inn):
    """A house that was full for four months: a room free in weeks will hardly stay so."""
    inn("cycle", inn.file, 70)
    # One guest after another in every room, ten nights each, until today.
    nights = [(day, room) for day in range(0, 120, 10) for room in (101, 102, 103, 104)]
    first = date(2026, 3, 9) - timedelta(days=120)
    rows = "".join(
        f"b{n},{room},Double,{first + timedelta(days=day)},{first + timedelta(days=day + 10)}\n"
        for n, (day, room) in enumerate(nights)
    )
    stays = "Booking,Room,Type,Arrival,Departure\n" + rows
    inn("load", "bookings", inn.file, inn.table("stays.csv", stays))
    said = inn("plan", inn.file, "--days", 70).splitlines()
    counted = [line for line in said if "Counts on the room being empty that day" in line]
    assert counted
    for line in counted:
        assert "learned from this hotel's last 110 nights" in line
        assert re.search(r"with a chance of about \d in 10", line)
        assert "If a guest is in it, " in line


def test_a_season_is_labelled_as_an_assumption_and_brings_due_dates_forward(inn):
    inn("cycle", inn.file, 30)
    before = inn("list", "due", inn.file, "--within", 90)
    inn("season", inn.file, "after the fair", TODAY, "2026-04-30", "--faster", 100)
    said = inn("list", "calendar", inn.file)
    assert "after the fair" in said
    assert "counts as 2 days of a cycle" in said
    assert "assumption" in said
    assert inn("list", "due", inn.file, "--within", 90) != before
    inn("season", inn.file, "after the fair", "--drop")
    assert inn("list", "due", inn.file, "--within", 90) == before
    assert "--faster" in inn("season", inn.file, "fair", TODAY, exit_code=2)
    assert "no season" in inn("season", inn.file, "fair", "--drop", exit_code=1)


def test_rooms_of_higher_risk_are_named_and_get_a_cycle_of_their_own(inn):
    assert "Higher risk: no room." in inn("risk", inn.file, "higher")
    assert "Higher risk: 2 rooms, 101, 102." in inn("risk", inn.file, "higher", "101", "102")
    inn("cycle", inn.file, 20, "--risk", "higher")
    due = inn("list", "due", inn.file, "--within", 90)
    assert "20 days" in next(line for line in due.splitlines() if "101" in line)
    assert "no room 999" in inn("risk", inn.file, "lower", "999", exit_code=1)
    assert "not both" in inn("risk", inn.file, "higher", "101", "--none", exit_code=2)
    both = inn("cycle", inn.file, 20, "--risk", "higher", "--room", "101", exit_code=2)
    assert "not more than one" in both
    assert "Higher risk: no room." in inn("risk", inn.file, "higher", "--none")


def test_furniture_that_moved_makes_both_rooms_wanted_sooner(inn):
    assert "No room" in inn("list", "sooner", inn.file)
    inn("furniture-moved", inn.file, "101", "102", "armchair")
    said = inn("list", "sooner", inn.file)
    rows = [" ".join(line.split()) for line in said.splitlines()]
    assert "101 Mon 16 Mar 2026 Moved between it and 102 on Mon 9 Mar: armchair." in rows
    assert "102 Mon 16 Mar 2026 Moved between it and 101 on Mon 9 Mar: armchair." in rows
    assert said.count("Mon 16 Mar 2026") == 2


def test_pins_and_forbidden_days_are_listed_and_dropped(inn):
    inn("pin", inn.file, "101", "--on", "2026-03-12", "--team", "Pair")
    inn("pin", inn.file, "102", "--team", "Pair")
    inn("forbid-day", inn.file, "101", "2026-03-10")
    said = inn("list", "by-hand", inn.file)
    assert "101: Thu 12 Mar 2026, by Pair" in said
    assert "102: on any day, by Pair" in said
    assert "101: not on Tue 10 Mar 2026" in said
    assert "your 3 choices by hand" in inn("plan", inn.file)
    inn("pin", inn.file, "101", "--drop")
    inn("pin", inn.file, "102", "--drop")
    # The forbidden day still holds.
    assert "your choice by hand" in inn("plan", inn.file)
    inn("forbid-day", inn.file, "101", "2026-03-10", "--allow")
    said = inn("list", "by-hand", inn.file)
    assert said.splitlines()[:2] == ["Pinned: nothing", "Forbidden: nothing"]
    assert "--on" in inn("pin", inn.file, "101", exit_code=2)
    assert "no team" in inn("pin", inn.file, "101", "--team", "Late", exit_code=1)


def test_two_teams_swap_their_published_sheets(inn):
    inn("cycle", inn.file, 3)
    assert "no team" in inn("swap", inn.file, "today", "Pair", "Late", exit_code=1)
    inn("team", inn.file, "Late", "--minutes", 60)
    said = inn("swap", inn.file, "today", "Pair", "Late", exit_code=1)
    assert "Neither team has a published room" in said
    inn("plan", inn.file, "--publish")
    hotel = whole_house(inn.file, rules())
    of_pair = {slot.room for slot in hotel.slots[date(2026, 3, 9)] if slot.team == "Pair"}
    assert of_pair
    inn("swap", inn.file, "today", "Pair", "Late")
    by_hand = inn("list", "by-hand", inn.file)
    assert all(f"{room}: Mon 9 Mar 2026, by Late" in by_hand for room in of_pair)
    inn("team-days", inn.file, "Late", "2026-03-09", "--reason", "leave")
    said = inn("swap", inn.file, "today", "Pair", "Late", exit_code=1)
    assert "The sheets can't be swapped. Late does not work on Mon 9 Mar." in said


def test_visits_and_nights_are_written_down_with_who_said_so(inn):
    inn("arrange-visit", inn.file, "101", "2026-03-11", "--from", "09:30", "--by", "maria")
    inn("ask-night", inn.file, "102", "2026-03-12", "--reason", "overdue")
    inn("ask-night", inn.file, "103", "2026-03-12", "--reason", "overdue")
    inn("ask-night", inn.file, "104", "2026-03-12", "--reason", "overdue")
    inn("answer-night", inn.file, "102", "2026-03-12", "--kept", "--by", "desk")
    inn(
        "answer-night",
        inn.file,
        "103",
        "2026-03-12",
        "--not-kept",
        "--by",
        "desk",
        "--note",
        "fair",
    )
    said = inn("list", "by-hand", inn.file)
    assert "101, Wed 11 Mar 2026, 09:30 to 12:00: agreed with the guest by maria" in said
    assert "102, night of Thu 12 Mar 2026: overdue – kept free by desk" in said
    assert "103, night of Thu 12 Mar 2026: overdue – desk can't keep it free: fair" in said
    assert "104, night of Thu 12 Mar 2026: overdue – front desk has not answered" in said
    inn("arrange-visit", inn.file, "101", "2026-03-11", "--call-off")
    inn("ask-night", inn.file, "104", "2026-03-12", "--withdraw")
    said = inn("list", "by-hand", inn.file)
    assert "Agreed with guests: nothing" in said
    assert "104" not in said


def test_a_guest_s_no_is_written_down_and_a_later_day_refused(inn):
    said = inn("decline-visit", inn.file, "101", "--by", "maria")
    assert said.strip() == "Written down. The room remains due."
    assert "101" in inn("list", "entries", inn.file)
    assert "is yet to come" in inn(
        "decline-visit", inn.file, "101", "--on", "2026-12-24", exit_code=1
    )


def test_a_day_on_which_nobody_works_is_written_down_with_a_warning(inn):
    # Pair works from Monday to Friday; 14 and 15 March 2026 are a Saturday and a Sunday.
    off = "But: No team works on Sat 14 Mar 2026."
    assert off in inn("pin", inn.file, "101", "--on", "2026-03-14")
    assert off in inn("arrange-visit", inn.file, "102", "2026-03-14", "--by", "maria")
    assert off in inn("ask-night", inn.file, "103", "2026-03-14", "--reason", "overdue")
    # A night from Sunday opens Monday too.
    assert "But:" not in inn("ask-night", inn.file, "103", "2026-03-15", "--reason", "overdue")
    assert "101: Sat 14 Mar 2026, by any team" in inn("list", "by-hand", inn.file)
    inn("closed-days", inn.file, "2026-03-12", "--reason", "holiday")
    said = inn("pin", inn.file, "101", "--on", "2026-03-12")
    assert "But: Nobody looks at beds on Thu 12 Mar 2026: closed, holiday." in said


def test_entries_tell_which_days_and_rooms_they_are_about(inn):
    inn("team-days", inn.file, "Pair", "2026-03-10", "2026-03-11")
    inn("closed-days", inn.file, "2026-03-12", "--reason", "holiday")
    inn("season", inn.file, "fair", TODAY, "2026-04-30", "--faster", 50)
    inn("furniture-moved", inn.file, "101", "102", "armchair")
    inn("pin", inn.file, "101", "--on", "2026-03-12")
    inn("pin", inn.file, "102", "--team", "Pair")
    inn("ask-night", inn.file, "103", "2026-03-12", "--reason", "overdue")
    lines = inn("list", "entries", inn.file, "--last", 7).splitlines()[1:]
    for line, parts in zip(
        lines,
        (
            ("Team's days changed", "Pair; Tue 10 Mar 2026 to Wed 11 Mar 2026"),
            ("Days without rounds", "Thu 12 Mar 2026"),
            ("Season noted", "fair, Mon 9 Mar 2026 to Thu 30 Apr 2026"),
            ("Furniture moved between rooms", "armchair: 101 to 102"),
            ("Check pinned to a day", "101; Thu 12 Mar 2026"),
            ("Room pinned to a team", "102; Pair"),
            ("Night asked of front desk", "103; Thu 12 Mar 2026"),
        ),
        strict=True,
    ):
        assert all(part in line for part in parts), line


def test_teams_come_with_shifts_from_a_table_that_has_them(inn):
    table = inn.table(
        "teams.csv",
        "Team,People,Minutes,Works_on,Shift_from,Shift_until,Kept_free\n"
        "North,2,120,mon tue,8:00,16:00,15\n"
        "South,2,90,sat sun,,,\n",
    )
    inn("teams", inn.file, table)
    teams = whole_house(inn.file, rules()).teams
    assert teams["North"] == TeamDescribed(
        "North", 2, 120, ("mon", "tue"), True, "08:00", "16:00", 15
    )
    assert teams["South"] == TeamDescribed("South", 2, 90, ("sat", "sun"))
    wrong = inn.table("wrong.csv", "Team,People,Minutes,Works_on,Shift_from\nEast,2,60,mon,late\n")
    assert "row 2" in inn("teams", inn.file, wrong, exit_code=1)


def test_a_look_to_agree_with_a_guest_and_the_backlog(inn):
    inn("cycle", inn.file, "4")
    said = inn("list", "to-arrange", inn.file)
    assert "No guest is in the way of a look that is due" in said
    stays = "Booking,Room,Type,Arrival,Departure\nb7,102,Double,2026-03-08,2026-03-28\n"
    inn("load", "bookings", inn.file, inn.table("stays.csv", stays))
    # A first cycle of 4 days is spread over four rooms, the one with two beds first: due
    # on the 10th. The guest leaves on the 28th, a Saturday; the team comes on Monday: they
    # wait 20 days each.
    (line,) = inn("list", "to-arrange", inn.file).splitlines()[1:]
    assert " ".join(line.split()) == ("102 Tue 10 Mar 2026 Mon 30 Mar 2026 40 not yet")
    inn("arrange-visit", inn.file, "102", "2026-03-11", "--by", "maria")
    assert "agreed with the guest by maria" in inn("list", "to-arrange", inn.file)
    said = inn("list", "backlog", inn.file)
    assert said.startswith("0 undersides are overdue.")
    # Five beds every four days are 35 in 28 days.
    assert "(0 beds looked at, 35 asked for by the cycle)" in said
    assert "(an assumption)" in said


def test_front_desk_reads_nights_without_their_reason(inn):
    inn("ask-night", inn.file, "104", "2026-03-12", "--reason", "case next door")
    said = inn("list", "front-desk", inn.file)
    assert "104: keep free the night of Thu 12 Mar 2026. Costs 1 room-night; saves" in said
    assert "not answered yet" in said
    assert "case" not in said


def test_why_not_adds_its_sums_up_item_by_item(inn):
    inn("team", inn.file, "Pair", "--minutes", 42)
    inn("cycle", inn.file, 2)
    inn("team-days", inn.file, "Pair", "2026-03-10", "--reason", "leave")
    said = inn("why-not", inn.file, "--days", 4, "--sums")
    # By hand: set-up 6, a box spring 14: rooms of 20 and 34 minutes, against one day of 42.
    assert "Rooms 101 and 102 need 54 minutes by Tue 10 Mar; teams have 42 minutes" in said
    assert "Needed: 101 20 + 102 34 = 54 minutes" in said
    assert "There: Mon 9 Mar Pair 42 = 42 minutes" in said
    assert "One more day of Pair, or of a team like it, 42 minutes: Mon 9 Mar." in said
    assert "Minutes short: 0 instead of 12." in said
    assert "Assumed, not measured" in said


@pytest.mark.parametrize("rounds_by", ["cycle", "odds"])
def test_plan_why_not_and_what_if_count_the_same_late_days(command, rounds_by):
    command.now = moment(TODAY_OF_WEIGHED, 6)
    built = an_inn(
        HotelDescribed("Inn", "Europe/Vienna"),
        RuleChosen("rounds_by", rounds_by),
    )
    command("new", command.file, "--name", "Inn", "--zone", "Europe/Vienna", "--by", "maria")
    hotel = open_hotel(command.file, rules(), clock=lambda: command.now, by="maria")
    facts = [fact for kind in FACT_KINDS for fact in built.house.all_of(kind)]
    hotel.record(lambda _: facts, action="test")
    hotel.close()
    plan = command("plan", command.file, "--days", 7)
    late = int(re.search(r"^(\d+) late days", plan, re.MULTILINE)[1])
    # 101 with two beds and 106 with one are late already, one room a day: 3 and 1, or 3 and 2.
    assert late == {"cycle": 4, "odds": 5}[rounds_by]
    why = command("why-not", command.file, "--days", 7)
    assert f"Late days within the days planned: {late}, all of beds late already." in why
    what = command("what-if", command.file, "--days", 7, "--teams", 1)
    assert f"instead of {late}" in what
    # Kept off the first day 106 goes second: 101's beds are seen a day sooner.
    command("forbid-day", command.file, "106", day(TODAY_OF_WEIGHED).isoformat())
    price = {
        "cycle": "Planned without your choice by hand: as many late days, as much walking.",
        "odds": "4 late days, 16 min of walking. Planned without: 5 late days, 16 min of walking.",
    }
    assert price[rounds_by] in command("plan", command.file, "--days", 7)
