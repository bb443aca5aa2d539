from __future__ import annotations

from datetime import timedelta
from threading import Event

import argon2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QVBoxLayout, QWidget

from hotelwatch.actions.choices import choose_figure
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.actions.people import describe_person, get_up, sit_down
from hotelwatch.core.case_facts import Sighted
from hotelwatch.core.people import refused_rows
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.roles import Sight
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.tables.copying import for_clipboard
from tests.build import rules

EXEC, SUPERVISOR, HOUSEKEEPER, DESK, ENGINEER, MANAGER = StaffRole
PINS = {"Eva": "2580", "Ana": "1479", "Dan": "3691"}
CONTROL, SHIFT, ALT = (
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.AltModifier,
)
SECRET = "two live insects in 102"


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """Hash with the least costs, so that tests do not wait."""
    hasher = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    monkeypatch.setattr("hotelwatch.actions.people.hash_of", hasher.hash)


class Page(QWidget):
    """A page with a line to type in and something that not everybody may read."""

    def __init__(self, context):
        super().__init__()
        self.context, self.refreshed, self.logged = context, 0, []
        self.line = QLineEdit()
        self.line.setAccessibleName("Note")
        said = QLabel(SECRET)
        said.setToolTip(SECRET)
        lines = QVBoxLayout(self)
        lines.addWidget(said)
        lines.addWidget(self.line)
        self.setFocusProxy(self.line)

    def refresh(self):
        self.refreshed += 1

    def unsaved(self):
        return (SECRET,) if self.line.text() else ()

    def log_sighting(self, room):
        self.logged.append(room)


SPECS = (
    PageSpec("today", "Today", "today", Page, needs=Sight.TODAY),
    PageSpec("cases", "Cases", "cases", Page, needs=Sight.CASES),
    PageSpec("desk", "Front desk", "desk", Page, needs=Sight.DESK),
    PageSpec("report", "Report", "sighting", Page, in_navigation=False, writes=(Sighted,)),
)


@pytest.fixture
def staffed(make_hotel, two_floors):
    hotel = make_hotel(two_floors)
    for name, role in (("Eva", EXEC), ("Ana", HOUSEKEEPER), ("Dan", DESK)):
        describe_person(hotel, name, role, pin=PINS[name])
    get_up(hotel)
    return hotel


@pytest.fixture
def window(make_window, staffed):
    made = make_window(SPECS)
    assert made.open_path(staffed.path)
    yield made
    made._is_leaving = True  # else it asks about what the test left half entered


def type_to(qtbot, text):
    """Type where the keyboard is."""
    qtbot.keyClicks(QApplication.focusWidget(), text)


def press(qtbot, key, *modifiers):
    held = Qt.KeyboardModifier.NoModifier
    for one in modifiers:
        held |= one
    qtbot.keyClick(QApplication.focusWidget(), key, held)


