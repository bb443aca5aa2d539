"""Wanted visits as the planner weighs them: how urgent, on which days, how long.

A visit is of all wanted beds of a room, unless they need more minutes than a team
has on any day on which the room is open: then it is divided by beds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from hotelwatch.core.checks.sheet import bed_minutes, visit_minutes
from hotelwatch.core.checks.slots import quarantining
from hotelwatch.core.days import moment_of, weekday
from hotelwatch.core.facts import (
    BedNo,
    CaseNo,
    RoomNo,
    SlotPublished,
    TeamDescribed,
    TreatmentRecorded,
)
from hotelwatch.core.house import House
from hotelwatch.core.rounds.calendar import Calendar
from hotelwatch.core.rounds.demand import Wanted, demand
from hotelwatch.core.rounds.plan import WhyNot
from hotelwatch.core.rounds.pulls import pulls
from hotelwatch.core.rounds.tries import last_tries, latest_look
from hotelwatch.core.stays.openings import Occupancy

Rank = tuple[bool, date, bool, date, int]


@dataclass(frozen=True, slots=True)
class Bed:
    """A wanted bed."""

    bed: BedNo
    minutes: int
    people: int
    due_on: date


@dataclass(frozen=True, slots=True)
class Candidate:
    """A wanted visit with the days on which it could be made."""

    wanted: Wanted
    setup_minutes: int
    beds: tuple[Bed, ...]
    """Those that some team can look at in a day, the one that waits the longest first."""
    open_on: frozenset[date]
    """Days on which a team that can do it works and the room is open."""
    is_divided: bool
    """Whether it may take several visits."""
    why_not: WhyNot | None
    """Why some of its beds, or all, can stand on no sheet, whatever the minutes left."""
    waits_since: date
    """The day that it is due; the last try, if it was tried for in vain since."""
    rank: Rank
    """The most urgent has the least."""
    people: int
    minutes: int
    """Of one visit to all of ``beds``."""

    @property
    def is_asked(self) -> bool:
        """Whether a case asks for it."""
        return self.wanted.by_at is not None

    def is_long_overdue(self, day: date) -> bool:
        """Whether a routine check waits longer than it could have been made early."""
        return not self.is_asked and (day - self.waits_since).days > self.wanted.early_days

    def visit_minutes(self, beds: Iterable[Bed]) -> int:
        """Minutes of a visit to some of its beds."""
        return self.setup_minutes + sum(bed.minutes for bed in beds)

    def beds_for(self, team: TeamDescribed, minutes: int) -> tuple[Bed, ...] | None:
        """The beds that a team looks at if it has so many minutes left; None for no visit.

        A divided routine visit comes only for all that is left or for at least half of
        what the team could do in a whole day: each further visit costs a set-up. It is
        never without the bed that waits the longest, lest small beds go before it for ever.
        """
        if not self.is_divided:
            fits = self.people <= team.people and self.minutes <= minutes
            return self.beds if fits else None
        taken = self._that_fit(team, minutes)
        if not taken:
            return None
        in_a_day = self._that_fit(team, team.minutes)
        if self.is_asked or len(taken) == len(self.beds) or len(taken) * 2 >= len(in_a_day):
            return taken
        return None

    def _that_fit(self, team: TeamDescribed, minutes: int) -> tuple[Bed, ...]:
        """Beds for so many minutes, never without the one that waits the longest for the team."""
        able = (bed for bed in self.beds if bed.people <= team.people)
        able = (bed for bed in able if self.visit_minutes([bed]) <= team.minutes)
        taken: list[Bed] = []
        minutes -= self.setup_minutes
        for bed in able:
            if bed.minutes <= minutes:
                taken.append(bed)
                minutes -= bed.minutes
            elif not taken:
                break
        return tuple(taken)


class View:
    """The house as the planner looks at it from the first of some days."""

    def __init__(
        self, house: House, occupancy: Occupancy, days: tuple[date, ...], *, now: datetime
    ) -> None:
        """``now`` is the moment at which quarantines are looked up."""
        self.house = house
        self.days = days
        self._occupancy = occupancy
        self._own_cases = quarantining(house, now)
        self._enter_from = _reentry(house)
        self.calendar = Calendar(house)
        self._able_of: dict[tuple[int, int], frozenset[date]] = {}
        self._setup = int(house.rules.figures.room_setup_minutes.value)
        self._place = {room: number for number, room in enumerate(house.rooms)}
        sooner = pulls(house, occupancy, days[0])
        self._demand = demand(house, days[0], days[-1], pulled=sooner)
        self._asked_place = {one.room: number for number, one in enumerate(self._demand)}
        self._tries = last_tries(house, self._overdue(), days[0])

    def working(self, day: date) -> list[TeamDescribed]:
        """Teams that work on a day, by name, with the minutes that they have that day."""
        return [
            replace(team, minutes=self.calendar.minutes(team.team, day))
            for team in self.calendar.working(day)
        ]

    def candidates(self) -> list[Candidate]:
        """Every wanted visit, the most urgent first."""
        found = [self._candidate(wanted) for wanted in self._demand]
        return sorted(found, key=lambda one: one.rank)

    def without(self, one: Candidate, beds: Iterable[BedNo]) -> Candidate | None:
        """What stays of a wanted visit without some of its beds; None for nothing."""
        gone = set(beds)
        wanted = one.wanted
        pairs = zip(wanted.beds, wanted.bed_due_on, strict=True)
        left = [(bed, due_on) for bed, due_on in pairs if bed not in gone]
        if not left:
            return None
        due_on = wanted.due_on if one.is_asked else min(due_on for _, due_on in left)
        return self._candidate(
            replace(
                wanted,
                beds=tuple(bed for bed, _ in left),
                bed_due_on=tuple(due_on for _, due_on in left),
                due_on=due_on,
                minutes=visit_minutes(self.house, (self.house.beds[bed] for bed, _ in left)),
            )
        )

    def slot(
        self, one: Candidate, beds: Iterable[Bed], *, on: date, team: TeamDescribed
    ) -> SlotPublished:
        """The slot of a visit, its position not yet known."""
        wanted = one.wanted
        taken = {bed.bed: bed for bed in beds}
        own = self._own_cases.get(wanted.room, frozenset())
        return SlotPublished(
            on=on,
            team=team.team,
            position=0,
            room=wanted.room,
            beds=tuple(bed for bed in wanted.beds if bed in taken),
            minutes=one.visit_minutes(taken.values()),
            asked_by=next((case for case in wanted.cases if case in own), wanted.asked_by),
        )

    # --- one candidate ------------------------------------------------------------

    def _candidate(self, wanted: Wanted) -> Candidate:
        beds = self._beds(wanted)
        why_not = self._why_not(wanted, beds)
        able = tuple(bed for bed in beds if self._able_days(bed.people, bed.minutes))
        is_divided, counts_as_due, open_on = False, wanted.due_on, frozenset[date]()
        if why_not is None or (able and why_not is not WhyNot.IN_QUARANTINE):
            is_divided, counts_as_due, open_on = self._when(wanted, able)
            if why_not is None and not open_on:
                why_not = WhyNot.NO_OPENING
        was_tried = not wanted.asked_by and any(bed.bed in self._tries for bed in able)
        people, minutes = _together(able)
        return Candidate(
            wanted=wanted,
            setup_minutes=self._setup,
            beds=able,
            open_on=open_on,
            is_divided=is_divided,
            why_not=why_not,
            waits_since=max(counts_as_due, wanted.due_on),
            rank=self._rank(wanted, counts_as_due, was_tried=was_tried),
            people=people,
            minutes=self._setup + minutes,
        )

    def _beds(self, wanted: Wanted) -> tuple[Bed, ...]:
        kinds = self.house.rules.bed_kinds
        found = []
        for no, due_on in zip(wanted.beds, wanted.bed_due_on, strict=True):
            bed = self.house.beds[no]
            found.append(Bed(no, bed_minutes(self.house, bed), kinds[bed.kind].people, due_on))
        return tuple(sorted(found, key=lambda bed: self._waits_since(wanted, bed)))

    def _waits_since(self, wanted: Wanted, bed: Bed) -> tuple[date, date]:
        """A bed tried for in vain goes behind the others of its room, as rooms do."""
        if wanted.by_at is None:
            return max(bed.due_on, self._tries.get(bed.bed, bed.due_on)), bed.due_on
        return latest_look(self.house, bed.bed, self.days[0]) or date.min, bed.due_on

    def _why_not(self, wanted: Wanted, beds: tuple[Bed, ...]) -> WhyNot | None:
        """Why some of its beds can be looked at on none of the days."""
        own: frozenset[CaseNo] | None = self._own_cases.get(wanted.room)
        if own is not None and own.isdisjoint(wanted.cases):
            return WhyNot.IN_QUARANTINE
        needs = [(bed.people, bed.minutes) for bed in beds] or [_together(())]
        for people, minutes in needs:
            if not self._able_days(people, minutes):
                has_people = self._able_days(people, -self._setup)
                return WhyNot.TOO_LONG if has_people else WhyNot.NO_TEAM
        return None

    def _when(self, wanted: Wanted, beds: tuple[Bed, ...]) -> tuple[bool, date, frozenset[date]]:
        """Whether it is divided, when it counts as due, and the days on which it can be made."""
        whole = self._able_days(*_together(beds))
        counts_as_due, open_on = self._open_days(wanted, beds, whole)
        single = whole.union(*(self._able_days(bed.people, bed.minutes) for bed in beds))
        if single == whole:
            return False, counts_as_due, open_on
        counts_in_parts, open_in_parts = self._open_days(wanted, beds, single)
        first, first_part = min(open_on, default=None), min(open_in_parts, default=date.min)
        is_soon = first is not None and (
            wanted.by_at is None or first <= max(wanted.due_on, first_part)
        )
        if is_soon:
            return False, counts_as_due, open_on
        return True, counts_in_parts, open_in_parts

    def _open_days(
        self, wanted: Wanted, beds: tuple[Bed, ...], able: frozenset[date]
    ) -> tuple[date, frozenset[date]]:
        counts_as_due = self._counts_as_due(wanted, beds, able)
        first = _first_day(wanted, counts_as_due)
        return counts_as_due, frozenset(
            day for day in self.days if day in able and day >= first and self._is_open(wanted, day)
        )

    def _able_days(self, people: int, minutes: int) -> frozenset[date]:
        """Days on which a team has the people, and the minutes with set-up."""
        key = people, minutes
        if key not in self._able_of:
            self._able_of[key] = frozenset(
                day
                for day in self.days
                for team in self.working(day)
                if team.people >= people and team.minutes >= self._setup + minutes
            )
        return self._able_of[key]

    def _is_open(self, wanted: Wanted, day: date) -> bool:
        opening = self._occupancy.opening(wanted.room, day)
        if opening is None:
            return False
        reentry = self._enter_from.get(wanted.room)
        return reentry is None or reentry <= moment_of(day, opening.from_clock, self.house.zone)

    # --- how urgent ----------------------------------------------------------------

    def _counts_as_due(self, wanted: Wanted, beds: tuple[Bed, ...], able: frozenset[date]) -> date:
        """The last day up to the due one on which the room is open; the due one if none is.

        What is overdue counts from its last try, if it was tried for since.
        """
        if wanted.by_at is not None or not able:
            return wanted.due_on
        due_on = day = min((bed.due_on for bed in beds), default=wanted.due_on)
        if day < self.days[0]:
            return min(self._waits_since(wanted, bed)[0] for bed in beds)
        weekdays = {weekday(one) for one in able}
        while day >= self.days[0]:
            # Beyond the days planned a team counts as working on its weekdays.
            works = day in able or (day > self.days[-1] and weekday(day) in weekdays)
            if works and self._is_open(wanted, day):
                return day
            day -= timedelta(days=1)
        return due_on

    def _rank(self, wanted: Wanted, counts_as_due: date, *, was_tried: bool) -> Rank:
        if wanted.by_at is not None:
            return False, date.min, False, date.min, self._asked_place[wanted.room]
        return True, counts_as_due, was_tried, wanted.due_on, self._place[wanted.room]

    def _overdue(self) -> Mapping[BedNo, date]:
        return {
            bed: due_on
            for wanted in self._demand
            if wanted.by_at is None
            for bed, due_on in zip(wanted.beds, wanted.bed_due_on, strict=True)
            if due_on < self.days[0]
        }


def _together(beds: tuple[Bed, ...]) -> tuple[int, int]:
    """People and minutes, without set-up, to look at beds in one visit."""
    return max((bed.people for bed in beds), default=1), sum(bed.minutes for bed in beds)


def _first_day(wanted: Wanted, counts_as_due: date) -> date:
    """The first day on which a visit is not too early."""
    if wanted.by_at is not None:
        return date.min
    return max(wanted.earliest_on, counts_as_due - timedelta(days=wanted.early_days))


def _reentry(house: House) -> Mapping[RoomNo, datetime]:
    """From when each treated room may be entered again."""
    latest: dict[RoomNo, datetime] = {}
    for treated in house.all_of(TreatmentRecorded):
        known = latest.get(treated.room, treated.reenter_at)
        latest[treated.room] = max(known, treated.reenter_at)
    return latest
