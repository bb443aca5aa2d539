"""A place for something that is made when somebody first looks at it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtWidgets import QVBoxLayout, QWidget

P = TypeVar("P", bound=QWidget)


class MadeLater(QWidget, Generic[P]):
    """Empty until ``pane`` is asked for."""

    def __init__(self, make: Callable[[], P]) -> None:
        """Nothing made yet."""
        super().__init__()
        self._make = make
        self.made: P | None = None
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)

    def pane(self) -> P:
        """What stands there, made now if it was not."""
        if self.made is None:
            self.made = self._make()
            self._lines.addWidget(self.made)
            self.made.show()
        return self.made
