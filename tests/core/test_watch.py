"""The watch over released rooms: which days count, until when, and what ends it."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from hotelwatch.core.case_facts import (
    CaseClosed,
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.case import Stage, is_open, stage_of
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.touched import rooms_to_shun
from hotelwatch.core.cases.watch import case_for_sign, check_closing
from hotelwatch.core.checks.follow_ups import DueBy, evaluate_on
from hotelwatch.core.checks.watching import looks_under_watch, watch_of
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead, TreatmentRecorded
from tests.build import FIRST, Build, day, house, moment

ONE = CaseNo("2026-001")
ROOM = RoomNo("305")


def sign(number: int, kind=Sign.LIVE_INSECT) -> Sighted:
    return Sighted(ONE, ROOM, "", "base_staple_line", kind, 1, "anna", moment(number))


def treated(number: int) -> TreatmentRecorded:
    return TreatmentRecorded(
        ONE, ROOM, day(number), "chemical", "an invented firm", "L-1", moment(number, 18)
    )


def lifted(number: int) -> QuarantineLifted:
    return QuarantineLifted(ROOM, ONE, moment(number, 12), "mara", True, "", "entomologist")


def released(*, treated_on=1, lifted_on=30, trap=True) -> Build:
    """Confirmed, treated and given back; a trap stands in the room from the treatment on."""
    built = house().room("305").bed("A")
    first = treated_on - 1
    built.on(first).record(sign(first), QuarantinePlaced(ROOM, ONE, moment(first), "sighting"))
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(first)))
    built.on(treated_on).record(treated(treated_on))
    if trap:
        built.record(MonitorPlaced("T1", ROOM, "under a leg", day(treated_on), "anna"))
    return built.on(lifted_on).record(lifted(lifted_on))


def read(built: Build, number: int, caught=0) -> Build:
    return built.on(number).record(MonitorRead("T1", ROOM, day(number), "anna", caught))


def watch(built: Build, number: int):
    return watch_of(built.house, ONE, day(number))


# Trade check case: last treatment 31 Mar 2025, no sign, covered: evaluated by 14 Apr, and
# sixty clean days end on 30 May 2025.
def test_sixty_covered_days_after_a_treatment_of_31_march_end_on_30_may():
    ahead = (date(2025, 3, 31) - FIRST).days
    built = released(treated_on=ahead, lifted_on=ahead + 30)
    assert evaluate_on(built.house, treated(ahead)) == date(2025, 4, 14)
    found = watch(read(built, ahead + 60), ahead + 60)
    assert (found.since_on, found.because) == (date(2025, 3, 31), "treatment")
    assert found.ends_on == date(2025, 5, 30)
    assert (found.counted, found.waiting, found.gaps) == (60, 0, ())
    assert found.is_over
    assert not watch(built, ahead + 59).is_over
    assert watch(built, ahead + 40).ends_on == date(2025, 5, 30)


def test_days_under_a_trap_count_once_somebody_has_looked_into_it():
    built = released()
    assert (watch(built, 31).counted, watch(built, 31).waiting) == (0, 30)
    assert not watch(built, 70).is_over
    read(built, 40)
    assert (watch(built, 50).counted, watch(built, 50).waiting) == (39, 10)


def test_days_without_trap_or_check_do_not_count_and_move_the_end():
    built = released(trap=False)
    built.on(2).checked("A", day(2), kind=CheckKind.CLEARANCE)
    found = watch(built, 30)
    assert found.counted == 15
    assert [(gap.from_on, gap.until_on) for gap in found.gaps] == [(day(17), day(30))]
    assert found.ends_on == day(30 + 45)
    assert found.covered_until == day(29)


def test_a_check_of_one_bed_does_not_cover_the_other():
    built = released(trap=False).bed("B")
    built.on(2).checked("A", day(2), kind=CheckKind.CLEARANCE)
    assert watch(built, 10).counted == 0
    built.on(3).checked("B", day(3), kind=CheckKind.CLEARANCE)
    assert watch(built, 10).counted == 8


# Trade trap: a retreatment restarts the sixty days; a late-found earlier sign moves them; a
# late-entered clean check must not.
def test_a_retreatment_begins_the_count_anew():
    built = released().on(40).record(treated(40))
    assert watch(built, 41).since_on == day(40)
    assert watch(built, 41).ends_on == day(100)


def test_an_earlier_sign_found_late_moves_the_count():
    built = released().on(45).record(sign(35, Sign.CAST_SKIN))
    found = watch(built, 45)
    assert (found.since_on, found.because) == (day(35), "sign")
    assert found.ends_on == day(95)
    built.on(50).record(sign(20, Sign.CAST_SKIN))
    assert watch(built, 50).ends_on == day(95)


def test_a_clean_check_typed_in_late_moves_nothing():
    built = released(trap=False)
    built.on(2).checked("A", day(2), kind=CheckKind.CLEARANCE)
    before = watch(built, 40)
    built.on(40).checked("A", day(20), kind=CheckKind.CLEARANCE)
    assert watch(built, 40) == before


def test_a_catch_begins_the_count_anew():
    found = watch(read(released(), 40, caught=2), 41)
    assert (found.since_on, found.because) == (day(40), "sign")


# --- two steps, closing ---------------------------------------------------------------------


def closed(number: int, *, met=True, reason="", by="mara") -> CaseClosed:
    return CaseClosed(ONE, moment(number), by, met, reason)


def refused(built: Build, fact: CaseClosed, number: int) -> str:
    with pytest.raises(Refusal) as refusal:
        check_closing(built.house, fact, moment(number, 20))
    return refusal.value.code


def test_a_room_is_released_under_watch_then_its_case_is_closed():
    built = released()
    assert stage_of(built.house, ONE) is Stage.RELEASED
    assert is_open(built.house, ONE)
    assert refused(built, closed(61), 61) == "watch_not_over"
    read(built, 61)
    check_closing(built.house, closed(61), moment(61, 20))
    built.on(61).record(closed(61))
    assert stage_of(built.house, ONE) is Stage.CLOSED
    assert not is_open(built.house, ONE)
    assert refused(built, closed(62), 62) == "case_not_watched"


def test_a_watch_ends_early_only_on_a_named_persons_reason():
    built = released()
    assert refused(built, closed(40, met=False), 40) == "ending_needs_reason"
    assert refused(built, closed(40, met=False, reason="sold", by=" "), 40) == "ending_needs_name"
    assert refused(built, closed(50, met=False, reason="sold"), 40) == "moment_to_come"
    check_closing(built.house, closed(40, met=False, reason="house is sold"), moment(40, 20))


def test_a_case_with_a_room_in_quarantine_is_not_closed():
    built = released().on(31).record(QuarantinePlaced(ROOM, ONE, moment(31), "sighting"))
    assert refused(built, closed(90), 90) == "rooms_in_quarantine"


# Trade trap: after closing a new sign is a new case; before, the same one is opened again.
def test_a_sign_belongs_to_the_same_case_until_the_watch_is_over():
    built = read(released(), 61)
    assert case_for_sign(built.house, ROOM, moment(50)) == ONE
    assert case_for_sign(built.house, ROOM, moment(61)) == ONE
    assert case_for_sign(built.house, ROOM, moment(62)) is None
    built.on(61).record(closed(61))
    assert case_for_sign(built.house, ROOM, moment(63)) is None
    assert case_for_sign(built.house, ROOM, moment(60)) == ONE
    built.on(64).record(sign(60, Sign.CAST_SKIN))
    assert stage_of(built.house, ONE) is not Stage.CLOSED


def test_a_sign_during_the_watch_reopens_the_case():
    built = released().on(40).record(sign(40), QuarantinePlaced(ROOM, ONE, moment(40), "sighting"))
    assert stage_of(built.house, ONE) is Stage.CONFIRMED


# Trade check case: a bite report only, two clean deep checks: not confirmed, the block
# released by a named person, a watch advised.
def test_a_bite_report_alone_is_closed_as_its_room_is_given_back():
    built = house().room("305").bed("A")
    built.record(sign(0, Sign.BITES_REPORTED), QuarantinePlaced(ROOM, ONE, moment(0), "sighting"))
    built.checked("A", day(0)).checked("A", day(7))
    built.on(7).record(QuarantineLifted(ROOM, ONE, moment(7, 20), "mara", True))
    assert stage_of(built.house, ONE) is Stage.CLOSED


# --- looks under watch ----------------------------------------------------------------------


def test_a_room_under_watch_wants_a_look_before_it_is_no_longer_covered():
    built = released(trap=False)
    built.on(23).checked("A", day(23), kind=CheckKind.CLEARANCE)
    (look,) = looks_under_watch(built.house, ONE, day(30))
    assert (look.room, look.beds, look.because) == (ROOM, ("305/A",), DueBy.WATCH)
    assert (look.from_on, look.by_on) == (day(30), day(37))
    assert looks_under_watch(released().house, ONE, day(30)) == ()


def test_no_look_is_wanted_once_the_days_are_full():
    built = read(released(), 61)
    built.record(MonitorPlaced("T1", ROOM, "", day(61), "anna", is_there=False))
    assert looks_under_watch(built.house, ONE, day(62)) == ()


def test_moments_are_the_hotels_days():
    late = datetime(2026, 1, 5, 23, 30, tzinfo=UTC)
    built = house().room("305").bed("A")
    built.record(Sighted(ONE, ROOM, "", "", Sign.LIVE_INSECT, 1, "anna", late))
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    assert watch_of(built.house, ONE, day(5)).since_on == FIRST + timedelta(days=1)


def test_no_guest_is_moved_into_a_room_under_watch_nor_into_one_nobody_has_looked_at():
    built = house().room("306").bed("A").room("307").bed("A").room("305").bed("A")
    built.record(sign(0), QuarantinePlaced(ROOM, ONE, moment(0), "sighting"))
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    wishes = [CheckAsked(ONE, RoomNo(room), ("shares_wall",), moment(1)) for room in ("306", "307")]
    built.record(*wishes)
    built._room = RoomNo("306")
    built.checked("A", day(1))
    built.on(1).record(treated(1)).on(30).record(lifted(30))
    around = Around({}, record_of(built.house))
    assert rooms_to_shun(built.house, (), around=around, now=moment(31)) == {"305", "307"}
