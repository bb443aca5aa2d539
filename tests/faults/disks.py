"""A full disk, and files and folders that may not be written."""

from __future__ import annotations

import os
import random
import resource
import signal
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.store.backup_folder import folder_beside, keep_backup, list_backups
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.kept_files import keep_file
from hotelwatch.store.loading import load
from hotelwatch.store.verify import verify
from hotelwatch.wording.refusals import REFUSALS
from tests.build import moment, rules
from tests.faults.campaign import DIES, KEPT, LOST, REFUSED, WRONG, Size, Tally
from tests.faults.writing import append, folder, new_file, whole, wrong_with

NOBODY = 65_534
"""The user who may do nothing that others may not."""
MOST_APPENDS = 400
DISK_KIB = 1024


def disks(dice: random.Random, size: Size) -> Iterator[Tally]:
    """Limits on a file's size everywhere; a small disk of its own and another user where root."""
    yield _limited(dice, size.of(4, 60))
    yield from _small_disk(dice, size.of(2, 30))
    yield from _read_only(size.of(1, 6))


# --- a file that may not grow -------------------------------------------------------


def _limited(dice: random.Random, count: int) -> Tally:
    tally = Tally("a file that may not grow beyond a limit by lot (RLIMIT_FSIZE)")
    with folder() as place:
        for number in range(count):
            path = new_file(place / f"{number}.hotelwatch")
            room = dice.randrange(60_000)
            _in_child(tally, lambda path=path, room=room: _until_refused(path, room))
            path.unlink()
    return tally


def _until_refused(path: Path, room: int) -> str:
    limit = path.stat().st_size + room
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, most))
    acknowledged, code = _append_until_refused(path)
    if code not in ("disk_full", "disk_failed"):
        return f"{WRONG}: {code or 'never refused'}"
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
    return _goes_on(path, acknowledged)


def _append_until_refused(path: Path) -> tuple[dict[int, str], str]:
    acknowledged: dict[int, str] = {}
    journal = open_file(path)
    house: House = load(journal, rules())
    try:
        for number in range(MOST_APPENDS):
            house = append(journal, house, "full", number)
            acknowledged[max(house.entries)] = "full"
    except Refusal as refusal:
        return acknowledged, refusal.code
    finally:
        journal.close()
    return acknowledged, ""


def _goes_on(path: Path, acknowledged: dict[int, str]) -> str:
    """All that was acknowledged is there, and with room again one can go on."""
    wrong = wrong_with(path, acknowledged)
    if wrong:
        return f"{LOST}: {wrong}"
    journal = open_file(path)
    house = append(journal, load(journal, rules()), "again", 0)
    journal.close()
    acknowledged[max(house.entries)] = "again"
    wrong = wrong_with(path, acknowledged)
    return f"{LOST}: {wrong}" if wrong else KEPT


# --- a full disk ------------------------------------------------------------------


def _small_disk(dice: random.Random, count: int) -> Iterator[Tally]:
    tally = Tally(f"a full disk of {DISK_KIB} KiB: entries, papers, backups")
    with folder() as place, _mounted(place) as disk:
        if disk is None:
            tally.notes.append("not run: only root may mount a small disk here")
            yield tally
            return
        for number in range(count):
            (disk / "ballast").unlink(missing_ok=True)
            room = dice.randrange(0, 40_000)
            _in_child(tally, lambda n=number, room=room: _on_full_disk(disk, n, room))
    yield tally


