"""Every how many days undersides are due: the house's cycle, each type's, risk's, single rooms'."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hotelwatch.core.cycle_scopes import cycle_scopes
from hotelwatch.core.facts import Risk, RoomDescribed, RoomNo, Scope
from hotelwatch.core.house import House

PLACED = (Risk.HIGHER, Risk.LOWER)
"""Risks that somebody places rooms in; all others are of the usual one."""


@dataclass(frozen=True, slots=True)
class CycleRow:
    """A cycle of the house, a room type, rooms of a risk or a room."""

    scope: Scope
    which: str
    """Room type, risk or room; empty for the house."""
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
    """Whose choice holds: the room's, its risk's, its type's, the hotel's; None for nobody's."""
    room_type: str
    risk: Risk


def cycle_from(house: House, room: RoomNo) -> CycleFrom:
    """A room's cycle, and whose choice it is: the narrowest one."""
    described, risk = house.rooms.get(room), risk_of(house, room)
    scopes = cycle_scopes(room, described, risk)
    chosen = (scope for scope, which in scopes if house.chosen_cycles.get((scope, which), 0))
    room_type = described.room_type if described else ""
    return CycleFrom(house.cycle_of(room), next(chosen, None), room_type, risk)


def risk_of(house: House, room: RoomNo) -> Risk:
    """How likely the hotel takes a room to get bed bugs."""
    return house.risks.get(room, Risk.USUAL)


def rooms_of_risk(house: House, risk: Risk) -> tuple[RoomNo, ...]:
    """The rooms in use that the hotel takes for so risky, in its order."""
    return tuple(room for room in house.rooms if risk_of(house, room) is risk)


def cycle_rows(house: House) -> tuple[CycleRow, ...]:
    """The house, every room type by name, rooms of other than usual risk, rooms with a choice."""
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
        *_risks(house, whole),
        *_single_rooms(house),
    )


def _risks(house: House, whole: int) -> Iterator[CycleRow]:
    for risk in PLACED:
        of = [house.rooms[room] for room in rooms_of_risk(house, risk)]
        yield _row(house, Scope.RISK, risk, of, whole)


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
