"""What a cycle buys: moved by slider, number and picture; told as the core reckons it."""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage

from hotelwatch.actions.choices import choose_figure
from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.actions.odds import OddsWish, odds_view
from hotelwatch.core.facts import CycleChosen, RoomNo, Scope
from hotelwatch.core.odds.cycles.cycle_hotel import circumstances_of, usual_room
from hotelwatch.core.odds.cycles.cycle_rows import Now
from hotelwatch.core.odds.cycles.cycle_table import cycle_table
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS, CheckWay
from hotelwatch.core.odds.cycles.next_hour import next_hour
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.charts.chart import ink_of
from hotelwatch.screens.look.theme import TextSize, Theme
from hotelwatch.screens.odds.cycle_pane import CyclePane
from hotelwatch.screens.odds.cycle_tables import length_rows
from hotelwatch.screens.odds.page import OddsPage
from hotelwatch.wording.cycle import best_hour_sentence
from hotelwatch.wording.cycle_change import as_is_lines, change_lines
from tests.build import house

ROOMS = 6
CERTAIN = re.compile(
    r"\b(clear|certified|guarantee\w*|bug-free|safe|never|always|proven)\b|\b0 %|\b100 %", re.I
)


@pytest.fixture
def inn():
    """Six rooms that share walls, looked at every 90 days with covers closed."""
    build = house().record(CycleChosen(Scope.HOUSE, "", 90))
    for n in range(ROOMS):
        build.room(str(101 + n)).bed("A")
    return build


def view_of(hotel):
    wish = OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today())
    return odds_view(wish)


@pytest.fixture
def make_pane(make_hotel, make_context, qtbot):
    def make(build):
        context = make_context(make_hotel(build), ("odds", "load_roster"))
        pane = CyclePane(context)
        qtbot.addWidget(pane)
        pane.resize(1080, 640)
        pane.show()
        pane.show_view(view_of(context.hotel))
        return pane, context.hotel, context

    return make


def settled(pane, qtbot):
    def is_settled():
        weighed = pane.weighed
        return weighed is not None and weighed.asked.tried == pane.trial() and not pane._is_busy

    qtbot.waitUntil(is_settled, timeout=10_000)


@pytest.fixture
def pane(make_pane, inn, qtbot):
    made, _, _ = make_pane(inn)
    settled(made, qtbot)
    return made


def reckoned(hotel, way, *lengths):
    """Rows straight from the core, past the pane and its action."""
    around = circumstances_of(hotel.house, hotel.today(), hotel.neighbours())
    room = usual_room(hotel.house)
    return cycle_table(hotel.house.rules.odds, (way,), lengths, room=room, around=around)


def x_of(chart, days):
    """Where a length stands in the picture, by its ends."""
    area, (first, last) = chart._area, (LENGTHS[0], LENGTHS[-1])
    return round(area.left() + area.width() * (days - first) / (last - first))


def test_today_stands_first_with_what_it_brings(make_pane, inn, qtbot):
    pane, hotel, _ = make_pane(inn)
    settled(pane, qtbot)
    assert (pane.days.slider.value(), pane.days.number.value()) == (90, 90)
    assert not pane.back.isEnabled()
    assert not pane.choose.isEnabled()
    (row,) = reckoned(hotel, CheckWay(), 90)
    rules = hotel.house.rules.odds
    assert (pane.changed.text(), pane.found.text()) == as_is_lines(row, ROOMS, rules)
    around = circumstances_of(hotel.house, hotel.today(), hotel.neighbours())
    hour = next_hour(rules, Now(CheckWay(), 90), room=usual_room(hotel.house), around=around)
    assert pane.hour.text() == best_hour_sentence(hour)


