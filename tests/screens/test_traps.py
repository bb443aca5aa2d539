from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import Qt

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead
from hotelwatch.screens.month.traps import TrapsPane
from tests.build import day, house


@pytest.fixture
def pane(make_hotel, make_context, qtbot):
    build = house()
    for room in ("101", "102"):
        build.room(room).bed("A")
    build.on(20).record(
        MonitorPlaced("T-1", RoomNo("101"), "bed leg", day(20), "anna"),
        MonitorPlaced("T-2", RoomNo("102"), "headboard", day(20), "anna"),
    )
    build.on(35).record(
        MonitorRead("T-1", RoomNo("101"), day(30), "boris", 0),
        MonitorRead("T-1", RoomNo("101"), day(35), "boris", 2, is_replaced=True),
        MonitorPlaced("T-2", RoomNo("102"), "headboard", day(33), "anna", is_there=False),
    )
    made = TrapsPane(make_context(make_hotel(build), ("building",)))
    qtbot.addWidget(made)
    made.resize(1000, 400)
    made.refresh()
    made.show()
    return made


def test_the_register_says_where_since_when_read_by_whom_and_what_was_in_it(pane):
    assert pane.table.as_text(pane.table.shown_rows()).split("\n")[1:] == [
        "T-1\t101\tbed leg\tSun 25 Jan, anna\tMon 9 Feb, boris; replaced\t2 insects"
        "\tnot looked into for 5 days",
        "T-2\t102\theadboard\tSun 25 Jan, anna\tnever\t\ttaken away Sat 7 Feb",
    ]


def test_a_row_leads_to_its_room_and_all_that_stand_to_the_house(pane, went, qtbot):
    pane.table.select(("T-2", "102", day(20)))
    qtbot.keyClick(pane.table.view, Qt.Key.Key_Return)
    qtbot.mouseClick(pane.show_all, Qt.MouseButton.LeftButton)
    assert went(pane._context) == [("building", "102"), ("Rooms with traps", {"101"})]


def test_whatever_takes_the_focus_has_a_name(pane, nameless):
    assert nameless(pane) == []
