"""What a person can't see or reach in a window: cut text, things outside, small targets.

Measured on widgets as they are laid out, by their own hints and fonts. Where a text is
shortened on purpose, what the pointer shows resting on it must hold all of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QCheckBox,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QRadioButton,
    QStyle,
    QStyleOptionButton,
    QTabBar,
    QTableView,
    QToolButton,
    QWidget,
)

from tests.walk import own_widgets

TOLERANCE_PX = 2
LEAST_TARGET_PX = 24
"""WCAG 2.2, 2.5.8 (AA): targets at least 24 by 24 CSS pixels, or as far apart."""
CELL_AIR_PX = 16
"""Left and right in a cell, as resources/styles/window.qss has it."""
CELLS_MEASURED = 12


def told(widget: QWidget) -> str:
    """A widget as a person would find it."""
    text = getattr(widget, "text", lambda: "")
    said = text() if callable(text) else ""
    name = said or widget.accessibleName() or widget.objectName()
    return f"{type(widget).__name__} {name[:50]!r}"


def words(text: str) -> str:
    """Text as it is drawn: no marks of letters, no tags."""
    plain = text
    if "<" in text and ">" in text:
        document = QTextDocument()
        document.setHtml(text)
        plain = document.toPlainText()
    return re.sub(r"&(.)", r"\1", plain)


def cut(top: QWidget) -> list[str]:
    """Texts in a widget that are not seen whole, and have no hint that says them."""
    found = []
    for widget in own_widgets(top):
        why = _cut(widget)
        if why:
            found.append(f"{told(widget)}: {why}")
    return found


def _cut(widget: QWidget) -> str:
    if isinstance(widget, QLabel):
        return _cut_label(widget)
    if isinstance(widget, QTabBar):
        return _cut_tabs(widget)
    if isinstance(widget, QTableView):
        return _cut_table(widget)
    if isinstance(widget, QAbstractButton):
        return _cut_button(widget)
    if isinstance(widget, QComboBox):
        return _cut_field(widget, widget.currentText(), widget.lineEdit())
    if isinstance(widget, QAbstractSpinBox):
        return _cut_field(widget, widget.text(), widget.findChild(QLineEdit))
    if isinstance(widget, QLineEdit) and not isinstance(widget.parent(), QWidget | None):
        return ""
    if isinstance(widget, QLineEdit):
        return _too_low(widget)
    return ""


def _cut_label(label: QLabel) -> str:
    if not label.text() or label.pixmap().isNull() is False:
        return ""
    room = label.contentsRect()
    if label.wordWrap():
        needed = label.heightForWidth(label.width())
        if needed > label.height() + TOLERANCE_PX:
            return f"{needed} px high in {label.height()}"
        longest = max(re.split(r"\s", words(label.text())), key=len)
        wide = label.fontMetrics().horizontalAdvance(longest)
    else:
        needed = QLabel.sizeHint(label).height()  # of its words: one of ours may wish for more
        if needed > label.height() + TOLERANCE_PX + 2:
            return f"{needed} px high in {label.height()}"
        wide = label.sizeHint().width() - (label.width() - room.width())
    if wide > room.width() + TOLERANCE_PX and not _hint_says(label.toolTip(), label.text()):
        return f"{wide} px wide in {room.width()}"
    return ""


def _hint_says(hint: str, text: str) -> bool:
    return bool(hint) and words(text).strip(" …") in words(hint)


def _cut_button(button: QAbstractButton) -> str:
    if not button.text():
        return ""
    needed, has = button.sizeHint(), button.size()
    if isinstance(button, QPushButton):
        option = QStyleOptionButton()
        button.initStyleOption(option)
        inner = button.style().subElementRect(
            QStyle.SubElement.SE_PushButtonContents, option, button
        )
        text = button.fontMetrics().size(Qt.TextFlag.TextShowMnemonic.value, button.text())
        icon = 0 if button.icon().isNull() else button.iconSize().width() + 4
        needed = QSize(text.width() + icon + button.width() - inner.width(), needed.height())
    if needed.width() > has.width() + TOLERANCE_PX:
        return f"{needed.width()} px wide in {has.width()}"
    if needed.height() > has.height() + TOLERANCE_PX:
        return f"{needed.height()} px high in {has.height()}"
    return ""


def _cut_field(field: QWidget, text: str, line: QLineEdit | None) -> str:
    if line is None:
        room = field.width() - 24
    else:
        margins = line.textMargins()
        room = line.width() - margins.left() - margins.right() - 4
    wide = field.fontMetrics().horizontalAdvance(text)
    if wide > room + TOLERANCE_PX and text not in field.toolTip():
        return f"{text!r}: {wide} px wide in {room}"
    return _too_low(field)


def _too_low(field: QWidget) -> str:
    needed = field.fontMetrics().height()
    return f"{needed} px high in {field.height()}" if needed > field.height() - 2 else ""


def _cut_tabs(bar: QTabBar) -> str:
    if bar.elideMode() is not Qt.TextElideMode.ElideNone:
        for place in range(bar.count()):
            wide = bar.fontMetrics().horizontalAdvance(words(bar.tabText(place)))
            if bar.isTabVisible(place) and wide > bar.tabRect(place).width():
                return f"tab {bar.tabText(place)!r} in {bar.tabRect(place).width()} px"
    last = max((bar.tabRect(place).right() for place in range(bar.count())), default=0)
    if last > bar.width() + TOLERANCE_PX and not bar.usesScrollButtons():
        return f"tabs {last} px wide in {bar.width()}"
    return ""


def _cut_table(table: QTableView) -> str:
    model = table.model()
    if model is None or not model.rowCount() or not model.columnCount():
        return ""
    return _cut_titles(table) or _cut_cells(table) or _too_few_rows(table)


def _cut_titles(table: QTableView) -> str:
    header = table.horizontalHeader()
    if header.isHidden():
        return ""
    font = header.font()
    font.setBold(True)
    from PySide6.QtGui import QFontMetrics

    metrics = QFontMetrics(font)
    for column in range(header.count()):
        if header.isSectionHidden(column):
            continue
        title = str(header.model().headerData(column, Qt.Orientation.Horizontal) or "")
        hint = header.model().headerData(
            column, Qt.Orientation.Horizontal, Qt.ItemDataRole.ToolTipRole
        )
        wide = max((metrics.horizontalAdvance(line) for line in title.split("\n")), default=0)
        if wide + CELL_AIR_PX > header.sectionSize(column) + TOLERANCE_PX and hint != title:
            return f"title {title!r}: {wide} px in {header.sectionSize(column) - CELL_AIR_PX}"
    return ""


def _cut_cells(table: QTableView) -> str:
    model, metrics = table.model(), table.fontMetrics()
    for row in range(min(model.rowCount(), CELLS_MEASURED)):
        for column in range(model.columnCount()):
            if table.isColumnHidden(column) or table.wordWrap():
                continue
            index = model.index(row, column)
            text = str(index.data() or "")
            room = table.columnWidth(column) - CELL_AIR_PX
            wide = max((metrics.horizontalAdvance(line) for line in text.split("\n")), default=0)
            if wide > room + TOLERANCE_PX:
                hint = str(index.data(Qt.ItemDataRole.ToolTipRole) or "")
                if text not in hint and " ".join(text.split()) not in " ".join(hint.split()):
                    return f"cell {text!r}: {wide} px in {room}, without a hint"
    return ""


def _too_few_rows(table: QTableView) -> str:
    tall = table.rowHeight(0)
    seen = table.viewport().height()
    if seen + TOLERANCE_PX < min(tall, 4 * table.fontMetrics().height()):
        return f"not one row is seen: {tall} px in {seen}"
    return ""


# --- outside ------------------------------------------------------------------


def outside(top: QWidget) -> list[str]:
    """Widgets of which a part can't be brought into view by scrolling."""
    found = []
    for widget in own_widgets(top):
        if widget is top or isinstance(widget, QHeaderView):
            continue
        lost = _lost(widget, top)
        if lost:
            found.append(f"{told(widget)}: {lost}")
    return found


