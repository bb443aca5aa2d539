from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.cycles import rooms_of_risk
from hotelwatch.core.facts import CaseNo, CycleChosen, Risk, RoomNo, Scope, StaysImported, TeamName
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import HouseDaysClosed
from hotelwatch.core.rounds.draft import slots_ahead
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.rounds.page import RoundsPage
from hotelwatch.screens.rounds.plan_details import LEFT_OUT, SHEETS
from hotelwatch.screens.rounds.plan_tables import ALL
from hotelwatch.wording import language
from tests.build import day, house, moment, rules

CASE = CaseNo("2026-001")
PAGES = ("building", "load_roster", "load_bookings", "rounds")
TODAY = 40
"""Saturday, 14 February 2026."""
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@pytest.fixture
def inn():
    """Three rooms: one that a case wants, one overdue, one due later; a team on every day."""
    build = house().team("blue", 30, works_on=EVERY_DAY)
    build.room("101", order=1, room_type="Twin").bed("A").checked("A", day(-80))
    build.room("102", order=2, room_type="Twin").bed("A").checked("A", day(35))
    build.room("103", order=3, room_type="Suite").bed("A").checked("A", day(35))
    build.on(39)
    build.record(
        Sighted(CASE, RoomNo("103"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(39, 1)),
        CheckAsked(CASE, RoomNo("102"), ("shares_wall",), moment(40, 16)),
    )
    return build.record(StaysImported("b.csv", "0", day(0), 0, 0))


@pytest.fixture
def make_page(make_hotel, make_context, qtbot):
    def make(build, pages=PAGES):
        context = make_context(make_hotel(build), pages)
        page = RoundsPage(context)
        qtbot.addWidget(page)
        page.resize(1060, 640)
        page.refresh()
        page.show()
        context.bus.changed.connect(lambda _: page.refresh())
        return page, context

    return make


def drafted(page, qtbot):
    page.plan.bar.make_draft.setFocus()
    qtbot.keyClick(page.plan.bar.make_draft, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: page.plan.draft is not None)


def lines(table):
    return table.as_text(table.shown_rows()).split("\n")[1:]


def texts(context):
    return [bar.label.text() for bar in context.notices.bars()]


# --- drafting ---------------------------------------------------------------------------------


def test_a_draft_stands_by_day_and_team_with_minutes_used_and_why(make_page, inn, qtbot):
    page, context = make_page(inn)
    page.plan.bar.days.setValue(3)
    drafted(page, qtbot)
    # 6 minutes to set up, 14 for a box spring and 8 for the way are 28 of the 30: one room a day.
    assert lines(page.plan.details.sums) == [
        "All days\tAll teams\t2\t56 of 90",
        "Sat 14 Feb\tblue\t1\t28 of 30",
        "Sun 15 Feb\tblue\t1\t28 of 30",
        "Mon 16 Feb\tblue\t0\t0 of 30",
    ]
    assert lines(page.plan.details.rooms) == [
        "Sat 14 Feb\t102\tCase 2026-001, by Sat 14 Feb\tall day\t20 min\tblue\tTo do",
        "Sun 15 Feb\t101\tLate: due by Fri 16 Jan\tall day\t20 min\tblue\tTo do",
    ]
    assert page.plan.state.text().startswith("Draft, not published: Sat 14 Feb to Mon 16 Feb")
    tints = [
        page.plan.details.rooms.model.columns[2].tint(row)
        for row in page.plan.details.rooms.model.rows
    ]
    assert tints == [Tone.ASKED, Tone.LATE]
    assert context.hotel.house.slots == {}


def test_choosing_a_sheet_shows_its_rooms_only(make_page, inn, qtbot):
    page, _ = make_page(inn)
    drafted(page, qtbot)
    view = page.plan.details.sums.view
    view.setFocus()
    qtbot.keyClick(view, Qt.Key.Key_Down)
    qtbot.keyClick(view, Qt.Key.Key_Down)
    assert [row.room for row in page.plan.details.rooms.shown_rows()] == ["101"]
    assert page.plan.details.tabText(0) == "Rooms (1)"


def test_what_was_left_out_is_told_with_the_reason_in_words(make_page, inn, qtbot):
    inn.record(QuarantinePlaced(RoomNo("101"), CASE, moment(39, 2), "sighting"))
    page, context = make_page(inn)
    stay = Stay("b1", "102", "", day(TODAY - 5), day(TODAY + 30))
    context.hotel.record_stays([stay], StaysImported("b.csv", "1", day(0), 1, 0))
    drafted(page, qtbot)
    assert page.plan.details.tabText(LEFT_OUT) == "Left out (2)"
    assert lines(page.plan.details.left_out) == [
        "102\tSat 14 Feb\tThe same guests stay in 102 through all of these days.",
        "101\tFri 16 Jan\t101 is in quarantine; only its case's checks are made there.",
    ]
    page.plan.details.setCurrentIndex(LEFT_OUT)
    page.plan.details.left_out.select(("101", day(11)))
    assert page.plan.details.in_full.text().startswith("101 is in quarantine")


def test_publishing_makes_the_sheets_and_ends_the_draft(make_page, inn, qtbot):
    page, context = make_page(inn)
    page.plan.bar.days.setValue(2)
    drafted(page, qtbot)
    assert page.focusWidget() is page.plan.bar.publish
    qtbot.keyClick(page.plan.bar.publish_whole, Qt.Key.Key_Space)
    assert page.plan.draft is None
    slots = context.hotel.house.slots
    assert {on: [slot.room for slot in of] for on, of in slots.items()} == {
        day(40): ["102"],
        day(41): ["101"],
    }
    assert texts(context) == ["Published: 2 rooms until Sun 15 Feb."]
    assert not page.plan.bar.publish.isVisible()
    assert not page.plan.details.isTabVisible(LEFT_OUT)
    said = "Published whole on Sat 14 Feb 2026, 10:00 CET by tester, until Sun 15 Feb"
    assert page.plan.state.text() == f"{said}: likely visits too."
    assert lines(page.plan.details.sums)[1:] == [
        "Sat 14 Feb\tblue\t1\t28 of 30",
        "Sun 15 Feb\tblue\t1\t28 of 30",
    ]


def test_publishing_firm_visits_leaves_the_likely_ones_to_their_morning(make_page, inn, qtbot):
    # Rooms looked at lately, so many that the team has few minutes to spare in the long run.
    for number in range(201, 291):
        inn.room(str(number)).bed("A").checked("A", day(38))
    page, context = make_page(inn)
    page.plan.bar.days.setValue(2)
    drafted(page, qtbot)
    # The whole first day is promised; what follows and is not firm stays open.
    assert {slot.room for slot in page.plan.draft.plan.promised} == {"102"}
    assert page.plan.bar.publish.text().replace("&", "") == "Publish fixed visits"
    qtbot.keyClick(page.plan.bar.publish, Qt.Key.Key_Space)
    slots = context.hotel.house.slots
    assert {on: [slot.room for slot in of] for on, of in slots.items() if of} == {day(40): ["102"]}
    assert texts(context) == ["Published: 1 room until Sun 15 Feb."]


def test_publishing_a_closed_day_does_not_speak_of_0_rooms(make_page, inn, qtbot):
    inn.record(HouseDaysClosed(day(TODAY), day(TODAY), "Lantern day"))
    page, context = make_page(inn)
    page.plan.bar.days.setValue(1)
    drafted(page, qtbot)
    qtbot.keyClick(page.plan.bar.publish, Qt.Key.Key_Space)
    assert texts(context) == [
        "Published until Sat 14 Feb: no visit is fixed yet, so no sheet has a room. Each morning"
        " fills up its own day."
    ]


def test_a_draft_thrown_away_leaves_what_is_published(make_page, inn, qtbot):
    page, context = make_page(inn)
    page.plan.bar.days.setValue(1)
    drafted(page, qtbot)
    page.plan.bar.publish.click()
    published = context.hotel.house.slots
    page.plan.bar.days.setValue(5)
    drafted(page, qtbot)
    page.plan.bar.throw_away.trigger()
    assert page.plan.draft is None
    assert context.hotel.house.slots == published
    assert len(page.plan.details.sums.model.rows) == 2


def test_a_draft_says_when_something_was_written_down_since(make_page, inn, qtbot):
    page, context = make_page(inn)
    drafted(page, qtbot)
    assert "since" not in page.plan.state.text()
    choose_cycle(context.hotel, Scope.HOUSE, "", 60)
    assert "draft again to count it in" in page.plan.state.text()
    drafted(page, qtbot)


def test_a_draft_of_yesterday_is_put_away(make_page, inn, qtbot, clock):
    page, context = make_page(inn)
    drafted(page, qtbot)
    clock.moment += timedelta(days=1)
    page.refresh()
    assert page.plan.draft is None
    assert texts(context) == ["The draft began before today, so it was put away."]


def test_stopping_leaves_no_draft_and_lets_one_start_again(make_page, inn, qtbot, monkeypatch):
    from threading import Event

    from hotelwatch.screens.rounds import plan_work

    begun = Event()

    def endless(house, occupancy, wish, progress):
        begun.set()
        while True:
            progress(0.5, "planning")

    page, context = make_page(inn)
    monkeypatch.setattr(plan_work, "draft_round", endless)
    page.plan.bar.make_draft.click()
    assert not page.plan.bar.make_draft.isEnabled()
    assert begun.wait(5)
    context.jobs.stop()
    qtbot.waitUntil(page.plan.bar.make_draft.isEnabled)
    assert page.plan.draft is None
    monkeypatch.undo()
    drafted(page, qtbot)


def test_a_plan_without_bookings_says_so_and_assumptions_are_named(make_page, two_floors):
    page, _ = make_page(two_floors.team("blue"))
    said = page.plan.assumptions.text()
    assert "No bookings were loaded: every room counts as vacant all day." in said
    assert "6 min to set up" in said
    assert "assumption, nobody measured it" in said


def test_a_plan_on_a_list_of_bookings_that_is_hardly_whole_says_so(make_page, inn):
    page, context = make_page(inn)
    stays = [Stay(f"b{n}", "102", "", day(TODAY + n), day(TODAY + n + 1)) for n in range(3)]
    for taken in (stays, stays[:1]):
        fact = StaysImported("b.csv", "1", day(TODAY), len(taken), 0)
        context.hotel.record_stays(taken, fact)
        is_said = "held 1, the one before it 3" in page.plan.assumptions.text()
        assert is_said == (len(taken) == 1)


def test_a_first_roll_out_without_records_says_how_its_dates_are_spread(make_page, qtbot):
    build = house().team("blue").room("101").bed("A").room("102").bed("A")
    page, _ = make_page(build)
    drafted(page, qtbot)
    plan = page.plan
    qtbot.waitUntil(lambda: plan.assumptions.text().startswith("No bed was looked at yet."))
    assert "First due dates are spread over the cycle, from" in plan.assumptions.text()


def test_without_rooms_or_teams_the_next_step_is_said(make_page, two_floors, qtbot, went):
    page, context = make_page(house())
    assert page.plan.next_step.isVisible()
    assert not page.plan.bar.make_draft.isVisible()
    page.plan.next_step.button.click()
    assert went(context) == [("load_roster", None)]


def test_without_a_team_the_next_step_leads_to_the_form(make_page, two_floors, qtbot, went):
    page, context = make_page(two_floors)
    qtbot.mouseClick(page.plan.next_step.button, Qt.MouseButton.LeftButton)
    assert page.tabs.currentWidget() is page.teams
    qtbot.waitUntil(page.teams.name.hasFocus)
    assert went(context) == []


def test_nothing_published_offers_a_draft(make_page, inn, qtbot):
    page, _ = make_page(inn)
    assert "Nothing is published from today on" in page.plan.details.sums.empty_text.text()
    page.plan.details.setCurrentIndex(SHEETS)
    qtbot.mouseClick(page.plan.details.sums.empty_step, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: page.plan.draft is not None)


# --- printing and going on ------------------------------------------------------------------


def test_after_only_what_is_fixed_was_published_the_page_says_that_mornings_fill_up(
    make_page, inn, qtbot
):
    page, _ = make_page(inn)
    page.plan.bar.days.setValue(2)
    drafted(page, qtbot)
    page.plan.bar.publish.click()
    said = page.plan.state.text()
    assert said.startswith("Published on Sat 14 Feb 2026, 10:00 CET by tester, until Sun 15 Feb.")
    assert "each morning fills up its own day" in said


def test_the_sheets_of_the_day_chosen_are_printed(make_page, inn, qtbot):
    page, context = make_page(inn)
    page.plan.bar.days.setValue(2)
    drafted(page, qtbot)
    assert not page.plan.bar.print_day.isVisible()
    page.plan.bar.publish_whole.click()
    assert page.plan.bar.print_day.text().replace("&", "") == "Print the sheets of Sat 14 Feb"
    page.plan.details.sums.select((day(41), "blue"))
    assert page.plan.bar.print_day.text().replace("&", "") == "Print the sheets of Sun 15 Feb"
    qtbot.mouseClick(page.plan.bar.print_day, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=20_000)
    (shown,) = context.files.shown
    assert shown.name == "sheet-2026-02-15-blue.pdf"
    assert shown.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(("later_ms", "printed"), [(90, 0), (2000, 1)])
def test_a_double_click_on_publish_does_not_press_what_took_its_place(
    make_page, inn, qtbot, later_ms, printed
):
    page, context = make_page(inn)
    drafted(page, qtbot)
    bar = page.plan.bar
    where = bar.publish.mapToGlobal(bar.publish.rect().center())
    click(bar.publish, where, at_ms=10_000)
    qtbot.waitUntil(lambda: bar.print_day.isVisible() and not bar.publish.isVisible())
    # Its place is its own only once the bar is laid out anew.
    qtbot.waitUntil(lambda: bar.print_day.rect().contains(bar.print_day.mapFromGlobal(where)))
    click(bar.print_day, where, at_ms=10_000 + later_ms)
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=20_000)
    assert len(context.files.shown) == printed


