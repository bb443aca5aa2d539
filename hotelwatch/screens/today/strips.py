"""Who has what to do today: a strip for each team and each person, one above the other."""

from __future__ import annotations

from datetime import date, tzinfo

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from hotelwatch.core.whole.day import Part, TeamToday
from hotelwatch.screens.look.slot_words import opening_short
from hotelwatch.screens.look.theme import Tone, colours_of
from hotelwatch.screens.today.words_button import WordsButton, give_role, plain_label
from hotelwatch.wording.day_picture import (
    part_count,
    part_name,
    part_next,
    team_count,
    team_minutes,
    team_next,
)
from hotelwatch.wording.language import _

BAR_WIDE_PX, BAR_HIGH_PX = 48, 8


class LoadBar(QWidget):
    """How much of a team's minutes its sheet takes; what is too much is hatched."""

    def __init__(self) -> None:
        """Nothing taken."""
        super().__init__()
        self._used = self._all = 0
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """A short line."""
        return QSize(BAR_WIDE_PX, BAR_HIGH_PX)

    def show_load(self, used: int, of: int) -> None:
        """Show minutes used, of those there are."""
        self._used, self._all = used, of
        self.setVisible(of > 0 or used > 0)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the frame, what is used, and what is beyond."""
        colours = colours_of(self.palette())
        whole = QRectF(0.5, 0.5, self.width() - 1, self.height() - 1)
        most = max(self._used, self._all, 1)
        with QPainter(self) as painter:
            painter.fillRect(whole, QColor(colours.base))
            within = QRectF(whole)
            within.setWidth(whole.width() * min(self._used, self._all) / most)
            painter.fillRect(within, QColor(colours.accent))
            if self._used > self._all:
                beyond = QRectF(whole)
                beyond.setLeft(within.right())
                painter.fillRect(beyond, QColor(colours.tones[Tone.LATE].fill))
                pattern = Qt.BrushStyle.BDiagPattern
                painter.setBrush(pattern)
                painter.fillRect(beyond, painter.brush())
            painter.setPen(QPen(QColor(colours.line), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(whole)


class Strip(WordsButton):
    """A name with how much there is, and below it what is next."""

    def __init__(self) -> None:
        """Nobody yet."""
        super().__init__()
        self.setProperty("role", "strip")
        self.setCheckable(True)
        self.words.setWordWrap(False)
        self.count = plain_label()
        self.next = plain_label(wraps=True)
        self.minutes = plain_label()
        self.bar = LoadBar()
        upper, lower = QHBoxLayout(), QHBoxLayout()
        upper.addWidget(self.words, 1)
        upper.addWidget(self.count)
        top = Qt.AlignmentFlag.AlignTop
        lower.addWidget(self.next, 1)
        lower.addWidget(self.bar)
        lower.addWidget(self.minutes, 0, top)
        for line in (upper, lower):
            line.setSpacing(8)
            self.lines.addLayout(line)

    def show_team(self, told: TeamToday) -> None:
        """Show a team's day."""
        enter = opening_short(told.next.opening) if told.next else ""
        minutes = team_minutes(told)
        self._say(told.team, team_count(told), team_next(told, enter), minutes)
        self.bar.show_load(told.sums.used, told.sums.minutes)
        is_over = told.sums.used > told.sums.minutes
        give_role(self.minutes, "problem" if is_over else "muted")
        is_left = told.next is None and bool(told.shut or told.in_vain)
        give_role(self.next, "problem" if is_left else "muted")
        give_role(self.count, "")
        self.setEnabled(bool(told.rows))

    def show_part(self, part: Part, zone: tzinfo, *, today: date) -> None:
        """Show what cases want of somebody."""
        self._say(part_name(part), part_count(part), part_next(part, zone, today=today), "")
        self.bar.hide()
        give_role(self.next, "muted")
        give_role(self.count, "problem" if part.late else "")
        self.setEnabled(True)

    def _say(self, name: str, count: str, next_up: str, minutes: str) -> None:
        self.words.setText(name)
        self.count.setText(count)
        self.next.setText(next_up)
        self.minutes.setText(minutes)
        self.minutes.setVisible(bool(minutes))
        self.setAccessibleName(_("{name}: {count}").format(name=name, count=count))
        self.setAccessibleDescription(f"{next_up}. {minutes}".strip(" ."))
        self.updateGeometry()
