"""Neighbours by grid against every pair of rooms, in the same run.

Run: python -m tests.bench.bench_neighbours
"""

from __future__ import annotations

import sys
from itertools import combinations
from time import perf_counter

from hotelwatch.core.building.neighbours import Kind, neighbours, sites_of
from hotelwatch.core.building.polygons import TOLERANCE_M
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.sites import faces, lies_over, shares_wall
from hotelwatch.core.facts import FloorPlaced, RoomDescribed, RoomNo, Side, WingPlaced
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry
from tests.build import moment, rules

STARTS = ((10.0, 0.0, 0.0), (0.0, 10.0, 90.0), (-10.0, 0.0, 180.0), (0.0, -10.0, 270.0))
BAYS = 25


def tower(rooms):
    """A house of four wings in a cross, both sides let, as many floors as it takes."""
    facts = [WingPlaced(f"W{n}", *start) for n, start in enumerate(STARTS)]
    floor = 0
    described = []
    while len(described) < rooms:
        floor += 1
        facts.append(FloorPlaced(str(floor), floor))
        described += [
            RoomDescribed(
                RoomNo(f"{floor}-{wing}{side[0]}{bay:02}"), str(floor), f"W{wing}", side, bay
            )
            for wing in range(len(STARTS))
            for side in (Side.LEFT, Side.RIGHT)
            for bay in range(1, BAYS + 1)
        ]
    entry = Entry(1, moment(0), "bench", "bench", "", None, "bench", "")
    return House(shipped=rules()).add(entry, [*facts, *described[:rooms]])


def all_pairs(house, building):
    """The same questions asked of every pair; boxes apart are still told at a glance."""
    figures = house.rules.figures
    reach = figures.corridor_width_m.value + TOLERANCE_M
    sites = sites_of(house, building)
    by_level = {}
    for site in sites:
        by_level.setdefault(site.shape.level, []).append(site)
    found = set()
    for one, other in combinations(sorted(sites, key=lambda site: site.room), 2):
        if not one.box.grown(reach).meets(other.box):
            continue
        if one.shape.level == other.shape.level:
            if shares_wall(one, other, figures):
                found.add((one.room, other.room, Kind.SHARES_WALL))
            if faces(one, other, by_level[one.shape.level], figures):
                found.add((one.room, other.room, Kind.ACROSS))
        for low, high in ((one, other), (other, one)):
            is_next = high.shape.level == low.shape.level + 1
            if is_next and lies_over(high, low, figures):
                found.add((low.room, high.room, Kind.ABOVE))
    return found


def timed(function, *values):
    """What a function answers and the seconds it took."""
    start = perf_counter()
    answer = function(*values)
    return answer, perf_counter() - start


def run(rooms):
    """One line: seconds and ratio; an error if the two answers differ."""
    house = tower(rooms)
    building, laid = timed(lay_out, house)
    ours, seconds = min((timed(neighbours, house, building) for _ in range(3)), key=lambda t: t[1])
    brute, slow = timed(all_pairs, house, building)
    mine = {
        (a, b.room, kind)
        for a, those in ours.items()
        for b in those
        for kind in b.kinds
        if kind is Kind.ABOVE or (kind is not Kind.BELOW and a < b.room)
    }
    if mine != brute:
        raise SystemExit("grid and all pairs disagree")
    sys.stdout.write(
        f"{rooms:>5} rooms: laid out {laid:.3f} s, neighbours {seconds:.3f} s, "
        f"all pairs {slow:.2f} s, ratio 1 : {slow / seconds:.1f}, same {len(brute)} answers\n"
    )


if __name__ == "__main__":
    for size in (2_000, 7_000):
        run(size)
