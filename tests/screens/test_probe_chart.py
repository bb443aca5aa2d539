"""The chart of a log: lines told apart, gaps and falls, letters, both looks, going along."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor
from scipy.optimize import isotonic_regression

from hotelwatch.core.lethal.curves import curves_of
from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.lethal.probes import Probe
from hotelwatch.core.lethal.verdict import verdict_of
from hotelwatch.screens.cases.log_view import LogView
from hotelwatch.screens.cases.probe_drawing import (
    DOSES_SHOWN,
    Drawing,
    Panel,
    by_worth,
    celsius_range,
    dose_top,
    freest,
    line_pen,
    spread,
)
from hotelwatch.screens.look.theme import DARK, LIGHT, TextSize, Theme
from tests.build import house, rules
from tests.screens.test_theme import contrast

FIGURES = rules().figures
BEGINS = datetime(2026, 3, 9, 8, tzinfo=UTC)
AREA = QRectF(40, 20, 600, 200)


def probe(name, celsius, place="mattress_core", step=1.0):
    """A probe with a reading every ``step`` minutes; None leaves one out."""
    read = [(step * number, c) for number, c in enumerate(celsius) if c is not None]
    minutes, values = zip(*read, strict=True)
    return Probe(name, place, BEGINS, minutes, tuple(float(c) for c in values))


def warming(name, ends_at, *, half=40.0, count=181, step=1.0, place="furniture"):
    """Invented: nears its own end temperature by halves."""
    celsius = [ends_at - (ends_at - 21) * 0.5 ** (n * step / half) for n in range(count)]
    return probe(name, celsius, place, step)


def ten_long_logs():
    return [warming(f"P{n}", 47 + n, count=2000, step=0.2) for n in range(10)]


def heat(*probes):
    return verdict_of(probes, FIGURES, method=Method.HEAT)


def curves(*probes):
    return curves_of(heat(*probes), FIGURES)


@pytest.fixture
def view(qtbot):
    made = LogView(house().house)
    qtbot.addWidget(made)
    made.resize(900, 800)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def picture_of(chart):
    """The chart as painted, one pixel for each."""
    return chart.grab().toImage()


def ink_between(image, panel, minutes, celsius):
    """Colours along a minute's column between two temperatures."""
    x = round(panel.x(minutes))
    top, bottom = (round(panel.y(value)) for value in reversed(celsius))
    return {image.pixelColor(x, y).name() for y in range(top, bottom + 1)}


@pytest.mark.parametrize("theme", [Theme.LIGHT, Theme.DARK])
@pytest.mark.parametrize("method", list(Method))
def test_it_is_painted_in_both_looks_without_a_warning(view, look, qtlog, theme, method):
    look.choose(theme, TextSize.NORMAL)
    celsius = [c if method is Method.HEAT else -c / 3 for c in range(20, 60)]
    verdict = verdict_of([probe("A", celsius)], FIGURES, method=method)
    view.show_log(verdict, house().house)
    image = picture_of(view.chart)
    colours = DARK if theme is Theme.DARK else LIGHT
    seen = {image.pixelColor(x, y).name() for x in range(0, 900, 2) for y in range(image.height())}
    assert {colours.base, colours.accent} <= seen
    ignored = "This plugin does not support"
    assert [r.message for r in qtlog.records if not r.message.startswith(ignored)] == []


# WCAG 2.2, success criterion 1.4.11: shapes that carry meaning have 3:1 to their ground;
# 1.4.1: colour is not the only sign.
@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_lines_are_seen_on_their_ground_and_told_apart_by_more_than_colour(colours):
    pens = [line_pen(place, colours) for place in range(10)]
    assert all(contrast(pen.color().name(), colours.base) >= 3 for pen in pens)
    drawn = {(pen.color().name(), tuple(pen.dashPattern()), pen.widthF()) for pen in pens}
    assert len(drawn) == 10
    assert len({tuple(pen.dashPattern()) for pen in pens[:7]}) == 7
    letters = [curve.letter for curve in curves(*ten_long_logs()).curves]
    assert letters == list("ABCDEFGHIJ")


