"""Types of room put in order by hand, under House rules."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.desk import rank_types
from hotelwatch.core.choice_facts import RoomTypesRanked
from hotelwatch.screens.rules.types_pane import TypesPane
from tests.build import house


@pytest.fixture
def hotel(make_hotel):
    build = house()
    for number, kind in enumerate(("suite", "double", "single", "double")):
        build.room(f"10{number}", room_type=kind).bed("A")
    return make_hotel(build)


@pytest.fixture
def pane(qtbot, hotel, make_context):
    made = TypesPane(make_context(hotel))
    qtbot.addWidget(made)
    made.refresh()
    return made


def order(pane):
    return [(row.room_type, row.place) for row in pane.table.shown_rows()]


def press(qtbot, pane, kind, *buttons):
    pane.table.select(kind)
    for button in buttons:
        button.setFocus()
        qtbot.keyClick(button, Qt.Key.Key_Space)


def test_types_are_put_in_order_by_keys_and_saved(qtbot, hotel, pane):
    pane.show()
    assert order(pane) == [("double", 0), ("single", 0), ("suite", 0)]
    assert not pane.save.isEnabled()
    press(qtbot, pane, "double", pane.better)
    press(qtbot, pane, "suite", pane.better)
    press(qtbot, pane, "single", pane.plainer)
    assert order(pane) == [("single", 1), ("double", 2), ("suite", 3)]
    press(qtbot, pane, "single", pane.better)
    assert order(pane) == [("double", 1), ("single", 2), ("suite", 3)]
    press(qtbot, pane, "single", pane.plainer)
    assert not pane.plainer.isEnabled()
    assert pane.is_begun()
    qtbot.keyClick(pane.save, Qt.Key.Key_Space)
    assert hotel.house.all_of(RoomTypesRanked)[-1].types == ("single", "double", "suite")
    assert not pane.is_begun()
    pane.hide()


def test_a_type_is_taken_out_of_the_order_again(qtbot, hotel, pane):
    rank_types(hotel, ("single", "double"))
    pane.refresh()
    assert order(pane) == [("single", 1), ("double", 2), ("suite", 0)]
    pane.show()
    press(qtbot, pane, "single", pane.out)
    press(qtbot, pane, "double", pane.out, pane.save)
    assert hotel.house.all_of(RoomTypesRanked)[-1].types == ()
    pane.hide()


def test_what_is_begun_outlasts_a_refresh_and_every_widget_has_a_name(pane, nameless):
    pane.table.select("suite")
    pane.better.click()
    pane.refresh()
    assert order(pane)[0] == ("suite", 1)
    assert nameless(pane) == []
