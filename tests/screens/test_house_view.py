"""The drawing of the house: where one looks from, what is copied, what shows at which size."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QImage, QPainter, QPainterPath, QPainterPathStroker, QWheelEvent
from PySide6.QtWidgets import QApplication

from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.section import Cut, section_of
from hotelwatch.core.cases.room_stands import RoomStanding, stands
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import Side
from hotelwatch.screens.building.backdrop import scale_length
from hotelwatch.screens.building.camera import Camera, fitted
from hotelwatch.screens.building.house_view import HouseView
from hotelwatch.screens.building.room_paint import (
    Detail,
    Dress,
    Frame,
    _beside,
    detail_at,
    paint_rooms,
)
from hotelwatch.screens.building.rows import RoomRow
from hotelwatch.screens.building.scene import plan_of, section_scene
from hotelwatch.screens.look.plans import SMALLEST_PT
from hotelwatch.screens.look.theme import LIGHT, LOOKS, TextSize, Theme
from tests.build import day, house, moment

Key, Mod = Qt.Key, Qt.KeyboardModifier


def corridor(rooms=12):
    build = house().floors("1", "2").wing("A", 0, 0, 0).wing("B", 60, 10, 30)
    for floor in "12":
        for number in range(1, rooms + 1):
            build.room(f"{floor}{number:02}", floor=floor, wing="A", order=number).bed("A")
            if number % 3:
                build.checked("A", day(40 - 9 * number))
        build.room(f"{floor}90", floor=floor, wing="B").bed("A")
    return build


def rows_at(this, number=40):
    at = moment(number)
    today = local_day(at, this.zone)
    return {
        room: RoomRow(stand, this.rooms[room].floor, 1, "", "", today, this.zone)
        for room, stand in stands(this, at, today).items()
    }


@pytest.fixture
def view(qtbot):
    """The lower floor, 600 by 400, nothing flies."""
    this = corridor().house
    view = HouseView("Floor")
    qtbot.addWidget(view)
    view.motion_ms = 0
    view.resize(600, 400)
    view.show()
    with qtbot.waitActive(view):
        view.activateWindow()
    view.show_scene(plan_of(lay_out(this), "1"))
    view.show_rows(rows_at(this))
    return view


def plain(view):
    """The same view painted in one go, without pictures kept."""
    view.clearFocus()
    whole = HouseView("Plain")
    whole.resize(view.size())
    whole.show_scene(view.scene)
    whole.show_rows(view._rows, view._shown)
    whole.camera, whole.is_fitted = view.camera, False
    picture = whole.grab().toImage()
    whole._ahead.stop()
    return picture


# --- where one looks from --------------------------------------------------------------


def test_what_lies_under_the_pointer_stays_there_while_one_zooms():
    camera, size, about = Camera(3.0, -2.0, 12.0), QSizeF(600, 400), QPointF(77, 310)
    nearer = camera.zoomed(2.5, size, about)
    held, now = camera.under(size, about), nearer.under(size, about)
    assert (held.x(), held.y()) == pytest.approx((now.x(), now.y()))
    back = nearer.zoomed(1 / 2.5, size, about)
    assert (back.x, back.y, back.scale) == pytest.approx((camera.x, camera.y, camera.scale))


def test_a_flight_begins_and_ends_where_it_should_and_goes_straight():
    start, goal = Camera(0, 0, 4.0), Camera(30, 8, 64.0)
    assert start.between(goal, 0.0) == start
    there = start.between(goal, 1.0)
    assert (there.x, there.y, there.scale) == pytest.approx((30, 8, 64))
    half = start.between(goal, 0.5)
    assert half.scale == pytest.approx(16)
    assert half.x / half.y == pytest.approx(30 / 8)


def test_everything_is_in_view_when_fitted():
    bounds, size = QRectF(-5, -40, 120, 44), QSizeF(600, 300)
    assert fitted(bounds, size).seen(size).contains(bounds)


@pytest.mark.parametrize("px_per_m", [0.06, 0.7, 3.0, 12.0, 47.0, 160.0])
def test_the_scale_bar_has_a_round_number_of_metres_that_fits(px_per_m):
    metres = scale_length(px_per_m, 130)
    assert 130 / 2.5 <= metres * px_per_m <= 130
    assert f"{metres:e}"[0] in "125"


# --- hands and keys ------------------------------------------------------------------------


def test_the_wheel_zooms_about_the_pointer(view):
    at = QPointF(150, 120)
    before, held = view.camera.scale, view.under(at)
    turn = QWheelEvent(
        at, view.mapToGlobal(at), QPoint(), QPoint(0, 120),
        Qt.MouseButton.NoButton, Mod.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view, turn)
    assert view.camera.scale > before
    assert (view.under(at) - held).manhattanLength() < 1e-6


def test_two_fingers_on_a_pad_move_the_drawing(view):
    at, before = QPointF(150, 120), view.camera
    slide = QWheelEvent(
        at, view.mapToGlobal(at), QPoint(0, 20), QPoint(0, 20),
        Qt.MouseButton.NoButton, Mod.NoModifier, Qt.ScrollPhase.ScrollUpdate, False,
    )  # fmt: skip
    QApplication.sendEvent(view, slide)
    assert view.camera.scale == before.scale
    assert view.camera.y < before.y


def test_pulling_moves_the_drawing_and_a_click_chooses(view, qtbot):
    middle = view.rect_of("105").center().toPoint()
    before = view.camera
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=middle)
    assert view.chosen == "105"
    assert view.camera == before
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=middle)
    qtbot.mouseMove(view, middle + QPoint(40, 10))
    qtbot.mouseMove(view, middle + QPoint(60, 10))
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=middle + QPoint(60, 10))
    assert view.camera.x < before.x


@pytest.mark.parametrize("by", ["middle", "space"])
def test_the_middle_button_and_space_move_without_choosing(view, qtbot, by):
    view.choose("103")
    middle, before = view.rect_of("105").center().toPoint(), view.camera
    button = Qt.MouseButton.MiddleButton if by == "middle" else Qt.MouseButton.LeftButton
    if by == "space":
        qtbot.keyPress(view, Key.Key_Space)
    qtbot.mousePress(view, button, pos=middle)
    qtbot.mouseMove(view, middle + QPoint(-30, 0))
    qtbot.mouseRelease(view, button, pos=middle + QPoint(-30, 0))
    if by == "space":
        qtbot.keyRelease(view, Key.Key_Space)
    assert view.chosen == "103"
    assert view.camera.x > before.x


def test_the_keyboard_zooms_moves_and_shows_all_again(view, qtbot):
    view.choose("106")
    fit = view.camera
    qtbot.keyClick(view, Key.Key_Plus)
    qtbot.keyClick(view, Key.Key_Plus)
    assert view.camera.scale > fit.scale
    near = view.camera
    qtbot.keyClick(view, Key.Key_Right, Mod.ShiftModifier)
    assert view.camera.x > near.x
    qtbot.keyClick(view, Key.Key_Minus)
    assert view.camera.scale < near.scale
    qtbot.keyClick(view, Key.Key_Home)
    assert view.camera == fit


def test_a_step_by_keys_brings_the_room_into_view(view, qtbot):
    view.zoom(12, view.rect_of("101").center())
    view.choose("101")
    for _ in range(5):
        qtbot.keyClick(view, Key.Key_Right)
    assert view.chosen == "106"
    assert QRectF(view.rect()).contains(view.rect_of("106").center())


def test_a_step_by_keys_is_told_to_screen_readers(view, qtbot, monkeypatch):
    from PySide6.QtGui import QAccessible

    told = []
    monkeypatch.setattr(
        QAccessible, "updateAccessibility", lambda event: told.append(event.message())
    )
    view.choose("101")
    qtbot.keyClick(view, Key.Key_Right)
    assert len(told) == 1
    assert told[0].startswith("Room 102: ")


def test_a_flight_is_short_and_ends_at_the_room(view, qtbot):
    view.motion_ms = 40
    view.fly_to("111")
    assert view.camera.scale < 40 or view._goal is None
    qtbot.waitUntil(lambda: view._goal is None, timeout=2000)
    assert (view.rect_of("111").center() - QRectF(view.rect()).center()).manhattanLength() < 2


def test_nothing_flies_where_the_system_wants_no_movement(view, monkeypatch):
    view.motion_ms = 500
    monkeypatch.setattr(type(view), "_moves", lambda self: False)
    view.fly_to("111")
    assert (view.rect_of("111").center() - QRectF(view.rect()).center()).manhattanLength() < 2


def test_pressing_the_small_picture_goes_there(view, qtbot):
    view.zoom(12, QPointF(20, 200))
    where = view._overview.rect(view.scene, view.camera, view.view_size())
    assert where is not None
    right = QPoint(round(where.right()) - 4, round(where.center().y()))
    before = view.camera
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=right)
    assert view.camera.x > before.x


# --- pictures that are kept ------------------------------------------------------------------


@pytest.mark.parametrize("steps", [(), ((30, 0),), ((211, -57), (-90, 130), (3, 3))])
def test_what_is_copied_is_what_would_be_painted(view, steps):
    view.zoom(2.3)
    view._come_to_rest()
    view.grab()
    for dx, dy in steps:
        view.pan(QPointF(dx, dy))
        view.grab()
    view._come_to_rest()
    painted_at_once = plain(view)
    assert view.grab().toImage() == painted_at_once


def test_only_what_changed_is_painted_anew(view, monkeypatch):
    view.zoom(4)
    view._come_to_rest()
    view.grab()
    this = corridor().house
    painted = []
    make = type(view.tiles)._make
    monkeypatch.setattr(
        type(view.tiles), "_make", lambda self, place: painted.append(place) or make(self, place)
    )
    view.show_rows(rows_at(this))
    view.grab()
    assert painted == []
    build = corridor()
    build.on(40)._room = "106"
    build.checked("A", day(40))
    view.show_rows(rows_at(build.house))
    view.grab()
    assert 0 < len(painted) <= 4
    painted_at_once = plain(view)
    assert view.grab().toImage() == painted_at_once


def test_a_finer_look_is_painted_once_the_hand_rests(view, qtbot):
    view.grab()
    view.zoom(3)
    assert view.tiles.scale != view.camera.scale
    qtbot.waitUntil(lambda: not view._rest.isActive())
    view.grab()
    assert view.tiles.scale == view.camera.scale


# --- what shows ----------------------------------------------------------------------------


def dress_of(this, font, shown=None):
    return Dress(rows_at(this), shown, LIGHT, font)


def test_the_nearer_the_more_shows(view):
    dress = dress_of(corridor().house, view.font())
    item = view.scene.by_room["104"]
    details = [detail_at(item, scale, dress) for scale in (1, 4, 9, 40)]
    assert details == sorted(details)
    assert details[0] is Detail.GROUND
    assert details[-1] is Detail.WORDS


@pytest.mark.parametrize("theme", list(LOOKS))
def test_every_state_looks_different_without_colour(view, theme):
    """WCAG 2.2, 1.4.1: in grey and without their tints, states still differ from afar."""
    this = corridor().house
    plain_looks = set()
    from dataclasses import replace

    row = rows_at(this)["101"]
    item = view.scene.by_room["101"]
    tones = LOOKS[theme].tones
    white = {tone: type(tint)("#ffffff", "#000000") for tone, tint in tones.items()}
    grey = replace(LOOKS[theme], tones=white, base="#ffffff", text="#000000")
    for state in RoomStanding:
        stand = replace(row.stand, state=state, last_on=None, days_since=None, due_on=None)
        rows = {"101": replace(row, stand=stand)}
        picture = QImage(60, 110, QImage.Format.Format_RGB32)
        picture.fill(Qt.GlobalColor.white)
        painter = QPainter(picture)
        frame = Frame(item.box.left(), item.box.top(), 12.0)
        paint_rooms(painter, [item], frame, Dress(rows, None, grey, view.font()))
        painter.end()
        plain_looks.add(bytes(picture.constBits()))
    assert len(plain_looks) == len(RoomStanding)


def test_the_gauge_grows_with_the_days_and_points_beyond_its_end_when_overdue(view):
    from dataclasses import replace

    row = rows_at(corridor().house)["101"]
    item = view.scene.by_room["101"]

    def ink(days):
        stand = replace(row.stand, state=RoomStanding.LATER, days_since=days, cycle_days=90)
        picture = QImage(60, 110, QImage.Format.Format_RGB32)
        picture.fill(Qt.GlobalColor.white)
        painter = QPainter(picture)
        frame = Frame(item.box.left(), item.box.top(), 12.0)
        dress = Dress({"101": replace(row, stand=stand)}, None, LIGHT, view.font())
        paint_rooms(painter, [item], frame, dress)
        painter.end()
        pixels = ((x, y) for x in range(3, 45) for y in range(60, 83))
        return sum(picture.pixelColor(x, y).lightness() < 100 for x, y in pixels)

    inks = [ink(days) for days in (0, 30, 60, 90, 91)]
    assert inks == sorted(set(inks))


@pytest.mark.parametrize("size", list(TextSize))
@pytest.mark.parametrize("px_per_m", [6, 10, 30, 80])
@pytest.mark.parametrize("bearing", [0, 30, 45])
def test_no_word_reaches_out_of_its_room_at_any_text_size(look, size, px_per_m, bearing):
    look.choose(Theme.LIGHT, size)
    build = house().wing("B", 0, 0, bearing)
    build.room("1190", wing="B").bed("A").checked("A", day(2))
    (item,) = plan_of(lay_out(build.house), "1").items
    middle = item.box.center()
    frame = Frame(middle.x() - 6, middle.y() - 6, px_per_m)
    picture = QImage(12 * px_per_m, 12 * px_per_m, QImage.Format.Format_RGB32)
    picture.fill(Qt.GlobalColor.blue)
    painter = QPainter(picture)
    dress = Dress(rows_at(build.house), None, LIGHT, QApplication.font())
    paint_rooms(painter, [item], frame, dress)
    painter.end()
    inside, blue = with_frame(frame.transform().map(item.outline)), picture.pixelColor(0, 0)
    for x in range(0, picture.width(), 5):
        for y in range(0, picture.height(), 5):
            if not inside.contains(QPointF(x, y)):
                assert picture.pixelColor(x, y) == blue


def QPainterPathOf(outline):
    """A room's outline with the width of its frame around it."""
    from PySide6.QtGui import QPainterPath, QPainterPathStroker

    path = QPainterPath()
    path.addPolygon(outline)
    path.closeSubpath()
    stroke = QPainterPathStroker()
    stroke.setWidth(4)
    return path.united(stroke.createStroke(path))


