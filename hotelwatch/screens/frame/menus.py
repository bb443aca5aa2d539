"""The menus: every action has a place here, and so a way by keyboard.

They know the window only as something with a menu bar; what it can do they are given
as ``Deeds``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from hotelwatch.core.checks.room_mark import RoomMark
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.screens.at_hand.choices import Choices
from hotelwatch.screens.at_hand.context import GoTo, PageSpec
from hotelwatch.screens.frame.go_to_box import (
    Goal,
    GoToBox,
    ReadMark,
    Ways,
    goals_in_house,
    goals_in_menus,
    name_of,
    not_a_mark,
)
from hotelwatch.screens.frame.go_to_mark import WaysFromMark, goals_of_mark
from hotelwatch.screens.frame.help import AboutDialog, KeyRow, KeysDialog
from hotelwatch.screens.frame.page_tabs import TABS, goal_of_tab
from hotelwatch.screens.frame.recent_menu import RecentMenu
from hotelwatch.screens.frame.undoing import Undoing
from hotelwatch.screens.look.theme import TextSize, Theme
from hotelwatch.wording.language import _

Deed = Callable[[], object]
ROOM_PAGE, CASE_PAGE, CHECKS_PAGE = "building", "cases", "checks"


@dataclass(frozen=True, slots=True)
class Rights:
    """What is offered to who sits at the desk; as it stands here, everything."""

    pages: frozenset[str] | None = None
    """Keys of pages; None: all."""
    copies: bool = True
    """Whether the record may be copied and gone through."""
    logs: bool = True
    """Whether sightings may be logged."""
    can_lock: bool = False
    no_tabs: frozenset[tuple[str, str]] = frozenset()
    """Tabs that are not there, by their page's key and their code."""

    def shows(self, page: str) -> bool:
        """Whether a page is offered."""
        return self.pages is None or page in self.pages


@dataclass(frozen=True, slots=True)
class Deeds:
    """What the menus set going."""

    new_hotel: Deed
    choose_file: Deed
    open_path: Callable[[Path], object]
    forget: Callable[[tuple[str, ...]], object]
    page_keys: Callable[[], Sequence[KeyRow]]
    """Keys of the page in view, then of others, each with its page's title."""
    back_up: Deed
    backups: Deed
    check_record: Deed
    export: Deed
    take_in: Deed
    lock: Deed
    change_pin: Deed
    undoing: Undoing
    paste: Deed
    show_way: Deed
    quit: Deed
    walk_to: Callable[[str], object]
    log_sighting: Deed | None
    """None where no page logs sightings."""
    wear: Callable[[Theme, TextSize], object]
    house: Callable[[], House | None]
    """The house of the hotel that is open."""
    go_to: GoTo
    go_to_case: Callable[[CaseNo], object]
    go_to_tab: Callable[[str, str], object]
    """To a page's tab, by the page's key and the tab's title."""
    go_to_sheet: Callable[[RoomMark], object]
    """To the check of a room on a printed sheet."""


