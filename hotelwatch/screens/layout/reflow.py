"""What stands side by side goes below one another where the width does not suffice.

WCAG 2.2 asks that text of twice the size loses nothing (1.4.4) and that nobody must scroll in
two directions to read (1.4.10). A row of panes, or of buttons, becomes a column then.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QAbstractScrollArea, QBoxLayout, QSplitter, QWidget

from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.layout.least_sizes import ACROSS, least, of_layout

SHARE = 0.5
"""Rows that need less than this share of the width are not what makes a page too wide."""
DOWN, BESIDE = QBoxLayout.Direction.TopToBottom, QBoxLayout.Direction.LeftToRight
Row = QSplitter | QBoxLayout


class Reflow:
    """Turns the rows of one page into columns, and back."""

    def __init__(self, page: QWidget) -> None:
        """All as the page laid it out."""
        self._page = page
        self._turned: list[Row] = []

    def fit(self, width: int) -> None:
        """Turn rows, the widest first, until the page needs no more than this width."""
        while least(self._page, ACROSS) > width:
            rows = [(needs, row) for row in self._rows() if (needs := _needs(row)) > SHARE * width]
            if not rows:
                return
            widest = max(rows, key=lambda one: one[0])[1]
            _turn(widest, down=True)
            self._turned.append(widest)

    def undo(self) -> None:
        """Set everything side by side again."""
        for row in reversed(self._turned):
            _turn(row, down=False)
        self._turned.clear()

    def _rows(self) -> list[Row]:
        page = self._page
        # Kept at hand: a holder that Qt made takes its layouts along when Python lets go of it.
        holders = [page, *(one for one in page.findChildren(QWidget) if one.isVisibleTo(page))]
        splitters = [
            one for one in holders if isinstance(one, QSplitter) and one.orientation() is ACROSS
        ]
        boxes = [
            one
            for holder in holders
            for one in _boxes_of(holder)
            if one.direction() is BESIDE and _holds_several(one)
        ]
        return [*splitters, *boxes]


def _boxes_of(holder: QWidget) -> list[QBoxLayout]:
    layout = holder.layout()
    if layout is None or isinstance(holder, QAbstractScrollArea):
        return []
    own = [layout] if isinstance(layout, QBoxLayout) else []
    return [*own, *layout.findChildren(QBoxLayout)]


def _holds_several(box: QBoxLayout) -> bool:
    items = [box.itemAt(place) for place in range(box.count())]
    shown = [item for item in items if item is not None and not item.isEmpty()]
    return sum(item.widget() is not None or item.layout() is not None for item in shown) > 1


def _needs(row: Row) -> int:
    return least(row, ACROSS) if isinstance(row, QSplitter) else of_layout(row, ACROSS)


def _turn(row: Row, *, down: bool) -> None:
    if isinstance(row, QSplitter):
        row.setOrientation(Qt.Orientation.Vertical if down else Qt.Orientation.Horizontal)
        parts = [row.widget(place) for place in range(row.count())]
    else:
        row.setDirection(DOWN if down else BESIDE)
        items = [row.itemAt(place) for place in range(row.count())]
        parts = [item.widget() for item in items if item is not None]
    for part in parts:
        if isinstance(part, Card):
            part.fill(is_alone=down)
        elif isinstance(part, QAbstractButton) and isinstance(row, QBoxLayout):
            row.setAlignment(part, Qt.AlignmentFlag.AlignLeft if down else Qt.AlignmentFlag(0))
