"""Some rooms' types, suites, widths or encasements said anew; all else stays as it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hotelwatch.core.facts import BedNo, Fact, RoomNo
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class RoomSaid:
    """What a row of a pasted column says of one room; None: nothing."""

    room: RoomNo
    room_type: str | None = None
    suite: str | None = None
    width_m: float | None = None
    encased: tuple[tuple[BedNo, bool], ...] = ()


def facts_of_columns(house: House, rows: Iterable[RoomSaid]) -> tuple[Fact, ...]:
    """The rooms named, as the house has them, with what was said of them, and all their beds.

    Rooms that the house has no longer are left out.
    """
    facts: list[Fact] = []
    for said in rows:
        room = house.rooms.get(said.room)
        if room is None:
            continue
        fields = {"room_type": said.room_type, "suite": said.suite, "width_m": said.width_m}
        changed = {field: value for field, value in fields.items() if value is not None}
        encased = dict(said.encased)
        facts.append(replace(room, **changed))  # type: ignore[arg-type]
        facts += [
            replace(bed, encased=encased.get(bed.bed, bed.encased))
            for bed in house.beds_of(said.room)
        ]
    return tuple(facts)
