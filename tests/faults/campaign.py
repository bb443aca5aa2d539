"""What a campaign of faults is made of: tries, how each came out, and the table of all.

A try ends in one of the outcomes below; any other end is a failure, and so is an
exception of ours, a child that dies, or one that takes longer than it may.
"""

from __future__ import annotations

import multiprocessing
import os
import pickle
import random
import resource
import select
import signal
import struct
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TypeVar

MIB = 1024 * 1024
KEPT = "nothing acknowledged lost"
REFUSED = "refused in words"
NOTICED = "noticed"
HARMLESS = "harmless: every fact reads the same"
READ = "read, untouched rows as written"
AGREES = "as one after the other"
GOOD = (KEPT, REFUSED, NOTICED, HARMLESS, READ, AGREES)
WRONG = "WRONG accepted in silence"
LOST = "LOST"
HANGS = "HANGS"
DIES = "DIES"
RAISES = "RAISES"
MOST_TOLD = 12
WAITS_TIMES = 10
LOOKS_EVERY_SECONDS = 0.5
Item = TypeVar("Item")


@dataclass
class Tally:
    """A fault: what was tried, and how it came out."""

    fault: str
    counts: Counter[str] = field(default_factory=Counter)
    failures: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    seconds: float = 0.0
    worked_seconds: float = 0.0
    """Of all its processes together: what a busy machine does not make longer."""
    peak_mib: float = 0.0

    def count(self, outcome: str, what: str = "") -> None:
        """Note how a try came out; what is not good is a failure, with what it was."""
        self.counts[outcome] += 1
        if not outcome.startswith(GOOD):
            self.failures.append(f"{outcome}: {what}")

    @property
    def tries(self) -> int:
        return sum(self.counts.values())

    @property
    def holds(self) -> bool:
        return not self.failures


@dataclass(frozen=True)
class Size:
    """How much of a fault is tried."""

    quick: bool
    share: float = 1.0
    """Of the counts of a whole campaign."""

    def of(self, few: int, many: int) -> int:
        return few if self.quick else max(few, round(many * self.share))


Fault = Callable[[random.Random, Size], Iterator[Tally]]


def run(faults: Sequence[Fault], *, seed: int, size: Size, at_once: int = 1) -> list[Tally]:
    """Try each fault, with dice of its own, so many of them at once."""
    work = partial(_run_one, seed=seed, size=size)
    if at_once == 1:
        return [tally for fault in faults for tally in work(fault)]
    context = multiprocessing.get_context("fork")
    with ProcessPoolExecutor(at_once, mp_context=context) as pool:
        return [tally for tallies in pool.map(work, faults) for tally in tallies]


def _run_one(fault: Fault, *, seed: int, size: Size) -> list[Tally]:
    done: list[Tally] = []
    begun, worked = time.monotonic(), _all_worked()
    for tally in fault(random.Random(f"{seed} {fault.__module__}"), size):
        tally.seconds = time.monotonic() - begun
        tally.worked_seconds = _all_worked() - worked
        begun, worked = time.monotonic(), _all_worked()
        done.append(tally)
        print(line_of(tally), file=sys.stderr, flush=True)
    return done


def _all_worked() -> float:
    """Seconds on the processor of this process and of its children that have ended."""
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in used)


def line_of(tally: Tally) -> str:
    """A row of the table."""
    outcomes = "; ".join(f"{count:,} {outcome}" for outcome, count in tally.counts.most_common())
    more = "".join(f". {note}" for note in tally.notes)
    peak = f"{tally.peak_mib:.0f} MiB" if tally.peak_mib else "–"
    ends = "holds" if tally.holds else f"**{len(tally.failures)} failures**"
    time_taken = f"{tally.seconds:.0f} s ({tally.worked_seconds:.0f} s)"
    cells = (tally.fault, f"{tally.tries:,}", outcomes + more, time_taken, peak, ends)
    return f"| {' | '.join(cells)} |"


def table(tallies: Sequence[Tally]) -> str:
    """The table of a campaign, as it stands in DEVELOPERS.md."""
    head = (
        "| Fault | Tries | Outcomes | Time (worked) | Most memory | |\n"
        "| --- | --- | --- | --- | --- | --- |"
    )
    lines = [head, *map(line_of, tallies)]
    for tally in tallies:
        lines += [f"- {tally.fault}: {failure}" for failure in tally.failures[:MOST_TOLD]]
    return "\n".join(lines)


