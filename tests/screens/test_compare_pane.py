"""Rules compared in the window: fields beside today's rule, a run that stops, what came of it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from hotelwatch.actions.compare_rules import minutes_a_day, with_minutes_a_day
from hotelwatch.actions.odds import OddsWish, odds_view
from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.facts import StaysImported, TeamDescribed
from hotelwatch.core.odds.simulation.measures import (
    Comparison,
    Estimate,
    Measure,
    MeasureRow,
    OfFinds,
)
from hotelwatch.core.odds.simulation.of_house import simulated
from hotelwatch.core.odds.simulation.policies import RINGS, house_rule_of
from hotelwatch.core.odds.simulation.wishes import SimulationWish
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.look.theme import LIGHT
from hotelwatch.screens.odds.compare_chart import ChangeBar, ChangeChart, ChangeGroup, groups_of
from hotelwatch.screens.odds.compare_pane import LACKING, READY, ComparePane
from hotelwatch.screens.odds.compare_result import CHART, TABLE
from hotelwatch.screens.odds.page import OddsPage
from hotelwatch.wording.compare_rules import (
    DRAWN,
    Verdict,
    percent_change_text,
    ring_text,
    tried_text,
    verdict_lines,
    verdict_of,
)
from hotelwatch.wording.simulation import change_text, measure_cells
from tests.build import day, house
from tests.core.simulations import house_rule

CERTAIN = re.compile(
    r"\b(clear|certified|guarantee\w*|bug-free|safe|never|always|sure)\b|\b100 ?%|\b0 ?%"
)
"""Words and shares that would read as certain (common practice of risk statements, no source)."""
PAIR = TeamDescribed("Pair", people=2, minutes=120, kept_free=20)


@pytest.fixture
def hotel(make_hotel):
    """Twelve rooms along a corridor and a team with 100 minutes on five days a week."""
    build = house()
    for number in range(101, 113):
        build.room(str(number)).bed("A")
    build.stays(("101", 35, 44), ("102", 38, 45)).record(PAIR)
    made = make_hotel(build)
    made.record_stays(build.house.stays, StaysImported("list.csv", "0" * 64, day(0), 2, 0))
    return made


def view_of(hotel):
    return odds_view(
        OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today(), None)
    )


@pytest.fixture
def pane(hotel, make_context, qtbot):
    made = ComparePane(make_context(hotel))
    qtbot.addWidget(made)
    made.resize(1080, 680)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.show_view(view_of(hotel))
    qtbot.waitUntil(made.simulate.isEnabled, timeout=10_000)
    made.fields.years.setValue(100)
    return made


@pytest.fixture
def run(qtbot):
    def simulate(pane):
        pane.simulate.click()
        qtbot.waitUntil(lambda: not pane.is_simulating, timeout=60_000)

    return simulate


def each(told):
    return dict.fromkeys(Stance, told)


def row(*changes, usual=50.0, measure=Measure.HOURS):
    """A measure whose change has an interval for each setting."""
    today = Estimate(usual, usual * 0.9, usual * 1.1)
    told = {
        stance: Estimate((low + high) / 2, low, high)
        for stance, (low, high) in zip(Stance, changes, strict=True)
    }
    return MeasureRow(measure, each(today), each(today), told)


def comparison(**by_measure):
    """A comparison in which nothing shows but what is given, the same in every setting."""
    rows = [
        row(*([by_measure.get(measure.value, (-1.0, 1.0))] * 3), measure=measure)
        for measure in Measure
    ]
    rows += [MeasureRow(one, each(None), each(None), {}) for one in OfFinds]
    return Comparison(300, tuple(rows))


# --- the fields ------------------------------------------------------------------------------


def test_fields_begin_with_todays_rule_as_the_core_reads_it(pane, hotel):
    usual = house_rule_of(hotel.house, hotel.today())
    assert pane.fields.rule() == usual
    assert usual.minutes_by_weekday == (100.0,) * 5 + (0.0, 0.0)
    told = [label.text() for label, _field, _of in pane.fields._today]
    assert told == [
        str(usual.cycle_days),
        "no",
        "no",
        "no",
        "no",
        ring_text(usual.ring),
        str(usual.follow_ups),
        str(usual.follow_up_days),
        "100",
        "",
    ]
    assert not pane.back.isEnabled()


def test_each_field_changes_its_part_of_the_rule_and_nothing_else(pane):
    fields, usual = pane.fields, pane.fields.rule()
    fields.cycle.setValue(30)
    fields.cover.setChecked(True)
    fields.headboard.setChecked(True)
    fields.encased.setChecked(True)
    fields.traps.setChecked(True)
    fields.ring.setCurrentIndex(fields.ring.findText("none"))
    fields.follow_ups.setValue(2)
    fields.follow_up_days.setValue(10)
    fields.minutes.setValue(200)
    way = replace(usual.way, cover_opened=True, headboard_off=True, encased=True, traps=True)
    assert fields.rule() == replace(
        usual,
        cycle_days=30,
        way=way,
        ring=(),
        follow_ups=2,
        follow_up_days=10,
        minutes_by_weekday=(200.0,) * 5 + (0.0, 0.0),
    )
    assert pane.back.isEnabled()
    pane.back.click()
    assert fields.rule() == usual
    assert not pane.back.isEnabled()


def test_lifting_is_cautioned_where_it_is_tried(pane):
    assert "Lifting takes two people" in pane.mind.text()
    assert "Headboards" not in pane.mind.text()
    pane.fields.headboard.setChecked(True)
    assert "eadboard" in pane.mind.text()


def test_days_apart_mean_something_only_where_there_are_follow_ups(pane):
    pane.fields.follow_ups.setValue(0)
    assert not pane.fields.follow_up_days.isEnabled()
    pane.fields.follow_ups.setValue(1)
    assert pane.fields.follow_up_days.isEnabled()


def test_a_new_record_moves_fields_that_nobody_changed_and_keeps_the_others(pane, hotel, qtbot):
    def say_again(minutes):
        hotel.record(lambda _: [replace(PAIR, minutes=minutes)], action="test")
        pane.show_view(view_of(hotel))
        qtbot.waitUntil(lambda: pane._basis.wish is pane._wish, timeout=10_000)

    say_again(170)
    assert pane.fields.minutes.value() == 150
    pane.fields.minutes.setValue(90)
    say_again(220)
    assert pane.fields.minutes.value() == 90
    assert "200" in [label.text() for label, _field, _of in pane.fields._today]


def test_a_hotel_without_team_or_rooms_is_told_what_lacks(make_hotel, make_context, qtbot, went):
    for build, page, name in (
        (house(), "load_roster", "none"),
        (house().room("101").bed("A"), "rounds", "idle"),
    ):
        context = make_context(make_hotel(build, name), pages=("load_roster", "rounds"))
        pane = ComparePane(context)
        qtbot.addWidget(pane)
        pane.show_view(view_of(context.hotel))
        assert pane._panes.currentIndex() == LACKING
        pane.next_step.button.click()
        assert went(context) == [(page, None)]


# --- simulating ------------------------------------------------------------------------------


def test_a_run_shows_what_the_core_says_of_the_same_rules(pane, hotel, run):
    pane.fields.cycle.setValue(30)
    pane.fields.minutes.setValue(400)
    run(pane)
    result, tried = pane.result, pane.fields.rule()
    usual = house_rule_of(hotel.house, hotel.today())
    wish = SimulationWish(hotel.house, hotel.neighbours(), hotel.today(), usual, tried, years=100)
    told = simulated(wish)
    assert result.shown.told == told
    assert "a look every 30 days instead of" in result.of.text()
    assert "2,000 minutes a week instead of 500" in result.of.text()
    result.views.setCurrentIndex(TABLE)
    for place, stance in enumerate(Stance):
        result.stance.setCurrentIndex(place)
        shown = [row.cells for row in result.table.shown_rows()]
        assert shown == [measure_cells(row, stance) for row in told.rows]
    hours = told.row(Measure.HOURS).change[Stance.CENTRAL]
    assert hours.low > 0  # three times as many looks
    assert "hours of one person" in next(
        line for line in result.verdict.text().splitlines() if line.startswith("More by every")
    )
    assert change_text(hours) in result.details.text()
    rests = result.rests.text()
    assert "Simulated over 100 hotel-years under each rule, not observed." in rests
    assert "assumed" in rests
    assert "Left out: " in rests
    assert "takes today's figure as exact" in rests
    assert result.stale.isHidden()


def test_stopping_loses_neither_the_fields_nor_what_was_shown(pane, run, qtbot):
    pane.fields.cycle.setValue(30)
    run(pane)
    shown = pane.result.shown
    pane.fields.cycle.setValue(21)
    pane.fields.years.setValue(2000)
    rule = pane.fields.rule()
    pane.simulate.click()
    assert not pane.simulate.isEnabled()
    jobs = pane._context.jobs
    assert jobs.does_asked_work
    with qtbot.waitSignal(jobs.told, timeout=20_000):
        pass
    jobs.stop()
    qtbot.waitUntil(lambda: not pane.is_simulating, timeout=5_000)
    assert pane.result.shown is shown
    assert pane.fields.rule() == rule
    assert pane.simulate.isEnabled()
    assert "Stopped before it was done" in pane.state.text()
    assert "changed since" in pane.result.stale.text()


def test_what_is_shown_says_when_it_is_of_other_rules_or_another_record(pane, hotel, run, qtbot):
    pane.fields.cycle.setValue(30)
    run(pane)
    assert pane.result.stale.isHidden()
    pane.fields.cycle.setValue(31)
    assert pane.result.stale.isVisible()
    assert "a look every 30 days" in pane.result.of.text()
    pane.fields.cycle.setValue(30)
    assert pane.result.stale.isHidden()
    pane.fields.years.setValue(200)
    assert pane.result.stale.isVisible()
    pane.fields.years.setValue(100)
    hotel.record(lambda _: [replace(PAIR, minutes=500)], action="test")
    pane.show_view(view_of(hotel))
    qtbot.waitUntil(lambda: pane._basis.wish is pane._wish, timeout=10_000)
    assert pane.result.stale.isVisible()


def test_todays_rule_alone_has_a_table_and_no_drawing(pane, run):
    run(pane)
    result = pane.result
    assert "nothing was tried" in result.of.text()
    assert result.views.currentIndex() == TABLE
    assert not result.views.isTabEnabled(CHART)
    assert all(row.cells[2:] == ("–", "–") for row in result.table.shown_rows())
    pane.fields.traps.setChecked(True)
    run(pane)
    assert result.views.isTabEnabled(CHART)
    assert len(result.chart.groups) == len(DRAWN)


def test_it_runs_by_keys_alone_and_every_widget_has_a_name(pane, qtbot, run, nameless):
    assert nameless(pane) == []
    pane.fields.traps.setFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    assert pane.fields.rule().way.traps
    pane.simulate.setFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: not pane.is_simulating, timeout=60_000)
    assert "traps under the beds" in pane.result.of.text()
    for place in range(pane.result.views.count()):
        pane.result.views.setCurrentIndex(place)
        assert nameless(pane) == []


def test_the_page_has_the_pane_before_what_it_rests_on(make_window, hotel, qtbot):
    hotel.close()
    window = make_window((PageSpec("odds", "How sure", "odds", OddsPage),))
    assert window.open_path(hotel.path)
    window.stack.go_to("odds")
    page = window.stack.pages["odds"]
    qtbot.waitUntil(lambda: page._view is not None, timeout=10_000)
    titles = [page.tabs.tabText(place) for place in range(page.tabs.count())]
    assert titles.index("Compare rules") < titles.index("What it rests on") == len(titles) - 1
    page.tabs.setCurrentWidget(page.compare)
    qtbot.waitUntil(page.compare.simulate.isEnabled, timeout=10_000)
    assert page.compare._panes.currentIndex() == READY
    page.compare.fields.years.setValue(100)
    page.compare.simulate.click()
    assert window.jobs.does_asked_work
    qtbot.waitUntil(lambda: page.compare.result.shown is not None, timeout=60_000)


# --- the drawing -----------------------------------------------------------------------------


@pytest.fixture
def chart(qtbot):
    made = ChangeChart()
    qtbot.addWidget(made)
    made.resize(700, 460)
    made.show_groups(groups_of(comparison(hours=(20.0, 30.0), infested_nights=(-30.0, -20.0))))
    made.show()
    return made


def bar_pixels(chart, place):
    """x of pixels in a group's bars whose colour is the ink of a change."""
    image = QImage(chart.grab().toImage())
    inks = {LIGHT.accent, LIGHT.tones["asked"].ink}
    box = chart._box(place)
    return {
        x
        for y in range(int(box.top()) + 2, int(box.bottom()) - 2)
        for x in range(int(chart._left()), int(chart.width() - chart._right()))
        if image.pixelColor(x, y).name() in inks
    }


