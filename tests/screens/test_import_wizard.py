from __future__ import annotations

import pytest
from openpyxl import Workbook
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLabel

from hotelwatch.actions.by_hand import answer_night, ask_nights
from hotelwatch.core.facts import FloorPlaced, RoomNo, StaysImported
from hotelwatch.core.round_facts import NightAnswered, NightAsked
from hotelwatch.screens.building.bookings_wizard import BookingsWizard
from hotelwatch.screens.building.roster_wizard import RosterWizard
from hotelwatch.screens.look.theme import TextSize, Theme, Tone
from tests.build import day, house

GOOD = """Room,Floor,Wing,Side,Order,Beds
0101,1,Lake,left,1,box spring
0102,1,Lake,left,2,box spring
"""
BAD_ROW = "0103,,Lake,left,3,box spring\n"


@pytest.fixture
def make_wizard(qtbot, make_hotel, make_context):
    def make(page, build=None):
        context = make_context(make_hotel(build or house()))
        wizard = page(context)
        qtbot.addWidget(wizard)
        wizard.resize(1200, 760)
        wizard.show()
        wizard.refresh()
        return wizard, context

    return make


@pytest.fixture
def take(qtbot, tmp_path):
    """Gives the wizard a file with this text, through the button one presses."""

    def give(wizard, context, text, name="roster.csv"):
        path = tmp_path / name
        path.write_text(text, "utf-8")
        context.files.chosen = path
        qtbot.mouseClick(wizard.choose, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda: not context.jobs.is_busy)

    return give


def press(qtbot, button):
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_nothing_can_be_loaded_before_a_file_is_chosen(make_wizard):
    wizard, _ = make_wizard(RosterWizard)
    assert not wizard.load.isEnabled()
    assert not wizard.problems.isVisible()


def test_a_good_roster_is_shown_before_it_is_written_down(make_wizard, take, qtbot, went):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, GOOD)
    assert [row.text for row in wizard.changes.model.rows] == [
        "Room 0101 is new.",
        "Room 0102 is new.",
    ]
    assert wizard.combos["room"].currentData() == "Room"
    assert context.hotel.house.rooms == {}
    press(qtbot, wizard.load)
    assert list(context.hotel.house.rooms) == ["0101", "0102"]
    assert context.notices.bars()[0].tone is Tone.DONE
    assert went(context) == [("building", None)]
    assert not wizard.load.isEnabled()


def test_a_bad_row_keeps_the_file_out_until_one_decides(make_wizard, take, qtbot):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, GOOD + BAD_ROW)
    (problem,) = [row for row in wizard.problems.model.rows if row.blocking]
    assert problem.row == 4
    assert problem.what
    assert problem.mend
    assert not wizard.load.isEnabled()
    press(qtbot, wizard.keep_good)
    assert wizard.load.isEnabled()
    press(qtbot, wizard.load)
    assert list(context.hotel.house.rooms) == ["0101", "0102"]


def test_a_problem_and_its_mend_stand_in_full_without_a_sideways_scroll(make_wizard, take, qtbot):
    wizard, context = make_wizard(RosterWizard)
    wizard.resize(1050, 600)
    take(wizard, context, GOOD + BAD_ROW + "0104,1,Lake,middle,x,sofa of doom\n")
    view = wizard.problems.view
    qtbot.waitUntil(lambda: view.horizontalScrollBar().maximum() == 0)
    needed = [view.sizeHintForRow(row) for row in range(wizard.problems.order.rowCount())]
    assert len(needed) > 1
    assert all(view.rowHeight(row) >= height for row, height in enumerate(needed))


def test_a_refusal_goes_when_another_file_is_read(make_wizard, take):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, "", name="empty.csv")
    assert context.notices.bars()[0].tone is Tone.LATE
    take(wizard, context, GOOD)
    assert context.notices.bars() == ()


def test_of_a_file_refused_whole_no_row_is_said_to_be_good(make_wizard, take):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, "just a note\n")
    assert wizard.count.text() == "0 of 1 row can be taken"
    assert not wizard.keep_good.isVisible()
    assert not wizard.load.isEnabled()


def test_headings_nobody_knows_are_pointed_to_row_and_columns(make_wizard, take, qtbot):
    text = "Our house\nWhere it is,Storey,Lies\n0101,1,left\n0102,1,left\n"
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, text)
    assert not wizard.load.isEnabled()
    assert wizard.heading_row.text() == "not found"
    wizard.heading_row.setValue(2)
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    for field, heading in (("room", "Where it is"), ("floor", "Storey"), ("side", "Lies")):
        combo = wizard.combos[field]
        combo.setCurrentIndex(combo.findData(heading))
        combo.activated.emit(combo.currentIndex())
        qtbot.waitUntil(lambda: not context.jobs.is_busy)
    assert wizard.load.isEnabled()
    press(qtbot, wizard.load)
    assert list(context.hotel.house.rooms) == ["0101", "0102"]


