"""Who sits at the desk: locks it, lets people in by their PIN, and gives each their own pages.

While it is locked the window shows names and a pad and nothing of the hotel. Work under way
goes on, and what is half entered stays on its page until the same person comes back.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QMimeData, QObject, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QMainWindow,
    QMenu,
    QStackedWidget,
    QToolTip,
    QWidget,
)

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.people import get_up, sit_down
from hotelwatch.core.case_facts import Sighted
from hotelwatch.core.facts import Topic
from hotelwatch.core.people import people
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.core.roles import Seat, Sight
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.forms.pin_form import PinForm
from hotelwatch.screens.frame.leaving import Doubt
from hotelwatch.screens.frame.menus import Rights
from hotelwatch.screens.frame.page_stack import PageStack
from hotelwatch.screens.frame.page_tabs import TABS
from hotelwatch.screens.layout.page_frame import PageFrame
from hotelwatch.screens.lock.idle_watch import IdleWatch
from hotelwatch.screens.lock.lock_screen import LockScreen
from hotelwatch.screens.tables.copying import OURS
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import refusal_sentence

LOCKED_TITLE = "hotelwatch"


@dataclass(frozen=True, slots=True)
class Covered:
    """What lies behind the lock."""

    whole: QWidget
    stack: PageStack
    notices: Notices
    jobs: Jobs


class DeskLock(QObject):
    """The lock of one window; while nobody is described it stays open."""

    entered = Signal()
    """Somebody may work now, perhaps with other pages than whoever was there before."""

    def __init__(self, window: QMainWindow, covered: Covered) -> None:
        """Open, without a hotel."""
        super().__init__(window)
        self._window, self._covered = window, covered
        self._hotel: OpenHotel | None = None
        self._make: Callable[[], Context] | None = None
        self._shown: Seat | None = None
        self._focus: QWidget | None = None
        self.screen = LockScreen()
        self.screen.tried.connect(self._try)
        self.cover = QStackedWidget()
        self.cover.addWidget(covered.whole)
        self._framed = PageFrame(self.screen)
        self.cover.addWidget(self._framed)
        self.idle = IdleWatch(self)
        self.idle.idle.connect(self.lock)
        covered.jobs.idle.connect(self._say_whether_work_goes_on)

    @property
    def is_locked(self) -> bool:
        """Whether nothing of the hotel may be seen now."""
        return self.cover.currentWidget() is self._framed

    def rights(self) -> Rights:
        """What the menus offer to who sits there."""
        hotel = self._hotel
        if hotel is None or not hotel.is_guarded:
            return Rights()
        copies, logs = hotel.sees(Sight.RECORD), hotel.may(Sighted)
        return Rights(
            self.shown_pages(), copies, logs, can_lock=True, no_tabs=self._tabs_not_there(hotel)
        )

    def _tabs_not_there(self, hotel: OpenHotel) -> frozenset[tuple[str, str]]:
        return frozenset(
            (page, tab.code)
            for page, tabs in TABS.items()
            for tab in tabs
            if tab.needs is not None
            and not hotel.sees(tab.needs)
            and not (tab.writes and hotel.may(*tab.writes))
        )

    def shown_pages(self) -> frozenset[str]:
        """Keys of the pages that who sits there may see."""
        hotel, specs = self._hotel, self._covered.stack.specs
        if hotel is None:
            return frozenset()
        return frozenset(
            key
            for key, spec in specs.items()
            if (spec.needs is None or hotel.sees(spec.needs)) and hotel.may(*spec.writes)
        )

    # --- coming and going ---------------------------------------------------------

    def begin(self, hotel: OpenHotel, make: Callable[[], Context]) -> None:
        """Let somebody work on this hotel: at once, or with a PIN where people have one."""
        self._hotel, self._make, self._shown = hotel, make, None
        if hotel.is_guarded:
            self.lock()
        else:
            self._open_pages()
            self._uncover()

    def end(self) -> None:
        """The hotel is left."""
        self.idle.stop()
        self._hotel = self._make = self._shown = self._focus = None
        self._covered.jobs.seat("")
        self._uncover()

    def lock(self) -> None:
        """Hide everything until somebody gives a PIN; what is half entered stays."""
        hotel = self._hotel
        if hotel is None or not hotel.is_guarded or (self.is_locked and not hotel.person):
            return
        now = QApplication.focusWidget()
        self._focus = now if now and self._covered.whole.isAncestorOf(now) else None
        last = self._shown.person if self._shown else ""
        get_up(hotel)
        self._covered.jobs.seat("", is_locked=True)
        self.idle.stop()
        self._close_what_floats()
        self.screen.show_people(tuple(people(hotel.house)), last)
        self._say_whether_work_goes_on()
        self._window.menuBar().hide()
        self._window.setWindowTitle(LOCKED_TITLE)
        self.cover.setCurrentWidget(self._framed)
        (self.screen.pad if last else self.screen).setFocus()

    def hear(self, changes: Changes) -> None:
        """Follow what was written down: a role taken away, another time to lock after."""
        hotel = self._hotel
        if hotel is None or not hotel.is_guarded:
            return
        self.idle.fit(self._minutes())
        if Topic.PEOPLE not in changes.topics:
            return
        if self.is_locked:
            self._follow_names(tuple(people(hotel.house)))
        elif self._shown is None and hotel.seat is not None:
            self._take_seat()  # the first person was just described, and sits here
        elif hotel.seat != self._shown:
            self.lock()

    def ask(self, doubt: Doubt, then: Callable[[], object]) -> None:
        """Ask whether to leave all the same; on the lock itself nothing begun is named."""
        if self.is_locked:
            self.screen.ask_to_close(then)
        else:
            until = self._covered.jobs.idle if doubt.is_of_work else None
            self._covered.notices.ask(doubt.text, doubt.yes_text, then, until=until)

    def change_pin(self) -> None:
        """Let who sits there choose a new PIN."""
        if self._hotel is not None and self._hotel.seat is not None:
            PinForm(self._hotel, self._covered.notices, self._window).open()

    def seated_text(self) -> str:
        """Who sits there, in which role; empty where nobody needs a PIN."""
        seat = self._hotel.seat if self._hotel is not None else None
        if seat is None:
            return ""
        return _("{name} · {role}").format(name=seat.person, role=label(seat.role))

    # --- inside ---------------------------------------------------------------------

    def _try(self, name: str, pin: str) -> None:
        hotel = self._hotel
        if hotel is None:
            return
        try:
            sit_down(hotel, name, pin)
        except Refusal as refusal:
            self.screen.say(" ".join(refusal_sentence(refusal)).strip())
            return
        before, stack = self._shown, self._covered.stack
        if hotel.seat != before:
            self._focus = None
            self._covered.notices.clear()
            _forget_what_was_copied()
            if before is not None:
                stack.put_aside(before.person)
            if not stack.take_up(name, self.shown_pages()):
                self._open_pages()
        self._uncover()
        self._take_seat()
        stack.freshen()
        if self._focus is not None and self._focus.isVisible():
            self._focus.setFocus()

    def _take_seat(self) -> None:
        if self._hotel is None:
            return
        self._shown = self._hotel.seat
        self._covered.jobs.seat(self._hotel.person)
        self.idle.start(self._minutes())
        self.entered.emit()

    def _open_pages(self) -> None:
        assert self._make is not None  # only while a hotel is open
        stack = self._covered.stack
        stack.use(self._make())
        stack.go_to(next(key for key in stack.specs if key in stack.shown_keys))
        self.entered.emit()

    def _minutes(self) -> float:
        assert self._hotel is not None  # only while a hotel is open
        return self._hotel.house.rules.figures.idle_lock_minutes.value

    def _uncover(self) -> None:
        self._window.menuBar().show()
        self.cover.setCurrentWidget(self._covered.whole)

    def _follow_names(self, names: tuple[str, ...]) -> None:
        if names != self.screen.offered():
            self.screen.show_people(names, self.screen.name())

    def _say_whether_work_goes_on(self) -> None:
        self.screen.show_work(goes_on=self._covered.jobs.does_asked_work)

    def _close_what_floats(self) -> None:
        """Dialogs, menus and hints lie above the window and would go on showing."""
        QToolTip.hideText()
        for widget in QApplication.topLevelWidgets():
            if not widget.isVisible() or widget is self._window:
                continue
            if isinstance(widget, QDialog):
                widget.reject()
            elif isinstance(widget, QMenu) or widget.windowType() == widget.windowType().Popup:
                widget.close()


def _forget_what_was_copied() -> None:
    """A table that was copied here is not for whoever sits down next to paste."""
    clipboard = QGuiApplication.clipboard()
    held: QMimeData | None = clipboard.mimeData()
    if clipboard.ownsClipboard() or (held is not None and held.hasFormat(OURS)):
        clipboard.clear()
