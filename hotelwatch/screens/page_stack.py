"""The pages of an open hotel: made when first shown, fresh whenever they show.

It knows pages only by their PageSpec; where one stands and what was written down since
a page last showed is kept here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from hotelwatch.core.facts import CaseNo, RoomNo, Topic
from hotelwatch.core.records import Changes
from hotelwatch.screens.context import Context, PageSpec
from hotelwatch.screens.enter import let_enter_press
from hotelwatch.screens.notices import Notices
from hotelwatch.screens.page_frame import PageFrame

CASE_PAGE, HOUSE_PAGE = "cases", "building"
ALL_TOPICS = frozenset(Topic)


class PageStack(QStackedWidget):
    """One page above the others; ``use`` gives it a hotel, or takes it away."""

    shown = Signal(str)
    """The key of the page that shows now."""

    def __init__(self, specs: Sequence[PageSpec], notices: Notices) -> None:
        """No page yet: there is no hotel."""
        super().__init__()
        self.specs = {spec.key: spec for spec in specs}
        self.pages: dict[str, QWidget] = {}
        self._frames: dict[str, PageFrame] = {}
        self.place = ""
        self._notices = notices
        self._context: Context | None = None
        self._stale: set[str] = set()

    @property
    def can_log(self) -> bool:
        """Whether a page logs sightings."""
        return CASE_PAGE in self.specs

    def use(self, context: Context | None) -> None:
        """Let go of all pages; those shown from now on are made with this context."""
        for frame in self._frames.values():
            self.removeWidget(frame)
            frame.hide()
            frame.deleteLater()
        self.pages.clear()
        self._frames.clear()
        self._stale.clear()
        self.place, self._context = "", context

    # --- going places -------------------------------------------------------

    def go_to(self, page: str, room: RoomNo | None = None) -> None:
        """Show a page, fresh, and a room on it."""
        widget = self._page(page)
        self.place = page
        self.setCurrentWidget(self._frames[page])
        self.shown.emit(page)
        self._freshen(page)
        widget.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if room is not None and hasattr(widget, "focus_room"):
            widget.focus_room(room)

    def go_to_rooms(self, name: str, rooms: frozenset[RoomNo]) -> None:
        """Show these rooms, under that name, on the page of the house."""
        self.go_to(HOUSE_PAGE)
        page: Any = self.pages[HOUSE_PAGE]
        page.focus_rooms(name, rooms)

    def go_to_case(self, case: CaseNo) -> None:
        """Show a case on its page."""
        self.go_to(CASE_PAGE)
        page: Any = self.pages[CASE_PAGE]
        page.focus_case(case)

    def log_sighting(self, room: RoomNo | None = None) -> None:
        """Show the form that logs a sighting, perhaps with its room filled in."""
        self.go_to(CASE_PAGE)
        page: Any = self.pages[CASE_PAGE]
        page.log_sighting(room)

    def take_file(self, page: str, path: Path) -> None:
        """Give a table to the page that loads such tables."""
        self.go_to(page)
        loader: Any = self.pages[page]
        loader.take_file(path)

    def hear(self, changes: Changes) -> None:
        """Note which pages a change concerns; the one that shows is made fresh at once."""
        for key, page in self.pages.items():
            if changes.topics & getattr(page, "topics", ALL_TOPICS):
                self._stale.add(key)
        if self.place in self.pages:
            self._freshen(self.place)

    def _page(self, key: str) -> QWidget:
        if key not in self.pages:
            assert self._context is not None  # pages are shown only while a hotel is open
            page = self.specs[key].factory(self._context)
            let_enter_press(page)
            self.pages[key] = page
            self._stale.add(key)
            self._frames[key] = PageFrame(page)
            self.addWidget(self._frames[key])
        return self.pages[key]

    def _freshen(self, key: str) -> None:
        if key in self._stale:
            self._stale.discard(key)
            page: Any = self.pages[key]
            with self._notices.refusals():
                page.refresh()