def click(button, where, *, at_ms):
    """A press and a release of the mouse, at that moment."""
    for kind, held in (("Press", Qt.MouseButton.LeftButton), ("Release", Qt.MouseButton.NoButton)):
        event = QMouseEvent(
            getattr(QEvent.Type, f"MouseButton{kind}"),
            QPointF(button.mapFromGlobal(where)),
            QPointF(where),
            Qt.MouseButton.LeftButton,
            held,
            Qt.KeyboardModifier.NoModifier,
        )
        event.setTimestamp(at_ms)
        QApplication.sendEvent(button, event)


def test_sheets_that_no_program_shows_are_said_to_be_written_and_where(make_page, inn, qtbot):
    page, context = make_page(inn)
    context.files.can_show = False
    drafted(page, qtbot)
    page.plan.bar.publish_whole.click()
    page.plan.bar.print_day.click()
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=20_000)
    (shown,) = context.files.shown
    said = context.notices.bars()[0]
    assert said.label.text() == (f"{shown} is written, but no program on this computer showed it.")
    assert not any("open as PDF" in text for text in texts(context))
    context.files.can_show = True
    said.button.click()
    assert "is open as PDF" in texts(context)[0]


def test_focus_room_shows_the_sheet_that_it_is_on(make_page, inn, qtbot, went):
    page, context = make_page(inn)
    drafted(page, qtbot)
    page.tabs.setCurrentIndex(2)
    page.plan.details.sums.select((day(40), "blue"))
    page.focus_room(RoomNo("101"))
    assert page.tabs.currentWidget() is page.plan
    assert page.plan.details.sums.current().sheet is None
    assert ALL == (None, "")
    assert page.plan.details.rooms.current().room == "101"
    qtbot.keyClick(page.plan.details.rooms.view, Qt.Key.Key_Return)
    assert went(context) == [("building", "101")]


