"""What stands against a look on a day that a person names: nobody works, a guest, quarantine."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.able import Able
from hotelwatch.core.stays.openings import Occupancy


class WhyDoubtful(StrEnum):
    """What stands against it."""

    HOUSE_CLOSED = "house_closed"
    NOBODY_WORKS = "nobody_works"
    TEAM_OFF = "team_off"
    TOO_FEW_PEOPLE = "too_few_people"
    """No team that works then has the people for any of its beds."""
    TOO_FEW_MINUTES = "too_few_minutes"
    """No such team has minutes enough that day for any of them, the way counted."""
    HOURS_TOO_SHORT = "hours_too_short"
    """No such team can be in the room long enough for any of them."""
    GUEST_STAYS = "guest_stays"
    IN_QUARANTINE = "in_quarantine"


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that stands against a look, as things are now."""

    why: WhyDoubtful
    on: date
    room: RoomNo
    team: str = ""
    reason: str = ""
    """Why the house is closed."""
    minutes: int = 0
    """Of the shortest look at the room, where hours or minutes are too few."""


def doubts(
    house: House,
    room: RoomNo,
    days: Sequence[date],
    *,
    now: datetime,
    team: str = "",
    seen: Occupancy | None = None,
    calendar: Calendar | None = None,
) -> tuple[Doubt, ...]:
    """What stands against a look on any of these days; a day that will do clears them all.

    A room in quarantine now counts as in quarantine on each day, as plans count it. Guests
    who stay, and hours, are in the way only where ``seen`` says when the room can be entered.
    ``calendar`` is the house's, where it is at hand already.
    """
    able = Able(house, calendar or Calendar(house))
    by_day = [tuple(_of_day(able, room, day, team, seen)) for day in days]
    found = by_day[0] if by_day and all(by_day) else ()
    if room in house.quarantined(now):
        return (*found, Doubt(WhyDoubtful.IN_QUARANTINE, days[0], room))
    return found


def _of_day(
    able: Able, room: RoomNo, day: date, team: str, seen: Occupancy | None
) -> Iterator[Doubt]:
    calendar, opening = able.calendar, None if seen is None else seen.opening(room, day)
    reason = calendar.closed_reason(day)
    if reason is not None:
        yield Doubt(WhyDoubtful.HOUSE_CLOSED, day, room, reason=reason)
    elif not calendar.working(day):
        yield Doubt(WhyDoubtful.NOBODY_WORKS, day, room)
    elif team and not calendar.minutes(TeamName(team), day):
        yield Doubt(WhyDoubtful.TEAM_OFF, day, room, team=team)
    elif not able.teams(room, day):
        yield Doubt(WhyDoubtful.TOO_FEW_PEOPLE, day, room)
    elif not able.has_minutes(room, day):
        yield Doubt(WhyDoubtful.TOO_FEW_MINUTES, day, room, minutes=able.shortest_look(room))
    elif opening is not None and not able.can_look(room, opening):
        least = able.shortest_look(room)
        yield Doubt(WhyDoubtful.HOURS_TOO_SHORT, day, room, minutes=least)
    if seen is not None and opening is None:
        yield Doubt(WhyDoubtful.GUEST_STAYS, day, room)
