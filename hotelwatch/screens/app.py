"""Starts the window. Of all screens only this one reads the clock."""

from __future__ import annotations

import getpass
import logging
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from importlib import import_module
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

import PySide6
from PySide6.QtCore import QLibraryInfo, QLocale, QObject, QTimer, QTimeZone, QTranslator, Signal
from PySide6.QtWidgets import QApplication

from hotelwatch import paths
from hotelwatch.actions.hotel import start_hotel
from hotelwatch.actions.open_hotel import OpenHotel, open_hotel, read_house
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.intake.rules_file import read_rules
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.doors import DEMO_FILE, Doors
from hotelwatch.screens.look.theme import Look, TextSize, Theme
from hotelwatch.screens.pages import READ_IN_QUIET, page_specs
from hotelwatch.screens.window import MainWindow
from hotelwatch.wording import language

BROKEN_QT = ((6, 12, 0), (3, 12))
"""This PySide6 lets go of None once too often below this Python, until it aborts."""
LOG_BYTES = 500_000
LOG_FILES = 3
QUIET_MS = 700


def wall_clock() -> datetime:
    """The moment, in UTC. The window reads the clock here and nowhere else."""
    return datetime.now(UTC)  # noqa: TID251


def refuse_broken_qt(
    qt: tuple[int, ...] = PySide6.__version_info__[:3],
    python: tuple[int, ...] = sys.version_info[:2],
) -> None:
    """Refuse to start with a Qt that would abort while one works."""
    broken, sound_from = BROKEN_QT
    if tuple(qt[:3]) == broken and tuple(python[:2]) < sound_from:
        raise Refusal(
            "qt_breaks_on_this_python",
            qt=".".join(map(str, qt[:3])),
            python=".".join(map(str, python[:2])),
        )


@dataclass(frozen=True, slots=True)
class HotelDoors:
    """Opens, starts and builds hotels for the window, in the name of whoever sits there."""

    rules: Rules
    store: ChoiceStore

    def writer(self) -> str:
        """Who writes, until the person says otherwise."""
        return self.store.choices.written_by or getpass.getuser()

    def open(self, path: Path, house: House | None = None) -> OpenHotel:
        """Open a hotel's file; ``house`` is what was read of it already."""
        by = self.writer()
        return open_hotel(path, self.rules, clock=wall_clock, by=by, house=house)

    def read(self, path: Path) -> House:
        """Read a hotel's file on a worker's thread."""
        return read_house(path, self.rules, now=wall_clock())

    def start(self, path: Path, described: HotelDescribed) -> OpenHotel:
        """Make a hotel's file."""
        return start_hotel(path, described, self.rules, clock=wall_clock, by=self.writer())


def make_demo(rules: Rules, folder: Path, progress: Progress = silent) -> Path:
    """Build the invented hotel where it is not there yet; where its file lies."""
    path = folder / DEMO_FILE
    if not path.exists():
        from hotelwatch.actions.demo.build import build_demo

        folder.mkdir(parents=True, exist_ok=True)
        build_demo(path, rules, now=wall_clock(), progress=progress)
    return path


class Alarm(QObject):
    """Brings errors nobody caught, on whatever thread, to the window's dialog."""

    rang = Signal(object)

    def hook(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Take the place of sys.excepthook."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
            return
        self.rang.emit(error)

    def thread_hook(self, args: threading.ExceptHookArgs) -> None:
        """Take the place of threading.excepthook."""
        if args.exc_value is not None:
            self.rang.emit(args.exc_value)


def keep_log(folder: Path) -> None:
    """Write warnings and errors to a file that stays small. No guest is ever named in it."""
    writing = RotatingFileHandler(
        folder / "hotelwatch.log",
        maxBytes=LOG_BYTES,
        backupCount=LOG_FILES,
        encoding="utf-8",
        delay=True,
    )
    writing.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    logging.getLogger("hotelwatch").addHandler(writing)


class QuietReading(QObject):
    """Reads in the pages that nobody has asked for yet, one after the other."""

    def __init__(self, modules: Sequence[str], parent: QObject) -> None:
        """Begin a little later: the first page comes first."""
        super().__init__(parent)
        self._left = list(modules)
        self._timer = QTimer(self, interval=QUIET_MS)
        self._timer.timeout.connect(self._read_one)
        self._timer.start()

    @property
    def is_reading(self) -> bool:
        """Whether some are left."""
        return self._timer.isActive()

    def _read_one(self) -> None:
        if self._left:
            import_module(self._left.pop(0))
        if not self._left:
            self._timer.stop()


def make_window(app: QApplication, store: ChoiceStore) -> MainWindow:
    """The window with all its pages, dressed as the person chose."""
    look = Look(app)
    look.choose(Theme(store.choices.theme), TextSize(store.choices.text_size))
    rules = read_rules(paths.resources())
    coming = HotelDoors(rules, store)
    doors = Doors(
        open=coming.open,
        read=coming.read,
        start=coming.start,
        make_demo=partial(make_demo, rules, paths.data_folder() / "demo"),
        folder=Path.home(),
        drafts=paths.data_folder() / "drafts",
        clock=wall_clock,
        zone=bytes(QTimeZone.systemTimeZoneId().data()).decode(),
    )
    return MainWindow(doors, page_specs(), look=look, store=store)


def run_window(path: Path | None) -> int:
    """Show the window on a hotel's file, the last one, or the first screen; its exit status."""
    refuse_broken_qt()
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)  # nothing else makes one here
    app.setApplicationName("hotelwatch")
    app.setApplicationDisplayName("hotelwatch")
    app.setDesktopFileName("hotelwatch")
    keep_log(paths.data_folder())
    translator = QTranslator(app)
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if translator.load(QLocale(language.current()), "qtbase", "_", folder):
        app.installTranslator(translator)
    store = ChoiceStore(paths.config_folder())
    window = make_window(app, store)
    alarm = Alarm()
    alarm.rang.connect(window.notices.bug)
    sys.excepthook, threading.excepthook = alarm.hook, alarm.thread_hook
    last = Path(store.choices.last_file) if store.choices.last_file else None
    wanted = path or (last if last is not None and last.exists() else None)
    if store.choices.is_maximised:
        window.showMaximized()
    else:
        window.show()
    if wanted is not None:
        window.opening.open_first(wanted)
    QuietReading(READ_IN_QUIET, window)
    try:
        return app.exec()
    finally:
        sys.excepthook, threading.excepthook = sys.__excepthook__, threading.__excepthook__
