"""Days of teams and of the hotel, chosen and changed by keyboard as a person would."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.seasons import seasons_noted
from hotelwatch.core.facts import RoomNo, RoundPublished, SlotPublished, TeamName
from hotelwatch.core.round_facts import SeasonNoted, TeamDaysChanged, VisitArranged
from hotelwatch.core.rounds.days_ahead import HOUSE
from hotelwatch.screens.look.theme import TextSize, Theme
from hotelwatch.screens.rounds.cycles_pane import CyclesPane
from hotelwatch.screens.rounds.days_pane import DaysPane
from hotelwatch.screens.rounds.teams_pane import TeamsPane
from tests.build import day, house

TODAY = 40
"""Saturday, 14 February 2026."""
BLUE, RED = TeamName("blue"), TeamName("red")


@pytest.fixture
def make_pane(make_hotel, make_context, qtbot):
    def make(build, kind=DaysPane):
        context = make_context(make_hotel(build), ("rounds",))
        pane = kind(context)
        qtbot.addWidget(pane)
        pane.resize(1060, 640)
        pane.refresh()
        pane.show()
        context.bus.changed.connect(lambda _: pane.refresh())
        return pane, context

    return make


@pytest.fixture
def two_teams():
    build = house().team("blue", 120).team("red", 60, works_on=("sat", "sun"))
    build.room("101").bed("A").checked("A", day(0))
    return build


def lines(table):
    return table.as_text(table.shown_rows()).split("\n")[1:]


def texts(context):
    return [bar.label.text() for bar in context.notices.bars()]


def cells(pane, row, count):
    model = pane.view.days
    return [model.index(row, column).data() for column in range(count)]


def test_days_show_the_minutes_that_fit_the_shift_and_say_what_does_not(make_pane):
    build = house().team("blue", 300, from_clock="08:00", until_clock="12:00")
    build.record(TeamDaysChanged(BLUE, day(43), day(43), 400, "more"))
    pane, _ = make_pane(build)
    assert cells(pane, 0, 5) == ["", "", "240", "240", "240"]
    assert cells(pane, 1, 5) == ["", "", "240", "240*", "240"]
    spoken = pane.view.days.index(1, 2).data(Qt.ItemDataRole.ToolTipRole)
    assert spoken == "blue, Mon 16 Feb 2026: 4 h, as usual; its shift is too short for 5 h"
    (line,) = lines(pane.special)
    assert "4 h in place of the usual; its shift is too short for 6 h 40 min" in line


def test_the_model_keeps_to_qt_s_contract(make_pane, two_teams, qtmodeltester):
    pane, _ = make_pane(two_teams)
    qtmodeltester.check(pane.view.days)


def test_other_minutes_begin_with_what_the_team_has(make_pane, two_teams):
    two_teams.record(TeamDaysChanged(RED, day(47), day(47), 45, "training"))
    two_teams.team("blue", 75, kept_free=15)
    pane, _ = make_pane(two_teams)
    assert (pane.who.currentData(), pane.minutes.value()) == (BLUE, 75)
    pane.who.setCurrentIndex(pane.who.findData(RED))
    assert pane.minutes.value() == 60
    pane.other.setChecked(True)
    pane.minutes.setValue(50)
    pane.last.set_day(day(41))
    pane.refresh()
    assert pane.minutes.value() == 50  # what is typed stays
    pane.view.chosen.emit(RED, day(47), day(47))
    assert pane.minutes.value() == 45
    pane.view.chosen.emit(BLUE, day(47), day(47))
    assert pane.minutes.value() == 75


def test_the_days_ahead_say_minutes_and_in_full_what_they_are(make_pane, two_teams):
    two_teams.record(TeamDaysChanged(BLUE, day(42), day(43), 0, "leave"))
    pane, _ = make_pane(two_teams)
    model = pane.view.days
    assert [model.headerData(n, Qt.Orientation.Vertical) for n in range(3)] == [
        "Whole hotel",
        "blue",
        "red",
    ]
    assert model.headerData(0, Qt.Orientation.Horizontal) == "Feb\nSat\n14"
    assert cells(pane, 1, 5) == ["", "", "–", "–", "120"]
    assert cells(pane, 2, 5) == ["60", "60", "", "", ""]
    spoken = model.index(1, 2).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "blue, Mon 16 Feb 2026: away (leave)"
    assert lines(pane.special) == ["blue\tMon 16 Feb\tTue 17 Feb\taway\tleave"]


def test_leave_is_written_down_by_keyboard_alone(make_pane, two_teams, qtbot):
    pane, context = make_pane(two_teams)
    view = pane.view
    view.setFocus()
    view.setCurrentIndex(view.days.index(1, 2))
    for _n in range(3):
        qtbot.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert pane.who.currentText() == "blue"
    assert (pane.first.day(), pane.last.day()) == (day(42), day(45))
    assert pane.title.text() == "blue: 4 days"
    pane.reason.setFocus()
    qtbot.keyClicks(pane.reason, "leave")
    # Nothing is written down before somebody says what these days are.
    qtbot.keyClick(pane.reason, Qt.Key.Key_Return)
    assert pane.form.problem_of(pane.what).startswith("Choose what")
    pane.away.setFocus()
    qtbot.keyClick(pane.away, Qt.Key.Key_Space)
    qtbot.keyClick(pane.reason, Qt.Key.Key_Return)
    calendar = Calendar(context.hotel.house)
    assert [calendar.minutes(BLUE, day(n)) for n in range(42, 47)] == [0, 0, 0, 0, 120]
    assert cells(pane, 1, 7) == ["", "", "–", "–", "–", "–", "120"]
    assert "blue, Mon 16 Feb 2026 to Thu 19 Feb 2026: saved" in texts(context)[0]


def test_visits_that_lose_their_team_are_named_those_agreed_first(make_pane, two_teams, qtbot):
    for room in ("102", "103"):
        two_teams.room(room).bed("A").checked("A", day(0))
    slots = (
        SlotPublished(day(42), team, number, RoomNo(room), (f"{room}/A",), 20)
        for number, (team, room) in enumerate(((BLUE, "101"), (BLUE, "102"), (RED, "103")), 1)
    )
    two_teams.record(
        RoundPublished(day(42), day(42)),
        *slots,
        VisitArranged(RoomNo("102"), day(42), "10:00", "11:30", "ines"),
    )
    pane, context = make_pane(two_teams)
    pane._take(BLUE, day(42), day(43))
    pane.away.setChecked(True)
    pane.save.click()
    assert any(said.startswith("blue, Mon 16 Feb 2026 to") for said in texts(context))
    assert (
        "Agreed with a guest, and now without a team: 102 on Mon 16 Feb, 10:00 to 11:30. Where"
        " nobody else can come then, somebody has to tell the guest. Published, and now without a"
        " team: 101 on Mon 16 Feb."
    ) in texts(context)
    context.notices.clear()
    pane._take(HOUSE, day(44), day(44))
    pane.away.setChecked(True)
    pane.reason.setText("Lantern day")
    pane.save.click()
    assert not any("without a team" in said for said in texts(context))


def test_a_choice_over_several_rows_keeps_to_one(make_pane, two_teams, qtbot):
    pane, _ = make_pane(two_teams)
    view = pane.view
    view.setFocus()
    view.setCurrentIndex(view.days.index(1, 2))
    qtbot.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(view, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert {index.row() for index in view.selectedIndexes()} == {2}
    assert pane.who.currentText() == "red"


def test_other_minutes_for_days_typed_and_as_usual_again(make_pane, two_teams, qtbot):
    pane, context = make_pane(two_teams)
    pane.who.setCurrentIndex(pane.who.findData(BLUE))
    pane.first.set_day(day(42))
    pane.last.set_day(day(43))
    assert [index.column() for index in pane.view.selectedIndexes()] == [2, 3]
    qtbot.keyClick(pane.other, Qt.Key.Key_Space)
    pane.minutes.setValue(45)
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    assert cells(pane, 1, 4) == ["", "", "45*", "45*"]
    pane.special.select((BLUE, day(42)))
    assert pane.usual.isChecked()
    qtbot.keyClick(pane.save, Qt.Key.Key_Space)
    assert Calendar(context.hotel.house).minutes(BLUE, day(42)) == 120
    assert lines(pane.special) == []


def test_the_hotel_s_closed_day_wants_a_reason(make_pane, two_teams, qtbot):
    pane, context = make_pane(two_teams)
    pane.view.setCurrentIndex(pane.view.days.index(0, 4))
    assert pane.who.currentData() == HOUSE
    assert not pane.other.isVisible()
    pane.away.setChecked(True)
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    assert pane.form.problem_of(pane.reason).startswith("Say why")
    qtbot.keyClicks(pane.reason, "holiday")
    qtbot.keyClick(pane.reason, Qt.Key.Key_Return)
    assert Calendar(context.hotel.house).closed_reason(day(44)) == "holiday"
    assert [cells(pane, row, 5)[4] for row in range(3)] == ["×", "×", "×"]
    pane.view.setCurrentIndex(pane.view.days.index(0, 4))
    pane.usual.setChecked(True)
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    assert Calendar(context.hotel.house).closed_reason(day(44)) is None


def test_every_field_has_a_name_in_both_looks_and_large(make_pane, two_teams, nameless, look):
    pane, _ = make_pane(two_teams)
    assert nameless(pane) == []
    before = pane.view.columnWidth(0)
    look.choose(Theme.DARK, TextSize.LARGEST)
    assert pane.view.columnWidth(0) > before


# --- the team's form, and what teams carry ----------------------------------------------------


def test_a_team_s_shift_and_minutes_kept_free(make_pane, two_teams, qtbot):
    pane, context = make_pane(two_teams, TeamsPane)
    pane.table.select("blue")
    pane.begins.setFocus()
    qtbot.keyClicks(pane.begins, "8")
    qtbot.keyClicks(pane.ends, "7.30")
    pane.kept_free.setValue(120)
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    assert pane.form.problem_of(pane.ends) == "The shift ends before it begins."
    assert "leaves nothing" in pane.form.problem_of(pane.kept_free)
    pane.ends.clear()
    qtbot.keyClicks(pane.ends, "16.30")
    pane.kept_free.setValue(20)
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    team = context.hotel.house.teams[BLUE]
    assert (team.from_clock, team.until_clock, team.kept_free) == ("08:00", "16:30", 20)
    assert lines(pane.table)[0] == "blue\t2\t2 h\t20 min\t08:00 to 16:30\tEnglish\tMon to Fri"
    pane.begins.setText("soon")
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    assert pane.form.problem_of(pane.begins).startswith("Type a time of day")


def test_minutes_and_floor_space_stand_side_by_side(make_pane, two_teams):
    slot = SlotPublished(day(42), BLUE, 1, "101", ("101/A",), 20)
    two_teams.on(39).record(RoundPublished(day(40), day(42)), slot)
    pane, _ = make_pane(two_teams, TeamsPane)
    # A bay of 4 m, a depth of 7 m, and 8 minutes for a way, as resources/parameters.toml says.
    assert lines(pane.loads.table) == [
        "Sat 14 Feb\tred\t0\t0 m²\t0 of 60\t0 %",
        "Sun 15 Feb\tred\t0\t0 m²\t0 of 60\t0 %",
        "Mon 16 Feb\tblue\t1\t28 m²\t28 of 120\t23 %",
    ]
    assert "an assumption" in pane.loads.note.text()
    assert "each morning fills up its own" in pane.loads.note.text()


# --- seasons -----------------------------------------------------------------------------------


def test_a_season_is_noted_as_an_assumption_and_taken_back(make_pane, two_teams, qtbot):
    pane, context = make_pane(two_teams, CyclesPane)
    qtbot.keyClick(pane.new_season, Qt.Key.Key_Space)
    form = pane.season
    qtbot.waitUntil(form.name.hasFocus)
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    assert form.form.problem_of(form.name) == "A season needs a name."
    qtbot.keyClicks(form.name, "Warm nights")
    form.first.set_day(day(50))
    form.last.set_day(day(80))
    form.faster.setValue(40)
    assert "each day counts as 1.4 days of a cycle (an assumption" in form.note.text()
    qtbot.mouseClick(form.save, Qt.MouseButton.LeftButton)
    noted = SeasonNoted("Warm nights", day(50), day(80), 40)
    assert seasons_noted(context.hotel.house) == (noted,)
    assert lines(pane.seasons) == [
        "Warm nights\tTue 24 Feb 2026\tThu 26 Mar 2026\t40 % (assumption)"
    ]
    assert form.drop.isVisible()
    qtbot.mouseClick(form.drop, Qt.MouseButton.LeftButton)
    assert seasons_noted(context.hotel.house) == ()
    assert form.name.text() == ""


def test_choosing_a_cycle_shows_its_form_again(make_pane, two_teams, qtbot):
    pane, _ = make_pane(two_teams.record(SeasonNoted("Fair", day(50), day(60), 20)), CyclesPane)
    pane.seasons.select("Fair")
    assert pane.season.isVisible()
    assert pane.season.title.text() == "Fair"
    pane.table.view.setFocus()
    rect = pane.table.view.visualRect(pane.table.order.index(0, 0))
    qtbot.mouseClick(pane.table.view.viewport(), Qt.MouseButton.LeftButton, pos=rect.center())
    assert not pane.season.isVisible()
    assert pane.days.isVisible()
