"""The campaign of faults: ``python -m tests.faults``, all of it; ``--help`` tells what less is."""

from __future__ import annotations

import argparse
import time

from tests.faults.all_faults import FAULTS
from tests.faults.campaign import Size, run, table


def main() -> int:
    asked = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    asked.add_argument("--quick", action="store_true", help="a few tries of each")
    asked.add_argument("--share", type=float, default=1.0, help="of all tries; 0.5 is half of them")
    asked.add_argument("--at-once", type=int, default=1, help="so many faults side by side")
    asked.add_argument("--seed", type=int, default=1, help="of the dice")
    asked.add_argument("--only", nargs="*", choices=sorted(FAULTS), help="these faults alone")
    said = asked.parse_args()
    begun = time.monotonic()
    names = said.only or list(FAULTS)
    size = Size(said.quick, said.share)
    given = [FAULTS[name] for name in names]
    tallies = run(given, seed=said.seed, size=size, at_once=said.at_once)
    tries = sum(tally.tries for tally in tallies)
    failures = sum(len(tally.failures) for tally in tallies)
    print(table(tallies))
    seconds = time.monotonic() - begun
    print(f"\nSeed {said.seed}: {tries:,} tries in {seconds:.0f} s, {failures} failures.")
    return 1 if failures else 0


if __name__ == "__main__":
    raise SystemExit(main())
