"""A find and its neighbour, against values worked out elsewhere, brute force and simulation.

"Trial program": one written in another session, checked there with 4 times 2,000,000 pairs.
"""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.odds.find import finds_in, is_found_on, last_find, pair_odds, until
from hotelwatch.core.odds.record import Found, Given, Looked, RoomRecord, Told, Treated
from hotelwatch.core.odds.room import STEPS, Tables, room_odds
from hotelwatch.core.odds.settings import settings_of
from hotelwatch.core.odds_figures import PLACES, Stance
from tests.build import rules
from tests.core.forward import clock_at, comes_in, grown, sees

CENTRAL = settings_of(rules().odds)[Stance.CENTRAL]
FULL = CENTRAL.look(rules().odds.looks["deep_full"])
CLOSED = CENTRAL.look(rules().odds.looks["deep_closed"])
OFTEN = replace(CENTRAL, introductions_per_stay=2e-4)
TABLES = Tables(OFTEN)
SIDE = 4e-3
FOUND_ON = 180


def record(days, *evidence, arrivals=1.0, **more):
    return RoomRecord(
        np.full(days, arrivals), np.full(days, 0.64), evidence=tuple(evidence), **more
    )


FOUND = record(181, Looked(60, FULL), Looked(120, FULL), Found(180, FULL))
OTHER = record(181, Looked(90, FULL))


def pair(found=FOUND, other=OTHER, spread=SIDE, day=FOUND_ON, tables=TABLES):
    return pair_odds(found, other, tables, spread=spread, day=day)


# --- values --------------------------------------------------------------------------------------


def test_a_pair_as_the_trial_program_has_it():
    """2e-4 a day each, .004 a day between them: .0232 before, .1033 after, 54.4 days old."""
    assert room_odds(OTHER, TABLES).chance == pytest.approx(0.0232, abs=5e-5)
    found = pair()
    assert found.chance == pytest.approx(0.1033, abs=1e-4)
    days = found.first + np.arange(len(found.found_since))
    assert float(found.found_since @ (FOUND_ON - days)) == pytest.approx(54.4, abs=0.05)
    assert found.found_since.sum() == pytest.approx(1.0)


def test_a_clean_look_just_before_its_find_may_raise_the_neighbour():
    """No law: a very young find is likelier to have come from next door; .1033 to .1039."""
    looked = replace(FOUND, evidence=(*FOUND.evidence, Looked(170, FULL)))
    assert pair(found=looked).chance == pytest.approx(0.1039, abs=1e-4)


def test_pressure_from_the_found_room_alone_is_about_half():
    """Once it is known since when i is infested, j is pressed on; that i may come from j is not."""
    since = room_odds(FOUND, TABLES)
    ages = np.arange(FOUND_ON + 1)[:, None] - np.arange(FOUND_ON + 1)[None, :]
    presses = TABLES.pressure.take(np.maximum(ages, 0) * STEPS) * (ages > 0)
    pressed = SIDE * presses @ since.since_chances
    one_way = room_odds(OTHER, TABLES, pressure=pressed).chance
    own = room_odds(OTHER, TABLES).chance
    assert (one_way - own) / (pair().chance - own) == pytest.approx(0.5, abs=0.1)


# --- brute force ---------------------------------------------------------------------------------


def record_chances(record, setting, days):
    """The chance of a record by day of introduction, place by place, looks one by one."""
    shares = np.array(record.shares or setting.shares)
    clock = clock_at(record, setting)
    each = np.ones((len(PLACES), days))
    for one in record.evidence:
        up_to = slice(0, one.day + 1)
        insects = grown(setting, clock[one.day] - clock[up_to])
        if isinstance(one, Looked):
            each[:, up_to] *= (1 - sees(setting, one.look, insects, shares)) ** one.times
        elif isinstance(one, Told):
            each[:, up_to] *= one.ratio
        elif isinstance(one, Found):
            each[:, up_to] *= sees(setting, one.look, insects, shares)
            each[:, one.day + 1 :] = 0.0
    return shares @ each