def test_nothing_is_drawn_across_a_gap(view):
    # An hour without a reading, at one temperature on both sides.
    gappy = probe("A", [52.0] * 60 + [None] * 60 + [52.0] * 61)
    view.show_log(heat(gappy), house().house)
    image = picture_of(view.chart)
    warm, _dose = view.chart._panels(view.curves)
    accent = QColor(LIGHT.accent).name()
    assert accent in ink_between(image, warm, 50, (51.5, 52.5))
    assert accent not in ink_between(image, warm, 90, (50.5, 53.5))


def test_behind_a_fall_a_line_is_thin_and_the_words_say_why(view):
    hot = [50.0] * 121
    fallen = probe("A", [50.0] * 30 + [62.0] * 91)
    view.show_log(heat(fallen, probe("B", hot), probe("C", hot)), house().house)
    line = next(one for one in view.curves.curves if one.name == "A")
    (part,) = line.parts()
    counted, after = by_worth(part, line.not_counted_from)
    assert (counted[0][0], counted[-1], after[0]) == (0.0, after[0], (29.0, 50.0))
    assert after[-1] == (120.0, 62.0)
    assert list(by_worth(part, None)) == [part, ()]
    image = picture_of(view.chart)
    warm, _dose = view.chart._panels(view.curves)
    ink = line_pen(view.curves.curves.index(line), LIGHT).color().name()
    # A line of less than a pixel never shows its whole ink; a thick one does.
    assert ink in ink_between(image, warm, 12, (49, 51))
    for minute in range(35, 40):
        assert ink not in ink_between(image, warm, minute, (61, 63))
    assert "Behind its cross a line is thin" in view.text()
    assert "It seems to have fallen off" in view.text()


def test_a_log_without_a_fall_says_nothing_of_crosses(view):
    view.show_log(heat(warming("A", 52)), house().house)
    assert "cross" not in view.text()


def test_going_along_paints_no_reading_anew_but_a_new_look_does(view, look, qtbot, monkeypatch):
    drawn = []
    before = Drawing.curve

    def count(self, curve, place, panel):
        drawn.append(place)
        before(self, curve, place, panel)

    monkeypatch.setattr(Drawing, "curve", count)
    view.show_log(heat(*ten_long_logs()), house().house)
    view.chart.setFocus()
    view.chart.grab()
    assert sorted(drawn[-10:]) == list(range(10))
    drawn.clear()
    for _step in range(20):
        qtbot.keyClick(view.chart, Qt.Key.Key_PageUp)
        view.chart.grab()
    assert drawn == []
    look.choose(Theme.DARK, TextSize.NORMAL)
    view.chart.grab()
    assert len(drawn) == 10
    view.chart.resize(view.chart.width() - 40, view.chart.height())
    view.chart.grab()
    assert len(drawn) == 20


def test_the_place_where_one_stands_is_painted_and_moves(view, qtbot):
    view.show_log(heat(warming("A", 52)), house().house)
    chart = view.chart
    warm, _dose = chart._panels(view.curves)
    chart.setFocus()
    qtbot.keyClick(chart, Qt.Key.Key_Home)
    for _step in range(60):
        qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert chart.row().minute == 60
    marked = picture_of(chart)
    qtbot.keyClick(chart, Qt.Key.Key_End)
    gone = picture_of(chart)
    x, y = round(warm.x(60)), round(warm.y(25))
    columns = range(x - 2, x + 3)
    assert {marked.pixelColor(one, y).name() for one in columns} != {
        gone.pixelColor(one, y).name() for one in columns
    }


