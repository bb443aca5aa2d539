"""What a locked desk shows: names to choose from, a pad for the PIN, and nothing of the hotel."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.screens.forms.pin_pad import PinPad
from hotelwatch.screens.layout.enter import ENTER, let_enter_press
from hotelwatch.screens.look.icons import icon
from hotelwatch.screens.look.theme import QUIET, colours_of
from hotelwatch.wording.language import _

DRAWING_PX = 40
ROW_LINES = 2.4
LIST_LETTERS = 26
CARD_LETTERS = 76
STEPS = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}


class LockScreen(QWidget):
    """The names of the people and the pad; it looks at no PIN itself."""

    tried = Signal(str, str)
    """A name and the PIN typed for it."""
    other_wanted = Signal()
    """Somebody wants to open another hotel's file."""

    def __init__(self) -> None:
        """Nobody to choose from yet."""
        super().__init__()
        self._then: Callable[[], object] | None = None
        self._picture = QLabel()
        self.title = QLabel(_("This desk is locked"))
        self.title.setProperty("role", "title")
        self.said = QLabel(_("Choose your name, type your PIN, press Enter."), wordWrap=True)
        self.said.setProperty("role", "muted")
        self.names = QListWidget()
        self.names.setAccessibleName(_("Who sits at the desk"))
        self.names.setWordWrap(True)
        self.names.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.names.itemClicked.connect(self._stand_at_pin)
        self.names.installEventFilter(self)
        self.pad = PinPad()
        self.pad.entered.connect(self._try)
        self.pad.line.installEventFilter(self)
        self.problem = QLabel(wordWrap=True)
        self.problem.setProperty("role", "problem")
        self.problem.setTextFormat(Qt.TextFormat.PlainText)
        self.problem.hide()
        self.work = QLabel(_("Work that was begun goes on."))
        self.work.setProperty("role", "muted")
        self.close_all_the_same = QPushButton(_("Close all the same"))
        self.close_all_the_same.clicked.connect(self._close)
        self.close_all_the_same.hide()
        self.other = QPushButton(_("Another hotel's file…"))
        self.other.setProperty("role", QUIET)
        self.other.clicked.connect(self.other_wanted)
        self.pad.line.textEdited.connect(self._forget_problem)
        self._lay_out()
        self.setFocusProxy(self.names)
        let_enter_press(self)
        self._draw()
        self._fit()

    def show_people(self, names: Sequence[str], last: str = "") -> None:
        """Offer these people, the one who sat there last chosen."""
        self.names.clear()
        self.names.addItems(list(names))
        self._fit()
        at = list(names).index(last) if last in names else 0
        self.names.setCurrentRow(at if names else -1)
        self.pad.clear()
        self._forget_problem()
        self.close_all_the_same.hide()
        if last in names:
            self.pad.setFocus()
        else:
            self.names.setFocus()

    def offered(self) -> tuple[str, ...]:
        """Who may be chosen."""
        return tuple(self.names.item(row).text() for row in range(self.names.count()))

    def name(self) -> str:
        """Who is chosen; empty: nobody."""
        item: QListWidgetItem | None = self.names.currentItem()
        return item.text() if item is not None else ""

    def say(self, text: str) -> None:
        """Say what is wrong; the PIN is to be typed anew."""
        self.pad.clear()
        self.problem.setText(text)
        self.problem.show()
        self.pad.line.setAccessibleDescription(text)

    def ask_to_close(self, then: Callable[[], object]) -> None:
        """Say that closing would lose something, and let one close all the same."""
        self._then = then
        self.say(_("Something is begun and not saved, or still being done."))
        self.close_all_the_same.show()
        self.close_all_the_same.setFocus()

    def show_work(self, *, goes_on: bool) -> None:
        """Say whether work goes on behind the lock, not which."""
        self.work.setVisible(goes_on)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Enter in the list lead to the PIN, digits be it at once, and arrows choose who."""
        if watched is self.pad.line and isinstance(event, QKeyEvent):
            by = STEPS.get(Qt.Key(event.key()), 0)
            if by and event.type() is QEvent.Type.KeyPress:
                self._step(by)
            if by:
                return True
        if watched is self.names and isinstance(event, QKeyEvent):
            if event.type() is QEvent.Type.KeyPress and event.key() in ENTER:
                self._stand_at_pin()
                return True
            if event.type() is QEvent.Type.KeyPress and self.pad.take_key(event):
                return True
        return super().eventFilter(watched, event)

    def changeEvent(self, event: QEvent) -> None:
        """Draw the lock anew in another look, and make room for larger text."""
        super().changeEvent(event)
        if not hasattr(self, "other"):
            return
        if event.type() == QEvent.Type.PaletteChange:
            self._draw()
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(14)
        words = QVBoxLayout()
        words.setSpacing(2)
        words.addWidget(self.title)
        words.addWidget(self.said)
        head.addWidget(self._picture)
        head.addLayout(words, 1)
        both = QHBoxLayout()
        both.setSpacing(24)
        both.addWidget(self.names, 1)
        both.addWidget(self.pad, 0, Qt.AlignmentFlag.AlignTop)
        below = QHBoxLayout()
        below.addWidget(self.other)
        below.addWidget(self.work)
        below.addStretch(1)
        below.addWidget(self.close_all_the_same)
        self.card = _Card()
        self.card.setProperty("role", "card")
        lines = QVBoxLayout(self.card)
        lines.setContentsMargins(28, 24, 28, 18)
        lines.setSpacing(16)
        lines.addLayout(head)
        lines.addWidget(self.problem)
        lines.addLayout(both)
        lines.addLayout(below)
        outer = QVBoxLayout(self)
        outer.addStretch(2)
        outer.addWidget(self.card, 0, Qt.AlignmentFlag.AlignHCenter)
        outer.addStretch(3)

    def _fit(self) -> None:
        letter = self.fontMetrics().averageCharWidth()
        self.names.setMinimumWidth(LIST_LETTERS * letter)
        for row in range(self.names.count()):
            height = round(ROW_LINES * self.fontMetrics().lineSpacing())
            self.names.item(row).setSizeHint(QSize(1, height))

    def _draw(self) -> None:
        drawn = icon("lock", colours_of(self.palette()).accent)
        self._picture.setPixmap(drawn.pixmap(QSize(DRAWING_PX, DRAWING_PX)))

    def _stand_at_pin(self, _item: object = None) -> None:
        self._forget_problem()
        self.pad.clear()
        self.pad.setFocus()

    def _step(self, by: int) -> None:
        """The name above or below; what was typed was another one's PIN."""
        row = self.names.currentRow() + by
        if 0 <= row < self.names.count():
            self.names.setCurrentRow(row)
            self._stand_at_pin()
            self.pad.line.setAccessibleDescription(self.name())

    def _forget_problem(self, _text: object = None) -> None:
        self.problem.hide()
        self.pad.line.setAccessibleDescription("")

    def _close(self) -> None:
        if self._then is not None:
            self._then()

    def _try(self, pin: str) -> None:
        self.pad.clear()
        if self.name():
            self.tried.emit(self.name(), pin)


class _Card(QFrame):
    """As wide as one likes to read it, narrower where there is no room."""

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return hint.expandedTo(QSize(CARD_LETTERS * self.fontMetrics().averageCharWidth(), 0))
