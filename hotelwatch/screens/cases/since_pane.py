"""Since when: in which days a case's finds most likely came in, who stayed then, and next door."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.cases.case import Case
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_reckoning import CaseReckoning
from hotelwatch.screens.cases.since_picture import SincePicture
from hotelwatch.screens.cases.since_tables import moves_table, neighbours_table, stays_table
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.forms.fields import ChoiceField
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.wording.language import _
from hotelwatch.wording.since import (
    case_lines,
    find_heading,
    limit_lines,
    neighbours_note,
    picture_text,
    rests_text,
    since_lines,
    stays_note,
)

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import CaseOdds, FindSince, MoveThen, NeighbourThen

SIDE_BY_SIDE_PX = 820
"""Narrower than this the lists stand below the words."""
WORDS_PX, LISTS_PX = 420, 620


class SincePane(QWidget):
    """What a case's finds say of the time before them."""

    def __init__(self, context: Context, reckoning: CaseReckoning | None = None) -> None:
        """No case in view."""
        super().__init__()
        self._context = context
        self._case: Case | None = None
        self._shown: CaseOdds | None = None
        self._reckoning = reckoning or CaseReckoning(context, self)
        self._reckoning.changed.connect(self._show_answer)
        self.state = text_label("", role="muted")
        self.again = QPushButton(_("Wor&k it out"))
        self.again.setAutoDefault(True)
        self.again.clicked.connect(self._ask_again)
        self.which = ChoiceField()
        self.which.setAccessibleName(_("Which find"))
        self.which.chosen.connect(self._show_find)
        self.heading = text_label("", role="heading")
        self.told = text_label("")
        self.limits = text_label("")
        self.picture = SincePicture()
        self.legend = text_label(picture_text(), role="muted")
        self.of_case = text_label("")
        self.rests = text_label(rests_text(), role="muted")
        self.neighbours = neighbours_table()
        self.holds_if = text_label("", role="muted")
        self.stays = stays_table()
        self.moves = moves_table()
        self._lay_out()
        self.show_case(None)

    def title(self) -> str:
        """The tab's text."""
        return _("Since when")

    def is_begun(self) -> bool:
        """Nothing is typed here."""
        return False

    def show_case(self, case: Case | None) -> None:
        """Put a case in view and have it reckoned, if it is not yet."""
        self._case = case
        if case is not None:
            self._reckoning.want(case.no)
        self._show_answer()

    # --- what is shown -----------------------------------------------------------

    def _show_answer(self) -> None:
        odds = None if self._case is None else self._reckoning.of(self._case.no)
        self._say_state(odds)
        if odds is self._shown and odds is not None:
            return
        self._shown = odds
        finds = odds.finds if odds is not None else ()
        said = case_lines(odds) if odds is not None else ()
        self.of_case.setText("\n".join(said))
        self.of_case.setVisible(bool(said))
        self.which.blockSignals(True)
        self.which.offer((str(n), find_heading(found)) for n, found in enumerate(finds))
        if self.which.value() is None and finds:
            self.which.choose("0")
        self.which.blockSignals(False)
        if (line := self.which.lineEdit()) is not None:
            line.setCursorPosition(0)  # else a narrow field shows the end
        self.which.setVisible(len(finds) > 1)
        self._show_find()

    def _say_state(self, odds: CaseOdds | None) -> None:
        was_stopped = self._reckoning.was_stopped
        said = ""
        if self._case is None:
            said = ""
        elif was_stopped and odds is None:
            said = _("It was not worked out: it was stopped.")
        elif was_stopped:
            said = _("As it was before the last change: working it out again was stopped.")
        elif odds is None:
            said = _("Working out since when it may have been there…")
        elif self._reckoning.is_running:
            said = _("As it was before the last change; it is being worked out again…")
        self.state.setText(said)
        self.state.setVisible(bool(said))
        self.again.setVisible(was_stopped and self._case is not None)

    def _find(self) -> FindSince | None:
        finds = self._shown.finds if self._shown is not None else ()
        place = int(self.which.value() or 0)
        return finds[place] if place < len(finds) else None

    def _show_find(self, _value: object = None) -> None:
        found, odds = self._find(), self._shown
        for part in (self.told, self.limits, self.rests, self._tables):
            part.setVisible(found is not None)
        # Where it outlived a treatment there are no days to draw.
        drawn = None if found is None or found.likely_outlived else found
        self.picture.show_find(drawn)
        self.legend.setVisible(drawn is not None)
        self.heading.setVisible(found is not None and self.which.isHidden())
        if found is None or odds is None:
            for table in (self.neighbours, self.stays, self.moves):
                table.show_rows(())
            return
        self.heading.setText(find_heading(found))
        self.told.setText("\n".join(since_lines(found)))
        limits = "\n".join(limit_lines(found))
        self.limits.setText(limits)
        self.limits.setVisible(bool(limits))
        self.neighbours.show_rows(found.neighbours)
        self.holds_if.setText(neighbours_note(found) if found.neighbours else "")
        self.stays.show_rows(found.stays)
        self.moves.show_rows(found.moves)
        for place, (title, count) in enumerate(
            (
                (_("Next door ({n})"), len(found.neighbours)),
                (_("Stays then ({n})"), len(found.stays)),
                (_("What moved ({n})"), len(found.moves)),
            )
        ):
            self._tables.setTabText(place, title.format(n=count))

    # --- making ---------------------------------------------------------------------

    def _lay_out(self) -> None:
        inside = QWidget()
        inside.setProperty("role", "plain")
        words = QVBoxLayout(inside)
        words.setContentsMargins(0, 0, 8, 0)
        for part in (self.which, self.heading, self.told, self.picture, self.legend):
            words.addWidget(part)
        for part in (self.limits, self.of_case, self.rests):
            words.addWidget(part)
        words.addStretch()
        scroll = UprightScroll()
        scroll.setWidget(inside)
        self._tables = QTabWidget(documentMode=True)
        self._tables.tabBar().setAccessibleName(_("Lists of the find"))
        self._tables.addTab(_below(self.neighbours, self.holds_if), "")
        self._tables.addTab(_below(self.stays, text_label(stays_note(), role="muted")), "")
        self._tables.addTab(self.moves, "")
        self._body = QSplitter(Qt.Orientation.Horizontal)
        self._body.setChildrenCollapsible(False)
        self._body.setHandleWidth(12)
        self._body.addWidget(scroll)
        self._body.addWidget(self._tables)
        self._body.setSizes([WORDS_PX, LISTS_PX])
        top = QHBoxLayout()
        top.addWidget(self.state, 1)
        top.addWidget(self.again)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 6, 0, 0)
        lines.addLayout(top)
        lines.addWidget(self._body, 1)
        self.neighbours.activated.connect(self._open_neighbour)
        self.moves.activated.connect(self._open_other)
        self.stays.activated.connect(self._open_own)
        self.setFocusProxy(self._tables.tabBar())

    def resizeEvent(self, event: QEvent) -> None:
        """Put the lists beside the words where there is room, else below them."""
        is_wide = self.width() >= SIDE_BY_SIDE_PX
        self._body.setOrientation(Qt.Orientation.Horizontal if is_wide else Qt.Orientation.Vertical)

    # --- going on --------------------------------------------------------------------

    def _ask_again(self) -> None:
        if self._case is not None:
            self._reckoning.want(self._case.no, afresh=True)

    def _open_neighbour(self, row: NeighbourThen) -> None:
        self._go_to(row.room)

    def _open_other(self, row: MoveThen) -> None:
        self._go_to(row.other)

    def _open_own(self, _row: object) -> None:
        found = self._find()
        if found is not None:
            self._go_to(found.room)

    def _go_to(self, room: RoomNo) -> None:
        if "building" in self._context.pages:
            self._context.go_to("building", room)


def _below(table: QWidget, said: QWidget) -> QWidget:
    """A table with a word below it."""
    whole = QWidget()
    lines = QVBoxLayout(whole)
    lines.setContentsMargins(0, 0, 0, 0)
    lines.addWidget(table, 1)
    lines.addWidget(said)
    return whole
