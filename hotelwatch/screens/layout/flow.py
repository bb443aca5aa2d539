"""Widgets in a row that goes on in the next line where there is no room, and a scroll that fits."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QMargins, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QScrollArea, QSizePolicy, QWidget

GAP_PX = 6


class Flow(QLayout):
    """Lays widgets side by side and begins a new line where the width ends."""

    def __init__(self, apart_px: int = GAP_PX) -> None:
        """No widget yet; those of a line stand ``apart_px`` apart."""
        super().__init__()
        self._apart_px = apart_px
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(QMargins())

    def addItem(self, item: QLayoutItem) -> None:
        """Add one more at the end."""
        self._items.append(item)

    def count(self) -> int:
        """How many there are."""
        return len(self._items)

    def itemAt(self, place: int) -> QLayoutItem | None:
        """The one at a place; None beyond the last."""
        return self._items[place] if 0 <= place < len(self._items) else None

    def takeAt(self, place: int) -> QLayoutItem | None:
        """Take away the one at a place."""
        return self._items.pop(place) if 0 <= place < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It takes no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of all lines."""
        return self._place(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        """Put every widget in its place."""
        super().setGeometry(rect)
        self._place(rect, move=True)

    def sizeHint(self) -> QSize:
        """Room for the widest of them."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """Room for the widest of them."""
        size = QSize()
        for item in self._items:
            if not item.isEmpty():
                size = size.expandedTo(item.sizeHint())
        return size

    def in_one_line(self) -> QSize:
        """Room for all of them side by side."""
        sizes = [item.sizeHint() for item in self._items if not item.isEmpty()]
        wide = sum(size.width() for size in sizes) + self._apart_px * max(0, len(sizes) - 1)
        return QSize(wide, max((size.height() for size in sizes), default=0))

    def _place(self, rect: QRect, *, move: bool) -> int:
        x, y, line = rect.x(), rect.y(), 0
        for item in self._items:
            if item.isEmpty():
                continue
            size = item.sizeHint()
            if x + size.width() > rect.right() + 1 and line:
                x, y, line = rect.x(), y + line + GAP_PX, 0
            if move:
                item.setGeometry(QRect(x, y, size.width(), size.height()))
            x += size.width() + self._apart_px
            line = max(line, size.height())
        return y + line - rect.y()


class FlowRow(QWidget):
    """A widget that is one flow: it asks for one line, and gets more where it is too narrow."""

    def __init__(self, apart_px: int = GAP_PX) -> None:
        """No widget yet; add them to ``flow``."""
        super().__init__()
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.flow = Flow(apart_px)
        self.setLayout(self.flow)

    def sizeHint(self) -> QSize:
        """One line: Qt would else keep the height of the narrowest the flow can be."""
        return self.flow.in_one_line()


_ALIVE: dict[int, QScrollArea] = {}
"""Scroll areas that Qt has not destroyed yet.

PySide 6.11.3 takes one that nothing but its layout holds for garbage, with all that lies in
it: the form one types in is gone, and the program crashes.
"""


class HeldScroll(QScrollArea):
    """A scroll area that lives until Qt destroys it."""

    def __init__(self) -> None:
        """Nothing to scroll yet; what it shows takes all its room."""
        super().__init__(widgetResizable=True)
        _ALIVE[id(self)] = self
        self.destroyed.connect(partial(_forget, id(self)))


def _forget(key: int, _gone: object = None) -> None:
    _ALIVE.pop(key, None)


class UprightScroll(HeldScroll):
    """Scrolls up and down only; it is never narrower than what it holds."""

    def __init__(self, least_lines: int = 0) -> None:
        """Nothing held yet; it is never lower than so many lines of text."""
        super().__init__()
        self._least_lines = least_lines
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.viewport().setAutoFillBackground(False)

    def minimumSizeHint(self) -> QSize:
        """As wide as what it holds, with its scroll bar."""
        held, least = self.widget(), super().minimumSizeHint()
        lines_px = self._least_lines * self.fontMetrics().lineSpacing()
        least = least.expandedTo(QSize(0, lines_px))
        if held is None:
            return least
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(held.minimumSizeHint().width() + bar, least.height())
