"""Wings and floors put elsewhere, to look at before anything is written down."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from hotelwatch.core.building.carrying import carried
from hotelwatch.core.building.neighbours import Kind, Neighbour, neighbours
from hotelwatch.core.building.polygons import TOLERANCE_M, box_of, common_area
from hotelwatch.core.building.rooms import Building, RoomShape
from hotelwatch.core.building.sites import parts_of
from hotelwatch.core.facts import FloorPlaced, RoomNo, WingPlaced
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures


@dataclass(frozen=True, slots=True)
class Places:
    """Where wings start and run, and on which level each floor lies."""

    wings: tuple[WingPlaced, ...]
    floors: tuple[FloorPlaced, ...]
    """From bottom to top."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a layout makes of the rooms."""

    pairs: Mapping[Kind, int]
    """How many pairs of rooms are neighbours in each way."""
    overlapping: tuple[tuple[RoomNo, RoomNo], ...]
    """Pairs that lie on one another."""


def outcome_of(house: House, building: Building) -> Outcome:
    """How many neighbours a layout makes, and which rooms it lays on one another."""
    return Outcome(
        pairs=pairs_by_kind(neighbours(house, building)),
        overlapping=overlapping(building, house.rules.figures),
    )


def places_of(house: House, building: Building) -> Places:
    """Every wing and floor as it lies now, also those that nobody has placed."""
    wings = {}
    for corridor in building.corridors:
        x_m, y_m = corridor.start
        laid = WingPlaced(corridor.wing, x_m, y_m, 0.0)
        wings[corridor.wing] = house.wings.get(corridor.wing, laid)
    by_level = sorted(building.floors.items(), key=lambda item: item[1])
    return Places(
        wings=tuple(wings[name] for name in sorted(wings)),
        floors=tuple(FloorPlaced(floor, level) for floor, level in by_level),
    )


def stacked(labels: Sequence[str], floors: Sequence[FloorPlaced]) -> tuple[FloorPlaced, ...]:
    """Floors in this order from bottom to top, on the levels that they had among them."""
    levels = sorted({floor.level for floor in floors})
    if len(levels) != len(labels):  # two shared a level: from now on each has its own
        levels = list(range(min(levels, default=1), min(levels, default=1) + len(labels)))
    return tuple(FloorPlaced(label, level) for label, level in zip(labels, levels, strict=True))


def with_places(house: House, places: Places) -> House:
    """The house as it would be with these places; it is only to look at."""
    last = house.entries[max(house.entries)]
    along = carried(house, places.wings)
    return house.add(last, (*places.wings, *places.floors, *along))


def overlapping(building: Building, figures: Figures) -> tuple[tuple[RoomNo, RoomNo], ...]:
    """Pairs of rooms of one level that lie on one another, as no built rooms do.

    Two rooms may have as much in common as counts for no room above another.
    """
    levels: defaultdict[int, list[RoomShape]] = defaultdict(list)
    for shape in building.shapes.values():
        levels[shape.level].append(shape)
    least = figures.overlap_m2.value
    return tuple(pair for level in sorted(levels) for pair in _on_level(levels[level], least))


def _on_level(shapes: Sequence[RoomShape], least_m2: float) -> Iterator[tuple[RoomNo, RoomNo]]:
    boxes = sorted(
        ((box_of(shape.outline), shape) for shape in shapes),
        key=lambda pair: (pair[0].west, pair[1].room),
    )
    for number, (box, one) in enumerate(boxes):
        for other_box, other in boxes[number + 1 :]:
            if other_box.west > box.east:
                break
            if box.common_area(other_box) < least_m2 - TOLERANCE_M:
                continue
            if common_area(one.outline, parts_of(other)) >= least_m2 - TOLERANCE_M:
                yield one.room, other.room


def pairs_by_kind(found: Mapping[RoomNo, Sequence[Neighbour]]) -> Mapping[Kind, int]:
    """How many pairs of rooms are neighbours in each way; above and below are one pair."""
    seen = Counter(kind for those in found.values() for one in those for kind in one.kinds)
    both_ways = (kind for kind in Kind if kind not in (Kind.ABOVE, Kind.BELOW))
    return {Kind.ABOVE: seen[Kind.ABOVE], **{kind: seen[kind] // 2 for kind in both_ways}}
