"""When a room that is held for a look can be looked at, and when that is likely to be.

What is likely stands on a published sheet. Where no sheet has the room yet, its deadline
counts, unless nobody can enter before: then the first day on which a team can.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, timedelta

from hotelwatch.core.cases.held import HeldRoom
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.days import days_from, local_day, moment_of
from hotelwatch.core.facts import RoomNo, SlotPublished, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.records import StayStatus
from hotelwatch.core.stays.entering import after_reentry, reentries
from hotelwatch.core.stays.openings import Occupancy, Opening


class HeldLooks:
    """The days of looks at held rooms, as of a moment."""

    def __init__(self, house: House, occupancy: Occupancy, now: datetime) -> None:
        """Read off what stands on the sheets of today and later."""
        self._house = house
        self._occupancy = occupancy
        self._now = now
        self._today = local_day(now, house.zone)
        self._calendar, self._reentries = Calendar(house), reentries(house)
        ahead: defaultdict[RoomNo, list[SlotPublished]] = defaultdict(list)
        for day in sorted(day for day in house.slots if day >= self._today):
            for slot in house.slots[day]:
                ahead[slot.room].append(slot)
        self._ahead = ahead

    def earliest(self, held: HeldRoom) -> date | None:
        """The first day on which somebody could enter it."""
        return next((opening.day for opening in self._openings(held.room)), None)

    def expected(self, held: HeldRoom) -> date | None:
        """The day of its look; None where no team is known to come within a plan's days."""
        planned = self._planned(held)
        if planned is not None:
            return planned
        first = next((o.day for o in self._openings(held.room) if self._is_met(o)), None)
        return None if first is None else max(first, local_day(held.by_at, self._house.zone))

    def _planned(self, held: HeldRoom) -> date | None:
        """The day by which sheets have every bed still wanted, while its room can be entered."""
        left = set(held.beds_left)
        for slot in self._ahead.get(held.room, ()):
            if self._opening(held.room, slot.on) and not is_looked_at(self._house, slot):
                left.difference_update(slot.beds)
                if not left:
                    return slot.on
        return None

    def _openings(self, room: RoomNo) -> Iterator[Opening]:
        """Its openings from now on, up to a plan's days after the last stay that is known."""
        stays = self._occupancy.stays_from(room, self._today)
        last = max((stay.leaves_on for stay in stays), default=self._today)
        until = last + timedelta(days=int(self._house.rules.figures.plan_days.value))
        for day in days_from(self._today, (until - self._today).days):
            opening = self._opening(room, day)
            if opening is not None:
                yield opening

    def _opening(self, room: RoomNo, day: date) -> Opening | None:
        """When it can be entered; today not once the guest of tonight has come.

        Until then it can, even after the hour from which guests arrive.
        """
        if day == self._today:
            tonight = self._occupancy.stay_on(room, day)
            has_come = tonight is not None and tonight.status is StayStatus.IN_HOUSE
            if has_come and (room, day) not in self._occupancy.arranged:
                return None
        opening = self._occupancy.opening(room, day)
        return after_reentry(opening, self._reentries.get(room), self._house.zone)

    def _is_met(self, opening: Opening) -> bool:
        """Whether some team works while it lasts; where no team is described, anybody may."""
        return not self._house.teams or any(
            self._calendar.minutes_met(team.team, opening) > 0
            and self._is_there_still(team.team, opening.day)
            for team in self._calendar.working(opening.day)
        )

    def _is_there_still(self, team: TeamName, day: date) -> bool:
        _, until_clock = self._calendar.shift(team)
        return day > self._today or self._now < moment_of(day, until_clock, self._house.zone)
