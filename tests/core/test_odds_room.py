"""One room's filter against values worked out elsewhere, closed forms and a simulation.

epiR: manual of R package epiR 2.0.57; RSurveillance: its tests, 0.2.1. Both reckon with one
sensitivity for all ages; a room without growth, all of it looked at, must give the same.
Values marked "trial program" come from one written in another session, in which filter and
forward algorithm agreed.
"""

from __future__ import annotations

from dataclasses import replace
from math import log, sqrt

import numpy as np
import pytest

from hotelwatch.core.odds.record import Found, Looked, RoomRecord, Told, Treated
from hotelwatch.core.odds.room import STEPS, Tables, room_odds, room_past
from hotelwatch.core.odds.settings import Look, settings_of
from hotelwatch.core.odds_figures import PLACES, GrowthCurve, Stance
from hotelwatch.core.standing import Standing
from tests.build import rules
from tests.core.forward import forward, grown, sees

CENTRAL = settings_of(rules().odds)[Stance.CENTRAL]
KINDS = rules().odds.looks
FULL = CENTRAL.look(KINDS["deep_full"])
CLOSED = CENTRAL.look(KINDS["deep_closed"])
LINEN = CENTRAL.look(KINDS["linen"])
GLANCE = CENTRAL.look(KINDS["glance"])
NO_GROWTH = GrowthCurve("none", (0.0, 1.0), (1.0, 1.0), 1e-12, 0.64, Standing.ASSUMPTION, "")
PERIODS_TO_TEN = (
    ".6203008 .7261937 .8099976 .8709093 .9124970 .9396922 .9569776 .9677666 .9744246 .9785045"
)
EVERYWHERE = (1.0,) * len(PLACES)


def a_day(chance, *, setting=CENTRAL):
    """A setting in which one stay brings something in with this chance."""
    return replace(setting, introductions_per_stay=chance)


def record(days, *evidence, let=0.64, arrivals=1.0, **more):
    """A room with one stay a day, let as the slow curve supposes."""
    return RoomRecord(np.full(days, arrivals), np.full(days, let), evidence=tuple(evidence), **more)


def chance(setting, days, *evidence):
    return room_odds(record(days, *evidence), Tables(setting)).chance


def constant(seen, per_stay):
    """A setting and a look that sees any infestation with the same chance, whatever its age."""
    setting = replace(
        CENTRAL, growth=NO_GROWTH, highest_chance=1.0, introductions_per_stay=per_stay
    )
    return setting, Look(EVERYWHERE, seen / (1 - seen))


# --- values ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("looks", "wanted"),
    [
        ((), 0.0198023),
        ((Looked(99, FULL), Looked(150, FULL)), 0.0073740),
        ((Looked(99, CLOSED), Looked(150, CLOSED)), 0.0087878),
    ],
)
def test_a_room_of_200_days_as_the_trial_program_has_it(looks, wanted):
    assert chance(a_day(1e-4), 200, *looks) == pytest.approx(wanted, abs=1e-6)
    assert forward(record(200, *looks), a_day(1e-4)).chance == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize(
    ("seen", "per_period", "free"),
    [
        # epiR manual: SSe .6, .02 come in a period, prior .5, periods 1 to 5.
        (0.6, 0.02, (0.706052, 0.848830, 0.925194, 0.960463, 0.975643)),
        # RSurveillance tests: SSe .4, .01 a period, prior .5, periods 1 to 10.
        (
            0.4,
            0.01,
            tuple(map(float, PERIODS_TO_TEN.split())),
        ),
    ],
)
def test_without_growth_and_places_it_is_the_textbook_surveillance_update(seen, per_period, free):
    setting, look = constant(seen, per_period)
    periods = len(free)
    arrivals = np.ones(periods + 1)
    arrivals[0] = log(0.5) / log(1 - per_period)
    for period in range(1, periods + 1):
        so_far = RoomRecord(
            arrivals[: period + 1],
            np.full(period + 1, 0.64),
            evidence=tuple(Looked(day, look) for day in range(1, period + 1)),
        )
        free_now = 1 - room_odds(so_far, Tables(setting)).chance
        assert free_now == pytest.approx(free[period - 1], abs=1.1e-6)


