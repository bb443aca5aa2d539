from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from threading import Event

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.core.facts import Scope, Topic
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.hotel_file.welcome import Card, Welcome
from hotelwatch.screens.look.theme import DARK, TextSize, Theme, Tone, colours_of
from hotelwatch.screens.pages import page_specs
from tests.build import rules

ALT, CONTROL = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier


class Page(QWidget):
    """A page that takes note of what the window asks of it."""

    topics = frozenset({Topic.SETTINGS})

    def __init__(self, context):
        super().__init__()
        self.context, self.refreshed, self.rooms, self.logged = context, 0, [], []
        button = QPushButton("Work", self)
        QVBoxLayout(self).addWidget(button)
        self.setFocusProxy(button)

    def refresh(self):
        self.refreshed += 1

    def focus_room(self, room):
        self.rooms.append(room)

    def log_sighting(self, room):
        self.logged.append(room)


class RosterPage(Page):
    topics = frozenset({Topic.ROSTER})


SPECS = (
    PageSpec("today", "Today", "today", Page),
    PageSpec("rounds", "Rounds", "rounds", RosterPage, own_keys=lambda: (("L", "Looked at"),)),
    PageSpec("cases", "Cases", "cases", Page),
    PageSpec("load_roster", "Load", "building", Page, in_navigation=False),
)


@pytest.fixture
def window(make_window, make_hotel, two_floors):
    hotel = make_hotel(two_floors)
    hotel.close()
    made = make_window(SPECS)
    assert made.open_path(hotel.path)
    return made


def actions(window):
    return {action.text().replace("&", ""): action for action in window.findChildren(QAction)}


def test_without_a_hotel_the_first_screen_stands_alone(make_window):
    window = make_window(SPECS)
    assert window.welcome.isVisible()
    assert not window.navigation.isVisible()
    assert not window.header.isVisible()
    assert not actions(window)["Back up to…"].isEnabled()


def test_an_open_hotel_is_named_with_its_day_file_and_writer(window):
    assert window.header.hotel.text() == "House of tests"
    assert "14 Feb 2026" in window.header.beside.text()
    assert "inn.hotelwatch" in window.header.beside.text()
    assert window.header.writer.text() == "tester"
    assert "House of tests" in window.windowTitle()


def test_pages_are_made_when_first_shown(window):
    assert list(window.stack.pages) == ["today"]
    window.stack.go_to("rounds")
    assert list(window.stack.pages) == ["today", "rounds"]
    assert window.stack.pages["rounds"].refreshed == 1


def test_keys_go_to_pages_and_into_them(window, qtbot):
    qtbot.keyClick(window, Qt.Key.Key_2, ALT)
    qtbot.waitUntil(lambda: window.stack.place == "rounds")
    assert window.navigation.buttons["rounds"].isChecked()
    assert window.focusWidget() is window.stack.pages["rounds"].focusProxy()
    qtbot.keyClick(window, Qt.Key.Key_1, ALT)
    assert window.stack.place == "today"


@pytest.mark.parametrize("size", list(TextSize))
def test_names_of_places_and_ways_to_begin_are_whole_at_every_size(window, qtbot, size):
    window.look.choose(Theme.LIGHT, size)
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    for place in window.navigation.buttons.values():
        assert place.width() >= place.sizeHint().width()
    welcome = Welcome(window.doors.folder, window.doors.zone, lambda: False)
    qtbot.addWidget(welcome)
    welcome.resize(1280, 800)
    welcome.show()
    qtbot.waitExposed(welcome)
    for button in (card.button for card in welcome.findChildren(Card)):
        assert button.width() >= button.sizeHint().width()
        assert welcome.rect().contains(button.mapTo(welcome, button.rect().bottomRight()))


def test_buttons_of_the_navigation_go_to_pages(window, qtbot):
    qtbot.mouseClick(window.navigation.buttons["cases"], Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.stack.place == "cases")
    window.navigation.buttons["today"].setFocus()
    qtbot.keyClick(window.navigation.buttons["today"], Qt.Key.Key_Space)
    assert window.stack.place == "today"


def places_kept(window):
    shown = (window.stack.widget(number) for number in range(window.stack.count()))
    return [one.text() for one in shown if isinstance(one, QLabel)]


