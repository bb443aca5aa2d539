"""Kill -9 at random points of thousands of appends, one writer or two at once."""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Iterator
from pathlib import Path

from tests.faults.campaign import KEPT, LOST, Size, Tally
from tests.faults.writing import folder, new_file, write_on, wrong_with

KILLS_A_FILE = 40
MOST_SECONDS = 0.5


def kills(dice: random.Random, size: Size) -> Iterator[Tally]:
    """After each kill: every acknowledged entry is there, the chain is sound."""
    for writers, count in ((1, size.of(6, 1000)), (2, size.of(3, 500))):
        yield _killed(dice, writers, count)


def _killed(dice: random.Random, writers: int, count: int) -> Tally:
    who = "a writer" if writers == 1 else "two writers at once"
    tally = Tally(f"kill -9 of {who} in the middle")
    appends = left_behind = 0
    with folder(on_disk=True) as place:
        for number in range(count):
            path = place / f"{number // KILLS_A_FILE}.hotelwatch"
            if number % KILLS_A_FILE == 0:
                new_file(path)
                acknowledged: dict[int, str] = {}
            names = [f"run {number}.{n}" for n in range(writers)]
            told = _killed_once(path, names, dice.uniform(0, MOST_SECONDS))
            left_behind += Path(f"{path}-journal").exists()
            acknowledged |= told
            appends += len(told)
            wrong = wrong_with(path, acknowledged)
            tally.count(LOST if wrong else KEPT, f"kill {number}: {wrong}")
    tally.notes.append(f"{appends:,} appends acknowledged; {left_behind} kills left a hot journal")
    return tally


def _killed_once(path: Path, names: list[str], seconds: float) -> dict[int, str]:
    """Let children write, kill them, and hand back what was acknowledged to whom."""
    children = [_writer(path, name) for name in names]
    time.sleep(0.03 + seconds)
    for pid, _ in children:
        os.kill(pid, signal.SIGKILL)
    told: dict[int, str] = {}
    for (pid, pipe), name in zip(children, names, strict=True):
        _, status = os.waitpid(pid, 0)
        assert os.WIFSIGNALED(status), "the writer ended by itself"
        with os.fdopen(pipe, "rb") as said:
            # A number without its line break may have been cut: it was not told.
            told |= {int(line): name for line in said.read().split(b"\n")[:-1]}
    return told


def _writer(path: Path, name: str) -> tuple[int, int]:
    reads, writes = os.pipe()
    pid = os.fork()
    if pid:
        os.close(writes)
        return pid, reads
    try:
        write_on(path, name, writes)
    finally:
        os._exit(1)
