"""Rooms let through their due day, worked by hand and held against a day by day reading."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import (
    CaseNo,
    CycleChosen,
    HotelDescribed,
    RoomNo,
    Scope,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.round_facts import (
    HouseDaysClosed,
    TeamDaysChanged,
    VisitArranged,
    VisitDeclined,
)
from hotelwatch.core.rounds.doubts import WhyDoubtful
from hotelwatch.core.rounds.to_arrange import to_arrange
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

TODAY = 40
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def inn():
    """101 is due on day 45 and let until day 60; 102 is due then too and vacant."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 30))
    for room in ("101", "102"):
        built.room(room).bed("A").bed("B").checked("A", day(15)).checked("B", day(20))
    return built.stays(("101", 38, 60))


def found(built):
    return to_arrange(built.house, occupancy(built.house, day(TODAY)), moment(TODAY))


def test_a_room_let_past_its_due_day_is_to_be_arranged():
    (row,) = found(inn())
    assert (row.room, row.due_on, row.guest_since) == ("101", day(45), day(38))
    assert (row.next_open_on, row.visit, row.is_asked) == (day(60), None, False)
    # Bed A waits from day 45 to 60, bed B from 50 to 60: 15 + 10 bed-days.
    assert row.overdue_bed_days == 25
    assert row.minutes == 6 + 14 + 14


def test_a_departure_before_it_is_due_leaves_nothing_to_arrange():
    built = inn()
    built.house = built.house.with_stays(())
    assert found(built.stays(("101", 38, 45))) == ()


def test_a_guest_who_leaves_soon_after_is_not_asked():
    built = inn()
    built.house = built.house.with_stays(())
    # Three days of waiting are borne, as resources/parameters.toml says; four are not.
    assert found(built.stays(("101", 38, 48))) == ()
    built.house = built.house.with_stays(())
    assert [row.room for row in found(built.stays(("101", 38, 49)))] == ["101"]


def test_a_look_agreed_stays_on_the_list_with_its_hours():
    built = inn().on(TODAY)
    built.record(VisitArranged(RoomNo("101"), day(44), "10:00", "11:30", "esther"))
    (row,) = found(built)
    assert (row.visit.on, row.visit.from_clock) == (day(44), "10:00")
    assert row.next_open_on == day(60)


def test_an_agreed_look_at_which_nobody_can_come_is_told():
    built = inn().on(TODAY).team("blue", 60)
    built.record(VisitArranged(RoomNo("101"), day(44), "10:00", "11:30", "esther"))
    assert found(built)[0].doubts == ()
    built.record(TeamDaysChanged(TeamName("blue"), day(44), day(44), 0, "training"))
    (doubt,) = found(built)[0].doubts
    assert (doubt.why, doubt.on) == (WhyDoubtful.NOBODY_WORKS, day(44))


def test_who_was_not_asked_yet_comes_first_and_a_no_leaves_the_room_due():
    built = inn().on(TODAY).team("blue", 60)
    built.house = built.house.with_stays(())
    for room in ("103", "104", "105"):
        built.room(room).bed("A").checked("A", day(17))
    built.stays(*((room, 38, 60) for room in ("101", "102", "103", "104", "105")))
    before = {row.room: row.overdue_bed_days for row in found(built)}
    built.record(
        VisitDeclined(RoomNo("101"), day(TODAY), "esther"),
        VisitArranged(RoomNo("102"), day(44), "10:00", "11:30", "esther"),
        VisitArranged(RoomNo("103"), day(44), "10:00", "11:30", "esther"),
        VisitDeclined(RoomNo("104"), day(37), "esther"),
        TeamDaysChanged(TeamName("blue"), day(44), day(44), 0, "training"),
    )
    rows = found(built)
    # 104's no was an earlier guest's; at 102 and 103 nobody can come on day 44.
    assert [row.room for row in rows] == ["104", "105", "102", "103", "101"]
    assert [row.declined.on if row.declined else None for row in rows] == [None] * 4 + [day(TODAY)]
    assert {row.room: row.overdue_bed_days for row in rows} == before


def test_a_guest_whose_yes_was_called_off_is_not_told_as_never_asked():
    yes = VisitArranged(RoomNo("101"), day(50), "10:00", "11:30", "esther")
    built = inn().on(39).record(VisitDeclined(RoomNo("101"), day(39), "esther"))
    built.on(TODAY).record(yes)
    (row,) = found(built)
    assert (row.visit.on, row.declined) == (day(50), None)
    (row,) = found(built.record(replace(yes, holds=False)))
    assert (row.visit, row.declined.on, row.place) == (None, day(39), 2)


def test_another_guest_s_consent_does_not_count():
    # Agreed on day 40 by the guest of days 38 to 44; who comes on day 44 did not agree.
    built = inn().on(TODAY)
    built.house = built.house.with_stays(())
    built.stays(("101", 38, 42), ("101", 42, 60))
    built.record(VisitArranged(RoomNo("101"), day(44), "10:00", "11:30", "esther"))
    assert found(built) == ()  # day 42 opens between the two


