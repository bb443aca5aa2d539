"""Front desk's page and the month's page."""

from __future__ import annotations

import json
import re
from datetime import timedelta
from pathlib import Path

import icalendar
import pypdf
import pytest
import python_calamine
from PySide6.QtCore import Qt

from hotelwatch.actions.by_hand import answer_night, ask_nights
from hotelwatch.actions.cases import log_sighting
from hotelwatch.core.case_facts import GuestMoved, Sighted, Sign
from hotelwatch.core.cases.blocks import BlockKind, blocks
from hotelwatch.core.facts import CaseNo, MonthClosed, RoomNo, StaysImported
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import NightAnswered, NightAsked
from hotelwatch.core.stays.agreed import asked_nights
from hotelwatch.screens.desk.page import DeskPage
from hotelwatch.screens.forms.half_entered import half_entered, take_up
from hotelwatch.screens.month.page import MonthPage
from hotelwatch.wording.desk import nights_text
from tests.build import day, house


@pytest.fixture
def hotel(make_hotel):
    build = house().room("101", room_type="Double").bed("A")
    build.room("102", room_type="Double").bed("A").checked("A", day(5))
    build.room("103", room_type="Double").bed("A")
    build.room("104", room_type="Double").bed("A").checked("A", day(35))
    return make_hotel(build)


def sight(hotel, room="101"):
    sighted = Sighted(CaseNo(""), RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "ana", hotel.now())
    return log_sighting(hotel, sighted)


def book(hotel, room, *, nights=3):
    today = hotel.today()
    stay = Stay("b1", room, "Double", today, today + timedelta(days=nights))
    hotel.record_stays([stay], StaysImported("list.csv", "0" * 64, today, 1, 0))


def page_of(qtbot, kind, context):
    page = kind(context)
    qtbot.addWidget(page)
    page.refresh()
    return page


def test_front_desk_sees_what_not_to_sell_and_whom_it_touches_but_no_case(
    qtbot, hotel, make_context
):
    book(hotel, "101")
    case = sight(hotel)
    page = page_of(qtbot, DeskPage, make_context(hotel))
    # 102 shares a wall with 101 and is held until somebody has looked at it.
    assert [row.block.room for row in page.blocks.shown_rows()] == ["101", "102"]
    assert [row.stay.booking for row in page.moves.table.shown_rows()] == ["b1"]
    said = page.blocks.as_text(page.blocks.shown_rows()).lower()
    said += page.moves.table.as_text(page.moves.table.shown_rows()).lower()
    said += page.costs.text().lower() + page.as_of.text().lower()
    for hidden in (case, "insect", "bed bug", "ana", "quarantine", "sighting"):
        assert hidden not in said


def test_front_desk_says_on_how_few_bookings_it_rests_after_a_short_list(
    qtbot, hotel, make_context
):
    today = hotel.today()
    stays = [Stay(f"b{n}", f"10{n}", "Double", today, today + timedelta(days=3)) for n in (1, 2, 3)]
    hotel.record_stays(stays, StaysImported("list.csv", "0" * 64, today, 3, 0))
    page = page_of(qtbot, DeskPage, make_context(hotel))
    assert page.as_of.text().endswith(" 3 bookings are known from today on.")
    hotel.record_stays(stays[:1], StaysImported("short.csv", "0" * 64, today, 1, 0))
    page.refresh()
    assert "1 booking is known from today on." in page.as_of.text()
    assert "held 1, the one before it 3" in page.as_of.text()


def test_a_guest_is_moved_with_one_key_and_the_list_says_so(qtbot, hotel, make_context):
    book(hotel, "101")
    sight(hotel)
    context = make_context(hotel)
    page = page_of(qtbot, DeskPage, context)
    context.bus.changed.connect(lambda _: page.refresh())
    (row,) = page.moves.table.shown_rows()
    # 104 was looked at five days ago; 103 is nearer and was never looked at.
    assert row.move.room == "104"
    assert page.moves.agree.text().replace("&", "") == "Move to 104"
    page.show()
    page.moves.agree.setFocus()
    qtbot.keyClick(page.moves.agree, Qt.Key.Key_Space)
    (moved,) = hotel.house.all_of(GuestMoved)
    assert (moved.booking, moved.to_room, moved.by) == ("b1", "104", "tester")
    (row,) = page.moves.table.shown_rows()
    assert row.move.is_agreed
    assert not page.moves.agree.isEnabled()
    assert "Change it in your booking system too." in context.notices.bars()[0].label.text()
    page.hide()


