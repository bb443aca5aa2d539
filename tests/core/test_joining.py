"""Cases joined and split: everything of them goes along, and taking back undoes just that."""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import (
    CaseEntryMoved,
    CaseJudged,
    CasesJoined,
    CheckAsked,
    Outcome,
    PhotoKept,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.blocks import blocks
from hotelwatch.core.cases.case import case_of, cases, next_case_no
from hotelwatch.core.cases.joining import check_joining, split
from hotelwatch.core.cases.story import story_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

ONE, TWO, THREE = CaseNo("2026-001"), CaseNo("2026-002"), CaseNo("2026-003")


def _sign(case, room, on=0):
    return (
        Sighted(case, RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "ana", moment(on)),
        QuarantinePlaced(RoomNo(room), case, moment(on), "sighting"),
        CheckAsked(case, RoomNo(room), ("sighting",), moment(on + 1)),
        PhotoKept(case, room.rjust(64, "0"), 10),
    )


def _two_cases():
    built = house().room("101").bed("A").room("105").bed("A")
    built.on(0).record(*_sign(ONE, "101"))
    return built.on(1).record(*_sign(TWO, "105", 1))


def _join(built, one=TWO, into=ONE):
    joined = CasesJoined(one, into, "mara", "same guests")
    check_joining(built.house, joined)
    return built.record(joined)


def _told(built, case, now):
    whole = case_of(built.house, case)
    return whole.rooms, whole.quarantined, [state.asked.room for state in whole.asked]


def test_joined_cases_are_one_with_all_that_belongs_to_either():
    built = _join(_two_cases())
    assert [case.no for case in cases(built.house)] == [ONE]
    assert _told(built, ONE, moment(2)) == (("101", "105"), ("101", "105"), ["101", "105"])
    assert len(case_of(built.house, ONE).photos) == 2
    codes = [line.code for line in story_of(built.house, ONE, now=moment(2))]
    assert codes.count("sighted") == 2
    assert "joined" in codes
    # What is written down for the old number afterwards belongs to the joined case as well.
    built.record(CaseJudged(TWO, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(2)))
    assert case_of(built.house, ONE).judged is not None
    with pytest.raises(Refusal):
        case_of(built.house, TWO)


def test_taking_a_join_back_parts_them_just_as_they_were():
    before = _two_cases()
    told = [_told(before, case, moment(2)) for case in (ONE, TWO)]
    number = max(before.house.entries) + 1
    built = _join(before)
    built.record(corrects=number, note="other guests")
    assert [_told(built, case, moment(2)) for case in (ONE, TWO)] == told


def test_a_case_is_split_with_what_its_signs_set_going():
    built = house().room("101").bed("A").room("105").bed("A")
    built.on(0).record(*_sign(ONE, "101"))
    built.on(1).record(*_sign(ONE, "105", 1))
    number = max(built.house.entries)
    moved = split(built.house, ONE, [number], by="mara", reason="another floor", today=day(2))
    assert moved == (CaseEntryMoved(number, ONE, TWO, "mara", "another floor"),)
    built.on(2).record(*moved)
    assert _told(built, ONE, moment(2)) == (("101",), ("101",), ["101"])
    assert _told(built, TWO, moment(2)) == (("105",), ("105",), ["105"])
    as_booked = occupancy(built.house, day(2))
    assert [block.room for block in blocks(built.house, as_booked, moment(2))] == ["101", "105"]
    # Numbers are never given again, not even that of a case that came from a split.
    assert next_case_no(built.house, day(2)) == THREE
    built.record(corrects=max(built.house.entries), note="no")
    assert _told(built, ONE, moment(2))[0] == ("101", "105")
    assert next_case_no(built.house, day(2)) == THREE


def test_a_joined_case_can_be_split_again_by_its_entries():
    built = _join(_two_cases())
    entry = next(row.entry for row in built.house.kept_of(Sighted) if row.fact.room == "105")
    moved = split(built.house, ONE, [entry], by="mara", reason="after all", today=day(3))
    built.record(*moved)
    assert _told(built, THREE, moment(3))[0] == ("105",)
    assert _told(built, ONE, moment(3))[0] == ("101",)


def test_joins_that_would_go_round_lead_nowhere():
    built = _join(_two_cases())
    with pytest.raises(Refusal) as refused:
        check_joining(built.house, CasesJoined(ONE, TWO, "mara", "back"))
    assert refused.value.code == "unknown_case"
    built.record(CasesJoined(ONE, TWO, "mara", "typed elsewhere at the same time"))
    assert [case.no for case in cases(built.house)] == [ONE]


@pytest.mark.parametrize(
    ("one", "into", "reason", "code"),
    [
        (ONE, ONE, "x", "same_case"),
        (THREE, ONE, "x", "unknown_case"),
        (ONE, TWO, " ", "joining_needs_reason"),
    ],
)
def test_what_can_not_be_joined_is_refused(one, into, reason, code):
    with pytest.raises(Refusal) as refused:
        check_joining(_two_cases().house, CasesJoined(one, into, "mara", reason))
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("entries", "reason", "code"),
    [
        ((), "x", "nothing_to_split"),
        ((99,), "x", "not_of_case"),
        ("all", "x", "nothing_left"),
        ("all", "", "splitting_needs_reason"),
    ],
)
def test_what_can_not_be_split_is_refused(entries, reason, code):
    built = _two_cases()
    own = [row.entry for row in built.house.kept_of_case(Sighted, ONE)]
    chosen = own if entries == "all" else entries
    with pytest.raises(Refusal) as refused:
        split(built.house, ONE, chosen, by="mara", reason=reason, today=day(2))
    assert refused.value.code == code
