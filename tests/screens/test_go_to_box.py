"""Naming a room, a case, a page or an action by keyboard, in the real window on real files.

What a person expects of the order is common practice, no source.
"""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QLineEdit

from hotelwatch.actions.cases import log_sighting
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.checks.room_mark import RoomMark, file_number, mark_text
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.screens.frame.go_to_box import MOST_SHOWN, Finder, Goal, Kind, Ways, goals_in_house
from hotelwatch.screens.look.theme import Theme
from hotelwatch.screens.pages import page_specs
from tests.build import house, moment

CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def window(make_window, make_hotel, two_floors):
    """The window with its real pages on a hotel of five rooms and two cases."""
    hotel = make_hotel(two_floors.room("290", floor="2", wing="Lake", order=30))
    for room in ("101", "290"):
        seen = Sighted(CaseNo(""), room, "", "", Sign.LIVE_INSECT, 1, "Mara", moment(39))
        log_sighting(hotel, seen)
    hotel.close()
    made = make_window(page_specs())
    assert made.open_path(hotel.path)
    return made


@pytest.fixture
def ask(qtbot):
    """Opens the box by its key and types into it."""

    def open_and_type(window, typed=""):
        qtbot.keyClick(window, Qt.Key.Key_G, CONTROL)
        box = window.menus.dialog
        assert box.isVisible()
        qtbot.keyClicks(box.line, typed)
        return box

    return open_and_type


def texts(box):
    return [goal.text for goal in box.shown]


def press(qtbot, box, *keys):
    for key in keys:
        qtbot.keyClick(box.line, key)


def test_a_room_typed_by_number_is_in_view_on_the_building_page(window, ask, qtbot):
    box = ask(window, "102")
    assert texts(box)[0] == "Room 102"
    press(qtbot, box, Qt.Key.Key_Return)
    assert not box.isVisible()
    assert window.stack.place == "building"
    assert window.stack.pages["building"].room == "102"


def test_a_bed_leads_to_its_room(window, ask, qtbot):
    box = ask(window, "102/b")
    assert texts(box) == ["Room 102"]
    assert "102/B" in box.shown[0].beside
    press(qtbot, box, Qt.Key.Key_Return)
    assert window.stack.pages["building"].room == "102"


def test_each_case_comes_into_view_on_its_page(window, ask, qtbot):
    for case in window.hotel.house.sightings:
        box = ask(window, f"case {case}")
        assert texts(box) == [f"Case {case}"]
        press(qtbot, box, Qt.Key.Key_Return)
        assert window.stack.place == "cases"
        assert window.stack.pages["cases"].case == case


def test_a_case_comes_into_view_though_a_sighting_is_being_typed(window, ask, qtbot):
    window.log_sighting("202")
    (case, _other) = window.hotel.house.sightings
    press(qtbot, ask(window, case), Qt.Key.Key_Return)
    page = window.stack.pages["cases"]
    assert page.table.isVisible()
    assert page.case == case
    assert page.sighting.form.room.value() == "202"
    window.close()  # asks, since the sighting is begun
    window.notices.bars()[0].button.click()


def test_a_page_typed_by_name_is_shown(window, ask, qtbot):
    box = ask(window, "front")
    assert (box.shown[0].text, box.shown[0].keys) == ("Front desk", "Alt+6")
    press(qtbot, box, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.stack.place == "desk")


def test_an_action_is_set_off_and_stands_with_its_keys_and_its_menu(window, ask, qtbot):
    box = ask(window, "sighting")
    action = box.shown[0]
    assert (action.text, action.keys, action.beside) == ("Log a sighting", "Ctrl+L", "Menu Go to")
    press(qtbot, box, Qt.Key.Key_Return)
    assert window.stack.place == "cases"
    assert window.stack.pages["cases"].sighting.isVisible()
    press(qtbot, ask(window, "dark"), Qt.Key.Key_Return)
    assert window.store.choices.theme == Theme.DARK


