"""How long a backup takes, and what its checks cost, on 2,000 rooms and ten years.

Baseline in the same run: copying the file's bytes and waiting for the disk.
"""

from __future__ import annotations

import shutil
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from hotelwatch.actions.backups import check_backup, tell_restore
from hotelwatch.core.facts import FloorPlaced
from hotelwatch.store.backup import sync_file
from hotelwatch.store.backup_folder import folder_beside, keep_backup
from hotelwatch.store.hotel_file import open_file
from hotelwatch.store.loading import load
from tests.bench.bench_store import build_ten_years
from tests.build import moment, rules

ROUNDS = 5
T = TypeVar("T")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "house.hotelwatch"
        build_ten_years(path)
        journal = open_file(path)
        house = load(journal, rules())
        backups, copies = [], []
        for number in range(ROUNDS):
            facts = [FloorPlaced(f"round {number}", number)]
            house, _ = journal.append(
                lambda _house, facts=facts: facts,
                by="x", action="bench", at=moment(number), house=house,
            )  # fmt: skip
            made, taken = timed(lambda n=number: _made(path, n))
            backups.append(taken)
            copies.append(timed(lambda: _copied(path))[1])
        print(f"file {path.stat().st_size / 1e6:.0f} MB")
        print(f"backup, opened and checked: {statistics.median(backups):.2f} s")
        print(f"copying its bytes:          {statistics.median(copies):.2f} s")
        _, checked = timed(lambda: check_backup(path, made))
        print(f"going through a backup whole: {checked:.1f} s")
        _, told = timed(lambda: tell_restore(path, made))
        print(f"saying what a restore would lose: {told:.1f} s")
        journal.close()


def _made(path: Path, number: int) -> Path:
    folder = folder_beside(path)
    return folder / keep_backup(path, folder=folder, at=moment(number))[0].name


def _copied(path: Path) -> None:
    copy = path.with_name("bytes")
    shutil.copyfile(path, copy)
    sync_file(copy)


def timed(run: Callable[[], T]) -> tuple[T, float]:
    begun = time.perf_counter()
    return run(), time.perf_counter() - begun


if __name__ == "__main__":
    main()