def test_from_90_to_45_days_says_what_that_costs_and_buys(make_pane, inn, qtbot):
    pane, hotel, _ = make_pane(inn)
    settled(pane, qtbot)
    entries = max(hotel.house.entries)
    pane.days.number.setFocus()
    pane.days.number.selectAll()
    qtbot.keyClicks(pane.days.number, "45")
    qtbot.keyClick(pane.days.number, Qt.Key.Key_Return)
    settled(pane, qtbot)
    assert pane.days.slider.value() == 45
    before, after = reckoned(hotel, CheckWay(), 90, 45)
    said = change_lines(after, before, rooms=ROOMS, rules=hotel.house.rules.odds, is_today=True)
    assert (pane.changed.text(), pane.found.text()) == said
    assert said[0].startswith("Against today's 90 days, in a year of 6 rooms: about ")
    assert "hidden days less" in said[0]
    assert "hours of work more" in said[0]
    assert max(hotel.house.entries) == entries
    qtbot.mouseClick(pane.back, Qt.MouseButton.LeftButton)
    settled(pane, qtbot)
    assert pane.days.number.value() == 90


def test_any_length_is_reckoned_by_itself_not_between_others(make_pane, inn, qtbot):
    pane, hotel, _ = make_pane(inn)
    settled(pane, qtbot)
    pane.days.slider.setValue(77)
    settled(pane, qtbot)
    (row,) = reckoned(hotel, CheckWay(), 77)
    for stance in Stance:
        shown = pane.weighed.row.by_stance[stance]
        assert shown.seen.mean_days == row.by_stance[stance].seen.mean_days
        assert shown.year == row.by_stance[stance].year


def test_the_picture_is_dragged_and_all_goes_along(pane, qtbot):
    chart = pane.chart
    y = chart.height() // 2
    qtbot.mousePress(chart, Qt.MouseButton.LeftButton, pos=QPoint(x_of(chart, 45), y))
    settled(pane, qtbot)
    assert abs(pane.days.days() - 45) <= 1
    qtbot.mouseMove(chart, QPoint(x_of(chart, 200), y))
    settled(pane, qtbot)
    assert abs(pane.days.days() - 200) <= 1
    qtbot.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=QPoint(x_of(chart, 200), y))
    lengths = [row.cycle_days for row in pane.weighed.tried]
    assert lengths[chart.at] == pane.days.slider.value() == pane.days.number.value()
    assert pane.changed.text().startswith("Against today's 90 days")


def test_the_picture_is_walked_by_keys(pane, qtbot):
    chart = pane.chart
    chart.setFocus()
    for key, days in (
        (Qt.Key.Key_Left, 89),
        (Qt.Key.Key_Right, 90),
        (Qt.Key.Key_PageUp, 104),
        (Qt.Key.Key_PageDown, 90),
        (Qt.Key.Key_End, 365),
        (Qt.Key.Key_Right, 365),
        (Qt.Key.Key_Home, 14),
    ):
        qtbot.keyClick(chart, key)
        settled(pane, qtbot)
        assert pane.days.days() == days
    assert chart.accessibleDescription().startswith("14 days – as chosen: ")


def test_a_way_is_switched_and_its_caution_stands_there(make_pane, inn, qtbot):
    pane, hotel, _ = make_pane(inn)
    settled(pane, qtbot)
    assert pane.cautions.isHidden()
    qtbot.mouseClick(pane.switches.cover, Qt.MouseButton.LeftButton, pos=QPoint(10, 18))
    settled(pane, qtbot)
    assert pane.trial().way == CheckWay(cover_opened=True)
    assert "(dust cover closed, headboard on the wall, no traps)" in pane.changed.text()
    assert "local rules on lifting go first" in pane.cautions.text()
    (row,) = reckoned(hotel, CheckWay(cover_opened=True), 90)
    assert pane.weighed.row.by_stance[Stance.CENTRAL].year == row.by_stance[Stance.CENTRAL].year
    said = pane.switches._inputs[pane.switches.cover].text()
    assert said == "8 (5 to 12) minutes more for each bed (assumed)"