def test_less_lies_left_of_no_change_and_more_right_each_with_its_interval(chart):
    less, more = DRAWN.index(Measure.INFESTED_NIGHTS), DRAWN.index(Measure.HOURS)
    none = chart._x(0.0)
    assert chart._x(-1.0) < none < chart._x(1.0)
    lower, higher = bar_pixels(chart, less), bar_pixels(chart, more)
    assert max(lower) <= none + 2
    assert min(higher) >= none - 2
    # 20 to 30 of 50 are 40 to 60 %: so far the interval's ends lie apart
    assert min(lower) == pytest.approx(chart._x(-0.6), abs=3)
    assert max(higher) == pytest.approx(chart._x(0.6), abs=3)
    assert bar_pixels(chart, DRAWN.index(Measure.MONEY)) == set()  # can't be told: no such ink


def test_one_goes_from_measure_to_measure_by_keys_and_hears_the_numbers(chart, qtbot):
    chart.setFocus()
    for key, place in (
        (Qt.Key.Key_Down, 0),
        (Qt.Key.Key_Down, 1),
        (Qt.Key.Key_End, len(DRAWN) - 1),
        (Qt.Key.Key_Up, len(DRAWN) - 2),
        (Qt.Key.Key_Home, 0),
    ):
        qtbot.keyClick(chart, key)
        assert chart.accessibleDescription() == chart.groups[place].said
    assert "between 20 and 30 less" in chart.groups[0].said


