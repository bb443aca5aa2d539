"""Kill -9 at random points of thousands of appends, one writer or two at once."""

from __future__ import annotations

import os
import random
import select
import signal
import time
from collections.abc import Iterator
from pathlib import Path

from tests.faults.campaign import KEPT, LOST, Size, Tally
from tests.faults.writing import folder, new_file, write_on, wrong_with

KILLS_A_FILE = 40
MOST_APPENDS = 15
MOST_OF_ONE = 2.0
"""Of the time that an append takes: so long after the last one the writer is killed at most."""
LONGEST_SECONDS = 120.0


def kills(dice: random.Random, size: Size) -> Iterator[Tally]:
    """After each kill: every acknowledged entry is there, the chain is sound."""
    for writers, count in ((1, size.of(6, 300)), (2, size.of(3, 150))):
        yield _killed(dice, writers, count)


def _killed(dice: random.Random, writers: int, count: int) -> Tally:
    who = "a writer" if writers == 1 else "two writers at once"
    tally = Tally(f"kill -9 of {who} in the middle")
    appends = left_behind = 0
    with folder() as place:
        for number in range(count):
            path = place / f"{number // KILLS_A_FILE}.hotelwatch"
            if number % KILLS_A_FILE == 0:
                new_file(path)
                acknowledged: dict[int, str] = {}
            names = [f"run {number}.{n}" for n in range(writers)]
            told = _killed_once(path, names, dice)
            left_behind += Path(f"{path}-journal").exists()
            acknowledged |= told
            appends += len(told)
            wrong = wrong_with(path, acknowledged)
            tally.count(LOST if wrong else KEPT, f"kill {number}: {wrong}")
    tally.notes.append(f"{appends:,} appends acknowledged; {left_behind} kills left a hot journal")
    return tally


def _killed_once(path: Path, names: list[str], dice: random.Random) -> dict[int, str]:
    """Let children write, kill them after so many appends and a bit, and hand back what they told.

    What was acknowledged in between is told too, up to the moment of the kill.
    """
    wanted = dice.randint(1, MOST_APPENDS)
    children = [_writer(path, name) for name in names]
    said = [b"" for _ in children]
    begun = time.monotonic()
    while sum(text.count(b"\n") for text in said) < wanted:
        ready, _, _ = select.select([pipe for _, pipe in children], [], [], LONGEST_SECONDS)
        assert ready, "nobody writes"
        for n, (_, pipe) in enumerate(children):
            said[n] += os.read(pipe, 4096) if pipe in ready else b""
    of_one = (time.monotonic() - begun) / wanted
    time.sleep(dice.uniform(0, MOST_OF_ONE * of_one))
    for pid, _ in children:
        os.kill(pid, signal.SIGKILL)
    told: dict[int, str] = {}
    for n, ((pid, pipe), name) in enumerate(zip(children, names, strict=True)):
        _, status = os.waitpid(pid, 0)
        assert os.WIFSIGNALED(status), "the writer ended by itself"
        with os.fdopen(pipe, "rb") as rest:
            # A number without its line break may have been cut: it was not told.
            lines = (said[n] + rest.read()).split(b"\n")[:-1]
        told |= {int(line): name for line in lines}
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
