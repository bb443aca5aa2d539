"""What the page of a round says: its days in more or less detail, its title, its legend."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from enum import StrEnum

from hotelwatch.core.days import month_bounds, month_of
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures
from hotelwatch.core.rounds.month_page import MonthPage, PageDay, WhyNoTeam
from hotelwatch.core.rounds.team_days import RoomVisit, Round, TeamOnDay
from hotelwatch.wording.dates import (
    day_and_month_text,
    day_text,
    moment_text,
    month_text,
)
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.ways import corridors_sentence

NO_BREAK = "\u00a0"
LONGEST_REASON = 60


class Detail(StrEnum):
    """How much a day says of its rooms."""

    NUMBERS = "numbers"
    """Each room's number."""
    CORRIDORS = "corridors"
    """How many rooms on each corridor."""
    TEAMS = "teams"
    """How many rooms each team has."""
    SUMS = "sums"
    """How many rooms all teams have."""


DETAILS = tuple(Detail)
"""From the most to the least."""


class Line(StrEnum):
    """What a line of a day is, which tells how it looks."""

    TITLE = "title"
    TEAM = "team"
    ROOMS = "rooms"
    HINT = "hint"


def span_title(told: Round) -> str:
    """Which days a round is of: a month's name, or its first and last day."""
    month = month_of(told.from_on)
    if (told.from_on, told.until_on) == month_bounds(month):
        days = month_text(month)
    else:
        days = _("{first} to {last}").format(
            first=day_text(told.from_on), last=day_text(told.until_on)
        )
    if told.is_draft:
        return _("Draft of a round, {days}").format(days=days)
    return _("Round, {days}").format(days=days)


def known_text(house: House, told: Round, now: datetime) -> str:
    """As of when a round is so: its last publication, or the moment of the draft."""
    entry = told.last_entry
    if told.is_draft:
        return _("Drafted {moment}; no team follows it yet").format(
            moment=moment_text(now, house.zone)
        )
    if entry is None:
        return _("Nothing published as of {moment}").format(moment=moment_text(now, house.zone))
    return _("As planned at {moment}, entry {entry}").format(
        moment=moment_text(entry.recorded_at, house.zone), entry=entry.number
    )


def day_title(day: PageDay) -> str:
    """A day's date."""
    return day_and_month_text(day.on)


def day_lines(day: PageDay, detail: Detail) -> Iterator[tuple[Line, str]]:
    """What a day says: its teams with their rooms, who is away, or why no team is there."""
    if detail is Detail.SUMS:
        yield from _summed(day)
        return
    for team in day.teams:
        yield from _team_lines(team, detail)
    for away in day.away:
        yield Line.HINT, _with_reason(_("{team} is away").format(team=away.team), away.reason)
    if day.why is not None and (not day.away or day.why is WhyNoTeam.NOTHING_LEFT):
        yield Line.HINT, _with_reason(label(day.why), day.reason)


def legend(page: MonthPage, detail: Detail, figures: Figures) -> Iterator[str]:
    """How to read the page, in sentences; only what stands on it is explained."""
    if detail is Detail.NUMBERS:
        yield _("Rooms in walking order.")
        if page.has_asked:
            yield _("“! … asked”: a case asks for it.")
        if page.has_parts:
            yield _("“part”: some of its beds.")
    elif detail is Detail.CORRIDORS:
        yield _(
            "Too many rooms for their numbers: counted here by corridor (floor, wing); the"
            " numbers stand on each day's sheets."
        )
    elif detail is Detail.TEAMS:
        yield _(
            "Too many rooms for one page: counted, and behind them minutes used/had; the numbers"
            " stand on each day's sheets."
        )
    else:
        yield _(
            "Too many teams and rooms for one page: each day is summed up; teams and numbers"
            " stand on each day's sheets."
        )
    if detail is not Detail.NUMBERS and page.has_asked:
        yield _("“! asked”: how many of them a case asks for.")
    yield _(
        "Minutes: used, ways to corridors among them, of those that a team has; assumptions unless"
        " you timed them."
    )
    yield corridors_sentence(figures)
    if page.filled_up_from is not None:
        yield _(
            "From {day} on only what is fixed stands here; each morning fills up its own day."
        ).format(day=day_and_month_text(page.filled_up_from))
    why = {day.why for day in page.days}
    if WhyNoTeam.NOT_PLANNED in why:
        yield _("Grey: no team, or not planned.").replace(" ", NO_BREAK)
    elif why - {None}:
        yield _("Grey: no team.").replace(" ", NO_BREAK)


def _team_lines(team: TeamOnDay, detail: Detail) -> Iterator[tuple[Line, str]]:
    if detail is Detail.TEAMS:
        said = _("{team}: {rooms}, {used}/{minutes}")
        counted = _counted(len(team.rooms), _asked(team))
        yield (
            Line.ROOMS,
            said.format(team=team.team, rooms=counted, used=team.used, minutes=team.minutes),
        )
        return
    used = _("{used} of {minutes} min").format(used=team.used, minutes=team.minutes)
    used = used.replace(" ", NO_BREAK)
    yield Line.TEAM, _("{team}: {used}").format(team=team.team, used=used)
    if detail is Detail.NUMBERS and team.rooms:
        yield Line.ROOMS, _(", ").join(_visit_text(visit) for visit in team.rooms)
    elif team.rooms:
        parts = [_corridor_text(*where, count) for where, count in team.corridors.items()]
        if asked := _asked(team):
            parts.append(_asked_text(asked))
        yield Line.ROOMS, _(", ").join(parts)


def _summed(day: PageDay) -> Iterator[tuple[Line, str]]:
    if day.teams:
        teams = ngettext("{count} team", "{count} teams", len(day.teams))
        used = sum(team.used for team in day.teams)
        minutes = sum(team.minutes for team in day.teams)
        yield (
            Line.ROOMS,
            _("{teams}: {rooms}, {used} of {minutes} min").format(
                teams=teams.format(count=len(day.teams)),
                rooms=_counted(day.rooms, sum(_asked(team) for team in day.teams)),
                used=used,
                minutes=minutes,
            ),
        )
    elif day.why is not None:
        yield Line.HINT, label(day.why)
    if day.away and day.why is not WhyNoTeam.AWAY:
        away = ngettext("{count} team away", "{count} teams away", len(day.away))
        yield Line.HINT, away.format(count=len(day.away))


def _visit_text(visit: RoomVisit) -> str:
    """A room's number with its signs, never broken within."""
    said = str(visit.room)
    if visit.is_part:
        said = _("{room} part").format(room=said)
    if visit.is_asked:
        said = _("! {room} asked").format(room=said)
    return said.replace(" ", NO_BREAK)


def _corridor_text(floor: str, wing: str, count: int) -> str:
    where = _("{floor} {wing}").format(floor=floor, wing=wing) if wing else floor
    return f"{where}: {count}".replace(" ", NO_BREAK)


def _asked(team: TeamOnDay) -> int:
    return sum(visit.is_asked for visit in team.rooms)


def _asked_text(asked: int) -> str:
    return _("! asked: {count}").format(count=asked).replace(" ", NO_BREAK)


def _counted(rooms: int, asked: int) -> str:
    said = ngettext("{count} room", "{count} rooms", rooms).format(count=rooms)
    said = said.replace(" ", NO_BREAK)
    return f"{said} ({_asked_text(asked)})" if asked else said


def _with_reason(said: str, reason: str) -> str:
    if not reason:
        return said
    cut = reason if len(reason) <= LONGEST_REASON else reason[: LONGEST_REASON - 1] + "…"
    return _("{what}: {why}").format(what=said, why=cut)
