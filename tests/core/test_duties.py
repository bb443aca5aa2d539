"""What is next over all cases: deadlines by rule, who sees to it, the late ones first."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hotelwatch.core.case_facts import (
    CaseJudged,
    GuestMoved,
    NoticeGiven,
    Outcome,
    OwnerNamed,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.desk_duties import MOVE_GUEST, OTHER_ROOM, what_is_next, what_is_next_in
from hotelwatch.core.cases.duties import DutyState, Role, duties, duties_of_case
from hotelwatch.core.cases.notices import owed_notices
from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.facts import CaseNo, HotelDescribed, RoomNo
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import CareDone, CareStep, TreatmentOrdered
from hotelwatch.wording.steps import step_sentence
from tests.build import day, house, moment
from tests.core.rule_clauses import deadline, own_rules

ONE, TWO = CaseNo("2026-001"), CaseNo("2026-002")


def _sign(case, room, sign=Sign.LIVE_INSECT, at=None, by_guest=False):
    seen_at = at or moment(0)
    return Sighted(case, RoomNo(room), "", "", sign, 1, "mara", seen_at, by_guest=by_guest)


def _closed(case, room):
    return QuarantinePlaced(RoomNo(room), case, moment(0), "sighting")


def _two_rooms():
    return house().room("101").bed("A").room("201").bed("A")


# Source: whoever reported is answered within 24 hours: HUD notices 2011-20 and 2012-17,
# for housing, read second-hand.
def test_a_guest_who_told_something_is_answered_within_a_day():
    built = _two_rooms().record(_sign(ONE, "101", Sign.BITES_REPORTED))
    (owed,) = owed_notices(built.house, ONE)
    assert (owed.notice, owed.due_at) == ("answer_guest", moment(1))
    built.record(NoticeGiven(ONE, "answer_guest", "guest", moment(0, 12), "desk"))
    assert owed_notices(built.house, ONE) == ()
    built.on(2).record(_sign(ONE, "101", Sign.DARK_SPOTS, moment(2), by_guest=True))
    (again,) = owed_notices(built.house, ONE)
    assert again.since == moment(2)


# Source: report within one business day of finding or complaint: K.A.R. 28-36-77(p)(4),
# 2008, hosted copy. The test's day 0 is a Monday.
def test_an_authority_is_told_where_the_local_rules_want_it():
    built = _two_rooms().record(ProfileChosen("kansas"), _sign(ONE, "101"))
    (owed,) = owed_notices(built.house, ONE)
    assert owed.notice == "tell_authority"
    assert owed.due_at.date() == day(1)
    assert owed.to
    built.record(CaseJudged(ONE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(0)))
    assert owed_notices(built.house, ONE) == ()


def test_the_overdue_stand_first_then_what_is_due_then_what_waits():
    built = _two_rooms().record(
        _sign(ONE, "101"), _closed(ONE, "101"), _sign(TWO, "201", at=moment(2))
    )
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    built.record(TreatmentOrdered(ONE, ("101",), "Firm", moment(9), "strip the beds", "mara"))
    found = duties(built.house, moment(6))
    assert [(duty.case, duty.step.code, duty.state) for duty in found] == [
        (TWO, "judge_specimen", DutyState.LATE),
        (ONE, "take_care", DutyState.READY),
        (TWO, "take_care", DutyState.READY),
        (ONE, "await_treatment", DutyState.WAITS),
    ]
    assert found[-1].role is Role.FIRM


def test_an_order_whose_day_has_passed_and_of_which_nothing_is_written_down_is_late():
    built = _two_rooms().record(_sign(ONE, "101"), _closed(ONE, "101"))
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    built.record(TreatmentOrdered(ONE, ("101",), "Firm", moment(1), "", "mara"))
    first = duties(built.house, moment(2) + timedelta(minutes=1))[0]
    assert (first.step.code, first.state) == ("await_treatment", DutyState.LATE)


def test_a_named_person_sees_to_it_and_what_was_done_is_no_duty_any_more():
    built = _two_rooms().record(_sign(ONE, "101"), OwnerNamed(ONE, "take_care", "101", "Ines"))
    care = next(
        d for d in duties_of_case(built.house, ONE, moment(0)) if d.step.code == "take_care"
    )
    assert (care.owner, care.step.values["left"]) == ("Ines", ("luggage", "linen", "cart"))
    for step in (CareStep.LUGGAGE, CareStep.LINEN, CareStep.CART):
        built.record(CareDone(ONE, RoomNo("101"), step, moment(0), "Ines"))
    codes = {duty.step.code for duty in duties_of_case(built.house, ONE, moment(0))}
    assert "take_care" not in codes


# Source: a licensed operator on site within 72 hours of the complaint: draft policy of
# Lawrence, Kansas, 2014, read second-hand in the press.
def test_a_city_may_set_a_clock_on_the_treatment():
    within = own_rules(deadline("treat", 72, "hours", "sighting"))
    built = _two_rooms().record(*within, _sign(ONE, "101"), _closed(ONE, "101"))
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    call = next(d for d in duties(built.house, moment(0)) if d.step.code == "record_treatment")
    assert call.step.due_at == moment(3)


def _let_rooms(*spans):
    built = house().record(HotelDescribed("Test", "UTC")).room("101").bed("A").room("102").bed("A")
    built.stays(*spans).record(_sign(ONE, "101"), _closed(ONE, "101"))
    return built


def _desk(built, now):
    found = what_is_next(built.house, occupancy(built.house, day(0)), now)
    return [(d.step.code, d.state) for d in found if d.step.code in (MOVE_GUEST, OTHER_ROOM)]


# Source: guest moved immediately: draft policy of Lawrence, Kansas, 2014, read second-hand;
# the hours until it is late are an assumption.
def test_the_guest_of_a_closed_room_is_moved_first_of_all():
    built = _let_rooms(("101", -1, 3), ("101", 4, 6))
    now = moment(0, 10)
    found = what_is_next(built.house, occupancy(built.house, day(0)), now)
    assert found[0].step.code == MOVE_GUEST
    assert found[0].role is Role.FRONT_DESK
    assert _desk(built, now) == [(MOVE_GUEST, DutyState.DUE)]
    assert _desk(built, moment(0, 13)) == [(MOVE_GUEST, DutyState.LATE)]
    moved = GuestMoved(RoomNo("101"), RoomNo("102"), day(0), "b0", "desk", ONE)
    here = next(stay for stay in built.house.stays if stay.arrives_on < day(0))
    built.record(replace(moved, booking=here.booking))
    assert _desk(built, moment(0, 13)) == []


# By hand: 101 was closed on day 0 at 09:00 UTC; its guest comes on day 2, when guests may
# come from 15:00 on, and three hours later is 18:00.
def test_nobody_was_to_be_moved_before_coming():
    built = _let_rooms(("101", 2, 6))
    now = moment(3, 10)
    found = what_is_next(built.house, occupancy(built.house, day(3)), now)
    (step,) = (duty.step for duty in found if duty.step.code == MOVE_GUEST)
    assert step.due_at == moment(2, 18)
    said = step_sentence(step, "UTC")
    assert "The hours count from Wed 7 Jan 2026, 15:00 UTC, when guests may come that day" in said


def test_who_comes_into_a_closed_room_soon_stands_there_until_the_hour_of_arrival():
    built = _let_rooms(("101", 1, 3), ("101", 4, 6))
    assert _desk(built, moment(0, 10)) == [(OTHER_ROOM, DutyState.DUE)]
    assert _desk(_let_rooms(("101", 4, 6)), moment(0, 10)) == []


# Whoever shows what is next in one case says what the list of all cases says of it.
def test_one_case_wants_what_stands_of_it_among_all_of_them():
    built = _let_rooms(("101", -1, 3), ("102", -2, 2))
    built.record(_sign(TWO, "102"), _closed(TWO, "102"))
    known, now = occupancy(built.house, day(0)), moment(0, 10)
    every = what_is_next(built.house, known, now)
    assert [d.step.code for d in every[:2]] == [MOVE_GUEST, MOVE_GUEST]
    for case in (ONE, TWO):
        of_case = what_is_next_in(built.house, known, case, now)
        assert of_case == tuple(duty for duty in every if duty.case == case)
        assert of_case[0].step.code == MOVE_GUEST


def test_a_guest_s_move_is_seen_to_by_whom_was_named_for_it():
    built = _let_rooms(("101", -1, 3)).record(OwnerNamed(ONE, MOVE_GUEST, "101", "Ines"))
    found = what_is_next(built.house, occupancy(built.house, day(0)), moment(0, 10))
    assert [duty.owner for duty in found if duty.step.code == MOVE_GUEST] == ["Ines"]
