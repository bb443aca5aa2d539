"""Hides what the role at the desk may not do, and keeps it hidden.

The gate in ``OpenHotel.record`` refuses it all the same; this only spares the person the way.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QWidget


def only_if(allowed: bool, *widgets: QWidget) -> None:
    """Hide these for good unless it is allowed, whatever the page does with them later."""
    if allowed:
        return
    for widget in widgets:
        widget.installEventFilter(_Hidden(widget))
        widget.hide()


class _Hidden(QObject):
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.ShowToParent and isinstance(watched, QWidget):
            watched.hide()
        return super().eventFilter(watched, event)
