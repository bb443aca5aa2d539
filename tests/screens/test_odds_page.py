"""The page of odds: rooms to look at next, the hotel, the figures it all rests on."""

from __future__ import annotations

import pytest

from hotelwatch.actions.checks import record_looks
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CheckKind, RoomNo
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.standing import Standing
from hotelwatch.screens.odds.page import OddsPage
from tests.build import house

ROOMS = ("101", "102", "103", "104")


@pytest.fixture
def hotel(make_hotel):
    build = house()
    for number in ROOMS:
        build.room(number).bed("A")
    return make_hotel(build)


@pytest.fixture
def page(hotel, make_context, qtbot):
    context = make_context(hotel)
    made = OddsPage(context)
    qtbot.addWidget(made)
    made.resize(1080, 680)
    made.show()
    with qtbot.waitSignal(context.jobs.idle, timeout=20_000):
        made.refresh()
    return made


def refreshed(page, qtbot):
    with qtbot.waitSignal(page._context.jobs.idle, timeout=20_000):
        page.refresh()


def test_rooms_come_with_their_odds_and_what_they_rest_on(page):
    assert {row.room for row in page.rooms.table.shown_rows()} == set(ROOMS)
    assert page.rooms.what.text().startswith("Room 10")
    assert "Nobody has looked at this room" in page.rooms.story.text()
    text = page.rooms.table.as_text(page.rooms.table.shown_rows())
    assert text.count(" to ") == len(ROOMS)


def test_a_look_lowers_a_rooms_odds_and_its_place(page, hotel, qtbot):
    before = {row.room: row for row in page.rooms.table.shown_rows()}
    look = full_look(
        hotel.house, RoomNo("102"), on=hotel.today(), by=("Ana", "Ben"), kind=CheckKind.DEEP
    )
    record_looks(hotel, [look])
    refreshed(page, qtbot)
    after = {row.room: row for row in page.rooms.table.shown_rows()}
    for stance in Stance:
        assert after["102"].chance[stance] < before["102"].chance[stance]
    assert page.rooms.table.shown_rows()[-1].room == "102"


def test_going_to_a_room_gives_it_the_place(page):
    page.tabs.setCurrentWidget(page.rests)
    page.focus_room(RoomNo("103"))
    assert page.tabs.currentWidget() is page.rooms
    assert page.rooms.table.current().room == "103"


def test_the_hotel_says_its_expected_number_and_main_assumption(page):
    assert page.hotel.expected.text().startswith("Infested rooms that nobody knows of")
    assert "stay once in 200 years" in page.hotel.told.text()
    assert [row.rooms for row in page.hotel.floors.shown_rows()] == [len(ROOMS)]
    assert page.hotel.chart.accessibleDescription()


def test_odds_are_held_against_simulated_rooms(page, qtbot):
    check = page.hotel.check
    assert not check.chart.isVisibleTo(check)
    with qtbot.waitSignal(page._context.jobs.idle, timeout=60_000):
        check.begin.click()
    rows = check.table.shown_rows()
    assert {stance for stance, _row in rows} == set(Stance)
    assert not check.begin.isVisibleTo(check)
    # Of 95 in 100 intervals the odds lie within; as many outside as here would be a fault.
    outside = [row for _stance, row in rows if not row.low <= row.told <= row.high]
    assert len(outside) <= len(rows) // 5
    assert "about one group in 20" in check.told.text()
    assert check.chart.accessibleDescription()


def test_the_hotels_own_figure_moves_the_odds(page, hotel, qtbot):
    before = {row.room: row.chance[Stance.CENTRAL] for row in page.rooms.table.shown_rows()}
    rests = page.rests
    assert rests.table.select("introductions_per_room_year")
    rests.card.value.setValue(0.02)
    rests.card.save.click()
    assert hotel.house.rules.odds.figures.introductions_per_room_year.value != 0.02
    rests.card.reason.setText("Counted here over ten years")
    with qtbot.waitSignal(page._context.bus.changed):
        rests.card.save.click()
    refreshed(page, qtbot)
    figure = hotel.house.rules.odds.figures.introductions_per_room_year
    assert (figure.value, figure.standing) == (0.02, Standing.CHOSEN)
    assert (figure.cautious, figure.optimistic) == pytest.approx((0.04, 0.008))
    after = {row.room: row.chance[Stance.CENTRAL] for row in page.rooms.table.shown_rows()}
    assert all(after[room] > 3 * before[room] for room in ROOMS)
    assert rests.table.shown_rows()[0].key == "introductions_per_room_year"
    assert rests.card.follow.isVisibleTo(rests)
    assert rests.card.reason.text() == ""
    with qtbot.waitSignal(page._context.bus.changed):
        rests.card.follow.click()
    assert hotel.house.rules.odds.figures.introductions_per_room_year.value == 0.005
    refreshed(page, qtbot)
    assert rests.card.value.value() == 0.005


def test_stopped_reckoning_can_be_asked_for_again(hotel, make_context, qtbot):
    page = OddsPage(make_context(hotel))
    qtbot.addWidget(page)
    page.show()
    page._stopped()
    assert page.again.isVisibleTo(page)
    with qtbot.waitSignal(page._context.jobs.idle, timeout=20_000):
        page.again.click()
    assert not page.again.isVisibleTo(page)
    assert page.tabs.isVisibleTo(page)
