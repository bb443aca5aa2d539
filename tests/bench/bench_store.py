"""Ratios of the store. Run it as a script: ``python tests/bench/bench_store.py``.

1. Append of one fact against a bare INSERT of the same row with the same
   durability, in turn, medians. Goal: at most 1.5 times.
2. The house that a first page needs, from a file of 2,000 rooms and ten years,
   against everything, and against a bare SELECT of the same rows. Goal: half a
   second.
"""

from __future__ import annotations

import argparse
import gc
import random
import sqlite3
import statistics
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from time import perf_counter
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CheckKind,
    Fact,
    FloorPlaced,
    HotelDescribed,
    RoomDescribed,
    RoomNo,
    Side,
)
from hotelwatch.core.house import House
from hotelwatch.store.connection import has_wal_fix
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.journal import Journal
from hotelwatch.store.loading import load
from hotelwatch.store.verify import verify
from tests.build import rules

T = TypeVar("T")
TODAY = date(2026, 11, 2)
YEARS, ROOMS, CYCLE_DAYS, HORIZON_DAYS = 10, 2000, 90, 730


def main() -> None:
    """Print the ratios."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--appends", type=int, default=200)
    parser.add_argument("--rounds", type=int, default=7)
    chosen = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        bench_append(Path(folder), chosen.appends)
        bench_load(Path(folder), chosen.rounds)


def bench_append(folder: Path, count: int) -> None:
    """One fact through the journal, and the same row bare, in turn."""
    journal = create(folder / "append.hotel")
    house = House(shipped=rules())
    bare = bare_table(folder / "bare.db")
    ours: list[float] = []
    theirs: list[float] = []
    moment = datetime.combine(TODAY, time(9), tzinfo=UTC)
    for number in range(count):
        check = one_check("0101", TODAY - timedelta(days=number % 30))
        start = perf_counter()
        house, _ = journal.append(
            lambda _, check=check: [check],
            by="bench",
            action="record_checks",
            at=moment + timedelta(seconds=number),
            house=house,
        )
        middle = perf_counter()
        insert_bare(bare, number + 1, check)
        theirs.append(perf_counter() - middle)
        ours.append(middle - start)
    assert load(journal, rules()) == house
    assert bare.execute("SELECT count(*) FROM bed_checked").fetchone()[0] == count
    tell_pair("append of one fact", ours, "bare INSERT of one row", theirs)
    journal.close()
    bare.close()


def bare_table(path: Path) -> sqlite3.Connection:
    """A plain table for the same row, as durable as the journal's."""
    bare = sqlite3.connect(path, isolation_level=None)
    is_wal = has_wal_fix(sqlite3.sqlite_version_info)
    bare.execute(f"PRAGMA journal_mode = {'WAL' if is_wal else 'DELETE'}")
    bare.execute(f"PRAGMA synchronous = {'FULL' if is_wal else 'EXTRA'}")
    bare.execute(
        "CREATE TABLE bed_checked (entry INTEGER PRIMARY KEY, bed TEXT, room TEXT, checked_on"
        ' TEXT, kind TEXT, "by" TEXT, minutes INTEGER, seen TEXT, unseen TEXT, found TEXT,'
        " asked_by TEXT, noted TEXT)"
    )
    return bare


def insert_bare(bare: sqlite3.Connection, number: int, check: BedChecked) -> None:
    """The same row, with nothing around it."""
    row = (
        number,
        check.bed,
        check.room,
        check.checked_on.isoformat(),
        check.kind.value,
        "\n".join(check.by),
        check.minutes,
        "\n".join(check.seen),
        "",
        "",
        "",
        "",
    )
    bare.execute(f"INSERT INTO bed_checked VALUES ({', '.join('?' * len(row))})", row)


def bench_load(folder: Path, rounds: int) -> None:
    """What the first page needs, from ten years."""
    path = folder / "ten_years.hotel"
    start = perf_counter()
    house = build_ten_years(path)
    checks, entries = len(house.all_of(BedChecked)), len(house.entries)
    print(
        f"\nbuilt {checks} bed checks in {entries} entries, {path.stat().st_size / 1e6:.1f} MB,"
        f" in {perf_counter() - start:.1f} s"
    )
    since = TODAY - timedelta(days=HORIZON_DAYS)
    opened, first, everything, bare = [], [], [], []
    for _ in range(rounds):
        journal, taken = timed(lambda: open_file(path))
        opened.append(taken)
        page, taken = timed(lambda journal=journal: load(journal, rules(), checks_since=since))
        first.append(taken)
        whole, taken = timed(lambda journal=journal: load(journal, rules()))
        everything.append(taken)
        rows, taken = timed(lambda: bare_select(path, since))
        bare.append(taken)
        journal.close()
    assert whole == house
    assert len(rows) == len(page.all_of(BedChecked))
    print(f"first page: {len(rows)} checks, {len(page.entries)} entries at hand")
    print(f"opening the file      {spread(opened)}")
    tell_pair("house of a first page", first, "house of everything", everything)
    tell_pair("house of a first page", first, "bare SELECT of its checks", bare)
    total = statistics.median(opened) + statistics.median(first)
    print(f"open and first page: {total:.3f} s (goal 0.5 s)")
    _, taken = timed(lambda: verify(path))
    print(f"verify everything: {taken:.2f} s")


