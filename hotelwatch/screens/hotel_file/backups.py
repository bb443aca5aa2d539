"""Backups that the window makes by itself, and going back to one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from hotelwatch.actions import backups as deeds
from hotelwatch.actions.choices import choose_rule
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.backups import RULE, is_due
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import RecordRestored
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.context import Files
from hotelwatch.screens.at_hand.doors import Doors
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.frame.leaving import Doubt
from hotelwatch.screens.hotel_file.backups_dialog import BackupsDialog, Kept
from hotelwatch.wording.backups import restored_text
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import refusal_sentence

LOOKS_EVERY_MS = 60_000
TRIES_AGAIN = timedelta(hours=1)


class Window(Protocol):
    """What is asked of the window."""

    doors: Doors
    store: ChoiceStore
    files: Files
    jobs: Jobs
    notices: Notices

    def open_path(self, path: Path) -> bool:
        """Open a hotel's file."""

    def close(self) -> bool:
        """Close the window."""

    def show_welcome(self) -> None:
        """Show the first screen."""


@dataclass(frozen=True, slots=True)
class Leaving:
    """How the window leaves its hotel, and asks even while the desk is locked."""

    leave: Callable[[], object]
    ask: Callable[[Doubt, Callable[[], object]], object]


class Backups(QObject):
    """Makes a window's backups daily and on closing; shows them, and goes back to one."""

    def __init__(self, window: Window, leaving: Leaving, parent: QWidget) -> None:
        """Work for this window, in its jobs; by itself only where its doors have a clock."""
        super().__init__(parent)
        self._window, self._leaving, self._parent = window, leaving, parent
        self._hotel: OpenHotel | None = None
        self._not_before: datetime | None = None
        self._tried = ""
        self._going_back: tuple[str, str] = ("", "")
        self.dialog: BackupsDialog | None = None
        self._looking = QTimer(self, interval=LOOKS_EVERY_MS)
        self._looking.timeout.connect(self.look)

    # --- by itself ------------------------------------------------------------------

    def begin(self, hotel: OpenHotel) -> None:
        """Back this hotel up from now on."""
        self._hotel, self._not_before, self._tried = hotel, None, ""
        if self._window.doors.clock is not None:
            self._looking.start()

    def leave(self) -> None:
        """Let go of the hotel; where a backup is made on closing, it is made behind it."""
        self._looking.stop()
        wish = self._wish_on_closing()
        self._hotel = None
        if self.dialog is not None:
            self.dialog.close()
        if wish is not None:
            self._run(wish, on_done=self._take, on_failed=self._fail)

    def look(self) -> None:
        """Make today's backup, if it is wanted, due and not under way."""
        hotel = self._hotel
        if hotel is None or self._window.jobs.is_busy or not deeds.backs_up_daily(hotel.house):
            return
        now = hotel.now()
        if self._not_before is not None and now < self._not_before:
            return
        last = deeds.last_backup(hotel.path)
        if is_due(last.made_at if last else None, now, hotel.zone):
            self._not_before = now + TRIES_AGAIN
            self._run(self._wish(hotel), on_done=self._take, on_failed=self._fail)

    def before_closing(self) -> bool:
        """Begin the backup that is made on closing; whether closing waits for it."""
        wish = self._wish_on_closing()
        if wish is None or self._hotel is None:
            return False
        self._tried = _last_digest(self._hotel)
        self._window.jobs.run(
            deeds.back_up_now,
            wish,
            label=_("Backing up before closing"),
            for_all=True,
            on_done=self._close_after,
            on_failed=self._close_all_the_same,
        )
        return True

    def _wish_on_closing(self) -> deeds.Wish | None:
        """The backup wanted on closing; None where none is, or it was tried, or nothing is new."""
        hotel = self._hotel
        if hotel is None or self._window.doors.clock is None:
            return None
        digest = _last_digest(hotel)
        if self._tried == digest or not deeds.backs_up_on_closing(hotel.house):
            return None
        last = deeds.last_backup(hotel.path)
        is_known = last is not None and last.is_sound and last.digest == digest[:12]
        return None if is_known else self._wish(hotel)

    def _wish(self, hotel: OpenHotel) -> deeds.Wish:
        return deeds.wish_of(hotel, self._window.store.choices.backup_place)

    def _run(
        self,
        wish: deeds.Wish,
        *,
        on_done: Callable[[deeds.Made], object],
        on_failed: Callable[[Exception], object],
    ) -> None:
        self._window.jobs.run(
            deeds.back_up_now,
            wish,
            label=_("Backing up"),
            on_done=on_done,
            on_failed=on_failed,
            unasked=True,
            gives_way=True,
        )

    def _take(self, made: deeds.Made) -> None:
        if made.copy_refused is not None:
            self._window.notices.warn(_said(made.copy_refused))
        self._show_again()

    def _fail(self, error: Exception) -> None:
        self._window.notices.fail(error)

    def _close_after(self, made: deeds.Made) -> None:
        if made.copy_refused is None:
            self._window.close()
        else:
            self._close_all_the_same(made.copy_refused)

    def _close_all_the_same(self, error: Exception) -> None:
        if isinstance(error, Refusal):
            doubt = Doubt(_said(error), _("Close all the same"))
            self._leaving.ask(doubt, self._window.close)
        else:
            self._window.notices.fail(error)

    # --- by hand --------------------------------------------------------------------

    def show(self, path: Path | None = None) -> None:
        """Show the backups of the open hotel, or of a file that can't be opened."""
        path = self._hotel.path if self._hotel is not None else path
        if path is None or self._window.doors.clock is None:
            return
        if self.dialog is not None:
            self.dialog.close()
            self.dialog.deleteLater()
        self.dialog = BackupsDialog(
            path, self._window.jobs, seated=self._hotel, parent=self._parent
        )
        self.dialog.back_up_wanted.connect(self.back_up)
        self.dialog.check_wanted.connect(self._check)
        self.dialog.restore_wanted.connect(self._tell_restore)
        self.dialog.going_back.connect(self._go_back)
        self.dialog.place_wanted.connect(self._choose_place)
        self.dialog.no_place_wanted.connect(partial(self._keep_place, ""))
        self.dialog.when_chosen.connect(self._choose_when)
        self.dialog.folder_wanted.connect(self._window.files.show)
        self._show_again()
        self.dialog.open()

    def way_back(self, path: Path) -> tuple[str, Callable[[], object]] | None:
        """A button's text and what it does, where a file that can't be opened has backups."""
        if self._window.doors.clock is None or deeds.last_backup(path) is None:
            return None
        return _("Backups…"), partial(self.show, path)

    def back_up(self) -> None:
        """Back up now."""
        if self._hotel is not None and self.dialog is not None:
            self._window.jobs.run(
                deeds.back_up_now,
                self._wish(self._hotel),
                label=_("Backing up"),
                on_done=self._tell_made,
                on_failed=self.dialog.notices.fail,
            )

    def _tell_made(self, made: deeds.Made) -> None:
        self._show_again()
        if self.dialog is not None:
            self.dialog.tell_made(made)

    def _check(self) -> None:
        if self.dialog is not None:
            self._window.jobs.run(
                deeds.check_all,
                self.dialog.path,
                self.dialog.listed,
                label=_("Looking through the backups"),
                on_done=self.dialog.tell_checked,
                on_failed=self.dialog.notices.fail,
            )

    def _tell_restore(self, one: deeds.Listed) -> None:
        if self.dialog is not None:
            self._window.jobs.run(
                deeds.tell_restore,
                self.dialog.path,
                one.path,
                self._hotel.zone if self._hotel is not None else UTC,
                label=_("Looking what would be lost"),
                on_done=self.dialog.tell_loss,
                on_failed=self.dialog.notices.fail,
            )

    def _show_again(self) -> None:
        if self.dialog is None:
            return
        choices = self._window.store.choices
        with self.dialog.notices.refusals():
            listed = deeds.list_backups(self.dialog.path, choices.backup_place)
            house = self._hotel.house if self._hotel is not None else None
            zone = self._hotel.zone if self._hotel is not None else UTC
            self.dialog.show_kept(Kept(listed, choices.copy_backups_to, zone, house))

    def _choose_place(self) -> None:
        title = _("Copy each backup also to")
        self._window.files.folder(title, Path.home(), lambda place: self._keep_place(str(place)))

    def _keep_place(self, place: str) -> None:
        store = self._window.store
        store.keep(replace(store.choices, copy_backups_to=place))
        self._show_again()

    def _choose_when(self, choice: str) -> None:
        if self._hotel is not None and self.dialog is not None:
            with self.dialog.notices.refusals():
                choose_rule(self._hotel, RULE, choice)
            self._show_again()

    # --- going back -----------------------------------------------------------------

    def _go_back(self, told: deeds.Restoring, reason: str) -> None:
        clock, dialog = self._window.doors.clock, self.dialog
        if clock is None or dialog is None:
            return
        with dialog.notices.refusals():
            if self._hotel is not None:
                self._hotel.require(RecordRestored, action=deeds.RESTORE)
            by = self._hotel.by if self._hotel is not None else ""
            self._going_back = (reason, by)
            self._tried = _last_digest(self._hotel) if self._hotel is not None else ""
            self._leaving.leave()
            self._window.show_welcome()
            self._window.jobs.run(
                deeds.restore,
                told,
                clock(),
                label=_("Going back to the backup"),
                for_all=True,
                on_done=self._went_back,
                on_failed=partial(self._stayed, told.path),
            )

    def _went_back(self, done: deeds.Restored) -> None:
        reason, by = self._going_back
        if not self._window.open_path(done.told.path) or self._hotel is None:
            return
        self._hotel.by = by or self._hotel.by
        with self._window.notices.refusals():
            deeds.note_restore(self._hotel, done, reason=reason)
            name = done.aside.name if done.aside is not None else ""
            self._window.notices.done(restored_text(done.told.back_to, name))

    def _stayed(self, path: Path, error: Exception) -> None:
        self._window.open_path(path)
        self._window.notices.fail(error)


def _said(refusal: Refusal) -> str:
    return " ".join(refusal_sentence(refusal)).strip()


def _last_digest(hotel: OpenHotel) -> str:
    entries = hotel.house.entries
    return entries[next(reversed(list(entries)))].digest if entries else ""
