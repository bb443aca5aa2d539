"""Surveys in the window: fields by keyboard, the answer at once, rooms to copy and to open."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.odds import OddsWish, odds_view
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo, StaysImported
from hotelwatch.core.odds.surveys.survey_wish import SurveyLook, SurveyOrder, SurveyQuestion
from hotelwatch.screens.look.theme import TextSize, Theme
from hotelwatch.screens.odds import survey_pane
from hotelwatch.screens.odds.page import OddsPage
from hotelwatch.screens.odds.survey_pane import SurveyPane
from tests.build import day, house, moment

ROOMS = 30
FIRST, LAST = "101", "130"


def thirty():
    build = house()
    for number in range(ROOMS):
        build.room(str(101 + number)).bed("A")
    return build


def view_of(hotel):
    return odds_view(OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today()))


@pytest.fixture
def make_pane(make_hotel, make_context, qtbot):
    def make(build):
        hotel = make_hotel(build)
        pane = SurveyPane(make_context(hotel, ("building", "load_roster")))
        qtbot.addWidget(pane)
        pane.resize(1060, 640)
        pane.show()
        pane.show_view(view_of(hotel))
        return pane, hotel

    return make


def rooms_of(pane):
    return [row.room for row in pane.planning.table.shown_rows()]


def typed(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def by_number(pane, number):
    pane.fields.counted.setCurrentIndex(1)
    pane.fields.number.setValue(number)


def test_the_usual_question_is_asked_first_and_its_limit_said(make_pane):
    pane, _ = make_pane(thirty())
    assert pane.fields.question() == SurveyQuestion(12, 0.95, 0.01)
    assert pane.planning.headline.text().startswith("One infested room cannot be ruled out to 95 %")
    assert "rounds through every room would be enough" in pane.planning.said.text()
    assert "(assumed)" in pane.planning.rests.text()
    assert "common practice" in pane.preset.text()
    assert len(rooms_of(pane)) == ROOMS


def test_a_number_typed_is_answered_at_once(make_pane, qtbot):
    pane, _ = make_pane(thirty())
    pane.fields.counted.setFocus()
    qtbot.keyClick(pane.fields.counted, Qt.Key.Key_Down)
    assert pane.fields.number.isVisible()
    assert not pane.fields.share.isVisible()
    typed(qtbot, pane.fields.number, "8")
    count = len(rooms_of(pane))
    assert 1 < count < ROOMS
    assert pane.planning.headline.text().startswith(f"Look at {count} rooms, ")
    assert "If 8 or more of the 30 rooms had at least 12 bed bugs" in pane.planning.said.text()
    typed(qtbot, pane.fields.insects, "60")
    assert len(rooms_of(pane)) < count
    assert "at least 60 bed bugs" in pane.planning.said.text()


def test_way_order_and_minutes_change_the_rooms(make_pane):
    pane, _ = make_pane(thirty())
    by_number(pane, 8)
    usual = rooms_of(pane)
    pane.fields.look.setCurrentIndex(list(SurveyLook).index(SurveyLook.FULL))
    assert len(rooms_of(pane)) < len(usual)
    assert "a cover once opened may not go back" in pane.planning.rests.text()
    pane.fields.look.setCurrentIndex(0)
    pane.fields.order.setCurrentIndex(list(SurveyOrder).index(SurveyOrder.AT_RANDOM))
    drawn = rooms_of(pane)
    assert drawn != sorted(drawn)
    pane.fields.minutes.setValue(60)
    assert pane.planning.headline.text() == "In 1 h not enough rooms can be looked at."
    assert set(rooms_of(pane)) < set(drawn)


def test_rooms_that_stay_shut_are_said_and_not_listed(make_pane):
    pane, hotel = make_pane(thirty())
    stays = house().stays(("103", 30, 60)).house.stays
    hotel.record_stays(stays, StaysImported("list.csv", "0" * 64, day(0), 1, 0))
    pane.show_view(view_of(hotel))
    assert "103" not in rooms_of(pane)
    assert "1 room cannot be entered on these days" in pane.planning.rests.text()
    pane.fields.days.setValue(30)
    assert "103" in rooms_of(pane)


def test_rooms_are_copied_and_opened(make_pane, went, qtbot):
    pane, _ = make_pane(thirty())
    by_number(pane, 8)
    rooms = rooms_of(pane)
    qtbot.mouseClick(pane.planning.copy, Qt.MouseButton.LeftButton)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert [line.split("\t")[0] for line in lines[1:]] == rooms
    assert not pane.planning.open.isEnabled()
    pane.planning.table.select(rooms[2])
    qtbot.mouseClick(pane.planning.open, Qt.MouseButton.LeftButton)
    assert went(pane._context)[-1] == ("building", rooms[2])


def looked_at(hotel, *rooms):
    looks = [
        full_look(
            hotel.house, RoomNo(room), on=hotel.today(), by=("Ana", "Ben"), kind=CheckKind.DEEP
        )
        for room in rooms
    ]
    record_looks(hotel, looks)


def test_what_looks_of_the_last_days_show(make_pane, qtbot):
    pane, hotel = make_pane(thirty())
    looked_at(hotel, *(str(101 + number) for number in range(25)))
    pane.show_view(view_of(hotel))
    pane.tabs.setCurrentWidget(pane.showing)
    assert pane.fields.last_days.isVisible()
    assert not pane.fields.look.isVisible()
    assert ": 25 of 30 rooms." in pane.showing.headline.text()
    by_number(pane, 10)
    said = pane.showing.said.text()
    assert "If 10 or more of the 30 rooms had at least 12 bed bugs, this survey would" in said
    assert "It says nothing about smaller infestations." in said
    assert len(pane.showing.table.shown_rows()) == 25
    pane.fields.until.set_day(hotel.today() - timedelta(days=1))
    assert "No room was looked at" in pane.showing.said.text()
    assert pane.showing.table.shown_rows() == ()


def test_a_sign_among_them_leaves_nothing_shown(make_pane):
    told = Sighted(CaseNo("2026-001"), RoomNo("104"), "", "", Sign.EGGS, 1, "Ana", moment(39))
    pane, hotel = make_pane(thirty().record(told))
    looked_at(hotel, FIRST, LAST)
    pane.show_view(view_of(hotel))
    pane.tabs.setCurrentWidget(pane.showing)
    said = pane.showing.said.text()
    assert "room 104 on Fri 13 Feb 2026, not judged yet" in said
    assert "times in 100" not in said


def test_what_one_typed_stays_when_odds_are_reckoned_anew(make_pane):
    pane, hotel = make_pane(thirty())
    by_number(pane, 7)
    before = rooms_of(pane)
    looked_at(hotel, *before)
    pane.show_view(view_of(hotel))
    assert pane.fields.number.value() == 7
    assert rooms_of(pane) != before


def test_no_more_rooms_can_be_asked_about_than_there_are(make_pane):
    pane, _ = make_pane(thirty())
    by_number(pane, 500)
    assert pane.fields.number.value() == ROOMS


def test_a_large_hotel_is_reckoned_beside_the_window(make_pane, qtbot, monkeypatch):
    monkeypatch.setattr(survey_pane, "ROOMS_AT_ONCE", 10)
    pane, _ = make_pane(thirty())
    jobs = pane._context.jobs
    by_number(pane, 5)
    by_number(pane, 8)
    qtbot.waitUntil(lambda: "If 8 or more" in pane.planning.said.text(), timeout=10_000)
    qtbot.waitUntil(lambda: not jobs.is_busy)
    assert len(rooms_of(pane)) < ROOMS


def test_days_past_are_not_planned_and_days_to_come_not_looked_back_on(make_pane):
    pane, hotel = make_pane(thirty())
    pane.fields.first.set_day(hotel.today() - timedelta(days=5))
    assert pane.fields.first.day() == hotel.today() == day(40)
    pane.fields.until.set_day(hotel.today() + timedelta(days=5))
    assert pane.fields.until.day() == hotel.today()


def test_without_a_room_the_next_step_is_said(make_pane, went, qtbot):
    pane, _ = make_pane(house())
    assert pane.next_step.isVisible()
    qtbot.mouseClick(pane.next_step.button, Qt.MouseButton.LeftButton)
    assert went(pane._context)[-1][0] == "load_roster"


def test_every_field_has_a_name_and_its_letter(make_pane, nameless):
    pane, _ = make_pane(thirty())
    for tab in (pane.planning, pane.showing):
        pane.tabs.setCurrentWidget(tab)
        assert nameless(pane) == []


@pytest.mark.parametrize("size", [(1060, 640), (1700, 920)])
@pytest.mark.parametrize("theme", [Theme.LIGHT, Theme.DARK])
def test_nothing_is_clipped_at_the_sides(make_pane, look, size, theme):
    look.choose(theme, TextSize.NORMAL)
    pane, _ = make_pane(thirty())
    pane.resize(*size)
    for field in (pane.fields.counted, pane.fields.insects, pane.fields.look, pane.fields.first):
        right = field.mapTo(pane, field.rect().topRight()).x()
        assert right < pane.tabs.x()
    assert pane.planning.table.isVisible()


def test_the_page_has_it_among_its_tabs(make_hotel, make_context, qtbot):
    context = make_context(make_hotel(thirty()))
    page = OddsPage(context)
    qtbot.addWidget(page)
    page.resize(1080, 680)
    page.show()
    with qtbot.waitSignal(context.jobs.idle, timeout=20_000):
        page.refresh()
    page.tabs.setCurrentWidget(page.survey)
    assert page.survey.planning.headline.text().startswith("One infested room cannot be ruled out")
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
