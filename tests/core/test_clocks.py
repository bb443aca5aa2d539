"""Clocks in hours, calendar, business and working days; sets of local rules."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.choice_facts import ProfileChosen, PublicHoliday, RuleChosen
from hotelwatch.core.clocks import due_at, due_on
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.profile import Clock, Hold, Releaser, Start, Unit
from hotelwatch.core.round_facts import HouseDaysClosed
from hotelwatch.core.standing import Standing
from tests.build import house, rules

EASTERN = ZoneInfo("America/New_York")


def _clock(amount: int, unit: Unit) -> Clock:
    return Clock("tell_authority", amount, unit, Start.SIGHTING, Standing.PUBLISHED, "test")


# Source: Memorial Day 2025 is Monday 26 May (5 U.S.C. 6103, last Monday in May); one
# business day after Friday 23 May ends on Tuesday 27 May: trade check case.
def test_a_business_day_skips_the_weekend_and_a_public_holiday():
    built = house().record(
        HotelDescribed("Test", "America/Chicago"),
        ProfileChosen("kansas"),
        PublicHoliday(date(2025, 5, 26), "Memorial Day"),
    )
    clock = built.house.profile.clock("tell_authority")
    assert clock is not None
    seen_at = datetime(2025, 5, 23, 16, tzinfo=ZoneInfo("America/Chicago"))
    by_at = due_at(built.house, clock, seen_at).astimezone(ZoneInfo("America/Chicago"))
    assert by_at.date() == date(2025, 5, 27)
    assert by_at.hour == 23
    without = built.record(PublicHoliday(date(2025, 5, 26), "", holds=False))
    assert due_on(without.house, clock, date(2025, 5, 23)) == date(2025, 5, 26)


# Source: clocks go forward on Sunday 9 March 2025 at 02:00 in US Eastern time (Energy
# Policy Act of 2005); 72 real hours from 8 March 20:00 end on 11 March 21:00.
def test_hours_are_real_hours_across_a_clock_change():
    built = house().record(HotelDescribed("Test", "America/New_York"))
    start = datetime(2025, 3, 8, 20, tzinfo=EASTERN).astimezone(UTC)
    by_at = due_at(built.house, _clock(72, Unit.HOURS), start).astimezone(EASTERN)
    assert by_at.replace(tzinfo=None) == datetime(2025, 3, 11, 21)


def test_day_types_differ():
    built = house().record(HouseDaysClosed(date(2025, 5, 24), date(2025, 5, 27), "shutdown"))
    friday = date(2025, 5, 23)
    assert due_on(built.house, _clock(1, Unit.CALENDAR_DAYS), friday) == date(2025, 5, 24)
    assert due_on(built.house, _clock(1, Unit.BUSINESS_DAYS), friday) == date(2025, 5, 26)
    assert due_on(built.house, _clock(1, Unit.WORKING_DAYS), friday) == date(2025, 5, 28)
    assert due_on(built.house, _clock(14, Unit.CALENDAR_DAYS), friday) == date(2025, 6, 6)


def test_a_house_closed_for_good_still_has_a_day():
    built = house().record(HouseDaysClosed(date(2025, 1, 1), date(2027, 12, 31), "sold"))
    assert due_on(built.house, _clock(3, Unit.WORKING_DAYS), date(2025, 5, 23)) == date(2025, 5, 26)


@pytest.mark.parametrize("key", sorted(rules().profiles))
def test_every_shipped_profile_names_known_codes_and_its_source(key):
    profile = rules().profiles[key]
    assert set(profile.ring_kinds) <= set(Kind)
    assert profile.ring_radius in (1, 2)
    assert profile.source
    assert profile.note
    for clock in profile.clocks:
        assert clock.amount > 0
        assert clock.source
    told = profile.clock("tell_authority")
    assert told is None or profile.authority


def test_single_choices_lie_over_the_chosen_profile():
    built = house().record(ProfileChosen("alabama"), RuleChosen("ring_radius", "2"))
    assert built.house.profile.release_by is Releaser.HEALTH_OFFICER
    assert built.house.profile.ring_radius == 2
    built.record(RuleChosen("hold", "hold"), RuleChosen("ring_radius", ""))
    assert built.house.profile.hold is Hold.HOLD
    assert built.house.profile.ring_radius == 1
    built.record(RuleChosen("hold", "nonsense"), RuleChosen("ring_kinds", "above below"))
    assert built.house.profile.hold is Hold.INSPECT_THEN_SELL
    assert built.house.profile.ring_kinds == ("above", "below")
