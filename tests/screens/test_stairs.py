from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QPolygonF, QTransform

from hotelwatch.core.facts import Side
from hotelwatch.core.round_facts import Climb, StairPlaced
from hotelwatch.screens.building.page import BuildingPage
from hotelwatch.screens.building.scene import plan_of
from hotelwatch.screens.building.stair_signs import plate_of
from hotelwatch.screens.look.theme import Tone
from tests.build import house

LOBBY = StairPlaced("Lobby stair", "A", 0.0)
LIFT = StairPlaced("Lift", "B", 6.0, Climb.LIFT)


@pytest.fixture
def two_wings():
    """Wing A on two floors, wing B on the lower one only."""
    build = house().floors("1", "2").wing("A", 0, 0, 0).wing("B", 0, -10, 180)
    for order in (1, 2, 3):
        build.room(f"1A{order}", wing="A", order=order).bed("A")
        build.room(f"2A{order}", floor="2", wing="A", order=order).bed("A")
        build.room(f"1B{order}", wing="B", order=order).bed("A")
    return build


@pytest.fixture
def page_of(qtbot, make_hotel, make_context):
    def make(build):
        context = make_context(make_hotel(build))
        page = BuildingPage(context)
        qtbot.addWidget(page)
        page.resize(1280, 800)
        page.show()
        with qtbot.waitActive(page):
            page.activateWindow()
        page.refresh()
        return page, context

    return make


@pytest.fixture
def edit(qtbot, page_of):
    def make(build):
        page, context = page_of(build)
        page.wings.trigger()
        return page, page.editor.stairs, context

    return make


def texts(page):
    return sorted(sign.text for sign in page.drawing.scene.signs)


@pytest.mark.parametrize("bearing", [0, 30, 90])
@pytest.mark.parametrize("scale", [4.0, 9.0, 20.0, 60.0])
def test_a_sign_lies_over_no_room(page_of, bearing, scale):
    build = house().floors("1").wing("A", 0, 0, bearing)
    for order in (1, 2, 3):
        build.room(f"1A{order}", wing="A", order=order).room(
            f"1B{order}", wing="A", side=Side.RIGHT
        )
    build.record(LOBBY, replace(LOBBY, name="Far stair", along_m=11.0))
    page, _ = page_of(build)
    font, scene = page.font(), page.drawing.scene
    to_px = QTransform.fromScale(scale, scale)
    shown = 0
    for sign in scene.signs:
        plate = plate_of(sign, QPointF(sign.at[0], -sign.at[1]) * scale, font, scale)
        if plate is None:
            continue
        shown += 1
        for item in scene.items:
            common = to_px.map(item.outline).intersected(QPolygonF(plate.box))
            box = common.boundingRect()
            assert min(box.width(), box.height()) < 0.5, (sign.text, item.room)
    assert shown == len(scene.signs) or scale < 20


def test_stairs_and_lifts_are_drawn_with_their_word_on_each_floor_of_their_wing(page_of, two_wings):
    page, _ = page_of(two_wings.record(LOBBY, LIFT))
    assert texts(page) == ["⇅ Lift", "≣ Stair"]
    page.pane.floors.setCurrentIndex(page.pane.floors.findData("2"))
    assert texts(page) == ["≣ Stair"]


def test_a_sign_stands_on_its_corridor_and_says_what_it_is(page_of, two_wings):
    page, _ = page_of(two_wings.record(LOBBY, LIFT))
    drawing = page.drawing
    at = {sign.text: sign.at for sign in drawing.scene.signs}
    assert at["≣ Stair"] == (0, 0)
    assert at["⇅ Lift"] == pytest.approx((-6, -10))
    middle = drawing.at(QPointF(-6, 10))
    assert drawing.told_at(middle) == "Lift: Lift"
    with_sign = drawing.grab().toImage()
    drawing.show_scene(plan_of(page._building(), "1"), keeps_place=True)
    without = drawing.grab().toImage()
    around = [middle.toPoint() + QPoint(x, y) for x in range(-12, 13) for y in range(-5, 6)]
    assert any(with_sign.pixel(at) != without.pixel(at) for at in around)


def test_a_stair_is_added_by_keyboard_and_seen_before_it_is_written_down(edit, two_wings, qtbot):
    page, stairs, context = edit(two_wings)
    assert "assumed" in stairs.assumed.text()
    stairs.add.setFocus()
    qtbot.keyClick(stairs.add, Qt.Key.Key_Space)
    (row,) = stairs.rows
    assert row.name.hasFocus()
    qtbot.keyClicks(row.name, "Back stair")
    row.along.setFocus()
    row.along.selectAll()
    qtbot.keyClicks(row.along, "9")
    qtbot.waitUntil(lambda: texts(page) == ["≣ Stair"])
    assert context.hotel.house.stairs == {}
    qtbot.mouseClick(page.editor.save, Qt.MouseButton.LeftButton)
    assert context.hotel.house.stairs == {"Back stair": StairPlaced("Back stair", "A", 9.0)}
    assert context.notices.bars()[0].tone is Tone.DONE


def test_only_what_was_changed_is_written_and_what_was_taken_away_is_gone(edit, two_wings, qtbot):
    page, stairs, context = edit(two_wings.record(LOBBY, LIFT))
    lift, lobby = stairs.rows  # by name
    assert (lift.placed(), lobby.placed()) == (LIFT, LOBBY)
    lift.along.setValue(7.5)
    qtbot.mouseClick(lobby.remove, Qt.MouseButton.LeftButton)
    assert stairs.add.hasFocus()
    qtbot.mouseClick(page.editor.save, Qt.MouseButton.LeftButton)
    assert context.hotel.house.stairs == {"Lift": StairPlaced("Lift", "B", 7.5, Climb.LIFT)}
    last = context.hotel.house.entries[max(context.hotel.house.entries)]
    assert last.action == "place_stairs"


def test_a_stair_without_a_name_is_refused_and_the_editor_stays(edit, two_wings, qtbot):
    page, stairs, context = edit(two_wings)
    qtbot.mouseClick(stairs.add, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(page.editor.save, Qt.MouseButton.LeftButton)
    assert page.editor.isVisible()
    assert "no name" in context.notices.bars()[0].label.text()
    assert context.hotel.house.stairs == {}


def test_cancel_throws_stairs_away(edit, two_wings, qtbot):
    page, stairs, context = edit(two_wings.record(LIFT))
    stairs.rows[0].along.setValue(1)
    qtbot.mouseClick(page.editor.cancel, Qt.MouseButton.LeftButton)
    assert context.hotel.house.stairs == {"Lift": LIFT}
    page.wings.trigger()
    assert [row.placed() for row in stairs.rows] == [LIFT]


def test_every_field_says_what_it_is(edit, two_wings):
    _, stairs, _ = edit(two_wings.record(LIFT))
    for widget in stairs.rows[0].widgets():
        assert widget.accessibleName().startswith("Lift: ")
