"""Carts in the window: which rooms each serves."""

from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import Qt

from hotelwatch.core.cases.links import carts
from hotelwatch.screens.rules.carts_pane import CartsPane, rooms_named


@pytest.fixture
def hotel(make_hotel, two_floors):
    return make_hotel(two_floors)


@pytest.fixture
def pane(hotel, make_context, qtbot):
    made = CartsPane(make_context(hotel))
    qtbot.addWidget(made)
    made.refresh()
    made.show()
    return made


def press(qtbot, button):
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def in_use(hotel):
    return {one.cart: one.rooms for one in carts(hotel.house, hotel.today())}


def test_a_cart_gets_the_rooms_typed_and_all_of_a_floor(pane, hotel, qtbot):
    pane.name.setText("Blue")
    pane.rooms.setText("101 102")
    pane.floor.choose("2")
    assert pane.rooms.text() == "101, 102, 201, 202"
    press(qtbot, pane.save)
    assert in_use(hotel) == {"Blue": ("101", "102", "201", "202")}
    assert [row.cart for row in pane.table.shown_rows()] == ["Blue"]


def test_what_is_wrong_is_said_at_its_field_and_nothing_is_written(pane, hotel, qtbot):
    pane.rooms.setText("101, 999")
    press(qtbot, pane.save)
    assert "Name the cart" in pane.form.problem_of(pane.name)
    assert "999" in pane.form.problem_of(pane.rooms)
    assert in_use(hotel) == {}


def test_a_cart_can_be_changed_and_put_out_of_use(pane, hotel, qtbot):
    pane.name.setText("Blue")
    pane.rooms.setText("101, 102")
    press(qtbot, pane.save)
    pane.table.select("Blue")
    assert pane.name.text() == "Blue"
    pane.rooms.setText("201")
    press(qtbot, pane.save)
    assert in_use(hotel) == {"Blue": ("201",)}
    pane.table.select("Blue")
    press(qtbot, pane.drop)
    assert in_use(hotel) == {}


def test_a_label_with_a_blank_in_it_is_one_room():
    known = {"Bar 2", "101", "102"}
    assert rooms_named("Bar 2, 101 102", known) == (("Bar 2", "101", "102"), ())
    assert rooms_named("101, 101,\n103", known) == (("101",), ("103",))


def test_everything_reached_by_keys_has_a_name(pane, nameless):
    assert nameless(pane) == []
