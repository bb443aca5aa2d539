"""What if: sliders moved by keyboard; the answer is the planner's own, asked for anew."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from hotelwatch.actions.hotel import describe_teams
from hotelwatch.actions.rounds import wish_for
from hotelwatch.actions.what_if import prepare_trials, try_out
from hotelwatch.core.facts import CycleChosen, Scope
from hotelwatch.core.rounds.outlook import Change
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import TextSize, Theme
from hotelwatch.screens.rounds.what_if_chart import day_text
from hotelwatch.screens.rounds.what_if_pane import DAYS, WhatIfPane, day_bars
from hotelwatch.wording.what_if import (
    on_time_sentence,
    openings_sentence,
    outcome_sentence,
    trial_text,
)
from tests.build import day, house

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@pytest.fixture
def late_inn():
    """Twelve rooms long overdue, and a team with time for one of them a day."""
    build = house().record(CycleChosen(Scope.HOUSE, "", 60)).team("blue", 30, works_on=EVERY_DAY)
    for n in range(12):
        build.room(str(101 + n)).bed("A").checked("A", day(-60))
    return build


@pytest.fixture
def make_pane(make_hotel, make_context, qtbot):
    def make(build):
        context = make_context(make_hotel(build), ("rounds", "load_roster"))
        pane = WhatIfPane(context)
        qtbot.addWidget(pane)
        pane.resize(1060, 640)
        pane.refresh()
        pane.show()
        return pane, context

    return make


def settled(pane, qtbot):
    qtbot.waitUntil(lambda: pane.shown == pane.trial(), timeout=10_000)


def test_things_as_they_are_are_said_first(make_pane, late_inn, qtbot):
    pane, _ = make_pane(late_inn)
    settled(pane, qtbot)
    # One a day; each counts on every day that begins with it overdue: 1 + 2 + … + 12 = 78.
    assert pane.said.text() == "As things are: 78 late days by Fri 13 Mar."
    assert "From Thu 26 Feb on no bed is overdue." in pane.more.text()
    assert not pane.back.isEnabled()


def test_one_team_more_by_the_arrow_key_halves_the_wait(make_pane, late_inn, qtbot):
    pane, context = make_pane(late_inn)
    settled(pane, qtbot)
    entries = max(context.hotel.house.entries)
    pane.teams.slider.setFocus()
    qtbot.keyClick(pane.teams.slider, Qt.Key.Key_Right)
    settled(pane, qtbot)
    # Two a day: 2 × (1 + 2 + 3 + 4 + 5 + 6) = 42 bed-days.
    assert pane.said.text() == "1 more team: 42 instead of 78 late days by Fri 13 Mar."
    assert pane.teams.said.text() == "1 more"
    assert max(context.hotel.house.entries) == entries
    qtbot.mouseClick(pane.back, Qt.MouseButton.LeftButton)
    settled(pane, qtbot)
    assert pane.said.text().startswith("As things are: 78")


def test_no_more_teams_can_be_let_go_than_there_are(make_pane, late_inn, qtbot):
    pane, _ = make_pane(late_inn)
    qtbot.keyClick(pane.teams.slider, Qt.Key.Key_Home)
    assert pane.trial().teams == -1


def test_dragging_far_ends_at_the_last_place_only(make_pane, late_inn, qtbot, monkeypatch):
    from hotelwatch.screens.rounds import what_if_pane

    asked = []

    def noted(prepared, trial, progress):
        asked.append(trial)
        return try_out(prepared, trial, progress)

    monkeypatch.setattr(what_if_pane, "try_out", noted)
    pane, _ = make_pane(late_inn)
    settled(pane, qtbot)
    asked.clear()
    for place in range(11, 41):
        pane.minutes.slider.setValue(place)
    settled(pane, qtbot)
    assert pane.trial() == Change(minutes_percent=200)
    assert asked[-1] == Change(minutes_percent=200)
    assert len(asked) < 30


def test_sliders_answer_while_a_plan_is_being_made(make_pane, late_inn, qtbot):
    from threading import Event

    pane, context = make_pane(late_inn)
    settled(pane, qtbot)
    go_on = Event()
    context.jobs.run(go_on.wait, 20, label="busy", on_done=print)
    try:
        qtbot.waitUntil(lambda: context.jobs.is_busy)
        pane.teams.slider.setValue(1)
        assert pane.said.text().startswith("1 more team: 42 instead of 78")
    finally:
        go_on.set()
    qtbot.waitUntil(lambda: not context.jobs.is_busy)


def test_other_cycles_wait_for_the_plan_rather_than_hold_up_the_window(
    make_pane, late_inn, qtbot, monkeypatch
):
    from threading import Event, current_thread, main_thread

    from hotelwatch.core.planning import what_if

    real, read_in = what_if.situation_of, []

    def noted(*values):
        read_in.append(current_thread())
        return real(*values)

    monkeypatch.setattr(what_if, "situation_of", noted)
    pane, context = make_pane(late_inn)
    settled(pane, qtbot)
    read_in.clear()
    go_on = Event()
    context.jobs.run(go_on.wait, 20, label="busy", on_done=print)
    try:
        pane.cycle.slider.setValue(pane.cycle.slider.value() - 3)
        assert pane.said.text() == "Tried out once the work under way is done…"
        assert not read_in
    finally:
        go_on.set()
    settled(pane, qtbot)
    assert pane.said.text().startswith("Cycles 15 % shorter: ")
    assert read_in
    assert main_thread() not in read_in
    assert not context.jobs.is_busy
    # Those cycles are at hand now: teams are tried with them while something else is done.
    go_on.clear()
    context.jobs.run(go_on.wait, 20, label="busy", on_done=print)
    try:
        pane.teams.slider.setValue(1)
        assert pane.shown == pane.trial()
    finally:
        go_on.set()
    qtbot.waitUntil(lambda: not context.jobs.is_busy)


def test_a_trial_that_was_stopped_says_so(make_pane, late_inn, qtbot, monkeypatch):
    from threading import Event

    from hotelwatch.screens.rounds import what_if_pane

    begun = Event()

    def endless(_prepared, _change, progress):
        begun.set()
        while True:
            progress(0.5, "planning")

    pane, context = make_pane(late_inn)
    settled(pane, qtbot)
    monkeypatch.setattr(what_if_pane, "try_out", endless)
    pane.cycle.slider.setValue(pane.cycle.slider.value() - 3)
    assert begun.wait(5)
    context.jobs.stop()
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    assert pane.said.text() == "Not tried out. Move a slider to try again."
    monkeypatch.undo()
    pane.cycle.slider.setValue(pane.cycle.slider.value() + 1)
    settled(pane, qtbot)
    assert "late days" in pane.said.text()


def test_what_is_written_down_meanwhile_is_read_anew(make_pane, late_inn, qtbot):
    pane, context = make_pane(late_inn)
    settled(pane, qtbot)
    team = context.hotel.house.teams["blue"]
    describe_teams(context.hotel, [replace(team, minutes=60)])
    pane.refresh()
    qtbot.waitUntil(lambda: "78" not in pane.said.text())
    # 60 minutes hold a way of 8 and two rooms of 20: two a day.
    assert pane.said.text().startswith("As things are: 42 late days")


def test_the_chart_s_days_are_also_a_table_and_tell_in_full(make_pane, late_inn, qtbot):
    pane, context = make_pane(late_inn)
    pane.teams.slider.setValue(1)
    settled(pane, qtbot)
    qtbot.keyClick(pane.as_table, Qt.Key.Key_Space)
    assert pane.table.isVisible()
    hotel = context.hotel
    prepared = prepare_trials(hotel.house, hotel.occupancy(), wish_for(hotel, DAYS))
    outlook = try_out(prepared, Change(teams=1))
    rows = pane.table.shown_rows()
    assert rows == day_bars(outlook, prepared.as_is)
    assert [row.late for row in rows[:7]] == [12, 10, 8, 6, 4, 2, 0]
    assert [row.late_now for row in rows[:4]] == [12, 11, 10, 9]
    assert day_text(rows[1]).startswith("Sun 15 Feb: beds overdue 10 (as things are 11); ")


def test_the_chart_is_painted_in_both_looks_and_knows_its_days(make_pane, late_inn, qtbot, look):
    pane, _ = make_pane(late_inn)
    settled(pane, qtbot)
    for theme in (Theme.LIGHT, Theme.DARK):
        look.choose(theme, TextSize.NORMAL)
        picture = pane.chart.grab().toImage()
        colours = {
            picture.pixelColor(QPoint(x, y)).name()
            for x in range(0, picture.width(), 3)
            for y in range(0, picture.height(), 3)
        }
        assert look.colours.accent in colours
    late, used = pane.chart.late, pane.chart.used
    qtbot.keyClick(late, Qt.Key.Key_Home)
    assert late.accessibleDescription().startswith("Sat 14 Feb: beds overdue 12")
    assert used.at == 0
    qtbot.keyClick(used, Qt.Key.Key_End)
    assert late.at == DAYS - 1
    assert pane.chart.accessibleDescription().startswith("As things are")


def test_without_a_team_the_next_step_is_said(make_pane, two_floors, qtbot):
    pane, _ = make_pane(two_floors)
    assert pane.next_step.isVisible()
    with qtbot.waitSignal(pane.team_wanted):
        qtbot.mouseClick(pane.next_step.button, Qt.MouseButton.LeftButton)


def test_every_slider_has_a_name(make_pane, late_inn, nameless, qtbot):
    pane, _ = make_pane(late_inn)
    settled(pane, qtbot)
    assert nameless(pane) == []


def test_sentences():
    both = trial_text(2, 90, cycle_percent=110, kept_rooms=1)
    assert both == (
        "2 more teams, 10 % fewer minutes a day, cycles 10 % longer and 1 room a day left unsold"
    )
    assert trial_text(0, 100, cycle_percent=100, kept_rooms=0) == ""
    fewer = trial_text(-1, 100, cycle_percent=100, kept_rooms=0, gone=["Red"])
    assert fewer == "1 team fewer (Red)"
    same = outcome_sentence("2 rooms a day left unsold", 9, as_is=9, last=day(7))
    assert same == "2 rooms a day left unsold: 9 late days by Mon 12 Jan, as now."
    said = outcome_sentence("1 team fewer", 46, as_is=0, last=day(7))
    assert said == "1 team fewer: 46 instead of 0 late days by Mon 12 Jan."
    assert on_time_sentence(day(3), day(3)) == "On none of these days is a bed overdue."
    assert on_time_sentence(None, day(3)).startswith("Some bed is overdue")
    assert openings_sentence(0).startswith("Every room can be entered in time")
    assert openings_sentence(1).startswith("1 late day would stay")
    assert openings_sentence(2).endswith("works sooner while their rooms can be entered.")


def test_what_sliders_stand_at_stays_within_their_card(make_pane, late_inn):
    for other in ("green", "red", "white", "yellow"):
        late_inn.team(other)
    pane, _ = make_pane(late_inn)
    card = pane.findChild(Card)
    sliders = pane.teams, pane.minutes, pane.cycle, pane.kept
    for slider, widest in zip(sliders, (-5, 200, 200, 10), strict=True):
        slider.set_value(widest)
    pane._change()
    said = [one.said.text() for one in sliders]
    assert said == ["5 fewer", "100 % more", "100 % longer", "10 a day"]
    QTest.qWait(0)
    for slider in sliders:
        right = slider.mapTo(card, slider.rect().topRight()).x()
        assert slider.minimumSizeHint().width() <= slider.width()
        assert right < card.width()
