"""Network shares: no hotel's file is made, opened or taken in there; backups may go there.

No share can be mounted on every machine, so the system's list of mounts is ours: written as
Linux writes it (proc(5)), with every kind of share, names with blanks, and later mounts
that hide earlier ones. What goes wrong with a share that is there for backups - it is
gone, turns read-only, is full, or gives back other bytes than were written - is done to it.
"""

from __future__ import annotations

import errno
import random
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from unittest.mock import patch

from hotelwatch.core.problems import Refusal
from hotelwatch.store import backup, backup_folder, shares
from hotelwatch.store.backup_folder import copy_elsewhere, folder_beside, keep_backup, list_backups
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.shares import SHARES
from hotelwatch.store.verify import verify
from hotelwatch.wording.refusals import REFUSALS
from tests.build import moment
from tests.faults.campaign import KEPT, LOST, REFUSED, WRONG, Size, Tally
from tests.faults.writing import folder, new_file

LOCAL = ("ext4", "tmpfs", "xfs", "btrfs", "vfat", "fuseblk")
NAMES = ("share", "our share", "house\\records", "a/b", "ümlaut")


def network(dice: random.Random, size: Size) -> Iterator[Tally]:
    """Files on shares refused, on disks beside them not; backups to a share that fails."""
    tally = Tally("a hotel's file on a network share, by the system's list of mounts")
    for _ in range(size.of(6, 200)):
        with folder() as place:
            tally.count(*_on_share(place, dice))
    yield tally
    tally = Tally("a share for backups that is gone, full, read-only or gives back other bytes")
    for _ in range(size.of(1, 10)):
        for harm in HARMS:
            with folder() as place:
                tally.count(*_to_share(place, harm, dice))
    yield tally


# --- a file there -------------------------------------------------------------------


def _on_share(place: Path, dice: random.Random) -> tuple[str, str]:
    there = place / dice.choice(NAMES)
    there.mkdir(parents=True)
    kind = dice.choice([*sorted(SHARES), *LOCAL])
    wanted = dice.choice([*sorted(SHARES), *LOCAL])
    # The later line hides the earlier one; a mount beside it is none of its.
    mounts = [("/", "ext4"), (str(there), wanted), (str(there), kind), (f"{there}2", "nfs")]
    file = new_file(there / "house.hotelwatch")
    with _mounts(place / "mountinfo", mounts):
        deed: Callable[[], object] = dice.choice(
            [
                lambda: open_file(file).close(),
                lambda: open_file(file, read_only=True).close(),
                lambda: create(there / "new.hotelwatch").close(),
                lambda: open_file(_linked(place, file)).close(),
            ]
        )
        try:
            deed()
        except Refusal as refusal:
            is_right = refusal.code == "on_network_share" and kind in SHARES
            return (REFUSED, "") if is_right else (WRONG, f"{kind}: {refusal.code}")
    return (WRONG, f"{kind} was taken") if kind in SHARES else (KEPT, "")


def _linked(place: Path, file: Path) -> Path:
    link = place / "link.hotelwatch"
    link.symlink_to(file)
    return link


@contextmanager
def _mounts(listed: Path, mounts: list[tuple[str, str]]) -> Iterator[None]:
    lines = [
        f"{n} 1 0:{n} / {_octal(where)} rw,relatime shared:{n} - {kind} source rw\n"
        for n, (where, kind) in enumerate(mounts, 20)
    ]
    listed.write_text("".join(lines), "utf-8")
    with patch.object(shares, "_MOUNTINFO", listed):
        yield


def _octal(name: str) -> str:
    return "".join(f"\\{ord(c):03o}" if c in " \t\n\\" else c for c in name)


# --- backups there ------------------------------------------------------------------


def _gone(share: Path) -> Iterator[None]:
    shutil.rmtree(share)
    yield


def _a_file_now(share: Path) -> Iterator[None]:
    shutil.rmtree(share)
    share.write_text("no folder")
    yield


def _fails_with(number: int) -> Callable[[Path], Iterator[None]]:
    def fail(_share: Path) -> Iterator[None]:
        def refuse(source: Path, target: Path) -> None:
            target.write_bytes(source.read_bytes()[: source.stat().st_size // 2])
            raise OSError(number, errno.errorcode[number])

        with patch.object(backup.shutil, "copyfile", refuse):
            yield

    return fail


def _other_bytes(share: Path) -> Iterator[None]:
    def lie(source: Path, target: Path) -> None:
        content = bytearray(source.read_bytes())
        content[len(content) // 2] ^= 1
        target.write_bytes(content)

    with patch.object(backup.shutil, "copyfile", lie):
        yield


HARMS = (
    _gone,
    _a_file_now,
    _other_bytes,
    *map(_fails_with, (errno.ENOSPC, errno.EROFS, errno.EIO, errno.ESTALE, errno.ETIMEDOUT)),
)


def _to_share(
    place: Path, harm: Callable[[Path], Iterator[None]], dice: random.Random
) -> tuple[str, str]:
    file = new_file(place / "house.hotelwatch")
    share = place / "share"
    share.mkdir()
    kept, _ = keep_backup(file, folder=folder_beside(file), at=moment(dice.randrange(99)))
    here = folder_beside(file) / kept.name
    with contextmanager(harm)(share):
        try:
            copy_elsewhere(here, hotel_file=file, place=share)
        except Refusal as refusal:
            if refusal.code not in REFUSALS:
                return WRONG, f"no words for {refusal.code}"
        else:
            return WRONG, "it was said to be done"
    there = list_backups(backup_folder.folder_in(share, file)) if share.is_dir() else ()
    if any(not verify(backup_folder.folder_in(share, file) / one.name).is_sound for one in there):
        return WRONG, "half a backup bears a name there"
    return (REFUSED, "") if verify(here).is_sound else (LOST, "the backup here")
