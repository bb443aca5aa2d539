from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage

from hotelwatch.screens.charts.curves import Axes, Curve, CurveChart, Point


@pytest.fixture
def chart(qtbot):
    made = CurveChart("Days by cycle")
    qtbot.addWidget(made)
    made.resize(600, 300)
    points = tuple(Point(float(x), x / 2, float(x), 2.0 * x) for x in (10, 20, 40, 80))
    axes = Axes("Days", lambda x: f"{x:g} d", lambda y: f"{y:g}")
    made.show_curves([Curve("days", points)], axes, at=1)
    made.show()
    return made


def test_keys_go_from_point_to_point_and_say_where(chart, qtbot):
    assert chart.accessibleDescription() == "20 d – days: 20"
    with qtbot.waitSignal(chart.point_changed) as moved:
        qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert moved.args == [2]
    qtbot.keyClick(chart, Qt.Key.Key_End)
    assert chart.at == 3
    qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert chart.at == 3
    qtbot.keyClick(chart, Qt.Key.Key_Home)
    assert chart.accessibleDescription() == "10 d – days: 10"


def test_the_pointer_takes_the_nearest_point(chart, qtbot):
    qtbot.mouseClick(chart, Qt.MouseButton.LeftButton, pos=QPoint(chart.width() - 20, 150))
    assert chart.at == 3
    qtbot.mouseClick(chart, Qt.MouseButton.LeftButton, pos=QPoint(2, 150))
    assert chart.at == 0


def test_an_empty_chart_paints_and_takes_keys(qtbot):
    empty = CurveChart("Nothing")
    qtbot.addWidget(empty)
    empty.resize(400, 200)
    empty.show()
    qtbot.keyClick(empty, Qt.Key.Key_Right)
    picture = empty.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    assert picture.width() > 0
    assert empty.at is None


def test_a_flat_curve_at_nought_paints(chart):
    axes = Axes("Rooms", lambda x: f"{x:g}", lambda y: f"{y:g}")
    chart.show_curves([Curve("none", (Point(0.0, 0.0, 0.0, 0.0),))], axes, at=0)
    assert not chart.grab().isNull()
