"""A small month counted by hand: rooms, deadlines, lifting, policy, quarantine's conditions."""

from __future__ import annotations

from datetime import UTC, datetime

from hotelwatch.core.case_facts import (
    CaseEntryMoved,
    CheckAsked,
    NoticeGiven,
    PhotoKept,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.choice_facts import FigureChosen, RuleChosen
from hotelwatch.core.facts import CaseNo, MonthClosed, RoomNo
from hotelwatch.core.month.changes import later_rows
from hotelwatch.core.month.figures import figures
from hotelwatch.core.people_facts import PersonDescribed, StaffRole
from hotelwatch.core.profile import Unit
from tests.build import day, house, moment

CASE = CaseNo("2026-001")
R101, R102 = RoomNo("101"), RoomNo("102")
NOW = datetime(2026, 2, 3, tzinfo=UTC)


def january(built):
    return figures(built.house, "2026-01", now=NOW)


def test_a_guest_who_waited_longer_than_a_day_was_answered_late() -> None:
    # HUD notices 2011-20 and 2012-17, read second-hand: 24 hours for whoever reported.
    built = house().room("101").bed("A").on(5)
    built.record(Sighted(CASE, R101, "", "", Sign.GUEST_WORD, 0, "desk", moment(5)))
    built.record(NoticeGiven(CASE, "answer_guest", "guest", moment(6, 10), "ines"))
    (row,) = [row for row in january(built).pages.clocks if row.duty == "answer_guest"]
    assert (row.started_at, row.due_at) == (moment(5), moment(6))
    assert (row.done_at, row.by, row.is_late, row.unit) == (
        moment(6, 10),
        "ines",
        True,
        Unit.HOURS,
    )


def test_each_telling_of_a_guest_waits_for_an_answer_of_its_own() -> None:
    built = house().room("101").bed("A").on(5)
    built.record(Sighted(CASE, R101, "", "", Sign.GUEST_WORD, 0, "desk", moment(5)))
    built.record(NoticeGiven(CASE, "answer_guest", "guest", moment(5, 12), "ines"))
    built.record(Sighted(CASE, R101, "", "", Sign.BITES_REPORTED, 0, "desk", moment(8)))
    rows = [row for row in january(built).pages.clocks if row.duty == "answer_guest"]
    assert [(row.done_at, row.is_late) for row in rows] == [(moment(5, 12), False), (None, True)]


def test_what_was_moved_from_case_to_case_is_moved_once() -> None:
    one, two, three = CASE, CaseNo("2026-002"), CaseNo("2026-003")
    built = house().room("101").bed("A").on(5)
    for case in (one, two, three):
        built.record(Sighted(case, R101, "", "", Sign.GUEST_WORD, 0, "desk", moment(5)))
    built.record(PhotoKept(one, "1" * 64, 9, "seam"), PhotoKept(two, "2" * 64, 9, "frame"))
    entry = max(built.house.entries)
    built.record(CaseEntryMoved(entry, one, two, "eva", "another room"))
    built.record(CaseEntryMoved(entry, two, three, "eva", "another room"))
    kept = january(built).pages.kept
    assert {(row.named, row.case) for row in kept} == {("seam", two), ("frame", three)}


def test_rooms_count_what_the_months_rows_say_of_them() -> None:
    built = house().room("101").bed("A").bed("B").room("102").bed("A")
    built.checked("A", day(3)).checked("A", day(9), seen=("bedding",))
    built.on(10).record(
        Sighted(CASE, R101, "", "", Sign.CAST_SKIN, 1, "ana", moment(10)),
        QuarantinePlaced(R101, CASE, moment(10), "sighting"),
    )
    built.on(13).record(QuarantineLifted(R101, CASE, moment(13), "eva", False, "misread"))
    one, two = january(built).pages.rooms
    # Nights of days 10, 11 and 12: it was given back on day 13 before guests arrive.
    assert (one.room, one.beds, one.signs, one.quarantines, one.nights) == ("101", 2, 1, 1, 3)
    assert (two.room, two.beds, two.looks, two.quarantines) == ("102", 1, 1, 0)


def test_a_quarantine_tells_which_conditions_it_was_lifted_on() -> None:
    built = (
        house()
        .room("101")
        .bed("A")
        .on(10)
        .record(
            Sighted(CASE, R101, "", "", Sign.LIVE_INSECT, 1, "ana", moment(10)),
            QuarantinePlaced(R101, CASE, moment(10), "sighting"),
        )
    )
    built.on(13).record(QuarantineLifted(R101, CASE, moment(13), "eva", False, "misread"))
    (row,) = january(built).rows.quarantines
    assert [(one.code, one.is_met) for one in row.conditions] == [("judgement", False)]


def test_an_asked_room_tells_its_centre_who_looked_and_whether_a_sign_was_found() -> None:
    built = (
        house()
        .room("101")
        .bed("A")
        .room("102")
        .bed("A")
        .on(5)
        .record(
            Sighted(CASE, R101, "", "", Sign.LIVE_INSECT, 1, "ana", moment(5)),
            CheckAsked(CASE, R102, ("shares_wall",), moment(6), "101"),
        )
    )
    built.on(6).checked("A", day(6), by=("anna", "boris"))
    (row,) = january(built).rows.asked
    assert (row.centre, row.looked_by, row.has_found, row.is_centre) == (
        "101",
        "anna, boris",
        False,
        False,
    )


def test_lifts_count_once_a_check_and_a_single_name_is_told() -> None:
    built = house().room("101").bed("A").checked("A", day(3)).checked("A", day(3), by=("ana",))
    rows = january(built).pages.lifts
    assert {row.move for row in rows} == {"stand_mattress", "stand_base"}
    assert {(row.times, row.by_one, row.takes_two) for row in rows} == {(2, 1, True)}


def test_a_change_of_policy_tells_old_and_new_and_never_a_pin() -> None:
    built = house().record(RuleChosen("ring_radius", "1")).on(3)
    built.record(RuleChosen("ring_radius", "2"), PersonDescribed("ana", StaffRole.EXECUTIVE, "$h"))
    built.record(FigureChosen("cycle_days", 60, "as the insurer asks"))
    rows = january(built).pages.policy
    changed = {(row.kind, one.field): (one.old, one.new) for row in rows[2:] for one in row.changed}
    assert changed["RuleChosen", "choice"] == ("1", "2")
    assert changed["FigureChosen", "reason"] == ("", "as the insurer asks")
    assert not [one for row in rows for one in row.changed if "$h" in one.old + one.new]


def test_what_came_later_is_told_by_the_months_it_concerns() -> None:
    built = house().room("101").bed("A").on(30).record(MonthClosed("2026-01"))
    closing = max(built.house.entries)
    built.on(40).checked("A", day(3)).checked("A", day(39))
    rows = later_rows(built.house, closing, ("2026-01",))
    assert [(row.kind, row.subject, row.month) for row in rows] == [
        ("BedChecked", "101/A", "2026-01")
    ]
