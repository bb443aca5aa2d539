"""What stands on sheets and how far it is; what a day asks for; cycles; rooms in quarantine."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import (
    CheckAsked,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.quarantined import quarantine_rows
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.cycles import cycle_rows
from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.checks.slots import (
    SlotState,
    beds_to_do,
    is_looked_at,
    published_rows,
    quarantining,
    sheet_sums,
)
from hotelwatch.core.checks.sooner import PullReason
from hotelwatch.core.checks.today import (
    Lack,
    asked_rooms,
    keeps_from_planning,
    what_lacks,
)
from hotelwatch.core.facts import (
    CaseNo,
    CycleChosen,
    RoomChecked,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    StaysImported,
    TeamName,
)
from hotelwatch.core.facts import CheckKind as Kind
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import FurnitureMoved, HouseDaysClosed
from hotelwatch.core.rounds.draft import draft_rows, draft_sums, first_day, slots_ahead
from hotelwatch.core.rounds.moving import Hindrance, Moving, Target
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import OpeningKind, occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import day, house, moment

CASE = CaseNo("2026-001")
WAY = 8
"""Minutes to a corridor and back; shipped assumption."""


def slot(room, *beds, on=0, team="blue", position=1, asked_by=""):
    labels = tuple(f"{room}/{letter}" for letter in beds)
    return SlotPublished(day(on), TeamName(team), position, RoomNo(room), labels, 20, asked_by)


def published(built, *slots, until=9):
    return built.record(RoundPublished(day(0), day(until)), *slots)


def rows(built, on=0, until=9):
    seen = occupancy(built.house, day(on))
    return published_rows(
        built.house, seen, from_on=day(on), until_on=day(until), now=moment(on, 12)
    )


def states(built, on=0):
    return {row.room: row.state for row in rows(built, on)}


def sighted(room, case=CASE, number=0):
    return Sighted(case, RoomNo(room), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(number, 1))


# --- which beds a check begins with ----------------------------------------------------


def test_a_check_begins_with_the_beds_of_the_slot_that_is_still_to_do():
    built = house().team("blue").team("red").room("101").bed("A").bed("B").bed("C")
    room, red = RoomNo("101"), TeamName("red")
    assert beds_to_do(built.house, room, on=day(0)) == ("101/A", "101/B", "101/C")
    published(built, slot("101", "A"), slot("101", "B", "C", team="red"))
    assert beds_to_do(built.house, room, on=day(0)) == ("101/A",)
    assert beds_to_do(built.house, room, on=day(0), team=red) == ("101/B", "101/C")
    built.checked("A", day(0))
    assert beds_to_do(built.house, room, on=day(0)) == ("101/B", "101/C")
    built.checked("B", day(0)).checked("C", day(0))
    assert beds_to_do(built.house, room, on=day(0)) == ("101/A", "101/B", "101/C")
    assert beds_to_do(built.house, room, on=day(1)) == ("101/A", "101/B", "101/C")


# --- slots -----------------------------------------------------------------------------


def test_a_slot_is_done_once_every_bed_was_looked_at_that_day():
    built = house().team("blue")
    built.room("101").bed("A").bed("B")
    published(built, slot("101", "A", "B"))
    assert states(built) == {"101": SlotState.TO_DO}
    built.checked("A", day(0))
    assert states(built) == {"101": SlotState.TO_DO}
    built.checked("B", day(-1))
    assert not rows(built)[0].is_done
    built.checked("B", day(0))
    assert states(built) == {"101": SlotState.LOOKED_AT}


def test_a_room_wanted_sooner_says_so_where_a_look_of_that_day_settles_it():
    # Worked out by hand: a chair moved on day 0; a look from day 1 on will do, within 7 days.
    built = house().team("blue")
    built.room("101").bed("A").checked("A", day(0)).room("102").bed("A").checked("A", day(0))
    built.record(FurnitureMoved(RoomNo("101"), RoomNo("102"), day(0), "chair"))
    published(built, slot("101", "A", on=0), slot("101", "A", on=2), slot("102", "A", on=8))
    today, in_time, too_late = rows(built)
    assert today.sooner is None
    assert in_time.sooner is not None
    assert in_time.sooner.why is PullReason.FURNITURE_MOVED
    assert (in_time.due_on, in_time.is_late) == (day(7), False)
    assert (too_late.due_on, too_late.is_late) == (day(7), True)


def test_a_room_due_by_its_cycle_or_asked_for_by_a_case_is_not_said_to_be_wanted_sooner():
    built = house().team("blue")
    built.room("101").bed("A").checked("A", day(-88)).room("102").bed("A").checked("A", day(0))
    built.record(FurnitureMoved(RoomNo("101"), RoomNo("102"), day(0), "chair"))
    published(built, slot("101", "A", on=2), slot("102", "A", on=2, asked_by="2026-001"))
    due, asked = rows(built)
    assert (due.sooner, due.due_on) == (None, day(3))
    assert (asked.sooner, asked.due_on) == (None, None)


def test_a_look_that_left_an_underside_out_has_gaps():
    built = house().team("blue")
    built.room("101").bed("A")
    published(built, slot("101", "A"))
    built.checked("A", day(0), seen=("mattress_top",))
    (row,) = rows(built)
    assert row.state is SlotState.WITH_GAPS
    assert row.is_done


def test_a_bed_that_left_the_roster_keeps_no_slot_open():
    built = house().team("blue")
    built.room("101").bed("A").bed("B")
    published(built, slot("101", "A", "B"))
    built.checked("A", day(0))
    gone = built.house.beds["101/B"]
    built.record(type(gone)(gone.bed, gone.room, gone.kind, in_use=False))
    assert states(built) == {"101": SlotState.LOOKED_AT}


def test_a_room_without_beds_is_done_once_the_room_was_looked_at():
    built = house().team("blue")
    built.room("101")
    published(built, slot("101"))
    assert not is_looked_at(built.house, slot("101"))
    built.record(RoomChecked(RoomNo("101"), day(0), Kind.ASKED, ("anna",), ("seats",)))
    assert is_looked_at(built.house, slot("101"))


def test_quarantine_closes_a_slot_unless_its_own_case_asked():
    built = house().team("blue").room("101").bed("A")
    published(built, slot("101", "A"))
    built.record(QuarantinePlaced(RoomNo("101"), CASE, moment(0, 8), "sighting"))
    assert states(built) == {"101": SlotState.IN_QUARANTINE}
    published(built, slot("101", "A", asked_by=CASE))
    assert states(built) == {"101": SlotState.TO_DO}


def test_a_stay_through_the_day_closes_a_slot():
    built = house().team("blue").room("101").bed("A").stays(("101", -1, 3))
    published(built, slot("101", "A"), slot("101", "A", on=3))
    assert [(row.state, row.opening is None) for row in rows(built)] == [
        (SlotState.GUEST_STAYS, True),
        (SlotState.TO_DO, False),
    ]


def test_a_treated_room_is_too_soon_on_the_days_before_it_may_be_entered_again():
    """Until 12:00 UTC of day 1, in Vienna 13:00: the rest of that day is open."""
    built = house().team("blue").room("101").bed("A")
    built.record(TreatmentRecorded(CASE, RoomNo("101"), day(0), "heat", "", "", moment(1, 12)))
    published(built, *(slot("101", "A", asked_by=CASE, on=number) for number in range(3)))
    assert [row.state for row in rows(built)] == [
        SlotState.TOO_SOON,
        SlotState.TO_DO,
        SlotState.TO_DO,
    ]
    assert (rows(built)[1].opening.from_clock, rows(built)[1].opening.kind) == (
        "13:00",
        OpeningKind.AFTER_REENTRY,
    )
    seen, blue = occupancy(built.house, day(0)), TeamName("blue")
    sheets = [team_sheet(built.house, seen, on=day(number), team=blue) for number in range(3)]
    assert [[room.room for room in sheet.rooms] for sheet in sheets] == [[], ["101"], ["101"]]
    assert [room.state for room in sheets[0].passed] == [SlotState.TOO_SOON]
    assert sheets[1].rooms[0].opening.from_clock == "13:00"
    moving = Moving(built.house, occupancy(built.house, day(0)), today=day(0), now=moment(0))
    assert [
        moving.hindrance(rows(built)[1], Target(day(n), TeamName("blue"))) for n in range(3)
    ] == [
        Hindrance.TOO_SOON,
        None,
        None,
    ]


def test_a_slot_is_due_with_its_earliest_bed_and_late_after_that_day():
    built = house().team("blue")
    built.room("101").bed("A").bed("B").checked("A", day(-89)).checked("B", day(-80))
    published(built, slot("101", "A", "B", on=2), slot("101", "A", "B", on=3))
    assert [(row.due_on, row.is_late) for row in rows(built)] == [
        (day(2), False),
        (day(2), True),
    ]


def test_an_asked_slot_is_due_on_the_day_of_its_deadline():
    built = house().team("blue").room("101").bed("A")
    built.record(sighted("101"), CheckAsked(CASE, RoomNo("101"), ("sighting",), moment(1)))
    published(built, slot("101", "A", asked_by=CASE, on=2))
    (row,) = rows(built)
    assert (row.due_on, row.is_late) == (day(1), True)


def test_rooms_gone_and_days_outside_are_left_out():
    built = house().team("blue").room("101").bed("A")
    published(built, slot("101", "A", on=1), slot("999", "A"), slot("101", "A", on=4))
    assert [row.on for row in rows(built, until=3)] == [day(1)]


@given(st.lists(st.tuples(st.integers(0, 3), st.sampled_from(("blue", "red"))), max_size=12))
def test_sums_hold_every_row_once(places):
    built = house().team("blue", 90).room("101").bed("A")
    slots = [
        slot("101", "A", on=on, team=team, position=n) for n, (on, team) in enumerate(places, 1)
    ]
    found = rows(published(built, *slots))
    sums = sheet_sums(built.house, found, Calendar(built.house).minutes)
    assert sum(one.rooms for one in sums) == len(found) == len(places)
    # Each sheet has one way to the room's corridor beside its minutes.
    assert sum(one.used for one in sums) == 20 * len(places) + WAY * len(sums)
    assert {one.minutes for one in sums if one.team == "red"} <= {0}  # a team no longer in use
    assert len({(one.on, one.team) for one in sums}) == len(sums)


def test_quarantines_name_every_case_and_end_with_their_lifting():
    other = CaseNo("2026-002")
    built = house().room("101")
    for case in (CASE, other):
        built.record(QuarantinePlaced(RoomNo("101"), case, moment(0), "sighting"))
    built.record(QuarantineLifted(RoomNo("101"), other, moment(2), "anna", conditions_met=True))
    assert quarantining(built.house, moment(1)) == {"101": {CASE, other}}
    assert quarantining(built.house, moment(2)) == {"101": {CASE}}
    assert quarantining(built.house, moment(-1)) == {}


# --- drafts ---------------------------------------------------------------------------------


def test_a_drafts_sums_show_teams_without_a_room_too():
    built = house().team("blue", 100).team("red", 50, works_on=("tue",))
    built.room("101").bed("A").checked("A", day(-91))
    seen = occupancy(built.house, day(0))
    plan = plan_rounds(built.house, seen, Wish(day(0), 2, moment(0)))
    found = draft_rows(built.house, seen, plan, now=moment(0))
    told = [
        (one.on, one.team, one.rooms, one.used, one.minutes)
        for one in draft_sums(built.house, plan, found)
    ]
    assert told == [
        (day(0), "blue", 1, 20 + WAY, 100),
        (day(1), "blue", 0, 0, 100),
        (day(1), "red", 0, 0, 50),
    ]
    assert first_day(found) == day(0)
    assert first_day(()) is None


def test_a_teams_rooms_ahead_are_those_of_today_and_later():
    built = house().team("blue").room("101").bed("A")
    published(built, *(slot("101", "A", on=n) for n in (0, 1, 2)), slot("101", team="red", on=2))
    assert slots_ahead(built.house, TeamName("blue"), day(1)) == 2


# --- what a day asks for ------------------------------------------------------------------


def test_rooms_that_cases_want_stand_once_with_every_wish_and_their_next_slot():
    other = CaseNo("2026-002")
    built = house().team("blue")
    built.room("101").bed("A")
    built.room("102").bed("A")
    built.record(
        sighted("102"),
        sighted("101", other),
        CheckAsked(CASE, RoomNo("101"), ("shares_wall",), moment(1)),
        CheckAsked(other, RoomNo("101"), ("sighting",), moment(0, 20)),
        CheckAsked(CASE, RoomNo("102"), ("sighting",), moment(1)),
    )
    published(built, slot("101", "A", on=1, asked_by=other))
    first, second = asked_rooms(built.house, moment(0, 12))
    assert (first.room, first.by_at) == ("101", moment(0, 20))
    assert [(w.case, w.source, w.reasons) for w in first.wishes] == [
        (other, "101", ("sighting",)),
        (CASE, "102", ("shares_wall",)),
    ]
    assert (first.is_late, first.is_due_today, first.is_planned_late) == (False, True, True)
    assert first.is_at_risk
    assert (second.room, second.planned, second.is_at_risk) == ("102", None, True)
    assert asked_rooms(built.house, moment(0, 21))[0].is_late


def test_a_room_planned_in_time_is_at_no_risk():
    built = house().team("blue").room("101").bed("A")
    built.record(sighted("101"), CheckAsked(CASE, RoomNo("101"), ("sighting",), moment(1)))
    published(built, slot("101", "A", asked_by=CASE))
    (row,) = asked_rooms(built.house, moment(0, 12))
    assert row.is_planned_today
    assert not row.is_at_risk


def test_a_room_of_which_a_part_alone_is_planned_in_time_is_at_risk():
    built = house().team("blue").room("101").bed("A").bed("B").bed("C")
    built.record(sighted("101"), CheckAsked(CASE, RoomNo("101"), ("sighting",), moment(1)))
    parts = [slot("101", "A", asked_by=CASE), slot("101", "B", on=1, asked_by=CASE)]
    published(built, *parts, slot("101", "C", on=2, asked_by=CASE))
    (row,) = asked_rooms(built.house, moment(0, 12))
    assert (row.is_planned_today, row.is_planned_late) == (True, False)
    assert (row.beds_too_late, row.is_at_risk) == (("101/C",), True)
    published(built, *parts, slot("101", "C", on=1, team="red", asked_by=CASE))
    (row,) = asked_rooms(built.house, moment(0, 12))
    assert (row.beds_too_late, row.is_at_risk) == ((), False)


def test_what_lacks_is_told_in_the_order_in_which_one_sets_up():
    built = house()
    told = [what_lacks(built.house, day(0))]
    built.room("101").bed("A")
    told.append(what_lacks(built.house, day(0)))
    built.record(StaysImported("b.csv", "0", day(0), 0, 0))
    told.append(what_lacks(built.house, day(0)))
    built.team("blue")
    built.record(HouseDaysClosed(day(0), day(0), "Lantern day"))
    told.append(what_lacks(built.house, day(0)))
    built.record(HouseDaysClosed(day(0), day(0), "", is_closed=False))
    told.append(what_lacks(built.house, day(0)))
    published(built, slot("101", "A", on=1))
    told.append(what_lacks(built.house, day(0)))
    assert told == list(Lack)
    assert what_lacks(built.house, day(1)) is None


def test_a_round_can_be_drafted_without_bookings_but_not_without_a_team():
    built = house()
    assert keeps_from_planning(built.house) is Lack.NO_ROSTER
    built.room("101")
    assert keeps_from_planning(built.house) is Lack.NO_TEAM
    built.team("blue")
    assert keeps_from_planning(built.house) is None


# --- cycles ---------------------------------------------------------------------------------


def test_each_cycle_tells_whether_it_was_chosen_or_follows():
    built = house()
    built.room("101", room_type="Twin").bed("A").bed("B")
    built.room("102", room_type="Twin").bed("A")
    built.room("103", room_type="Suite").bed("A")
    built.room("104").bed("A")

    def told():
        rows = (row for row in cycles() if row.scope is not Scope.RISK)
        return [(r.scope, r.which, r.rooms, r.beds, r.cycle_days, r.is_chosen) for r in rows]

    def cycles():
        return cycle_rows(built.house)

    assert told() == [
        (Scope.HOUSE, "", 4, 5, 91, False),
        (Scope.ROOM_TYPE, "Suite", 1, 1, 91, False),
        (Scope.ROOM_TYPE, "Twin", 2, 3, 91, False),
    ]
    built.record(CycleChosen(Scope.HOUSE, "", 60), CycleChosen(Scope.ROOM_TYPE, "Twin", 30))
    built.record(CycleChosen(Scope.ROOM, "101", 7))
    assert told() == [
        (Scope.HOUSE, "", 4, 5, 60, True),
        (Scope.ROOM_TYPE, "Suite", 1, 1, 60, False),
        (Scope.ROOM_TYPE, "Twin", 2, 3, 30, True),
        (Scope.ROOM, "101", 1, 2, 7, True),
    ]
    built.record(CycleChosen(Scope.ROOM_TYPE, "Twin", 0), CycleChosen(Scope.ROOM, "101", 0))
    assert told()[2:] == [(Scope.ROOM_TYPE, "Twin", 2, 3, 60, False)]


@pytest.mark.parametrize("room", ["101", "102", "103"])
def test_a_rows_cycle_is_the_one_that_its_rooms_have(room):
    built = house()
    built.room("101", room_type="Twin")
    built.room("102", room_type="Suite")
    built.room("103")
    built.record(CycleChosen(Scope.ROOM_TYPE, "Twin", 30), CycleChosen(Scope.HOUSE, "", 60))
    by_type = {row.which: row.cycle_days for row in cycle_rows(built.house)}
    assert built.house.cycle_of(RoomNo(room)) == by_type[built.house.rooms[room].room_type]


# --- rooms in quarantine ------------------------------------------------------------------


def test_a_room_in_quarantine_shows_the_step_that_concerns_it():
    built = house()
    built.room("101").bed("A")
    built.room("102").bed("A")
    built.record(
        sighted("101"),
        QuarantinePlaced(RoomNo("101"), CASE, moment(0, 2), "sighting"),
        CheckAsked(CASE, RoomNo("102"), ("shares_wall",), moment(0, 5)),
        CheckAsked(CASE, RoomNo("101"), ("sighting",), moment(0, 9)),
    )
    (row,) = quarantine_rows(built.house, moment(0, 12))
    assert (row.room, row.case, row.step.code) == ("101", CASE, "check_room")
    assert row.step.is_late(moment(0, 12))
    built.record(QuarantineLifted(RoomNo("101"), CASE, moment(0, 13), "anna", conditions_met=True))
    assert quarantine_rows(built.house, moment(0, 14)) == ()
    assert len(quarantine_rows(built.house, moment(0, 12))) == 1


def test_the_room_whose_step_is_due_first_leads():
    built = house()
    built.room("101").bed("A")
    built.room("102").bed("A")
    for room, case, hour in (("101", CASE, 9), ("102", CaseNo("2026-002"), 5)):
        built.record(
            sighted(room, case),
            QuarantinePlaced(RoomNo(room), case, moment(0, 2), "sighting"),
            CheckAsked(case, RoomNo(room), ("sighting",), moment(0, hour)),
        )
    assert [row.room for row in quarantine_rows(built.house, moment(0, 4))] == ["102", "101"]


def test_where_nothing_could_be_seen_nobody_looked():
    built = house().team("blue").room("101").bed("A").bed("B")
    published(built, slot("101", "A", "B"))
    unseen = ("mattress_top:guest",)
    built.checked("A", day(0), seen=(), unseen=unseen).checked("B", day(0), seen=(), unseen=unseen)
    (row,) = rows(built)
    assert row.state is SlotState.IN_VAIN
    assert not row.is_done
    assert not is_looked_at(built.house, slot("101", "A", "B"))
    # Somebody comes again, and sees.
    built.checked("A", day(0)).checked("B", day(0))
    assert states(built) == {"101": SlotState.LOOKED_AT}


def test_a_room_where_nobody_could_look_stands_on_the_sheet_to_go_back_to():
    built = house().team("blue").room("101").bed("A").checked("A", day(0), seen=())
    published(built, slot("101", "A"))
    assert states(built) == {"101": SlotState.IN_VAIN}
    seen = occupancy(built.house, day(0))
    sheet = team_sheet(built.house, seen, on=day(0), team=TeamName("blue"))
    assert ([room.room for room in sheet.rooms], sheet.passed) == (["101"], ())
