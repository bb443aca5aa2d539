"""Visits of a firm's dog: alerts apart from finds, silence apart from looks.

How an alert is to be taken: suspected, wants a look or a specimen (national pest management
association, best management practices for bed bugs, 2011, from memory); dogs found 44 % and
had 15 % false positives in the field (Cooper, Wang, Singh 2014).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantinePlaced,
    Sighted,
    Sign,
    SpecimenNoted,
    SpecimenStep,
)
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.dogs import (
    AlertFate,
    alert_is_right,
    alert_rows,
    dog_visits,
    silence_is_right,
)
from hotelwatch.core.checks.follow_ups import ReleasePath, path_of
from hotelwatch.core.checks.room_record import LedThrough, LookedAt, room_record
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.roles import may_write
from hotelwatch.core.treatment_facts import DogVisit
from tests.build import day, house, moment, rules

VISIT = DogVisit(
    visited_at=moment(10),
    firm="Keen Nose",
    handler="Hal",
    certified="as told, 2026",
    rooms=("101", "102", "103"),
    alerts=("101", "102"),
    by="Anna",
)


def alert(room, case, at=10):
    return Sighted(case, room, "", "", Sign.DOG_ALERT, 0, "Hal", moment(at), "Keen Nose")


def asked(room, case):
    return CheckAsked(case, room, ("sighting",), moment(11))


@pytest.fixture
def inn():
    build = house()
    for room in ("101", "102", "103", "104"):
        build.room(room).bed("A").checked("A", day(1))
    return build


@pytest.fixture
def visited(inn):
    return inn.on(10).record(
        VISIT,
        alert("101", "2026-001"),
        asked("101", "2026-001"),
        alert("102", "2026-002"),
        asked("102", "2026-002"),
    )


def fates(build):
    return {one.room: (one.fate, one.on) for row in dog_visits(build.house) for one in row.alerts}


def judged(case, outcome, on=12):
    return CaseJudged(case, outcome, "Dr Fay", "entomologist", day(on), was="lint")


def test_an_alert_is_open_until_somebody_has_looked(visited):
    assert fates(visited) == {
        "101": (AlertFate.OPEN, None),
        "102": (AlertFate.OPEN, None),
    }
    assert [row.open for row in dog_visits(visited.house)] == [2]


def test_a_whole_look_that_finds_nothing_leaves_it_unconfirmed(visited):
    visited.room("101").checked("A", day(12))
    assert fates(visited)["101"] == (AlertFate.NOT_CONFIRMED, day(12))
    assert fates(visited)["102"] == (AlertFate.OPEN, None)


def test_a_look_before_the_visit_says_nothing_of_its_alert(inn):
    inn.on(9).room("101").checked("A", day(9))
    inn.on(10).record(VISIT, alert("101", "2026-001"), asked("101", "2026-001"))
    assert fates(inn)["101"] == (AlertFate.OPEN, None)


def test_a_look_does_so_too_where_the_alert_joined_a_case_that_had_looked_before(inn):
    inn.on(5).record(alert("101", "2026-001", at=5), asked("101", "2026-001"))
    inn.on(6).room("101").checked("A", day(6))
    inn.on(10).record(VISIT, alert("101", "2026-001"))
    assert fates(inn)["101"] == (AlertFate.OPEN, None)
    inn.on(12).room("101").checked("A", day(12))
    assert fates(inn)["101"] == (AlertFate.NOT_CONFIRMED, day(12))


def test_a_look_that_left_the_underside_out_leaves_it_open(visited):
    visited.room("101").checked("A", day(12), seen=("mattress_top",))
    assert fates(visited)["101"] == (AlertFate.OPEN, None)


@pytest.mark.parametrize("sign", [Sign.LIVE_INSECT, Sign.EGGS])
def test_a_strong_sign_that_somebody_sees_there_confirms_it(visited, sign):
    visited.room("101").checked("A", day(12))
    visited.record(Sighted("2026-001", "101", "101/A", "", sign, 1, "Anna", moment(12)))
    assert fates(visited)["101"] == (AlertFate.CONFIRMED, day(12))


@pytest.mark.parametrize("sign", [Sign.DARK_SPOTS, Sign.CAST_SKIN])
def test_a_lesser_sign_leaves_it_open_until_it_is_judged(visited, sign):
    visited.room("101").checked("A", day(12))
    visited.record(Sighted("2026-001", "101", "101/A", "", sign, 1, "Anna", moment(12)))
    assert fates(visited)["101"] == (AlertFate.OPEN, None)
    visited.record(judged("2026-001", Outcome.CONFIRMED, on=13))
    assert fates(visited)["101"] == (AlertFate.CONFIRMED, day(13))


@pytest.mark.parametrize("sign", [Sign.DOG_ALERT, Sign.BITES_REPORTED, Sign.GUEST_WORD])
def test_another_weak_sign_confirms_nothing(visited, sign):
    visited.record(Sighted("2026-001", "101", "", "", sign, 0, "Anna", moment(12)))
    assert fates(visited)["101"][0] is AlertFate.OPEN


def test_who_judges_it_no_bed_bug_leaves_it_unconfirmed(visited):
    visited.record(judged("2026-001", Outcome.NOT_BED_BUG))
    assert fates(visited)["101"] == (AlertFate.NOT_CONFIRMED, day(12))


def test_a_judgement_of_another_rooms_sign_confirms_no_alert_that_joined_its_case(inn):
    live = Sighted("2026-001", "103", "103/A", "", Sign.LIVE_INSECT, 1, "Anna", moment(9))
    inn.record(live)
    inn.record(VISIT, alert("101", "2026-001"), asked("101", "2026-001"))
    inn.record(judged("2026-001", Outcome.CONFIRMED))
    assert fates(inn)["101"][0] is AlertFate.OPEN
    inn.record(
        SpecimenNoted("2026-001", "T-1", "101", SpecimenStep.KEPT, "safe", "Anna", moment(13))
    )
    assert fates(inn)["101"] == (AlertFate.CONFIRMED, day(12))


# --- neither a find nor a look ---------------------------------------------------------------


def test_silence_is_no_look_and_an_alert_is_none(inn):
    before = [(one.bed, one.last_on, one.due_on) for one in looks(inn.house, day(11))]
    inn.on(10).record(VISIT, alert("101", "2026-001"))
    assert [(one.bed, one.last_on, one.due_on) for one in looks(inn.house, day(11))] == before


def test_an_alert_alone_is_weak_evidence_and_asks_for_its_own_room_only(inn):
    wanted = answer_sighting(inn.house, {}, alert("101", ""))
    assert [fact.room for fact in wanted.asked] == ["101"]
    assert [fact.room for fact in wanted.quarantine] == ["101"]
    inn.record(VISIT, *wanted.facts)
    case = case_of(inn.house, wanted.sighted.case)
    assert case.evidence is Evidence.WEAK


def test_a_visit_without_an_alert_has_a_line_of_its_own(inn):
    inn.record(replace(VISIT, alerts=()))
    (line,) = alert_rows(inn.house)
    assert (line.alert, line.key) == (None, (line.row.entry, ""))


def test_an_entry_taken_back_takes_visit_and_alerts_along(visited):
    entry = max(visited.house.entries)
    visited.record(corrects=entry)
    assert dog_visits(visited.house) == ()


def test_a_rooms_record_tells_looks_from_a_dogs_visits(visited):
    visited.room("101").checked("A", day(12), by=("Anna", "Boris"))
    last, led, first = room_record(visited.house, RoomNo("101"))
    assert isinstance(last, LookedAt)
    assert isinstance(first, LookedAt)
    assert (last.on, last.by, last.beds, last.undersides) == (day(12), ("Anna", "Boris"), 1, 1)
    assert isinstance(led, LedThrough)
    assert led.alert is not None
    (silent, _look) = room_record(visited.house, RoomNo("103"))
    assert isinstance(silent, LedThrough)
    assert silent.alert is None
    assert [type(row) for row in room_record(visited.house, RoomNo("104"))] == [LookedAt]


# --- what an alert is worth ------------------------------------------------------------------


# Worked by hand from the published means: 0.44 x 0.01 / (0.44 x 0.01 + 0.15 x 0.99) = 2.88 %,
# 0.85 x 0.99 / (0.85 x 0.99 + 0.56 x 0.01) = 99.34 %, 0.44 / 0.59 = 74.6 %.
def test_what_an_alert_and_silence_are_worth(inn):
    assert alert_is_right(inn.house, 0.01) == pytest.approx(0.0288, abs=5e-5)
    assert silence_is_right(inn.house, 0.01) == pytest.approx(0.9934, abs=5e-5)
    assert alert_is_right(inn.house, 0.5) == pytest.approx(0.7458, abs=5e-5)


def test_its_figures_are_the_published_ones():
    found, false = rules().figures.dog_detection, rules().figures.dog_false_positive
    assert (found.value, found.low, found.high) == (0.44, 0.10, 1.00)
    assert (false.value, false.low, false.high) == (0.15, 0.0, 0.57)


def test_who_writes_a_visit_down():
    may = {role for role in StaffRole if may_write(role, DogVisit)}
    assert may == {StaffRole.EXECUTIVE, StaffRole.SUPERVISOR, StaffRole.ENGINEER}


# --- an alert that joined a confirmed case -----------------------------------------------------


@pytest.fixture
def joined(inn):
    """103 is confirmed; a dog alerted next door, in a room that the case had asked for."""
    live = Sighted("2026-001", "103", "103/A", "", Sign.LIVE_INSECT, 1, "Anna", moment(5))
    inn.on(5).record(live, QuarantinePlaced("103", "2026-001", moment(5), "sighting"))
    inn.record(judged("2026-001", Outcome.CONFIRMED, on=6))
    inn.on(10).record(VISIT, alert("101", "2026-001"), asked("101", "2026-001"))
    return inn.record(QuarantinePlaced("101", "2026-001", moment(10), "neighbour_found"))


def test_a_room_with_an_alert_alone_waits_for_looks_not_for_a_treatment(joined):
    assert path_of(joined.house, "2026-001", "101") is ReleasePath.LOOKS
    assert path_of(joined.house, "2026-001", "103") is ReleasePath.TREATED


@pytest.mark.parametrize(
    "more",
    [
        Sighted("2026-001", "101", "101/A", "", Sign.DARK_SPOTS, 1, "Anna", moment(11)),
        SpecimenNoted("2026-001", "T-1", "101", SpecimenStep.KEPT, "safe", "Anna", moment(11)),
    ],
)
def test_with_a_sign_or_a_specimen_of_its_own_it_waits_for_a_treatment(joined, more):
    joined.record(more)
    assert path_of(joined.house, "2026-001", "101") is ReleasePath.TREATED


def test_where_the_judgement_is_of_the_alerts_own_room_it_waits_for_a_treatment(visited):
    visited.record(judged("2026-001", Outcome.CONFIRMED))
    assert path_of(visited.house, "2026-001", "101") is ReleasePath.TREATED
