"""What is recorded, by whom it was treated, how long it is kept, who compared: by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.local_rules.compared import compared_of
from hotelwatch.core.local_rules.judging import judged
from hotelwatch.core.local_rules.recording import RECORDS
from hotelwatch.core.local_rules.rows import ItemState, Period, Verdict
from hotelwatch.core.record_facts import ContentExpired, Expiring
from hotelwatch.core.rule_facts import Asks, RulesCompared
from hotelwatch.core.treatment_facts import (
    CareDone,
    CareStep,
    FirmDescribed,
    ItemDiscarded,
    PaperKept,
    PaperKind,
    TreatmentRecorded,
)
from tests.build import Build, day, house, moment
from tests.core.rule_clauses import clause, own_rules, stale_clauses

ONE = CaseNo("2026-001")
ROOM = RoomNo("101")
MONTH = Period(day(0), day(27), moment(28))
FULL = TreatmentRecorded(
    ONE,
    ROOM,
    day(5),
    "heat",
    "firm",
    "L-1",
    moment(5, 18),
    technician="T. Lind",
    product="as reported",
    registration_no="1-2",
    areas=("bed",),
)


def hotel(*clauses) -> Build:
    return house().room(ROOM).bed("A").record(*own_rules(*clauses))


def only(built: Build):
    (one,) = judged(built.house, MONTH).judgements
    return one


def states(built: Build):
    return [item.state for item in only(built).items]


@pytest.mark.parametrize(
    ("code", "field", "empty"),
    [
        ("firm", "firm", ""),
        ("licence_no", "licence", ""),
        ("technician", "technician", ""),
        ("method", "method", ""),
        ("product", "product", ""),
        ("registration_no", "registration_no", ""),
        ("areas", "areas", ()),
    ],
)
def test_each_field_of_a_treatment_that_a_clause_wants_is_there_or_named(code, field, empty):
    asked = clause(Asks.RECORD, records=(code,))
    assert states(hotel(asked).record(FULL)) == [ItemState.DONE]
    built = hotel(asked).record(replace(FULL, **{field: empty}))
    (item,) = only(built).items
    assert (item.state, item.what, item.case, item.room) == (ItemState.MISSING, code, ONE, "101")
    assert (item.since, item.table) == (day(5), "treatments")


@pytest.mark.parametrize("kind", [PaperKind.REPORT, PaperKind.RECEIPT])
def test_a_paper_of_the_case_counts_from_the_day_of_the_treatment_on(kind):
    asked = clause(Asks.RECORD, records=(kind.value,))
    paper = PaperKept(ONE, "0" * 64, "report.pdf", kind, "ana")
    assert states(hotel(asked).on(6).record(FULL, paper)) == [ItemState.DONE]
    assert states(hotel(asked).on(4).record(FULL, paper)) == [ItemState.MISSING]
    other = replace(paper, what=PaperKind.OTHER)
    assert states(hotel(asked).on(6).record(FULL, other)) == [ItemState.MISSING]


def test_complaints_judgements_looks_linen_and_discards():
    codes = ("complaints", "judgements", "looks", "linen", "discards")
    built = hotel(clause(Asks.RECORD, records=codes))
    built.record(
        Sighted(ONE, ROOM, "", "", Sign.EGGS, 1, " ", moment(2)),
        CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "", day(3)),
        FULL,
        ItemDiscarded(ONE, ROOM, "headboard", day(6), True, False, "ana"),
    )
    built.checked("A", day(4), by=())
    found = {item.what: item.state for item in only(built).items}
    assert found == dict.fromkeys(codes, ItemState.MISSING)
    good = hotel(clause(Asks.RECORD, records=codes))
    good.record(
        Sighted(ONE, ROOM, "", "", Sign.EGGS, 1, "ana", moment(2)),
        CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(3)),
        FULL,
        CareDone(ONE, ROOM, CareStep.LINEN, moment(5), "ana"),
        ItemDiscarded(ONE, ROOM, "headboard", day(6), True, True, "ana"),
    )
    good.checked("A", day(4))
    assert {item.what: item.state for item in only(good).items} == dict.fromkeys(
        codes, ItemState.DONE
    )


def test_what_lies_outside_the_month_counts_in_its_own():
    built = hotel(clause(Asks.RECORD, records=tuple(RECORDS)))
    built.record(replace(FULL, treated_on=day(40), firm=""))
    assert only(built).verdict is Verdict.NOT_ARISEN


def test_a_treatment_names_a_firm_with_a_licence_that_has_not_run_out():
    built = hotel(clause(Asks.LICENSED)).record(FULL)
    assert only(built).verdict is Verdict.MET
    built.record(FirmDescribed("firm", "L-1", day(5)))
    assert only(built).verdict is Verdict.MET
    built.record(FirmDescribed("firm", "L-1", day(4)))
    (item,) = only(built).items
    assert (item.what, item.state) == ("licence_holds", ItemState.MISSING)
    bare = hotel(clause(Asks.LICENSED)).record(replace(FULL, licence=" "))
    assert [item.what for item in only(bare).faults] == ["licence"]


# Source: records kept for three years: Municipal Code of Chicago 4-4-332, as proposed 2013.
@pytest.mark.parametrize(
    ("choice", "verdict"),
    [
        ("", Verdict.MET),
        ("2", Verdict.NOT_MET),
        ("3", Verdict.MET),
        ("10", Verdict.MET),
        ("always", Verdict.MET),
    ],
)
def test_what_the_hotel_lets_go_sooner_breaks_a_clause_on_keeping(choice, verdict):
    built = hotel(clause(Asks.KEEP, years=3)).record(RuleChosen("keeps_photos", choice))
    assert only(built).verdict is verdict
    faults = [item.what for item in only(built).faults]
    assert faults == (["keeps_photos"] if verdict is Verdict.NOT_MET else [])


def test_what_went_sooner_is_named_with_its_day():
    gone = ContentExpired(Expiring.PHOTO, ("0" * 64,), 2, "own")
    built = hotel(clause(Asks.KEEP, years=3)).on(9).record(gone, replace(gone, keeps_years=3))
    (item,) = only(built).faults
    assert (item.what, item.done) == ("not_gone", day(9))
    assert not only(hotel(clause(Asks.KEEP, years=2)).on(9).record(gone)).faults
    assert not only(hotel(clause(Asks.KEEP, years=3)).on(40).record(gone)).faults


def test_a_set_that_keeps_less_than_its_own_clause_is_told():
    built = hotel()
    built.record(*own_rules(clause(Asks.KEEP, years=5), keeps_years=3))
    assert len(only(built).faults) == 4


# Source: what counts as an infestation in K.A.R. 28-36-77(p), text of 2008, hosted copy.
def test_signs_that_a_text_names_count_by_themselves():
    built = house().record(*own_rules(clause(Asks.SIGNS, signs=("cast_skin", "eggs"))))
    assert only(built).verdict is Verdict.NOT_MET
    kept = own_rules(
        clause(Asks.SIGNS, signs=("cast_skin", "eggs")), confirming_signs=("eggs", "cast_skin")
    )
    assert only(built.record(*kept)).verdict is Verdict.MET


def test_what_the_record_cannot_show_is_left_to_who_looks():
    assert only(hotel(clause(Asks.OTHER))).verdict is Verdict.CANNOT_TELL


# --- compared with the law in force ---------------------------------------------------------------


def test_a_comparison_stands_for_a_year_and_for_the_words_that_it_compared():
    first, second = clause(Asks.CLOSE, "a"), clause(Asks.OTHER, "b")
    built = hotel(first, second)
    profile = built.house.profile
    assert stale_clauses(built.house, profile, day(0)) == (first, second)
    built.record(RulesCompared("ours", "a", "M. Ode", day(0)))
    assert [one.clause for one in stale_clauses(built.house, profile, day(1))] == ["b"]
    built.record(RulesCompared("ours", "", "L. Berg", day(2)))
    made = compared_of(built.house, profile, first, day(2))
    assert (made.by, made.on, made.is_stale) == ("L. Berg", day(2), False)
    a_year_on = day(2) + timedelta(days=365)
    assert not compared_of(built.house, profile, first, a_year_on).is_stale
    assert compared_of(built.house, profile, first, a_year_on + timedelta(days=1)).is_stale
    built.record(*own_rules(replace(first, says="in other words"), second))
    renewed = built.house.profile
    assert [one.clause for one in stale_clauses(built.house, renewed, day(3))] == ["a"]


def test_a_comparison_of_a_day_to_come_is_none_yet_and_another_sets_is_none():
    built = hotel(clause(Asks.CLOSE, "a"))
    built.record(RulesCompared("ours", "", "M. Ode", day(9)))
    built.record(RulesCompared("kansas", "", "M. Ode", day(0)))
    assert stale_clauses(built.house, built.house.profile, day(1))
    (one,) = judged(built.house, MONTH).judgements
    assert (one.compared_by, one.is_stale) == ("M. Ode", False)
