"""Where a page is short of room: parts in view get what they need, those out of view nothing."""

from __future__ import annotations

from PySide6.QtWidgets import QSizePolicy, QSplitter, QStackedWidget, QWidget
from shiboken6 import isValid

from hotelwatch.screens.layout.least_sizes import UPRIGHT, least, parts_of, says_itself

IGNORED = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Ignored)


class RoomForParts:
    """Shares out the room of one page, and gives it back as the page had it."""

    def __init__(self, page: QWidget) -> None:
        """All as the page has it."""
        self._page = page
        self._held: dict[QWidget, QSizePolicy] = {}
        self._raised: set[QWidget] = set()

    def share(self) -> None:
        """Let hidden panes ask for nothing, and no splitter give a part less than it needs."""
        for stack in self._page.findChildren(QStackedWidget):
            self._thin(stack)
        for part in self._page.findChildren(QWidget):
            if part.sizePolicy().verticalPolicy() is IGNORED.verticalPolicy() and says_itself(part):
                part.setMinimumHeight(max(0, part.minimumSizeHint().height()))
                self._raised.add(part)
        for splitter in self._page.findChildren(QSplitter):
            is_upright = splitter.orientation() is UPRIGHT
            for part in parts_of(splitter):
                needed = least(part, UPRIGHT) if is_upright and not part.isHidden() else 0
                if part.minimumHeight() != needed:
                    part.setMinimumHeight(needed)

    def _thin(self, stack: QStackedWidget) -> None:
        for place in range(stack.count()):
            pane = stack.widget(place)
            if pane is None:
                continue
            if pane is stack.currentWidget():
                self._give_back(pane)
            elif pane not in self._held:
                self._held[pane] = pane.sizePolicy()
                pane.setSizePolicy(IGNORED)

    def undo(self) -> None:
        """Leave it to Qt again."""
        for pane in tuple(self._held):
            self._give_back(pane)
        for part in self._raised:
            if isValid(part):
                part.setMinimumHeight(0)
        self._raised.clear()

    def _give_back(self, pane: QWidget) -> None:
        policy = self._held.pop(pane, None)
        if policy is not None and isValid(pane):
            pane.setSizePolicy(policy)
