"""House rules in the window: a local set, single choices, figures, holidays."""

from __future__ import annotations

from datetime import date

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import Qt

from hotelwatch.actions.rule_sets import write_template
from hotelwatch.core.clocks import holidays
from hotelwatch.core.profile import Hold
from hotelwatch.core.rule_facts import RulesCompared
from hotelwatch.screens.rules.page import RulesPage
from tests.build import house


@pytest.fixture
def hotel(make_hotel):
    return make_hotel(house().room("101").bed("A"))


@pytest.fixture
def page(make_context, hotel, qtbot):
    page = RulesPage(make_context(hotel))
    qtbot.addWidget(page)
    page.refresh()
    page.show()
    return page


def press(qtbot, button):
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_a_local_set_is_read_before_it_is_taken(page, hotel, qtbot):
    assert not page.sets.take.isEnabled()
    assert page.sets.table.select("kansas")
    assert "K.A.R. 28-36-77(p)" in page.sets.told.text()
    page.sets.checked.setText("M. Ode")
    press(qtbot, page.sets.take)
    assert hotel.house.profile.key == "kansas"
    assert "in force" in page.sets.title.text()


def test_single_choices_lie_over_the_set_and_are_taken_back(page, hotel, qtbot):
    page.tabs.setCurrentWidget(page.choices)
    page.choices.boxes["hold"].setCurrentIndex(page.choices.boxes["hold"].findData("inspect"))
    page.choices.kinds["across"].setChecked(False)
    press(qtbot, page.choices.save)
    assert hotel.house.profile.hold is Hold.INSPECT
    assert "across" not in hotel.house.profile.ring_kinds
    page.choices.kinds["across"].setChecked(True)
    page.choices.boxes["hold"].setCurrentIndex(0)
    press(qtbot, page.choices.save)
    assert hotel.house.choices == {}


def test_a_figure_needs_a_reason_and_can_be_followed_again(page, hotel, qtbot):
    page.tabs.setCurrentWidget(page.figures)
    pane = page.figures
    assert pane.table.select("specimen_hours")
    pane.card.value.setValue(48)
    press(qtbot, pane.card.save)
    assert pane.card.form.problem_of(pane.card.reason)
    pane.card.reason.setText("our expert comes daily")
    press(qtbot, pane.card.save)
    assert hotel.house.rules.figures.specimen_hours.value == 48
    assert not pane.card.follow.isHidden()
    press(qtbot, pane.card.follow)
    assert hotel.house.rules.figures.specimen_hours.value == 72
    assert pane.card.follow.isHidden()


def test_a_holiday_is_added_and_taken_back(page, hotel, qtbot):
    page.tabs.setCurrentWidget(page.holidays)
    pane = page.holidays
    press(qtbot, pane.save)
    assert pane.form.problem_of(pane.name)
    pane.on.set_day(date(2026, 12, 25))
    pane.name.setText("Christmas Day")
    press(qtbot, pane.save)
    assert holidays(hotel.house) == {date(2026, 12, 25): "Christmas Day"}
    assert pane.table.select(date(2026, 12, 25))
    press(qtbot, pane.drop)
    assert holidays(hotel.house) == {}


def test_clauses_are_judged_and_somebody_says_that_they_compared_one(page, hotel, qtbot):
    page.sets.table.select("kansas")
    qtbot.waitUntil(lambda: page.sets.judged is not None and page.sets.judged.rules == "kansas")
    assert ": 8 clauses. Met: " in page.sets.summary.text()
    page.sets.clauses.select("tell_authority")
    card = page.sets.clause_card
    assert page.sets.cards.currentWidget() is card
    assert "28-36-77(p)(4)" in card.title.text()
    assert "within 1 business day" in card.told.text()
    assert "NOBODY" in card.told.text()
    press(qtbot, card.save)
    assert card.form.problem_of(card.by)
    card.by.setText("M. Ode")
    press(qtbot, card.save)
    (compared,) = hotel.house.all_of(RulesCompared)
    assert (compared.clause, compared.by) == ("tell_authority", "M. Ode")
    qtbot.waitUntil(lambda: "by M. Ode" in card.told.text())
    card.whole.setChecked(True)
    press(qtbot, card.save)
    assert hotel.house.all_of(RulesCompared)[-1].clause == ""


def test_a_set_of_ones_own_is_loaded_and_a_wrong_one_said(page, hotel, tmp_path, qtbot):
    source = write_template(tmp_path / "town.toml")
    page.sets.take_in(source)
    assert page.sets.table.current().key == "our_town"
    qtbot.waitUntil(lambda: page.sets.judged is not None and page.sets.judged.rules == "our_town")
    assert "this hotel's own, from town.toml" in page.sets.told.text()
    press(qtbot, page.sets.take)
    assert hotel.house.profile.key == "our_town"
    last = max(hotel.house.entries)
    source.write_text("[ours]\nname = 3\n", "utf-8")
    page.sets.take_in(source)
    assert max(hotel.house.entries) == last
    assert page.sets._context.notices.bars()


def test_the_hotel_is_described_anew_and_what_is_wrong_is_said_in_place(page, hotel, qtbot):
    pane = page.hotel
    page.tabs.setCurrentWidget(pane)
    assert pane.name.text() == hotel.house.hotel.name
    assert not pane.is_begun()
    pane.leave_by.setText("half past ten")
    press(qtbot, pane.save)
    assert "11:00" in pane.form.problem_of(pane.leave_by)
    pane.leave_by.setText("10:30")
    pane.arrive_from.setText("14:00")
    pane.paper.setCurrentText("Letter")
    page.refresh()
    assert pane.leave_by.text() == "10:30", "what was typed stays"
    press(qtbot, pane.save)
    told = hotel.house.hotel
    assert (told.leave_by, told.arrive_from, told.paper) == ("10:30", "14:00", "Letter")
    assert not pane.is_begun()
