"""Loading a table: choose the file, put columns right, see problems and changes, then load.

One page for rosters and bookings; an ``ImportKind`` says what differs. Nothing is written
down before "Load" is pressed, and whether good rows are kept or the file is refused whole
is the person's choice.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QRadioButton,
    QSpinBox,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.intake.tables import TablePlace
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.layout.turning import Turning
from hotelwatch.screens.loading.import_kind import (
    ChangeRow,
    ImportKind,
    Preview,
    PreviewRow,
    Reading,
    cell_of,
    change_table,
    fields_of,
    name_of_field,
    problem_rows,
    problem_table,
)
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _, ngettext

PASTED = "pasted.tsv"
"""The name under which pasted rows are read."""
TABLE_FILES = "*.xlsx *.ods *.csv *.txt *.tsv"
LAST_HEADING_ROW = 99
MAPPING_LINES = 12
FIRST_ROWS_PX = 210
FINDINGS_PX = 380


class ImportWizard(QWidget):
    """The page that loads one kind of table."""

    def __init__(self, context: Context, kind: ImportKind) -> None:
        """Nothing chosen yet."""
        super().__init__()
        self._context, self._kind = context, kind
        self.path: Path | None = None
        self.preview: Preview | None = None
        self._at = TablePlace()
        self._is_new = False
        self.choose = QPushButton(_("Choose the file…"))
        self.choose.clicked.connect(self._choose_file)
        self.file_name = QLabel(kind.intro, wordWrap=True)
        self.combos: dict[str, QComboBox] = {}
        self.day_order = self._make_day_order()
        self.sheet, self.heading_row = self._make_place()
        self._mapping_scroll = UprightScroll(MAPPING_LINES)
        self.first_rows = QTabWidget(documentMode=True)
        self.problems = problem_table()
        self.changes = change_table()
        self.findings = QTabWidget(documentMode=True)
        self.findings.addTab(self.problems, _("Problems"))
        self.findings.addTab(self.changes, _("Changes"))
        self.first_rows.tabBar().setAccessibleName(_("The file"))
        self.findings.tabBar().setAccessibleName(_("What was found in the file"))
        self.keep_good = QRadioButton(_("&Keep the good rows, leave the others"))
        self.refuse_whole = QRadioButton(
            _("&Refuse the file whole, so that it can be mended first")
        )
        self.refuse_whole.setChecked(True)
        for button in (self.keep_good, self.refuse_whole):
            button.toggled.connect(self._allow)
        self.count = QLabel()
        self.caution = QLabel(wordWrap=True)
        self.caution.setProperty("role", "problem")
        self.said_so = QCheckBox()
        self.said_so.toggled.connect(self._allow)
        self.load = QPushButton(_("Load"))
        self.load.setProperty("role", MAIN)
        self.load.clicked.connect(self._load)
        self.leave = QPushButton(_("Leave without loading"))
        self.leave.clicked.connect(self._leave)
        self._lay_out()
        self.setFocusProxy(self.choose)
        self._show_nothing()

    # --- what the window asks -----------------------------------------------

    def refresh(self) -> None:
        """Read the file again, against the house as it is now."""
        if self.path is not None:
            self._read(self._mapping())

    # --- making -------------------------------------------------------------

    def _lay_out(self) -> None:
        title = QLabel(self._kind.title)
        title.setProperty("role", "title")
        top = QHBoxLayout()
        top.addWidget(self.choose)
        top.addWidget(self.file_name, 1)
        right = QSplitter(Qt.Orientation.Vertical)
        right.setChildrenCollapsible(False)
        right.addWidget(self.first_rows)
        right.addWidget(self.findings)
        right.setStretchFactor(1, 1)
        right.setSizes([FIRST_ROWS_PX, FINDINGS_PX])
        self._body = Turning()
        self._body.addWidget(self._mapping_scroll)
        self._body.addWidget(right)
        self._body.setStretchFactor(1, 1)
        how = QHBoxLayout()
        how.addWidget(self.refuse_whole)
        how.addWidget(self.keep_good)
        how.addStretch()
        end = QHBoxLayout()
        end.addWidget(self.leave)
        end.addStretch()
        end.addWidget(self.count)
        end.addWidget(self.load)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(title)
        lines.addLayout(top)
        lines.addWidget(self._body, 1)
        self._air = QWidget()
        lines.addWidget(self._air, 1)
        self._how = QWidget()
        self._how.setLayout(how)
        how.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.caution)
        lines.addWidget(self.said_so)
        lines.addWidget(self._how)
        lines.addLayout(end)

    def _make_place(self) -> tuple[QComboBox, QSpinBox]:
        sheet, row = QComboBox(), QSpinBox()
        row.setRange(0, LAST_HEADING_ROW)
        row.setSpecialValueText(_("not found"))
        row.setKeyboardTracking(False)
        sheet.activated.connect(self._read_elsewhere)
        row.valueChanged.connect(self._read_elsewhere)
        return sheet, row

    def _show_place(self, reading: Reading) -> None:
        self.heading_row.blockSignals(True)
        self.heading_row.setValue(reading.heading_row)
        self.heading_row.blockSignals(False)
        self.sheet.clear()
        self.sheet.addItems(reading.sheets or (_("(only one)"),))
        self.sheet.setEnabled(len(reading.sheets) > 1)
        for place, name in enumerate(reading.sheets):
            if reading.where.endswith(f": {name}"):
                self.sheet.setCurrentIndex(place)

    def _make_day_order(self) -> QComboBox:
        order = QComboBox()
        for text, value in (
            (_("as the file shows"), None),
            (_("day, then month"), True),
            (_("month, then day"), False),
        ):
            order.addItem(text, value)
        order.activated.connect(self._read_again)
        return order

    def _make_mapping(self, reading: Reading) -> None:
        form = Form()
        self._show_place(reading)
        form.add(_("Sheet"), self.sheet)
        form.add(_("Row of the headings"), self.heading_row)
        self.combos = {}
        for field in fields_of(self._kind, reading):
            combo = QComboBox()
            combo.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            combo.setMinimumContentsLength(8)
            combo.addItem(_("(not in the file)"), "")
            for heading in reading.headings:
                combo.addItem(heading, heading)
            combo.setCurrentIndex(max(combo.findData(reading.mapping.get(field, "")), 0))
            combo.activated.connect(self._read_again)
            star = " *" if field in self._kind.needed else ""
            self.combos[field] = form.add(f"{name_of_field(field)}{star}", combo)
        if self._kind.has_days:
            form.add(_("03/04/2026 means"), self.day_order)
        holder = QWidget()
        holder.setProperty("role", "plain")
        lines = QVBoxLayout(holder)
        lines.setContentsMargins(0, 0, 8, 0)
        title = QLabel(_("Which column holds what (* needed)"), wordWrap=True)
        title.setProperty("role", "heading")
        lines.addWidget(title)
        lines.addWidget(form)
        lines.addStretch()
        # Sheet, row and order of days were moved from the old form to the new one above.
        old = self._mapping_scroll.takeWidget()
        self._mapping_scroll.setWidget(holder)
        self._mapping_scroll.updateGeometry()
        if old is not None:
            old.deleteLater()

    # --- reading ------------------------------------------------------------

    def _choose_file(self) -> None:
        kinds = _("Tables ({patterns})").format(patterns=TABLE_FILES)
        self._context.files.open(self._kind.title, kinds, self.take_file)

    def take_file(self, path: Path) -> None:
        """Read this file, its columns found by their headings."""
        self._context.notices.clear()
        self.path = path
        self.day_order.setCurrentIndex(0)
        self._at = TablePlace()
        self._is_new = True
        self._read(None)

    def _mapping(self) -> Mapping[str, str] | None:
        if not self.combos:
            return None
        found = {field: combo.currentData() for field, combo in self.combos.items()}
        return {field: heading for field, heading in found.items() if heading}

    def _read_elsewhere(self, _value: int = 0) -> None:
        """Another sheet or another row of headings: the columns are found anew."""
        sheet = self.sheet.currentText() if self.sheet.isEnabled() else ""
        row = self.heading_row.value() if self.sender() is self.heading_row else 0
        self._at = TablePlace(sheet, row)
        self._read(None)

    def _read_again(self, _index: int = 0) -> None:
        self._read(self._mapping())

    def _read(self, mapping: Mapping[str, str] | None) -> None:
        function = partial(self._kind.preview, at=self._at)
        if self._kind.has_days:
            today = self._context.hotel.today()
            function = partial(function, day_first=self.day_order.currentData(), today=today)
        self.load.setEnabled(False)
        self._context.jobs.run(
            function,
            self._context.hotel.house,
            self.path,
            mapping,
            label=_("Reading {file}").format(file=self.path.name if self.path else ""),
            on_done=self._show,
            on_failed=self._fail,
        )

    def _fail(self, error: Exception) -> None:
        self._show_nothing()
        self._context.notices.fail(error)

    # --- showing ------------------------------------------------------------

    def _show_nothing(self) -> None:
        self.preview = None
        self.path = None
        self.combos = {}
        self.file_name.setText(self._kind.intro)
        self._body.hide()
        self._air.show()
        self._how.hide()
        self.caution.hide()
        self.said_so.hide()
        self.count.clear()
        self.load.setEnabled(False)

    def _show(self, preview: Preview) -> None:
        self.preview = preview
        reading = preview.reading
        is_pasted = self.path is not None and self.path.name == PASTED
        self.file_name.setText(_("Rows that were pasted") if is_pasted else str(self.path))
        self._make_mapping(reading)
        self._show_first_rows(reading)
        self.problems.show_rows(problem_rows(reading.problems))
        changes = self._kind.changes(preview)
        self.changes.show_rows(ChangeRow(n, text) for n, text in enumerate(changes))
        self.findings.setTabText(0, _("Problems ({n})").format(n=len(reading.problems)))
        self.findings.setTabText(1, _("Changes ({n})").format(n=len(changes)))
        self.findings.setCurrentIndex(0 if reading.problems else 1)
        caution = self._kind.caution(preview)
        self.caution.setText(caution)
        self.caution.setVisible(bool(caution))
        asks = self._kind.asks(preview)
        if self._is_new or asks != self.said_so.text():
            self.said_so.setChecked(False)
        self.said_so.setText(asks)
        self.said_so.setVisible(bool(asks))
        self._air.hide()
        self._body.show()
        self._order_keys()
        self._allow()
        if self._is_new and self.load.isEnabled():
            self.load.setFocus()
        self._is_new = False

    def _order_keys(self) -> None:
        """Let Tab go through the columns and the first rows, made anew, where they stand."""
        before: QWidget = self.choose
        days = (self.day_order,) if self._kind.has_days else ()
        fields = (self.sheet, self.heading_row, *self.combos.values(), *days)
        for field in (*fields, self.first_rows.tabBar(), self.first_rows.currentWidget()):
            if field is not None:
                QWidget.setTabOrder(before, field)
                before = field

    def _show_first_rows(self, reading: Reading) -> None:
        table: RowTable[PreviewRow] = RowTable(
            [
                Column[PreviewRow](heading, partial(cell_of, place))
                for place, heading in enumerate(reading.headings)
            ],
            key=lambda row: row.place,
            name=_("First rows of the file"),
            empty=Empty(_("The file has no rows.")),
            filtered=False,
        )
        table.show_rows(PreviewRow(n, cells) for n, cells in enumerate(reading.preview))
        old = self.first_rows.widget(0)
        self.first_rows.clear()
        self.first_rows.addTab(table, _("First rows of the file"))
        if old is not None:
            old.deleteLater()

    def _allow(self) -> None:
        if self.preview is None:
            return
        reading = self.preview.reading
        blocking = [problem for problem in reading.problems if problem.blocking]
        whole_file = any(not problem.row for problem in blocking)
        good = 0 if whole_file else reading.rows_read - reading.rows_bad
        said = ngettext(
            "{good} of {all} row can be taken",
            "{good} of {all} rows can be taken",
            reading.rows_read,
        )
        can_be_taken = said.format(good=good, all=reading.rows_read)
        unchanged = self._kind.unchanged(self.preview)
        self.count.setText("  ·  ".join(filter(None, (can_be_taken, unchanged))))
        self._how.setVisible(bool(blocking) and good > 0)
        is_said = self.said_so.isChecked() or not self._kind.asks(self.preview)
        self.load.setEnabled(good > 0 and is_said and (not blocking or self.keep_good.isChecked()))
        if blocking and good > 0 and self.keep_good.isChecked():
            said = ngettext("Load {n} row", "Load {n} rows", good).format(n=good)
        else:
            said = _("Load")
        self.load.setText(said)

    # --- writing down -------------------------------------------------------

    def _load(self) -> None:
        if self.preview is None:
            return
        hotel: OpenHotel = self._context.hotel
        with self._context.notices.refusals():
            loaded = self.preview
            self._kind.load(hotel, loaded, keep_good=self.keep_good.isChecked())
            self._show_nothing()
            self._context.go_to(self._kind.then)
            self._context.notices.done(self._kind.told(hotel.house, loaded))
            if said := self._kind.warns(hotel):
                self._context.notices.warn(said)

    def _leave(self) -> None:
        self._show_nothing()
        self._context.go_to(self._kind.then)
