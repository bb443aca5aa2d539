"""Books of a hotel of 2,000 rooms. Run it as a module: ``python -m tests.bench.bench_book``.

A year's record is made: every bed looked at each cycle, late ones, sightings, quarantines,
published sheets. Then, each in a process of its own with its peak of memory:

- the book of a month and the book of the year, from the hotel's file to the finished file
  (read, counted, verified, written, read back), without the page on how likely something was
  missed, written if asked for: reckoning that takes longer than all of it, told by itself;
- openpyxl writing the same cells, values alone, with nothing else: as it is usually used,
  and in its write-only mode, the leaner one.

Goal: the year's book in at most 1.5 times of openpyxl's time.
"""

from __future__ import annotations

import argparse
import json
import random
import resource
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from time import perf_counter

from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.facts import BedDescribed, BedNo, CaseNo, RoomNo
from tests.bench import bench_store
from tests.build import rules

NOW = datetime(2026, 11, 2, 9, tzinfo=UTC)
CASES = 40


def main() -> None:
    """Print times, ratios and memory."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--part", default="")
    parser.add_argument("--file", type=Path)
    parser.add_argument("--period", default="2026")
    parser.add_argument("--rounds", type=int, default=3)
    chosen = parser.parse_args()
    if chosen.part:
        print(json.dumps(ALONE[chosen.part](chosen.file, chosen.period)))
        return
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "year.hotelwatch"
        start = perf_counter()
        build_year(file)
        size = file.stat().st_size / 1e6
        print(f"a year's record made in {perf_counter() - start:.1f} s, {size:.1f} MB")
        for period in ("2026-10", "2026"):
            tell(file, period, chosen.rounds)
        odds = run("odds", file, "2026-10")
        print(f"2026-10 with the odds of every room: {odds['seconds']:.1f} s, {odds['mb']:.0f} MB")


def tell(file: Path, period: str, rounds: int) -> None:
    """One period's figures: medians of some rounds, in turn."""
    found: dict[str, list[dict[str, float]]] = {part: [] for part in PARTS}
    for _ in range(rounds):
        for part in PARTS:
            found[part].append(run(part, file, period))
    print(f"\n{period}: {found['ours'][0]['cells']:,.0f} cells")
    baselines = {part: median(found[part], "seconds") for part in PARTS}
    for part in PARTS:
        ratio = baselines["ours"] / baselines[part]
        print(
            f"  {part:12}{baselines[part]:6.2f} s processor, {median(found[part], 'mb'):5.0f} MB"
            f"   ours is {ratio:.2f} times"
        )
    steps = found["ours"][0]["steps"]
    print("  of ours: " + ", ".join(f"{name} {seconds:.2f} s" for name, seconds in steps.items()))


def run(part: str, file: Path, period: str) -> dict[str, float]:
    """What a part says of itself, run in a process of its own."""
    command = [sys.executable, "-m", "tests.bench.bench_book"]
    command += ["--part", part, "--file", str(file), "--period", period]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    told: dict[str, float] = json.loads(done.stdout)
    return told


