"""Every how many days undersides are due: the house's cycle, each room type's, single rooms'."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hotelwatch.core.facts import RoomDescribed, RoomNo, Scope
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class CycleRow:
    """A cycle of the house, a room type or a room."""

    scope: Scope
    which: str
    """Room type or room; empty for the house."""
    rooms: int
    beds: int
    cycle_days: int
    """The one in force, chosen here or not."""
    is_chosen: bool
    """Whether it was chosen for just this scope; else it follows the next wider one."""


@dataclass(frozen=True, slots=True)
class CycleFrom:
    """Where a room's cycle comes from."""

    cycle_days: int
    scope: Scope | None
    """Whose choice holds: the room's own, its type's, the hotel's; None where nobody chose."""
    room_type: str


def cycle_from(house: House, room: RoomNo) -> CycleFrom:
    """A room's cycle, and whose choice it is: the narrowest one."""
    described = house.rooms.get(room)
    room_type = described.room_type if described else ""
    choices = ((Scope.ROOM, room), (Scope.ROOM_TYPE, room_type), (Scope.HOUSE, ""))
    chosen = (one[0] for one in choices if house.chosen_cycles.get(one, 0))
    return CycleFrom(house.cycle_of(room), next(chosen, None), room_type)


def cycle_rows(house: House) -> tuple[CycleRow, ...]:
    """The house, then every room type by name, then rooms that have a choice of their own."""
    rooms = tuple(house.rooms.values())
    types: defaultdict[str, list[RoomDescribed]] = defaultdict(list)
    for room in rooms:
        if room.room_type:
            types[room.room_type].append(room)
    whole = int(house.rules.figures.cycle_days.value)
    whole = house.chosen_cycles.get((Scope.HOUSE, ""), 0) or whole
    return (
        _row(house, Scope.HOUSE, "", rooms, whole),
        *(_row(house, Scope.ROOM_TYPE, name, of, whole) for name, of in sorted(types.items())),
        *_single_rooms(house),
    )


def _single_rooms(house: House) -> Iterator[CycleRow]:
    for no, room in house.rooms.items():
        if house.chosen_cycles.get((Scope.ROOM, no), 0):
            yield _row(house, Scope.ROOM, no, (room,), 0)


def _row(
    house: House, scope: Scope, which: str, rooms: Sequence[RoomDescribed], wider: int
) -> CycleRow:
    chosen = house.chosen_cycles.get((scope, which), 0)
    beds = sum(len(house.beds_of(room.room)) for room in rooms)
    return CycleRow(scope, which, len(rooms), beds, chosen or wider, is_chosen=chosen > 0)