def _lost(widget: QWidget, top: QWidget) -> str:
    """The part of a widget that some holder cuts off for good."""
    rect, inner = QRect(QPoint(0, 0), widget.size()), widget
    if rect.isEmpty():
        return "" if widget.sizeHint().isEmpty() else "has no size"
    while inner is not top:
        holder = inner.parentWidget()
        if holder is None or inner.isWindow():
            return ""
        rect.translate(inner.pos())
        if _scrolls(holder):
            return ""
        seen = holder.rect().adjusted(-TOLERANCE_PX, -TOLERANCE_PX, TOLERANCE_PX, TOLERANCE_PX)
        if not seen.contains(rect):
            return f"{rect.getRect()} in {type(holder).__name__} {holder.rect().getRect()}"
        inner = holder
    return ""


def _scrolls(holder: QWidget) -> bool:
    area = holder.parentWidget()
    return isinstance(area, QAbstractScrollArea) and area.viewport() is holder


def overlapping(top: QWidget) -> list[str]:
    """Pairs of texts or controls that lie on one another within one holder."""
    found = []
    for holder in own_widgets(top):
        if isinstance(holder, QAbstractItemView | QAbstractSpinBox | QComboBox | QTabBar):
            continue
        parts = [
            one
            for one in holder.findChildren(
                QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly
            )
            if one.isVisible() and holder.layout() is not None and not one.isWindow()
        ]
        for number, one in enumerate(parts):
            for other in parts[number + 1 :]:
                shared = one.geometry().intersected(other.geometry())
                if shared.width() > TOLERANCE_PX and shared.height() > TOLERANCE_PX:
                    found.append(f"{told(one)} lies on {told(other)}")
    return found


# --- targets ------------------------------------------------------------------


def small_targets(top: QWidget) -> list[str]:
    """Things to press that are smaller than a finger needs."""
    found = []
    for widget in own_widgets(top):
        if isinstance(widget, QAbstractButton | QComboBox | QAbstractSpinBox | QLineEdit):
            size = _pressed(widget)
            if min(size.width(), size.height()) < LEAST_TARGET_PX:
                found.append(f"{told(widget)}: {size.width()} × {size.height()} px")
        elif isinstance(widget, QTabBar):
            for place in range(widget.count()):
                if widget.isTabVisible(place):
                    size = widget.tabRect(place).size()
                    if min(size.width(), size.height()) < LEAST_TARGET_PX:
                        found.append(f"{told(widget)}, tab {place}: {size.height()} px")
        elif isinstance(widget, QTableView) and 0 < widget.rowHeight(0) < LEAST_TARGET_PX:
            found.append(f"{told(widget)}: rows of {widget.rowHeight(0)} px")
    return found


def _pressed(widget: QWidget) -> QSize:
    """What reacts to a press: of a box to tick its words do, too."""
    if isinstance(widget, QCheckBox | QRadioButton | QPushButton | QToolButton):
        return widget.size()
    return widget.size()


# --- names --------------------------------------------------------------------


def nameless(widgets: list[QWidget]) -> Iterator[str]:
    """Widgets that a screen reader could not name."""
    from PySide6.QtGui import QAccessible

    for one in widgets:
        face = QAccessible.queryAccessibleInterface(one)
        if face is None or not face.text(QAccessible.Text.Name).strip():
            yield told(one)
