from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.hotel import place_wings
from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CheckKind, RoomNo, WingPlaced
from tests.build import house


@pytest.fixture
def context(make_hotel, make_context):
    return make_context(make_hotel(house().room("101").bed("A")))


def asked(context, qtbot):
    with qtbot.waitSignal(context.odds.changed, timeout=30_000):
        context.odds.ask()
    return context.odds.view


def test_odds_are_reckoned_once_while_nothing_changes(context, qtbot):
    view = asked(context, qtbot)
    assert context.odds.is_current
    assert asked(context, qtbot) is view
    assert not context.jobs.is_busy


def test_they_are_reckoned_anew_after_a_look(context, qtbot):
    before = asked(context, qtbot)
    hotel = context.hotel
    look = full_look(
        hotel.house, RoomNo("101"), on=hotel.today(), by=("a", "b"), kind=CheckKind.DEEP
    )
    record_looks(hotel, [look])
    assert not context.odds.is_current
    assert context.odds.view is before
    assert asked(context, qtbot) is not before
    assert context.odds.is_current


def test_stopped_it_says_so_and_can_be_asked_again(context, qtbot):
    with qtbot.waitSignal(context.odds.stopped, timeout=30_000):
        context.odds.ask()
        context.odds._stop()
    assert not context.odds.is_reckoning
    asked(context, qtbot)


def test_asked_twice_it_is_reckoned_once(context, qtbot):
    context.odds.ask()
    context.odds.ask()
    assert context.odds.is_reckoning
    qtbot.waitUntil(lambda: context.odds.view is not None, timeout=30_000)
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=30_000)
    assert context.odds.is_current


def test_who_is_whose_neighbour_is_found_by_the_job_and_kept(context, qtbot):
    hotel = context.hotel
    assert hotel.neighbours_at_hand is None
    asked(context, qtbot)
    found = hotel.neighbours_at_hand
    assert found == neighbours(hotel.house, lay_out(hotel.house))
    assert hotel.neighbours() is found


def test_neighbours_of_rooms_that_lay_elsewhere_are_not_kept(context):
    hotel = context.hotel
    before = hotel.house
    place_wings(hotel, [WingPlaced(hotel.house.rooms["101"].wing, 40.0, 0.0, 90.0)])
    hotel.keep_neighbours(before, {})
    assert hotel.neighbours_at_hand is None
