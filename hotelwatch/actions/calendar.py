"""Calendars: a team's leave and extra shifts, closed days, seasons, furniture that moved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from hotelwatch.actions.hotel import LONGEST_TEAM_DAY, check_room
from hotelwatch.actions.links import asked_because_of
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.seasons import seasons_noted
from hotelwatch.core.days import days_from, weekday
from hotelwatch.core.facts import Fact, TeamDescribed
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.core.round_facts import (
    AS_USUAL,
    FurnitureMoved,
    HouseDaysClosed,
    SeasonNoted,
    TeamDaysChanged,
)

LONGEST_SPAN_DAYS = 366
MOST_FASTER_PERCENT = 300


def change_team_days(hotel: OpenHotel, changed: TeamDaysChanged) -> Changes:
    """Give a team other minutes on the days from..until, or none, or its usual ones again.

    More or fewer minutes over several days leave alone the days on which the team does not
    work anyway; named one by one, or by themselves, such days become an extra shift.
    Refusal("unknown_team"), ("span_goes_back"), ("span_too_long"),
    ("team_minutes_out_of_range").
    """
    check_days(changed.from_on, changed.until_on)
    if not AS_USUAL <= changed.minutes <= LONGEST_TEAM_DAY:
        raise Refusal("team_minutes_out_of_range", team=changed.team, most=str(LONGEST_TEAM_DAY))

    def decide(house: House) -> Sequence[Fact]:
        team = house.teams.get(changed.team)
        if team is None:
            raise Refusal("unknown_team", team=changed.team)
        calendar = Calendar(house)

        def is_said(day: date) -> bool:
            told = calendar.changed(changed.team, day)
            if told is None:
                return changed.minutes == AS_USUAL
            return (told.minutes, told.reason) == (changed.minutes, changed.reason)

        return [
            part
            for part in _parts(team, changed)
            if not all(is_said(day) for day in _days(part.from_on, part.until_on))
        ]

    return hotel.record(decide, action="change_team_days")


def close_days(hotel: OpenHotel, closed: HouseDaysClosed) -> Changes:
    """Say that nobody looks at beds on the days from..until; or that they do after all.

    Refusal("span_goes_back"), ("span_too_long"), ("closing_needs_reason").
    """
    check_days(closed.from_on, closed.until_on)
    if closed.is_closed and not closed.reason.strip():
        raise Refusal("closing_needs_reason")

    def decide(house: House) -> Sequence[Fact]:
        known = Calendar(house).closed_reason
        wanted = closed.reason if closed.is_closed else None
        days = _days(closed.from_on, closed.until_on)
        return [] if all(known(day) == wanted for day in days) else [closed]

    return hotel.record(decide, action="close_days" if closed.is_closed else "open_days")


def note_season(hotel: OpenHotel, season: SeasonNoted) -> Changes:
    """Say that cycles run faster from..until; or drop the season of that name.

    A season noted again under its name replaces what was said of it.
    Refusal("season_needs_name"), ("span_goes_back"), ("span_too_long"),
    ("season_out_of_range"), ("unknown_season") where there is none to drop.
    """
    if not season.name.strip():
        raise Refusal("season_needs_name")
    if season.holds:
        check_days(season.from_on, season.until_on)
        if not 1 <= season.faster_percent <= MOST_FASTER_PERCENT:
            raise Refusal("season_out_of_range", most=str(MOST_FASTER_PERCENT))

    def decide(house: House) -> Sequence[Fact]:
        known = {told.name: told for told in seasons_noted(house)}.get(season.name)
        if season.holds:
            return [] if known == season else [season]
        if known is None:
            raise Refusal("unknown_season", season=season.name)
        return [replace(known, holds=False)]

    return hotel.record(decide, action="note_season" if season.holds else "drop_season")


def move_furniture(hotel: OpenHotel, moved: FurnitureMoved) -> Changes:
    """Write down that furniture went from one room to another; both are wanted sooner.

    Refusal("unknown_room"), ("unknown_bed"), ("same_room"), ("furniture_needs_name"),
    ("day_to_come").
    """
    if not moved.what.strip():
        raise Refusal("furniture_needs_name")
    if moved.from_room == moved.to_room:
        raise Refusal("same_room", room=moved.to_room)
    if moved.moved_on > hotel.today():
        raise Refusal("day_to_come", day=moved.moved_on.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        for room in (moved.from_room, moved.to_room):
            check_room(house, room)
        rooms = (moved.from_room, moved.to_room)
        beds = {bed.bed for room in rooms for bed in house.beds_of(room)}
        if moved.bed and moved.bed not in beds:
            raise Refusal("unknown_bed", bed=moved.bed, room=moved.from_room)
        if moved in house.all_of(FurnitureMoved):
            return []
        return [moved, *asked_because_of(hotel, house, [moved])]

    return hotel.record(decide, action="move_furniture")


# --- what these share -----------------------------------------------------------------------


def check_days(from_on: date, until_on: date) -> None:
    """Raise Refusal unless the days follow one another, and are not too many."""
    if from_on > until_on:
        raise Refusal("span_goes_back", day=from_on.isoformat())
    if (until_on - from_on).days >= LONGEST_SPAN_DAYS:
        raise Refusal("span_too_long", most=str(LONGEST_SPAN_DAYS))


def _parts(team: TeamDescribed, changed: TeamDaysChanged) -> Iterator[TeamDaysChanged]:
    """The change as it is written down: without the days off within a longer span."""
    days = _days(changed.from_on, changed.until_on)
    working = [day for day in days if weekday(day) in team.works_on]
    if changed.minutes <= 0 or not working:
        yield changed
        return
    begins = working[0]
    for day, following in zip(working, [*working[1:], None], strict=True):
        if following is None or following - day > timedelta(days=1):
            yield replace(changed, from_on=begins, until_on=day)
            begins = following or day


def _days(from_on: date, until_on: date) -> list[date]:
    return list(days_from(from_on, (until_on - from_on).days + 1))