def test_what_the_beds_do_not_have_cannot_be_switched_on(make_pane, qtbot):
    pane, _, _ = make_pane(house().room("101").bed("A", "crib"))
    settled(pane, qtbot)
    assert not pane.switches.cover.isEnabled()
    assert not pane.switches.headboard.isEnabled()
    assert pane.switches.traps.isEnabled()


def test_the_table_has_the_numbers_of_the_picture(pane, qtbot):
    pane.switches.traps.setChecked(True)
    pane.days.slider.setValue(45)
    settled(pane, qtbot)
    for place, measure in enumerate(pane._measures):
        pane.as_table.setChecked(False)
        pane.shows.setCurrentIndex(place)
        drawn = pane.chart._curves
        qtbot.keyClick(pane.as_table, Qt.Key.Key_Space)
        table = pane.tables.tables[place]
        assert table.isVisible()
        rows = table.shown_rows()
        assert rows == length_rows(measure, pane.weighed)
        assert [row.days for row in rows] == sorted({*LENGTHS, 45, 90})
        assert len(drawn) == len(measure.lines)
        for number, curve in enumerate(drawn):
            assert [row.values[number] for row in rows] == [p.central for p in curve.points]
            assert all(p.low <= p.central <= p.high for p in curve.points)
        assert table.current().days == 45
        assert "45 days, chosen" in table.as_text(rows)
        assert "90 days, today" in table.as_text(rows)


def test_another_length_can_be_held_to_compare_with(pane, qtbot):
    pane.days.slider.setValue(60)
    settled(pane, qtbot)
    qtbot.mouseClick(pane.compare, Qt.MouseButton.LeftButton)
    pane.days.slider.setValue(30)
    settled(pane, qtbot)
    assert pane.changed.text().startswith("Against a look every 60 days, in a year")
    assert [mark.name for mark in pane.chart._marks] == ["today", "to compare"]
    qtbot.mouseClick(pane.compare, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: pane.changed.text().startswith("Against today's 90 days"))


def test_nothing_is_set_unless_asked_and_answered(make_pane, inn, qtbot):
    inn.record(CycleChosen(Scope.ROOM, "101", 30))
    pane, hotel, context = make_pane(inn)
    settled(pane, qtbot)
    entries = max(hotel.house.entries)
    pane.days.slider.setValue(45)
    settled(pane, qtbot)
    qtbot.mouseClick(pane.choose, Qt.MouseButton.LeftButton)
    (bar,) = context.notices.bars()
    assert max(hotel.house.entries) == entries
    qtbot.mouseClick(bar.button, Qt.MouseButton.LeftButton)
    assert hotel.house.cycle_of(RoomNo("102")) == 45
    assert hotel.house.cycle_of(RoomNo("101")) == 30
    assert max(hotel.house.entries) == entries + 1
    pane.show_view(view_of(hotel))
    qtbot.waitUntil(lambda: pane._basis is not None and pane._basis.today.cycle_days == 45)
    settled(pane, qtbot)
    assert not pane.choose.isEnabled()


def test_a_figure_of_the_hotel_s_own_counts_and_is_called_so(make_pane, inn, qtbot):
    pane, hotel, _ = make_pane(inn)
    settled(pane, qtbot)
    assert "An hour of work: 25 (assumed)" in pane.inputs.text()
    before = pane.weighed.row.by_stance[Stance.CENTRAL].year
    choose_figure(hotel, "price_work_hour", 50.0, reason="our wages")
    pane.show_view(view_of(hotel))
    qtbot.waitUntil(lambda: "An hour of work: 50" in pane.inputs.text(), timeout=10_000)
    assert "An hour of work: 50 (assumed)" not in pane.inputs.text()
    qtbot.waitUntil(
        lambda: (
            pane.weighed.row.by_stance[Stance.CENTRAL].year.work == pytest.approx(2 * before.work)
        ),
        timeout=10_000,
    )


