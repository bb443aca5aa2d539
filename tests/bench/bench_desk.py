"""Front desk's list of a 7,000-room house with 40 open cases; its moves against scipy and greedy.

Run: python -m tests.bench.bench_desk
The same guests and rooms go to scipy's linear_sum_assignment (table filled included, rooms
that do not do at a price above all others) and to a pass that takes the nearest free room
for each guest in turn.
"""

from __future__ import annotations

import random
import statistics
import sys
from dataclasses import replace
from datetime import timedelta
from time import process_time

import numpy as np
from scipy.optimize import linear_sum_assignment

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.cases.blocks import blocks
from hotelwatch.core.cases.desk import desk_list
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.matching import assign
from hotelwatch.core.cases.moves import Wish, _Plan
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.stock import Stock
from hotelwatch.core.cases.touched import rooms_to_shun, touched_arrivals
from hotelwatch.core.choice_facts import RoomTypesRanked
from hotelwatch.core.facts import BedChecked, BedDescribed, BedNo, CaseNo, CheckKind, RoomNo
from hotelwatch.core.records import Entry, Stay, StayStatus
from hotelwatch.core.stays.openings import occupancy
from tests.bench.bench_neighbours import tower
from tests.build import day, moment, rules

TYPES = ("plain", "double", "view", "suite")
NOW = moment(0, 12)
REPEATS = 9


def resort(rooms, cases, let):
    """A house let to a share, with a year's cycle of looks and so many open cases."""
    rng = random.Random(11)
    built = tower(rooms)
    described = [replace(r, room_type=rng.choice(TYPES)) for r in built.rooms.values()]
    seen = tuple(p.code for p in rules().bed_kinds["box_spring"].places)
    beds = [BedDescribed(BedNo(f"{r.room}/A"), r.room, "box_spring") for r in described]
    looks = [
        BedChecked(b.bed, b.room, day(-rng.randrange(1, 91)), CheckKind.DEEP, ("x", "y"), 10, seen)
        for b in beds
    ]
    house = add(built, *described, *beds, *looks, RoomTypesRanked(TYPES))
    stays = []
    for one in described:
        at = -rng.randrange(0, 5)
        while at < 40:
            nights = rng.randrange(1, 8)
            if rng.random() < let:
                status = StayStatus.IN_HOUSE if at < 0 else StayStatus.BOOKED
                stays.append(
                    Stay(
                        f"b{len(stays)}", one.room, one.room_type, day(at), day(at + nights), status
                    )
                )
            at += nights
    house = house.with_stays(stays)
    near = neighbours(house, lay_out(house))
    for number, one in enumerate(rng.sample(described, cases), 1):
        case = CaseNo(f"2026-{number:03d}")
        sighted = Sighted(case, one.room, "", "", Sign.LIVE_INSECT, 1, "x", moment(-number % 3 - 3))
        house = add(house, *answer_sighting(house, near, sighted, record=record_of(house)).facts)
        if number % 2:
            house = add(house, CaseJudged(case, Outcome.CONFIRMED, "y", "z", day(0)))
    return house, near


def add(house, *facts):
    number = max(house.entries, default=0) + 1
    at = moment(-3) + timedelta(seconds=number)
    return house.add(Entry(number, at, "bench", "bench", "", None, "bench", ""), facts)


def timed(function):
    """What it answers, and the median of its processor seconds: other work does not count."""
    spent = []
    for _ in range(REPEATS):
        start = process_time()
        answer = function()
        spent.append(process_time() - start)
    return answer, statistics.median(spent)


def plan_of(house, occupied, around):
    """The guests and the rooms, as front desk's list has them."""
    found = blocks(house, occupied, NOW)
    rows = touched_arrivals(house, occupied, found, now=NOW)
    shunned = rooms_to_shun(house, found, around=around, now=NOW)
    span = day(0), max(row.stay.leaves_on for row in rows)
    stock = Stock(house, occupied, span, closed=house.quarantined(NOW), shunned=shunned)
    types = house.rooms
    wishes = [
        Wish(r.room, types[RoomNo(r.room)].room_type, (r.from_on, r.stay.leaves_on)) for r in rows
    ]
    return _Plan(stock, wishes), wishes


def by_scipy(edges, columns):
    """Cost in whole steps of type, looks and doors, small enough for a float; who is placed."""
    index = {column: number for number, column in enumerate(sorted(columns))}
    dear = 1e12
    table = np.full((len(edges), len(index) + len(edges)), dear)
    for row, choices in enumerate(edges):
        for cost, column in choices:
            table[row, index[column]] = cost
        table[row, len(index) + row] = dear / 1e3
    rows, chosen = linear_sum_assignment(table)
    return int((chosen < len(index)).sum()), table[rows, chosen].sum()


def small(cost):
    """The four parts of a cost, kept in their order, in a number that a float holds."""
    parts = [(cost >> shift) & (1 << 24) - 1 for shift in (72, 48, 24, 0)]
    return ((parts[0] * 2 + parts[1]) * 64 + parts[2]) * 8192 + parts[3]


def greedy(edges):
    taken, cost, placed = set(), 0, 0
    for choices in edges:
        for price, column in choices:
            if column not in taken:
                taken.add(column)
                cost, placed = cost + price, placed + 1
                break
    return placed, cost


def run(rooms, cases, let):
    house, near = resort(rooms, cases, let)
    occupied = occupancy(house, day(0))
    around = Around(near, record_of(house))
    desk, first = timed_once(lambda: desk_list(house, occupied, NOW, around=around))
    desk, again = timed(lambda: desk_list(house, occupied, NOW, around=around))
    plan, wishes = plan_of(house, occupied, around)
    whole = [[(small(c), n) for c, n in plan._edges(wish, {})] for wish in wishes]
    columns = {column for choices in whole for _, column in choices}
    got, mine = timed(lambda: assign(whole))
    price = [{n: c for c, n in choices} for choices in whole]
    ours = (
        sum(c is not None for c in got),
        sum(price[row][c] for row, c in enumerate(got) if c is not None),
    )
    (placed, cost), theirs = timed(lambda: by_scipy(whole, columns))
    unplaced = len(wishes) - placed
    (by_turns, dearer), one_by_one = timed(lambda: greedy(whole))
    scipys = round(cost - unplaced * 1e9)
    # Where not all can be placed, ours places the most urgent, scipy's the cheapest.
    if ours[0] != placed or ours[1] < scipys or (not unplaced and ours[1] != scipys):
        raise SystemExit(f"ours {ours} and scipy {(placed, scipys)} disagree")
    sys.stdout.write(
        f"{rooms} rooms, {cases} cases, {let:.0%} let: list {1000 * again:.0f} ms "
        f"(first {1000 * first:.0f}), {len(desk.blocks)} rooms not to sell, {len(wishes)} guests, "
        f"{sum(row.move is not None for row in desk.arrivals)} with a room\n"
        f"  choosing together {1000 * mine:.1f} ms, scipy {1000 * theirs:.1f} ms "
        f"(ratio 1 : {theirs / mine:.1f}), one by one {1000 * one_by_one:.1f} ms; placed in the "
        f"first pass {ours[0]}, {placed}, {by_turns}; "
        f"one by one costs {dearer / max(1, ours[1]):.3f} times\n"
    )


def timed_once(function):
    start = process_time()
    return function(), process_time() - start


if __name__ == "__main__":
    for let in (0.7, 0.93):
        run(7_000, 40, let)
