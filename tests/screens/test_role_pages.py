from __future__ import annotations

from dataclasses import replace

import argon2
import pytest
from PySide6.QtCore import QAbstractListModel, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QLabel,
    QPushButton,
    QTabWidget,
    QWidget,
)

from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.people import describe_person, get_up, sit_down
from hotelwatch.actions.trials import hide_dummy
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.people import people
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.trial_facts import DummyHidden
from hotelwatch.screens.at_hand.only_if import _Hidden
from hotelwatch.screens.layout.made_later import MadeLater
from hotelwatch.screens.pages import page_specs
from tests.build import day, moment

EXEC, SUPERVISOR, HOUSEKEEPER, DESK, ENGINEER, MANAGER = StaffRole
PIN = "2580"
NAMES = {
    EXEC: "Eva",
    SUPERVISOR: "Sol",
    HOUSEKEEPER: "Ana",
    DESK: "Dan",
    ENGINEER: "Edo",
    MANAGER: "Mia",
}
FINDER, NOTED, DUMMY = "Finderella", "behind the headboard screw", "Dummy-77"


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """Hash with the least costs, so that tests do not wait."""
    hasher = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    monkeypatch.setattr("hotelwatch.actions.people.hash_of", hasher.hash)


@pytest.fixture
def window(make_window, make_hotel, two_floors):
    """A window on a hotel with a case, a hidden dummy and a person of each role."""
    hotel = make_hotel(two_floors)
    seen = Sighted("", "102", "102/A", "", Sign.LIVE_INSECT, 2, FINDER, moment(40), NOTED)
    log_sighting(hotel, seen)
    hide_dummy(hotel, DummyHidden(DUMMY, "201", "201/A", "base_underside", day(40), "Eva"))
    for role, name in NAMES.items():
        describe_person(hotel, name, role, pin=PIN)
    get_up(hotel)
    made = make_window(page_specs())
    assert made.open_path(hotel.path)
    yield made
    made._is_leaving = True


def come_in(window, role):
    window.desk.lock()
    window.desk._try(NAMES[role], PIN)
    assert not window.desk.is_locked


def everything_on(widget):
    """Every text, hint and cell, seen or not, that hangs on a widget."""
    said = []
    for one in [widget, *widget.findChildren(QWidget)]:
        said += [one.toolTip(), one.accessibleName(), one.accessibleDescription()]
        for what in ("text", "title", "placeholderText"):
            if callable(getattr(one, what, None)):
                said.append(str(getattr(one, what)()))
        if isinstance(one, QAbstractItemView) and one.model() is not None:
            said += cells_of(one.model())
    return "\n".join(said)


def cells_of(model):
    roles = (
        Qt.ItemDataRole.DisplayRole,
        Qt.ItemDataRole.ToolTipRole,
        Qt.ItemDataRole.AccessibleTextRole,
    )
    for row in range(model.rowCount()):
        # A list's one column can't be asked for from outside.
        columns = 1 if isinstance(model, QAbstractListModel) else model.columnCount()
        for column in range(columns):
            for role in roles:
                yield str(model.index(row, column).data(role) or "")


def page_of(window, key):
    window.stack.go_to(key)
    assert window.stack.place == key
    return window.stack.pages[key]


def shown(button):
    return button.isVisibleTo(button.parentWidget())


# --- front desk -----------------------------------------------------------------------------


def test_front_desk_reads_no_detail_of_a_case_anywhere(window, qtbot):
    come_in(window, DESK)
    assert window.stack.shown_keys == {"desk", "load_bookings", "report"}
    for key in sorted(window.stack.shown_keys):
        page_of(window, key)
    said = everything_on(window)
    assert "102" in said  # it must block the room
    for detail in (FINDER, NOTED, DUMMY, "2026-001", "insect)", "Suspected"):
        assert detail not in said