def come_in(window, qtbot, name):
    """Choose a name and type its PIN, by the keyboard alone."""
    screen = window.desk.screen
    window.activateWindow()
    screen.names.setFocus()
    press(qtbot, Qt.Key.Key_Home)
    for _step in range(len(PINS)):
        if screen.name() == name:
            break
        press(qtbot, Qt.Key.Key_Down)
    assert screen.name() == name
    press(qtbot, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is screen.pad.line
    type_to(qtbot, PINS[name])
    press(qtbot, Qt.Key.Key_Return)


def everything_said(window):
    """Every text, hint and title of the window that can be seen."""
    said = [window.windowTitle()]
    for one in window.findChildren(QWidget):
        if one.isVisible():
            said += [one.toolTip(), one.accessibleName(), one.accessibleDescription()]
            for what in ("text", "title", "placeholderText"):
                if callable(getattr(one, what, None)):
                    said.append(str(getattr(one, what)()))
    return "\n".join(said)


# --- locked -----------------------------------------------------------------------------------


def test_a_hotel_with_people_opens_locked_and_shows_nothing_of_itself(window, staffed):
    assert window.desk.is_locked
    assert not window.stack.pages
    said = everything_said(window)
    for hidden in ("House of tests", "inn.hotelwatch", str(staffed.path), SECRET, "Housekeeper"):
        assert hidden not in said
    assert not window.menuBar().isVisible()


def test_a_name_and_a_pin_by_keyboard_alone_open_it(window, qtbot):
    come_in(window, qtbot, "Ana")
    assert not window.desk.is_locked
    assert window.hotel.by == window.hotel.person == "Ana"
    assert window.header.person.accessibleName() == "Ana · Housekeeper"
    assert not window.header.writer.isVisible()
    assert "House of tests" in window.windowTitle()


def test_large_keys_do_the_same(window, qtbot):
    screen = window.desk.screen
    screen.names.setCurrentRow(screen.offered().index("Dan"))
    for digit in PINS["Dan"]:
        key = screen.pad.keys[digit]
        assert min(key.width(), key.height()) >= 44  # WCAG 2.2, 2.5.5 Target Size (Enhanced)
        qtbot.mouseClick(key, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(screen.pad.enter, Qt.MouseButton.LeftButton)
    assert window.hotel.person == "Dan"


def test_digits_typed_on_the_names_are_the_pin(window, qtbot):
    screen = window.desk.screen
    screen.names.setFocus()
    screen.names.setCurrentRow(screen.offered().index("Ana"))
    type_to(qtbot, PINS["Ana"][0])
    assert QApplication.focusWidget() is screen.pad.line
    type_to(qtbot, PINS["Ana"][1:])
    press(qtbot, Qt.Key.Key_Return)
    assert window.hotel.person == "Ana"


def test_arrows_where_the_pin_is_typed_choose_another_person(window, qtbot):
    screen = window.desk.screen
    window.activateWindow()
    screen.pad.line.setFocus()
    screen.names.setCurrentRow(0)
    type_to(qtbot, "12")
    press(qtbot, Qt.Key.Key_Down)
    assert screen.name() == screen.offered()[1]
    assert screen.pad.line.text() == ""  # what was typed was for somebody else
    press(qtbot, Qt.Key.Key_Up)
    press(qtbot, Qt.Key.Key_Up)  # nobody stands above the first
    assert screen.name() == screen.offered()[0]
    type_to(qtbot, PINS[screen.name()])
    press(qtbot, Qt.Key.Key_Return)
    assert window.hotel.person == screen.offered()[0]


def test_a_wrong_pin_is_said_forgotten_and_written_down(window, qtbot, clock):
    screen = window.desk.screen
    screen.names.setCurrentRow(0)
    screen.pad.setFocus()
    for _try in range(3):
        type_to(qtbot, "9999")
        press(qtbot, Qt.Key.Key_Return)
        assert screen.pad.line.text() == ""
        assert "not the PIN" in screen.problem.text()
    type_to(qtbot, PINS[screen.name()])
    press(qtbot, Qt.Key.Key_Return)
    assert "Wait until" in screen.problem.text()
    assert window.desk.is_locked
    assert len(refused_rows(window.hotel.house)) == 3
    clock.moment += timedelta(seconds=31)
    type_to(qtbot, PINS[screen.name()])
    press(qtbot, Qt.Key.Key_Return)
    assert not window.desk.is_locked


def test_what_is_typed_as_a_pin_is_never_shown(window, qtbot):
    screen = window.desk.screen
    screen.pad.setFocus()
    type_to(qtbot, "2580x")
    assert screen.pad.line.text() == "2580"  # digits only
    assert "2580" not in screen.pad.line.displayText()


def test_every_control_of_the_lock_has_a_name(window, nameless):
    assert nameless(window.desk.screen) == []


# --- locking again ----------------------------------------------------------------------------


def test_keys_lock_at_once_and_the_same_person_comes_back_to_the_same_place(window, qtbot):
    come_in(window, qtbot, "Ana")
    window.stack.go_to("cases")
    page = window.stack.pages["cases"]
    type_to(qtbot, "half a word")
    press(qtbot, Qt.Key.Key_L, CONTROL, SHIFT)
    assert window.desk.is_locked
    assert SECRET not in everything_said(window)
    assert window.hotel.seat is None
    come_in(window, qtbot, "Ana")
    assert window.stack.pages["cases"] is page
    assert page.line.text() == "half a word"
    assert QApplication.focusWidget() is page.line


def test_an_idle_desk_locks_and_a_touch_puts_it_off(window, qtbot):
    come_in(window, qtbot, "Eva")
    timer = window.desk.idle.timer
    assert timer.isActive()
    assert timer.interval() == 5 * 60_000  # the shipped figure
    timer.setInterval(300)
    timer.start()
    qtbot.wait(200)
    qtbot.keyClick(window.windowHandle(), Qt.Key.Key_Shift)
    qtbot.wait(200)
    assert not window.desk.is_locked
    qtbot.waitUntil(lambda: window.desk.is_locked, timeout=2000)
    assert not timer.isActive()


def test_the_hotels_own_minutes_count_at_once(window, qtbot):
    come_in(window, qtbot, "Eva")
    choose_figure(window.hotel, "idle_lock_minutes", 2, reason="a busy lobby")
    assert window.desk.idle.timer.interval() == 2 * 60_000


def test_another_person_gets_other_pages_and_the_first_ones_stay_begun(window, qtbot):
    come_in(window, qtbot, "Ana")
    assert window.stack.place == "today"
    page = window.stack.pages["today"]
    type_to(qtbot, "half a word")
    window.desk.lock()
    come_in(window, qtbot, "Dan")
    assert window.stack.place == "desk"
    assert [key for key, one in window.navigation.buttons.items() if one.isVisible()] == ["desk"]
    assert window.stack.currentWidget().findChild(QLineEdit).text() == ""
    window.desk.lock()
    come_in(window, qtbot, "Ana")
    assert window.stack.pages["today"] is page
    assert page.line.text() == "half a word"
    assert page.isVisible()


def test_what_another_has_begun_is_not_lost_by_closing(window, qtbot):
    come_in(window, qtbot, "Ana")
    type_to(qtbot, "half a word")
    window.desk.lock()
    assert not window.close()
    assert window.desk.is_locked
    said = everything_said(window)
    assert "begun and not saved" in said
    assert SECRET not in said
    window.desk.screen.close_all_the_same.click()
    assert not window.isVisible()


def test_work_goes_on_behind_the_lock(window, qtbot):
    done = []

    def work(progress):
        while not window.desk.is_locked:
            progress(0.5, "")
        return "done"

    come_in(window, qtbot, "Eva")
    window.jobs.run(work, label=SECRET, on_done=done.append)
    window.desk.lock()
    assert SECRET not in everything_said(window)
    qtbot.waitUntil(lambda: not window.jobs.is_busy, timeout=5000)
    assert window.desk.is_locked
    assert done == []  # what it ends with is for who asked: a box would stand above the lock
    come_in(window, qtbot, "Ana")
    assert done == []
    window.desk.lock()
    come_in(window, qtbot, "Eva")
    assert done == ["done"]


def test_nobody_reads_what_another_prints_or_copied(window, qtbot):
    done, failed, may_end = [], [], Event()

    def work(progress):
        while not may_end.is_set():
            progress(0.5, "")
        raise ValueError(SECRET)

    come_in(window, qtbot, "Eva")
    QApplication.clipboard().setMimeData(for_clipboard([["What"], [SECRET]]))
    window.jobs.failed.disconnect(window.notices.fail)
    window.jobs.failed.connect(failed.append)
    window.jobs.run(work, label=SECRET, on_done=done.append)
    qtbot.waitUntil(window.job_bar.isVisible, timeout=5000)
    window.desk.lock()
    come_in(window, qtbot, "Dan")
    assert QApplication.clipboard().text() == ""
    assert "Work that somebody else began goes on" in window.job_bar.label.text()
    may_end.set()
    qtbot.waitUntil(lambda: not window.jobs.is_busy, timeout=5000)
    assert failed == []
    window.desk.lock()
    come_in(window, qtbot, "Eva")
    assert [str(error) for error in failed] == [SECRET]


def test_keys_do_nothing_on_a_locked_desk(window, qtbot):
    come_in(window, qtbot, "Eva")
    window.stack.go_to("cases")
    window.desk.lock()
    before = set(QApplication.topLevelWidgets())
    for key, *held in (
        (Qt.Key.Key_G, CONTROL),
        (Qt.Key.Key_L, CONTROL),
        (Qt.Key.Key_Z, CONTROL),
        (Qt.Key.Key_V, CONTROL),
        (Qt.Key.Key_F1,),
        (Qt.Key.Key_1, ALT),
    ):
        for where in (window.desk.screen.names, window.desk.screen.pad.line):
            where.setFocus()
            press(qtbot, key, *held)
            assert window.desk.is_locked
            assert window.stack.place == "cases"
            new = [w for w in QApplication.topLevelWidgets() if w not in before and w.isVisible()]
            assert not new, (key, new)
    assert window.stack.pages["cases"].logged == []


def test_dialogs_do_not_stay_above_the_lock(window, qtbot):
    come_in(window, qtbot, "Ana")
    window.menus.ask_where()
    box = window.menus.dialog
    assert box.isVisible()
    window.desk.lock()
    assert not box.isVisible()


# --- what a role is shown ---------------------------------------------------------------------


def test_front_desk_comes_to_no_page_of_cases_by_any_way(window, qtbot):
    come_in(window, qtbot, "Dan")
    for going in (
        lambda: window.stack.go_to("cases"),
        lambda: window.stack.go_to_case("2026-001"),
        lambda: window.walk_to("today"),
        lambda: press(qtbot, Qt.Key.Key_1, ALT),
    ):
        going()
        assert window.stack.place == "desk"
    assert set(window.stack.pages) == {"desk"}
    refused = [(row.refused.deed, *row.refused.kinds) for row in refused_rows(window.hotel.house)]
    assert refused.count(("see", "cases")) == 2  # each way that was tried
    assert refused.count(("see", "today")) == 1
    window.menus.ask_where()
    names = [goal.text for goal in window.menus.dialog.finder.goals]
    assert not any(name.startswith(("Case", "Room", "Today")) for name in names)
    assert "Back up to" not in names
    window.menus.dialog.line.setText("101")
    assert "Your role goes to no room" in window.menus.dialog.problem.text()
    window.menus.dialog.close()


def test_a_sighting_is_logged_where_the_role_may_see_it(window, qtbot):
    come_in(window, qtbot, "Dan")
    window.log_sighting("101")
    assert window.stack.place == "report"
    window.desk.lock()
    come_in(window, qtbot, "Ana")
    window.log_sighting("101")
    assert window.stack.place == "cases"


def test_who_may_not_log_is_not_offered_it(window, qtbot, staffed):
    def offered():
        return {a.text().replace("&", "") for a in window.findChildren(QAction) if a.isVisible()}

    come_in(window, qtbot, "Eva")
    assert "Log a sighting" in offered()
    describe_person(window.hotel, "Ana", MANAGER)
    window.desk.lock()
    come_in(window, qtbot, "Ana")
    assert "Log a sighting" not in offered()
    assert not window.header.sighting.isVisible()


def test_a_role_taken_away_elsewhere_locks_the_desk(window, qtbot, staffed, clock):
    come_in(window, qtbot, "Ana")
    other = open_hotel(staffed.path, rules(), clock=clock, by="tester")
    sit_down(other, "Eva", PINS["Eva"])
    describe_person(other, "Ana", MANAGER)
    window.listen()
    assert window.desk.is_locked
    other.close()


# --- nobody described -------------------------------------------------------------------------


def test_without_people_everything_is_as_ever(make_window, make_hotel, two_floors):
    window = make_window(SPECS)
    window.open_path(make_hotel(two_floors).path)
    assert not window.desk.is_locked
    assert window.header.writer.isVisible()
    assert not window.header.lock.isVisible()
    window.desk.lock()
    assert not window.desk.is_locked
    assert not window.desk.idle.timer.isActive()


def test_the_first_person_described_sits_at_the_desk(make_window, make_hotel, two_floors):
    window = make_window(SPECS)
    window.open_path(make_hotel(two_floors).path)
    page = window.stack.pages["today"]
    describe_person(window.hotel, "Eva", EXEC, pin=PINS["Eva"])
    assert not window.desk.is_locked
    assert window.stack.pages["today"] is page
    assert window.header.person.accessibleName() == "Eva · Executive housekeeper"
    assert window.desk.idle.timer.isActive()
