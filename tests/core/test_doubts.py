"""What stands against a look on a named day, and what is said of it."""

from __future__ import annotations

from hotelwatch.core.case_facts import QuarantinePlaced
from hotelwatch.core.facts import CaseNo, RoomNo, TeamName
from hotelwatch.core.round_facts import HouseDaysClosed, TeamDaysChanged, VisitArranged
from hotelwatch.core.rounds.doubts import WhyDoubtful, doubts
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.wording import language
from hotelwatch.wording.doubts import SAID, doubt_sentence
from tests.build import day, house, moment

ROOM = RoomNo("101")


def found(built, *days, team=""):
    return doubts(built.house, ROOM, [day(n) for n in days], now=moment(0, 6), team=team)


def a_house():
    """Day 0 is a Monday; early works on Mondays, late on Tuesdays, nobody else."""
    built = house().room("101").bed("A")
    return built.team("early", works_on=("mon",)).team("late", works_on=("tue",))


def test_a_day_on_which_somebody_works_leaves_no_doubt():
    assert found(a_house(), 0) == found(a_house(), 1, team="late") == ()


def test_a_day_without_teams_a_team_that_is_off_and_a_closed_house_are_told_apart():
    assert [one.why for one in found(a_house(), 2)] == [WhyDoubtful.NOBODY_WORKS]
    assert [(one.why, one.team) for one in found(a_house(), 1, team="early")] == [
        (WhyDoubtful.TEAM_OFF, "early")
    ]
    built = a_house().record(HouseDaysClosed(day(0), day(0), "stocktaking"))
    (doubt,) = found(built, 0, team="early")
    assert (doubt.why, doubt.on) == (WhyDoubtful.HOUSE_CLOSED, day(0))
    language.use("en")
    assert "stocktaking" in doubt_sentence(doubt)


def test_one_of_two_days_that_will_do_is_enough_for_a_night():
    assert found(a_house(), 6, 7) == ()
    assert [one.on for one in found(a_house(), 2, 3)] == [day(2)]


def test_quarantine_is_a_doubt_whatever_the_day():
    built = a_house().record(QuarantinePlaced(ROOM, CaseNo("2026-001"), moment(0, 1), "sighting"))
    assert [one.why for one in found(built, 0)] == [WhyDoubtful.IN_QUARANTINE]
    assert [one.why for one in found(built, 2)] == [
        WhyDoubtful.NOBODY_WORKS,
        WhyDoubtful.IN_QUARANTINE,
    ]


def test_every_doubt_has_a_sentence():
    assert set(SAID) == set(WhyDoubtful)


def test_a_guest_who_stays_is_in_the_way_where_openings_are_known():
    built = a_house().stays(("101", -3, 4))
    seen = occupancy(built.house, day(0))
    (doubt,) = doubts(built.house, ROOM, [day(0)], now=moment(0, 6), seen=seen)
    assert (doubt.why, doubt.on) == (WhyDoubtful.GUEST_STAYS, day(0))
    # The guest leaves on day 4; on day 7, a Monday, early works.
    assert doubts(built.house, ROOM, [day(7)], now=moment(0, 6), seen=seen) == ()
    assert found(built, 0) == ()


def test_hours_outside_a_shift_or_shorter_than_a_look_leave_a_doubt():
    """Set-up 6 minutes, a box spring 14: twenty, within a shift from 8 to 16."""
    built = house().room("101").bed("A").stays(("101", -3, 60))
    built.team("early", from_clock="08:00", until_clock="16:00")
    for hours, is_doubtful in (
        (("15:40", "18:00"), False),
        (("15:41", "18:00"), True),
        (("10:00", "10:20"), False),
        (("10:00", "10:19"), True),
    ):
        built.record(VisitArranged(ROOM, day(2), *hours, "anna"))
        seen = occupancy(built.house, day(0))
        told = doubts(built.house, ROOM, [day(2)], now=moment(0, 6), seen=seen)
        assert [one.why for one in told] == [WhyDoubtful.HOURS_TOO_SHORT] * is_doubtful
        assert [one.minutes for one in told] == [20] * is_doubtful


def test_a_team_of_one_cannot_stand_a_base_up():
    built = house().room("101").bed("A").team("one", people=1)
    assert [one.why for one in found(built, 0)] == [WhyDoubtful.TOO_FEW_PEOPLE]
    assert found(built.bed("B", "crib"), 0) == ()


def test_a_team_with_too_few_minutes_that_day_leaves_a_doubt():
    """Twenty for the visit and eight for the way: 27 are too few."""
    built = house().room("101").bed("A").team("blue", 120)
    built.record(TeamDaysChanged(TeamName("blue"), day(0), day(0), 27, "training"))
    assert [(one.why, one.minutes) for one in found(built, 0)] == [
        (WhyDoubtful.TOO_FEW_MINUTES, 20)
    ]
    built.record(TeamDaysChanged(TeamName("blue"), day(0), day(0), 28, "training"))
    assert found(built, 0) == ()
