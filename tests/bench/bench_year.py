"""A year planned every morning, by the planner and by what people do without one.

Run: python -m tests.bench.bench_year
     python -m tests.bench.bench_year --rooms 400 --seeds 4
     python -m tests.bench.bench_year --by-team
     python -m tests.bench.bench_year --resort

Everybody knows the same on each morning; ways to corridors come out of the teams' minutes.
Without ``--by-team`` the teams' minutes are one pool and every guest is known in the morning
of arrival, as in the published trial whose figures are the goal; with it, neither.
Seeds 1 to 3 served to choose the planner's figures and the sweep's share: 4 and later did not.
"""

from __future__ import annotations

import argparse
import sys
from time import perf_counter

from tests.bench import policies
from tests.bench.invented import AREA_MINUTES, Year, told_and_pooled, world
from tests.bench.resort import BOOKINGS, resort
from tests.bench.rounds_by_plan import planner
from tests.bench.year_bound import year_bound

HEAD = (
    "policy                      overdue  of sweep  latest  walked"
    "  rooms a way  asked in time   moved   s a day"
)


def run(made, policy, horizon):
    """The year under a policy, and the seconds that a morning took."""
    year = Year(made)
    began = perf_counter()
    for today in range(made.days):
        year.begin(today)
        year.do(today, policy(year.seen(today, horizon)))
    return year, (perf_counter() - began) / made.days


def compare(title, made):
    """Prints a table of one world and gives the planner's share of the better sweep."""
    sys.stdout.write(f"\n{title}\n{HEAD}\n")
    counts = {}
    rows = {}
    for name, (policy, horizon) in {
        "planner": planner(made, count=counts),
        "sweep of the corridor, 10 %": policies.wing_sweep(made, share=0.10),
        "sweep of the corridor, 15 %": policies.wing_sweep(made, share=0.15),
        "earliest due first": policies.earliest_due_first(made),
        "round robin with a list": policies.round_robin(made),
    }.items():
        rows[name] = run(made, policy, horizon)
    sweep = min(year.overdue for name, (year, _) in rows.items() if name.startswith("sweep"))
    for name, (year, seconds) in rows.items():
        moved = ""
        if name == "planner":
            moved = f"{counts['moved'] / max(1, counts['still']):.1%}"
        asked = year.asked_in_time + year.asked_late
        sys.stdout.write(
            f"{name:27} {year.overdue:7} {year.overdue / max(1, sweep):9.2f} {year.oldest:7}"
            f" {year.ways * AREA_MINUTES:7} {year.visits / max(1, year.ways):12.2f}"
            f" {year.asked_in_time:8} of {asked:3} {moved:>7} {seconds:9.3f}\n"
        )
    bound = year_bound(made)
    least = max(bound.without_minutes, bound.with_walking)
    ours = rows["planner"][0].overdue
    sys.stdout.write(
        f"no year below: {bound.without_minutes:.0f} by openings alone,"
        f" {bound.with_walking:.0f} with minutes and ways;"
        f" planner {ours / max(1, least):.1f} times\n"
    )
    sys.stdout.flush()
    return rows["planner"][0].overdue / max(1, sweep)


def main():
    ask = argparse.ArgumentParser()
    ask.add_argument("--rooms", type=int, nargs="*", default=[400, 2000])
    ask.add_argument("--seeds", type=int, nargs="*", default=[4, 5, 6])
    ask.add_argument("--by-team", action="store_true")
    ask.add_argument("--resort", action="store_true")
    wanted = ask.parse_args()
    if wanted.resort:
        if not BOOKINGS.is_file():
            sys.exit("The resort's bookings do not stand beside the project.")
        compare("resort, real bookings", resort())
        return
    for rooms in wanted.rooms:
        shares = []
        for seed in wanted.seeds:
            made = world(rooms, seed=seed)
            made = made if wanted.by_team else told_and_pooled(made)
            shares.append(compare(f"{rooms} rooms, seed {seed}", made))
        mean = sum(shares) / len(shares)
        sys.stdout.write(f"\n{rooms} rooms: planner {mean:.2f} of the better sweep, mean\n")


if __name__ == "__main__":
    main()
