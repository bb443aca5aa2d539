from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from hotelwatch.actions.by_hand import answer_night, ask_nights
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.people import describe_person, sit_down
from hotelwatch.core.case_facts import CheckAsked, OwnerNamed, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import (
    CaseNo,
    CheckKind,
    RoomNo,
    RoundPublished,
    SlotPublished,
    StaysImported,
    TeamName,
)
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import HouseDaysClosed, NightAnswered, NightAsked
from hotelwatch.screens.at_hand.to_print import folder_to_print
from hotelwatch.screens.look.theme import TextSize, Theme
from hotelwatch.screens.today.page import EVERY_MINUTE_MS, TodayPage
from hotelwatch.wording.odds import one_in
from tests.build import day, house, moment

CASE = CaseNo("2026-001")
PAGES = ("checks", "cases", "building", "rounds", "load_roster", "load_bookings")
TODAY = 40


def slot(room, team="blue", position=1, on=TODAY, asked_by=""):
    return SlotPublished(
        day(on), TeamName(team), position, RoomNo(room), (f"{room}/A",), 20, asked_by
    )


@pytest.fixture
def busy():
    """A day on which a case wants two rooms, one of them late; two rooms stand on the sheet."""
    build = house().team("blue")
    build.room("101", order=1).bed("A").checked("A", day(-80))
    build.room("102", order=2).bed("A").checked("A", day(30))
    build.room("103", order=3).bed("A").checked("A", day(-60))
    build.on(39)
    build.record(
        Sighted(CASE, RoomNo("103"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(39, 1)),
        QuarantinePlaced(RoomNo("103"), CASE, moment(39, 2), "sighting"),
        CheckAsked(CASE, RoomNo("103"), ("sighting",), moment(40, 4)),
        CheckAsked(CASE, RoomNo("102"), ("shares_wall",), moment(40, 16)),
    )
    build.record(RoundPublished(day(40), day(41)), slot("101"), slot("102", position=2))
    return build.record(StaysImported("b.csv", "0", day(0), 0, 0))


@pytest.fixture
def make_page(make_hotel, make_context, qtbot):
    def make(build, pages=PAGES):
        context = make_context(make_hotel(build), pages)
        page = TodayPage(context)
        qtbot.addWidget(page)
        page.resize(1060, 640)
        page.refresh()
        page.show()
        return page, context

    return make


def words(page):
    """What each tile says, large and below."""
    tiles = (page.looks, page.closed, page.late)
    return [
        (tile.words.text(), *[one.text() for one in tile.details if one.text()]) for tile in tiles
    ]


def lines(table):
    return table.as_text(table.shown_rows()).split("\n")[1:]


def press(qtbot, button):
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_tiles_say_the_day_in_words(make_page, busy):
    page, _ = make_page(busy)
    assert words(page) == [
        ("3 rooms to look at", "0 of 3 looked at", "Cases ask for 2, the next by 17:00"),
        ("1 room in quarantine", "103 since Fri 13 Feb, until judged"),
        (
            "3 things late",
            "1 deadline missed",
            "2 rooms overdue (2 undersides), the longest 29 days",
        ),
    ]
    first = page.late.details[0]
    assert first.property("role") == "problem"
    assert first.contentsRect().width() < first.rect().width()  # its padding is on
    assert page.looks.accessibleName() == "3 rooms to look at"
    assert page.looks.accessibleDescription().startswith("0 of 3 looked at")


def test_strips_say_who_has_what_and_what_is_next(make_page, busy):
    page, _ = make_page(busy)
    said = [(s.words.text(), s.count.text(), s.next.text(), s.minutes.text()) for s in page.strips]
    assert said == [
        ("blue", "0 of 2 rooms", "Next 101, all day", "48 min"),
        (
            "Competent person",
            "1 to do",
            "By Mon 16 Feb, 02:00: Have a competent person judge what was found in 103; keep the"
            " specimen.",
            "",
        ),
        (
            "A team of two",
            "1 to do",
            "See to luggage, linen and cart of 103 as the sheet says, and write down what was"
            " done.",
            "",
        ),
    ]
    assert page.strips[0].accessibleName() == "blue: 0 of 2 rooms"


def test_the_rooms_to_look_at_stand_open_late_ones_first(make_page, busy):
    page, _ = make_page(busy)
    assert page.looks.isChecked()
    assert lines(page.behind.rooms) == [
        "103\tnot planned\t\tTo do\tLate: 05:00\tthe room itself",
        "101\tblue\tall day\tTo do\tFri 16 Jan\tCycle",
        "102\tblue\tall day\tTo do\t17:00\tshares a wall with 103",
    ]
    index = page.behind.rooms.order.index(2, 5)
    told = page.behind.rooms.order.data(index, Qt.ItemDataRole.ToolTipRole)
    assert told == "shares a wall with 103 (case 2026-001)"


def test_a_teams_rooms_show_when_they_can_be_entered(make_page, busy, qtbot):
    page, context = make_page(busy)
    stays = [
        Stay("b1", "101", "", day(36), day(TODAY)),
        Stay("b2", "101", "", day(TODAY), day(44)),
    ]
    context.hotel.record_stays(stays, StaysImported("b.csv", "1", day(30), 2, 0))
    page.refresh()
    press(qtbot, page.strips[0])
    assert page.behind.title.text() == "blue: 0 of 2 rooms"
    assert [line.split("\t")[2] for line in lines(page.behind.rooms)] == [
        "11:00 to 15:00",
        "all day",
    ]


def test_each_tile_and_strip_shows_the_rows_behind_it(make_page, busy, qtbot):
    page, _ = make_page(busy)
    press(qtbot, page.closed)
    assert lines(page.behind.table) == [
        "103\tFri 13 Feb\tuntil judged\tLook at 103: deep check, with its undersides."
    ]
    press(qtbot, page.late)
    assert lines(page.behind.table) == [
        "103\t05:00\tCase 2026-001 wanted it looked at\tA team",
        "101\tFri 16 Jan (29 days ago)\t1 underside not looked at for longer than its cycle"
        "\tA team",
        "103\tThu 5 Feb (9 days ago)\t1 underside not looked at for longer than its cycle\tA team",
    ]
    press(qtbot, page.strips[1])
    assert lines(page.behind.table) == [
        "Mon 16 Feb, 02:00\tHave a competent person judge what was found in 103; keep the"
        " specimen.\t103\t2026-001"
    ]
    assert [one.isChecked() for one in (page.looks, page.late, page.strips[1])] == [
        False,
        False,
        True,
    ]


def test_what_was_pressed_stays_open_when_the_day_is_read_anew(make_page, busy, qtbot):
    page, _ = make_page(busy)
    press(qtbot, page.strips[0])
    page.refresh()
    assert page.strips[0].isChecked()
    assert page.behind.title.text() == "blue: 0 of 2 rooms"


def test_arrows_go_along_tiles_and_down_to_strips(make_page, busy, qtbot):
    page, _ = make_page(busy)
    with qtbot.waitActive(page):
        page.activateWindow()
    page.looks.setFocus()
    qtbot.keyClick(page.looks, Qt.Key.Key_Right)
    assert page.closed.isChecked()
    assert page.behind.title.text() == "1 room in quarantine"
    qtbot.keyClick(page.closed, Qt.Key.Key_Left)
    qtbot.keyClick(page.looks, Qt.Key.Key_Down)
    assert page.strips[0].isChecked()
    assert page.behind.title.text() == "blue: 0 of 2 rooms"


def test_the_rooms_of_any_number_show_in_the_house_with_one_press(make_page, busy, went, qtbot):
    page, context = make_page(busy)
    press(qtbot, page.behind.show_all)
    press(qtbot, page.closed)
    press(qtbot, page.behind.show_all)
    assert went(context) == [
        ("3 rooms to look at", frozenset({"101", "102", "103"})),
        ("1 room in quarantine", frozenset({"103"})),
    ]


def test_enter_on_a_row_goes_where_it_is_done(make_page, busy, went, qtbot):
    page, context = make_page(busy)
    for pick, key in (
        (page.looks, ("blue", "102")),
        (page.closed, "103"),
        (page.strips[1], (CASE, "judge_specimen", "103")),
    ):
        press(qtbot, pick)
        page.behind.table.select(key)
        qtbot.keyClick(page.behind.table.view, Qt.Key.Key_Return)
    assert went(context) == [("checks", "102"), ("cases", "103"), ("cases", "103")]


def test_the_buttons_take_the_row_in_view_or_the_first_to_do(make_page, busy, went, qtbot):
    page, context = make_page(busy)
    press(qtbot, page.behind.act)
    page.behind.table.select(("blue", "102"))
    press(qtbot, page.behind.act)
    press(qtbot, page.behind.record)
    press(qtbot, page.late)
    assert page.behind.act.text().replace("&", "") == "Record a check"
    page.behind.table.select(page.behind.table.model.key_at(1))
    press(qtbot, page.behind.act)
    assert went(context) == [
        ("checks", "103"),
        ("checks", "102"),
        ("building", "102"),
        ("checks", "101"),
    ]


def test_a_recorded_check_is_seen_at_once(make_page, busy):
    page, context = make_page(busy)
    hotel = context.hotel
    look = full_look(
        hotel.house, RoomNo("102"), on=day(TODAY), by=("anna", "boris"), kind=CheckKind.ASKED
    )
    record_looks(hotel, [look])
    page.refresh()
    assert words(page)[0] == ("2 rooms to look at", "1 of 3 looked at", "Cases ask for 1")
    assert lines(page.behind.rooms)[-1].split("\t")[3] == "✓ Looked at"
    assert page.strips[0].count.text() == "1 of 2 rooms"


def test_a_deadline_that_passes_is_seen_within_a_minute(make_page, busy, clock):
    page, _ = make_page(busy)
    assert page._clock.interval() == EVERY_MINUTE_MS
    clock.moment = moment(40, 17)
    page._clock.timeout.emit()
    assert words(page)[2][:2] == ("4 things late", "2 deadlines missed")


def test_focus_room_finds_the_room_wherever_it_stands(make_page, busy, qtbot):
    page, _ = make_page(busy)
    page.behind.rooms.filter.setText("nothing")
    page.focus_room(RoomNo("102"))
    assert page.behind.table.current().room == "102"
    press(qtbot, page.closed)
    page.focus_room(RoomNo("101"))
    assert (page.looks.isChecked(), page.behind.table.current().room) == (True, "101")


def test_the_limit_of_a_look_stands_once(make_page, busy):
    page, _ = make_page(busy)
    said = [label for label in page.findChildren(QLabel) if "does not prove" in label.text()]
    assert [label.text() for label in said] == ["A clean look does not prove a clean room."]


# --- how sure one may be -----------------------------------------------------------------------


def test_how_sure_one_may_be_is_reckoned_in_the_background(make_page, busy, qtbot, went):
    page, context = make_page(busy, (*PAGES, "odds"))
    assert page.sure.words.text() == "How sure?"
    assert "Being worked out" in page.sure.details[0].text()
    with qtbot.waitSignal(context.odds.changed, timeout=30_000):
        page.sure._begin.timeout.emit()
    none = context.odds.view.hotel.none
    most = max(1 - chance for chance in none.values())
    assert page.sure.words.text() == one_in(1 - none[Stance.CENTRAL])
    assert page.sure.details[0].text().startswith("is the chance that something was missed")
    assert page.sure.details[1].text().startswith("Assumed; from ")
    assert page.sure.details[1].text().endswith(one_in(most))
    press(qtbot, page.sure)
    assert went(context) == [("odds", None)]


def test_odds_as_last_known_stay_until_new_ones_are_there(make_page, busy, qtbot):
    page, context = make_page(busy)
    with qtbot.waitSignal(context.odds.changed, timeout=30_000):
        context.odds.ask()
    before = page.sure.words.text()
    look = full_look(
        context.hotel.house, RoomNo("102"), on=day(TODAY), by=("a", "b"), kind=CheckKind.ASKED
    )
    record_looks(context.hotel, [look])
    page.refresh()
    assert page.sure.words.text() == before
    assert page.sure.details[2].text() == "As last known; being worked out anew"


# --- what is not set up yet -----------------------------------------------------------------


def test_a_hotel_without_rooms_says_one_next_step(make_page, went, qtbot):
    page, context = make_page(house())
    assert page.begin.isVisible()
    assert not page.looks.isVisible()
    qtbot.mouseClick(page.begin.button, Qt.MouseButton.LeftButton)
    assert went(context) == [("load_roster", None)]


BOOKINGS = StaysImported("b.csv", "0", day(0), 0, 0)


@pytest.mark.parametrize(
    ("facts", "has_team", "place"),
    [
        ((), False, "load_bookings"),
        ((BOOKINGS,), False, "rounds"),
        ((BOOKINGS,), True, "rounds"),
        ((BOOKINGS, RoundPublished(day(40), day(41))), True, "rounds"),
    ],
)
def test_each_lack_leads_to_where_it_is_mended(
    make_page, went, qtbot, two_floors, facts, has_team, place
):
    if has_team:
        two_floors.team("blue")
    page, context = make_page(two_floors.record(*facts))
    assert page.next_step.isVisible()
    assert not page.print_sheets.isVisible()
    assert words(page)[0] == ("No room to look at today",)
    assert not page.looks.isEnabled()
    qtbot.mouseClick(page.next_step.button, Qt.MouseButton.LeftButton)
    assert went(context) == [(place, None)]


PUBLISHED = RoundPublished(day(40), day(41))
"""A round of today and tomorrow, in which nothing is fixed."""


def on_saturdays(build):
    return build.team("blue", 90, works_on=("sat",))


def test_a_day_for_which_nothing_was_fixed_ahead_is_planned_like_any_other(
    make_page, clock, went, qtbot, two_floors
):
    clock.moment = moment(39)
    page, context = make_page(on_saturdays(two_floors).record(BOOKINGS, PUBLISHED))
    clock.moment = moment(40)
    page.refresh()
    assert page.again.isVisible()
    assert not page.next_step.isVisible()
    assert page.again.text.text() == (
        "No room was fixed for today. blue: 1 h 30 min of today are still free. Plan again."
    )
    press(qtbot, page.again.button)
    assert went(context) == [("rounds", None)]


def test_a_day_planned_this_morning_that_found_no_room_is_told_so(make_page, two_floors):
    page, _ = make_page(on_saturdays(two_floors).record(BOOKINGS, PUBLISHED))
    assert not page.again.isVisible()
    assert page.next_step.text.text() == "No team has a room on its sheet today."


@pytest.mark.parametrize("published", [(), (PUBLISHED,)])
def test_a_closed_day_says_why_there_are_no_rounds(make_page, clock, two_floors, published):
    clock.moment = moment(39)
    closed = HouseDaysClosed(day(40), day(40), "Lantern day")
    page, _ = make_page(on_saturdays(two_floors).record(BOOKINGS, closed, *published))
    clock.moment = moment(40)
    page.refresh()
    assert not page.again.isVisible()
    assert page.next_step.text.text() == "There are no rounds today: Lantern day."


def test_a_night_kept_free_but_sold_all_the_same_is_told(make_page, busy, went, qtbot):
    page, context = make_page(busy, (*PAGES, "desk"))
    assert not page.sold.isVisible()
    hotel, night = context.hotel, day(TODAY + 2)
    ask_nights(hotel, [NightAsked(RoomNo("101"), night, "due")])
    answer_night(hotel, NightAnswered(RoomNo("101"), night, is_kept=True, by="ines"))
    stays = [Stay("b1", "101", "", night, day(TODAY + 4))]
    hotel.record_stays(stays, StaysImported("b.csv", "1", day(TODAY), 1, 0))
    page.refresh()
    assert page.sold.text.text().startswith(
        "Kept free by front desk, but sold all the same: 101 on the night of Mon 16 Feb."
    )
    press(qtbot, page.sold.button)
    assert went(context) == [("desk", None)]


# --- on paper -------------------------------------------------------------------------------


def test_all_of_todays_sheets_are_opened_to_be_printed(make_page, busy, qtbot, tmp_path):
    build = busy.team("red")
    build.record(RoundPublished(day(40), day(41)), slot("101"), slot("102", team="red"))
    page, context = make_page(build)
    qtbot.mouseClick(page.print_sheets, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=20_000)
    assert not context.files.asked
    shown = context.files.shown[:]
    assert [file.name for file in shown] == [
        "sheet-2026-02-14-blue.pdf",
        "sheet-2026-02-14-red.pdf",
    ]
    assert all(file.read_bytes().startswith(b"%PDF") for file in shown)
    assert {file.parent for file in shown} == {folder_to_print(context.hotel.path)}
    assert shown[0].is_relative_to(tmp_path)
    (bar,) = context.notices.bars()
    assert bar.label.text().startswith("2 sheets of Sat 14 Feb 2026 are open as PDF")
    bar.button.click()
    assert context.files.shown == [*shown, *shown]


def test_of_many_sheets_the_folder_is_opened(make_page, busy, qtbot):
    teams = ("red", "green", "grey", "white")
    sheets = [slot("101")]
    for number, team in enumerate(teams, start=4):
        busy.team(team).room(f"10{number}", order=number).bed("A")
        sheets.append(slot(f"10{number}", team=team))
    busy.record(RoundPublished(day(40), day(41)), *sheets)
    page, context = make_page(busy)
    page.print_sheets.click()
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=20_000)
    (shown,) = context.files.shown
    assert shown == folder_to_print(context.hotel.path)
    assert len(list(shown.glob("*.pdf"))) == len(teams) + 1
    (bar,) = context.notices.bars()
    assert bar.label.text() == (
        "The folder with 5 sheets of Sat 14 Feb 2026 is open, PDFs to be printed from there:"
        f" {shown}"
    )
    assert "many sheets as a folder" in page.print_sheets.toolTip()