class Menus(QObject):
    """A window's menu bar; ``adapt`` fits it to whether a hotel is open."""

    def __init__(
        self, window: QMainWindow, deeds: Deeds, *, specs: Sequence[PageSpec], choices: Choices
    ) -> None:
        """Fill the window's menu bar."""
        super().__init__(window)
        self._window, self._deeds = window, deeds
        self._specs = {spec.key: spec for spec in specs}
        self._with_hotel: list[QAction] = []
        self._menus: list[QMenu] = []
        self._pages: list[QAction] = []
        self._of_page: dict[str, QAction] = {}
        self._copies: list[QAction] = []
        self._logs: list[QAction] = []
        self._locks: list[QAction] = []
        self._rights = Rights()
        self.dialog: KeysDialog | AboutDialog | GoToBox | None = None
        self.recent = RecentMenu(window, open_path=deeds.open_path, forget=deeds.forget)
        self._fill_file()
        self._fill_edit()
        self._fill_go()
        self._fill_view(choices)
        self._fill_help()
        self._menus.append(self.recent)

    def adapt(self, *, is_open: bool, recent: Sequence[str], rights: Rights) -> None:
        """Allow what can be done now and by whom, and list recent files."""
        for action in self._with_hotel:
            action.setEnabled(is_open)
        self._rights = rights
        for page, action in self._of_page.items():
            action.setVisible(rights.shows(page))
        for action in self._copies:
            action.setVisible(rights.copies)
        for action in self._logs:
            action.setVisible(rights.logs)
        for action in self._locks:
            action.setVisible(rights.can_lock)
        self.say_what_undo_does()
        self.recent.show_files(recent)

    # --- menus --------------------------------------------------------------

    def _fill_file(self) -> None:
        menu, deeds = self._menu(_("&File")), self._deeds
        self._add(menu, _("&New hotel…"), deeds.new_hotel, "Ctrl+N")
        self._add(menu, _("&Open…"), deeds.choose_file, "Ctrl+O")
        menu.addMenu(self.recent)
        menu.addSeparator()
        for key, text in (
            ("load_roster", _("Load a &roster…")),
            ("change_rooms", _("Change roo&ms from a table…")),
            ("load_bookings", _("Load &bookings…")),
        ):
            if key in self._specs:
                going = partial(deeds.walk_to, key)
                self._of_page[key] = self._add_with_hotel(menu, text, going)
        menu.addSeparator()
        self._copies = [
            self._add_with_hotel(menu, _("Back &up to…"), deeds.back_up),
            self._add_with_hotel(menu, _("B&ackups…"), deeds.backups),
            self._add_with_hotel(menu, _("&Check the record…"), deeds.check_record),
            self._add_with_hotel(menu, _("&Export everything…"), deeds.export),
        ]
        self._add(menu, _("&Take in an export…"), deeds.take_in)
        menu.addSeparator()
        self._locks = [
            self._add_with_hotel(menu, _("&Lock the desk"), deeds.lock, "Ctrl+Shift+L"),
            self._add_with_hotel(menu, _("Change my &PIN…"), deeds.change_pin),
        ]
        self._add(menu, _("&Quit"), deeds.quit, "Ctrl+Q")

    def _fill_edit(self) -> None:
        menu, undoing = self._menu(_("&Edit")), self._deeds.undoing
        self.undo = self._add(menu, undoing.undo_text(), undoing.undo, "Ctrl+Z")
        self.redo = self._add(menu, undoing.redo_text(), undoing.redo)
        self.redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        menu.addSeparator()
        self._add_with_hotel(menu, _("&Paste rows of a table"), self._deeds.paste, "Ctrl+V")
        menu.aboutToShow.connect(self.say_what_undo_does)
        self.say_what_undo_does()

    def say_what_undo_does(self) -> None:
        """Name in the menu what would be undone and done again."""
        undoing = self._deeds.undoing
        self.undo.setText(undoing.undo_text())
        self.redo.setText(undoing.redo_text())

    def _fill_go(self) -> None:
        menu, deeds = self._menu(_("&Go to")), self._deeds
        self.asking = self._add(menu, _("&Any room, case or action…"), self.ask_where, "Ctrl+G")
        menu.addSeparator()
        pages = [spec for spec in self._specs.values() if spec.in_navigation]
        for number, spec in enumerate(pages, 1):
            going = partial(deeds.walk_to, spec.key)
            page = self._add_with_hotel(menu, spec.title, going, f"Alt+{number}")
            self._pages.append(page)
            self._of_page[spec.key] = page
        if deeds.log_sighting is not None:
            menu.addSeparator()
            logging = self._add_with_hotel(menu, _("&Log a sighting"), deeds.log_sighting, "Ctrl+L")
            self._logs = [logging]

    def _fill_view(self, choices: Choices) -> None:
        menu = self._menu(_("&View"))
        themes = {
            Theme.LIGHT: _("&Light"),
            Theme.DARK: _("&Dark"),
            Theme.CONTRAST_BRIGHT: _("High contrast, &bright"),
            Theme.CONTRAST_DARK: _("High contrast, dar&k"),
            Theme.SYSTEM: _("As the &system has it"),
        }
        sizes = {
            TextSize.NORMAL: _("&Normal text"),
            TextSize.LARGE: _("L&arger text"),
            TextSize.LARGEST: _("&Very large text"),
            TextSize.DOUBLE: _("&Twice as large"),
        }
        self._themes = self._choice(menu, themes, choices.theme)
        menu.addSeparator()
        self._sizes = self._choice(menu, sizes, choices.text_size)

    def _fill_help(self) -> None:
        menu = self._menu(_("&Help"))
        self._add(menu, _("&Keys"), self.show_keys, "F1")
        self._add_with_hotel(menu, _("Show me the &way"), self._deeds.show_way)
        self._add(menu, _("&About hotelwatch"), self.show_about)

    # --- what they do themselves ----------------------------------------------

    def ask_where(self) -> None:
        """Take a room, a case, a page or an action by name."""
        self.say_what_undo_does()
        house, deeds = self._deeds.house(), self._deeds
        ways = Ways(
            to_room=partial(deeds.go_to, ROOM_PAGE) if self._offers(ROOM_PAGE) else None,
            to_case=deeds.go_to_case if self._offers(CASE_PAGE) else None,
        )
        goals = goals_in_house(house, ways) if house is not None else ()
        named = (
            *goals_in_menus(self._menus, self._pages, besides=self.asking),
            *self._goals_in_pages(has_hotel=house is not None),
        )
        marks: ReadMark = not_a_mark
        if house is not None:
            to_check = deeds.go_to_sheet if self._offers(CHECKS_PAGE) else None
            marks = partial(goals_of_mark, house, WaysFromMark(to_check, ways.to_room))
        hides = house is not None and bool(house.rooms) and not goals
        self._open(GoToBox((*goals, *named), self._window, marks=marks, hides_rooms=hides))

    def _goals_in_pages(self, *, has_hotel: bool) -> tuple[Goal, ...]:
        """The tabs of the pages that who sits there may see."""
        if not has_hotel:
            return ()
        return tuple(
            goal_of_tab(self._specs[page].title, tab.title, partial(self._deeds.go_to_tab, page))
            for page, tabs in TABS.items()
            for tab in tabs
            if self._offers(page) and (page, tab.code) not in self._rights.no_tabs
        )

    def _offers(self, page: str) -> bool:
        return page in self._specs and self._rights.shows(page)

    def show_keys(self) -> None:
        """Show every key that does something."""
        self.say_what_undo_does()
        rows = [
            KeyRow(
                action.shortcut().toString(QKeySequence.SequenceFormat.NativeText),
                name_of(action),
                _("Everywhere"),
            )
            for action in self._window.findChildren(
                QAction, options=Qt.FindChildOption.FindDirectChildrenOnly
            )
            if not action.shortcut().isEmpty() and action.text() and action.isVisible()
        ]
        self._open(KeysDialog((*self._deeds.page_keys(), *rows), self._window))

    def show_about(self) -> None:
        """Show what the program is, and what it can't know."""
        self._open(AboutDialog(self._window))

    def _open(self, dialog: KeysDialog | AboutDialog | GoToBox) -> None:
        if self.dialog is not None:
            self.dialog.close()
            self.dialog.deleteLater()
        self.dialog = dialog
        dialog.open()

    def _choose_look(self) -> None:
        theme, size = self._themes.checkedAction(), self._sizes.checkedAction()
        if theme is not None and size is not None:
            self._deeds.wear(Theme(theme.data()), TextSize(size.data()))

    # --- making -------------------------------------------------------------

    def _menu(self, title: str) -> QMenu:
        menu = self._window.menuBar().addMenu(title)
        assert isinstance(menu, QMenu)  # Qt makes it with a title
        self._menus.append(menu)
        return menu

    def _add(self, menu: QMenu, text: str, act: Deed, keys: str = "") -> QAction:
        action = QAction(text, self._window)
        if keys:
            action.setShortcut(QKeySequence(keys))
        action.triggered.connect(partial(_call, act))
        menu.addAction(action)
        return action

    def _add_with_hotel(self, menu: QMenu, text: str, act: Deed, keys: str = "") -> QAction:
        action = self._add(menu, text, act, keys)
        self._with_hotel.append(action)
        return action

    def _choice(
        self, menu: QMenu, texts: dict[Theme, str] | dict[TextSize, str], now: str
    ) -> QActionGroup:
        group = QActionGroup(self)
        for value, text in texts.items():
            action = QAction(text, self._window, checkable=True)
            action.setData(value.value)
            action.setChecked(value == now)
            action.triggered.connect(self._choose_look)
            group.addAction(action)
            menu.addAction(action)
        return group


def _call(act: Deed, _checked: bool = False) -> None:
    # Qt tells whether an action is checked; what it does takes no argument.
    act()
