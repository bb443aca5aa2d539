"""Calendars, seasons and moved furniture, written down in a real file."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from hotelwatch.actions.calendar import (
    change_team_days,
    close_days,
    move_furniture,
    note_season,
)
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.facts import Topic
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import (
    AS_USUAL,
    FurnitureMoved,
    HouseDaysClosed,
    SeasonNoted,
    TeamDaysChanged,
)

TODAY = date(2026, 3, 9)
"""A Monday, as the clock of these tests stands."""


def on(number):
    return TODAY + timedelta(days=number)


def days(first, last, minutes, team="Early", reason=""):
    return TeamDaysChanged(team, on(first), on(last), minutes, reason)


def minutes(hotel, count=14):
    calendar = Calendar(hotel.house)
    return [calendar.minutes("Early", on(n)) for n in range(count)]


def refused(code, function, *values):
    before = max(values[0].house.entries)
    with pytest.raises(Refusal) as caught:
        function(*values)
    assert caught.value.code == code
    assert max(values[0].house.entries) == before


def test_leave_takes_the_teams_days_and_can_be_taken_back(hotel):
    change_team_days(hotel, days(0, 9, 0, reason="leave"))
    assert minutes(hotel) == [0] * 10 + [120, 120, 0, 0]
    change_team_days(hotel, days(0, 1, AS_USUAL))
    assert minutes(hotel)[:3] == [120, 120, 0]


def test_fewer_minutes_over_two_weeks_leave_days_off_alone(hotel):
    change_team_days(hotel, days(0, 13, 60))
    assert minutes(hotel) == [60] * 5 + [0, 0] + [60] * 5 + [0, 0]
    spans = [(one.from_on, one.until_on) for one in hotel.house.all_of(TeamDaysChanged)]
    assert spans == [(on(0), on(4)), (on(7), on(11))]


def test_days_off_named_by_themselves_become_an_extra_shift(hotel):
    change_team_days(hotel, days(5, 6, 90))
    assert minutes(hotel, 7) == [120] * 5 + [90, 90]


def test_what_is_said_already_is_not_written_again(hotel):
    change_team_days(hotel, days(0, 13, AS_USUAL))
    assert not hotel.house.all_of(TeamDaysChanged)
    change_team_days(hotel, days(0, 4, 0))
    change_team_days(hotel, days(1, 2, 0))
    close_days(hotel, HouseDaysClosed(on(2), on(3), "holiday"))
    close_days(hotel, HouseDaysClosed(on(3), on(3), "holiday"))
    note_season(hotel, SeasonNoted("fair", on(0), on(9), 50))
    note_season(hotel, SeasonNoted("fair", on(0), on(9), 50))
    moved = FurnitureMoved("101", "102", on(0), "armchair")
    assert move_furniture(hotel, moved).rooms == {"101", "102"}
    assert not move_furniture(hotel, moved).topics
    kinds = (TeamDaysChanged, HouseDaysClosed, SeasonNoted, FurnitureMoved)
    assert [len(hotel.house.all_of(kind)) for kind in kinds] == [1, 1, 1, 1]


def test_nonsense_about_teams_is_refused(hotel):
    refused("unknown_team", change_team_days, hotel, days(0, 1, 0, team="Late"))
    refused("span_goes_back", change_team_days, hotel, days(1, 0, 0))
    refused("span_too_long", change_team_days, hotel, days(0, 366, 0))
    refused("team_minutes_out_of_range", change_team_days, hotel, days(0, 1, 601))
    refused("team_minutes_out_of_range", change_team_days, hotel, days(0, 1, -2))


def test_another_reason_for_a_leave_is_written_down(hotel):
    change_team_days(hotel, days(0, 4, 0, reason="leave"))
    assert change_team_days(hotel, days(0, 4, 0, reason="training")).topics
    calendar = Calendar(hotel.house)
    assert {calendar.changed("Early", on(n)).reason for n in range(5)} == {"training"}
    known = max(hotel.house.entries)
    change_team_days(hotel, days(1, 2, 0, reason="training"))
    assert max(hotel.house.entries) == known


def test_closed_days_need_a_reason_and_open_again(hotel):
    refused("closing_needs_reason", close_days, hotel, HouseDaysClosed(on(0), on(1), " "))
    refused("span_goes_back", close_days, hotel, HouseDaysClosed(on(1), on(0), "holiday"))
    close_days(hotel, HouseDaysClosed(on(0), on(1), "holiday"))
    assert minutes(hotel, 3) == [0, 0, 120]
    close_days(hotel, HouseDaysClosed(on(1), on(1), "", is_closed=False))
    assert minutes(hotel, 3) == [0, 120, 120]
    actions = [entry.action for entry in hotel.house.entries.values()][-2:]
    assert actions == ["close_days", "open_days"]


def test_a_season_is_noted_corrected_and_dropped_by_its_name(hotel):
    changes = note_season(hotel, SeasonNoted("fair", on(0), on(9), 50))
    assert changes.topics == {Topic.SETTINGS}
    note_season(hotel, SeasonNoted("fair", on(0), on(9), 80))
    note_season(hotel, SeasonNoted("fair", on(0), on(0), 0, holds=False))
    assert hotel.house.all_of(SeasonNoted)[-1] == SeasonNoted("fair", on(0), on(9), 80, False)
    dropped = SeasonNoted("fair", on(0), on(0), 0, holds=False)
    refused("unknown_season", note_season, hotel, dropped)
    refused("season_needs_name", note_season, hotel, SeasonNoted(" ", on(0), on(9), 50))
    refused("season_out_of_range", note_season, hotel, SeasonNoted("fair", on(0), on(9), 0))
    refused("season_out_of_range", note_season, hotel, SeasonNoted("fair", on(0), on(9), 301))
    refused("span_goes_back", note_season, hotel, SeasonNoted("fair", on(9), on(0), 50))


def test_nonsense_about_furniture_is_refused(hotel):
    def moved(*rooms, what="armchair", when=0, bed=""):
        return FurnitureMoved(*rooms, on(when), what, bed)

    refused("unknown_room", move_furniture, hotel, moved("101", "999"))
    refused("unknown_room", move_furniture, hotel, moved("999", "101"))
    refused("same_room", move_furniture, hotel, moved("101", "101"))
    refused("furniture_needs_name", move_furniture, hotel, moved("101", "102", what=" "))
    refused("day_to_come", move_furniture, hotel, moved("101", "102", when=1))
    refused("unknown_bed", move_furniture, hotel, moved("101", "102", bed="103/A"))
    move_furniture(hotel, moved("101", "102", bed="101/A"))