def test_sheets_are_printed_where_nothing_may_be_written_beside_the_file(make_page, busy, qtbot):
    page, context = make_page(busy)
    context.hotel.path.with_suffix(".print").write_text("a file, no folder")
    page.print_sheets.click()
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=20_000)
    (shown,) = context.files.shown
    assert shown.read_bytes().startswith(b"%PDF")
    assert shown.parent != context.hotel.path.parent
    assert folder_to_print(context.hotel.path) == shown.parent, "one folder for the session"
    shown.unlink()


# --- look ---------------------------------------------------------------------------------


@pytest.mark.parametrize("size", list(TextSize))
def test_no_words_are_cut_off(make_page, busy, look, qtbot, size):
    look.choose(Theme.LIGHT, size)
    page, _ = make_page(busy)
    qtbot.wait(20)
    for button in (page.looks, page.closed, page.late, *page.strips):
        for label in button.findChildren(QLabel):
            if label.isVisible():
                assert label.height() >= label.heightForWidth(label.width())
                assert button.rect().contains(label.geometry())


@pytest.mark.parametrize("size", list(TextSize))
def test_nothing_lies_beyond_the_right_edge(make_page, busy, look, qtbot, size):
    """WCAG 2.2, 1.4.10: nobody scrolls in two directions to read."""
    look.choose(Theme.LIGHT, size)
    page, _ = make_page(busy)
    page.resize(974, 540)
    qtbot.wait(30)
    shown = page._panes.currentWidget()
    assert shown.horizontalScrollBar().maximum() == 0
    for one in (page.looks, page.closed, page.late, page.sure, page.behind.act, page.behind.table):
        right = one.mapTo(shown.viewport(), one.rect().topRight()).x()
        assert right <= shown.viewport().width(), one


