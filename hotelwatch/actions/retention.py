"""Let photos, papers, names and notes go whose time is over; stop that for a dispute."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel, open_hotel
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, Fact
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.record_facts import ContentExpired, Expiring, ExpiryStopped
from hotelwatch.core.records import Changes
from hotelwatch.core.retention import (
    Keeping,
    Verdict,
    facts_of,
    files_of,
    keepings,
    stopped,
    verdicts,
)
from hotelwatch.store.expiring import delete_files, is_there, tidy, words_there
from hotelwatch.store.expiring_copies import Copies, Reached, behind, gone_of, reach
from hotelwatch.store.hotel_file import open_file
from hotelwatch.store.journal import Journal
from hotelwatch.store.loading import load
from hotelwatch.store.print_folder import empty_print_folder

EXPIRE = "expire"
STOP = "stop_expiry"


@dataclass(frozen=True, slots=True)
class Looked:
    """What would go, and why the rest stays."""

    found: tuple[Verdict, ...]
    keepings: dict[Expiring, Keeping]
    stopped: dict[str, ExpiryStopped]
    behind: Reached
    """Backups that still hold what has expired (``changed``), and those that can't be told of."""


@dataclass(frozen=True, slots=True)
class Expired:
    """What went."""

    facts: tuple[ContentExpired, ...]
    is_tidy: bool
    """False: another window had the file, so parts that are not used may still hold words."""
    reached: Reached
    """From which backups and files set aside it went as well, and which still hold it."""


@dataclass(frozen=True, slots=True)
class Desk:
    """On whose behalf a worker opens the file."""

    path: Path
    rules: Rules
    clock: Callable[[], datetime]
    by: str
    person: str = ""
    copied_to: Path | None = None
    """The folder on another disk or share to which backups are copied."""


def look(
    path: Path,
    rules: Rules,
    *,
    now: datetime,
    copied_to: Path | None = None,
    progress: Progress = silent,
) -> Looked:
    """What would go on that day; read through a connection of its own, nothing is written."""
    progress(0.0, "reading")
    journal = open_file(path, read_only=True)
    try:
        house = load(journal, rules)
        progress(0.6, "looking")
        found = _found(journal, house, local_day(now, house.zone))
    finally:
        journal.close()
    lag = behind(Copies(path, copied_to), gone_of(path), progress)
    return Looked(found, dict(keepings(house)), dict(stopped(house)), lag)


def expire(hotel: OpenHotel, copied_to: Path | None = None, progress: Progress = silent) -> Expired:
    """Delete what is due, and write down what went; what was left over before goes too.

    The entry and the going of words are one step. Files and copies come after it: where
    that is cut short, the next time or the next backup sees to what was left. Papers made
    to be printed go whatever is due: they may bear what went.
    """
    progress(0.0, "looking")
    went: list[ContentExpired] = []

    def decide(house: House) -> Sequence[Fact]:
        # Whether a case is over rests on looks that may be older than what is at hand.
        whole = load(hotel.journal, house.shipped)
        went.extend(facts_of(whole, _found(hotel.journal, whole, hotel.today())))
        return went

    hotel.record(decide, action=EXPIRE)
    progress(0.5, "deleting")
    gone = gone_of(hotel.path)
    delete_files(hotel.path, (fact for _, fact in gone.facts))
    empty_print_folder(hotel.path)
    is_tidy = tidy(hotel.journal.db) if went else True
    return Expired(tuple(went), is_tidy, reach(Copies(hotel.path, copied_to), gone, progress))


def expire_apart(desk: Desk, progress: Progress = silent) -> Expired:
    """As ``expire``, through a connection of its own: for a worker of a window."""
    hotel = open_hotel(desk.path, desk.rules, clock=desk.clock, by=desk.by)
    try:
        hotel.person = desk.person
        return expire(hotel, desk.copied_to, progress)
    finally:
        hotel.close()


def stop_expiry(hotel: OpenHotel, *, case: str = "", by: str, reason: str, holds: bool) -> Changes:
    """Let nothing of a case, or nothing at all, expire; or take that back.

    Refusal("stop_needs_reason"), ("stop_needs_name"), ("unknown_case"), ("nothing_stopped").
    """
    if not reason.strip():
        raise Refusal("stop_needs_reason")
    if not by.strip():
        raise Refusal("stop_needs_name")

    def decide(house: House) -> Sequence[Fact]:
        if case and case not in house.sightings:
            raise Refusal("unknown_case", case=case)
        if not holds and case not in stopped(house):
            raise Refusal("nothing_stopped")
        return [ExpiryStopped(CaseNo(case), by.strip(), reason.strip(), holds)]

    return hotel.record(decide, action=STOP)


def _found(journal: Journal, house: House, today: date) -> tuple[Verdict, ...]:
    files = tuple(content for content in files_of(house) if is_there(journal.path, content))
    return verdicts(house, (*files, *words_there(journal.db)), today)