def test_a_page_shows_its_place_at_once_and_is_made_after_that(window, qtbot):
    window.show()
    qtbot.waitExposed(window)
    qtbot.mouseClick(window.navigation.buttons["cases"], Qt.MouseButton.LeftButton)
    assert window.navigation.buttons["cases"].isChecked()
    assert "cases" not in window.stack.pages
    assert places_kept(window) == ["Opening: Cases"]
    qtbot.mouseClick(window.navigation.buttons["rounds"], Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.stack.place == "rounds")
    qtbot.wait(40)
    # Whoever changes their mind waits for no page that they do not want.
    assert "cases" not in window.stack.pages
    assert window.stack.pages["rounds"].refreshed == 1
    assert places_kept(window) == []


def test_what_is_being_come_to_is_forgotten_with_its_hotel(window, qtbot):
    window.show()
    qtbot.waitExposed(window)
    window.walk_to("cases")
    window.stack.use(None)
    qtbot.wait(40)
    assert window.stack.pages == {}
    assert places_kept(window) == []


def test_a_page_without_a_button_is_reached_by_going_there(window):
    window.stack.go_to("load_roster")
    assert "load_roster" not in window.navigation.buttons
    assert not any(button.isChecked() for button in window.navigation.buttons.values())


def test_a_room_is_handed_to_the_page_one_goes_to(window):
    window.stack.pages["today"].context.go_to("rounds", "0104")
    assert window.stack.pages["rounds"].rooms == ["0104"]


def test_logging_a_sighting_is_one_key_away_from_anywhere(window, qtbot):
    qtbot.keyClick(window, Qt.Key.Key_2, ALT)
    qtbot.keyClick(window, Qt.Key.Key_L, CONTROL)
    assert window.stack.place == "cases"
    assert window.stack.pages["cases"].logged == [None]
    window.stack.pages["cases"].context.log_sighting("101")
    assert window.stack.pages["cases"].logged == [None, "101"]
    qtbot.mouseClick(window.header.sighting, Qt.MouseButton.LeftButton)
    assert len(window.stack.pages["cases"].logged) == 3


def test_without_a_page_of_cases_no_button_pretends(make_window):
    window = make_window(SPECS[:2])
    assert not window.header.sighting.isVisibleTo(window.header)
    assert "Log a sighting" not in actions(window)


def test_the_page_shown_refreshes_and_hidden_ones_when_shown(window):
    window.stack.go_to("cases")
    window.stack.go_to("rounds")
    assert window.stack.pages["today"].refreshed == 1
    choose_cycle(window.hotel, Scope.HOUSE, "", 60)
    assert window.stack.pages["rounds"].refreshed == 1  # settings do not concern it
    assert window.stack.pages["today"].refreshed == 1  # hidden
    window.stack.go_to("today")
    window.stack.go_to("today")
    assert window.stack.pages["today"].refreshed == 2


def test_what_another_window_writes_is_heard(window, clock):
    other = open_hotel(window.hotel.path, rules(), clock=clock, by="other desk")
    choose_cycle(other, Scope.HOUSE, "", 45)
    other.close()
    assert window.hotel.house.cycle_of("101") == 91
    window.listen()
    assert window.hotel.house.cycle_of("101") == 45
    assert window.stack.pages["today"].refreshed == 2


def test_the_window_listens_by_itself(window, qtbot, clock):
    other = open_hotel(window.hotel.path, rules(), clock=clock, by="other desk")
    choose_cycle(other, Scope.HOUSE, "", 45)
    other.close()
    qtbot.waitUntil(lambda: window.stack.pages["today"].refreshed == 2)


def test_a_new_day_refreshes_every_page(window, clock):
    clock.moment += timedelta(days=1)
    window.listen()
    assert "15 Feb 2026" in window.header.beside.text()
    assert window.stack.pages["today"].refreshed == 2


def test_another_writer_stands_beside_what_is_written_from_then_on(window, qtbot):
    window.header.writer.clear()
    qtbot.keyClicks(window.header.writer, "Anna")
    qtbot.keyClick(window.header.writer, Qt.Key.Key_Return)
    choose_cycle(window.hotel, Scope.HOUSE, "", 70)
    last = max(window.hotel.house.entries)
    assert window.hotel.house.entries[last].by == "Anna"
    assert window.store.choices.written_by == "Anna"


