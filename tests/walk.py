"""A walk through the window on the invented hotel: every page, each of its tabs, every form.

Pictures, the tests of what everyone must be able to see, and the bench stand on it.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QCalendarWidget,
    QTabBar,
    QTabWidget,
    QWidget,
)

from hotelwatch.actions.demo.build import build_demo
from hotelwatch.actions.hotel import start_hotel
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.core.cases.duties import duties
from hotelwatch.core.cases.notices import NOTICES
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.cases.duty_forms import NoticeForm, OwnerForm
from hotelwatch.screens.cases.move_form import GuestMoveForm
from hotelwatch.screens.forms.entry_form import EntryForm
from hotelwatch.screens.forms.half_entered import Found, _forms_of, _place_of, take_up
from hotelwatch.screens.layout.made_later import MadeLater
from hotelwatch.screens.look.theme import Look
from hotelwatch.screens.pages import page_specs
from hotelwatch.screens.rules.clause_card import ClauseCard
from hotelwatch.screens.window import Doors, MainWindow
from hotelwatch.wording import language
from tests.build import rules

BUILT_AT = datetime(2026, 3, 11, 8, 40, tzinfo=UTC)
SEEN_AT = datetime(2026, 3, 11, 9, 5, tzinfo=UTC)
PAUSE_MS = 15
CALM_PAUSES = 3
"""Pauses in a row without work after which a page counts as filled."""
LONGEST_WAIT_MS = 60_000


@dataclass
class NoFiles:
    """Nobody at the file dialogs: whatever is asked for is not chosen."""

    shown: list[Path] = field(default_factory=list)

    def open(self, title, patterns, then):
        """Ask, in vain."""

    def save(self, title, patterns, suggested, then):
        """Ask, in vain."""

    def folder(self, title, suggested, then):
        """Ask, in vain."""

    def show(self, path):
        """Show nothing."""
        self.shown.append(path)
        return True


def build_invented(folder: Path) -> Path:
    """The invented hotel's file, built afresh there on a day that never changes."""
    path = folder / "demo.hotelwatch"
    build_demo(path, rules(), now=BUILT_AT)
    return path


def copied(path: Path, folder: Path) -> Path:
    """A copy of a hotel's file with the papers kept beside it."""
    folder.mkdir(parents=True, exist_ok=True)
    papers = path.with_suffix(".papers")
    if papers.exists():
        shutil.copytree(papers, folder / papers.name, dirs_exist_ok=True)
    return Path(shutil.copy(path, folder))


def window_on(
    path: Path | None, look: Look, folder: Path, *, clock: Callable[[], datetime] = lambda: SEEN_AT
) -> MainWindow:
    """The window with all its pages on that file, not yet shown; choices are kept in ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    doors = Doors(
        open=lambda wanted: open_hotel(wanted, rules(), clock=clock, by="Ana"),
        start=lambda wanted, said: start_hotel(wanted, said, rules(), clock=clock, by="Ana"),
        make_demo=lambda progress: path,
        drafts=folder / "drafts",
        folder=folder,
        zone="Europe/Vienna",
    )
    window = MainWindow(doors, page_specs(), look=look, store=ChoiceStore(folder), files=NoFiles())
    if path is not None:
        assert window.open_path(path), "the invented hotel did not open"
        window.notices.clear()  # the way round for newcomers would stand above every page
    return window


def settle(window: MainWindow) -> None:
    """Wait until nothing is reckoned any more and what came of it is laid out."""
    calm, waited = 0, 0
    while calm < CALM_PAUSES:
        QTest.qWait(PAUSE_MS)
        _let_timers_fire()
        waited += PAUSE_MS
        calm = 0 if window.jobs.is_busy else calm + 1
        assert waited < LONGEST_WAIT_MS, "the window is busy without end"


def _let_timers_fire() -> None:
    """Come back when timers of no time that were started before have fired.

    A pause may pass without, where laying out a page takes longer than the pause.
    """
    waiting = QEventLoop()
    QTimer.singleShot(0, waiting.quit)
    waiting.exec()


# --- places -----------------------------------------------------------------


def places(window: MainWindow, only: str = "") -> Iterator[str]:
    """Stand on every page, in each of its tabs, and say where: ``rounds/what-if``."""
    for key in list(window.stack.specs):
        if only and only.split("/")[0] != key:
            continue
        window.walk_to(key)
        settle(window)
        for where in _within(window, window.stack.pages[key], key):
            if where.startswith(only):
                yield where


def _within(window: MainWindow, widget: QWidget, path: str) -> Iterator[str]:
    bars = [bar for bar in _bars(widget) if _tabs(bar)]
    if not bars:
        yield path
        return
    for number, bar in enumerate(bars):
        first = bar.currentIndex()
        for tab in _tabs(bar):
            if tab == first and number:
                continue  # seen with the bar before
            bar.setCurrentIndex(tab)
            settle(window)
            name = f"{path}/{_slug(bar.tabText(tab), tab)}"
            holder = bar.parentWidget()
            inner = holder.currentWidget() if isinstance(holder, QTabWidget) else None
            if inner is None:
                yield name
            else:
                yield from _within(window, inner, name)
        bar.setCurrentIndex(first)
        settle(window)


def _bars(widget: QWidget) -> list[QTabBar]:
    """Rows of tabs in a widget that lie in no other row's tab."""
    found = [bar for bar in widget.findChildren(QTabBar) if bar.isVisible()]
    return [bar for bar in found if not _lies_in_a_tab(bar, widget)]


