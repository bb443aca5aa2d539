"""What happens to the rooms around a sign until somebody has looked at them.

Closing them too: a state hospitality association's advice; looking, and serving what is
found: national pest management association, best practices (2011), 13.2.2.
"""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import CaseJudged, Outcome, QuarantineLifted, Sign
from hotelwatch.core.cases.held import rooms_held_until_looked_at
from hotelwatch.core.cases.release import check_lifting, missing_for_release
from hotelwatch.core.choice_facts import CartServes, RuleChosen
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.problems import Refusal
from tests.build import day, moment
from tests.core.test_ring import ONE, find, look, row_of_rooms

R102 = RoomNo("102")


def holding(hold):
    return row_of_rooms().record(RuleChosen("hold", hold))


def codes(built, room, number):
    lacks = missing_for_release(built.house, ONE, RoomNo(room), now=moment(number, 12))
    return [lack.code for lack in lacks]


def test_closed_too_means_every_neighbour_is_in_quarantine_and_nothing_tied_is():
    built = holding("hold").record(CartServes("one", ("103", "107"), day(-1)))
    find(built, "103")
    placed = {fact.room: fact.reason for fact, _ in built.house.quarantines}
    assert placed == {"103": "sighting", "102": "ring_held", "104": "ring_held"}


def test_a_weak_sign_closes_no_neighbour():
    built = holding("hold")
    find(built, "103", sign=Sign.GUEST_WORD)
    assert {fact.room for fact, _ in built.house.quarantines} == {"103"}


def test_a_closed_neighbour_is_ready_to_be_given_back_once_it_was_looked_at():
    built = holding("hold")
    find(built, "103")
    lifted = QuarantineLifted(R102, ONE, moment(0, 11), "mara", conditions_met=True)
    assert codes(built, "102", 0) == ["clean_checks"]
    with pytest.raises(Refusal, match="conditions_missing"):
        check_lifting(built.house, lifted, moment(0, 11))
    look(built, "102", 0)
    assert codes(built, "102", 0) == []
    check_lifting(built.house, lifted, moment(0, 11))
    assert codes(built, "103", 0) == ["judgement"]
    assert R102 in built.house.quarantined(moment(1))  # until a named person lifts it


def test_a_find_in_a_closed_neighbour_makes_it_a_room_of_the_case():
    built = holding("hold")
    find(built, "103")
    assert find(built, "102") == ONE
    look(built, "102", 0)
    assert codes(built, "102", 0) == ["judgement"]


def test_a_case_ruled_out_gives_its_neighbours_back_unlooked_at():
    built = holding("hold")
    find(built, "103")
    built.record(CaseJudged(ONE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(0)))
    assert codes(built, "102", 0) == []


def test_rooms_not_to_be_let_before_somebody_has_looked():
    built = holding("inspect_then_sell").record(CartServes("one", ("103", "107"), day(-1)))
    find(built, "103")
    assert {fact.room for fact, _ in built.house.quarantines} == {"103"}
    held = rooms_held_until_looked_at(built.house, moment(0, 12))
    assert [(row.room, row.by_at, row.cases) for row in held] == [
        ("102", moment(1), (ONE,)),
        ("104", moment(1), (ONE,)),
    ]
    look(built, "102", 0)
    assert [row.room for row in rooms_held_until_looked_at(built.house, moment(0, 12))] == ["104"]


@pytest.mark.parametrize("hold", ["hold", "inspect"])
def test_under_other_rules_no_room_is_kept_unlet_without_a_quarantine(hold):
    built = holding(hold)
    find(built, "103")
    assert rooms_held_until_looked_at(built.house, moment(0, 12)) == ()


def test_who_is_left_out_of_the_ring_is_not_closed_for_it_either():
    built = holding("hold")
    find(built, "103", without={"102"})
    assert {fact.room for fact, _ in built.house.quarantines} == {"103", "104"}
