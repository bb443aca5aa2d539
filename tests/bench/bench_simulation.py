"""Hotel-years simulated in a second, beside a plain loop over rooms and days in the same run.

Run: python -m tests.bench.bench_simulation [years]

The plain loop (tests/core/plain_simulation.py) is written for itself, with scalars and a draw
for each look; it must agree: z is how many standard errors mean infested room nights are
apart. Both have the same invented hotel of 200 rooms, shipped figures, central setting. The
agreement is looked at where everything happens forty times as often: few years then say much.
"""

from __future__ import annotations

import resource
import sys
from dataclasses import replace
from math import sqrt
from time import perf_counter

import numpy as np

from hotelwatch.core.odds.simulation.measures import Measure
from hotelwatch.core.odds.simulation.results import apart, difference
from hotelwatch.core.odds.simulation.run import simulate
from hotelwatch.core.odds_figures import Stance
from tests.core.plain_simulation import PlainYear
from tests.core.simulations import house_rule, simulation

OFTEN = {"introductions_per_room_year": 0.2}
PLAIN_YEARS = 40
CENTRAL = Stance.CENTRAL


def say(text):
    sys.stdout.write(text + "\n")


def timed(plan):
    """Outcomes, seconds, and the longest time between two reports of progress."""
    gaps, last = [0.0], [perf_counter()]

    def watch(share, step):
        now = perf_counter()
        gaps[0], last[0] = max(gaps[0], now - last[0]), now

    began = perf_counter()
    found = simulate(plan, watch)
    return found, perf_counter() - began, gaps[0]


def print_speed(years):
    plan = simulation(years=years)
    _, seconds, gap = timed(plan)
    say(
        f"{years} hotel-years of 200 rooms, a year to settle before each: {seconds:.1f} s,"
        f" {years / seconds:.0f} a second; progress at least every {gap * 1000:.0f} ms"
    )
    usual = plan.rules[0]
    tried = replace(usual, cycle_days=45, way=replace(usual.way, traps=True))
    both = replace(plan, rules=(usual, tried), stances=tuple(Stance))
    found, seconds, gap = timed(both)
    say(f"two rules in three stances over the same: {seconds:.1f} s, every {gap * 1000:.0f} ms")
    for measure in (Measure.INFESTED_NIGHTS, Measure.MONEY):
        one, other = found.of(1, CENTRAL), found.of(0, CENTRAL)
        paired, unpaired = difference(one, other, measure), apart(one, other, measure)
        share = (paired.high - paired.low) / (unpaired.high - unpaired.low)
        say(f"  {measure}: {paired.low:.0f} to {paired.high:.0f}, interval {share:.2f} of unpaired")
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    say(f"memory of the whole process at most {most:.0f} MB")


def print_agreement():
    plan = simulation(house_rule(), years=400, figures=OFTEN)
    found, seconds, _ = timed(plan)
    ours = found.of(0, CENTRAL).by_measure[Measure.INFESTED_NIGHTS]
    setting = plan.setting(CENTRAL)
    began = perf_counter()
    plain = np.array(
        [
            PlainYear(plan, plan.rules[0], setting, seed).run()["infested_nights"]
            for seed in range(PLAIN_YEARS)
        ]
    )
    slow = (perf_counter() - began) / PLAIN_YEARS
    error = sqrt(ours.var(ddof=1) / len(ours) + plain.var(ddof=1) / len(plain))
    say(
        f"plain loop: {1 / slow:.1f} hotel-years a second, {slow / (seconds / 400):.0f} times"
        f" slower; infested room nights a year {plain.mean():.0f} against {ours.mean():.0f},"
        f" z {(ours.mean() - plain.mean()) / error:+.2f}"
    )


def main():
    print_speed(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
    print_agreement()


if __name__ == "__main__":
    main()
