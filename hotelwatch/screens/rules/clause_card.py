"""The card of one clause: what it asks, where it was read, how it was judged, who compared it."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QLabel, QLineEdit, QPushButton

from hotelwatch.actions.rule_sets import compare_rules
from hotelwatch.core.local_rules.rows import Judgement, RulesJudged
from hotelwatch.core.rule_facts import RulesCompared
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import DayField, Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording import local_rules as words
from hotelwatch.wording.language import _

CARD_PX = 340
MOST_FAULTS = 12
"""Of what is missing; the month's book lists all of it."""


class ClauseCard(Card):
    """One clause in words, and the form by which somebody says that they compared it."""

    compared = Signal()
    """A comparison was written down."""

    def __init__(self, context: Context) -> None:
        """No clause yet."""
        super().__init__(CARD_PX)
        self._context = context
        self._shown: tuple[str, str] = ("", "")
        self.title = _words(role="heading")
        self.says = _words()
        self.told = _words()
        self.told.setTextFormat(Qt.TextFormat.RichText)
        self.form = Form()
        self.by = self.form.add(_("&Checked by"), QLineEdit())
        self.on = self.form.add(_("&On"), DayField(context.hotel.today()))
        self.whole = self.form.add("", QCheckBox(_("All clauses of this set")))
        self.save = QPushButton(_("&It was compared"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.by.returnPressed.connect(self._save)
        deed = Deed(_("Compare it with the law"), (RulesCompared,), (self.form, self.save))
        self.for_others = offer(context, deed)
        for widget in (self.title, self.says, self.told, self.form, self.for_others):
            self.body.addWidget(widget)
        self.body.addStretch()
        self.foot.addStretch()
        self.foot.addWidget(self.save)

    def about(self) -> list[str]:
        """The set and the clause in view."""
        return list(self._shown)

    def expect(self, rules: str, clause: str) -> None:
        """What stands in the form is about this clause, which will be put in view."""
        self._shown = (rules, clause)

    def show_clause(self, judged: RulesJudged, one: Judgement) -> None:
        """Put a clause in view; what is being typed stays while it is the same one."""
        key = (judged.rules, one.clause.clause)
        if key != self._shown:
            self.whole.setChecked(False)
        self._shown = key
        self.title.setText(words.where_text(one.clause))
        self.says.setText(one.clause.says)
        lines = "".join(
            f"<p style='margin:3px 0'><b>{heading}.</b> {escape(text, quote=False)}</p>"
            for heading, text in self._said_of(one)
            if text
        )
        faults = "".join(f"<li>{escape(text, quote=False)}</li>" for text in self._faults(one))
        self.told.setText(lines + (f"<ul style='margin:3px 0'>{faults}</ul>" if faults else ""))

    def _said_of(self, one: Judgement) -> list[tuple[str, str]]:
        clause = one.clause
        compared = words.compared_text(one.compared_by, one.compared_on, is_stale=one.is_stale)
        return [
            (_("Kind"), words.asks_text(clause.asks)),
            (_("Its terms"), words.terms_text(clause)),
            (_("How it was read"), words.reading_text(clause)),
            (_("Compared with the law in force"), compared),
            (_("Note"), clause.note),
            (_("How it is judged"), words.how_judged(clause.asks)),
            (words.verdict_text(one.verdict), words.judged_sentence(one)),
        ]

    def _faults(self, one: Judgement) -> list[str]:
        zone = self._context.hotel.zone
        said = [words.fault_sentence(item, zone) for item in one.faults[:MOST_FAULTS]]
        more = len(one.faults) - MOST_FAULTS
        if more > 0:
            said.append(_("and {n} more: the month's book lists them").format(n=more))
        return said

    def _save(self) -> None:
        rules, clause = self._shown
        by = self.by.text().strip()
        if not by:
            self.form.say(self.by, _("Name who compared it with the law in force."))
            return
        which = "" if self.whole.isChecked() else clause
        with self._context.notices.refusals():
            compare_rules(self._context.hotel, RulesCompared(rules, which, by, self.on.day()))
            self.form.settle()
            self.compared.emit()
            self._context.notices.done(_("Who compared it, and when, is written down."))


def _words(role: str = "") -> QLabel:
    told = QLabel(wordWrap=True)
    told.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        told.setProperty("role", role)
    told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return told
