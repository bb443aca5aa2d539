"""The list of places: arrows go from place to place, a key says how one stands.

Space changes between looked at and not looked at; L, N and F say it outright, A that all
of the bed was looked at. Headings
(the bed, what must be moved) are painted across and passed over.
"""

from __future__ import annotations

from PySide6.QtCore import (
    QEvent,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QKeyEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from hotelwatch.core.checks.looking import NOT_ASKED
from hotelwatch.core.checks.place_looks import PlaceLook, PlaceState
from hotelwatch.screens.checks.place_keys import KEYS, Saying
from hotelwatch.screens.checks.place_model import LINE, Line, LineKind, PlaceModel
from hotelwatch.screens.checks.words import beside_text, state_words
from hotelwatch.screens.look.theme import Colours, Tint, Tone, colours_of
from hotelwatch.wording.language import _

SMALL = 0.88
"""Size of the second line beside the first."""
SIDE_PX, AIR_PX = 10, 10
LEAST_ROWS = 2
LEAST_SHARE, STATE_SHARE = 0.26, 0.42
"""So much of the width the second column has at least and at most."""


class PlaceList(QTableView):
    """The places of a visit in looking order."""

    said = Signal(object)
    """A Saying about the current place."""
    moved = Signal()
    """Another place has the place now."""

    def __init__(self) -> None:
        """No place yet."""
        super().__init__()
        self.places = PlaceModel()
        self.setModel(self.places)
        self.setItemDelegate(PlacePainter(self))
        self.setAccessibleName(_("Places, from what is seen to what is hidden"))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.hide()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.selectionModel().currentRowChanged.connect(self._tell_moved)
        self.clicked.connect(self._click)

    # --- what is shown ------------------------------------------------------

    def show_lines(self, lines: tuple[Line, ...]) -> None:
        """Show these lines; the place one stands on stays, if it is still there."""
        held = self.current()
        if self.places.show(lines):
            self._share_out()
            return
        self._fit()
        self.clearSpans()
        for number, line in enumerate(lines):
            if line.look is None:
                self.setSpan(number, 0, 1, 2)
        if held is None or not self.stand_on(held.bed, held.place.code):
            self.stand_on_first()

    def current(self) -> PlaceLook | None:
        """The place one stands on."""
        number = self.currentIndex().row()
        return self.places.lines[number].look if 0 <= number < len(self.places.lines) else None

    def stand_on(self, bed: str, place: str) -> bool:
        """Go to a place; False if it is not in the list."""
        for number, line in enumerate(self.places.lines):
            if line.look is not None and line.key == (bed, place):
                # Not by the view: with Ctrl held, as after Ctrl+Enter, it would not select.
                flag = QItemSelectionModel.SelectionFlag
                self.selectionModel().setCurrentIndex(
                    self.places.index(number, 0), flag.ClearAndSelect | flag.Rows
                )
                return True
        return False

    def stand_on_first(self) -> None:
        """Go to the first place."""
        for line in self.places.lines:
            if line.look is not None:
                self.stand_on(*line.key)
                self.scrollToTop()
                return

    def step(self, by: int) -> None:
        """Go so many places on, or back; the ends hold."""
        keys = [line.key for line in self.places.lines if line.look is not None]
        here = self.current()
        if here is not None:
            number = keys.index((here.bed, here.place.code)) + by
            self.stand_on(*keys[max(0, min(number, len(keys) - 1))])

    def following(self) -> PlaceLook | None:
        """The place after the current one, in looking order."""
        number = self.currentIndex().row()
        later = self.places.lines[number + 1 :] if number >= 0 else ()
        return next((line.look for line in later if line.look is not None), None)

    # --- keys and clicks ------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Say how the place stands; arrows and the rest as in any list."""
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        saying = KEYS.get(event.key())
        if saying is not None and held == Qt.KeyboardModifier.NoModifier:
            self.said.emit(saying)
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Fit the rows to another size of text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "places"):
            self._fit()

    def _click(self, index: QModelIndex) -> None:
        if index.column() == 1 and self.current() is not None:
            self.said.emit(Saying.TOGGLE)

    def _tell_moved(self) -> None:
        self.moved.emit()

    def minimumSizeHint(self) -> QSize:
        """Two places stay to be seen."""
        least = super().minimumSizeHint()
        return QSize(least.width(), max(least.height(), LEAST_ROWS * self.place_height()))

    def place_height(self) -> int:
        """How high the row of a place is, with its two lines."""
        return self.fontMetrics().height() + QFontMetrics(small(self.font())).height() + AIR_PX

    def _fit(self) -> None:
        self._share_out()
        height = self.fontMetrics().height()
        for number, line in enumerate(self.places.lines):
            self.setRowHeight(number, self.place_height() if line.look else height + 2 * AIR_PX)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the places' names their part where there is little room."""
        self._share_out()
        super().resizeEvent(event)

    def _share_out(self) -> None:
        """Give what is said of the places no more than it takes; their names come first."""
        bold = QFont(self.font())
        bold.setBold(True)
        large, less, boldly = self.fontMetrics(), QFontMetrics(small(bold)), QFontMetrics(bold)
        looks = [(line.text, line.look) for line in self.places.lines if line.look is not None]
        said = [state_words(look) for _name, look in looks]
        wide = [max(large.horizontalAdvance(a), less.horizontalAdvance(b)) for a, b in said]
        names = max((boldly.horizontalAdvance(name) for name, _look in looks), default=0)
        room = self.viewport().width()
        left = room - names - number_px(large) - 2 * SIDE_PX - AIR_PX
        wanted = min(max(wide, default=0) + 2 * SIDE_PX + AIR_PX, round(STATE_SHARE * room))
        self.setColumnWidth(1, max(round(LEAST_SHARE * room), min(wanted, left)))


