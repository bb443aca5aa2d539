"""What if: sliders for teams, minutes, cycles and kept rooms; the days answer while one drags."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSlider,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.rounds import wish_for
from hotelwatch.actions.what_if import Prepared, is_at_hand, prepare_trials, try_out
from hotelwatch.core.checks.today import keeps_from_planning
from hotelwatch.core.rounds.able import let_go, teams_for_beds
from hotelwatch.core.rounds.outlook import Change, Outlook
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.next_step import NextStep
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.rounds.what_if_chart import DayBars, WhatIfChart
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.proofs import again_sentence
from hotelwatch.wording.what_if import (
    cycle_set_text,
    kept_set_text,
    minutes_set_text,
    on_time_sentence,
    openings_sentence,
    outcome_sentence,
    teams_set_text,
    trial_text,
)

DAYS = 28
CARD_PX = 330
MOST_TEAMS, MOST_ROOMS = 5, 10
LEAST_PERCENT, WHOLE, MOST_PERCENT = 50, 100, 200
STEP_PERCENT = 5


class WhatIfPane(QWidget):
    """Sliders to the left, what would come of them to the right. Nothing is written down."""

    team_wanted = Signal()
    """There is no team yet; the person wants to describe one."""

    def __init__(self, context: Context) -> None:
        """Nothing is read until the pane is shown."""
        super().__init__()
        self._context = context
        self._prepared: Prepared | None = None
        self._is_busy = False
        self._read_for: tuple[int, date] | None = None
        self.shown: Change | None = None
        """The trial whose outcome is shown; None while there is none."""
        self.teams = _Slider(_("&Teams"), (-MOST_TEAMS, MOST_TEAMS, 1))
        percent = LEAST_PERCENT // STEP_PERCENT, MOST_PERCENT // STEP_PERCENT, STEP_PERCENT
        self.minutes = _Slider(_("&Minutes a day"), percent)
        self.cycle = _Slider(_("C&ycles"), percent)
        self.kept = _Slider(_("Rooms left unsol&d"), (0, MOST_ROOMS, 1))
        self.back = QPushButton(_("&Back to how things are"))
        self.said = QLabel(wordWrap=True)
        self.said.setProperty("role", "title")
        self.more = QLabel(wordWrap=True)
        self.chart = WhatIfChart()
        self.table = _days_table()
        self.as_table = QCheckBox(_("Sho&w as table"))
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.next_step = NextStep()
        self._connect()
        self._lay_out()
        self.reset()

    def refresh(self) -> None:
        """Read the house anew if the pane is in view, else when it comes into view."""
        lack = keeps_from_planning(self._context.hotel.house)
        if lack is not None:
            self.next_step.show_lack(lack)
        self._panes.setCurrentIndex(0 if lack is None else 1)
        # Nobody can be let go who is not there.
        self.teams.set_least(-min(MOST_TEAMS, len(teams_for_beds(self._context.hotel.house))))
        if self.isVisible():
            self._work()

    def reset(self) -> None:
        """Put every slider back to how things are."""
        for slider, value in (
            (self.teams, 0),
            (self.minutes, WHOLE),
            (self.cycle, WHOLE),
            (self.kept, 0),
        ):
            slider.set_value(value)
        self._change()

    def trial(self) -> Change:
        """What the sliders say."""
        return Change(
            teams=self.teams.value(),
            minutes_percent=self.minutes.value(),
            cycle_percent=self.cycle.value(),
            keeps_rooms=self.kept.value(),
        )

    def showEvent(self, event: QShowEvent) -> None:
        """Work out what was put off while the pane was out of view."""
        super().showEvent(event)
        self._work()

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        for slider in (self.teams, self.minutes, self.cycle, self.kept):
            slider.moved.connect(self._change)
        self.back.clicked.connect(self.reset)
        self.as_table.toggled.connect(self._turn)
        self.next_step.wanted.connect(self._go)

    def _lay_out(self) -> None:
        card = Card(CARD_PX)
        card.body.setSpacing(10)
        for widget in (self.teams, self.minutes, self.cycle, self.kept, self.back):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.body.addWidget(self.note)
        self._views = QStackedWidget()
        self._views.addWidget(self.chart)
        self._views.addWidget(self.table)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self.as_table)
        right = QVBoxLayout()
        right.addWidget(self.said)
        right.addWidget(self.more)
        right.addWidget(self._views, 1)
        right.addLayout(foot)
        whole = QWidget()
        both = QHBoxLayout(whole)
        both.setContentsMargins(0, 0, 0, 0)
        both.setSpacing(12)
        both.addWidget(card)
        both.addLayout(right, 1)
        self._panes = QStackedWidget()
        self._panes.addWidget(whole)
        self._panes.addWidget(self.next_step)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self._panes)
        self.note.setText(
            _(
                "Nothing is written down. A late day: one bed, one day past its cycle. A team more"
                " works like the one with the most minutes. Counted for four weeks as booked now;"
                " later bookings close rooms. What a minute is worth later is an assumption."
            )
        )

    # --- working ------------------------------------------------------------

    def _change(self) -> None:
        self.teams.say(teams_set_text(self.teams.value()))
        self.minutes.say(minutes_set_text(self.minutes.value()))
        self.cycle.say(cycle_set_text(self.cycle.value()))
        self.kept.say(kept_set_text(self.kept.value()))
        self.back.setEnabled(self.trial() != Change())
        self._work()

    def _work(self) -> None:
        """Do the next piece of work; of trials asked for meanwhile only the latest counts."""
        if self._is_busy or not self.isVisible() or self._panes.currentIndex():
            return
        hotel, jobs = self._context.hotel, self._context.jobs
        state = max(hotel.house.entries, default=0), hotel.today()
        if state != self._read_for:
            self._read_for, self._is_busy = state, True
            if self._prepared is None:
                self.said.setText(_("Reading how things are…"))
            jobs.run(
                prepare_trials,
                hotel.house,
                hotel.occupancy(),
                wish_for(hotel, DAYS),
                label=_("Reading how things are"),
                unasked=True,
                on_done=self._take_situation,
                on_failed=self._fail,
                on_stopped=self._stop,
            )
        elif self._prepared is not None and self.trial() != self.shown:
            self._tried = self.trial()
            if jobs.is_busy and is_at_hand(self._prepared, self._tried):
                # A plan in the making must not keep the sliders waiting: a trial is short.
                self._take_outlook(try_out(self._prepared, self._tried))
                return
            if jobs.is_busy:
                self.said.setText(_("Tried out once the work under way is done…"))
            self._is_busy = True
            jobs.run(
                try_out,
                self._prepared,
                self._tried,
                label=_("Trying it out"),
                unasked=True,
                on_done=self._take_outlook,
                on_failed=self._fail,
                on_stopped=self._stop,
            )

    def _take_situation(self, prepared: Prepared) -> None:
        self._is_busy = False
        self._prepared, self.shown = prepared, None
        self._work()

    def _take_outlook(self, outlook: Outlook) -> None:
        self._is_busy = False
        if self._prepared is not None:
            self.shown = self._tried
            self._show(outlook, self._prepared.as_is)
        self._work()

    def _fail(self, error: Exception) -> None:
        self._stop()
        self._context.notices.fail(error)

    def _stop(self) -> None:
        """Try again when the pane is shown, or a slider moved, the next time."""
        self._is_busy = False
        if self._prepared is None:
            self._read_for = None
        else:
            self.said.setText(_("Not tried out. Move a slider to try again."))

    def _show(self, outlook: Outlook, as_is: Outlook) -> None:
        days = day_bars(outlook, as_is)
        trial = self._tried
        tried = trial_text(
            trial.teams,
            trial.minutes_percent,
            cycle_percent=trial.cycle_percent,
            kept_rooms=trial.keeps_rooms,
            gone=let_go(self._context.hotel.house, trial.teams),
        )
        said = outcome_sentence(
            tried, outlook.overdue_bed_days, as_is=as_is.overdue_bed_days, last=days[-1].on
        )
        on_time = on_time_sentence(outlook.on_time_from, days[0].on)
        more = f"{on_time} {openings_sentence(outlook.fewest)}"
        if outlook.again:
            more += " " + again_sentence(outlook.again)
        self.said.setText(said)
        self.more.setText(more)
        self.chart.show_days(days, f"{said} {more}")
        self.table.show_rows(days)

    def _turn(self, as_table: bool) -> None:
        self._views.setCurrentIndex(1 if as_table else 0)

    def _go(self, page: str) -> None:
        if page == "rounds":
            self.team_wanted.emit()
        elif page in self._context.pages:
            self._context.go_to(page)


class _Slider(QWidget):
    """A slider with its name above and, beside it, what it says in words."""

    moved = Signal()

    def __init__(self, name: str, span: tuple[int, int, int]) -> None:
        """``span``: the least and the most step, and what one step stands for."""
        super().__init__()
        least, most, self._step = span
        label = QLabel(name)
        self.said = QLabel()
        self.said.setProperty("role", "muted")
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setRange(least, most)
        self.slider.setPageStep(2)
        self.slider.setMinimumHeight(28)
        self.slider.setAccessibleName(name.replace("&", ""))
        self.slider.valueChanged.connect(self._tell)
        label.setBuddy(self.slider)
        top = QHBoxLayout()
        top.addWidget(label, 1)
        top.addWidget(self.said)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(2)
        lines.addLayout(top)
        lines.addWidget(self.slider)

    def value(self) -> int:
        """What it stands at."""
        return self.slider.value() * self._step

    def set_least(self, least: int) -> None:
        """Let it go no further down than this step."""
        self.slider.setMinimum(least)

    def set_value(self, value: int) -> None:
        """Let it stand at a value, without telling."""
        self.slider.blockSignals(True)
        self.slider.setValue(value // self._step)
        self.slider.blockSignals(False)

    def say(self, text: str) -> None:
        """Say what it stands for."""
        self.said.setText(text)
        self.slider.setAccessibleDescription(text)

    def _tell(self, _value: int) -> None:
        self.moved.emit()


def day_bars(outlook: Outlook, as_is: Outlook) -> tuple[DayBars, ...]:
    """Each day's numbers as tried beside those as things are."""
    return tuple(
        DayBars(
            on=tried.on,
            late=tried.late_beds,
            late_now=now.late_beds,
            used=tried.used,
            used_now=now.used,
            minutes=tried.minutes,
            minutes_now=now.minutes,
            rooms=tried.rooms,
            rooms_now=now.rooms,
        )
        for tried, now in zip(outlook.days, as_is.days, strict=True)
    )


def _days_table() -> RowTable[DayBars]:
    def numbers(title: str, tried: Callable[[DayBars], int]) -> Column[DayBars]:
        return Column[DayBars](title, lambda row: str(tried(row)), sort=tried, right=True)

    return RowTable(
        [
            Column[DayBars](_("Day"), lambda row: short_day_text(row.on), sort=lambda row: row.on),
            numbers(_("Overdue"), lambda row: row.late),
            numbers(_("as now"), lambda row: row.late_now),
            numbers(_("Minutes used"), lambda row: row.used),
            numbers(_("as now"), lambda row: row.used_now),
            numbers(_("Minutes had"), lambda row: row.minutes),
            numbers(_("Rooms"), lambda row: row.rooms),
            numbers(_("as now"), lambda row: row.rooms_now),
        ],
        key=lambda row: row.on,
        name=_("Days as tried, beside days as they are"),
        empty=Empty(_("Nothing was worked out yet.")),
        filtered=False,
    )
