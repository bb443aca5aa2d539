"""The menus: every action has a place here, and so a way by keyboard."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from hotelwatch.actions import reports
from hotelwatch.screens.help import AboutDialog, KeyRow, KeysDialog
from hotelwatch.screens.theme import TextSize, Theme
from hotelwatch.store.verify import Verification
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.verification import fault_sentence

if TYPE_CHECKING:
    from hotelwatch.screens.window import MainWindow

MOST_FAULTS_TOLD = 5


class Menus(QObject):
    """The window's menu bar; ``adapt`` fits it to whether a hotel is open."""

    def __init__(self, window: MainWindow) -> None:
        """Fill the window's menu bar."""
        super().__init__(window)
        self._window = window
        self._with_hotel: list[QAction] = []
        self.dialog: KeysDialog | AboutDialog | None = None
        self.recent = QMenu(_("&Recent"), window)
        self._fill_file()
        self._fill_go()
        self._fill_view()
        self._fill_help()

    def adapt(self) -> None:
        """Allow what can be done now, and list recent files."""
        is_open = self._window.hotel is not None
        for action in self._with_hotel:
            action.setEnabled(is_open)
        self.recent.clear()
        for path in self._window.store.choices.recent:
            action = self.recent.addAction(path)
            action.triggered.connect(partial(self._open_recent, path))
        self.recent.setEnabled(not self.recent.isEmpty())

    # --- menus --------------------------------------------------------------

    def _fill_file(self) -> None:
        menu, window = self._menu(_("&File")), self._window
        self._add(menu, _("&New hotel…"), window.new_hotel, "Ctrl+N")
        self._add(menu, _("&Open…"), window.choose_file, "Ctrl+O")
        menu.addMenu(self.recent)
        menu.addSeparator()
        for key, text in (
            ("load_roster", _("Load a &roster…")),
            ("load_bookings", _("Load &bookings…")),
        ):
            if key in window.specs:
                self._add_with_hotel(menu, text, partial(window.walk_to, key))
        menu.addSeparator()
        self._add_with_hotel(menu, _("Back &up…"), self.back_up)
        self._add_with_hotel(menu, _("&Check the record…"), self.check_record)
        menu.addSeparator()
        self._add(menu, _("&Quit"), window.close, "Ctrl+Q")

    def _fill_go(self) -> None:
        menu, window = self._menu(_("&Go to")), self._window
        pages = [spec for spec in window.specs.values() if spec.in_navigation]
        for number, spec in enumerate(pages, 1):
            going = partial(window.walk_to, spec.key)
            self._add_with_hotel(menu, spec.title, going, f"Alt+{number}")
        if window.header.sighting.isVisibleTo(window.header):
            menu.addSeparator()
            self._add_with_hotel(menu, _("&Log a sighting"), window.log_sighting, "Ctrl+L")

    def _fill_view(self) -> None:
        menu, choices = self._menu(_("&View")), self._window.store.choices
        themes = {
            Theme.LIGHT: _("&Light"),
            Theme.DARK: _("&Dark"),
            Theme.SYSTEM: _("As the &system has it"),
        }
        sizes = {
            TextSize.NORMAL: _("&Normal text"),
            TextSize.LARGE: _("L&arger text"),
            TextSize.LARGEST: _("Lar&gest text"),
        }
        self._themes = self._choice(menu, themes, choices.theme)
        menu.addSeparator()
        self._sizes = self._choice(menu, sizes, choices.text_size)

    def _fill_help(self) -> None:
        menu = self._menu(_("&Help"))
        self._add(menu, _("&Keys"), self.show_keys, "F1")
        self._add(menu, _("&About hotelwatch"), self.show_about)

    # --- what they do -------------------------------------------------------

    def back_up(self) -> None:
        """Ask where to, and copy the hotel's file."""
        hotel, window = self._window.hotel, self._window
        if hotel is not None:
            name = f"{hotel.path.stem}-{hotel.today().isoformat()}{hotel.path.suffix}"
            suggested = hotel.path.with_name(name)
            kinds = _("Hotel files ({patterns})").format(patterns=f"*{hotel.path.suffix}")
            window.files.save(_("Back up to"), kinds, suggested, self._back_up_to)

    def _back_up_to(self, path: Path) -> None:
        if self._window.hotel is not None:
            with self._window.notices.refusals():
                self._window.hotel.journal.backup(path)
                said = _("Backed up to {file}.").format(file=path)
                showing = partial(self._window.files.show, path.parent)
                self._window.notices.done(said, _("Show the folder"), showing)

    def check_record(self) -> None:
        """Go through the whole record, off the window's thread."""
        if self._window.hotel is not None:
            self._window.jobs.run(
                reports.check_file,
                self._window.hotel.path,
                {},
                label=_("Checking the record"),
                on_done=self._tell_verification,
            )

    def _tell_verification(self, found: Verification) -> None:
        faults = (*found.problems, *found.remarks)
        lines = [fault_sentence(fault) for fault in faults[:MOST_FAULTS_TOLD]]
        if len(faults) > len(lines):
            lines.append(_("And {n} more.").format(n=len(faults) - len(lines)))
        if found.is_sound:
            sound = ngettext(
                "The record holds: {n} entry, unbroken. Its last digest is {digest}.",
                "The record holds: {n} entries, unbroken. The last digest is {digest}.",
                found.entries,
            ).format(n=found.entries, digest=found.last_digest)
            self._window.notices.done("\n".join([sound, *lines]))
        else:
            self._window.notices.warn("\n".join([_("The record does not hold."), *lines]))

    def show_keys(self) -> None:
        """Show every key that does something."""
        rows = [
            KeyRow(
                action.shortcut().toString(QKeySequence.SequenceFormat.NativeText), _bare(action)
            )
            for action in self._window.findChildren(
                QAction, options=Qt.FindChildOption.FindDirectChildrenOnly
            )
            if not action.shortcut().isEmpty() and action.text()
        ]
        self._open(KeysDialog(rows, self._window))

    def show_about(self) -> None:
        """Show what the program is, and what it can't know."""
        self._open(AboutDialog(self._window))

    def _open(self, dialog: KeysDialog | AboutDialog) -> None:
        if self.dialog is not None:
            self.dialog.close()
            self.dialog.deleteLater()
        self.dialog = dialog
        dialog.open()

    def _open_recent(self, path: str) -> None:
        self._window.open_path(Path(path))

    def _choose_look(self) -> None:
        theme, size = self._themes.checkedAction(), self._sizes.checkedAction()
        if theme is not None and size is not None:
            self._window.wear(Theme(theme.data()), TextSize(size.data()))

    # --- making -------------------------------------------------------------

    def _menu(self, title: str) -> QMenu:
        menu = self._window.menuBar().addMenu(title)
        assert isinstance(menu, QMenu)  # Qt makes it with a title
        return menu

    def _add(self, menu: QMenu, text: str, act: Callable[[], object], keys: str = "") -> QAction:
        action = QAction(text, self._window)
        if keys:
            action.setShortcut(QKeySequence(keys))
        action.triggered.connect(partial(_call, act))
        menu.addAction(action)
        return action

    def _add_with_hotel(
        self, menu: QMenu, text: str, act: Callable[[], object], keys: str = ""
    ) -> None:
        self._with_hotel.append(self._add(menu, text, act, keys))

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


def _call(act: Callable[[], object], _checked: bool = False) -> None:
    # Qt tells whether an action is checked; what it does takes no argument.
    act()


def _bare(action: QAction) -> str:
    return action.text().replace("&", "").rstrip("…")
