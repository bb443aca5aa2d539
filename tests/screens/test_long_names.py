"""One room with a long name: its chip keeps its mark, its row takes nothing from the others."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF

from hotelwatch.core.facts import RoomNo, StaysImported
from hotelwatch.screens.rounds.page import RoundsPage
from hotelwatch.screens.rounds.plan_layout import CHIP_AIR_PX
from hotelwatch.screens.tables.column_widths import LEAST_PX
from hotelwatch.screens.tables.row_table import CELL_AIR_PX
from tests.build import day, house

LONG = "Lakeview Apartment 651 W"
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@pytest.fixture
def plan(make_hotel, make_context, qtbot, look):
    build = house().team("Dawn team", 200, works_on=EVERY_DAY)
    for room in (LONG, "101", "102"):
        build.room(room).bed("A").checked("A", day(-160))
    build.record(StaysImported("b.csv", "0", day(0), 0, 0))
    context = make_context(make_hotel(build), ("building",))
    page = RoundsPage(context)
    look.dress(page)
    qtbot.addWidget(page)
    page.resize(1060, 640)
    page.show()
    page.refresh()
    page.plan.bar.make_draft.click()
    qtbot.waitUntil(lambda: page.plan.draft is not None and not context.jobs.is_busy)
    yield page.plan
    page.close()


def chips(plan):
    laid = [item for cell in plan.view.layout_now.cells.values() for item in cell.items]
    return {item.chip.room: item for item in laid if item.chip is not None}


def test_a_chip_keeps_its_mark_and_shortens_the_name(plan):
    item = chips(plan)[RoomNo(LONG)]
    assert item.text.endswith(" ! late")
    name = item.text.removesuffix(" ! late")
    assert "…" in name
    assert (name[:4], name[-2:]) == (LONG[:4], LONG[-2:])
    wide = QFontMetricsF(plan.view.font()).horizontalAdvance(item.text)
    assert wide <= item.rect.width() - 2 * CHIP_AIR_PX + 1
    assert chips(plan)[RoomNo("101")].text == "101 ! late"


def test_a_long_name_leaves_the_other_columns_of_the_list_in_view(plan, qtbot):
    table = plan.details.rooms
    table.setFixedWidth(600)
    view, model = table.view, table.order
    titles = [column.title for column in table.model.columns]
    room, why = titles.index("Room"), titles.index("Why")
    wide = view.fontMetrics().horizontalAdvance(LONG)
    qtbot.waitUntil(lambda: view.columnWidth(room) < wide)
    assert view.horizontalScrollBar().maximum() == 0
    (long,) = [row for row in range(model.rowCount()) if model.index(row, room).data() == LONG]
    assert model.index(long, room).data(Qt.ItemDataRole.ToolTipRole) == LONG
    assert view.columnWidth(why) >= LEAST_PX
    for title in ("Day", "Can go in", "Work", "State"):
        column = titles.index(title)
        needed = view.fontMetrics().horizontalAdvance(model.index(long, column).data())
        assert view.columnWidth(column) >= needed + CELL_AIR_PX, title
