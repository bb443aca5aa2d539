"""The simulated hotel: same seed same figures, paired rules, and what must hold whatever comes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hotelwatch.core.odds.simulation import run
from hotelwatch.core.odds.simulation.measures import Measure, OfFinds
from hotelwatch.core.odds.simulation.policies import RINGS
from hotelwatch.core.odds.simulation.results import apart, comparison_of, difference
from hotelwatch.core.odds.simulation.run import simulate
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.progress import Stopped
from tests.core.simulations import AMPLE, house_rule, simulation

MANY = {"introductions_per_room_year": 0.1}
CENTRAL = Stance.CENTRAL


def same(one, other):
    return all(np.array_equal(one.by_measure[m], other.by_measure[m]) for m in Measure)


def test_the_same_seed_gives_the_same_figures_in_any_company_and_order():
    a, b = house_rule(), house_rule(cycle_days=45, minutes_by_weekday=AMPLE)
    both = simulate(simulation(a, b, rooms=40, years=6, figures=MANY))
    turned = simulate(simulation(b, a, rooms=40, years=6, figures=MANY))
    alone = simulate(simulation(b, rooms=40, years=6, figures=MANY))
    assert same(both.of(0, CENTRAL), turned.of(1, CENTRAL))
    assert same(both.of(1, CENTRAL), turned.of(0, CENTRAL))
    assert same(both.of(1, CENTRAL), alone.of(0, CENTRAL))
    other = simulate(simulation(a, rooms=40, years=6, seed=2, figures=MANY))
    assert not same(both.of(0, CENTRAL), other.of(0, CENTRAL))


def test_how_many_years_run_together_changes_nothing(monkeypatch):
    plan = simulation(rooms=40, years=7, figures=MANY)
    whole = simulate(plan).of(0, CENTRAL)
    monkeypatch.setattr(run, "ROOMS_AT_ONCE", 80)
    pieces = simulate(plan).of(0, CENTRAL)
    assert same(whole, pieces)
    assert sorted(zip(whole.found_in, whole.nights, strict=True)) == sorted(
        zip(pieces.found_in, pieces.nights, strict=True)
    )
    fewer = simulate(replace(plan, years=4)).of(0, CENTRAL)
    assert np.array_equal(fewer.by_measure[Measure.MONEY], whole.by_measure[Measure.MONEY][:4])


@pytest.mark.parametrize(
    "change",
    [
        {"cycle_days": 75},
        {"ring": RINGS["none"]},
        {"follow_ups": 2},
        {"follow_up_days": 14},
    ],
)
def test_on_the_same_luck_a_difference_is_known_better(change):
    usual = house_rule(minutes_by_weekday=AMPLE)
    plan = simulation(usual, replace(usual, **change), years=150, figures=MANY)
    found = simulate(plan)
    usual, tried = found.of(0, CENTRAL), found.of(1, CENTRAL)
    paired = difference(tried, usual, Measure.INFESTED_NIGHTS)
    unpaired = apart(tried, usual, Measure.INFESTED_NIGHTS)
    assert paired.value == pytest.approx(unpaired.value)
    assert paired.high - paired.low < 0.75 * (unpaired.high - unpaired.low)


def test_a_rule_compared_with_itself_differs_in_nothing():
    found = simulate(simulation(house_rule(), house_rule(), rooms=60, years=20, figures=MANY))
    for measure in Measure:
        told = difference(found.of(0, CENTRAL), found.of(1, CENTRAL), measure)
        assert (told.value, told.low, told.high) == (0.0, 0.0, 0.0)


def test_without_introductions_there_is_only_work():
    plan = simulation(rooms=60, years=5, figures={"introductions_per_room_year": 0.0})
    found = simulate(plan).of(0, CENTRAL)
    work = {Measure.HOURS, Measure.MONEY, Measure.LOOKS}
    assert all(found.mean(measure).value == 0 for measure in set(Measure) - work)
    assert all(found.mean(measure).value > 0 for measure in work)
    assert found.insects_at_find(0.5) is None
    assert found.nights_unfound() is None
    # The rule of three (J. A. Hanley, A. Lippman-Hand, JAMA 249 (1983) 1743-1745, from memory).
    assert found.mean(Measure.FINDS).high == pytest.approx(3 / 5)
    assert found.mean(Measure.FOUND_BY_TRAPS).high == 0.0


def test_looks_follow_the_cycle_where_minutes_are_ample():
    rule = house_rule(minutes_by_weekday=AMPLE, early_share=0.0)
    plan = simulation(rule, years=20, nights=1.0, figures={"introductions_per_room_year": 0.0})
    looks = simulate(plan).of(0, CENTRAL).mean(Measure.LOOKS).value
    # Every room opens every day with stays of one night: 365 / 90 looks a room, exactly in turn.
    assert looks == pytest.approx(200 * 365 / 90, rel=0.005)


def test_minutes_are_kept_and_hours_and_money_follow_from_them():
    plan = simulation(years=5, figures={"introductions_per_room_year": 0.0})
    rule, found = plan.rules[0], simulate(plan).of(0, CENTRAL)
    days = sum(rule.minutes_by_weekday[day % 7] > 0 for day in range(364, 729))
    most = days * max(rule.minutes_by_weekday) * 2 / 60
    hours = found.by_measure[Measure.HOURS]
    assert (hours <= most).all()
    assert (hours > 0.7 * most).all()
    assert np.allclose(found.by_measure[Measure.MONEY], hours * 25)


def test_stances_stand_in_their_order():
    plan = simulation(years=60, stances=tuple(Stance))
    found = simulate(plan)
    nights = [
        found.of(0, stance).mean(Measure.INFESTED_NIGHTS).value
        for stance in (Stance.OPTIMISTIC, Stance.CENTRAL, Stance.CAUTIOUS)
    ]
    assert nights == sorted(nights)
    assert nights[0] < nights[2] / 4


@pytest.mark.parametrize(
    ("tried", "fewer"),
    [
        ({"cycle_days": 30}, Measure.INFESTED_NIGHTS),
        ({"way_traps": True}, Measure.GUESTS_EXPOSED),
        ({"ring": RINGS["all"]}, Measure.INFESTED_NIGHTS),
        ({"follow_ups": 1}, Measure.NIGHTS_LOST),
    ],
)
def test_what_more_looking_brings_shows_beyond_chance(tried, fewer):
    usual = house_rule(minutes_by_weekday=AMPLE, ring=RINGS["none"])
    changes = dict(tried)
    if changes.pop("way_traps", False):
        changes["way"] = replace(usual.way, traps=True)
    plan = simulation(
        usual, replace(usual, **changes), years=150, figures={**MANY, "spread_side": 0.02}
    )
    found = simulate(plan)
    assert difference(found.of(1, CENTRAL), found.of(0, CENTRAL), fewer).high < 0


def test_progress_is_told_of_every_day_and_stops_at_once():
    told = []

    def watch(share, step):
        told.append((share, step))
        if share > 0.5:
            raise Stopped

    with pytest.raises(Stopped):
        simulate(simulation(rooms=20, years=3), watch)
    shares = [share for share, _ in told]
    assert {step for _, step in told} == {"simulating"}
    assert shares == sorted(shares)
    assert 0.5 < shares[-1] < 0.51
    assert len(told) == pytest.approx((729 + 6) / 2, abs=2)


def test_rows_have_what_each_outcome_says():
    usual, tried = house_rule(), house_rule(cycle_days=45, minutes_by_weekday=AMPLE)
    plan = simulation(usual, tried, rooms=60, years=20, figures=MANY, stances=tuple(Stance))
    outcomes = simulate(plan).outcomes
    told = comparison_of(outcomes, plan.stances, tried=True)
    assert told.years == 20
    assert [row.measure for row in told.rows] == [*Measure, *OfFinds]
    for stance in Stance:
        one, other = outcomes[0, stance], outcomes[1, stance]
        row = told.row(Measure.MONEY)
        assert row.usual[stance] == one.mean(Measure.MONEY)
        assert row.tried[stance] == other.mean(Measure.MONEY)
        assert row.change[stance] == difference(other, one, Measure.MONEY)
        assert told.row(OfFinds.MANY_INSECTS).tried[stance] == other.insects_at_find(0.9)
    alone = comparison_of(outcomes, plan.stances, tried=False)
    assert all(not row.tried and not row.change for row in alone.rows)


def test_every_find_has_its_insects_nights_and_hotel_year():
    found = simulate(simulation(rooms=100, years=30, figures=MANY)).of(0, CENTRAL)
    finds = found.by_measure[Measure.FINDS]
    assert len(found.insects) == len(found.nights) == len(found.found_in) == finds.sum()
    assert np.array_equal(np.bincount(found.found_in, minlength=30), finds)
    assert (found.insects >= 1).all()
    middle, many = found.insects_at_find(0.5), found.insects_at_find(0.9)
    assert middle.low <= middle.value <= middle.high
    assert middle.value == np.sort(found.insects)[(len(found.insects) + 1) // 2 - 1]
    assert many.value > middle.value