def test_another_sheet_can_be_read(make_wizard, qtbot, tmp_path):
    book = Workbook()
    book.active.title = "Notes"
    for title, room in (("North", "11"), ("South", "21")):
        sheet = book.create_sheet(title)
        sheet.append(["Room", "Floor", "Side"])
        sheet.append([room, "1", "left"])
    book.save(tmp_path / "two.xlsx")
    wizard, context = make_wizard(RosterWizard)
    wizard.take_file(tmp_path / "two.xlsx")
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    assert wizard.sheet.currentText() == "North"
    wizard.sheet.setCurrentIndex(wizard.sheet.findText("South"))
    wizard.sheet.activated.emit(wizard.sheet.currentIndex())
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    assert [row.text for row in wizard.changes.model.rows] == ["Room 21 is new."]
    assert wizard.sheet.currentText() == "South"


@pytest.mark.parametrize(
    ("size", "wide", "are_beside"),
    [
        (TextSize.NORMAL, 760, True),
        (TextSize.DOUBLE, 944, False),
        (TextSize.DOUBLE, 1500, True),
    ],
)
def test_no_choice_of_a_column_is_cut_off_at_the_right(
    make_wizard, take, qtbot, look, size, wide, are_beside
):
    look.choose(Theme.LIGHT, size)
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, GOOD)
    port = wizard.combos["room"].parentWidget().parentWidget().parentWidget()

    def is_whole():
        wizard.resize(wide, 900)  # what stands side by side lets no window be narrower
        fields = (wizard.sheet, wizard.heading_row, *wizard.combos.values())
        ends = [field.mapTo(port, field.rect().bottomRight()).x() for field in fields]
        return wizard.width() == wide and max(ends) < port.width()

    qtbot.waitUntil(is_whole)
    columns, rows = (one.mapTo(wizard, QPoint()) for one in (port, wizard.first_rows))
    assert (columns.x() < rows.x()) == are_beside
    assert (columns.y() < rows.y()) == (not are_beside)


def test_loading_the_same_again_changes_nothing(make_wizard, take, qtbot):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, GOOD)
    press(qtbot, wizard.load)
    take(wizard, context, GOOD)
    assert wizard.changes.model.rows == ()
    last = max(context.hotel.house.entries)
    press(qtbot, wizard.load)
    assert max(context.hotel.house.entries) == last


def test_rooms_that_a_file_leaves_out_are_warned_of_before_loading(make_wizard, take):
    wizard, context = make_wizard(RosterWizard, house().room("7").bed("A"))
    take(wizard, context, GOOD)
    assert wizard.caution.isVisible()
    assert wizard.caution.text().startswith("1 room ")
    take(wizard, context, "Room,Floor,Side\n7,1,left\n")
    assert not wizard.caution.isVisible()


def test_a_file_that_can_not_be_read_is_refused_in_words(make_wizard, take):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, "", "empty.xlsx")
    assert context.notices.bars()[0].tone is Tone.LATE
    assert not wizard.load.isEnabled()
    assert wizard.path is None


def test_leaving_writes_nothing_down(make_wizard, take, qtbot, went):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, GOOD)
    press(qtbot, wizard.leave)
    assert context.hotel.house.rooms == {}
    assert went(context) == [("building", None)]
    assert wizard.preview is None


def test_changes_are_told_against_the_house_as_it_is_when_the_page_is_shown(
    make_wizard, take, qtbot
):
    wizard, context = make_wizard(RosterWizard)
    take(wizard, context, GOOD)
    context.hotel.record(lambda _: [FloorPlaced("7", 7)], action="test")
    wizard.refresh()
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    assert len(wizard.changes.model.rows) == 2


def test_bookings_are_loaded_and_days_can_be_said_to_be_month_first(make_wizard, take, qtbot):
    build = house().room("101").bed("A")
    wizard, context = make_wizard(BookingsWizard, build)
    text = "Booking,Room,Arrival,Departure\nb1,101,03/04/2026,03/06/2026\n"
    take(wizard, context, text, "stays.csv")
    wizard.day_order.setCurrentIndex(wizard.day_order.findText("month, then day"))
    wizard.day_order.activated.emit(wizard.day_order.currentIndex())
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    assert wizard.load.isEnabled()
    press(qtbot, wizard.load)
    (stay,) = context.hotel.house.stays
    assert (stay.arrives_on.isoformat(), stay.leaves_on.isoformat()) == (
        "2026-03-04",
        "2026-03-06",
    )


def test_bookings_that_sell_a_night_kept_free_are_told_when_they_are_loaded(
    make_wizard, take, qtbot
):
    wizard, context = make_wizard(BookingsWizard, house().room("101").bed("A"))
    ask_nights(context.hotel, [NightAsked(RoomNo("101"), day(42), "due")])
    answer_night(context.hotel, NightAnswered(RoomNo("101"), day(42), is_kept=True, by="ines"))
    text = f"Booking,Room,Arrival,Departure\nb1,101,{day(42)},{day(44)}\n"
    take(wizard, context, text, "stays.csv")
    press(qtbot, wizard.load)
    told = [bar.label.text() for bar in context.notices.bars()]
    assert any("but sold all the same: 101 on the night of Mon 16 Feb" in one for one in told)