def test_its_plateau_is_the_closed_form():
    """epiR manual: before and after each survey 1 - q/S and (1 - q/S)/(1 - q)."""
    setting, look = constant(0.6, 0.02)
    days = 60
    odds = room_odds(record(days, *(Looked(day, look) for day in range(days))), Tables(setting))
    assert 1 - odds.chance == pytest.approx((1 - 0.02 / 0.6) / (1 - 0.02), abs=1e-9)
    before = 1 - (odds.chance + (1 - odds.chance) * 0.02)
    assert before == pytest.approx(0.966667, abs=1e-6)
    assert 1 - odds.chance == pytest.approx(0.986395, abs=1e-6)


@pytest.mark.parametrize(("seen", "checks"), [(0.72, 4), (0.89, 3)])
def test_clean_checks_that_push_one_in_two_under_one_in_a_hundred(seen, checks):
    """Shares seen of infestations in homes: Wang, Singh, Zha, Cooper 2016; .5 (1 - s)^m."""
    setting, look = constant(seen, 0.5)
    once = np.eye(1, checks + 2)[0]
    by_checks = [
        room_odds(
            RoomRecord(
                once[: m + 1],
                np.full(m + 1, 0.64),
                evidence=tuple(Looked(day, look) for day in range(1, m + 1)),
            ),
            Tables(setting),
        ).chance
        for m in range(checks + 1)
    ]
    assert by_checks[0] == pytest.approx(0.5)
    assert by_checks[checks] < 0.01 < by_checks[checks - 1]


def test_sixty_glances_at_one_place_are_far_fewer_than_sixty_looks():
    """2 % before; .54 % were they independent, 1.29 % since most sits elsewhere (trial program).

    Of an infestation that came in thirty days before the first glance.
    """
    arrivals = np.zeros(90)
    arrivals[0] = 1.0
    glances = tuple(Looked(day, GLANCE) for day in range(30, 90))
    room = RoomRecord(arrivals, np.full(90, 0.64), evidence=glances)
    with_places = room_odds(room, Tables(a_day(0.02))).chance
    ages = (np.arange(30, 90)) * STEPS
    shares = np.array(CENTRAL.shares)
    each = shares @ sees(CENTRAL, GLANCE, grown(CENTRAL, ages), shares)
    odds = 0.02 / 0.98 * np.prod(1 - each)
    assert with_places == pytest.approx(0.0129, abs=0.0001)
    assert odds / (1 + odds) == pytest.approx(0.0054, abs=0.0001)


# --- treatment -------------------------------------------------------------------------------


def test_a_treatment_leaves_the_odds_of_its_failing():
    found = (Found(50, FULL), Treated(50))
    odds = room_odds(record(51, *found), Tables(CENTRAL))
    assert not odds.is_found
    assert odds.chance == pytest.approx(0.1)
    assert odds.insects[50] == pytest.approx(CENTRAL.survivors, rel=0.02)
    assert odds.weights[:50].sum() == 0.0


@pytest.mark.parametrize("target", [0.01, 0.001])
def test_clean_checks_needed_after_a_treatment(target):
    """m >= ln( (a/(1-a)) / ((1-phi)/phi) ) / ln(1-s) (derived from Bayes' rule)."""
    seen = 0.6
    setting, look = constant(seen, 1e-12)
    setting = replace(setting, survivors=1.0)
    before = (Found(0, look), Treated(0))
    phi = setting.treatment_success
    need = int(np.ceil(log(target / (1 - target) / ((1 - phi) / phi)) / log(1 - seen)))

    def after(checks):
        clean = (Looked(day, look) for day in range(1, checks + 1))
        return room_odds(record(checks + 1, *before, *clean), Tables(setting)).chance

    assert after(need) <= target < after(need - 1)


def test_checks_after_a_treatment_count_by_the_growth_clock():
    """Survivors are few at first: the same look says more three weeks later."""
    before = (Found(10, FULL), Treated(12))
    soon, later = (chance(a_day(1e-6), 60, *before, Looked(day, FULL)) for day in (13, 40))
    assert later < soon < 0.1


def test_treating_a_room_without_a_find_lowers_what_was_there():
    before = room_odds(record(200), Tables(a_day(1e-3))).chance
    after = room_odds(record(200, Treated(199)), Tables(a_day(1e-3))).chance
    assert after == pytest.approx(before * (1 - CENTRAL.treatment_success))


