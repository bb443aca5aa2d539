"""The first screen: try the invented hotel, start one's own, or open a file."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from zoneinfo import available_timezones

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.hotel import PAPERS
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.screens.forms.fields import ChoiceField, Form
from hotelwatch.screens.layout.page_frame import PageFrame
from hotelwatch.screens.look.icons import icon
from hotelwatch.screens.look.theme import MAIN, colours_of
from hotelwatch.wording.language import _
from hotelwatch.wording.sheet_cautions import limit_text

CARD_PX = 280
FORM_PX = 640
DRAWING_PX = 44
SUFFIX = ".hotelwatch"


class Card(QFrame):
    """One way to begin: a drawing, a sentence and its button."""

    def __init__(self, drawing: str, text: str, button_text: str) -> None:
        """Offer it."""
        super().__init__()
        self.setProperty("role", "card")
        self._drawing = drawing
        self._picture = QLabel(alignment=Qt.AlignmentFlag.AlignCenter)
        words = QLabel(text, wordWrap=True, alignment=Qt.AlignmentFlag.AlignHCenter)
        self.button = QPushButton(button_text)
        self._lines = lines = QVBoxLayout(self)
        lines.setContentsMargins(20, 24, 20, 20)
        lines.setSpacing(12)
        lines.addWidget(self._picture)
        lines.addWidget(words, 1)
        lines.addWidget(self.button)
        self._draw()
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Draw the icon anew in another look, and make room for larger text."""
        super().changeEvent(event)
        if not hasattr(self, "button"):
            return
        if event.type() == QEvent.Type.PaletteChange:
            self._draw()
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Make room for the button's words, which only then has its own style."""
        super().showEvent(event)
        self._fit()

    def _fit(self) -> None:
        margins = self._lines.contentsMargins()
        needed = self.button.sizeHint().width() + margins.left() + margins.right()
        self.setFixedWidth(max(CARD_PX, needed + 2 * self.frameWidth()))

    def _draw(self) -> None:
        made = icon(self._drawing, colours_of(self.palette()).accent)
        self._picture.setPixmap(made.pixmap(QSize(DRAWING_PX, DRAWING_PX)))


class StartForm(Form):
    """What a new hotel is called, where it is, and where its file goes."""

    def __init__(self, folder: Path, zone: str) -> None:
        """Suggest this folder and this time zone."""
        super().__init__()
        self._folder = folder
        self._file_is_ours = True
        self.name = self.add(_("&Name of the hotel"), QLineEdit())
        zones = sorted(available_timezones())
        self.zone = self.add(
            _("&Time zone"),
            ChoiceField((name, name.replace("_", " ")) for name in zones),
            hint=_("Type a city, as Vienna or New York."),
        )
        self.zone.choose(zone)
        self.paper = self.add(_("&Paper"), QComboBox())
        self.paper.addItems(PAPERS)
        self.file = self.add(_("Fi&le"), QLineEdit())
        self.name.textChanged.connect(self._suggest)
        self.file.textEdited.connect(self._keep_file)

    def described(self) -> HotelDescribed | None:
        """The hotel as described; None, and what is wrong in place, if it can't be."""
        self.clear()
        if not self.name.text().strip():
            self.say(self.name, _("A hotel needs a name."))
        if self.zone.value() is None:
            self.say(self.zone, _("There is no such time zone. Type a large city near you."))
        if not self.path().name.removesuffix(SUFFIX):
            self.say(self.file, _("The file needs a name."))
        zone = self.zone.value()
        if self.has_problems() or zone is None:
            return None
        name = " ".join(self.name.text().split())
        return HotelDescribed(name, zone, paper=self.paper.currentText())

    def path(self) -> Path:
        """Where the file goes; its ending is added where it was left out."""
        typed = Path(self.file.text().strip()).expanduser()
        return typed if typed.suffix == SUFFIX or not typed.name else Path(f"{typed}{SUFFIX}")

    def _suggest(self, name: str) -> None:
        if self._file_is_ours:
            plain = re.sub(r"[^\w]+", "-", name.strip().lower()).strip("-")
            self.file.setText(str(self._folder / f"{plain}{SUFFIX}") if plain else "")

    def _keep_file(self) -> None:
        self._file_is_ours = False