def watched(
    items: Sequence[Item],
    work: Callable[[Item], object],
    *,
    seconds: float,
    mib: int,
) -> Iterator[tuple[Item, str, object]]:
    """Do each in a child that may take so long and so much: (item, "" or how it ended, value).

    Seconds are those that the child itself works, so that a busy machine makes none hang; one
    that waits for something without working has so many times as long. The child goes on
    with the next; where it dies or hangs, another one takes over behind.
    """
    start = 0
    while start < len(items):
        pid, pipe = _child(items[start:], work, mib)
        try:
            for number in range(start, len(items)):
                told = _told(pid, pipe, seconds)
                start = number + 1
                if told is None:
                    os.kill(pid, signal.SIGKILL)
                    _, status = os.waitpid(pid, 0)
                    pid = 0
                    yield items[number], _how(status), None
                    break
                yield items[number], told[0], told[1]
        finally:
            os.close(pipe)
            if pid:
                os.kill(pid, signal.SIGKILL)
                os.waitpid(pid, 0)


def _how(status: int) -> str:
    killed_by_us = os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL
    return HANGS if killed_by_us else DIES


def _child(items: Sequence[Item], work: Callable[[Item], object], mib: int) -> tuple[int, int]:
    reads, writes = os.pipe()
    pid = os.fork()
    if pid:
        os.close(writes)
        return pid, reads
    os.close(reads)
    code = 0
    try:
        held = mapped_mib()
        resource.setrlimit(resource.RLIMIT_AS, (int((held + mib) * MIB),) * 2)
        with os.fdopen(writes, "wb") as out:
            for item in items:
                out.write(_packed(_done(work, item)))
                out.flush()
    except BaseException as error:
        print(f"child: {type(error).__name__}: {error}", file=sys.stderr)
        code = 1
    finally:
        os._exit(code)


def _done(work: Callable[[Item], object], item: Item) -> tuple[str, object]:
    try:
        return "", work(item)
    except Exception as error:
        trace = error.__traceback__
        while trace is not None and trace.tb_next is not None:
            trace = trace.tb_next
        at = f"{trace.tb_frame.f_code.co_filename}:{trace.tb_lineno}" if trace else ""
        return RAISES, f"{type(error).__name__}: {str(error)[:200]} at {at}"


def _packed(value: object) -> bytes:
    content = pickle.dumps(value)
    return struct.pack(">I", len(content)) + content


def _told(pid: int, pipe: int, seconds: float) -> tuple[str, object] | None:
    """What the child said next; None where it died or took too long."""
    works_until = _worked(pid) + seconds
    waits_until = time.monotonic() + WAITS_TIMES * seconds

    def is_over() -> bool:
        return time.monotonic() > waits_until or _worked(pid) > works_until

    head = _exactly(pipe, 4, is_over)
    body = _exactly(pipe, struct.unpack(">I", head)[0], is_over) if head else b""
    return pickle.loads(body) if body else None


def _worked(pid: int) -> float:
    """Seconds that a process has worked. Source: proc(5), stat, fields 14 and 15."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _exactly(pipe: int, count: int, is_over: Callable[[], bool]) -> bytes:
    found = b""
    while len(found) < count:
        if not select.select([pipe], [], [], LOOKS_EVERY_SECONDS)[0]:
            if is_over():
                return b""
            continue
        more = os.read(pipe, count - len(found))
        if not more:
            return b""
        found += more
    return found


def peak_mib() -> float:
    """The most memory that this process has had, or with ``reset_peak`` since then."""
    with Path("/proc/self/status").open() as status:
        for line in status:
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) / 1024
    return 0.0


def reset_peak() -> None:
    """Begin to measure the most memory anew. Source: proc(5), clear_refs 5."""
    with Path("/proc/self/clear_refs").open("w") as asks:
        asks.write("5")


def mapped_mib() -> float:
    """What this process has mapped now."""
    with Path("/proc/self/statm").open() as told:
        return int(told.read().split()[0]) * os.sysconf("SC_PAGE_SIZE") / MIB