def test_a_let_is_explained_in_the_window(qtbot, hotel, make_context, clock):
    sight(hotel)
    book(hotel, "101")
    clock.moment += timedelta(days=1)
    context = make_context(hotel)
    page = page_of(qtbot, DeskPage, context)
    context.bus.changed.connect(lambda _: page.refresh())
    (let,) = page.lets.table.shown_rows()
    assert "not explained yet" in page.lets.table.as_text([let])
    qtbot.keyClick(page.lets.note, Qt.Key.Key_Return)
    assert "how room 101 came to be let" in context.notices.bars()[0].label.text()
    assert not page.lets.is_begun()
    qtbot.keyClicks(page.lets.note, "Sold by phone")
    assert page.lets.is_begun()
    (kept,) = json.loads(json.dumps(half_entered(page, "Front desk")))
    page.lets.note.clear()
    page.lets.table.view.clearSelection()
    take_up(page, kept)
    assert page.lets.note.text() == "Sold by phone"
    assert page.lets.about() == ["b1", "101", let.first_night.isoformat()]
    with pytest.raises(LookupError):
        take_up(page, {**kept, "about": ["b2", "101", let.first_night.isoformat()]})
    qtbot.keyClick(page.lets.note, Qt.Key.Key_Return)
    (let,) = page.lets.table.shown_rows()
    assert (let.explained, let.explained_by) == ("Sold by phone", "tester")
    assert not page.lets.is_begun()


def test_every_row_of_front_desks_tables_shows_without_scrolling_in_them(
    qtbot, hotel, make_context
):
    """The page grows with them, and no table hides a row."""
    book(hotel, "101")
    for room in ("101", "103"):
        sight(hotel, room)
    ask(hotel)
    page = page_of(qtbot, DeskPage, make_context(hotel))
    page.resize(1054, 700)
    page.show()
    qtbot.wait(30)
    assert len(page.blocks.model.rows) == 4
    for table in (page.blocks, page.moves.table, page.nights.table):
        assert table.model.rows
        assert table.view.verticalScrollBar().maximum() == 0
    heights = {table.height() for table in (page.blocks, page.moves.table)}
    assert len(heights) == 2  # each as high as its own rows
    nights = nights_text(page.blocks.model.rows[0].cost)
    assert re.fullmatch(r"\d+ to come, 3 sold", nights)
    assert nights in page.blocks.as_text(page.blocks.model.rows)


def test_the_page_says_what_waits_and_every_widget_has_a_name(
    qtbot, hotel, make_context, clock, nameless
):
    sight(hotel)
    book(hotel, "101")
    ask(hotel)
    clock.moment += timedelta(days=1)
    page = page_of(qtbot, DeskPage, make_context(hotel))
    assert page.lets.heading.text() == "Let although blocked (1 not explained)"
    assert page.nights.heading.text() == "Please keep free (1 not answered)"
    # Houses differ in what a blocked room does to their own figures (trade, trap).
    assert "one that is only out of service may still be sold" in page.costs.text()
    assert page.unsaved() == ()
    page.lets.note.setText("typed")
    assert page.unsaved()
    assert nameless(page) == []


def test_blocked_rooms_are_saved_as_a_calendar(qtbot, hotel, make_context, tmp_path):
    sight(hotel)
    context = make_context(hotel)
    page = page_of(qtbot, DeskPage, context)
    context.files.chosen = tmp_path / "desk.ics"
    page.save_calendar.click()
    events = icalendar.Calendar.from_ical((tmp_path / "desk.ics").read_bytes()).walk("VEVENT")
    told = {str(event["SUMMARY"]) for event in events}
    assert "Room 101 not to sell" in told
    assert told - {"Room 101 not to sell"} == {
        f"Room {block.room} not to sell before a look"
        for block in blocks(hotel.house, hotel.occupancy(), hotel.now())
        if block.kind is BlockKind.HELD
    }