def test_a_file_that_is_gone_is_said_and_forgotten(make_window, tmp_path):
    window = make_window(SPECS)
    missing = tmp_path / "gone.hotelwatch"
    window.store.keep(window.store.choices.opened(missing))
    assert not window.open_path(missing)
    assert window.notices.bars()[0].tone is Tone.LATE
    assert window.store.choices.recent == ()
    assert window.welcome.isVisible()


def test_opening_another_hotel_closes_the_first(window, make_hotel, two_floors):
    second = make_hotel(two_floors, "second")
    second.close()
    page = window.stack.pages["today"]
    assert window.open_path(second.path)
    assert window.hotel.path == second.path
    assert window.stack.pages["today"] is not page
    assert window.store.choices.recent[0] == str(second.path)


def test_the_look_chosen_is_worn_and_kept(window, qapp):
    actions(window)["Dark"].trigger()
    actions(window)["Larger text"].trigger()
    assert colours_of(qapp.palette()) is DARK
    assert window.store.choices.theme == Theme.DARK
    assert window.store.choices.text_size == TextSize.LARGE


def test_the_record_is_checked_off_the_windows_thread(window, qtbot):
    actions(window)["Check the record…"].trigger()
    qtbot.waitUntil(lambda: bool(window.notices.bars()))
    bar = window.notices.bars()[0]
    assert bar.tone is Tone.DONE
    assert "2 entries" in bar.label.text()


def test_a_backup_is_a_hotel_of_its_own(window, tmp_path, clock, qtbot):
    window.files.chosen = tmp_path / "copy.hotelwatch"
    actions(window)["Back up to…"].trigger()
    qtbot.waitUntil(lambda: bool(window.notices.bars()))
    assert window.notices.bars()[0].tone is Tone.DONE
    copy = open_hotel(window.files.chosen, rules(), clock=clock, by="tester")
    assert copy.house.rooms == window.hotel.house.rooms
    copy.close()
    window.notices.bars()[0].button.click()
    assert window.files.shown == [tmp_path]


def test_keys_are_listed_each_once(window, qtbot):
    qtbot.keyClick(window, Qt.Key.Key_F1)
    rows = window.menus.dialog.table.model.rows
    keys = [row.keys for row in rows if row.where == "Everywhere"]
    assert {"Alt+1", "Alt+3", "Ctrl+L", "Ctrl+O", "F1"} <= set(keys)
    assert len(keys) == len(set(keys))
    assert len(rows) == len(set(rows))
    window.menus.dialog.close()


def test_what_the_program_can_not_know_is_said(window):
    actions(window)["About hotelwatch"].trigger()
    dialog = window.menus.dialog
    assert dialog.isVisible()
    dialog.close()


def test_closing_asks_while_something_is_done(window, qtbot):
    def endless(progress):
        while True:
            progress(0.5, "counting")

    window.jobs.run(endless, label="Counting", on_done=print)
    window.close()
    assert window.isVisible()
    bar = window.notices.bars()[0]
    assert bar.tone is Tone.ASKED
    qtbot.mouseClick(bar.button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not window.isVisible())


@pytest.mark.parametrize("wish", ["close", "open_demo"])
def test_what_is_asked_about_work_under_way_goes_with_its_end(window, qtbot, wish):
    done = Event()
    window.jobs.run(done.wait, label="Counting", on_done=print)
    window.close() if wish == "close" else window.opening.open_demo()
    (bar,) = window.notices.bars()
    assert bar.button.text().startswith("Stop it and ")
    done.set()
    qtbot.waitUntil(lambda: not window.jobs.is_busy)
    assert window.isVisible()
    assert window.notices.bars() == ()
    window.notices.done("Something else.")
    window.jobs.run(int, label="Counting", on_done=print)
    qtbot.waitUntil(lambda: not window.jobs.is_busy)
    assert len(window.notices.bars()) == 1


def test_closing_does_not_ask_about_what_the_window_reads_for_itself(window):
    def endless(progress):
        while True:
            progress(0.5, "counting")

    window.jobs.run(endless, label="Reading", on_done=print, unasked=True)
    assert window.jobs.is_busy
    window.close()
    assert not window.isVisible()


