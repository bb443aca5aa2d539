"""Rooms, rooms above one another and wings with more than one find."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.past.back_rows import FindBack, FindGroup, GroupOf

Around = Mapping[RoomNo, tuple[Neighbour, ...]]
LEAST = 2
"""One find is no group."""


def find_groups(house: House, around: Around, finds: Iterable[FindBack]) -> tuple[FindGroup, ...]:
    """Rooms, stacks and wings with more than one find, each kind by the number of finds.

    A stack is told only where at least two rooms of it have a find, a wing likewise, and
    only of several wings.
    """
    count: defaultdict[RoomNo, int] = defaultdict(int)
    for find in finds:
        count[find.room] += 1
    place = {room: number for number, room in enumerate(house.rooms)}
    found = {room: count[room] for room in sorted(count, key=place.__getitem__)}
    groups = [
        *(
            FindGroup(GroupOf.ROOM, room, finds=number, found_in=(room,), rooms=1)
            for room, number in found.items()
            if number >= LEAST
        ),
        *_stacks(house, around, found),
        *_wings(house, found),
    ]
    kinds = list(GroupOf)
    return tuple(sorted(groups, key=lambda one: (kinds.index(one.of), -one.finds)))


def _stacks(house: House, around: Around, found: Mapping[RoomNo, int]) -> Iterator[FindGroup]:
    """Rooms with finds of which one is reached from the other by going only up."""
    above = {room: _upwards(around, room) for room in found}
    waiting = list(found)
    while waiting:
        group = [waiting.pop(0)]
        for room in group:
            near = [one for one in waiting if one in above[room] or room in above[one]]
            waiting = [one for one in waiting if one not in near]
            group += near
        if len(group) >= LEAST:
            yield _stack(house, around, found, group)


def _stack(
    house: House, around: Around, found: Mapping[RoomNo, int], group: list[RoomNo]
) -> FindGroup:
    rooms = set(group)
    for room in group:
        rooms |= _upwards(around, room) | _upwards(around, room, Kind.BELOW)
    upward = sorted(group, key=lambda room: (house.floors.get(house.rooms[room].floor, 0), room))
    return FindGroup(
        GroupOf.STACK,
        "",
        finds=sum(found[room] for room in group),
        found_in=tuple(upward),
        rooms=len(rooms),
    )


def _upwards(around: Around, room: RoomNo, kind: Kind = Kind.ABOVE) -> set[RoomNo]:
    """Every room that is reached by going up and only up; or down and only down."""
    reached: set[RoomNo] = set()
    waiting = [room]
    while waiting:
        for other in around.get(waiting.pop(), ()):
            if kind in other.kinds and other.room not in reached:
                reached.add(other.room)
                waiting.append(other.room)
    return reached


def _wings(house: House, found: Mapping[RoomNo, int]) -> Iterator[FindGroup]:
    wings: defaultdict[str, list[RoomNo]] = defaultdict(list)
    for room in found:
        wings[house.rooms[room].wing].append(room)
    every = {room.wing for room in house.rooms.values()}
    for wing, rooms in wings.items():
        if wing and len(every) > 1 and len(rooms) >= LEAST:
            yield FindGroup(
                GroupOf.WING,
                wing,
                finds=sum(found[room] for room in rooms),
                found_in=tuple(rooms),
                rooms=sum(room.wing == wing for room in house.rooms.values()),
            )
