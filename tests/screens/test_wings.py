from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.hotel import choose_cycle, place_wings
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.facts import FloorPlaced, Scope, WingPlaced
from hotelwatch.screens.building.page import BuildingPage
from hotelwatch.screens.building.wing_fields import NumberField
from hotelwatch.screens.look.theme import Tone
from tests.build import house

Key, Mod = Qt.Key, Qt.KeyboardModifier


@pytest.fixture
def cross():
    """Wing A placed, wing Z laid out by the program, three floors, rooms on all."""
    build = house().floors("1", "2", "3").wing("A", 10, 5, 90)
    for floor in "123":
        for order in (1, 2):
            build.room(f"{floor}A{order}", floor=floor, wing="A", order=order).bed("A")
            build.room(f"{floor}Z{order}", floor=floor, wing="Z", order=order).bed("A")
    return build


@pytest.fixture
def edit(qtbot, make_hotel, make_context):
    """A building page with its editor open, as by pressing its button."""

    def make(build):
        context = make_context(make_hotel(build))
        page = BuildingPage(context)
        qtbot.addWidget(page)
        page.resize(1100, 720)
        page.show()
        with qtbot.waitActive(page):
            page.activateWindow()
        page.refresh()
        page.wings.trigger()
        return page, page.editor, context

    return make


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)


def settle(qtbot, editor, context):
    qtbot.waitUntil(
        lambda: (
            not editor._pause.isActive()
            and not editor._counting.isActive()
            and not context.jobs.is_busy
        )
    )


def test_the_editor_begins_with_what_is_written_down(edit):
    page, editor, _ = edit(two := two_wings())
    assert editor.isVisible()
    assert not page.panel.isVisible()
    assert {name: fields.placed() for name, fields in editor.fields.items()} == two.house.wings
    assert editor.floors.floors() == ("1", "2")
    assert editor.fields["A"].x.hasFocus()
    assert not page.pane.edit.isEnabled()


def two_wings():
    build = house().floors("1", "2").wing("A", 0, 0, 0).wing("B", 60, -3.125, 45.25)
    for floor in "12":
        build.room(f"{floor}A", floor=floor, wing="A").room(f"{floor}B", floor=floor, wing="B")
    return build


def test_the_drawing_shows_the_layout_before_it_is_written_down(edit, cross, qtbot):
    page, editor, context = edit(cross)
    entries = len(context.hotel.house.entries)
    before = page.drawing.item_of("1A1").box
    assert before.width() > before.height()  # its corridor runs north, so it lies across
    type_into(qtbot, editor.fields["A"].bearing, "0")
    qtbot.waitUntil(
        lambda: page.drawing.item_of("1A1").box.width() < page.drawing.item_of("1A1").box.height()
    )
    assert len(context.hotel.house.entries) == entries
    assert context.hotel.house.wings["A"].bearing_deg == 90


def test_saving_writes_down_what_was_changed_and_nothing_else(edit, cross, qtbot):
    page, editor, context = edit(cross)
    type_into(qtbot, editor.fields["A"].x, "12.5")
    qtbot.mouseClick(editor.save, Qt.MouseButton.LeftButton)
    house_now = context.hotel.house
    assert house_now.wings == {"A": WingPlaced("A", 12.5, 5, 90)}  # Z stays unplaced
    assert house_now.entries[max(house_now.entries)].action == "place_wings"
    assert context.notices.bars()[0].tone is Tone.DONE
    assert page.panel.isVisible()
    assert page.pane.edit.hasFocus()


def test_a_wing_laid_out_by_the_program_is_placed_once_it_is_changed(edit, cross, qtbot):
    _, editor, context = edit(cross)
    fields = editor.fields["Z"]
    assert editor.laid_out.isVisible()
    assert fields.name.text().endswith("*")
    start = next(c.start for c in context.hotel.building.corridors if c.wing == "Z")
    assert (fields.x.number(), fields.y.number()) == start
    type_into(qtbot, fields.y, "30")
    assert not editor.laid_out.isVisible()
    qtbot.mouseClick(editor.save, Qt.MouseButton.LeftButton)
    assert context.hotel.house.wings["Z"] == WingPlaced("Z", start[0], 30, 0)


def test_a_wing_laid_out_by_the_program_makes_way_while_one_edits(edit, cross, qtbot):
    _, editor, context = edit(cross)
    before = editor.fields["Z"].x.value()
    type_into(qtbot, editor.fields["A"].x, "40")
    settle(qtbot, editor, context)
    assert editor.fields["Z"].x.value() == before + 30


def test_saving_without_a_change_writes_nothing(edit, qtbot):
    _, editor, context = edit(two_wings())  # B has more digits than are shown
    entries = len(context.hotel.house.entries)
    qtbot.mouseClick(editor.save, Qt.MouseButton.LeftButton)
    assert len(context.hotel.house.entries) == entries


def test_a_number_keeps_the_digits_that_are_not_shown(qtbot):
    field = NumberField(1.23456, limit=10, step=1, digits=2)
    qtbot.addWidget(field)
    assert field.text() == field.locale().toString(1.23, "f", 2)
    assert field.number() == 1.23456
    field.setValue(4.5)
    assert field.number() == 4.5