def test_the_size_is_kept_on_closing(window, tmp_path):
    window.resize(1111, 777)
    window.close()
    assert (window.store.choices.width, window.store.choices.height) == (1111, 777)


def test_an_error_of_a_page_goes_to_the_calm_dialog_of_the_window(window, qtbot):
    def broken():
        raise ZeroDivisionError

    window.jobs.run(broken, label="", on_done=print)
    qtbot.waitUntil(lambda: window.notices.bug_dialog is not None)
    assert "ZeroDivisionError" in window.notices.bug_dialog.details.toPlainText()
    window.notices.bug_dialog.close()


def test_everything_one_can_reach_has_a_name(window, nameless):
    window.notices.done("Done.", "Open")
    assert nameless(window) == []


# --- the first screen ---------------------------------------------------------------------


def test_my_hotel_is_started_with_name_zone_and_file(make_window, qtbot, tmp_path):
    window = make_window(SPECS)
    qtbot.keyClick(window, Qt.Key.Key_N, CONTROL)
    form = window.welcome.form
    qtbot.keyClicks(form.name, "Inn on the Hill")
    assert form.path() == tmp_path / "inn-on-the-hill.hotelwatch"
    qtbot.keyClick(form.name, Qt.Key.Key_Return)
    assert window.hotel.house.hotel.name == "Inn on the Hill"
    assert window.hotel.house.hotel.zone == "Europe/Vienna"
    assert (tmp_path / "inn-on-the-hill.hotelwatch").is_file()


def test_back_from_a_new_hotel_leads_to_the_page_of_the_one_that_is_open(window, qtbot):
    window.stack.go_to("rounds")
    qtbot.keyClick(window, Qt.Key.Key_N, CONTROL)
    assert window.welcome.form.isVisible()
    assert not window.header.isVisible()
    qtbot.mouseClick(window.welcome.back, Qt.MouseButton.LeftButton)
    assert window.stack.pages["rounds"].isVisible()
    assert window.navigation.isVisible()
    assert window.header.isVisible()
    window.new_hotel()
    window.walk_to("today")
    qtbot.waitUntil(window.stack.pages["today"].isVisible)
    assert window.navigation.isVisible()
    assert window.header.isVisible()


def test_back_from_a_new_hotel_leads_to_the_first_screen_while_none_is_open(make_window, qtbot):
    window = make_window(SPECS)
    window.new_hotel()
    qtbot.mouseClick(window.welcome.back, Qt.MouseButton.LeftButton)
    assert window.welcome.demo.isVisible()
    assert not window.header.isVisible()


def test_what_is_typed_is_asked_about_before_the_invented_hotel_is_built(window, qtbot):
    built = []
    path = window.hotel.path
    window.opening._doors = replace(window.doors, make_demo=lambda: built.append(1) or path)
    window.stack.pages["today"].unsaved = lambda: ("A round is drafted, but not published.",)
    window.opening.open_demo()
    (bar,) = window.notices.bars()
    assert bar.label.text().endswith("Opening another hotel's file throws it away.")
    assert built == []
    first = window.hotel
    qtbot.mouseClick(bar.button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.hotel is not first)
    assert built == [1]


def test_what_a_new_hotel_lacks_is_said_in_place(make_window, qtbot):
    window = make_window(SPECS)
    window.new_hotel()
    form = window.welcome.form
    form.zone.setCurrentText("Nowhere")
    qtbot.mouseClick(window.welcome.begin, Qt.MouseButton.LeftButton)
    assert form.problem_of(form.name)
    assert form.problem_of(form.zone)
    assert form.problem_of(form.file)
    assert window.hotel is None


def test_the_ending_of_a_hotels_file_is_added(make_window, tmp_path):
    window = make_window(SPECS)
    form = window.welcome.form
    form.file.setText(str(tmp_path / "v1.2 test"))
    assert form.path() == tmp_path / "v1.2 test.hotelwatch"


def test_a_file_that_is_there_is_never_written_over(make_window, make_hotel, two_floors):
    taken = make_hotel(two_floors)
    window = make_window(SPECS)
    window.opening.start(taken.path, taken.house.hotel)
    assert window.notices.bars()[0].tone is Tone.LATE
    assert window.hotel is None