def test_a_second_treatment_works_on_what_the_first_left():
    twice = (Found(10, FULL), Treated(11), Treated(11))
    assert chance(a_day(1e-15), 12, *twice) == pytest.approx(0.01)


# --- a find ------------------------------------------------------------------------------------


def test_what_came_after_a_find_was_not_what_was_found():
    odds = room_odds(record(120, Found(60, FULL)), Tables(a_day(1e-3)))
    assert odds.is_found
    assert odds.chance == 1.0
    assert odds.since_chances[:61].sum() == pytest.approx(1.0)
    assert odds.since_chances[61:].sum() == 0.0
    at_find = room_odds(record(61, Found(60, FULL)), Tables(a_day(1e-3)))
    assert odds.since_chances[:61] == pytest.approx(at_find.since_chances, abs=1e-14)


def test_since_when_is_uniform_between_two_perfect_looks():
    """Flat chance, everything seen on days 40 and 80: any day of 41 to 80 alike."""
    setting = replace(constant(0.5, 1e-9)[0], clumping=1e9)
    perfect = Look(EVERYWHERE, 1e4)
    odds = room_odds(record(81, Looked(40, perfect), Found(80, perfect)), Tables(setting))
    assert odds.since_chances[:41].sum() == 0.0
    assert odds.since_chances[41:] == pytest.approx(1 / 40, rel=1e-6)
    mean_age = float((odds.since_chances * (80 - np.arange(81))).sum())
    assert mean_age == pytest.approx((80 - 40 - 1) / 2, rel=1e-6)
    assert odds.since_window(0.05, 0.95) == pytest.approx((43, 78), abs=1)


@pytest.mark.parametrize("arrivals", [0.0, 1.0])
@pytest.mark.parametrize("look", [FULL, Look((0.0,) * 6, 0.3), Look(EVERYWHERE, 0.0)])
def test_a_find_is_a_find_even_where_nothing_could_have_come_in(arrivals, look):
    """No stay is known, or the look saw nothing by its ticks: the find still stands."""
    odds = room_odds(record(40, Found(30, look), arrivals=arrivals), Tables(CENTRAL))
    assert odds.is_found
    assert odds.chance == 1.0
    assert odds.since_chances.sum() == pytest.approx(1.0)
    treated = record(40, Found(30, look), Treated(35), arrivals=arrivals)
    assert room_odds(treated, Tables(CENTRAL)).chance == pytest.approx(0.1, abs=1e-3)


def test_past_evenings_are_those_of_the_record_as_it_then_stood():
    room = record(150, Looked(30, FULL), Told(60, 20.0), Found(90, FULL), Treated(95))
    setting = a_day(1e-3)
    days = [10, 30, 59, 60, 90, 94, 95, 149]
    _odds, past = room_past(room, Tables(setting), days)
    for place, day in enumerate(days):
        then = record(day + 1, *(one for one in room.evidence if one.day <= day))
        odds = room_odds(then, Tables(setting))
        assert past.chances[place] == pytest.approx(odds.chance, abs=1e-12)
        presses = odds.insects / (odds.insects + setting.spread_half)
        wanted = float(odds.weights @ presses) / (odds.weights.sum() + odds.free)
        assert past.pressures[place] == pytest.approx(wanted, abs=1e-12)


# --- simulation ---------------------------------------------------------------------------------


class Rooms:
    """Many rooms of one record, drawn from the model: where and since when, seen or not."""

    def __init__(self, rooms, *, setting, days, seed):
        self.draw = np.random.default_rng(seed)
        self.setting, self.days = setting, days
        gone = self.draw.exponential(size=rooms) / -np.log1p(-setting.introductions_per_stay)
        self.since = np.minimum(np.floor(gone), days).astype(int)
        self.place = self.draw.choice(len(PLACES), size=rooms, p=setting.shares)
        self.age_at_start = np.zeros(rooms, int)

    def insects(self, day):
        ages = np.arange(2 * self.days) * STEPS
        table = grown(self.setting, ages)
        return table[np.maximum(day - self.since, 0) + self.age_at_start]

    def is_there(self, day):
        return self.since <= day

    def sees(self, day, look):
        """Whether a look in each room finds something."""
        shares = np.array(self.setting.shares)
        insects = grown(self.setting, np.arange(2 * self.days) * STEPS)
        table = sees(self.setting, look, insects, shares)
        age = np.maximum(day - self.since, 0) + self.age_at_start
        chance = np.where(self.is_there(day), table[self.place, age], 0.0)
        return self.draw.random(len(chance)) < chance

    def keep(self, which):
        self.since, self.place = self.since[which], self.place[which]
        self.age_at_start = self.age_at_start[which]


