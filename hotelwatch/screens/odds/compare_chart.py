"""What a rule changes, drawn: bars from no change to each change, with their intervals.

One group for each measure, in it a bar for each setting, all in hundredths of today's figure,
which is taken as exact. Where it is narrow, names stand above their bars.
A filled bar is a change that shows; a hollow one can't be told from none. Up and Down go from
group to group. It is a drawing only: the table beside it lists the numbers themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from hotelwatch.core.odds.simulation.measures import Comparison, Estimate, MeasureRow
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.look.theme import Colours, Tone, colours_of
from hotelwatch.wording.compare_rules import (
    DRAWN,
    by_setting_text,
    percent_change_text,
    tells,
)
from hotelwatch.wording.cycle import stance_text
from hotelwatch.wording.language import _
from hotelwatch.wording.simulation import measure_text

AIR_PX = 8
LEAST_BARS_PX = 160
BAR_SHARE = 0.56
"""Of a line's height."""
NAME_LETTERS = 21
"""Width of a measure's name, in letters; longer ones go on in the next line."""
LEAST_SPAN, MOST_SPAN = 0.1, 3.0
"""The scale goes so far on one side, in parts of today's figure: at least and at most."""
NOTHING_LEFT = -1.0
STEPS = (0.05, 0.1, 0.25, 0.5, 1.0)
LETTERS_APART_PX = 10
CAP_PX = 4.0
ALL_TEXT = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True)
class ChangeBar:
    """A measure's change in one setting, in parts of today's figure; None: none today."""

    stance: Stance
    share: Estimate | None


@dataclass(frozen=True, slots=True)
class ChangeGroup:
    """A measure's change in all settings."""

    name: str
    bars: tuple[ChangeBar, ...]
    said: str
    """The same in words, with the numbers themselves."""


def groups_of(told: Comparison) -> tuple[ChangeGroup, ...]:
    """What is drawn of a comparison."""
    return tuple(_group(told.row(measure)) for measure in DRAWN)


def _group(row: MeasureRow) -> ChangeGroup:
    bars = tuple(ChangeBar(stance, _share(row, stance)) for stance in Stance)
    return ChangeGroup(measure_text(row.measure), bars, by_setting_text(row))


def _share(row: MeasureRow, stance: Stance) -> Estimate | None:
    today, change = row.usual[stance], row.change[stance]
    if today is None or today.value <= 0:
        return None
    return Estimate(*(part / today.value for part in (change.value, change.low, change.high)))


