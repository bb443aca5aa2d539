"""What a cycle buys, against worked values, a plain loop, and what was published of detection.

The worked values were computed beforehand by separate trial code that sums the day of the
cycle, the place and the age by other means; the cell of 90 days with guests who rarely report
was simulated there as well (300,000 introductions: 54.00 days, guest first 0.240, check 0.563).
Every input of them is an assumption.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.cycles.cycle import detection, eyes_of, spread_on
from hotelwatch.core.odds.cycles.cycle_rows import HORIZON_DAYS, Circumstances, Finder
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, room_of
from hotelwatch.core.odds.sensitivity import chance_seen, mean_chance_seen
from hotelwatch.core.odds.settings import setting_of
from hotelwatch.core.odds_figures import Stance
from tests.build import rules
from tests.core.plain_cycle import plain_detection

ODDS = rules().odds
CENTRAL = setting_of(ODDS, Stance.CENTRAL)
ROOM = room_of(rules(), [("box_spring", False)])
FULL = CheckWay(cover_opened=True, headboard_off=True)
EACH_NIGHT = Circumstances(let_share=0.64, glances_a_night=1.0, glance_weight=1.0)
NO_GLANCES = replace(EACH_NIGHT, glances=False)
NOBODY_ELSE = (0.0, NO_GLANCES)
RARELY = (0.0005, EACH_NIGHT)
ALERT = (0.0015, EACH_NIGHT)


def eyes(way, guest_notices, around, *, setting=CENTRAL):
    setting = replace(setting, guest_notices=guest_notices)
    return eyes_of(ODDS, setting, way, room=ROOM, around=around)


def table(*rows):
    """Rows of (cycle, three cells); a cell is mean days, median, 90 % of insects, guest first."""
    others = (NOBODY_ELSE, RARELY, ALERT)
    return [
        (cycle, *else_found, cell)
        for cycle, *cells in rows
        for else_found, cell in zip(others, cells, strict=True)
    ]


@pytest.mark.parametrize(
    ("cycle_days", "guest_notices", "around", "cell"),
    table(
        (14, (22, 5, 16, 0.0), (22, 5, 15, 0.03), (21, 5, 14, 0.09)),
        (30, (36, 12, 24, 0.0), (32, 10, 22, 0.08), (30, 10, 21, 0.19)),
        (45, (46, 17, 32, 0.0), (40, 14, 27, 0.12), (36, 12, 24, 0.27)),
        (90, (74, 26, 148, 0.0), (54, 20, 41, 0.24), (45, 17, 30, 0.45)),
        (120, (91, 33, 283, 0.0), (60, 22, 66, 0.31), (49, 18, 33, 0.52)),
        (270, (172, 339, 5000, 0.0), (72, 26, 117, 0.48), (55, 20, 43, 0.67)),
        (365, (222, 1213, 5000, 0.0), (75, 27, 123, 0.51), (56, 20, 46, 0.70)),
    ),
)
def test_worked_values_of_a_full_check(cycle_days, guest_notices, around, cell):
    seen = detection(eyes(FULL, guest_notices, around), cycle_days)
    said = (seen.mean_days, seen.median_insects, seen.many_insects)
    for value, printed in zip(said, cell, strict=False):
        assert value == pytest.approx(printed, abs=0.6)
    assert seen.first[Finder.GUEST] == pytest.approx(cell[3], abs=0.006)


def test_the_simulated_cell():
    seen = detection(eyes(FULL, *RARELY), 90)
    assert seen.mean_days == pytest.approx(54.01, abs=0.01)
    assert seen.first[Finder.GUEST] == pytest.approx(0.239, abs=0.001)
    assert seen.first[Finder.CHECK] == pytest.approx(0.563, abs=0.001)


def test_a_closed_cover_at_90_days_is_about_a_full_check_at_120():
    closed = detection(eyes(CheckWay(), *RARELY), 90)
    assert closed.mean_days == pytest.approx(60, abs=0.6)
    assert closed.median_insects == pytest.approx(22, abs=0.6)
    assert closed.many_insects == pytest.approx(66, abs=0.6)
    assert closed.first[Finder.GUEST] == pytest.approx(0.31, abs=0.006)
    full = detection(eyes(FULL, *RARELY), 120)
    assert full.mean_days == pytest.approx(closed.mean_days, abs=0.1)


@pytest.mark.parametrize("cycle_days", [3, 14, 61])
@pytest.mark.parametrize("traps", [False, True])
def test_the_exact_sum_is_that_of_a_plain_loop(cycle_days, traps):
    around = replace(EACH_NIGHT, traps_every_days=5)
    seen_by = eyes(CheckWay(traps=traps), 0.0015, around)
    part = replace(
        seen_by,
        **{name: getattr(seen_by, name)[..., :250] for name in ("insects", "check", "glance")},
        traps=seen_by.traps[:, :250] if traps else None,
        guest=seen_by.guest[:250],
        pressure=seen_by.pressure[:250],
    )
    ours = detection(part, cycle_days, 5)
    mean, first, found = plain_detection(part, cycle_days, 5)
    assert ours.mean_days == pytest.approx(mean, abs=1e-9)
    for finder in Finder:
        assert ours.first[finder] == pytest.approx(first.get(finder.value, 0.0), abs=1e-11)
    np.testing.assert_allclose(ours.found, found, atol=1e-11)


def test_a_simulated_year_agrees():
    """A simulation of our own with whole infestations, each drawn on its own (z below 3.5)."""
    seen_by = eyes(CheckWay(traps=True), *ALERT)
    ours = detection(seen_by, 60)
    chance = np.random.default_rng(20261125)
    number = 40_000
    places = chance.choice(
        len(seen_by.shares), size=number, p=seen_by.shares / seen_by.shares.sum()
    )
    entered = chance.integers(1, 61, size=number)
    phase = chance.integers(1, 15, size=number)
    days = np.full(number, -1)
    guests = np.zeros(number, dtype=bool)
    for age in range(1500):
        open_ones = np.flatnonzero(days < 0)
        if not open_ones.size:
            break
        at = places[open_ones]
        rest = 1.0 - seen_by.glance[at, age]
        reads = (age >= phase[open_ones]) & ((age - phase[open_ones]) % 14 == 0)
        looks = (age >= entered[open_ones]) & ((age - entered[open_ones]) % 60 == 0)
        rest *= np.where(reads, 1.0 - seen_by.traps[at, age], 1.0)
        rest *= np.where(looks, 1.0 - seen_by.check[at, age], 1.0)
        by_guest = chance.random(open_ones.size) < seen_by.guest[age]
        by_others = chance.random(open_ones.size) > rest
        days[open_ones[by_guest | by_others]] = age
        guests[open_ones[by_guest]] = True
    error = days.std() / number**0.5
    assert abs(days.mean() - ours.mean_days) < 3.5 * error
    share = ours.first[Finder.GUEST]
    assert abs(guests.mean() - share) < 3.5 * (share * (1 - share) / number) ** 0.5


# --- against what was published of detection ------------------------------------------------


def test_a_brief_look_in_homes_found_more_than_ours_finds_of_small_infestations():
    """Wang, Singh, Zha, Cooper 2016, J Med Entomol 53(3): 72 +- 3 % by a brief look at bed and
    sofa, 89 +- 1 % by traps, of 291 infestations in homes. Those were larger and older than a
    hotel's, and counted only where one of the methods found something, so a hotel's share is
    lower. Our deep check reaches the 72 % at about 26 insects, our traps the 89 % at about 45;
    a brief look with the linen off reaches 72 % only at some 480."""
    deep, traps = CENTRAL.look(ODDS.looks["deep_closed"]), CENTRAL.look(ODDS.looks["traps"])
    linen = CENTRAL.look(ODDS.looks["linen"])
    insects = np.arange(1.0, 5001.0)
    reached = {
        "deep": insects[np.argmax(mean_chance_seen(CENTRAL, deep, insects) >= 0.72)],
        "traps": insects[np.argmax(mean_chance_seen(CENTRAL, traps, insects) >= 0.89)],
    }
    assert reached == {"deep": 26, "traps": 45}
    assert mean_chance_seen(CENTRAL, deep, [12.0])[0] < 0.72 - 2 * 0.03
    assert mean_chance_seen(CENTRAL, traps, [12.0])[0] < 0.89 - 2 * 0.01
    assert mean_chance_seen(CENTRAL, linen, [100.0])[0] < 0.5


def test_traps_over_eight_weeks_are_above_what_was_published_unless_few_insects_are_there():
    """Vail, Chandler 2017, J Econ Entomol 110:1187-1194: 80 to 90 % of low-level infestations
    (1 to 12 insects: Singh et al. 2017) within 8 weeks, with no gain from more traps. Four
    readings of ours at steady numbers: below it at one insect, within it at 2 to 3, above it from
    4 on. So ours are too good over weeks, most likely since readings of one room are not as
    independent as reckoned here. The cautious setting is within it at 4 to 6 insects."""

    def within_eight_weeks(setting, insects):
        look = setting.look(ODDS.looks["traps"])
        missed = (1.0 - chance_seen(setting, look, [insects])) ** 4
        return 1.0 - float((np.asarray(setting.shares) @ missed)[0])

    assert within_eight_weeks(CENTRAL, 1.0) < 0.80
    assert 0.80 < within_eight_weeks(CENTRAL, 3.0) < 0.90 < within_eight_weeks(CENTRAL, 4.0)
    cautious = setting_of(ODDS, Stance.CAUTIOUS)
    assert within_eight_weeks(cautious, 3.0) < 0.80
    assert 0.80 < within_eight_weeks(cautious, 5.0) < within_eight_weeks(cautious, 6.0) < 0.90


# --- edges -------------------------------------------------------------------------------


def test_what_nobody_looks_at_is_found_by_nobody():
    blind = replace(CENTRAL, notice=dict.fromkeys(CENTRAL.notice, 0.0))
    seen = detection(eyes(CheckWay(traps=True), 0.0, EACH_NIGHT, setting=blind), 90)
    assert seen.first[Finder.NOBODY] == 1.0
    assert seen.mean_days == HORIZON_DAYS
    assert (seen.median_days, seen.late_days) == (None, None)
    assert (seen.median_insects, seen.many_insects) == (None, None)


def test_glances_count_as_much_as_their_weight():
    shares = [
        detection(eyes(FULL, 0.0005, replace(EACH_NIGHT, glance_weight=weight)), 90).first[
            Finder.GLANCE
        ]
        for weight in (0.0, 0.25, 1.0)
    ]
    assert shares[0] == 0.0 < shares[1] < shares[2] == pytest.approx(0.197, abs=0.001)


def test_a_trap_that_has_stood_for_half_its_time_catches_half_as_many():
    around = replace(EACH_NIGHT, traps_every_days=14)
    seen_by = eyes(CheckWay(traps=True), 0.0, around)
    kind = CENTRAL.look(ODDS.looks["traps"])
    expected = chance_seen(CENTRAL, kind, [seen_by.insects[7] / 2])[:, 0]
    np.testing.assert_allclose(seen_by.traps[:, 7], expected)


def test_one_step_of_spread_is_the_chance_to_reach_each_neighbour():
    """Both have been there since age 0 and are found on day 30: pressure of 30 days."""
    seen_by = eyes(FULL, 0.0, NO_GLANCES)
    on_day_30 = np.zeros(HORIZON_DAYS)
    on_day_30[30] = 1.0
    seen = replace(detection(seen_by, 90), found=on_day_30, first={Finder.NOBODY: 0.0})
    pressure = sum(n / (n + 60.0) for n in seen_by.insects[:30].tolist())
    wall, above = 1 - np.exp(-0.004 * pressure), 1 - np.exp(-0.0015 * pressure)
    around = {(Kind.SHARES_WALL,): 2.0, (Kind.ABOVE,): 1.0}
    assert spread_on(CENTRAL, seen_by, seen, around) == pytest.approx(2 * wall + above)
    assert spread_on(CENTRAL, seen_by, seen, {}) == 0.0


def test_a_neighbour_in_two_ways_counts_in_the_stronger_one():
    seen_by = eyes(FULL, *RARELY)
    seen = detection(seen_by, 90)
    both = spread_on(CENTRAL, seen_by, seen, {(Kind.SHARES_WALL, Kind.CONNECTS): 1.0})
    one = spread_on(CENTRAL, seen_by, seen, {(Kind.SHARES_WALL,): 1.0})
    assert both == one > 0.0