def z_of(count, of, chance):
    return (count - of * chance) / sqrt(of * chance * (1 - chance))


MILLION = 1_000_000


@pytest.mark.parametrize(
    ("name", "looks"),
    [
        ("no look", ()),
        ("deep each sixty days", ((40, FULL), (100, FULL), (160, FULL))),
        ("covers closed", ((99, CLOSED), (150, CLOSED))),
        ("mixed", ((20, LINEN), (45, CLOSED), (46, GLANCE), (120, LINEN), (179, CLOSED))),
    ],
)
def test_a_million_rooms_simulated_hide_as_many_as_the_filter_says(name, looks):
    setting = a_day(4e-4)
    rooms = Rooms(MILLION, setting=setting, days=180, seed=20261125)
    for day, look in looks:
        rooms.keep(~rooms.sees(day, look))
    hidden, clean = int(rooms.is_there(179).sum()), len(rooms.since)
    wanted = chance(setting, 180, *(Looked(day, look) for day, look in looks))
    assert hidden > 5_000, name
    assert abs(z_of(hidden, clean, wanted)) < 3.0


def test_simulated_finds_are_as_old_and_sit_where_the_filter_says():
    setting = a_day(4e-4)
    rooms = Rooms(MILLION, setting=setting, days=180, seed=7)
    rooms.keep(~rooms.sees(60, CLOSED))
    rooms.keep(~rooms.sees(120, CLOSED))
    rooms.keep(rooms.sees(179, CLOSED))
    evidence = Looked(60, CLOSED), Looked(120, CLOSED), Found(179, CLOSED)
    odds = room_odds(record(180, *evidence), Tables(setting))
    for first, last in ((0, 59), (60, 89), (90, 120), (121, 150), (151, 179)):
        count = int(((rooms.since >= first) & (rooms.since <= last)).sum())
        wanted = float(odds.since_chances[first : last + 1].sum())
        assert abs(z_of(count, len(rooms.since), wanted)) < 3.0
    masses = np.divide(odds.weights, odds.record_chances)
    by_place = masses @ odds.by_place / odds.weights.sum()
    for place in range(len(PLACES)):
        count = int((rooms.place == place).sum())
        assert abs(z_of(count, len(rooms.since), by_place[place])) < 3.0


def test_simulated_treatments_and_words_leave_what_the_filter_says():
    """Words come from .3 of infested rooms and .03 of others; a treatment fails in one of ten."""
    setting = a_day(2e-3)
    rooms = Rooms(5 * MILLION, setting=setting, days=120, seed=11)
    rooms.keep(~rooms.sees(40, CLOSED))
    speaks = np.where(rooms.is_there(50), 0.3, 0.03)
    rooms.keep(rooms.draw.random(len(speaks)) < speaks)
    survives = rooms.draw.random(len(rooms.since)) >= setting.treatment_success
    was, again = rooms.is_there(60), rooms.draw.exponential(size=len(rooms.since))
    later = 61 + np.floor(again / -np.log1p(-setting.introductions_per_stay)).astype(int)
    rooms.age_at_start = np.where(was & survives, 14, 0)
    rooms.since = np.where(was & survives, 60, later)
    rooms.place = rooms.draw.choice(len(PLACES), size=len(later), p=setting.shares)
    rooms.keep(~rooms.sees(90, CLOSED))
    evidence = Looked(40, CLOSED), Told(50, 10.0), Treated(60), Looked(90, CLOSED)
    wanted = chance(setting, 120, *evidence)
    hidden, clean = int(rooms.is_there(119).sum()), len(rooms.since)
    assert hidden > 5_000
    assert abs(z_of(hidden, clean, wanted)) < 3.0