class PlacePainter(QStyledItemDelegate):
    """Paints a place in two lines, and headings across."""

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Paint one cell."""
        line: Line = index.data(LINE)
        colours = colours_of(option.palette)
        painter.save()
        if line.look is None:
            _paint_heading(painter, option, line, colours)
        else:
            is_current = bool(option.state & QStyle.StateFlag.State_Selected)
            ground = colours.accent if is_current else colours.base
            painter.fillRect(option.rect, QColor(ground))
            ink = colours.on_accent if is_current else colours.text
            if index.column() == 0:
                muted = colours.on_accent if is_current else colours.muted
                bold = line.look.place.underside
                _paint_number(painter, option, line.number, muted)
                option.rect.setLeft(option.rect.left() + number_px(option.fontMetrics))
                texts = (line.text, beside_text(line.look))
                _two_lines(painter, option, texts, (ink, muted), bold=bold)
            else:
                _paint_state(painter, option, line.look, None if is_current else colours)
        painter.restore()

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Two lines."""
        return QSize(200, 2 * option.fontMetrics.height() + AIR_PX)


def number_px(metrics: QFontMetrics) -> int:
    """How wide the numbers of the places are."""
    return metrics.horizontalAdvance("00") + SIDE_PX


def _paint_number(painter: QPainter, option: QStyleOptionViewItem, number: int, ink: str) -> None:
    box = option.rect.adjusted(0, 4, 0, -4)
    box.setWidth(number_px(option.fontMetrics))
    painter.setFont(option.font)
    painter.setPen(QColor(ink))
    flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
    painter.drawText(box, flags, str(number))


def small(font: QFont) -> QFont:
    """The font of second lines."""
    smaller = QFont(font)
    smaller.setPointSizeF(font.pointSizeF() * SMALL)
    return smaller


def _paint_heading(
    painter: QPainter, option: QStyleOptionViewItem, line: Line, colours: Colours
) -> None:
    is_bed = line.kind is LineKind.BED
    ground, ink = (
        (colours.band, colours.text)
        if is_bed
        else (colours.tones[Tone.DUE].fill, colours.tones[Tone.DUE].ink)
    )
    painter.fillRect(option.rect, QColor(ground))
    font = QFont(option.font)
    font.setBold(is_bed)
    painter.setFont(font)
    painter.setPen(QPen(QColor(ink)))
    box = option.rect.adjusted(SIDE_PX, 0, -SIDE_PX, 0)
    text = line.text if is_bed else _("↑ {step}").format(step=line.text)
    painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, _fitting(painter, text, box.width()))


def _paint_state(
    painter: QPainter, option: QStyleOptionViewItem, look: PlaceLook, colours: Colours | None
) -> None:
    """How a place stands, on the ground of its meaning unless it has the place."""
    tint = _tint(look, colours) if colours else None
    ink = tint.ink if tint else option.palette.highlightedText().color().name()
    if tint and tint.fill:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(tint.fill))
        painter.drawRoundedRect(QRectF(option.rect).adjusted(2, 2, -4, -2), 5, 5)
    _two_lines(painter, option, state_words(look), (ink, ink), bold=False)


def _tint(look: PlaceLook, colours: Colours) -> Tint:
    if look.state is PlaceState.FOUND:
        return colours.tones[Tone.LATE]
    if look.state is PlaceState.UNSEEN and look.why == NOT_ASKED:
        return Tint("", colours.muted)
    if look.state in (PlaceState.UNSEEN, PlaceState.UNSAID):
        return colours.tones[Tone.DUE]
    return Tint("", colours.text)


def _two_lines(
    painter: QPainter,
    option: QStyleOptionViewItem,
    texts: tuple[str, str],
    inks: tuple[str, str],
    *,
    bold: bool,
) -> None:
    box = option.rect.adjusted(SIDE_PX, 4, -SIDE_PX, -4)
    font = QFont(option.font)
    font.setBold(bold)
    painter.setFont(font)
    painter.setPen(QColor(inks[0]))
    first = Qt.AlignmentFlag.AlignTop if texts[1] else Qt.AlignmentFlag.AlignVCenter
    painter.drawText(box, first, _fitting(painter, texts[0], box.width()))
    if texts[1]:
        painter.setFont(small(option.font))
        painter.setPen(QColor(inks[1]))
        said = _fitting(painter, texts[1], box.width())
        painter.drawText(box, Qt.AlignmentFlag.AlignBottom, said)


def _fitting(painter: QPainter, text: str, width: int) -> str:
    return painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, width)
