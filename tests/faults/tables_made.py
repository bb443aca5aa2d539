"""Sound rosters, bookings and probe logs of known cells, and readers that tell what came out."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from hotelwatch.core.problems import Problem
from hotelwatch.intake.probe_file import read_probe_log
from hotelwatch.intake.roster_file import read_roster
from hotelwatch.intake.stays_file import read_stays
from tests.build import rules
from tests.intake.files import csv_file, ods_cell, ods_file, ods_row, xlsx_file

ROWS = 14
Cells = list[list[object]]
Came = Mapping[str, object]
"""What came out for each row's own key: a room, a booking, a moment."""


@dataclass(frozen=True)
class Made:
    """A sound table: its kind, its cells, and the key of each row below the headings."""

    kind: str
    cells: Cells

    def key(self, row: int) -> str:
        """By which the row with that number in the file (2: the first) is known again."""
        return str(self.cells[row - 1][0])


def roster(dice: random.Random) -> Made:
    head: list[object] = ["Room", "Floor", "Type", "Beds", "Encased", "Side", "Order"]
    rows = [
        [f"{100 * (n // 7 + 1) + n % 7}", str(n // 7 + 1), dice.choice(["Double", "Twin"]),
         dice.choice(["1 box spring", "2 box spring"]), dice.choice(["yes", "no"]),
         "left" if n % 2 else "right", str(n % 7 + 1)]
        for n in range(ROWS)
    ]  # fmt: skip
    return Made("roster", [head, *rows])


def bookings(dice: random.Random) -> Made:
    head: list[object] = ["Booking", "Room", "Arrival", "Departure", "Status"]
    first = date(2026, 3, 13)
    rows = []
    for n in range(ROWS):
        arrives = first + timedelta(days=dice.randrange(14))
        leaves = arrives + timedelta(days=dice.randint(1, 4))
        rows.append(
            [f"B{1000 + n}", str(100 + n), arrives.isoformat(), leaves.isoformat(), "booked"]
        )
    return Made("bookings", [head, *rows])


def probes(dice: random.Random) -> Made:
    head: list[object] = ["Time", "Core °C", "Bed °C"]
    begun = datetime(2026, 3, 13, 8)
    rows: Cells = [
        [f"{begun + timedelta(minutes=n):%Y-%m-%d %H:%M:%S}", f"{40 + n / 2:.1f}",
         f"{dice.uniform(30, 60):.1f}"]
        for n in range(ROWS)
    ]  # fmt: skip
    return Made("probes", [head, *rows])


MAKERS: dict[str, Callable[[random.Random], Made]] = {
    "roster": roster,
    "bookings": bookings,
    "probes": probes,
}


def ods(path: Path, cells: Sequence[Sequence[object]]) -> Path:
    return ods_file(path, *(ods_row(*(ods_cell(str(cell)) for cell in row)) for row in cells))


WRITERS: dict[str, Callable[[Path, Sequence[Sequence[object]]], Path]] = {
    "csv": csv_file,
    "xlsx": xlsx_file,
    "ods": ods,
}


def came_out(kind: str, path: Path) -> tuple[Came, Sequence[Problem]]:
    """What our reader takes from a file, by key, and what it says is wrong there."""
    if kind == "roster":
        read = read_roster(path, rules())
        by_room: dict[str, list[str]] = {}
        for fact in read.facts:
            room = str(getattr(fact, "room", ""))
            if room:
                by_room.setdefault(room, []).append(repr(fact))
        return {room: tuple(sorted(said)) for room, said in by_room.items()}, read.problems
    if kind == "bookings":
        stays = read_stays(path)
        return {str(stay.booking): repr(stay) for stay in stays.stays}, stays.problems
    log = read_probe_log(path, UTC)
    by_moment: dict[str, list[str]] = {}
    for probe in log.probes:
        for minute, reading in zip(probe.minutes, probe.celsius, strict=True):
            at = f"{probe.at(minute):%Y-%m-%d %H:%M:%S}"
            by_moment.setdefault(at, []).append(f"{probe.name} {reading!r}")
    return {at: tuple(sorted(said)) for at, said in by_moment.items()}, log.problems