def test_words_grow_with_the_text(make_page, busy, look, qtbot):
    page, _ = make_page(busy)
    before = page.looks.words.font().pointSizeF()
    look.choose(Theme.LIGHT, TextSize.LARGEST)
    qtbot.waitUntil(lambda: page.looks.words.font().pointSizeF() > before)


def test_a_narrow_page_puts_tiles_in_two_rows_and_the_list_below(make_page, busy, qtbot):
    page, _ = make_page(busy)
    assert page.looks.y() == page.sure.y()
    page.resize(560, 640)
    qtbot.waitUntil(lambda: page.sure.y() > page.looks.y())
    assert page.behind.mapTo(page, page.behind.rect().topLeft()).y() > page.strips[0].y()


def test_whatever_takes_the_focus_has_a_name(make_page, busy, nameless):
    page, _ = make_page(busy)
    assert nameless(page) == []


def test_pages_that_are_not_there_are_not_gone_to(make_page, busy, went):
    page, context = make_page(busy, pages=("today",))
    page.sure.click()
    page.behind.table.activated.emit(page.behind.table.model.rows[0])
    assert not any(one.isVisible() for one in (page.behind.act, page.behind.show_all))
    assert went(context) == []


def test_a_look_that_the_clock_missed_while_hidden_costs_nothing(make_page, busy, clock):
    page, _ = make_page(busy)
    page.hide()
    clock.moment += timedelta(hours=9)
    page._clock.timeout.emit()
    assert words(page)[2][1] == "1 deadline missed"


