from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QWidget

from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.actions.open_hotel import open_hotel, read_house
from hotelwatch.core.facts import Scope
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.hotel_file.opening import Opening, Room
from hotelwatch.screens.look.theme import Tone
from tests.build import rules


class Page(QWidget):
    def __init__(self, context):
        super().__init__()

    def refresh(self):
        pass


@pytest.fixture
def window(make_window, clock):
    """A window that reads files as jobs, as the program does."""
    made = make_window((PageSpec("today", "Today", "today", Page),))

    def opened(path, house=None):
        return open_hotel(path, rules(), clock=clock, by="tester", house=house)

    made.doors = replace(
        made.doors, open=opened, read=lambda path: read_house(path, rules(), now=clock())
    )
    room = Room(made.show_hotel, made._all_pages, made._adapt_menus)
    made.opening = Opening(made, room, made)
    made.opening.reading.connect(made.welcome.show_opening)
    made.opening.failed.connect(made.welcome.show_choices)
    return made


@pytest.fixture
def inn(make_hotel, two_floors):
    hotel = make_hotel(two_floors)
    hotel.close()
    return hotel.path


def test_a_file_is_read_on_another_thread_and_what_came_meanwhile_is_taken_in(
    window, inn, clock, qtbot
):
    window.opening.open_first(inn)
    assert window.hotel is None
    assert window.welcome.opening.text() == "Opening inn.hotelwatch…"
    assert window.welcome.opening.isVisible()
    other = open_hotel(inn, rules(), clock=clock, by="other")
    choose_cycle(other, Scope.ROOM, "101", 33)
    other.close()
    qtbot.waitUntil(lambda: window.hotel is not None)
    assert window.hotel.house.cycle_of("101") == 33
    whole = open_hotel(inn, rules(), clock=clock, by="other")
    assert window.hotel.house == whole.house
    whole.close()


def test_a_file_that_is_gone_leads_back_to_the_first_screen(window, tmp_path, qtbot):
    window.opening.open_first(tmp_path / "gone.hotelwatch")
    qtbot.waitUntil(lambda: bool(window.notices.bars()))
    assert window.notices.bars()[0].tone is Tone.LATE
    assert window.welcome.demo.isVisible()


def test_reading_can_be_stopped(window, inn, qtbot):
    window.opening.open_first(inn)
    window.jobs.stop()
    qtbot.waitUntil(lambda: not window.jobs.is_busy)
    assert window.hotel is None
    assert window.welcome.demo.isVisible()
