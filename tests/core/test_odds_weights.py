"""Rounds that go by odds: rooms in which a look saves more weigh more, some drawn at random."""

from dataclasses import replace

import pytest

from hotelwatch.actions.rounds import draft_round, weights_of
from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.odds.hotel import reckon
from hotelwatch.core.odds.weights import risk_weights
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment


def corridor(rooms=12):
    """Rooms along a corridor, one bed each, looked at in turn; the last ones longest ago."""
    built = house()
    for number in range(rooms):
        built.room(f"1{number:02}").bed("A").checked("A", day(60 - 4 * number))
    return built.team("Early", minutes=25)


def reckoned(built, today):
    around = neighbours(built.house, lay_out(built.house))
    return reckon(built.house, occupancy(built.house, today), around, today)


def without_draw(built):
    """The house with nothing drawn at random."""
    shipped = built.house.shipped
    figures = shipped.odds.figures
    none = replace(figures.random_share, value=0.0)
    odds = shipped.odds.with_figures({"random_share": none})
    built.house = replace(built.house, shipped=replace(shipped, odds=odds))
    return built


def test_weights_lie_between_the_cycle_alone_and_the_limit():
    built = corridor()
    most = built.house.rules.odds.figures.risk_weight_most.value
    weights = risk_weights(reckoned(built, day(90)))
    assert set(weights) == set(built.house.rooms)
    assert all(1.0 <= weight <= most for weight in weights.values())


def test_rooms_that_nobody_looked_at_for_long_weigh_more():
    built = house()
    for number in range(12):
        built.room(f"1{number:02}").bed("A").checked("A", day(0))
        if number % 2:
            built.checked("A", day(85))
    weights = risk_weights(reckoned(without_draw(built), day(90)))
    lately = [weights[room] for room in list(weights)[1::2]]
    long_ago = [weights[room] for room in list(weights)[0::2]]
    assert max(lately) <= min(long_ago)
    assert sum(lately) < sum(long_ago)


def test_the_share_drawn_is_about_the_one_asked_for():
    built = corridor(200)
    shares = []
    for week in range(8):
        reckoning = replace(reckoned(built, day(90)), today=day(90 + 7 * week))
        most = built.house.rules.odds.figures.risk_weight_most.value
        drawn = [w for w in risk_weights(reckoning).values() if w == most]
        shares.append(len(drawn) / 200)
    # The least share is that of the draw alone: 0.15, of 1,600 draws within 4 standard errors.
    assert sum(shares) / len(shares) >= 0.15 - 4 * (0.15 * 0.85 / 1600) ** 0.5


@pytest.mark.parametrize("choice", ["cycle", "odds"])
def test_where_minutes_are_short_the_likelier_room_goes_first(choice):
    """Two rooms due alike: by odds the one next to a find comes first."""
    built = without_draw(house())
    for number in (1, 2, 3, 4, 5, 6):
        built.room(f"10{number}").bed("A").checked("A", day(0))
    built.checked("A", day(0))
    built.on(20).record(
        Sighted(CaseNo("2026-001"), RoomNo("105"), "", "", Sign.LIVE_INSECT, 3, "Ana", moment(20)),
        CaseJudged(CaseNo("2026-001"), Outcome.CONFIRMED, "Dr. Lis", "licence", day(20)),
    )
    built.team("Early", minutes=30)
    if choice == "odds":
        built.record(RuleChosen("rounds_by", "odds"))
    weights = weights_of(built.house, occupancy(built.house, day(95)), day(95))
    assert weights[RoomNo("106")] > weights[RoomNo("101")]
    plan = draft_round(built.house, occupancy(built.house, day(95)), Wish(day(95), 7, moment(95)))
    assert bool(plan.weights) is (choice == "odds")
    assert (plan.slots[0].room in {"104", "106"}) is (choice == "odds")
