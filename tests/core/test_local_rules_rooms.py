"""Rooms closed, not let, given back, looked at after standing empty: hand-made records."""

from __future__ import annotations

from datetime import date

import pytest

from hotelwatch.core.case_facts import (
    CaseJudged,
    NoticeGiven,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.facts import CaseNo, RoomNo, StaysImported
from hotelwatch.core.local_rules.judging import judged
from hotelwatch.core.local_rules.rows import ItemState, Period, Verdict
from hotelwatch.core.rule_facts import Asks
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, day, house, moment
from tests.core.rule_clauses import clause, own_rules

ONE = CaseNo("2026-001")
ROOM = RoomNo("101")
MONTH = Period(day(0), day(27), moment(28))


def hotel(*clauses) -> Build:
    return house().room(ROOM).bed("A").record(*own_rules(*clauses))


def sign(number: int, kind=Sign.LIVE_INSECT, case=ONE) -> Sighted:
    return Sighted(case, ROOM, "", "", kind, 1, "ana", moment(number))


def closed(number: int, hour: int = 9) -> QuarantinePlaced:
    return QuarantinePlaced(ROOM, ONE, moment(number, hour), "sighting")


def lifted(number: int, *, met=True) -> QuarantineLifted:
    return QuarantineLifted(ROOM, ONE, moment(number, 15), "mara", met, "" if met else "needed")


def confirmed(number: int, outcome=Outcome.CONFIRMED, competence="entomologist") -> CaseJudged:
    return CaseJudged(ONE, outcome, "Dr. Vey", competence, day(number))


def treated(number: int) -> TreatmentRecorded:
    return TreatmentRecorded(ONE, ROOM, day(number), "heat", "firm", "L-1", moment(number, 18))


def word(number: int, hour: int, room: str = "") -> NoticeGiven:
    return NoticeGiven(ONE, "release_word", "the officer", moment(number, hour), "ana", room=room)


def only(built: Build, period: Period = MONTH):
    (one,) = judged(built.house, period).judgements
    return one


def states(built: Build, period: Period = MONTH):
    return [item.state for item in only(built, period).items]


# --- closed at once, and not let ------------------------------------------------------------


def test_a_room_closed_on_the_day_of_the_sign_is_as_the_clause_asks():
    built = hotel(clause(Asks.CLOSE)).record(sign(3), closed(3, 11))
    assert only(built).verdict is Verdict.MET
    assert only(built).tables == ("sightings", "quarantines", "lets")


def test_a_room_closed_the_day_after_is_late_and_one_never_closed_is_missing():
    assert states(hotel(clause(Asks.CLOSE)).record(sign(3), closed(4))) == [ItemState.LATE]
    assert states(hotel(clause(Asks.CLOSE)).record(sign(3))) == [ItemState.MISSING]


def test_a_room_that_was_given_back_before_the_sign_is_not_closed():
    built = hotel(clause(Asks.CLOSE)).record(closed(0)).record(lifted(2), sign(3))
    assert states(built) == [ItemState.MISSING]


def test_a_clause_may_be_about_some_signs_only():
    built = hotel(clause(Asks.CLOSE, signs=("live_insect",))).record(sign(3, Sign.CAST_SKIN))
    assert only(built).verdict is Verdict.NOT_ARISEN
    built.record(sign(4))
    assert [item.since for item in only(built).items] == [moment(4)]


def test_a_night_let_against_a_block_is_named():
    built = hotel(clause(Asks.CLOSE)).record(sign(3), closed(3)).stays(("101", 5, 7))
    first, let = only(built).items
    assert (first.state, let.state) == (ItemState.DONE, ItemState.MISSING)
    assert (let.what, let.room, let.done, let.table) == ("not_let", "101", day(5), "lets")
    assert only(built).verdict is Verdict.NOT_MET


# --- given back -------------------------------------------------------------------------------


@pytest.mark.parametrize(("met", "state"), [(True, ItemState.DONE), (False, ItemState.MISSING)])
def test_a_confirmed_room_is_given_back_on_its_conditions(met, state):
    built = hotel(clause(Asks.ELIMINATE)).record(sign(3), closed(3), confirmed(4), treated(5))
    assert states(built) == [ItemState.AHEAD]
    assert only(built).verdict is Verdict.NOT_ARISEN
    built.record(lifted(20, met=met))
    assert states(built) == [state]


def test_what_nobody_confirmed_had_nothing_to_eliminate():
    built = hotel(clause(Asks.ELIMINATE)).record(sign(3), closed(3), lifted(4, met=False))
    assert only(built).verdict is Verdict.NOT_ARISEN


@pytest.mark.parametrize(
    ("words", "state"),
    [
        ((), ItemState.MISSING),
        ((word(19, 9),), ItemState.DONE),
        ((word(19, 9, "101"),), ItemState.DONE),
        ((word(19, 9, "102"),), ItemState.MISSING),
        ((word(20, 16),), ItemState.MISSING),
        ((word(4, 9),), ItemState.MISSING),
    ],
)
def test_an_officers_word_comes_after_the_treatment_and_before_the_release(words, state):
    asked = clause(Asks.RELEASE, releaser="health_officer", holds_for="confirmed")
    built = hotel(asked).record(sign(3), closed(3), confirmed(4), treated(5), *words, lifted(20))
    assert states(built) == [state]
    assert only(built).items[0].what == "word_health_officer"


def test_not_a_bed_bug_is_a_professionals_word_but_no_officers():
    def given_back(releaser, competence="entomologist"):
        built = hotel(clause(Asks.RELEASE, releaser=releaser)).record(sign(3), closed(3))
        return built.record(confirmed(4, Outcome.NOT_BED_BUG, competence), lifted(5))

    assert states(given_back("licensed")) == [ItemState.DONE]
    assert states(given_back("licensed", "")) == [ItemState.MISSING]
    assert states(given_back("health_officer")) == [ItemState.MISSING]
    assert states(given_back("hotel")) == [ItemState.DONE]


def test_a_clause_for_confirmed_cases_leaves_suspected_ones_alone():
    asked = clause(Asks.RELEASE, releaser="licensed", holds_for="confirmed")
    built = hotel(asked).record(sign(3), closed(3), lifted(5))
    assert only(built).verdict is Verdict.NOT_ARISEN


def test_a_room_closed_only_as_a_neighbour_needs_no_word():
    built = hotel(clause(Asks.RELEASE, releaser="licensed"))
    built.record(Sighted(ONE, RoomNo("102"), "", "", Sign.EGGS, 1, "ana", moment(3)))
    built.record(closed(3), lifted(5))
    assert only(built).items == ()


# --- empty before the next guest -----------------------------------------------------------------

# Source: a room that stood empty for 30 days or more is inspected within 24 hours of the next
# guest (K.A.R. 28-36-77(p), text of 2008, hosted copy).
VACANT = clause(Asks.VACANT, vacant_days=30, amount=24)
FEBRUARY = Period(date(2026, 2, 1), date(2026, 2, 28), moment(60))


def with_stays(*spans, known_from: int = -60) -> Build:
    read = StaysImported("b.csv", "00", day(known_from), len(spans), 0)
    return hotel(VACANT).record(read).stays(*spans)


@pytest.mark.parametrize(
    ("left", "looked", "expected"),
    [
        (10, 40, [ItemState.DONE]),
        (10, 39, [ItemState.DONE]),
        (10, 38, [ItemState.MISSING]),
        (10, 41, [ItemState.MISSING]),
        (11, 0, []),
    ],
)
def test_a_room_empty_for_thirty_days_is_looked_at_on_the_day_or_the_day_before(
    left, looked, expected
):
    built = with_stays(("101", 5, left), ("101", 40, 42)).checked("A", day(looked))
    assert states(built, FEBRUARY) == expected


def test_before_the_first_bookings_nobody_can_say_how_long_it_stood_empty():
    built = with_stays(("101", 40, 42), known_from=20)
    assert states(built, FEBRUARY) == [ItemState.UNKNOWN]
    assert only(built, FEBRUARY).verdict is Verdict.CANNOT_TELL
    built = with_stays(("101", 40, 42), known_from=10)
    assert states(built, FEBRUARY) == [ItemState.MISSING]


def test_without_bookings_an_empty_room_cannot_be_told():
    assert only(hotel(VACANT), FEBRUARY).verdict is Verdict.CANNOT_TELL


def test_longer_stays_that_overlap_keep_a_room_taken():
    built = with_stays(("101", 0, 35), ("101", 2, 4), ("101", 40, 42))
    assert states(built, FEBRUARY) == []
