"""Deadlines that local rules set, judged from hand-made records, each kind of duty."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    NoticeGiven,
    Outcome,
    Sighted,
    Sign,
)
from hotelwatch.core.choice_facts import PublicHoliday
from hotelwatch.core.clocks import due_on
from hotelwatch.core.facts import BedChecked, BedNo, CaseNo, CheckKind, HotelDescribed, RoomNo
from hotelwatch.core.local_rules.judging import judged
from hotelwatch.core.local_rules.rows import ItemState, Period, Verdict
from hotelwatch.core.profile import clock_of
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, house, rules
from tests.core.rule_clauses import deadline, own_rules

ONE, TWO = CaseNo("2025-001"), CaseNo("2025-002")
CENTRAL = ZoneInfo("America/Chicago")
EASTERN = ZoneInfo("America/New_York")
ROOM = RoomNo("305")
MAY = Period(date(2025, 5, 1), date(2025, 5, 31), datetime(2025, 6, 1, 5, tzinfo=UTC))
JUNE = Period(date(2025, 6, 1), date(2025, 6, 30), datetime(2025, 7, 1, 5, tzinfo=UTC))


def hotel(zone: ZoneInfo, *clauses) -> Build:
    built = house().record(HotelDescribed("Test", zone.key)).room(ROOM).bed("A")
    return built.record(*own_rules(*clauses))


def sign(seen_at: datetime, case=ONE, *, told=False) -> Sighted:
    return Sighted(case, ROOM, "", "", Sign.LIVE_INSECT, 1, "ana", seen_at, by_guest=told)


def told(notice: str, at: datetime, case=ONE) -> NoticeGiven:
    return NoticeGiven(case, notice, "office", at, "ana")


def confirmed(on: date, case=ONE, outcome=Outcome.CONFIRMED) -> CaseJudged:
    return CaseJudged(case, outcome, "Dr. Vey", "entomologist", on)


def treated(on: date, case=ONE) -> TreatmentRecorded:
    re_entry = datetime(on.year, on.month, on.day, 20, tzinfo=UTC)
    return TreatmentRecorded(case, ROOM, on, "heat", "firm", "L-1", re_entry)


def looked(on: date, kind=CheckKind.CLEARANCE) -> BedChecked:
    places = tuple(place.code for place in rules().bed_kinds["box_spring"].places)
    return BedChecked(BedNo("305/A"), ROOM, on, kind, ("ana", "boris"), 14, places)


def only(built: Build, period: Period):
    (one,) = judged(built.house, period).judgements
    return one


def one_item(built: Build, period: Period):
    (item,) = only(built, period).items
    return item


# Source: one business day from Friday 23 May 2025, 16:00, over Memorial Day (5 U.S.C. 6103:
# the last Monday in May): due on Tuesday 27 May; a check case of the trade.
@pytest.mark.parametrize(
    ("told_at", "state", "verdict"),
    [
        (datetime(2025, 5, 23, 17), ItemState.DONE, Verdict.MET),
        (datetime(2025, 5, 27, 23, 59), ItemState.DONE, Verdict.MET),
        (datetime(2025, 5, 28, 0, 1), ItemState.LATE, Verdict.NOT_MET),
        (None, ItemState.MISSING, Verdict.NOT_MET),
    ],
)
def test_the_authority_is_told_within_one_business_day(told_at, state, verdict):
    built = hotel(CENTRAL, deadline("tell_authority", 1, "business_days", "sighting"))
    built.record(PublicHoliday(date(2025, 5, 26), "Memorial Day"))
    built.record(sign(datetime(2025, 5, 23, 16, tzinfo=CENTRAL)))
    if told_at is not None:
        built.record(told("tell_authority", told_at.replace(tzinfo=CENTRAL)))
    item = one_item(built, MAY)
    assert (item.state, only(built, MAY).verdict) == (state, verdict)
    assert item.by.astimezone(CENTRAL).date() == date(2025, 5, 27)
    assert (item.case, item.room) == (ONE, ROOM)


def test_while_its_time_runs_it_is_neither_met_nor_missing():
    built = hotel(CENTRAL, deadline("tell_authority", 1, "business_days", "sighting"))
    built.record(PublicHoliday(date(2025, 5, 26), "Memorial Day"))
    built.record(sign(datetime(2025, 5, 23, 16, tzinfo=CENTRAL)))
    monday = Period(date(2025, 5, 1), date(2025, 5, 26), datetime(2025, 5, 26, 20, tzinfo=UTC))
    assert one_item(built, monday).state is ItemState.AHEAD
    assert only(built, monday).verdict is Verdict.NOT_ARISEN
    assert only(built, JUNE).verdict is Verdict.NOT_MET


# Source: clocks go forward on Sunday 9 March 2025 at 02:00 in US Eastern time (Energy Policy
# Act of 2005): 72 real hours from 8 March 20:00 end on 11 March 21:00; a check case.
@pytest.mark.parametrize(("minute", "state"), [(0, ItemState.DONE), (1, ItemState.LATE)])
def test_hours_are_real_ones_across_a_clock_change(minute, state):
    built = hotel(EASTERN, deadline("answer_guest", 72, "hours", "report"))
    built.record(sign(datetime(2025, 3, 8, 20, tzinfo=EASTERN), told=True))
    built.record(told("answer_guest", datetime(2025, 3, 11, 21, minute, tzinfo=EASTERN)))
    march = Period(date(2025, 3, 1), date(2025, 3, 31), datetime(2025, 4, 1, 4, tzinfo=UTC))
    assert one_item(built, march).state is state


# Source: evaluated within two weeks (StopPests in Housing, Confirming bed bug elimination):
# a treatment on 31 March 2025 by 14 April; a check case.
@pytest.mark.parametrize(
    ("on", "state"),
    [
        (date(2025, 4, 14), ItemState.DONE),
        (date(2025, 4, 15), ItemState.LATE),
        (date(2025, 3, 31), ItemState.MISSING),
    ],
)
def test_a_treatment_is_evaluated_by_a_look_on_a_later_day(on, state):
    built = hotel(CENTRAL, deadline("evaluate_treatment", 14, "calendar_days", "treatment"))
    built.record(sign(datetime(2025, 3, 20, 9, tzinfo=CENTRAL)))
    built.record(treated(date(2025, 3, 31)), looked(on))
    april = Period(date(2025, 4, 1), date(2025, 4, 30), datetime(2025, 5, 1, 5, tzinfo=UTC))
    item = one_item(built, april)
    assert item.state is state
    assert item.by.astimezone(CENTRAL).date() == date(2025, 4, 14)


def test_a_brief_look_evaluates_nothing():
    built = hotel(CENTRAL, deadline("evaluate_treatment", 14, "calendar_days", "treatment"))
    built.record(treated(date(2025, 5, 2)), looked(date(2025, 5, 4), CheckKind.BRIEF))
    assert one_item(built, MAY).state is ItemState.MISSING


@pytest.mark.parametrize(
    ("on", "state"), [(date(2025, 5, 10), ItemState.DONE), (date(2025, 5, 11), ItemState.LATE)]
)
def test_a_treatment_is_in_time_on_the_last_day(on, state):
    built = hotel(CENTRAL, deadline("treat", 5, "calendar_days", "confirmation"))
    built.record(sign(datetime(2025, 5, 4, 9, tzinfo=CENTRAL)), confirmed(date(2025, 5, 5)))
    built.record(treated(on))
    assert one_item(built, MAY).state is state


def test_without_a_confirmation_no_time_runs():
    built = hotel(CENTRAL, deadline("treat", 5, "calendar_days", "confirmation"))
    built.record(sign(datetime(2025, 5, 4, 9, tzinfo=CENTRAL)))
    assert only(built, MAY).items == ()
    assert only(built, MAY).verdict is Verdict.NOT_ARISEN


def test_a_specimen_is_judged_and_neighbours_are_looked_at_in_time():
    built = hotel(
        CENTRAL,
        deadline("judge_specimen", 3, "calendar_days", "sighting"),
        deadline("check_neighbours", 1, "calendar_days", "sighting"),
    )
    seen_at = datetime(2025, 5, 5, 9, tzinfo=CENTRAL)
    built.room("307").bed("A")
    built.record(sign(seen_at), CheckAsked(ONE, RoomNo("307"), ("shares_wall",), seen_at))
    built.record(confirmed(date(2025, 5, 9)))
    judge, around = judged(built.house, MAY).judgements
    assert [item.state for item in judge.items] == [ItemState.LATE]
    (item,) = around.items
    assert (item.room, item.state, item.table) == ("307", ItemState.MISSING, "asked")


def test_each_room_that_a_guest_told_of_waits_for_an_answer_of_its_own_time():
    built = hotel(CENTRAL, deadline("answer_guest", 24, "hours", "report"))
    at = datetime(2025, 5, 5, 9, tzinfo=CENTRAL)
    built.record(sign(at, told=True), told("answer_guest", at + timedelta(hours=23)))
    built.record(sign(at, TWO), sign(at + timedelta(hours=1), TWO, told=True))
    first, second = only(built, MAY).items
    assert (first.state, second.state) == (ItemState.DONE, ItemState.MISSING)
    assert second.since == at + timedelta(hours=1)


def test_a_case_ruled_out_before_its_time_ended_owes_nothing_and_later_it_did():
    built = hotel(CENTRAL, deadline("tell_authority", 3, "calendar_days", "sighting"))
    seen_at = datetime(2025, 5, 5, 9, tzinfo=CENTRAL)
    built.record(sign(seen_at), confirmed(date(2025, 5, 8), outcome=Outcome.NOT_BED_BUG))
    built.record(sign(seen_at, TWO), confirmed(date(2025, 5, 9), TWO, Outcome.NOT_BED_BUG))
    (item,) = only(built, MAY).items
    assert (item.case, item.state) == (TWO, ItemState.MISSING)


def test_a_duty_counts_in_the_month_in_which_its_time_ends_and_until_it_is_done():
    built = hotel(CENTRAL, deadline("tell_authority", 10, "calendar_days", "sighting"))
    built.record(sign(datetime(2025, 5, 28, 9, tzinfo=CENTRAL)))
    assert one_item(built, MAY).state is ItemState.AHEAD
    assert one_item(built, JUNE).state is ItemState.MISSING
    july = Period(date(2025, 7, 1), date(2025, 7, 31), datetime(2025, 8, 1, 5, tzinfo=UTC))
    assert one_item(built, july).state is ItemState.MISSING
    built.record(told("tell_authority", datetime(2025, 6, 20, 9, tzinfo=CENTRAL)))
    assert one_item(built, JUNE).state is ItemState.LATE
    assert only(built, july).items == ()


# Source: numpy's busday_offset with the same holidays and weekends, as an outside reference
# for days counted from any weekday ("backward": a start on a day off counts from before it).
@given(
    st.dates(date(2024, 1, 1), date(2027, 12, 31)),
    st.integers(1, 30),
    st.sets(st.dates(date(2024, 1, 1), date(2028, 3, 31)), max_size=25),
)
def test_business_days_agree_with_numpy(start, amount, days_off):
    built = house().record(*(PublicHoliday(day, "off") for day in sorted(days_off)))
    clock = clock_of(deadline("tell_authority", amount, "business_days", "sighting"))
    off = np.array(sorted(days_off), dtype="datetime64[D]")
    wanted = np.busday_offset(start, amount, roll="backward", holidays=off)
    assert due_on(built.house, clock, start) == wanted.astype(object)
