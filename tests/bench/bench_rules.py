"""Local rules judged in a resort with 40 cases against one pass over its stays and checks.

Run: python -m tests.bench.bench_rules
"""

from __future__ import annotations

from dataclasses import replace
from statistics import median

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.facts import StaysImported
from hotelwatch.core.local_rules.judging import judged
from hotelwatch.core.local_rules.rows import Period
from hotelwatch.core.records import Entry
from tests.bench.bench_neighbours import timed
from tests.bench.bench_ring import resort, with_cases
from tests.build import day, moment

RUNS = 7
MONTH = Period(day(-30), day(0), moment(1))
SETS = ("kansas", "chicago")


def main() -> None:
    """Print the baseline and each set's time, medians of several runs."""
    house, chance = resort()
    around = Around(neighbours(house, lay_out(house)), record_of(house))
    house = with_cases(house, around, chance)
    read = StaysImported("b.csv", "", day(-200), len(house.stays), 0)
    number = max(house.entries) + 1
    entry = Entry(number, moment(0), "bench", "bench", "", None, "bench", "")
    house = house.add(entry, [read])
    passes = [timed(_one_pass, house)[1] for _ in range(RUNS)]
    print(f"{len(house.rooms)} rooms, {len(house.stays)} stays, {len(house.sightings)} cases")
    print(f"one pass over stays and checks: {median(passes) * 1000:.0f} ms")
    for key in SETS:
        profile = house.rule_sets[key]
        times = [timed(judged, replace(house), MONTH, profile)[1] for _ in range(RUNS)]
        items = sum(len(one.items) for one in judged(house, MONTH, profile).judgements)
        ratio = median(times) / median(passes)
        print(f"{key}: {items} things, {median(times) * 1000:.0f} ms, {ratio:.1f} times")


def _one_pass(house) -> int:
    """Each stay and each check looked at once, by plain loops."""
    first, last = MONTH.first_on, MONTH.last_on
    found = sum(stay.counts and first <= stay.arrives_on <= last for stay in house.stays)
    for checks in house.checks_by_bed.values():
        found += sum(first <= row.fact.checked_on <= last for row in checks)
    return found


if __name__ == "__main__":
    main()
