"""What chips, signs and edges on the rounds' calendar mean: samples with their words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hotelwatch.core.checks.slots import SlotRow, SlotState
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.rounds.calendar_rows import Chip
from hotelwatch.core.rounds.leaning import Leaning
from hotelwatch.screens.look.theme import colours_of
from hotelwatch.screens.rounds.plan_layout import CHIP_AIR_PX, PIN_SHARE, small_font
from hotelwatch.screens.rounds.plan_paint import Brush
from hotelwatch.wording.language import _

GAP_PX, LINE_AIR_PX = 14.0, 8.0
DAY = date(2000, 1, 1)
SAMPLE_ROOM = RoomNo("101")


@dataclass(frozen=True, slots=True)
class Sample:
    """A chip and what it stands for."""

    text: str
    chip: Chip
    meaning: str


def samples() -> tuple[Sample, ...]:
    """Every way a chip can look."""
    leaning = Leaning(SAMPLE_ROOM, DAY, 0.5, None)
    return (
        Sample("101", _chip(), _("fixed")),
        Sample("101", replace(_chip(), is_firm=False), _("likely until that morning")),
        Sample(_("◆ case"), _chip("1"), _("a case asks")),
        Sample(_("! late"), _chip(is_late=True), _("overdue")),
        Sample("101", replace(_chip(), is_day_pinned=True), _("pinned")),
        Sample(_("closed"), _chip(state=SlotState.IN_QUARANTINE), _("in quarantine")),
        Sample("?", replace(_chip(), leaning=leaning), _("guest may be in")),
        Sample("✓", _chip(state=SlotState.LOOKED_AT), _("looked at")),
    )


class PlanLegend(QWidget):
    """The samples in a row, or in as many rows as they need."""

    def __init__(self) -> None:
        """Show them all."""
        super().__init__()
        self._samples = samples()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        said = "; ".join(f"{one.text}: {one.meaning}" for one in self._samples)
        self.setAccessibleName(_("What the signs on the calendar mean"))
        self.setAccessibleDescription(said)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take as many rows as this width asks for."""
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of look or text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_samples"):
            self._fit()
        self.update()

    def sizeHint(self) -> QSize:
        """One row, if there is room for it."""
        return QSize(600, round(self._tall()))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint each chip with its meaning beside it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = colours_of(self.palette())
        font = small_font(self.font())
        brush = Brush(painter, font, colours)
        left_middle = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        for sample, chip, words in self._places():
            brush.chip(chip, sample.text, sample.chip)
            painter.setPen(colours.muted)
            painter.setFont(font)
            painter.drawText(words, left_middle, sample.meaning)
        painter.end()

    def _fit(self) -> None:
        places = self._places()
        self.setFixedHeight(round(max(chip.bottom() for _s, chip, _w in places) + 4))

    def _tall(self) -> float:
        return QFontMetricsF(small_font(self.font())).height() + LINE_AIR_PX

    def _places(self) -> list[tuple[Sample, QRectF, QRectF]]:
        metrics = QFontMetricsF(small_font(self.font()))
        tall, left, top, found = self._tall(), 0.0, 2.0, []
        for sample in self._samples:
            pin = PIN_SHARE * metrics.height() if sample.chip.is_pinned else 0.0
            wide = metrics.horizontalAdvance(sample.text) + 2 * CHIP_AIR_PX + pin
            said = metrics.horizontalAdvance(sample.meaning) + 2
            if left and left + wide + 5 + said > self.width():
                left, top = 0.0, top + tall + 4
            chip = QRectF(left, top, wide, tall)
            found.append((sample, chip, QRectF(left + wide + 5, top, said, tall)))
            left += wide + 5 + said + GAP_PX
        return found


def _chip(
    asked_by: str = "",
    *,
    is_late: bool = False,
    state: SlotState = SlotState.TO_DO,
) -> Chip:
    slot = SlotRow(
        on=DAY,
        team=TeamName(""),
        position=1,
        room=SAMPLE_ROOM,
        beds=(),
        minutes=0,
        asked_by=asked_by,
        due_on=date.min if is_late else DAY,
        opening=None,
        state=state,
    )
    return Chip(slot, "", "", is_firm=True, is_day_pinned=False, is_team_pinned=False)