def joint(found, other, setting, spread):
    """Chance of both records by day of introduction in each; the last row and column: never.

    The chain of both rooms day by day, one pair of days at a time.
    """
    days = found.days
    records = found, other
    comes = [comes_in(one, setting) for one in records]
    clocks = [clock_at(one, setting) for one in records]
    told = [np.append(record_chances(one, setting, days), 1.0) for one in records]
    if any(isinstance(one, Found) for one in found.evidence):
        told[0][-1] = 0.0
    presses = [
        [
            spread * n / (n + setting.spread_half)
            for n in (grown(setting, np.maximum(clock - clock[since], 0)) for since in range(days))
        ]
        for clock in clocks
    ]
    chances = np.zeros((days + 1, days + 1))
    for one in range(days + 1):
        for two in range(days + 1):
            stays_out = told[0][one] * told[1][two]
            since = one, two
            for room in (0, 1):
                mine, theirs = since[room], since[1 - room]
                comes_today = comes[room].copy()
                if theirs < days:
                    later = np.arange(days) > theirs
                    comes_today[later] += presses[1 - room][theirs][later]
                stays_out *= np.prod(1 - comes_today[:mine])
                stays_out *= comes_today[mine] if mine < days else 1.0
            chances[one, two] = stays_out
    return chances


DAYS = 14
LOOK_OR_WORD = st.one_of(
    st.builds(Looked, st.integers(0, DAYS - 1), st.sampled_from((FULL, CLOSED))),
    st.builds(Told, st.integers(0, DAYS - 1), st.sampled_from((3.0, 20.0))),
)
EVIDENCE = st.lists(LOOK_OR_WORD, max_size=3).map(tuple)
SETTINGS = st.builds(
    lambda stance, rate: replace(stance, introductions_per_stay=rate),
    st.sampled_from(list(settings_of(rules().odds).values())),
    st.sampled_from((2e-4, 0.01)),
)


@settings(max_examples=40, deadline=None)
@given(SETTINGS, EVIDENCE, EVIDENCE, st.sampled_from((0.0, 4e-3, 0.2)), st.integers(0, DAYS - 1))
def test_a_pair_is_the_chain_of_both_rooms(setting, of_found, of_other, spread, earlier):
    found = record(DAYS, *of_found, Found(DAYS - 1, FULL))
    found = replace(found, let=np.linspace(0, 1, DAYS))
    other = record(DAYS, *of_other)
    if earlier % 2:
        found = replace(found, evidence=(*found.evidence, Found(earlier, CLOSED)))
    odds = pair_odds(found, other, Tables(setting), spread=spread, day=DAYS - 1)
    brute = joint(found, other, setting, spread)
    by_other, by_found = brute.sum(axis=0), brute.sum(axis=1)
    assert odds.odds == pytest.approx(by_other[:-1] / by_other[-1], rel=1e-9)
    assert odds.found_since == pytest.approx(by_found[:-1] / brute.sum(), rel=1e-9)


@settings(max_examples=15, deadline=None)
@given(SETTINGS, EVIDENCE, EVIDENCE, st.sampled_from((4e-3, 0.2)))
def test_swapping_rooms_and_records_swaps_the_result(setting, of_one, of_other, spread):
    """Of two rooms that are both infested, either may be called the found one."""
    tables = Tables(setting)
    one, other = record(DAYS, *of_one), record(DAYS, *of_other)
    there = pair_odds(one, other, tables, spread=spread, day=DAYS - 1)
    back = pair_odds(other, one, tables, spread=spread, day=DAYS - 1)
    brute = joint(one, other, setting, spread)
    both, last = brute[:-1, :-1].sum(), DAYS
    assert there.chance == pytest.approx(both / brute[:last].sum(), rel=1e-9)
    assert back.chance == pytest.approx(both / brute[:, :last].sum(), rel=1e-9)
    # Which days in one, which in the other, given both: the same either way.
    in_other = there.odds / there.odds.sum()
    assert in_other == pytest.approx(brute[:-1, :-1].sum(axis=0) / both, rel=1e-9)
    in_one = back.odds / back.odds.sum()
    assert in_one == pytest.approx(brute[:-1, :-1].sum(axis=1) / both, rel=1e-9)


# --- laws ----------------------------------------------------------------------------------------


