from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import Qt

from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.screens.month.page import MonthPage
from tests.build import day, house, moment


@pytest.fixture
def page(make_hotel, make_context, qtbot):
    build = house().floors("1", "2")
    build.room("101", floor="1").bed("A").checked("A", day(-80))
    build.room("201", floor="2").bed("A").checked("A", day(36)).bed("B").checked("B", day(20))
    build.on(36).record(
        Sighted(CaseNo("2026-001"), RoomNo("201"), "", "seats", Sign.CAST_SKIN, 0, "a", moment(36))
    )
    context = make_context(make_hotel(build), pages=("building",))
    made = MonthPage(context)
    qtbot.addWidget(made)
    made.resize(1080, 660)
    made.show()
    made.refresh()
    made.tabs.setCurrentWidget(made.over_time)
    with qtbot.waitSignal(context.odds.changed, timeout=60_000):
        made.over_time.refresh()
    qtbot.waitUntil(lambda: made.over_time.told is not None, timeout=20_000)
    return made


def press(qtbot, chart, *keys):
    for key in (*keys, Qt.Key.Key_Return):
        qtbot.keyClick(chart, key)


def test_all_five_are_said_in_a_sentence(page):
    weeks, ages, cases, _signs, floors = page.over_time.panes
    assert weeks.told.text().startswith("In the last 12 weeks, by today's cycles: undersides due")
    assert ages.told.text() == "2 of 3 undersides were looked at within their cycle."
    assert cases.told.text() == "In the last 26 weeks: 1 opened, 0 closed; 1 open now."
    assert "The range spans the assumptions." in floors.told.text()
    assert all(pane.chart.isVisible() for pane in page.over_time.panes)


def test_each_bar_leads_to_the_rooms_behind_it(page, went, qtbot):
    over = page.over_time
    press(qtbot, over.ages, Qt.Key.Key_Home)
    press(qtbot, over.cases, Qt.Key.Key_End)
    press(qtbot, over.signs, Qt.Key.Key_Home)
    press(qtbot, over.floors, Qt.Key.Key_Home)
    press(qtbot, over.weeks, Qt.Key.Key_Home)
    places = went(page._context)
    assert [rooms for _name, rooms in places] == [{"201"}] * 4
    assert [name for name, _rooms in places] == [
        "Last looked at so long ago: 0 to 10 % of the cycle",
        "Week of Mon 9 Feb: cases",
        "Cast skins",
        "Floor 2",
    ]


def test_a_bar_without_rooms_leads_nowhere(page, went, qtbot):
    press(qtbot, page.over_time.ages, Qt.Key.Key_Home, Qt.Key.Key_Right)
    assert went(page._context) == []


def test_tables_have_the_same_and_lead_on_too(page, went, qtbot):
    pane = page.over_time.panes[0]
    qtbot.mouseClick(pane.as_table, Qt.MouseButton.LeftButton)
    rows = pane.table.shown_rows()
    assert len(rows) == 17
    this = next(row for row in rows if row.from_on == day(35))
    assert (this.done.beds, this.late.beds) == (1, 1)
    pane.table.select(day(35))
    qtbot.keyClick(pane.table.view, Qt.Key.Key_Return)
    assert went(page._context) == [("Week of Mon 9 Feb: due, looked at, on sheets", {"201"})]


def test_the_page_is_counted_anew_only_where_it_shows(page, qtbot):
    over = page.over_time
    before = over.told
    page.tabs.setCurrentIndex(0)
    over.refresh()
    assert over.told is before
    page.tabs.setCurrentWidget(over)
    qtbot.waitUntil(lambda: over.told is not before, timeout=20_000)


def test_an_empty_hotel_says_so(make_hotel, make_context, qtbot):
    context = make_context(make_hotel(house()))
    page = MonthPage(context)
    qtbot.addWidget(page)
    page.show()
    page.tabs.setCurrentWidget(page.over_time)
    page.refresh()
    qtbot.waitUntil(lambda: page.over_time.told is not None, timeout=20_000)
    said = [pane._why.text() for pane in page.over_time.panes[:4]]
    assert said == [
        "No bed yet. Load a roster first.",
        "No bed yet.",
        "No case in these weeks.",
        "No sign in these weeks.",
    ]


def test_whatever_takes_the_focus_has_a_name(page, nameless):
    assert nameless(page) == []