def test_another_box_may_follow(window, ask, qtbot):
    box = ask(window, "keys")
    press(qtbot, box, Qt.Key.Key_Return)
    assert window.menus.dialog is not box
    assert window.menus.dialog.isVisible()
    assert "Ctrl+G" in {row.keys for row in window.menus.dialog.table.model.rows}
    window.menus.dialog.close()


def test_every_action_of_the_menus_is_there_but_the_box_itself(window, ask):
    box = ask(window)
    in_menus = {
        action.text().replace("&", "").rstrip("…")
        for menu in window.menuBar().actions()
        for action in menu.menu().actions()
        if action.text() and action.isVisible()
    }
    recent = {str(window.hotel.path), "Forget all recent files"}
    assert set(texts(box)) - in_menus == recent
    assert in_menus - set(texts(box)) == {"Recent", "Any room, case or action"}
    assert len(texts(box)) == len(set(texts(box)))
    assert texts(box)[:2] == ["Today", "Rounds"]
    box.close()


def test_arrows_choose_while_the_line_keeps_the_keyboard(window, ask, qtbot):
    box = ask(window, "room")
    assert texts(box)[:4] == ["Room 101", "Room 102", "Room 201", "Room 202"]
    press(qtbot, box, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Down)
    assert box.current().name == "201"
    assert box.focusWidget() is box.line
    press(qtbot, box, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp, Qt.Key.Key_PageUp)
    assert box.current().name == "101"
    press(qtbot, box, Qt.Key.Key_Down, Qt.Key.Key_Return)
    assert window.stack.pages["building"].room == "102"


