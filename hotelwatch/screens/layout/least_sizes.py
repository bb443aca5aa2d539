"""How much room everything in a widget needs at least, at the widths that its parts have now.

Qt's own least sizes leave out that wrapped text grows higher as it gets narrower, and count
panes that are not in view. Where a class of ours says what it needs, that counts.
"""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QBoxLayout,
    QGridLayout,
    QLabel,
    QLayout,
    QLayoutItem,
    QSizePolicy,
    QSplitter,
    QStackedLayout,
    QStackedWidget,
    QTabWidget,
    QWidget,
)

UPRIGHT, ACROSS = Qt.Orientation.Vertical, Qt.Orientation.Horizontal
OURS = "hotelwatch."
WORDS_DIGITS = 18
"""Digits wide that a wrapped text is at least, if it is that long: no column of single words."""


def least(widget: QWidget, way: Qt.Orientation) -> int:
    """Pixels that everything in a widget needs, at the widths that its parts have now."""
    margins = widget.contentsMargins()
    rim = margins.top() + margins.bottom() if way is UPRIGHT else margins.left() + margins.right()
    layout = widget.layout()
    if says_itself(widget):
        return _of_leaf(widget, way)
    if isinstance(widget, QSplitter):
        inner = _of_splitter(widget, way)
    elif isinstance(widget, QTabWidget):
        inner = _of_tabs(widget, way)
    elif isinstance(widget, QStackedWidget):
        shown = widget.currentWidget()
        inner = 0 if shown is None else least(shown, way)
    elif layout is not None and not isinstance(widget, QAbstractScrollArea):
        inner = of_layout(layout, way)
    else:
        return _of_leaf(widget, way)
    by_qt = _along(widget.minimumSizeHint(), way)  # what its layout will not go below
    return min(max(inner + rim, by_qt, _own_least(widget, way)), _most(widget, way))


def _along(size: QSize, way: Qt.Orientation) -> int:
    return size.height() if way is UPRIGHT else size.width()


def says_itself(widget: QWidget) -> bool:
    """Whether a class of our own says what it needs."""
    ours = (kind for kind in type(widget).__mro__ if kind.__module__.startswith(OURS))
    return any("minimumSizeHint" in vars(kind) for kind in ours)


def _of_leaf(widget: QWidget, way: Qt.Orientation) -> int:
    policy = widget.sizePolicy()
    held = policy.verticalPolicy() if way is UPRIGHT else policy.horizontalPolicy()
    size = widget.minimumSizeHint()
    if not QSizePolicy.Policy(held).value & QSizePolicy.PolicyFlag.ShrinkFlag.value:
        size = size.expandedTo(widget.sizeHint())
    found = _along(size, way)
    if way is ACROSS and isinstance(widget, QLabel) and widget.wordWrap():
        found = max(found, _of_words(widget))
    wraps = widget.hasHeightForWidth() and not says_itself(widget)
    if way is UPRIGHT and wraps and widget.width() > 0:
        found = max(found, widget.heightForWidth(widget.width()))
    return min(max(found, _own_least(widget, way)), _most(widget, way))


def _of_words(label: QLabel) -> int:
    metrics = label.fontMetrics()
    whole = max(map(metrics.horizontalAdvance, label.text().splitlines()), default=0)
    return min(whole, WORDS_DIGITS * metrics.horizontalAdvance("0"))


def _own_least(widget: QWidget, way: Qt.Orientation) -> int:
    if way is ACROSS:
        return widget.minimumWidth()
    holder = widget.parentWidget()
    if isinstance(holder, QSplitter) and holder.orientation() is UPRIGHT:
        return 0  # set by PageFrame; it must not keep itself up
    return widget.minimumHeight()


def _most(widget: QWidget, way: Qt.Orientation) -> int:
    return widget.maximumHeight() if way is UPRIGHT else widget.maximumWidth()


def parts_of(splitter: QSplitter) -> list[QWidget]:
    """What a splitter parts."""
    parts = (splitter.widget(place) for place in range(splitter.count()))
    return [part for part in parts if part is not None]


def _of_splitter(splitter: QSplitter, way: Qt.Orientation) -> int:
    needed = [least(part, way) for part in parts_of(splitter) if not part.isHidden()]
    if splitter.orientation() is way:
        return sum(needed) + splitter.handleWidth() * max(0, len(needed) - 1)
    return max(needed, default=0)


def _of_tabs(tabs: QTabWidget, way: Qt.Orientation) -> int:
    shown, bar = tabs.currentWidget(), tabs.tabBar()
    inner = 0 if shown is None else least(shown, way)
    if way is UPRIGHT:
        return inner + bar.sizeHint().height() + 1
    return max(inner, bar.minimumSizeHint().width())


def of_layout(layout: QLayout, way: Qt.Orientation) -> int:
    """Pixels that everything in a layout needs."""
    margins = layout.contentsMargins()
    rim = margins.top() + margins.bottom() if way is UPRIGHT else margins.left() + margins.right()
    if isinstance(layout, QStackedLayout):
        shown = layout.currentWidget()
        return rim + (0 if shown is None else least(shown, way))
    if isinstance(layout, QBoxLayout):
        return rim + _of_box(layout, way)
    if isinstance(layout, QGridLayout):
        return rim + _of_grid(layout, way)
    if way is UPRIGHT and layout.hasHeightForWidth():
        return layout.heightForWidth(layout.geometry().width())
    return _along(layout.minimumSize(), way)


def _of_item(item: QLayoutItem, way: Qt.Orientation) -> int:
    widget, layout = item.widget(), item.layout()
    if widget is not None:
        return least(widget, way)
    if layout is not None:
        return of_layout(layout, way)
    return _along(item.minimumSize(), way)


def _of_box(box: QBoxLayout, way: Qt.Orientation) -> int:
    items = [box.itemAt(place) for place in range(box.count())]
    shown = [item for item in items if item is not None and not item.isEmpty()]
    needed = [_of_item(item, way) for item in shown]
    upright = (QBoxLayout.Direction.TopToBottom, QBoxLayout.Direction.BottomToTop)
    if (box.direction() in upright) is (way is UPRIGHT):
        if len(needed) > 1 and way is UPRIGHT:
            needed = [_among_others(item, need) for item, need in zip(shown, needed, strict=True)]
        return sum(needed) + max(0, box.spacing()) * max(0, len(needed) - 1)
    return max(needed, default=0)


def _among_others(item: QLayoutItem, needed: int) -> int:
    """A stack takes height for panes out of view from those beside it: leave room for that."""
    if isinstance(item.widget(), QStackedWidget) and item.hasHeightForWidth():
        return max(needed, item.minimumHeightForWidth(item.geometry().width()))
    return needed


def _of_grid(grid: QGridLayout, way: Qt.Orientation) -> int:
    lines: dict[int, int] = {}
    for place in range(grid.count()):
        item = grid.itemAt(place)
        if item is None or item.isEmpty():
            continue
        row, column, rows, columns = _place(grid, place)
        line, spans = (row, rows) if way is UPRIGHT else (column, columns)
        if spans == 1:
            lines[line] = max(lines.get(line, 0), _of_item(item, way))
    apart = grid.verticalSpacing() if way is UPRIGHT else grid.horizontalSpacing()
    inner = sum(lines.values()) + max(0, apart) * max(0, len(lines) - 1)
    size = grid.minimumSize()
    return inner if way is UPRIGHT else max(inner, size.width())


def _place(grid: QGridLayout, place: int) -> tuple[int, int, int, int]:
    return cast("tuple[int, int, int, int]", grid.getItemPosition(place))
