"""Doses of heat and cold against published times, and logs as loggers write them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.lethal.curves import curves_of, thinned
from hotelwatch.core.lethal.dose import LifeKind, Method, dose_of, minutes_to_kill
from hotelwatch.core.lethal.probes import Probe, worth_of
from hotelwatch.core.lethal.verdict import verdict_of
from tests.build import rules

FIGURES = rules().figures
BEGINS = datetime(2026, 3, 9, 8, tzinfo=UTC)
HOUR = 60


def kill(celsius, kind=LifeKind.EGGS, method=Method.HEAT):
    return minutes_to_kill(celsius, FIGURES, method=method, kind=kind)


def probe(name, celsius, place="mattress_core", step=1.0):
    """A probe with a reading every ``step`` minutes."""
    minutes = tuple(step * number for number in range(len(celsius)))
    return Probe(name, place, BEGINS, minutes, tuple(float(c) for c in celsius))


def steady(name, celsius, minutes, place="mattress_core"):
    return probe(name, [celsius] * (minutes + 1), place)


def heat(*probes, species="common"):
    return verdict_of(probes, FIGURES, method=Method.HEAT, species=species)


def codes(verdict):
    return [lack.code for lack in verdict.lacks]


# Source: 71.5 min at 48 °C (eggs) and 94.8 min at 45 °C (adults): Kells and Goblirsch 2011,
# Insects 2:412-422. The other rows follow by 3.9 °C (eggs) and 4 °C (adults, Pereira et al.
# 2009, J Econ Entomol 102:1182-1188) for each tenfold.
@pytest.mark.parametrize(
    ("celsius", "eggs", "adults"),
    [
        (45, 420, 94.8),
        (46, 233, 53.3),
        (47, 129, 30.0),
        (48, 71.5, 16.9),
        (49, 39.6, 9.5),
        (50, 22.0, 5.3),
        (52, 6.7, 1.7),
        (55, 1.2, 0.3),
    ],
)
def test_minutes_that_kill_follow_the_published_pairs(celsius, eggs, adults):
    assert kill(celsius) == pytest.approx(eggs, rel=0.05)
    assert kill(celsius, LifeKind.ADULTS) == pytest.approx(adults, rel=0.06)


# Source: acute temperatures, 54.8 °C for eggs and 48.3 °C for adults: Kells and Goblirsch
# 2011. An acute ramp leaves minutes, not hours, at the top.
def test_the_acute_temperatures_kill_within_minutes():
    assert kill(54.8) < 2
    assert kill(48.3, LifeKind.ADULTS) < 16


# Worked example: 60/420 + 60/129 + 30/39.6.
def test_a_dose_adds_up_over_temperatures():
    assert dose_of([(60, 45), (60, 47), (30, 49)], FIGURES) == pytest.approx(1.36, abs=0.01)
    assert dose_of([(71.5, 48)], FIGURES) == pytest.approx(1.0)


# Source: 80 h at -16 °C and 48 h at -20 °C: Olson et al. 2013, J Econ Entomol
# 106:2433-2441 (press copies); 64 h at -17.8 °C and 62 h at -18 °C lie between them.
@pytest.mark.parametrize(("celsius", "hours"), [(-16, 80), (-20, 48), (-17.8, 64), (-18, 62)])
def test_cold_takes_the_published_hours(celsius, hours):
    assert kill(celsius, method=Method.COLD) / HOUR == pytest.approx(hours, rel=0.01)


def test_nothing_is_credited_beyond_what_was_measured():
    assert dose_of([(600, 43.9)], FIGURES) == 0
    assert dose_of([(600, 40.9)], FIGURES, kind=LifeKind.ADULTS) == 0
    assert dose_of([(1, 80)], FIGURES) == dose_of([(1, 55)], FIGURES)
    assert dose_of([(6000, -12.9)], FIGURES, method=Method.COLD) == 0
    assert kill(-40, method=Method.COLD) == kill(-20, method=Method.COLD)


@given(st.lists(st.tuples(st.floats(0, 500), st.floats(20, 70)), max_size=8), st.floats(0, 10))
def test_more_heat_never_lessens_a_dose(spans, more):
    warmer = [(minutes, celsius + more) for minutes, celsius in spans]
    assert dose_of(warmer, FIGURES) >= dose_of(spans, FIGURES) - 1e-9
    longer = [*spans, (more, 48)]
    assert dose_of(longer, FIGURES) >= dose_of(spans, FIGURES)


# --- logs ---------------------------------------------------------------------------------------


def test_the_coldest_probe_decides_and_its_minutes_are_named():
    found = heat(steady("A", 52, 120), steady("B", 48, 120, "base_inside"), steady("C", 55, 120))
    assert found.deciding.probe.name == "B"
    # 120 min at 48 °C are 1.68 times the 71.5 min; twice them is asked: 23 min are missing.
    assert found.deciding.dose_eggs == pytest.approx(120 / 71.5)
    assert codes(found) == ["minutes_short"]
    assert found.lacks[0].values == {"probe": "B", "minutes": 23, "celsius": 48}
    assert not found.is_reached
    assert heat(steady("A", 52, 120), steady("B", 48, 143, "base_inside")).is_reached


def test_without_a_probe_in_a_core_the_log_is_not_enough():
    found = heat(steady("A", 55, 240, "air"), steady("B", 55, 240, "headboard"))
    assert codes(found) == ["no_core_probe"]
    assert not found.is_reached
    assert codes(heat()) == ["no_probe"]


def test_credit_is_refused_below_the_floor_and_the_log_says_so():
    found = heat(steady("A", 43, 600))
    assert codes(found) == ["never_lethal"]
    assert found.deciding.dose_eggs == 0
    warming = heat(probe("A", [40] * 61 + [48] * 61))
    assert [lack.code for lack in warming.lacks] == ["minutes_short", "refused"]
    assert warming.lacks[1].values["minutes"] == 61


def test_a_gap_is_credited_with_nothing():
    minutes = (0.0, 1.0, 2.0, 90.0, 91.0)
    gappy = Probe("A", "mattress_core", BEGINS, minutes, (55.0,) * 5)
    worth = worth_of(gappy, (), FIGURES, Method.HEAT)
    assert worth.gaps == ((2.0, 88.0),)
    assert sum(span[0] for span in worth.spans) == 3
    found = heat(gappy)
    gap = next(lack for lack in found.lacks if lack.code == "gap")
    assert gap.values["at"] == BEGINS + timedelta(minutes=2)


def test_a_probe_that_fell_off_counts_only_until_it_fell():
    hot = [50.0] * 121
    fallen = [50.0] * 30 + [62.0] * 91
    found = heat(probe("A", fallen), probe("B", hot), probe("C", hot), probe("D", hot))
    one = next(p for p in found.probes if p.probe.name == "A")
    assert one.worth.fell_off_at == 29
    assert sum(span[0] for span in one.worth.spans) == 29
    assert "fell_off" in codes(found)
    # A door opened cools all of them alike: nobody fell.
    opened = [50.0] * 30 + [40.0] * 5 + [50.0] * 86
    alike = heat(*(probe(name, opened) for name in "ABCD"))
    assert "fell_off" not in codes(alike)
    # With one other probe alone nobody can tell which of them moved.
    assert "fell_off" not in codes(heat(probe("A", fallen), probe("B", hot)))


def test_a_stuck_probe_counts_only_until_it_stuck():
    rising = [20 + number * 0.3 for number in range(121)]
    stuck = rising[:90] + [rising[90]] * 31
    long_stuck = rising[:50] + [rising[50]] * 71
    fine = heat(probe("A", stuck), probe("B", rising), probe("C", rising))
    assert "stuck" not in codes(fine)
    found = heat(probe("A", long_stuck), probe("B", rising), probe("C", rising))
    lack = next(lack for lack in found.lacks if lack.code == "stuck")
    assert lack.values["at"] == BEGINS + timedelta(minutes=50)


def test_between_two_readings_the_worse_one_counts():
    heated = worth_of(probe("A", [40, 60], step=10), (), FIGURES, Method.HEAT)
    assert heated.spans == ((10.0, 40.0),)
    cooled = worth_of(probe("A", [-10, -20], step=10), (), FIGURES, Method.COLD)
    assert cooled.spans == ((10.0, -10.0),)


# Source: practice of 50 °C for 90 minutes at every probe: common practice, no source.
def test_the_plain_rule_stands_beside_the_dose():
    found = heat(probe("A", [49] * 30 + [51] * 100 + [49] * 5 + [51] * 40))
    assert found.deciding.plain_minutes == 99


def test_a_freezer_needs_its_days_at_the_core():
    log = [probe("A", [-18.0] * (62 * 6 + 1), "item_core", step=10)]
    found = verdict_of(log, FIGURES, method=Method.COLD)
    assert found.deciding.dose_eggs == pytest.approx(1.0, rel=0.01)
    short = verdict_of(
        [probe("A", [-18.0] * (48 * 6), "item_core", step=10)], FIGURES, method=Method.COLD
    )
    assert codes(short) == ["minutes_short"]
    assert short.lacks[0].values["minutes"] / HOUR == pytest.approx(14, abs=0.5)


def test_for_the_tropical_species_nothing_is_concluded():
    found = heat(steady("A", 55, 300), species="tropical")
    assert codes(found) == ["species_unknown"]
    assert not found.is_reached
    assert not found.is_known


# --- as lines ---------------------------------------------------------------------------------


def test_lines_begin_with_the_first_reading_and_the_deciding_probe_is_a():
    late = Probe("B", "base_inside", BEGINS + timedelta(minutes=5), (0.0, 60.0), (48.0, 48.0))
    found = heat(steady("A", 55, 30), probe("B", [48] * 61, "base_inside"))
    lines = curves_of(found, FIGURES)
    assert [(line.letter, line.name) for line in lines.curves] == [("A", "B"), ("B", "A")]
    assert lines.dose[0] == (0.0, 0.0)
    assert lines.dose[-1] == (60.0, pytest.approx(60 / 71.5))
    assert lines.dose_at(30.5) == pytest.approx(30 / 71.5)
    assert lines.row_at(30).celsius == (48, 55)
    assert lines.row_at(60).celsius == (48, None)
    assert [(floor.whose, floor.celsius) for floor in lines.floors] == [
        ("eggs", 44),
        ("adults", 41),
    ]
    shifted = curves_of(heat(steady("A", 55, 30), late), FIGURES)
    assert shifted.begins_at == BEGINS
    assert next(line for line in shifted.curves if line.name == "B").minutes == (5.0, 65.0)
    assert len(lines.rows()) == 61
    assert curves_of(heat(), FIGURES) is None


def test_a_line_breaks_at_a_gap_and_says_from_when_it_does_not_count():
    gappy = Probe("A", "mattress_core", BEGINS, (0.0, 1.0, 90.0, 91.0), (55.0,) * 4)
    (line,) = curves_of(heat(gappy), FIGURES).curves
    assert line.parts() == (((0.0, 55.0), (1.0, 55.0)), ((90.0, 55.0), (91.0, 55.0)))
    assert line.at(50) is None
    hot = [50.0] * 121
    fallen = probe("A", [50.0] * 30 + [62.0] * 91)
    lines = curves_of(heat(fallen, probe("B", hot), probe("C", hot)), FIGURES)
    assert next(line for line in lines.curves if line.name == "A").not_counted_from == 29
    assert curves_of(heat(steady("A", 55, 30), species="tropical"), FIGURES).dose == ()


@given(st.lists(st.floats(-50, 150), min_size=1, max_size=400), st.integers(1, 50))
def test_a_thinned_line_keeps_its_ends_tops_and_bottoms(celsius, most):
    points = [(float(minute), value) for minute, value in enumerate(celsius)]
    kept = thinned(points, most)
    assert set(kept) <= set(points)
    assert list(kept) == sorted(kept)
    assert (kept[0], kept[-1]) == (points[0], points[-1])
    assert max(v for _, v in kept) == max(celsius)
    assert min(v for _, v in kept) == min(celsius)
    assert len(kept) <= max(2 * most, 4 * (most + 1))
