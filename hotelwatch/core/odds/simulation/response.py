"""What follows a find: the room is closed and treated, followed up, its neighbours looked at.

The room is treated on the day of the find and closed until its last follow-up; insects that
survived grow meanwhile as in vacant nights. A guest who would have stayed on is moved to a
vacant room and may take some along. Guests booked later go to other hotels: what they would
have brought goes with them. A find at a follow-up or in the ring is answered like any other.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.odds.growth import age_when
from hotelwatch.core.odds.settings import Setting
from hotelwatch.core.odds.simulation.draws import Keys, Purpose, mixed, uniform
from hotelwatch.core.odds.simulation.hotel import NOBODY, Ints, SimulatedHotel, bits_of
from hotelwatch.core.odds.simulation.infestations import Infestations, Newcomers, Origin
from hotelwatch.core.odds.simulation.lets import STAYS_OVER, VACANT, Nights
from hotelwatch.core.odds.simulation.policies import HouseRule
from hotelwatch.core.odds.simulation.tally import Count, Tally


class Asked(IntEnum):
    """Why a room is looked at on a day."""

    NOT = 0
    ROUND = 1
    RING = 2
    FOLLOW_UP = 3


@dataclass(frozen=True, slots=True)
class AskedLook:
    """A look that a case wants on a day."""

    room: int
    why: Asked
    case_on: int
    """The day on which the room's case began, for a follow-up; else 0."""


@dataclass(frozen=True, slots=True)
class House:
    """What does not change while hotel-years run: rooms, rule, one stance, nights."""

    hotel: SimulatedHotel
    rule: HouseRule
    setting: Setting
    nights: Nights
    """(days, rooms of all hotel-years)."""


@dataclass(eq=False)
class Cases:
    """Which rooms are closed, and which looks are asked for."""

    house: House
    tally: Tally
    closed_until: NDArray[np.int32] = field(init=False)
    """The first day on which each room may be let again (rooms of all hotel-years,)."""
    asked: defaultdict[int, list[AskedLook]] = field(default_factory=lambda: defaultdict(list))
    began_on: dict[int, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """No room is closed yet."""
        self.closed_until = np.zeros(self.house.nights.shape[1], np.int32)
        self._ring = bits_of(self.house.rule.ring)
        setting = self.house.setting
        self._survivors_age = age_when(setting.growth, setting.survivors)

    def wanted_on(self, day: int) -> list[AskedLook]:
        """Looks asked for on a day that still make sense; they are then forgotten."""
        wanted = (look for look in self.asked.pop(day, ()) if self._makes_sense(look, day))
        return list({look.room: look for look in wanted}.values())

    def _makes_sense(self, look: AskedLook, day: int) -> bool:
        if look.why is Asked.FOLLOW_UP:
            return self.began_on.get(look.room) == look.case_on
        return bool(self.closed_until[look.room] <= day)

    def answer(self, found: Infestations, closed_from: int) -> list[Newcomers]:
        """Close, treat, ask for looks; what survives or moves along comes back."""
        left: list[Newcomers] = []
        treated = uniform(found.key, Purpose.TREATMENT) < self.house.setting.treatment_success
        for row, room in enumerate(found.room.tolist()):
            key = found.key[row : row + 1]
            self._close(room, closed_from)
            self._ask_around(room, closed_from)
            if not treated[row]:
                rooms, keys = np.array([room]), mixed(key, Purpose.SURVIVORS)
                left.append(Newcomers(rooms, keys, Origin.SURVIVED, self._survivors_age))
            if (moved := self._moved(room, closed_from, key)) is not None:
                rooms, keys = np.array([moved]), mixed(key, Purpose.MOVED)
                left.append(Newcomers(rooms, keys, Origin.MOVED))
        return left

    def _close(self, room: int, from_day: int) -> None:
        rule, tally = self.house.rule, self.tally
        until = from_day + rule.closed_days
        first = max(from_day, int(self.closed_until[room]), tally.from_day)
        last = min(until, len(self.house.nights))
        if last > first:
            tally.counts[Count.NIGHTS_LOST][room // tally.rooms] += last - first
        self.closed_until[room] = until
        self.began_on[room] = from_day
        for number in range(1, rule.follow_ups + 1):
            on = from_day + number * rule.follow_up_days
            self.asked[on].append(AskedLook(room, Asked.FOLLOW_UP, from_day))

    def _ask_around(self, room: int, from_day: int) -> None:
        hotel, number = divmod(room, self.tally.rooms)
        near, kinds = self.house.hotel.neighbours[number], self.house.hotel.kinds[number]
        for other in near[(near != NOBODY) & (kinds & self._ring != 0)].tolist():
            self._ask_soon(hotel * self.tally.rooms + other, from_day)

    def _ask_soon(self, room: int, from_day: int) -> None:
        """On the first day on which nobody stays over, or the last one that is soon enough."""
        nights, last = self.house.nights, from_day + max(1, self.house.rule.ring_days)
        for day in range(from_day + 1, min(last, len(nights) - 1) + 1):
            if nights[day, room] != STAYS_OVER or day == last:
                self.asked[day].append(AskedLook(room, Asked.RING, 0))
                return

    def _moved(self, room: int, on: int, key: Keys) -> int | None:
        """The vacant room into which a guest took some along; None if nobody did."""
        nights = self.house.nights
        if on >= len(nights) or nights[on, room] != STAYS_OVER:
            return None
        if uniform(key, Purpose.MOVED_ALONG)[0] >= self.house.setting.moved_in:
            return None
        first = room // self.tally.rooms * self.tally.rooms
        own = slice(first, first + self.tally.rooms)
        vacant: Ints = np.flatnonzero((nights[on, own] == VACANT) & (self.closed_until[own] <= on))
        if not len(vacant):
            return None
        place = int(uniform(key, Purpose.MOVED_WHERE)[0] * len(vacant))
        return first + int(vacant[place])
