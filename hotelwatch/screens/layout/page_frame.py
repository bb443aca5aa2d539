"""A page scrolls where it does not fit: in a small window, with large text, in a long language.

Qt's layouts squeeze what does not fit until it is cut. The frame first sets what stands side
by side below one another (reflow.py), then gives the page the room that everything on it
needs at least, and scrolls. Where the page fits, it fills the frame.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, Qt, QTimer
from PySide6.QtGui import QGuiApplication, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QWidget

from hotelwatch.screens.layout.least_sizes import ACROSS, UPRIGHT, least
from hotelwatch.screens.layout.reflow import Reflow
from hotelwatch.screens.layout.room_for_parts import RoomForParts

WELL_IN_VIEW = 0.4
"""Of the frame's height."""


class PageFrame(QScrollArea):
    """Shows one page, never smaller than the page can be read."""

    def __init__(self, page: QWidget) -> None:
        """Hold this page."""
        super().__init__()
        self._page = page
        self._reflow, self._parts = Reflow(page), RoomForParts(page)
        self._worn: tuple[int, int, float] | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setAutoFillBackground(False)
        self._fitting = QTimer(self, singleShot=True, interval=0)
        self._fitting.timeout.connect(self._fit)
        self.setWidget(page)
        page.setAutoFillBackground(False)
        page.installEventFilter(self)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow_focus)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Fit again once the page's layout asks for other room."""
        if watched is self._page and event.type() == QEvent.Type.LayoutRequest:
            self._fitting.start()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the page the room there is, or what it needs."""
        super().resizeEvent(event)
        self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Fit once sizes are known."""
        super().showEvent(event)
        self._fit()

    def begin(self) -> None:
        """Give the keyboard to the first control of a page that names none itself."""
        place = self._page.nextInFocusChain()
        while place is not None and place is not self._page:
            by_tab = place.focusPolicy().value & Qt.FocusPolicy.TabFocus.value
            can_be_used = place.isEnabled() and place.isVisibleTo(self)
            if by_tab and can_be_used and self._page.isAncestorOf(place):
                place.setFocus(Qt.FocusReason.ShortcutFocusReason)
                return
            place = place.nextInFocusChain()

    def minimumSizeHint(self) -> QSize:
        """It can be as small as one likes: it scrolls."""
        return QSize(0, 0)

    def _fit(self) -> None:
        if not self.isVisible():
            return
        room, page = self.maximumViewportSize(), self._page
        worn = (room.width(), room.height(), page.font().pointSizeF())
        if worn != self._worn:
            self._worn = worn
            self._reflow.undo()
            self._parts.undo()
        hint = page.minimumSizeHint()
        if hint.height() > room.height() or hint.width() > room.width():
            self._parts.share()
        bar = self.verticalScrollBar().sizeHint().width()
        if least(page, ACROSS) > room.width():
            self._reflow.fit(room.width() - bar)
        tall = self._tall_at(max(least(page, ACROSS), room.width()))
        if tall > room.height():
            room.setWidth(room.width() - bar)
            if least(page, ACROSS) > room.width():
                self._reflow.fit(room.width())
        wide = least(page, ACROSS)
        if wide > room.width():
            room.setHeight(room.height() - bar)
        wide = max(wide, room.width())
        tall = self._tall_at(wide)
        page.resize(wide, max(tall, room.height()))

    def _tall_at(self, wide: int) -> int:
        """How high the page must be at that width."""
        self._page.resize(wide, self._page.height())
        tall = least(self._page, UPRIGHT)
        if tall > self.maximumViewportSize().height():
            self._parts.share()
            tall = least(self._page, UPRIGHT)
        return tall

    def _follow_focus(self, _before: QWidget | None, now: QWidget | None) -> None:
        by_mouse = QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton
        if now is None or by_mouse or not self._page.isAncestorOf(now):
            return
        holder = now.parentWidget()
        while holder is not None and holder is not self.parentWidget():
            if isinstance(holder, QScrollArea) and not _is_well_in_view(now, holder):
                holder.ensureWidgetVisible(now)
            holder = holder.parentWidget()


def _is_well_in_view(part: QWidget, scroll: QScrollArea) -> bool:
    """Whether a large part, a drawing, shows so much of itself that nothing need move for it."""
    frame = scroll.viewport().rect()
    seen = QRect(part.mapTo(scroll.viewport(), QPoint()), part.size()).intersected(frame)
    return seen.height() >= WELL_IN_VIEW * frame.height()
