"""Looks agreed with guests, nights asked for, furniture moved: by keyboard as a person would."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.by_hand import answer_night
from hotelwatch.actions.calendar import change_team_days
from hotelwatch.actions.undo import undo
from hotelwatch.core.facts import CycleChosen, RoomNo, Scope, StaysImported, TeamName
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import FurnitureMoved, NightAnswered, NightAsked, TeamDaysChanged
from hotelwatch.core.stays.agreed import arranged_visits, asked_nights, declined_visits
from hotelwatch.core.stays.openings import OpeningKind
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.rounds.visit_forms import _answer_tone
from hotelwatch.screens.rounds.visits_pane import VisitsPane
from tests.build import day, house

TODAY = 40
"""Saturday, 14 February 2026."""


@pytest.fixture
def inn():
    """101 and 102 are due on day 45; the guest of 101 stays until day 60."""
    build = house().record(CycleChosen(Scope.HOUSE, "", 30)).team("blue", 120)
    for room in ("101", "102"):
        build.room(room).bed("A").checked("A", day(15))
    return build


@pytest.fixture
def make_pane(make_hotel, make_context, qtbot):
    def make(build):
        context = make_context(make_hotel(build), ("building",))
        stay = Stay("b1", "101", "", day(38), day(60))
        context.hotel.record_stays([stay], StaysImported("b.csv", "1", day(0), 1, 0))
        pane = VisitsPane(context)
        qtbot.addWidget(pane)
        pane.resize(1060, 640)
        pane.refresh()
        pane.show()
        context.bus.changed.connect(lambda _: pane.refresh())
        return pane, context

    return make


def lines(table):
    return table.as_text(table.shown_rows()).split("\n")[1:]


def texts(context):
    return [bar.label.text() for bar in context.notices.bars()]


def test_a_room_let_past_its_day_is_listed_with_what_waiting_costs(make_pane, inn):
    pane, _ = make_pane(inn)
    # The team works from Monday to Friday.
    assert pane.visit.day.day() == day(42)
    # Due on day 45 (Thursday), open on day 60: one bed waits 15 days.
    assert lines(pane.arrange) == [
        "101\tThu 19 Feb\tThu 12 Feb\tFri 6 Mar\t15\tnot yet",
    ]
    assert "assumption" in pane.note.text()


def test_the_guest_agreed_is_written_down_by_keyboard(make_pane, inn, qtbot):
    pane, context = make_pane(inn)
    view = pane.arrange.view
    view.setFocus()
    view.setCurrentIndex(pane.arrange.order.index(0, 0))
    qtbot.keyClick(view, Qt.Key.Key_Return)
    form = pane.visit
    qtbot.waitUntil(form.day.hasFocus)
    assert (form.room.value(), form.day.day()) == ("101", day(45))
    assert form.note.text().startswith("The look takes 20 min. The guest is never named.")
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    assert form.form.problem_of(form.who) == "Say who of the staff asked the guest."
    qtbot.keyClicks(form.who, "esther")
    qtbot.keyClick(form.who, Qt.Key.Key_Return)
    (visit,) = arranged_visits(context.hotel.house).values()
    assert (visit.room, visit.on, visit.from_clock, visit.until_clock, visit.agreed_by) == (
        "101",
        day(45),
        "10:00",
        "12:00",
        "esther",
    )
    opening = context.hotel.occupancy().opening(RoomNo("101"), day(45))
    assert opening.kind is OpeningKind.ARRANGED
    assert lines(pane.arrange)[0].endswith("✓ Thu 19 Feb, 10:00 to 12:00")
    assert "101, Thu 19 Feb 2026: a look is agreed" in texts(context)[0]
    leave = TeamDaysChanged(TeamName("blue"), day(45), day(45), 0, "training")
    change_team_days(context.hotel, leave)
    pane.refresh()
    assert lines(pane.arrange)[0].endswith("! Thu 19 Feb, 10:00 to 12:00: nobody can come")
    assert form.note.text().startswith("No team works on Thu 19 Feb 2026. Name another day")
    qtbot.mouseClick(form.undo, Qt.MouseButton.LeftButton)
    assert not arranged_visits(context.hotel.house)
    assert not form.undo.isVisible()


def test_the_guest_said_no_is_written_down_and_undone(make_pane, inn, qtbot):
    pane, context = make_pane(inn)
    view, form = pane.arrange.view, pane.visit
    view.setFocus()
    view.setCurrentIndex(pane.arrange.order.index(0, 0))
    qtbot.keyClick(view, Qt.Key.Key_Return)
    qtbot.mouseClick(form.no, Qt.MouseButton.LeftButton)
    assert form.form.problem_of(form.who) == "Say who of the staff asked the guest."
    qtbot.keyClicks(form.who, "esther")
    qtbot.mouseClick(form.no, Qt.MouseButton.LeftButton)
    # Asked today, whatever day stands in the form for a look.
    (no,) = declined_visits(context.hotel.house)["101"]
    assert (no.on, no.declined_to) == (day(TODAY), "esther")
    (line,) = lines(pane.arrange)
    assert line.endswith("15\tdeclined on Sat 14 Feb; remains due")
    assert "local law and the hotel's terms" in form.note.text()
    assert texts(context)[0].startswith("101: the guest said no today.")
    undo(context.hotel)
    pane.refresh()
    assert lines(pane.arrange)[0].endswith("not yet")


def test_hours_are_read_as_people_type_them(make_pane, inn, qtbot):
    pane, context = make_pane(inn)
    form = pane.visit
    form.room.choose("101")
    form.who.setText("esther")
    form.begins.setText("9")
    form.ends.setText("10.30")
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    ((room, _day), visit), *_ = arranged_visits(context.hotel.house).items()
    assert (room, visit.from_clock, visit.until_clock) == ("101", "09:00", "10:30")


def test_hours_of_one_guest_are_not_those_of_the_next(make_pane, inn, qtbot):
    pane, _context = make_pane(inn)
    form = pane.visit
    form.begins.setText("9:00")
    form.room.choose("101")  # the first room: what was typed before it is meant for it
    assert form.begins.text() == "9:00"
    form.ends.setText("10:30")
    form.who.setText("esther")
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    form.room.choose("102")
    assert (form.begins.text(), form.ends.text()) == ("10:00", "12:00")
    form.begins.setText("11:15")
    pane.refresh()
    assert form.begins.text() == "11:15"
    # In the list the room has its own agreed hours, however often one comes back.
    form.take(pane.arrange.model.rows[0])
    assert (form.room.value(), form.begins.text(), form.ends.text()) == ("101", "09:00", "10:30")
    form.room.choose("102")
    assert (form.begins.text(), form.ends.text()) == ("10:00", "12:00")


def test_hours_that_are_none_are_refused_in_words(make_pane, inn, qtbot):
    pane, context = make_pane(inn)
    form = pane.visit
    form.room.choose("101")
    form.who.setText("esther")
    form.begins.setText("13:00")
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    assert not arranged_visits(context.hotel.house)
    assert texts(context)
    form.begins.clear()
    form.room.choose(None)
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    assert form.form.problem_of(form.begins) == "Say when, as 10:00."
    assert form.form.problem_of(form.room) == "Choose a room of the house."
    form.begins.setText("soon")
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    assert form.form.problem_of(form.begins) == "Say when, as 10:00."


def test_front_desk_is_asked_for_a_night_and_it_is_withdrawn(make_pane, inn, qtbot):
    pane, context = make_pane(inn)
    pane.forms.setCurrentWidget(pane.night)
    form = pane.night
    form.room.choose("102")
    form.night.set_day(day(44))
    qtbot.keyClicks(form.reason, "late otherwise")
    qtbot.keyClick(form.reason, Qt.Key.Key_Return)
    (asked,) = asked_nights(context.hotel.house, day(TODAY))
    assert (asked.room, asked.night, asked.reason) == ("102", day(44), "late otherwise")
    assert form.undo.isVisible()
    qtbot.mouseClick(form.undo, Qt.MouseButton.LeftButton)
    assert asked_nights(context.hotel.house, day(TODAY)) == ()


def test_nights_asked_for_stand_with_front_desks_answers(make_pane, inn, qtbot):
    inn.record(
        NightAsked(RoomNo("101"), day(TODAY + 1), "due"),
        NightAsked(RoomNo("102"), day(TODAY + 2), "due then"),
    )
    pane, context = make_pane(inn)
    no = NightAnswered(RoomNo("102"), day(TODAY + 2), is_kept=False, by="ines", note="fair")
    answer_night(context.hotel, no)
    pane.refresh()
    pane.forms.setCurrentWidget(pane.night)
    form = pane.night
    texts = [form.asked.model.index(row, 2).data() for row in (0, 1)]
    assert texts == ["not answered yet", "not possible, ines: fair"]
    assert not form.undo.isVisible()
    form.asked.select(("102", day(TODAY + 2)))
    assert form.room.value() is None
    qtbot.keyClick(form.asked.view, Qt.Key.Key_Return)
    assert (form.room.value(), form.night.day()) == ("102", day(TODAY + 2))
    assert form.reason.text() == "due then"
    assert form.undo.isVisible()


def test_a_night_kept_free_but_sold_all_the_same_is_no_good_news(make_pane, inn):
    inn.record(NightAsked(RoomNo("102"), day(TODAY + 2), "due then"))
    pane, context = make_pane(inn)
    yes = NightAnswered(RoomNo("102"), day(TODAY + 2), is_kept=True, by="ines")
    answer_night(context.hotel, yes)
    stays = [Stay("b9", "102", "", day(TODAY + 2), day(TODAY + 4))]
    context.hotel.record_stays(stays, StaysImported("b.csv", "1", day(TODAY), 1, 0))
    pane.refresh()
    index = pane.night.asked.model.index(0, 2)
    assert index.data().endswith("kept free, ines, but sold all the same")
    (row,) = pane.night.asked.shown_rows()
    assert _answer_tone(row) is Tone.LATE


def test_furniture_that_moved_wants_both_rooms_sooner(make_pane, inn, qtbot):
    pane, context = make_pane(inn)
    pane.forms.setCurrentWidget(pane.furniture)
    form = pane.furniture
    form.from_room.choose("101")
    form.to_room.choose("101")
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    assert form.form.problem_of(form.to_room) == "That is the room it came from."
    assert form.form.problem_of(form.what) == "Say what was moved."
    form.to_room.choose("102")
    form.bed.choose("101/A")
    qtbot.keyClicks(form.what, "headboard")
    qtbot.keyClick(form.what, Qt.Key.Key_Return)
    assert context.hotel.house.all_of(FurnitureMoved) == (
        FurnitureMoved(RoomNo("101"), RoomNo("102"), day(TODAY), "headboard", "101/A"),
    )
    assert [row.room for row in pane.sooner.shown_rows()] == ["101", "102"]
    assert "assumption" in form.note.text()


def test_every_field_has_a_name(make_pane, inn, nameless):
    pane, _ = make_pane(inn)
    for form in (pane.visit, pane.night, pane.furniture):
        pane.forms.setCurrentWidget(form)
        assert nameless(pane) == []
