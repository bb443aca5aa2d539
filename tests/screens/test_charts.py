from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QToolTip

from hotelwatch.screens.charts.bars import BarChart, Bars, Series, Shape
from hotelwatch.screens.charts.chart import PATTERNS
from hotelwatch.screens.charts.pane import ChartPane
from hotelwatch.screens.charts.ranges import RangeChart, Ranged
from hotelwatch.screens.charts.scale import levels_to
from hotelwatch.screens.look.theme import LOOKS, TextSize, Theme, colours_of
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from tests.build import house

WEEKS = ("2 Nov", "9 Nov", "16 Nov", "23 Nov")
BARS = Bars(
    up="Hours",
    names=WEEKS,
    series=(
        Series("done", (4.0, 2.0, 0.0, 1.0)),
        Series("planned", (0.0, 0.0, 0.0, 3.0)),
        Series("due", (5.0, 3.0, 0.0, 6.0), Shape.OUTLINE),
        Series("capacity", (8.0, 8.0, 8.0, 8.0), Shape.LINE),
    ),
    said=tuple(f"{name}: said" for name in WEEKS),
    line_before=3,
    line_name="now",
)


# --- the scale -----------------------------------------------------------------------------------


@given(st.floats(1e-4, 1e6), st.integers(2, 8))
def test_levels_are_few_even_and_reach_the_highest(highest, lines):
    levels = levels_to(highest, lines)
    step = levels[1]
    # 1, 2 or 5 times a power of ten: the usual rule of axes, common practice, no source.
    first = float(f"{step:e}".split("e")[0])
    assert round(first, 6) in (1.0, 2.0, 5.0)
    assert levels[0] == 0.0
    assert levels[-1] >= highest * (1 - 1e-9)
    assert levels[-1] - step <= highest * (1 + 1e-9)
    assert len(levels) <= lines + 2
    assert all(abs(levels[n] - n * step) < step * 1e-6 for n in range(len(levels)))


def test_levels_of_counted_things_are_whole():
    assert levels_to(1.0, 6, whole=True) == (0.0, 1.0, 2.0)
    assert levels_to(12.0, 6, whole=True) == (0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0)


# --- bars ----------------------------------------------------------------------------------------


@pytest.fixture
def bars(qtbot, look):
    made = BarChart("Work by week")
    qtbot.addWidget(made)
    made.resize(500, 260)
    made.show_bars(BARS, at=1)
    made.show()
    return made


def test_arrows_go_along_the_bars_and_tell_each_in_words(bars, qtbot):
    assert bars.accessibleName() == "Work by week"
    assert bars.accessibleDescription() == "9 Nov: said"
    qtbot.keyClick(bars, Qt.Key.Key_Right)
    assert (bars.at, bars.accessibleDescription()) == (2, "16 Nov: said")
    qtbot.keyClick(bars, Qt.Key.Key_End)
    qtbot.keyClick(bars, Qt.Key.Key_Right)
    assert bars.at == 3
    qtbot.keyClick(bars, Qt.Key.Key_Home)
    assert bars.at == 0


def test_enter_and_a_click_press_a_bar(bars, qtbot):
    with qtbot.waitSignal(bars.pressed) as pressed:
        qtbot.keyClick(bars, Qt.Key.Key_Return)
    assert pressed.args == [1]
    area = bars._area
    middle = QPoint(round(area.left() + area.width() * 0.625), round(area.center().y()))
    with qtbot.waitSignal(bars.pressed) as pressed:
        qtbot.mouseClick(bars, Qt.MouseButton.LeftButton, pos=middle)
    assert (pressed.args, bars.at) == ([2], 2)


def test_a_press_beside_the_bars_presses_nothing(bars, qtbot):
    heard = []
    bars.pressed.connect(heard.append)
    qtbot.mouseClick(bars, Qt.MouseButton.LeftButton, pos=QPoint(1, 130))
    assert (heard, bars.at) == ([], 1)


def test_bars_stand_to_scale_and_stacked(bars):
    done, planned = bars._box(3, 0.0, 1.0), bars._box(3, 1.0, 4.0)
    assert planned.height() == pytest.approx(3 * done.height())
    assert planned.bottom() == pytest.approx(done.top())
    assert bars._box(0, 0.0, 8.0).top() >= bars._area.top()
    assert bars._levels[-1] >= 8.0


def test_where_the_pointer_rests_a_bar_is_said(bars, monkeypatch):
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QHelpEvent

    said = []
    monkeypatch.setattr(QToolTip, "showText", lambda _at, text, _of: said.append(text))
    at = QPoint(round(bars._area.left() + 3), 130)
    bars.event(QHelpEvent(QEvent.Type.ToolTip, at, at))
    assert said == ["2 Nov: said"]


def test_series_differ_by_pattern_not_by_colour_alone():
    assert len(set(PATTERNS)) == len(PATTERNS)


