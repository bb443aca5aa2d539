"""The rest of a sheet in one go: exceptions first, then one key."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from hotelwatch.core.case_facts import CheckAsked, Sighted, Sign
from hotelwatch.core.checks.coverage import last_look
from hotelwatch.core.checks.place_looks import find_signs
from hotelwatch.core.facts import BedChecked, RoundPublished, SlotPublished
from hotelwatch.screens.checks.page import ChecksPage
from hotelwatch.screens.layout import second_press
from hotelwatch.screens.look.theme import TextSize, Theme
from tests.build import day, house, moment

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
TODAY = day(40)
ROOMS = [str(number) for number in range(101, 114)]
"""Thirteen: a day's section of one attendant is 13 to 15 rooms (owner training material)."""


def slot(position, room, team="Early"):
    return SlotPublished(TODAY, team, position, room, (f"{room}/A",), 20)


@pytest.fixture
def sheet():
    """Thirteen rooms on today's sheet; Anna and Boris looked at the last of them before."""
    build = house().team("Early")
    for room in ROOMS:
        build.room(room).bed("A")
    build.checked("A", day(30), by=("Anna", "Boris"))
    slots = [slot(number, room) for number, room in enumerate(ROOMS, 1)]
    return build.record(RoundPublished(TODAY, TODAY), *slots)


@pytest.fixture
def make_page(qtbot, make_hotel, make_context):
    def make(build):
        context = make_context(make_hotel(build))
        page = ChecksPage(context)
        qtbot.addWidget(page)
        context.bus.changed.connect(page.refresh)
        page.resize(1080, 680)
        page.show()
        with qtbot.waitActive(page):
            page.activateWindow()
        page.refresh()
        return page, context

    return make


def press(qtbot, key, modifier=Qt.KeyboardModifier.NoModifier):
    qtbot.keyClick(QApplication.focusWidget(), key, modifier)


def looked_at(context):
    checks = context.hotel.house.all_of(BedChecked)
    return [check.room for check in checks if check.checked_on == TODAY]


def test_a_whole_section_takes_a_press_and_a_key(make_page, sheet, qtbot):
    page, context = make_page(sheet)
    before = len(context.hotel.house.entries)
    qtbot.mouseClick(page.slots.rest, Qt.MouseButton.LeftButton)
    assert QApplication.focusWidget() is page.rest.rooms
    assert page.rest.save.text() == "Record 13 rooms as looked at (Ctrl+Enter)"
    assert "Beds looked at: 13. Undersides that will count: 13." in page.rest.said.text()
    press(qtbot, Key.Key_Return, CTRL)
    assert looked_at(context) == ROOMS
    assert len(context.hotel.house.entries) == before + 1
    assert {last_look(context.hotel.house, f"{room}/A", TODAY) for room in ROOMS} == {TODAY}
    assert "13 rooms are recorded as looked at" in page.told.text()
    assert not page.slots.rest.isVisible()


def test_exceptions_are_named_first_with_the_keyboard_only(make_page, sheet, qtbot):
    page, context = make_page(sheet)
    page.slots.rest.setFocus()
    press(qtbot, Key.Key_Space)
    press(qtbot, Key.Key_Down)
    press(qtbot, Key.Key_Space)  # 102 is an exception
    press(qtbot, Key.Key_Return, CTRL)
    assert looked_at(context) == [room for room in ROOMS if room != "102"]
    # The exception waits in its own form.
    assert page.form.draft.look.room == "102"
    assert page.form.isVisible()


def test_a_double_click_on_the_rest_does_not_record_the_room_that_was_kept_back(
    make_page, sheet, qtbot, monkeypatch
):
    monkeypatch.setattr(second_press, "PAUSE_MS", 60_000)
    page, context = make_page(sheet)
    page.slots.rest.click()
    press(qtbot, Key.Key_Down)
    press(qtbot, Key.Key_Space)  # 102 is an exception
    qtbot.mouseClick(page.rest.save, Qt.MouseButton.LeftButton)
    QTest.mouseDClick(page.form.save, Qt.MouseButton.LeftButton)
    QTest.mouseRelease(page.form.save, Qt.MouseButton.LeftButton)
    press(qtbot, Key.Key_Return, CTRL)
    assert looked_at(context) == [room for room in ROOMS if room != "102"]
    assert page.form.draft.look.room == "102"


def test_enter_opens_a_room_by_itself(make_page, sheet, qtbot):
    page, _ = make_page(sheet)
    page.slots.rest.click()
    press(qtbot, Key.Key_Down)
    press(qtbot, Key.Key_Down)
    press(qtbot, Key.Key_Return)
    assert page.form.isVisible()
    assert page.form.draft.look.room == "103"


def test_a_half_entered_room_is_never_taken_as_clean(make_page, sheet, qtbot):
    page, context = make_page(sheet)
    page.focus_room("101")
    look = find_signs(page.form.draft.look, "101/A", "base_underside", (Sign.LIVE_INSECT,))
    page.form._say(lambda *_args: look)
    page.slots.rest.click()
    first = page.rest.rooms.item(0)
    assert "Half entered" in first.text()
    assert first.checkState() is Qt.CheckState.Unchecked
    assert not first.flags() & Qt.ItemFlag.ItemIsUserCheckable
    press(qtbot, Key.Key_Return, CTRL)
    assert looked_at(context) == ROOMS[1:]
    assert page.form.draft.look == look