def median(rows: Sequence[dict[str, float]], key: str) -> float:
    """The middle one of some figures."""
    return sorted(row[key] for row in rows)[len(rows) // 2]


# --- parts ----------------------------------------------------------------------------------------


def ours(file: Path, period: str) -> dict[str, object]:
    """The book from the hotel's file to the finished workbook."""
    import time

    import hotelwatch.papers.workbook  # as openpyxl below: not counted
    from hotelwatch.actions.books import write_book

    assert hotelwatch.papers.workbook.save_book
    steps: dict[str, float] = {}
    last = [time.process_time(), "reading_record"]

    def progress(_share: float, step: str) -> None:
        now = time.process_time()
        steps[last[1]] = steps.get(last[1], 0.0) + now - last[0]
        last[:] = [now, step]

    target = file.with_name(f"book-{period}.xlsx")
    start = time.process_time()
    write_book(file, rules(), period, target, NOW, progress=progress)
    taken = time.process_time() - start
    progress(1.0, "end")
    return {"seconds": taken, "mb": peak(), "cells": len_cells(target), "steps": steps}


def with_odds(file: Path, period: str) -> dict[str, object]:
    """A month's book with the odds of every room, beside the same without."""
    import time

    from hotelwatch.actions.books import write_book

    start = time.process_time()
    write_book(file, rules(), period, file.with_name("odds.xlsx"), NOW, with_odds=True)
    return {"seconds": time.process_time() - start, "mb": peak()}


def plain(file: Path, period: str) -> dict[str, object]:
    """Openpyxl as it is usually used, on the cells of our book."""
    import time

    import openpyxl

    sheets = cells_of(file, period)
    start = time.process_time()
    book = openpyxl.Workbook()
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(file.with_name("plain.xlsx"))
    return {"seconds": time.process_time() - start, "mb": peak()}


def lean(file: Path, period: str) -> dict[str, object]:
    """Openpyxl's write-only mode on the cells of our book."""
    import time

    import openpyxl

    sheets = cells_of(file, period)
    start = time.process_time()
    book = openpyxl.Workbook(write_only=True)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(file.with_name("lean.xlsx"))
    return {"seconds": time.process_time() - start, "mb": peak()}


PARTS = {"ours": ours, "plain": plain, "lean": lean}
ALONE = {**PARTS, "odds": with_odds}


def cells_of(file: Path, period: str) -> dict[str, list[list[object]]]:
    """The values of our book, sheet by sheet; an empty cell is none."""
    import python_calamine

    book = python_calamine.load_workbook(str(file.with_name(f"book-{period}.xlsx")))
    return {
        name: [
            [None if cell == "" else cell for cell in row]
            for row in book.get_sheet_by_name(name).to_python()
        ]
        for name in book.sheet_names
    }


def len_cells(target: Path) -> int:
    """How many cells hold anything."""
    sheets = cells_of(target.with_name("x"), target.stem.removeprefix("book-"))
    return sum(cell is not None for rows in sheets.values() for row in rows for cell in row)


def peak() -> float:
    """The most memory this process held, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


# --- a year -----------------------------------------------------------------------------------


def build_year(path: Path) -> None:
    """Two years of looks by three teams, of which the second is told, and forty cases."""
    bench_store.YEARS = 2
    made = path.with_name("made")
    bench_store.build_ten_years(made)
    made.rename(path)
    from hotelwatch.store.hotel_file import open_file
    from hotelwatch.store.loading import load

    journal = open_file(path)
    house = load(journal, rules())
    beds = [fact for fact in house.beds.values() if isinstance(fact, BedDescribed)]
    chooser = random.Random(7)
    at = max(entry.recorded_at for entry in house.entries.values())
    for number in range(CASES):
        seen = datetime(2026, 1, 3, 10, tzinfo=UTC) + timedelta(days=7 * number)
        at += timedelta(seconds=1)
        facts = case_of(number, seen, chooser.choice(beds))
        house, _ = journal.append(
            lambda _, facts=facts: facts, by="bench", action="log_sighting", at=at, house=house
        )
    journal.close()


def case_of(number: int, seen: datetime, bed: BedDescribed) -> list[object]:
    """A case with its quarantine, what it asked for and how it ended."""
    case, room = CaseNo(f"2026-{number + 1:03}"), RoomNo(bed.room)
    return [
        Sighted(case, room, BedNo(bed.bed), "", Sign.CAST_SKIN, 1, "carla", seen),
        QuarantinePlaced(room, case, seen, "sighting"),
        CheckAsked(case, room, ("sighting",), seen + timedelta(hours=24)),
        CaseJudged(case, Outcome.UNDETERMINED, "Dr Moth", "entomologist", day_after(seen, 2)),
        QuarantineLifted(room, case, seen + timedelta(days=9), "eva", False, "looked at twice"),
    ]


def day_after(moment: datetime, days: int) -> date:
    """A later day."""
    return (moment + timedelta(days=days)).date()


if __name__ == "__main__":
    main()
