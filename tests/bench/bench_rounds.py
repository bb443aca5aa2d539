"""A plan and its parts, a change's first answer against planning anew, as a hotel grows.

Run: python -m tests.bench.bench_rounds
"""

from __future__ import annotations

import sys
from random import Random
from time import perf_counter

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
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.rolling import roll
from hotelwatch.core.planning.situation import situation_of
from hotelwatch.core.planning.what_if import Ground, what_if
from hotelwatch.core.records import Entry, Stay
from hotelwatch.core.round_facts import CheckPinned
from hotelwatch.core.rounds.mending import mended
from hotelwatch.core.rounds.outlook import Change
from hotelwatch.core.rounds.plan import Wish
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
    house = House(shipped=rules())
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
    for rooms, days in ((210, 14), (2000, 28), (7000, 28)):
        house = hotel(rooms, days=days + 30, given=0.5)
        wish = Wish(day(0), days, moment(0))
        seen, of_seen = timed(occupancy, house, day(0))
        situation, of_situation = timed(situation_of, house, seen, wish)
        _, of_roll = timed(roll, situation.problem, situation.prices)
        planned, whole = timed(plan_rounds, house, seen, wish)
        room = next(slot.room for slot in planned.slots if slot.on > day(0))
        pinned = house.add(
            Entry(3, moment(0), "bench", "", "", None, "", ""),
            (CheckPinned(room, planned.from_on, ""),),
        )
        # The second time: walking knows the building already, as it does in an open window.
        for _ in range(2):
            first, answered = timed(mended, pinned, seen, planned, rooms=[room], today=day(0))
        _, again = timed(plan_rounds, pinned, seen, wish)
        ground = Ground(house, seen, wish)
        ground.choice()
        _, tried = timed(what_if, ground, Change(minutes_percent=110))
        _, of_cycle = timed(what_if, ground, Change(cycle_percent=90))
        sys.stdout.write(
            f"{rooms} rooms x {days} days, {len(house.stays)} bookings, {len(first.slots)} slots,"
            f" {planned.proof.overdue_bed_days} overdue bed-days (fewest {planned.proof.fewest})\n"
            f"  occupancy {of_seen:.0f} ms, situation {of_situation:.0f} ms, days filled"
            f" {of_roll:.0f} ms, whole plan with proof {whole:.0f} ms\n"
            f"  after one pin: first answer {answered:.0f} ms, planned anew {again:.0f} ms"
            f" ({again / max(answered, 0.1):.0f} times); a what-if {tried:.0f} ms,"
            f" of other cycles {of_cycle:.0f} ms\n"
        )


def timed(work, *values, **named):
    """What comes of it, and milliseconds."""
    began = perf_counter()
    value = work(*values, **named)
    return value, (perf_counter() - began) * 1000


if __name__ == "__main__":
    main()
