"""The file's bytes flipped one by one: each is noticed, or every fact reads the same."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import timedelta
from functools import partial
from pathlib import Path

from hotelwatch.core.facts import BedChecked, CheckKind, FloorPlaced, RoomDescribed, Side
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.store.hotel_file import open_file
from hotelwatch.store.loading import load
from hotelwatch.store.verify import verify
from tests.build import day, moment, rules
from tests.faults.campaign import HARMLESS, NOTICED, WRONG, Size, Tally, watched
from tests.faults.pages import used_bytes
from tests.faults.writing import folder, new_file

MOST_SECONDS = 20
MOST_MIB = 600
FILE_HEADER_BYTES = 100
PAGE_HEADER_BYTES = 8
Facts = Callable[[int], list[object]]


def flips(dice: random.Random, size: Size) -> Iterator[Tally]:
    """A small file's used bytes, all of them in the long run; a larger file's by lot."""
    with folder() as place:
        small = _written(place / "small.hotelwatch", 3)
        used = used_bytes(small.read_bytes())
        some = sorted(dice.sample(used, min(len(used), size.of(120, len(used)))))
        yield _flipped(dice, small, some, "each byte that says something, a small file")
        unused = sorted(set(range(small.stat().st_size)) - set(used))
        some = sorted(dice.sample(unused, size.of(30, 400)))
        tally = _flipped(dice, small, some, "bytes that SQLite does not read, by lot")
        tally.notes.append(
            f"the file has {small.stat().st_size:,} bytes, {len(unused):,} of them unused"
            " by SQLite's file format: gaps between pointers and cells, empty pages"
        )
        yield tally
        large = _written(place / "large.hotelwatch", 400)
        used = used_bytes(large.read_bytes())
        # What was written down lies behind the tables' own rules, which the small file has too.
        told = [at for at in used if at >= small.stat().st_size // 2]
        some = sorted(dice.sample(told, size.of(30, 1000)))
        yield _flipped(dice, large, some, f"bytes by lot, a file of {large.stat().st_size:,} bytes")


def _written(path: Path, days: int) -> Path:
    new_file(path)
    journal = open_file(path)
    house = House(shipped=rules())
    for number in range(days):
        checked_on = day(number)
        facts = [
            FloorPlaced(f"floor {number}", number),
            RoomDescribed(f"{100 + number}", f"floor {number}", "", Side.LEFT, number),
            BedChecked(
                f"{100 + number}/A",
                f"{100 + number}",
                checked_on,
                CheckKind.DEEP,
                ("anna",),
                9,
                ("base",),
            ),
        ]
        at = moment(0) + timedelta(days=number)
        house, _ = journal.append(
            lambda _house, facts=facts: facts, by="anna", action="test", at=at, house=house
        )
    journal.close()
    return path


def _flipped(dice: random.Random, path: Path, places: list[int], what: str) -> Tally:
    tally = Tally(f"a bit flipped: {what}")
    pristine = path.read_bytes()
    journal = open_file(path)
    house = load(journal, rules())
    journal.close()
    last = verify(path).last_digest
    given = [(at, 1 << dice.randrange(8)) for at in places]
    work = partial(_once, path.with_name("flipped.hotelwatch"), pristine, house, last)
    by_whom: dict[str, int] = {}
    where: Counter[str] = Counter()
    for (at, bit), failed, told in watched(given, work, seconds=MOST_SECONDS, mib=MOST_MIB):
        if failed:
            tally.count(failed, f"byte {at} bit {bit}: {told}")
            continue
        outcome, by = told
        if outcome == HARMLESS:
            where[_where(pristine, at)] += 1
        tally.count(outcome, f"byte {at} bit {bit}: {by}")
        by_whom[by] = by_whom.get(by, 0) + (outcome == NOTICED)
    told = ", ".join(f"{count:,} by {by}" for by, count in sorted(by_whom.items()) if count)
    if told:
        tally.notes.append(told)
    if where:
        tally.notes.append("harmless: " + ", ".join(f"{n:,} {what}" for what, n in where.items()))
    return tally


def _where(content: bytes, at: int) -> str:
    """What a byte is for. Source: Database File Format, 1.3 and 1.6."""
    if at < FILE_HEADER_BYTES:
        return "in the file's header (SQLite's own counters and version)"
    size = int.from_bytes(content[16:18], "big")
    within = at % size - (FILE_HEADER_BYTES if at < size else 0)
    return (
        "in pages' headers (where free space begins)"
        if within < PAGE_HEADER_BYTES
        else "among rows, or free"
    )


def _once(path: Path, pristine: bytes, house: House, last: str, flip: tuple[int, int]):
    at, bit = flip
    content = bytearray(pristine)
    content[at] ^= bit
    for ending in ("-journal", "-wal", "-shm"):
        path.with_name(path.name + ending).unlink(missing_ok=True)
    path.write_bytes(content)
    try:
        journal = open_file(path)
    except Refusal as refusal:
        return NOTICED, f"opening ({refusal.code})"
    try:
        found = load(journal, rules())
    except Refusal as refusal:
        return NOTICED, f"loading ({refusal.code})"
    finally:
        journal.close()
    try:
        checked = verify(path)
    except Refusal as refusal:
        return NOTICED, f"checking ({refusal.code})"
    if not checked.is_sound:
        return NOTICED, "checking"
    if found == house and checked.last_digest == last:
        return HARMLESS, ""
    return WRONG, "reads otherwise, and nobody notices"
