"""Backups of the record: which may go with age, and what going back to one would lose."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo

from hotelwatch.core.days import local_day, month_of
from hotelwatch.core.parameters import Figures
from hotelwatch.core.records import Entry

RULE = "back_up"
"""The hotel's choice of when backups are made by themselves; a key of profile.CHOICES."""
ON_CLOSING = frozenset({"closing_and_daily", "closing"})
DAILY = frozenset({"closing_and_daily", "daily"})
YEAR_DAYS = 366
"""A year is never cut short by a leap day."""


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup as it lies in its folder."""

    name: str
    made_at: datetime
    last_entry: int
    """0: the file had none yet."""
    digest: str
    """The digest of the last entry, as far as the name tells it."""
    is_sound: bool = True
    """Whether it looks whole from outside; only going through it tells for sure."""
    size: int = 0
    """Bytes."""


@dataclass(frozen=True, slots=True)
class Keeping:
    """For how long backups are kept."""

    all_days: float
    """Days for which all are."""
    daily_days: float
    """Days for which the last of each day is."""
    monthly_years: float
    """Years for which the last of each month is."""


@dataclass(frozen=True, slots=True)
class Counted:
    """How many entries of one action were recorded on a day."""

    on: date
    action: str
    count: int


@dataclass(frozen=True, slots=True)
class Loss:
    """What a file holds that a backup does not."""

    entries: int
    counted: tuple[Counted, ...]
    """By day, the latest first, then by action."""
    last_entry: int
    last_digest: str
    """Of the file's last entry; empty where it has none."""


def keeping(figures: Figures) -> Keeping:
    """For how long a hotel keeps its backups."""
    return Keeping(
        figures.backup_all_days.value,
        figures.backup_daily_days.value,
        figures.backup_monthly_years.value,
    )


def to_prune(
    backups: Iterable[Backup], *, now: datetime, zone: tzinfo, kept: Keeping
) -> tuple[Backup, ...]:
    """Which backups have had their time, the oldest first.

    The last of a day or a month is its last sound one, if it has any. The last sound
    one of all never goes, nor one from a day to come: then the clock was set back.
    """
    given = sorted(backups, key=lambda backup: (backup.is_sound, backup.made_at, backup.name))
    of_day = {local_day(backup.made_at, zone): backup for backup in given}
    of_month = {month_of(local_day(backup.made_at, zone)): backup for backup in given}
    last_sound = next((backup for backup in reversed(given) if backup.is_sound), None)

    def stays(backup: Backup) -> bool:
        age = now - backup.made_at
        day = local_day(backup.made_at, zone)
        return (
            backup == last_sound
            or age <= timedelta(days=kept.all_days)
            or (age <= timedelta(days=kept.daily_days) and of_day[day] == backup)
            or (
                age <= timedelta(days=kept.monthly_years * YEAR_DAYS)
                and of_month[month_of(day)] == backup
            )
        )

    gone = (backup for backup in given if not stays(backup))
    return tuple(sorted(gone, key=lambda backup: (backup.made_at, backup.name)))


def loss_of(entries: Sequence[Entry], zone: tzinfo) -> Loss:
    """What entries, in their order, come to that a backup lacks."""
    counts = Counter((local_day(entry.recorded_at, zone), entry.action) for entry in entries)
    rows = sorted(counts.items(), key=lambda item: (-item[0][0].toordinal(), item[0][1]))
    return Loss(
        len(entries),
        tuple(Counted(day, action, count) for (day, action), count in rows),
        entries[-1].number if entries else 0,
        entries[-1].digest if entries else "",
    )


def is_due(last_made_at: datetime | None, now: datetime, zone: tzinfo) -> bool:
    """Whether a day began since the last backup, or the clock went back behind it."""
    return last_made_at is None or local_day(last_made_at, zone) != local_day(now, zone)
