"""How the window is divided: places down the left, the header above, what goes on below it."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget


def framed(
    navigation: QWidget,
    header: QWidget,
    inside: tuple[QWidget, ...],
    *,
    pages: QStackedWidget,
    bare: QWidget,
) -> QWidget:
    """The window's inside: navigation and header around what stands below one another.

    ``pages``, one of those ``inside``, takes the room that the others leave. While ``bare``
    is the one of them that shows, neither navigation nor header does.
    """

    def fit(_place: int = 0) -> None:
        for part in (navigation, header):
            part.setVisible(pages.currentWidget() is not bare)

    pages.currentChanged.connect(fit)
    inner = QVBoxLayout()
    inner.setContentsMargins(16, 12, 16, 12)
    inner.setSpacing(10)
    for widget in inside:
        inner.addWidget(widget, 1 if widget is pages else 0)
    column = QVBoxLayout()
    column.setSpacing(0)
    column.addWidget(header)
    column.addLayout(inner, 1)
    whole = QWidget()
    line = QHBoxLayout(whole)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(0)
    line.addWidget(navigation)
    line.addLayout(column, 1)
    fit()
    return whole