# --- teams ---------------------------------------------------------------------------------


def test_a_team_is_added_by_keyboard(make_page, two_floors, qtbot):
    page, context = make_page(two_floors)
    page.tabs.setCurrentWidget(page.teams)
    teams = page.teams
    assert teams.title.text() == "A new team"
    # What a new team begins with is what resources/parameters.toml says.
    assert teams.people.value() == rules().figures.team_people.value
    assert teams.minutes.value() == rules().figures.team_day_minutes.value
    teams.name.setFocus()
    qtbot.keyClicks(teams.name, "  Late   pair ")
    teams.minutes.setFocus()
    teams.minutes.selectAll()
    qtbot.keyClicks(teams.minutes, "90")
    qtbot.keyClick(teams.weekdays["sat"], Qt.Key.Key_Space)
    qtbot.keyClick(teams.weekdays["fri"], Qt.Key.Key_Space)
    qtbot.keyClick(teams.name, Qt.Key.Key_Return)
    team = context.hotel.house.teams[TeamName("Late pair")]
    assert (team.people, team.minutes) == (2, 90)
    assert team.works_on == ("mon", "tue", "wed", "thu", "sat")
    assert lines(teams.table) == [
        "Late pair\t2\t1 h 30 min\t–\tat any hour\tEnglish\tMon to Thu, Sat"
    ]
    assert teams.title.text() == "Change Late pair"


