"""The pages of an open hotel: made when first shown, fresh whenever they show.

It knows pages only by their PageSpec; where one stands and what was written down since
a page last showed is kept here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QLabel, QStackedWidget, QWidget

from hotelwatch.core.checks.room_mark import RoomMark
from hotelwatch.core.facts import CaseNo, RoomNo, Topic
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.screens.at_hand.context import Context, PageSpec
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.frame.leaving import unsaved_on
from hotelwatch.screens.frame.page_tabs import turn_to
from hotelwatch.screens.layout.enter import let_enter_press
from hotelwatch.screens.layout.page_frame import PageFrame
from hotelwatch.wording.language import _

CASE_PAGE, CHECKS_PAGE, HOUSE_PAGE, REPORT_PAGE = "cases", "checks", "building", "report"
ALL_TOPICS = frozenset(Topic)
SEEN_AFTER_MS = 15
"""So long a page's place is left to be painted before the page is made."""
MOST_ASIDE = 3
"""Of so many people pages are kept though nothing is half entered on them."""


@dataclass(frozen=True, slots=True)
class Aside:
    """Pages of somebody who is not at the desk now, with what is half entered on them."""

    context: Context
    pages: dict[str, QWidget]
    frames: dict[str, PageFrame]
    place: str


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
        self._aside: dict[str, Aside] = {}
        self._coming = ""
        self._place_kept: QLabel | None = None
        self._making = QTimer(self, singleShot=True, interval=SEEN_AFTER_MS)
        self._making.timeout.connect(lambda: self.go_to(self._coming))

    @property
    def shown_keys(self) -> frozenset[str]:
        """Keys of the pages that who sits there may see."""
        return self._context.pages if self._context is not None else frozenset()

    @property
    def can_log(self) -> bool:
        """Whether a page logs sightings."""
        return CASE_PAGE in self.specs

    def use(self, context: Context | None) -> None:
        """Let go of all pages; those shown from now on are made with this context."""
        self._let_go(self._frames)
        if context is None:
            for aside in self._aside.values():
                self._let_go(aside.frames)
            self._aside.clear()
        self.pages, self._frames = {}, {}
        self._stale.clear()
        self._arrive()
        self.place, self._context = "", context

    def _let_go(self, frames: dict[str, PageFrame]) -> None:
        for frame in frames.values():
            self.removeWidget(frame)
            frame.hide()
            frame.deleteLater()

    # --- several people, one after the other -----------------------------------

    def put_aside(self, person: str) -> None:
        """Keep this person's pages as they are, out of sight; of a few people only.

        Those on which something is half entered are kept whatever comes.
        """
        if self._context is None:
            return
        self._arrive()
        self._make_room()
        self._aside[person] = Aside(self._context, self.pages, self._frames, self.place)
        for frame in self._frames.values():
            self.removeWidget(frame)
            frame.hide()
        self.pages, self._frames = {}, {}
        self._stale.clear()
        self.place = ""

    def take_up(self, person: str, shown: frozenset[str]) -> bool:
        """Show a person's pages again, as they were left; False where there are none.

        Pages of a role that the person has no more are let go.
        """
        aside = self._aside.pop(person, None)
        if aside is None:
            return False
        self._let_go(self._frames)
        if aside.context.pages != shown:
            self._let_go(aside.frames)
            return False
        self.pages, self._frames, self._context = aside.pages, aside.frames, aside.context
        for frame in self._frames.values():
            self.addWidget(frame)
        self._stale = set(self.pages)
        self.go_to(aside.place)
        return True

    def _make_room(self) -> None:
        idle = [who for who, of in self._aside.items() if not unsaved_on(of.pages.values())]
        for person in idle[: max(0, len(self._aside) - MOST_ASIDE + 1)]:
            self._let_go(self._aside.pop(person).frames)

    def all_pages(self) -> Iterator[tuple[str, str, QWidget]]:
        """Every page: whose it is (empty: who sits there), its key, itself."""
        for key, page in self.pages.items():
            yield "", key, page
        for person, aside in self._aside.items():
            for key, page in aside.pages.items():
                yield person, key, page

    # --- going places -------------------------------------------------------

    def come_to(self, page: str) -> None:
        """Go to a page because the person presses for it: its place shows at once.

        One that was never shown has hundreds of parts to be made first.
        """
        is_new = page not in self.pages and page in self.shown_keys
        if not is_new or not self.isVisible():
            self.go_to(page)
            return
        self._arrive()
        self._coming = page
        self._place_kept = QLabel(
            _("Opening: {page}").format(page=self.specs[page].title),
            alignment=Qt.AlignmentFlag.AlignCenter,
        )
        self._place_kept.setProperty("role", "muted")
        self.addWidget(self._place_kept)
        self.setCurrentWidget(self._place_kept)
        self.shown.emit(page)
        self._making.start()

    def _arrive(self) -> None:
        """Nothing is being come to any more."""
        self._making.stop()
        if self._place_kept is not None:
            self.removeWidget(self._place_kept)
            self._place_kept.deleteLater()
            self._place_kept = None

    def come_back(self) -> bool:
        """Show the page again on which one was; False where no hotel is open."""
        if self.place in self.pages:
            self.go_to(self.place)
            return True
        return False

    def go_to(self, page: str, room: RoomNo | None = None) -> None:
        """Show a page, fresh, and a room on it; one that is not for this role is refused."""
        if not self._may_show(page):
            return
        widget = self._page(page)
        self.place = page
        self.setCurrentWidget(self._frames[page])
        self._arrive()
        self.shown.emit(page)
        self._freshen(page)
        widget.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if not _holds_keys(widget):
            self._frames[page].begin()
        if room is not None and hasattr(widget, "focus_room"):
            widget.focus_room(room)

    def go_to_rooms(self, name: str, rooms: frozenset[RoomNo]) -> None:
        """Show these rooms, under that name, on the page of the house."""
        self.go_to(HOUSE_PAGE)
        if self.place != HOUSE_PAGE:
            return
        page: Any = self.pages[HOUSE_PAGE]
        page.focus_rooms(name, rooms)

    def go_to_case(self, case: CaseNo) -> None:
        """Show a case on its page."""
        self.go_to(CASE_PAGE)
        if self.place != CASE_PAGE:
            return
        page: Any = self.pages[CASE_PAGE]
        page.focus_case(case)

    def go_to_sheet(self, mark: RoomMark) -> None:
        """Show the check of a room on a printed sheet, the sheet's day and form filled in."""
        self.go_to(CHECKS_PAGE)
        if self.place != CHECKS_PAGE:
            return
        page: Any = self.pages[CHECKS_PAGE]
        page.focus_sheet(mark)

    def go_to_tab(self, page: str, title: str) -> None:
        """Show a page, turned to the tab of that title if it has one."""
        self.go_to(page)
        if self.place == page and turn_to(self.pages[page], title):
            self._frames[page].begin()

    def log_sighting(self, room: RoomNo | None = None) -> None:
        """Show the form that logs a sighting, perhaps with its room filled in."""
        on = CASE_PAGE if CASE_PAGE in self.shown_keys else REPORT_PAGE
        self.go_to(on)
        if self.place == on:
            page: Any = self.pages[on]
            page.log_sighting(room)

    def take_file(self, page: str, path: Path) -> None:
        """Give a table to the page that loads such tables."""
        self.go_to(page)
        if self.place == page:
            loader: Any = self.pages[page]
            loader.take_file(path)

    def _may_show(self, page: str) -> bool:
        if page in self.shown_keys:
            return True
        try:
            self._require(page)
        except Refusal as refusal:
            self._notices.refuse(refusal)
        else:
            self._notices.refuse(Refusal("page_not_shown"))
        return False

    def _require(self, page: str) -> None:
        """Have it written down that who sits there may not see a page."""
        spec = self.specs.get(page)
        if spec is None or self._context is None:
            return
        if spec.needs is not None:
            self._context.hotel.require_sight(spec.needs)
        for kind in spec.writes:
            self._context.hotel.require(kind, action=spec.deed)

    def hear(self, changes: Changes, *, in_sight: bool = True) -> None:
        """Note which pages a change concerns; the one in sight is made fresh at once."""
        for key, page in self.pages.items():
            if changes.topics & getattr(page, "topics", ALL_TOPICS):
                self._stale.add(key)
        if in_sight:
            self.freshen()

    def freshen(self) -> None:
        """Make the page that shows fresh, if something concerns it."""
        if self.place in self.pages:
            self._freshen(self.place)

    def _page(self, key: str) -> QWidget:
        if key not in self.pages:
            assert self._context is not None  # pages are shown only while a hotel is open
            page = self.specs[key].factory(self._context)
            page.setWindowTitle(self.specs[key].title)  # what is half entered is told by it
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


def _holds_keys(page: QWidget) -> bool:
    holder = page.window().focusWidget()
    return holder is not None and holder is not page and page.isAncestorOf(holder)
