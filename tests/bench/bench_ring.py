"""Rings of 40 open cases in a resort against a brute pass over all rooms with shapely.

Run: python -m tests.bench.bench_ring
"""

from __future__ import annotations

import sys
from collections import defaultdict
from itertools import pairwise
from random import Random
from statistics import median

import shapely
from shapely import LineString, Polygon

from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.cases.ring import next_first, ring_of
from hotelwatch.core.cases.ring_rule import Around, ring_around
from hotelwatch.core.cases.rows import asked_rows, case_rows
from hotelwatch.core.choice_facts import CartServes
from hotelwatch.core.facts import BedDescribed, BedNo, CaseNo
from hotelwatch.core.records import Entry, Stay
from hotelwatch.core.stays.openings import occupancy
from tests.bench.bench_neighbours import timed, tower
from tests.build import day, moment
from tests.core.by_shapely import FIGURES, ROUNDING, faces, in_common, shares_wall

ROOMS, CASES, ROOMS_OF_CART, STAYS_OF_ROOM = 7_000, 40, 14, 30
SEED = 4


def resort():
    """Rooms with beds and carts, and bookings of which some had two rooms."""
    chance = Random(SEED)
    house = tower(ROOMS)
    rooms = list(house.rooms)
    beds = [BedDescribed(BedNo(f"{room}/A"), room, "box_spring") for room in rooms]
    carts = [
        CartServes(f"c{start}", tuple(rooms[start : start + ROOMS_OF_CART]), day(-100))
        for start in range(0, ROOMS, ROOMS_OF_CART)
    ]
    house = house.add(_entry(2), [*beds, *carts])
    stays = []
    for number in range(ROOMS * STAYS_OF_ROOM):
        room, comes = chance.choice(rooms), chance.randint(-200, 0)
        moved = chance.random() < 0.05
        stays.append(Stay(f"b{number}", room, "", day(comes), day(comes + 3)))
        if moved:
            other = chance.choice(rooms)
            stays.append(Stay(f"b{number}", other, "", day(comes + 3), day(comes + 5)))
    return house.with_stays(stays), chance


def _entry(number):
    return Entry(number, moment(0), "bench", "bench", "", None, "bench", "")


def with_cases(house, around, chance):
    """40 open cases, every other one grown by a find next to it."""
    rooms = list(house.rooms)
    while len(house.sightings) < CASES:
        room = chance.choice(rooms)
        house, _ = _find(house, around, room)
        if len(house.sightings) % 2:
            near = next(iter(ring_around(house, around.neighbours, room)))
            house, _ = _find(house, around, near)
    return house


def _find(house, around, room):
    sighted = Sighted(CaseNo(""), room, "", "", Sign.LIVE_INSECT, 1, "bench", moment(0))
    answer = answer_sighting(house, around.neighbours, sighted, record=around.record)
    return house.add(_entry(max(house.entries) + 1), answer.facts), answer.sighted.case


def rings(house, around):
    """Every open case's ring with its list."""
    now = moment(1)
    found = [ring_of(house, around, case, now=now) for case in house.sightings]
    return found, [next_first(ring.rooms) for ring in found]


def brute(house, building, centres):
    """Who is around these rooms: each asked of every room of the resort, by shapely."""
    shapes = building.shapes
    drawn = {room: Polygon(shape.outline) for room, shape in shapes.items()}
    above = dict(pairwise(sorted(set(building.floors.values()))))
    found = {}
    for centre in centres:
        here, kinds = shapes[centre], defaultdict(set)
        for other, shape in shapes.items():
            if other == centre:
                continue
            if shape.level == here.level:
                if shares_wall(drawn[centre], drawn[other]):
                    kinds[other].add(Kind.SHARES_WALL)
                if _across(house, building, drawn, (centre, other)):
                    kinds[other].add(Kind.ACROSS)
            least = FIGURES.overlap_m2.value - ROUNDING
            for low, high, kind in (
                (here.level, shape.level, Kind.ABOVE),
                (shape.level, here.level, Kind.BELOW),
            ):
                if above.get(low) == high and in_common(drawn[centre], drawn[other]) >= least:
                    kinds[other].add(kind)
        found[centre] = dict(kinds)
    return found


def _across(house, building, drawn, pair):
    one, other = pair
    if house.rooms[one].wing != house.rooms[other].wing:
        return False
    if drawn[one].distance(drawn[other]) > FIGURES.corridor_width_m.value + ROUNDING:
        return False
    level = building.shapes[one].level
    third = [
        polygon
        for room, polygon in drawn.items()
        if building.shapes[room].level == level and room not in pair
    ]
    fronts = [LineString(building.shapes[room].front) for room in pair]
    return faces(*fronts, third)


def all_pairs(building):
    """How many pairs of rooms lie within a corridor's width, seen from above; every pair asked."""
    drawn = shapely.polygons([shape.outline for shape in building.shapes.values()])
    shapely.prepare(drawn)
    reach = FIGURES.corridor_width_m.value + ROUNDING
    return sum(
        int(shapely.dwithin(one, drawn[number + 1 :], reach).sum())
        for number, one in enumerate(drawn)
    )


def after_a_write(house, around):
    """A ring as it is asked for first when something was written down."""
    later = house.add(_entry(max(house.entries) + 1), ())
    return timed(lambda: ring_of(later, around, next(iter(house.sightings)), now=moment(1)))[1]


def main():
    """Print the times, and stop if shapely has other answers."""
    house, chance = resort()
    building = lay_out(house)
    near, once = timed(neighbours, house, building)
    record, read = timed(record_of, house)
    around = Around(near, record)
    house = with_cases(house, around, chance)
    rings(house, around)  # lookups of the house are made when first asked for
    runs = [timed(rings, house, around) for _ in range(7)]
    (found, _lists), _ = runs[0]
    ours = median(seconds for _, seconds in runs)
    single = median(
        timed(lambda: ring_of(house, around, next(iter(house.sightings)), now=moment(1)))[1]
        for _ in range(7)
    )
    occupied = occupancy(house, day(1))
    listed = median(timed(lambda: case_rows(house, occupied, now=moment(1)))[1] for _ in range(5))
    asked = median(timed(lambda: asked_rows(house, now=moment(1)))[1] for _ in range(5))
    centres = [centre.room for ring in found for centre in ring.centres]
    theirs, slow = timed(brute, house, building, centres)
    mine = {
        room: {other: set(codes) for other, codes in ring_around(house, near, room).items()}
        for room in centres
    }
    if mine != theirs:
        raise SystemExit("rule and brute pass disagree")
    pairs, slowest = timed(all_pairs, building)
    cold = median(after_a_write(house, around) for _ in range(5))
    rooms = sum(len(ring.rooms) for ring in found)
    sys.stdout.write(
        f"{ROOMS} rooms, {len(house.stays)} stays, {len(found)} open cases with {len(centres)}"
        f" centres and {rooms} rooms in their rings\n"
        f"once: neighbours {once:.3f} s, record read {read:.3f} s\n"
        f"all rings with their lists {ours * 1000:.1f} ms, one ring {single * 1000:.2f} ms,"
        f" the first one after a write {cold * 1000:.0f} ms\n"
        f"list of cases {listed * 1000:.0f} ms, checks asked for {asked * 1000:.0f} ms\n"
        f"brute pass with shapely over all rooms {slow:.2f} s, ratio 1 : {slow / ours:.0f},"
        f" same answers around {len(centres)} centres\n"
        f"every pair of outlines {slowest:.1f} s ({pairs} near pairs),"
        f" ratio 1 : {slowest / ours:.0f}\n"
    )


if __name__ == "__main__":
    main()
