"""A small hotel's file to do harm to, and children that write to it."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hotelwatch.core.facts import FloorPlaced
from hotelwatch.core.house import House
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from hotelwatch.store.verify import verify
from tests.build import moment, rules

LINES = 12


@contextmanager
def folder(*, on_disk: bool = False) -> Iterator[Path]:
    """A folder for a while: in memory where there is such a place and no disk is wanted."""
    place = None if on_disk or not Path("/dev/shm").is_dir() else "/dev/shm"
    with tempfile.TemporaryDirectory(prefix="faults", dir=place) as made:
        yield Path(made)


def new_file(path: Path) -> Path:
    create(path).close()
    return path


def append(journal, house: House, name: str, number: int) -> House:
    """Write an entry of some lines that tell by what they were decided."""

    def decide(seen: House):
        last = max(seen.entries, default=0)
        return [FloorPlaced(f"{name} {number} after {last} line {n}", n) for n in range(LINES)]

    return journal.append(decide, by=name, action="test", at=moment(0), house=house)[0]


def whole(path: Path) -> House:
    journal = open_file(path)
    try:
        return load(journal, rules())
    finally:
        journal.close()


def write_on(path: Path, name: str, say: int) -> None:
    """In a child: append without end, and say each number once it is acknowledged."""
    journal = open_file(path)
    house = load(journal, rules())
    for number in range(1_000_000):
        house = append(journal, house, name, number)
        os.write(say, b"%d\n" % max(house.entries))


def wrong_with(path: Path, acknowledged: dict[int, str]) -> str:
    """What is wrong with a file after all that: acknowledged entries gone, or no sound chain."""
    found = verify(path)
    if not found.is_sound:
        return f"not sound: {found.problems[:3]}"
    house = whole(path)
    gone = [n for n, name in acknowledged.items() if n not in house.entries]
    if gone:
        return f"entries {gone[:5]} are gone"
    if any(house.entries[n].by != name for n, name in acknowledged.items()):
        return "an entry is another's"
    counts = dict.fromkeys(house.entries, 0)
    for row in house.kept.get(FloorPlaced, ()):
        counts[row.entry] += 1
        if f"after {row.entry - 1} " not in row.fact.floor:
            return f"entry {row.entry} was decided on another house"
    return "" if set(counts.values()) <= {LINES} else "an entry is there in part"
