"""What finds cost so far: nights closed and nobody stayed, rooms treated, by the hotel's prices."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.cost_years import cost_years
from hotelwatch.core.cases.lets import lets_against_blocks
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import day, house, moment, rules

ONE, TWO = CaseNo("2026-001"), CaseNo("2026-002")
FIGURES = rules().odds.figures


def closed(*spans):
    """Rooms closed as (room, case, from day, until day or None), nine in the morning."""
    build = house()
    for room in ("101", "102"):
        build.room(room).bed("A")
    for room, case, first, last in spans:
        build.record(
            Sighted(case, RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "anna", moment(first)),
            QuarantinePlaced(RoomNo(room), case, moment(first), "sighting"),
        )
        if last is not None:
            build.record(QuarantineLifted(RoomNo(room), case, moment(last), "mara", True))
    return build


def judged(case, outcome=Outcome.CONFIRMED):
    return CaseJudged(case, outcome, "Dr. Vey", "entomologist", day(1))


def treated(number, room="101", case=ONE):
    return TreatmentRecorded(
        case, RoomNo(room), day(number), "heat", "an invented firm", "L-1", moment(number, 18)
    )


def costs(build, today, finds=(), figures=FIGURES):
    now = moment(today)
    lets = lets_against_blocks(build.house, now)
    return cost_years(build.house, figures, finds, lets=lets, now=now)


def test_nights_from_the_first_until_the_room_is_given_back():
    (row,) = costs(closed(("101", ONE, 10, 24)).record(judged(ONE)), 100)
    assert (row.year, row.nights, row.nights_of_others) == (2026, 14, 0)
    assert row.for_nights[Stance.CENTRAL] == 14 * FIGURES.price_room_night.value


def test_tonight_is_to_come_while_the_room_is_closed():
    (row,) = costs(closed(("101", ONE, 10, None)).record(judged(ONE)), 15)
    assert row.nights == 5
    assert costs(closed(("101", ONE, 10, None)), 10) == ()


def test_a_night_counts_once_and_for_the_case_that_was_confirmed():
    build = closed(("101", ONE, 10, 20), ("101", TWO, 15, 25)).record(judged(ONE))
    (row,) = costs(build, 100)
    assert (row.nights, row.nights_of_others) == (10, 5)


def test_a_case_ruled_out_cost_nights_all_the_same():
    build = closed(("101", ONE, 10, 13)).record(judged(ONE, Outcome.NOT_BED_BUG))
    (row,) = costs(build, 100)
    assert (row.nights, row.nights_of_others) == (0, 3)
    assert row.money[Stance.CENTRAL] == 3 * FIGURES.price_room_night.value


def test_nights_on_which_somebody_stayed_are_not_lost():
    build = closed(("101", ONE, 10, 20)).record(judged(ONE)).stays(("101", 12, 15))
    (row,) = costs(build, 100)
    assert row.nights == 7


def test_several_visits_to_a_room_are_one_treatment_in_the_year_of_the_first():
    build = closed(("101", ONE, 350, 380)).record(judged(ONE))
    build.record(treated(355), treated(366), treated(366, "102"))
    last, first, whole = costs(build, 400)  # 5 January 2027 is day 365
    assert (last.year, first.year, whole.year) == (2027, 2026, 0)
    assert (first.rooms_treated, first.visits) == (1, 1)
    assert (last.rooms_treated, last.visits) == (1, 2)
    assert (whole.rooms_treated, whole.visits) == (2, 3)
    assert first.nights + last.nights == whole.nights == 30
    assert whole.money[Stance.CENTRAL] == pytest.approx(
        first.money[Stance.CENTRAL] + last.money[Stance.CENTRAL]
    )


def test_the_hotels_own_price_counts():
    own = replace(FIGURES, price_room_night=FIGURES.price_room_night.chosen(240))
    (row,) = costs(closed(("101", ONE, 10, 12)).record(judged(ONE)), 100, figures=own)
    assert row.for_nights == dict.fromkeys(Stance, 480)