def test_a_room_that_two_cases_close_counts_once(make_page, busy, qtbot):
    other = CaseNo("2026-002")
    busy.record(
        Sighted(other, RoomNo("103"), "", "seats", Sign.CAST_SKIN, 0, "anna", moment(39, 3)),
        QuarantinePlaced(RoomNo("103"), other, moment(39, 4), "sighting"),
    )
    page, _ = make_page(busy)
    assert words(page)[1][0] == "1 room in quarantine"
    press(qtbot, page.closed)
    (row,) = page.behind.table.model.rows
    assert {one.case for one in row.rows} == {CASE, other}


# --- planning the day again, and where the pace leads ------------------------------------------


def test_a_day_with_minutes_left_offers_to_plan_it_again(
    make_hotel, make_context, qtbot, went, clock
):
    build = house().team("blue", 120, works_on=("sat",)).room("102").bed("A")
    build.checked("A", day(20)).room("101").bed("A").checked("A", day(20)).on(38)
    build.record(RoundPublished(day(38), day(45)), slot("101"))
    clock.moment = moment(38)
    context = make_context(make_hotel(build), ("rounds",))
    clock.moment = moment(40)
    page = TodayPage(context)
    qtbot.addWidget(page)
    page.refresh()
    page.show()
    # 120 minutes less 20 for the room and 8 for its corridor are 1 h 32 min.
    assert page.again.isVisible()
    assert "blue: 1 h 32 min of today are still free." in page.again.text.text()
    page.again.button.setFocus()
    qtbot.keyClick(page.again.button, Qt.Key.Key_Space)
    assert went(context) == [("rounds", None)]
    again = RoundPublished(day(40), day(40)), slot("101")
    context.hotel.record(lambda _: again, action="publish_round")
    page.refresh()
    assert not page.again.isVisible()
    clock.moment = moment(40, 12)
    sign = Sighted(CASE, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(40, 11))
    asked = CheckAsked(CASE, RoomNo("102"), ("across",), moment(40, 20))
    context.hotel.record(lambda _: (sign, asked), action="log_sighting")
    page.refresh()
    said = "A case wants 102 looked at by today, and no sheet of today has it. Plan again."
    assert page.again.text.text() == said