def test_a_team_gets_its_sheets_in_its_own_language_and_the_window_stays(make_page, inn):
    page, context = make_page(inn)
    page.tabs.setCurrentWidget(page.teams)
    teams = page.teams
    offered = [teams.language.itemData(row) for row in range(teams.language.count())]
    # Nothing can be chosen that is not there.
    assert offered == list(language.available())
    assert teams.language.itemText(offered.index("es")) == (
        "Spanish (español), not checked by a native speaker"
    )
    teams.table.select("blue")
    teams.language.setCurrentIndex(offered.index("ar"))
    teams.save.click()
    assert context.hotel.house.teams[TeamName("blue")].language == "ar"
    assert "Arabic (العربية)" in lines(teams.table)[0]
    assert language.current() == "en"
    teams.language.setCurrentIndex(0)
    teams.save.click()
    assert context.hotel.house.teams[TeamName("blue")].language == ""


def test_what_a_team_lacks_is_said_below_the_field(make_page, inn):
    page, context = make_page(inn)
    page.tabs.setCurrentWidget(page.teams)
    teams = page.teams
    for box in teams.weekdays.values():
        box.setChecked(False)
    teams.save.click()
    assert teams.form.problem_of(teams.name) == "A team needs a name."
    assert teams.form.problem_of(teams.days) == "Tick the days on which it works."
    teams.weekdays["mon"].setChecked(True)
    teams.name.setText("BLUE")
    teams.save.click()
    assert "a team blue already" in teams.form.problem_of(teams.name)
    assert list(context.hotel.house.teams) == ["blue"]