def test_bookings_that_a_short_list_leaves_out_are_counted_before_and_after(
    make_wizard, take, qtbot
):
    build = house().room("101").bed("A")
    build.stays(("101", 39, 41), ("101", 42, 44), ("101", 45, 47))
    wizard, context = make_wizard(BookingsWizard, build)
    context.hotel.record_stays(
        build.house.stays, StaysImported("all.csv", "0" * 64, context.hotel.today(), 3, 0)
    )
    arrives, leaves = day(42), day(44)
    text = f"Booking,Room,Arrival,Departure\nb1,101,{arrives},{leaves}\n"
    take(wizard, context, text, "short.csv")
    assert "2 of 3 bookings known from today on are not in this file" in wizard.caution.text()
    assert "Load the whole list" in wizard.caution.text()
    assert sum("No longer counts" in row.text for row in wizard.changes.model.rows) == 2
    assert wizard.said_so.isVisible()
    assert not wizard.load.isEnabled()
    wizard.said_so.setChecked(True)
    press(qtbot, wizard.load)
    assert [stay.booking for stay in context.hotel.house.stays] == ["b1"]
    assert context.notices.bars()[0].label.text() == (
        "1 booking is known. 2 of 3 known before are not in the list and no longer count."
    )


def test_the_second_morning_lists_only_what_is_other_than_known(make_wizard, take, qtbot):
    build = house().room("101").bed("A").room("102").bed("A")
    wizard, context = make_wizard(BookingsWizard, build)
    heading = "Booking,Room,Arrival,Departure,Status\n"
    first = [f"b{n},101,{day(30 + 2 * n)},{day(32 + 2 * n)},booked\n" for n in range(10)]
    take(wizard, context, heading + "".join(first), "monday.csv")
    assert len(wizard.changes.model.rows) == 10
    assert wizard.changes.model.rows[0].text == (
        "New: b0: room 101, from Wed 4 Feb 2026 to Fri 6 Feb 2026"
    )
    press(qtbot, wizard.load)
    second = [row.replace("b7,101", "b7,102") for row in first if not row.startswith("b9")]
    second[5] = second[5].replace("booked", "in house")
    second.append(f"b10,102,{day(60)},{day(61)},booked\n")
    take(wizard, context, heading + "".join(second), "tuesday.csv")
    assert [row.text for row in wizard.changes.model.rows] == [
        "No longer counts: b9: room 101, from Sun 22 Feb 2026 to Tue 24 Feb 2026",
        "Changed: b5: room 101, from Sat 14 Feb 2026 to Mon 16 Feb 2026, in house. Until now:"
        " room 101, from Sat 14 Feb 2026 to Mon 16 Feb 2026, booked",
        "Changed: b7: room 102, from Wed 18 Feb 2026 to Fri 20 Feb 2026. Until now: room 101,"
        " from Wed 18 Feb 2026 to Fri 20 Feb 2026",
        "New: b10: room 102, from Fri 6 Mar 2026 to Sat 7 Mar 2026",
    ]
    assert wizard.findings.tabText(1) == "Changes (4)"
    assert "7 bookings are known as they are" in wizard.count.text()


def test_a_list_with_most_of_what_is_known_needs_no_word(make_wizard, take):
    build = house().room("101").bed("A").stays(("101", 42, 44), ("101", 45, 47))
    wizard, context = make_wizard(BookingsWizard, build)
    context.hotel.record_stays(
        build.house.stays, StaysImported("all.csv", "0" * 64, context.hotel.today(), 2, 0)
    )
    text = f"Booking,Room,Arrival,Departure\nb1,101,{day(45)},{day(47)}\n"
    take(wizard, context, text, "list.csv")
    assert "1 of 2 bookings known from today on is not in this file" in wizard.caution.text()
    assert not wizard.said_so.isVisible()
    assert wizard.load.isEnabled()


def test_only_what_keeps_a_row_out_is_marked_as_needed(make_wizard, take):
    """A booking without a reference is taken, known by what its row says."""
    build = house().room("101").bed("A")
    wizard, context = make_wizard(BookingsWizard, build)
    text = f"Booking,Room,Arrival,Departure\n,101,{day(42)},{day(44)}\n"
    take(wizard, context, text, "list.csv")
    labels = {label.text() for label in wizard.findChildren(QLabel)}
    assert {"Booking reference", "Arrival *"} <= labels
    assert wizard.load.isEnabled()
    (row,) = wizard.changes.model.rows
    assert row.text.startswith("New: without a number: room 101")


def test_everything_one_can_reach_has_a_name(make_wizard, take, nameless):
    for page, text in ((RosterWizard, GOOD + BAD_ROW), (BookingsWizard, "Booking,Arrival\nb1,x\n")):
        wizard, context = make_wizard(page, house().room(page.__name__).bed("A"))
        take(wizard, context, text)
        for tab in range(2):
            wizard.findings.setCurrentIndex(tab)
            assert nameless(wizard) == []
        context.hotel.path.unlink()
