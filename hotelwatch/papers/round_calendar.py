"""A round as an iCalendar file (RFC 5545): one event for each team and day, guests never named.

Importing a later file replaces what an earlier one put into a calendar: an event's UID comes
from the hotel's file, the day and the team, its SEQUENCE is the number of the last entry that
changed the day: published it, undid or took back that, changed its team, rooms or hours. A
team's day that was published once and is no more is cancelled. A draft's events stand beside
those published: they have UIDs of their own, and a later draft's replace them.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import NoReturn

import icalendar

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.days import local_day, moment_of
from hotelwatch.core.facts import TeamName
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.rounds.day_changes import DayChanges
from hotelwatch.core.rounds.team_days import (
    RoomVisit,
    Round,
    TeamOnDay,
    is_filled_up_later,
    team_days,
    withdrawn,
)
from hotelwatch.papers.calendar_parts import new_calendar, uid_of
from hotelwatch.papers.target import (
    CALENDAR_ENDING,
    refuse_calendar_target,
    team_file_names,
    write_calendar_safely,
)
from hotelwatch.wording.cautions import caution_text
from hotelwatch.wording.dates import minutes_text, moment_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.sheet_cautions import limit_text


def write_round_calendar(
    house: House, told: Round, path: Path, *, made_at: datetime, team: str = ""
) -> None:
    """Write a round of one team, or of all, as one calendar.

    Refusal("no_round_on_days"), ("unknown_team"), or as ``write_calendar_safely`` says.
    """
    refuse_calendar_target(path)
    write_calendar_safely(round_calendar(house, told, made_at=made_at, team=team), path)


def write_team_calendars(
    house: House, told: Round, folder: Path, *, made_at: datetime
) -> tuple[Path, ...]:
    """Write a calendar for each team of a round into a folder; the files, by team.

    Refusal("no_round_on_days"), or as ``write_calendar_safely`` says.
    """
    teams = _teams(house, told)
    if not teams:
        _refuse_empty(told)
    names = team_file_names(teams)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refusal("read_only_folder", path=str(folder)) from error
    written = []
    for team in teams:
        path = folder / f"round-{told.from_on.isoformat()}-{names[team]}{CALENDAR_ENDING}"
        write_round_calendar(house, told, path, made_at=made_at, team=team)
        written.append(path)
    return tuple(written)


def round_calendar(house: House, told: Round, *, made_at: datetime, team: str = "") -> bytes:
    """A round as the text of a calendar. Refusal("no_round_on_days"), ("unknown_team")."""
    if team and team not in {*house.teams, *_teams(house, told)}:
        raise Refusal("unknown_team", team=team)
    hotel = house.hotel.name if house.hotel else ""
    calendar = new_calendar("round", _("Rounds, {hotel}").format(hotel=hotel))
    events = _Events(house, told, made_at)
    for event in events.of(team):
        calendar.add_component(event)
    if not calendar.subcomponents:
        _refuse_empty(told)
    content: bytes = calendar.to_ical()
    return content


class _Events:
    """The events of a round, each with what replaces it on a later import."""

    def __init__(self, house: House, told: Round, made_at: datetime) -> None:
        self._house = house
        self._told = told
        self._made_at = made_at
        self._today = local_day(made_at, house.zone)
        self._calendar = Calendar(house)
        self._changes = DayChanges(house)

    def of(self, team: str) -> Iterator[icalendar.Event]:
        """Those of a team, or of all; what was withdrawn stands last."""
        for day in team_days(self._house, self._told):
            if day.rooms and team in ("", day.team):
                yield self._planned(day)
        for on, name in withdrawn(self._house, self._told):
            if team in ("", name):
                yield self._cancelled(on, name)

    def _planned(self, day: TeamOnDay) -> icalendar.Event:
        event = self._event(day.on, day.team)
        event.add("status", "TENTATIVE" if self._told.is_draft else "CONFIRMED")
        event.add("summary", _summary(day, is_draft=self._told.is_draft))
        event.add("description", self._description(day))
        return event

    def _cancelled(self, on: date, team: TeamName) -> icalendar.Event:
        event = self._event(on, team)
        event.add("status", "CANCELLED")
        event.add("summary", _("No round, team {team}").format(team=team))
        return event

    def _event(self, on: date, team: TeamName) -> icalendar.Event:
        entry = None if self._told.is_draft else self._changes.last(on, team)
        event = icalendar.Event()
        event.add("uid", self._uid(on, team))
        event.add("dtstamp", self._made_at)
        event.add("sequence", entry.number if entry else max(self._house.entries, default=0))
        if entry:
            event.add("last-modified", entry.recorded_at)
        self._add_times(event, on, team)
        return event

    def _uid(self, on: date, team: TeamName) -> str:
        """A draft's is another: no number makes it always older than what is published."""
        if self._told.is_draft:
            return uid_of(self._house, "draft", on.isoformat(), team)
        return uid_of(self._house, on.isoformat(), team)

    def _add_times(self, event: icalendar.Event, on: date, team: TeamName) -> None:
        """The team's shift in UTC, or the whole day where none is said."""
        described = self._house.teams.get(team)
        if described and (described.from_clock or described.until_clock):
            begins, ends = self._calendar.shift(team)
            event.add("dtstart", moment_of(on, begins, self._house.zone))
            event.add("dtend", moment_of(on, ends, self._house.zone))
            return
        event.add("dtstart", on)
        event.add("dtend", on + timedelta(days=1))
        event.add("transp", "TRANSPARENT")

    def _description(self, day: TeamOnDay) -> str:
        lines = [_visit_line(number, visit) for number, visit in enumerate(day.rooms, 1)]
        used = _("{used} of {minutes}, ways to corridors counted").format(
            used=minutes_text(day.used), minutes=minutes_text(day.minutes)
        )
        entry = self._told.entries.get(day.on)
        if entry:
            known = _("As planned at {moment}.").format(
                moment=moment_text(entry.recorded_at, self._house.zone)
            )
        else:
            known = _("A draft; no team follows it yet. What is published does not replace it.")
        if is_filled_up_later(self._house, self._told, day.on, self._today):
            known = _("{known} Only what is fixed so far; its morning fills up the day.").format(
                known=known
            )
        cautions = [caution_text("lifting"), caution_text("sharps"), limit_text()]
        return "\n".join([*lines, used, known, *cautions])


def _summary(day: TeamOnDay, *, is_draft: bool) -> str:
    rooms = ngettext("{count} room", "{count} rooms", len(day.rooms)).format(count=len(day.rooms))
    said = (
        _("Draft of a round, team {team}: {rooms}, {minutes}")
        if is_draft
        else _("Round, team {team}: {rooms}, {minutes}")
    )
    return said.format(team=day.team, rooms=rooms, minutes=minutes_text(day.used))


def _visit_line(number: int, visit: RoomVisit) -> str:
    said = _("{number}. Room {room}, {minutes}").format(
        number=number, room=visit.room, minutes=minutes_text(visit.minutes)
    )
    if visit.is_part:
        said = _("{room}, some of its beds").format(room=said)
    if visit.is_asked:
        said = _("{room}, asked for").format(room=said)
    return said


def _teams(house: House, told: Round) -> list[TeamName]:
    """Teams with an event in the round's calendar, by name."""
    planned = {day.team for day in team_days(house, told) if day.rooms}
    return sorted(planned | {team for _on, team in withdrawn(house, told)})


def _refuse_empty(told: Round) -> NoReturn:
    raise Refusal(
        "no_round_on_days", from_on=told.from_on.isoformat(), until_on=told.until_on.isoformat()
    )