def test_a_shift_shorter_than_the_minutes_of_a_day_is_said_and_saved_all_the_same(make_page, inn):
    page, context = make_page(inn)
    page.tabs.setCurrentWidget(page.teams)
    teams = page.teams
    teams.table.select("blue")
    teams.minutes.setValue(600)
    assert not teams.beyond.isVisible()
    teams.begins.setText("14")
    teams.ends.setText("15")
    assert teams.beyond.isVisible()
    assert teams.beyond.text() == (
        "The shift is 1 h long: plans use no more of the 10 h that they may use a day."
    )
    teams.kept_free.setValue(540)  # then plans may use an hour, which the shift has
    assert not teams.beyond.isVisible()
    teams.kept_free.setValue(0)
    teams.ends.setText("15 o'clock")
    assert not teams.beyond.isVisible()
    teams.ends.setText("15")
    teams.save.click()
    team = context.hotel.house.teams[TeamName("blue")]
    assert (team.minutes, team.from_clock, team.until_clock) == (600, "14:00", "15:00")
    assert teams.beyond.isVisible()


def test_a_team_with_too_few_people_for_any_bed_is_told_so(make_page, inn):
    page, _context = make_page(inn)
    page.tabs.setCurrentWidget(page.teams)
    teams = page.teams
    teams.table.select("blue")
    assert not teams.beyond.isVisible()
    teams.people.setValue(1)
    assert teams.beyond.text() == (
        "With 1 person it can look at no bed of this house: each needs at least 2. Plans give it"
        " no room."
    )
    assert teams.beyond.isVisible()


