"""A power cut after any step of many appends, on a disk that loses what was not synced."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import apsw

from hotelwatch.core.house import House
from hotelwatch.store.connection import make_durable
from hotelwatch.store.journal import Journal
from hotelwatch.store.verify import verify
from tests.build import rules
from tests.faults.campaign import KEPT, LOST, NOTICED, Size, Tally
from tests.faults.unsynced import (
    Acknowledged,
    Disk,
    Forgetting,
    Step,
    crashes,
)
from tests.faults.writing import append, folder, new_file, whole

NAME = "/power.hotelwatch"


def power_cuts(dice: random.Random, size: Size) -> Iterator[Tally]:
    """Durable as we set it, and as a control without syncs, which must be seen to lose."""
    yield _cut(dice, "EXTRA", size.of(2, 24), size.of(60, 10_000))
    control = _cut(dice, "OFF", size.of(3, 12), size.of(60, 1200))
    lost = [failure for failure in control.failures if failure.startswith(LOST)]
    tally = Tally("the same without any sync: a control that must be seen to lose")
    for _ in range(control.counts[KEPT]):
        tally.count(KEPT)
    for _ in lost:
        tally.count(f"{NOTICED} as lost or damaged")
    if not lost:
        tally.count(LOST, "the layer lost nothing where nothing was synced")
    yield tally


def _cut(dice: random.Random, synchronous: str, appends: int, most: int) -> Tally:
    tally = Tally("power cut: unsynced writes lost, in any order, torn")
    ways: Counter[str] = Counter()
    with folder() as place:
        before = {NAME: new_file(place / "empty.hotelwatch").read_bytes()}
        steps = _recorded(before, synchronous, appends)
        points = list(range(len(steps) + 1))
        dice.shuffle(points)
        for point in points:
            for way, files in crashes(before, steps, point, dice):
                wrong = _wrong_after(place, files, steps[:point])
                tally.count(LOST if wrong else KEPT, f"{way}, step {point}: {wrong}")
                ways[way] += 1
            if tally.tries >= most:
                break
    told = ", ".join(f"{count:,} {way}" for way, count in ways.items())
    tally.notes.append(
        f"{appends} appends, {len(steps)} steps, apsw's SQLite {apsw.sqlite_lib_version()}: {told}"
    )
    return tally


def _recorded(before: dict[str, bytes], synchronous: str, appends: int) -> list[Step]:
    """The steps of appends through our own journal, with where each was acknowledged."""
    disk = Disk({name: bytearray(content) for name, content in before.items()})
    db = Forgetting(disk, NAME)
    make_durable(db)
    db.execute(f"PRAGMA synchronous = {synchronous}").fetchall()
    db.execute("PRAGMA cache_size = 8")  # pages are written in the middle too
    disk.steps.clear()
    journal = Journal(Path(NAME), db, read_only=False)
    house = House(shipped=rules())
    for number in range(appends):
        house = append(journal, house, "power", number)
        disk.steps.append(Acknowledged(max(house.entries)))
    steps = list(disk.steps)
    db.close()
    return steps


def _wrong_after(place: Path, files: dict[str, bytes], steps: list[Step]) -> str:
    """What is wrong when the file is opened after the power came back."""
    for old in place.glob("power.*"):
        old.unlink()
    for name, content in files.items():
        (place / name.lstrip("/")).write_bytes(content)
    acknowledged = max((s.entry for s in steps if isinstance(s, Acknowledged)), default=0)
    path = place / NAME.lstrip("/")
    try:
        house = whole(path)
        found = verify(path)
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    last = max(house.entries, default=0)
    if not found.is_sound:
        return f"not sound: {found.problems[:2]}"
    # What was on its way may have arrived: whole, or not at all.
    if last not in (acknowledged, acknowledged + 1):
        return f"last entry {last}, acknowledged {acknowledged}"
    return ""