def test_a_room_that_a_case_wants_begins_unticked(make_page, sheet):
    sheet.record(
        Sighted("2026-001", "113", "113/A", "mattress_top", Sign.EGGS, 1, "x", moment(38)),
        CheckAsked("2026-001", "105", ("shares_wall",), moment(41)),
    )
    page, _ = make_page(sheet)
    page.slots.rest.click()
    ticked = {
        item.text().split(":")[0]: item.checkState() is Qt.CheckState.Checked
        for item in (page.rest.rooms.item(number) for number in range(page.rest.rooms.count()))
    }
    assert ticked["104"]
    assert not ticked["105"]


def test_one_name_is_told_and_refused_before_anything_is_written(make_page, sheet, qtbot):
    page, context = make_page(sheet)
    page.slots.rest.click()
    page.rest.who.set_names(["Anna"])
    assert "takes 2 people; name everybody" in page.rest.said.text()
    press(qtbot, Key.Key_Return, CTRL)
    assert looked_at(context) == []
    (bar,) = context.notices.bars()
    assert "takes 2 people" in bar.label.text()
    assert QApplication.focusWidget() is page.rest.who


def test_one_person_named_twice_is_told_before_a_sheet_is_saved(make_page, sheet):
    page, _ = make_page(sheet)
    page.slots.rest.click()
    page.rest.who.set_names(["Ana", "ana"])
    assert "ana is named twice" in page.rest.said.text()
    page.rest.who.set_names(["Ana", "Boris"])
    assert "twice" not in page.rest.said.text()


def test_each_team_has_its_own_sheet(make_page, qtbot):
    build = house().team("Early").team("Late")
    for room in ("101", "102", "103"):
        build.room(room).bed("A")
    build.checked("A", day(30), by=("Anna", "Boris"))
    build.record(
        RoundPublished(TODAY, TODAY), slot(1, "101"), slot(2, "102"), slot(1, "103", "Late")
    )
    page, _ = make_page(build)
    page.slots.rest.click()
    assert page.rest.team.isVisible()
    assert [look.room for look in page.rest.looks()] == ["101", "102"]
    page.rest.team.setCurrentIndex(1)
    page.rest.team.activated.emit(1)
    assert [look.room for look in page.rest.looks()] == ["103"]


def test_names_of_one_team_are_not_those_of_the_next(make_page, qtbot):
    build = house().team("Early").team("Late")
    for room in ("101", "102", "103", "104"):
        build.room(room).bed("A")
    early, late = (slot(1, "101"), slot(2, "102")), (slot(1, "103", "Late"), slot(2, "104", "Late"))
    build.record(RoundPublished(TODAY, TODAY), *early, *late)
    page, context = make_page(build)
    page.focus_room("101")
    page.form.head.who.set_names(["Ines", "Petr"])
    qtbot.mouseClick(page.form.save, Qt.MouseButton.LeftButton)
    assert page.form.head.who.names() == ("Ines", "Petr")  # the next room of the same sheet
    page.slots.rest.click()
    assert page.rest.who.names() == ("Ines", "Petr")
    page.rest.team.setCurrentIndex(1)
    page.rest.team.activated.emit(1)
    assert page.rest.who.names() == ()
    page.rest.who.set_names(["Olga", "Tom"])
    page.rest.team.setCurrentIndex(0)
    page.rest.team.activated.emit(0)
    assert page.rest.who.names() == ("Ines", "Petr")
    page.rest.save.click()
    # One team is left: it is still named, and nobody's names stand for it.
    page.slots.rest.click()
    assert page.rest.team.isVisible()
    assert page.rest.team.currentText() == "Team Late"
    assert page.rest.who.names() == ()
    assert QApplication.focusWidget() is page.rest.who
    assert page.form.draft is None
    page.focus_room("103")
    assert page.form.head.who.names() == ()
    assert looked_at(context) == ["101", "102"]


def test_nothing_ticked_is_nothing_to_save(make_page, sheet):
    page, _ = make_page(sheet)
    page.slots.rest.click()
    for number in range(page.rest.rooms.count()):
        page.rest.rooms.item(number).setCheckState(Qt.CheckState.Unchecked)
    assert not page.rest.save.isEnabled()
    page.rest.back.click()
    assert not page.rest.isVisible()


@pytest.mark.parametrize("size", list(TextSize))
def test_everything_has_a_name_and_fits_in_any_size(make_page, sheet, look, nameless, qtbot, size):
    look.choose(Theme.LIGHT, size)
    page, _ = make_page(sheet)
    page.slots.rest.click()
    assert nameless(page) == []
    shown = (page.rest.save, page.rest.back, page.rest.who)
    qtbot.waitUntil(lambda: all(one.width() >= one.minimumSizeHint().width() for one in shown))


def test_aids_used_are_ticked_once_for_all_rooms_of_the_sheet_by_keys(qtbot, make_page, sheet):
    page, context = make_page(sheet)
    page._show_rest()
    page.rest.aids.setFocus()
    press(qtbot, Key.Key_Space)
    menu = page.rest.aids.menu()
    qtbot.waitUntil(menu.isVisible)
    for key in (Key.Key_Down, Key.Key_Space, Key.Key_Down, Key.Key_Down, Key.Key_Space):
        qtbot.keyClick(menu, key)
    assert menu.isVisible()  # it stays while one ticks
    qtbot.keyClick(menu, Key.Key_Return)
    assert page.rest.aids.text() == "2 aids used"
    page.rest.who.setFocus()
    press(qtbot, Key.Key_Return, CTRL)
    checks = [row.fact for row in context.hotel.house.kept_of(BedChecked)][1:]
    assert len(checks) == 13
    assert {(fact.aids, fact.from_clock) for fact in checks} == {
        (("bright_light", "thin_card"), "")
    }
