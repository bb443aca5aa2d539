"""Metres walked by route against by room number and floor by floor, in the same run.

Run: python -m tests.bench.bench_walking
"""

from __future__ import annotations

import random
import sys
from time import perf_counter

from hotelwatch import paths
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.walking import Ways
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import Climb, StairPlaced
from hotelwatch.intake.roster_file import read_roster
from hotelwatch.intake.settings_files import read_stairs, read_wings
from tests.bench.bench_neighbours import BAYS, tower
from tests.build import rules
from tests.core.hotels import with_facts

SHEETS = 200
TEAMS = 10
CORRIDOR_M = BAYS * 4.0


def demo():
    """The invented hotel as its files have it."""
    files = paths.demo_hotel()
    rooms = read_roster(files / "roster.xlsx", rules()).facts
    wings, stairs = read_wings(files / "wings.csv"), read_stairs(files / "stairs.csv")
    return with_facts(House(shipped=rules()), *rooms, *wings, *stairs)


def large():
    """2,000 rooms in a cross of four wings: a stair at each far end, a stair and a lift inside."""
    ends = [StairPlaced(f"End {n}", f"W{n}", CORRIDOR_M) for n in range(4)]
    middle = [StairPlaced("Stair", "W0", 0.0), StairPlaced("Lift", "W1", 0.0, Climb.LIFT)]
    return with_facts(tower(2_000), *ends, *middle)


def sheets(house, size, rng, *, corridors=None):
    """Sheets of so many rooms, from anywhere or from so many corridors."""
    rooms = list(house.rooms.values())
    for _ in range(SHEETS):
        pool = rooms
        if corridors is not None:
            chosen = rng.sample(sorted({(room.floor, room.wing) for room in rooms}), corridors)
            pool = [room for room in rooms if (room.floor, room.wing) in chosen]
        yield [room.room for room in rng.sample(pool, min(size, len(pool)))]


def run(name, house):
    """Lines for one hotel: metres a sheet in each order, and the time that routes take."""
    building = lay_out(house)
    before = perf_counter()
    ways = Ways(house, building)
    made = perf_counter() - before
    sys.stdout.write(f"{name}, {len(house.rooms)} rooms; ways made in {made * 1000:.0f} ms\n")
    by_floor = {room: place for place, room in enumerate(house.rooms)}
    for size, corridors in ((6, None), (6, 2), (12, None), (12, 3), (20, None)):
        rng = random.Random(size)
        metres, seconds = [0.0, 0.0, 0.0], []
        for rooms in sheets(house, size, rng, corridors=corridors):
            before = perf_counter()
            route = ways.route(rooms)
            seconds.append(perf_counter() - before)
            orders = route, sorted(rooms), sorted(rooms, key=by_floor.__getitem__)
            metres = [so_far + ways.metres_of(o) for so_far, o in zip(metres, orders, strict=True)]
        by_route, by_number, floor_by_floor = (each / SHEETS for each in metres)
        where = "anywhere" if corridors is None else f"in {corridors} corridors"
        ten = TEAMS * 1000 * sum(seconds) / SHEETS
        sys.stdout.write(
            f"  {size:>2} rooms {where:<14} by route {by_route:5.0f} m, by number "
            f"{by_number:5.0f} m (1 : {by_number / by_route:.2f}), floor by floor "
            f"{floor_by_floor:5.0f} m (1 : {floor_by_floor / by_route:.2f}); "
            f"{TEAMS} sheets {ten:.1f} ms\n"
        )


if __name__ == "__main__":
    run("Demo hotel", demo())
    run("Large hotel", large())
