"""The places one can go, down the left side, and the header above every page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
)

from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.forms.fields import WhoField
from hotelwatch.screens.layout.enter import press_tool_button
from hotelwatch.screens.layout.one_line import OneLine
from hotelwatch.screens.look.icons import icon
from hotelwatch.screens.look.theme import MAIN, colours_of
from hotelwatch.wording.language import _

ICON_PX = 24
NAVIGATION_PX = 180
NARROW_DIGITS = 90
"""In a header of fewer digits the lock is its drawing only."""
GAP = "\u2002"
"""Keeps a name off its drawing; Qt leaves no room there."""


class Navigation(QFrame):
    """One large button for each page, with its drawing and its name."""

    picked = Signal(str)
    """The key of the page whose button was pressed."""

    def __init__(self, specs: Sequence[PageSpec]) -> None:
        """Buttons of the pages that stand in the navigation, in this order."""
        super().__init__()
        self.setProperty("role", "navigation")
        self.buttons: dict[str, QToolButton] = {}
        self._icons = {spec.key: spec.icon for spec in specs}
        self._group = QButtonGroup(self)
        self._lines = lines = QVBoxLayout(self)
        lines.setContentsMargins(8, 12, 8, 12)
        lines.setSpacing(4)
        for number, spec in enumerate(specs, 1):
            button = self._make(spec, number)
            self._group.addButton(button)
            self.buttons[spec.key] = button
            lines.addWidget(button)
        lines.addStretch()
        self._group.buttonClicked.connect(self._pick)
        self._wear()
        self._fit()

    def offer(self, pages: frozenset[str]) -> None:
        """Offer these pages only."""
        for key, button in self.buttons.items():
            button.setVisible(key in pages)

    def show_place(self, key: str) -> None:
        """Mark where one is; a page without a button marks none."""
        self._group.setExclusive(False)
        for of, button in self.buttons.items():
            button.setChecked(of == key)
        self._group.setExclusive(True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter go to the page, as Space does."""
        if not press_tool_button(self, event):
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Draw the icons anew in another look, and make room for larger names."""
        super().changeEvent(event)
        if not hasattr(self, "buttons"):
            return
        if event.type() == QEvent.Type.PaletteChange:
            self._wear()
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Make room for the names, which only then have their own style."""
        super().showEvent(event)
        self._fit()

    def _make(self, spec: PageSpec, number: int) -> QToolButton:
        button = QToolButton()
        button.setText(f"{GAP}{spec.title}")
        button.setCheckable(True)
        button.setObjectName(spec.key)
        button.setProperty("role", "place")
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.setIconSize(QSize(ICON_PX, ICON_PX))
        button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setAccessibleName(spec.title)
        button.setToolTip(_("{page} (Alt+{number})").format(page=spec.title, number=number))
        return button

    def _wear(self) -> None:
        colours = colours_of(self.palette())
        for key, button in self.buttons.items():
            button.setIcon(icon(self._icons[key], colours.text))

    def _fit(self) -> None:
        margins = self._lines.contentsMargins()
        widest = max((one.sizeHint().width() for one in self.buttons.values()), default=0)
        self.setMinimumWidth(max(NAVIGATION_PX, widest + margins.left() + margins.right()))

    def _pick(self, button: QToolButton) -> None:
        self.picked.emit(button.objectName())


@dataclass(frozen=True, slots=True)
class HeaderText:
    """What the header says, already in words."""

    hotel: str
    day: str
    file: str


class Header(QFrame):
    """Which hotel, which day, which file, who writes; and the way to log a sighting."""

    writer_changed = Signal(str)
    """Who writes from now on."""
    sighting_wanted = Signal()
    lock_wanted = Signal()
    """Who sits there goes, or somebody else wants to sit down."""

    def __init__(self, *, can_log: bool) -> None:
        """An empty header; ``can_log`` tells whether there is a page that logs sightings."""
        super().__init__()
        self.setProperty("role", "header")
        self.hotel, self.beside = OneLine(), OneLine()
        self.hotel.setProperty("role", "title")
        self.beside.setProperty("role", "muted")
        self.writer = WhoField(several=False)
        self.writer.setAccessibleName(_("Your name"))
        self.writer.setMaximumWidth(180)
        self.writer.setToolTip(_("Your name stands beside everything that you write down."))
        self.writer.editingFinished.connect(self._tell_writer)
        said = QLabel(_("Your name"))
        said.setBuddy(self.writer)
        self._said = said
        self.person = OneLine()
        self.lock = QPushButton()
        self.lock.setAccessibleName(_("Lock or change"))
        self.lock.setToolTip(
            _("Lock the desk; you or somebody else comes back by PIN (Ctrl+Shift+L)")
        )
        self.lock.clicked.connect(self._want_lock)
        self.sighting = QPushButton(_("Log a sighting"))
        self.sighting.setProperty("role", MAIN)
        self.sighting.setToolTip(_("Something was seen or reported (Ctrl+L)"))
        self.sighting.clicked.connect(self._want_sighting)
        if not can_log:
            self.sighting.hide()
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.hotel)
        names.addWidget(self.beside)
        line = QHBoxLayout(self)
        line.setContentsMargins(16, 8, 16, 8)
        line.setSpacing(12)
        line.addLayout(names, 1)
        line.addWidget(said)
        line.addWidget(self.writer)
        line.addWidget(self.person)
        line.addWidget(self.lock)
        line.addWidget(self.sighting)
        self._can_log = can_log
        self.show_person("")
        self._draw_icon()

    def show_person(self, text: str, *, logs: bool = True) -> None:
        """Show who sits at the desk and in which role; empty: one types one's own name."""
        self._said.setVisible(not text)
        self.writer.setVisible(not text)
        self.person.setVisible(bool(text))
        self.lock.setVisible(bool(text))
        self.person.setText(text)
        self.sighting.setVisible(self._can_log and logs)

    def say(self, text: HeaderText) -> None:
        """Say which hotel, day and file."""
        self.hotel.setText(text.hotel)
        self.beside.setText(f"{text.day}  ·  {text.file}")

    def changeEvent(self, event: QEvent) -> None:
        """Draw the icon anew in another look, and fit larger text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "sighting"):
            self._draw_icon()
        if event.type() == QEvent.Type.FontChange and hasattr(self, "sighting"):
            self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Where little fits, the lock is its drawing only, and who sits there is not cut."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        is_narrow = self.width() < NARROW_DIGITS * self.fontMetrics().horizontalAdvance("0")
        self.lock.setText("" if is_narrow else self.lock.accessibleName())

    def _draw_icon(self) -> None:
        self.sighting.setIcon(icon("sighting", colours_of(self.palette()).on_accent))
        self.sighting.setIconSize(QSize(20, 20))
        self.lock.setIcon(icon("lock", colours_of(self.palette()).text))
        self.lock.setIconSize(QSize(20, 20))

    def _tell_writer(self) -> None:
        names = self.writer.names()
        if names:
            self.writer_changed.emit(names[0])

    def _want_lock(self) -> None:
        self.lock_wanted.emit()

    def _want_sighting(self) -> None:
        self.sighting_wanted.emit()