def test_front_desk_s_list_goes_on_paper_and_into_a_workbook(qtbot, hotel, make_context, tmp_path):
    sight(hotel)
    context = make_context(hotel)
    page = page_of(qtbot, DeskPage, context)
    page.print_list.click()
    (shown,) = context.files.shown
    text = pypdf.PdfReader(shown).pages[0].extract_text()
    assert "101" in text
    context.files.chosen = tmp_path / "desk.xlsx"
    page.save_list.click()
    book = python_calamine.CalamineWorkbook.from_path(tmp_path / "desk.xlsx")
    cells = [cell for row in book.get_sheet_by_index(0).to_python() for cell in row]
    assert "101" in cells


def ask(hotel, room="103", ahead=5, reason="case 2026-001: live insects"):
    night = hotel.today() + timedelta(days=ahead)
    ask_nights(hotel, [NightAsked(RoomNo(room), night, reason)])
    return night


def test_front_desk_answers_a_night_asked_for_and_reads_no_reason(qtbot, hotel, make_context):
    night = ask(hotel)
    context = make_context(hotel)
    page = page_of(qtbot, DeskPage, context)
    context.bus.changed.connect(lambda _: page.refresh())
    (row,) = page.nights.table.shown_rows()
    assert (row.room, row.night) == ("103", night)
    said = page.nights.table.as_text(page.nights.table.shown_rows())
    assert "1 room-night" in said
    assert "not answered yet" in said
    for hidden in ("case", "2026-001", "insect"):
        assert hidden not in said
    page.show()
    page.nights.keep.setFocus()
    qtbot.keyClick(page.nights.keep, Qt.Key.Key_Space)
    (answered,) = asked_nights(hotel.house, hotel.today())
    assert (answered.is_kept, answered.answered_by) == (True, "tester")
    assert "kept free, tester" in page.nights.table.as_text(page.nights.table.shown_rows())
    assert not page.nights.keep.isEnabled()
    qtbot.keyClicks(page.nights.note, " until the  fair ")
    assert page.unsaved() == ("A note to an answer of front desk is typed, and not written down.",)
    assert page.nights.about() == ["103", night.isoformat()]
    qtbot.mouseClick(page.nights.keep, Qt.MouseButton.LeftButton)
    assert asked_nights(hotel.house, hotel.today())[0].note == "until the fair"
    said = page.nights.table.as_text(page.nights.table.shown_rows())
    assert "kept free, tester: until the fair" in said
    assert page.unsaved() == ()
    # Nobody is foreseen in a kept room: 103 has an opening on that day and the next.
    assert hotel.occupancy().opening(RoomNo("103"), night) is not None
    qtbot.mouseClick(page.nights.refuse, Qt.MouseButton.LeftButton)
    assert asked_nights(hotel.house, hotel.today())[0].is_kept is False
    page.hide()


def test_front_desk_reads_that_a_night_it_keeps_free_is_sold(qtbot, hotel, make_context):
    night = ask(hotel)
    answer_night(hotel, NightAnswered(RoomNo("103"), night, is_kept=True, by="ines"))
    stays = [Stay("b9", "103", "", night, night + timedelta(days=2))]
    hotel.record_stays(stays, StaysImported("b.csv", "9", hotel.today(), 1, 0))
    page = page_of(qtbot, DeskPage, make_context(hotel))
    (row,) = page.nights.table.shown_rows()
    said = page.nights.table.as_text([row])
    assert "kept free, ines, but sold all the same" in said
    assert row.is_sold


def test_without_a_night_there_is_nothing_to_answer(qtbot, hotel, make_context):
    page = page_of(qtbot, DeskPage, make_context(hotel))
    assert page.nights.table.empty_text.text() == "Rounds ask for no night."
    assert not page.nights.keep.isVisibleTo(page)


def shown_month(qtbot, page):
    qtbot.waitUntil(lambda: page.figures is not None)
    return page.figures


def test_the_month_is_counted_off_the_window_s_thread_and_its_book_written(
    qtbot, hotel, make_context, tmp_path
):
    context = make_context(hotel)
    page = page_of(qtbot, MonthPage, context)
    figures = shown_month(qtbot, page)
    assert [line.value for line in page.numbers.shown_rows()]
    assert figures.account.month == page.months.currentData()
    target = tmp_path / "month.xlsx"
    context.files.chosen = target
    page.write.click()
    qtbot.waitUntil(lambda: bool(context.notices.bars()))
    assert target.name in context.notices.bars()[0].label.text()
    assert len(python_calamine.CalamineWorkbook.from_path(target).sheet_names) > 5
    assert Path(target).stat().st_size > 0


