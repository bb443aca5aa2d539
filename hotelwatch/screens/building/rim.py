"""What stands beside a drawing and never over it: zoom, north, scale; floors' names of the cut."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from hotelwatch.screens.building.backdrop import paint_north, paint_scale, paint_storey_names
from hotelwatch.screens.building.camera import ZOOM_STEP
from hotelwatch.screens.building.house_view import HouseView
from hotelwatch.screens.look.theme import colours_of
from hotelwatch.wording.language import _

TIMES = ZOOM_STEP * ZOOM_STEP
LEAST_BUTTON_PX = 30
BUTTON_LINES = 1.75
GAP_PX = 4
WIDEST_SCALE = "500 m"
NORTH_LINES, SCALE_LINES = 2.2, 1.9


class FramedView(QWidget):
    """A drawing with its rim."""

    def __init__(self, view: HouseView, *, is_plan: bool) -> None:
        """Take this drawing in; a plan has a north, a cut has floors."""
        super().__init__()
        self.view = view
        self.rim = Rim(view, has_north=is_plan)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(GAP_PX)
        if not is_plan:
            line.addWidget(StoreyNames(view))
        line.addWidget(view, 1)
        line.addWidget(self.rim)


class Rim(QWidget):
    """Larger, smaller, all; where north is, and how long a metre shows."""

    def __init__(self, view: HouseView, *, has_north: bool) -> None:
        """For this drawing."""
        super().__init__()
        self.larger = _button("+", _("Larger"), "+")
        self.smaller = _button("−", _("Smaller"), "−")
        self.all = _button("⤢", _("Show everything"), _("Home"))
        self.larger.clicked.connect(lambda: view.zoom(TIMES))
        self.smaller.clicked.connect(lambda: view.zoom(1 / TIMES))
        self.all.clicked.connect(view.fit)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(GAP_PX)
        for button in (self.larger, self.smaller, self.all):
            lines.addWidget(button, 0, Qt.AlignmentFlag.AlignHCenter)
        lines.addStretch(1)
        if has_north:
            lines.addWidget(North())
        lines.addWidget(Scale(view))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "all"):
            self._fit()

    def _fit(self) -> None:
        side = max(LEAST_BUTTON_PX, round(self.fontMetrics().height() * BUTTON_LINES))
        for button in (self.larger, self.smaller, self.all):
            button.setFixedSize(side, side)


class _Drawn(QWidget):
    """A small picture that says by the text's size how large it is."""

    def __init__(self, lines: float) -> None:
        super().__init__()
        self._lines = lines
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As wide as a scale's figures, and so many lines high."""
        metrics = self.fontMetrics()
        return QSize(
            metrics.horizontalAdvance(WIDEST_SCALE) + 2, round(metrics.height() * self._lines)
        )


class North(_Drawn):
    """An arrow to the north: every plan has north above."""

    def __init__(self) -> None:
        """Show it."""
        super().__init__(NORTH_LINES)
        self.setToolTip(_("North is above"))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the arrow and its letter."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            at = QPointF(self.width() / 2, self.fontMetrics().height() * 0.8)
            paint_north(painter, at=at, colours=colours_of(self.palette()))


class Scale(_Drawn):
    """A bar of a round number of metres, as large as the drawing shows them now."""

    def __init__(self, view: HouseView) -> None:
        """For this drawing."""
        super().__init__(SCALE_LINES)
        self._view = view
        self.setToolTip(_("So long is that many metres on the drawing"))
        view.looked.connect(self.update)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the bar and its number."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint_scale(
                painter,
                self._view.camera.scale,
                within=QRectF(self.rect()),
                colours=colours_of(self.palette()),
            )


class StoreyNames(QWidget):
    """Each floor's name, level with its rooms in the cut."""

    def __init__(self, view: HouseView) -> None:
        """For this drawing."""
        super().__init__()
        self._view = view
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        view.looked.connect(self._follow)

    def sizeHint(self) -> QSize:
        """As wide as the longest name."""
        metrics = QFontMetrics(self.font())
        names = (storey.said for storey in self._view.scene.storeys)
        return QSize(max(map(metrics.horizontalAdvance, names), default=0) + 4, 0)

    def _follow(self) -> None:
        self.updateGeometry()
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the names of the floors in view."""
        view = self._view
        with QPainter(self) as painter:
            paint_storey_names(
                painter,
                view.scene,
                view.camera,
                size=view.view_size(),
                wide=self.width(),
                colours=colours_of(self.palette()),
            )


def _button(text: str, said: str, key: str) -> QPushButton:
    button = QPushButton(text)
    button.setProperty("role", "chip")
    button.setAccessibleName(said)
    button.setToolTip(_("{what} ({key})").format(what=said, key=key))
    return button
