"""Why an underside was not looked at on a day, told from plan, record and bookings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import date, timedelta
from functools import cached_property

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import builds_on, underside_of, underside_seen
from hotelwatch.core.checks.stood import stood
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CheckKind,
    RoomNo,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.house import House
from hotelwatch.core.month.due_rows import WhyDays, WhyLate
from hotelwatch.core.stays.agreed import DeclinedVisit, declined_visits
from hotelwatch.core.stays.openings import Occupancy

ORDER = tuple(WhyLate)


class Reasons:
    """Answers for a house, day by day; keeps what it worked out."""

    def __init__(self, house: House, occupancy: Occupancy) -> None:
        """The house as of the end of the account, and who had which room when."""
        self.house = self._house = house
        self._occupancy = occupancy
        self._calendar = Calendar(house)
        self._wanted: dict[BedNo, int] = {}

    def of(
        self, bed: BedNo, room: RoomNo, days_late: tuple[date, date], *, is_running: bool
    ) -> tuple[tuple[WhyDays, ...], tuple[str, ...]]:
        """The reasons of the days late from the first to before ``end``, and places left out.

        Where ``is_running``, ``end`` is today, on which all may still be done: of it only a
        look that left places out is told.

        The main reason stands first: the one that the hotel could have done most
        about (see ``WhyLate``), not the one of most days. So "the same guests had
        the room" is the main reason only where they had it on every day, and that
        they said no only where they had said so by the first of these.
        """
        due_on, end = days_late
        partial = self._partial_checks(bed)
        days = [due_on + timedelta(days=n) for n in range((end - due_on).days)]
        if is_running and end in partial:
            days.append(end)
        counted = Counter(
            WhyLate.PLACES_LEFT_OUT if day in partial else self._on(bed, room, day) for day in days
        )
        why = tuple(WhyDays(code, counted[code]) for code in ORDER if counted[code])
        checks = [check for day in days if day in partial for check in partial[day]]
        left_out = dict.fromkeys(place for check in checks for place in self.left_out(check))
        return why, tuple(left_out)

    def left_out(self, check: BedChecked) -> tuple[str, ...]:
        """Underside places that a check did not look at, each as "place:why".

        Of the bed as it was then built; changed on that day, the build that lacks fewest.
        """
        builds = builds_on(self._house, check.bed, check.checked_on)
        missing = min((self._missing(build, check) for build in builds), key=len, default=())
        said = dict(pair.partition(":")[::2] for pair in check.unseen)
        return tuple(f"{code}:{said.get(code, '')}" for code in missing)

    def _missing(self, build: BedDescribed, check: BedChecked) -> tuple[str, ...]:
        kind = self._house.rules.bed_kinds.get(build.kind)
        needed = underside_of(self._house, build)
        if kind is None or needed is None:
            return ()
        order = (place.code for place in kind.places_of(encased=build.encased))
        return tuple(code for code in order if code in needed and code not in check.seen)

    def _on(self, bed: BedNo, room: RoomNo, day: date) -> WhyLate:
        closed = self._closed.get(room)
        if closed and any(from_on <= day <= until_on for from_on, until_on in closed):
            return WhyLate.IN_QUARANTINE
        opening = self._occupancy.opening(room, day)
        if opening is None:
            return self._why_shut(room, day)
        if bed in self._planned_beds.get(day, ()):
            return WhyLate.PLANNED_NOT_DONE
        working = self._calendar.working(day)
        if not working:
            return WhyLate.NO_TEAM
        minutes, people = self._minutes_of(bed), self._people_of(bed)
        fit = [
            team.team
            for team in working
            if team.people >= people and self._calendar.meets(team.team, opening, minutes)
        ]
        if not fit:
            return WhyLate.NO_FIT_TEAM
        most = max(self._left(team, day) for team in fit)
        return WhyLate.NO_MINUTES if most < minutes else WhyLate.NOT_PLANNED

    def _why_shut(self, room: RoomNo, day: date) -> WhyLate:
        noes = self._noes.get(room)
        if not noes:
            return WhyLate.NO_OPENING
        stay = self._occupancy.stay_on(room, day)
        is_declined = any(no.stands(stay, day) for no in noes)
        return WhyLate.GUEST_DECLINED if is_declined else WhyLate.NO_OPENING

    def _left(self, team: TeamName, day: date) -> int:
        """What a team had left beside what stood on its sheet."""
        planned = self._planned.get(day, Counter())
        return self._calendar.minutes(team, day) - planned[team]

    def _people_of(self, bed: BedNo) -> int:
        described = self._house.beds.get(bed)
        kind = self._house.rules.bed_kinds.get(described.kind) if described else None
        return kind.people if kind else 1

    def _minutes_of(self, bed: BedNo) -> int:
        if bed not in self._wanted:
            self._wanted[bed] = self._reckoned_minutes(bed)
        return self._wanted[bed]

    def _reckoned_minutes(self, bed: BedNo) -> int:
        described = self._house.beds.get(bed)
        kind = self._house.rules.bed_kinds.get(described.kind) if described else None
        looking = kind.minutes_of(encased=described.encased) if kind and described else 0
        return int(self._house.rules.figures.room_setup_minutes.value) + looking

    def _partial_checks(self, bed: BedNo) -> dict[date, tuple[BedChecked, ...]]:
        """A bed's checks by day that left out a place of the underside."""
        found: dict[date, tuple[BedChecked, ...]] = {}
        for row in self._house.checks_by_bed.get(bed, ()):
            check = row.fact
            if check.kind is not CheckKind.BRIEF and not underside_seen(self._house, check):
                found[check.checked_on] = (*found.get(check.checked_on, ()), check)
        return found

    @cached_property
    def _noes(self) -> Mapping[RoomNo, tuple[DeclinedVisit, ...]]:
        return declined_visits(self._house)

    @cached_property
    def _stood(self) -> Mapping[date, tuple[SlotPublished, ...]]:
        return stood(self._house)

    @cached_property
    def _planned_beds(self) -> dict[date, frozenset[str]]:
        return {
            day: frozenset(bed for slot in slots for bed in slot.beds)
            for day, slots in self._stood.items()
        }

    @cached_property
    def _planned(self) -> dict[date, Counter[TeamName]]:
        planned: dict[date, Counter[TeamName]] = {}
        for day, slots in self._stood.items():
            planned[day] = Counter()
            for slot in slots:
                planned[day][slot.team] += slot.minutes
        return planned

    @cached_property
    def _closed(self) -> dict[RoomNo, tuple[tuple[date, date], ...]]:
        """Each quarantine of a room: the day it began and the last day before its lifting."""
        zone = self._house.zone
        spans: dict[RoomNo, tuple[tuple[date, date], ...]] = {}
        for placed, lifted in self._house.quarantines:
            until_on = local_day(lifted.lifted_at, zone) if lifted else date.max
            span = local_day(placed.from_at, zone), until_on - timedelta(days=1)
            spans[placed.room] = (*spans.get(placed.room, ()), span)
        return spans
