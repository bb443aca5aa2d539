"""Why not, and the repairs: how long they take, against networkx's flow on the same sums.

Hotels with too few minutes; each night of every room could be kept free, every bed encased.
networkx is asked once for what why not, and each repair, ask several times.

Run: python -m tests.bench.bench_why_not
"""

from __future__ import annotations

import sys
from dataclasses import replace
from statistics import median
from time import perf_counter

import numpy as np

from hotelwatch.core.planning.repairs import repairs
from hotelwatch.core.planning.shortfall import why_not
from hotelwatch.core.planning.standing import Efforts, Means
from tests.bench.invented import Year, world
from tests.bench.rounds_by_plan import BEYOND, problem_of
from tests.core.test_shortfall import short_by_networkx

HORIZON = 28
SEEDS = (4, 5, 6)
EFFORTS = Efforts(kept_night=240, encased_bed=60, longer_window=60, most_nights=5)


def instance(rooms, seed, load, *, late):
    """A morning, ``late`` a share of rooms that are up to four tenths of their cycle late."""
    made = world(rooms, seed=seed, load=load, days=60)
    seen = Year(made).seen(30, HORIZON + BEYOND)
    random = np.random.default_rng(seed)
    lateness = (random.random(rooms) < late) * random.random(rooms) * 0.4 * made.cycle
    seen = replace(seen, due=np.where(lateness > 0, -1 - lateness.astype(int), seen.due))
    # After a month without a look many are late; here only those drawn above are.
    due = np.where((seen.due < 0) & (lateness == 0), seen.due % made.cycle, seen.due)
    seen = replace(seen, due=due)
    problem = problem_of(made, seen, horizon=HORIZON)
    means = Means(
        nights=~seen.open[:, :HORIZON] & (np.arange(HORIZON) > 0),
        enterable=seen.open[:, :HORIZON],
        minutes_if_encased=problem.minutes - 5,
        beds_to_encase=problem.beds,
        kept_free=np.zeros(len(problem.teams), int),
        efforts=EFFORTS,
    )
    return problem, means


def measured(rooms, seed, load, late):
    problem, means = instance(rooms, seed, load, late=late)
    marks = [perf_counter()]
    found = why_not(problem)
    marks.append(perf_counter())
    told = repairs(problem, found, means)
    marks.append(perf_counter())
    theirs = short_by_networkx(problem)
    marks.append(perf_counter())
    ours = sum(one.short for one in found)
    if ours != theirs:
        raise AssertionError((ours, theirs))
    return (*np.diff(marks), ours, len(found), [one.mend.value for one in told])


def main():
    for rooms in (400, 2000, 7000):
        for load, late in ((1.15, 0.0), (1.5, 0.0), (1.15, 0.1)):
            runs = [measured(rooms, seed, load, late) for seed in SEEDS]
            reasons, mended, flow = (median(run[n] for run in runs) for n in range(3))
            short = "/".join(str(run[3]) for run in runs)
            repaired = "/".join(str(len(run[5])) for run in runs)
            sys.stdout.write(
                f"{rooms} rooms, load {load:.0%}, {late:.0%} late: why not"
                f" {reasons * 1000:.0f} ms, {repaired} repairs {mended * 1000:.0f} ms;"
                f" networkx's flow alone {flow * 1000:.0f} ms, that is"
                f" {flow / (reasons + mended):.1f} times both; minutes short {short}\n"
            )
            sys.stdout.flush()


if __name__ == "__main__":
    main()