class ChangeChart(QWidget):
    """Groups of bars around a line that stands for no change."""

    def __init__(self) -> None:
        """No change yet."""
        super().__init__()
        self._groups: tuple[ChangeGroup, ...] = ()
        self._at: int | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(_("Changes against today; the table has the numbers"))

    def show_groups(self, groups: Sequence[ChangeGroup]) -> None:
        """Show these changes."""
        self._groups = tuple(groups)
        self._at = None
        self.setAccessibleDescription(" ".join(group.said for group in self._groups))
        self.updateGeometry()
        self.update()

    @property
    def groups(self) -> tuple[ChangeGroup, ...]:
        """What is shown."""
        return self._groups

    def sizeHint(self) -> QSize:
        """As its least size, a little wider."""
        return self.minimumSizeHint()

    def minimumSizeHint(self) -> QSize:
        """A line for each bar, a head, and letters beside."""
        line = self.fontMetrics().height()
        rows = sum(len(group.bars) + self._is_stacked() for group in self._groups)
        high = self._head() + rows * line + len(self._groups) * AIR_PX / 4
        wide = AIR_PX + self._stance_wide() + LEAST_BARS_PX + self._right()
        return QSize(round(wide), round(high))

    # --- going along ----------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from group to group."""
        last = len(self._groups) - 1
        here = -1 if self._at is None else self._at
        keys = {
            Qt.Key.Key_Up: here - 1,
            Qt.Key.Key_Down: here + 1,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if last >= 0 and event.key() in keys:
            self._stand_at(min(last, max(0, keys[Qt.Key(event.key())])))
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Stand on the group under the pointer."""
        place = self._place_at(event.position().y())
        if place is not None:
            self._stand_at(place)

    def event(self, event: QEvent) -> bool:
        """Say a group's numbers where the pointer rests."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            place = self._place_at(event.pos().y())
            said = "" if place is None else self._groups[place].said
            QToolTip.showText(event.globalPos(), said, self)
            return True
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew."""
        super().resizeEvent(event)
        self.updateGeometry()
        self.update()

    def focusInEvent(self, _event: QEvent) -> None:
        """Show the frame of the focus."""
        self.update()

    def focusOutEvent(self, _event: QEvent) -> None:
        """Hide it again."""
        self.update()

    def _stand_at(self, place: int) -> None:
        self._at = place
        self.setAccessibleDescription(self._groups[place].said)
        self.update()

    def _place_at(self, y: float) -> int | None:
        for place in range(len(self._groups)):
            if self._box(place).top() <= y < self._box(place).bottom():
                return place
        return None

    # --- where things lie -------------------------------------------------------------------

    def _head(self) -> float:
        return 2.0 * self.fontMetrics().height() + AIR_PX

    def _name_wide(self) -> float:
        return float(NAME_LETTERS * self.fontMetrics().averageCharWidth() + AIR_PX)

    def _stance_wide(self) -> float:
        metrics = self.fontMetrics()
        return max(float(metrics.horizontalAdvance(stance_text(one))) for one in Stance) + AIR_PX

    def _is_stacked(self) -> bool:
        """Whether there is no room for names beside bars."""
        beside = AIR_PX + self._name_wide() + self._stance_wide() + self._right()
        return self.width() < beside + LEAST_BARS_PX

    def _left(self) -> float:
        names = 0.0 if self._is_stacked() else self._name_wide()
        return AIR_PX + names + self._stance_wide()

    def _right(self) -> float:
        said = (percent_change_text(bar.share) for group in self._groups for bar in group.bars)
        widest = max((self.fontMetrics().horizontalAdvance(text) for text in said), default=0)
        return widest + 2.0 * AIR_PX

    def _box(self, place: int) -> QRectF:
        high = (self.height() - self._head()) / max(1, len(self._groups))
        return QRectF(0.0, self._head() + place * high, self.width(), high)

    def _span(self) -> tuple[float, float]:
        """From where to where the scale goes, in parts of today's figure; a step each way."""
        low, high = self._told_span()
        step = self._step()
        return min(low, -step), max(high, step)

    def _told_span(self) -> tuple[float, float]:
        shares = [bar.share for group in self._groups for bar in group.bars if bar.share]
        least = min((share.low for share in shares), default=0.0)
        most = max((share.high for share in shares), default=0.0)
        return max(NOTHING_LEFT, min(least, -LEAST_SPAN)), min(MOST_SPAN, max(most, LEAST_SPAN))

    def _step(self) -> float:
        """The least step of the scale whose letters do not run into one another."""
        metrics = self.fontMetrics()
        widest = metrics.horizontalAdvance(_no_change()) + metrics.horizontalAdvance("−100 %")
        low, high = self._told_span()
        for step in STEPS:
            if self._wide() * step / (high - low) >= widest / 2 + LETTERS_APART_PX:
                return step
        return STEPS[-1]

    def _wide(self) -> float:
        return self.width() - self._left() - self._right()

    def _x(self, share: float) -> float:
        low, high = self._span()
        return self._left() + self._wide() * (min(high, max(low, share)) - low) / (high - low)

    def _levels(self) -> Iterator[float]:
        (low, high), step = self._span(), self._step()
        for number in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1):
            yield number * step

    # --- painting -----------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the scale, then every group."""
        if not self._groups:
            return
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_scale(painter, colours)
            for place, group in enumerate(self._groups):
                self._paint_group(painter, place, group, colours)
            if self.hasFocus():
                painter.setPen(QPen(QColor(colours.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))

    def _paint_scale(self, painter: QPainter, colours: Colours) -> None:
        line, top = self.fontMetrics().height(), self._head()
        metrics = self.fontMetrics()
        ground = QRectF(
            QPointF(self._left(), top), QPointF(self.width() - self._right(), self.height())
        )
        painter.fillRect(ground, QColor(colours.base))
        painter.setPen(QColor(colours.text))
        painter.drawText(QPointF(AIR_PX, line), _("Change a year, in percent of today's figure"))
        written: list[tuple[float, float]] = []
        for level in sorted(self._levels(), key=abs):
            x, is_none = self._x(level), abs(level) < LEAST_SPAN / 100
            pen = QPen(QColor(colours.text if is_none else colours.hair), 1.6 if is_none else 1.0)
            painter.setPen(pen)
            painter.drawLine(QPointF(x, top), QPointF(x, self.height()))
            painter.setPen(QColor(colours.text if is_none else colours.muted))
            said = _no_change() if is_none else _percent_text(level)
            half = metrics.horizontalAdvance(said) / 2
            if all(x + half < left or x - half > right for left, right in written):
                painter.drawText(QPointF(x - half, 2 * line + AIR_PX / 2), said)
                written.append((x - half - AIR_PX, x + half + AIR_PX))

    def _paint_group(
        self, painter: QPainter, place: int, group: ChangeGroup, colours: Colours
    ) -> None:
        box, line = self._box(place), float(self.fontMetrics().height())
        if place == self._at:
            painter.fillRect(QRectF(0, box.top(), self._left(), box.height()), colours.band)
        painter.setPen(QPen(QColor(colours.hair), 1))
        painter.drawLine(box.topLeft(), box.topRight())
        painter.setPen(QColor(colours.text))
        if self._is_stacked():
            wide = self.width() - 2 * AIR_PX
            name = self.fontMetrics().elidedText(group.name, Qt.TextElideMode.ElideRight, wide)
            painter.drawText(QRectF(AIR_PX, box.top(), wide, line), name)
            box = box.adjusted(0, line, 0, 0)
        else:
            beside = QRectF(AIR_PX, box.top(), self._name_wide() - AIR_PX, box.height())
            painter.drawText(beside, int(ALL_TEXT), group.name)
        high = min(line * 1.4, (box.height() - AIR_PX / 4) / max(1, len(group.bars)))
        top = box.top() + (box.height() - high * len(group.bars)) / 2
        for number, bar in enumerate(group.bars):
            row = QRectF(0, top + number * high, self.width(), high)
            self._paint_bar(painter, row, bar, colours)

    def _paint_bar(self, painter: QPainter, row: QRectF, bar: ChangeBar, colours: Colours) -> None:
        side = Qt.AlignmentFlag.AlignVCenter
        painter.setPen(QColor(colours.muted))
        wide = self._stance_wide()
        left = QRectF(self._left() - wide, row.top(), wide, row.height())
        painter.drawText(left, int(side), stance_text(bar.stance))
        right = self.width() - self._right() + AIR_PX
        painter.setPen(QColor(colours.text))
        painter.drawText(
            QRectF(right, row.top(), self._right() - AIR_PX, row.height()),
            int(side),
            percent_change_text(bar.share),
        )
        if bar.share is None:
            return
        ink = self._ink(bar.share, colours)
        shade = QColor(ink)
        shade.setAlpha(90 if tells(bar.share) else 0)
        zero, end = self._x(0.0), self._x(bar.share.value)
        high = row.height() * BAR_SHARE
        painter.setPen(QPen(ink, 1.2))
        painter.setBrush(shade)
        painter.drawRect(QRectF(min(zero, end), row.center().y() - high / 2, abs(end - zero), high))
        self._paint_interval(painter, row.center().y(), bar.share, ink)

    def _paint_interval(self, painter: QPainter, y: float, share: Estimate, ink: QColor) -> None:
        """The interval as a line with caps, with a point where it goes on beyond the scale."""
        low, high = self._span()
        left, right = self._x(share.low), self._x(share.high)
        painter.setPen(QPen(ink, 2.0))
        painter.drawLine(QPointF(left, y), QPointF(right, y))
        painter.setBrush(ink)
        for x, goes_on, way in ((left, share.low < low, -1), (right, share.high > high, 1)):
            if goes_on:
                tip = QPointF(x, y)
                back = x - way * 1.5 * CAP_PX
                corners = [tip, QPointF(back, y - CAP_PX), QPointF(back, y + CAP_PX)]
                painter.drawPolygon(QPolygonF(corners))
            else:
                painter.drawLine(QPointF(x, y - CAP_PX), QPointF(x, y + CAP_PX))

    @staticmethod
    def _ink(share: Estimate, colours: Colours) -> QColor:
        if not tells(share):
            return QColor(colours.muted)
        return QColor(colours.tones[Tone.ASKED].ink if share.value < 0 else colours.accent)


def _no_change() -> str:
    return _("no change")


def _percent_text(level: float) -> str:
    percent = round(level * 100)
    return _("−{percent} %").format(percent=-percent) if percent < 0 else f"+{percent} %"