def test_what_is_tried_stays_where_the_record_moves_on(make_pane, inn, qtbot):
    pane, hotel, _ = make_pane(inn)
    settled(pane, qtbot)
    pane.days.slider.setValue(120)
    settled(pane, qtbot)
    choose_cycle(hotel, Scope.HOUSE, "", 60)
    pane.show_view(view_of(hotel))
    qtbot.waitUntil(lambda: "Against today's 60 days" in pane.changed.text(), timeout=10_000)
    assert pane.days.days() == 120


def test_the_slider_answers_while_long_work_is_being_done(make_pane, inn, qtbot):
    from threading import Event

    pane, _, context = make_pane(inn)
    settled(pane, qtbot)
    go_on = Event()
    context.jobs.run(go_on.wait, 20, label="busy", on_done=print)
    try:
        qtbot.waitUntil(lambda: context.jobs.is_busy)
        pane.days.slider.setValue(45)
        assert pane.changed.text().startswith("Against today's 90 days")
        assert pane.weighed.asked.tried.cycle_days == 45
    finally:
        go_on.set()
    qtbot.waitUntil(lambda: not context.jobs.is_busy)


def test_dragging_ends_at_the_last_place_with_no_rows_heaped_up(pane, qtbot):
    for days in range(90, 14, -1):
        pane.days.slider.setValue(days)
    settled(pane, qtbot)
    assert pane.weighed.row.cycle_days == 15
    assert [row.cycle_days for row in pane.weighed.tried] == sorted({*LENGTHS, 15, 90})


def test_a_hotel_without_rooms_is_shown_the_next_step(make_pane, qtbot, went):
    pane, _, context = make_pane(house())
    assert pane.next_step.isVisible()
    qtbot.mouseClick(pane.next_step.button, Qt.MouseButton.LeftButton)
    assert went(context) == [("load_roster", None)]


def test_nobody_can_quote_a_certainty_from_it(pane, qtbot):
    for days, traps in ((14, True), (365, False)):
        pane.days.slider.setValue(days)
        pane.switches.traps.setChecked(traps)
        settled(pane, qtbot)
        said = [pane.changed, pane.found, pane.hour, pane.cautions, pane.explained, pane.inputs]
        tables = [
            table.as_text(length_rows(measure, pane.weighed))
            for measure, table in zip(pane._measures, pane.tables.tables, strict=True)
        ]
        for text in (*(label.text() for label in said), *tables):
            assert not CERTAIN.search(text)


def test_every_field_has_a_name(pane, nameless):
    assert nameless(pane) == []


@pytest.mark.parametrize("theme", [Theme.LIGHT, Theme.DARK])
@pytest.mark.parametrize("size", [TextSize.NORMAL, TextSize.LARGEST])
def test_curves_are_painted_in_both_looks(pane, qtbot, look, theme, size):
    look.choose(theme, size)
    pane.switches.traps.setChecked(True)
    settled(pane, qtbot)
    image = QImage(pane.chart.size(), QImage.Format.Format_RGB32)
    pane.chart.render(image)
    inks = {ink_of(number, look.colours).rgb() for number in range(2)}
    seen = {image.pixel(x, y) for x in range(image.width()) for y in range(0, image.height())}
    assert inks <= seen
    assert pane._told.maximumHeight() >= pane._told.minimumHeight() > 0


def test_the_page_leads_on_to_what_it_rests_on(make_hotel, make_context, inn, qtbot):
    context = make_context(make_hotel(inn))
    page = OddsPage(context)
    qtbot.addWidget(page)
    page.show()
    page.refresh()
    qtbot.waitUntil(lambda: page.tabs.isVisible(), timeout=20_000)
    page.tabs.setCurrentWidget(page.cycle)
    settled(page.cycle, qtbot)
    qtbot.mouseClick(page.cycle.rests, Qt.MouseButton.LeftButton)
    assert page.tabs.currentWidget() is page.rests