def test_a_team_is_changed_in_place(make_page, inn, qtbot):
    page, context = make_page(inn)
    page.tabs.setCurrentWidget(page.teams)
    teams = page.teams
    teams.table.select("blue")
    assert (teams.title.text(), teams.name.isReadOnly()) == ("Change blue", True)
    teams.minutes.setValue(75)
    qtbot.mouseClick(teams.save, Qt.MouseButton.LeftButton)
    assert context.hotel.house.teams[TeamName("blue")].minutes == 75
    assert texts(context) == ["blue is saved."]
    entries = max(context.hotel.house.entries)
    teams.save.click()
    assert max(context.hotel.house.entries) == entries


def test_a_team_is_taken_out_of_use_only_when_the_question_is_answered(make_page, inn, qtbot):
    page, context = make_page(inn)
    drafted(page, qtbot)
    page.plan.bar.publish_whole.click()
    context.notices.clear()
    page.tabs.setCurrentWidget(page.teams)
    page.teams.table.select("blue")
    ahead = slots_ahead(context.hotel.house, TeamName("blue"), day(TODAY))
    page.teams.remove.click()
    (bar,) = context.notices.bars()
    assert f"{ahead} rooms are on its sheets" in bar.label.text()
    assert "blue" in context.hotel.house.teams
    bar.button.click()
    assert context.hotel.house.teams == {}
    assert page.teams.title.text() == "A new team"


def test_what_is_being_typed_stays_when_another_window_writes(make_page, inn):
    page, context = make_page(inn)
    page.teams.table.select("blue")
    page.teams.minutes.setValue(99)
    choose_cycle(context.hotel, Scope.HOUSE, "", 60)
    assert page.teams.minutes.value() == 99


# --- cycles ---------------------------------------------------------------------------------


def test_one_room_gets_a_cycle_of_its_own_and_follows_the_hotel_again(make_page, two_floors, qtbot):
    page, context = make_page(two_floors.record(CycleChosen(Scope.HOUSE, "", 60)))
    page.tabs.setCurrentWidget(page.cycles)
    cycles, one = page.cycles, page.cycles.one_room
    cycles.new_room.click()
    one.save.click()
    assert one.form.has_problems()
    assert context.hotel.house.cycle_of(RoomNo("101")) == 60
    one.room.choose("101")
    assert one.note.text() == "Now: Due every 60 days: chosen for the whole hotel."
    assert one.days.value() == 60
    one.days.setValue(21)
    one.save.click()
    assert context.hotel.house.cycle_of(RoomNo("101")) == 21
    assert context.hotel.house.cycle_of(RoomNo("102")) == 60
    assert cycles.title.text() == "Room 101"
    cycles.follow.click()
    assert context.hotel.house.cycle_of(RoomNo("101")) == 60


