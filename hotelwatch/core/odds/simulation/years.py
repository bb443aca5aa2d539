"""Some hotel-years under one rule in one stance, day by day, all of them at once.

A day: beds are made after last night, traps are read, guests arrive, rooms are looked at;
then the night, with guests who may notice, and insects that grow and spread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.odds.growth import Floats, ageing
from hotelwatch.core.odds.simulation.checking import Checking
from hotelwatch.core.odds.simulation.draws import Keys, Purpose, mixed, uniform, waiting
from hotelwatch.core.odds.simulation.hotel import NOBODY, Ints, spread_chances
from hotelwatch.core.odds.simulation.infestations import (
    Hazards,
    Infestations,
    Luck,
    Newcomers,
    Origin,
    come_in,
    hazard,
)
from hotelwatch.core.odds.simulation.lets import ARRIVES, VACANT
from hotelwatch.core.odds.simulation.response import Asked, Cases, House
from hotelwatch.core.odds.simulation.rounds import Rounds
from hotelwatch.core.odds.simulation.tally import Count, Tally

FIRST_DUE, TRAPS_BEGIN = 1, 2
"""Numbers by which a room's key tells how far in its cycle it begins."""
BY_LOOK = {
    Asked.ROUND: Count.FOUND_BY_CHECK,
    Asked.RING: Count.FOUND_BY_RING,
    Asked.FOLLOW_UP: Count.FOUND_BY_FOLLOW_UP,
}
CAME_IN = {
    Origin.STAY: Count.BROUGHT_IN,
    Origin.NEIGHBOUR: Count.SPREAD,
    Origin.MOVED: Count.SPREAD,
    Origin.SURVIVED: Count.SURVIVED,
}
Marks = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Brought:
    """What guests bring in, by day, with keys (all hotel-years together)."""

    days: Ints
    rooms: Ints
    keys: Keys


