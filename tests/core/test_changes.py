"""What a draft moves of the published round, beside the slots themselves."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hotelwatch.core.facts import (
    CaseNo,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.round_facts import CheckPinned, DayForbidden, TeamDaysChanged, TeamPinned
from hotelwatch.core.rounds.changes import Moved, moved_visits
from hotelwatch.core.rounds.plan import Plan, Proof
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import day, house, moment

BLUE, RED = TeamName("blue"), TeamName("red")


def slot(number, room, team=BLUE, beds=("A",)):
    return SlotPublished(
        day(number), team, 1, RoomNo(room), tuple(f"{room}/{bed}" for bed in beds), 20
    )


def moved(build, *slots, first=0, last=6):
    plan = Plan(day(first), day(last), slots, (), (), frozenset(), Proof(0, 0, 0, 0, 0))
    return moved_visits(build.house, occupancy(build.house, day(first)), plan)


def inn(*published):
    build = house().team("blue").team("red")
    for room in ("101", "102", "103"):
        build.room(room).bed("A").bed("B")
    return build.record(RoundPublished(day(0), day(6)), *published)


def test_what_stays_is_not_told_and_what_goes_is():
    build = inn(slot(1, "101"), slot(2, "102"), slot(3, "103")).stays(("102", 1, 4))
    found = moved(build, slot(1, "101"), slot(4, "102"), slot(3, "103", RED))
    assert found == (
        Moved(RoomNo("102"), day(2), BLUE, day(4), BLUE, was_possible=False, had_team=True),
        Moved(RoomNo("103"), day(3), BLUE, day(3), RED, was_possible=True, had_team=True),
    )


def test_a_visit_on_no_day_of_the_draft_has_no_day():
    (only,) = moved(inn(slot(2, "101")))
    assert (only.now_on, only.now_team, only.was_possible) == (None, "", True)


def test_what_a_hand_moved_is_told_as_such():
    build = inn(slot(1, "101"), slot(2, "102"), slot(3, "103"))
    build.record(
        DayForbidden(RoomNo("101"), day(1)),
        CheckPinned(RoomNo("102"), day(4)),
        TeamPinned(RoomNo("103"), BLUE),
    )
    found = moved(build, slot(2, "101"), slot(4, "102"), slot(5, "103"))
    assert [(one.room, one.is_forbidden, one.is_pinned_away) for one in found] == [
        ("101", True, False),
        ("102", False, True),
        ("103", False, False),
    ]
    build.record(TeamPinned(RoomNo("103"), RED))
    assert moved(build, slot(3, "103", RED))[-1].is_pinned_away


def test_a_team_that_is_away_or_gone_is_told_as_such():
    build = inn(slot(1, "101"), slot(2, "102", RED), slot(3, "103", RED))
    build.record(TeamDaysChanged(BLUE, day(1), day(1), 0, "leave"))
    build.record(TeamDaysChanged(RED, day(2), day(2), 60, ""))
    found = moved(build, slot(2, "101"))
    assert [(one.room, one.had_team) for one in found] == [
        ("101", False),
        ("102", True),
        ("103", True),
    ]
    build.team("red", in_use=False)
    assert [one.had_team for one in moved(build)] == [False, False, False]


def test_a_room_in_two_visits_is_followed_by_its_beds():
    build = inn(slot(1, "101", beds=("A",)), slot(2, "101", beds=("B",)))
    kept = (slot(1, "101", beds=("A",)), slot(2, "101", beds=("B",)))
    assert moved(build, *kept) == ()
    (only,) = moved(build, slot(1, "101", beds=("A",)), slot(5, "101", beds=("B",)))
    assert (only.was_on, only.now_on) == (day(2), day(5))


def test_what_was_looked_at_and_days_outside_the_draft_do_not_count():
    build = inn(slot(0, "101"), slot(6, "102"))
    build.room("104").bed("A").checked("A", day(0))
    build.record(RoundPublished(day(0), day(0)), slot(0, "104"))
    assert [one.room for one in moved(build, last=5)] == []


def test_a_team_that_lost_minutes_is_told_as_the_cause():
    build = inn(slot(1, "101"), slot(1, "102"))
    # 20 minutes a room and 8 for the way, as resources/parameters.toml says: 48.
    build.record(TeamDaysChanged(BLUE, day(1), day(1), 48, ""))
    assert [one.had_minutes for one in moved(build, slot(2, "101"))] == [True, True]
    build.record(TeamDaysChanged(BLUE, day(1), day(1), 47, ""))
    assert [one.had_minutes for one in moved(build, slot(2, "101"))] == [False, False]


def test_beds_looked_at_on_the_day_do_not_hide_where_the_others_go():
    build = inn(slot(1, "101", beds=("A", "B"))).room("101")
    build.checked("A", day(1))
    (only,) = moved(build, slot(1, "101", beds=("A",)), slot(3, "101", beds=("B",)))
    assert (only.was_on, only.now_on) == (day(1), day(3))


def test_a_bed_promised_sooner_leaves_a_day_after_the_draft():
    build = inn(slot(5, "101"), slot(6, "102"))
    found = moved(build, slot(0, "101"), slot(2, "102"), last=3)
    # Only what is promised is published, here the first day; unless the whole is.
    assert [(one.room, one.was_on, one.now_on, one.is_if_whole) for one in found] == [
        ("101", day(5), day(0), False),
        ("102", day(6), day(2), True),
    ]


def test_a_bed_that_leaves_a_visit_is_told_though_the_others_stay():
    build = inn(slot(1, "101", beds=("A", "B")))
    (only,) = moved(build, slot(1, "101", beds=("A",)), slot(3, "101", beds=("B",)))
    assert (only.only_beds, only.was_on, only.now_on) == (("101/B",), day(1), day(3))
    assert moved(build, slot(1, "101", beds=("A",)), slot(1, "101", beds=("B",))) == ()
    (gone,) = moved(build, slot(1, "101", beds=("A",)))
    assert (gone.only_beds, gone.now_on) == (("101/B",), None)
    (whole,) = moved(build, slot(2, "101", beds=("A", "B")))
    assert whole.only_beds == ()


def test_a_bed_tried_for_today_has_not_left_its_later_sheet():
    """Of 101/A a corner could not be seen this morning: its next look stays on day 9."""
    build = inn(slot(0, "101", beds=("A",)))
    build.record(RoundPublished(day(9), day(9)), slot(9, "101", beds=("A",)))
    assert [one.room for one in moved(build, slot(0, "101", beds=("A",)), last=2)] == ["101"]
    build.room("101", order=1).checked("A", day(0), seen=("seams",))
    assert moved(build, slot(0, "101", beds=("A",)), last=2) == ()


def test_a_visit_is_no_longer_possible_before_re_entry_or_once_its_time_is_over():
    """Two rooms open until 15:00 in Vienna; at 13:50 UTC ten minutes are left of twenty."""
    build = inn(slot(0, "101"), slot(2, "102")).record(
        HotelDescribed("House of tests", "Europe/Vienna", leave_by="11:00", arrive_from="15:00"),
        TreatmentRecorded(CaseNo("2026-001"), RoomNo("102"), day(0), "heat", "", "", moment(3)),
    )
    build.stays(("101", -3, 0), ("101", 0, 9))
    plan = Plan(day(0), day(6), (), (), (), frozenset(), Proof(0, 0, 0, 0, 0))
    seen = occupancy(build.house, day(0))

    def possible(at):
        return {one.room: one.was_possible for one in moved_visits(build.house, seen, plan, at)}

    at = datetime(2026, 1, 5, 13, 50, tzinfo=UTC)
    assert possible(at - timedelta(minutes=10)) == {"101": True, "102": False}
    assert possible(at) == {"101": False, "102": False}
