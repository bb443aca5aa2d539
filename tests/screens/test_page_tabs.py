from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QTabBar

from hotelwatch.screens.frame.page_tabs import TABS
from hotelwatch.screens.pages import page_specs


@pytest.fixture
def window(make_window, make_hotel, two_floors):
    hotel = make_hotel(two_floors)
    hotel.close()
    made = make_window(page_specs())
    assert made.open_path(hotel.path)
    return made


def titles_on(page):
    """The titles of a page's tabs, without the counts behind some of them."""
    return {
        bar.tabText(place).replace("&", "").partition(" (")[0]
        for bar in page.findChildren(QTabBar)
        for place in range(bar.count())
    }


@pytest.mark.long
def test_every_tab_that_can_be_named_is_on_its_page(window, qtbot):
    for key, tabs in TABS.items():
        window.stack.go_to(key)
        missing = {tab.title for tab in tabs} - titles_on(window.stack.pages[key])
        assert not missing, (key, missing)


def test_a_tab_is_named_in_the_box_and_one_stands_on_it(window, qtbot):
    window.menus.ask_where()
    box = window.menus.dialog
    qtbot.keyClicks(box.line, "public holidays")
    assert (box.current().text, box.current().beside) == (
        "Public holidays",
        "Tab of House rules",
    )
    qtbot.keyClick(box.line, Qt.Key.Key_Return)
    rules = window.stack.pages["rules"]
    assert window.stack.place == "rules"
    assert rules.tabs.currentWidget() is rules.holidays


def test_keys_of_pages_never_shown_stand_in_the_list(window):
    assert set(window.stack.pages) == {"today"}
    window.menus.show_keys()
    rows = {(row.keys, row.where) for row in window.menus.dialog.table.model.rows}
    assert {("L", "Checks"), ("Page Up, Page Down", "Rounds"), ("Home", "Building")} <= rows
    window.menus.dialog.close()
