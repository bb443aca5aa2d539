from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.checks import lifting
from hotelwatch.core.checks.lifting import Grip, Lift, Spell
from tests.build import rules

INCH, POUND = 2.5, 23 / 51
"""As publication 94-110 pairs its two sets of constants: 10 in and 25 cm, 51 lb and 23 kg.

So paired, the metric equation is the one in inches and pounds, number for number.
"""
FIGURES = rules().figures
KINDS = sorted(rules().bed_kinds.values(), key=lambda kind: kind.code)


def in_inches(reach, height, travel, **more):
    return Lift(reach * INCH, height * INCH, travel * INCH, **more)


# Applications Manual for the revised NIOSH lifting equation, publication 94-110 (1994,
# revised 9/2021). Its worksheets round each multiplier to two places (page 29): hence 2 %.
WORKED = [
    # Example 4, package inspection, figure 14: multipliers read second-hand, 1.0 .94 .87
    # 1.0 .88 .95 at the origin; the printed limits are 34.9 and 15.2 lb.
    pytest.param(in_inches(10, 22, 37, per_minute=3, grip=Grip.FAIR), 34.9, id="example 4"),
    pytest.param(in_inches(20, 59, 37, per_minute=3, grip=Grip.FAIR), 15.2, id="example 4, end"),
    # Example 1, loading punch press stock, from memory: 16.3 and 14.5 lb printed.
    pytest.param(in_inches(23, 15, 48, grip=Grip.FAIR), 16.3, id="example 1"),
    pytest.param(in_inches(23, 63, 48, grip=Grip.FAIR), 14.5, id="example 1, end"),
    # Not in the manual: the same equation in inches and pounds, reckoned by hand:
    # 51 x 10/15 x (1 - .0075 x 18) x (.82 + 1.8/28) x .90.
    pytest.param(in_inches(15, 12, 28), 23.4, id="edge of a box spring, by hand"),
    pytest.param(in_inches(20, 10, 30, twist_deg=30), 15.5, id="over the frame, by hand"),
    pytest.param(in_inches(12, 15, 25), 30.3, id="close stance, by hand"),
]


@pytest.mark.parametrize(("lift", "pounds"), WORKED)
def test_worked_examples_come_out(lift, pounds):
    assert lifting.recommended_weight_kg(lift) / POUND == pytest.approx(pounds, rel=0.02)


def test_the_index_of_the_manuals_first_example():
    # 44 lb of stock: 2.7 where the lift begins, 3.0 where it ends (from memory).
    begins, ends = WORKED[2].values[0], WORKED[3].values[0]
    assert lifting.lifting_index(44 * POUND, begins) == pytest.approx(2.7, rel=0.02)
    assert lifting.lifting_index(44 * POUND, ends) == pytest.approx(3.0, abs=0.08)


def test_example_4_multiplier_by_multiplier():
    # Figure 14 of 94-110, read second-hand: 1.0 .94 .87 1.0 .88 .95 at the origin.
    lift = WORKED[0].values[0]
    found = (
        lifting.horizontal_multiplier(lift.reach_cm),
        lifting.vertical_multiplier(lift.height_cm),
        lifting.distance_multiplier(lift.travel_cm),
        lifting.asymmetry_multiplier(lift.twist_deg),
        lifting.frequency_multiplier(lift.per_minute, lift.spell, height_cm=lift.height_cm),
        lifting.coupling_multiplier(lift.grip, height_cm=lift.height_cm),
    )
    assert found == pytest.approx((1.0, 0.94, 0.87, 1.0, 0.88, 0.95), abs=0.005)


def test_the_best_lift_may_weigh_the_load_constant():
    # 23 kg (Waters et al. 1993): near, at knuckle height, short, straight, seldom, good grip.
    best = Lift(25, 75, 25, grip=Grip.GOOD)
    assert lifting.recommended_weight_kg(best) == pytest.approx(23.0)
    assert lifting.lifting_index(23.0, best) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("multiplier", "value", "printed"),
    [
        # Tables 1 to 4 of 94-110, metric, from memory; they are printed to two places.
        (lifting.horizontal_multiplier, 25, 1.00),
        (lifting.horizontal_multiplier, 40, 0.63),
        (lifting.horizontal_multiplier, 50, 0.50),
        (lifting.horizontal_multiplier, 63, 0.40),
        (lifting.horizontal_multiplier, 64, 0.00),
        (lifting.horizontal_multiplier, 10, 1.00),
        (lifting.vertical_multiplier, 0, 0.78),
        (lifting.vertical_multiplier, 75, 1.00),
        (lifting.vertical_multiplier, 150, 0.78),
        (lifting.vertical_multiplier, 175, 0.70),
        (lifting.vertical_multiplier, 176, 0.00),
        (lifting.distance_multiplier, 10, 1.00),
        (lifting.distance_multiplier, 40, 0.93),
        (lifting.distance_multiplier, 70, 0.88),
        (lifting.distance_multiplier, 100, 0.87),
        (lifting.distance_multiplier, 175, 0.85),
        (lifting.distance_multiplier, 176, 0.00),
        (lifting.asymmetry_multiplier, 0, 1.00),
        (lifting.asymmetry_multiplier, 45, 0.86),
        (lifting.asymmetry_multiplier, 90, 0.71),
        (lifting.asymmetry_multiplier, 135, 0.57),
        (lifting.asymmetry_multiplier, 136, 0.00),
    ],
)
def test_multipliers_as_the_tables_print_them(multiplier, value, printed):
    assert multiplier(value) == pytest.approx(printed, abs=0.0051)


