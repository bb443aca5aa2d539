"""Wanted visits as the planner takes them: which beds, how long, by whom, from when.

A visit is of all wanted beds of a room, unless no team usually has the minutes for them:
then the room stands in several parts, the beds that wait the longest in the first.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from hotelwatch.core.checks.sheet import bed_minutes
from hotelwatch.core.checks.slots import quarantining
from hotelwatch.core.checks.sooner import pulls
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    RoomNo,
)
from hotelwatch.core.house import House
from hotelwatch.core.rounds.able import Able
from hotelwatch.core.rounds.crews import Crews
from hotelwatch.core.rounds.demand import Wanted, demand, early_days
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.hours import last_day_in_time, minutes_of
from hotelwatch.core.rounds.plan import WhyNot
from hotelwatch.core.rounds.tries import done_part, is_looked_at_since, last_tries, latest_look
from hotelwatch.core.stays.entering import after_reentry, from_clock_on, reentries
from hotelwatch.core.stays.openings import Occupancy, Opening

KNOWN_BEYOND_DAYS = 75
"""Days after a plan's last one in which known stays still tell when a room would best be seen."""
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Bed:
    """A wanted bed."""

    bed: BedNo
    minutes: int
    people: int
    due_on: date
    waits_since: date
    """The day that it is due; the last try, if it was tried for in vain since.

    What a case asks for waits from ever, or from the last try since the case asked.
    """


@dataclass(frozen=True, slots=True)
class Visit:
    """One look at beds of a room."""

    wanted: Wanted
    beds: tuple[Bed, ...]
    minutes: int
    """Set-up and beds."""
    people: int
    due_on: date
    """The last day that is not late."""
    waits_since: date
    first_on: date
    """Before this day a look is too early."""
    best_on: date
    """The last day with an opening up to the due one; the due one if there is none."""

    @property
    def room(self) -> RoomNo:
        """The room."""
        return self.wanted.room

    @property
    def is_asked(self) -> bool:
        """Whether a case asks for it."""
        return self.wanted.by_at is not None


@dataclass(frozen=True, slots=True)
class CannotBe:
    """Beds that can stand on no sheet of these days, whatever the minutes left."""

    wanted: Wanted
    beds: tuple[BedNo, ...]
    why: WhyNot

    @property
    def due_on(self) -> tuple[date, ...]:
        """The last day that is not late, of each of the beds; of the room if it has none."""
        wanted = self.wanted
        if wanted.by_at is not None and not wanted.is_follow_up:
            return (wanted.due_on,) * max(1, len(self.beds))
        of_bed = dict(zip(wanted.beds, wanted.bed_due_on, strict=True))
        return tuple(min(of_bed[bed], wanted.by_on) for bed in self.beds) or (wanted.due_on,)


