"""Back and forth over the record: a slider of days, play and pause, back to today."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSlider, QWidget

from hotelwatch.wording.dates import day_text, short_day_text
from hotelwatch.wording.language import _

PLAY_MS = 160
WEEK_DAYS = 7
SETTLE_MS = 60
PLAY, PAUSE = "▶", "❚❚"


class TimeBar(QWidget):
    """Which day one looks at; today is at the right end."""

    day_chosen = Signal(object)
    """A day of the past, or None for now."""

    def __init__(self) -> None:
        """Today, until ``show_days`` says how far back one can look."""
        super().__init__()
        self._first = self._today = date.min
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setRange(0, 0)
        self.slider.setPageStep(WEEK_DAYS)
        self.slider.setAccessibleName(_("Day that the drawing shows"))
        self.slider.setToolTip(
            _("Arrows go by days, Page Up and Page Down by weeks, End comes back to today.")
        )
        self.slider.valueChanged.connect(self._take)
        self.play = QPushButton(PLAY)
        self.play.setProperty("role", "chip")
        self.play.clicked.connect(self.toggle)
        self.said = QLabel()
        self.back = QPushButton(_("Back to &today"))
        self.back.setProperty("role", "chip")
        self.back.clicked.connect(self.to_today)
        self._playing = QTimer(self, interval=PLAY_MS)
        self._playing.timeout.connect(self._next)
        self._settling = QTimer(self, singleShot=True, interval=SETTLE_MS)
        self._settling.timeout.connect(self._tell)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.play)
        line.addWidget(self.slider, 1)
        line.addWidget(self.said)
        line.addWidget(self.back)
        self._say()

    def show_days(self, first: date, today: date) -> None:
        """One can look back to this day; who looks at now goes on looking at now."""
        was_now, held = self.day is None, self.day
        self._first, self._today = first, today
        days = max(0, (today - first).days)
        self.slider.blockSignals(True)
        self.slider.setRange(0, days)
        at = today if was_now or held is None else min(today, max(first, held))
        self.slider.setValue((at - first).days if days else 0)
        self.slider.blockSignals(False)
        self.setEnabled(days > 0)
        self._say()

    @property
    def day(self) -> date | None:
        """The day of the past that one looks at; None for now."""
        if self.slider.value() >= self.slider.maximum():
            return None
        return self._first + timedelta(days=self.slider.value())

    @property
    def is_playing(self) -> bool:
        """Whether the days go by themselves."""
        return self._playing.isActive()

    def go_to(self, day: date) -> None:
        """Look at a day."""
        self.slider.setValue((day - self._first).days)

    def to_today(self) -> None:
        """Look at now again."""
        self.pause()
        self.slider.setValue(self.slider.maximum())

    def toggle(self) -> None:
        """Let the days go by, from the first one when one stands at today; or hold them."""
        if self.is_playing:
            self.pause()
            return
        if self.day is None:
            self.slider.setValue(0)
        self._playing.start()
        self._say()

    def pause(self) -> None:
        """Hold the days."""
        self._playing.stop()
        self._say()

    def _next(self) -> None:
        self.slider.setValue(self.slider.value() + 1)
        if self.day is None:
            self.pause()

    def _take(self, _value: int) -> None:
        self._say()
        if self.is_playing or self.slider.isSliderDown():
            self._settling.start()
        else:
            self._tell()

    def _tell(self) -> None:
        self._settling.stop()
        self.day_chosen.emit(self.day)
        if self.slider.hasFocus():
            said = QAccessibleAnnouncementEvent(self.slider, self.said.text())
            QAccessible.updateAccessibility(said)

    def _say(self) -> None:
        day = self.day
        if self._today == date.min:
            self.said.clear()
        elif day is None:
            self.said.setText(_("Today, {day}").format(day=short_day_text(self._today)))
        else:
            self.said.setText(day_text(day))
        self.slider.setAccessibleDescription(self.said.text())
        self.back.setEnabled(day is not None)
        is_playing = self.is_playing
        self.play.setText(PAUSE if is_playing else PLAY)
        said = _("Hold the days") if is_playing else _("Let the days go by")
        self.play.setAccessibleName(said)
        self.play.setToolTip(said)
