"""Rooms drawn, moved and split, to look at before anything is written down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from hotelwatch.core.building.inside import walls_meet
from hotelwatch.core.building.neighbours import sites_of
from hotelwatch.core.building.outlines import (
    Outline,
    is_convex,
    numbers_of,
    settled,
    signed_area,
)
from hotelwatch.core.building.polygons import TOLERANCE_M, Box, box_of, common_area
from hotelwatch.core.building.rooms import RoomShape, drawn_numbers, lay_out
from hotelwatch.core.building.sites import Grid, parts_of
from hotelwatch.core.facts import BedNo, Fact, RoomDescribed, RoomDrawn, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures

CORNERS_LEAST = 3


@dataclass(frozen=True, slots=True)
class NewRoom:
    """A room that a split makes, and the beds that stand in it from then on."""

    room: RoomNo
    source: RoomNo
    """The room that it was a part of."""
    beds: tuple[BedNo, ...] = ()
    """Of the source, by their labels there."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """What is drawn otherwise than written down; an empty outline takes a drawing back."""

    outlines: Mapping[RoomNo, Outline] = field(default_factory=dict)
    new_rooms: tuple[NewRoom, ...] = ()

    def with_outline(self, room: RoomNo, outline: Outline) -> Drawing:
        """The drawing with one room elsewhere."""
        return replace(self, outlines={**self.outlines, room: outline})

    def with_split(self, new: NewRoom, kept: Outline, other: Outline) -> Drawing:
        """The drawing with a room in two parts: what it keeps, and the new room's."""
        return Drawing({**self.outlines, new.source: kept, new.room: other}, (*self.new_rooms, new))


@dataclass(frozen=True, slots=True)
class Course:
    """A drawing as it came about: what one can undo, and what one undid."""

    now: Drawing = field(default_factory=Drawing)
    before: tuple[Drawing, ...] = ()
    after: tuple[Drawing, ...] = ()

    def then(self, drawing: Drawing) -> Course:
        """One step on; what was undone can't be redone any more."""
        if drawing == self.now:
            return self
        return Course(drawing, (*self.before, self.now))

    def undo(self) -> Course:
        """One step back, if there is one."""
        if not self.before:
            return self
        return Course(self.before[-1], self.before[:-1], (self.now, *self.after))

    def redo(self) -> Course:
        """One undone step on, if there is one."""
        if not self.after:
            return self
        return Course(self.after[0], (*self.before, self.now), self.after[1:])


@dataclass(frozen=True, slots=True)
class Flaw:
    """Why a room can't be as it is drawn.

    ``code`` is "too_few_corners", "walls_meet", "too_small" or "overlaps".
    """

    code: str
    room: RoomNo
    other: str = ""
    """The room that it lies on."""
    square_metres: float = 0.0
    """Its own, or those in common."""


# --- what is wrong -----------------------------------------------------------------------


def shape_flaw(
    room: RoomNo, outline: Sequence[tuple[float, float]], figures: Figures
) -> Flaw | None:
    """What is wrong with an outline in itself; None if a room can be so."""
    corners = settled(outline)
    if len(corners) < CORNERS_LEAST:
        return Flaw("too_few_corners", room)
    if not is_convex(corners) and walls_meet(corners):
        return Flaw("walls_meet", room)
    area = signed_area(corners)
    if area < figures.least_room_m2.value:
        return Flaw("too_small", room, square_metres=area)
    return None


def overlaps_with(
    shape: RoomShape, others: Iterable[RoomShape], figures: Figures
) -> Iterator[Flaw]:
    """The rooms of its level that a room lies on, with the square metres in common."""
    least = figures.overlap_m2.value - TOLERANCE_M
    parts, box = parts_of(shape), box_of(shape.outline)
    for other in others:
        if other.room == shape.room or other.level != shape.level:
            continue
        if box.common_area(box_of(other.outline)) < least:
            continue
        common = common_area(other.outline, parts)
        if common >= least:
            yield Flaw("overlaps", shape.room, other.room, common)


def flaws(house: House, drawing: Drawing) -> tuple[Flaw, ...]:
    """Everything that keeps a drawing from being written down, each pair of rooms once."""
    figures = house.rules.figures
    found = [
        flaw
        for room, outline in drawing.outlines.items()
        if outline and (flaw := shape_flaw(room, outline, figures)) is not None
    ]
    if found:
        return tuple(found)
    would_be = with_drawing(house, drawing)
    building = lay_out(would_be)
    grid = Grid(sites_of(would_be, building), figures.room_depth_m.value)
    pairs: dict[frozenset[str], Flaw] = {}
    for room in drawing.outlines:
        shape = building.shapes.get(room)
        if shape is None:
            continue
        box: Box = box_of(shape.outline)
        near = [site.shape for site in grid.near(shape.level, box)]
        for flaw in overlaps_with(shape, near, figures):
            pairs.setdefault(frozenset((flaw.room, flaw.other)), flaw)
    return tuple(pairs.values())


# --- what would be written down ------------------------------------------------------------


def facts_of(house: House, drawing: Drawing) -> tuple[Fact, ...]:
    """What a drawing writes down: new rooms with their beds first, then outlines that differ."""
    facts: list[Fact] = []
    for new in drawing.new_rooms:
        facts += _split_facts(house, new)
    known = drawn_numbers(house)
    for room, outline in drawing.outlines.items():
        numbers = numbers_of(settled(outline)) if outline else ()
        if known.get(room, ()) != numbers:
            facts.append(RoomDrawn(room, numbers))
    return tuple(facts)


def _split_facts(house: House, new: NewRoom) -> Iterator[Fact]:
    source = house.rooms[new.source]
    yield RoomDescribed(
        new.room,
        source.floor,
        source.wing,
        source.side,
        source.order,
        room_type=source.room_type,
        width_m=source.width_m,
    )
    # The same beds under the same labels: what was looked at before goes along.
    for bed in house.beds_of(new.source):
        if bed.bed in new.beds:
            yield replace(bed, room=new.room)


def with_drawing(house: House, drawing: Drawing) -> House:
    """The house as it would be with a drawing; it is only to look at."""
    facts = facts_of(house, drawing)
    if not facts:
        return house
    return house.add(house.entries[max(house.entries)], facts)
