"""A plan's proof, and what a hand on it costs, in words."""

from __future__ import annotations

import pytest

from hotelwatch.core.rounds.moving import Hindrance
from hotelwatch.core.rounds.plan import Proof
from hotelwatch.wording import language, plan_calendar
from hotelwatch.wording.proofs import hand_price_sentence, proof_sentences, proof_terms


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def proof(overdue=0, fewest=0, walking=0, kept=0, moved=0, **more):
    return Proof(overdue, fewest, walking, kept, moved, **more)


def test_what_is_reached_is_told_beside_what_is_proven():
    assert proof_sentences(proof(0, 0, 65)) == (
        "No bed is overdue on any of these days, as planned.",
        "Walking to corridors: 1 h 5 min.",
    )
    assert proof_sentences(proof(7, 7))[0] == "7 late days. Proven: no plan has fewer."
    assert proof_sentences(proof(1, 0))[0] == "1 late day. Proven: no plan has fewer than 0."


def test_a_stop_and_what_moved_are_told():
    said = proof_sentences(proof(0, 0, 8, 28, 2, was_stopped=True))
    assert "Stopped early: this is the best plan found until then." in said
    assert said[-1] == "Of 30 published visits that are still possible 2 moved to another day."


def test_words_that_nobody_can_know_are_explained():
    said = " ".join(proof_terms())
    assert all(word in said for word in ("late day", "Proven", "Fixed", "Likely"))


@pytest.mark.parametrize(
    ("pins", "with_hand", "without", "said"),
    [
        (
            3,
            (9, 60),
            (5, 44),
            "Planned with your 3 choices by hand: 9 late days, 1 h of walking."
            " Planned without: 5 late days, 44 min of walking.",
        ),
        (
            1,
            (4, 52),
            (5, 44),
            "Planned with your choice by hand: 4 late days, 52 min of walking."
            " Planned without: 5 late days, 44 min of walking.",
        ),
        (
            2,
            (5, 44),
            (5, 44),
            "Planned without your 2 choices by hand: as many late days, as much walking.",
        ),
    ],
)
def test_a_hand_is_told_what_it_costs(pins, with_hand, without, said):
    one, other = (proof(overdue, 0, walking) for overdue, walking in (with_hand, without))
    assert hand_price_sentence(pins, with_hand=one, without=other) == said


@pytest.mark.parametrize(
    ("in_time", "said"),
    [
        (12, "12 looks come due again within these days: planned in time, as likely."),
        (
            9,
            "12 looks come due again within these days: 9 planned in time, as likely, 3 not. Their"
            " late days are not counted above.",
        ),
    ],
)
def test_looks_that_come_due_again_are_told(in_time, said):
    assert proof_sentences(proof(0, 0, 8, again=12, again_in_time=in_time))[2] == said


def test_every_hindrance_has_its_sentence():
    assert set(plan_calendar.HINDRANCE) == set(Hindrance)