def test_an_agreed_look_at_a_room_that_is_not_due_is_listed_until_it_is_past():
    built = inn().on(TODAY)
    built.house = built.house.with_stays(())
    built.room("103").bed("A").checked("A", day(39)).stays(("103", 38, 60))
    built.record(VisitArranged(RoomNo("103"), day(44), "10:00", "11:30", "esther"))
    (row,) = found(built)
    assert (row.room, row.due_on, row.minutes, row.visit.on) == ("103", day(69), 20, day(44))
    assert row.overdue_bed_days == 0
    later = to_arrange(built.house, occupancy(built.house, day(45)), moment(45))
    assert "103" not in {row.room for row in later}


def test_rooms_in_quarantine_are_left_out_and_a_case_s_wish_is_told():
    built = inn().on(39)
    case = CaseNo("2026-001")
    built.record(
        Sighted(case, RoomNo("102"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(39, 1)),
        QuarantinePlaced(RoomNo("102"), case, moment(39, 2), "sighting"),
        CheckAsked(case, RoomNo("101"), ("shares_wall",), moment(41, 16)),
    )
    (row,) = found(built)
    assert (row.room, row.is_asked, row.due_on) == ("101", True, day(41))
    # The case wants both beds by day 41; the guest leaves on day 60.
    assert row.overdue_bed_days == 2 * 19
    built.record(QuarantinePlaced(RoomNo("101"), case, moment(39, 2), "sighting"))
    assert found(built) == ()


def test_a_day_counts_only_if_a_team_with_enough_people_works_then():
    built = inn().on(TODAY).team("blue", 60, works_on=("mon",))
    built.team("alone", 60, people=1, works_on=EVERY_DAY)
    (row,) = found(built)
    # The guest leaves on Friday, day 60; the pair comes on Monday, day 63, and one person alone
    # does not make such a bed. Bed A waits from day 45, bed B from day 50.
    assert (row.next_open_on, row.overdue_bed_days) == (day(63), 18 + 13)
    built.record(HouseDaysClosed(day(63), day(63), "holiday"))
    (row,) = found(built)
    assert (row.next_open_on, row.overdue_bed_days) == (day(70), 25 + 20)


def test_a_room_that_stands_empty_only_while_nobody_works_is_to_be_arranged():
    built = inn().on(TODAY).team("blue", 60)
    built.house = built.house.with_stays(())
    # Empty on Saturday, today, and until the guest of Sunday comes; due on Thursday, day 45.
    built.stays(("101", 38, 40), ("101", 41, 60))
    (row,) = found(built)
    assert (row.room, row.next_open_on, row.overdue_bed_days) == ("101", day(60), 15 + 10)


def test_no_guest_is_asked_where_only_the_team_is_waited_for():
    built = inn().on(TODAY).team("blue", 60, works_on=("fri",))
    built.house = built.house.with_stays(())
    # Vacant, due on day 41; the team comes on day 46, five days late.
    built.room("103").bed("A").checked("A", day(11))
    assert found(built) == ()


def test_hours_that_no_shift_meets_are_no_day_to_go_in():
    hours = HotelDescribed("House of tests", "Europe/Vienna", leave_by="11:00", arrive_from="15:00")
    early = TeamDescribed(
        TeamName("early"), 2, 200, EVERY_DAY, from_clock="06:00", until_clock="10:00"
    )
    built = inn().on(TODAY).record(hours, early)
    built.house = built.house.with_stays(())
    # It changes hands from 11:00 to 15:00 on day 46, and is left at 11:00 on day 60.
    built.stays(("101", 38, 46), ("101", 46, 60))
    (row,) = found(built)
    assert row.next_open_on == day(61)


@given(
    spans=st.lists(st.tuples(st.integers(30, 60), st.integers(1, 25)), min_size=1, max_size=4).map(
        sorted
    ),
    looked=st.integers(5, 35),
)
def test_listed_only_if_every_day_up_to_the_due_day_is_let(spans, looked):
    built = house().record(CycleChosen(Scope.HOUSE, "", 30))
    built.room("101").bed("A").checked("A", day(looked))
    free, stays = 0, []
    for arrives, nights in spans:
        begins = max(arrives, free)
        stays.append(("101", begins, begins + nights))
        free = begins + nights
    built.stays(*stays)
    rows = found(built)
    (look,) = looks(built.house, day(TODAY))
    last = max(look.due_on, day(TODAY))
    span = (last - day(TODAY)).days + 1
    shut = all(
        any(day(a) < day(TODAY) + timedelta(days=n) < day(b) for _room, a, b in stays)
        for n in range(span)
    )
    if rows:
        assert shut
        assert rows[0].next_open_on > last
    elif shut and look.due_on < day(TODAY + 14):
        opens = min(b for _room, a, b in stays if day(a) < last < day(b))
        assert (day(opens) - last).days <= 3
