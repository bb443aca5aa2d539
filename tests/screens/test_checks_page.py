from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.undo import undo
from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.checks.coverage import last_look
from hotelwatch.core.checks.looking import find, full_look
from hotelwatch.core.checks.place_looks import PlaceState
from hotelwatch.core.checks.room_mark import RoomMark
from hotelwatch.core.checks.slots import SlotState, published_rows
from hotelwatch.core.facts import (
    BedChecked,
    CheckKind,
    RoomChecked,
    RoomNo,
    RoundPublished,
    SlotPublished,
)
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.printing.sheet_edges import numbered_reasons
from hotelwatch.screens.checks.page import ChecksPage
from hotelwatch.screens.checks.place_model import LineKind
from hotelwatch.screens.layout import second_press
from hotelwatch.screens.look.theme import TextSize, Theme
from tests.build import day, house, moment, rules

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
TODAY = day(40)


def slot(position, room, team="Early"):
    beds = ("101/A", "101/B") if room == "101" else (f"{room}/A",)
    return SlotPublished(TODAY, team, position, room, beds, 20)


@pytest.fixture
def inn():
    """Four rooms, three on today's sheet; Anna and Boris looked ten days ago."""
    build = house().team("Early")
    build.room("101").bed("A").bed("B", "slats").room("102").bed("A", encased=True)
    build.room("103").bed("A").checked("A", day(30), by=("Anna", "Boris"))
    build.room("104").bed("A")
    return build.record(
        RoundPublished(TODAY, TODAY), slot(1, "101"), slot(2, "102"), slot(3, "103")
    )


@pytest.fixture
def make_page(qtbot, make_hotel, make_context):
    def make(build, **more):
        context = make_context(make_hotel(build), **more)
        page = ChecksPage(context)
        qtbot.addWidget(page)
        context.bus.changed.connect(page.refresh)
        page.resize(1080, 680)
        page.show()
        wake(qtbot, page)
        page.refresh()
        return page, context

    return make


@pytest.fixture(autouse=True)
def reads_at_once(monkeypatch):
    """Whoever presses keys here has read what is shown before the next press."""
    monkeypatch.setattr(second_press, "PAUSE_MS", 0)


@pytest.fixture
def reads_like_a_person(reads_at_once, monkeypatch):
    """However slow the machine: what follows at once was meant for what was there before."""
    monkeypatch.setattr(second_press, "PAUSE_MS", 60_000)


def wake(qtbot, page):
    """A menu takes the activation along where there is no window manager."""
    with qtbot.waitActive(page):
        page.activateWindow()


class Keyboard:
    """Presses keys where the cursor is, and counts them."""

    def __init__(self, qtbot, page):
        self.qtbot, self.page, self.pressed = qtbot, page, 0

    def press(self, *keys, modifier=Qt.KeyboardModifier.NoModifier):
        for key in keys:
            self.qtbot.keyClick(QApplication.focusWidget(), key, modifier)
            self.pressed += 1

    def choose(self, key, digit):
        """A key that opens a menu, then a digit in it."""
        self.press(key)
        menu = QApplication.activePopupWidget()
        self.qtbot.keyClick(menu, digit)
        self.pressed += 1
        wake(self.qtbot, self.page)

    def save(self):
        self.press(Key.Key_Return, modifier=CTRL)

    def type(self, text):
        self.qtbot.keyClicks(QApplication.focusWidget(), text)


@pytest.fixture
def keyboard(qtbot):
    return lambda page: Keyboard(qtbot, page)


def checks(context, kind=BedChecked, on=TODAY):
    return [fact for fact in context.hotel.house.all_of(kind) if fact.checked_on == on]


def stand(page, place):
    looks = (line.look for line in page.form.places.places.lines if line.look)
    return next(one for one in looks if one.place.code == place)


# --- a clean room ------------------------------------------------------------------------