def build_ten_years(path: Path) -> House:
    """A file in which every bed is looked at each cycle, by three teams a day."""
    journal = create(path)
    house = House(shipped=rules())
    first = TODAY - timedelta(days=365 * YEARS)
    at = datetime.combine(first, time(7), tzinfo=UTC)
    roster = list(invented_roster())
    house, _ = journal.append(
        lambda _: roster, by="bench", action="load_roster", at=at, house=house
    )
    # Through the same append, without waiting for the disk each time.
    journal.db.execute("PRAGMA synchronous = OFF")
    beds = [fact for fact in roster if isinstance(fact, BedDescribed)]
    chooser = random.Random(1)
    for number in range(365 * YEARS):
        day = first + timedelta(days=number)
        due = beds[number % CYCLE_DAYS :: CYCLE_DAYS]
        house = record_day(journal, house, day, looks(due, day, chooser))
    journal.close()
    return house


def record_day(journal: Journal, house: House, day: date, checks: Sequence[Fact]) -> House:
    """One day's checks as three teams write them down."""
    at = datetime.combine(day, time(16), tzinfo=UTC)
    for team in range(3):
        share = checks[team::3]
        house, _ = journal.append(
            lambda _, share=share: share,
            by=f"team {team}",
            action="record_checks",
            at=at + timedelta(minutes=team),
            house=house,
        )
    return house


def invented_roster() -> Iterator[Fact]:
    """2,000 rooms on 20 floors; nine rooms in twenty have a second bed."""
    yield HotelDescribed(name="Bench house", zone="Europe/Vienna")
    for level in range(1, 21):
        yield FloorPlaced(str(level), level)
    for number in range(ROOMS):
        level, bay = number // 100 + 1, number % 100
        room = RoomNo(f"{level:02}{bay:02}")
        side = Side.LEFT if bay % 2 else Side.RIGHT
        yield RoomDescribed(room, str(level), "A", side, bay // 2 + 1, "double")
        for letter in "AB" if number % 20 < 9 else "A":
            kind = ("box_spring", "platform", "divan")[number % 3]
            yield BedDescribed(BedNo(f"{room}/{letter}"), room, kind, encased=number % 5 == 0)


def looks(beds: Sequence[BedDescribed], day: date, chooser: random.Random) -> list[Fact]:
    """One look at each bed; one in eight leaves out the underside."""
    made: list[Fact] = []
    for bed in beds:
        places = rules().bed_kinds[bed.kind].places_of(encased=bed.encased)
        is_whole = chooser.random() > 1 / 8
        seen = tuple(p.code for p in places if not p.optional and (is_whole or not p.underside))
        unseen = () if is_whole else ("base_underside:bed_in_use",)
        kind = CheckKind.DEEP if is_whole else CheckKind.BRIEF
        made.append(BedChecked(bed.bed, bed.room, day, kind, ("anna", "boris"), 14, seen, unseen))
    return made


def one_check(room: str, day: date) -> BedChecked:
    """A look at one bed."""
    places = rules().bed_kinds["box_spring"].places_of(encased=False)
    seen = tuple(place.code for place in places)
    bed = BedNo(f"{room}/A")
    return BedChecked(bed, RoomNo(room), day, CheckKind.DEEP, ("anna", "boris"), 14, seen)


def bare_select(path: Path, since: date) -> list[tuple[object, ...]]:
    """The same checks as tuples, from a fresh connection."""
    bare = sqlite3.connect(path)
    # As in load: looking for garbage among new rows would take most of the time.
    gc.disable()
    try:
        sql = "SELECT * FROM bed_checked WHERE checked_on >= ?"
        return bare.execute(sql, (since.isoformat(),)).fetchall()
    finally:
        gc.enable()
        bare.close()


def timed(run: Callable[[], T]) -> tuple[T, float]:
    """What it gave, and how long it took."""
    start = perf_counter()
    result = run()
    return result, perf_counter() - start


def spread(times: Sequence[float]) -> str:
    """Median and range in milliseconds."""
    low, high = min(times), max(times)
    return f"{statistics.median(times) * 1e3:8.2f} ms ({low * 1e3:.2f} to {high * 1e3:.2f})"


def tell_pair(name: str, ours: Sequence[float], other: str, theirs: Sequence[float]) -> None:
    """Print two medians and their ratio."""
    ratio = statistics.median(ours) / statistics.median(theirs)
    print(f"{name:26}{spread(ours)}\n{other:26}{spread(theirs)}\nratio {ratio:.2f}")


if __name__ == "__main__":
    main()
