"""The filter of odds against simulated rooms, and both against a textbook forward algorithm."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
from scipy import stats

from hotelwatch.core.odds.record import Looked, RoomRecord, Told
from hotelwatch.core.odds.room import Tables, room_odds
from hotelwatch.core.odds.settings import setting_of
from hotelwatch.core.odds.simulation.calibration import (
    calibration,
    calibration_rows,
    drawn_rooms,
    exact_interval,
    simulated_records,
)
from hotelwatch.core.odds_figures import PLACES, Stance
from tests.build import rules
from tests.core.simulations import odds


def central(**figures):
    return setting_of(odds(**figures), Stance.CENTRAL)


def look(setting, key="deep_full"):
    return setting.look(rules().odds.looks[key])


def forward(setting, chances, looks, days, aged):
    """The textbook forward algorithm on (free, place, age in days): a vector moved day by day."""
    curve = setting.growth

    def insects(age):
        if age >= curve.days[-1]:
            return min(
                curve.insects[-1] * np.exp(min(curve.rate * (age - curve.days[-1]), 20)),
                setting.most_insects,
            )
        return float(np.exp(np.interp(age, curve.days, np.log(curve.insects))))

    free, there = 1.0, np.zeros((len(PLACES), days))
    for day in range(days):
        there[:, 1:] = there[:, :-1].copy()
        there[:, 0] = free * chances[day] * np.array(setting.shares)
        free *= 1.0 - chances[day]
        if day in looks:
            seen = looks[day]
            number = np.array([insects(age * aged) for age in range(days)])
            mean = float(np.dot(setting.shares, seen.seen))
            for place in range(len(PLACES)):
                part = (1 - setting.away_share) * seen.seen[place] + setting.away_share * mean
                effort = number * seen.notice * part
                missed = 1 - setting.highest_chance * (1 - (1 + effort) ** -1.0)
                there[place] *= missed
        total = free + there.sum()
        free, there = free / total, there / total
    return there.sum()


def test_a_million_rooms_come_out_as_the_forward_algorithm_says():
    setting = central(introductions_per_room_year=0.05)
    days, deep = 200, look(setting)
    closed = look(setting, "deep_closed")
    arrivals = np.full(days, setting.stays_per_day)
    record = RoomRecord(
        arrivals=arrivals,
        let=np.full(days, setting.growth.let_share),
        evidence=(Looked(99, deep), Looked(150, closed), Looked(170, deep)),
    )
    drawn = drawn_rooms(record, setting, rooms=1_000_000, rng=np.random.default_rng(1))
    chance = 1 - (1 - setting.introductions_per_stay) ** setting.stays_per_day
    told = forward(setting, [chance] * days, {99: deep, 150: closed, 170: deep}, days, 1.0)
    z = (drawn.infested - told * drawn.clean) / sqrt(drawn.clean * told * (1 - told))
    assert drawn.infested > 2000
    assert abs(z) < 3
    assert room_odds(record, Tables(setting)).chance == pytest.approx(told, rel=2e-3)
    assert drawn.ages.max() < days
    assert drawn.ages.mean() == pytest.approx(
        room_odds(record, Tables(setting)).since_chances @ (days - 1 - np.arange(days)), rel=0.03
    )


def calibrated(true, told, *, seed, bins=8):
    """Rows of rooms whose truth follows one setting and whose odds are told with another."""
    rng = np.random.default_rng(seed)
    records = simulated_records(true, look(true), rooms=300, days=540, rng=rng)
    tables, chances, clean, infested = Tables(told), [], [], []
    for record in records:
        drawn = drawn_rooms(record, true, rooms=400, rng=rng)
        chances.append(room_odds(record, tables).chance)
        clean.append(drawn.clean)
        infested.append(drawn.infested)
    return calibration_rows(chances, infested, rooms=clean, bins=bins)


@pytest.mark.parametrize("seed", [1, 2])
def test_odds_come_true_in_simulated_rooms(seed):
    setting = central(introductions_per_room_year=0.1)
    rows = calibrated(setting, setting, seed=seed)
    assert len(rows) == 8
    assert sum(row.rooms for row in rows) > 100_000
    assert rows[-1].told > 2 * rows[0].told
    assert all(abs(row.z) < 3 for row in rows)
    assert abs(sum(row.z for row in rows)) / sqrt(len(rows)) < 3
    assert sum(row.low <= row.told <= row.high for row in rows) >= 6


def test_odds_that_rest_on_wrong_figures_show():
    setting = central(introductions_per_room_year=0.1)
    told = replace(setting, introductions_per_stay=setting.introductions_per_stay / 2)
    rows = calibrated(setting, told, seed=3)
    assert all(row.seen > row.told for row in rows)
    assert max(row.z for row in rows) > 5


@pytest.mark.parametrize("stance", Stance)
def test_shipped_figures_come_true_in_each_stance(stance):
    shares = []
    rows = calibration(rules().odds, stance, progress=lambda share, step: shares.append(share))
    assert shares[-1] == 1.0
    assert len(rows) == 10
    told = sum(row.told * row.rooms for row in rows)
    seen = sum(row.seen * row.rooms for row in rows)
    assert abs(seen - told) < 3 * sqrt(told)
    assert sum(row.z**2 for row in rows) < stats.chi2.ppf(0.999, 10)


def test_rooms_of_the_same_odds_may_come_together():
    single = calibration_rows(np.repeat([0.125, 0.25], 10), np.arange(20) % 5 == 0, bins=2)
    assert single == calibration_rows([0.125, 0.25], [2, 2], rooms=[10, 10], bins=2)


def test_only_looks_are_drawn():
    setting = central()
    record = RoomRecord(arrivals=np.ones(3), let=np.ones(3), evidence=(Told(1, 3.0),))
    with pytest.raises(TypeError):
        drawn_rooms(record, setting, rooms=5, rng=np.random.default_rng(1))


def test_the_exact_interval_is_the_published_one():
    # 25 of 200, Clopper and Pearson: .082552 to .178974 (public test set of a survey package).
    assert exact_interval(25, 200) == pytest.approx((0.082552, 0.178974), abs=1e-6)
    assert exact_interval(0, 50) == pytest.approx((0.0, 1 - 0.025 ** (1 / 50)))
    assert exact_interval(50, 50) == pytest.approx((0.025 ** (1 / 50), 1.0))


@pytest.mark.parametrize(("hits", "number"), [(1, 9), (7, 7000), (300, 50_000), (12, 13)])
def test_the_exact_interval_is_that_of_scipy(hits, number):
    told = stats.binomtest(hits, number).proportion_ci(0.95, method="exact")
    assert exact_interval(hits, number) == pytest.approx((told.low, told.high), rel=1e-7)


def test_rows_are_of_equally_many_rooms_by_their_odds():
    chances = np.linspace(0.01, 0.5, 103)
    rows = calibration_rows(chances, chances > 0.3, bins=5)
    assert sum(row.rooms for row in rows) == 103
    assert {row.rooms for row in rows} == {20, 21}
    assert [row.told for row in rows] == sorted(row.told for row in rows)
    assert rows[0].seen == 0.0
    assert rows[-1].seen == 1.0
    first = chances[: rows[0].rooms]
    assert rows[0].z == pytest.approx(-first.sum() / sqrt((first * (1 - first)).sum()))