@st.composite
def pairs(draw):
    days = draw(st.integers(10, 200))
    day = st.integers(0, days - 1)
    looks = st.lists(st.builds(Looked, day, st.sampled_from((FULL, CLOSED))), max_size=4)
    found = record(days, *draw(looks), Found(days - 1, draw(st.sampled_from((FULL, CLOSED)))))
    return found, record(days, *draw(looks)), days - 1


@given(pairs(), st.floats(0, 0.02), st.floats(1, 5))
def test_more_spread_never_lowers_the_neighbour(rooms, spread, times):
    found, other, day = rooms
    own = room_odds(other, TABLES).chance
    some = pair(found, other, spread, day).chance
    more = pair(found, other, spread * times, day).chance
    assert own - 1e-12 <= some <= more + 1e-12


@given(pairs())
def test_without_spread_a_find_says_nothing_of_the_neighbour(rooms):
    found, other, day = rooms
    own = room_odds(other, TABLES)
    assert pair(found, other, 0.0, day).chance == pytest.approx(own.chance, rel=1e-12)
    assert pair(found, other, 0.0, day).odds == pytest.approx(own.weights / own.free, rel=1e-9)


@given(pairs(), st.data())
def test_a_clean_look_at_the_neighbour_lowers_it(rooms, data):
    found, other, day = rooms
    look = Looked(data.draw(st.integers(0, day)), FULL)
    clean = replace(other, evidence=(*other.evidence, look))
    assert pair(found, clean, SIDE, day).chance < pair(found, other, SIDE, day).chance


@given(pairs(), st.integers(1, 60))
def test_odds_given_go_on_as_any_record(rooms, later):
    """Stored at the find, then multiplied by later looks; the days between add to them."""
    found, other, day = rooms
    odds = pair(found, other, SIDE, day)
    longer = record(day + 1 + later, *other.evidence, Given(day, odds.first, odds.odds))
    after = room_odds(longer, TABLES)
    none_since = np.prod(1 - after.chances[day + 1 :])
    assert 1 - after.chance == pytest.approx((1 - odds.chance) * none_since, rel=1e-9)
    looked = replace(longer, evidence=(*longer.evidence, Looked(day + later, FULL)))
    assert room_odds(looked, TABLES).chance < after.chance


def test_a_record_longer_than_the_columns_counts_what_came_before_as_of_the_first():
    """Three years without a look: what has been there longest is as large as it gets."""
    days = 1095
    found, other = record(days, Found(days - 1, FULL)), record(days)
    own = room_odds(other, TABLES).chance
    without = pair(found, other, 0.0, days - 1)
    assert len(without.odds) == 400
    assert without.chance == pytest.approx(own, rel=1e-9)
    assert pair(found, other, SIDE, days - 1).chance > own


# --- finds and treatments ------------------------------------------------------------------------


def test_a_treatment_on_the_day_of_the_find_takes_nothing_from_it():
    treated = replace(FOUND, evidence=(*FOUND.evidence, Treated(FOUND_ON)))
    assert pair(found=treated).chance == pytest.approx(pair().chance)
    prevented = replace(OTHER, evidence=(*OTHER.evidence, Treated(FOUND_ON)))
    given_odds = pair(other=prevented)
    assert given_odds.chance == pytest.approx(pair().chance)
    after = replace(
        prevented,
        evidence=(*prevented.evidence, Given(FOUND_ON, given_odds.first, given_odds.odds)),
    )
    assert room_odds(after, TABLES).chance == pytest.approx(0.1 * pair().chance, rel=1e-6)


def test_a_neighbour_treated_before_counts_from_its_treatment():
    treated = replace(OTHER, evidence=(*OTHER.evidence, Found(95, FULL), Treated(100)))
    after = pair(other=treated)
    own = room_odds(treated, TABLES).chance
    assert after.odds[: 100 - after.first].sum() == 0.0
    assert after.chance > own
    # As a room that had .1 on the day of its treatment, and in which nobody looked before.
    lone = record(181, arrivals=0.0, moved_in=((100, 1.0),))
    as_if = replace(OFTEN, moved_in=0.1, introductions_per_stay=1e-12)
    assert room_odds(lone, Tables(as_if)).chance == pytest.approx(0.1, rel=1e-6)
    assert pair(other=treated, spread=0.0).chance == pytest.approx(own, rel=1e-9)


