"""A round as papers and calendars show it: each team's day with its rooms in walking order.

A round is published, day by day by the last entry that covers it, or drafted.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.walked import ways_minutes
from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import BedNo, RoomNo, RoundPublished, SlotPublished, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry, Kept
from hotelwatch.core.rounds.day_changes import DayChanges
from hotelwatch.core.rounds.plan import Plan


@dataclass(frozen=True, slots=True)
class Round:
    """Who looks at what on the days from..until, both included."""

    from_on: date
    until_on: date
    slots: tuple[SlotPublished, ...]
    """By day, team and walking order."""
    entries: Mapping[date, Entry]
    """What published each day; a day that is not in it was never published, or is drafted."""
    is_draft: bool
    whole: frozenset[date] = frozenset()
    """Published days that have their likely visits too."""

    @property
    def last_entry(self) -> Entry | None:
        """The latest entry that published any of its days."""
        return max(self.entries.values(), key=lambda entry: entry.number, default=None)

    def covers(self, day: date) -> bool:
        """Whether it says who looks at what on a day, be it nobody."""
        return self.from_on <= day <= self.until_on and (self.is_draft or day in self.entries)


@dataclass(frozen=True, slots=True)
class RoomVisit:
    """A room on a team's day."""

    room: RoomNo
    floor: str
    wing: str
    minutes: int
    is_asked: bool
    """Whether a case asked for it. Which case, and why, stands nowhere here."""
    is_part: bool
    """Whether only some of its beds are meant."""


@dataclass(frozen=True, slots=True)
class TeamOnDay:
    """What a team does on a day."""

    on: date
    team: TeamName
    rooms: tuple[RoomVisit, ...]
    """In walking order; empty where it works and nothing is planned."""
    minutes: int
    """What plans may use of its day; 0 where it is away, or no longer in use."""
    ways_minutes: int
    """Minutes that the ways to its corridors take."""

    @property
    def used(self) -> int:
        """Minutes that its rooms and the ways to them take, as the calendar on screen counts."""
        return self.ways_minutes + sum(visit.minutes for visit in self.rooms)

    @property
    def corridors(self) -> Mapping[tuple[str, str], int]:
        """How many rooms it has on each corridor (floor, wing), in walking order."""
        counts: defaultdict[tuple[str, str], int] = defaultdict(int)
        for visit in self.rooms:
            counts[visit.floor, visit.wing] += 1
        return counts


def published_round(house: House, from_on: date, until_on: date) -> Round:
    """What is published for these days as it stands now."""
    rows = _last_rows(house, from_on, until_on)
    return Round(
        from_on,
        until_on,
        tuple(
            slot
            for day, of_day in house.slots.items()
            if from_on <= day <= until_on
            for slot in of_day
        ),
        {day: house.entry_of(row) for day, row in rows.items()},
        is_draft=False,
        whole=frozenset(day for day, row in rows.items() if row.fact.is_whole),
    )


def drafted_round(plan: Plan) -> Round:
    """A draft, which nobody follows yet, with what comes due again."""
    slots = sorted(
        (*plan.slots, *(one.slot for one in plan.again)),
        key=lambda slot: (slot.on, slot.team, slot.position),
    )
    return Round(plan.from_on, plan.until_on, tuple(slots), {}, is_draft=True)


def published_ahead(house: House, today: date) -> tuple[date, date] | None:
    """First and last day, from today on, that a round is published for; None without any."""
    ends = [published.until_on for published in house.all_of(RoundPublished)]
    last = max(ends, default=None)
    if last is None or last < today:
        return None
    days = _last_rows(house, today, last)
    return (min(days), max(days)) if days else None


def team_days(house: House, told: Round) -> tuple[TeamOnDay, ...]:
    """Each team's days of a round, by day and team: those with rooms, and those with minutes.

    Rooms gone from the roster are left out, as on the teams' sheets.
    """
    calendar = Calendar(house)
    rooms: defaultdict[tuple[date, TeamName], list[RoomVisit]] = defaultdict(list)
    for slot in sorted(told.slots, key=lambda slot: (slot.on, slot.team, slot.position)):
        if slot.room in house.rooms:
            rooms[slot.on, slot.team].append(_visit(house, slot))
    span = (told.until_on - told.from_on).days + 1
    for day in filter(told.covers, days_from(told.from_on, span)):
        for team in calendar.working(day):
            rooms.setdefault((day, team.team), [])
    return tuple(
        TeamOnDay(
            day,
            team,
            tuple(visits),
            calendar.minutes(team, day),
            ways_minutes(house, (visit.room for visit in visits)),
        )
        for (day, team), visits in sorted(rooms.items())
    )


def is_filled_up_later(house: House, told: Round, day: date, today: date) -> bool:
    """Whether only what is fixed was published for a day that is not over: its morning fills it."""
    entry = told.entries.get(day)
    if entry is None or day < today or day in told.whole:
        return False
    return local_day(entry.recorded_at, house.zone) < day


def withdrawn(house: House, told: Round) -> Iterable[tuple[date, TeamName]]:
    """Teams' days that were published once and have no room any more, by day and team.

    A publication that was undone or taken back is one: calendars may have had it.
    """
    if told.is_draft:
        return []
    has_rooms = {(day.on, day.team) for day in team_days(house, told) if day.rooms}
    once = {day for day in DayChanges(house).rooms if told.from_on <= day[0] <= told.until_on}
    return sorted(once - has_rooms)


def _last_rows(house: House, from_on: date, until_on: date) -> Mapping[date, Kept[RoundPublished]]:
    """The last publication of each of these days."""
    found: dict[date, Kept[RoundPublished]] = {}
    for row in house.kept_of(RoundPublished):
        first, last = max(row.fact.from_on, from_on), min(row.fact.until_on, until_on)
        for day in days_from(first, (last - first).days + 1):
            if day not in found or found[day].entry < row.entry:
                found[day] = row
    return found


def _visit(house: House, slot: SlotPublished) -> RoomVisit:
    room = house.rooms[slot.room]
    beds = {bed.bed for bed in house.beds_of(slot.room)}
    return RoomVisit(
        room=slot.room,
        floor=room.floor,
        wing=room.wing,
        minutes=slot.minutes,
        is_asked=bool(slot.asked_by),
        is_part=bool(beds - {BedNo(bed) for bed in slot.beds}),
    )
