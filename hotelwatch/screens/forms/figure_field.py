"""A field for a figure: a number without idle noughts."""

from __future__ import annotations

from PySide6.QtWidgets import QDoubleSpinBox

DECIMALS = 5


class FigureField(QDoubleSpinBox):
    """A number as short as it can be."""

    def __init__(self) -> None:
        """A field of up to five decimals."""
        super().__init__(decimals=DECIMALS)

    def textFromValue(self, value: float) -> str:
        """The number without noughts at its end."""
        return f"{value:g}"