def test_a_find_in_a_room_that_was_never_let_still_warns():
    never_let = record(181, Found(FOUND_ON, FULL), arrivals=0.0)
    own = room_odds(OTHER, TABLES).chance
    assert pair(found=never_let).chance > own
    nobody_next_door = record(181, arrivals=0.0)
    assert pair(found=never_let, other=nobody_next_door).chance > 0.0


def test_very_old_infestations_press_as_their_own_age_says():
    """A clock that runs fast (every night let): ages beyond the table's end are no younger."""
    let = np.ones(400)
    chances = np.zeros(400)
    chances[0] = 1.0
    found = RoomRecord(chances, let, evidence=(Found(399, FULL),))
    odds = pair_odds(found, RoomRecord(np.zeros(400), let), TABLES, spread=SIDE, day=399)
    clock = clock_at(found, OFTEN)
    n = grown(OFTEN, clock - clock[0])
    kept = np.prod(1 - SIDE * n[1:] / (n[1:] + OFTEN.spread_half))
    assert odds.chance == pytest.approx(1 - kept, rel=1e-9)


def test_finds_that_count_are_the_last_ones_before_each_treatment():
    days = record(
        100,
        Found(50, FULL),
        Found(10, FULL),
        Treated(20),
        Treated(60),
        Told(70, 20.0),
        Found(80, FULL),
    )
    assert finds_in(days) == [10, 50, 80]
    assert last_find(days) == 80
    assert [is_found_on(days, day) for day in (5, 10, 20, 21, 49, 55, 61, 79, 80, 99)] == [
        *(False, True, True, False, False, True, False, False, True, True)
    ]
    assert finds_in(record(5)) == []
    assert last_find(record(5)) is None
    assert [one.day for one in until(days, 60).evidence] == [50, 10, 20]


# --- simulation ----------------------------------------------------------------------------------


def simulated(pairs_drawn, seed):
    """Pairs whose first room is found on day 180 after clean looks: of how many is j infested?

    Drawn from the model: own introductions as waiting times, then, of pairs with any, the days
    one by one, on which either may infest the other.
    """
    draw = np.random.default_rng(seed)
    days, chance = 181, OFTEN.introductions_per_stay
    wait = draw.exponential(size=(2, pairs_drawn)) / -np.log1p(-chance)
    own = np.minimum(np.floor(wait), days).astype(int)
    own = own[:, own.min(axis=0) < days]
    since = own.copy()
    ages = grown(OFTEN, np.arange(days + 1) * STEPS)
    presses = SIDE * ages / (ages + OFTEN.spread_half) / (1 - chance)
    for day in range(1, days):
        for room in (0, 1):
            there = np.minimum(own[1 - room], since[1 - room])
            may = np.flatnonzero((there < day) & (since[room] > day))
            pressed = may[draw.random(len(may)) < presses[day - there[may]]]
            since[room, pressed] = day
        # What came in on its own today stops nothing: it is in since already.
    place = draw.choice(len(PLACES), size=since.shape, p=OFTEN.shares)

    def seen(room, day):
        shares = np.array(OFTEN.shares)
        table = sees(OFTEN, FULL, ages, shares)
        age = np.maximum(day - since[room], 0)
        chance = np.where(since[room] <= day, table[place[room], age], 0.0)
        return draw.random(len(chance)) < chance

    kept = ~seen(0, 60) & ~seen(0, 120) & ~seen(1, 90) & seen(0, FOUND_ON)
    return int(kept.sum()), int((since[1][kept] <= FOUND_ON).sum()), since[0][kept]


def test_simulated_pairs_agree():
    finds, infested, since = simulated(6_000_000, seed=20261125)
    wanted = pair().chance
    assert finds > 50_000
    assert abs(infested - finds * wanted) / sqrt(finds * wanted * (1 - wanted)) < 3.0
    ages = FOUND_ON - since
    days = FOUND_ON - np.arange(181)
    mean = float(pair().found_since @ days)
    spread = sqrt(float(pair().found_since @ (days - mean) ** 2))
    assert abs(ages.mean() - mean) / (spread / sqrt(finds)) < 3.0
