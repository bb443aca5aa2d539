"""Why the cycle can't be met: the reasons, each drawn on the calendar, and what would mend it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _

REASONS_SHARE, MENDS_SHARE = 3, 2
SUM_LINES = 5
"""A longer sum scrolls."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why visits can't be in time, and where that is drawn."""

    number: int
    text: str
    days: frozenset[date]
    rooms: frozenset[RoomNo]
    sums: tuple[str, ...] = ()
    """What its minutes are the sum of, a line for each."""


@dataclass(frozen=True, slots=True)
class MendCard:
    """A repair, what it would bring, and the way to do it."""

    text: str
    step: str
    """What its button says."""
    act: Callable[[], object]


class WhyPane(QWidget):
    """Reasons on the left, repairs on the right."""

    chosen = Signal(object)
    """The reason that has the place, or None."""

    def __init__(self) -> None:
        """Nothing to explain yet."""
        super().__init__()
        self.reasons = RowTable[Reason](
            [Column[Reason](_("Why not in time"), lambda row: row.text, wraps=True)],
            key=lambda row: row.number,
            name=_("Why not in time"),
            empty=Empty(_("Nothing that is due on these days has to be late.")),
            filtered=False,
        )
        self.reasons.current_changed.connect(self.chosen)
        self.reasons.current_changed.connect(self._add_up)
        self.sums = QLabel(wordWrap=True)
        """The sum behind the reason that has the place, to be added up again."""
        self.title = QLabel(_("What would help"))
        self.title.setProperty("role", "heading")
        self.load = QLabel(wordWrap=True)
        """What the cycles ask of the teams for ever, and what is late already."""
        self.order = QLabel(wordWrap=True)
        """In which order repairs stand, and what is assumed for it."""
        self.order.setProperty("role", "muted")
        self.buttons: list[QPushButton] = []
        self._lay_out()

    def show_reasons(
        self,
        reasons: Sequence[Reason],
        mends: Sequence[MendCard],
        load: str = "",
        order: str = "",
    ) -> None:
        """Show reasons, the plainest first, repairs, the most helpful first, and the load."""
        self.order.setText(order)
        self.load.setText(load)
        self.load.setVisible(bool(load))
        self.reasons.show_rows(reasons)
        self._add_up(self.reasons.current())
        self._clear()
        for mend in mends:
            self._cards.addWidget(self._card(mend))
        self._cards.addWidget(self.order)
        self._cards.addStretch()
        self._side.setVisible(bool(mends))

    def _lay_out(self) -> None:
        holder = QWidget()
        holder.setProperty("role", "plain")
        self._cards = QVBoxLayout(holder)
        self._cards.setContentsMargins(0, 0, 0, 0)
        scroll = HeldScroll()
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # its buttons come into view by themselves
        scroll.setWidget(holder)
        self._sums_part = HeldScroll()
        self._sums_part.setWidget(self.sums)
        self._side = QWidget()
        right = QVBoxLayout(self._side)
        right.setContentsMargins(0, 0, 0, 0)
        right.addWidget(self.title)
        right.addWidget(scroll, 1)
        left = QVBoxLayout()
        left.addWidget(self.load)
        left.addWidget(self.reasons, 1)
        left.addWidget(self._sums_part)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 4, 0, 0)
        line.addLayout(left, REASONS_SHARE)
        line.addWidget(self._side, MENDS_SHARE)
        self._side.hide()

    def _add_up(self, reason: Reason | None) -> None:
        sums = () if reason is None else reason.sums
        self.sums.setText("\n".join(sums))
        self._sums_part.setVisible(bool(sums))
        if sums:
            high = self.sums.heightForWidth(max(1, self.reasons.width()))
            most = SUM_LINES * self.fontMetrics().lineSpacing()
            self._sums_part.setFixedHeight(min(high, most))

    def _card(self, mend: MendCard) -> QFrame:
        card = QFrame()
        card.setProperty("role", "card")
        text = QLabel(mend.text, wordWrap=True)
        text.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        button = QPushButton(mend.step)
        button.setAccessibleDescription(mend.text)
        button.clicked.connect(partial(_do, mend.act))
        self.buttons.append(button)
        # Below the words: beside them a long step would leave a narrow column of text.
        lines = QVBoxLayout(card)
        lines.setContentsMargins(10, 6, 10, 6)
        lines.addWidget(text)
        lines.addWidget(button, 0, Qt.AlignmentFlag.AlignRight)
        return card

    def _clear(self) -> None:
        self.buttons = []
        while (item := self._cards.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None and widget is not self.order:
                widget.deleteLater()


def _do(act: Callable[[], object], _checked: bool = False) -> None:
    act()
