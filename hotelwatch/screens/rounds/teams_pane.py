"""Teams: who looks, on which days, and how many minutes they have."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace

from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.hotel import LONGEST_TEAM_DAY, describe_teams
from hotelwatch.core.clock_text import clock_said
from hotelwatch.core.days import WEEKDAYS
from hotelwatch.core.facts import TeamDescribed, TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.core.rounds.able import least_people
from hotelwatch.core.rounds.draft import slots_ahead
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.rounds.language_field import LanguageField
from hotelwatch.screens.rounds.loads_table import LoadsPane
from hotelwatch.screens.rounds.words import beyond_shift_text, team_minutes_text, too_few_text
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording import language
from hotelwatch.wording.dates import minutes_text, weekday_short, weekdays_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.languages import language_name
from hotelwatch.wording.names import label
from hotelwatch.wording.rounds import shift_text

FORM_PX = 400
MOST_PEOPLE = 20
DAYS_IN_A_LINE = 3


class TeamsPane(QWidget):
    """The teams in use and a small form for one of them."""

    def __init__(self, context: Context) -> None:
        """No team yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._chosen: TeamName | None = None
        self.table = _teams_table()
        self.table.current_changed.connect(self._take)
        self.add = QPushButton(_("&Add a team"))
        self.add.clicked.connect(self.begin)
        self.title = QLabel()
        self.title.setProperty("role", "heading")
        self.form = Form()
        self.name = self.form.add(_("Na&me"), QLineEdit())
        self.people = self.form.add(_("Peop&le"), QSpinBox())
        self.people.setRange(1, MOST_PEOPLE)
        self.minutes = self.form.add(_("M&inutes a day"), QSpinBox())
        self.minutes.setRange(1, LONGEST_TEAM_DAY)
        self.minutes.setSingleStep(5)
        self.kept_free = self.form.add(
            _("In &reserve"),
            QSpinBox(),
            hint=_("So many of these minutes stay in reserve for surprises; no plan uses them."),
        )
        self.kept_free.setRange(0, LONGEST_TEAM_DAY)
        self.kept_free.setSingleStep(5)
        for field in (self.minutes, self.kept_free):
            field.setSuffix(_(" min"))
        self.begins = self.form.add(_("Shift &begins"), _clock_field())
        self.ends = self.form.add(_("Shift en&ds"), _clock_field())
        self.weekdays = {code: _weekday_box(code) for code in WEEKDAYS}
        self.days = self.form.add(_("Works on"), _in_a_grid(list(self.weekdays.values())))
        self.language = self.form.add(
            _("Sheets i&n"),
            LanguageField(),
            hint=_("In this language the team's sheets are printed; the window stays as it is."),
        )
        self.loads = LoadsPane(self._context)
        self.beyond = QLabel(wordWrap=True)
        for number in (self.people, self.minutes, self.kept_free):
            number.valueChanged.connect(self._tell_beyond)
        for clock in (self.begins, self.ends):
            clock.textChanged.connect(self._tell_beyond)
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.remove = QPushButton(_("Ta&ke out of use…"))
        self.remove.clicked.connect(self._ask_remove)
        self.name.returnPressed.connect(self._save)
        self._lay_out()
        self.begin()

    def about(self) -> str:
        """The team that is changed; empty for a new one."""
        return self._chosen or ""

    def bring(self, _holder: QWidget, about: object) -> None:
        """Put the team of a form that was half entered into view; LookupError if it is gone."""
        self.refresh()
        if not about:
            self.begin()
        elif self.table.select(about):
            self._take(self.table.current())
        else:
            raise LookupError(about)

    def refresh(self) -> None:
        """Read the teams anew; what is being typed stays."""
        house = self._context.hotel.house
        self.language.offer()
        self.note.setText(team_minutes_text(house.rules))
        self.table.show_rows(house.teams.values())
        self.loads.refresh()

    def begin(self) -> None:
        """Offer the form for a new team."""
        figures = self._context.hotel.house.rules.figures
        self._fill(
            TeamDescribed(
                TeamName(""), int(figures.team_people.value), int(figures.team_day_minutes.value)
            ),
            chosen=None,
        )
        self.table.let_go()
        self.name.setFocus()

    # --- making -------------------------------------------------------------

    def _lay_out(self) -> None:
        card = Card(FORM_PX)
        changing = (self.add, self.save, self.remove)
        self.for_others = offer(
            self._context, Deed(_("Describe teams"), (TeamDescribed,), changing)
        )
        for widget in (self.title, self.form, self.beyond, self.note, self.for_others):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addWidget(self.remove)
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        top = QHBoxLayout()
        top.addWidget(self.add)
        top.addStretch()
        for table in (self.table, self.loads.table):
            # Heights follow the pane, not what a table would like to show.
            table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        left = QVBoxLayout()
        left.addLayout(top)
        left.addWidget(self.table, 3)
        left.addWidget(self.loads, 5)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addLayout(left, 1)
        both.addWidget(card)

    def _take(self, team: TeamDescribed | None) -> None:
        if team is not None:
            self._fill(team, chosen=team.team)

    def _fill(self, team: TeamDescribed, *, chosen: TeamName | None) -> None:
        self._chosen = chosen
        self.form.clear()
        self.title.setText(
            _("A new team") if chosen is None else _("Change {team}").format(team=chosen)
        )
        self.name.setText(team.team)
        self.name.setReadOnly(chosen is not None)
        self.people.setValue(team.people)
        self.minutes.setValue(team.minutes)
        self.kept_free.setValue(team.kept_free)
        self.begins.setText(team.from_clock)
        self.ends.setText(team.until_clock)
        for code, box in self.weekdays.items():
            box.setChecked(code in team.works_on)
        self.language.choose(team.language)
        self.form.settle()
        self.remove.setVisible(chosen is not None)

    def _tell_beyond(self, _what: object = None) -> None:
        """Say where the shift leaves less than the minutes, and where people are too few."""
        said = [too_few_text(self.people.value(), least_people(self._context.hotel.house))]
        with suppress(Refusal):
            minutes = self.minutes.value() - self.kept_free.value()
            said.append(beyond_shift_text(minutes, self.begins.text(), self.ends.text()))
        self.beyond.setText(" ".join(filter(None, said)))
        self.beyond.setVisible(any(said))

    # --- writing down -------------------------------------------------------

    def _save(self) -> None:
        self.form.clear()
        name = TeamName(" ".join(self.name.text().split()))
        works_on = tuple(code for code, box in self.weekdays.items() if box.isChecked())
        known = {team.casefold(): team for team in self._context.hotel.house.teams}
        if not name:
            self.form.say(self.name, _("A team needs a name."))
        elif self._chosen is None and name.casefold() in known:
            taken = known[name.casefold()]
            self.form.say(
                self.name,
                _("There is a team {team} already: choose it in the list.").format(team=taken),
            )
        if not works_on:
            self.form.say(self.days, _("Tick the days on which it works."))
        if self.kept_free.value() >= self.minutes.value():
            self.form.say(self.kept_free, _("That leaves nothing of its day for rounds."))
        clocks = [self._clock(field) for field in (self.begins, self.ends)]
        if all(clocks) and clocks[0] >= clocks[1]:
            self.form.say(self.ends, _("The shift ends before it begins."))
        if self.form.has_problems():
            return
        # What this form does not ask stays as it is.
        before = self._context.hotel.house.teams.get(name) or TeamDescribed(name, 0, 0)
        team = replace(
            before,
            people=self.people.value(),
            minutes=self.minutes.value(),
            works_on=works_on,
            kept_free=self.kept_free.value(),
            from_clock=clocks[0],
            until_clock=clocks[1],
            language=self.language.code(),
        )
        with self._context.notices.refusals():
            describe_teams(self._context.hotel, [team])
            self.refresh()
            self.table.select(name)
            self._take(team)
            self._context.notices.done(_("{team} is saved.").format(team=name))

    def _clock(self, field: QLineEdit) -> str:
        """What is typed as "HH:MM"; empty for nothing, or for what is no clock time."""
        try:
            return clock_said(field.text())
        except Refusal:
            self.form.say(field, _("Type a time of day, as 08:00, or leave it empty."))
            return ""

    def _ask_remove(self) -> None:
        if self._chosen is None:
            return
        hotel = self._context.hotel
        ahead = slots_ahead(hotel.house, self._chosen, hotel.today())
        said = _("Take {team} out of use? What it did stays on record.").format(team=self._chosen)
        if ahead:
            rooms = ngettext(
                "{n} room is on its sheets from today on: publish a round anew.",
                "{n} rooms are on its sheets from today on: publish a round anew.",
                ahead,
            ).format(n=ahead)
            said = f"{said} {rooms}"
        self._context.notices.ask(said, _("Take out of use"), self._remove)

    def _remove(self) -> None:
        team = self._context.hotel.house.teams.get(self._chosen or TeamName(""))
        if team is None:
            return
        with self._context.notices.refusals():
            describe_teams(self._context.hotel, [replace(team, in_use=False)])
            self.refresh()
            self.begin()
            self._context.notices.done(_("{team} is out of use.").format(team=team.team))


