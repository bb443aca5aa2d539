"""A case's sheet for a team: the rooms of its ring that nobody has looked at, in walking order."""

from __future__ import annotations

from datetime import timedelta

import pytest

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.case_walk import Going, case_walk
from hotelwatch.core.cases.ring import ring_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.steps import next_steps
from hotelwatch.core.cases.telling import to_be_told
from hotelwatch.core.checks.room_mark import RoomMark, file_number, mark_text, read_mark
from hotelwatch.core.checks.sheet import visit_minutes
from hotelwatch.core.facts import BedChecked, BedNo, CaseNo, CheckKind, RoomNo, TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment, rules

CASE = CaseNo("2026-001")
BLUE = TeamName("blue")


def a_case():
    build = house().team("blue")
    for number in range(1, 6):
        build.room(f"10{number}", order=number).bed("A").bed("B")
    seen = Sighted(CASE, RoomNo("103"), "103/A", "bedding", Sign.LIVE_INSECT, 1, "x", moment(0))
    return build.on(0).record(
        seen,
        CheckAsked(CASE, RoomNo("103"), ("sighting",), moment(1, 12), "103"),
        CheckAsked(CASE, RoomNo("104"), ("shares_wall",), moment(2, 12), "103"),
        CheckAsked(CASE, RoomNo("102"), ("shares_wall",), moment(1, 18), "103"),
    )


def walk_of(build, on=1, team=BLUE):
    known = build.house
    ring = ring_of(known, Around(neighbours(known, lay_out(known))), CASE, now=moment(on))
    return case_walk(known, occupancy(known, day(on)), ring, Going(team, day(on)))


def looked_at(bed):
    places = rules().bed_kinds["box_spring"].places_of(encased=False)
    codes = tuple(place.code for place in places)
    room = RoomNo(bed.partition("/")[0])
    return BedChecked(BedNo(bed), room, day(1), CheckKind.ASKED, ("anna", "boris"), 14, codes)


def test_it_has_every_room_asked_for_once_in_walking_order_with_why_and_by_when():
    sheet = walk_of(a_case())
    assert [room.room for room in sheet.rooms] == ["102", "103", "104"]
    assert [room.position for room in sheet.rooms] == [1, 2, 3]
    assert [room.by_at for room in sheet.rooms] == [moment(1, 18), moment(1, 12), moment(2, 12)]
    assert [room.reasons for room in sheet.rooms] == [
        ("shares_wall",),
        ("sighting",),
        ("shares_wall",),
    ]
    assert {room.neighbours_note for room in sheet.rooms} == {"103"}
    assert {room.asked_by for room in sheet.rooms} == {CASE}
    build = a_case()
    beds = build.house.beds_of(RoomNo("102"))
    visits = 3 * visit_minutes(build.house, beds)
    # Eight minutes to get to the one corridor, as shipped.
    assert sheet.minutes == visits + 8


def test_what_was_looked_at_is_left_out_and_a_half_done_room_keeps_its_other_bed():
    build = a_case().on(1)
    build.record(*(looked_at(bed) for bed in ("104/A", "104/B", "102/A")))
    sheet = walk_of(build)
    assert [room.room for room in sheet.rooms] == ["102", "103"]
    assert [bed.bed for bed in sheet.rooms[0].beds] == ["102/B"]
    assert [bed.bed for bed in sheet.rooms[1].beds] == ["103/A", "103/B"]


def test_a_case_that_wants_nothing_and_a_team_that_is_not_there_are_refused():
    ruled_out = a_case().on(1)
    ruled_out.record(CaseJudged(CASE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(1)))
    with pytest.raises(Refusal) as refused:
        walk_of(ruled_out)
    assert refused.value.code == "nothing_to_look_at"
    with pytest.raises(Refusal) as refused:
        walk_of(a_case(), team=TeamName("nobody"))
    assert refused.value.code == "unknown_team"


# --- a room's mark ------------------------------------------------------------------------


def test_a_mark_is_read_back_however_a_scanner_typed_it():
    mark = RoomMark("000412", day(1), 12, RoomNo("Lake 7/b"))
    said = mark_text(mark)
    assert said == f"LOOK 000412 {day(1):%Y%m%d} 12 Lake 7/b"
    for typed in (said, f"  {said}\n", said.replace(" ", "  ")):
        assert read_mark(typed) == mark
    lower = read_mark(said.lower())
    assert lower is not None
    assert lower.room == "lake 7/b"


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "0104",
        "look behind",
        "LOOK 12 20260101 1 104",
        "LOOK 000412 20261301 1 104",
        "LOOK 000412 20261201 104",
    ],
)
def test_what_is_no_mark_is_taken_as_typed(typed):
    assert read_mark(typed) is None


def test_two_hotels_have_two_numbers_of_six_digits():
    assert file_number(house().house) == "000000"
    assert len(file_number(a_case().house)) == 6


# --- who is to be told ---------------------------------------------------------------------


def test_who_is_to_be_told_has_the_deadlines_of_the_cases_own_steps():
    # Who: common practice, no source. 24 hours for whoever reported: HUD notices 2011-20 and
    # 2012-17, for housing, read second-hand.
    word = Sighted(CASE, RoomNo("103"), "", "", Sign.GUEST_WORD, 0, "desk", moment(0))
    build = a_case().record(QuarantinePlaced(RoomNo("103"), CASE, moment(0), "sighting"), word)
    told = to_be_told(build.house, CASE, now=moment(1))
    whos = [(one.who, one.what, one.by_at) for one in told]
    assert whos[:3] == [
        ("housekeeper", "looked", None),
        ("front_desk", "closed", None),
        ("laundry", "bags", None),
    ]
    assert ("front_desk", "answer_guest", moment(0) + timedelta(hours=24)) in whos
    assert ("competent_person", "judge_specimen") in [(who, what) for who, what, _by in whos]
    assert told[1].values == {"rooms": ("103",)}
    due = {
        s.code: s.due_at for s in next_steps(build.house, case_of(build.house, CASE), now=moment(1))
    }
    assert all(one.by_at == due[one.what] for one in told if one.what in due)