def test_front_desk_logs_by_keyboard_and_is_told_what_to_do_alone(window, qtbot):
    come_in(window, DESK)
    qtbot.keyClick(window, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    form = window.stack.pages["report"].form
    assert form.room.hasFocus() or form.room.isAncestorOf(QApplication.focusWidget())
    qtbot.keyClicks(QApplication.focusWidget(), "202")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    qtbot.keyClicks(QApplication.focusWidget(), "Live insect")
    qtbot.keyClick(
        QApplication.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier
    )
    assert "202" in window.hotel.house.quarantined(moment(41))
    told = everything_on(window.notices)
    assert "Room 202 is not to be sold" in told
    assert "2026-00" not in told
    assert window.stack.place == "desk"


# --- who may, beside what one may not ---------------------------------------------------------


def test_who_may_give_a_room_back_stands_where_a_housekeeper_may_not(window):
    come_in(window, HOUSEKEEPER)
    panel = page_of(window, "cases").panel
    said = panel.release.for_others.text()
    assert said.startswith("Not for your role: Give the room back")
    assert "(Executive housekeeper and Supervisor)" in said
    assert "Place a trap" not in said
    assert "Judge" in panel.for_others.text()
    assert "Engineer" in panel.treat.for_others.text()
    come_in(window, SUPERVISOR)
    assert not shown(page_of(window, "cases").panel.release.for_others)


@pytest.mark.parametrize("role", [SUPERVISOR, HOUSEKEEPER, DESK, ENGINEER, MANAGER])
def test_beside_what_a_role_is_not_offered_stands_who_may(window, role):
    come_in(window, role)
    count = 0
    for key in sorted(window.stack.shown_keys):
        page = page_of(window, key)
        for part in page.findChildren(MadeLater):
            part.pane()
        for hidden in left_out_on(page):
            count += 1
            lines = [label.text() for label in part_around(hidden, page).findChildren(QLabel)]
            said = (type(hidden), type(hidden.parent()), getattr(hidden, "text", str)())
            assert any(line.startswith("Not for your role: ") for line in lines), (key, said)
    assert count or role is DESK
    window.jobs.stop_all()


def left_out_on(page):
    """What is hidden from a role for good, but for lines that have nothing to say."""
    return [
        one
        for one in page.findChildren(QWidget)
        if one.findChild(_Hidden, options=Qt.FindChildOption.FindDirectChildrenOnly)
        and not (isinstance(one, QLabel) and not one.text())
    ]


def part_around(widget, page):
    """The tab in which something lies, where that shows; else what is around it."""
    inner, around = widget, widget.parentWidget()
    while inner is not page:
        tabs = around.parentWidget()
        if isinstance(tabs, QTabWidget) and tabs.isTabVisible(tabs.indexOf(inner)):
            return inner
        inner, around = around, around.parentWidget()
    return page


def test_who_may_go_back_to_a_backup_stands_in_the_box(window, clock):
    window.doors = replace(window.doors, clock=clock)
    for role, may in ((SUPERVISOR, False), (EXEC, True)):
        come_in(window, role)
        window.backups.show()
        box = window.backups.dialog
        assert shown(box.restore) is may
        told = "Not for your role: Choose when they are made and Go back to a backup"
        assert (told in everything_on(box)) is not may
        assert box.when.isEnabled() is may
        box.close()
    window.doors = replace(window.doors, clock=None)


# --- what each role is offered ---------------------------------------------------------------


@pytest.mark.parametrize("role", list(StaffRole))
def test_every_role_opens_all_its_pages(window, role):
    come_in(window, role)
    for key in sorted(window.stack.shown_keys):
        page_of(window, key)
    offered = {key for key, one in window.navigation.buttons.items() if one.isVisible()}
    assert offered == window.stack.shown_keys & set(window.navigation.buttons)


@pytest.mark.parametrize(
    ("role", "gives_back", "judges", "records_treatment"),
    [
        (EXEC, True, True, True),
        (SUPERVISOR, True, True, True),
        (HOUSEKEEPER, False, False, False),
        (ENGINEER, False, False, True),
        (MANAGER, False, False, False),
    ],
)
def test_buttons_of_a_case_follow_the_role(window, role, gives_back, judges, records_treatment):
    come_in(window, role)
    panel = page_of(window, "cases").panel
    assert panel.case is not None
    assert shown(panel.to_judge) is judges
    panel.tabs.setCurrentWidget(panel.treat_part)
    assert shown(panel.treat.to_treat) is records_treatment
    panel.tabs.setCurrentWidget(panel.release_part)
    assert shown(panel.release.to_lift) is gives_back


@pytest.mark.parametrize("role", [EXEC, SUPERVISOR, MANAGER])
def test_only_who_hides_dummies_sees_where_they_lie(window, role, qtbot):
    come_in(window, role)
    page = page_of(window, "odds")
    qtbot.waitUntil(lambda: page._view is not None, timeout=20_000)
    tab = page.tabs.indexOf(page.trials)
    assert page.tabs.isTabVisible(tab) is (role is not MANAGER)
    assert (DUMMY in everything_on(page)) is (role is not MANAGER)
    window.jobs.stop_all()


def test_who_only_reads_has_nothing_to_save(window, qtbot):
    come_in(window, MANAGER)
    for key in ("today", "rounds", "building", "cases", "desk", "month", "rules", "checks"):
        page = page_of(window, key)
        texts = {
            button.text().replace("&", "")
            for button in page.findChildren(QPushButton)
            if button.isVisible()
        }
        assert not texts & {"Save", "Publish", "Close the month…", "Record a check", "Explain"}
    window.jobs.stop_all()


# --- people ----------------------------------------------------------------------------------


@pytest.fixture
def open_hotel_window(make_window, make_hotel, two_floors):
    made = make_window(page_specs())
    assert made.open_path(make_hotel(two_floors).path)
    yield made
    made._is_leaving = True


def people_pane(window):
    page = page_of(window, "rules")
    page.tabs.setCurrentWidget(page.people)
    return page.people


def type_into(qtbot, field, text):
    field.setFocus()
    field.clear()
    qtbot.keyClicks(field, text)


def describe(qtbot, pane, name, role, pin=PIN, again=None):
    type_into(qtbot, pane.name, name)
    pane.role.setFocus()
    qtbot.keyClicks(pane.role, pane.role.itemText(list(StaffRole).index(role)))
    type_into(qtbot, pane.pin, pin)
    type_into(qtbot, pane.again, pin if again is None else again)
    qtbot.keyClick(pane.again, Qt.Key.Key_Return)


def test_the_first_people_are_added_by_keyboard(open_hotel_window, qtbot):
    window, pane = open_hotel_window, people_pane(open_hotel_window)
    assert pane.begin.isVisible()
    describe(qtbot, pane, "Eva", EXEC)
    assert window.header.person.accessibleName() == "Eva · Executive housekeeper"
    assert not pane.begin.isVisible()
    describe(qtbot, pane, "Ana", HOUSEKEEPER)
    house = window.hotel.house
    assert {name: one.role for name, one in people(house).items()} == {
        "Eva": EXEC,
        "Ana": HOUSEKEEPER,
    }
    sit_down(window.hotel, "Ana", PIN)
    assert window.hotel.seat.role is HOUSEKEEPER


def test_what_is_wrong_with_a_person_is_said_at_its_field(open_hotel_window, qtbot):
    pane = people_pane(open_hotel_window)
    for pin, again, said in (
        ("2580", "2581", "not the same"),
        ("123", "123", "too short"),
        ("1234", "1234", "Anybody would guess"),
    ):
        describe(qtbot, pane, "Eva", EXEC, pin, again)
        assert said in everything_on(pane.form)
        assert not open_hotel_window.hotel.is_guarded


def test_the_last_executive_housekeeper_cannot_leave_in_the_window(window, qtbot):
    come_in(window, EXEC)
    pane = people_pane(window)
    pane.table.select("Eva")
    qtbot.mouseClick(pane.leave, Qt.MouseButton.LeftButton)
    assert "Nobody would be left" in everything_on(window.notices)
    assert "Eva" in people(window.hotel.house)


def test_who_was_refused_what_is_listed(window, qtbot):
    window.desk._try("Ana", "9999")
    come_in(window, EXEC)
    pane = people_pane(window)
    said = everything_on(pane.refused)
    assert "Ana (Housekeeper)" in said
    assert "Wrong PIN" in said
    assert "Sitting down at the desk" in said


def test_one_changes_ones_own_pin(window, qtbot):
    come_in(window, HOUSEKEEPER)
    window.desk.change_pin()
    form = next(one for one in window.findChildren(QWidget) if type(one).__name__ == "PinForm")
    type_into(qtbot, form.old, PIN)
    type_into(qtbot, form.new, "7413")
    type_into(qtbot, form.again, "7413")
    qtbot.keyClick(form.again, Qt.Key.Key_Return)
    window.desk.lock()
    window.desk._try("Ana", "7413")
    assert window.hotel.person == "Ana"


def test_any_housekeeper_logs_a_sighting_with_all_its_fields_in_under_a_minute(window, qtbot):
    """No key is saved up: place, how many, age, specimen and note are all given."""
    come_in(window, HOUSEKEEPER)
    keys = 0

    def press(*told):
        nonlocal keys
        for one in told:
            for part in one if isinstance(one, str) else (one,):
                at = QApplication.activePopupWidget() or QApplication.focusWidget()
                if isinstance(part, str):
                    qtbot.keyClicks(at, part)
                else:
                    key, modifier = part if isinstance(part, tuple) else (part, None)
                    qtbot.keyClick(at, key, modifier or Qt.KeyboardModifier.NoModifier)
                keys += 1

    control = Qt.KeyboardModifier.ControlModifier
    before = len(window.hotel.house.all_of(Sighted))
    qtbot.keyClick(window, Qt.Key.Key_L, control)
    form = window.stack.pages["cases"].sighting.form
    assert "nobody is blamed" in form.no_blame.text()
    assert form.no_blame.isVisible()
    assert "No people, no names" in form.photo.reminder.text()
    assert form.photo.reminder.isVisible()
    tab, enter = Qt.Key.Key_Tab, (Qt.Key.Key_Return, control)
    press("102", tab, "li", tab, "underside of the b", tab)
    for field, text in ((form.count, "3"), (form.specimen, "T7"), (form.kept_at, "safe")):
        while QApplication.focusWidget() is not field:
            press(tab)
            assert keys < 80
        press(text)
    press(enter)
    seen = window.hotel.house.all_of(Sighted)
    assert len(seen) == before + 1
    assert (seen[-1].room, seen[-1].sign, seen[-1].count) == ("102", Sign.LIVE_INSECT, 3)
    assert (seen[-1].seen_by, seen[-1].place != "") == ("Ana", True)
    # Keystroke-level model (Card, Moran, Newell 1980, Communications of the ACM 23:396, from
    # memory): 0.28 s for a key by an average typist, 1.35 s to think before each of six fields.
    assert (keys + 1) * 0.28 + 6 * 1.35 < 60
    assert keys + 1 <= 45
