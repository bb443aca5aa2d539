"""Calendars of blocked rooms and of deadlines, read back by two libraries."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import icalendar
import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.blocks import blocks
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.papers.block_calendar import (
    block_calendar,
    deadline_calendar,
    write_block_calendar,
    write_deadline_calendar,
)
from hotelwatch.wording import language
from tests.build import day, house, moment

ONE = CaseNo("2026-001")
ROOM = RoomNo("102")


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def seen(room="102", number=0):
    build = house()
    for label in ("101", "102", "103", "104"):
        build.room(label).bed("A")
    return see(build, room, number)


def see(build, room="102", number=0):
    sighted = Sighted(
        CaseNo(""), RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "zelda", moment(number)
    )
    return build.on(number).record(*answer_sighting(build.house, {}, sighted).facts)


def lift(build, number, room="102", hour=9):
    return build.on(number).record(
        QuarantineLifted(RoomNo(room), ONE, moment(number, hour), "mara", False, "sold out")
    )


def as_booked(build, number=0):
    return build.house, occupancy(build.house, day(number))


def events(build, number=0, hour=12, made=block_calendar):
    known = as_booked(build, number) if made is block_calendar else (build.house,)
    now = moment(number, hour)
    content = made(*known, now=now).to_ical()
    calendar = icalendar.Calendar.from_ical(content)
    assert calendar["VERSION"] == "2.0"
    assert calendar["METHOD"] == "PUBLISH"
    return calendar.walk("VEVENT")


def test_a_blocked_room_is_one_event_of_whole_days_until_it_is_expected_back():
    build = seen().record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    (event,) = events(build)
    (block,) = blocks(*as_booked(build), moment(0, 12))
    assert event["SUMMARY"] == "Room 102 not to sell"
    assert event.decoded("DTSTART") == day(0)
    # RFC 5545, 3.6.1: DTEND of whole days is the first day that is no longer meant.
    assert event.decoded("DTEND") == block.expected_until
    assert type(event.decoded("DTSTART")) is date
    assert event["TRANSP"] == "TRANSPARENT"
    assert "Housekeeping" in event["DESCRIPTION"]


def test_front_desk_s_file_says_nothing_that_a_guest_may_not_read():
    build = seen().record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    said = block_calendar(*as_booked(build), now=moment(0, 12)).to_ical().decode().lower()
    for word in (ONE, "bug", "insect", "sighting", "quarantine", "zelda", "treat", "case"):
        assert word not in said


# RFC 5545: UID 3.8.4.7 names an event wherever it is; SEQUENCE 3.8.7.4 never goes down;
# DTSTAMP 3.8.7.2 is when this telling was made.
def test_a_later_file_takes_the_place_of_an_earlier_one():
    build = seen()
    (before,) = events(build)
    build.on(2).record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(2)))
    (after,) = events(build, 2)
    assert before["UID"] == after["UID"]
    assert int(after["SEQUENCE"]) > int(before["SEQUENCE"])
    assert after.decoded("DTSTAMP") == moment(2, 12)
    (tomorrow,) = events(build, 3)
    assert tomorrow["SEQUENCE"] == after["SEQUENCE"]
    assert tomorrow.decoded("DTSTAMP") > after.decoded("DTSTAMP")


def test_a_room_given_back_ends_on_that_day_and_leaves_the_file_some_time_later():
    build = lift(seen(), 5)
    (event,) = events(build, 6)
    assert (event.decoded("DTSTART"), event.decoded("DTEND")) == (day(0), day(5))
    assert events(build, 60) == []
    # Given back after the hour from which guests arrive (15:00 in Vienna, 14:00 UTC):
    # that night is lost still.
    late = lift(seen(), 5, hour=15)
    (event,) = events(late, 6)
    assert event.decoded("DTEND") == day(6)


def test_blocks_of_several_cases_that_overlap_are_one_event():
    build = seen()
    two = CaseNo("2026-002")
    build.on(2).record(
        Sighted(two, ROOM, "", "", Sign.EGGS, 0, "boris", moment(2)),
        QuarantinePlaced(ROOM, two, moment(2), "sighting"),
    )
    (both,) = events(build, 2)
    lift(build, 3)
    (left,) = events(build, 3)
    assert left["UID"] == both["UID"]
    assert left.decoded("DTSTART") == day(0)


# RFC 5545, 3.8.1.11: TENTATIVE is a status of events.
def test_a_room_held_until_somebody_has_looked_is_told_for_the_day():
    build = house()
    for label in ("101", "102"):
        build.room(label).bed("A")
    sighted = Sighted(CaseNo(""), ROOM, "", "", Sign.LIVE_INSECT, 1, "zelda", moment(0))
    around = neighbours(build.house, lay_out(build.house))
    build.on(0).record(*answer_sighting(build.house, around, sighted).facts)
    (event,) = [event for event in events(build) if event.get("STATUS") == "TENTATIVE"]
    assert event["SUMMARY"] == "Room 101 not to sell before a look"
    assert (event.decoded("DTSTART"), event.decoded("DTEND")) == (day(0), day(1))


def test_a_block_that_was_taken_back_is_cancelled():
    build = seen()
    (event,) = events(build)
    build.record(corrects=max(build.house.entries))
    (cancelled,) = events(build)
    assert (cancelled["UID"], cancelled["STATUS"]) == (event["UID"], "CANCELLED")
    assert int(cancelled["SEQUENCE"]) > int(event["SEQUENCE"])


def test_deadlines_stand_in_a_file_of_their_own_at_their_moment():
    build = seen()
    found = events(build, made=deadline_calendar)
    assert found
    summaries = [str(event["SUMMARY"]) for event in found]
    assert all(said.startswith(ONE) for said in summaries)
    for event in found:
        due_at = event.decoded("DTSTART")
        assert isinstance(due_at, datetime)
        assert due_at.utcoffset() == timedelta(0)
        # RFC 5545, 3.6.1: without DTEND an event of a moment ends at that moment.
        assert "DTEND" not in event
    assert len({event["UID"] for event in found}) == len(found)


def test_another_library_reads_the_same_events():
    build = see(seen(), "104", 1)
    content = block_calendar(*as_booked(build, 1), now=moment(1, 12)).to_ical().decode()
    read = vobject.readOne(content)
    ours = {str(event["UID"]): event for event in events(build, 1)}
    assert {event.uid.value for event in read.vevent_list} == set(ours)
    for event in read.vevent_list:
        assert event.dtstart.value == ours[event.uid.value].decoded("DTSTART")
        assert event.dtend.value == ours[event.uid.value].decoded("DTEND")
        assert event.dtstamp.value == datetime(2026, 1, 6, 12, tzinfo=UTC)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(["101", "103"]), st.integers(0, 9)), max_size=5),
    st.text(max_size=30),
)
def test_whatever_happened_is_read_back_with_a_uid_once_and_an_end_after_its_start(rows, name):
    build = house()
    for label in ("101", "103", f"1 {name}"):
        build.room(label).bed("A")
    for room, number in sorted([*rows, (f"1 {name}", 0)], key=lambda row: row[1]):
        see(build, room, number)
    found = events(build, 9)
    assert len({str(event["UID"]) for event in found}) == len(found)
    closed = {placed.room for placed in build.house.all_of(QuarantinePlaced)}
    assert len(found) == len(closed)
    for event in found:
        assert event.decoded("DTSTART") < event.decoded("DTEND")


def test_nothing_is_written_where_there_is_nothing_to_tell(tmp_path):
    build = house().room("101").bed("A")
    for write, known, code in (
        (write_block_calendar, as_booked(build), "nothing_blocked"),
        (write_deadline_calendar, (build.house,), "nothing_due"),
    ):
        with pytest.raises(Refusal) as refused:
            write(*known, tmp_path / "a.ics", now=moment(0))
        assert refused.value.code == code
    known = as_booked(seen())
    assert write_block_calendar(*known, tmp_path / "a.ics", now=moment(0, 12)) == 1
    assert (tmp_path / "a.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
