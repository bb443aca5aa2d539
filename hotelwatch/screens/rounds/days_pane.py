"""Days: leave, other minutes, extra shifts of teams; days on which nobody looks at beds."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QRadioButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.calendar import LONGEST_SPAN_DAYS, change_team_days, close_days
from hotelwatch.actions.hotel import LONGEST_TEAM_DAY
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.facts import TeamName
from hotelwatch.core.round_facts import AS_USUAL, HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.rounds.days_ahead import HOUSE, RowOfDays, Special, rows_of_days, specials
from hotelwatch.core.rounds.lost_visits import lost_visits
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import TEXT_AIR_PX, DayField, Form, leave_wheel
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.rounds.days_table import DaysView, chosen_text, legend_text
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.days import lost_visits_sentences, special_text, who_text
from hotelwatch.wording.language import _
from hotelwatch.wording.rounds import span_text

FORM_PX = 420
FOUR_WEEKS = 28


class DaysPane(QWidget):
    """A calendar to choose days in, a form for what they are like, and what is special."""

    def __init__(self, context: Context) -> None:
        """No days yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._teams: tuple[TeamName, ...] = ()
        self._is_taking = False
        self.view = DaysView()
        self.span = QLabel()
        self.span.setProperty("role", "heading")
        self.legend = QLabel(legend_text(), wordWrap=True)
        self.legend.setProperty("role", "muted")
        self.earlier = QPushButton(_("‹ Earl&ier"))
        self.now = QPushButton(_("&Today"))
        self.later = QPushButton(_("&Later ›"))
        self.special = _specials_table()
        self._make_form()
        self._connect()
        self._lay_out()

    def refresh(self) -> None:
        """Read the days anew; what is being typed stays."""
        hotel = self._context.hotel
        today = hotel.today()
        rows = rows_of_days(hotel.house, today, LONGEST_SPAN_DAYS)
        self._offer(rows)
        for field in (self.first, self.last):
            if field.day() < today:
                field.set_day(today)
        self.view.show_days(rows)
        self.special.show_rows(specials(rows))
        self._show_chosen()
        self._tell_span()

    # --- making -------------------------------------------------------------

    def _make_form(self) -> None:
        today = self._context.hotel.today()
        self.title = QLabel()
        self.title.setProperty("role", "heading")
        self.form = Form()
        self.who = self.form.add(_("F&or"), QComboBox())
        self.first = self.form.add(_("F&rom"), DayField(today))
        self.last = self.form.add(_("&Until"), DayField(today))
        self.away = QRadioButton()
        self.other = QRadioButton(_("Other &minutes"))
        self.usual = QRadioButton(_("&As usual"))
        self.minutes = QSpinBox()
        self.minutes.setRange(1, LONGEST_TEAM_DAY)
        self.minutes.setSingleStep(5)
        self.minutes.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
        leave_wheel(self.minutes)
        self.minutes.setAccessibleName(_("Minutes on each of these days"))
        self.what = QWidget()
        self.what.setFocusProxy(self.away)
        lines = QVBoxLayout(self.what)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(0)
        other = QHBoxLayout()
        other.addWidget(self.other)
        other.addWidget(self.minutes, 1)
        lines.addWidget(self.away)
        lines.addLayout(other)
        lines.addWidget(self.usual)
        self.form.add(_("They are"), self.what)
        self.reason = self.form.add(
            _("&Why"), QLineEdit(), hint=_("In a word or two: leave, training, a holiday.")
        )
        self.reason.setPlaceholderText(_("leave, training, a holiday"))
        self._kinds = QButtonGroup(self)
        for button in (self.away, self.other, self.usual):
            self._kinds.addButton(button)
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)

    def _connect(self) -> None:
        self.view.chosen.connect(self._take)
        self.view.moved.connect(self._tell_span)
        self.earlier.clicked.connect(self._go_back)
        self.later.clicked.connect(self._go_on)
        self.now.clicked.connect(self._go_today)
        self.special.current_changed.connect(self._take_special)
        self.who.currentIndexChanged.connect(self._propose_minutes)
        self.who.currentIndexChanged.connect(self._typed)
        for field in (self.first, self.last):
            field.chosen.connect(self._typed)
        self._kinds.buttonToggled.connect(self._allow)
        self.save.clicked.connect(self._save)
        self.reason.returnPressed.connect(self._save)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.span)
        top.addStretch()
        steps = QHBoxLayout()
        for button in (self.earlier, self.now, self.later):
            steps.addWidget(button)
        top.addLayout(steps)
        card = Card(FORM_PX)
        card.body.addWidget(self.title)
        deed = Deed(_("Change days"), (TeamDaysChanged, HouseDaysClosed), (self.save,))
        card.body.addWidget(self.form)
        card.body.addWidget(offer(self._context, deed))
        card.body.addStretch()
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        heading = QLabel(_("Other than usual in the year ahead"))
        heading.setProperty("role", "heading")
        left = QVBoxLayout()
        left.addWidget(heading)
        left.addWidget(self.special, 1)
        lower = QHBoxLayout()
        lower.setSpacing(12)
        lower.addLayout(left, 1)
        lower.addWidget(card)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addLayout(top)
        lines.addWidget(self.view)
        lines.addWidget(self.legend)
        lines.addLayout(lower, 1)

    # --- choosing -----------------------------------------------------------

    def _offer(self, rows: tuple[RowOfDays, ...]) -> None:
        teams = tuple(row.team for row in rows)
        if teams == self._teams:
            return
        held = self.who.currentData()
        self._is_taking = True
        self._teams = teams
        self.who.clear()
        for team in teams:
            self.who.addItem(who_text(team), team)
        place = self.who.findData(held)
        self.who.setCurrentIndex(max(place, 1 if held is None and len(teams) > 1 else 0))
        self._propose_minutes()
        self._is_taking = False
        self._allow()

    def _take(self, team: TeamName, first: date, last: date) -> None:
        """Put what is chosen in the calendar into the form."""
        self._is_taking = True
        self.form.clear()
        self.who.setCurrentIndex(max(0, self.who.findData(team)))
        self.first.set_day(first)
        self.last.set_day(last)
        self._choose_nothing()
        self._propose_minutes()
        self._is_taking = False
        self._allow()

    def _choose_nothing(self) -> None:
        self._kinds.setExclusive(False)
        for button in self._kinds.buttons():
            button.setChecked(False)
        self._kinds.setExclusive(True)

    def _take_special(self, row: Special | None) -> None:
        if row is not None:
            self._take(row.team, row.from_on, row.until_on)
            self.usual.setChecked(True)
            self.reason.setText(row.reason)
            self._show_chosen()

    def _typed(self, _what: object) -> None:
        if self._is_taking:
            return
        if self.last.day() < self.first.day():
            self.last.set_day(self.first.day())
        self._allow()
        self._show_chosen()

    def _show_chosen(self) -> None:
        self.view.choose(self._team(), self.first.day(), self.last.day())

    def _propose_minutes(self) -> None:
        """Begin with what the team has: on the first day if it was changed, else as usual."""
        house, team = self._context.hotel.house, self._team()
        changed, described = Calendar(house).changed(team, self.first.day()), house.teams.get(team)
        if changed is not None and changed.minutes:
            self.minutes.setValue(changed.minutes)
        elif described is not None:
            self.minutes.setValue(described.minutes)

    def _team(self) -> TeamName:
        return TeamName(self.who.currentData() or HOUSE)

    def _allow(self) -> None:
        """Offer what can be said of the hotel's days, or of a team's."""
        is_house = self._team() == HOUSE
        self.away.setText(_("&No rounds: nobody looks at beds") if is_house else _("Awa&y"))
        self.other.setVisible(not is_house)
        self.minutes.setVisible(not is_house)
        if is_house and self.other.isChecked():
            self.away.setChecked(True)
        self.minutes.setEnabled(self.other.isChecked())
        self.title.setText(chosen_text(self._team(), self.first.day(), self.last.day()))

    def _tell_span(self) -> None:
        first, last = self.view.first_shown(), self.view.last_shown()
        if first is not None and last is not None:
            self.span.setText(span_text(first, last))

    def _go_back(self) -> None:
        self.view.scroll_days(-FOUR_WEEKS)

    def _go_on(self) -> None:
        self.view.scroll_days(FOUR_WEEKS)

    def _go_today(self) -> None:
        today = self._context.hotel.today()
        self._take(self._team(), today, today)
        self._show_chosen()
        self.view.horizontalScrollBar().setValue(0)
        self.view.setFocus()

    # --- writing down -------------------------------------------------------

    def _save(self) -> None:
        self.form.clear()
        team, first, last = self._team(), self.first.day(), self.last.day()
        reason = " ".join(self.reason.text().split())
        if last < first:
            self.form.say(self.last, _("The last day comes before the first."))
        if self._kinds.checkedButton() is None:
            self.form.say(self.what, _("Choose what these days are."))
        if team == HOUSE and self.away.isChecked() and not reason:
            self.form.say(self.reason, _("Say why: the holiday, or what the house is closed for."))
        if self.form.has_problems():
            return
        with self._context.notices.refusals():
            if team == HOUSE:
                closed = self.away.isChecked()
                change = HouseDaysClosed(first, last, reason if closed else "", closed)
                close_days(self._context.hotel, change)
            else:
                told = TeamDaysChanged(team, first, last, self._minutes(), self._why(reason))
                change_team_days(self._context.hotel, told)
            self.reason.clear()
            self.form.settle()
            self.refresh()
            self._context.notices.done(
                _("{who}, {days}: saved. Draft the round again to count it in.").format(
                    who=who_text(team), days=span_text(first, last)
                )
            )
            hotel = self._context.hotel
            lost = lost_visits(hotel.house, max(first, hotel.today()), last, team=team)
            if lost:
                self._context.notices.warn(" ".join(lost_visits_sentences(lost)))

    def _minutes(self) -> int:
        if self.usual.isChecked():
            return AS_USUAL
        return self.minutes.value() if self.other.isChecked() else 0

    def _why(self, reason: str) -> str:
        return "" if self.usual.isChecked() else reason


def _specials_table() -> RowTable[Special]:
    return RowTable(
        [
            Column[Special](_("Who"), lambda row: who_text(row.team)),
            Column[Special](
                _("From"), lambda row: short_day_text(row.from_on), lambda row: row.from_on
            ),
            Column[Special](
                _("Until"), lambda row: short_day_text(row.until_on), lambda row: row.until_on
            ),
            Column[Special](_("What"), special_text, hint=special_text, wraps=True),
            Column[Special](
                _("Why"), lambda row: row.reason, hint=lambda row: row.reason, wraps=True
            ),
        ],
        key=lambda row: (row.team, row.from_on),
        name=_("Other than usual in the year ahead"),
        empty=Empty(_("Every day ahead is as usual. Choose days above to change that.")),
        filtered=False,
    )
