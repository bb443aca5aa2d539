"""Backups in the window: made by themselves, looked at, and gone back to, by keyboard."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QVBoxLayout, QWidget
from shiboken6 import isValid

from hotelwatch.actions.choices import choose_rule
from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.core.facts import Scope
from hotelwatch.core.record_facts import RecordRestored
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.store.verify import verify

PRESSED_MS = 200
ALT = Qt.KeyboardModifier.AltModifier


class Page(QWidget):
    """A page with nothing to do."""

    def __init__(self, context):
        super().__init__()
        QVBoxLayout(self).addWidget(QLabel("Today"))

    def refresh(self):
        pass


SPECS = (PageSpec("today", "Today", "today", Page),)


@pytest.fixture
def window(make_window, make_hotel, two_floors, clock):
    hotel = make_hotel(two_floors)
    # What a test leaves open is to close at once.
    choose_rule(hotel, "back_up", "never")
    hotel.close()
    made = make_window(SPECS)
    made.doors = replace(made.doors, clock=clock)
    assert made.open_path(hotel.path)
    return made


def backups_of(window_or_path):
    path = getattr(window_or_path, "hotel", None)
    path = path.path if path is not None else window_or_path
    return sorted((path.parent / f"{path.stem}.backups").glob("*.hotelwatch"))


def idle(qtbot, window):
    qtbot.waitUntil(lambda: not window.jobs.is_busy, timeout=10_000)


def menu(qtbot, window, *letters):
    """Open the file menu and press letters in it."""
    qtbot.keyClick(window, Qt.Key.Key_F, ALT)
    for letter in letters:
        qtbot.keyClick(QApplication.activePopupWidget(), letter)


@pytest.fixture
def box(qtbot, window):
    menu(qtbot, window, Qt.Key.Key_A)
    qtbot.waitUntil(lambda: window.backups.dialog is not None)
    with qtbot.waitActive(window.backups.dialog):
        window.backups.dialog.activateWindow()
    yield window.backups.dialog
    if window.backups.dialog is not None and isValid(window.backups.dialog):
        window.backups.dialog.close()


def press(qtbot, box, letter):
    qtbot.keyClick(box, letter, ALT)
    # A button pressed by its letter stays down for a tenth of a second.
    qtbot.wait(PRESSED_MS)


def said(notices):
    return [label.text() for bar in notices.bars() for label in bar.findChildren(QLabel)]


def test_one_backs_up_looks_through_and_goes_back_by_keys(qtbot, window, box, clock):
    press(qtbot, box, Qt.Key.Key_B)
    idle(qtbot, window)
    assert len(backups_of(window)) == 1
    assert "Backed up to" in " ".join(said(box.notices))
    press(qtbot, box, Qt.Key.Key_K)
    idle(qtbot, window)
    assert [row.state for row in box.table.shown_rows()] == ["holds"]
    clock.moment += timedelta(hours=1)
    choose_cycle(window.hotel, Scope.HOUSE, "", 77)
    choose_cycle(window.hotel, Scope.HOUSE, "", 78)
    path, before = window.hotel.path, verify(window.hotel.path).entries
    box.table.view.setFocus()
    qtbot.keyClick(box.table.view, Qt.Key.Key_Home)
    qtbot.keyClick(box.table.view, Qt.Key.Key_Return)
    idle(qtbot, window)
    assert box.loss.text() == "2 entries would be lost from the record:"
    lines = [box.loss_list.item(n).text() for n in range(box.loss_list.count())]
    assert "2 × Cycle chosen" in lines[0]
    assert "its digest" in lines[1]
    assert verify(path).entries == before, "nothing is done yet"
    assert box.reason.hasFocus()
    assert not box.go_back.isEnabled()
    qtbot.keyClicks(box.reason, "typed in the wrong file")
    press(qtbot, box, Qt.Key.Key_T)
    qtbot.waitUntil(lambda: window.hotel is not None and not window.jobs.is_busy, timeout=10_000)
    fact = next(iter(window.hotel.house.all_of(RecordRestored)))
    assert (fact.set_aside, fact.reason) == (2, "typed in the wrong file")
    assert (path.parent / fact.aside_file).exists()
    assert verify(path).entries == before - 2 + 1
    assert "Restored." in " ".join(said(window.notices))


def test_one_may_stay_with_the_present_record(qtbot, window, box):
    press(qtbot, box, Qt.Key.Key_B)
    idle(qtbot, window)
    choose_cycle(window.hotel, Scope.HOUSE, "", 77)
    before = window.hotel.path.read_bytes()
    box.table.view.setFocus()
    qtbot.keyClick(box.table.view, Qt.Key.Key_Home)
    qtbot.keyClick(box.table.view, Qt.Key.Key_Return)
    idle(qtbot, window)
    press(qtbot, box, Qt.Key.Key_P)
    assert box.table.isVisible()
    assert not box.loss_pane.isVisible()
    assert window.hotel.path.read_bytes() == before


def test_a_day_brings_a_backup_and_the_hotel_may_choose_none(qtbot, window, clock):
    choose_rule(window.hotel, "back_up", "daily")
    window.backups.look()
    idle(qtbot, window)
    assert len(backups_of(window)) == 1
    choose_cycle(window.hotel, Scope.HOUSE, "", 77)
    window.backups.look()
    assert not window.jobs.is_busy, "once a day"
    clock.moment += timedelta(days=1)
    window.backups.look()
    idle(qtbot, window)
    assert len(backups_of(window)) == 2
    choose_rule(window.hotel, "back_up", "never")
    clock.moment += timedelta(days=1)
    window.backups.look()
    assert not window.jobs.is_busy


def test_closing_waits_for_its_backup(qtbot, window):
    choose_rule(window.hotel, "back_up", "closing")
    path = window.hotel.path
    window.close()
    qtbot.waitUntil(lambda: not window.isVisible(), timeout=10_000)
    assert len(backups_of(path)) == 1
    assert verify(backups_of(path)[0]).is_sound


def test_nothing_new_needs_no_backup_on_closing(qtbot, window):
    choose_rule(window.hotel, "back_up", "closing_and_daily")
    window.backups.look()
    idle(qtbot, window)
    window.close()
    assert not window.isVisible()


def test_a_copy_elsewhere_that_fails_is_told_and_closing_goes_on_if_one_says_so(qtbot, window):
    choose_rule(window.hotel, "back_up", "closing")
    window.store.keep(replace(window.store.choices, copy_backups_to="/nowhere/at/all"))
    window.close()
    idle(qtbot, window)
    qtbot.waitUntil(lambda: bool(window.notices.bars()))
    assert window.isVisible()
    assert "could not be copied to /nowhere/at/all" in " ".join(said(window.notices))
    assert len(backups_of(window)) == 1
    window.close()
    assert not window.isVisible(), "it was tried; closing again closes"


def test_a_copy_elsewhere_is_one_setting(qtbot, window, box, tmp_path):
    stick = tmp_path / "stick"
    stick.mkdir()
    window.files.chosen = stick
    press(qtbot, box, Qt.Key.Key_S)
    assert box.place.text() == str(stick)
    press(qtbot, box, Qt.Key.Key_B)
    idle(qtbot, window)
    assert len(list((stick / "inn.backups").glob("*.hotelwatch"))) == 1
    press(qtbot, box, Qt.Key.Key_N)
    assert box.place.text() == ""
    assert window.store.choices.copy_backups_to == ""


def test_a_damaged_file_is_restored_from_the_first_screen(qtbot, window, box):
    press(qtbot, box, Qt.Key.Key_B)
    idle(qtbot, window)
    box.close()
    path = window.hotel.path
    window._leave_hotel()
    path.write_bytes(b"SQLite format 3\0" + b"\xa5" * 9000)
    window.show_welcome()
    assert not window.open_path(path)
    button = window.notices.bars()[-1].button
    assert button.text() == "Backups…"
    button.setFocus()
    qtbot.keyClick(button, Qt.Key.Key_Space)
    shown = window.backups.dialog
    shown.table.view.setFocus()
    qtbot.keyClick(shown.table.view, Qt.Key.Key_Home)
    qtbot.keyClick(shown.table.view, Qt.Key.Key_Return)
    idle(qtbot, window)
    assert "can't be read" in shown.loss.text()
    qtbot.keyClicks(shown.reason, "disk broke")
    press(qtbot, shown, Qt.Key.Key_T)
    qtbot.waitUntil(lambda: window.hotel is not None and not window.jobs.is_busy, timeout=10_000)
    assert verify(path).is_sound
    assert list(path.parent.glob("inn-aside-*"))


def test_everything_in_the_box_has_a_name(box, nameless):
    assert nameless(box) == []
