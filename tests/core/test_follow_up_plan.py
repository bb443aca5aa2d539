"""Follow-ups after a treatment are planned: on a team's minutes, within their days."""

from __future__ import annotations

from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.checks.slots import published_rows
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo, RoundPublished, TeamName
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import HouseDaysClosed
from hotelwatch.core.rounds.demand import demand
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, day, house, moment

ONE, TWO = CaseNo("2026-001"), CaseNo("2026-002")
ROOM = RoomNo("305")
WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def treated_room(method="chemical", minutes=120) -> Build:
    """A confirmed room treated on day 1, beside four rooms that are overdue."""
    built = house()
    for number in range(4):
        built.room(f"10{number}").bed("A").checked("A", day(-100 - number))
    built.room("305").bed("A").team("Dawn", minutes, works_on=WEEK)
    built.record(
        Sighted(ONE, ROOM, "", "seats", Sign.LIVE_INSECT, 1, "anna", moment(0)),
        QuarantinePlaced(ROOM, ONE, moment(0), "sighting"),
    )
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    back = moment(1, 18)
    return built.record(TreatmentRecorded(ONE, ROOM, day(1), method, "a firm", "L-1", back))


def wanted(built: Build, today: int, until: int):
    return [w for w in demand(built.house, day(today), day(until)) if w.room == ROOM]


def planned(built: Build, today: int, days: int):
    seen = occupancy(built.house, day(today))
    return plan_rounds(built.house, seen, Wish(day(today), days, moment(today, 6)))


def test_a_follow_up_has_a_first_day_and_a_day_by_which_it_is_due():
    (want,) = wanted(treated_room(), 1, 20)
    assert (want.earliest_on, want.due_on) == (day(2), day(15))
    assert (want.asked_by, want.cases, want.beds) == (ONE, (ONE,), ("305/A",))
    assert want.is_follow_up
    # Assumption of the shipped figures: 6 minutes a room, 14 a bare box spring.
    assert want.minutes == 6 + 14


def test_a_plan_holds_it_within_its_days_and_on_a_teams_minutes():
    built = treated_room().checked("A", day(5), kind=CheckKind.CLEARANCE)
    plan = planned(built, 6, 14)
    (slot,) = [slot for slot in plan.slots if slot.room == ROOM]
    assert day(12) <= slot.on <= day(15)
    assert slot.asked_by == ONE
    (used,) = [team for team in plan.minutes_by_day if team.on == slot.on]
    assert used.used >= slot.minutes


def test_it_goes_before_what_the_cycle_asks_for():
    built = treated_room(minutes=30).checked("A", day(8), kind=CheckKind.CLEARANCE)
    plan = planned(built, 15, 1)
    assert [slot.room for slot in plan.slots] == [ROOM]


def test_before_its_days_begin_it_takes_no_minutes():
    built = treated_room().checked("A", day(5), kind=CheckKind.CLEARANCE)
    assert wanted(built, 6, 11) == []
    assert ROOM not in {slot.room for slot in planned(built, 6, 3).slots}
    assert ROOM not in {left.room for left in planned(built, 6, 3).left_out}


def test_another_cases_wish_is_answered_by_the_follow_up():
    built = treated_room()
    built.record(Sighted(TWO, RoomNo("101"), "", "seats", Sign.EGGS, 1, "anna", moment(2)))
    built.record(CheckAsked(TWO, ROOM, ("shares_wall",), moment(3)))
    (want,) = wanted(built, 2, 20)
    assert want.cases == (ONE, TWO)
    assert (want.earliest_on, want.due_on) == (day(2), day(3))
    assert ROOM in {slot.room for slot in planned(built, 2, 3).slots}


def test_a_room_under_watch_is_planned_before_it_is_no_longer_covered():
    built = treated_room()
    for number in (2, 9, 16, 23):
        built.on(number).checked("A", day(number), kind=CheckKind.CLEARANCE)
    built.record(QuarantineLifted(ROOM, ONE, moment(23, 20), "mara", True, "", "entomologist"))
    (want,) = wanted(built, 24, 50)
    assert (want.earliest_on, want.due_on, want.asked_by) == (day(30), day(37), ONE)
    (slot,) = [slot for slot in planned(built, 24, 14).slots if slot.room == ROOM]
    assert day(30) <= slot.on <= day(37)


def test_an_undetermined_room_is_planned_too():
    built = house().room("305").bed("A").team("Dawn")
    built.record(
        Sighted(ONE, ROOM, "", "seats", Sign.DARK_SPOTS, 1, "anna", moment(0)),
        QuarantinePlaced(ROOM, ONE, moment(0), "sighting"),
        CaseJudged(ONE, Outcome.UNDETERMINED, "Dr. Vey", "entomologist", day(0)),
    )
    (want,) = wanted(built, 0, 20)
    assert (want.earliest_on, want.due_on) == (day(1), day(8))


def test_the_sheet_says_that_it_is_a_follow_up_and_by_when():
    built = treated_room()
    built.record(FigureChosen("chemical_first_days", 10, "a reason"))
    plan = planned(built, 4, 4)
    (slot,) = [slot for slot in plan.slots if slot.room == ROOM]
    built.record(RoundPublished(day(4), day(7)), *plan.slots)
    seen = occupancy(built.house, day(4))
    sheet = team_sheet(built.house, seen, on=slot.on, team=TeamName("Dawn"))
    (room,) = [room for room in sheet.rooms if room.room == ROOM]
    assert room.reasons == ("follow_up_whole",)
    rows = published_rows(built.house, seen, from_on=day(4), now=moment(4))
    assert [row.due_on for row in rows if row.room == ROOM] == [day(11)]


def test_a_follow_up_counts_late_from_the_cycle_where_that_is_over_before():
    """Looked at on day -88, due by the cycle on day 3; the follow-up's days are 2 to 15."""
    built = treated_room()
    built.room("305", order=5).checked("A", day(-88))
    (want,) = wanted(built, 1, 20)
    assert (want.earliest_on, want.due_on) == (day(2), day(3))


def test_a_treated_room_without_beds_is_followed_up_and_stops_no_plan():
    built = house().team("Dawn", 60, works_on=WEEK).room("305")
    built.record(
        Sighted(ONE, ROOM, "", "seats", Sign.LIVE_INSECT, 1, "anna", moment(0)),
        QuarantinePlaced(ROOM, ONE, moment(0), "sighting"),
    )
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    built.record(TreatmentRecorded(ONE, ROOM, day(1), "chemical", "a firm", "L-1", moment(1, 18)))
    (want,) = wanted(built, 1, 20)
    assert (want.beds, want.due_on) == ((), day(15))
    assert [slot.room for slot in planned(built, 6, 14).slots] == [ROOM]


def test_each_bed_of_a_follow_up_is_late_from_its_own_day():
    """A by the cycle on day 3, B by the follow-up's last day 15; nobody comes before day 10."""
    built = treated_room().room("305", order=5).bed("B")
    built.room("305", order=5).checked("A", day(-88)).checked("B", day(-10))
    built.record(HouseDaysClosed(day(1), day(9), "stocktaking"))
    other = demand(built.house, day(1), day(20))
    plan = planned(built, 1, 14)
    looked = {bed: slot.on for slot in plan.slots for bed in slot.beds if slot.room == ROOM}
    assert set(looked.values()) == {day(10)}
    others = sum(
        (min(slot.on for slot in plan.slots if bed in slot.beds) - day(0)).days
        for want in other
        if want.room != ROOM
        for bed in want.beds
    )
    assert plan.proof.overdue_bed_days == (10 - 3) + others