def test_the_scale_has_a_step_on_both_sides_and_letters_do_not_meet(chart):
    for bounds in ((0.001, 0.002), (-0.6, 0.9), (0.0, 12.0), (-40.0, 0.0)):
        share = Estimate(sum(bounds) / 2, *bounds)
        bars = tuple(ChangeBar(stance, share) for stance in Stance)
        chart.show_groups((ChangeGroup("Hours", bars, "said"),))
        levels = list(chart._levels())
        assert levels[0] < 0 < levels[-1]
        assert min(abs(level) for level in levels) == 0
        apart = chart._x(levels[1]) - chart._x(levels[0])
        assert apart > chart.fontMetrics().horizontalAdvance("no change") * 0.9
        chart.grab()


def test_where_it_is_narrow_names_stand_above_and_bars_keep_their_room(chart):
    beside = chart.minimumSizeHint().height()
    chart.resize(chart.minimumSizeHint().width(), 460)
    line = chart.fontMetrics().height()
    assert chart.minimumSizeHint().height() == beside + len(DRAWN) * line
    assert chart._x(chart._span()[1]) - chart._x(chart._span()[0]) >= 159
    assert max(bar_pixels(chart, DRAWN.index(Measure.INFESTED_NIGHTS))) <= chart._x(0.0) + 2