class View:
    """The house as the planner looks at it from the first of some days."""

    def __init__(
        self,
        house: House,
        occupancy: Occupancy,
        days: tuple[date, ...],
        *,
        now: datetime,
        by_hand: bool = True,
    ) -> None:
        """``now`` is the moment at which quarantines are looked up.

        Where it is on the first day, what has passed of that day's openings is gone.

        Without ``by_hand`` a supervisor's pins and forbidden days are left aside.
        """
        figures = house.rules.figures
        self.house = house
        self.days = days
        self.hand = Hand(house if by_hand else House(shipped=house.rules))
        self.setup = int(figures.room_setup_minutes.value)
        self.way = int(figures.corridor_minutes.value)
        self.crews = Crews(house, days, way=self.way)
        self.calendar = self.crews.calendar
        self._able = Able(house, self.calendar)
        self.occupancy = occupancy
        self.own_cases = quarantining(house, now)
        self._reentries = reentries(house)
        local = now.astimezone(house.zone)
        self._clock = f"{local:%H:%M}" if local.date() == days[0] else ""
        slots = [slot for slot in house.slots.get(days[0], ()) if slot.room in house.rooms]
        self.done = tuple(part for slot in slots if (part := done_part(house, slot)) is not None)
        self._done_today = {BedNo(bed) for slot in self.done for bed in slot.beds}
        self._agreed_days: defaultdict[RoomNo, list[date]] = defaultdict(list)
        for room, day in sorted(occupancy.arranged):
            if days[0] <= day <= days[-1]:
                self._agreed_days[room].append(day)
        self._openings: dict[RoomNo, list[Opening | None]] = {}
        self._place = {
            day: number
            for number, day in enumerate(days_from(days[0], len(days) + KNOWN_BEYOND_DAYS + 1))
        }
        sooner = pulls(house, occupancy, days[0])
        beyond = days[-1] + timedelta(days=KNOWN_BEYOND_DAYS)
        pinned = self.hand.pinned_rooms(days[0])
        self.demand = demand(house, days[0], beyond, pulled=sooner, anyway=pinned)
        self._tries = last_tries(house, self._overdue(), days[0])
        self.visits, self.cannot_be = self._sorted_out()

    def opening(self, visit: Visit, day: date) -> Opening | None:
        """When a visit's room can be entered on a day; None if it cannot, or must not.

        A bed that was tried for today waits for another day; so does one whose room cannot
        be entered for long enough any more.
        """
        if day != self.days[0]:
            return self.room_opening(visit.room, day)
        opening = self.room_opening(visit.room, day)
        is_tried = any(bed.bed in self._done_today for bed in visit.beds)
        is_over = opening is None or (self._clock and minutes_of(opening) < visit.minutes)
        return None if is_tried or is_over else opening

    def openings(self, visit: Visit) -> list[Opening | None]:
        """The same for each of the days planned."""
        rest = self._openings_of(visit.room)[1 : len(self.days)]
        return [self.opening(visit, self.days[0]), *rest]

    def agreed_on(self, room: RoomNo) -> date | None:
        """The first of these days on which a guest agreed to a look that was not made since.

        A day on which no team can come then would only hold the look back.
        """
        for day in self._agreed_days.get(room, ()):
            if not self._able.can_look(room, self.room_opening(room, day)):
                continue
            agreed = self.occupancy.arranged[room, day]
            word, beds = (agreed.entry, agreed.agreed_on), self.house.beds_of(room)
            if not any(is_looked_at_since(self.house, bed.bed, *word) for bed in beds):
                return day
        return None

    def _held_on(self, room: RoomNo) -> date | None:
        """The day planned that a supervisor chose for a room, else that its guest agreed to."""
        day = self.hand.pinned_day(room, self.days[0])
        return self.agreed_on(room) if day is None or day > self.days[-1] else day

    def bed_minutes(self, bed: BedDescribed, *, encased: bool = False) -> int:
        """Minutes for a bed as it is built, or as if it were encased."""
        return bed_minutes(self.house, replace(bed, encased=encased or bed.encased))

    # --- what can be visited, and what cannot ---------------------------------------------

    def _sorted_out(self) -> tuple[tuple[Visit, ...], tuple[CannotBe, ...]]:
        visits: list[Visit] = []
        cannot: list[CannotBe] = []
        for wanted in self.demand:
            own = self.own_cases.get(wanted.room)
            if own is not None and own.isdisjoint(wanted.cases):
                cannot.append(CannotBe(wanted, wanted.beds, WhyNot.IN_QUARANTINE))
                continue
            beds = self._beds(wanted)
            if not beds and self.crews.most_minutes(1) < self.setup:
                cannot.append(CannotBe(wanted, (), self._why_short(1)))
                continue
            why_not = {bed.bed: why for bed in beds if (why := self._why_no_team(bed)) is not None}
            for why in dict.fromkeys(why_not.values()):
                kept_out = tuple(bed for bed, of_bed in why_not.items() if of_bed is why)
                cannot.append(CannotBe(wanted, kept_out, why))
            able = [bed for bed in beds if bed.bed not in why_not]
            again = [bed for bed in able if bed.bed in self._done_today]
            fresh = [bed for bed in able if bed not in again]
            if fresh or not beds:
                visits += self._parts(wanted, fresh)
            if again:
                visits += self._parts(wanted, again)
        return tuple(v for v in visits if v.first_on <= self.days[-1]), tuple(cannot)

    def _beds(self, wanted: Wanted) -> list[Bed]:
        """Those that wait the longest first; one tried for in vain goes behind the others.

        A bed that would be too early even on the last day is left for a later visit.
        """
        kinds = self.house.rules.bed_kinds
        last = max(self.days[-1], wanted.due_on)
        early = timedelta(days=early_days(self.house, self.house.cycle_of(wanted.room)))
        is_held = self._held_on(wanted.room) is not None
        found = []
        for no, due_on in zip(wanted.beds, wanted.bed_due_on, strict=True):
            if not is_held and wanted.by_at is None and due_on - early > last:
                continue
            bed = self.house.beds[no]
            if wanted.by_at is None:
                since = max(due_on, self._tries.get(no, due_on))
            else:
                looked_on = latest_look(self.house, no, self.days[0]) or date.min
                since = looked_on if looked_on >= wanted.asked_on else date.min
            minutes = bed_minutes(self.house, bed)
            found.append(Bed(no, minutes, kinds[bed.kind].people, due_on, since))
        return sorted(found, key=lambda bed: (bed.waits_since, bed.due_on))

    def _why_no_team(self, bed: Bed) -> WhyNot | None:
        if self.crews.most_minutes(bed.people) >= self.setup + bed.minutes:
            return None
        return self._why_short(bed.people)

    def _why_short(self, people: int) -> WhyNot:
        return WhyNot.TOO_LONG if self.crews.has_people(people) else WhyNot.NO_TEAM

    def _parts(self, wanted: Wanted, beds: list[Bed]) -> Iterator[Visit]:
        openings = self._openings_for(wanted, beds) if len(beds) > 1 else []
        left = list(beds)
        while True:
            taken: list[Bed] = []
            for bed in left:
                tried = [*taken, bed]
                people = max(one.people for one in tried)
                if not taken or self._minutes(tried) <= self._most(people, openings):
                    taken.append(bed)
            yield self._visit(wanted, taken)
            left = [bed for bed in left if bed not in taken]
            if not left:
                return

    def _most(self, people: int, spans: Iterable[Mapping[date, Opening]]) -> int:
        """The most minutes that a visit may have; in a room that no team can enter, of any day."""
        found = [self.crews.usually_met(people, openings) for openings in spans]
        return min((most for most in found if most > 0), default=self.crews.most_minutes(people))

    def _openings_for(self, wanted: Wanted, beds: list[Bed]) -> list[dict[date, Opening]]:
        """The openings by which it is decided how many beds one visit takes.

        All at which somebody works; those in time too, if a bed can be done there: neither a
        room nor what a case asks for waits beyond its day for a team that could do all of it.
        """
        openings = zip(self.days, self._openings_of(wanted.room), strict=False)
        found = {
            day: opening
            for day, opening in openings
            if opening is not None and self.crews.working(day)
        }
        least = min((self._minutes([bed]) for bed in beds), default=0)
        if wanted.by_at is None:
            in_time = {day: opening for day, opening in found.items() if day <= wanted.due_on}
            is_any = self.crews.usually_met(min(bed.people for bed in beds), in_time) >= least
            return [found, in_time] if is_any else [found]
        able = [day for day in found if self.crews.most_minutes(1, day) >= least]
        until = max(wanted.due_on, able[0] if able else date.min)
        return [found, {day: opening for day, opening in found.items() if day <= until}]

    def _minutes(self, beds: Iterable[Bed]) -> int:
        return self.setup + sum(bed.minutes for bed in beds)

    def _visit(self, wanted: Wanted, beds: list[Bed]) -> Visit:
        due_on = self._last_in_time(wanted, self._minutes(beds))
        if beds and not wanted.asked_by:
            due_on = min(bed.due_on for bed in beds)
        people = max((bed.people for bed in beds), default=1)
        is_asked = wanted.by_at is not None
        best_on = due_on if is_asked else self.best_on(wanted.room, due_on, people)
        first_on = max(wanted.earliest_on, best_on - timedelta(days=wanted.early_days))
        # Neither a supervisor nor a guest who agreed to a look is put off because it is early.
        first_on = min(first_on, self._held_on(wanted.room) or first_on)
        return Visit(
            wanted=wanted,
            beds=tuple(beds),
            minutes=self._minutes(beds),
            people=people,
            due_on=due_on,
            waits_since=min((bed.waits_since for bed in beds), default=due_on),
            first_on=wanted.earliest_on if is_asked else first_on,
            best_on=best_on,
        )

    def _last_in_time(self, wanted: Wanted, minutes: int) -> date:
        # Had a team of these to work then, it could not begin before either.
        teams = self.crews.working(wanted.due_on) or list(self.house.teams.values())
        begins = min((self.calendar.shift(team.team)[0] for team in teams), default="")
        opening = self.room_opening(wanted.room, wanted.due_on)
        return last_day_in_time(wanted, opening, begins, minutes=minutes, zone=self.house.zone)

    def best_on(self, room: RoomNo, due_on: date, people: int) -> date:
        """The last day with an opening up to the due one; the due one if there is none."""
        day = due_on
        while day >= self.days[0]:
            if self.crews.may_work(day, people) and self.room_opening(room, day):
                return day
            day -= ONE_DAY
        return due_on

    def room_opening(self, room: RoomNo, day: date) -> Opening | None:
        """When a room can be entered on a day, as far as known now; None if it cannot."""
        place = self._place.get(day)
        if place is None:
            return self._entered(room, self.occupancy.opening(room, day))
        return self._openings_of(room)[place]

    def is_known_open(self, room: RoomNo) -> list[bool]:
        """On which of the days planned, and of those known beyond, a room can be entered."""
        return [opening is not None for opening in self._openings_of(room)[:-1]]

    def _openings_of(self, room: RoomNo) -> list[Opening | None]:
        """A room's openings, of the days planned and of those known beyond."""
        if room not in self._openings:
            self._openings[room] = self._worked_out(room)
        return self._openings[room]

    def _worked_out(self, room: RoomNo) -> list[Opening | None]:
        found = self.occupancy.by_day(room, self.days[0], len(self._place))
        if self._clock:
            found[0] = from_clock_on(found[0], self._clock)
        if room in self._reentries or self.hand.forbidden(room):
            return [self._entered(room, opening) for opening in found]
        return found

    def _entered(self, room: RoomNo, opening: Opening | None) -> Opening | None:
        """An opening, unless its day is forbidden, or the room must not be entered yet."""
        if opening is None or opening.day in self.hand.forbidden(room):
            return None
        return after_reentry(opening, self._reentries.get(room), self.house.zone)

    def best_later(self, visit: Visit) -> date:
        """When it would best be made after the last day: in time if the room is open, else soon."""
        after = self.days[-1] + ONE_DAY
        if visit.best_on >= after:
            return visit.best_on
        until = after + timedelta(days=KNOWN_BEYOND_DAYS)
        while after < until:
            if self.crews.may_work(after, visit.people) and self.room_opening(visit.room, after):
                return after
            after += ONE_DAY
        return after

    def _overdue(self) -> Mapping[BedNo, date]:
        return {
            bed: due_on
            for wanted in self.demand
            if wanted.by_at is None
            for bed, due_on in zip(wanted.beds, wanted.bed_due_on, strict=True)
            if due_on < self.days[0]
        }
