from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.hotel import describe_teams
from hotelwatch.actions.undo import undo
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CheckKind, RoomNo, TeamDescribed, TeamName
from hotelwatch.screens.at_hand.context import PageSpec
from tests.build import house


class Page(QWidget):
    def __init__(self, context):
        super().__init__()

    def refresh(self):
        pass


SPECS = tuple(
    PageSpec(key, key.title(), "today", Page)
    for key in (
        "today",
        "rounds",
        "checks",
        "building",
        "cases",
        "odds",
        "rules",
        "load_roster",
        "load_bookings",
    )
)


@pytest.fixture
def make(make_window, make_hotel):
    def window_on(build, name="inn"):
        hotel = make_hotel(build, name)
        hotel.close()
        window = make_window(SPECS)
        assert window.open_path(hotel.path)
        return window

    return window_on


def press(qtbot, button):
    assert button.isVisible()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def wait_for(qtbot, window, page):
    """Its place shows at once, the page itself a moment later."""
    qtbot.waitUntil(lambda: window.stack.place == page)


def said(window):
    return window.guide.text.text().partition(":")[0] if window.guide.isVisible() else ""


def test_a_hotel_just_begun_is_led_from_its_roster_on(make, qtbot):
    window = make(house())
    assert said(window) == "1 of 7"
    press(qtbot, window.guide.go)
    wait_for(qtbot, window, "load_roster")
    room = house().room("101").bed("A").house
    facts = [*room.rooms.values(), *room.beds.values()]
    window.hotel.record(lambda _: facts, action="load_roster")
    assert said(window) == "2 of 7"  # it ticked itself
    assert "bookings" in window.guide.text.text()


def test_a_step_may_be_left_out_and_stays_so(make, qtbot):
    window = make(house().room("101").bed("A"))
    press(qtbot, window.guide.next)
    assert said(window) == "3 of 7"
    path = window.hotel.path
    describe_teams(window.hotel, [TeamDescribed(TeamName("Early"), 2, 120)])
    assert window.open_path(path)
    assert said(window) == "3 of 7"
    press(qtbot, window.guide.next)
    assert said(window) == "5 of 7"  # a team is there already


def test_a_hotel_in_use_is_not_shown_around(make, two_floors):
    window = make(two_floors)
    assert not window.guide.isVisible()
    window.guide.resume()
    assert said(window) == "2 of 7"


def test_the_invented_hotel_is_shown_step_by_step(make, two_floors, qtbot):
    window = make(two_floors, "demo")
    assert said(window) == "1 of 7"
    press(qtbot, window.guide.next)
    wait_for(qtbot, window, "building")
    press(qtbot, window.guide.next)
    wait_for(qtbot, window, "checks")
    assert said(window) == "3 of 7"
    hotel, day = window.hotel, window.hotel.today()
    look = full_look(hotel.house, RoomNo("201"), on=day, by=("a", "b"), kind=CheckKind.DEEP)
    record_looks(hotel, [look])
    assert said(window) == "4 of 7"
    undo(hotel)
    assert said(window) == "5 of 7"
    came_to = []
    window.stack.shown.connect(came_to.append)
    for page in ("cases", "rounds", "odds"):
        if came_to[-1:] != [page]:
            press(qtbot, window.guide.go)
        wait_for(qtbot, window, page)
        press(qtbot, window.guide.next)
    assert window.guide.text.text().startswith("That was the way round.")
    press(qtbot, window.guide.go)
    assert window.welcome.form.name.isVisible()
    assert not window.guide.isVisible()


def test_closed_it_stays_closed_and_comes_back_from_the_menu(make, two_floors, qtbot):
    window = make(two_floors, "demo")
    press(qtbot, window.guide.next)
    press(qtbot, window.guide.close_button)
    assert not window.guide.isVisible()
    assert window.open_path(window.hotel.path)
    assert not window.guide.isVisible()
    window.guide.resume()
    assert said(window) == "2 of 7"