def test_a_click_takes_what_it_hits(window, ask, qtbot):
    box = ask(window, "room")
    spot = box.list.visualItemRect(box.list.topLevelItem(2)).center()
    qtbot.mouseClick(box.list.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert window.stack.pages["building"].room == "201"


def test_what_nobody_knows_is_said_with_what_may_be_typed(window, ask, qtbot):
    place = window.stack.place
    box = ask(window, "wobble")
    assert box.shown == ()
    assert "“wobble”" in box.problem.text()
    for known in ("room", "bed", "case", "page", "menu"):
        assert known in box.problem.text()
    press(qtbot, box, Qt.Key.Key_Down, Qt.Key.Key_Return)
    assert box.isVisible()
    box.line.setText("101")
    assert not box.problem.isVisible()
    press(qtbot, box, Qt.Key.Key_Escape)
    assert not box.isVisible()
    assert window.stack.place == place


def test_without_a_hotel_it_says_what_is_not_possible(make_window, ask, qtbot):
    window = make_window(page_specs())
    box = ask(window)
    assert [goal.is_possible for goal in box.shown] == sorted(
        (goal.is_possible for goal in box.shown), reverse=True
    )
    qtbot.keyClicks(box.line, "back up")
    press(qtbot, box, Qt.Key.Key_Return)
    assert box.isVisible()
    assert box.problem.text() == "“Back up to” is not possible now."
    box.line.setText("101")
    assert "No rooms are known yet" in box.problem.text()
    box.line.setText("new hotel")
    press(qtbot, box, Qt.Key.Key_Return)
    assert window.welcome.form.isVisible()


def test_its_key_works_while_one_types_elsewhere(window, qtbot):
    line = QLineEdit("half", window)
    line.show()
    line.setFocus()
    qtbot.keyClick(line, Qt.Key.Key_G, CONTROL)
    assert window.menus.dialog.isVisible()
    assert line.text() == "half"
    window.menus.dialog.close()


def test_a_screen_reader_hears_where_one_stands(window, ask, qtbot, nameless):
    box = ask(window, "room")
    assert nameless(box) == []
    count = len(box.shown)
    press(qtbot, box, Qt.Key.Key_Down)
    heard = QAccessible.queryAccessibleInterface(box.line).text(QAccessible.Text.Description)
    assert heard == f"Room 102, Floor 1 · Beds 102/A, 102/B. 2 of {count}."
    box.line.setText("wobble")
    heard = QAccessible.queryAccessibleInterface(box.line).text(QAccessible.Text.Description)
    assert heard == box.problem.text()
    box.close()


# --- what fits ------------------------------------------------------------------------------


def goal(name, kind=Kind.ACTION, text="", beside=""):
    return Goal(kind, name, text or name, beside, print)


def names(goals, typed):
    return [one.name for one in Finder(goals).fitting(typed)]


def test_the_same_name_comes_first_then_beginnings_then_the_rest():
    rooms = [goal(no, Kind.ROOM, f"Room {no}") for no in ("1104", "1040", "104", "0104", "205")]
    assert names(rooms, "104") == ["104", "1040", "1104", "0104"]
    assert names(rooms, "ROOM 104") == ["104", "1040", "1104", "0104"]


def test_the_word_for_a_room_does_not_bury_what_begins_alike():
    many = [goal(str(no), Kind.ROOM, f"Room {no}") for no in range(100, 200)]
    assert names([*many, goal("Rounds", Kind.PAGE)], "ro") == ["Rounds"]


def test_words_fit_in_any_order_without_accents_or_case():
    goals = [
        goal("12", Kind.ROOM, beside="Floor 2 · Séjour"),
        goal("13", Kind.ROOM, beside="Floor 3 · Lac"),
    ]
    assert names(goals, "sejour 12") == names(goals, "12 SÉJOUR") == ["12"]


def test_while_nothing_is_typed_rooms_do_not_bury_pages_and_actions():
    goals = [goal("101", Kind.ROOM), goal("K1", Kind.CASE), goal("Today", Kind.PAGE), goal("Quit")]
    assert names(goals, "  ") == ["Today", "Quit"]


def test_rooms_out_of_use_are_no_goals():
    build = house()
    build.room("101").room("102", in_use=False)
    ways = Ways(to_room=print, to_case=None)
    assert [one.name for one in goals_in_house(build.house, ways)] == ["101"]


def test_of_many_the_first_are_shown_and_counted(make_window, make_hotel, ask):
    build = house()
    for no in range(1001, 1101):
        build.room(str(no))
    hotel = make_hotel(build)
    hotel.close()
    window = make_window(page_specs())
    window.open_path(hotel.path)
    box = ask(window, "10")
    assert len(box.shown) == box.list.topLevelItemCount() == MOST_SHOWN
    assert "The first 50 of 100" in box.count.text()
    box.close()


def test_a_mark_that_a_scanner_typed_from_a_sheet_leads_to_the_rooms_check(window, ask, qtbot):
    house = window.hotel.house
    version = house.rules.form_version
    mark = mark_text(RoomMark(file_number(house), date(2026, 2, 14), version, RoomNo("290")))
    box = ask(window, mark)
    assert texts(box) == ["Record the check of room 290", "Room 290"]
    assert box.shown[0].beside == "Sheet of Sat 14 Feb 2026"
    press(qtbot, box, Qt.Key.Key_Return)
    assert window.stack.place == "checks"
    look = window.stack.pages["checks"].form.draft.look
    assert (look.room, look.checked_on, look.form_version) == ("290", date(2026, 2, 14), version)
    # A keyboard layout may have typed small letters.
    box = ask(window, mark.lower())
    assert texts(box) == ["Record the check of room 290", "Room 290"]
    press(qtbot, box, Qt.Key.Key_Escape)


def test_a_mark_of_another_hotel_or_of_a_room_that_is_gone_leads_nowhere(window, ask, qtbot):
    number = file_number(window.hotel.house)
    other = f"{(int(number) + 1) % 10**6:06d}"
    box = ask(window, f"LOOK {other} 20260214 1 290")
    assert box.shown == ()
    assert box.problem.text() == "This mark is from a sheet of another hotel's file."
    box.line.setText(f"LOOK {number} 20260214 1 999")
    assert box.shown == ()
    assert box.problem.text() == "Room 999 of this sheet is not on the roster any more."
    press(qtbot, box, Qt.Key.Key_Escape)