def test_the_houses_cycle_and_a_room_types_are_chosen_and_taken_back(make_page, inn, qtbot):
    page, context = make_page(inn)
    page.tabs.setCurrentWidget(page.cycles)
    cycles = page.cycles
    assert lines(cycles.table) == [
        "Whole hotel\t3\t3\t91 days\tnobody chose",
        "Room type Suite\t1\t1\t91 days\tas the whole hotel",
        "Room type Twin\t2\t2\t91 days\tas the whole hotel",
        "Higher risk\t0\t0\t–\tas their types",
        "Lower risk\t0\t0\t–\tas their types",
    ]
    assert "91 days (assumption, nobody measured it)" in cycles.note.text()
    cycles.days.selectAll()
    qtbot.keyClicks(cycles.days, "60")
    qtbot.mouseClick(cycles.save, Qt.MouseButton.LeftButton)
    cycles.table.select((Scope.ROOM_TYPE, "Twin"))
    assert cycles.days.value() == 60
    assert not cycles.follow.isVisible()
    cycles.days.setValue(30)
    cycles.save.click()
    house_now = context.hotel.house
    assert [house_now.cycle_of(RoomNo(room)) for room in ("101", "103")] == [30, 60]
    assert texts(context)[0] == "Room type Twin: due every 30 days."
    qtbot.mouseClick(cycles.follow, Qt.MouseButton.LeftButton)
    assert context.hotel.house.cycle_of(RoomNo("101")) == 60
    assert texts(context)[0] == "Room type Twin: follows the whole hotel again."
    assert cycles.days.value() == 60


def test_rooms_of_higher_risk_get_a_cycle_and_the_record_proposes_some(make_page, two_floors):
    seen = Sighted("26-1", RoomNo("101"), "", "", Sign.LIVE_INSECT, 1, "anna", moment(0))
    page, context = make_page(two_floors.record(seen, CycleChosen(Scope.HOUSE, "", 60)))
    page.tabs.setCurrentWidget(page.cycles)
    cycles = page.cycles
    assert not cycles.rooms.isVisible()
    cycles.table.select((Scope.RISK, Risk.LOWER))
    assert cycles.rooms.isVisible()
    assert not cycles.proposed.propose.isVisible()
    cycles.table.select((Scope.RISK, Risk.HIGHER))
    cycles.rooms.setText("1999")
    cycles.save.click()
    assert cycles.form.has_problems()
    assert not context.hotel.house.risks
    cycles.rooms.setText("")
    cycles.proposed.propose.click()
    proposed = cycles.rooms.text().split(", ")
    assert proposed[0] == "101"
    assert "101: a sign was found there on" in cycles.proposed.told.text()
    cycles.save.click()  # without another number rooms still go by their types
    assert rooms_of_risk(context.hotel.house, Risk.HIGHER) == tuple(proposed)
    assert not context.hotel.house.chosen_cycles.get((Scope.RISK, Risk.HIGHER))
    entries = len(context.hotel.house.entries)
    cycles.days.setValue(30)
    cycles.rooms.setText("101")
    cycles.save.click()
    assert len(context.hotel.house.entries) == entries + 1  # undone in one step
    cycles.rooms.setText(", ".join(proposed))
    cycles.save.click()
    house_now = context.hotel.house
    assert rooms_of_risk(house_now, Risk.HIGHER) == tuple(proposed)
    assert {house_now.cycle_of(RoomNo(room)) for room in proposed} == {30}
    assert texts(context)[0].startswith("Higher risk: ")
    assert texts(context)[0].endswith(". Due every 30 days.")
    cycles.rooms.setText("101")
    cycles.save.click()
    assert rooms_of_risk(context.hotel.house, Risk.HIGHER) == ("101",)


def test_a_single_rooms_own_cycle_is_shown(make_page, inn):
    page, context = make_page(inn)
    choose_cycle(context.hotel, Scope.ROOM, "101", 7)
    page.tabs.setCurrentWidget(page.cycles)
    assert lines(page.cycles.table)[-1] == "Room 101\t1\t1\t7 days\tchosen by the hotel"


@pytest.mark.parametrize("tab", [0, 1, 2])
def test_whatever_takes_the_focus_has_a_name(make_page, inn, nameless, tab):
    page, _ = make_page(inn)
    page.tabs.setCurrentIndex(tab)
    assert nameless(page) == []
