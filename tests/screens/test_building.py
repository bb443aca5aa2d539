from __future__ import annotations

import re
from datetime import timedelta

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QSplitter, QWidget

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.cases.room_stands import RoomStanding
from hotelwatch.core.facts import Side
from hotelwatch.screens.building.house_pane import Views
from hotelwatch.screens.building.page import ROOM_TAB, ROOMS_TAB, BuildingPage
from hotelwatch.screens.building.room_paint import PATTERNS
from hotelwatch.screens.building.room_panel import how_to
from hotelwatch.screens.building.rows import GLYPHS, room_rows, state_text
from hotelwatch.screens.layout.page_frame import PageFrame
from hotelwatch.screens.look.theme import TextSize, Theme
from tests.build import day, house, moment

Key = Qt.Key


@pytest.fixture
def watched(two_floors):
    """Room 101 in quarantine, 102 asked for, 201 not due, 202 without a bed."""
    build = two_floors
    build.record(
        Sighted(
            "2026-001", "101", "101/A", "mattress_top", Sign.LIVE_INSECT, 1, "Anna", moment(39)
        ),
        QuarantinePlaced("101", "2026-001", moment(39), "sighting"),
        CheckAsked("2026-001", "102", ("shares_wall",), moment(41)),
    )
    return build


@pytest.fixture
def make_page(qtbot, make_hotel, make_context):
    def make(build):
        context = make_context(make_hotel(build))
        page = BuildingPage(context)
        qtbot.addWidget(page)
        page.resize(1100, 720)
        page.show()
        with qtbot.waitActive(page):
            page.activateWindow()
        page.refresh()
        return page, context

    return make


def states(hotel):
    return {row.room: row.state for row in room_rows(hotel)}


def test_a_rooms_state_is_the_first_thing_to_know_of_it(make_hotel, watched):
    assert states(make_hotel(watched)) == {
        "101": RoomStanding.QUARANTINE,
        "102": RoomStanding.TO_CHECK,
        "201": RoomStanding.LATER,
        "202": RoomStanding.NO_BED,
    }


def test_without_a_case_the_due_date_says_the_state(make_hotel, two_floors, clock):
    hotel = make_hotel(two_floors)
    cycle = hotel.house.cycle_of("102")
    assert states(hotel)["101"] is RoomStanding.OVERDUE  # looked at 120 days ago
    oldest_look = day(20)  # bed B of 102
    clock.moment = moment(20 + cycle)
    assert hotel.today() == oldest_look + timedelta(days=cycle)
    assert states(hotel)["102"] is RoomStanding.DUE_SOON  # due today is not late
    clock.moment = moment(20 + cycle + 1)
    assert states(hotel)["102"] is RoomStanding.OVERDUE


def test_all_beds_seen_since_is_the_oldest_look_and_never_if_one_was_not_seen(make_hotel):
    build = house().room("101").bed("A").bed("B").checked("A", day(1))
    (row,) = room_rows(make_hotel(build))
    assert row.last_on is None
    build = house().room("101").bed("A").bed("B").checked("A", day(9)).checked("B", day(4))
    (row,) = room_rows(make_hotel(build, "second"))
    assert row.last_on == day(4)


def test_no_state_is_told_by_colour_alone():
    # WCAG 2.2, 1.4.1 use of colour: each state has its own word, and its own sign or none.
    words = [state_text(state) for state in RoomStanding]
    assert len(set(words)) == len(words)
    signs = [GLYPHS[state] for state in RoomStanding]
    assert len(set(signs)) == len(signs)
    assert len(set(PATTERNS.values())) == len(PATTERNS)


def test_every_room_of_the_floor_is_drawn_where_it_lies(make_page, watched):
    page, context = make_page(watched)
    assert page.pane.floor == "1"
    assert page.drawing.rooms() == ("101", "102")
    one, other = (page.drawing.rect_of(room) for room in ("101", "102"))
    shapes = context.hotel.building.shapes
    assert (one.center().x() < other.center().x()) == (
        shapes["101"].centre[0] < shapes["102"].centre[0]
    )
    assert all(page.drawing.rect().contains(rect.toRect()) for rect in (one, other))


