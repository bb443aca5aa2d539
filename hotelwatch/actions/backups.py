"""Backups: made by themselves or when asked for, listed, pruned, and gone back to.

All of it works through connections of its own, and so off the window's thread; only
``note_restore`` writes to the journal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, tzinfo
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.backups import (
    DAILY,
    ON_CLOSING,
    RULE,
    Backup,
    Keeping,
    Loss,
    keeping,
    loss_of,
    to_prune,
)
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.profile import CHOICES
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.record_facts import RecordRestored
from hotelwatch.store import backup_folder as folders
from hotelwatch.store.backup import ASIDE
from hotelwatch.store.expiring_copies import Copies, Reached, gone_of, reach
from hotelwatch.store.restoring import apart, put_back
from hotelwatch.store.verify import Verification, verify

RESTORE = "restore_record"


@dataclass(frozen=True, slots=True)
class Wish:
    """What to back up where, and what becomes of older ones."""

    path: Path
    """The hotel's file."""
    at: datetime
    zone: tzinfo
    kept: Keeping
    also_to: Path | None = None
    """A folder on another disk or share that gets a copy as well."""


@dataclass(frozen=True, slots=True)
class Made:
    """How a backup went."""

    backup: Backup
    is_new: bool
    """False: nothing was written down since that one."""
    pruned: int
    """How many older ones were deleted."""
    copied_to: Path | None = None
    copy_refused: Refusal | None = None
    """Why the copy elsewhere could not be made; the backup itself stands."""
    reached: Reached = field(default_factory=Reached)
    """To which older copies an expiry came only now, and to which it did not."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A backup in a list, and where it lies."""

    folder: Path
    backup: Backup
    is_elsewhere: bool
    """Whether it is the copy on the other disk or share."""

    @property
    def path(self) -> Path:
        """Where it lies."""
        return self.folder / self.backup.name


@dataclass(frozen=True, slots=True)
class Restoring:
    """What going back to a backup would do, as it was told."""

    path: Path
    backup: Path
    back_to: int
    back_digest: str
    present_is_readable: bool
    """False: the hotel's file can't be read, so nobody knows what it holds beyond."""
    loss: Loss
    gained: int
    """Entries of the backup that the file lacks."""
    expired_since: int
    """How many things the backup holds that have expired in the file: they go from it again."""
    present_last: tuple[int, str] | None
    """Number and digest of the file's last entry as it was told; None: not readable."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What was done."""

    told: Restoring
    aside: Path | None
    """Where the file lies that was there before; None: there was none."""


def backs_up(house: House) -> str:
    """When the hotel has backups made: a choice of profile.CHOICES."""
    return house.choices.get(RULE, "") or CHOICES[RULE].values[0]


def backs_up_on_closing(house: House) -> bool:
    """Whether a backup is made when the file is closed."""
    return backs_up(house) in ON_CLOSING


def backs_up_daily(house: House) -> bool:
    """Whether a backup is made each day while the file is open."""
    return backs_up(house) in DAILY


def wish_of(hotel: OpenHotel, also_to: Path | None = None) -> Wish:
    """The wish for a backup of an open hotel's file, now."""
    figures = hotel.house.rules.figures
    return Wish(hotel.path, hotel.now(), hotel.zone, keeping(figures), also_to)


def back_up_now(wish: Wish, progress: Progress = silent) -> Made:
    """Back up, copy it elsewhere, and delete backups that have had their time.

    Older ones are deleted only once the new one was opened and found whole.
    Refusal("backup_failed"), "damaged_file", "file_busy"; nothing is deleted then.
    """
    folder = folders.folder_beside(wish.path)
    backup, is_new = folders.keep_backup(wish.path, folder=folder, at=wish.at, progress=progress)
    made = Made(backup, is_new, _prune(wish, folder))
    if wish.also_to is not None:
        progress(1.0, "copying_elsewhere")
        made = _copied(made, wish, folder, wish.also_to)
    # Where one could not be reached as something expired, it is now.
    copies = Copies(wish.path, wish.also_to)
    return replace(made, reached=reach(copies, gone_of(wish.path), progress))


