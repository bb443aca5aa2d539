"""The rooms of a simulated hotel as arrays: corridors, minutes, neighbours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.checks.sheet import bed_minutes
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.cycles.cycle_ways import UsualRoom, room_of
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.parameters import Rules

Ints = NDArray[np.int64]
NOBODY = -1
KINDS = tuple(Kind)


@dataclass(frozen=True, eq=False)
class SimulatedHotel:
    """R rooms; those of one corridor stand beside each other."""

    rooms: tuple[str, ...]
    corridor: Ints
    """Number of each room's corridor, from 0."""
    usual: UsualRoom
    """The mean room: what its beds are like."""
    setup_minutes: float
    """Of a team, once for each room."""
    beds_minutes: Floats
    """Of a team, for a room's beds as they are now."""
    encased_minutes: Floats
    """The same with every bed encased."""
    neighbours: Ints
    """Neighbours of each room, NOBODY where there are no more (R, most neighbours)."""
    kinds: Ints
    """In which ways each is one: bit n for the n-th Kind (R, most neighbours)."""

    @property
    def size(self) -> int:
        """How many rooms there are."""
        return len(self.rooms)

    @property
    def corridors(self) -> int:
        """How many corridors there are."""
        return int(self.corridor.max(initial=-1)) + 1


def hotel_of(house: House, neighbours: Mapping[RoomNo, tuple[Neighbour, ...]]) -> SimulatedHotel:
    """The hotel as the house knows it; a corridor is a floor's part in a wing."""
    numbers: dict[tuple[str, str], int] = {}
    order = sorted(
        house.rooms.values(),
        key=lambda room: numbers.setdefault((room.floor, room.wing), len(numbers)),
    )
    rooms = tuple(room.room for room in order)
    beds = [house.beds_of(room) for room in rooms]
    every = [(bed.kind, bed.encased) for some in beds for bed in some]
    encased = [
        sum(house.rules.bed_kinds[bed.kind].minutes_of(encased=True) for bed in some)
        for some in beds
    ]
    table, kinds = neighbour_table(rooms, neighbours)
    return SimulatedHotel(
        rooms=rooms,
        corridor=np.array([numbers[room.floor, room.wing] for room in order], np.int64),
        usual=room_of(house.rules, every, rooms=max(1, len(rooms))),
        setup_minutes=house.rules.figures.room_setup_minutes.value,
        beds_minutes=np.array([sum(bed_minutes(house, b) for b in some) for some in beds], float),
        encased_minutes=np.array(encased, float),
        neighbours=table,
        kinds=kinds,
    )


def corridor_hotel(rules: Rules, rooms: int, *, along: int = 20) -> SimulatedHotel:
    """An invented hotel: corridors of ``along`` rooms, half on each side, one above another.

    Each room has one bed on a box spring. Rooms share walls along a side, face each other,
    and lie below those of the next corridor.
    """
    labels = tuple(RoomNo(f"{n // along + 1}{n % along + 1:02d}") for n in range(rooms))
    found: dict[RoomNo, list[Neighbour]] = {label: [] for label in labels}

    def joined(one: int, other: int, kind: Kind, back: Kind) -> None:
        if other < rooms:
            found[labels[one]].append(Neighbour(labels[other], (kind,)))
            found[labels[other]].append(Neighbour(labels[one], (back,)))

    for n in range(rooms):
        if n % along + 2 < along:
            joined(n, n + 2, Kind.SHARES_WALL, Kind.SHARES_WALL)
        if n % along % 2 == 0 and n % along + 1 < along:
            joined(n, n + 1, Kind.ACROSS, Kind.ACROSS)
        joined(n, n + along, Kind.ABOVE, Kind.BELOW)
    table, kinds = neighbour_table(labels, {room: tuple(near) for room, near in found.items()})
    bed = rules.bed_kinds["box_spring"]
    return SimulatedHotel(
        rooms=labels,
        corridor=np.arange(rooms) // along,
        usual=room_of(rules, [("box_spring", False)]),
        setup_minutes=rules.figures.room_setup_minutes.value,
        beds_minutes=np.full(rooms, float(bed.minutes_of(encased=False))),
        encased_minutes=np.full(rooms, float(bed.minutes_of(encased=True))),
        neighbours=table,
        kinds=kinds,
    )


def neighbour_table(
    rooms: Sequence[str], neighbours: Mapping[RoomNo, tuple[Neighbour, ...]]
) -> tuple[Ints, Ints]:
    """Neighbours as numbers, and their kinds as bits; both (R, most neighbours)."""
    number = {room: n for n, room in enumerate(rooms)}
    near = [
        [one for one in neighbours.get(RoomNo(room), ()) if one.room in number] for room in rooms
    ]
    most = max(map(len, near), default=0)
    table = np.full((len(rooms), most), NOBODY, np.int64)
    kinds = np.zeros((len(rooms), most), np.int64)
    for n, some in enumerate(near):
        for place, one in enumerate(some):
            table[n, place] = number[one.room]
            kinds[n, place] = bits_of(one.kinds)
    return table, kinds


def bits_of(kinds: Sequence[Kind]) -> int:
    """Kinds as bits, in the order of Kind."""
    return sum(1 << KINDS.index(kind) for kind in set(kinds))


def spread_chances(hotel: SimulatedHotel, spread: Mapping[Kind, float]) -> Floats:
    """Chance a day that a heavily infested room infests each neighbour: its strongest kind's."""
    chances = np.zeros(hotel.kinds.shape)
    for place, kind in enumerate(KINDS):
        is_one = (hotel.kinds >> place) & 1 == 1
        chances = np.where(is_one, np.maximum(chances, spread.get(kind, 0.0)), chances)
    return chances
