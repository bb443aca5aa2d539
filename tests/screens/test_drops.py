from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication

from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.building.bookings_wizard import BookingsWizard
from hotelwatch.screens.building.page import BuildingPage
from hotelwatch.screens.building.roster_wizard import RosterWizard
from hotelwatch.screens.look.theme import Tone

COPY, LEFT = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
PLAIN = Qt.KeyboardModifier.NoModifier
SPECS = (
    PageSpec("building", "Building", "building", BuildingPage),
    PageSpec("load_roster", "Load", "building", RosterWizard, in_navigation=False),
    PageSpec("load_bookings", "Load", "desk", BookingsWizard, in_navigation=False),
)
ROSTER = "Room,Floor\n301,3\n"
BOOKINGS = "Booking,Room,Arrival,Departure\nb1,101,2026-03-01,2026-03-04\n"
UNCLEAR = "Room,Type\n101,Double\n"


@pytest.fixture
def window(make_window, make_hotel, two_floors):
    hotel = make_hotel(two_floors)
    hotel.close()
    made = make_window(SPECS)
    assert made.open_path(hotel.path)
    return made


@pytest.fixture
def drop(qtbot, tmp_path):
    """Drags files over the window and lets them go; whether the window would take them."""

    def let_go(window, *paths):
        dragged = QMimeData()
        dragged.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
        entering = QDragEnterEvent(QPoint(40, 40), COPY, dragged, LEFT, PLAIN)
        entering.ignore()
        QApplication.sendEvent(window, entering)
        if not entering.isAccepted():
            return False
        QApplication.sendEvent(window, QDropEvent(QPointF(40, 40), COPY, dragged, LEFT, PLAIN))
        qtbot.waitUntil(lambda: not window.jobs.is_busy)
        return True

    return let_go


@pytest.fixture
def table(tmp_path):
    def write(text, name="table.csv"):
        path = tmp_path / name
        path.write_text(text, "utf-8")
        return path

    return write


@pytest.mark.parametrize(("text", "page"), [(ROSTER, "load_roster"), (BOOKINGS, "load_bookings")])
def test_a_table_goes_to_the_page_that_loads_it(window, drop, table, qtbot, text, page):
    path = table(text)
    assert drop(window, path)
    assert window.stack.place == page
    qtbot.waitUntil(lambda: window.stack.pages[page].preview is not None)
    assert window.stack.pages[page].path == path
    assert window.hotel.house.rooms.keys() == {"101", "102", "201", "202"}  # nothing loaded yet


@pytest.mark.parametrize(
    ("answer", "page"), [(0, "load_roster"), (1, "load_bookings")], ids=["roster", "bookings"]
)
def test_where_headings_do_not_tell_one_is_asked(window, drop, table, qtbot, answer, page):
    path = table(UNCLEAR)
    assert drop(window, path)
    assert window.stack.place == "building"
    (bar,) = window.notices.bars()
    assert bar.tone is Tone.ASKED
    assert path.name in bar.label.text()
    assert len(bar.buttons) == 2
    bar.buttons[answer].setFocus()
    qtbot.keyClick(bar.buttons[answer], Qt.Key.Key_Space)
    assert window.stack.place == page
    assert window.stack.pages[page].path == path
    qtbot.waitUntil(lambda: not window.jobs.is_busy)


def test_a_table_with_everything_is_asked_about_too(window, drop, table):
    drop(window, table("Room,Floor,Arrival,Departure\n101,1,2026-03-01,2026-03-02\n"))
    assert len(window.notices.bars()[0].buttons) == 2


def test_a_hotels_file_is_opened(window, drop, make_hotel, two_floors):
    second = make_hotel(two_floors, "second")
    second.close()
    assert drop(window, second.path)
    assert window.hotel.path == second.path


def test_a_hotels_file_dropped_on_the_first_screen_is_opened(
    make_window, drop, make_hotel, two_floors
):
    hotel = make_hotel(two_floors)
    hotel.close()
    window = make_window(SPECS)
    assert drop(window, hotel.path)
    assert window.hotel.path == hotel.path


def test_a_table_without_a_hotel_is_told_what_comes_first(make_window, drop, table):
    window = make_window(SPECS)
    assert drop(window, table(ROSTER))
    assert window.hotel is None
    assert window.notices.bars()[0].tone is Tone.DUE


def test_several_files_at_once_are_not_guessed_about(window, drop, table):
    assert drop(window, table(ROSTER), table(BOOKINGS, "other.csv"))
    assert window.stack.place == "building"
    assert window.notices.bars()[0].tone is Tone.DUE


def test_what_the_window_has_no_use_for_is_not_taken(window, drop, table, tmp_path):
    assert not drop(window, table("x", "picture.png"))
    assert not drop(window)
    assert window.notices.bars() == ()


def test_a_file_from_elsewhere_is_not_taken(window):
    dragged = QMimeData()
    dragged.setUrls([QUrl("https://example.org/roster.csv")])
    entering = QDragEnterEvent(QPoint(1, 1), COPY, dragged, LEFT, PLAIN)
    entering.ignore()
    QApplication.sendEvent(window, entering)
    assert not entering.isAccepted()


def test_a_table_that_can_not_be_read_is_told(window, drop, tmp_path):
    path = tmp_path / "broken.xlsx"
    path.write_bytes(b"PK\x03\x04 no workbook")
    assert drop(window, path)
    assert window.notices.bars()[0].tone is Tone.LATE
    assert window.stack.place == "building"


def test_a_table_dropped_while_reading_ends_without_a_hotel_is_left(window, table):
    path = table(ROSTER)
    window._leave_hotel()
    window.load_table("load_roster", path)
    assert "load_roster" not in window.stack.pages


def test_a_file_let_go_over_a_filter_line_is_for_the_window(window):
    assert not window.stack.pages["building"].table.filter.acceptDrops()
