from __future__ import annotations

from datetime import timedelta

import pytest

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseClosed,
    CaseJudged,
    NoticeGiven,
    Outcome,
    PhotoKept,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.case import Stage
from hotelwatch.core.cases.desk_duties import MOVE_GUEST
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.cases.rows import (
    asked_of_case,
    asked_rows,
    case_for_room,
    case_rows,
)
from hotelwatch.core.cases.story import entries_to_take_back, story_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CheckKind
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import MonitorRead, TreatmentRecorded
from tests.build import day, house, moment


@pytest.fixture
def build():
    """Four rooms in a row, a bed in each."""
    made = house()
    for room in ("101", "102", "103", "104"):
        made.room(room).bed("A")
    return made


def sight(build, room, number, *, sign=Sign.LIVE_INSECT):
    """A sighting with its whole answer, written down on its day; the case's number."""
    sighted = Sighted("", room, "", "", sign, 0, "Esther", moment(number))
    around = neighbours(build.house, lay_out(build.house))
    answer = answer_sighting(build.house, around, sighted)
    build.on(number).record(*answer.facts)
    return answer.sighted.case


def judge(build, case, number, outcome):
    build.on(number).record(CaseJudged(case, outcome, "J. Marder", "Entomologist", day(number)))


def listed(build, *, now, **more):
    as_booked = occupancy(build.house, local_day(now, build.house.zone))
    return case_rows(build.house, as_booked, now=now, **more)


def look(build, room, number, kind=CheckKind.ASKED, **more):
    build.on(number)
    build._room = room
    build.checked("A", day(number), kind=kind, **more)


def test_late_cases_come_first_then_those_with_the_earliest_deadline(build):
    first = sight(build, "101", 0)
    second = sight(build, "104", 3)
    look(build, "101", 0)
    look(build, "102", 0)
    # First: judged within 72 hours; second: looked at within 24 hours of the sign.
    rows = listed(build, now=moment(2))
    assert [row.no for row in rows] == [first, second]
    assert not any(row.is_late for row in rows)
    rows = listed(build, now=moment(3, 10))
    assert [(row.no, row.is_late) for row in rows] == [(first, True), (second, False)]
    judge(build, first, 3, Outcome.CONFIRMED)
    rows = listed(build, now=moment(5))
    assert [(row.no, row.is_late) for row in rows] == [(second, True), (first, False)]


# By hand: 101 was closed on day 0 at 09:00 UTC, so its guest was to be moved by 12:00; the
# rest of that case is due on day 3, and the other one's first look on day 2.
def test_a_guest_who_is_to_be_moved_is_what_a_case_wants_first(build):
    first = sight(build, "101", 0)
    second = sight(build, "104", 1)
    look(build, "101", 0)
    look(build, "102", 0)
    assert [row.no for row in listed(build, now=moment(1, 10))] == [second, first]
    build.stays(("101", -1, 4))
    rows = listed(build, now=moment(1, 10))
    assert [(row.no, row.is_late) for row in rows] == [(first, True), (second, False)]
    assert (rows[0].step.code, rows[0].step.due_at) == (MOVE_GUEST, moment(0, 12))


def test_closed_cases_are_shown_on_wish_after_the_open_ones_newest_first(build):
    closed = [sight(build, room, number) for number, room in enumerate(("101", "104"))]
    for case, room in zip(closed, ("101", "104"), strict=True):
        judge(build, case, 2, Outcome.NOT_BED_BUG)
        build.record(QuarantineLifted(room, case, moment(2, 11), "Ana", conditions_met=True))
    still_open = sight(build, "102", 3)
    assert [row.no for row in listed(build, now=moment(3))] == [still_open]
    rows = listed(build, now=moment(3), with_closed=True)
    assert [row.no for row in rows] == [still_open, *reversed(closed)]
    assert [row.stage for row in rows] == [Stage.SUSPECTED, Stage.RULED_OUT, Stage.RULED_OUT]


def test_an_asked_row_names_the_room_with_the_sign(build):
    case = sight(build, "102", 0)
    rows = asked_of_case(build.house, case, now=moment(0))
    assert {row.room: row.source for row in rows} == {"101": "102", "102": "102", "103": "102"}
    assert {row.reasons for row in rows if row.room != "102"} == {("shares_wall",)}


def test_asked_rows_put_what_is_left_before_what_is_done(build):
    sight(build, "102", 0)
    look(build, "103", 0)
    rows = asked_rows(build.house, now=moment(2))
    assert [(row.room, row.is_open, row.is_late) for row in rows] == [
        ("102", True, True),
        ("101", True, True),
        ("103", False, False),
    ]
    assert rows[-1].done_on == day(0)


def test_checks_of_a_closed_case_are_not_asked_for(build):
    case = sight(build, "102", 0)
    judge(build, case, 1, Outcome.NOT_BED_BUG)
    build.record(QuarantineLifted("102", case, moment(1, 11), "Ana", conditions_met=True))
    assert asked_rows(build.house, now=moment(2)) == ()