@pytest.mark.parametrize(
    ("per_minute", "spell", "below", "above"),
    [
        # Table 5 of 94-110, from memory: hands begin below 75 cm, and at 75 cm or above.
        (0.0, Spell.SHORT, 1.00, 1.00),
        (0.2, Spell.LONG, 0.85, 0.85),
        (1, Spell.MODERATE, 0.88, 0.88),
        (3, Spell.SHORT, 0.88, 0.88),
        (6, Spell.LONG, 0.27, 0.27),
        (9, Spell.LONG, 0.00, 0.15),
        (10, Spell.LONG, 0.00, 0.13),
        (11, Spell.LONG, 0.00, 0.00),
        (11, Spell.MODERATE, 0.00, 0.23),
        (12, Spell.SHORT, 0.37, 0.37),
        (13, Spell.SHORT, 0.00, 0.34),
        (15, Spell.SHORT, 0.00, 0.28),
        (16, Spell.SHORT, 0.00, 0.00),
        # Between two rows on a straight line, as example 7 does for 2.4 a minute.
        (2.4, Spell.SHORT, 0.898, 0.898),
    ],
)
def test_the_frequency_table(per_minute, spell, below, above):
    for height, wanted in ((74, below), (75, above)):
        found = lifting.frequency_multiplier(per_minute, spell, height_cm=height)
        assert found == pytest.approx(wanted)


def test_the_grip_table():
    # Table 7 of 94-110: good 1.0 and 1.0, fair .95 and 1.0, poor .90 and .90.
    found = [
        lifting.coupling_multiplier(grip, height_cm=height) for grip in Grip for height in (74, 75)
    ]
    assert found == [1.0, 1.0, 0.95, 1.0, 0.90, 0.90]


@given(st.floats(0, 20), st.floats(0, 20), st.sampled_from(list(Spell)), st.floats(0, 175))
def test_lifting_more_often_never_allows_more(one, other, spell, height):
    less, more = sorted((one, other))
    often = lifting.frequency_multiplier(more, spell, height_cm=height)
    assert often <= lifting.frequency_multiplier(less, spell, height_cm=height) + 1e-12


def test_nothing_should_be_lifted_from_out_of_reach():
    far = Lift(70, 75, 25)
    assert lifting.recommended_weight_kg(far) == 0.0
    assert lifting.lifting_index(1.0, far) == math.inf


# --- beds --------------------------------------------------------------------------------


def test_half_a_base_rests_on_its_other_edge_and_two_share_by_two_thirds():
    # 70 lb, one person 35/23.4 = 1.50, two 35/31.2 = 1.12: by hand, HSE's two thirds.
    found = lifting.screened(FIGURES, "stand_base", 70 * POUND)
    assert found.alone == pytest.approx(1.50, abs=0.02)
    assert found.shared == pytest.approx(1.12, abs=0.02)
    assert found.takes_two
    assert found.is_over_for_two


def test_the_heaviest_base_that_one_person_may_stand():
    # Twice 23.4 lb, that is 46.8 lb: by hand.
    limit = 2 * lifting.recommended_weight_kg(lifting.edge_lift(FIGURES))
    assert limit / POUND == pytest.approx(46.8, rel=0.015)
    assert not lifting.screened(FIGURES, "stand_base", limit * 0.999).takes_two
    assert lifting.screened(FIGURES, "stand_base", limit * 1.001).takes_two


def test_a_weight_that_nobody_knows_takes_two():
    assert lifting.screened(FIGURES, "stand_base", 0.0).takes_two


def test_a_heavier_piece_is_never_less_of_a_load():
    found = [lifting.screened(FIGURES, "stand_base", kg) for kg in range(1, 80)]
    assert all(a.alone < b.alone and a.shared < b.shared for a, b in pairwise(found))
    assert all(one.shared < one.alone for one in found)


@pytest.mark.parametrize("encased", [False, True])
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.code)
def test_people_of_each_kind_of_bed_agree_with_the_equation(kind, encased):
    over = {
        lift.move for lift in lifting.lifts_of(FIGURES, kind, encased=encased) if lift.takes_two
    }
    assert kind.people >= (2 if over else 1)
    first = {}
    for place in kind.places_of(encased=encased):
        first.setdefault(place.move, place)
    assert all(first[move].people >= 2 for move in over)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.code)
def test_every_lift_of_a_shipped_bed_has_a_weight_and_no_weight_is_idle(kind):
    moves = {place.move for place in (*kind.places, *kind.encased_places)}
    assert set(kind.lifts_kg) == moves & lifting.LIFTING_MOVES


def test_which_shipped_kinds_take_two_by_weight():
    def takes_two(kind, *, encased=False):
        return any(lift.takes_two for lift in lifting.lifts_of(FIGURES, kind, encased=encased))

    two = {kind.code for kind in KINDS if takes_two(kind)}
    assert {"box_spring", "platform", "divan", "slats", "sofa_bed"} <= two
    assert "crib" not in two
    # What hides an encased sofa bed's underside is lifted all the same; a platform's is seen
    # from below once it is encased.
    assert takes_two(rules().bed_kinds["sofa_bed"], encased=True)


def test_the_heaviest_lift_of_a_round_is_named():
    lifts = lifting.lifts_of(FIGURES, rules().bed_kinds["box_spring"])
    assert lifting.heaviest(lifts).move == "stand_mattress"
    assert lifting.heaviest(()) is None