def test_a_clean_room_takes_one_key(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("101")
    keys = keyboard(page)
    keys.save()
    assert keys.pressed <= 5
    assert [check.bed for check in checks(context)] == ["101/A", "101/B"]
    assert {check.by for check in checks(context)} == {("Anna", "Boris")}
    assert {last_look(context.hotel.house, c.bed, TODAY) for c in checks(context)} == {TODAY}
    assert len(checks(context, RoomChecked)) == 1


def test_after_saving_the_next_room_of_the_sheet_waits_with_the_cursor_ready(
    make_page, inn, keyboard
):
    page, _ = make_page(inn)
    page.focus_room("101")
    keys = keyboard(page)
    for room in ("102", "103"):
        keys.save()
        assert page.form.draft.look.room == room
        assert QApplication.focusWidget() is page.form.places
        marked = page.slots.table.selected_rows()
        assert [row.slot.room for row in marked] == [room]
    keys.save()
    assert page.form.draft is None
    assert QApplication.focusWidget() is page.slots.room
    assert "Nothing is left" in page.begin_text.text()
    assert [row.slot.is_done for row in page.slots.table.model.rows] == [True] * 3
    assert keys.pressed == 3


# --- a second press, meant for the room before ---------------------------------------------


def saved_rooms(context):
    return sorted({check.room for check in checks(context)})


def second_of_a_double_click(button):
    """What the system sends for it, wherever the first one went."""
    QTest.mouseDClick(button, Qt.MouseButton.LeftButton)
    QTest.mouseRelease(button, Qt.MouseButton.LeftButton)


@pytest.mark.usefixtures("reads_like_a_person")
def test_a_double_click_on_save_records_one_room(make_page, inn):
    page, context = make_page(inn)
    page.focus_room("101")
    QTest.mouseClick(page.form.save, Qt.MouseButton.LeftButton)
    second_of_a_double_click(page.form.save)
    assert saved_rooms(context) == ["101"]
    assert page.form.draft.look.room == "102"
    assert not page.form.draft.is_begun


@pytest.mark.usefixtures("reads_like_a_person")
@pytest.mark.parametrize("key", [Key.Key_Return, Key.Key_Enter])
def test_ctrl_enter_pressed_twice_records_one_room(make_page, inn, keyboard, key):
    page, context = make_page(inn)
    page.focus_room("101")
    keyboard(page).press(key, key, modifier=CTRL)
    assert saved_rooms(context) == ["101"]
    assert page.form.draft.look.room == "102"


def test_a_held_ctrl_enter_saves_once(make_page, inn):
    page, _ = make_page(inn)
    for form in (page.form, page.rest):
        keys = [one for one in form.findChildren(QShortcut) if "Ctrl" in one.key().toString()]
        assert len(keys) == 2
        assert not any(one.autoRepeat() for one in keys)


@pytest.mark.usefixtures("reads_like_a_person")
def test_choosing_why_nobody_could_look_does_not_save_by_the_same_double_click(make_page, inn):
    page, context = make_page(inn)
    page.focus_room("101")
    page.form.why_nobody.actions()[0].trigger()
    second_of_a_double_click(page.form.save)
    assert saved_rooms(context) == []
    assert page.form.draft.is_begun


def test_whoever_has_read_the_next_room_saves_it(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("101")
    keys = keyboard(page)
    keys.save()
    keys.save()
    assert saved_rooms(context) == ["101", "102"]


def test_behind_the_last_room_one_goes_back_to_what_is_left(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.focus_room("103")
    keyboard(page).save()
    assert page.form.draft.look.room == "101"


def test_the_first_check_of_a_hotel_asks_for_names_first(make_page, keyboard):
    build = house().room("101").bed("A")
    page, context = make_page(build)
    page.focus_room("101")
    assert QApplication.focusWidget() is page.form.head.who
    assert "Name who looked." in page.form.before.text()
    keys = keyboard(page)
    keys.type("Cleo, Dan")
    assert "Name who" not in page.form.before.text()
    keys.save()
    assert checks(context)[0].by == ("Cleo", "Dan")
    assert context.people.names()[:2] == ("Cleo", "Dan")
    page.focus_room("101")
    assert page.form.head.who.names() == ("Cleo", "Dan")


# --- place by place ------------------------------------------------------------------------


def test_places_stand_in_looking_order_with_headings_where_something_is_moved(make_page, inn):
    page, _ = make_page(inn)
    page.focus_room("101")
    lines = page.form.places.places.lines
    beds = [line.text for line in lines if line.kind is LineKind.BED]
    assert [text.split(":")[0] for text in beds] == [
        "Bed 101/A",
        "Bed 101/B",
        "The room's other places",
    ]
    steps = [line.text for line in lines if line.kind is LineKind.STEP]
    assert "Stand the base on its side: 2 people" in steps
    first = [line.look.place.code for line in lines if line.look and line.look.bed == "101/A"]
    assert first == [place.code for place in rules().bed_kinds["box_spring"].places]


def test_arrows_pass_over_headings(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.focus_room("101")
    keys, places = keyboard(page), page.form.places
    reached = [(places.current().bed, places.current().place.code)]
    for _step in range(len(places.places.lines)):
        keys.press(Key.Key_Down)
        here = (places.current().bed, places.current().place.code)
        if here != reached[-1]:
            reached.append(here)
    assert reached == [line.key for line in places.places.lines if line.look]


def test_space_leaves_a_place_and_remembers_why(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("101")
    keys = keyboard(page)
    assert page.form.places.stand_on("101/A", "base_underside")
    keys.choose(Key.Key_Space, Key.Key_5)
    assert stand(page, "base_underside").why == "no_time"
    keys.press(Key.Key_Down, Key.Key_Space)
    assert stand(page, "base_staple_line").why == "no_time"
    keys.press(Key.Key_Space)
    assert stand(page, "base_staple_line").state is PlaceState.SEEN
    assert "101/A: its underside will not count. Left: Underside of the box spring" in (
        page.form.before.text()
    )
    assert "101/B: its underside will count" in page.form.before.text()
    keys.save()
    assert last_look(context.hotel.house, "101/A", TODAY) is None
    assert last_look(context.hotel.house, "101/B", TODAY) == TODAY


def test_a_place_of_the_long_form_is_looked_at_with_one_key_and_left_with_another(
    make_page, inn, keyboard
):
    page, _ = make_page(inn)
    page.focus_room("103")
    page.form.places.stand_on("103/A", "base_inside")
    keys = keyboard(page)
    keys.press(Key.Key_Space)
    assert stand(page, "base_inside").state is PlaceState.SEEN
    keys.press(Key.Key_Space)
    assert stand(page, "base_inside").why == "not_asked"
    assert not page.form.draft.is_begun


def test_letters_say_outright_how_a_place_stands(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.focus_room("103")
    page.form.places.stand_on("103/A", "mattress_top")
    keys = keyboard(page)
    keys.choose(Key.Key_N, Key.Key_2)
    assert stand(page, "mattress_top").why == "guest_belongings"
    keys.press(Key.Key_L)
    assert stand(page, "mattress_top").state is PlaceState.SEEN
    keys.choose(Key.Key_F, Key.Key_4)
    keys.choose(Key.Key_F, Key.Key_1)
    assert stand(page, "mattress_top").signs == (Sign.DARK_SPOTS, Sign.LIVE_INSECT)
    keys.choose(Key.Key_F, Key.Key_4)
    assert stand(page, "mattress_top").signs == (Sign.LIVE_INSECT,)


def test_a_key_of_another_alphabet_says_nothing(make_page, inn):
    page, _ = make_page(inn)
    page.focus_room("103")
    before = page.form.draft
    zhe = QKeyEvent(QEvent.Type.KeyPress, 0x0416, Qt.KeyboardModifier.NoModifier, "Ж")
    QApplication.sendEvent(page.form.places, zhe)
    assert page.form.draft == before


def test_a_click_on_how_it_stands_changes_it(make_page, inn, qtbot):
    page, _ = make_page(inn)
    page.focus_room("103")
    places = page.form.places
    places.stand_on("103/A", "base_inside")
    box = places.visualRect(places.places.index(places.currentIndex().row(), 1))
    qtbot.mouseClick(places.viewport(), Qt.MouseButton.LeftButton, pos=box.center())
    assert stand(page, "base_inside").state is PlaceState.SEEN


def test_the_card_says_the_caution_and_how_many_it_takes(make_page, inn):
    page, _ = make_page(inn)
    page.focus_room("103")
    page.form.places.stand_on("103/A", "base_staple_line")
    assert page.form.card.title.text() == "Staple line of its dust cover"
    assert "Takes 2 people." in page.form.card.caution.text()
    assert "Staples are sharp" in page.form.card.caution.text()


def test_an_underside_says_so_in_a_word_and_is_spoken(make_page, inn):
    # WCAG 2.2, 1.4.1: not by colour or weight alone.
    page, _ = make_page(inn)
    page.focus_room("103")
    model = page.form.places.places
    spoken = [
        model.data(model.index(number, 0), Qt.ItemDataRole.AccessibleTextRole)
        for number, line in enumerate(model.lines)
        if line.look and line.look.place.code == "base_corner_caps"
    ]
    assert spoken == ["Corner caps, underside, 2 people, likeliness 5 of 5, Looked at"]


# --- what can't be true -----------------------------------------------------------------------


def test_one_name_is_told_before_saving_and_refused_without_losing_a_word(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("103")
    page.form.note.setText("Lamp broken")
    page.form.head.who.set_names(["Anna"])
    assert "takes 2 people; name everybody" in page.form.before.text()
    keys = keyboard(page)
    keys.save()
    assert checks(context) == []
    (bar,) = context.notices.bars()
    assert "takes 2 people" in bar.label.text()
    assert QApplication.focusWidget() is page.form.head.who
    assert page.form.note.text() == "Lamp broken"
    keys.type(", Boris")
    keys.save()
    assert context.notices.bars() == ()
    assert checks(context, RoomChecked)[0].noted == "Lamp broken"


def test_one_person_named_twice_is_told_as_saving_refuses_it(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("103")
    page.form.head.who.set_names(["Ana", "ana"])
    assert "ana is named twice" in page.form.before.text().splitlines()[0]
    assert "Enough people" not in page.form.before.text()
    keyboard(page).save()
    assert checks(context) == []
    assert "ana is named twice" in context.notices.bars()[0].label.text()
    page.form.head.who.set_names(["Ana", "Boris"])
    assert "✓ Enough people" in page.form.before.text()


def test_what_keeps_one_from_saving_leads_and_beds_stand_in_order(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.focus_room("101")
    keyboard(page).choose(Key.Key_F, Key.Key_1)
    page.form.head.who.set_names(["Anna"])
    said = page.form.before
    shown = [said.layout().itemAt(number).widget() for number in range(said.layout().count())]
    texts = [label.text() for label in shown if not label.isHidden()]
    assert texts == said.text().splitlines()
    assert "name everybody" in texts[0]
    assert [text[2:7] for text in texts[-2:]] == ["101/A", "101/B"]


def test_a_day_to_come_cannot_be_chosen(make_page, inn):
    page, _ = make_page(inn)
    page.focus_room("103")
    page.form.head.day.set_day(day(41))
    assert page.form.draft.look.checked_on == TODAY


def test_a_visit_that_could_not_be_made_takes_one_choice(make_page, inn):
    page, context = make_page(inn)
    page.focus_room("101")
    page.form.why_nobody.actions()[0].trigger()
    page.form.save.click()
    told = checks(context)
    assert {(check.seen, check.minutes) for check in told} == {((), 0)}
    rows = published_rows(
        context.hotel.house, context.hotel.occupancy(), from_on=TODAY, now=context.hotel.now()
    )
    assert {row.room: row.state for row in rows}[told[0].room] is SlotState.IN_VAIN


def test_another_reason_asks_for_a_note(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.focus_room("103")
    keyboard(page).choose(Key.Key_N, Key.Key_7)
    assert "Write the other reason into the note." in page.form.before.text()
    page.form.note.setText("Cat asleep on it")
    assert "other reason" not in page.form.before.text()


def test_nobody_could_look_for_another_reason_is_saved_only_with_the_note(make_page, inn):
    page, context = make_page(inn)
    page.focus_room("101")
    page.form.why_nobody.actions()[-1].trigger()
    page.form.save.click()
    assert checks(context) == []
    assert QApplication.focusWidget() is page.form.note
    (bar,) = context.notices.bars()
    assert "no note says which" in bar.label.text()
    page.form.note.setText("Key card does not open")
    page.form.save.click()
    assert {check.room for check in checks(context)} == {"101"}
    assert context.notices.bars() == ()


# --- nothing typed is lost ---------------------------------------------------------------------


def test_a_half_entered_check_waits_while_one_is_elsewhere(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("101")
    keys = keyboard(page)
    keys.choose(Key.Key_N, Key.Key_1)
    page.form.note.setText("Half done")
    begun = page.form.draft
    page.focus_room("103")
    assert page.form.note.text() == ""
    assert [row.is_begun for row in page.slots.table.model.rows] == [True, False, False]
    page.hide()
    page.refresh()
    page.show()
    page.focus_room("101")
    assert page.form.draft == begun
    assert page.form.note.text() == "Half done"
    assert stand(page, "bedding").why == "no_second_person"
    assert checks(context) == []


def test_what_others_write_meanwhile_does_not_touch_the_fields(make_page, inn):
    page, context = make_page(inn)
    page.focus_room("101")
    page.form.head.who.setText("Anna, ")
    look = full_look(context.hotel.house, "104", on=TODAY, by=("Cleo", "Dan"), kind=CheckKind.DEEP)
    record_looks(context.hotel, [look])
    assert page.form.head.who.text() == "Anna, "


def test_a_room_begun_off_the_sheet_is_named(make_page, inn):
    page, _ = make_page(inn)
    page.focus_room("104")
    page.form.note.setText("Half done")
    page.focus_room("101")
    assert page.slots.begun.text() == "Begun, not saved: 104"


def test_starting_over_forgets_what_was_typed(make_page, inn, qtbot):
    page, _ = make_page(inn)
    page.focus_room("101")
    page.form.note.setText("Half done")
    qtbot.mouseClick(page.form.start_over, Qt.MouseButton.LeftButton)
    assert page.form.note.text() == ""
    assert not page.form.draft.is_begun


# --- which room, which kind ---------------------------------------------------------------------


def test_any_room_begins_by_its_number_and_enter(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.setFocus()
    assert QApplication.focusWidget() is page.slots.room
    keys = keyboard(page)
    keys.type("104")
    keys.press(Key.Key_Return)
    assert page.form.draft.look.room == "104"
    page.slots.room.setFocus()
    keys.type("999")
    keys.press(Key.Key_Return)
    assert page.slots.problem.text() == "There is no room 999."
    assert page.form.draft.look.room == "104"


def test_a_slot_begins_with_enter_on_its_row(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.slots.table.select(("Early", "102"))
    page.slots.table.view.setFocus()
    keyboard(page).press(Key.Key_Return)
    assert page.form.draft.look.room == "102"


def test_a_room_that_a_case_asked_for_is_an_asked_check_of_that_case(make_page, inn, keyboard):
    inn.record(
        Sighted("2026-001", "104", "", "", Sign.EGGS, 1, "Anna", moment(39)),
        CheckAsked("2026-001", "103", ("shares_wall",), moment(41)),
    )
    page, context = make_page(inn)
    page.focus_room("103")
    assert page.form.head.kind.currentData() == "asked"
    assert "Case 2026-001 wants this look: shares a wall with 104" in page.form.head.wanted.text()
    keyboard(page).save()
    (check,) = checks(context)
    assert (check.kind, check.asked_by) == (CheckKind.ASKED, "2026-001")
    page.focus_room("103")
    assert page.form.head.kind.currentData() == "deep"


def test_a_treated_room_is_a_clearance_check_and_too_early_is_said(make_page, inn):
    inn.record(
        Sighted("2026-001", "104", "", "", Sign.EGGS, 1, "Anna", moment(30)),
        QuarantinePlaced("104", "2026-001", moment(30), "sighting"),
        CaseJudged("2026-001", Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(31)),
        TreatmentRecorded("2026-001", "104", day(40), "heat", "firm", "L", moment(41)),
    )
    page, _ = make_page(inn)
    page.focus_room("104")
    assert page.form.head.kind.currentData() == "clearance"
    said = page.form.before.text()
    assert "nobody goes in before" in said
    assert "counts towards giving the room back from" in said


def test_a_brief_check_asks_for_nothing_underneath(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("103")
    kind = page.form.head.kind
    kind.setFocus()
    keyboard(page).press(Key.Key_Down)
    assert kind.currentData() == "brief"
    assert stand(page, "base_underside").why == "not_asked"
    keyboard(page).save()
    (check,) = checks(context)
    assert check.kind is CheckKind.BRIEF
    assert last_look(context.hotel.house, "103/A", TODAY) == day(30)


def test_a_second_check_of_a_day_is_told(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.focus_room("103")
    keyboard(page).save()
    page.focus_room("103")
    assert "Already recorded for this day" in page.form.before.text()


# --- finds ------------------------------------------------------------------------------------


def test_a_find_says_at_once_what_it_sets_going_and_leads_to_its_case(
    make_page, inn, keyboard, qtbot, went
):
    page, context = make_page(inn)
    page.focus_room("102")
    keys = keyboard(page)
    assert not page.form.found_at.isVisible()
    keys.choose(Key.Key_F, Key.Key_1)
    said = page.form.before.text()
    assert "Opens case 2026-001" in said
    assert "Quarantine at once: 102" in said
    assert "Look at 101 and 103 by" in said
    assert page.form.found_at.isVisible()
    assert context.hotel.house.sightings == {}
    keys.save()
    assert context.hotel.house.quarantined(context.hotel.now()) == {"102"}
    (bar,) = context.notices.bars()
    assert "Quarantine at once: 102" in bar.label.text()
    qtbot.mouseClick(bar.button, Qt.MouseButton.LeftButton)
    assert went(context) == [("cases", "102")]


def test_a_room_in_which_something_was_found_does_not_read_as_merely_looked_at(make_page, inn):
    page, context = make_page(inn)
    hotel = context.hotel
    looks = [
        full_look(hotel.house, room, on=TODAY, by=("Anna", "Boris"), kind=CheckKind.DEEP)
        for room in ("101", "103")
    ]
    record_looks(hotel, [find(looks[0], "101/A", "bedding", Sign.EGGS), looks[1]])
    model = page.slots.table.model
    told = {row.slot.room: model.index(n, 1).data() for n, row in enumerate(model.rows)}
    assert told == {"101": "! Found something", "102": "To do", "103": "✓ Looked at"}


def test_a_find_of_an_earlier_day_is_of_that_day_at_the_clock_shown(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("104")
    keys = keyboard(page)
    keys.choose(Key.Key_F, Key.Key_1)
    page.form.head.day.set_day(day(38))
    keys.save()
    (sighted,) = context.hotel.house.all_of(Sighted)
    assert sighted.seen_at == moment(38)  # nine o'clock UTC is the test's clock


def test_a_find_now_is_of_the_moment_it_is_written_down(make_page, inn, keyboard, clock):
    page, context = make_page(inn)
    page.focus_room("104")
    keys = keyboard(page)
    keys.choose(Key.Key_F, Key.Key_1)
    clock.moment = moment(40, 10)
    keys.save()
    (sighted,) = context.hotel.house.all_of(Sighted)
    assert sighted.seen_at == moment(40, 10)


# --- recorded lately -------------------------------------------------------------------------


def test_recorded_checks_say_what_was_left_and_whether_they_count(make_page, inn, keyboard):
    page, _ = make_page(inn)
    page.focus_room("103")
    page.form.places.stand_on("103/A", "base_underside")
    keyboard(page).choose(Key.Key_N, Key.Key_1)
    keyboard(page).save()
    table = page.recorded.table
    lines = [line.split("\t") for line in table.as_text(table.shown_rows()).splitlines()]
    bed = dict(zip(lines[0], lines[1], strict=True))
    assert bed["Bed or room"] == "103/A"
    assert bed["Who"] == "Anna and Boris"
    assert bed["Underside"] == "– Does not count"
    assert bed["Not looked at, and why"] == "Underside of the box spring: No second person to lift"
    assert [row.room for row in table.shown_rows()] == ["103", "103", "103"]


def test_a_check_is_taken_back_with_a_reason_and_not_without(make_page, inn, keyboard, qtbot):
    page, context = make_page(inn)
    page.focus_room("104")
    keys = keyboard(page)
    keys.save()
    entry = max(context.hotel.house.entries)
    page.tabs.setCurrentWidget(page.recorded)
    page.recorded.select(entry)
    qtbot.mouseClick(page.recorded.take_back, Qt.MouseButton.LeftButton)
    assert f"Take back entry {entry}, the check of room 104?" in page.recorded.asked.text()
    assert QApplication.focusWidget() is page.recorded.reason
    keys.press(Key.Key_Return)
    assert max(context.hotel.house.entries) == entry
    assert "needs a reason" in context.notices.bars()[0].label.text()
    keys.type("Wrong room")
    keys.press(Key.Key_Return)
    assert checks(context) == []
    assert context.hotel.house.entries[entry + 1].note == "Wrong room"
    assert not page.recorded.line.isVisible()


def test_taking_back_says_which_other_rooms_and_cases_go_along(make_page, inn, qtbot):
    page, context = make_page(inn)
    hotel = context.hotel
    looks = [
        full_look(hotel.house, room, on=TODAY, by=("Anna", "Boris"), kind=CheckKind.DEEP)
        for room in ("103", "104")
    ]
    record_looks(hotel, [find(looks[0], "103/A", "bedding", Sign.EGGS), looks[1]])
    page.tabs.setCurrentWidget(page.recorded)
    page.recorded.select(max(hotel.house.entries))
    qtbot.mouseClick(page.recorded.take_back, Qt.MouseButton.LeftButton)
    assert "rooms 103 and 104" in page.recorded.asked.text()
    assert "2026-001" in page.recorded.asked.text()
    qtbot.keyClick(page.recorded.reason, Key.Key_Escape)
    assert not page.recorded.line.isVisible()
    assert len(checks(context)) == 2


def test_a_look_is_corrected_in_the_form_it_was_typed_in(make_page, inn, keyboard, qtbot):
    page, context = make_page(inn)
    page.focus_room("104")
    keys = keyboard(page)
    keys.save()
    entry = max(context.hotel.house.entries)
    page.tabs.setCurrentWidget(page.recorded)
    page.recorded.select(entry)
    qtbot.mouseClick(page.recorded.correct, Qt.MouseButton.LeftButton)
    assert page.tabs.currentIndex() == 0
    assert QApplication.focusWidget() is page.form.head.reason
    assert "Already recorded" not in page.form.before.text()
    page.form.places.stand_on("104/A", "base_underside")
    page.form.places.setFocus()
    keys.choose(Key.Key_N, Key.Key_5)
    keys.save()
    assert "needs a reason" in context.notices.bars()[0].label.text()
    assert QApplication.focusWidget() is page.form.head.reason
    keys.type("They ran out of time")
    keys.save()
    (check,) = checks(context)
    assert "base_underside:no_time" in check.unseen
    written = context.hotel.house.entries[max(context.hotel.house.entries)]
    assert (written.corrects, written.note) == (entry, "They ran out of time")
    assert page.tabs.currentWidget() is page.recorded
    assert page.recorded.table.current().entry == written.number


def test_a_correction_half_entered_does_not_meet_a_new_check_of_the_room(
    make_page, inn, keyboard, qtbot
):
    page, context = make_page(inn)
    page.focus_room("104")
    keyboard(page).save()
    entry = max(context.hotel.house.entries)
    page.recorded.select(entry)
    page.recorded.correct.click()
    page.form.head.reason.setText("Half a reason")
    page.focus_room("104")
    assert page.form.draft.corrects is None
    assert page.form.note.text() == ""
    page.recorded.correct.click()
    assert page.form.draft.corrects == entry
    assert page.form.head.reason.text() == "Half a reason"
    qtbot.mouseClick(page.form.start_over, Qt.MouseButton.LeftButton)
    assert page.form.draft is None
    assert page.tabs.currentWidget() is page.recorded


# --- the page as a whole -------------------------------------------------------------------------


def test_a_hotel_without_rooms_is_told_the_one_next_step(make_page, qtbot, went):
    page, context = make_page(house())
    assert page.no_roster.isVisible()
    qtbot.mouseClick(page.no_roster.button, Qt.MouseButton.LeftButton)
    assert went(context) == [("load_roster", None)]


def test_a_room_too_long_for_one_visit_begins_with_the_beds_of_its_slot(make_page, keyboard):
    build = house().team("Early").team("Late").room("101").bed("A").bed("B")
    parts = [
        SlotPublished(TODAY, team, 1, "101", (bed,), 20)
        for team, bed in (("Early", "101/A"), ("Late", "101/B"))
    ]
    page, context = make_page(build.record(RoundPublished(TODAY, TODAY), *parts))
    page.focus_room("101")
    assert "Not part of this check: 101/B" in page.form.before.text()
    page.form.head.who.set_names(["Anna", "Boris"])
    page.form.places.setFocus()
    for bed in ("101/A", "101/B"):
        assert [one.bed for one in page.form.draft.look.beds] == [bed]
        assert "Already recorded" not in page.form.before.text()
        keyboard(page).save()
    assert [check.bed for check in checks(context)] == ["101/A", "101/B"]
    assert page.form.draft is None


def test_one_person_named_twice_is_not_two(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("103")
    page.form.head.who.setText("Anna, anna")
    keyboard(page).save()
    assert checks(context) == []
    assert QApplication.focusWidget() is page.form.head.who


def test_a_room_that_is_not_there_is_refused_in_words(make_page, inn):
    page, context = make_page(inn)
    page.focus_room("999")
    assert "999" in context.notices.bars()[0].label.text()
    assert page.form.draft is None


def test_a_room_without_a_bed_can_be_looked_at(make_page, keyboard):
    build = house().room("101").bed("A").checked("A", day(3)).room("102")
    page, context = make_page(build)
    page.focus_room("102")
    assert "This room has no bed." in page.form.before.text()
    keyboard(page).save()
    assert [fact.room for fact in checks(context, RoomChecked)] == ["102"]


def test_the_lists_keep_to_qts_rules(make_page, inn, qtmodeltester):
    page, _ = make_page(inn)
    page.focus_room("101")
    qtmodeltester.check(page.form.places.places)
    qtmodeltester.check(page.slots.table.model)
    qtmodeltester.check(page.recorded.table.model)


def test_everything_one_can_reach_has_a_name(make_page, inn, keyboard, nameless):
    page, _ = make_page(inn)
    assert nameless(page) == []
    page.focus_room("101")
    keyboard(page).choose(Key.Key_F, Key.Key_1)
    assert nameless(page) == []
    page.tabs.setCurrentWidget(page.recorded)
    page.recorded.take_back.click()
    assert nameless(page) == []


@pytest.mark.parametrize("theme", [Theme.LIGHT, Theme.DARK])
@pytest.mark.parametrize("size", list(TextSize))
def test_nothing_is_clipped_in_any_look(make_page, inn, look, qtbot, theme, size):
    look.choose(theme, size)
    page, _ = make_page(inn)
    page.focus_room("101")
    head, card = page.form.head, page.form.card
    shown = (head.title, head.day, head.kind, page.form.save, card.left_out, card.found_there)

    def clipped():
        return [one for one in shown if one.width() < one.minimumSizeHint().width()]

    qtbot.waitUntil(lambda: not clipped())
    assert page.form.places.rowHeight(1) > 2 * page.form.places.fontMetrics().height()


def test_the_limit_of_every_look_stands_there_once(make_page, inn):
    page, _ = make_page(inn)
    page.focus_room("101")
    said = [label.text() for label in page.findChildren(QLabel)]
    assert said.count("A clean look does not prove a clean room.") == 1


def test_minutes_and_note_are_written_down(make_page, inn, keyboard):
    page, context = make_page(inn)
    page.focus_room("101")
    page.form.minutes["101/B"].setValue(23)
    page.form.note.setText("  Lamp broken ")
    page.form.places.setFocus()
    keyboard(page).save()
    assert {check.bed: check.minutes for check in checks(context)} == {
        "101/A": rules().bed_kinds["box_spring"].minutes,
        "101/B": 23,
    }
    assert checks(context, RoomChecked)[0].noted == "Lamp broken"


def test_a_draft_whose_bed_left_the_roster_is_refused_and_can_be_begun_anew(
    make_page, inn, keyboard
):
    page, context = make_page(inn)
    page.focus_room("101")
    bed = context.hotel.house.beds["101/B"]
    context.hotel.record(lambda _: [replace(bed, in_use=False)], action="test")
    keyboard(page).save()
    assert "There is no bed 101/B in room 101." in context.notices.bars()[0].label.text()
    page.form.note.setText("Half done")
    page.form.start_over.click()
    keyboard(page).save()
    assert [check.bed for check in checks(context)] == ["101/A"]


def test_a_reason_has_the_number_that_stands_on_the_printed_sheet(make_page, inn):
    # A team writes the number on its sheet; pressed in the window it must mean the same.
    printed = dict(re.findall(r"(\d)\s(.+?)(?:, (?=\d)|$)", numbered_reasons()))
    page, _ = make_page(inn)
    page.focus_room("101")
    offered = {}
    for line in page.form.places.places.lines:
        if line.look is not None:
            page.form.places.stand_on(line.look.bed, line.look.place.code)
            told = [action.text() for action in page.form.card.reasons.actions()]
            offered |= {text[1]: text[2:].strip() for text in told}
    assert len(printed) == 8
    assert offered == printed


def test_checks_begun_are_told_as_not_saved(make_page, inn, qtbot):
    page, _ = make_page(inn)
    assert page.unsaved() == ()
    for room in ("101", "103"):
        page.focus_room(room)
        page.form.note.setText("Half done")
    assert page.unsaved() == ("Not saved: the check of 101 and 103.",)


def test_what_was_undone_is_told_no_longer(make_page, inn, qtbot):
    page, context = make_page(inn)
    page.focus_room("104")
    page.form.head.who.setText("Anna, Boris")
    qtbot.keyClick(page.form.note, Key.Key_Return, CTRL)
    assert "Room 104 is recorded" in page.told.text()
    undo(context.hotel)
    assert page.told.text() == ""


def test_a_visits_times_and_aids_are_written_down_and_shown_again_to_be_corrected(
    qtbot, make_page, inn
):
    page, context = make_page(inn)
    page.focus_room("102")
    visit = page.form.visit
    visit.begun.setFocus()
    qtbot.keyClicks(visit.begun, "8.05")
    qtbot.keyClick(QApplication.focusWidget(), Key.Key_Tab)
    qtbot.keyClicks(QApplication.focusWidget(), "820")
    page.form.aids.choose(("hand_lens",))
    qtbot.keyClick(QApplication.focusWidget(), Key.Key_Return, CTRL)
    entry = max(context.hotel.house.entries)
    facts = [
        row.fact
        for kind in (BedChecked, RoomChecked)
        for row in context.hotel.house.kept_of(kind)
        if row.entry == entry
    ]
    version = inn.house.rules.form_version
    assert {(f.from_clock, f.until_clock, f.aids, f.form_version) for f in facts} == {
        ("08:05", "08:20", ("hand_lens",), version)
    }
    assert page.form.head.form.text() == f"Form version {version}"
    page.recorded.select(entry)
    page._correct(page.recorded.table.current())
    assert visit.clocks() == ("08:05", "08:20")
    assert page.form.aids.chosen() == ("hand_lens",)


def test_a_printed_sheet_fills_in_its_day_and_form_also_where_one_has_begun(make_page, inn):
    page, context = make_page(inn)
    today, version = context.hotel.today(), inn.house.rules.form_version

    def sheet(on, form=version):
        page.focus_sheet(RoomMark("000000", on, form, RoomNo("102")))
        return page.form.draft.look

    before = today - timedelta(days=2)
    assert (sheet(before).checked_on, page.form.head.day.day()) == (before, before)
    assert not page.form.draft.is_begun  # only filled in: nobody has said anything yet
    page.form.note.setText("left a drawer open")
    assert sheet(today - timedelta(days=1)).checked_on == today - timedelta(days=1)
    assert page.form.draft.look.noted == "left a drawer open"
    assert not context.notices.bars()
    assert sheet(today + timedelta(days=3)).checked_on == today  # nobody filled it in yet
    assert "still to come: today is filled in" in context.notices.bars()[-1].label.text()
    page._start_over()
    page._leave_form()
    page.focus_sheet(RoomMark("000000", today, version + 1, RoomNo("104")))
    assert page.form.draft is None
    assert any("no version" in bar.label.text() for bar in context.notices.bars())


def test_a_clock_time_that_is_none_is_refused_where_it_stands(qtbot, make_page, inn):
    page, context = make_page(inn)
    before = len(context.hotel.house.entries)
    page.focus_room("102")
    page.form.visit.begun.setFocus()
    qtbot.keyClicks(page.form.visit.begun, "25:10")
    qtbot.keyClick(QApplication.focusWidget(), Key.Key_Return, CTRL)
    assert len(context.hotel.house.entries) == before
    assert QApplication.focusWidget() is page.form.visit.begun
