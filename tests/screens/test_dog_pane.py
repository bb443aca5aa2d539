"""Dogs' visits in the window: alerts and what became of them, beside the form."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from hotelwatch.core.case_facts import QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.room_record import room_record
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.treatment_facts import DogVisit
from hotelwatch.screens.building.record_table import record_table
from hotelwatch.screens.cases.page import CasesPage
from tests.build import day, house

CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def hotel(make_hotel):
    build = house()
    for room in ("101", "102", "103"):
        build.room(room).bed("A").checked("A", day(30))
    return make_hotel(build)


@pytest.fixture
def page(make_context, hotel, qtbot):
    context = make_context(hotel, pages=("checks", "cases"))
    made = CasesPage(context)
    qtbot.addWidget(made)
    context.bus.changed.connect(made.refresh)
    made.resize(1000, 700)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh()
    made.tabs.setCurrentIndex(2)
    return made


def type_visit(qtbot, page, rooms="101, 102 103", alerts="102"):
    form = page.dogs.form
    form.firm.setFocus()
    for text in ("Keen Nose", "Hal", "as told"):
        qtbot.keyClicks(QApplication.focusWidget(), text)
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    form.rooms.setFocus()
    qtbot.keyClicks(form.rooms, rooms)
    form.alerts.setFocus()
    qtbot.keyClicks(form.alerts, alerts)
    qtbot.keyClick(form.alerts, Qt.Key.Key_Return, CONTROL)


def test_a_visit_is_written_down_by_keys_and_its_alert_asks_for_a_look(qtbot, page, hotel):
    before = [(one.bed, one.last_on) for one in looks(hotel.house, hotel.today())]
    type_visit(qtbot, page)
    (visit,) = hotel.house.all_of(DogVisit)
    assert (visit.firm, visit.handler, visit.certified) == ("Keen Nose", "Hal", "as told")
    assert (visit.rooms, visit.alerts, visit.by) == (("101", "102", "103"), ("102",), "tester")
    (sign,) = hotel.house.all_of(Sighted)
    assert (sign.room, sign.sign) == ("102", Sign.DOG_ALERT)
    assert [fact.room for fact in hotel.house.all_of(QuarantinePlaced)] == ["102"]
    assert [(one.bed, one.last_on) for one in looks(hotel.house, hotel.today())] == before
    assert page.tabs.tabText(2) == "Dog visits (1 open)"
    (line,) = page.dogs.table.model.rows
    assert line.alert.room == "102"
    assert not page.dogs.form.is_begun()


def test_an_alert_leads_to_its_case(qtbot, page, hotel):
    type_visit(qtbot, page)
    page.dogs.table.view.setFocus()
    page.dogs.table.select(page.dogs.table.model.rows[0].key)
    qtbot.keyClick(page.dogs.table.view, Qt.Key.Key_Return)
    assert page.tabs.currentIndex() == 0
    assert page.case == hotel.house.all_of(Sighted)[0].case


@pytest.mark.parametrize(
    ("rooms", "alerts", "field"),
    [
        ("101", "102", "alerts"),
        ("", "", "rooms"),
        ("101, 999", "", "rooms"),
        ("101", "9", "alerts"),
    ],
)
def test_what_cant_be_is_said_at_its_field_and_nothing_is_written(
    qtbot, page, hotel, rooms, alerts, field
):
    type_visit(qtbot, page, rooms, alerts)
    assert hotel.house.all_of(DogVisit) == ()
    assert page.dogs.form.form.problem_of(getattr(page.dogs.form, field))
    assert page.unsaved() == ("A dog's visit is begun, but not saved.",)


def test_all_rooms_of_a_floor_come_into_the_line_at_once(page):
    page.dogs.form.rooms.setText("103")
    page.dogs.form.floor.chosen.emit("1")
    assert page.dogs.form.rooms.text() == "103, 101, 102"


def test_what_an_alert_is_worth_is_said_with_its_source(page):
    said = page.dogs.said.text()
    assert "no find" in said
    assert "44 % of infested ones (10 to 100 % by team)" in said
    assert "15 % of others (0 to 57 %)" in said
    assert "Cooper, Wang, Singh 2014" in said
    assert "2.9 of 100 alerts" in said
    assert "nobody measured it in hotels" in said


def test_the_rooms_record_tells_a_silent_dog_from_a_look(qtbot, page, hotel):
    type_visit(qtbot, page)
    table = record_table()
    qtbot.addWidget(table)
    table.show_rows(room_record(hotel.house, RoomNo("101")))
    said = [table.model.index(row, 1).data() for row in range(table.model.rowCount())]
    assert said[0].startswith("Dog: silent; No alert; that is no look; Keen Nose and Hal")
    assert said[1].startswith("Deep check; ")
    table.show_rows(room_record(hotel.house, RoomNo("102")))
    assert table.model.index(0, 1).data().startswith("Dog: alert; Open: nobody has looked yet; ")
