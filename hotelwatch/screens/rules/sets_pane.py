"""Local rules: the sets there are, the one in force, its clauses and what a month shows of them."""

from __future__ import annotations

from html import escape
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.rule_sets import choose_profile, judged_rules, load_rules, write_template
from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.local_rules.rows import Judgement, RulesJudged, Verdict
from hotelwatch.core.month.months import months_on_record
from hotelwatch.core.problems import InputRefused
from hotelwatch.core.profile import Profile
from hotelwatch.core.rule_facts import RuleSetKept
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.rules.clause_card import CARD_PX, ClauseCard
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording import local_rules as words
from hotelwatch.wording.dates import month_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.profiles import rule_lines

HEIGHTS = [250, 420]
TONES = {Verdict.MET: Tone.DONE, Verdict.NOT_MET: Tone.LATE, Verdict.CANNOT_TELL: Tone.DUE}


class SetsPane(QWidget):
    """Sets above, the clauses of the chosen one below, and a card of the one or the other."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._in_force = ""
        self._is_filling = False
        self._wanted = ""
        self.judged: RulesJudged | None = None
        self.table = _sets_table(self)
        self.table.current_changed.connect(self._tell)
        self.clauses = _clauses_table()
        self.clauses.current_changed.connect(self._tell_clause)
        self.months = QComboBox()
        self.months.setAccessibleName(_("Month"))
        self.months.setMinimumContentsLength(14)
        self.months.activated.connect(self._judge)
        self.summary = QLabel(wordWrap=True)
        self.load = QPushButton(_("&Load a set…"))
        self.load.clicked.connect(self._ask_which)
        self.template = QPushButton(_("Wri&te a template…"))
        self.template.clicked.connect(self._ask_where)
        self.clause_card = ClauseCard(context)
        self.clause_card.compared.connect(self.refresh)
        self.cards = QStackedWidget()
        self.cards.addWidget(self._set_card())
        self.cards.addWidget(self.clause_card)
        self.for_others = offer(
            context,
            Deed(_("Choose local rules"), (ProfileChosen,), (self.take,)),
            Deed(_("Load a set"), (RuleSetKept,), (self.load,)),
        )
        self._lay_out()

    def is_in_force(self, profile: Profile) -> bool:
        """Whether the hotel works under this set."""
        return profile.key == self._in_force

    def about(self) -> str:
        """The set in view."""
        profile = self.table.current()
        return profile.key if profile is not None else ""

    def bring(self, holder: QWidget, about: object) -> None:
        """Put the set, or the clause, of a form that was half entered into view."""
        key, clause = map(str, about) if isinstance(about, list) else (str(about), "")
        self.refresh()
        if not self.table.select(key):
            raise LookupError(key)
        self.cards.setCurrentIndex(0)
        if holder is self.clause_card:
            self._wanted = clause
            self.clause_card.expect(key, clause)
            self.cards.setCurrentWidget(self.clause_card)
            self._judge()

    def refresh(self) -> None:
        """Read the rules anew, and judge the chosen set in the background."""
        hotel = self._context.hotel
        self._in_force = hotel.house.profile.key
        self._fill_months()
        self.table.show_rows(tuple(hotel.house.rule_sets.values()))
        if self.table.current() is None:
            self.table.select(self._in_force)
        self._tell(self.table.current())

    # --- making --------------------------------------------------------------

    def _set_card(self) -> Card:
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.told = QLabel(wordWrap=True)
        self.told.setTextFormat(Qt.TextFormat.RichText)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.checked = QLineEdit()
        self.take = QPushButton(_("&Work under these rules"))
        self.take.setProperty("role", MAIN)
        self.take.clicked.connect(self._take)
        form = Form()
        hint = _("Rules change. Whoever compares the set with the law in force is named here.")
        form.add(_("&Compared with the law by"), self.checked, hint=hint)
        card = Card(CARD_PX)
        for widget in (self.title, self.told, form):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addStretch()
        card.foot.addWidget(self.take)
        return card

    def _lay_out(self) -> None:
        month = QLabel(_("&Judged by the record of"))
        month.setBuddy(self.months)
        top = QHBoxLayout()
        for widget in (month, self.months):
            top.addWidget(widget)
        top.addStretch(1)
        top.addWidget(self.template)
        top.addWidget(self.load)
        advice = QLabel(words.no_advice(), wordWrap=True)
        advice.setProperty("role", "muted")
        below = QWidget()
        lines = QVBoxLayout(below)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.summary)
        lines.addWidget(self.clauses, 1)
        parts = QSplitter(Qt.Orientation.Vertical)
        parts.setChildrenCollapsible(False)
        parts.addWidget(self.table)
        parts.addWidget(below)
        parts.setSizes(HEIGHTS)
        left = QVBoxLayout()
        left.addLayout(top)
        left.addWidget(parts, 1)
        left.addWidget(advice)
        left.addWidget(self.for_others)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addLayout(left, 1)
        both.addWidget(self.cards)

    def _fill_months(self) -> None:
        hotel = self._context.hotel
        months = months_on_record(hotel.house, hotel.today())
        if [self.months.itemData(n) for n in range(self.months.count())] != list(months):
            chosen = self.months.currentData()
            self.months.clear()
            for month in months:
                self.months.addItem(month_text(month), month)
            self.months.setCurrentIndex(max(0, self.months.findData(chosen)))

    # --- showing -------------------------------------------------------------

    def _tell(self, profile: Profile | None) -> None:
        if profile is None:
            return
        house = self._context.hotel.house
        in_force = self.is_in_force(profile)
        shown = house.profile if in_force else profile
        self.title.setText(
            _("{name}: in force").format(name=profile.name) if in_force else profile.name
        )
        origin = (_("What it is"), words.whose_text(profile))
        *rest, source, note = list(rule_lines(shown, house.choices))[1:]
        lines = [origin, note, source, *rest]
        self.told.setText(
            "".join(
                f"<p style='margin:3px 0'><b>{h}.</b> {escape(t, quote=False)}</p>"
                for h, t in lines
            )
        )
        self.take.setEnabled(not in_force)
        if self.judged is None or self.judged.rules != profile.key:
            self._show_judged(None)
            self.cards.setCurrentIndex(0)
        self._judge()

    def _judge(self, _place: int = 0) -> None:
        profile, month = self.table.current(), self.months.currentData()
        if profile is None or month is None:
            return
        hotel = self._context.hotel
        self._context.jobs.run(
            judged_rules,
            hotel.path,
            hotel.house.shipped,
            month,
            hotel.now(),
            profile.key,
            label=_("Judging the rules"),
            unasked=True,
            on_done=self._show_if_chosen,
        )

    def _show_if_chosen(self, judged: RulesJudged) -> None:
        profile = self.table.current()
        if profile is not None and profile.key == judged.rules:
            self._show_judged(judged)

    def _show_judged(self, judged: RulesJudged | None) -> None:
        self.judged = judged
        self.summary.setText(words.rules_sentence(judged) if judged else "")
        self._is_filling = True
        self.clauses.show_rows(judged.judgements if judged else ())
        self._is_filling = False
        if judged is not None and self._wanted:
            self.clauses.select(self._wanted)
            self._wanted = ""
        one = self.clauses.current()
        if judged is not None and one is not None:
            self.clause_card.show_clause(judged, one)

    def _tell_clause(self, one: Judgement | None) -> None:
        if one is not None and self.judged is not None and not self._is_filling:
            self.clause_card.show_clause(self.judged, one)
            self.cards.setCurrentWidget(self.clause_card)

    # --- writing down --------------------------------------------------------

    def _take(self) -> None:
        profile = self.table.current()
        if profile is None:
            return
        with self._context.notices.refusals():
            choose_profile(
                self._context.hotel, profile.key, compared_by=self.checked.text().strip()
            )
            self.checked.clear()
            self.refresh()
            told = _("From now on this hotel works under: {name}.").format(name=profile.name)
            self._context.notices.done(told)

    def _ask_which(self) -> None:
        self._context.files.open(_("Load a set of local rules"), _("Rules (*.toml)"), self.take_in)

    def take_in(self, source: Path) -> None:
        """Load the sets of a file, and show the first of them."""
        notices = self._context.notices
        with notices.refusals():
            try:
                reading = load_rules(self._context.hotel, source)
            except InputRefused as refused:
                notices.refuse_input(refused)
                return
            self.refresh()
            self.table.select(reading.sets[0].key)
            said = ngettext("{n} set is kept.", "{n} sets are kept.", len(reading.sets))
            notices.done(said.format(n=len(reading.sets)))

    def _ask_where(self) -> None:
        suggested = self._context.hotel.path.with_name("our_rules.toml")
        title = _("Write a template of local rules")
        self._context.files.save(title, _("Rules (*.toml)"), suggested, self._write_template)

    def _write_template(self, target: Path) -> None:
        with self._context.notices.refusals():
            write_template(target)
            told = _("The template is written: {file}.").format(file=target.name)
            self._context.notices.done(told)


def _sets_table(pane: SetsPane) -> RowTable[Profile]:
    return RowTable(
        [
            Column[Profile](_("Local rules"), lambda row: row.name, wraps=True),
            Column[Profile](
                _("In force"),
                lambda row: _("in force") if pane.is_in_force(row) else "",
                tint=lambda row: Tone.DONE if pane.is_in_force(row) else None,
            ),
            Column[Profile](
                _("What it is"),
                words.kind_text,
            ),
        ],
        key=lambda row: row.key,
        name=_("Local rules"),
        empty=Empty(_("No set of rules is known.")),
        filtered=False,
    )


def _clauses_table() -> RowTable[Judgement]:
    return RowTable(
        [
            Column[Judgement](
                _("What it asks"), lambda row: words.asked_text(row.clause), wraps=True
            ),
            Column[Judgement](
                _("Met?"),
                lambda row: words.verdict_text(row.verdict),
                tint=lambda row: TONES.get(row.verdict),
            ),
            Column[Judgement](
                _("Compared"),
                lambda row: _("no") if row.is_stale else _("yes"),
                tint=lambda row: Tone.DUE if row.is_stale else None,
                hint=lambda row: words.compared_text(
                    row.compared_by, row.compared_on, is_stale=row.is_stale
                ),
            ),
        ],
        key=lambda row: row.clause.clause,
        name=_("Clauses"),
        empty=Empty(_("A way of working, not a local law: it has no clauses.")),
    )
