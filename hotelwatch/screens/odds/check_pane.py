"""Do the odds come true? Simulated rooms by what was told of them, drawn and as a table."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.odds import OddsView, odds_checked
from hotelwatch.core.odds.simulation.measures import CalibrationRow
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.charts.curves import Axes, Curve, CurveChart, Point
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import one_in
from hotelwatch.wording.simulation import calibration_cells, calibration_lines, check_headings

Row = tuple[Stance, CalibrationRow]
Checked = Mapping[Stance, tuple[CalibrationRow, ...]]


class CheckPane(QWidget):
    """A button that simulates rooms, and what became of what was told of them."""

    def __init__(self, context: Context) -> None:
        """Nothing checked yet."""
        super().__init__()
        self._context = context
        self._rules: OddsRules | None = None
        self.checked: Checked = {}
        self.told = QLabel(wordWrap=True)
        self.begin = QPushButton(_("&Simulate rooms"))
        self.begin.setProperty("role", MAIN)
        self.begin.clicked.connect(self._check)
        self.chart = CurveChart(_("What came for what was told; the table has the same"))
        self.table = _table()
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self.told)
        lines.addWidget(self.begin)
        lines.addWidget(self.chart, 1)
        lines.addWidget(self.table, 1)
        lines.addStretch()
        self._say()

    def show_view(self, view: OddsView) -> None:
        """Check by the figures of these odds; what was checked by others goes."""
        if self._rules != view.reckoning.rules:
            self.checked = {}
        self._rules = view.reckoning.rules
        self._say()

    def _check(self) -> None:
        if self._rules is not None:
            self._context.jobs.run(
                odds_checked, self._rules, label=_("Simulating rooms"), on_done=self._take
            )

    def _take(self, checked: Checked) -> None:
        self.checked = checked
        self._say()

    def _say(self) -> None:
        central = self.checked.get(Stance.CENTRAL, ())
        self.begin.setVisible(not central)
        self.chart.setVisible(bool(central))
        self.table.setVisible(bool(central))
        self.table.show_rows((stance, row) for stance, rows in self.checked.items() for row in rows)
        if not central:
            self.told.setText(
                _(
                    "Rooms are simulated with the same figures, guests and looks. Their odds are"
                    " told without knowing what is in them, then held against it."
                )
            )
            return
        self.told.setText(" ".join(calibration_lines(central)))
        points = tuple(
            Point(float(place), row.low / row.told, row.seen / row.told, row.high / row.told)
            for place, row in enumerate(central)
        )
        axes = Axes(
            up=_("Came true for each time told (central); 1: as told"),
            x_text=lambda x: one_in(central[int(x)].told),
            y_text=lambda y: f"{y:.2f}",
        )
        self.chart.show_curves([Curve(label(Stance.CENTRAL), points)], axes, at=len(points) - 1)


def _table() -> RowTable[Row]:
    rooms, told, seen, span = check_headings()
    return RowTable(
        [
            Column[Row](_("Settings"), lambda row: label(row[0])),
            Column[Row](
                rooms,
                lambda row: calibration_cells(row[1])[0],
                sort=lambda row: row[1].rooms,
                right=True,
            ),
            Column[Row](
                told, lambda row: calibration_cells(row[1])[1], sort=lambda row: row[1].told
            ),
            Column[Row](
                seen, lambda row: calibration_cells(row[1])[2], sort=lambda row: row[1].seen
            ),
            Column[Row](span, lambda row: calibration_cells(row[1])[3], wraps=True),
        ],
        key=lambda row: (row[0], row[1].told),
        name=_("Simulated rooms by what was told of them"),
        empty=Empty(_("Nothing was checked yet.")),
        filtered=False,
    )
