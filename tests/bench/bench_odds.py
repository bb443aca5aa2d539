"""The filter of many rooms against a textbook forward algorithm, a further day, a correction.

Run: python -m tests.bench.bench_odds [--small]

The textbook's day-by-day algorithm runs on a few of the same rooms in the same run and is
scaled to all of them, which is said beside it; its numbers must agree with the filter's.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.facts import BedChecked, BedDescribed, BedNo, CheckKind, RoomNo
from hotelwatch.core.odds.again import again
from hotelwatch.core.odds.day_later import comes_in, day_later
from hotelwatch.core.odds.hotel import reckon, reckon_again
from hotelwatch.core.odds.record import Looked, RoomRecord, clock_of, introductions
from hotelwatch.core.odds.room import STEPS, Tables, room_odds
from hotelwatch.core.odds.settings import settings_of
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.records import Entry
from hotelwatch.core.stays.openings import occupancy
from tests.bench.bench_neighbours import tower
from tests.build import day, moment, rules

DAYS, CYCLE, WEEK = 730, 90, 7
SAMPLE = 20
"""Rooms of which the textbook's algorithm is run; its time is scaled by their number."""
SETTINGS = settings_of(rules().odds)
CLOSED = tuple(
    place.code
    for place in rules().bed_kinds["box_spring"].places_of(encased=False)
    if not place.optional
)


def timed(work, times=3):
    """The median of some runs, and the last answer."""
    seconds = []
    for _run in range(times):
        begun = perf_counter()
        answer = work()
        seconds.append(perf_counter() - begun)
    return median(seconds), answer


def nights_of(rooms):
    """Arrivals and let nights, (rooms, days)."""
    draw = np.random.default_rng(4)
    shape = rooms, DAYS
    return (draw.random(shape) < 0.32).astype(float), (draw.random(shape) < 0.64).astype(float)


def room_records(nights, setting, *, weekly):
    """Records of rooms looked at once in a cycle, each from a day of its own."""
    deep = setting.look(rules().odds.looks["deep_closed"])
    glance = setting.look(rules().odds.looks["glance"])
    weeks = range(WEEK - 1, DAYS, WEEK)
    made = []
    for number, (arrivals, let) in enumerate(zip(*nights, strict=True)):
        silent = (Looked(last, glance, 0.25 * let[last - 6 : last + 1].sum()) for last in weeks)
        cycle = range(number % CYCLE, DAYS, CYCLE)
        made.append(
            RoomRecord(
                arrivals=arrivals,
                let=let,
                evidence=tuple(Looked(on, deep) for on in cycle),
                extra=tuple(silent) if weekly else (),
            )
        )
    return made


def textbook(record, tables):
    """The forward algorithm as books have it: every day a step, then the day's likelihoods."""
    setting, days = tables.setting, record.days
    shares = np.array(setting.shares)
    coming = introductions(record, setting)
    clock = np.rint(clock_of(record, setting) * STEPS).astype(int)
    looks = {}
    for one in (*record.evidence, *record.extra):
        looks.setdefault(one.day, []).append(one)
    free, there = 1.0, np.zeros((len(shares), days))
    for on in range(days):
        there[:, on] = shares * free * coming[on]
        free *= 1 - coming[on]
        for one in looks.get(on, ()):
            table = tables.missed(one.look, setting.shares, one.times)
            ages = np.minimum(clock[on] - clock[: on + 1], len(table) - 1)
            there[:, : on + 1] *= table[ages].T
        total = free + there.sum()
        free /= total
        there /= total
    return float(there.sum())


def of_all(records, tables):
    return np.array([room_odds(record, tables).chance for record in records])


def show(what, seconds, goal, ratio):
    print(f"  {what:58} {seconds * 1000:10.2f} ms   goal {goal:8}   {ratio}")


def filter_of_rooms(rooms, *, weekly, goal):
    title = "weekly glances too" if weekly else f"looks every {CYCLE} days"
    print(f"{rooms} rooms, {DAYS} days, {title}")
    total, nights = 0.0, nights_of(rooms)
    for stance, setting in SETTINGS.items():
        records = room_records(nights, setting, weekly=weekly)
        seconds, chances = timed(lambda: of_all(records, Tables(setting)), times=1)  # noqa: B023
        total += seconds
        if stance is not Stance.CENTRAL:
            continue
        tables, some = Tables(setting), records[:SAMPLE]
        of_all(some, tables)
        base, wanted = timed(lambda: [textbook(one, tables) for one in some])  # noqa: B023
        off = abs(chances[:SAMPLE] - wanted).max()
        base *= rooms / SAMPLE
        show("one stance", seconds, goal, f"textbook {base:.1f} s (of {SAMPLE} rooms, scaled)")
        print(f"  {'':58} {base / seconds:10.1f} times faster, {off:.1e} apart")
    show("three stances", total, goal, "")