@pytest.mark.parametrize("theme", [theme for theme in Theme if theme is not Theme.SYSTEM])
@pytest.mark.parametrize("size", [TextSize.NORMAL, TextSize.DOUBLE])
def test_bars_paint_in_every_look_and_size(bars, look, qtbot, theme, size):
    look.choose(theme, size)
    qtbot.wait(5)
    picture = bars.grab().toImage()
    assert colours_of(bars.palette()) is LOOKS[theme]
    done = bars._box(0, 0.0, 4.0).center().toPoint() * picture.devicePixelRatio()
    assert picture.pixelColor(done) == QColor(LOOKS[theme].accent)


def test_legend_goes_on_in_the_next_line_where_it_is_narrow(bars):
    assert bars._legend_lines == 1
    bars.resize(150, 260)
    assert bars._legend_lines > 1


def test_a_chart_of_nothing_takes_keys_and_paints(qtbot):
    empty = BarChart("Nothing")
    qtbot.addWidget(empty)
    empty.show()
    qtbot.keyClick(empty, Qt.Key.Key_Right)
    qtbot.keyClick(empty, Qt.Key.Key_Return)
    assert empty.at is None
    assert empty.place_at(QPointF(50, 50)) is None
    assert not empty.grab().isNull()


# --- ranges --------------------------------------------------------------------------------------


@pytest.fixture
def ranges(qtbot):
    made = RangeChart("Floors")
    qtbot.addWidget(made)
    made.resize(400, 200)
    rows = [
        Ranged("Floor 2", 0.1, 0.2, 0.4, "Floor 2: 0.2"),
        Ranged("Floor 1", 0.0, 0.05, 0.1, "Floor 1: 0.05"),
    ]
    made.show_rows(rows, "Chance", level_text=lambda level: f"{level:g}")
    made.show()
    return made


def test_down_and_up_go_along_the_rows(ranges, qtbot):
    qtbot.keyClick(ranges, Qt.Key.Key_Home)
    assert ranges.accessibleDescription() == "Floor 2: 0.2"
    qtbot.keyClick(ranges, Qt.Key.Key_Down)
    assert ranges.accessibleDescription() == "Floor 1: 0.05"
    qtbot.keyClick(ranges, Qt.Key.Key_Up)
    with qtbot.waitSignal(ranges.pressed) as pressed:
        qtbot.keyClick(ranges, Qt.Key.Key_Return)
    assert pressed.args == [0]


def test_a_row_is_pressed_where_it_lies(ranges, qtbot):
    area = ranges._area
    low = QPoint(round(area.center().x()), round(area.bottom() - 5))
    with qtbot.waitSignal(ranges.pressed) as pressed:
        qtbot.mouseClick(ranges, Qt.MouseButton.LeftButton, pos=low)
    assert pressed.args == [1]


def test_values_lie_to_scale(ranges):
    nought, half, whole = (ranges._x(value) for value in (0.0, 0.2, 0.4))
    assert half - nought == pytest.approx(whole - half)
    assert not ranges.grab().isNull()


# --- on a card -----------------------------------------------------------------------------------


@pytest.fixture
def pane(make_hotel, make_context, qtbot, bars):
    table = RowTable(
        [Column("Week", str)], key=str, name="Weeks", empty=Empty("none"), filtered=False
    )
    table.show_rows(WEEKS)
    made = ChartPane(make_context(make_hotel(house())), "Work by week", bars, table=table)
    qtbot.addWidget(made)
    made.resize(500, 320)
    made.show()
    return made


def test_a_table_takes_the_charts_place(pane, qtbot):
    assert pane.chart.isVisible()
    qtbot.keyClick(pane.as_table, Qt.Key.Key_Space)
    assert pane.table.isVisible()
    assert not pane.chart.isVisible()
    qtbot.keyClick(pane.as_table, Qt.Key.Key_Space)
    assert pane.chart.isVisible()


def test_nothing_to_draw_is_said(pane):
    pane.show_empty("No week yet.")
    assert not pane.chart.isVisible()
    assert not pane.save.isEnabled()
    pane.show_empty("")
    assert pane.chart.isVisible()


@pytest.mark.parametrize(("name", "begins"), [("a.png", b"\x89PNG"), ("a.pdf", b"%PDF")])
def test_the_picture_is_saved(pane, qtbot, tmp_path, name, begins):
    context = pane._context
    context.files.chosen = tmp_path / name
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    assert (tmp_path / name).read_bytes().startswith(begins)
    (bar,) = context.notices.bars()
    assert name in bar.label.text()


def test_a_folder_that_is_not_there_is_refused_in_words(pane, tmp_path):
    pane._context.files.chosen = tmp_path / "nowhere" / "a.png"
    pane.save.click()
    (bar,) = pane._context.notices.bars()
    assert "Choose another folder" in bar.label.text()


def test_pictures_are_for_paper_in_every_look(bars, look):
    look.choose(Theme.DARK, TextSize.NORMAL)
    assert bars.picture().pixelColor(1, bars.height()) == QColor("white")


def test_whatever_takes_the_focus_has_a_name(pane, nameless):
    assert nameless(pane) == []
