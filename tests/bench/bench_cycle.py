"""Cycle curves of twelve lengths in three settings, against a plain Python loop in the same run.

Run: python -m tests.bench.bench_cycle
"""

from __future__ import annotations

import sys
from dataclasses import replace
from statistics import median
from time import process_time

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.cycles.cycle import detection, eyes_of
from hotelwatch.core.odds.cycles.cycle_rows import Circumstances, Now
from hotelwatch.core.odds.cycles.cycle_table import cycle_table
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS, CheckWay, room_of
from hotelwatch.core.odds.cycles.next_hour import next_hour
from hotelwatch.core.odds.settings import settings_of
from tests.build import rules
from tests.core.plain_cycle import plain_detection

TIMES = 9
AROUND = Circumstances(0.64, neighbours={(Kind.SHARES_WALL,): 2.0, (Kind.ACROSS,): 1.0})
WAY = CheckWay()
PLAIN_DAYS = 1500
"""The loop stops at this age: what is left then is told below a millionth."""


def timed(function, *values, **more):
    start = process_time()
    answer = function(*values, **more)
    return answer, process_time() - start


def cut(eyes):
    """The first days of age: the loop is slow."""
    names = ("insects", "check", "glance", "guest", "pressure")
    return replace(eyes, **{name: getattr(eyes, name)[..., :PLAIN_DAYS] for name in names})


def main():
    odds, room = rules().odds, room_of(rules(), [("box_spring", False)])
    cycle_table(odds, (WAY,), (90,), room=room, around=AROUND)
    runs = [timed(cycle_table, odds, (WAY,), room=room, around=AROUND) for _ in range(TIMES)]
    rows, ours = runs[0][0], median(seconds for _, seconds in runs)
    plain_seconds, worst, left = 0.0, 0.0, 0.0
    for stance, setting in settings_of(odds).items():
        eyes = cut(eyes_of(odds, setting, WAY, room=room, around=AROUND))
        for row in rows:
            (mean, first, _), seconds = timed(plain_detection, eyes, row.cycle_days)
            plain_seconds += seconds
            seen = detection(eyes, row.cycle_days)
            differences = [abs(seen.mean_days - mean)]
            differences += [abs(seen.first[who] - first.get(who.value, 0.0)) for who in seen.first]
            worst, left = max(worst, *differences), max(left, first["nobody"])
            whole = row.by_stance[stance].seen.mean_days
            if abs(whole - mean) > 1e-3:
                raise SystemExit(f"the loop says {mean} days, the table {whole}")
    if worst > 1e-8:
        raise SystemExit(f"curves and loop disagree by {worst}")
    sys.stdout.write(
        f"{len(LENGTHS)} lengths in 3 settings: median {1000 * ours:.0f} ms (goal 500),"
        f" plain loop {plain_seconds:.1f} s, {plain_seconds / ours:.0f} times;"
        f" largest difference {worst:.1e}, left at {PLAIN_DAYS} days {left:.1e}\n"
    )
    eight = [CheckWay(*(bool(n >> bit & 1) for bit in range(3))) for n in range(8)]
    _, seconds = timed(cycle_table, odds, eight, room=room, around=AROUND)
    sys.stdout.write(f"eight ways of them: {1000 * seconds:.0f} ms\n")
    _, seconds = timed(next_hour, odds, Now(WAY, 91), room=room, around=AROUND)
    sys.stdout.write(f"the next hour, six steps: {1000 * seconds:.0f} ms\n")


if __name__ == "__main__":
    main()
