from __future__ import annotations

from dataclasses import fields
from datetime import date
from typing import Annotated, get_args, get_origin, get_type_hints

import pytest

from hotelwatch.core.case_facts import CaseClosed, CaseJudged, Outcome, PhotoKept, Sighted, Sign
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.people_facts import PersonDescribed, StaffRole
from hotelwatch.core.record_facts import ContentExpired, Expiring, ExpiryStopped
from hotelwatch.core.records import concerns
from hotelwatch.core.retention import (
    Content,
    anniversary,
    facts_of,
    files_of,
    keepings,
    verdicts,
)
from tests.build import day, house, moment

CASE = "2026-001"
STAYS_FOR_EVER = r"""
HotelDescribed name zone paper leave_by arrive_from
CycleChosen which
RiskPlaced room
TeamDescribed team works_on from_clock until_clock language
FloorPlaced floor
WingPlaced wing
RoomDescribed room floor wing room_type connects_to suite
RoomDrawn room
BedDescribed bed room kind
StaysImported file_name file_sha256 stays_sha256
SlotPublished team room beds asked_by
BedChecked bed room seen unseen found asked_by from_clock until_clock aids
RoomChecked room seen unseen found asked_by from_clock until_clock aids
Sighted case room bed place life_stage
PhotoKept case sha256
QuarantinePlaced room case reason
QuarantineLifted room case
CheckAsked case room reasons source
CaseJudged case was
TreatmentRecorded case room method firm licence product registration_no areas \
    preparation bedding amount receipt_no
MonthClosed month
TeamDaysChanged team
HouseDaysClosed reason
SeasonNoted name
VisitArranged room from_clock until_clock
NightAsked room
NightAnswered room
VisitDeclined room
CheckPinned room team
TeamPinned room team
DayForbidden room
FurnitureMoved from_room to_room what bed
StairPlaced name wing
SpecimenNoted case label room
CasesJoined from_case into_case
CaseEntryMoved from_case into_case
CaseClosed case
OwnerNamed case duty room
NoticeGiven case notice to receipt room
GuestMoved from_room to_room booking because_of
LetExplained room booking
FirmDescribed firm licence scope
TreatmentOrdered case rooms firm preparation
ProbeLogKept case room log method sha256
ProbeRead case log probe place
PaperKept case sha256
CareDone case room
ItemDiscarded case room what
MonitorPlaced monitor room where
MonitorRead monitor room
CartServes cart rooms
ProfileChosen profile
RuleChosen rule choice
FigureChosen figure reason
RuleSetKept rules name place ring_kinds hold confirming_signs release_by authority standing source \
    note file_name sha256
RuleClause rules clause title section says read_from duty unit starts years_from releaser \
    holds_for records signs to note
RulesCompared rules clause
TrainingRecorded language
DogVisit firm rooms alerts
PublicHoliday name
RoomTypesRanked types
DummyHidden dummy room bed place
DummyEnded dummy room
BlindPair room
PersonDescribed pin_hash
DeedRefused role deed kinds
RecordRestored aside_sha256 aside_file reason
ContentExpired which policy
ExpiryStopped case reason
LateReasonKept month bed why
LetKept month room booking
"""
"""Texts of which somebody decided that they name nobody of the staff and are not free words
about somebody; a reason for a rule of the house stays with the rule."""


@pytest.mark.parametrize("kind", FACT_KINDS, ids=lambda kind: kind.__name__)
def test_somebody_decided_of_every_text_whether_it_expires(kind):
    lines = STAYS_FOR_EVER.replace("\\\n", "").strip().split("\n")
    decided = {line.split()[0]: line.split()[1:] for line in lines}
    hints = get_type_hints(kind, include_extras=True)
    texts = [field.name for field in fields(kind) if _is_plain_text(hints[field.name])]
    assert texts == decided.get(kind.__name__, [])


def _is_plain_text(hint):
    if get_origin(hint) is Annotated:
        return False
    bare = getattr(hint, "__supertype__", hint)
    return bare is str or (get_origin(bare) is tuple and get_args(bare)[0] is str)


def test_the_years_end_on_the_same_date_and_29_february_waits_for_1_march():
    # ISO 8601 dates; which day follows 29 February in another year is our own decision.
    assert anniversary(date(2026, 3, 9), 3) == date(2029, 3, 9)
    assert anniversary(date(2028, 2, 29), 3) == date(2031, 3, 1)
    assert anniversary(date(2028, 2, 29), 4) == date(2032, 2, 29)


def test_words_concern_the_cases_of_their_entry_or_its_month():
    photo = PhotoKept(CASE, "a", 1)
    assert concerns([photo], moment(0)) == CASE
    assert concerns([PhotoKept("2026-002", "a", 1), photo], moment(0)) == "2026-001 2026-002"
    assert concerns([RuleChosen("hold", "")], moment(0)) == "2026-01"