def with_frame(outline):
    """A room's outline with the width of its frame around it."""
    path = QPainterPath()
    path.addPolygon(outline)
    path.closeSubpath()
    stroke = QPainterPathStroker()
    stroke.setWidth(4)
    return path.united(stroke.createStroke(path))


def test_the_cut_shows_floors_one_above_the_other(qtbot):
    this = corridor().house
    building = lay_out(this)
    scene = section_scene(section_of(this, building, Cut("A", Side.LEFT)), building, 3.0)
    lower, upper = scene.by_room["101"].box, scene.by_room["201"].box
    assert upper.bottom() <= lower.top()
    assert (upper.left(), upper.right()) == (lower.left(), lower.right())
    assert [storey.name for storey in scene.storeys] == ["1", "2"]
    assert scene.storeys[1].bottom == scene.storeys[0].top


def test_rooms_are_found_by_place(view):
    for item in view.scene.items:
        assert view.scene.room_at(item.box.center()) is item
        assert item in view.scene.within(item.box)
    assert view.scene.room_at(QPointF(-500, 0)) is None


def test_a_small_room_says_its_sign_smaller_rather_than_not_at_all(qapp):
    font = qapp.font()
    font.setPointSizeF(10.5)
    dress = Dress({}, None, LIGHT, font)
    both, first = dress.width_of("303 Q◆"), dress.width_of("303 Q")
    for room, said in ((both, "303 Q◆"), (0.8 * both, "303 Q◆"), (0.7 * first, "303 Q")):
        lines, scale = _beside("303", "Q◆", room, dress=dress, scale=1.0)
        assert lines == [said]
        assert dress.width_of(said) * scale <= room + 1e-6
        assert scale * font.pointSizeF() >= SMALLEST_PT
    assert _beside("303", "Q◆", 0.5 * first, dress=dress, scale=1.0)[0] == ["303"]
