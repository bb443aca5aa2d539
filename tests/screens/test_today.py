from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from hotelwatch.actions.checks import record_looks
from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
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
from hotelwatch.core.records import Stay
from hotelwatch.screens.theme import TextSize, Theme, Tone
from hotelwatch.screens.today.page import EVERY_MINUTE_MS, TodayPage
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


def numbers(page):
    buttons = (page.asked_number, page.sheets_number, page.quarantine_number, page.overdue_number)
    return [(button.number.text(), button.detail.text()) for button in buttons]


def test_four_numbers_say_the_day(make_page, busy):
    page, _ = make_page(busy)
    assert numbers(page) == [
        ("2", "1 late"),  # the slot of 102 lies before its deadline: only 103 presses
        ("2", "0 of 2 looked at"),
        ("1", "Of 1 case"),
        ("2", "Oldest: 101, Fri 16 Jan"),
    ]
    detail = page.asked_number.detail
    assert detail.property("role") == "problem"
    assert detail.contentsRect().width() < detail.rect().width()  # its padding is on
    assert page.asked_number.accessibleName() == "Checks that cases ask for: 2. 1 late"


def test_what_cases_want_stands_late_first_with_by_when_and_why(make_page, busy):
    page, _ = make_page(busy)
    assert page.asked.as_text(page.asked.shown_rows()).split("\n") == [
        "Room\tBy\tOn a sheet\tWhy",
        "103\tLate: Sat 14 Feb, 05:00\ton no sheet\tthe room itself",
        "102\ttoday, 17:00\ttoday, blue\tshares a wall with 103",
    ]
    index = page.asked.order.index(1, 3)
    told = page.asked.order.data(index, Qt.ItemDataRole.ToolTipRole)
    assert told == "shares a wall with 103 (case 2026-001)"


def test_sheets_show_opening_team_work_and_how_far(make_page, busy):
    page, context = make_page(busy)
    stays = [
        Stay("b1", "101", "", day(36), day(TODAY)),
        Stay("b2", "101", "", day(TODAY), day(44)),
    ]
    context.hotel.record_stays(stays, StaysImported("b.csv", "1", day(30), 2, 0))
    page.refresh()
    # Last looks on days -80 and 30, 91 days later: 16 January and 6 May 2026.
    assert page.slots.as_text(page.slots.shown_rows()).split("\n")[1:] == [
        "101\tblue\t11:00 to 15:00\tTo do\t20 min\tLate: due by Fri 16 Jan",
        "102\tblue\tall day\tTo do\t20 min\tDue by Wed 6 May",
    ]


def test_what_is_next_in_cases_stands_below_the_overdue_first(make_page, busy, clock):
    page, _ = make_page(busy)
    assert page.duties.as_text(page.duties.shown_rows()).split("\n")[1:] == [
        "Mon 16 Feb, 02:00\tHave a competent person judge what was found in 103; keep the"
        " specimen.\tCompetent person\t2026-001",
        "now\tSee to luggage, linen and cart of 103 as the sheet says, and write down what was"
        " done.\tA team of two\t2026-001",
    ]
    clock.moment = moment(43)
    page.refresh()
    assert page.duties.model.columns[0].tint(page.duties.model.rows[0]) is Tone.LATE


def test_every_number_leads_on_by_keyboard(make_page, busy, went, qtbot):
    page, context = make_page(busy)
    for button in (
        page.asked_number,
        page.sheets_number,
        page.quarantine_number,
        page.overdue_number,
    ):
        button.setFocus()
        qtbot.keyClick(button, Qt.Key.Key_Space)
    assert went(context) == [
        ("checks", "103"),
        ("checks", "101"),
        ("cases", "103"),
        ("building", "101"),
    ]


def test_enter_on_a_row_goes_where_it_is_done(make_page, busy, went, qtbot):
    page, context = make_page(busy)
    for table, key in (
        (page.asked, "102"),
        (page.slots, ("blue", "102")),
        (page.duties, (CASE, "judge_specimen", "103")),
    ):
        table.select(key)
        qtbot.keyClick(table.view, Qt.Key.Key_Return)
    assert went(context) == [("checks", "102"), ("checks", "102"), ("cases", "103")]


def test_the_buttons_beside_the_tables_take_the_row_in_view_or_the_first(
    make_page, busy, went, qtbot
):
    page, context = make_page(busy)
    for button in (page.record_asked, page.record_slot, page.open_case):
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    page.slots.select(("blue", "102"))
    qtbot.mouseClick(page.record_slot, Qt.MouseButton.LeftButton)
    assert went(context) == [
        ("checks", "103"),
        ("checks", "101"),
        ("cases", "103"),
        ("checks", "102"),
    ]


def test_a_recorded_check_is_seen_at_once(make_page, busy):
    page, context = make_page(busy)
    hotel = context.hotel
    look = full_look(
        hotel.house, RoomNo("102"), on=day(TODAY), by=("anna", "boris"), kind=CheckKind.ASKED
    )
    record_looks(hotel, [look])
    page.refresh()
    assert numbers(page)[:2] == [("1", "1 late"), ("2", "1 of 2 looked at")]
    done = page.slots.model.rows[1]
    assert (done.room, page.slots.model.columns[3].text(done)) == ("102", "✓ Looked at")
    # What is done leads no longer.
    page.sheets_number.click()
    assert context.go_to.__self__.places[-1] == ("checks", "101")