def further_day(rooms):
    """P' = P + (1 - P) h, with a ninetieth of the rooms looked at on that day."""
    setting = SETTINGS[Stance.CENTRAL]
    tables = Tables(setting)
    records = room_records(nights_of(rooms), setting, weekly=False)
    chances = of_all(records, tables)
    arrivals = np.array([record.arrivals[-1] for record in records])
    looked = {number: records[number] for number in range(0, rooms, CYCLE)}

    def later(anew):
        return day_later(chances, comes_in(setting, arrivals), anew=anew, tables=tables)

    alone, _chances = timed(lambda: later({}), times=21)
    some, _chances = timed(lambda: later(looked), times=5)
    anew, _chances = timed(lambda: of_all(records, tables), times=1)
    print(f"a further day of {rooms} rooms, one stance")
    show("nobody looks", alone, "10 ms", f"all anew {anew / alone:.0f} times as long")
    show(f"{len(looked)} rooms looked at", some, "10 ms", f"{anew / some:.0f} times")


def hotel_of(rooms):
    """A house of rooms with a bed each, looked at every cycle for two years."""
    house = tower(rooms)
    today = DAYS
    facts = [BedDescribed(BedNo(f"{room}/A"), room, "box_spring") for room in house.rooms]
    draw = np.random.default_rng(5)
    for bed in list(facts):
        for on in range(int(draw.integers(0, CYCLE)), today, CYCLE):
            facts.append(_check(bed.bed, bed.room, on))
    return house.add(Entry(2, moment(0), "bench", "bench", "", None, "bench", ""), facts)


def _check(bed, room, on):
    return BedChecked(bed, room, day(on), CheckKind.DEEP, ("anna", "boris"), 14, CLOSED)


def whole_hotel(rooms, *, one_again):
    house = hotel_of(rooms)
    around = neighbours(house, lay_out(house))
    today = day(DAYS)
    at_hand = occupancy(house, today)
    seconds, before = timed(lambda: reckon(house, at_hand, around, today), times=1)
    print(f"house of {rooms} rooms with neighbours, from its facts, three stances")
    show("all reckoned", seconds, "8 s", f"{before.records.today + 1} columns a room")
    if not one_again:
        return
    room = RoomNo(next(iter(house.rooms)))
    entry = Entry(3, moment(DAYS), "bench", "bench", "", None, "bench", "")
    later = house.add(entry, [_check(BedNo(f"{room}/A"), room, DAYS - 3)])
    # What any page asks first, once per change, is no part of this.
    _ = later.rooms, later.checks_by_bed, later.kept_room_checks, later.rules
    fast, _after = timed(lambda: reckon_again(before, later, [room]), times=11)
    show("a later entry: its room again", fast, "5 ms", f"{seconds / fast:.0f} times faster")
    near, _after = timed(lambda: again(before, later, [room]), times=11)
    show("and its neighbours, exactly as anew", near, "5 ms", f"{seconds / near:.0f} times faster")


def most_memory():
    """Megabytes of the whole process, interpreter and libraries included."""
    # Not getrusage: what it says of a child begins at its parent's.
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(re.search(r"VmHWM:\s+(\d+) kB", status)[1]) / 1024


def memory(what, rooms):
    """Said by a process that does nothing else."""
    if what == "filter":
        setting = SETTINGS[Stance.CENTRAL]
        of_all(room_records(nights_of(rooms), setting, weekly=False), Tables(setting))
    if what == "hotel":
        house = hotel_of(rooms)
        reckon(house, occupancy(house, day(DAYS)), neighbours(house, lay_out(house)), day(DAYS))
    print(f"{most_memory():.0f} MB")


def memory_of(what, rooms, note):
    command = [sys.executable, "-m", "tests.bench.bench_odds", "--memory", what, str(rooms)]
    told = subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()
    print(f"  most memory of a process alone, {note}: {told}")


def main(rooms=5_000):
    filter_of_rooms(rooms, weekly=False, goal="1.5 s")
    memory_of("nothing", rooms, "imports only")
    memory_of("filter", rooms, "filter of one stance with its nights (goal 150 MB)")
    further_day(rooms)
    filter_of_rooms(rooms, weekly=True, goal="8 s")
    whole_hotel(rooms * 2 // 5, one_again=True)
    whole_hotel(rooms, one_again=False)
    memory_of("hotel", rooms, f"house of {rooms} rooms with its facts (goal 150 MB)")


if __name__ == "__main__":
    if "--memory" in sys.argv:
        memory(sys.argv[-2], int(sys.argv[-1]))
    else:
        main(500 if "--small" in sys.argv else 5_000)
