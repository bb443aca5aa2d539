"""What stood on a day's sheets while its teams worked, though it was planned anew since."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.checks.stood import stood
from hotelwatch.core.days import WEEKDAYS
from hotelwatch.core.facts import (
    CycleChosen,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.month.due_rows import WhyLate
from hotelwatch.core.month.figures import figures
from tests.build import day, house, moment

EARLY, ANY = TeamName("Early"), TeamName("Any")


def an_inn():
    """Guests leave by 10; one team works from 7 to 15, of the other no hours are said."""
    build = house().record(HotelDescribed("Inn", "Europe/Vienna", leave_by="10:00"))
    build.record(CycleChosen(Scope.HOUSE, "", 10))
    build.team(EARLY, works_on=WEEKDAYS, from_clock="07:00", until_clock="15:00")
    build.team(ANY, works_on=WEEKDAYS)
    for room in ("101", "102"):
        build.room(room).bed("A", "platform").bed("B", "platform")
    return build


def slot(room, beds="AB", team=EARLY, on=10, position=1):
    labels = tuple(f"{room}/{bed}" for bed in beds)
    return SlotPublished(day(on), team, position, RoomNo(room), labels, 6 + 10 * len(beds))


def published(build, number, clock, *slots, first=10, last=10):
    """A round written down on a day at an hour of the hotel's clock, in winter one before UTC."""
    build.record(RoundPublished(day(first), day(last)), *slots)
    entry = build.house.entries[max(build.house.entries)]
    entry = replace(entry, recorded_at=moment(number, clock - 1))
    build.house = replace(build.house, entries={**build.house.entries, entry.number: entry})
    return build


def on_sheets(build, on=10):
    return [(slot.team, slot.room, slot.beds) for slot in stood(build.house).get(day(on), ())]


@pytest.mark.parametrize(
    ("team", "clock", "is_kept"),
    [(EARLY, 6, False), (EARLY, 8, True), (EARLY, 16, True), (ANY, 9, False), (ANY, 16, True)],
)
def test_what_a_team_had_as_it_worked_stays_and_what_it_never_had_does_not(team, clock, is_kept):
    build = published(an_inn(), 9, 18, slot("101", team=team))
    published(build, 10, clock, slot("102", team=team))
    rooms = sorted(room for _team, room, _beds in on_sheets(build))
    assert rooms == (["101", "102"] if is_kept else ["102"])
    assert [slot.room for slot in build.house.slots[day(10)]] == ["102"]


def test_what_was_planned_anew_before_the_day_is_not_of_the_day():
    build = published(an_inn(), 8, 18, slot("101"))
    published(build, 9, 18, slot("102"))
    published(build, 10, 16)
    assert on_sheets(build) == [(EARLY, "102", ("102/A", "102/B"))]


def test_a_bed_stands_where_it_stood_last():
    build = published(an_inn(), 9, 18, slot("101"), slot("102", position=2))
    published(build, 10, 12, slot("101", "A", ANY), slot("102", "AB", ANY, position=2))
    assert on_sheets(build) == [
        (ANY, "101", ("101/A",)),
        (ANY, "102", ("102/A", "102/B")),
        (EARLY, "101", ("101/B",)),
    ]
    # 6 minutes to set up and 10 for a platform bed.
    (left,) = [one for one in stood(build.house)[day(10)] if one.team == EARLY]
    assert left.minutes == 16


def test_a_sheet_put_right_after_its_day_tells_of_the_whole_day():
    build = published(an_inn(), 9, 18, slot("101"))
    published(build, 12, 9, slot("102"))
    assert on_sheets(build) == [(EARLY, "102", ("102/A", "102/B"))]


def test_a_round_taken_back_stood_on_no_sheet():
    build = published(an_inn(), 9, 18, slot("101"))
    published(build, 10, 16)
    build.record(corrects=max(build.house.entries), note="by mistake")
    assert on_sheets(build) == [(EARLY, "101", ("101/A", "101/B"))]
    build.record(corrects=max(build.house.entries) - 2, note="by mistake")
    assert on_sheets(build) == []


def test_planning_anew_after_the_shift_leaves_the_months_reason_and_hours_as_they_were():
    build = published(an_inn(), 9, 18, slot("101"), slot("102", "A", position=2))
    before = figures(build.house, "2026-01", now=moment(12))
    published(build, 10, 16, slot("101", on=11), last=11)
    after = figures(build.house, "2026-01", now=moment(12))

    def reasons(told):
        (row,) = [row for row in told.rows.due if row.bed == "102/A"]
        return [(one.why, one.days) for one in row.why]

    assert reasons(after) == reasons(before)
    assert (WhyLate.PLANNED_NOT_DONE, 1) in reasons(after)
    days = [
        (row.on, row.team, row.planned_rooms, row.planned_minutes) for row in after.rows.team_days
    ]
    assert days == [(day(10), EARLY, 2, 42), (day(11), EARLY, 1, 26)]
