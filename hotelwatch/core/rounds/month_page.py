"""A round on one page: weeks of days, each with its teams and their rooms, or why not."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from hotelwatch.core.checks.calendar import Away, Calendar
from hotelwatch.core.days import WEEKDAYS, days_from, weekday
from hotelwatch.core.facts import TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.team_days import Round, TeamOnDay, is_filled_up_later, team_days

WEEK_DAYS = len(WEEKDAYS)


class WhyNoTeam(StrEnum):
    """Why no team is on a day."""

    CLOSED = "closed"
    """The house looks at no beds that day."""
    AWAY = "away"
    """Every team that works on that weekday is away."""
    DAY_OFF = "day_off"
    """No team works on that weekday."""
    NOTHING_LEFT = "nothing_left"
    """Teams work, and keep all of their minutes free for surprises."""
    NOT_PLANNED = "not_planned"
    """The round does not reach so far, or was not published for it."""


@dataclass(frozen=True, slots=True)
class TeamAway:
    """A team that would work and is away."""

    team: TeamName
    reason: str
    """As written down; empty if nothing was."""


@dataclass(frozen=True, slots=True)
class PageDay:
    """A day of the page."""

    on: date
    teams: tuple[TeamOnDay, ...]
    """By name; those that work and have no room too."""
    away: tuple[TeamAway, ...]
    why: WhyNoTeam | None
    """Why no team is on it; None if one is."""
    reason: str
    """Why the house is closed, as written down."""
    is_filled_up_later: bool = False
    """Whether only what is fixed stands there, until its morning."""

    @property
    def rooms(self) -> int:
        """How many rooms all its teams have."""
        return sum(len(team.rooms) for team in self.teams)


@dataclass(frozen=True, slots=True)
class MonthPage:
    """A round's days as a calendar has them."""

    told: Round
    weeks: tuple[tuple[PageDay | None, ...], ...]
    """From Monday to Sunday; None for days before the first and after the last."""

    @property
    def days(self) -> tuple[PageDay, ...]:
        """Its days in order."""
        return tuple(day for week in self.weeks for day in week if day is not None)

    @property
    def filled_up_from(self) -> date | None:
        """From which day on all days with a team show only what is fixed; None if none do."""
        found = None
        for day in reversed([day for day in self.days if day.teams]):
            if not day.is_filled_up_later:
                break
            found = day.on
        return found

    @property
    def has_asked(self) -> bool:
        """Whether a case asked for any of its rooms."""
        return any(
            visit.is_asked for day in self.days for team in day.teams for visit in team.rooms
        )

    @property
    def has_parts(self) -> bool:
        """Whether any room stands there with only some of its beds."""
        return any(visit.is_part for day in self.days for team in day.teams for visit in team.rooms)


def month_page(house: House, told: Round, today: date) -> MonthPage:
    """A round's days, week by week."""
    calendar = Calendar(house)
    by_day: defaultdict[date, list[TeamOnDay]] = defaultdict(list)
    for team in team_days(house, told):
        by_day[team.on].append(team)
    first = told.from_on - timedelta(days=told.from_on.weekday())
    span = (told.until_on - first).days + 1

    def told_day(day: date) -> PageDay:
        is_later = is_filled_up_later(house, told, day, today)
        return _day(house, calendar, day, by_day.get(day, ()), is_later=is_later)

    days = [told_day(day) if day >= told.from_on else None for day in days_from(first, span)]
    days += [None] * (-len(days) % WEEK_DAYS)
    weeks = tuple(tuple(days[n : n + WEEK_DAYS]) for n in range(0, len(days), WEEK_DAYS))
    return MonthPage(told, weeks)


def _day(
    house: House,
    calendar: Calendar,
    day: date,
    teams: Sequence[TeamOnDay],
    *,
    is_later: bool,
) -> PageDay:
    closed = calendar.closed_reason(day)
    away = () if closed is not None else _away(house, calendar, day)
    return PageDay(
        on=day,
        teams=tuple(teams),
        away=away,
        why=None if teams else _why(house, calendar, day, is_away=bool(away)),
        reason=closed or "",
        is_filled_up_later=is_later,
    )


def _away(house: House, calendar: Calendar, day: date) -> tuple[TeamAway, ...]:
    """Teams that are away on a weekday on which they work."""
    return tuple(
        TeamAway(name, changed.reason)
        for name, team in house.teams.items()
        if weekday(day) in team.works_on
        and (changed := calendar.changed(name, day)) is not None
        and not changed.minutes
    )


def _why(house: House, calendar: Calendar, day: date, *, is_away: bool) -> WhyNoTeam:
    if calendar.closed_reason(day) is not None:
        return WhyNoTeam.CLOSED
    if calendar.working(day):
        return WhyNoTeam.NOT_PLANNED
    if any(calendar.why_away(team, day) is Away.NOTHING_LEFT for team in house.teams):
        return WhyNoTeam.NOTHING_LEFT
    return WhyNoTeam.AWAY if is_away else WhyNoTeam.DAY_OFF
