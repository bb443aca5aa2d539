"""What takes hands and keys before a drawing does, as when rooms are drawn."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QPointF
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter


class Tool(Protocol):
    """Takes hands and keys before the view does, as when rooms are drawn."""

    def press(self, point: QPointF, event: QMouseEvent) -> bool:
        """A button went down at a point of the scene; whether it was meant for the tool."""

    def move(self, point: QPointF, event: QMouseEvent) -> bool:
        """The pointer moved."""

    def release(self, point: QPointF, event: QMouseEvent) -> bool:
        """The button went up."""

    def key(self, event: QKeyEvent) -> bool:
        """A key was pressed."""

    def paint(self, painter: QPainter, at: Callable[[QPointF], QPointF]) -> None:
        """Paint over the drawing; ``at`` says where a point of the scene shows."""