def test_the_backlog_is_said_with_its_day_and_as_an_assumption(make_hotel, make_context, qtbot):
    every_day = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    build = house().team("blue", 60, works_on=every_day)
    # 28 beds in the 28 days before today: one a day. Three are long overdue.
    for n in range(28):
        build.room(str(101 + n)).bed("A").checked("A", day(12 + n))
    for n in range(3):
        build.room(str(201 + n)).bed("A").checked("A", day(-300))
    page = TodayPage(make_context(make_hotel(build)))
    qtbot.addWidget(page)
    page.refresh()
    qtbot.waitUntil(lambda: bool(page.backlog.text()))
    said = page.backlog.text()
    assert said.startswith("At the pace of the 28 days until yesterday (28 beds looked at, ")
    assert "by Tue 17 Feb 2026" in said
    assert said.endswith("(an assumption).")


# --- by role ------------------------------------------------------------------------------------


@pytest.fixture
def page_for(make_page, busy, qtbot):
    def make(role, pages=PAGES):
        page, context = make_page(busy, pages)
        describe_person(context.hotel, "Eva", StaffRole.EXECUTIVE, pin="482915")
        describe_person(context.hotel, "Hana", role, pin="739164")
        sit_down(context.hotel, "Hana", "739164")
        page.refresh()
        return page

    return make


