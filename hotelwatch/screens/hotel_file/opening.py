"""Coming by a hotel: asking for its file, reading it off the window's thread, leaving the last."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.context import Files
from hotelwatch.screens.at_hand.doors import Doors
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.frame.leaving import doubt_about_another_file
from hotelwatch.wording.language import _

HOTEL_FILES = "*.hotelwatch"


class Window(Protocol):
    """What is asked of the window."""

    doors: Doors
    store: ChoiceStore
    files: Files
    jobs: Jobs
    notices: Notices


@dataclass(frozen=True, slots=True)
class Room:
    """What the window does with a hotel that was opened, and what is typed in it until then."""

    show: Callable[[OpenHotel], object]
    pages: Callable[[], Iterable[QWidget]]
    adapt: Callable[[], object]
    """Lists recent files anew."""


class Opening(QObject):
    """Opens hotels for a window; nothing typed in the one before is lost unasked."""

    reading = Signal(str)
    """The name of the file that is read now."""
    failed = Signal()
    """It could not be opened; why stands in a notice."""

    def __init__(self, window: Window, room: Room, parent: QObject) -> None:
        """Open for this window, through its doors and as its jobs."""
        super().__init__(parent)
        self._doors, self._store, self._files = window.doors, window.store, window.files
        self._jobs, self._notices, self._room = window.jobs, window.notices, room
        self._path = Path()
        self.way_back: Callable[[Path], tuple[str, Callable[[], object]] | None] = _no_way
        """What leads to the backups of a file, and its button's text; None: it has none."""

    # --- what a person asks for --------------------------------------------------

    def choose_file(self) -> None:
        """Ask for a hotel's file and open it."""
        kinds = _("Hotel files ({patterns})").format(patterns=HOTEL_FILES)
        self._files.open(_("Open a hotel file"), kinds, self.ask_to_open)

    def open_demo(self) -> None:
        """Build the invented hotel, then open it; ask before the minutes that it takes."""
        self._ask_first(
            partial(self._build, self.ask_to_open), all_the_same=partial(self._build, self._read)
        )

    def start(self, path: Path, described: HotelDescribed) -> None:
        """Make a hotel's file and open it."""
        self._ask_first(partial(self._start, path, described))

    def ask_to_open(self, path: Path) -> None:
        """Read a hotel's file and show it; ask first where something is done or typed."""
        self._ask_first(partial(self._read, path))

    def open_first(self, path: Path) -> None:
        """Open the file with which the program starts."""
        self._read(path)

    def open_at_once(self, path: Path) -> bool:
        """Open a hotel's file here and now; False, and why in a notice, if it can't be."""
        try:
            self._room.show(self._doors.open(path))
        except Refusal as refusal:
            self._refuse(path, refusal)
            return False
        return True

    # --- inside -------------------------------------------------------------------

    def _ask_first(
        self, then: Callable[[], object], *, all_the_same: Callable[[], object] | None = None
    ) -> None:
        """``all_the_same`` is done instead where somebody lets go of what is typed."""
        is_busy = self._jobs.does_asked_work
        doubt = doubt_about_another_file(self._room.pages(), is_busy=is_busy)
        if doubt is None:
            then()
            return
        if all_the_same is not None and not is_busy:
            then = all_the_same
        until = self._jobs.idle if doubt.is_of_work else None
        self._notices.ask(doubt.text, doubt.yes_text, partial(self._stop_and, then), until=until)

    def _stop_and(self, then: Callable[[], object]) -> None:
        self._jobs.stop_all()
        then()

    def _build(self, then: Callable[[Path], object]) -> None:
        making, label = self._doors.make_demo, _("Building the invented hotel")
        self._jobs.run(making, label=label, on_done=then)

    def _start(self, path: Path, described: HotelDescribed) -> None:
        with self._notices.refusals():
            self._room.show(self._doors.start(path, described))

    def _read(self, path: Path) -> None:
        if self._doors.read is None:
            self.open_at_once(path)
            return
        self._path = path
        self.reading.emit(path.name)
        self._jobs.run(
            self._doors.read,
            path,
            label=_("Opening {file}").format(file=path.name),
            on_done=self._show,
            on_failed=self._fail,
            on_stopped=self.failed.emit,
        )

    def _show(self, house: House) -> None:
        try:
            self._room.show(self._doors.open(self._path, house))
        except Refusal as refusal:
            self._refuse(self._path, refusal)

    def _fail(self, error: Exception) -> None:
        if isinstance(error, Refusal):
            self._refuse(self._path, error)
        else:
            self.failed.emit()
            self._notices.fail(error)

    def _refuse(self, path: Path, refusal: Refusal) -> None:
        self.failed.emit()
        is_harmed = refusal.code in ("damaged_file", "not_a_hotel_file", "no_such_file")
        way = self.way_back(path) if is_harmed else None
        self._notices.refuse(refusal, *(way or ()))
        if refusal.code == "no_such_file":
            self._store.keep(self._store.choices.without(str(path)))
            self._room.adapt()


def _no_way(_path: Path) -> None:
    """Stand in until somebody keeps backups."""
