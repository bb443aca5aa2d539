"""Draws, guests, hotels and rounds of the simulation, each for itself."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from scipy import stats

from hotelwatch.core.building.neighbours import Kind, Neighbour, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.simulation.draws import mixed, uniform, waiting, year_key
from hotelwatch.core.odds.simulation.hotel import (
    NOBODY,
    bits_of,
    corridor_hotel,
    hotel_of,
    neighbour_table,
    spread_chances,
)
from hotelwatch.core.odds.simulation.lets import (
    ARRIVES,
    STAYS_OVER,
    VACANT,
    introductions_of,
    nights_of,
    own_pattern,
    usual_pattern,
)
from hotelwatch.core.odds.simulation.policies import house_rule_of
from hotelwatch.core.odds.simulation.results import mean_of, quantile_of
from hotelwatch.core.odds.simulation.rounds import Rounds
from hotelwatch.core.records import Stay
from tests.build import day, house, rules
from tests.core.simulations import house_rule

# --- draws -------------------------------------------------------------------------------


def test_keys_are_mixed_as_published():
    # First outputs of the generator of Steele, Lea, Flood 2014, seeds 0 and 1234567, from memory.
    assert [f"{x:016x}" for x in mixed(np.uint64(0), np.arange(3)).tolist()] == [
        "e220a8397b1dcdaf",
        "6e789e6aa1b965f4",
        "06c45d188009454f",
    ]
    assert mixed(np.uint64(1234567), np.arange(2)).tolist() == [
        6457827717110365317,
        3203168211198807973,
    ]


def test_draws_of_neighbouring_keys_and_purposes_are_even_and_apart():
    keys = mixed(year_key(3, 4), np.arange(40_000))
    first, second = uniform(keys, 0), uniform(keys, 1)
    assert stats.kstest(first, "uniform").pvalue > 1e-3
    assert stats.kstest(second, "uniform").pvalue > 1e-3
    assert stats.kstest(waiting(keys, 2), "expon").pvalue > 1e-3
    assert abs(np.corrcoef(first, second)[0, 1]) < 3.5 / 200
    assert abs(np.corrcoef(first[1:], first[:-1])[0, 1]) < 3.5 / 200


# --- guests ------------------------------------------------------------------------------


@pytest.mark.parametrize(("let", "mean"), [(0.64, 2.0), (0.9, 3.5), (1.0, 1.0)])
def test_nights_keep_share_and_length(let, mean):
    pattern = usual_pattern(let, mean)
    assert pattern.let_share == pytest.approx(let, abs=0.001)
    assert pattern.nights.mean() == pytest.approx(mean, rel=0.001)
    nights = nights_of(pattern, 200, 730, seed=5, year=0)
    assert nights.shape == (200, 730)
    # Stays of one room are independent: the share scatters like 47,000 stays.
    assert (nights != VACANT).mean() == pytest.approx(let, abs=0.006)
    assert (nights == ARRIVES).mean() == pytest.approx(let / mean, rel=0.02)
    # Nobody stays over where nobody was.
    later = nights[:, 1:] == STAYS_OVER
    assert (nights[:, :-1][later] != VACANT).all()


def test_the_hotels_own_stays_give_their_lengths_and_gaps():
    stays, at = [], dict.fromkeys(range(10), 0)
    rng = np.random.default_rng(1)
    for number in range(600):
        room = number % 10
        length, gap = int(rng.choice([1, 2, 7])), int(rng.choice([0, 0, 3]))
        stays.append(Stay(f"b{number}", f"{room}", "", day(at[room]), day(at[room] + length)))
        at[room] += length + gap
    pattern = own_pattern(stays)
    assert pattern.is_own
    lengths = [(s.leaves_on - s.arrives_on) / timedelta(days=1) for s in stays]
    assert pattern.nights.mean() == pytest.approx(np.mean(lengths), abs=0.01)
    assert set(pattern.nights.tolist()) == {1, 2, 7}
    assert set(pattern.gaps.tolist()) == {0, 3}
    assert own_pattern(stays[:50]) is None


def test_guests_bring_in_as_many_as_the_chance_says():
    pattern = usual_pattern(0.64, 2.0)
    found = arrivals = 0
    for year in range(40):
        nights = nights_of(pattern, 100, 365, seed=1, year=year).T
        days, rooms = introductions_of(nights, 0.002, seed=1, year=year)
        assert (nights[days, rooms] == ARRIVES).all()
        assert (np.diff(days) >= 0).all()
        found += len(days)
        arrivals += np.count_nonzero(nights == ARRIVES)
    assert abs(found - 0.002 * arrivals) < 3.5 * np.sqrt(0.002 * arrivals)


# --- hotels ------------------------------------------------------------------------------


def test_a_house_becomes_arrays_with_its_neighbours():
    built = house().floors("1", "2")
    for floor in ("1", "2"):
        for number in range(3):
            built.room(f"{floor}0{number}", floor=floor).bed("A").bed("B", encased=True)
    found = neighbours(built.house, lay_out(built.house))
    hotel = hotel_of(built.house, found)
    assert hotel.rooms == tuple(built.house.rooms)
    assert hotel.corridor.tolist() == [0, 0, 0, 1, 1, 1]
    kinds = built.house.rules.bed_kinds["box_spring"]
    assert hotel.beds_minutes[0] == kinds.minutes_of(encased=False) + kinds.minutes_of(encased=True)
    for number, room in enumerate(hotel.rooms):
        near = {
            (hotel.rooms[n], bits)
            for n, bits in zip(hotel.neighbours[number], hotel.kinds[number], strict=True)
            if n != NOBODY
        }
        assert near == {(one.room, bits_of(one.kinds)) for one in found[RoomNo(room)]}


def test_a_neighbour_in_several_ways_spreads_by_the_strongest():
    near = {RoomNo("a"): (Neighbour(RoomNo("b"), (Kind.ACROSS, Kind.CONNECTS)),)}
    table, kinds = neighbour_table(("a", "b"), near)
    hotel = corridor_hotel(rules(), 2)
    object.__setattr__(hotel, "neighbours", table)
    object.__setattr__(hotel, "kinds", kinds)
    chances = spread_chances(hotel, {Kind.ACROSS: 0.002, Kind.CONNECTS: 0.004})
    assert chances.tolist() == [[0.004], [0.0]]


def test_an_invented_hotel_has_mutual_neighbours():
    hotel = corridor_hotel(rules(), 65, along=20)
    pairs = {
        (n, other): bits
        for n in range(65)
        for other, bits in zip(hotel.neighbours[n], hotel.kinds[n], strict=True)
        if other != NOBODY
    }
    mirror = {bits_of((Kind.ABOVE,)): bits_of((Kind.BELOW,))}
    mirror |= {bits_of((Kind.BELOW,)): bits_of((Kind.ABOVE,))}
    assert all(pairs[other, n] == mirror.get(bits, bits) for (n, other), bits in pairs.items())
    assert hotel.corridors == 4


def test_a_houses_rule_comes_from_its_figures_and_teams():
    built = house(clean_checks_after_treatment=3).team("Pair", minutes=150, kept_free=30)
    built.team("Other", minutes=60, works_on=("sat",)).room("101").bed("A")
    built.checked("A", day(3))
    rule = house_rule_of(built.house, day(10))
    assert rule.way.cover_opened
    assert not house_rule_of(built.house, day(2)).way.cover_opened
    assert rule.minutes_by_weekday == (120.0,) * 5 + (60.0, 0.0)
    assert (rule.cycle_days, rule.follow_ups, rule.ring_days) == (91, 3, 1)
    assert rule.closed_days == 3 * rule.follow_up_days
    assert Kind.SHARES_WALL in rule.ring


# --- rounds ------------------------------------------------------------------------------


def a_round(rule, nights, due, *, rooms=40, years=2):
    hotel = corridor_hotel(rules(), rooms, along=10)
    rounds = Rounds(hotel, rule, np.full(rooms, 20.0), first_due=np.zeros(rooms * years))
    rounds.due[:] = due
    return rounds.walk(7, nights, np.zeros(years))


def test_the_most_overdue_corridor_is_walked_first_and_as_a_whole():
    rule = house_rule(minutes_by_weekday=(92.0,) * 7)
    due = np.full(80, 500)
    due[[3, 25, 27]] = [5, 1, 20]
    due[[40 + 12, 40 + 13]] = [7, 8]
    rooms, minutes = a_round(rule, np.zeros(80, np.uint8), due)
    # 25 first, with 27 of its corridor though due later (20 ≤ 7 + 23); then 3's corridor.
    assert rooms.tolist() == [25, 27, 3, 52, 53]
    assert minutes.tolist() == [2 * 20 + 8 + 20 + 8, 2 * 20 + 8]


def test_rooms_with_a_guest_who_stays_and_corridors_without_due_rooms_wait():
    rule = house_rule(minutes_by_weekday=(500.0,) * 7)
    due = np.full(80, 20)
    due[[3, 4]] = 7
    nights = np.zeros(80, np.uint8)
    nights[[3, 5]] = STAYS_OVER
    rooms, _ = a_round(rule, nights, due)
    assert rooms.tolist() == [4, 0, 1, 2, 6, 7, 8, 9]
    nights[4] = STAYS_OVER
    assert a_round(rule, nights, due)[0].tolist() == []


@pytest.mark.parametrize("seed", range(20))
def test_no_day_takes_more_minutes_than_there_are(seed):
    rng = np.random.default_rng(seed)
    rule = house_rule(minutes_by_weekday=(float(rng.integers(10, 300)),) * 7)
    hotel = corridor_hotel(rules(), 50, along=7)
    minutes = rng.integers(10, 40, 50).astype(float)
    rounds = Rounds(hotel, rule, minutes, first_due=rng.random(150))
    rounds.due[:] = rng.integers(-30, 60, 150)
    nights, before = rng.integers(0, 3, 150).astype(np.uint8), rounds.due.copy()
    used = rng.random(3) * 100
    rooms, spent = rounds.walk(3, nights, used)
    assert (spent + used <= np.maximum(rule.minutes_by_weekday[0], used) + 1e-9).all()
    assert len(set(rooms.tolist())) == len(rooms)
    assert (nights[rooms] != STAYS_OVER).all()
    assert (before[rooms] <= 3 + rule.early_days).all()
    for hotel_no in range(3):
        own = rooms[rooms // 50 == hotel_no]
        ways = len({int(hotel.corridor[room % 50]) for room in own})
        assert spent[hotel_no] == pytest.approx(minutes[own % 50].sum() + 8 * ways)


# --- figures -------------------------------------------------------------------------------


def test_means_have_the_interval_of_a_textbook():
    numbers = np.array([4.0, 7.0, 1.0, 9.0, 3.0, 6.0])
    told = mean_of(numbers)
    half = stats.norm.ppf(0.975) * stats.sem(numbers)
    assert told.value == pytest.approx(5.0)
    assert (told.low, told.high) == pytest.approx((5 - half, 5 + half), rel=1e-6)
    assert np.isinf(mean_of(numbers[:1]).high)


def test_quantiles_are_covered_as_often_as_said():
    rng, hits = np.random.default_rng(2), 0
    for _ in range(2000):
        told = quantile_of(rng.exponential(size=200), 0.9)
        hits += told.low <= np.log(10) <= told.high
    # 95 %, rather wider: ranks are whole.
    assert 0.945 <= hits / 2000 <= 0.985
    assert quantile_of(np.zeros(0), 0.5) is None
