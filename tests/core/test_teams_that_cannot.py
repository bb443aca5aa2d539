"""Teams with too few people or no shift while rooms are empty: counted as what they are.

Sums are worked by hand. Day 0 is a Monday.
"""

from __future__ import annotations

import pytest

from hotelwatch.core.facts import TeamName
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.reasons import reasons
from hotelwatch.core.planning.shortfall import Binds
from hotelwatch.core.planning.what_if import Ground, what_if
from hotelwatch.core.round_facts import TeamDaysChanged
from hotelwatch.core.rounds.outlook import Change
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.wording import language
from hotelwatch.wording.proofs import proof_sentences
from tests.build import day, house, moment

DAYS = 14
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEKDAYS = EVERY_DAY[:5]


def asked(built):
    return built.house, occupancy(built.house, day(0)), Wish(day(0), DAYS, moment(0))


def for_two():
    """A kind of bed that needs two people."""
    kinds = house().house.rules.bed_kinds
    return next(code for code, kind in kinds.items() if kind.people == 2)


def room_of_two_beds(built, *, on):
    built.room("101")
    for letter in "AB":
        built.bed(letter, for_two()).checked(letter, day(on - 91))
    return built


def test_beds_that_no_team_can_look_at_are_late_wherever_late_days_are_told():
    built = room_of_two_beds(house().team("alone", 200, people=1, works_on=EVERY_DAY), on=5)
    by_hand = 2 * (13 - 5)
    proof = plan_rounds(*asked(built)).proof
    assert (proof.overdue_bed_days, proof.outside) == (0, by_hand)
    language.use("en")
    assert proof_sentences(proof)[0].startswith(f"{by_hand} late days of beds")
    told = reasons(*asked(built))
    assert (told.late.total, told.late.outside) == (0, by_hand)
    (one,) = told.shortfalls
    assert (one.binds, one.rooms, one.overdue_bed_days) == (Binds.NO_TEAM, ("101",), by_hand)
    outlook = what_if(Ground(*asked(built)), Change())
    assert outlook.overdue_bed_days == outlook.fewest == by_hand
    assert [day.late_beds for day in outlook.days] == [0] * 6 + [2] * 8


@pytest.mark.parametrize("minutes", [60, 200])
def test_a_team_that_can_do_nothing_changes_nothing(minutes):
    """Empty on Friday and Saturday, due on Sunday: one alone on Saturday is no help."""
    pair = room_of_two_beds(house().team("pair", 200, works_on=WEEKDAYS), on=6)
    pair.stays(("101", -3, 4), ("101", 5, 20))
    before = plan_rounds(*asked(pair))
    assert [slot.on for slot in before.slots] == [day(4)]
    load = reasons(*asked(pair)).load
    pair.team("weekend", minutes, people=1, works_on=("sat", "sun"))
    after = plan_rounds(*asked(pair))
    assert (after.slots, after.proof) == (before.slots, before.proof)
    assert reasons(*asked(pair)).load == load


def test_a_room_open_on_days_off_alone_is_one_room_whatever_its_beds():
    """Both beds at once: one reason, and one night of it to keep free."""
    built = room_of_two_beds(house().team("pair", 200, works_on=WEEKDAYS), on=6)
    built.stays(("101", -3, 5), ("101", 6, 20))
    (one,) = reasons(*asked(built)).shortfalls
    assert (one.binds, one.days) == (Binds.NO_TEAM, (day(5), day(6)))
    assert one.overdue_bed_days == 2 * (13 - 6)


def test_a_room_open_only_while_too_few_work_is_one_room_whatever_its_beds():
    """As above, with one who works alone on these days."""
    built = room_of_two_beds(house().team("pair", 200, works_on=WEEKDAYS), on=6)
    built.team("weekend", 200, people=1, works_on=("sat", "sun"))
    built.stays(("101", -3, 5), ("101", 6, 20))
    (one,) = reasons(*asked(built)).shortfalls
    assert (one.binds, one.overdue_bed_days) == (Binds.NO_TEAM, 2 * (13 - 6))


def test_a_day_longer_than_the_others_does_not_make_a_long_room_one_visit():
    """Five beds of 4 minutes and 6 of set-up: one alone has 24 a day, a pair 34 once."""
    built = house(corridor_minutes=0).team("one", 24, people=1, works_on=WEEKDAYS)
    built.team("pair", 34, works_on=()).room("101")
    for letter in "ABCDE":
        built.bed(letter, "crib").checked(letter, day(-92))
    built.room("201")
    for letter in "AB":
        built.bed(letter, for_two()).checked(letter, day(-92))
    built.record(TeamDaysChanged(TeamName("pair"), day(0), day(0), 34, "once"))
    plan = plan_rounds(*asked(built))
    assert [((slot.on - day(0)).days, slot.room, len(slot.beds)) for slot in plan.slots] == [
        (0, "101", 4),
        (0, "201", 2),
        (1, "101", 1),
    ]