def test_rooms_are_drawn_to_one_scale(make_page, watched):
    page, context = make_page(watched)
    shapes = context.hotel.building.shapes
    for room in ("101", "102"):
        rect, outline = page.drawing.rect_of(room), shapes[room].outline
        wide = max(x for x, _ in outline) - min(x for x, _ in outline)
        assert rect.width() == pytest.approx(wide * page.drawing.camera.scale)


def test_north_is_up(make_page):
    build = house().room("101").bed("A").room("102", side=Side.RIGHT, order=1).bed("A")
    page, context = make_page(build)
    shapes = context.hotel.building.shapes
    north, south = sorted(shapes, key=lambda room: -shapes[room].centre[1])
    drawing = page.drawing
    assert drawing.rect_of(north).center().y() < drawing.rect_of(south).center().y()


def test_drawings_list_and_panel_have_one_selection(make_page, watched, qtbot):
    page, _ = make_page(watched)
    centre = page.drawing.rect_of("102").center().toPoint()
    qtbot.mouseClick(page.drawing, Qt.MouseButton.LeftButton, pos=centre)
    assert page.table.current().room == "102"
    assert "102" in page.panel.title.text()
    page.table.select("201")
    assert page.room == "201"
    assert page.pane.floor == "2"
    assert page.drawing.chosen == "201"
    assert page.drawing.item_of("201") is not None
    assert "201" in page.panel.title.text()
    page.pane.show_views(Views.BOTH)
    assert page.pane.section.chosen == "201"
    below = page.pane.section.rect_of("101").center().toPoint()
    qtbot.mouseClick(page.pane.section, Qt.MouseButton.LeftButton, pos=below)
    assert (page.room, page.pane.plan.chosen, page.pane.floor) == ("101", "101", "1")
    assert page.table.current().room == "101"


def test_a_click_beside_the_rooms_changes_nothing(make_page, watched, qtbot):
    page, _ = make_page(watched)
    page.choose("101")
    qtbot.mouseClick(page.drawing, Qt.MouseButton.LeftButton, pos=page.drawing.rect().center() * 0)
    assert page.room == "101"


def test_arrows_go_from_room_to_room_and_page_keys_from_floor_to_floor(make_page, watched, qtbot):
    page, _ = make_page(watched)
    page.table.filter.setFocus()
    page.setFocus()
    assert page.room == "101"  # coming by keyboard chooses the first room
    qtbot.keyClick(page.drawing, Key.Key_Right)
    assert page.room == "102"
    qtbot.keyClick(page.drawing, Key.Key_Right)
    assert page.room == "102"
    qtbot.keyClick(page.drawing, Key.Key_Left)
    assert page.room == "101"
    qtbot.keyClick(page.drawing, Key.Key_PageUp)
    assert page.pane.floor == "2"
    qtbot.keyClick(page.drawing, Key.Key_PageUp)
    assert page.pane.floor == "2"
    qtbot.keyClick(page.drawing, Key.Key_PageDown)
    assert page.pane.floor == "1"


def test_arrows_reach_every_room_of_a_floor(make_page, qtbot):
    build = house().wing("Lake", 0, 0, 0).wing("Hill", 30, 6, 60)
    for order in range(1, 6):
        build.room(f"1{order:02}", wing="Lake", order=order).bed("A")
        build.room(f"1{order + 20}", wing="Lake", side=Side.RIGHT, order=order).bed("A")
        build.room(f"1{order + 40}", wing="Hill", order=order).bed("A")
    build.room("160", wing="Lake", side=Side.END, order=1).bed("A")
    page, _ = make_page(build)
    reached, waiting = {"101"}, ["101"]
    while waiting:
        room = waiting.pop()
        for key in (Key.Key_Left, Key.Key_Right, Key.Key_Up, Key.Key_Down):
            page.choose(room)
            qtbot.keyClick(page.drawing, key)
            if page.room not in reached:
                reached.add(page.room)
                waiting.append(page.room)
    assert reached == set(page.drawing.rooms())


