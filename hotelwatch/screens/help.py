"""Help: the keys, and what the program is and can't know."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QVBoxLayout, QWidget

import hotelwatch
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.wording.language import _
from hotelwatch.wording.sheet_cautions import limit_text


@dataclass(frozen=True, slots=True)
class KeyRow:
    """A key and what it does."""

    keys: str
    what: str


class _Dialog(QDialog):
    def __init__(self, title: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.lines = QVBoxLayout(self)
        heading = QLabel(title)
        heading.setProperty("role", "title")
        self.lines.addWidget(heading)

    def add(self, widget: QWidget) -> None:
        """Put a widget below the others."""
        self.lines.addWidget(widget)

    def add_close(self) -> None:
        """Put the button that closes it at the end."""
        buttons = QDialogButtonBox()
        buttons.addButton(_("Close"), QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        self.lines.addWidget(buttons)


class KeysDialog(_Dialog):
    """Every key that does something, to search."""

    def __init__(self, rows: Sequence[KeyRow], parent: QWidget) -> None:
        """List these keys and those that every table and form knows."""
        super().__init__(_("Keys"), parent)
        self.resize(560, 620)
        everywhere = (
            KeyRow("Tab", _("To the next field or list")),
            KeyRow("Enter", _("Open the row; in a filter line: to the first row")),
            KeyRow("Ctrl+C", _("Copy the selected rows")),
            KeyRow("Ctrl+Enter", _("Save the form that one is typing in")),
            KeyRow("Esc", _("Close a box, or leave the form of one entry unsaved")),
            KeyRow(_("Arrows"), _("To the next row, room of the floor, or day of the rounds")),
            KeyRow("Page Up, Page Down", _("One floor up or down; in rounds a week on or back")),
            KeyRow("Home, End", _("To the first or last day of the rounds")),
            KeyRow("Alt+Up, Alt+Down", _("Move a floor up or down, in the list of floors")),
            KeyRow(_("Space"), _("Tick or untick; of a place: looked at, or not")),
            KeyRow("L, N, F", _("Of a place in a check: looked at, not looked at, found")),
            KeyRow(_("Alt + underlined letter"), _("To that field")),
        )
        self.table = RowTable(
            [
                Column[KeyRow](_("Keys"), lambda row: row.keys),
                Column[KeyRow](_("What they do"), lambda row: row.what),
            ],
            key=lambda row: (row.keys, row.what),
            name=_("Keys"),
            empty=Empty(_("No key does anything here.")),
        )
        self.table.show_rows((*rows, *everywhere))
        self.add(self.table)
        self.add_close()


class AboutDialog(_Dialog):
    """What the program is, what it keeps, and what it can't know."""

    def __init__(self, parent: QWidget) -> None:
        """Say it."""
        super().__init__(_("About hotelwatch"), parent)
        self.resize(560, 360)
        for text in (
            _("hotelwatch {version}: to find bed bugs in a hotel's beds early.").format(
                version=hotelwatch.__version__
            ),
            _(
                "It keeps who looked at which bed, where and when; it never keeps a guest's name. "
                "Nothing leaves this computer."
            ),
            limit_text(),
            _(
                "It says what was looked at, what was not, and what is due. It never says that a "
                "room has no bed bugs: nobody can know that from looking. Judging a sign and "
                "treating a room is work for competent, licensed people."
            ),
            _(
                "Minutes, days and shares that nobody has measured are labelled as assumptions "
                "wherever they count."
            ),
        ):
            label = QLabel(text, wordWrap=True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self.add(label)
        self.lines.addStretch()
        self.add_close()
