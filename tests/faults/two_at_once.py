"""Two windows and commands that write at once: as if one had written after the other."""

from __future__ import annotations

import os
import pickle
import random
import time
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel, open_hotel, whole_house
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.store.loading import last_number
from hotelwatch.store.verify import verify
from tests.build import rules
from tests.faults.campaign import AGREES, LOST, REFUSED, WRONG, Size, Tally
from tests.faults.deeds import Clock, do, start
from tests.faults.writing import folder

WINDOWS = 2
Said = list[tuple[int, int]]
"""A deed's number, and the entry that it was told to be; 0: nothing was written."""


def two_at_once(dice: random.Random, size: Size) -> Iterator[Tally]:
    """Random deeds by two windows and one command after another."""
    tally = Tally("two windows and commands at once")
    written = refused = turns = 0
    for _ in range(size.of(1, 20)):
        with folder(on_disk=True) as place:
            told = _written_at_once(place / "house.hotelwatch", dice, size.of(8, 40))
            outcome, what = _compared(place, told)
        entries = [entry for _, entry, _ in told if entry > 0]
        for _ in entries:
            tally.count(outcome, what)
        written += len(entries)
        refused += sum(entry < 0 for _, entry, _ in told)
        by = [who for _, entry, who in sorted(told, key=lambda t: t[1]) if entry > 0]
        turns += sum(a != b for a, b in pairwise(by))
    for _ in range(refused):
        tally.count(REFUSED)
    tally.notes.append(f"{turns} times another one's entry came next")
    yield tally


def _written_at_once(path: Path, dice: random.Random, deeds: int) -> list[tuple[int, int, int]]:
    start(path, Clock()).close()
    seeds = [[dice.randrange(2**32) for _ in range(deeds)] for _ in range(WINDOWS + 1)]
    pipes = [_begun(path, mine, number) for number, mine in enumerate(seeds)]
    told: list[tuple[int, int, int]] = []
    for number, (pid, pipe) in enumerate(pipes):
        with os.fdopen(pipe, "rb") as said:
            content = said.read()
        os.waitpid(pid, 0)
        told += [(seed, entry, number) for seed, entry in pickle.loads(content)]
    return told


def _begun(path: Path, seeds: list[int], number: int) -> tuple[int, int]:
    reads, writes = os.pipe()
    pid = os.fork()
    if pid:
        os.close(writes)
        return pid, reads
    try:
        said = _as_window(path, seeds) if number < WINDOWS else _as_commands(path, seeds)
        with os.fdopen(writes, "wb") as out:
            out.write(pickle.dumps(said))
    finally:
        os._exit(0)


def _as_window(path: Path, seeds: list[int]) -> Said:
    hotel = open_hotel(path, rules(), clock=Clock(), by="window")
    said = []
    for seed in seeds:
        if seed % 3 == 0:
            hotel.refresh()
        said.append((seed, _entry_of(hotel, seed)))
        time.sleep((seed % 7) / 1000)
    hotel.close()
    return said


def _as_commands(path: Path, seeds: list[int]) -> Said:
    said = []
    for seed in seeds:
        hotel = open_hotel(path, rules(), clock=Clock(), by="window")
        said.append((seed, _entry_of(hotel, seed)))
        hotel.close()
    return said


def _entry_of(hotel: OpenHotel, seed: int) -> int:
    """The entry that a deed wrote; 0 where it wrote none, -1 where it was refused."""
    before = hotel.session.last_done("window")
    try:
        do(hotel, seed)
    except Refusal as refusal:
        return -1 if refusal.code != "file_busy" else -2
    after = hotel.session.last_done("window")
    return last_number(hotel.house) if after is not before and after is not None else 0


def _compared(place: Path, told: list[tuple[int, int, int]]) -> tuple[str, str]:
    """The same deeds by one, in the order of their entries: the same facts must come out."""
    path = place / "house.hotelwatch"
    if not verify(path).is_sound:
        return LOST, "not sound"
    found = whole_house(path, rules())
    in_order = sorted((entry, seed) for seed, entry, _ in told if entry > 0)
    first = in_order[0][0] if in_order else last_number(found) + 1
    if [entry for entry, _ in in_order] != list(range(first, last_number(found) + 1)):
        return LOST, f"entries {[e for e, _ in in_order]} of {last_number(found)}"
    again = start(place / "again.hotelwatch", Clock())
    again.by = "window"
    for entry, seed in in_order:
        try:
            do(again, seed)
        except Refusal as refusal:
            return WRONG, f"entry {entry} is refused as {refusal.code} by one alone"
    house = whole_house(again.path, rules())
    again.close()
    return (AGREES, "") if _told(house) == _told(found) else (WRONG, _difference(house, found))


def _told(house: House) -> object:
    return (
        house.kept,
        house.stays,
        [(e.number, e.action, e.corrects) for e in house.entries.values()],
    )


def _difference(one: House, other: House) -> str:
    for kind, rows in one.kept.items():
        if rows != other.kept.get(kind):
            return f"{kind.__name__} differ"
    return "stays or entries differ"