def test_the_panel_says_why_in_words(make_page, watched):
    page, _ = make_page(watched)
    page.choose("101")
    assert "quarantine" in page.panel.state.text()
    assert "2026-001" in page.panel.state.text()
    beds = page.panel.beds.model.rows
    assert [row.bed for row in beds] == ["101/A"]
    whys = {row.room: row.why for row in page.panel.neighbours.model.rows}
    assert whys == {"102": "shares a wall with 101", "201": "above 101"}


def test_before_a_room_is_chosen_the_panel_says_how_to_and_nothing_of_a_room(make_page, watched):
    page, _ = make_page(watched)
    page.side.setCurrentIndex(ROOM_TAB)
    assert page.room is None
    shown = [w.text() for w in page.panel.findChildren(QLabel) if w.isVisible()]
    assert how_to() in shown
    for hidden in (page.panel.tabs, page.panel.to_check, page.panel.to_sighting):
        assert not hidden.isVisible()
    page.choose("101")
    assert page.panel.tabs.isVisible()
    assert page.panel.to_check.isVisible()
    page.choose(None)
    assert not page.panel.tabs.isVisible()


@pytest.mark.parametrize("size", list(TextSize))
def test_every_column_of_the_neighbours_is_in_sight(make_page, watched, look, qtbot, size):
    look.choose(Theme.LIGHT, size)
    page, _ = make_page(watched)
    page.choose("101")
    page.side.setCurrentIndex(ROOM_TAB)
    page.panel.tabs.setCurrentWidget(page.panel.neighbours)
    view = page.panel.neighbours.view
    header = view.horizontalHeader()
    qtbot.waitUntil(lambda: header.length() <= view.viewport().width())
    wrapped = header.sectionSize(1)
    page.resize(1900, 1000)
    page.findChildren(QSplitter)[0].setSizes([500, 1400])
    qtbot.waitUntil(lambda: header.sectionSize(1) > wrapped)


def test_stays_around_today_are_shown_without_a_name(make_page, watched, make_hotel):
    from hotelwatch.core.facts import StaysImported
    from hotelwatch.core.records import Stay

    page, context = make_page(watched)
    context.hotel.record_stays(
        [Stay("b1", "101", "", day(38), day(43)), Stay("b2", "101", "", day(90), day(92))],
        StaysImported("stays.csv", "0" * 64, day(38), 2, 0),
    )
    page.refresh()
    page.choose("101")
    assert [row.booking for row in page.panel.stays.model.rows] == ["b1"]


def test_a_neighbour_is_one_key_away(make_page, watched, qtbot, went):
    page, context = make_page(watched)
    page.choose("101")
    page.side.setCurrentIndex(ROOM_TAB)
    page.panel.tabs.setCurrentWidget(page.panel.neighbours)
    view = page.panel.neighbours.view
    page.panel.neighbours.select("102")
    view.setFocus()
    qtbot.keyClick(view, Key.Key_Return)
    assert went(context) == [("building", "102")]
    page.focus_room("102")
    assert page.room == "102"


