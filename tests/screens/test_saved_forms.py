"""What was typed and saved is not half entered any more: closing throws nothing away."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from hotelwatch.core.days import WEEKDAYS
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.round_facts import SeasonNoted
from hotelwatch.screens.forms.half_entered import half_entered
from hotelwatch.screens.rounds.cycles_pane import CyclesPane
from hotelwatch.screens.rounds.days_pane import DaysPane
from hotelwatch.screens.rounds.teams_pane import TeamsPane
from hotelwatch.screens.rules.carts_pane import CartsPane
from hotelwatch.screens.rules.figures_pane import FiguresPane
from hotelwatch.screens.rules.holidays_pane import HolidaysPane
from hotelwatch.screens.rules.hotel_pane import HotelPane
from hotelwatch.screens.rules.people_pane import PeoplePane
from tests.build import day, house


@pytest.fixture
def make_pane(make_hotel, make_context, qtbot):
    def make(kind):
        build = house().team("blue").team("red", works_on=WEEKDAYS)
        build.record(
            HotelDescribed("Tarn", "Europe/Vienna"), SeasonNoted("Fair", day(50), day(60), 20)
        )
        build.room("101").bed("A").checked("A", day(0))
        context = make_context(make_hotel(build), ("rounds",))
        pane = kind(context)
        qtbot.addWidget(pane)
        pane.refresh()
        pane.show()
        context.bus.changed.connect(lambda _: pane.refresh())
        return pane, context

    return make


def type_over(field, text):
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def change_team(pane):
    pane.table.select("blue")
    type_over(pane.minutes, "125")
    return pane.save


def change_cycle(pane):
    type_over(pane.days, "45")
    return pane.save


def change_season(pane):
    pane.seasons.select("Fair")
    type_over(pane.season.faster, "40")
    return pane.season.save


def change_days(pane):
    pane.other.setChecked(True)
    type_over(pane.minutes, "45")
    type_over(pane.reason, "training")
    return pane.save


def change_hotel(pane):
    type_over(pane.leave_by, "10:30")
    return pane.save


def serve(pane):
    type_over(pane.name, "Blue")
    type_over(pane.rooms, "101")
    type_over(pane.on, "20260201")
    return pane.save


def note_holiday(pane):
    type_over(pane.on, "20260301")
    type_over(pane.name, "Spring")
    return pane.save


def choose_figure(pane):
    type_over(pane.card.value, pane.card.value.textFromValue(pane.card.value.maximum()))
    type_over(pane.card.reason, "measured here")
    return pane.card.save


@pytest.mark.parametrize(
    ("kind", "change"),
    [
        (TeamsPane, change_team),
        (CyclesPane, change_cycle),
        (CyclesPane, change_season),
        (DaysPane, change_days),
        (HotelPane, change_hotel),
        (CartsPane, serve),
        (HolidaysPane, note_holiday),
        (FiguresPane, choose_figure),
    ],
    ids=lambda one: one.__name__,
)
def test_what_is_saved_is_not_half_entered_any_more(make_pane, kind, change):
    pane, context = make_pane(kind)
    save = change(pane)
    assert half_entered(pane, "Page") != []
    before = max(context.hotel.house.entries)
    save.click()
    assert max(context.hotel.house.entries) > before
    assert half_entered(pane, "Page") == []


@pytest.mark.parametrize("kind", [TeamsPane, PeoplePane])
def test_the_row_chosen_before_a_new_one_was_begun_is_chosen_again_by_a_press(
    make_pane, kind, qtbot
):
    pane, _ = make_pane(kind)
    if kind is PeoplePane:
        pane.name.setText("Ana")
        pane.pin.setText("847261")
        pane.again.setText("847261")
        pane.save.click()
    view = pane.table.view
    at = view.visualRect(pane.table.order.index(0, 0)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    chosen = pane.title.text()
    pane.add.click()
    assert pane.title.text() != chosen
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert pane.title.text() == chosen