def test_how_likely_something_was_missed_is_written_if_ticked_and_for_a_month_alone(
    qtbot, hotel, make_context, tmp_path
):
    context = make_context(hotel)
    page = page_of(qtbot, MonthPage, context)
    shown_month(qtbot, page)
    assert not page.with_odds.isChecked()
    page.with_odds.setChecked(True)
    target = tmp_path / "month.xlsx"
    context.files.chosen = target
    page.write.click()
    qtbot.waitUntil(lambda: bool(context.notices.bars()), timeout=30_000)
    names = python_calamine.CalamineWorkbook.from_path(target).sheet_names
    assert "How likely it was missed" in names
    page.of.setCurrentIndex(2)
    assert not page.with_odds.isEnabled()
    page.write.click()
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=30_000)
    names = python_calamine.CalamineWorkbook.from_path(target).sheet_names
    assert "How likely it was missed" not in names


def test_a_month_that_is_over_can_be_closed_after_asking(qtbot, hotel, make_context, clock):
    clock.moment += timedelta(days=40)
    context = make_context(hotel)
    page = page_of(qtbot, MonthPage, context)
    shown_month(qtbot, page)
    assert not page.close_it.isEnabled()
    page.months.setCurrentIndex(1)
    page.months.activated.emit(1)
    month = page.months.currentData()
    qtbot.waitUntil(lambda: page.figures.account.month == month)
    page.close_it.click()
    assert not hotel.house.all_of(MonthClosed)
    context.notices.bars()[0].button.click()
    assert [closed.month for closed in hotel.house.all_of(MonthClosed)] == [month]


# Trade check case K15: a month with a let against a block can't be signed without a note.
def test_a_month_with_a_let_that_nobody_explained_leads_to_front_desk(
    qtbot, hotel, make_context, clock
):
    sight(hotel)
    book(hotel, "101", nights=1)
    clock.moment += timedelta(days=40)
    context = make_context(hotel)
    page = page_of(qtbot, MonthPage, context)
    shown_month(qtbot, page)
    page.months.setCurrentIndex(1)
    page.months.activated.emit(1)
    month = page.months.currentData()
    qtbot.waitUntil(lambda: page.figures.account.month == month)
    page.close_it.click()
    context.notices.bars()[0].button.click()
    assert not hotel.house.all_of(MonthClosed)
    bar = context.notices.bars()[0]
    assert "Room 101 was let although blocked" in bar.label.text()
    bar.button.click()
    assert context.go_to.__self__.places[-1] == ("desk", "101")


def test_front_desk_is_asked_about_the_let_that_was_to_be_explained(
    qtbot, hotel, make_context, clock
):
    sight(hotel)
    book(hotel, "101", nights=1)
    clock.moment += timedelta(days=1)
    page = page_of(qtbot, DeskPage, make_context(hotel))
    page.show()
    with qtbot.waitActive(page):
        page.activateWindow()
    page.focus_room(RoomNo("101"))
    qtbot.waitUntil(page.lets.note.hasFocus)
    assert page.lets.table.current().room == "101"
    qtbot.keyClicks(page.lets.note, "sold before the sighting was typed in")
    qtbot.keyClick(page.lets.note, Qt.Key.Key_Return)
    # Nothing is left to explain: what else is to be said of the room has the place.
    page.refresh()
    page.focus_room(RoomNo("101"))
    qtbot.waitUntil(page.blocks.view.hasFocus)
    assert page.blocks.current().block.room == "101"


def test_a_book_is_written_for_its_quarter_and_checked_in_the_window(
    qtbot, hotel, make_context, tmp_path
):
    context = make_context(hotel)
    page = page_of(qtbot, MonthPage, context)
    shown_month(qtbot, page)
    page.of.setCurrentIndex(1)
    assert "-Q" in page.period()
    target = tmp_path / "quarter.xlsx"
    context.files.chosen = target
    page.write.click()
    qtbot.waitUntil(lambda: bool(context.notices.bars()))
    page.check.choose.click()
    qtbot.waitUntil(lambda: page.check.found is not None)
    assert page.check.found.is_same_file
    assert "byte for byte" in page.check.told.text()
    assert page.check.differences.shown_rows() == ()
