from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.building.bookings_wizard import BookingsWizard
from hotelwatch.screens.building.columns_wizard import ColumnsWizard
from hotelwatch.screens.building.roster_wizard import RosterWizard
from hotelwatch.screens.look.theme import Tone
from tests.build import house

CTRL = Qt.KeyboardModifier.ControlModifier


class Page(QWidget):
    """The page that one comes to afterwards."""

    def __init__(self, context):
        super().__init__()

    def refresh(self):
        pass


SPECS = (
    PageSpec("building", "Building", "building", Page),
    PageSpec("load_roster", "Load", "building", RosterWizard, in_navigation=False),
    PageSpec("load_bookings", "Load", "desk", BookingsWizard, in_navigation=False),
    PageSpec("change_rooms", "Change", "building", ColumnsWizard, in_navigation=False),
)


@pytest.fixture
def make(make_window, make_hotel):
    def window_on(build):
        hotel = make_hotel(build)
        hotel.close()
        window = make_window(SPECS)
        assert window.open_path(hotel.path)
        return window

    return window_on


@pytest.fixture
def window(make, two_floors):
    return make(two_floors)


def paste(window, qtbot, text):
    QGuiApplication.clipboard().setText(text)
    window.setFocus()
    qtbot.keyClick(window, Qt.Key.Key_V, CTRL)
    qtbot.waitUntil(lambda: not window.jobs.is_busy)


def test_pasted_encasements_are_looked_at_then_written_down_as_one_entry(window, qtbot):
    entries = len(window.hotel.house.entries)
    paste(window, qtbot, "101\tyes\n102\tno\n999\tyes\n")
    page = window.stack.pages["change_rooms"]
    assert window.stack.place == "change_rooms"
    assert page.file_name.text() == "Rows that were pasted"
    assert [row.text for row in page.changes.model.rows] == [
        "Room 101 changes: encasement of bed 101/A."
    ]
    ((problem),) = page.problems.model.rows
    assert (problem.row, problem.what) == (3, "“999” is no room of this hotel.")
    assert not page.load.isEnabled()
    page.keep_good.setChecked(True)
    qtbot.mouseClick(page.load, Qt.MouseButton.LeftButton)
    assert len(window.hotel.house.entries) == entries + 1
    assert [bed.bed for bed in window.hotel.house.beds.values() if bed.encased] == ["101/A"]
    assert list(window.hotel.house.rooms) == ["101", "102", "201", "202"]
    assert window.stack.place == "building"
    (bar,) = window.notices.bars()
    assert [button.text() for button in bar.buttons] == ["Undo"]
    bar.button.click()
    assert not any(bed.encased for bed in window.hotel.house.beds.values())


def test_a_whole_roster_is_asked_about(window, qtbot):
    paste(window, qtbot, "Room\tFloor\tType\n101\t1\tQueen\n")
    (bar,) = window.notices.bars()
    assert bar.tone is Tone.ASKED
    bar.buttons[0].click()
    assert window.stack.place == "change_rooms"
    qtbot.waitUntil(lambda: not window.jobs.is_busy)
    assert window.stack.pages["change_rooms"].load.isEnabled()


def test_bookings_go_where_bookings_are_loaded(window, qtbot):
    paste(window, qtbot, "Booking\tRoom\tArrival\tDeparture\nB1\t101\t2026-02-20\t2026-02-22\n")
    qtbot.waitUntil(lambda: not window.jobs.is_busy)
    assert window.stack.place == "load_bookings"
    assert window.stack.pages["load_bookings"].load.isEnabled()


def test_in_a_house_without_rooms_it_is_the_roster(make, qtbot):
    window = make(house())
    paste(window, qtbot, "Room\tFloor\n101\t1\n")
    qtbot.waitUntil(lambda: not window.jobs.is_busy)
    assert window.stack.place == "load_roster"
    qtbot.mouseClick(window.stack.pages["load_roster"].load, Qt.MouseButton.LeftButton)
    assert list(window.hotel.house.rooms) == ["101"]


def test_a_single_word_is_no_table(window, qtbot):
    paste(window, qtbot, "204")
    (bar,) = window.notices.bars()
    assert bar.label.text().startswith("There are no rows to paste.")
    assert window.stack.place == "building"


def test_what_was_pasted_is_gone_from_the_disk_once_the_hotel_is_left(window, qtbot):
    path = window.pasting.kept("101\tyes\n")
    assert path.exists()
    window.close()
    assert not path.exists()


def test_pasted_teams_are_told_first_then_written_down(window, qtbot):
    paste(window, qtbot, "team\tpeople\tminutes\tworks_on\nEarly\t2\t120\tmon tue\n")
    (bar,) = window.notices.bars()
    assert bar.label.text() == "The table describes teams: Early. Others stay as they are."
    assert not window.hotel.house.teams
    bar.button.click()
    assert list(window.hotel.house.teams) == ["Early"]
    (bar,) = window.notices.bars()
    bar.button.click()  # undo
    assert not window.hotel.house.teams


def test_a_log_of_probes_is_sent_to_its_case(window, qtbot):
    paste(window, qtbot, "Time\tMattress °C\tAir °C\n2026-02-01 10:00\t21\t22\n")
    (bar,) = window.notices.bars()
    assert "log of probes" in bar.label.text()
