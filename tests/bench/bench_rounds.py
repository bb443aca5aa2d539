"""Occupancy, looks and a plan: how long they take as a hotel grows.

Run: python -m tests.bench.bench_rounds
"""

from __future__ import annotations

import sys
from itertools import pairwise
from random import Random
from time import perf_counter

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CheckKind,
    FloorPlaced,
    HotelDescribed,
    RoomDescribed,
    RoomNo,
    Side,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry, Stay
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.rounds.planner import plan_rounds
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, moment, rules

FLOORS = 10
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def hotel(rooms, *, days, given):
    """A hotel, half of its rooms with two beds, a year of checks, stays until ``days``.

    ``given`` is the share of bookings to come that front desk gave a room.
    """
    random = Random(3)
    facts = [HotelDescribed("House of the bench", "Europe/Vienna")]
    facts += [FloorPlaced(str(floor), floor) for floor in range(1, FLOORS + 1)]
    facts += [
        TeamDescribed(TeamName(f"team {n}"), 2, 210, EVERY_DAY) for n in range(-(-rooms // 250))
    ]
    checks, stays = [], []
    seen = tuple(place.code for place in rules().bed_kinds["box_spring"].places)
    for number in range(rooms):
        floor, bay = number % FLOORS + 1, number // FLOORS
        room, kind = RoomNo(f"{floor}-{bay:03}"), random.choice("ABCDEFGH")
        side = Side.LEFT if bay % 2 else Side.RIGHT
        facts.append(RoomDescribed(room, str(floor), f"W{bay // 25}", side, bay, kind))
        last_on = -random.randint(0, 95)
        for letter in "AB"[: 1 + number % 2]:
            bed = BedDescribed(BedNo(f"{room}/{letter}"), room, "box_spring")
            facts.append(bed)
            checks += [
                BedChecked(bed.bed, room, day(on), CheckKind.DEEP, ("a", "b"), 14, seen)
                for on in range(last_on, last_on - 365, -91)
            ]
        stays += room_stays(random, room, kind, days=days, given=given)
    random.shuffle(stays)
    house = House(rules=rules())
    for number, written in enumerate((facts, checks), 1):
        house = house.add(Entry(number, moment(-1), "bench", "", "", None, "", ""), written)
    return house.with_stays(stays)


def room_stays(random, room, kind, *, days, given):
    arrives = -30
    while arrives < days:
        arrives += random.choice((0, 0, 1, 2))
        leaves = arrives + random.choice((1, 1, 2, 2, 3, 4, 7, 14))
        has_room = arrives <= 0 or random.random() < given
        yield Stay(f"{room}{arrives}", room if has_room else "", kind, day(arrives), day(leaves))
        arrives = leaves


def main():
    for rooms, days in ((210, 14), (2000, 28)):
        for given in (0.0, 0.3, 1.0):
            house = hotel(rooms, days=days + 30, given=given)
            marks = [perf_counter()]
            seen = occupancy(house, day(0))
            marks.append(perf_counter())
            looks(house, day(0))
            marks.append(perf_counter())
            planned = plan_rounds(house, seen, Wish(day(0), days, moment(0)))
            marks.append(perf_counter())
            parts = [f"{(b - a) * 1000:5.0f}" for a, b in pairwise(marks)]
            sys.stdout.write(
                f"{rooms} rooms x {days} days, {given:.0%} of bookings with a room: occupancy,"
                f" looks, plan {', '.join(parts)} ms; {len(house.stays)} bookings,"
                f" {seen.moves} moves, {len(planned.slots)} slots\n"
            )


if __name__ == "__main__":
    main()
