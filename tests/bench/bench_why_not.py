"""Why not, and three repairs: how long they take, against networkx's flow on the same sums.

Run: python -m tests.bench.bench_why_not
"""

from __future__ import annotations

import sys
from time import perf_counter

import numpy as np

from hotelwatch.core.planning.repairs import Means, repairs
from hotelwatch.core.planning.shortfall import why_not
from tests.bench.invented import Year, world
from tests.bench.rounds_by_plan import BEYOND, problem_of
from tests.core.test_shortfall import short_by_networkx

HORIZON = 28


def main():
    for rooms, load in ((400, 1.5), (2000, 1.5), (7000, 1.5)):
        made = world(rooms, seed=4, load=load, days=60)
        seen = Year(made).seen(30, HORIZON + BEYOND)
        problem = problem_of(made, seen, horizon=HORIZON)
        means = Means(np.zeros(problem.open.shape, bool), problem.minutes - 5, problem.beds.copy())
        marks = [perf_counter()]
        found = why_not(problem)
        marks.append(perf_counter())
        told = repairs(problem, found, means)
        marks.append(perf_counter())
        theirs = short_by_networkx(problem)
        marks.append(perf_counter())
        reasons, mended, flow = np.diff(marks)
        ours = max((one.short for one in found), default=0)
        sys.stdout.write(
            f"{rooms} rooms, load {load:.0%}: why not {reasons * 1000:.0f} ms, {len(told)} repairs"
            f" {mended * 1000:.0f} ms; networkx's flow alone {flow * 1000:.0f} ms, that is"
            f" {flow / (reasons + mended):.1f} times both; short {ours} of {theirs} minutes,"
            f" {len(found)} reasons\n"
        )


if __name__ == "__main__":
    main()
