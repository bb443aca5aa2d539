"""The month's page: what its book says, the book itself, its closing, and how things went."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.books import write_book
from hotelwatch.actions.reports import close_month, month_figures
from hotelwatch.core.facts import MonthClosed, RoomNo, Topic
from hotelwatch.core.month.due_rows import DueRow, DueState
from hotelwatch.core.month.months import months_on_record
from hotelwatch.core.month.periods import spans_of
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.problems import Refusal
from hotelwatch.core.roles import Sight
from hotelwatch.papers.book_claims import Claims
from hotelwatch.papers.month_formulas import Line
from hotelwatch.papers.month_summary import lines_of, opening_lines
from hotelwatch.papers.month_words import due_state, why_sentence
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import show_file
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.month.check_pane import CheckPane
from hotelwatch.screens.month.over_time import OverTimePane
from hotelwatch.screens.month.traps import TrapsPane
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import moment_text, month_text, short_day_text
from hotelwatch.wording.language import _, available, current
from hotelwatch.wording.languages import book_language_name

STATE_TONES = {DueState.LATE: Tone.DUE, DueState.NOT_DONE: Tone.LATE, DueState.IN_TIME: Tone.DONE}
WIDTHS = [350, 710]
LANGUAGE_LETTERS = 22


class MonthPage(QWidget):
    """A month in numbers, the beds behind them, and its workbook."""

    topics = frozenset(Topic)

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.figures: MonthFigures | None = None
        self.months = QComboBox()
        self.months.setAccessibleName(_("Month"))
        self.months.setMinimumContentsLength(16)
        self.months.activated.connect(self._count)
        self.told = QLabel(wordWrap=True)
        self.numbers = _numbers_table()
        self.due = _due_table()
        self.due.activated.connect(self._open_room)
        self._lay_out()

    def _lay_out(self) -> None:
        self.of = QComboBox()
        self.of.setAccessibleName(_("Workbook of"))
        self.of.addItem(_("the month"), 0)
        self.of.addItem(_("its quarter"), 1)
        self.of.addItem(_("its year"), 2)
        self.languages = QComboBox()
        self.languages.setAccessibleName(_("Language of the workbook"))
        # What a language lacks is read in the open list; beside it there is no room for that.
        self.languages.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.languages.setMinimumContentsLength(LANGUAGE_LETTERS)
        for code in available():
            self.languages.addItem(book_language_name(code), code)
        self.languages.setCurrentIndex(max(0, self.languages.findData(current())))
        self.with_odds = QCheckBox(_("with how &likely something was missed (takes longer)"))
        self.of.currentIndexChanged.connect(self._offer_odds)
        self._offer_odds(0)
        self.write = QPushButton(_("&Write the workbook…"))
        self.write.setProperty("role", MAIN)
        self.write.clicked.connect(self._ask_where)
        self.close_it = QPushButton(_("&Close the month…"))
        self.close_it.clicked.connect(self._ask_to_close)
        top = QHBoxLayout()
        label = QLabel(_("&Month"))
        label.setBuddy(self.months)
        top.addWidget(label)
        top.addWidget(self.months)
        top.addStretch(1)
        top.addWidget(self.close_it)
        writing = QHBoxLayout()
        writing.addWidget(self.of)
        writing.addWidget(self.languages)
        writing.addWidget(self.with_odds)
        writing.addStretch(1)
        writing.addWidget(self.write)
        both = QSplitter()
        both.setChildrenCollapsible(False)
        both.addWidget(_titled(_("The month in numbers"), self.numbers))
        both.addWidget(_titled(_("Undersides that were due"), self.due))
        both.setSizes(WIDTHS)
        book = QWidget()
        lines = QVBoxLayout(book)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addLayout(top)
        lines.addLayout(writing)
        lines.addWidget(self.told)
        deed = Deed(_("Close the month"), (MonthClosed,), (self.close_it,))
        self.for_others = offer(self._context, deed)
        lines.addWidget(self.for_others)
        lines.addWidget(both, 1)
        self.over_time = OverTimePane(self._context)
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("Month"))
        self.tabs.addTab(book, _("The month's book"))
        self.tabs.addTab(self.over_time, _("Over time"))
        self.traps = TrapsPane(self._context)
        self.tabs.addTab(self.traps, _("Traps"))
        self.check = CheckPane(self._context) if self._context.sees(Sight.RECORD) else None
        if self.check is not None:
            self.tabs.addTab(self.check, _("Check a book"))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.tabs)
        self.setFocusProxy(self.tabs.tabBar())

    # --- showing ------------------------------------------------------------

    def refresh(self) -> None:
        """Offer the months on record and count the chosen one anew."""
        hotel = self._context.hotel
        chosen = self.months.currentData()
        months = months_on_record(hotel.house, hotel.today())
        if [self.months.itemData(n) for n in range(self.months.count())] != list(months):
            self.months.clear()
            for month in months:
                self.months.addItem(month_text(month), month)
            self.months.setCurrentIndex(max(0, self.months.findData(chosen)))
        self._count()
        self.over_time.refresh()
        self.traps.refresh()

    def _count(self) -> None:
        hotel = self._context.hotel
        if self.figures is None or self.figures.account.month != self.months.currentData():
            self.told.setText(_("Counting {month}…").format(month=self.months.currentText()))
            self.numbers.show_rows(())
            self.due.show_rows(())
            self.due.setEnabled(False)
        self._context.jobs.run(
            month_figures,
            hotel.path,
            hotel.house.rules,
            self.months.currentData(),
            hotel.now(),
            label=_("Counting the month"),
            unasked=True,
            on_done=self._show,
        )

    def _show(self, figures: MonthFigures) -> None:
        if figures.account.month != self.months.currentData():
            return
        self.figures = figures
        self.due.setEnabled(True)
        self.numbers.show_rows(lines_of(figures))
        self.due.show_rows(figures.rows.due)
        self.told.setText(" ".join([*opening_lines(figures), self._closing(figures)]))
        account = figures.account
        self.close_it.setEnabled(account.is_complete and account.closed_at is None)
        self.close_it.setToolTip("" if account.is_complete else _("The month is not over yet."))

    def _closing(self, figures: MonthFigures) -> str:
        account = figures.account
        if account.closed_at is None:
            return ""
        return _("Closed {moment} by {name}; later entries stand in a later book.").format(
            moment=moment_text(account.closed_at, self._context.hotel.zone),
            name=account.closed_by,
        )

    def _open_room(self, row: DueRow) -> None:
        self._context.go_to("building", row.room)

    # --- the book -----------------------------------------------------------

    def _ask_where(self) -> None:
        path = self._context.hotel.path
        suggested = path.with_name(f"{path.stem}-{self.period()}.xlsx")
        self._context.files.save(
            _("Write the month's workbook"), "Excel (*.xlsx)", suggested, self._write_to
        )

    def _offer_odds(self, which: int) -> None:
        """Offer them for a month alone: they are of one day."""
        self.with_odds.setEnabled(which == 0)
        page = _("A page on how likely something was missed, room by room")
        only = _("Only a month's workbook has a page on how likely something was missed.")
        self.with_odds.setToolTip(only if which else page)

    def period(self) -> str:
        """What the workbook is to be of: the chosen month, its quarter or its year."""
        month: str = self.months.currentData()
        return (month, *spans_of(month))[self.of.currentData()]

    def _write_to(self, target: Path) -> None:
        hotel = self._context.hotel

        def written(_claims: Claims) -> None:
            text = _("The workbook is written: {file}").format(file=target.name)
            self._context.notices.done(text, _("Open"), lambda: show_file(self._context, target))

        with_odds = self.with_odds.isEnabled() and self.with_odds.isChecked()
        self._context.jobs.run(
            partial(write_book, with_odds=with_odds),
            hotel.path,
            hotel.house.shipped,
            self.period(),
            target,
            hotel.now(),
            self.languages.currentData(),
            label=_("Writing the workbook"),
            on_done=written,
        )

    def _ask_to_close(self) -> None:
        month = self.months.currentData()
        text = _(
            "Close {month}? Its book is then final: what is written down later stands in a "
            "later book."
        ).format(month=month_text(month))
        self._context.notices.ask(text, _("Close the month"), self._close)

    def _close(self) -> None:
        try:
            close_month(self._context.hotel, self.months.currentData(), self.figures)
        except Refusal as refused:
            notices = self._context.notices
            if refused.code == "let_not_explained":
                room = RoomNo(refused.values["room"])
                notices.refuse(refused, _("Explain it"), partial(self._to_front_desk, room))
            else:
                notices.refuse(refused)

    def _to_front_desk(self, room: RoomNo) -> None:
        self._context.go_to("desk", room)


def _titled(title: str, table: QWidget) -> QWidget:
    box = QWidget()
    lines = QVBoxLayout(box)
    lines.setContentsMargins(0, 0, 0, 0)
    heading = QLabel(title)
    heading.setProperty("role", "heading")
    lines.addWidget(heading)
    lines.addWidget(table, 1)
    return box


def _numbers_table() -> RowTable[Line]:
    return RowTable(
        [
            Column(_("What"), lambda row: row.name, wraps=True),
            Column(
                _("Number"), lambda row: f"{row.value:g}", sort=lambda row: row.value, right=True
            ),
        ],
        key=lambda row: row.key,
        name=_("The month in numbers"),
        empty=Empty(_("Counting…")),
        filtered=False,
    )


def _due_table() -> RowTable[DueRow]:
    return RowTable(
        [
            Column(_("Bed"), lambda row: row.bed),
            Column(_("Due"), lambda row: short_day_text(row.due_on), sort=lambda row: row.due_on),
            Column(
                _("What became of it"),
                lambda row: due_state(row.state),
                tint=lambda row: STATE_TONES.get(row.state),
            ),
            Column(
                _("Looked at"),
                lambda row: short_day_text(row.looked_on) if row.looked_on else "",
                sort=lambda row: row.looked_on,
            ),
            Column(
                _("Days late"),
                lambda row: str(row.late_days) if row.late_days else "",
                sort=lambda row: row.late_days,
                right=True,
            ),
            Column(_("Why"), why_sentence, hint=why_sentence),
        ],
        key=lambda row: (row.bed, row.due_on),
        name=_("Undersides that were due"),
        empty=Empty(_("No underside to show for this month.")),
    )