class Welcome(QWidget):
    """What one sees while no hotel is open."""

    demo_wanted = Signal()
    open_wanted = Signal()
    start_wanted = Signal(object, object)
    """The file's path and the HotelDescribed."""

    def __init__(self, folder: Path, zone: str, come_back: Callable[[], bool]) -> None:
        """Suggest this folder and time zone for a new hotel.

        ``come_back`` leads to where one was before it was asked about; False: nowhere.
        """
        super().__init__()
        self._come_back = come_back
        self.demo = Card(
            "try",
            _("Look around in an invented hotel with some months of record in it."),
            _("Try the invented hotel"),
        )
        self.start = Card(
            "hotel",
            _("Begin with your own hotel: its name, then its roster of rooms and beds."),
            _("Start my hotel"),
        )
        self.open = Card(
            "folder", _("Go on with a hotel's file that is there already."), _("Open a hotel file")
        )
        self.start.button.setProperty("role", MAIN)
        self.demo.button.clicked.connect(self._want_demo)
        self.start.button.clicked.connect(self.show_form)
        self.open.button.clicked.connect(self._want_open)
        self.form = StartForm(folder, zone)
        self.begin = QPushButton(_("Start"))
        self.begin.setProperty("role", MAIN)
        self.begin.clicked.connect(self._start)
        self.back = QPushButton(_("Back"))
        self.back.clicked.connect(self._go_back)
        for line in (self.form.name, self.form.file):
            line.returnPressed.connect(self._start)
        self._panes = QStackedWidget()
        self._panes.addWidget(self._choices_pane())
        self._panes.addWidget(self._form_pane())
        self.opening = QLabel(alignment=Qt.AlignmentFlag.AlignCenter, wordWrap=True)
        self._panes.addWidget(self.opening)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        self._frame = PageFrame(self._panes)
        whole.addWidget(self._frame)

    def show_choices(self) -> None:
        """Show the three ways to begin."""
        self._panes.setCurrentIndex(0)

    def show_opening(self, file: str) -> None:
        """Say that a file is being opened."""
        self.opening.setText(_("Opening {file}…").format(file=file))
        self._panes.setCurrentWidget(self.opening)

    def show_form(self) -> None:
        """Ask about the new hotel."""
        self._panes.setCurrentIndex(1)
        self.form.name.setFocus()

    def _choices_pane(self) -> QWidget:
        pane = QWidget()
        title = QLabel(
            _("Find bed bugs early, and know what was looked at"),
            wordWrap=True,
            alignment=Qt.AlignmentFlag.AlignCenter,
        )
        title.setProperty("role", "title")
        limit = QLabel(limit_text(), wordWrap=True, alignment=Qt.AlignmentFlag.AlignCenter)
        limit.setProperty("role", "muted")
        cards = QHBoxLayout()
        cards.setSpacing(16)
        cards.addStretch()
        for card in (self.demo, self.start, self.open):
            cards.addWidget(card)
        cards.addStretch()
        lines = QVBoxLayout(pane)
        lines.setSpacing(20)
        lines.addStretch(2)
        lines.addWidget(title)
        lines.addLayout(cards)
        lines.addWidget(limit)
        lines.addStretch(3)
        return pane

    def _form_pane(self) -> QWidget:
        pane, column = QWidget(), QWidget()
        column.setFixedWidth(FORM_PX)
        title = QLabel(_("Start my hotel"))
        title.setProperty("role", "title")
        buttons = QHBoxLayout()
        buttons.addWidget(self.back)
        buttons.addStretch()
        buttons.addWidget(self.begin)
        inner = QVBoxLayout(column)
        inner.setSpacing(16)
        inner.addWidget(title)
        inner.addWidget(self.form)
        inner.addLayout(buttons)
        lines = QVBoxLayout(pane)
        lines.addStretch(2)
        lines.addWidget(column, alignment=Qt.AlignmentFlag.AlignCenter)
        lines.addStretch(3)
        return pane

    def _go_back(self) -> None:
        if not self._come_back():
            self.show_choices()

    def _want_demo(self) -> None:
        self.demo_wanted.emit()

    def _want_open(self) -> None:
        self.open_wanted.emit()

    def _start(self) -> None:
        described = self.form.described()
        if described is not None:
            self.start_wanted.emit(self.form.path(), described)
