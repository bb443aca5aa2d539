"""Help: the keys, and what the program is and can't know."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QWidget

import hotelwatch
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.layout.box import Box
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _
from hotelwatch.wording.sheet_cautions import limit_text

KEYS_SIZE, ABOUT_SIZE = QSize(760, 640), QSize(560, 360)


@dataclass(frozen=True, slots=True)
class KeyRow:
    """A key and what it does."""

    keys: str
    what: str
    where: str


class Pages(Protocol):
    """What is asked of the stack of pages."""

    place: str

    @property
    def shown_keys(self) -> Collection[str]:
        """Keys of the pages that who sits there may see."""

    @property
    def specs(self) -> Mapping[str, PageSpec]:
        """All pages, by key."""


class KeysDialog(Box):
    """Every key that does something, to search."""

    def __init__(self, rows: Sequence[KeyRow], parent: QWidget) -> None:
        """List these keys and those that every table and form knows."""
        super().__init__(_("Keys"), parent, wished=KEYS_SIZE)
        self.table = RowTable(
            [
                Column[KeyRow](_("Keys"), lambda row: row.keys),
                Column[KeyRow](_("What they do"), lambda row: row.what),
                Column[KeyRow](_("Where"), lambda row: row.where),
            ],
            key=lambda row: row,
            name=_("Keys"),
            empty=Empty(_("No key does anything here.")),
        )
        self.table.show_rows(dict.fromkeys((*rows, *_known_to_all())))
        self.lines.addWidget(self.table)
        _add_close(self)


def keys_on(stack: Pages) -> list[KeyRow]:
    """Keys of the pages that who sits there may see, those of the page in view first."""
    shown = [spec for key, spec in stack.specs.items() if key in stack.shown_keys]
    shown.sort(key=lambda spec: spec.key != stack.place)
    return [KeyRow(keys, what, spec.title) for spec in shown for keys, what in spec.own_keys()]


def _known_to_all() -> tuple[KeyRow, ...]:
    """Keys that every table and every form knows."""
    tables, forms = _("In tables"), _("In forms")
    return (
        KeyRow(_("Letters and digits"), _("Narrow the list to what one types"), tables),
        KeyRow("Esc", _("In the line that narrows: show all rows again"), tables),
        KeyRow("Enter", _("Open the row; in the line that narrows: to the first row"), tables),
        KeyRow("Ctrl+Down, Ctrl+Up", _("Sort by the column one stands in, or turn it"), tables),
        KeyRow("Ctrl+A", _("Select all rows"), tables),
        KeyRow("Ctrl+C", _("Copy the selected rows, to paste them as a table"), tables),
        KeyRow("Ctrl+F", _("To the line that narrows"), tables),
        KeyRow("Tab", _("To the next field or list"), forms),
        KeyRow(_("Alt + underlined letter"), _("To that field"), forms),
        KeyRow(_("Space"), _("Tick or untick"), forms),
        KeyRow("Ctrl+Enter", _("Save the form that one is typing in"), forms),
        KeyRow("Ctrl+Z", _("In a text field: take back what was typed there"), forms),
        KeyRow("Esc", _("Close a box, or leave the form of one entry unsaved"), forms),
        KeyRow("Alt+Up, Alt+Down", _("Move a floor up or down, in the list of floors"), forms),
    )


class AboutDialog(Box):
    """What the program is, what it keeps, and what it can't know."""

    def __init__(self, parent: QWidget) -> None:
        """Say it."""
        super().__init__(_("About hotelwatch"), parent, wished=ABOUT_SIZE)
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
            self.lines.addWidget(label)
        self.lines.addStretch()
        _add_close(self)


def _add_close(box: Box) -> None:
    buttons = QDialogButtonBox()
    buttons.addButton(_("Close"), QDialogButtonBox.ButtonRole.RejectRole)
    buttons.rejected.connect(box.reject)
    box.lines.addWidget(buttons)
