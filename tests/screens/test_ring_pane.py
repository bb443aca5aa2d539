"""The ring in the window: the picture and the list beside it, and what one can do there."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from hotelwatch.core.case_facts import CheckAsked, GuestMoved, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.ring_rooms import RoomState
from hotelwatch.core.choice_facts import CartServes
from hotelwatch.core.facts import CaseNo, RoomNo, Side
from hotelwatch.screens.cases.ring_pane import RingPane
from hotelwatch.screens.cases.ring_signs import GLYPHS, PATTERNS, TONES
from tests.build import day, moment
from tests.core.test_ring import find, three_floors

ONE = CaseNo("2026-001")


@pytest.fixture
def make_pane(make_hotel, make_context, qtbot):
    """Makes the pane on a house with a sign in 305, case 2026-001 in view."""

    def make(built, **more):
        pane = RingPane(make_context(make_hotel(built), **more))
        qtbot.addWidget(pane)
        pane.resize(1040, 420)
        pane.show()
        pane.show_case(case_of(pane._context.hotel.house, ONE))
        qtbot.waitUntil(lambda: not pane._reckoning.is_running, timeout=20000)
        return pane

    return make


def in_305(**more):
    built = three_floors().record(CartServes("one", ("305", "212"), day(30)))
    find(built, "305", 40, **more)
    return built


def shown(pane):
    return {line.room: line.ring for line in pane.table.shown_rows()}


def test_floors_stand_from_the_top_down_with_the_ring_and_what_lies_around_it(make_pane):
    pane = make_pane(in_305())
    assert [band.floor for band in pane.picture.bands] == ["4", "3", "2"]
    drawn = set(pane.picture.rooms())
    assert {"305", "303", "307", "306", "405", "205", "304"} <= drawn
    assert "212" not in drawn
    assert "212" in pane.elsewhere.text()
    above, here = pane.picture.drawn_of("405"), pane.picture.drawn_of("305")
    assert above.centre.x() == pytest.approx(here.centre.x())
    assert above.centre.y() < here.centre.y() < pane.picture.drawn_of("205").centre.y()
    assert [shape.room for shape in pane.picture.bands[0].shadows] == ["305"]


def test_the_list_has_every_room_of_the_picture_with_reasons_what_is_next_first(make_pane):
    pane = make_pane(in_305())
    rows = [row.room for row in pane.table.shown_rows()]
    assert rows == ["305", "307", "303", "405", "205", "306", "212"]
    text = pane.table.as_text(pane.table.shown_rows())
    assert "has a connecting door to 305 and shares a wall with 305" in text
    assert "served by the same cart as 305" in text
    assert pane.growth.text().startswith("The ring goes on: 6 rooms")


def test_every_state_has_a_sign_of_its_own_so_that_colour_never_stands_alone():
    assert set(GLYPHS) == set(RoomState)
    assert len(set(GLYPHS.values())) == len(GLYPHS)
    assert set(PATTERNS) <= set(TONES)


def test_arrows_go_through_the_floors_and_enter_goes_to_the_check(make_pane, qtbot, went):
    pane = make_pane(in_305())
    pane.picture.setFocus()
    pane.table.select("305")
    qtbot.keyClick(pane.picture, Qt.Key.Key_Right)
    assert pane.table.current().room == "307"
    qtbot.keyClick(pane.picture, Qt.Key.Key_Left)
    qtbot.keyClick(pane.picture, Qt.Key.Key_Down)
    assert pane.table.current().room == "306"
    qtbot.keyClick(pane.picture, Qt.Key.Key_Down)
    assert pane.table.current().room == "205"
    qtbot.keyClick(pane.picture, Qt.Key.Key_Return)
    assert went(pane._context) == [("checks", "205")]
    assert "205" in pane.picture.accessibleDescription()


def test_choosing_in_the_list_marks_the_room_in_the_picture(make_pane):
    pane = make_pane(in_305())
    pane.table.select("405")
    assert "above 305" in pane.picture.accessibleDescription()
    assert pane.record.text() == "Record the check of 405"


def test_a_room_left_out_can_be_asked_for_after_all(make_pane, qtbot):
    pane = make_pane(in_305(without=("303",)))
    assert shown(pane)["303"].state is RoomState.STRUCK_OUT
    pane.table.select("303")
    qtbot.mouseClick(pane.ask_after_all, Qt.MouseButton.LeftButton)
    assert shown(pane)["303"].state is RoomState.OPEN
    assert not pane.ask_after_all.isVisible()


def test_rooms_tied_later_are_asked_for_by_one_button(make_pane, qtbot):
    pane = make_pane(in_305())
    assert not pane.ask.isVisible()
    hotel = pane._context.hotel
    serves = CartServes("two", ("305", "201", "202"), day(40))
    hotel.record(lambda _: [serves], action="test")
    pane.show_case(case_of(hotel.house, ONE))
    assert pane.ask.text() == "Ask for 2 rooms more"
    qtbot.mouseClick(pane.ask, Qt.MouseButton.LeftButton)
    asked = {row.fact.room for row in hotel.house.kept_of_case(CheckAsked, ONE)}
    assert {"201", "202"} <= asked
    assert not pane.ask.isVisible()


def test_a_floor_that_is_covered_for_the_most_part_is_offered_whole(make_pane, qtbot):
    built = three_floors(labels=("3",), last=6)
    find(built, "303", 40)
    pane = make_pane(built)
    assert "4 of the 6 rooms of floor 3" in pane.growth.text()
    (whole,) = pane._floors
    qtbot.mouseClick(whole, Qt.MouseButton.LeftButton)
    assert set(shown(pane)) == set(built.house.rooms)
    assert pane._floors == []


def test_guests_who_changed_rooms_are_written_down_and_their_room_is_asked_for(make_pane, qtbot):
    pane = make_pane(in_305())
    qtbot.mouseClick(pane.to_move, Qt.MouseButton.LeftButton)
    form = pane.move_form
    assert form.from_room.value() == "305"
    form.try_to_save()
    assert form.form.problem_of(form.to_room)
    form.to_room.choose("411")
    form.try_to_save()
    assert "Nobody is named" in form.form.problem_of(form.who)
    form.who.setText("Mara")
    assert form.isVisible()
    form.try_to_save()
    hotel = pane._context.hotel
    (moved,) = hotel.house.all_of(GuestMoved)
    assert (moved.to_room, moved.because_of, moved.by) == ("411", ONE, "Mara")
    pane.show_case(case_of(hotel.house, ONE))
    assert shown(pane)["411"].state is RoomState.OPEN
    assert not form.isVisible()


def test_a_form_begun_is_told_before_one_leaves_it(make_pane, qtbot):
    pane = make_pane(in_305())
    assert not pane.is_begun()
    qtbot.mouseClick(pane.to_move, Qt.MouseButton.LeftButton)
    qtbot.keyClicks(pane.move_form.booking, "b7")
    assert pane.is_begun()


def test_a_weak_sign_shows_its_own_room_and_says_why_there_is_no_ring(make_pane):
    built = three_floors()
    find(built, "305", 40, sign=Sign.BITES_REPORTED)
    pane = make_pane(built)
    assert set(shown(pane)) == {"305"}
    assert "weak sign" in pane.growth.text()


def test_without_a_case_nothing_is_shown_and_nothing_can_be_asked(make_pane):
    pane = make_pane(in_305())
    pane.show_case(None)
    assert pane.table.shown_rows() == ()
    assert pane.picture.rooms() == ()
    assert not pane.record.isVisible()


def test_a_room_that_left_the_roster_is_listed_and_not_drawn(make_pane):
    built = three_floors()
    find(built, "305", 40)
    built._room = RoomNo("303")
    built.room("303", floor="3", side=Side.LEFT, order=2, in_use=False)
    pane = make_pane(built)
    assert shown(pane)["303"].state is RoomState.WITHDRAWN
    assert "303" not in pane.picture.rooms()


def test_everything_reached_by_keys_has_a_name(make_pane, nameless):
    assert nameless(make_pane(in_305())) == []


def test_a_second_sign_makes_its_room_a_centre_in_the_picture(make_pane):
    pane = make_pane(in_305())
    hotel = pane._context.hotel
    second = Sighted(ONE, RoomNo("405"), "", "", Sign.EGGS, 1, "Ana", moment(40))
    hotel.record(lambda _: [second], action="test")
    pane.show_case(case_of(hotel.house, ONE))
    assert shown(pane)["405"].is_centre
    assert shown(pane)["405"].wave == 1
