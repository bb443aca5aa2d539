"""How long photos, papers, names and notes are kept; what is due to go, and letting it go."""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from hotelwatch.actions import retention
from hotelwatch.actions.choices import choose_rule
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.profile import KEEPS
from hotelwatch.core.record_facts import ContentExpired, ExpiryStopped
from hotelwatch.core.retention import stopped
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.copies import behind_lines, changed_lines, unreached_lines
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.profiles import rule_name, years_kept
from hotelwatch.wording.retention import expired_lines, found_rows, stopped_lines

CARD_PX = 460
Row = tuple[str, str, str, str]
SHORT = {
    "keeps_photos": m("&Photos"),
    "keeps_papers": m("Papers and &logs"),
    "keeps_names": m("&Names"),
    "keeps_notes": m("N&otes"),
}


class KeptPane(QWidget):
    """What would go and why the rest stays; the hotel's years; a dispute that stops it all."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._due = 0
        self.table: RowTable[Row] = RowTable(
            [
                Column(_("What"), lambda row: row[0]),
                Column(_("Kept"), lambda row: row[1]),
                Column(_("Due"), lambda row: row[2]),
                Column(_("Why the rest stays"), lambda row: row[3]),
            ],
            key=lambda row: row[0],
            name=_("What is kept"),
            empty=Empty(_("Press “See what is due” to list what may be deleted.")),
            filtered=False,
        )
        self.told = QLabel(wordWrap=True)
        self.told.setAccessibleName(_("Cases of which nothing is deleted"))
        self._make_form()
        self._make_buttons()
        self._lay_out()

    def refresh(self) -> None:
        """Read years and disputes anew; what was looked at stays until somebody looks again."""
        house = self._context.hotel.house
        for rule, box in self.years.items():
            box.setCurrentIndex(max(0, box.findData(house.choices.get(rule, ""))))
        self.told.setText("\n".join(stopped_lines(stopped(house))))
        self.told.setVisible(bool(self.told.text()))
        self._fit()

    # --- making -------------------------------------------------------------

    def _make_form(self) -> None:
        self.form = Form()
        self.years: dict[str, QComboBox] = {}
        for rule, short in SHORT.items():
            box = QComboBox()
            box.addItem(_("As the local rules say"), "")
            for choice in KEEPS:
                box.addItem(years_kept(choice), choice)
            self.years[rule] = self.form.add(_(short), box, hint=rule_name(rule))
        self.stop_form = Form()
        self.case = self.stop_form.add(_("&Case"), QLineEdit())
        self.case.setPlaceholderText(_("Empty: of all cases"))
        self.who = self.stop_form.add(_("Said &by"), QLineEdit())
        self.reason = self.stop_form.add(_("&Reason"), QLineEdit())

    def _make_buttons(self) -> None:
        self.save = QPushButton(_("&Save these years"))
        self.look = QPushButton(_("See what &is due"))
        self.go = QPushButton(_("Delete it f&or good"))
        self.stop = QPushButton(_("Delete &nothing meanwhile"))
        self.end = QPushButton(_("Delete again when &due"))
        self.look.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.look.clicked.connect(self._look)
        self.go.clicked.connect(self._let_go)
        self.stop.clicked.connect(partial(self._stop, holds=True))
        self.end.clicked.connect(partial(self._stop, holds=False))
        context = self._context
        stopping = (self.stop_form, self.stop, self.end)
        self.for_others = offer(
            context,
            Deed(_("Choose the years"), (RuleChosen,), (self.save,)),
            Deed(_("Delete what is due"), (ContentExpired,), (self.go,)),
            Deed(_("Note a dispute"), (ExpiryStopped,), stopping),
        )

    def _lay_out(self) -> None:
        title, dispute = QLabel(_("Years that things are kept")), QLabel(_("A dispute or a claim"))
        for heading in (title, dispute):
            heading.setProperty("role", "heading")
        why = QLabel(
            _(
                "They count from the closing of the case, or from the month. What is deleted is"
                " gone for good; the record says what it was, and keeps its digest."
            ),
            wordWrap=True,
        )
        why.setProperty("role", "muted")
        card = Card(CARD_PX)
        for widget in (title, why, self.form, self.save, dispute, self.told, self.stop_form):
            card.body.addWidget(widget)
        both = QHBoxLayout()
        both.addWidget(self.stop)
        both.addWidget(self.end)
        card.body.addLayout(both)
        card.body.addWidget(self.for_others)
        card.body.addStretch()
        card.foot.addWidget(self.go)
        card.foot.addStretch()
        card.foot.addWidget(self.look)
        lines = QHBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.setSpacing(12)
        lines.addWidget(self.table, 1)
        lines.addWidget(card)

    def _fit(self) -> None:
        self.go.setEnabled(self._due > 0)
        said = ngettext("Delete {n} f&or good", "Delete {n} f&or good", self._due)
        self.go.setText(said.format(n=self._due) if self._due else _("Delete it f&or good"))

    # --- doing --------------------------------------------------------------

    def _save(self) -> None:
        with self._context.notices.refusals():
            for rule, box in self.years.items():
                choose_rule(self._context.hotel, rule, box.currentData())
            self._forget_look()
            self._context.notices.done(_("The hotel's choices are written down."))

    def _stop(self, *, holds: bool) -> None:
        for field, said in (
            (self.who, _("Name the person.")),
            (self.reason, _("Give the reason.")),
        ):
            if not field.text().strip():
                self.stop_form.say(field, said)
                return
        with self._context.notices.refusals():
            retention.stop_expiry(
                self._context.hotel,
                case=self.case.text().strip(),
                by=self.who.text(),
                reason=self.reason.text(),
                holds=holds,
            )
            self.stop_form.clear()
            for field in (self.case, self.who, self.reason):
                field.clear()
            self._forget_look()
            self._context.notices.done(_("Written down."))

    def _forget_look(self) -> None:
        self._due = 0
        self.table.show_rows(())
        self.refresh()

    def _look(self) -> None:
        hotel = self._context.hotel
        self._context.jobs.run(
            partial(retention.look, now=hotel.now(), copied_to=self._context.copied_to()),
            hotel.path,
            hotel.house.shipped,
            label=_("Looking what is due"),
            on_done=self._show,
        )

    def _show(self, looked: retention.Looked) -> None:
        self._due = sum(verdict.is_due for verdict in looked.found)
        self.table.show_rows(found_rows(looked.found, looked.keepings))
        self._fit()
        if behind := list(behind_lines(looked.behind)):
            self._context.notices.warn("\n".join(behind))
        if not self._due:
            self._context.notices.done(_("Nothing is due to be deleted."))

    def _let_go(self) -> None:
        hotel, now = self._context.hotel, self._context.hotel.now()
        desk = retention.Desk(
            hotel.path,
            hotel.house.shipped,
            lambda: now,
            hotel.by,
            hotel.person,
            self._context.copied_to(),
        )
        self._context.jobs.run(
            retention.expire_apart, desk, label=_("Deleting what is due"), on_done=self._tell
        )

    def _tell(self, done: retention.Expired) -> None:
        self._context.hotel.refresh()
        self._forget_look()
        changed = changed_lines(done.reached)
        lines = expired_lines(done.facts, is_tidy=done.is_tidy, from_copies=changed)
        self._context.notices.done("\n".join(lines))
        if left := list(unreached_lines(done.reached)):
            self._context.notices.warn("\n".join(left))