def _weekday_box(code: str) -> QCheckBox:
    box = QCheckBox(weekday_short(code))
    box.setAccessibleName(label(code))
    return box


def _clock_field() -> QLineEdit:
    field = QLineEdit()
    field.setPlaceholderText(_("at any hour"))
    return field


def _in_a_grid(boxes: list[QCheckBox]) -> QWidget:
    holder = QWidget()
    holder.setFocusProxy(boxes[0])
    grid = QGridLayout(holder)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setVerticalSpacing(0)
    for number, box in enumerate(boxes):
        grid.addWidget(box, number // DAYS_IN_A_LINE, number % DAYS_IN_A_LINE)
    return holder


def _teams_table() -> RowTable[TeamDescribed]:
    return RowTable(
        [
            Column[TeamDescribed](_("Team"), lambda team: team.team),
            Column[TeamDescribed](
                _("People"), lambda team: str(team.people), sort=lambda team: team.people
            ),
            Column[TeamDescribed](
                _("Time a day"),
                lambda team: minutes_text(team.minutes),
                sort=lambda team: team.minutes,
            ),
            Column[TeamDescribed](
                _("In reserve"),
                lambda team: minutes_text(team.kept_free) if team.kept_free else "–",
                sort=lambda team: team.kept_free,
            ),
            Column[TeamDescribed](_("Shift"), shift_text),
            Column[TeamDescribed](_("Sheets in"), _language_text),
            Column[TeamDescribed](_("Works on"), _days_text, hint=_days_text),
        ],
        key=lambda team: team.team,
        name=_("Teams"),
        empty=Empty(_("No team is described yet. Fill in the form and save it.")),
        filtered=False,
    )


def _language_text(team: TeamDescribed) -> str:
    code = team.language or language.SOURCE
    return language_name(code) if code in language.available() else code


def _days_text(team: TeamDescribed) -> str:
    return weekdays_text(team.works_on)