class Years:
    """The state of some hotel-years."""

    def __init__(
        self, house: House, checking: Checking, hazards: Hazards, *, brought: Brought, tally: Tally
    ) -> None:
        """Nothing is infested at first; ``tally`` counts once that has worn off."""
        self.house, self.checking, self.hazards = house, checking, hazards
        self.brought, self.tally = brought, tally
        self.cases = Cases(house, tally)
        self.there = self._newcomers(Newcomers(*_nothing(), Origin.STAY), 0)
        self.is_infested = np.zeros(house.nights.shape[1], bool)
        self._asked = np.zeros(house.nights.shape[1], np.int8)
        self._edges = spread_chances(house.hotel, house.setting.spread)
        let, vacant = ageing(house.setting, np.array([1.0, 0.0]))
        self._ageing_let, self._ageing_vacant = float(let), float(vacant)

    def begin(self, room_keys: Keys) -> None:
        """Give every room its place in the cycle and in the readings of traps, by its key."""
        first_due = uniform(room_keys, FIRST_DUE)
        rule = self.house.rule
        self.rounds = Rounds(self.house.hotel, rule, self.checking.minutes, first_due=first_due)
        begins = uniform(room_keys, TRAPS_BEGIN) * rule.trap_days
        self._traps_on = begins.astype(np.int64)

    def day(self, day: int) -> None:
        """One day and the night after it."""
        self._beds_made(day)
        if self.house.rule.way.traps:
            self._traps_read(day)
        self._guests_bring(day)
        self._looks(day)
        self._night(day)
        self._spread(day)

    # --- what finds it -------------------------------------------------------------------

    def _beds_made(self, day: int) -> None:
        there = self.there
        if len(there):
            table = self.hazards.glance[there.steps(), there.place]
            hit = self._endure(Luck.GLANCE, there.slept, table)
            self._find(hit, lambda _: Count.FOUND_BY_BED_MAKING, day, closed_from=day)

    def _traps_read(self, day: int) -> None:
        there = self.there
        is_read = (day - self._traps_on[there.room]) % self.house.rule.trap_days == 0
        if is_read.any():
            table = self.hazards.trap[there.steps(), there.place]
            hit = self._endure(Luck.TRAP, is_read, table)
            self._find(hit, lambda _: Count.FOUND_BY_TRAPS, day, closed_from=day)

    def _looks(self, day: int) -> None:
        asked = self.cases.wanted_on(day)
        used = np.zeros(self.tally.years)
        for look in asked:
            hotel, number = divmod(look.room, self.tally.rooms)
            used[hotel] += self.checking.minutes[number] + self.house.rule.corridor_minutes
            self.rounds.due[look.room] = day + self.house.rule.cycle_days
            self._asked[look.room] = look.why
        rooms, minutes = self.rounds.walk(day, self.house.nights[day], used)
        self._asked[rooms] = Asked.ROUND
        self.tally.add_amounts(Count.MINUTES, day, minutes + used)
        done = np.concatenate([rooms, np.array([look.room for look in asked], np.int64)])
        self.tally.add(Count.LOOKS, day, done)
        there = self.there
        why = self._asked[there.room]
        if why.any():
            table = self.hazards.deep[there.steps(), there.place]
            hit = self._endure(Luck.DEEP_LOOK, why != Asked.NOT, table)
            by_room = dict(zip(there.room.tolist(), why.tolist(), strict=True))
            self._find(hit, lambda room: BY_LOOK[Asked(by_room[room])], day, closed_from=day)
        self._asked[done] = Asked.NOT

    def _endure(self, column: Luck, where: Marks, amounts: Floats) -> Marks:
        """Use up luck; who has none left."""
        left = self.there.left[:, column]
        left -= np.where(where, amounts, 0.0)
        return where & (left <= 0.0)

    def _find(self, hit: Marks, by: Callable[[int], Count], day: int, *, closed_from: int) -> None:
        """Count what was found, and answer it."""
        if not hit.any():
            return
        found = self.there.only(hit)
        insects = self.hazards.insects[found.steps()].tolist()
        for row, room in enumerate(found.room.tolist()):
            nights = closed_from - int(found.came_on[row])
            year = room // self.tally.rooms
            self.tally.add_find(by(room), day, year, insects=insects[row], nights=nights)
        self.there = self.there.only(~hit)
        self.is_infested[found.room] = False
        left = self.cases.answer(found, closed_from)
        cycle = self.house.rule.cycle_days
        self.rounds.due[found.room] = self.cases.closed_until[found.room] + cycle
        for some in left:
            self._take_in(some, closed_from)

    # --- what comes in ---------------------------------------------------------------------

    def _guests_bring(self, day: int) -> None:
        first, last = np.searchsorted(self.brought.days, [day, day + 1])
        if first == last:
            return
        rooms, keys = self.brought.rooms[first:last], self.brought.keys[first:last]
        is_let = self.cases.closed_until[rooms] <= day
        self._take_in(Newcomers(rooms[is_let], keys[is_let], Origin.STAY), day)

    def _take_in(self, some: Newcomers, day: int) -> None:
        """Let it come into rooms where nothing is yet."""
        is_new = ~self.is_infested[some.rooms]
        rooms, keys = some.rooms[is_new], some.keys[is_new]
        if len(rooms):
            fresh = Newcomers(rooms, keys, some.origin, some.age)
            self.there = self.there.and_more(self._newcomers(fresh, day))
            self.is_infested[rooms] = True
            self.tally.add(CAME_IN[some.origin], day, rooms)

    def _newcomers(self, some: Newcomers, day: int) -> Infestations:
        most = self.house.hotel.neighbours.shape[1]
        return come_in(some, day, shares=self.checking.shares, most_neighbours=most)

    # --- the night ----------------------------------------------------------------------------

    def _night(self, day: int) -> None:
        there = self.there
        if not len(there):
            return
        self.tally.add(Count.INFESTED_NIGHTS, day, there.room)
        codes = self.house.nights[day, there.room]
        is_let = (codes != VACANT) & (self.cases.closed_until[there.room] <= day)
        has_reached_guest = (there.came_on == day) & (there.origin == Origin.NEIGHBOUR)
        is_exposed = has_reached_guest | ((codes == ARRIVES) & (there.came_on < day))
        self.tally.add(Count.GUESTS_EXPOSED, day, there.room[is_let & is_exposed])
        there.slept[:] = is_let
        hit = self._endure(Luck.GUEST, is_let, self.hazards.guest[there.steps()])
        grown = there.age + np.where(is_let, self._ageing_let, self._ageing_vacant)
        there.age[:] = np.where(hit, there.age, grown)
        self._find(hit, lambda _: Count.FOUND_BY_GUEST, day, closed_from=day + 1)

    def _spread(self, day: int) -> None:
        there = self.there
        if not there.edges.size:
            return
        near = there.room % self.tally.rooms
        pressure = self.hazards.pressure[there.steps()][:, None]
        there.edges[:] -= hazard(self._edges[near] * pressure)
        rows, places = np.nonzero(there.edges <= 0.0)
        if not len(rows):
            return
        others = self.house.hotel.neighbours[near[rows], places]
        rooms = there.room[rows] - near[rows] + others
        keys = mixed(there.key[rows], Purpose.CHILD + places)
        again = mixed(there.key[rows], Purpose.AGAIN + day)
        there.edges[rows, places] = waiting(again, places)
        is_open = (others != NOBODY) & (self.cases.closed_until[rooms] <= day)
        rooms, first = np.unique(rooms[is_open], return_index=True)
        self._take_in(Newcomers(rooms, keys[is_open][first], Origin.NEIGHBOUR), day + 1)


def _nothing() -> tuple[Ints, Keys]:
    return np.zeros(0, np.int64), np.zeros(0, np.uint64)