def test_the_invented_hotel_is_built_as_a_job_and_opened(
    make_window, make_hotel, two_floors, qtbot
):
    make_hotel(two_floors).close()
    window = make_window(SPECS)
    qtbot.mouseClick(window.welcome.demo.button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.hotel is not None)
    assert window.stack.place == "today"


def test_every_way_to_begin_has_a_name(make_window, nameless):
    window = make_window(SPECS)
    assert nameless(window) == []
    window.new_hotel()
    assert nameless(window) == []


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_enter_presses_the_button_that_has_the_keyboard_as_space_does(window, qtbot, key):
    button = window.stack.pages["today"].findChild(QPushButton)
    pressed = []
    button.clicked.connect(lambda: pressed.append(key))
    button.setFocus()
    qtbot.keyClick(button, key)
    assert pressed == [key]
    place = window.navigation.buttons["rounds"]
    place.setFocus()
    qtbot.keyClick(place, key)
    qtbot.waitUntil(lambda: window.stack.place == "rounds")
    bar = window.notices.done("Written.")
    bar.put_away.setFocus()
    qtbot.keyClick(bar.put_away, key)
    assert window.notices.bars() == ()


def test_one_enter_presses_no_button_that_it_only_led_to(window, qtbot):
    page = window.stack.pages["today"]
    button, line, pressed = page.findChild(QPushButton), QLineEdit(page), []
    line.show()
    button.clicked.connect(lambda: pressed.append(True))
    line.returnPressed.connect(button.setFocus)
    line.setFocus()
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert button.hasFocus()
    assert pressed == []


def test_what_is_typed_but_not_saved_is_asked_about_before_closing(window, qtbot):
    window.stack.pages["today"].unsaved = lambda: ("A round is drafted, but not published.",)
    window.close()
    assert window.isVisible()
    (bar,) = window.notices.bars()
    assert bar.label.text() == "A round is drafted, but not published. Closing throws it away."
    qtbot.mouseClick(bar.put_away, Qt.MouseButton.LeftButton)
    assert window.isVisible()
    window.close()
    qtbot.mouseClick(window.notices.bars()[0].button, Qt.MouseButton.LeftButton)
    assert not window.isVisible()


@pytest.mark.parametrize("pane", ["holidays", "carts"])
def test_what_is_typed_in_the_forms_of_the_house_rules_is_asked_about_too(
    make_window, make_hotel, two_floors, qtbot, pane
):
    hotel = make_hotel(two_floors)
    hotel.close()
    window = make_window([spec for spec in page_specs() if spec.key in ("today", "rules")])
    assert window.open_path(hotel.path)
    window.stack.go_to("rules")
    form = getattr(window.stack.pages["rules"], pane)
    qtbot.keyClicks(form.name, "Something")
    window.close()
    assert window.isVisible()
    said = window.notices.bars()[0].label.text()
    assert said.startswith("Not saved: “House rules, ")
    window.notices.clear()
    form.name.clear()
    window.close()
    assert not window.isVisible()


def test_recent_files_that_are_gone_are_marked_and_forgotten(window, tmp_path, qtbot):
    gone = str(tmp_path / "gone.hotelwatch")
    choices = window.store.choices
    window.store.keep(replace(choices, recent=(*choices.recent, gone)))
    window._adapt_menus()
    menu = window.menus.recent
    menu.aboutToShow.emit()
    here = str(window.hotel.path)
    texts = [action.text() for action in menu.actions() if not action.isSeparator()]
    assert texts == [
        here,
        f"{gone} – not there now",
        "Forget those that are &not there",
        "&Forget all recent files",
    ]
    menu.actions()[3].trigger()
    assert window.store.choices.recent == (here,)
    menu.actions()[-1].trigger()
    assert window.store.choices.recent == ()
    assert not menu.isEnabled()


def test_keys_of_the_page_in_view_come_first(window, qtbot):
    window.stack.go_to("rounds")
    window.menus.show_keys()
    rows = window.menus.dialog.table.model.rows
    assert (rows[0].keys, rows[0].what, rows[0].where) == ("L", "Looked at", "Rounds")
    assert {"Everywhere", "In tables", "In forms"} <= {row.where for row in rows}
    window.menus.dialog.close()
