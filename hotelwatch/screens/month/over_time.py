"""How things went: due and done, ages of looks, cases, signs, certainty, each as a chart."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.whole.ages import TENTHS
from hotelwatch.core.whole.case_weeks import SignCount
from hotelwatch.core.whole.over_time import OverTime, Reach, over_time
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.charts.bars import BarChart, Bars, Series, Shape
from hotelwatch.screens.charts.pane import ChartPane
from hotelwatch.screens.charts.ranges import RangeChart, Ranged
from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.screens.month.over_tables import (
    FloorRow,
    ages_table,
    cases_table,
    floors_table,
    signs_table,
    weeks_table,
)
from hotelwatch.wording.dates import day_and_month_text
from hotelwatch.wording.day_picture import missed_chance
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import percent_text
from hotelwatch.wording.over_time import (
    age_said,
    age_short,
    age_text,
    ages_told,
    case_week_said,
    cases_told,
    floor_said,
    floor_text,
    floors_told,
    sign_said,
    week_said,
    week_text,
    weeks_told,
)

REACH = Reach(weeks_back=12, weeks_ahead=4, case_weeks_back=25, tenths=15)
HOUR_MINUTES = 60
WIDE_FROM_LETTERS = 105
PLACES = ((0, 0, 4), (0, 4, 2), (1, 0, 2), (1, 2, 2), (1, 4, 2))
"""Row, column and columns taken of each chart, where there is room."""
COLUMNS = 6


class OverTimePane(QWidget):
    """Five charts; what is behind a bar shows in the house with one press."""

    def __init__(self, context: Context) -> None:
        """Nothing counted yet; it counts when it shows."""
        super().__init__()
        self._context = context
        self.told: OverTime | None = None
        self._floors: tuple[FloorRow, ...] = ()
        self._is_stale, self._is_counting = True, False
        self.weeks = BarChart(_("Due and done by week; the table has the same"))
        self.ages = BarChart(_("Age of last looks; the table has the same"))
        self.cases = BarChart(_("Cases by week; the table has the same"))
        self.signs = RangeChart(_("Kinds of signs; the table has the same"))
        self.floors = RangeChart(_("Certainty by floor; the table has the same"))
        made = (
            (_("Due and done by week"), self.weeks, weeks_table()),
            (_("Age of last looks"), self.ages, ages_table()),
            (_("Cases by week"), self.cases, cases_table()),
            (_("Kinds of signs"), self.signs, signs_table()),
            (_("Chance missed, by floor"), self.floors, floors_table()),
        )
        self.panes = tuple(ChartPane(context, name, chart, table=t) for name, chart, t in made)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        inner = QWidget()
        inner.setProperty("role", "plain")
        self._grid = QGridLayout(inner)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(10)
        scroll = HeldScroll()
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(inner)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(scroll)
        self._arrange()

    def _connect(self) -> None:
        behind: tuple[tuple[BarChart | RangeChart, Callable[[int], None]], ...] = (
            (self.weeks, self._open_week),
            (self.ages, self._open_age),
            (self.cases, self._open_case_week),
            (self.signs, self._open_sign),
            (self.floors, self._open_floor),
        )
        for (chart, opens), pane in zip(behind, self.panes, strict=True):
            chart.pressed.connect(opens)
            pane.table.activated.connect(
                lambda row, pane=pane, opens=opens: opens(pane.table.model.rows.index(row))
            )
        self._context.odds.changed.connect(self._show_floors)

    def _arrange(self) -> None:
        is_wide = self.width() >= WIDE_FROM_LETTERS * self.fontMetrics().averageCharWidth()
        for number, pane in enumerate(self.panes):
            row, column, wide = PLACES[number] if is_wide else (number, 0, COLUMNS)
            self._grid.addWidget(pane, row, column, 1, wide)
        for column in range(COLUMNS):
            self._grid.setColumnStretch(column, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand side by side where there is room."""
        super().resizeEvent(event)
        self._arrange()

    # --- counting -------------------------------------------------------------------

    def refresh(self) -> None:
        """Count anew; while it does not show, once it does."""
        self._is_stale = True
        if self.isVisible():
            self._count()

    def showEvent(self, event: QShowEvent) -> None:
        """Count what changed meanwhile."""
        super().showEvent(event)
        if self._is_stale:
            self._count()

    def _count(self) -> None:
        if self._is_counting:
            return
        self._is_counting, self._is_stale = True, False
        hotel = self._context.hotel
        if self.told is None:
            for pane in self.panes:
                pane.show_empty(_("Counting…"))
        self._context.jobs.run(
            over_time,
            hotel.house,
            hotel.today(),
            REACH,
            label=_("Counting the weeks"),
            unasked=True,
            on_done=self._show,
            on_stopped=self._stop,
        )
        self._context.odds.ask()

    def _stop(self) -> None:
        self._is_counting = False
        if self.told is None:
            for pane in self.panes:
                pane.show_empty(_("It was stopped. Come back to count anew."))
            self._is_stale = True

    # --- showing ----------------------------------------------------------------------

    def _show(self, told: OverTime) -> None:
        self.told, self._is_counting = told, False
        self._show_weeks(told)
        self._show_ages(told)
        self._show_cases(told)
        self._show_floors()
        if self._is_stale and self.isVisible():
            self._count()

    def _show_weeks(self, told: OverTime) -> None:
        pane, weeks = self.panes[0], told.weeks
        has_any = any(week.due.beds or week.done.beds for week in weeks)
        pane.show_empty("" if has_any else _("No bed yet. Load a roster first."))
        hours = {
            name: tuple(minutes / HOUR_MINUTES for minutes in values)
            for name, values in (
                ("done", [week.done.minutes for week in weeks]),
                ("planned", [week.planned.minutes for week in weeks]),
                ("due", [week.due.minutes for week in weeks]),
                ("capacity", [week.capacity_minutes for week in weeks]),
            )
        }
        ahead = next((n for n, week in enumerate(weeks) if week.is_ahead), len(weeks))
        bars = Bars(
            up=_("Hours of teams"),
            names=tuple(day_and_month_text(week.from_on) for week in weeks),
            series=(
                Series(_("looked at"), hours["done"]),
                Series(_("on sheets"), hours["planned"]),
                Series(_("due"), hours["due"], Shape.OUTLINE),
                Series(_("teams have"), hours["capacity"], Shape.LINE),
            ),
            said=tuple(map(week_said, weeks)),
            is_counted=False,
            line_before=ahead - 1,
            line_name=_("this week"),
        )
        self.weeks.show_bars(bars, at=self.weeks.at if self.weeks.at is not None else ahead - 1)
        pane.told.setText(weeks_told(weeks))
        pane.table.show_rows(weeks)

    def _show_ages(self, told: OverTime) -> None:
        pane, ages = self.panes[1], told.ages
        pane.show_empty("" if any(age.beds for age in ages) else _("No bed yet."))
        bars = Bars(
            up=_("Undersides, by share of cycle used up"),
            names=tuple(map(age_short, ages)),
            series=(
                Series(_("in time"), tuple(0.0 if a.is_overdue else float(a.beds) for a in ages)),
                Series(_("overdue"), tuple(float(a.beds) if a.is_overdue else 0.0 for a in ages)),
            ),
            said=tuple(map(age_said, ages)),
            line_before=TENTHS,
            line_name=_("cycle"),
        )
        self.ages.show_bars(bars, at=self.ages.at)
        pane.told.setText(ages_told(ages))
        pane.table.show_rows(ages)

    def _show_cases(self, told: OverTime) -> None:
        pane, weeks = self.panes[2], told.cases
        has_any = any(week.opened or week.open_at_end for week in weeks)
        pane.show_empty("" if has_any else _("No case in these weeks."))
        bars = Bars(
            up=_("Cases"),
            names=tuple(day_and_month_text(week.from_on) for week in weeks),
            series=(
                Series(_("opened"), tuple(float(len(week.opened)) for week in weeks)),
                Series(_("closed"), tuple(float(len(week.closed)) for week in weeks)),
                Series(
                    _("open at its end"),
                    tuple(float(len(week.open_at_end)) for week in weeks),
                    Shape.LINE,
                ),
            ),
            said=tuple(map(case_week_said, weeks)),
            is_stacked=False,
        )
        self.cases.show_bars(bars, at=self.cases.at)
        pane.told.setText(cases_told(weeks))
        pane.table.show_rows(weeks)
        seen = tuple(row for row in told.signs if row.sightings)
        self.panes[3].show_empty("" if seen else _("No sign in these weeks."))
        rows = [_counted(row) for row in seen]
        self.signs.show_rows(
            rows, _("Times seen in these weeks"), level_text=lambda n: f"{n:.0f}", is_counted=True
        )
        self.panes[3].table.show_rows(seen)

    def _show_floors(self) -> None:
        pane, view = self.panes[4], self._context.odds.view
        if view is None:
            pane.show_empty(_("The odds are being worked out; it takes some seconds."))
            return
        self._floors = tuple(
            (row.name, row.rooms, missed_chance(row.none)) for row in reversed(view.floors)
        )
        pane.show_empty("" if self._floors else _("No room yet."))
        rows = [
            Ranged(
                floor_text(name),
                min(chance.values()),
                chance[Stance.CENTRAL],
                max(chance.values()),
                floor_said(name, rooms, chance),
            )
            for name, rooms, chance in self._floors
        ]
        self.floors.show_rows(
            rows, _("Chance, assumed; the thin line is its range"), level_text=_level
        )
        pane.told.setText(floors_told([(name, chance) for name, _rooms, chance in self._floors]))
        pane.table.show_rows(self._floors)

    # --- what is behind a bar -----------------------------------------------------------

    def _open(self, name: str, rooms: frozenset[RoomNo]) -> None:
        if rooms:
            self._context.go_to_rooms(name, rooms)

    def _open_week(self, place: int) -> None:
        if self.told is not None:
            week = self.told.weeks[place]
            rooms = week.due.rooms | week.done.rooms | week.planned.rooms
            name = _("{week}: due, looked at, on sheets").format(week=week_text(week))
            self._open(name, rooms)

    def _open_age(self, place: int) -> None:
        if self.told is not None:
            age = self.told.ages[place]
            name = _("Last looked at so long ago: {share} of the cycle")
            self._open(name.format(share=age_text(age)), age.rooms)

    def _open_case_week(self, place: int) -> None:
        if self.told is not None:
            week = self.told.cases[place]
            self._open(_("{week}: cases").format(week=week_text(week)), week.rooms)

    def _open_sign(self, place: int) -> None:
        row = self.panes[3].table.model.rows[place]
        self._open(label(row.sign), row.rooms)

    def _open_floor(self, place: int) -> None:
        house, name = self._context.hotel.house, self._floors[place][0]
        self._open(floor_text(name), frozenset(house.rooms_by_floor.get(name, ())))


def _counted(row: SignCount) -> Ranged:
    seen = float(row.sightings)
    return Ranged(label(row.sign), seen, seen, seen, sign_said(row))


def _level(chance: float) -> str:
    return "0" if not chance else percent_text(chance)
