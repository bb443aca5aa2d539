"""Any day of the record, fast: it must say what the house as of that moment says."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import (
    CaseClosed,
    CaseEntryMoved,
    CaseJudged,
    CasesJoined,
    CheckAsked,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.past_days import PastDays
from hotelwatch.core.cases.room_stands import RoomStanding, stands
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    CheckKind,
    CycleChosen,
    RoomChecked,
    RoomDescribed,
    Scope,
    Side,
)
from hotelwatch.core.records import Entry
from hotelwatch.core.round_facts import SeasonNoted
from tests.build import day, house, moment, rules

ROOMS = ("101", "102", "103")
BEDS = ("101/A", "101/B", "102/A", "103/A")
CASES = ("2026-001", "2026-002")
SEEN = tuple(place.code for place in rules().bed_kinds["box_spring"].places)
days = st.integers(0, 60)
rooms, cases = st.sampled_from(ROOMS), st.sampled_from(CASES)


@st.composite
def facts(draw, on):
    """Something that may be written down on a day, of that day or an earlier one."""
    then = moment(draw(st.integers(0, on)), draw(st.integers(0, 23)))
    room, case = draw(rooms), draw(cases)
    bed = draw(st.sampled_from(BEDS))
    checked_on = day(draw(st.integers(0, on)))
    kind = draw(st.sampled_from(CheckKind))
    seen = SEEN if draw(st.integers(0, 4)) else SEEN[:2]
    sign = draw(st.sampled_from((Sign.LIVE_INSECT, Sign.BITES_REPORTED, Sign.CAST_SKIN)))
    return draw(
        st.sampled_from(
            [
                BedChecked(bed, bed[:3], checked_on, kind, ("a",), 9, seen),
                BedChecked(bed, bed[:3], checked_on, kind, ("a",), 9, seen),
                RoomChecked(room, checked_on, kind, ("a",), ("skirting",)),
                Sighted(case, room, "", "mattress_top", sign, 1, "a", then),
                CaseJudged(case, draw(st.sampled_from(Outcome)), "b", "licence", checked_on),
                CheckAsked(case, room, ("shares_wall",), then + timedelta(days=2)),
                QuarantinePlaced(room, case, then, "sighting"),
                QuarantineLifted(room, case, then, "c", True),
                CaseClosed(case, then, "c", True),
                CasesJoined(CASES[1], CASES[0], "d", "one story"),
                CaseEntryMoved(draw(st.integers(1, 12)), CASES[0], CASES[1], "d", "two stories"),
                CycleChosen(draw(st.sampled_from((Scope.HOUSE, Scope.ROOM))), room, 20),
                SeasonNoted("summer", day(10), day(30), 50),
                BedDescribed(bed, room, "box_spring", draw(st.booleans()), draw(st.booleans())),
                RoomDescribed(room, "1", "", Side.LEFT, 1, in_use=draw(st.booleans())),
            ]
        )
    )


@st.composite
def histories(draw):
    """A record of two months with entries typed in late, taken back, and a clock set back."""
    build = house()
    for room in ROOMS:
        build.room(room)
        for bed in BEDS:
            if bed.startswith(room):
                build.bed(bed[-1])
    this, on = build.house, 0
    for number in range(len(this.entries) + 1, len(this.entries) + 1 + draw(st.integers(1, 22))):
        on = max(0, min(60, on + draw(st.sampled_from((0, 0, 1, 3, 9, -2)))))
        corrects = draw(st.integers(2, number - 1)) if not draw(st.integers(0, 4)) else None
        note = "wrong" if corrects else ""
        entry = Entry(
            number, moment(on, draw(st.integers(0, 23))), "t", "t", note, corrects, "", ""
        )
        this = this.add(entry, draw(st.lists(facts(on), min_size=0 if corrects else 1, max_size=3)))
    return this


def slowly(this, at):
    return stands(this.as_of(at), at, local_day(at, this.zone))


@given(histories(), st.lists(st.tuples(days, st.integers(0, 23)), min_size=1, max_size=6))
@settings(max_examples=125, deadline=None)
def test_every_moment_is_as_the_house_knew_it_then(this, asked):
    past = PastDays(this)
    for number, hour in asked:
        at = moment(number, hour)
        assert dict(past.at(at)) == dict(slowly(this, at))
        assert list(past.at(at)) == list(slowly(this, at))


@given(histories())
@settings(max_examples=60, deadline=None)
def test_back_and_forth_over_the_days_changes_no_answer(this):
    past = PastDays(this)
    forth = [past.at(past.end_of(day(number))) for number in range(0, 60, 7)]
    back = [past.at(past.end_of(day(number))) for number in reversed(range(0, 60, 7))]
    assert forth == back[::-1]
    assert forth == [slowly(this, past.end_of(day(number))) for number in range(0, 60, 7)]


@pytest.mark.parametrize("complete", [None, 20])
def test_what_is_only_known_as_an_earlier_look_counts_from_its_day(complete):
    from dataclasses import replace

    this = house().room("101").bed("A").house
    this = replace(
        this,
        earlier_looks={"101/A": day(5)},
        complete_from=day(complete) if complete else None,
    )
    past = PastDays(this)
    assert past.first_on == day(complete or 0)
    for number in (3, 5, 30):
        at = past.end_of(day(number))
        assert past.at(at) == slowly(this, at)
    assert past.at(past.end_of(day(30)))["101"].days_since == 25


def test_a_room_goes_from_watched_to_quarantine_to_found_and_on():
    build = house().room("101").bed("A").room("102").bed("A")
    build.on(3).checked("A", day(3))
    build.on(10).record(
        Sighted("2026-001", "101", "", "mattress_top", Sign.LIVE_INSECT, 1, "a", moment(10)),
        QuarantinePlaced("101", "2026-001", moment(10), "sighting"),
        CheckAsked("2026-001", "102", ("shares_wall",), moment(11)),
    )
    build.on(20).record(QuarantineLifted("101", "2026-001", moment(20), "b", False, "enough"))
    build.on(40).record(CaseClosed("2026-001", moment(40), "b", False, "quiet"))
    past = PastDays(build.house)

    def states(number):
        return {no: one.state for no, one in past.at(past.end_of(day(number))).items()}

    assert states(5) == {"101": RoomStanding.LATER, "102": RoomStanding.LATER}
    assert states(10) == {"101": RoomStanding.QUARANTINE, "102": RoomStanding.TO_CHECK}
    assert states(20)["101"] is RoomStanding.FOUND
    assert past.at(past.end_of(day(20)))["101"].found_on == day(10)
    assert states(40)["101"] not in (RoomStanding.FOUND, RoomStanding.QUARANTINE)
