from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QLineEdit, QScrollArea

from hotelwatch.screens.forms.fields import ChoiceField, DayField, Form, WhoField

ROOMS = [("101", "101"), ("102", "102"), ("1010", "1010"), ("0104", "0104")]


@pytest.fixture
def form(qtbot):
    made = Form()
    qtbot.addWidget(made)
    return made


def test_a_label_is_its_fields_buddy_and_names_it(form):
    field = form.add("&Room", QLineEdit())
    label = next(one for one in form.findChildren(QLabel) if one.text() == "&Room")
    assert label.buddy() is field
    assert field.accessibleName() == "Room"


def test_what_is_wrong_stands_below_the_field_until_the_next_try(form, qtbot):
    name, day = form.add("&Name", QLineEdit()), form.add("&Day", DayField(date(2026, 1, 5)))
    form.show()
    assert not form.has_problems()
    form.say(day, "This day lies ahead.")
    form.say(name, "A name is needed.")
    assert form.problem_of(day) == "This day lies ahead."
    assert form.focusWidget() is day
    assert name.accessibleDescription() == "A name is needed."
    form.clear()
    assert not form.has_problems()
    assert form.problem_of(name) == ""


def test_a_day_is_shown_and_typed_as_iso_8601_has_it(qtbot):
    # ISO 8601-1:2019, 5.2.2.1: calendar date, extended format YYYY-MM-DD.
    field = DayField(date(2026, 1, 5))
    qtbot.addWidget(field)
    assert field.text() == "2026-01-05"
    heard = []
    field.chosen.connect(heard.append)
    field.setSelectedSection(DayField.Section.YearSection)
    qtbot.keyClicks(field, "20270218")
    assert field.day() == date(2027, 2, 18)
    assert heard[-1] == date(2027, 2, 18)


def test_a_day_stays_within_its_bounds(qtbot):
    field = DayField(date(2026, 1, 5))
    qtbot.addWidget(field)
    field.keep_within(date(2026, 1, 1), date(2026, 1, 31))
    field.set_day(date(2026, 3, 1))
    assert field.day() == date(2026, 1, 31)


@pytest.fixture
def rooms(qtbot):
    made = ChoiceField(ROOMS)
    qtbot.addWidget(made)
    made.show()
    made.setFocus()
    return made


@pytest.mark.parametrize(
    ("typed", "value"),
    [("101", "101"), ("1010", "1010"), ("0104", "0104"), ("04", "0104"), ("10", None), ("7", None)],
)
def test_typing_chooses_what_it_names_exactly_or_alone(rooms, qtbot, typed, value):
    qtbot.keyClicks(rooms, typed)
    assert rooms.value() == value
    assert rooms.typed() == typed


def test_enter_settles_on_what_was_typed(rooms, qtbot):
    heard = []
    rooms.chosen.connect(heard.append)
    qtbot.keyClicks(rooms, "04")
    qtbot.keyClick(rooms, Qt.Key.Key_Return)
    assert heard == ["0104"]
    assert rooms.currentText() == "0104"


def test_a_choice_stays_when_others_are_offered(rooms):
    rooms.choose("102")
    rooms.offer([("102", "102"), ("103", "103")])
    assert rooms.value() == "102"
    rooms.offer([("103", "103")])
    assert rooms.value() is None
    assert rooms.typed() == ""


def test_names_are_read_with_commas_each_once(qtbot):
    field = WhoField(["Anna", "Boris"])
    qtbot.addWidget(field)
    field.setText(" Anna ,Boris  B.,, Anna")
    assert field.names() == ("Anna", "Boris B.")
    field.set_names(["Carla", "Dana"])
    assert field.text() == "Carla, Dana"


def test_one_name_may_hold_a_comma(qtbot):
    field = WhoField(several=False)
    qtbot.addWidget(field)
    field.setText("Smith, licensed")
    assert field.names() == ("Smith, licensed",)


def test_the_last_name_is_completed_and_those_before_it_stay(qtbot):
    field = WhoField(["Anna", "Boris"])
    qtbot.addWidget(field)
    field.show()
    field.setFocus()
    qtbot.keyClicks(field, "Anna, bo")
    completer = field.completer()
    assert completer.completionCount() == 1
    assert completer.currentCompletion() == "Anna, Boris"
    completer.popup().hide()


def test_what_was_wrong_goes_once_the_person_changes_the_field(qtbot):
    form = Form()
    qtbot.addWidget(form)
    name, on = form.add("Name", QLineEdit()), form.add("Day", DayField(date(2026, 11, 25)))
    room = form.add("Room", ChoiceField([("1", "101"), ("2", "102")]))
    form.show()
    for field in (name, on, room):
        form.say(field, "Not so.")
    qtbot.keyClicks(name, "A")
    assert form.problem_of(name) == ""
    assert name.property("wrong") == "false"
    qtbot.keyClick(on, Qt.Key.Key_Up)
    assert form.problem_of(on) == ""
    assert form.problem_of(room) == "Not so."
    qtbot.keyClicks(room.lineEdit(), "102")
    assert not form.has_problems()


def test_tab_leaves_a_day_at_once(form, qtbot):
    on, note = form.add("Day", DayField(date(2026, 11, 25))), form.add("Note", QLineEdit())
    with qtbot.waitActive(form):
        form.show()
        form.activateWindow()
    on.setFocus()
    qtbot.keyClick(on, Qt.Key.Key_Tab)
    assert form.focusWidget() is note
    qtbot.keyClick(note, Qt.Key.Key_Backtab)
    assert form.focusWidget() is on


@pytest.fixture
def low(form, qtbot):
    """A form in a scroll area that shows only its first lines."""
    lines = [form.add(f"Line {number}", QLineEdit()) for number in range(12)]
    on = form.add("Day", DayField(date(2026, 11, 25)))
    scroll = QScrollArea(widgetResizable=True)
    scroll.setWidget(form)
    qtbot.addWidget(scroll)
    scroll.resize(400, 160)
    with qtbot.waitActive(scroll):
        scroll.show()
        scroll.activateWindow()
    lines[0].setFocus()
    return scroll, on


def in_view(scroll, widget):
    top = widget.mapTo(scroll.viewport(), QPoint(0, 0)).y()
    return top >= 0 and top + widget.height() <= scroll.viewport().height()


def test_what_is_wrong_is_brought_into_view(low, form, qtbot):
    scroll, on = low
    assert not in_view(scroll, on)
    form.say(on, "This day has not come yet.")
    problem = next(one for one in form.findChildren(QLabel) if one.text().startswith("This day"))
    qtbot.waitUntil(lambda: in_view(scroll, on) and in_view(scroll, problem))


def test_the_wheel_scrolls_the_form_and_changes_no_day(low, qtbot):
    scroll, on = low
    scroll.ensureWidgetVisible(on)
    bar = scroll.verticalScrollBar()
    before = bar.value()
    spot = on.mapTo(scroll, on.rect().center())
    QTest.wheelEvent(scroll.windowHandle(), spot, QPoint(0, 120))
    assert on.day() == date(2026, 11, 25)
    assert not on.hasFocus()
    assert bar.value() < before
