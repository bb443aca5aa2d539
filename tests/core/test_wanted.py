from __future__ import annotations

from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.wanted import WantedLook, wanted_look
from hotelwatch.core.facts import CheckKind
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import day, house, moment

ONE, TWO = "2026-001", "2026-002"


def suspected(sign=Sign.LIVE_INSECT):
    build = house().room("101").bed("A").room("102").bed("A")
    return build.record(
        Sighted(ONE, "101", "101/A", "mattress_top", sign, 1, "Anna", moment(0)),
        QuarantinePlaced("101", ONE, moment(0), "sighting"),
    )


def treated(build, on=1, until=2):
    build.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(1)))
    return build.record(TreatmentRecorded(ONE, "101", day(on), "heat", "firm", "L", moment(until)))


def test_a_room_that_no_case_wants_is_looked_at_for_its_cycle():
    assert wanted_look(suspected().house, "102", moment(1)) == WantedLook(CheckKind.DEEP)


def test_a_neighbour_is_asked_by_the_case_with_the_earliest_deadline():
    build = suspected()
    build.record(CheckAsked(ONE, "102", ("shares_wall",), moment(2)))
    build.record(Sighted(TWO, "101", "", "", Sign.EGGS, 1, "Anna", moment(0)))
    build.record(CheckAsked(TWO, "102", ("shares_wall",), moment(1)))
    wanted = wanted_look(build.house, "102", moment(1))
    assert (wanted.kind, wanted.case, wanted.source) == (CheckKind.ASKED, TWO, "101")
    assert (wanted.reasons, wanted.by_at) == (("shares_wall",), moment(1))


def test_what_was_looked_at_is_no_longer_asked():
    build = suspected().record(CheckAsked(ONE, "102", ("shares_wall",), moment(2)))
    build.room("102").bed("A").checked("A", day(1), kind=CheckKind.ASKED)
    assert wanted_look(build.house, "102", moment(2)).kind is CheckKind.DEEP


def test_a_treated_room_wants_clearance_from_the_day_after():
    wanted = wanted_look(treated(suspected()).house, "101", moment(10))
    assert (wanted.kind, wanted.case) == (CheckKind.CLEARANCE, ONE)
    assert wanted.counts_from == day(2)
    assert wanted.keep_out_until is None


def test_until_its_re_entry_time_a_treated_room_is_kept_out_of():
    wanted = wanted_look(treated(suspected(), until=5).house, "101", moment(3))
    assert wanted.keep_out_until == moment(5)


def test_clearance_comes_before_what_another_case_asks():
    build = treated(suspected())
    build.record(Sighted(TWO, "102", "", "", Sign.EGGS, 1, "Anna", moment(1)))
    build.record(CheckAsked(TWO, "101", ("shares_wall",), moment(4)))
    assert wanted_look(build.house, "101", moment(3)).kind is CheckKind.CLEARANCE


def test_an_untreated_room_waits_for_its_treatment_not_for_clearance():
    build = suspected()
    build.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(1)))
    assert wanted_look(build.house, "101", moment(3)) == WantedLook(CheckKind.DEEP)


def test_where_it_could_not_be_determined_the_case_wants_clean_checks():
    build = suspected()
    build.record(CaseJudged(ONE, Outcome.UNDETERMINED, "Dr. Vey", "entomologist", day(1)))
    wanted = wanted_look(build.house, "101", moment(3))
    assert (wanted.kind, wanted.case) == (CheckKind.ASKED, ONE)
    assert wanted.counts_from is not None
