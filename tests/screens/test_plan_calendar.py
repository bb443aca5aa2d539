"""The calendar of the rounds in the Plan tab: looked at, gone about by keys, changed by hand."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent, QFontMetricsF
from PySide6.QtWidgets import QApplication

from hotelwatch.actions.people import describe_person, get_up, sit_down
from hotelwatch.actions.rounds import publish_round
from hotelwatch.actions.undo import undo
from hotelwatch.core.case_facts import CheckAsked, Sighted, Sign
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import (
    CaseNo,
    RoomNo,
    RoundPublished,
    SlotPublished,
    StaysImported,
    TeamName,
)
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import CheckPinned, HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.screens.look.theme import DARK, LIGHT, MAIN, TextSize, Theme, Tone
from hotelwatch.screens.rounds.page import RoundsPage
from hotelwatch.screens.rounds.plan_details import MOVED, ROOMS
from hotelwatch.screens.rounds.plan_layout import LEAST_CHIP_PX, MOST_CHIPS, Place, place_of
from hotelwatch.screens.rounds.plan_pane import BESIDE_FROM_PX, TALL_SHARE
from hotelwatch.screens.rounds.plan_tables import room_key
from tests.build import day, house, moment
from tests.screens.test_theme import contrast

Key = Qt.Key
CASE = CaseNo("2026-001")
BLUE, RED = TeamName("blue"), TeamName("red")
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
TODAY = 40
OUTLINED = (Tone.LATE, Tone.ASKED, Tone.DUE, Tone.DONE)
"""Tones of chips that are only likely: their ink stands on the plain ground."""


@pytest.fixture
def inn():
    """Six rooms on two floors, two teams; a case that wants 201, a day on which all is closed."""
    build = house().floors("1", "2")
    build.team("blue", 70, works_on=EVERY_DAY).team("red", 70, works_on=EVERY_DAY)
    for floor in ("1", "2"):
        for number in (1, 2, 3):
            build.room(f"{floor}0{number}", floor=floor).bed("A").checked("A", day(-60))
    build.on(39)
    build.record(
        Sighted(CASE, RoomNo("203"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(39, 1)),
        CheckAsked(CASE, RoomNo("201"), ("shares_wall",), moment(40, 16)),
        HouseDaysClosed(day(42), day(42), "Lantern fair"),
    )
    return build.record(StaysImported("b.csv", "0", day(0), 0, 0))


@pytest.fixture
def make_plan(make_hotel, make_context, qtbot):
    """Makes the Plan tab with a draft of a week."""

    def make(build, days=7):
        context = make_context(make_hotel(build), ("building",))
        # A guest in 101 from 17 to 20 February.
        stay = Stay("b1", "101", "", day(43), day(46))
        if "101" in context.hotel.house.rooms:
            context.hotel.record_stays([stay], StaysImported("b.csv", "1", day(0), 1, 0))
        page = RoundsPage(context)
        qtbot.addWidget(page)
        context.bus.changed.connect(lambda _: page.refresh())
        page.resize(1100, 760)
        page.show()
        with qtbot.waitActive(page):
            page.activateWindow()
        page.refresh()
        page.plan.bar.days.setValue(days)
        page.plan.bar.make_draft.click()
        settled(page.plan, qtbot, context)
        return page.plan, context

    return make


def settled(plan, qtbot, context):
    qtbot.waitUntil(lambda: plan.draft is not None and not context.jobs.is_busy, timeout=10_000)


def centre(view, place):
    """The middle of a chip; of a cell its minutes, where no chip lies."""
    rect = view.rect_of(place)
    middle = rect.center().toPoint()
    return middle if place.corridor else QPoint(middle.x(), round(rect.top()) + 10)


def chip_of(plan, room):
    return plan.view.rows.find(RoomNo(room))


def texts(context):
    return [bar.label.text() for bar in context.notices.bars()]


def actions(menu):
    return {action.text().replace("&", ""): action for action in menu.actions()}


def ask_menu(plan, place=None):
    """The menu of a place: by mouse if one is given, by its key if none."""
    view = plan.view
    if place is None:
        reason, at = QContextMenuEvent.Reason.Keyboard, QPoint(0, 0)
    else:
        reason, at = QContextMenuEvent.Reason.Mouse, centre(view, place)
    event = QContextMenuEvent(reason, at, view.viewport().mapToGlobal(at))
    # As Qt does: the mouse's to the viewport, the key's to what has the keyboard.
    QApplication.sendEvent(view.viewport() if place else view, event)
    menu = plan.hand.menu
    menu.close()
    return menu


def drag(qtbot, view, start, end):
    port = view.viewport()
    middle = QPoint((start.x() + end.x()) // 2, (start.y() + end.y()) // 2)
    qtbot.mousePress(port, Qt.MouseButton.LeftButton, pos=start)
    for at in (middle, end):
        qtbot.mouseMove(port, at)
        send_move(port, at)
    qtbot.mouseRelease(port, Qt.MouseButton.LeftButton, pos=end)


def send_move(port, at):
    """qtbot moves the pointer without a button held; a drag holds one."""
    from PySide6.QtCore import QEvent, QPointF
    from PySide6.QtGui import QMouseEvent

    left = Qt.MouseButton.LeftButton
    where = QPointF(port.mapToGlobal(at))
    event = QMouseEvent(
        QEvent.Type.MouseMove, QPointF(at), where, left, left, Qt.KeyboardModifier.NoModifier
    )
    QApplication.sendEvent(port, event)


# --- looking ----------------------------------------------------------------------------------


def test_every_day_and_team_has_its_cell_and_every_room_its_chip(make_plan, inn, qtbot):
    plan, _ = make_plan(inn)
    assert plan.view.rows.days == tuple(day(TODAY + n) for n in range(7))
    assert plan.view.rows.teams == (BLUE, RED)
    drawn = [
        (laid.cell.key, item.chip.room)
        for laid in plan.view.layout_now.cells.values()
        for item in laid.items
        if item.chip
    ]
    assert sorted(drawn) == sorted(
        ((slot.on, slot.team), slot.room) for slot in plan.draft.plan.slots
    )


def test_nothing_lies_over_anything_else_and_all_of_it_within_its_cell(make_plan, inn):
    plan, _ = make_plan(inn)
    for laid in plan.view.layout_now.cells.values():
        assert all(laid.rect.contains(item.rect) for item in laid.items)
        rects = [item.rect for item in laid.items]
        assert not any(a.intersects(b) for n, a in enumerate(rects) for b in rects[n + 1 :])


@pytest.mark.parametrize("size", list(TextSize))
def test_a_chip_is_large_enough_to_hit_and_its_words_fit(make_plan, inn, look, size):
    # WCAG 2.2, 2.5.8 target size (minimum): 24 by 24 CSS pixels.
    look.choose(Theme.LIGHT, size)
    plan, _ = make_plan(inn)
    metrics = QFontMetricsF(plan.view.font())
    items = [i for laid in plan.view.layout_now.cells.values() for i in laid.items if i.chip]
    assert items
    for item in items:
        assert item.rect.height() >= LEAST_CHIP_PX
        assert item.rect.width() >= LEAST_CHIP_PX
        assert metrics.horizontalAdvance(item.text) <= item.rect.width()


def test_signs_say_in_words_what_colours_say(make_plan, inn):
    # WCAG 2.2, 1.4.1 use of colour.
    plan, _ = make_plan(inn)
    said = {
        item.chip.room: item.text
        for laid in plan.view.layout_now.cells.values()
        for item in laid.items
        if item.chip
    }
    assert said["201"] == "201 ◆ case"
    late = [room for room in said if chip_of(plan, room).row.is_late]
    assert late
    assert all(said[room].endswith("! late") for room in late)


def test_a_closed_day_says_why(make_plan, inn):
    plan, _ = make_plan(inn)
    plan.view.choose(Place(day(42), BLUE))
    told = plan.view.accessibleDescription()
    assert told == "Mon 16 Feb 2026, blue: No rounds: Lantern fair."


def test_many_rooms_stand_as_corridors_and_a_click_lists_them(make_plan, qtbot):
    build = house().floors("1", "2").team("blue", 900, works_on=EVERY_DAY)
    for floor in ("1", "2"):
        for number in range(1, 11):
            build.room(f"{floor}{number:02}", floor=floor).bed("A").checked("A", day(-60))
    plan, _ = make_plan(build.record(StaysImported("b.csv", "0", day(0), 0, 0)), days=2)
    laid = next(
        one for one in plan.view.layout_now.cells.values() if len(one.cell.chips) > MOST_CHIPS
    )
    texts_shown = [item.text for item in laid.items]
    assert texts_shown == [
        f"Floor {one.floor}: {len(one.chips)} rooms" for one in laid.cell.corridors
    ]
    item = laid.items[0]
    port = plan.view.viewport()
    qtbot.mouseClick(port, Qt.MouseButton.LeftButton, pos=centre(plan.view, item.place))
    shown = {row.room for row in plan.details.rooms.shown_rows()}
    assert shown == {chip.room for chip in item.chips}
    assert f"Floor {item.place.corridor[0]}" in plan.details.which.text()


# --- going about ------------------------------------------------------------------------------


def test_arrows_go_through_cells_and_chips_and_the_list_follows(make_plan, inn, qtbot):
    plan, _ = make_plan(inn)
    view = plan.view
    view.setFocus()
    assert view.scene.current == Place(day(TODAY), BLUE)
    first = view.layout_now.cells[day(TODAY), BLUE].places
    assert len(first) > 1
    qtbot.keyClick(view, Key.Key_Down)
    assert view.scene.current == first[1]
    assert plan.details.rooms.current().room == first[1].room
    assert {row.on for row in plan.details.rooms.shown_rows()} == {day(TODAY)}
    qtbot.keyClick(view, Key.Key_Right)
    assert view.scene.current == Place(day(TODAY + 1), BLUE)
    for _ in view.layout_now.cells[day(TODAY + 1), BLUE].places:
        qtbot.keyClick(view, Key.Key_Down)
    assert view.scene.current == Place(day(TODAY + 1), RED)
    qtbot.keyClick(view, Key.Key_End)
    assert view.scene.current == Place(day(TODAY + 6), RED)
    qtbot.keyClick(view, Key.Key_PageUp)
    assert view.scene.current == Place(day(TODAY), RED)
    qtbot.keyClick(view, Key.Key_Up)
    assert view.scene.current.team == BLUE
    assert view.accessibleDescription()


def test_what_has_the_place_is_in_view(make_plan, inn, qtbot):
    plan, _ = make_plan(inn, days=28)
    view = plan.view
    view.setFocus()
    qtbot.keyClick(view, Key.Key_End)
    assert view.viewport().rect().contains(view.rect_of(view.scene.current).toRect())
    qtbot.keyClick(view, Key.Key_Home)
    rect = view.rect_of(view.scene.current).toRect()
    assert rect.left() >= round(view.layout_now.team_px) - 1


def test_enter_opens_a_room_and_a_cells_list(make_plan, inn, qtbot, went):
    plan, context = make_plan(inn)
    view = plan.view
    view.setFocus()
    qtbot.keyClick(view, Key.Key_Return)
    qtbot.waitUntil(plan.details.rooms.view.hasFocus)
    assert plan.details.currentIndex() == ROOMS
    view.setFocus()
    qtbot.keyClick(view, Key.Key_Down)
    qtbot.keyClick(view, Key.Key_Return)
    assert went(context) == [("building", view.scene.current.room)]


def test_the_list_and_the_sheets_choose_on_the_calendar(make_plan, inn, qtbot):
    plan, _ = make_plan(inn)
    row = plan.details.rooms.shown_rows()[-1]
    plan.details.rooms.select(room_key(row))
    assert plan.view.scene.current == place_of(chip_of(plan, row.room))
    plan.details.sums.select((day(TODAY + 1), "red"))
    assert plan.view.scene.current == Place(day(TODAY + 1), RED)
    plan.details.show_all.click()
    assert plan.details.rooms.view.hasFocus()
    assert plan.view.scene.current.room == plan.details.rooms.current().room
    assert len(plan.details.rooms.shown_rows()) == len(plan.draft.plan.slots)


# --- by hand ----------------------------------------------------------------------------------


def test_a_chip_dragged_to_another_day_is_pinned_there_and_the_plan_made_anew(
    make_plan, inn, qtbot
):
    plan, context = make_plan(inn)
    chip = chip_of(plan, "201")
    target = Place(day(TODAY + 1), RED)
    drag(qtbot, plan.view, centre(plan.view, place_of(chip)), centre(plan.view, target))
    hand = Hand(context.hotel.house)
    assert hand.pin(RoomNo("201"), day(TODAY)) == CheckPinned("201", day(TODAY + 1), "red")
    assert texts(context)[0] == "Room 201 is pinned to Sun 15 Feb, red."
    # It stands there at once; the plan made anew follows.
    assert chip_of(plan, "201").row.on == day(TODAY + 1)
    settled(plan, qtbot, context)
    # The list goes with the room to its new sheet.
    assert plan.details.which.text() == "Sun 15 Feb, red"
    assert plan.details.rooms.current().room == "201"
    moved = chip_of(plan, "201")
    assert (moved.row.on, moved.row.team, moved.is_day_pinned) == (day(TODAY + 1), RED, True)
    qtbot.waitUntil(lambda: "your choice by hand" in plan.proof.text())


def test_a_day_that_can_not_take_the_room_says_why_and_nothing_is_written(make_plan, inn, qtbot):
    plan, context = make_plan(inn)
    newest = max(context.hotel.house.entries)
    chip = chip_of(plan, "201")
    where = centre(plan.view, Place(day(42), BLUE))
    drag(qtbot, plan.view, centre(plan.view, place_of(chip)), where)
    why = "There are no rounds on Mon 16 Feb."
    assert texts(context) == [why]
    assert plan.hand.refuse(chip_of(plan, "101"), day(45), RED) == (
        "The same guests stay in room 101 before and after Thu 19 Feb."
    )
    assert max(context.hotel.house.entries) == newest
    # Only the last word on what can't be stays, and none once something could.
    drag(qtbot, plan.view, centre(plan.view, place_of(chip_of(plan, "201"))), where)
    assert texts(context) == [why]
    plan.hand.move(chip_of(plan, "201"), day(TODAY + 1), RED)
    assert texts(context) == ["Room 201 is pinned to Sun 15 Feb, red."]


def test_escape_lets_a_dragged_chip_be(make_plan, inn, qtbot):
    plan, context = make_plan(inn)
    newest = max(context.hotel.house.entries)
    view, port = plan.view, plan.view.viewport()
    start, end = centre(view, place_of(chip_of(plan, "201"))), centre(view, Place(day(41), RED))
    qtbot.mousePress(port, Qt.MouseButton.LeftButton, pos=start)
    send_move(port, end)
    assert view.scene.dragged.told == "Pin room 201 to Sun 15 Feb, red"
    assert view.scene.shut[day(42), RED]
    view.grab()
    qtbot.keyClick(view, Key.Key_Escape)
    qtbot.mouseRelease(port, Qt.MouseButton.LeftButton, pos=end)
    assert view.scene.dragged is None
    assert max(context.hotel.house.entries) == newest


def test_the_menu_key_pins_forbids_and_lets_go(make_plan, inn, qtbot):
    plan, context = make_plan(inn)
    chip = chip_of(plan, "201")
    plan.view.setFocus()
    plan.view.choose(place_of(chip))
    here = actions(ask_menu(plan))
    assert not here["Unpin"].isEnabled()
    here[f"Pin to Sat 14 Feb, {chip.row.team}"].trigger()
    settled(plan, qtbot, context)
    here = actions(ask_menu(plan))
    assert not here["Not on Sat 14 Feb"].isEnabled()
    here["Unpin"].trigger()
    assert Hand(context.hotel.house).pinned_rooms(day(TODAY)) == ()
    settled(plan, qtbot, context)
    actions(ask_menu(plan))["Not on Sat 14 Feb"].trigger()
    settled(plan, qtbot, context)
    assert Hand(context.hotel.house).forbidden(RoomNo("201")) == {day(TODAY)}
    now = chip_of(plan, "201")
    assert now is None or now.row.on != day(TODAY)


def test_the_menu_names_days_that_can_not_be_and_why(make_plan, inn, qtbot):
    plan, context = make_plan(inn)
    menu = ask_menu(plan, place_of(chip_of(plan, "101")))
    days = actions(actions(menu)["Pin to another day"].menu())
    shut = {text for text, action in days.items() if not action.isEnabled()}
    # The guest comes on 17 Feb and leaves on 20 Feb; the house is closed on the 16th.
    assert shut == {
        "Mon 16 Feb: No rounds that day",
        "Wed 18 Feb: Guest stays",
        "Thu 19 Feb: Guest stays",
    }
    teams = actions(actions(menu)["Pin to a team"].menu())
    teams["red"].trigger()
    settled(plan, qtbot, context)
    assert Hand(context.hotel.house).pinned_team(RoomNo("101"), day(TODAY)) == RED


def test_two_teams_swap_their_sheets_of_a_day(make_plan, inn, qtbot):
    plan, context = make_plan(inn)
    cells = plan.view.rows.cells
    mine, theirs = ({c.room for c in cells[day(TODAY), team].chips} for team in (BLUE, RED))
    assert mine
    menu = ask_menu(plan, Place(day(TODAY), RED))
    actions(actions(menu)["Swap its sheet with"].menu())["blue"].trigger()
    told = "red and blue swap their sheets of Sat 14 Feb once that is published."
    assert texts(context)[0] == told
    settled(plan, qtbot, context)
    cells = plan.view.rows.cells
    assert mine <= {chip.room for chip in cells[day(TODAY), RED].chips}
    assert theirs <= {chip.room for chip in cells[day(TODAY), BLUE].chips}
    assert context.hotel.house.entries[max(context.hotel.house.entries)].action == "swap_sheets"


def test_where_no_other_team_works_that_day_swapping_says_so(make_plan, inn):
    inn.record(TeamDaysChanged(RED, day(TODAY), day(TODAY), 0, "leave"))
    plan, _ = make_plan(inn)
    said = actions(ask_menu(plan, Place(day(TODAY), BLUE)))
    assert not said["Swap its sheet: no other team works that day"].isEnabled()


def test_who_may_not_change_the_plan_is_told_who_may_before_trying(make_hotel, make_context, inn):
    hotel = make_hotel(inn.record(RoundPublished(day(TODAY), day(TODAY + 6)), slot_of("102")))
    for name, role in zip(("Eva", "Sol", "Ana"), StaffRole, strict=False):
        describe_person(hotel, name, role, pin="2580")
    get_up(hotel)
    sit_down(hotel, "Ana", "2580")
    context = make_context(hotel, ("building",))
    page = RoundsPage(context)
    page.refresh()
    hand, chip = page.plan.hand, chip_of(page.plan, "102")
    told = "Not for your role: Pin rooms and forbid days (Executive housekeeper and Supervisor)."
    assert hand.refuse(chip, day(TODAY + 1), BLUE) == told
    assert list(actions(hand.chip_menu(chip, list))) == ["Open room 102", "", told]
    cell = page.plan.view.rows.cells[day(TODAY), BLUE]
    assert list(actions(hand.cell_menu(cell, list))) == ["Show its rooms in the list", told]
    page.deleteLater()


def slot_of(room):
    return SlotPublished(day(TODAY), BLUE, 1, RoomNo(room), (f"{room}/A",), 20, "")


def test_sheets_are_not_swapped_where_a_room_needs_more_people(make_plan, inn, qtbot):
    plan, context = make_plan(inn.team("solo", 70, people=1, works_on=EVERY_DAY))
    newest = max(context.hotel.house.entries)
    menu = ask_menu(plan, Place(day(TODAY), BLUE))
    offered = actions(actions(menu)["Swap its sheet with"].menu())
    assert not offered["solo: Too few people"].isEnabled()
    assert offered["red"].isEnabled()
    cells = plan.view.rows.cells
    plan.hand.swap(cells[day(TODAY), BLUE], cells[day(TODAY), TeamName("solo")])
    assert "need more people than solo has" in texts(context)[0]
    assert max(context.hotel.house.entries) == newest


def test_a_room_in_the_list_has_the_same_menu(make_plan, inn, qtbot):
    plan, _ = make_plan(inn)
    plan.details.rooms.select(room_key(chip_of(plan, "201").row))
    plan.details.rooms.view.customContextMenuRequested.emit(QPoint(5, 5))
    plan.hand.menu.close()
    assert "Copy rows" in actions(plan.hand.menu)
    assert "Pin to another day" in actions(plan.hand.menu)


def test_two_parts_of_a_room_on_one_sheet_are_chosen_and_acted_on_each(make_plan, qtbot):
    """Bed A of 101 was looked at this morning, bed B is still to do."""
    build = house().team("blue", 60, works_on=EVERY_DAY).room("101").on(TODAY)
    for position, bed in enumerate("AB", start=1):
        build.bed(bed).checked(bed, day(TODAY - 95))
        build.record(*published_part(f"101/{bed}", position))
    plan, _ = make_plan(build.checked("A", day(TODAY)))
    done, to_do = (row for row in plan.details.rooms.model.rows if row.on == day(TODAY))
    assert (done.beds, to_do.beds) == (("101/A",), ("101/B",))
    for row, is_to_do in ((to_do, True), (done, False)):
        plan.details.rooms.select(room_key(row))
        assert plan.view.scene.current.beds == row.beds
        plan.details.rooms.view.customContextMenuRequested.emit(QPoint(5, 5))
        plan.hand.menu.close()
        assert ("Pin to another day" in actions(plan.hand.menu)) == is_to_do
    chips = plan.view.rows.cells[day(TODAY), BLUE].chips
    for chip, is_to_do in zip(chips, (False, True), strict=True):
        assert ("Pin to another day" in actions(ask_menu(plan, place_of(chip)))) == is_to_do
        assert plan.details.rooms.current() == chip.row
    plan.refresh()
    assert plan.view.scene.current.beds == ("101/B",)


def published_part(bed, position):
    on = day(TODAY)
    slot = SlotPublished(on, BLUE, position, RoomNo("101"), (bed,), 20)
    return (RoundPublished(on, on), slot) if position == 1 else (slot,)


# --- publishing, replanning, papers -----------------------------------------------------------


def test_a_replan_says_what_moved_of_what_was_published(make_plan, inn, qtbot):
    plan, context = make_plan(inn)
    plan.bar.publish_whole.click()
    assert plan.bar.make_draft.text().replace("&", "") == "Plan again"
    chip = chip_of(plan, "201")
    plan.hand.move(chip, day(TODAY + 3), "red")
    settled(plan, qtbot, context)
    rows = {row.room: row for row in plan.details.moved.model.rows}
    assert (rows["201"].was_on, rows["201"].now_on) == (day(TODAY), day(TODAY + 3))
    assert plan.details.tabText(MOVED) == f"Moved ({len(rows)})"
    assert "moved to another day." in plan.proof.text()


def test_a_morning_with_a_room_that_can_not_be_entered_asks_for_a_plan(make_plan, inn, qtbot):
    plan, context = make_plan(inn)
    plan.bar.publish_whole.setFocus()
    qtbot.keyClick(plan.bar.publish_whole, Key.Key_Space)
    assert plan.bar.print_day.hasFocus()
    assert plan.details.which.text() == "All days"
    assert "Plan again." not in plan.state.text()
    assert plan.bar.make_draft.property("role") != MAIN
    today = [slot.room for slot in context.hotel.house.slots[day(TODAY)]]
    stay = Stay("b2", today[0], "", day(TODAY - 1), day(TODAY + 2))
    context.hotel.record_stays([stay], StaysImported("c.csv", "2", day(0), 1, 0))
    plan.refresh()
    said = f"{today[0]} stands on today's sheets and can't be entered today after all."
    assert f"{said} Plan again." in plan.state.text()
    assert plan.bar.make_draft.property("role") == MAIN
    plan.bar.make_draft.click()
    settled(plan, qtbot, context)
    rows = {row.room: row for row in plan.details.moved.model.rows}
    assert not rows[today[0]].was_possible


def test_the_proof_is_told_with_what_its_words_mean(make_plan, inn):
    plan, _ = make_plan(inn)
    proof = plan.draft.plan.proof
    assert proof.overdue_bed_days > 0
    assert str(proof.overdue_bed_days) in plan.proof.text()
    assert "Proven: no plan has fewer" in plan.proof.text()
    for word in ("late day", "Fixed", "Likely", "Proven"):
        assert word in plan.proof.toolTip()
    assert "a look saves most" not in plan.proof.text()


def test_a_plan_that_goes_by_odds_says_so(make_plan, inn):
    inn.record(RuleChosen("rounds_by", "odds"))
    plan, _ = make_plan(inn)
    assert "rooms in which a look saves most go first" in plan.proof.text()


def test_a_stopped_plan_that_has_an_answer_is_kept(make_plan, inn, qtbot, monkeypatch):
    from dataclasses import replace
    from threading import Event

    from hotelwatch.core.progress import Stopped
    from hotelwatch.screens.rounds import plan_work

    plan, context = make_plan(inn)
    begun, best = Event(), plan.draft.plan

    def improving(house, occupancy, wish, progress):
        begun.set()
        try:
            while True:
                progress(0.5, "planning")
        except Stopped:
            return replace(best, proof=replace(best.proof, was_stopped=True))

    monkeypatch.setattr(plan_work, "draft_round", improving)
    plan.bar.make_draft.click()
    assert begun.wait(5)
    context.jobs.stop()
    qtbot.waitUntil(lambda: plan.draft.plan.proof.was_stopped)
    assert "Stopped early" in plan.proof.text()


def held_back(monkeypatch):
    """Planning that waits to be let go, and how often it was begun."""
    from threading import Event

    from hotelwatch.screens.rounds import plan_work

    go_on, real, begun = Event(), plan_work.draft_round, []

    def held(house, occupancy, wish, progress):
        begun.append(wish)
        assert go_on.wait(10)
        return real(house, occupancy, wish, progress)

    monkeypatch.setattr(plan_work, "draft_round", held)
    return go_on, begun


def test_nothing_is_published_while_the_plan_is_made_anew(make_plan, inn, qtbot, monkeypatch):
    plan, context = make_plan(inn)
    go_on, _begun = held_back(monkeypatch)
    plan.hand.move(chip_of(plan, "201"), day(TODAY + 3), "red")
    both = (plan.bar.publish, plan.bar.publish_whole)
    for button in both:
        assert not button.isEnabled()
        assert button.toolTip() == (
            "The plan is being made anew. It can be published once that is done."
        )
        button.click()
    assert not context.hotel.house.slots
    go_on.set()
    settled(plan, qtbot, context)
    assert all(button.isEnabled() for button in both)
    assert not plan.bar.publish.toolTip()
    plan.bar.publish_whole.click()
    published = {slot.room: slot for slot in context.hotel.house.slots[day(TODAY + 3)]}
    assert published["201"].team == "red"


def test_a_plan_begun_before_another_round_was_published_is_made_anew(
    make_plan, inn, qtbot, monkeypatch
):
    plan, context = make_plan(inn)
    drafted = plan.draft.plan
    go_on, begun = held_back(monkeypatch)
    plan.bar.make_draft.click()
    publish_round(context.hotel, drafted, whole=True)
    newest = max(context.hotel.house.entries)
    go_on.set()
    settled(plan, qtbot, context)
    assert len(begun) == 2
    assert plan.draft.entry == newest
    assert not plan.details.moved.model.rows


def test_the_round_goes_on_paper_and_into_calendars(make_plan, inn, qtbot, tmp_path):
    plan, context = make_plan(inn)
    papers = plan.bar.papers
    papers.page.trigger()
    (shown,) = context.files.shown
    assert shown.read_bytes().startswith(b"%PDF")
    context.files.chosen = tmp_path / "round.ics"
    papers.calendar.trigger()
    assert (tmp_path / "round.ics").read_text("utf-8").startswith("BEGIN:VCALENDAR")
    context.files.chosen = tmp_path
    papers.calendars.trigger()
    assert len(list(tmp_path.glob("*.ics"))) == 3
    assert "2 calendars are written" in texts(context)[0]


def test_calendars_are_told_of_a_round_that_was_taken_back(make_plan, inn, tmp_path):
    plan, context = make_plan(inn)
    assert plan.bar.papers.page.isEnabled()
    publish_round(context.hotel, plan.draft.plan, whole=True)
    undo(context.hotel)
    plan.bar.throw_away.trigger()
    papers = plan.bar.papers
    assert papers.isVisible()
    assert not papers.page.isEnabled()
    context.files.chosen = tmp_path / "round.ics"
    papers.calendar.trigger()
    written = (tmp_path / "round.ics").read_text("utf-8")
    assert "STATUS:CANCELLED" in written
    assert "STATUS:CONFIRMED" not in written


# --- for eyes, ears and rules -----------------------------------------------------------------


@pytest.mark.parametrize("theme", [Theme.LIGHT, Theme.DARK])
@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080)])
def test_it_is_painted_in_both_looks(make_plan, inn, look, tmp_path, theme, size):
    look.choose(theme, TextSize.NORMAL)
    plan, _ = make_plan(inn)
    plan.window().resize(*size)
    plan.view.choose(place_of(chip_of(plan, "201")))
    plan.view.tint(frozenset({day(TODAY + 1)}), frozenset({RoomNo("201")}))
    picture = plan.window().grab()
    assert picture.save(str(tmp_path / f"plan-{theme}-{size[0]}.png"))
    colours = look.colours
    ground = plan.view.grab().toImage().pixelColor(4, 4).name()
    assert ground == colours.band


def test_a_notice_above_the_page_does_not_turn_the_lists_beside_the_calendar(
    make_plan, inn, monkeypatch
):
    plan, _ = make_plan(inn)
    window, both = plan.window(), plan._both
    monkeypatch.setattr(plan.view, "whole_height", lambda: 500)
    tall = round(500 / TALL_SHARE) + 5
    window.resize(BESIDE_FROM_PX + 60, tall)
    assert both.orientation() is Qt.Orientation.Vertical
    window.layout().setContentsMargins(0, 60, 0, 0)
    window.layout().activate()
    assert both.orientation() is Qt.Orientation.Vertical
    window.resize(BESIDE_FROM_PX + 60, tall - 60)
    assert both.orientation() is Qt.Orientation.Horizontal


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_what_is_written_on_the_calendar_can_be_read(colours):
    # WCAG 2.2, 1.4.3: text 4.5 to 1; 1.4.11: frames and shapes 3 to 1.
    due, late = colours.tones[Tone.DUE], colours.tones[Tone.LATE]
    for ink, ground in (
        (colours.text, colours.hair),
        (colours.text, due.fill),
        (colours.muted, due.fill),
        (colours.muted, colours.base),
        (late.ink, colours.base),
        *((tint.ink, colours.base) for tone, tint in colours.tones.items() if tone in OUTLINED),
    ):
        assert contrast(ink, ground) >= 4.5
    for shape, ground in ((colours.accent, colours.base), (colours.line, colours.base)):
        assert contrast(shape, ground) >= 3


def test_lists_keep_to_qts_rules(make_plan, inn, qtmodeltester):
    plan, _ = make_plan(inn)
    for table in (plan.details.rooms, plan.details.sums, plan.details.moved):
        qtmodeltester.check(table.model)
        qtmodeltester.check(table.order)


def test_everything_one_can_reach_has_a_name(make_plan, inn, nameless):
    plan, _ = make_plan(inn)
    for tab in range(plan.details.count()):
        plan.details.setCurrentIndex(tab)
        assert nameless(plan) == []
