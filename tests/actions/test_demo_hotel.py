"""The demo hotel as built: months of record, one case of each ending, sound from end to end."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from hotelwatch.actions.demo.build import build_demo
from hotelwatch.actions.open_hotel import whole_house
from hotelwatch.actions.reports import check_file
from hotelwatch.core.cases.case import Stage, cases
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import last_look, looks
from hotelwatch.core.checks.sooner import PullReason, pulls
from hotelwatch.core.facts import CycleChosen, MonthClosed, Scope
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import TeamDaysChanged
from hotelwatch.core.stays.agreed import arranged_visits, asked_nights
from hotelwatch.core.stays.openings import OpeningKind, occupancy
from tests.build import rules

# A Sunday in summer time after a clock change in the months told, and a leap day.
MOMENTS = [datetime(2026, 5, 17, 9, 5, tzinfo=UTC), datetime(2028, 2, 29, 22, 30, tzinfo=UTC)]


@pytest.fixture(scope="module", params=MOMENTS, ids=["after a clock change", "leap day"])
def told(request, tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "demo.hotelwatch"
    build_demo(path, rules(), now=request.param)
    return path, request.param


def test_the_record_is_unbroken_and_its_clock_never_goes_back(told):
    found = check_file(told[0])
    assert found.is_sound
    assert not found.remarks
    assert found.entries > 100


def test_it_holds_one_case_of_each_ending_and_one_that_is_open(told):
    house = whole_house(told[0], rules())
    stages = sorted(case.stage for case in cases(house))
    assert stages == sorted([Stage.RULED_OUT, Stage.RELEASED, Stage.SUSPECTED])
    assert len(house.quarantined(told[1])) == 1


def test_no_check_was_made_in_a_room_that_could_not_be_entered(told):
    house = whole_house(told[0], rules())
    seen = occupancy(house, told[1].date() - timedelta(days=200))
    for checks in house.checks_by_bed.values():
        for row in checks:
            if row.entry not in house.corrected and not row.fact.asked_by:
                assert seen.opening(row.fact.room, row.fact.checked_on), row.fact


def test_most_undersides_were_looked_at_within_the_months_told(told):
    house = whole_house(told[0], rules())
    shown = looks(house, told[1].date())
    assert len(shown) == 98
    assert sum(look.last_on is not None for look in shown) > 90


def test_months_that_are_over_are_closed_and_one_entry_was_taken_back(told):
    house = whole_house(told[0], rules())
    assert len(house.all_of(MonthClosed)) in (3, 4)
    assert len(house.corrected) == 1


def test_a_demo_hotel_already_there_is_left_alone(told):
    before = told[0].read_bytes()
    with pytest.raises(Refusal) as refused:
        build_demo(told[0], rules(), now=told[1])
    assert refused.value.code == "file_exists"
    assert told[0].read_bytes() == before


def test_a_demo_hotel_stopped_on_the_way_leaves_no_half_of_it(tmp_path):
    def stop_in_the_middle(done, _text):
        if done > 0.1:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        build_demo(
            tmp_path / "demo.hotelwatch", rules(), now=MOMENTS[0], progress=stop_in_the_middle
        )
    assert list(tmp_path.iterdir()) == []


def test_the_days_to_come_hold_leave_a_holiday_and_rooms_wanted_sooner(told):
    house = whole_house(told[0], rules())
    today = house.entries[max(house.entries)].recorded_at.astimezone(house.zone).date()
    calendar = Calendar(house)
    ahead = [today + timedelta(days=n) for n in range(14)]
    closed = [day for day in ahead if calendar.closed_reason(day)]
    assert len(closed) == 1
    assert not house.slots.get(closed[0])
    (away,) = house.all_of(TeamDaysChanged)
    assert not any(slot.team == away.team for slot in house.slots.get(away.from_on, ()))
    sooner = pulls(house, occupancy(house, today), today)
    assert PullReason.FURNITURE_MOVED in {pull.why for pull in sooner.values()}


def test_a_guest_who_stays_agreed_to_a_look_that_is_still_to_come(told):
    house = whole_house(told[0], rules())
    today = house.entries[max(house.entries)].recorded_at.astimezone(house.zone).date()
    (visit,) = arranged_visits(house).values()
    assert visit.on > today
    opening = occupancy(house, today).opening(visit.room, visit.on)
    assert opening.kind is OpeningKind.ARRANGED
    assert Calendar(house).working(visit.on)


def test_front_desk_is_asked_for_the_first_night_of_a_booking_that_is_to_come(told):
    house = whole_house(told[0], rules())
    today = house.entries[max(house.entries)].recorded_at.astimezone(house.zone).date()
    (asked,) = asked_nights(house, today)
    stay = occupancy(house, today).stay_on(asked.room, asked.night)
    assert today < asked.night == stay.arrives_on
    assert Calendar(house).working(asked.night + timedelta(days=1))


def test_one_room_was_vacant_for_weeks_and_looked_at_meanwhile(told):
    house = whole_house(told[0], rules())
    today = house.entries[max(house.entries)].recorded_at.astimezone(house.zone).date()
    seen = occupancy(house, today)
    (room,) = {one.which for one in house.all_of(CycleChosen) if one.scope is Scope.ROOM}
    since = seen.vacant_since(room, today)
    assert (today - since).days >= 21
    assert all(last_look(house, bed.bed, today) > since for bed in house.beds_of(room))