def test_what_is_none_today_has_no_bar_and_no_share():
    told = comparison()
    rows = tuple(
        row((1, 2), (1, 2), (1, 2), usual=0.0, measure=one.measure) if one.change else one
        for one in told.rows
    )
    for group in groups_of(replace(told, rows=rows)):
        assert [bar.share for bar in group.bars] == [None] * 3
        assert percent_change_text(None) == "none today"


# --- words -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        (((-3, -1), (-2, -1), (-5, -4)), Verdict.LESS),
        (((1, 3), (1, 2), (4, 5)), Verdict.MORE),
        (((-1, 3), (-1, 2), (-4, 5)), Verdict.UNTOLD),
        (((0, 3), (0, 0), (-4, 0)), Verdict.UNTOLD),
        (((-3, -1), (-1, 1), (-5, -4)), Verdict.DIFFER),
        (((-3, -1), (1, 2), (-5, -4)), Verdict.DIFFER),
    ],
)
def test_only_what_every_setting_says_is_told_as_the_hotels(changes, verdict):
    assert verdict_of(row(*changes)) is verdict


def test_what_cannot_be_told_from_nothing_is_said_so():
    said = list(verdict_lines(comparison(hours=(20.0, 30.0))))
    assert said[0] == "More by every setting: hours of one person."
    assert said[1].startswith("Can't be told from no change: room nights with insects")
    assert "more hotel-years may tell" in said[1]
    assert not CERTAIN.search(" ".join(said))


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (Estimate(-0.24, -0.4, -0.1), "−24 %"),
        (Estimate(1.5, 1.2, 1.8), "+150 %"),
        (Estimate(0.1, -0.1, 0.3), "can't tell"),
        (Estimate(0.002, 0.001, 0.003), "under 1 %"),
    ],
)
def test_a_change_in_percent_is_told_only_where_it_shows(share, said):
    assert percent_change_text(share) == said


def test_what_is_tried_is_said_by_what_differs():
    usual = house_rule()
    tried = replace(
        usual,
        cycle_days=30,
        way=replace(usual.way, cover_opened=False, encased=True),
        ring=RINGS["walls"],
        follow_ups=0,
    )
    assert tried_text(usual, tried) == (
        "Tried: a look every 30 days instead of 90 days; all beds encased; dust covers left"
        " closed; neighbours of a find: by wall or door instead of all kinds; follow-ups: none"
        " instead of 4, 7 days apart."
    )
    assert ring_text((Kind.ABOVE,)) == "1 kind"


def test_minutes_of_a_working_day_keep_the_week_as_it_is():
    usual = house_rule(minutes_by_weekday=(100.0, 200.0, 0.0, 0.0, 0.0, 0.0, 0.0))
    assert minutes_a_day(usual) == 150
    assert with_minutes_a_day(usual, 150) is usual
    assert with_minutes_a_day(usual, 300).minutes_by_weekday == (200.0, 400.0, 0, 0, 0, 0, 0)
    idle = replace(usual, minutes_by_weekday=(0.0,) * 7)
    assert minutes_a_day(idle) == 0
    assert with_minutes_a_day(idle, 60).minutes_by_weekday == (60.0,) * 7
