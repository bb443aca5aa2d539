"""Blind trials in the window: dummies hidden and ended by keys, and what twenty of them change."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from scipy.stats import beta

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.odds import OddsWish, odds_view
from hotelwatch.actions.trials import TrialEnding, end_trial, hide_dummy
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CheckKind, RoomNo, StaysImported
from hotelwatch.core.odds.learning.trials import TrialState, trials
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.standing import Standing
from hotelwatch.core.trial_facts import BlindPair, DummyEnded, DummyFate, DummyHidden
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.odds.page import OddsPage
from hotelwatch.screens.odds.trials_pane import TrialsPane
from tests.build import day, house

UNDER = "base_underside"
TAB, ENTER, ESC, SPACE = Qt.Key.Key_Tab, Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Space
LOOKED = ("Ana", "Boris")
ROOMS = ("101", "102", "103", "104", "105")


@pytest.fixture
def hotel(make_hotel):
    """Five rooms; a guest comes to the first on day 42, and one stays in the second."""
    build = house()
    for number in ROOMS:
        build.room(number).bed("A")
    build.bed("B").stays(("101", 42, 44), ("102", 38, 45))
    made = make_hotel(build)
    made.record_stays(build.house.stays, StaysImported("list.csv", "0" * 64, day(0), 2, 0))
    return made


def view_of(hotel):
    return odds_view(
        OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today(), None)
    )


@pytest.fixture
def pane(hotel, make_context, qtbot):
    made = TrialsPane(make_context(hotel))
    qtbot.addWidget(made)
    made.resize(1080, 680)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made._context.bus.changed.connect(lambda _changes: made.show_view(view_of(hotel)))
    made.show_view(view_of(hotel))
    return made


@pytest.fixture
def press(qtbot):
    """Presses keys where the keyboard is, popups first."""

    def keys(*told):
        for one in told:
            popup, focus = QApplication.activePopupWidget(), QApplication.focusWidget()
            if isinstance(one, str):
                qtbot.keyClicks(focus, one)
            else:
                qtbot.keyClick(popup or focus, one)

    return keys


def hide(hotel, dummy="D1", room="101", place=UNDER):
    hide_dummy(
        hotel, DummyHidden(dummy, RoomNo(room), f"{room}/A", place, hotel.today(), "Mara Lund")
    )


def look(hotel, room="101", by=LOOKED):
    one = full_look(hotel.house, RoomNo(room), on=hotel.today(), by=by, kind=CheckKind.DEEP)
    record_looks(hotel, [one])


def told(pane):
    return [bar.label.text() for bar in pane._context.notices.bars()]


# --- hiding ----------------------------------------------------------------------------------


def test_an_empty_list_says_what_a_blind_trial_is_and_offers_the_first_step(pane, press):
    assert "harmless marked object" in pane.table.empty_text.text()
    assert "nobody is ranked" in pane.table.empty_text.text()
    assert not pane.to_end.isEnabled()
    assert not pane.to_mistake.isEnabled()
    assert pane.by_place.isHidden()
    pane.table.empty_step.setFocus()
    press(SPACE)
    assert QApplication.focusWidget() is pane.hide_form.dummy
    said = pane.hide_form.caution.text()
    assert "never live or dead insects" in said
    assert "two people, gloves" in said


def test_a_dummy_is_hidden_by_keys_alone(pane, hotel, press):
    pane.to_hide.setFocus()
    press(ENTER, "D1", TAB, "105", TAB)
    form = pane.hide_form
    assert form.bed.value() == "105/A"
    press("105/B", TAB, "underside of the box", TAB)
    assert QApplication.focusWidget() is form.who
    press(TAB, TAB, TAB)
    assert QApplication.focusWidget() is form.save_button
    press(ENTER)
    (hidden,) = hotel.house.all_of(DummyHidden)
    assert hidden == DummyHidden("D1", RoomNo("105"), "105/B", UNDER, hotel.today(), "tester")
    assert "Collect it before the next guest" in told(pane)[0]
    assert QApplication.focusWidget() is pane.to_hide
    assert [row.hidden.dummy for row in pane.table.shown_rows()] == ["D1"]
    assert not form.is_begun()


def test_places_are_those_of_the_bed_or_of_the_room_in_looking_order(pane, hotel):
    pane.to_hide.click()
    form, rules = pane.hide_form, hotel.house.rules
    assert (form.bed.count(), form.place.count()) == (0, 0)
    form.room.choose("101")
    offered = [form.place.itemData(n) for n in range(form.place.count())]
    assert offered == [p.code for p in rules.bed_kinds["box_spring"].places_of(encased=False)]
    form.bed.choose("")
    offered = [form.place.itemData(n) for n in range(form.place.count())]
    assert offered == [place.code for place in rules.room_places]
    form.dummy.setText("D9")
    form.place.choose("luggage_rack")
    form.try_to_save()
    (hidden,) = hotel.house.all_of(DummyHidden)
    assert (hidden.bed, hidden.place) == ("", "luggage_rack")


def test_coming_guests_and_those_who_stay_are_said_before_one_hides(pane, hotel):
    pane.to_hide.click()
    form = pane.hide_form
    form.room.choose("101")
    assert "arrives on Mon 16 Feb 2026" in form.guests.text()
    assert day(42).isoformat() == "2026-02-16"
    form.room.choose("102")
    assert "Somebody stays in room 102" in form.guests.text()
    form.room.choose("103")
    assert "No coming guest of room 103 is known" in form.guests.text()


def test_what_is_refused_is_said_in_place_and_nothing_typed_is_lost(pane, hotel, press):
    hide(hotel)
    pane.to_hide.click()
    form = pane.hide_form
    press("D1", TAB, "999", TAB)
    form.try_to_save()
    assert "There is no room 999" in form.form.problem_of(form.room)
    form.room.choose("102")
    form.try_to_save()
    assert form.form.problem_of(form.place)
    form.place.choose(UNDER)
    form.try_to_save()
    assert "still lies hidden in room 101" in form.form.problem_of(form.dummy)
    assert form.dummy.text() == "D1"
    assert (form.room.value(), form.place.value()) == ("102", UNDER)
    form.dummy.setText("D2")
    form.day.set_day(hotel.today() + timedelta(days=1))
    form.try_to_save()
    assert form.form.problem_of(form.day)
    form.day.set_day(hotel.today())
    form.who.clear()
    form.try_to_save()
    assert form.form.problem_of(form.who)
    form.who.setText("Mara Lund")
    form.try_to_save()
    assert [one.dummy for one in hotel.house.all_of(DummyHidden)] == ["D1", "D2"]


def test_a_form_left_keeps_what_was_typed_and_the_pane_says_so(pane, hotel, press):
    pane.to_hide.click()
    assert pane.unsaved() == ()
    press("D7", TAB, "103", ESC, ESC)  # the first one closes the list of choices
    assert QApplication.focusWidget() is pane.to_hide
    (said,) = pane.unsaved()
    assert "A dummy is hidden" in said
    pane.show_view(view_of(hotel))
    pane.to_hide.click()
    assert pane.hide_form.dummy.text() == "D7"
    assert pane.hide_form.room.typed() == "103"
    pane.hide_form.place.choose(UNDER)
    pane.hide_form.try_to_save()
    assert pane.unsaved() == ()


# --- ending ----------------------------------------------------------------------------------


def test_a_trial_is_ended_by_keys_with_who_looked_and_when_from_the_record(
    pane, hotel, clock, press
):
    hide(hotel)
    clock.moment += timedelta(days=1)
    look(hotel)
    looked_on = hotel.today()
    clock.moment += timedelta(days=1)
    pane.show_view(view_of(hotel))
    (row,) = pane.table.shown_rows()
    assert pane.table.as_text([row]).endswith("Looked at: collect it")
    pane.table.view.setFocus()
    pane.table.select(row.entry)
    assert "Ana and Boris looked there" in pane.told.text()
    press(ENTER)
    form = pane.end_form
    assert QApplication.focusWidget() is form.dummy
    assert form.dummy.value() == "D1"
    press(TAB, "a check", TAB, TAB, "collected", TAB)
    assert form.who.names() == LOOKED
    press(TAB, ENTER)
    (ended,) = hotel.house.all_of(DummyEnded)
    assert ended == DummyEnded("D1", RoomNo("101"), looked_on, True, LOOKED, DummyFate.COLLECTED)
    (one,) = trials(hotel.house)
    assert one.state is TrialState.FOUND
    assert "Found; ended" in told(pane)[0]
    assert not pane.to_end.isEnabled()
    assert QApplication.focusWidget() is pane.to_hide


def test_a_dummy_not_collected_keeps_its_trial_open(pane, hotel):
    hide(hotel)
    pane.to_end.click()
    form = pane.end_form
    form.try_to_save()
    assert "whether a check found it" in form.form.problem_of(form.result)
    form.result.choose("unfound")
    form.try_to_save()
    assert "still lies in 101/A" in form.form.problem_of(form.fate)
    form.fate.choose("lost")
    form.day.set_day(hotel.today() - timedelta(days=1))
    form.try_to_save()
    assert "can't end before" in form.form.problem_of(form.day)
    form.day.set_day(hotel.today())
    form.try_to_save()
    assert hotel.house.all_of(DummyEnded)[-1].fate is DummyFate.LOST


def test_a_dummy_found_where_no_check_looked_is_doubted(pane, hotel):
    hide(hotel)
    pane.to_end.click()
    form = pane.end_form
    form.result.choose("found")
    form.fate.choose("collected")
    form.try_to_save()
    assert any("no check that looked there is written down" in said for said in told(pane))


def test_with_several_checks_the_day_is_asked_for(pane, hotel, clock):
    hide(hotel)
    for _ in range(2):
        clock.moment += timedelta(days=1)
        look(hotel)
    pane.to_end.click()
    form = pane.end_form
    form.result.choose("found")
    assert "give the day of the one that found it" in form.record.text()
    assert form.day.day() == hotel.today()
    assert form.who.names() == ()


def test_a_trial_written_down_by_mistake_is_taken_back_with_its_reason(pane, hotel):
    hide(hotel)
    pane.table.select(pane.table.shown_rows()[0].entry)
    pane.to_mistake.click()
    form = pane.mistake_form
    form.try_to_save()
    assert form.form.problem_of(form.reason)
    form.reason.setText("it was room 102")
    form.try_to_save()
    assert trials(hotel.house) == ()
    assert pane.table.shown_rows() == ()
    assert not pane.to_mistake.isEnabled()


# --- two blind looks -------------------------------------------------------------------------


def test_two_blind_looks_are_noted_and_shown(pane, hotel):
    pane.to_pair.click()
    form = pane.pair_form
    form.try_to_save()
    assert form.form.problem_of(form.room)
    assert form.form.problem_of(form.first_found)
    form.room.choose("103")
    form.first_found.choose("found")
    form.second_found.choose("unfound")
    form.first.setText("Ana")
    form.try_to_save()
    assert "names of both" in form.form.problem_of(form.second)
    form.second.setText("ana")
    form.try_to_save()
    assert form.form.problem_of(form.second)
    form.second.setText("Boris")
    form.first_at.show_moment(hotel.now() - timedelta(days=4), hotel.zone)
    form.try_to_save()
    assert "48 hours" in form.form.problem_of(form.second_at)
    form.second_at.show_moment(hotel.now() + timedelta(days=1), hotel.zone)
    form.try_to_save()
    assert form.form.problem_of(form.second_at)
    form.first_at.show_moment(hotel.now() - timedelta(hours=3), hotel.zone)
    form.second_at.show_moment(hotel.now(), hotel.zone)
    form.try_to_save()
    (pair,) = hotel.house.all_of(BlindPair)
    assert pair == BlindPair(
        RoomNo("103"),
        "Ana",
        hotel.now() - timedelta(hours=3),
        True,
        "Boris",
        hotel.now(),
        second_found=False,
    )
    assert "1 by the first, 0 by the second" in pane.text()


# --- what they showed ------------------------------------------------------------------------


def run_trials(hotel, clock, count, *, missed=(), by=LOOKED):
    """So many trials, a day each, in one room after the other."""
    for number in range(count):
        clock.moment += timedelta(days=1)
        room = ROOMS[number % len(ROOMS)]
        hide(hotel, room=room)
        look(hotel, room, by)
        was_found = number not in missed
        end_trial(hotel, TrialEnding("D1", hotel.today(), was_found, DummyFate.COLLECTED, by))


def test_few_trials_leave_the_assumption_and_show_nobodys_own_figure(pane, hotel, clock):
    assert "0.30 (0.20 to 0.45): assumed" in pane.text()
    assert "20 more trials that count" in pane.text()
    run_trials(hotel, clock, 6, missed={2})
    said = pane.text()
    assert "5 of 6 dummies found" in said
    assert "14 more trials that count" in said
    assert "No figure of their own before 20 trials each: Ana and Boris" in said
    assert "nobody is ranked" in said
    assert "A dummy is no insect" in said
    (row,) = pane.by_place.shown_rows()
    low, high = beta(5.5, 1.5).ppf([0.05, 0.95])  # Jeffreys' prior, by scipy
    assert pane.by_place.as_text([row]).splitlines()[1].split("\t") == [
        "Underside of the box spring",
        "5 of 6",
        f"{low:.2f} to {high:.2f}",
    ]
    assert "1 more" not in said


def test_own_figures_come_by_name_from_twenty_on(pane, hotel, clock):
    run_trials(hotel, clock, 18, by=("Zoe", "Ana"))
    run_trials(hotel, clock, 1, by=("Boris", "Ana"), missed={0})
    assert "before 20 trials each: Ana, Boris and Zoe" in pane.text()
    run_trials(hotel, clock, 1, by=("Zoe", "Ana"))
    said = pane.text()
    assert "Ana: 19 of 20 dummies found" in said
    assert "before 20 trials each: Boris and Zoe." in said
    assert not {"Boris:", "Zoe:"} & set(said.split())


def test_every_widget_reached_by_keys_has_a_name(pane, hotel, nameless, clock):
    run_trials(hotel, clock, 1)
    hide(hotel)
    for opener in (pane.to_hide, pane.to_end, pane.to_pair, pane.to_mistake):
        opener.click()
        assert nameless(pane) == []


def test_twenty_trials_recorded_in_the_window_change_the_odds(make_window, hotel, clock, qtbot):
    hotel.close()
    window = make_window((PageSpec("odds", "How sure", "odds", OddsPage),))
    assert window.open_path(hotel.path)
    window.stack.go_to("odds")
    page, hotel = window.stack.pages["odds"], window.hotel
    qtbot.waitUntil(lambda: page._view is not None, timeout=10_000)
    pane = page.trials
    page.tabs.setCurrentWidget(pane)

    def wait_for(behind):
        def is_there():
            notice = page._view.learned.notice
            return notice is not None and notice.behind == behind and not window.jobs.is_busy

        qtbot.waitUntil(is_there, timeout=20_000)

    def record(number):
        clock.moment += timedelta(days=1)
        room = ROOMS[number % len(ROOMS)]
        pane.to_hide.click()
        form = pane.hide_form
        form.dummy.setText("D1")
        form.room.choose(room)
        form.place.choose(UNDER)
        form.try_to_save()
        look(hotel, room)
        pane.to_end.click()
        form = pane.end_form
        assert form.dummy.value() == "D1"
        form.result.choose("unfound" if number in (4, 11) else "found")
        form.fate.choose("collected")
        if number < 19:
            form.try_to_save()

    for number in range(20):
        record(number)
    wait_for(19)
    before = page._view
    assert before.reckoning.rules.figures.notice_deep.standing is Standing.ASSUMPTION
    assert "1 more trial that counts" in pane.text()
    pane.end_form.try_to_save()
    wait_for(20)
    after = page._view
    assert after.reckoning.today == before.reckoning.today
    figure = after.reckoning.rules.figures.notice_deep
    belief = beta(18.5, 2.5)  # Jeffreys' prior, by scipy
    assert figure.standing is Standing.MEASURED
    assert figure.value == pytest.approx(belief.median(), abs=1e-6)
    assert figure.cautious == pytest.approx(belief.ppf(0.05), abs=1e-6)
    assert "measured here: 18 of 20 dummies found" in pane.text()
    assert "in the place of the assumed 0.30 (0.20 to 0.45)" in pane.text()
    was = {row.room: row.chance[Stance.CENTRAL] for row in before.rooms}
    for row in after.rooms:  # each was looked at and nothing found: seen better, less missed
        assert row.chance[Stance.CENTRAL] < was[row.room]
    assert after.hotel.expected[Stance.CENTRAL] < before.hotel.expected[Stance.CENTRAL]
