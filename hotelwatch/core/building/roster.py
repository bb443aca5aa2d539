"""What loading a roster again would change, and the facts that are needed for it.

A bed keeps its label, and with it its history, as long as its room has a bed of its
kind: labels are matched with what the house has before anything is compared.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    Fact,
    FloorPlaced,
    RoomDescribed,
    RoomNo,
)
from hotelwatch.core.house import House

Change = Literal["added", "changed", "gone"]
ROOM_FIELDS = (
    "floor",
    "wing",
    "side",
    "order",
    "room_type",
    "connects_to",
    "suite",
    "width_m",
)
LETTERS = 26


@dataclass(frozen=True, slots=True)
class RosterChange:
    """What happens to one room."""

    room: RoomNo
    kind: Change
    what: tuple[str, ...]
    """Codes: a field of RoomDescribed, "level", or "bed_added:", "bed_gone:",
    "bed_kind:", "bed_encased:" followed by the bed's label."""


def compare(
    house: House, facts: Sequence[Fact], *, leave: Collection[str] = ()
) -> tuple[RosterChange, ...]:
    """What each room's change would be, rooms of the house first, in its order.

    Rooms that the facts do not name are gone, but for those in ``leave``.
    """
    needed = needed_facts(house, facts, leave=leave)
    what: defaultdict[RoomNo, list[str]] = defaultdict(list)
    kinds: dict[RoomNo, Change] = {}
    moved = {fact.floor for fact in needed if isinstance(fact, FloorPlaced)} & house.floors.keys()
    for room, described in house.rooms.items():
        if described.floor in moved:
            kinds[room] = "changed"
            what[room].append("level")
    for fact in needed:
        if isinstance(fact, RoomDescribed):
            kinds[fact.room] = _kind_of(house, fact)
            what[fact.room] += _room_changes(house, fact)
    for fact in needed:
        if isinstance(fact, BedDescribed) and kinds.setdefault(fact.room, "changed") != "gone":
            what[fact.room] += _bed_changes(house, fact)
    order = (*house.rooms, *(room for room in kinds if room not in house.rooms))
    return tuple(
        RosterChange(room, kinds[room], () if kinds[room] == "gone" else tuple(what[room]))
        for room in order
        if room in kinds
    )


def needed_facts(
    house: House, facts: Sequence[Fact], *, leave: Collection[str] = ()
) -> tuple[Fact, ...]:
    """Only the facts that differ from the house, floors first, then rooms, then beds.

    Rooms and beds that the facts do not name get ``in_use=False``; rooms in
    ``leave`` (those of rows that were kept out) stay as they are.
    """
    floors = [fact for fact in facts if isinstance(fact, FloorPlaced)]
    rooms = {fact.room: fact for fact in facts if isinstance(fact, RoomDescribed)}
    wanted: defaultdict[RoomNo, list[BedDescribed]] = defaultdict(list)
    for fact in facts:
        if isinstance(fact, BedDescribed):
            wanted[fact.room].append(fact)
    gone = [room for no, room in house.rooms.items() if no not in rooms and no not in leave]
    ever = _beds_ever(house)
    beds: list[BedDescribed] = []
    for room in rooms:
        beds += _needed_beds(house, room, wanted[room], ever.get(room, {}))
    for lost in gone:
        beds += [replace(bed, in_use=False) for bed in house.beds_of(lost.room)]
    return (
        *(fact for fact in floors if house.floors.get(fact.floor) != fact.level),
        *(fact for no, fact in rooms.items() if house.rooms.get(no) != fact),
        *(replace(lost, in_use=False) for lost in gone),
        *beds,
    )


# --- beds --------------------------------------------------------------------------------


def _beds_ever(house: House) -> dict[RoomNo, dict[BedNo, BedDescribed]]:
    """Every bed that a room has or had, as last described; one that went elsewhere is not its."""
    ever: defaultdict[RoomNo, dict[BedNo, BedDescribed]] = defaultdict(dict)
    for bed in {bed.bed: bed for bed in house.all_of(BedDescribed)}.values():
        ever[bed.room][bed.bed] = bed
    return ever


def _needed_beds(
    house: House,
    room: RoomNo,
    wanted: Iterable[BedDescribed],
    ever: dict[BedNo, BedDescribed],
) -> list[BedDescribed]:
    had = {bed.bed: bed for bed in house.beds_of(room)}
    matched = matched_beds(room, list(wanted), had, ever, taken=house.builds_by_bed.keys())
    added = [bed for bed in matched if had.get(bed.bed) != bed]
    kept = {bed.bed for bed in matched}
    gone = [replace(bed, in_use=False) for no, bed in sorted(had.items()) if no not in kept]
    return added + gone


def matched_beds(
    room: RoomNo,
    wanted: Sequence[BedDescribed],
    had: dict[BedNo, BedDescribed],
    ever: dict[BedNo, BedDescribed],
    *,
    taken: Collection[BedNo] = (),
) -> list[BedDescribed]:
    """The wanted beds under the labels of beds that the room has; none of those ``taken`` is new.

    In turn: the same label and kind, a bed of that kind, a bed of the same label
    (its kind was corrected), a bed of that kind that was taken out of use, and at
    last a letter that was never used.
    """
    free = dict(sorted(had.items()))
    old = {no: bed for no, bed in sorted(ever.items()) if no not in had}
    label_of: dict[int, BedNo] = {}

    def match(beds: dict[BedNo, BedDescribed], *, by_label: bool, by_kind: bool) -> None:
        for place, bed in enumerate(wanted):
            if place in label_of:
                continue
            fits = (
                no
                for no, other in beds.items()
                if (not by_label or no == bed.bed) and (not by_kind or other.kind == bed.kind)
            )
            label = next(fits, None)
            if label is not None:
                label_of[place] = label
                del beds[label]

    match(free, by_label=True, by_kind=True)
    match(free, by_label=False, by_kind=True)
    match(free, by_label=True, by_kind=False)
    match(old, by_label=False, by_kind=True)
    used = {*had, *ever, *taken}
    for place in range(len(wanted)):
        if place not in label_of:
            label_of[place] = _new_label(room, used)
            used.add(label_of[place])
    return [replace(bed, bed=label_of[place]) for place, bed in enumerate(wanted)]


def _new_label(room: RoomNo, used: Collection[BedNo]) -> BedNo:
    number = 1
    while (label := BedNo(f"{room}/{_letters(number)}")) in used:
        number += 1
    return label


def _letters(number: int) -> str:
    letters = ""
    while number:
        number, rest = divmod(number - 1, LETTERS)
        letters = chr(ord("A") + rest) + letters
    return letters


# --- what changes ----------------------------------------------------------------------------


def _kind_of(house: House, fact: RoomDescribed) -> Change:
    if not fact.in_use:
        return "gone"
    return "changed" if fact.room in house.rooms else "added"


def _room_changes(house: House, fact: RoomDescribed) -> list[str]:
    before = house.rooms.get(fact.room)
    if before is None or not fact.in_use:
        return []
    return [name for name in ROOM_FIELDS if getattr(before, name) != getattr(fact, name)]


def _bed_changes(house: House, fact: BedDescribed) -> list[str]:
    before = house.beds.get(fact.bed)
    if before is None:
        return [f"bed_added:{fact.bed}"]
    if not fact.in_use:
        return [f"bed_gone:{fact.bed}"]
    changes = [f"bed_kind:{fact.bed}"] if before.kind != fact.kind else []
    return changes + ([f"bed_encased:{fact.bed}"] if before.encased != fact.encased else [])
