"""Backups in words: what was made, what a restore would lose, and what is not possible."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo
from typing import Protocol

from hotelwatch.core.backups import Loss
from hotelwatch.core.parameters import Figures
from hotelwatch.wording.dates import day_text, days_text, moment_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

BACKUPS: dict[str, tuple[str, str]] = {
    "backup_failed": (
        m("The backup could not be written to {folder}. {reason}."),
        m("Work goes on and is saved. Make room there, or ask for the right to write there."),
    ),
    "backup_copy_failed": (
        m("The backup could not be copied to {folder}. {reason}."),
        m("The backup beside the hotel's file stands. Look whether that disk or share is there."),
    ),
    "restore_failed": (
        m("Going back could not be done in {folder}. {reason}."),
        m("The record is as it was. Make room there, or ask for the right to write there."),
    ),
    "no_backup": (
        m("{file} is none of the backups that this program makes by itself."),
        m("Choose one from the list of backups."),
    ),
    "backup_not_sound": (
        m("The backup {file} does not hold; nothing was changed."),
        m("Choose another backup. Keep this one: somebody may still read parts of it."),
    ),
    "backup_of_another_hotel": (
        m("{file} is a backup of another hotel; nothing was changed."),
        m("Choose a backup of this hotel, or open that file beside this one."),
    ),
    "restores_itself": (
        m("{file} is the hotel's file itself; nothing was changed."),
        m("Choose a backup."),
    ),
    "file_went_on": (
        m("Something was written down in {file} meanwhile; nothing was changed."),
        m("Look again at what would be lost, then decide anew."),
    ),
}
_KIB = 1024


def size_text(size: int) -> str:
    """A file's size: "812 KB" or "29.1 MB"."""
    if size < _KIB * _KIB:
        return _("{n} KB").format(n=-(-size // _KIB))
    return _("{n} MB").format(n=f"{size / (_KIB * _KIB):.1f}")


def pruned_text(count: int) -> str:
    """How many older backups were deleted; empty for none."""
    if not count:
        return ""
    return ngettext(
        "{n} older backup had its time and was deleted.",
        "{n} older backups had their time and were deleted.",
        count,
    ).format(n=count)


class Told(Protocol):
    """What going back would do."""

    @property
    def loss(self) -> Loss:
        """What the file holds and the backup does not."""

    @property
    def present_is_readable(self) -> bool:
        """Whether anybody can say what that is."""

    @property
    def gained(self) -> int:
        """Entries of the backup that the file lacks."""

    @property
    def expired_since(self) -> int:
        """Things that the backup holds and that have expired in the file."""


def loss_heading(told: Told) -> str:
    """What going back would lose, in a sentence or more; what would be lost comes last."""
    if not told.present_is_readable:
        return _(
            "The hotel's file can't be read: nobody can say what it holds that the backup does"
            " not. Names and notes may come back that have expired since: look afterwards what"
            " is due to go."
        )
    said = []
    if told.expired_since:
        said.append(
            ngettext(
                "{n} thing in the backup has expired since, and goes from it again.",
                "{n} things in the backup have expired since, and go from it again.",
                told.expired_since,
            ).format(n=told.expired_since)
        )
    if told.gained:
        said.append(
            ngettext(
                "The backup holds {n} entry that the file lacks.",
                "The backup holds {n} entries that the file lacks.",
                told.gained,
            ).format(n=told.gained)
        )
    return " ".join((*said, _lost_text(told.loss)))


def _lost_text(loss: Loss) -> str:
    if not loss.entries:
        return _("Nothing would be lost: the backup holds all that the file holds.")
    return ngettext(
        "{n} entry would be lost from the record:",
        "{n} entries would be lost from the record:",
        loss.entries,
    ).format(n=loss.entries)


def back_to_text(made_at: datetime | None, entry: int, zone: tzinfo) -> str:
    """To which backup one would go back."""
    if made_at is None:
        return _("Back to the backup that ends with entry {entry}.").format(entry=entry)
    return _("Back to the backup of {moment}, which ends with entry {entry}.").format(
        moment=moment_text(made_at, zone), entry=entry
    )


def loss_lines(loss: Loss) -> Iterator[str]:
    """What would be lost, by day and kind; last the digest by which it is found again."""
    for counted in loss.counted:
        yield _("{day}: {count} × {action}").format(
            day=day_text(counted.on), count=counted.count, action=label(counted.action)
        )
    if loss.entries:
        yield _("The last of them is entry {entry}, its digest {digest}.").format(
            entry=loss.last_entry, digest=loss.last_digest
        )


def kept_text(figures: Figures) -> str:
    """For how long backups are kept, by the hotel's figures."""
    return _(
        "All backups of {all} are kept, the last of each day for {daily}, the last of each"
        " month for {years}. The last sound one is never deleted. The page of rules has"
        " these figures."
    ).format(
        all=days_text(round(figures.backup_all_days.value)),
        daily=days_text(round(figures.backup_daily_days.value)),
        years=_years_text(round(figures.backup_monthly_years.value)),
    )


def _years_text(years: int) -> str:
    return ngettext("{n} year", "{n} years", years).format(n=years)


def made_text(name: str, *, is_new: bool, pruned: int) -> str:
    """How a backup went."""
    made = _("Backed up to {file}.") if is_new else _("Nothing was written down since {file}.")
    return f"{made.format(file=name)} {pruned_text(pruned)}".strip()


def state_text(*, is_checked: bool, holds: bool) -> str:
    """Whether a backup holds, as far as anybody looked."""
    if not holds:
        return _("does not hold")
    return _("holds") if is_checked else _("not looked through")


def checked_text(count: int, bad: int) -> str:
    """What looking through all backups found."""
    if bad:
        said = ngettext("{n} backup does not hold.", "{n} backups do not hold.", bad)
        return said.format(n=bad)
    said = ngettext(
        "{n} backup was looked through and holds.",
        "{n} backups were looked through and hold.",
        count,
    )
    return said.format(n=count)


def restored_text(back_to: int, aside: str) -> str:
    """That the record went back, and where the file is that was there."""
    went = _("Restored. The record goes on from entry {entry}.").format(entry=back_to)
    if not aside:
        return went
    return went + " " + _("The file that was there is kept as {file}.").format(file=aside)


def aside_text(name: str) -> str:
    """Where the present file goes."""
    return _("The present file is not deleted: it is kept beside it as {file}.").format(file=name)