def test_the_case_of_a_room_is_its_open_one_else_its_latest(build):
    assert case_for_room(build.house, "102") is None
    old = sight(build, "102", 0)
    judge(build, old, 1, Outcome.NOT_BED_BUG)
    build.record(QuarantineLifted("102", old, moment(1, 11), "Ana", conditions_met=True))
    assert case_for_room(build.house, "102") == old
    new = sight(build, "102", 5)
    assert new != old
    assert case_for_room(build.house, "102") == new
    assert case_for_room(build.house, "103") is None  # asked for, but no sign and no quarantine


def tell(build):
    """A case from its sign to its release."""
    case = sight(build, "102", 0)
    look(build, "101", 1)
    judge(build, case, 1, Outcome.CONFIRMED)
    treated = TreatmentRecorded("", "102", day(2), "Heat", "Firm", "W-1", moment(3))
    build.on(2).record(
        TreatmentRecorded(case, *[getattr(treated, name) for name in treated.__slots__[1:]])
    )
    build.on(2).record(PhotoKept(case, "a" * 64, 9, "spots"), PhotoKept(case, "b" * 64, 9))
    look(build, "102", 9, CheckKind.CLEARANCE)
    build.on(10).record(
        QuarantineLifted("102", case, moment(10), "Ana", conditions_met=False, reason="Full house")
    )
    return case


def test_a_story_is_told_in_the_order_of_its_days(build):
    case = tell(build)
    lines = story_of(build.house, case, now=moment(11))
    assert [(line.code, line.on) for line in lines] == [
        ("sighted", day(0)),
        ("quarantined", day(0)),
        ("asked", day(0)),
        ("judged", day(1)),
        ("treated", day(2)),
        ("photos", day(2)),
        ("looked", day(9)),
        ("lifted", day(10)),
    ]
    asked = next(line for line in lines if line.code == "asked")
    assert asked.values["by_at"] == moment(0) + timedelta(hours=24)
    assert {row.room: row.done_on for row in asked.values["rows"]}["101"] == day(1)
    looked = next(line for line in lines if line.code == "looked")
    assert (looked.values["beds"], looked.values["beds_seen"]) == (1, 1)


def test_a_sign_typed_in_late_stands_on_the_day_it_was_seen(build):
    case = sight(build, "102", 5)
    build.on(9).record(
        Sighted(case, "102", "", "", Sign.EGGS, 0, "Dora", moment(6)),
    )
    judge(build, case, 7, Outcome.CONFIRMED)
    lines = story_of(build.house, case, now=moment(9))
    assert [line.code for line in lines][-2:] == ["sighted", "judged"]


def test_a_check_without_the_underside_is_told_as_such(build):
    case = sight(build, "102", 0)
    look(build, "102", 1, seen=("bedding",))
    looked = [line for line in story_of(build.house, case, now=moment(2)) if line.code == "looked"]
    assert [line.values["beds_seen"] for line in looked] == [0]


def test_looks_before_the_sign_and_after_the_closing_are_no_part_of_the_story(build):
    look(build, "102", -3, CheckKind.DEEP)
    case = tell(build)
    look(build, "102", 15, CheckKind.DEEP)
    build.on(20).record(CaseClosed(case, moment(20), "Ana", False, "wing torn down"))
    look(build, "102", 60, CheckKind.DEEP)
    lines = story_of(build.house, case, now=moment(61))
    assert [line.on for line in lines if line.code == "looked"] == [day(9), day(15)]
    assert (lines[-1].code, lines[-1].on) == ("closed", day(20))


def test_the_word_and_traps_read_stand_in_the_story(build):
    case = tell(build)
    build.on(9).record(NoticeGiven(case, "release_word", "an office", moment(9), "Ana", "no. 7"))
    build.on(9).record(NoticeGiven(case, "answer_guest", "the guest", moment(9), "Ana"))
    build.record(MonitorRead("T1", "102", day(8), "Ana", 0))
    build.record(MonitorRead("T2", "101", day(8), "Ana", 0))
    lines = story_of(build.house, case, now=moment(11))
    found = [line for line in lines if line.code in ("word_given", "trap_read")]
    assert [(line.code, line.on) for line in found] == [
        ("trap_read", day(8)),
        ("word_given", day(9)),
    ]
    assert found[0].values["fact"].monitor == "T1"


def test_a_case_that_is_not_there_has_no_story(build):
    with pytest.raises(Refusal, match="unknown_case"):
        story_of(build.house, "2026-009", now=moment(0))


def test_each_entry_can_be_taken_back_once_the_latest_first(build):
    case = tell(build)
    lines = entries_to_take_back(build.house, case, now=moment(11))
    assert [line.code for line in lines] == ["lifted", "photos", "treated", "judged", "sighted"]
    assert len({line.entry for line in lines}) == len(lines)