def test_a_deadline_that_passes_is_seen_within_a_minute(make_page, busy, clock, qtbot):
    page, _ = make_page(busy)
    assert page._clock.interval() == EVERY_MINUTE_MS
    clock.moment = moment(40, 17)
    page._clock.timeout.emit()
    assert numbers(page)[0] == ("2", "2 late")


def test_focus_room_gives_the_room_the_place_in_each_table(make_page, busy):
    page, _ = make_page(busy)
    page.slots.filter.setText("nothing")
    page.focus_room(RoomNo("102"))
    assert page.asked.current().room == "102"
    assert page.slots.current().room == "102"
    assert page.duties.current() is None


def test_the_limit_of_a_look_stands_once(make_page, busy):
    page, _ = make_page(busy)
    said = [label for label in page.findChildren(QLabel) if "does not prove" in label.text()]
    assert [label.text() for label in said] == ["A clean look does not prove a clean room."]


# --- what is not set up yet -----------------------------------------------------------------


def test_a_hotel_without_rooms_says_one_next_step(make_page, went, qtbot):
    page, context = make_page(house())
    assert page.begin.isVisible()
    assert not page.asked_number.isVisible()
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
    assert page.asked.empty_text.text() == "No case waits for a look."
    qtbot.mouseClick(page.next_step.button, Qt.MouseButton.LeftButton)
    assert went(context) == [(place, None)]


# --- on paper -------------------------------------------------------------------------------


def test_all_of_todays_sheets_are_printed_beside_the_file(make_page, busy, qtbot, tmp_path):
    build = busy.team("red")
    build.record(RoundPublished(day(40), day(41)), slot("101"), slot("102", team="red"))
    page, context = make_page(build)
    qtbot.mouseClick(page.print_sheets, Qt.MouseButton.LeftButton)
    names = ["sheet-2026-02-14-blue.pdf", "sheet-2026-02-14-red.pdf"]
    assert sorted(file.name for file in tmp_path.glob("*.pdf")) == names
    assert all((tmp_path / name).read_bytes().startswith(b"%PDF") for name in names)
    (bar,) = context.notices.bars()
    assert bar.label.text().startswith("2 sheets of Sat 14 Feb 2026 printed into")
    bar.button.click()
    assert context.files.shown == [tmp_path]


def test_one_sheet_alone_is_opened_itself(make_page, busy, tmp_path):
    page, context = make_page(busy)
    page.print_sheets.click()
    context.notices.bars()[0].button.click()
    assert context.files.shown == [tmp_path / "sheet-2026-02-14-blue.pdf"]


def test_a_folder_that_takes_no_file_is_refused_in_words(make_page, busy, tmp_path):
    page, context = make_page(busy)
    (tmp_path / "taken").write_text("a file, no folder")
    context.files.chosen = tmp_path / "taken" / "inner"
    page.print_sheets.click()
    (bar,) = context.notices.bars()
    assert bar.tone is Tone.LATE
    assert "Choose another folder" in bar.label.text()


# --- look ---------------------------------------------------------------------------------


@pytest.mark.parametrize("size", list(TextSize))
def test_no_number_is_cut_off(make_page, busy, look, qtbot, size):
    look.choose(Theme.LIGHT, size)
    page, _ = make_page(busy)
    qtbot.wait(20)
    for button in (page.asked_number, page.sheets_number, page.overdue_number):
        for label in (button.number, button.title, button.detail):
            assert label.height() >= label.heightForWidth(label.width()) or (
                label.height() >= label.sizeHint().height()
            )
            assert button.rect().contains(label.geometry())


def test_the_number_grows_with_the_text(make_page, busy, look, qtbot):
    page, _ = make_page(busy)
    before = page.asked_number.number.font().pointSizeF()
    look.choose(Theme.LIGHT, TextSize.LARGEST)
    qtbot.waitUntil(lambda: page.asked_number.number.font().pointSizeF() > before)


def test_whatever_takes_the_focus_has_a_name(make_page, busy, nameless):
    page, _ = make_page(busy)
    assert nameless(page) == []


def test_pages_that_are_not_there_are_not_gone_to(make_page, busy, went):
    page, context = make_page(busy, pages=("today",))
    page.asked_number.click()
    page.overdue_number.click()
    assert went(context) == []


def test_a_look_that_the_clock_missed_while_hidden_costs_nothing(make_page, busy, clock):
    page, _ = make_page(busy)
    page.hide()
    clock.moment += timedelta(hours=9)
    page._clock.timeout.emit()
    assert numbers(page)[0] == ("2", "1 late")


def test_a_room_that_two_cases_close_counts_once(make_page, busy):
    other = CaseNo("2026-002")
    busy.record(
        Sighted(other, RoomNo("103"), "", "seats", Sign.CAST_SKIN, 0, "anna", moment(39, 3)),
        QuarantinePlaced(RoomNo("103"), other, moment(39, 4), "sighting"),
    )
    page, _ = make_page(busy)
    assert numbers(page)[2] == ("1", "Of 2 cases")
    assert {duty.case for duty in page.duties.model.rows} == {CASE, other}


# --- planning the day again, and where the pace leads ------------------------------------------


def test_a_day_with_minutes_left_offers_to_plan_it_again(
    make_hotel, make_context, qtbot, went, clock
):
    build = house().team("blue", 120, works_on=("sat",)).room("101").bed("A")
    build.checked("A", day(20)).on(38)
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
    assert said.startswith("At the pace of the last 28 days (28 beds looked at, ")
    assert "by Tue 17 Feb 2026" in said
    assert said.endswith("(an assumption).")
