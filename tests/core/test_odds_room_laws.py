"""Laws of one room's filter over random records, and a textbook forward algorithm beside it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from hotelwatch.core.odds.record import Found, Looked, RoomRecord, Told, Treated
from hotelwatch.core.odds.room import Tables, room_odds, room_past
from hotelwatch.core.odds.settings import Look, settings_of
from hotelwatch.core.odds_figures import PLACES, GrowthCurve, Stance
from hotelwatch.core.standing import Standing
from tests.build import rules
from tests.core.forward import evenings, forward, grown, sees

SETTINGS = settings_of(rules().odds)
LONGEST = 150
PARTS = st.sampled_from((0.0, 0.1, 0.5, 0.85, 1.0))
LOOKS = st.one_of(
    st.sampled_from(list(rules().odds.looks.values())).map(SETTINGS[Stance.CENTRAL].look),
    st.builds(Look, st.tuples(*[PARTS] * len(PLACES)), st.sampled_from((0.0, 0.05, 0.3, 0.9))),
)
SEEING = st.builds(
    Look, st.tuples(*[st.sampled_from((0.1, 0.5, 1.0))] * len(PLACES)), st.sampled_from((0.01, 0.3))
)
"""Each place at least in part: what no look could have seen the textbook cannot answer."""
SHARES = st.one_of(
    st.just(()),
    st.lists(st.integers(0, 9), min_size=len(PLACES), max_size=len(PLACES))
    .filter(any)
    .map(lambda parts: tuple(part / sum(parts) for part in parts)),
)


@st.composite
def kept_settings(draw):
    """One stance, with introductions often enough that records matter."""
    return replace(
        draw(st.sampled_from(list(SETTINGS.values()))),
        introductions_per_stay=draw(st.sampled_from((4.3e-5, 1e-3, 0.02))),
        moved_in=draw(st.sampled_from((0.02, 0.5))),
        days_before_record=draw(st.integers(0, LONGEST)),
    )


def clean_looks(days):
    day = st.integers(0, days - 1)
    return st.builds(Looked, day, LOOKS, st.sampled_from((1.0, 1.0, 0.25, 4.5)))


@st.composite
def records(draw, with_finds=True, least=1):
    """A record of up to five months with several kinds of evidence on any days."""
    days = draw(st.integers(least, LONGEST))
    day = st.integers(0, days - 1)
    kinds = [clean_looks(days), st.builds(Told, day, st.sampled_from((1.0, 3.0, 200.0)))]
    if with_finds:
        kinds += [st.builds(Found, day, SEEING), st.builds(Treated, day)]
    # A stretch of each: single nights would need long draws.
    nights = st.sampled_from((0.0, 0.64, 1.0))
    first, second = draw(st.tuples(nights, nights))
    change = draw(day)
    let = np.where(np.arange(days) < change, first, second)
    arrivals = np.zeros(days)
    arrivals[:: draw(st.integers(1, 5))] = draw(st.sampled_from((0.32, 1.0, 2.0)))
    return RoomRecord(
        arrivals=arrivals,
        let=let,
        began=0 if with_finds else draw(day),
        evidence=tuple(draw(st.lists(st.one_of(*kinds), max_size=8))),
        moved_in=tuple(draw(st.lists(st.tuples(day, st.floats(0, 1)), max_size=2))),
        shares=draw(SHARES),
        extra=tuple(draw(st.lists(clean_looks(days), max_size=4))),
    )


def pressures(record, draw):
    return draw(
        st.sampled_from((None, np.full(record.days, 1e-4), np.linspace(0, 0.01, record.days)))
    )


def of(record, setting, pressure=None):
    return room_odds(record, Tables(setting), pressure=pressure)


# --- the textbook ------------------------------------------------------------------------------


@settings(max_examples=150)
@given(st.data(), records(), kept_settings())
def test_the_filter_is_the_forward_algorithm(data, record, setting):
    pressure = pressures(record, data.draw)
    for kind in {type(one).__name__ for one in record.evidence}:
        event(kind)
    odds, textbook = of(record, setting, pressure), forward(record, setting, pressure=pressure)
    assert odds.chance == pytest.approx(textbook.chance, abs=1e-12)
    total = odds.weights.sum() + odds.free
    assert odds.weights / total == pytest.approx(textbook.by_day, abs=1e-12)


@settings(max_examples=50)
@given(st.data(), records(), kept_settings(), LOOKS)
def test_what_a_look_today_would_find_is_the_forward_algorithms(data, record, setting, look):
    pressure = pressures(record, data.draw)
    odds, textbook = of(record, setting, pressure), forward(record, setting, pressure=pressure)
    shares = np.array(record.shares or setting.shares)
    wanted = float((textbook.by_place * sees(setting, look, odds.insects, shares)).sum())
    assert odds.chance_of_find(Tables(setting), look) == pytest.approx(wanted, abs=1e-12)


@settings(max_examples=50)
@given(st.data(), records(), kept_settings())
def test_past_evenings_are_the_forward_algorithms(data, record, setting):
    pressure = pressures(record, data.draw)
    on_days = sorted(data.draw(st.sets(st.integers(0, record.days - 1), max_size=6)))
    _odds, past = room_past(record, Tables(setting), on_days, pressure=pressure)
    each = list(evenings(record, setting, pressure=pressure))
    assert past.chances == pytest.approx([each[day].chance for day in on_days], abs=1e-12)


# --- clean looks -----------------------------------------------------------------------------


@given(records(with_finds=False), kept_settings(), st.data())
def test_a_clean_look_never_raises_the_chance(record, setting, data):
    more = replace(record, evidence=(*record.evidence, data.draw(clean_looks(record.days))))
    assert of(more, setting).chance <= of(record, setting).chance + 1e-15


@given(records(with_finds=False), kept_settings(), st.data())
def test_a_better_clean_look_never_raises_the_chance(record, setting, data):
    """A larger part of a place, a sharper eye; each more than the same look without it."""
    one = data.draw(clean_looks(record.days))
    place = data.draw(st.integers(0, len(PLACES) - 1))
    seen = list(one.look.seen)
    seen[place] += data.draw(st.floats(0, 1)) * (1 - seen[place])
    notice = one.look.notice + data.draw(st.floats(0, 1)) * (1 - one.look.notice)
    before = of(replace(record, evidence=(*record.evidence, one)), setting).chance
    for look in (Look(tuple(seen), one.look.notice), Look(one.look.seen, notice)):
        better = replace(record, evidence=(*record.evidence, replace(one, look=look)))
        assert of(better, setting).chance <= before + 1e-15


@given(records(), kept_settings(), st.data())
def test_a_look_that_sees_nothing_changes_nothing_bit_for_bit(record, setting, data):
    day = data.draw(st.integers(0, record.days - 1))
    blind = data.draw(
        st.sampled_from([Look((0.0,) * len(PLACES), 0.9), Look((1.0,) * len(PLACES), 0.0)])
    )
    more = replace(record, evidence=(Looked(day, blind), *record.evidence))
    assert (of(more, setting).weights == of(record, setting).weights).all()
    assert of(more, setting).free == of(record, setting).free


@given(records(with_finds=False, least=2), kept_settings(), st.data())
def test_a_look_that_sees_everything_leaves_only_later_days(record, setting, data):
    day = data.draw(st.integers(0, record.days - 2))
    perfect = replace(setting, highest_chance=1.0, clumping=1e9)
    all_seen = Looked(day, Look((1.0,) * len(PLACES), 1e4))
    odds = of(replace(record, evidence=(*record.evidence, all_seen)), perfect)
    assert odds.weights[: day + 1].sum() == 0.0


@given(kept_settings(), st.integers(20, LONGEST), st.data())
def test_two_looks_at_one_place_leave_more_than_one_at_each_of_two(setting, days, data):
    """Places alike, none of the insects away from the main one."""
    share = setting.shares[0]
    setting = replace(setting, away_share=0.0, shares=(share, share, *setting.shares[2:]))
    setting = replace(setting, shares=tuple(np.array(setting.shares) / sum(setting.shares)))
    notice, day = data.draw(st.floats(0.01, 0.9)), data.draw(st.integers(0, days - 1))
    here, there = Look((1, 0, 0, 0, 0, 0), notice), Look((0, 1, 0, 0, 0, 0), notice)
    record = RoomRecord(np.ones(days), np.ones(days))
    same = replace(record, evidence=(Looked(day, here), Looked(day, here)))
    apart = replace(record, evidence=(Looked(day, here), Looked(day, there)))
    assert of(same, setting).chance > of(apart, setting).chance


# --- order and time ------------------------------------------------------------------------------


@given(records(), kept_settings(), st.randoms(use_true_random=False))
def test_the_order_of_entry_never_matters(record, setting, random):
    shuffled = list(record.evidence)
    random.shuffle(shuffled)
    again = replace(record, evidence=tuple(shuffled))
    assert of(again, setting).weights == pytest.approx(of(record, setting).weights, rel=1e-12)
    assert of(again, setting).chance == pytest.approx(of(record, setting).chance, abs=1e-14)


@given(records(with_finds=False), kept_settings(), st.data())
def test_an_entry_taken_back_leaves_no_trace(record, setting, data):
    one = data.draw(clean_looks(record.days))
    tables = Tables(setting)
    before = room_odds(record, tables)
    room_odds(replace(record, evidence=(one, *record.evidence)), tables)
    after = room_odds(record, tables)
    assert (after.weights == before.weights).all()


@given(records(), kept_settings(), st.integers(1, 60))
def test_the_same_record_later_says_the_same(record, setting, later):
    """Empty days before it, with what came in then left out, move everything alike."""

    def moved(one):
        return replace(one, day=one.day + later)

    setting = replace(setting, days_before_record=0)
    shifted = replace(
        record,
        arrivals=np.concatenate([np.zeros(later), record.arrivals]),
        let=np.concatenate([np.full(later, setting.growth.let_share), record.let]),
        began=record.began + later,
        evidence=tuple(map(moved, record.evidence)),
        extra=tuple(map(moved, record.extra)),
        moved_in=tuple((day + later, source) for day, source in record.moved_in),
    )
    assert of(shifted, setting).chance == pytest.approx(of(record, setting).chance, abs=1e-12)


# --- no looks ------------------------------------------------------------------------------------


@given(records(with_finds=False), kept_settings())
def test_without_looks_it_is_the_chance_that_anything_came(record, setting):
    bare = replace(record, evidence=(), extra=())
    odds = of(bare, setting)
    assert odds.chance == pytest.approx(1 - np.prod(1 - odds.chances), abs=1e-12)
    nobody = replace(bare, arrivals=np.zeros(record.days), moved_in=())
    assert of(nobody, setting).chance == 0.0


@given(records(with_finds=False), kept_settings())
def test_it_is_linear_in_introductions_while_they_are_few(record, setting):
    words_apart = tuple(one for one in record.evidence if isinstance(one, Looked))
    record = replace(record, evidence=words_apart, moved_in=())
    few, fewer = (
        of(record, replace(setting, introductions_per_stay=rate)).chance for rate in (2e-8, 1e-8)
    )
    assert few == pytest.approx(2 * fewer, rel=1e-4)


@given(records(with_finds=False), kept_settings())
def test_without_looks_it_never_falls_from_day_to_day(record, setting):
    bare = replace(record, evidence=(), extra=())
    days = list(range(record.days))
    _odds, past = room_past(bare, Tables(setting), days)
    assert (np.diff(past.chances) >= -1e-15).all()
    comes = of(bare, setting).chances[1:]
    assert (np.diff(past.chances)[comes > 1e-6] > 0).all()


# --- pooling, sums -----------------------------------------------------------------------------


@given(kept_settings(), st.integers(30, 120), st.integers(5, 25), st.data())
def test_days_with_equal_numbers_may_be_pooled_into_one(setting, days, pooled, data):
    """Where nothing grows, first days may all count as the last of them."""
    flat = GrowthCurve("flat", (0.0, 1.0), (7.0, 7.0), 1e-12, 1.0, Standing.ASSUMPTION, "")
    setting = replace(setting, growth=flat)
    day = st.integers(pooled, days - 1)
    looks = tuple(data.draw(st.lists(st.builds(Looked, day, LOOKS), max_size=4)))
    each = RoomRecord(np.ones(days), np.ones(days), evidence=looks)
    at_once = np.ones(days)
    at_once[: pooled + 1], at_once[pooled] = 0.0, pooled + 1.0
    one = replace(each, arrivals=at_once)
    assert of(one, setting).chance == pytest.approx(of(each, setting).chance, rel=1e-9)
    assert of(one, setting).since_chances[pooled] == pytest.approx(
        of(each, setting).since_chances[: pooled + 1].sum(), rel=1e-9
    )


@given(records(), kept_settings(), st.floats(0.01, 0.49))
def test_days_of_introduction_sum_to_one_and_windows_hold_their_share(record, setting, tail):
    odds = of(record, setting)
    since = odds.since_chances
    if since.sum():
        assert since.sum() == pytest.approx(1.0)
    first, last = odds.since_window(tail, 1 - tail)
    assert 0 <= first <= last < record.days
    if since.sum():
        assert since[first : last + 1].sum() >= 1 - 2 * tail - 1e-9


@given(records(), kept_settings())
def test_insects_by_day_of_introduction_are_those_of_the_clock(record, setting):
    record = replace(record, evidence=(), extra=())
    odds = of(record, setting)
    eighths = odds.steps[-1] - odds.steps
    assert odds.insects == pytest.approx(grown(setting, eighths), rel=1e-9)
