"""Kill -9 in the middle of what keeps the record: backups, expiry, restores, exports.

A child is killed before one of the steps by which it opens, renames, links or deletes a
file, or opens a database; each of those steps in its turn, or so many of them at even
distances, and moments by lot between.
The steps are those that Python tells its audit hooks.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, timedelta
from hashlib import sha256
from pathlib import Path

from hotelwatch.actions import backups, exporting, retention
from hotelwatch.core.backups import Keeping
from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import BedChecked, BedNo, CheckKind, HotelDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.store.backup_folder import folder_beside, folder_in, list_backups
from hotelwatch.store.hotel_file import create
from hotelwatch.store.photos import folder_of
from hotelwatch.store.verify import verify
from tests.build import day, moment, rules
from tests.faults.campaign import KEPT, LOST, RAISES, WRONG, Size, Tally
from tests.faults.writing import folder

STEPS = frozenset(
    {"open", "os.rename", "os.remove", "os.link", "os.rmdir", "os.mkdir", "sqlite3.connect"}
)
MOST_STEPS = 120
"""So many at even distances of a deed with more: an export opens each of its many tables."""
NAME = "Åsa Lind"
LATER = moment(3000)
BED = BedNo("0101/A")


@dataclass(frozen=True)
class Place:
    """A hotel with backups here and elsewhere, and an export of it."""

    root: Path

    @property
    def hotel(self) -> Path:
        return self.root / "house.hotelwatch"

    @property
    def stick(self) -> Path:
        return self.root / "stick"

    @property
    def wish(self) -> backups.Wish:
        return backups.Wish(self.hotel, LATER, UTC, Keeping(9e5, 9e5, 9e5), self.stick)

    def copies(self) -> list[Path]:
        folders = (folder_beside(self.hotel), folder_in(self.stick, self.hotel))
        found = [one / backup.name for one in folders for backup in list_backups(one)]
        return [*found, *self.root.glob("house-aside-*.hotelwatch")]


def _back_up(place: Place) -> None:
    backups.back_up_now(place.wish)


def _expire(place: Place) -> None:
    desk = retention.Desk(place.hotel, rules(), lambda: LATER, "eve", "", place.stick)
    retention.expire_apart(desk)


def _restore(place: Place) -> None:
    first = sorted(path for path in place.copies() if path.parent != place.root)[0]
    backups.restore(backups.tell_restore(place.hotel, first), LATER)


def _export(place: Place) -> None:
    exporting.export_everything(place.hotel, place.root / "out.zip", zipped=True)


def _take_in(place: Place) -> None:
    exporting.take_in(place.root / "whole", place.root / "again.hotelwatch")


DEEDS: dict[str, Callable[[Place], None]] = {
    "a backup and its copy elsewhere": _back_up,
    "an expiry, in the backups too": _expire,
    "going back to a backup": _restore,
    "an export into a zip": _export,
    "taking an export in": _take_in,
}


def keeping(dice: random.Random, size: Size) -> Iterator[Tally]:
    """Each deed killed before each of its steps, or a few of them, and at moments by lot."""
    with folder() as root:
        made = _made(Place(root / "made"))
        for what, deed in DEEDS.items():
            yield _killed(Place(root / "tried"), made, (what, deed), dice, size)


def _killed(
    place: Place,
    made: Place,
    of: tuple[str, Callable[[Place], None]],
    dice: random.Random,
    size: Size,
) -> Tally:
    what, deed = of
    tally = Tally(f"kill -9 in the middle of {what}")
    last = verify(made.hotel).last_digest
    begun = time.monotonic()
    steps = _child(_anew(made, place), deed, sys.maxsize, None)
    assert steps, "it is done whole where nobody kills it"
    lasts = time.monotonic() - begun
    tried = size.of(4, min(steps, MOST_STEPS))
    points: list[int | None] = [number * steps // tried for number in range(tried)]
    points += [None] * size.of(2, 10)
    for point in points:
        _anew(made, place)
        seconds = None if point is not None else dice.uniform(0, lasts)
        _child(place, deed, sys.maxsize if point is None else point, seconds)
        try:
            wrong = _wrong(place, last, deed)
        except Exception as error:
            wrong = f"{RAISES}: {type(error).__name__}: {error}"
        tally.count(wrong.partition(":")[0] if wrong else KEPT, f"step {point}: {wrong}")
    lots = points.count(None)
    in_turn = len(points) - lots
    tally.notes.append(f"{steps} steps, {in_turn} of them in their turn; {lots} moments by lot")
    return tally


def _anew(made: Place, place: Place) -> Place:
    shutil.rmtree(place.root, ignore_errors=True)
    shutil.copytree(made.root, place.root)
    return place


def _child(place: Place, deed: Callable[[Place], None], dies_at: int, after: float | None) -> int:
    """Do it in a child that dies before a step, or after so long; how many steps it took."""
    reads, writes = os.pipe()
    pid = os.fork()
    if not pid:
        taken = 0

        def count(event: str, values: tuple[object, ...]) -> None:
            nonlocal taken
            if event in STEPS and str(place.root) in str(values):
                if taken >= dies_at:
                    os.kill(os.getpid(), signal.SIGKILL)
                taken += 1

        try:
            sys.addaudithook(count)
            deed(place)
            os.write(writes, str(taken).encode())
        except BaseException as error:
            print(f"{type(error).__name__}: {error}", file=sys.stderr)
        finally:
            os._exit(0)
    os.close(writes)
    if after is not None:
        time.sleep(after)
        os.kill(pid, signal.SIGKILL)
    with os.fdopen(reads, "rb") as told:
        said = told.read()
    os.waitpid(pid, 0)
    return int(said or b"0")


def _wrong(place: Place, last: str, deed: Callable[[Place], None]) -> str:
    """What is wrong after a deed was killed, and after it was done again."""
    if wrong := _not_whole(place, last):
        return f"{LOST}: {wrong}"
    out = place.root / "out.zip"
    if deed is _export and out.exists():
        again = exporting.take_in(out, place.root / "taken.hotelwatch")
        if again.last_digest != last:
            return f"{WRONG}: half an export is there"
    is_done = {
        _restore: bool(list(place.root.glob("house-aside-*"))),
        _take_in: (place.root / "again.hotelwatch").exists(),
    }
    if not is_done.get(deed):
        deed(place)
    if deed is _take_in:
        found = verify(place.root / "again.hotelwatch")
        if found.last_digest != last or any("missing" in one.code for one in found.remarks):
            return f"{WRONG}: half a record was taken in"
    if wrong := _not_whole(place, last):
        return f"{LOST}: done again, {wrong}"
    if deed is _expire:
        holding = [file for file in (place.hotel, *place.copies()) if _has_name(file)]
        holding += set(place.root.rglob("*.jpg")) - set((place.root / "whole").rglob("*.jpg"))
        return f"{WRONG}: what expired is in {holding}" if holding else ""
    return ""


def _has_name(file: Path) -> bool:
    return NAME.encode() in file.read_bytes()


def _not_whole(place: Place, digest: str) -> str:
    """Every file of the hotel holds, and the last entry that was acknowledged is in one."""
    known = False
    for path in (place.hotel, *place.copies()):
        found = verify(path)
        if not found.is_sound:
            return f"{path.name} is not sound: {found.problems[:2]}"
        with closing(sqlite3.connect(path)) as plain:
            sql = "SELECT 1 FROM entry WHERE digest = ?"
            known |= plain.execute(sql, (digest,)).fetchone() is not None
    return "" if known else "the last entry is in no file"


def _made(place: Place) -> Place:
    place.stick.mkdir(parents=True)
    journal = create(place.hotel)
    house = House(shipped=rules())
    photos = folder_of(place.hotel)
    photos.mkdir()
    for number in range(4):
        content = bytes([number]) * 2000
        digest = sha256(content).hexdigest()
        (photos / f"{digest}.jpg").write_bytes(content)
        look = BedChecked(BED, RoomNo("0101"), day(number), CheckKind.DEEP, (NAME,), 9, ())
        facts = [look, PhotoKept("2026-001", digest, 2000)]
        if not number:
            facts += [HotelDescribed("House", "UTC"), RuleChosen("keeps_names", "1"),
                      RuleChosen("keeps_photos", "1")]  # fmt: skip
        at = moment(number * 40)
        house, _ = journal.append(
            lambda _house, facts=facts: facts, by="anna", action="test", at=at, house=house
        )
        wish = backups.Wish(place.hotel, at + timedelta(hours=1), UTC, place.wish.kept, place.stick)
        if number < 3:
            backups.back_up_now(wish)
    journal.close()
    exporting.export_everything(place.hotel, place.root / "whole")
    return place
