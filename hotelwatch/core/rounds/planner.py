"""Find a plan: day by day and team by team, the most urgent room that fits.

Asked checks go first, the earliest deadline before the others; then routine checks,
the earliest due first. A room whose bookings close it before it is due counts as due
on the last day that it is open, so that a long stay is not waited for. With rooms open
every day this is the rule that makes the greatest lateness as small as can be.

Here an optimiser will go: it takes the same house, occupancy and wish and gives a Plan.

Source: Jackson 1955, scheduling a production line to minimize maximum tardiness,
research report 43, University of California, Los Angeles.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from hotelwatch.core.checks.sheet import walking_order
from hotelwatch.core.checks.slots import is_looked_at, quarantining
from hotelwatch.core.days import days_from, moment_of, weekday
from hotelwatch.core.facts import (
    RoomNo,
    SlotPublished,
    TeamDescribed,
    TeamName,
    TreatmentRecorded,
)
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.demand import Wanted, demand
from hotelwatch.core.rounds.plan import LeftOut, Plan, TeamDay, WhyNot
from hotelwatch.core.stays.openings import Occupancy

STEP = "planning"


@dataclass(frozen=True, slots=True)
class Wish:
    """What to plan: so many days, and the moment at which quarantines are looked up."""

    from_on: date
    days: int
    now: datetime
    """A room in quarantine now counts as in quarantine on every day of the plan."""


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A wanted visit with the days on which it could be made."""

    wanted: Wanted
    people: int
    open_on: frozenset[date]
    why_not: WhyNot | None
    """Why it can be made on none of them, whatever the minutes."""
    counts_as_due: date


