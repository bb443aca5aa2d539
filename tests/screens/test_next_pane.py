"""What is next in a case: by whom, by when, and the buttons that lead to it."""

from __future__ import annotations

from datetime import timedelta

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from hotelwatch.actions.cases import log_sighting
from hotelwatch.core.case_facts import NoticeGiven, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.desk_duties import what_is_next
from hotelwatch.core.facts import CaseNo, RoomNo, StaysImported
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.screens.cases.next_pane import NextPane
from hotelwatch.wording.steps import step_sentence
from tests.build import house


@pytest.fixture
def hotel(make_hotel):
    return make_hotel(house().room("101").bed("A").room("102").bed("A"))


@pytest.fixture
def pane(make_context, hotel, qtbot):
    pane = NextPane(make_context(hotel))
    qtbot.addWidget(pane)
    pane.resize(700, 500)
    pane.show()
    return pane


def sight(hotel, sign):
    seen = Sighted(CaseNo(""), RoomNo("101"), "", "", sign, 1, "ana", hotel.now(), by_guest=True)
    return log_sighting(hotel, seen)


def button(pane, text):
    return next(b for b in pane._inside.findChildren(QPushButton) if b.text() == text)


def test_each_duty_says_who_and_by_when(pane, hotel):
    case = sight(hotel, Sign.LIVE_INSECT)
    pane.show_case(case_of(hotel.house, case))
    said = pane.text()
    assert "Answer the guest who told of 101" in said
    assert "Front desk · by" in said
    assert "Competent person · by" in said
    assert "A team of two" in said


def test_a_step_done_elsewhere_says_where(pane, hotel, qtbot):
    case = sight(hotel, Sign.LIVE_INSECT)
    pane.show_case(case_of(hotel.house, case))
    with qtbot.waitSignal(pane.wanted) as told:
        qtbot.mouseClick(button(pane, "Judge…"), Qt.MouseButton.LeftButton)
    assert told.args == ["judge_specimen"]


def test_a_guest_is_answered_with_a_text_at_hand_and_never_named(pane, hotel, qtbot):
    case = sight(hotel, Sign.BITES_REPORTED)
    pane.show_case(case_of(hotel.house, case))
    qtbot.mouseClick(button(pane, "It was told…"), Qt.MouseButton.LeftButton)
    form = pane.notice
    assert "doctor" in form.text.toPlainText()
    form.to.setText("")
    form.try_to_save()
    assert form.form.problem_of(form.to)
    form.to.setText("guest of 101")
    form.try_to_save()
    (given,) = hotel.house.all_of(NoticeGiven)
    assert (given.notice, given.to) == ("answer_guest", "guest of 101")
    pane.show_case(case_of(hotel.house, case))
    assert "Answer the guest" not in pane.text()


def test_somebody_is_named_for_a_duty_and_taken_back(pane, hotel, qtbot):
    case = sight(hotel, Sign.BITES_REPORTED)
    pane.show_case(case_of(hotel.house, case))
    for name, shown in (("Ines", "Ines ·"), ("", "A team of two ·")):
        qtbot.mouseClick(button(pane, "Name who…"), Qt.MouseButton.LeftButton)
        pane.owner.who.setText(name)
        pane.owner.try_to_save()
        pane.show_case(case_of(hotel.house, case))
        assert shown in pane.text()


def test_a_guest_to_be_moved_stands_there_first_and_front_desk_is_one_press_away(
    hotel, make_context, qtbot, went
):
    arrives, leaves = (hotel.today() + timedelta(days=n) for n in (-2, 3))
    stay = Stay("b1", "101", "", arrives, leaves, StayStatus.IN_HOUSE)
    hotel.record_stays([stay], StaysImported("list.csv", "0" * 64, hotel.today(), 1, 0))
    context = make_context(hotel, pages=("desk",))
    pane = NextPane(context)
    qtbot.addWidget(pane)
    case = sight(hotel, Sign.LIVE_INSECT)
    pane.show_case(case_of(hotel.house, case))
    wanted = what_is_next(hotel.house, hotel.occupancy(), hotel.now())
    sentences = [step_sentence(duty.step, hotel.zone) for duty in wanted]
    said = pane.text().splitlines()
    assert [line for line in said if line in sentences] == sentences
    assert said[0].startswith("Give the guest of 101")
    qtbot.mouseClick(button(pane, "To front desk"), Qt.MouseButton.LeftButton)
    assert went(context) == [("desk", "101")]
