"""Rooms drawn in the window: by hand, by numbers, split, undone, saved as one entry."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt

from hotelwatch.actions.hotel import place_wings
from hotelwatch.core.building.outlines import points_of
from hotelwatch.core.building.rooms import drawn_numbers
from hotelwatch.core.facts import RoomDrawn, WingPlaced
from hotelwatch.screens.building.page import BuildingPage
from hotelwatch.screens.look.theme import Tone
from tests.build import house, rules

Key, Mod, Left = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton
BAY = rules().figures.bay_width_m.value


@pytest.fixture
def draw(qtbot, make_hotel, make_context):
    """A page with four rooms on each of two floors, and the drawing of a room begun."""

    def make(room="102", build=None):
        if build is None:
            build = house().floors("1", "2").wing("A", 0, 0, 0)
            for floor in "12":
                for number in range(1, 5):
                    build.room(f"{floor}0{number}", floor=floor, wing="A", order=number).bed("A")
        context = make_context(make_hotel(build))
        page = BuildingPage(context)
        qtbot.addWidget(page)
        page.resize(1200, 800)
        page.show()
        with qtbot.waitActive(page):
            page.activateWindow()
        page.refresh()
        page.pane.plan.motion_ms = 0
        page.choose(room)
        page.draw.trigger()
        return page, page.drawer, context

    return make


def outline_of(context, room):
    return context.hotel.building.shapes[room].outline


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)


def pull(qtbot, view, start, by):
    """Press, pull in two moves, let go; ``by`` in metres east and north."""
    scale = view.camera.scale
    end = start + QPoint(round(by[0] * scale), round(-by[1] * scale))
    qtbot.mousePress(view, Left, pos=start)
    qtbot.mouseMove(view, start + QPoint(0, 12))
    qtbot.mouseMove(view, end)
    return end


def told(panel):
    return {row.room: row.is_gained for row in panel.neighbours.model.rows}


# --- by numbers -------------------------------------------------------------------------------


def test_a_room_is_drawn_by_keyboard_alone_and_saved_as_one_entry(draw, qtbot):
    page, panel, context = draw()
    entries = len(context.hotel.house.entries)
    assert panel.isVisible()
    assert panel.shape.east.hasFocus()
    before = outline_of(context, "102")
    type_into(qtbot, panel.shape.wide, "3.5")
    assert drawn_numbers(context.hotel.house) == {}
    panel.save.setFocus()
    qtbot.keyClick(panel.save, Key.Key_Space)
    drawn = points_of(drawn_numbers(context.hotel.house)["102"])
    assert drawn[0] == before[0]
    assert max(x for x, _ in drawn) - min(x for x, _ in drawn) == pytest.approx(3.5)
    assert len(context.hotel.house.entries) == entries + 1
    assert context.hotel.house.entries[entries + 1].action == "draw_rooms"
    assert context.hotel.building.shapes["102"].outline == drawn
    assert context.notices.bars()[0].tone is Tone.DONE
    assert page.pane.edit.hasFocus()


def test_neighbours_follow_what_is_typed_before_anything_is_saved(draw, qtbot):
    _page, panel, context = draw()
    assert told(panel) == {}
    type_into(qtbot, panel.shape.east, str(5 * BAY))
    assert told(panel) == {"101": False, "103": False, "202": False}
    assert {str(one.room) for one in context.hotel.neighbours()["102"]} == {"101", "103", "202"}
    ways = {row.room: row.what for row in panel.neighbours.model.rows}
    assert ways["202"] == "no more: Above"


def test_corners_can_be_typed_added_and_taken_away(draw, qtbot):
    _page, panel, _context = draw()
    assert len(panel.shape.corners) == 4
    qtbot.mouseClick(panel.shape.add, Left)
    assert len(panel.shape.corners) == 5
    assert panel.shape.corners[0].remove.isEnabled()
    qtbot.mouseClick(panel.shape.corners[0].remove, Left)
    assert len(panel.shape.corners) == 4
    assert not panel.shape.wide.isEnabled()
    assert panel.shape.uneven.isVisibleTo(panel)
    north = panel.shape.corners[2].north
    type_into(qtbot, north, str(north.value() + 1))
    panel._settling.stop()
    panel.work.settle()
    assert len(panel.work.course.before) == 3


# --- by hand ----------------------------------------------------------------------------------


def test_a_room_that_is_pulled_snaps_to_the_room_beside_it(draw, qtbot):
    page, panel, context = draw("104")
    view = page.pane.plan
    start = view.rect_of("104").center().toPoint()
    pull(qtbot, view, start, (1.1, 0))
    assert told(panel) == {"103": False} or "103" in told(panel)
    qtbot.mouseRelease(view, Left, pos=start)
    panel.work.undo()
    before = outline_of(context, "104")
    end = pull(qtbot, view, start, (0.2, 0))
    qtbot.mouseRelease(view, Left, pos=end)
    assert panel.work.shape_of("104").outline == before


def test_a_wall_that_is_pulled_makes_the_room_larger_and_says_on_whom_it_lies(draw, qtbot):
    page, panel, context = draw("102")
    view = page.pane.plan
    shape = context.hotel.building.shapes["102"]
    east = max(x for x, _ in shape.outline)
    handle = view.at(QPointF(east, -shape.centre[1])).toPoint()
    end = pull(qtbot, view, handle, (1.0, 0))
    assert "Room 102 lies on room 103" in panel.flaws.text()
    qtbot.mouseRelease(view, Left, pos=end)
    assert max(x for x, _ in panel.work.outline()) == pytest.approx(east + 1.0, abs=0.15)
    qtbot.mouseClick(panel.save, Left)
    assert panel.isVisible()
    assert drawn_numbers(context.hotel.house) == {}
    assert "lies on room" in context.notices.bars()[0].label.text()


def test_a_corner_may_be_pulled_inward_but_not_over_another_wall(draw, qtbot):
    page, panel, context = draw("102")
    view = page.pane.plan
    x, y = outline_of(context, "102")[2]
    at = view.at(QPointF(x, -y)).toPoint()
    end = pull(qtbot, view, at, (-2.0, -8.0))
    qtbot.mouseRelease(view, Left, pos=end)
    assert "walls that cross or touch" in panel.flaws.text()
    assert "Move a corner" in panel.flaws.text()
    qtbot.mouseClick(panel.save, Left)
    assert drawn_numbers(context.hotel.house) == {}
    panel.work.undo()
    end = pull(qtbot, view, at, (-2.5, -5.0))
    qtbot.mouseRelease(view, Left, pos=end)
    assert not panel.flaws.isVisible()
    qtbot.mouseClick(panel.save, Left)
    drawn = outline_of(context, "102")
    assert drawn[2] == pytest.approx((x - 2.5, y - 5.0), abs=0.2)


def test_pressing_another_room_takes_it_in_hand(draw, qtbot):
    page, panel, _context = draw("102")
    view = page.pane.plan
    qtbot.mouseClick(view, Left, pos=view.rect_of("104").center().toPoint())
    assert panel.title.text() == "Room 104"
    assert page.room == "104"


def test_keys_on_the_drawing_move_the_room_and_go_back_and_forth(draw, qtbot):
    page, panel, context = draw("104")
    view = page.pane.plan
    view.setFocus()
    before = outline_of(context, "104")
    qtbot.keyClick(view, Key.Key_Right, Mod.ControlModifier | Mod.ShiftModifier)
    assert panel.work.outline()[0][0] == pytest.approx(before[0][0] + 1.0)
    qtbot.keyClick(view, Key.Key_Up, Mod.ControlModifier)
    assert panel.work.outline()[0][1] == pytest.approx(before[0][1] + 0.1)
    qtbot.keyClick(view, Key.Key_Z, Mod.ControlModifier)
    qtbot.keyClick(view, Key.Key_Z, Mod.ControlModifier)
    assert panel.work.outline() == before
    qtbot.keyClick(view, Key.Key_Y, Mod.ControlModifier)
    assert panel.work.outline()[0][0] == pytest.approx(before[0][0] + 1.0)


def test_the_drawings_undo_comes_before_the_windows(draw, qtbot):
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QKeyEvent
    from PySide6.QtWidgets import QApplication

    page, _panel, _context = draw("104")
    asked = QKeyEvent(QEvent.Type.ShortcutOverride, Key.Key_Z, Mod.ControlModifier)
    asked.ignore()
    QApplication.sendEvent(page.pane.plan, asked)
    assert asked.isAccepted()


# --- steps ------------------------------------------------------------------------------------


def test_each_rest_is_a_step_and_undo_brings_back_the_neighbours(draw, qtbot):
    page, panel, context = draw("104")
    before = outline_of(context, "104")
    type_into(qtbot, panel.shape.east, "30")
    assert "103" in told(panel)
    qtbot.mouseClick(panel.undo, Left)
    assert panel.work.outline() == before
    assert told(panel) == {}
    assert not panel.save.isEnabled()
    qtbot.mouseClick(panel.redo, Left)
    assert "103" in told(panel)
    assert page._building().shapes["104"].outline[0][0] == pytest.approx(30)


def test_a_drawn_room_goes_back_to_where_it_is_laid_out(draw, qtbot):
    build = house().wing("A", 0, 0, 0).room("101", wing="A").room("102", wing="A")
    laid = None
    build.record(RoomDrawn("102", (20.0, 1.0, 24.0, 1.0, 24.0, 8.0, 20.0, 8.0)))
    _page, panel, context = draw("102", build)
    assert panel.how.text() == "Drawn by hand."
    qtbot.mouseClick(panel.take_back, Left)
    assert panel.how.text() == "Laid out from the roster."
    laid = panel.work.outline()
    qtbot.mouseClick(panel.save, Left)
    assert drawn_numbers(context.hotel.house) == {}
    assert outline_of(context, "102") == laid


def test_leaving_asks_while_something_is_not_saved(draw, qtbot):
    page, panel, context = draw("104")
    qtbot.mouseClick(panel.cancel, Left)
    assert not panel.isVisible()
    page.draw.trigger()
    type_into(qtbot, panel.shape.north, "30")
    qtbot.mouseClick(panel.cancel, Left)
    assert panel.isVisible()
    assert page.unsaved() == ("Rooms that you drew are not saved.",)
    bar = context.notices.bars()[0]
    qtbot.mouseClick(bar.button, Left)
    assert not panel.isVisible()
    assert page.unsaved() == ()
    assert drawn_numbers(context.hotel.house) == {}
    assert page._building() is context.hotel.building


def test_what_another_desk_writes_leaves_an_unsaved_drawing_alone(draw, qtbot):
    page, panel, context = draw("104")
    type_into(qtbot, panel.shape.north, "30")
    panel._settling.stop()
    panel.work.settle()
    place_wings(context.hotel, [WingPlaced("A", 0, 0, 90)])
    page.refresh()
    assert panel.work.outline()[0][1] == pytest.approx(30)


# --- splitting --------------------------------------------------------------------------------


def test_a_room_is_split_by_keyboard_with_the_bed_that_goes_along(draw, qtbot):
    build = house().wing("A", 0, 0, 0).room("101", wing="A", width_m=8.0).bed("A").bed("B")
    build.room("102", wing="A").bed("A")
    page, panel, context = draw("101", build)
    split = panel.split
    qtbot.mouseClick(split.split, Left)
    assert "no number" in panel.said.text()
    assert split.number.hasFocus()
    qtbot.keyClicks(split.number, "102")
    qtbot.keyClick(split.split, Key.Key_Space)
    assert "already a room 102" in panel.said.text()
    type_into(qtbot, split.number, "101A")
    type_into(qtbot, split.at, "5")
    split.beds["101/B"].setFocus()
    qtbot.keyClick(split.beds["101/B"], Key.Key_Space)
    split.split.setFocus()
    qtbot.keyClick(split.split, Key.Key_Space)
    assert panel.title.text() == "Room 101A"
    assert page.pane.plan.item_of("101A") is not None
    assert told(panel)["101"] is True
    entries = len(context.hotel.house.entries)
    qtbot.mouseClick(panel.save, Left)
    after = context.hotel.house
    assert len(after.entries) == entries + 1
    assert [bed.bed for bed in after.beds_of("101")] == ["101/A"]
    assert [bed.bed for bed in after.beds_of("101A")] == ["101/B"]
    widths = {
        room: max(x for x, _ in outline_of(context, room))
        - min(x for x, _ in outline_of(context, room))
        for room in ("101", "101A", "102")
    }
    assert widths == pytest.approx({"101": 5.0, "101A": 3.0, "102": BAY})


def test_a_split_can_be_undone(draw, qtbot):
    page, panel, _context = draw("103")
    panel.split.number.setText("103A")
    qtbot.mouseClick(panel.split.split, Left)
    assert page.pane.plan.item_of("103A") is not None
    qtbot.mouseClick(panel.undo, Left)
    assert page.pane.plan.item_of("103A") is None
    assert not panel.work.is_changed


def test_every_field_of_the_panel_has_a_name(draw, nameless):
    page, _panel, _context = draw()
    assert nameless(page) == []


def test_the_list_of_changes_keeps_to_qts_rules(draw, qtbot, qtmodeltester):
    _page, panel, _context = draw()
    type_into(qtbot, panel.shape.east, "40")
    qtmodeltester.check(panel.neighbours.model)
    qtmodeltester.check(panel.neighbours.order)