def test_keys_go_along_and_a_screen_reader_hears_it_all(view, qtbot, nameless):
    view.show_log(heat(warming("Core", 52, place="mattress_core")), house().house)
    assert nameless(view) == []
    chart = view.chart
    assert chart.accessibleDescription() == ""
    view.as_table.setFocus()
    chart.setFocus()
    assert chart.row().minute == 180
    qtbot.keyClick(chart, Qt.Key.Key_Home)
    qtbot.keyClick(chart, Qt.Key.Key_Left)
    assert chart.row().minute == 0
    qtbot.keyClick(chart, Qt.Key.Key_PageDown)
    assert chart.row().minute == 12
    assert "A 26.8 °C" in chart.accessibleDescription()
    assert "dose of A so far 0.00 of 2.00" in chart.accessibleDescription()
    qtbot.keyClick(view.as_table, Qt.Key.Key_Space)
    assert view.table.isVisible()
    assert len(view.table.shown_rows()) == 181
    assert nameless(view) == []
    # Another log: what was said of the old one is not said of it.
    view.show_log(heat(warming("Core", 48)), house().house)
    assert chart.row() is None
    assert chart.accessibleDescription() == ""


def test_a_very_hot_log_does_not_press_the_dose_asked_onto_the_ground(view):
    hot = heat(warming("Core", 56, place="mattress_core"))
    lines = curves_of(hot, FIGURES)
    assert lines.dose[-1][1] > DOSES_SHOWN * hot.wanted
    assert dose_top(lines) == DOSES_SHOWN * hot.wanted
    panel = Panel(AREA, lines.lasts_minutes, 0.0, dose_top(lines))
    assert panel.y(lines.dose[-1][1]) == AREA.top()
    mild = curves(warming("Core", 48.5, place="mattress_core"))
    assert dose_top(mild) > max(mild.wanted, mild.dose[-1][1])
    view.show_log(hot, house().house)
    # What the axis leaves out the table keeps.
    assert view.table.shown_rows()[-1].dose == pytest.approx(hot.deciding.dose_eggs)


heights = st.lists(st.floats(20, 220), min_size=1, max_size=9).map(sorted)


@given(heights)
def test_letters_at_the_ends_stand_apart_as_near_to_their_lines_as_can_be(wanted):
    placed = spread(wanted, AREA, 17.0)
    assert all(below - above >= 17.0 - 1e-6 for above, below in pairwise(placed))
    assert placed[0] >= AREA.top() - 1e-6
    assert placed[-1] <= AREA.bottom() + 1e-6
    # Reference: least squares under an order, by scipy; held within the area where it is left.
    steps = [17.0 * n for n in range(len(wanted))]
    best = isotonic_regression([y - s for y, s in zip(wanted, steps, strict=True)]).x
    lowest = AREA.bottom() - steps[-1]
    held = [min(max(y, AREA.top()), lowest) + s for y, s in zip(best, steps, strict=True)]
    assert placed == pytest.approx(held)


def test_too_many_letters_for_the_height_still_stand_in_it_in_order():
    placed = spread([100.0] * 40, AREA, 17.0)
    assert placed == sorted(placed)
    assert AREA.top() <= placed[0] < placed[-1] <= AREA.bottom() + 1e-6


def test_a_floors_words_stand_where_no_line_runs():
    # On the right the line runs just above the eggs' floor, on the left it is far below.
    rising = curves(probe("A", [20.0] * 60 + [30.0] * 61 + [45.0] * 60))
    panel = Panel(AREA, rising.lasts_minutes, *celsius_range(rising))
    top = panel.y(44.0) - 18
    box = freest(rising, panel, QRectF(0, top, 120, 17))
    assert box.right() < panel.x(121)
    falling = curves(probe("A", [45.0] * 120 + [20.0] * 61))
    box = freest(falling, panel, QRectF(0, top, 120, 17))
    assert box.right() == AREA.right()


def test_minutes_and_places_answer_each_other():
    panel = Panel(AREA, 180.0, 20.0, 60.0)
    assert panel.minute(panel.x(75.0)) == pytest.approx(75.0)
    assert panel.line([(0.0, 20.0), (180.0, 60.0)]) == [
        QPointF(AREA.left(), AREA.bottom()),
        QPointF(AREA.right(), AREA.top()),
    ]