@pytest.mark.parametrize("by_key", [True, False], ids=["escape", "button"])
def test_leaving_throws_the_changes_away(edit, cross, qtbot, by_key):
    page, editor, context = edit(cross)
    entries = len(context.hotel.house.entries)
    type_into(qtbot, editor.fields["A"].bearing, "0")
    settle(qtbot, editor, context)
    if by_key:
        qtbot.keyClick(editor.fields["A"].bearing, Key.Key_Escape)
    else:
        qtbot.mouseClick(editor.cancel, Qt.MouseButton.LeftButton)
    assert not editor.isVisible()
    assert len(context.hotel.house.entries) == entries
    drawn = page.drawing.item_of("1A1").box
    assert drawn.width() > drawn.height()  # as written down: the corridor runs north
    page.wings.trigger()
    assert editor.fields["A"].bearing.value() == 90


def test_floors_move_by_keys_and_keep_their_levels(edit, cross, qtbot):
    page, editor, context = edit(cross)
    floors = editor.floors
    floors.list.setFocus()
    assert floors.list.currentItem().text() == "Floor 3"
    qtbot.keyClick(floors.list, Key.Key_Down, Mod.AltModifier)
    assert floors.floors() == ("1", "3", "2")
    assert floors.list.currentItem().text() == "Floor 3"
    qtbot.keyClick(floors.list, Key.Key_Down)
    qtbot.keyClick(floors.list, Key.Key_Up, Mod.AltModifier)
    assert floors.floors() == ("3", "1", "2")
    settle(qtbot, editor, context)
    assert [page.pane.floors.itemData(n) for n in range(3)] == ["2", "1", "3"]
    qtbot.mouseClick(editor.save, Qt.MouseButton.LeftButton)
    assert context.hotel.house.floors == {"3": 1, "1": 2, "2": 3}


def test_the_outermost_floors_go_no_further(edit, cross, qtbot):
    _, editor, _ = edit(cross)
    floors = editor.floors
    assert not floors.up.isEnabled()
    floors.list.setCurrentRow(2)
    assert not floors.down.isEnabled()
    floors.move_down()
    assert floors.floors() == ("1", "2", "3")


def test_pairs_of_neighbours_are_counted_beside_those_saved(edit, cross, qtbot):
    _, editor, context = edit(cross)
    settle(qtbot, editor, context)
    # two walls on each of three floors; four rooms above four others, twice
    assert editor.outcome.text().splitlines()[:2] == ["Shares a wall: 6", "Above: 8"]
    end = context.hotel.building.shapes["1A2"].outline
    type_into(qtbot, editor.fields["Z"].bearing, "90")
    type_into(qtbot, editor.fields["Z"].x, "10")
    type_into(qtbot, editor.fields["Z"].y, str(max(y for _, y in end)))
    settle(qtbot, editor, context)
    assert "Shares a wall: 9 (as saved: 6)" in editor.outcome.text()
    assert not editor.overlaps.isVisible()


def test_rooms_laid_on_one_another_are_named(edit, cross, qtbot):
    _, editor, context = edit(cross)
    for field, number in zip(
        (editor.fields["Z"].x, editor.fields["Z"].y, editor.fields["Z"].bearing),
        ("10", "5", "90"),
        strict=True,
    ):
        type_into(qtbot, field, number)
    settle(qtbot, editor, context)
    assert editor.overlaps.isVisible()
    assert editor.overlaps.text().startswith("6 pairs")
    assert "1A1 and 1Z1" in editor.overlaps.text()


def test_what_another_desk_writes_does_not_take_the_changes_away(edit, cross, qtbot):
    page, editor, context = edit(cross)
    type_into(qtbot, editor.fields["A"].x, "12")
    editor.floors.move_down()
    place_wings(context.hotel, [WingPlaced("Z", 70, 0, 0)], [FloorPlaced("1", 1)])
    page.refresh()
    assert editor.isVisible()
    assert editor.fields["A"].placed() == WingPlaced("A", 12, 5, 90)
    assert editor.fields["Z"].placed() == WingPlaced("Z", 70, 0, 0)
    assert editor.floors.floors() == ("1", "3", "2")
    assert page.drawing.item_of("1A1") is not None
    assert editor.fields["A"].x.hasFocus()


def test_a_check_written_elsewhere_leaves_the_editor_alone(edit, cross, qtbot):
    page, editor, context = edit(cross)
    field = editor.fields["Z"].y
    type_into(qtbot, field, "7")
    choose_cycle(context.hotel, Scope.HOUSE, "", 60)
    page.refresh()
    assert editor.fields["Z"].y is field
    assert field.hasFocus()
    assert field.value() == 7


def test_the_page_in_the_editor_is_the_layout_of_the_core(edit, cross, qtbot):
    page, editor, context = edit(cross)
    type_into(qtbot, editor.fields["A"].x, "33")
    settle(qtbot, editor, context)
    qtbot.mouseClick(editor.save, Qt.MouseButton.LeftButton)
    assert context.hotel.building == lay_out(context.hotel.house)
    assert page._building() == context.hotel.building


def test_everything_one_can_reach_in_the_editor_has_a_name(edit, cross, nameless):
    page, editor, _ = edit(cross)
    assert nameless(page) == []
    names = {
        field.accessibleName()
        for fields in editor.fields.values()
        for field in (fields.x, fields.y, fields.bearing)
    }
    assert len(names) == 6


def test_the_wheel_over_a_number_one_does_not_work_in_changes_nothing(edit, cross, qtbot):
    from PySide6.QtCore import QPoint, QPointF
    from PySide6.QtGui import QWheelEvent
    from PySide6.QtWidgets import QApplication

    _, editor, _ = edit(cross)
    field = editor.fields["Z"].y
    turn = QWheelEvent(
        QPointF(5, 5),
        field.mapToGlobal(QPointF(5, 5)),
        QPoint(0, 0),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Mod.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    before = field.value()
    assert not field.hasFocus()
    QApplication.sendEvent(field, turn)
    assert field.value() == before
