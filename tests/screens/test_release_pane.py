"""The release of a case in the window: checklist, days, traps, the word, watch and closing."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.choices import choose_rule
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import CaseJudged, NoticeGiven, Outcome, Sighted, Sign
from hotelwatch.core.cases.case import Stage, case_of, stage_of
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.checks.monitors import monitors
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.screens.cases.release_pane import ReleasePane
from tests.build import house

ROOM = RoomNo("101")


@pytest.fixture
def hotel(make_hotel):
    return make_hotel(house().room("101").bed("A").room("102").bed("A").team("Dawn"))


@pytest.fixture
def pane(hotel, make_context, qtbot):
    made = ReleasePane(make_context(hotel))
    qtbot.addWidget(made)
    made.resize(1000, 420)
    made.show()
    return made


def confirmed(hotel) -> CaseNo:
    sighted = Sighted(CaseNo(""), ROOM, "", "", Sign.LIVE_INSECT, 1, "maria", hotel.now())
    case = log_sighting(hotel, sighted)
    judge_case(hotel, CaseJudged(case, Outcome.CONFIRMED, "Dr. Vey", "zoologist", hotel.today()))
    return case


def treat(hotel, case) -> None:
    record_treatment(
        hotel, TreatmentRecorded(case, ROOM, hotel.today(), "heat", "a firm", "L-1", hotel.now())
    )


def look(hotel) -> None:
    one = full_look(hotel.house, ROOM, on=hotel.today(), by=("a", "b"), kind=CheckKind.CLEARANCE)
    record_looks(hotel, [one])


def followed_up(hotel, clock) -> CaseNo:
    case = confirmed(hotel)
    treat(hotel, case)
    for _ in range(4):
        clock.moment += timedelta(days=7)
        look(hotel)
    return case


def show(pane, hotel, case) -> str:
    pane.show_case(case_of(hotel.house, case))
    return pane.text()


def save(pane, qtbot) -> None:
    form = pane._panes.currentWidget()
    qtbot.keyClick(form, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)


def test_what_is_missing_and_what_is_met_stand_side_by_side(pane, hotel, clock):
    case = confirmed(hotel)
    said = show(pane, hotel, case)
    assert "✓  met\nA competent person has judged what was found." in said
    assert "○  missing\nNo licensed treatment of 101 is recorded." in said
    assert "At the earliest" in said
    assert "assumptions" in said
    assert "Leaving the room empty is no condition" in said
    assert "41.5 to 142.6 days" in said
    assert "57, 113 and 134 days" in said
    treat(hotel, case)
    clock.moment += timedelta(days=7)
    look(hotel)
    said = show(pane, hotel, case)
    assert "101/A: 1 of 4 clean checks" in said
    assert "a firm" in said
    assert "dust cover and corner caps" in said
    assert "the slowest egg takes about 13 days at 22 °C" in said
    assert "too early to tell of the eggs" in said


def test_no_pane_says_that_a_room_is_free(pane, hotel, clock):
    said = show(pane, hotel, followed_up(hotel, clock))
    assert "free of" not in said


def test_a_room_is_given_back_by_a_person_whose_competence_is_named(pane, hotel, clock, qtbot):
    case = followed_up(hotel, clock)
    assert "missing" not in show(pane, hotel, case)
    qtbot.mouseClick(pane.to_lift, Qt.MouseButton.LeftButton)
    pane.lift.who.setText("mara")
    save(pane, qtbot)
    assert "competent" in pane.lift.form.problem_of(pane.lift.competence)
    pane.lift.competence.setText("trained by the firm")
    save(pane, qtbot)
    assert stage_of(hotel.house, case) is Stage.RELEASED
    said = show(pane, hotel, case)
    assert "Released, under watch" in said
    assert "Counted from the last treatment" in said


def test_a_find_says_what_it_set_back(pane, hotel, clock):
    case = confirmed(hotel)
    treat(hotel, case)
    clock.moment += timedelta(days=7)
    look(hotel)
    clock.moment += timedelta(days=3)
    log_sighting(hotel, Sighted(case, ROOM, "", "", Sign.CAST_SKIN, 1, "maria", hotel.now()))
    said = show(pane, hotel, case)
    assert "set the clean checks back to none" in said


def test_traps_are_placed_and_read_by_hand(pane, hotel, clock, qtbot):
    case = followed_up(hotel, clock)
    assert "No trap stands" in show(pane, hotel, case)
    assert not pane.to_read.isVisible()
    qtbot.mouseClick(pane.to_place, Qt.MouseButton.LeftButton)
    pane.place.label.setText("T1")
    pane.place.who.setText("ana")
    save(pane, qtbot)
    assert [one.monitor for one in monitors(hotel.house)] == ["T1"]
    assert "nobody has looked into it" in show(pane, hotel, case)
    clock.moment += timedelta(days=14)
    qtbot.mouseClick(pane.to_read, Qt.MouseButton.LeftButton)
    pane.read.who.setText("ana")
    save(pane, qtbot)
    assert "empty, which is no proof" in show(pane, hotel, case)
    qtbot.mouseClick(pane.to_read, Qt.MouseButton.LeftButton)
    pane.read.caught.setValue(1)
    pane.read.who.setText("ana")
    assert pane.is_begun()
    save(pane, qtbot)
    assert len(hotel.house.sightings[case]) == 2


def test_where_an_officer_releases_the_word_is_asked_for_and_written_down(
    pane, hotel, clock, qtbot
):
    case = followed_up(hotel, clock)
    show(pane, hotel, case)
    assert not pane.to_word.isVisible()
    choose_rule(hotel, "release_by", "health_officer")
    assert "The health officer has yet to give the word" in show(pane, hotel, case)
    qtbot.mouseClick(pane.to_word, Qt.MouseButton.LeftButton)
    save(pane, qtbot)
    assert pane.word.form.problem_of(pane.word.giver)
    pane.word.giver.setText("county health office")
    save(pane, qtbot)
    (word,) = hotel.house.all_of(NoticeGiven)
    assert (word.notice, word.to, word.room) == ("release_word", "county health office", "")
    assert "county health office" in show(pane, hotel, case)


def test_a_watch_counts_down_and_is_ended_by_a_named_person(pane, hotel, clock, qtbot):
    case = followed_up(hotel, clock)
    show(pane, hotel, case)
    qtbot.mouseClick(pane.to_lift, Qt.MouseButton.LeftButton)
    pane.lift.who.setText("mara")
    pane.lift.competence.setText("trained by the firm")
    save(pane, qtbot)
    said = show(pane, hotel, case)
    assert "of 60 clean covered days" in said
    assert "It ends on" in said
    assert "no proof" in said
    qtbot.mouseClick(pane.to_close, Qt.MouseButton.LeftButton)
    save(pane, qtbot)
    assert "reason" in pane.close_form.form.problem_of(pane.close_form.reason)
    pane.close_form.reason.setText("the wing is torn down")
    save(pane, qtbot)
    assert stage_of(hotel.house, case) is Stage.CLOSED
    assert "The case is closed." in show(pane, hotel, case)


def test_of_several_rooms_one_is_chosen(pane, hotel):
    case = confirmed(hotel)
    log_sighting(hotel, Sighted(case, RoomNo("102"), "", "", Sign.EGGS, 1, "maria", hotel.now()))
    rooms = case_of(hotel.house, case).quarantined
    show(pane, hotel, case)
    assert pane.room.isVisible() == (len(rooms) > 1)
    if len(rooms) > 1:
        pane.room.choose(rooms[1])
        assert rooms[1] in pane.text()


def test_no_case_shows_nothing(pane):
    pane.show_case(None)
    assert pane.text() == ""
    assert not pane.is_begun()
    assert not pane.to_lift.isVisible()