def _copied(made: Made, wish: Wish, folder: Path, place: Path) -> Made:
    try:
        kept = folder / made.backup.name
        target = folders.copy_elsewhere(kept, hotel_file=wish.path, place=place)
    except Refusal as refusal:
        return replace(made, copy_refused=refusal)
    _prune(wish, target.parent)
    return replace(made, copied_to=target)


def _prune(wish: Wish, folder: Path) -> int:
    listed = folders.list_backups(folder)
    old = to_prune(listed, now=wish.at, zone=wish.zone, kept=wish.kept)
    if not old:
        return 0
    first = folders.first_digest_of(wish.path)
    return len(folders.prune(folder, old, first_digest=first))


def list_backups(path: Path, also_to: Path | None = None) -> tuple[Listed, ...]:
    """A hotel's backups, the latest first; those elsewhere only that are not here as well."""
    here = folders.folder_beside(path)
    found = [Listed(here, backup, False) for backup in folders.list_backups(here)]
    names = {listed.backup.name for listed in found}
    if also_to is not None:
        there = folders.folder_in(also_to, path)
        try:
            more = folders.list_backups(there)
        except OSError as error:
            reason = str(error.strerror or error)
            raise Refusal("backup_copy_failed", folder=str(also_to), reason=reason) from error
        found += [Listed(there, backup, True) for backup in more if backup.name not in names]
    return tuple(sorted(found, key=lambda listed: listed.backup.made_at, reverse=True))


def last_backup(path: Path) -> Backup | None:
    """The latest backup in the folder beside a hotel's file."""
    return next(iter(folders.list_backups(folders.folder_beside(path))), None)


def check_backup(path: Path, backup: Path) -> Verification:
    """Go through a backup of a hotel's file, its photos and papers."""
    return verify(backup, beside=_beside(path, backup))


def check_all(path: Path, listed: Sequence[Listed], progress: Progress = silent) -> dict[Path, int]:
    """Go through backups; how many faults each has (-1: it could not even be opened)."""
    found: dict[Path, int] = {}
    for number, one in enumerate(listed):
        progress(number / len(listed), "checking_copy")
        try:
            found[one.path] = len(check_backup(path, one.path).problems)
        except Refusal:
            found[one.path] = -1
    return found


def tell_restore(path: Path, backup: Path, zone: tzinfo = UTC) -> Restoring:
    """What would be lost by going back to a backup; nothing is done.

    Refusal("backup_not_sound"), ("backup_of_another_hotel"), ("restores_itself").
    """
    if path.exists() and backup.exists() and path.samefile(backup):
        raise Refusal("restores_itself", file=str(path))
    found = apart(path, backup, beside=_beside(path, backup))
    return Restoring(
        path,
        backup,
        found.backup_last,
        found.backup_digest,
        found.present_is_readable,
        loss_of(found.lost, zone),
        found.gained,
        found.expired_since,
        found.present_last,
    )


def restore(told: Restoring, at: datetime) -> Restored:
    """Put the backup in the file's place; the file that was there is kept under another name.

    The hotel's file must not be open in this process. Refusal("file_went_on") where
    something was written down since it was told; ("file_busy"), ("backup_failed").
    """
    beside = _beside(told.path, told.backup)
    aside = put_back(told.path, told.backup, beside=beside, at=at, expected_last=told.present_last)
    return Restored(told, aside)


def note_restore(hotel: OpenHotel, done: Restored, *, reason: str) -> None:
    """Write down in the file that it went back; whoever may restore may note it."""
    told = done.told
    loss = told.loss
    last, digest = told.present_last or (0, "")
    fact = RecordRestored(
        told.back_to,
        loss.entries if told.present_is_readable else -1,
        last,
        digest,
        done.aside.name if done.aside else "",
        reason,
    )
    hotel.note(fact, action=RESTORE)


def _beside(path: Path, backup: Path) -> Path:
    """The name after which a backup's photos and papers are kept: its own, or its folder's.

    A file set aside shares those of the hotel's file.
    """
    if backup.parent == path.parent and backup.name.startswith(f"{path.stem}{ASIDE}"):
        return path
    ending = folders.ENDING
    if not backup.parent.name.endswith(ending):
        return backup
    return backup.parent / f"{backup.parent.name.removesuffix(ending)}{path.suffix}"
