"""Jobs of the first day that begin where something is on record, by keys alone.

Sheets are printed, a room is given back on a named person's reason, and one asks how sure one
may be: no slot is called and nothing is clicked.
"""

from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QTableView

from hotelwatch.core.case_facts import QuarantineLifted
from tests.journeys.test_first_day_in_window import ALT, CTRL, Hands, Key
from tests.screens.conftest import (  # noqa: F401
    Files,
    _nothing_left_behind,
    look,
    made,
    worn,
)
from tests.walk import build_invented, settle, window_on

pytestmark = pytest.mark.walk
REASON = "Carpet beetle by the entomologist; the bites are from outdoors"


@pytest.fixture
def hands(qtbot, look, tmp_path):  # noqa: F811
    window = window_on(None, look, tmp_path / "choices")
    window.files = Files()
    assert window.open_path(build_invented(tmp_path))
    qtbot.addWidget(window)
    window.show()
    with qtbot.waitActive(window):
        window.activateWindow()
    settle(window)
    yield Hands(qtbot, window)
    window._stop_and_close()


def go_to(hands, title):
    """Come to a page by Alt and its number, whichever it has."""
    number = list(hands.window.navigation.buttons).index(title) + 1
    hands.press(getattr(Key, f"Key_{number}"), ALT)
    settle(hands.window)
    return hands.page(title)


def to_tab(hands, tabs, name):
    """Come to a row of tabs by Tab, then to one of them by arrows."""
    hands.come_to(lambda at: at is tabs, "the tabs")
    wanted = next(n for n in range(tabs.count()) if tabs.tabText(n).startswith(name))
    for _ in range(tabs.count()):
        if tabs.currentIndex() != wanted:
            on = wanted > tabs.currentIndex()
            hands.press(Key.Key_Right if on else Key.Key_Left)
    assert tabs.currentIndex() == wanted
    settle(hands.window)


def test_a_room_is_given_back_on_a_persons_reason_by_keys(hands):
    house = hands.window.hotel.house
    before = len(house.all_of(QuarantineLifted))
    page = go_to(hands, "cases")
    to_tab(hands, page.panel.tabs.tabBar(), "Release")
    hands.walk_to("Give the room back…")
    form = page.panel.release.lift
    assert form.isVisible()
    hands.come_to(lambda at: at is form.who, "who lifts it")
    hands.press(Key.Key_A, CTRL)
    hands.type("Ana")
    hands.come_to(lambda at: at is form.reason, "the reason")
    hands.type(REASON)
    hands.press(Key.Key_Return, CTRL)
    lifted = hands.window.hotel.house.all_of(QuarantineLifted)
    assert len(lifted) == before + 1
    assert (lifted[-1].room, lifted[-1].by, lifted[-1].reason) == ("303", "Ana", REASON)
    assert not lifted[-1].conditions_met
    assert "given back" in hands.told()


def test_todays_sheets_are_printed_by_keys(hands):
    go_to(hands, "today")
    hands.come_to(
        lambda at: isinstance(at, QPushButton) and "sheets" in at.text(), "printing the sheets"
    )
    hands.press(Key.Key_Return)
    hands.qtbot.waitUntil(lambda: not hands.window.jobs.is_busy, timeout=30_000)
    found = hands.window.files.shown
    assert found
    assert all(file.read_bytes().startswith(b"%PDF") for file in found)


def test_how_sure_one_may_be_is_asked_by_keys_and_leads_to_the_room(hands):
    page = go_to(hands, "odds")
    hands.qtbot.waitUntil(page.tabs.isVisible, timeout=60_000)
    to_tab(hands, page.tabs.tabBar(), "The hotel")
    to_tab(hands, page.tabs.tabBar(), "Where to look next")
    hands.come_to(lambda at: isinstance(at, QLineEdit), "the filter of the rooms")
    hands.type("30")
    hands.press(Key.Key_Return)
    view = QApplication.focusWidget()
    assert isinstance(view, QTableView)
    room = page.rooms.table.current().room
    assert "30" in room
    hands.press(Key.Key_Return)
    settle(hands.window)
    assert hands.window.stack.place == "building"


def test_a_sighting_that_is_begun_can_be_left_by_escape(hands):
    hands.press(Key.Key_L, CTRL)
    form = hands.page("cases").sighting.form
    hands.type("511")
    hands.press(Key.Key_Escape)  # the list of rooms that fit
    hands.press(Key.Key_Escape)
    assert not form.isVisible()
    assert QApplication.focusWidget() is not None
