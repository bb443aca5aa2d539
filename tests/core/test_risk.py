"""Cycles by risk, and rooms that the record speaks for.

That rooms beside a find come first is advice of the trade's codes of practice (adjoining
rooms on all sides, above and below); for how long is an assumption of ours.
"""

from datetime import timedelta

import pytest

from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.checks.cycles import cycle_from, cycle_rows, rooms_of_risk
from hotelwatch.core.checks.risk import risky_rooms
from hotelwatch.core.facts import CaseNo, CycleChosen, Risk, RiskPlaced, RoomNo, Scope
from hotelwatch.wording.rounds import risky_lines, risky_sentence
from tests.build import FIRST, house, moment


def three_in_a_row():
    built = house().floors("1")
    for room in ("101", "102", "103"):
        built.room(room, room_type="Twin").bed("A")
    return built


def sighted(room, sign):
    return Sighted(CaseNo("26-1"), RoomNo(room), "", "", sign, 1, "anna", moment(0))


def cycles(built):
    return [built.house.cycle_of(RoomNo(room)) for room in ("101", "102", "103")]


def test_a_risks_cycle_counts_over_the_types_and_under_the_rooms_own():
    built = three_in_a_row().record(
        CycleChosen(Scope.HOUSE, "", 90),
        CycleChosen(Scope.ROOM_TYPE, "Twin", 60),
        CycleChosen(Scope.RISK, Risk.HIGHER, 30),
    )
    assert cycles(built) == [60, 60, 60]
    built.record(RiskPlaced(RoomNo("101"), Risk.HIGHER), RiskPlaced(RoomNo("102"), Risk.LOWER))
    assert cycles(built) == [30, 60, 60]  # no cycle was chosen for lower risk
    built.record(CycleChosen(Scope.RISK, Risk.LOWER, 120), CycleChosen(Scope.ROOM, "101", 14))
    assert cycles(built) == [14, 120, 60]
    built.record(CycleChosen(Scope.ROOM, "101", 0), RiskPlaced(RoomNo("102"), Risk.USUAL))
    assert cycles(built) == [30, 60, 60]
    told = cycle_from(built.house, RoomNo("101"))
    assert (told.scope, told.risk, told.cycle_days) == (Scope.RISK, Risk.HIGHER, 30)


def test_rows_of_risks_say_how_many_rooms_and_beds_they_are_for():
    built = three_in_a_row().record(
        RiskPlaced(RoomNo("103"), Risk.HIGHER), CycleChosen(Scope.RISK, Risk.HIGHER, 21)
    )
    rows = {row.which: row for row in cycle_rows(built.house) if row.scope is Scope.RISK}
    assert [(r.rooms, r.beds, r.cycle_days, r.is_chosen) for r in rows.values()] == [
        (1, 1, 21, True),
        (0, 0, 91, False),
    ]
    assert rooms_of_risk(built.house, Risk.HIGHER) == ("103",)


def risky(built, today):
    around = neighbours(built.house, lay_out(built.house))
    return {one.room: one for one in risky_rooms(built.house, around, today)}


@pytest.mark.parametrize("sign", [Sign.LIVE_INSECT, Sign.CAST_SKIN])
def test_a_find_speaks_for_its_room_and_those_that_touch_it(sign):
    built = three_in_a_row().record(sighted("101", sign))
    found = risky(built, FIRST)
    assert set(found) == {"101", "102"}
    assert (found["101"].found_in, found["101"].kinds) == ("101", ())
    assert (found["102"].found_in, found["102"].found_on) == ("101", found["101"].found_on)
    assert found["102"].kinds == (Kind.SHARES_WALL,)


def test_a_room_over_a_find_is_told_as_above_it():
    built = three_in_a_row()
    for room in ("201", "202", "203"):
        built.room(room, floor="2")
    found = risky(built.floors("1", "2").record(sighted("101", Sign.LIVE_INSECT)), FIRST)
    assert found["201"].kinds == (Kind.ABOVE,)
    assert risky_sentence(found["201"]).startswith("201: above 101, where a sign was found on")
    assert "202" not in found
    assert risky_lines(found.values()) == [
        "101: a sign was found there on Mon 5 Jan 2026. 102 and 201 touch it."
    ]


def test_weak_signs_and_finds_of_long_ago_speak_for_no_room():
    assert not risky(three_in_a_row().record(sighted("101", Sign.BITES_REPORTED)), FIRST)
    built = three_in_a_row().record(sighted("101", Sign.LIVE_INSECT))
    days = int(built.house.rules.figures.risk_found_days.value)
    (found_on,) = {one.found_on for one in risky(built, FIRST).values()}
    assert risky(built, found_on + timedelta(days=days))
    assert not risky(built, found_on + timedelta(days=days + 1))