def _lies_in_a_tab(bar: QTabBar, top: QWidget) -> bool:
    holder = bar.parentWidget()
    above = holder.parentWidget() if isinstance(holder, QTabWidget) else holder
    while above is not None and above is not top:
        if isinstance(above, QTabWidget):
            return True
        above = above.parentWidget()
    return False


def _tabs(bar: QTabBar) -> list[int]:
    return [n for n in range(bar.count()) if bar.isTabVisible(n) and bar.isTabEnabled(n)]


def _slug(text: str, number: int) -> str:
    if language.current() != language.SOURCE:
        return f"tab-{number + 1}"
    plain = "".join(char if char.isalpha() else " " for char in text.replace("&", "").lower())
    return "-".join(plain.split())


# --- forms ------------------------------------------------------------------


def forms(window: MainWindow) -> Iterator[tuple[str, EntryForm]]:
    """Open every form of its own on every page in turn, and say which."""
    for key in list(window.stack.specs):
        window.walk_to(key)
        settle(window)
        page = window.stack.pages[key]
        for part in page.findChildren(MadeLater):
            part.pane()
        for found in _forms_of(page):
            if isinstance(found.holder, EntryForm):
                open_form(page, found)
                settle(window)
                yield f"{key}/{type(found.holder).__name__}", found.holder
                found.holder.leave()


def open_form(page: QWidget, found: Found) -> None:
    """Open a form as somebody would who has just come to its tab."""
    for tabs in found.around:
        if isinstance(tabs, QTabWidget):
            tabs.setCurrentIndex(_place_of(tabs, found.form))
    settle(page.window())
    holder, about = found.holder, found.about()
    if about is None and isinstance(holder, CaseForm | GuestMoveForm):
        about = page.case
    elif isinstance(holder, ClauseCard):
        sets = page.sets._context.hotel.house.rule_sets.values()
        about = next([one.key, one.clauses[0].clause] for one in sets if one.clauses)
    elif about is None and isinstance(holder, NoticeForm | OwnerForm):
        is_notice = isinstance(holder, NoticeForm)
        hotel = page._context.hotel
        about = next(
            [duty.case, duty.step.code, duty.room]
            for duty in duties(hotel.house, hotel.now())
            if not is_notice or duty.step.code in NOTICES
        )
    take_up(page, {"form": found.name, "about": about, "fields": {}})


# --- widgets ----------------------------------------------------------------


def own_widgets(top: QWidget) -> list[QWidget]:
    """Visible widgets that the program put there; not the inner parts that Qt makes."""
    found = []
    for one in [top, *top.findChildren(QWidget)]:
        if not one.isVisible() or _is_a_part(one):
            continue
        found.append(one)
    return found


def _is_a_part(one: QWidget) -> bool:
    if one.objectName().startswith("qt_") and not isinstance(one, QTabBar):
        return True
    above = one.parentWidget()
    while above is not None:
        if isinstance(above, QCalendarWidget):
            return True
        if isinstance(above, QAbstractItemView) and above.viewport() is one:
            return True
        above = above.parentWidget()
    return False


def focusable(top: QWidget) -> list[QWidget]:
    """Widgets that Tab is meant to reach."""
    from PySide6.QtCore import Qt

    by_tab = Qt.FocusPolicy.TabFocus.value
    return [
        one
        for one in own_widgets(top)
        if one.focusPolicy().value & by_tab and one.isEnabled() and one.focusProxy() is None
    ]


def app_of(family: str = "DejaVu Sans") -> tuple[QApplication, Look]:
    """An application of our own with a font that is there on every machine of ours."""
    from PySide6.QtGui import QFont

    made = QApplication.instance() or QApplication(["hotelwatch"])
    assert isinstance(made, QApplication)
    made.setFont(QFont(family))
    return made, Look(made)