@contextmanager
def _mounted(place: Path) -> Iterator[Path | None]:
    disk = place / "disk"
    disk.mkdir()
    asks = ["mount", "-t", "tmpfs", "-o", f"size={DISK_KIB}k", "tmpfs", str(disk)]
    if os.geteuid() or subprocess.run(asks, capture_output=True, check=False).returncode:
        yield None
        return
    try:
        yield disk
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def _on_full_disk(disk: Path, number: int, room: int) -> str:
    path = new_file(disk / f"{number}.hotelwatch")
    free = os.statvfs(disk)
    ballast = disk / "ballast"
    ballast.write_bytes(bytes(max(0, free.f_bavail * free.f_frsize - room)))
    acknowledged, code = _append_until_refused(path)
    said = Counter([code])
    paper = disk.parent / "paper.pdf"
    paper.write_bytes(bytes(100_000))
    folder_of = folder_beside(path)
    for deed in (
        lambda: keep_file(path, paper),
        lambda: keep_backup(path, folder=folder_of, at=moment(0)),
        lambda: create(disk / "another.hotelwatch"),
    ):
        try:
            deed()
            said["done"] += 1
        except Refusal as refusal:
            said[refusal.code] += 1
    left = [p.name for p in disk.rglob("*.partial")]
    ballast.unlink()
    outcome = _goes_on(path, acknowledged)
    for old in (*disk.rglob("*.hotelwatch"), *disk.rglob("*.pdf")):
        old.unlink()
    if "disk_full" not in said or "done" in said:
        return f"{WRONG}: {dict(said)}"
    return f"{WRONG}: {left} left behind" if left else outcome


# --- read only --------------------------------------------------------------------


def _read_only(count: int) -> Iterator[Tally]:
    tally = Tally("a read-only file, a read-only folder, a folder of backups, another's file")
    if os.geteuid():
        tally.notes.append("run as a user: only this user's own marks were tried")
    for _ in range(count):
        for way in (_file_marked, _folder_marked, _backups_marked, _not_readable):
            with folder() as place:
                place.chmod(0o777)
                path = new_file(place / "house.hotelwatch")
                _in_child(tally, lambda path=path, way=way: _as_nobody(path, way))
    yield tally


def _as_nobody(path: Path, way: Callable[[Path], str]) -> str:
    if os.geteuid() == 0:
        path.chmod(0o666)
        os.chown(path, NOBODY, NOBODY)
        os.chown(path.parent, NOBODY, NOBODY)
        os.setgid(NOBODY)
        os.setuid(NOBODY)
    return way(path)


def _said_so(deed: Callable[[], object], *codes: str) -> str:
    try:
        deed()
    except Refusal as refusal:
        is_said = refusal.code in codes and refusal.code in REFUSALS
        return REFUSED if is_said else f"{WRONG}: {refusal.code}"
    return f"{WRONG}: it was done"


def _file_marked(path: Path) -> str:
    path.chmod(0o444)
    if not verify(path).is_sound:
        return f"{WRONG}: it can't be checked"
    return _said_so(lambda: open_file(path), "read_only_file")


def _folder_marked(path: Path) -> str:
    path.parent.chmod(0o555)
    try:
        if not verify(path).is_sound:
            return f"{WRONG}: it can't be checked"
        return _said_so(lambda: open_file(path), "read_only_file")
    finally:
        path.parent.chmod(0o777)


def _backups_marked(path: Path) -> str:
    folder_of = folder_beside(path)
    folder_of.mkdir(mode=0o555)
    said = _said_so(lambda: keep_backup(path, folder=folder_of, at=moment(0)), "backup_failed")
    if list_backups(folder_of) or whole(path).entries:
        return f"{WRONG}: something is there"
    return said


def _not_readable(path: Path) -> str:
    path.chmod(0o000)
    try:
        return _said_so(lambda: open_file(path), "read_only_file")
    finally:
        path.chmod(0o666)


def _in_child(tally: Tally, work: Callable[[], str]) -> None:
    """Do it in a child, whose limits and user die with it."""
    reads, writes = os.pipe()
    pid = os.fork()
    if not pid:
        try:
            said = work()
        except BaseException as error:
            said = f"RAISES: {type(error).__name__}: {error}"
        try:
            os.write(writes, said.encode()[:4000])
        finally:
            os._exit(0)
    os.close(writes)
    with os.fdopen(reads, "rb") as pipe:
        told = pipe.read().decode()
    os.waitpid(pid, 0)
    outcome, _, what = (told or DIES).partition(": ")
    tally.count(outcome, what)
