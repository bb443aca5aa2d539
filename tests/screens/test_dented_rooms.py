"""Rooms around a corner or a shaft on the house page: drawn, pressed, marked, cut, split.

Where words lie and what is within is checked against shapely (GEOS).
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from shapely import Polygon, box

from hotelwatch.core.building.outlines import numbers_of, points_of, signed_area
from hotelwatch.core.building.rooms import drawn_numbers, lay_out
from hotelwatch.core.building.section import Cut, section_of
from hotelwatch.core.facts import RoomDrawn, Side
from hotelwatch.screens.building.house_view import HouseView
from hotelwatch.screens.building.page import BuildingPage
from hotelwatch.screens.building.scene import plan_of, section_scene
from tests.build import house

Key, Mod, Left = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton
SUITE = ((0.0, 0.9), (8.0, 0.9), (8.0, 3.9), (4.0, 3.9), (4.0, 7.9), (0.0, 7.9))
CORE = ((4.0, 3.9), (8.0, 3.9), (8.0, 7.9), (4.0, 7.9))
AROUND_A_SHAFT = (
    *((12.0, 0.9), (18.0, 0.9), (18.0, 7.9), (16.0, 7.9)),
    *((16.0, 2.9), (14.0, 2.9), (14.0, 7.9), (12.0, 7.9)),
)


def build():
    """101 is a suite around 102, 103 lies beside them, 104 around a shaft."""
    built = house().wing("A", 0, 0, 0)
    for number in range(1, 6):
        built.room(f"10{number}", wing="A", order=number).bed("A")
    beyond = ((18.0, 0.9), (22.0, 0.9), (22.0, 7.9), (18.0, 7.9))
    drawn = {"101": SUITE, "102": CORE, "104": AROUND_A_SHAFT, "105": beyond}
    return built.record(*(RoomDrawn(room, numbers_of(at)) for room, at in drawn.items()))


@pytest.fixture
def draw(qtbot, make_hotel, make_context):
    """A page with these rooms, and the drawing of one begun."""

    def make(room):
        context = make_context(make_hotel(build()))
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


def at(view, east, north):
    return view.at(QPointF(east, -north)).toPoint()


def pull(qtbot, view, start, end):
    qtbot.mousePress(view, Left, pos=start)
    qtbot.mouseMove(view, start + QPoint(0, 12))
    qtbot.mouseMove(view, end)
    qtbot.mouseRelease(view, Left, pos=end)


# --- the plan --------------------------------------------------------------------------------


def test_words_lie_within_a_room_and_a_press_finds_the_room_that_is_there():
    scene = plan_of(lay_out(build().house), "1")
    for item in scene.items:
        outline = Polygon([(p.x(), p.y()) for p in item.outline.toList()])
        inner = item.inner
        written = box(inner.left(), inner.top(), inner.right(), inner.bottom())
        assert outline.buffer(1e-6).contains(written)
        assert inner.width() > 1.9
        assert scene.room_at(inner.center()) is item
    pressed = {(2, 6): "101", (6, 2): "101", (6, 6): "102", (15, 2): "104", (17, 6): "104"}
    assert {p: scene.room_at(QPointF(p[0], -p[1])).room for p in pressed} == pressed
    assert scene.room_at(QPointF(15, -6)) is None, "the shaft is nobody's room"


def test_arrows_go_from_room_to_room_around_a_corner(qtbot):
    view = HouseView("Floor")
    qtbot.addWidget(view)
    view.resize(600, 400)
    view.show_scene(plan_of(lay_out(build().house), "1"))
    view.choose("101")
    seen = []
    for key in (Key.Key_Up, Key.Key_Right, Key.Key_Right, Key.Key_Right):
        qtbot.keyClick(view, key)
        seen.append(view.chosen)
    assert seen == ["102", "103", "104", "105"]


# --- the upright cut ---------------------------------------------------------------------------


def test_a_room_that_is_cut_twice_is_one_room_in_two_pieces(qtbot):
    this = build().house
    building = lay_out(this)
    scene = section_scene(section_of(this, building, Cut("A", Side.LEFT)), building, 3.0)
    view = HouseView("Cut", is_plan=False)
    qtbot.addWidget(view)
    view.resize(600, 300)
    view.show_scene(scene)
    spans = [(i.box.left(), i.box.right()) for i in scene.pieces["104"]]
    assert spans == [(12, 14), (16, 18)]
    assert view.rooms() == ("101", "102", "103", "104", "105")
    edges = [view.at(QPointF(i.box.left(), i.box.center().y())) for i in scene.pieces["104"]]
    before = view.grab().toImage()
    view.choose("104")
    after = view.grab().toImage()
    for edge in edges:
        assert before.pixelColor(edge.toPoint()) != after.pixelColor(edge.toPoint())
    qtbot.keyClick(view, Key.Key_Right)
    assert view.chosen == "105", "not its own other piece"


# --- drawing -----------------------------------------------------------------------------------


def test_a_corner_suite_is_made_of_a_rectangle_by_keys_alone(draw, qtbot):
    _page, panel, context = draw("103")
    panel.shape.fold.setFocus()
    qtbot.keyClick(panel.shape.fold, Key.Key_Space)
    cut_out = panel.shape.corners[2].notch
    cut_out.setFocus()
    qtbot.keyClick(cut_out, Key.Key_Space)
    x, y = 12.0, 7.9
    assert panel.work.outline()[2:5] == ((x, y - 1), (x - 1, y - 1), (x - 1, y))
    assert len(panel.shape.corners) == 6
    assert [row.notch.isEnabled() for row in panel.shape.corners] == [True] * 3 + [False] + [
        True
    ] * 2
    assert not panel.flaws.isVisible()
    for number, field, metres in ((2, "north", "5"), (3, "north", "5")):
        field = getattr(panel.shape.corners[number], field)
        field.setFocus()
        field.selectAll()
        qtbot.keyClicks(field, metres)
    panel.save.setFocus()
    qtbot.keyClick(panel.save, Key.Key_Space)
    drawn = points_of(drawn_numbers(context.hotel.house)["103"])
    assert signed_area(drawn) == pytest.approx(4 * 7 - 1 * 2.9)
    assert context.hotel.building.shapes["103"].outline == drawn


def test_the_walls_of_a_notch_are_pulled_by_hand_and_meet_the_room_within(draw, qtbot):
    page, panel, context = draw("101")
    view = page.pane.plan
    pull(qtbot, view, at(view, 6, 3.9), at(view, 6, 4.9))
    assert "Room 101 lies on room 102, 4.0 square metres" in panel.flaws.text()
    panel.work.undo()
    assert not panel.flaws.isVisible()
    pull(qtbot, view, at(view, 6, 3.9), at(view, 6, 2.9))
    assert panel.work.outline()[2] == pytest.approx((8.0, 2.9), abs=0.11)
    told = {row.room: row.is_gained for row in panel.neighbours.model.rows}
    assert told == {}, "its other inner wall is still the wall of 102"
    pull(qtbot, view, at(view, 2, 6), at(view, 2, 16))
    assert {row.room for row in panel.neighbours.model.rows} >= {"102"}
    panel.work.undo()
    qtbot.mouseClick(panel.save, Left)
    assert context.hotel.building.shapes["101"].outline[3][1] == pytest.approx(2.9, abs=0.11)
    page.draw.trigger()
    qtbot.mouseClick(view, Left, pos=at(view, 6.5, 6.5))
    assert panel.title.text() == "Room 102"


def test_a_suite_is_split_at_any_of_its_walls_and_the_line_shows_before(draw, qtbot, nameless):
    page, panel, context = draw("101")
    assert panel.shape.inward.isVisibleTo(panel)
    assert nameless(page) == []
    split, view = panel.split, page.pane.plan
    assert [split.way.itemText(n) for n in range(split.way.count())] == [
        f"at wall {n}" for n in range(1, 7)
    ]
    assert split.line() is None
    split.way.setFocus()
    qtbot.keyClick(split.way, Key.Key_Down)
    qtbot.keyClick(split.way, Key.Key_Down)
    qtbot.keyClick(split.way, Key.Key_Down)
    assert split.at.accessibleName() == "Metres from corner 4"
    split.at.setFocus()
    split.at.selectAll()
    qtbot.keyClicks(split.at, "0.1")
    assert split.line() == ((4.0, pytest.approx(4.0)), (0.0, pytest.approx(4.0)))
    before = view.grab().toImage()
    split.at.selectAll()
    qtbot.keyClicks(split.at, "1.6")
    assert view.grab().toImage() != before
    split.number.setFocus()
    qtbot.keyClicks(split.number, "101A")
    split.beds["101/A"].setChecked(True)
    split.split.setFocus()
    qtbot.keyClick(split.split, Key.Key_Space)
    qtbot.mouseClick(panel.save, Left)
    after = context.hotel
    sizes = {r: signed_area(after.building.shapes[r].outline) for r in ("101", "101A")}
    assert sizes == pytest.approx({"101": 40 - 4 * 2.4, "101A": 4 * 2.4})
    assert [bed.bed for bed in after.house.beds_of("101A")] == ["101/A"]
    ways = {one.room: set(one.kinds) for one in after.neighbours()["101A"]}
    assert ways.keys() == {"101", "102"}


def test_a_rectangle_is_split_by_its_width_or_its_depth(draw):
    _page, panel, _context = draw("103")
    ways = [panel.split.way.itemText(n) for n in range(panel.split.way.count())]
    assert ways == ["across its width", "across its depth"]
    panel.split.way.setCurrentIndex(1)
    assert panel.split.at.value() == pytest.approx(3.5)
    assert panel.split.at.accessibleName() == "Metres from corner 2"