def plan_rounds(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Plan:
    """A plan for the days of the wish; the same house, occupancy and wish give the same one.

    A team's sheet stays within its minutes; no room is entered that is not open that
    day; a room in quarantine is entered only where its own case asks for it. A room
    that was looked at already on the first day keeps its slot there. ``progress`` is
    called once a day and may raise Stopped.
    """
    days = tuple(days_from(wish.from_on, max(1, wish.days)))
    view = _View(house, occupancy, wish, days)
    waiting = {one.wanted.room: one for one in view.candidates()}
    slots: list[SlotPublished] = []
    minutes: list[TeamDay] = []
    for number, day in enumerate(days):
        progress(number / len(days), STEP)
        sheets = _plan_day(view, day, waiting)
        slots += (slot for _, sheet in sorted(sheets.items()) for slot in sheet)
        minutes += (
            TeamDay(day, team.team, sum(slot.minutes for slot in sheets[team.team]), team.minutes)
            for team in view.working(day)
        )
    progress(1.0, STEP)
    return Plan(
        from_on=days[0],
        until_on=days[-1],
        slots=tuple(slots),
        left_out=tuple(_left_out(waiting.values(), days[-1])),
        minutes_by_day=tuple(minutes),
    )


def _plan_day(
    view: _View, day: date, waiting: dict[RoomNo, _Candidate]
) -> Mapping[TeamName, list[SlotPublished]]:
    """Each team's sheet of a day; rooms put on one wait no longer.

    A slot that is done already stays. If its room is wanted all the same, because
    something was left out, it waits for another day.
    """
    sheets: defaultdict[TeamName, list[SlotPublished]] = defaultdict(list)
    for slot in _done_slots(view.house, day):
        sheets[slot.team].append(slot)
    done = {slot.room for sheet in sheets.values() for slot in sheet}
    for team in view.working(day):
        free = team.minutes - sum(slot.minutes for slot in sheets[team.team])
        open_today = [
            one for room, one in waiting.items() if day in one.open_on and room not in done
        ]
        for one in _fill(open_today, team, free):
            sheets[team.team].append(view.slot(one, day, team))
            del waiting[one.wanted.room]
    return {team: _in_walking_order(view.house, sheet) for team, sheet in sheets.items()}


class _View:
    """The house as the planner looks at it."""

    def __init__(
        self, house: House, occupancy: Occupancy, wish: Wish, days: tuple[date, ...]
    ) -> None:
        self.house = house
        self.occupancy = occupancy
        self.days = days
        self.own_cases = quarantining(house, wish.now)
        self.enter_from = _reentry(house)
        self.weekdays: dict[int, frozenset[str]] = {}

    def working(self, day: date) -> list[TeamDescribed]:
        """Teams that work on a day, by name."""
        return [team for team in self.house.teams.values() if weekday(day) in team.works_on]

    def candidates(self) -> list[_Candidate]:
        """Every wanted visit, the most urgent first."""
        place = {room: number for number, room in enumerate(self.house.rooms)}
        found = [
            self._candidate(wanted) for wanted in demand(self.house, self.days[0], self.days[-1])
        ]
        asked = [one for one in found if one.wanted.by_at is not None]
        routine = [one for one in found if one.wanted.by_at is None]
        routine.sort(key=lambda one: (one.counts_as_due, one.wanted.due_on, place[one.wanted.room]))
        return [*asked, *routine]

    def slot(self, one: _Candidate, day: date, team: TeamDescribed) -> SlotPublished:
        """A room's slot, its position not yet known."""
        wanted = one.wanted
        own = self.own_cases.get(wanted.room, frozenset())
        asked_by = next((case for case in wanted.cases if case in own), wanted.asked_by)
        return SlotPublished(
            on=day,
            team=team.team,
            position=0,
            room=wanted.room,
            beds=wanted.beds,
            minutes=wanted.minutes,
            asked_by=asked_by,
        )

    def _candidate(self, wanted: Wanted) -> _Candidate:
        kinds = self.house.rules.bed_kinds
        people = max((kinds[self.house.beds[bed].kind].people for bed in wanted.beds), default=1)
        weekdays = self._weekdays(people)
        worked = [day for day in self.days if weekday(day) in weekdays]
        counts_as_due = self._counts_as_due(wanted, weekdays)
        first = _first_day(wanted, counts_as_due)
        open_on = frozenset(day for day in worked if day >= first and self._is_open(wanted, day))
        own = self.own_cases.get(wanted.room)
        why_not = None
        if own is not None and own.isdisjoint(wanted.cases):
            why_not = WhyNot.IN_QUARANTINE
        elif not worked:
            why_not = WhyNot.NO_TEAM
        elif not open_on:
            why_not = WhyNot.NO_OPENING
        return _Candidate(
            wanted, people, frozenset() if why_not else open_on, why_not, counts_as_due
        )

    def _weekdays(self, people: int) -> frozenset[str]:
        """Weekdays on which a team with so many people works."""
        if people not in self.weekdays:
            teams = self.house.teams.values()
            self.weekdays[people] = frozenset(
                code for team in teams if team.people >= people for code in team.works_on
            )
        return self.weekdays[people]

    def _is_open(self, wanted: Wanted, day: date) -> bool:
        opening = self.occupancy.opening(wanted.room, day)
        if opening is None:
            return False
        reentry = self.enter_from.get(wanted.room)
        return reentry is None or reentry <= moment_of(day, opening.from_clock, self.house.zone)

    def _counts_as_due(self, wanted: Wanted, weekdays: frozenset[str]) -> date:
        """The last day up to the due one on which the room is open; the due one if none is."""
        if wanted.by_at is not None or not weekdays:
            return wanted.due_on
        day = wanted.due_on
        while day >= self.days[0]:
            if weekday(day) in weekdays and self._is_open(wanted, day):
                return day
            day -= timedelta(days=1)
        return wanted.due_on


def _first_day(wanted: Wanted, counts_as_due: date) -> date:
    """The first day on which a visit is not too early."""
    if wanted.by_at is not None:
        return date.min
    return max(wanted.earliest_on, counts_as_due - timedelta(days=wanted.early_days))


def _fill(waiting: Iterable[_Candidate], team: TeamDescribed, minutes: int) -> list[_Candidate]:
    """The most urgent of those that fit into a team's minutes."""
    taken = []
    for one in waiting:
        if one.people <= team.people and one.wanted.minutes <= minutes:
            taken.append(one)
            minutes -= one.wanted.minutes
    return taken


def _in_walking_order(house: House, slots: list[SlotPublished]) -> list[SlotPublished]:
    """Slots of one team and day, put into walking order."""
    by_room = {slot.room: slot for slot in slots}
    order = walking_order(house, by_room)
    return [replace(by_room[room], position=number) for number, room in enumerate(order, 1)]


def _done_slots(house: House, day: date) -> list[SlotPublished]:
    """Slots of a day whose beds have all been looked at that day already."""
    return [
        slot
        for slot in house.slots.get(day, ())
        if slot.room in house.rooms and is_looked_at(house, slot)
    ]


def _reentry(house: House) -> Mapping[RoomNo, datetime]:
    """From when each treated room may be entered again."""
    latest: dict[RoomNo, datetime] = {}
    for treated in house.all_of(TreatmentRecorded):
        known = latest.get(treated.room, treated.reenter_at)
        latest[treated.room] = max(known, treated.reenter_at)
    return latest


def _left_out(waiting: Iterable[_Candidate], until: date) -> Iterator[LeftOut]:
    for one in waiting:
        if one.wanted.by_at is not None or one.wanted.due_on <= until:
            yield LeftOut(one.wanted.room, one.wanted.due_on, one.why_not or WhyNot.NO_MINUTES)