def test_checks_and_sightings_begin_from_a_room(make_page, watched, qtbot, went):
    page, context = make_page(watched)
    page.choose("102")
    page.side.setCurrentIndex(ROOM_TAB)
    qtbot.mouseClick(page.panel.to_check, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(page.panel.to_sighting, Qt.MouseButton.LeftButton)
    assert went(context) == [("checks", "102"), ("log_sighting", "102")]


def test_the_selection_stays_through_a_refresh(make_page, watched):
    page, _ = make_page(watched)
    page.choose("201")
    page.refresh()
    assert page.room == "201"
    assert page.table.current().room == "201"
    assert page.pane.floor == "2"


def test_a_room_the_filter_hides_can_still_be_chosen(make_page, watched, qtbot):
    page, _ = make_page(watched)
    page.table.filter.setText("201")
    qtbot.waitUntil(lambda: len(page.table.shown_rows()) == 1)
    page.choose("101")
    assert page.table.current().room == "101"


def test_a_hotel_without_rooms_is_told_the_one_next_step(make_page, qtbot, went):
    page, context = make_page(house())
    assert not page.pane.isVisible()
    qtbot.mouseClick(page.table.empty_step, Qt.MouseButton.LeftButton)
    assert went(context) == [("load_roster", None)]


def test_the_table_of_rooms_keeps_to_qts_rules(make_page, watched, qtmodeltester):
    page, _ = make_page(watched)
    page.draw_rooms()
    tables = (page.table, page.panel.beds, page.panel.neighbours, page.panel.stays)
    for table in (*tables, page.drawer.neighbours):
        qtmodeltester.check(table.model)
        qtmodeltester.check(table.order)


def test_everything_one_can_reach_has_a_name(make_page, watched, nameless):
    page, _ = make_page(watched)
    page.choose("101")
    page.pane.show_views(Views.BOTH)
    assert nameless(page) == []
    page.side.setCurrentIndex(ROOM_TAB)
    for tab in range(3):
        page.panel.tabs.setCurrentIndex(tab)
        assert nameless(page) == []
    page.draw.trigger()
    assert nameless(page) == []


def test_a_field_without_a_name_is_found(qtbot, nameless):
    pane = QWidget()
    qtbot.addWidget(pane)
    line = QLineEdit(pane)
    assert nameless(pane) == [line]


def test_the_cut_goes_through_the_room_that_is_chosen(make_page):
    build = house().floors("1", "2").wing("Lake", 0, 0, 0).wing("Hill", 40, 0, 90)
    for floor in "12":
        for wing in ("Lake", "Hill"):
            build.room(f"{floor}{wing}", floor=floor, wing=wing).bed("A")
    page, _ = make_page(build)
    page.choose("1Lake")
    page.pane.show_views(Views.BOTH)
    assert page.pane.section.rooms() == ("1Lake", "2Lake")
    page.choose("2Hill")
    assert page.pane.section.rooms() == ("1Hill", "2Hill")
    page.pane.show_views(Views.CUT)
    page.choose("1Lake")
    assert page.pane.section.rooms() == ("1Lake", "2Lake")


# --- rooms behind a number, and the legend ------------------------------------------------


def test_exactly_the_rooms_behind_a_number_stand_out_under_its_name(make_page, watched, qtbot):
    page, _ = make_page(watched)
    page.table.filter.setText("202")
    page.focus_rooms("To be looked at", frozenset({"102", "201"}))
    assert [row.room for row in page.table.shown_rows()] == ["102", "201"]
    assert page.named.isVisible()
    assert page.named.said.text() == "To be looked at: 2 rooms"
    assert page.room == "102"
    assert page.side.currentIndex() == ROOMS_TAB
    assert page.pane.plan._shown == {"102", "201"}
    assert [page.pane.floors.itemText(n) for n in range(2)] == ["Floor 2: 1", "Floor 1: 1"]
    page.named.back.setFocus()
    qtbot.keyClick(page.named.back, Key.Key_Space)
    assert not page.named.isVisible()
    assert len(page.table.shown_rows()) == 4
    assert page.pane.plan._shown is None


def test_rooms_that_do_not_count_are_painted_without_state_or_gauge(make_page, watched):
    page, _ = make_page(watched)
    page.choose(None)
    inside = page.drawing.rect_of("101").adjusted(3, 3, -3, -3).toRect()
    before = page.drawing.grab(inside).toImage()
    page.focus_rooms("One", frozenset({"102"}))
    page.choose(None)
    without = page.drawing.grab(inside).toImage()
    assert before != without
    colours = {without.pixel(x, 2) for x in range(without.width())}
    assert len(colours) == 1  # no pattern


def test_the_legend_shows_only_rooms_that_stand_so(make_page, watched, qtbot):
    page, _ = make_page(watched)
    legend = page.pane.legend
    assert legend.buttons[RoomStanding.QUARANTINE].text() == "quarantine 1"
    legend.buttons[RoomStanding.TO_CHECK].setFocus()
    qtbot.keyClick(legend.buttons[RoomStanding.TO_CHECK], Key.Key_Space)
    assert [row.room for row in page.table.shown_rows()] == ["102"]
    qtbot.mouseClick(legend.buttons[RoomStanding.QUARANTINE], Qt.MouseButton.LeftButton)
    assert [row.room for row in page.table.shown_rows()] == ["101", "102"]
    legend.clear()
    assert len(page.table.shown_rows()) == 4


def test_a_legend_goes_to_a_floor_that_has_such_rooms(make_page, watched, qtbot):
    page, _ = make_page(watched)
    page.choose("201")
    assert page.pane.floor == "2"
    quarantine = page.pane.legend.buttons[RoomStanding.QUARANTINE]
    qtbot.mouseClick(quarantine, Qt.MouseButton.LeftButton)
    assert page.pane.floor == "1"
    assert page.pane.floors.currentText() == "Floor 1: 1"
    metrics = page.pane.floors.fontMetrics()
    assert page.pane.floors.width() > metrics.horizontalAdvance(page.pane.floors.currentText())


def test_a_legend_within_named_rooms_counts_those_only(make_page, watched):
    page, _ = make_page(watched)
    page.focus_rooms("Two", frozenset({"101", "201"}))
    page.refresh()
    legend = page.pane.legend
    assert legend.buttons[RoomStanding.TO_CHECK].text() == "to check 0"
    legend.buttons[RoomStanding.QUARANTINE].setChecked(True)
    assert [row.room for row in page.table.shown_rows()] == ["101"]


# --- a room by its number ---------------------------------------------------------------------


def test_a_number_typed_on_the_drawing_leads_to_its_room(make_page, watched, qtbot):
    page, _ = make_page(watched)
    page.pane.plan.motion_ms = 0
    page.setFocus()
    scale = page.drawing.camera.scale
    qtbot.keyClick(page.drawing, Key.Key_2)
    assert page.pane.goto.hasFocus()
    qtbot.keyClicks(page.pane.goto, "02")
    qtbot.keyClick(page.pane.goto, Key.Key_Return)
    assert (page.room, page.pane.floor) == ("202", "2")
    assert page.drawing.hasFocus()
    assert page.drawing.camera.scale >= scale
    middle = page.drawing.rect_of("202").center()
    assert (middle - page.drawing.rect().center()).manhattanLength() < 3


def test_a_number_that_no_room_has_is_said(make_page, watched, qtbot):
    page, _ = make_page(watched)
    page.pane.goto.setFocus()
    qtbot.keyClicks(page.pane.goto, "999")
    qtbot.keyClick(page.pane.goto, Key.Key_Return)
    assert page.pane.not_found.text() == "There is no room 999."
    assert page.pane.not_found.isVisible()
    qtbot.keyClick(page.pane.goto, Key.Key_Backspace)
    assert not page.pane.not_found.isVisible()


# --- the past ------------------------------------------------------------------------------------


def test_the_days_go_back_by_keys_and_it_is_said_that_one_looks_at_the_past(
    make_page, make_hotel, make_context, qtbot, clock, two_floors
):
    clock.moment = moment(39)
    hotel = make_hotel(two_floors)
    clock.moment = moment(40)
    hotel.record(
        lambda _: [
            Sighted("2026-001", "101", "", "mattress_top", Sign.LIVE_INSECT, 1, "a", moment(40)),
            QuarantinePlaced("101", "2026-001", moment(40), "sighting"),
        ],
        action="test",
    )
    page = BuildingPage(make_context(hotel))
    qtbot.addWidget(page)
    page.resize(1100, 720)
    page.show()
    page.refresh()
    page.choose("101")
    slider = page.pane.time.slider
    assert not page.then.isVisible()
    assert page._rows["101"].state is RoomStanding.QUARANTINE
    assert page.panel._acts.isVisibleTo(page.panel)
    qtbot.keyClick(slider, Key.Key_Left)
    assert page.then.isVisible()
    assert "past" in page.then.said.text()
    assert page._rows["101"].state is RoomStanding.OVERDUE
    assert "Overdue" in page.panel.state.text()
    assert not page.panel._acts.isVisibleTo(page.panel)  # nothing new is recorded of the past
    qtbot.waitUntil(lambda: page.table.model.rows[0].state is RoomStanding.OVERDUE)
    qtbot.keyClick(slider, Key.Key_End)
    assert not page.then.isVisible()
    assert page._rows["101"].state is RoomStanding.QUARANTINE


def test_the_past_plays_until_today_and_can_be_held(
    make_page, two_floors, qtbot, make_context, make_hotel, clock
):
    clock.moment = moment(37)
    hotel = make_hotel(two_floors)
    clock.moment = moment(40)
    page = BuildingPage(make_context(hotel))
    qtbot.addWidget(page)
    page.show()
    page.refresh()
    bar = page.pane.time
    bar._playing.setInterval(1)
    qtbot.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    assert bar.is_playing
    assert bar.play.accessibleName() == "Hold the days"
    qtbot.waitUntil(lambda: not bar.is_playing)
    assert bar.day is None
    bar.go_to(hotel.today() - timedelta(days=2))
    assert bar.day == hotel.today() - timedelta(days=2)
    bar.toggle()
    bar.toggle()
    assert not bar.is_playing
    qtbot.mouseClick(page.then.back, Qt.MouseButton.LeftButton)
    assert bar.day is None


@pytest.mark.parametrize("size", list(TextSize))
def test_the_drawing_has_most_of_the_page_at_the_usual_size(make_page, watched, look, size):
    look.choose(Theme.LIGHT, size)
    page, _ = make_page(watched)
    page.resize(1068, 660)
    plan = page.pane.framed_plan  # with what lies beside it, and would else lie over rooms
    share = plan.width() * plan.height() / (page.width() * page.height())
    assert share > (0.5 if size is TextSize.NORMAL else 0.2)
    assert page.minimumSizeHint().width() <= 1068


def test_the_side_is_as_wide_as_its_words_again_after_larger_text(make_page, watched, look, qtbot):
    page, _ = make_page(watched)
    page.resize(1068, 660)
    before = page._side.width()
    look.choose(Theme.LIGHT, TextSize.DOUBLE)
    qtbot.waitUntil(lambda: page._both.orientation() is Qt.Orientation.Vertical)
    look.choose(Theme.LIGHT, TextSize.NORMAL)
    qtbot.waitUntil(lambda: page._side.width() == before)
    assert page._both.orientation() is Qt.Orientation.Horizontal


@pytest.mark.parametrize("size", list(TextSize))
def test_coming_to_the_drawing_leaves_its_tools_in_sight(qtbot, make_page, watched, look, size):
    """The drawing has the keyboard; where text is large a page scrolls, yet not past its tools."""
    look.choose(Theme.LIGHT, size)
    page, _ = make_page(watched)
    frame = PageFrame(page)
    qtbot.addWidget(frame)
    frame.resize(980, 560)
    frame.show()
    with qtbot.waitActive(frame):
        frame.activateWindow()
    qtbot.wait(20)
    page.setFocus(Qt.FocusReason.ShortcutFocusReason)
    assert page.pane.plan.hasFocus()
    qtbot.wait(20)
    top = page.pane.goto.mapTo(frame.viewport(), QPoint())
    assert frame.viewport().rect().contains(top)
    seen = QRect(page.pane.plan.mapTo(frame.viewport(), QPoint()), page.pane.plan.size())
    assert seen.intersected(frame.viewport().rect()).height() >= 200


def test_a_small_room_says_its_day_without_the_day_of_the_week(make_page, watched):
    page, _ = make_page(watched)
    row = page._rows["102"]
    assert re.fullmatch(r"check by \w{3} \d+ \w{3}", row.short)
    assert re.fullmatch(r"check by \d+ \w{3}", row.shortest)
    assert row.short.endswith(row.shortest.removeprefix("check by "))
