"""Which rooms are looked at on a day, in many hotel-years at once.

Like the planner: a room wants a look once in each cycle, only in a day on which no guest
stays over, within the teams' minutes, ways to corridors counted once a day; the most overdue
come first, and whoever goes to a corridor does all of it that may be looked at early. What
cases ask for comes before. Unlike the planner: all teams walk as one, no look is put off for
a better one later, nothing leans on bookings to come, and one cycle holds for all rooms.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.simulation.hotel import Ints, SimulatedHotel
from hotelwatch.core.odds.simulation.lets import STAYS_OVER, Nights
from hotelwatch.core.odds.simulation.policies import HouseRule

MOST_LATE = 1 << 11
"""Days; rooms that are later, or due later, count as that."""
LATENESSES = 1 << 12


class Rounds:
    """When each room of many hotel-years is due; rooms of a hotel stand beside each other."""

    def __init__(
        self, hotel: SimulatedHotel, rule: HouseRule, minutes: Floats, *, first_due: Floats
    ) -> None:
        """``first_due``: how far within its cycle each room is due first, 0 to 1 (years × R)."""
        self.rule = rule
        self.rooms = hotel.size
        self.years = len(first_due) // self.rooms
        self.due = (first_due * rule.cycle_days).astype(np.int32)
        self.minutes = np.tile(minutes, self.years)
        corridors = max(1, hotel.corridors)
        hotels = np.arange(self.years)[:, None]
        self.group = (hotels * corridors + hotel.corridor[None, :]).ravel()
        self._corridors = corridors

    def walk(self, day: int, nights: Nights, used: Floats) -> tuple[Ints, Floats]:
        """Rooms looked at on a day, and the minutes of each hotel; ``used`` are gone already."""
        whole = self.rule.minutes_by_weekday[day % 7]
        nothing = np.zeros(self.years)
        if whole <= 0.0:
            return np.zeros(0, np.int64), nothing
        ready = (self.due <= day + self.rule.early_days) & (nights != STAYS_OVER)
        rooms, latest = self._where_one_is_due(np.flatnonzero(ready), day)
        if not len(rooms):
            return rooms, nothing
        rooms, new_corridor = self._in_order(rooms, latest, day)
        hotel = rooms // self.rooms
        spent = self.minutes[rooms] + new_corridor * self.rule.corridor_minutes
        so_far = np.cumsum(spent)
        begins = np.flatnonzero(np.diff(hotel, prepend=-1))
        before = np.repeat(so_far[begins] - spent[begins], np.diff(begins, append=len(rooms)))
        taken = so_far - before <= (whole - used)[hotel]
        rooms = rooms[taken]
        self.due[rooms] = day + self.rule.cycle_days
        by_hotel = np.bincount(hotel[taken], weights=spent[taken], minlength=self.years)
        return rooms, by_hotel.astype(np.float64)

    def _where_one_is_due(self, rooms: Ints, day: int) -> tuple[Ints, NDArray[np.int32]]:
        """Rooms of corridors in which one is due, with the earliest due day of its corridor."""
        if not len(rooms):
            return rooms, np.zeros(0, np.int32)
        group = self.group[rooms]
        begins = np.flatnonzero(np.diff(group, prepend=-1))
        earliest = np.minimum.reduceat(self.due[rooms], begins)
        is_due = earliest <= day
        lengths = np.diff(begins, append=len(rooms))
        return rooms[np.repeat(is_due, lengths)], np.repeat(earliest[is_due], lengths[is_due])

    def _in_order(
        self, rooms: Ints, earliest: NDArray[np.int32], day: int
    ) -> tuple[Ints, NDArray[np.bool_]]:
        """By hotel, then corridors by their most overdue room, then rooms; who is first there."""
        late = np.clip(np.stack([earliest, self.due[rooms]]) - day, -MOST_LATE, MOST_LATE - 1)
        late = late.astype(np.int64) + MOST_LATE
        hotel, corridor = np.divmod(self.group[rooms], self._corridors)
        visit = (hotel * LATENESSES + late[0]) * self._corridors + corridor
        packed = (visit * LATENESSES + late[1]) * self.rooms + rooms % self.rooms
        packed.sort()
        visit, room = np.divmod(packed, LATENESSES * self.rooms)
        hotel = visit // (LATENESSES * self._corridors)
        return hotel * self.rooms + room % self.rooms, np.diff(visit, prepend=-1) != 0