def with_case(*, closed_on=None):
    made = house().room("101").bed("A")
    made.record(Sighted(CASE, "101", "", "wall", Sign.DARK_SPOTS, 1, "anna", moment(1)))
    made.record(PhotoKept(CASE, "f" * 64, 9))
    if closed_on is not None:
        made.on(closed_on)
        judged = CaseJudged(CASE, Outcome.NOT_BED_BUG, "eve", "licence", day(closed_on))
        made.record(judged, CaseClosed(CASE, moment(closed_on), "eve", True))
    return made


def why(made, today, content=None):
    contents = files_of(made.house) if content is None else (content,)
    (found,) = verdicts(made.house, contents, today)
    return found.why, found.goes_on


def test_a_photo_goes_the_day_after_the_years_of_its_closed_case():
    made = with_case(closed_on=3)  # 2026-01-08; the shipped rules keep for three years
    assert why(made, date(2029, 1, 8)) == ("not_yet", date(2029, 1, 9))
    assert why(made, date(2029, 1, 9)) == ("", date(2029, 1, 9))
    found = verdicts(made.house, files_of(made.house), date(2029, 1, 9))
    (fact,) = facts_of(made.house, found)
    assert (fact.what, fact.which, fact.keeps_years) == (Expiring.PHOTO, ("f" * 64,), 3)
    made.record(fact)
    assert files_of(made.house) == (), "what is gone does not go again"
    made.record(PhotoKept(CASE, "f" * 64, 9))
    assert len(files_of(made.house)) == 1, "unless it was kept again since"


def test_nothing_of_an_open_case_goes_nor_the_names_of_looks_since_its_first_sign():
    made = with_case()
    assert why(made, date(2099, 1, 1)) == ("case_open", None)
    for month, told in (("2025-12", ""), ("2026-01", "case_open"), ("2026-02", "case_open")):
        name = Content(Expiring.NAME, "1", month, 1, "anna")
        assert why(made, date(2099, 1, 1), name)[0] == told


def test_a_dispute_stops_one_case_or_all_until_somebody_ends_it():
    made = with_case(closed_on=3)
    made.record(ExpiryStopped(CASE, "eve", "claim"))
    assert why(made, date(2099, 1, 1)) == ("case_stopped", None)
    made.record(ExpiryStopped(CASE, "eve", "settled", holds=False))
    assert why(made, date(2099, 1, 1))[0] == ""
    made.record(ExpiryStopped("", "eve", "claim"))
    assert why(made, date(2099, 1, 1)) == ("all_stopped", None)


def test_a_name_of_a_month_goes_after_its_last_day():
    name = Content(Expiring.NAME, "1", "2026-02", 1, "anna")
    assert why(house(), date(2029, 2, 28), name) == ("not_yet", date(2029, 3, 1))
    assert why(house(), date(2029, 3, 1), name) == ("", date(2029, 3, 1))


def test_who_works_here_stays_described_and_who_left_goes_years_after_leaving():
    made = house().record(PersonDescribed("anna", StaffRole.EXECUTIVE, "hash"))
    name = Content(Expiring.NAME, "1", "2026-01", 2, "anna")
    assert why(made, date(2099, 1, 1), name) == ("in_force", None)
    assert why(made, date(2099, 1, 1), Content(Expiring.NAME, "2", "2026-01", 2, "eve"))[0] == ""
    made.on(400).record(PersonDescribed("anna", StaffRole.EXECUTIVE, "hash", in_use=False))
    assert why(made, date(2029, 3, 1), name) == ("not_yet", date(2030, 2, 10))


def test_the_hotel_may_choose_other_years_and_is_told_where_they_are_fewer():
    chosen = [RuleChosen("keeps_photos", "1"), RuleChosen("keeps_notes", "always")]
    made = with_case(closed_on=3).record(*chosen)
    kept = keepings(made.house)
    assert (kept[Expiring.PHOTO].years, kept[Expiring.PHOTO].is_shorter) == (1, True)
    assert (kept[Expiring.NAME].years, kept[Expiring.NAME].policy) == (3, "house")
    assert why(made, date(2027, 1, 9))[0] == ""
    note = Content(Expiring.NOTE, "1", CASE, 2)
    assert why(made, date(2099, 1, 1), note) == ("kept_always", None)


def test_a_case_that_was_taken_back_keeps_its_photo_for_its_years_from_its_entry():
    made = house().room("101").record(PhotoKept("2026-009", "e" * 64, 9))
    assert why(made, date(2029, 1, 6)) == ("", date(2029, 1, 6))


def test_what_expired_is_no_more_listed_in_the_same_words():
    fact = ContentExpired(Expiring.NAME, ("1", "2"), 3, "house")
    assert concerns([fact], moment(0)) == "2026-01"
