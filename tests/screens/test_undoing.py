from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.core.case_facts import CaseClosed
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CaseNo, CheckKind, CycleChosen, RoomNo, Scope
from hotelwatch.core.undoing import NOT_TO_BE_UNDONE
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.look.theme import Tone
from tests.build import rules

Key = Qt.Key
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


class Page(QWidget):
    """A page with one text field."""

    def __init__(self, context):
        super().__init__()
        self.context = context
        self.line = QLineEdit(self)
        QVBoxLayout(self).addWidget(self.line)

    def refresh(self):
        pass


SPECS = (PageSpec("today", "Today", "today", Page), PageSpec("desk", "Desk", "desk", Page))


@pytest.fixture
def window(make_window, make_hotel, two_floors):
    hotel = make_hotel(two_floors)
    hotel.close()
    made = make_window(SPECS)
    assert made.open_path(hotel.path)
    return made


def check(hotel, room):
    day = hotel.today()
    look = full_look(hotel.house, RoomNo(room), on=day, by=("ana", "ben"), kind=CheckKind.DEEP)
    record_looks(hotel, [look])


def checks(window, bed="201/A"):
    return len(window.hotel.house.checks_of(bed))


def test_the_menu_names_what_is_undone_and_keys_do_it(window, qtbot):
    window.menus.say_what_undo_does()
    assert window.menus.undo.text() == "&Undo"
    check(window.hotel, "201")
    window.menus.say_what_undo_does()
    assert window.menus.undo.text() == "&Undo: Check recorded, room 201"
    window.setFocus()
    qtbot.keyClick(window, Key.Key_Z, CTRL)
    assert checks(window) == 1
    (bar,) = window.notices.bars()
    assert bar.label.text().startswith("Undone: Check recorded, room 201.")
    window.menus.say_what_undo_does()
    assert window.menus.redo.text() == "&Redo: Check recorded, room 201"
    qtbot.keyClick(window, Key.Key_Z, CTRL | SHIFT)
    assert checks(window) == 2
    qtbot.keyClick(window, Key.Key_Z, CTRL)
    qtbot.keyClick(window, Key.Key_Y, CTRL)
    assert checks(window) == 2


@pytest.mark.parametrize("action", sorted(NOT_TO_BE_UNDONE))
def test_what_cant_be_undone_says_so_in_the_menu_and_when_asked(window, qtbot, action):
    fact = CycleChosen(Scope.ROOM, "201", 30)
    window.hotel.record(lambda _: [fact], action=action)
    window.menus.say_what_undo_does()
    assert window.menus.undo.text().startswith("&Undo is not possible: ")
    assert not window.notices.done("It is done.").buttons
    window.setFocus()
    qtbot.keyClick(window, Key.Key_Z, CTRL)
    assert window.hotel.house.cycle_of(RoomNo("201")) == 30
    assert "can't be undone" in window.notices.bars()[0].label.text()


def test_what_is_looked_at_anew_says_so_beside_redo(window):
    closed = CaseClosed(CaseNo("2026-001"), window.hotel.now(), "Eva", True)
    window.hotel.record(lambda _: [closed], action="close_case")
    window.undoing.undo()
    window.menus.say_what_undo_does()
    assert window.menus.redo.text().startswith("&Redo is not possible, sign it anew: ")


def test_in_a_text_field_the_keys_are_the_fields_own(window, qtbot):
    check(window.hotel, "201")
    line = window.stack.pages["today"].line
    line.setFocus()
    qtbot.keyClicks(line, "ab")
    qtbot.keyClick(line, Key.Key_Z, CTRL)
    assert line.text() == ""
    assert checks(window) == 2
    qtbot.keyClick(line, Key.Key_Z, CTRL)  # nothing left to undo there
    assert checks(window) == 2


def test_a_notice_after_a_deed_offers_to_undo_it_and_no_other(window, qtbot):
    check(window.hotel, "201")
    bar = window.notices.done("Room 201 is recorded.")
    assert [button.text() for button in bar.buttons] == ["Undo"]
    check(window.hotel, "102")
    bar.button.click()
    (told,) = window.notices.bars()
    assert told.tone is Tone.DUE
    assert checks(window) == 2
    qtbot.wait(1)
    assert not window.notices.done("A sheet was printed.").buttons


def test_where_another_window_changed_the_same_the_reason_is_said(window, qtbot, clock):
    choose_cycle(window.hotel, Scope.ROOM, "201", 30)
    other = open_hotel(window.hotel.path, rules(), clock=clock, by="night desk")
    choose_cycle(other, Scope.ROOM, "201", 45)
    other.close()
    window.undoing.undo()
    (bar,) = window.notices.bars()
    assert bar.tone is Tone.LATE
    assert "night desk wrote down entry" in bar.label.text()
    assert window.hotel.house.cycle_of(RoomNo("201")) == 45


def test_who_sits_down_next_undoes_nothing_of_who_sat_there(window):
    check(window.hotel, "201")
    window.write_as("jon")
    assert not window.undoing.can_undo()
    window.undoing.undo()
    (bar,) = window.notices.bars()
    assert "nothing to undo" in bar.label.text()


def test_opening_another_file_asks_first_while_something_is_typed(
    window, make_hotel, two_floors, qtbot
):
    other = make_hotel(two_floors, "other")
    other.close()
    first = window.hotel.path
    window.stack.pages["today"].unsaved = lambda: ("Not saved: the check of 204.",)
    window.opening.ask_to_open(other.path)
    (bar,) = window.notices.bars()
    assert bar.label.text() == (
        "Not saved: the check of 204. Opening another hotel's file throws it away."
    )
    assert window.hotel.path == first
    bar.button.click()
    assert window.hotel.path == other.path
    window.opening.ask_to_open(first)
    assert window.hotel.path == first


def test_starting_a_hotel_asks_first_too(window, tmp_path):
    described = replace(window.hotel.house.hotel, name="Second")
    window.stack.pages["today"].unsaved = lambda: ("A sighting is begun, but not saved.",)
    window.opening.start(tmp_path / "second.hotelwatch", described)
    assert window.hotel.house.hotel.name == "House of tests"
    window.notices.bars()[0].button.click()
    assert window.hotel.house.hotel.name == "Second"
