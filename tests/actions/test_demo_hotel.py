"""The demo hotel as built: months of record, one case of each ending, sound from end to end."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from hotelwatch.actions.demo.build import build_demo
from hotelwatch.actions.open_hotel import whole_house
from hotelwatch.actions.reports import check_file
from hotelwatch.core.cases.case import Stage, cases
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import MonthClosed
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
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
