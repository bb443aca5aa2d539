"""Looking back: finds on record, where they recur, whether the cycle is kept, what finds cost."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.looking_back import BackWish, LookingBack, look_back
from hotelwatch.actions.odds import OddsView
from hotelwatch.core.odds.past.back_rows import FindBack
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.odds.back_tables import (
    finds_table,
    groups_table,
    months_table,
    never_table,
    treated_table,
    years_table,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.looking_back import (
    again_note,
    cost_lines,
    find_heading,
    find_lines,
    finds_lines,
    groups_line,
    kept_lines,
    kept_note,
    what_if_text,
)


class BackPane(QWidget):
    """Four questions to the record, each with its sentences and its list."""

    compare_wanted = Signal()
    cycle_wanted = Signal()

    def __init__(self, context: Context) -> None:
        """Nothing is reckoned until the pane is shown."""
        super().__init__()
        self._context = context
        self._wish: BackWish | None = None
        self._asked: BackWish | None = None
        self.shown: LookingBack | None = None
        self.state = text_label(_("Looking back…"), role="muted")
        self.finds, self.groups, self.years = finds_table(), groups_table(), years_table()
        self.months, self.never = months_table(), never_table()
        self.after_treatment = treated_table()
        self.finds.current_changed.connect(self._tell)
        self.of_finds, self.of_find = text_label(""), text_label("")
        self.of_groups, self.of_kept, self.of_cost = (text_label("") for _n in range(3))
        self.to_cycle = QPushButton(_("What a c&ycle buys"))
        self.to_cycle.clicked.connect(self.cycle_wanted)
        self.to_compare = QPushButton(_("Co&mpare rules"))
        self.to_compare.clicked.connect(self.compare_wanted)
        self._lay_out()

    def show_view(self, view: OddsView) -> None:
        """Look back on the record of these odds, now or when the pane comes into view."""
        self._wish = BackWish(view, self._context.hotel.now())
        self._read()

    def showEvent(self, event: QShowEvent) -> None:
        """Look back on what was put off while the pane was out of view."""
        super().showEvent(event)
        self._read()

    # --- working --------------------------------------------------------------------------

    def _read(self) -> None:
        """Look back, once for each state of the record, while somebody sees it."""
        if self._wish is None or self._asked is self._wish or not self.isVisible():
            return
        self._asked = self._wish
        self._say(_("Looking back…") if self.shown is None else "")
        self._context.jobs.run(
            look_back,
            self._wish,
            label=_("Looking back on the record"),
            on_done=self._take,
            on_failed=self._fail,
            on_stopped=self._stopped,
            unasked=True,
        )

    def _fail(self, error: Exception) -> None:
        self._stopped()
        self._context.notices.fail(error)

    def _stopped(self) -> None:
        """Look back again when the pane is shown the next time."""
        self._asked = None
        self._say(_("It was stopped before it was done. Open this tab again to look back."))

    def _say(self, text: str) -> None:
        self.state.setText(text)
        self.state.setVisible(bool(text))

    # --- showing --------------------------------------------------------------------------

    def _take(self, back: LookingBack) -> None:
        if back.wish is not self._wish:
            # Something was written down meanwhile; this is of the record before it.
            self._read()
            return
        self.shown = back
        self._say("")
        self.tabs.show()
        self.of_finds.setText(_lines(finds_lines(back.in_all)))
        self.finds.show_rows(back.finds)
        if self.finds.current() is None and back.finds:
            one = back.finds[0]
            self.finds.select((one.case, one.room, one.found_on))
        self._tell(self.finds.current())
        self.of_groups.setText(_lines((groups_line(back.groups, back.in_all.finds), again_note())))
        self.groups.show_rows(back.groups)
        self.after_treatment.show_rows(row for row in back.finds if row.treatment is not None)
        self.of_kept.setText(_lines((*kept_lines(back.kept), kept_note())))
        self.months.show_rows((back.kept.today, *reversed(back.kept.months)))
        self.never.show_rows(back.kept.never)
        self.never.setVisible(bool(back.kept.never))
        self.of_cost.setText(_lines(cost_lines(back.years, back.rules)))
        self.years.show_rows(back.years)

    def _tell(self, find: FindBack | None) -> None:
        """All that is told of the find in view."""
        self.of_find.setVisible(find is not None)
        self.of_find.setText(
            "" if find is None else _lines((find_heading(find), *find_lines(find)))
        )

    # --- making ---------------------------------------------------------------------------

    def _lay_out(self) -> None:
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("Looking back"))
        self.tabs.addTab(_tab(self.of_finds, self.finds, self.of_find), _("Finds"))
        of_finds = _together(QVBoxLayout(), self.groups, self.after_treatment)
        self.tabs.addTab(_tab(self.of_groups, of_finds), _("Found again"))
        of_beds = _together(QHBoxLayout(), self.months, self.never)
        self.tabs.addTab(_tab(self.of_kept, of_beds), _("Is the cycle kept"))
        self.tabs.addTab(_tab(self.of_cost, self.years, self._what_if()), _("What finds cost"))
        self.tabs.hide()
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self.state)
        lines.addWidget(self.tabs, 1)

    def _what_if(self) -> QWidget:
        told = QWidget()
        line = QHBoxLayout(told)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(text_label(what_if_text()), 1)
        line.addWidget(self.to_cycle)
        line.addWidget(self.to_compare)
        return told


def _tab(said: QLabel, body: QWidget, below: QWidget | None = None) -> QWidget:
    tab = QWidget()
    lines = QVBoxLayout(tab)
    lines.setContentsMargins(0, 8, 0, 0)
    lines.addWidget(said)
    lines.addWidget(body, 1)
    if below is not None:
        lines.addWidget(below)
    return tab


def _together(layout: QBoxLayout, *widgets: QWidget) -> QWidget:
    made = QWidget()
    made.setLayout(layout)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(12)
    for widget in widgets:
        layout.addWidget(widget, 1)
    return made


def _lines(said: Iterable[str]) -> str:
    return "\n".join(said)
