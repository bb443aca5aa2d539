"""The drawn bed and the list of places, which share the place that one stands on.

Side by side where there is width for both, one above the other where there is not.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter

from hotelwatch.screens.checks.bed_pane import BedPane
from hotelwatch.screens.checks.place_list import PlaceList

SIDE_BY_SIDE_EMS = 96
"""From so many widths of the letter m on, both fit beside each other."""
HANDLE_PX = 10
BESIDE, ABOVE = 0.56, 0.75
"""Share of the drawing where it stands beside the list, and where it stands above it."""


class PlacesPane(QSplitter):
    """A bed's places, drawn and listed."""

    def __init__(self) -> None:
        """No place yet."""
        super().__init__(Qt.Orientation.Vertical)
        self.bed, self.places = BedPane(), PlaceList()
        self.setChildrenCollapsible(False)
        self.setHandleWidth(HANDLE_PX)
        self.addWidget(self.bed)
        self.addWidget(self.places)
        self._is_by_hand = False
        self.splitterMoved.connect(self._keep_sizes)
        self.bed.stand_wanted.connect(self.places.stand_on)
        self.bed.step_wanted.connect(self.places.step)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Turn to how both fit best."""
        super().resizeEvent(event)
        self._turn()

    def changeEvent(self, event: QEvent) -> None:
        """Turn for another size of text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._turn()

    def _keep_sizes(self) -> None:
        """A person chose how much each has."""
        self._is_by_hand = True

    def _turn(self) -> None:
        fits = self.width() >= SIDE_BY_SIDE_EMS * self.fontMetrics().averageCharWidth()
        wanted = Qt.Orientation.Horizontal if fits else Qt.Orientation.Vertical
        if wanted is not self.orientation():
            self._is_by_hand = False
            self.setOrientation(wanted)
        if not self._is_by_hand:
            whole = (self.width() if fits else self.height()) - self.handleWidth()
            drawn = round(whole * (BESIDE if fits else ABOVE))
            self.setSizes([drawn, whole - drawn])
