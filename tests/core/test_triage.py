"""What a raw sign counts as: by weight, by treatments before it, by the local rules."""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.cases.case import Stage, case_of
from hotelwatch.core.checks.signs import SignClass, class_of, weight_of
from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import day, house, moment, rules

OLD, NEW = CaseNo("2025-001"), CaseNo("2026-001")


def _sign(sign, on=40):
    return Sighted(NEW, RoomNo("101"), "", "", sign, 1, "ana", moment(on))


def _treated(on=0):
    return TreatmentRecorded(OLD, RoomNo("101"), day(on), "heat", "firm", "L-1", moment(on, 18))


# Trade check case: cast skins only, the room treated 40 days ago. Under the association's
# practices they may be left over and the room stays suspected (2011, 9.4: active if the
# area was never treated before); under K.A.R. 28-36-77(p), 2008, they are an infestation.
@pytest.mark.parametrize(
    ("profile", "counts_as", "weight"),
    [
        ("association_practices", SignClass.OLD_SIGN, Evidence.WEAK),
        ("house", SignClass.OLD_SIGN, Evidence.WEAK),
        ("kansas", SignClass.INFESTATION_BY_RULE, Evidence.STRONG),
    ],
)
def test_cast_skins_in_a_room_treated_forty_days_ago(profile, counts_as, weight):
    built = house().room("101").bed("A").record(_treated(), ProfileChosen(profile))
    sign = _sign(Sign.CAST_SKIN)
    built.record(sign)
    assert class_of(built.house, sign) is counts_as
    assert weight_of(built.house, sign) is weight
    # A rule that counts a sign as an infestation takes nobody's judgement away.
    assert case_of(built.house, NEW).stage is Stage.SUSPECTED
    assert built.house.all_of(Sighted) == (sign,)


def test_the_same_skins_weigh_more_in_a_room_that_was_never_treated():
    built = house().room("101").bed("A").room("102").bed("A")
    assert class_of(built.house, _sign(Sign.CAST_SKIN)) is SignClass.SUSPECTED
    assert weight_of(built.house, _sign(Sign.CAST_SKIN)) is Evidence.MODERATE
    built.record(_treated(on=40))
    # Treated on the very day, not before it; and another room's treatment is no matter.
    assert weight_of(built.house, _sign(Sign.CAST_SKIN)) is Evidence.MODERATE


# Source: a live insect is active once identified, eggs as well, whatever was treated:
# national pest management association, best management practices (2011), 9.2 and 9.3.
@pytest.mark.parametrize("sign", [Sign.LIVE_INSECT, Sign.EGGS])
def test_live_insects_and_eggs_are_strong_after_any_treatment(sign):
    built = house().room("101").bed("A").record(_treated())
    assert weight_of(built.house, _sign(sign)) is Evidence.STRONG


# Source: bites show late or not at all and tell neither what bit nor where: Minnesota
# Department of Health. A dog's alert is false in 15 % (0-57 %): Cooper, Wang, Singh 2014.
@pytest.mark.parametrize("sign", [Sign.BITES_REPORTED, Sign.GUEST_WORD, Sign.DOG_ALERT])
def test_what_nobody_saw_is_weak_and_asks_for_its_own_room_only(sign):
    built = house().room("101").bed("A")
    weight = weight_of(built.house, _sign(sign))
    assert weight is Evidence.WEAK
    response = built.house.rules.responses[weight]
    assert not response.asks_ring
    assert not response.wants_judgement


def test_every_weight_has_a_response_and_every_lookalike_its_marks():
    known = rules()
    assert set(known.responses) == set(Evidence)
    assert known.responses[Evidence.STRONG].asks_ring
    assert known.responses[Evidence.MODERATE].wants_judgement
    assert {"bat_bug", "carpet_beetle", "book_louse", "tick", "flea"} <= set(known.lookalikes)
    assert all(one.marks and one.source for one in known.lookalikes.values())