def names(page):
    return [strip.words.text() for strip in page.strips if strip.isVisible()]


def test_a_housekeeper_sees_the_sheets_and_what_to_record(page_for):
    page = page_for(StaffRole.HOUSEKEEPER, ("checks", "building", "cases"))
    assert page.looks.isVisible()
    assert not page.sure.isVisible()
    assert names(page) == ["blue", "A team of two"]
    assert page.behind.act.text().replace("&", "") == "Record a check"
    assert not page.sure._begin.isActive()


def test_an_engineer_sees_what_is_closed_and_no_sheet(page_for):
    page = page_for(StaffRole.ENGINEER, ("building", "cases"))
    assert not page.looks.isVisible()
    assert not page.print_sheets.isVisible()
    assert names(page) == []
    assert page.closed.isChecked()
    assert [row.room for row in page.behind.table.model.rows] == ["103"]


def test_a_supervisor_sees_the_whole(page_for):
    page = page_for(StaffRole.SUPERVISOR)
    assert page.sure.isVisible()
    assert names(page) == ["blue", "Competent person", "A team of two"]


def test_a_duty_that_bears_a_name_is_seen_by_whoever_has_it(page_for):
    page = page_for(StaffRole.ENGINEER, ("building", "cases"))
    hotel = page._context.hotel
    sit_down(hotel, "Eva", "482915")
    named = OwnerNamed(CASE, "judge_specimen", "", "Hana")
    hotel.record(lambda _house: [named], action="test")
    sit_down(hotel, "Hana", "739164")
    page.refresh()
    assert names(page) == ["Hana"]
