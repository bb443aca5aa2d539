"""Laws of a case's record: taking back undoes one entry and no more; the past stays as shown.

Histories are made at random of what people write down about cases: signs with all that
they set going, judgements, treatments, looks, rooms given back, cases joined and split,
entries taken back. No outside source: both laws are demands of ours on any record.
"""

from __future__ import annotations

from functools import cache

from hypothesis import HealthCheck, event, example, given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseJudged,
    CasesJoined,
    Outcome,
    PhotoKept,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.case import case_of, cases
from hotelwatch.core.cases.desk import desk_list
from hotelwatch.core.cases.joining import check_joining, split
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.response import answer_sighting, still_wanted, wanted_apart
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.steps import next_steps
from hotelwatch.core.cases.story import story_of
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo, Side
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, day, house, moment

ROOMS = ("101", "102", "103", "201", "202", "203")
SUITE = frozenset({"101", "102"})
STAYS = (("101", 0, 4), ("102", 2, 9), ("202", 5, 6), ("203", 1, 30))
"""Rooms with guests: they come on the first day and leave on the second."""

PLACES = st.integers(0, 9)
"""Which of the rooms, cases or entries there are: counted round."""
STEPS = st.one_of(
    st.tuples(st.just("see"), st.sampled_from(list(Sign)), PLACES),
    st.tuples(st.just("see"), st.sampled_from(list(Sign)), PLACES),
    st.tuples(st.just("judge"), st.sampled_from(list(Outcome)), PLACES),
    st.tuples(st.just("treat"), st.just(0), PLACES),
    st.tuples(st.just("look"), st.sampled_from(["clean", "clean", "found"]), PLACES),
    st.tuples(st.just("lift"), st.just(0), PLACES),
    st.tuples(st.just("join"), st.integers(0, 9), PLACES),
    st.tuples(st.just("split"), st.integers(0, 9), PLACES),
    st.tuples(st.just("take back"), st.just(0), PLACES),
    st.tuples(st.just("photo"), st.just(0), PLACES),
)
HISTORIES = st.lists(STEPS, min_size=1, max_size=10)
LAW = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@cache
def _hotel() -> Build:
    built = house().floors("1", "2")
    for number, room in enumerate(ROOMS):
        suite = "S" if room in SUITE else ""
        built.room(room, floor=room[0], side=Side.LEFT, order=number % 3 + 1, suite=suite).bed("A")
    return built.stays(*STAYS)


def _begin() -> Build:
    built = Build(_hotel().house.shipped)
    built.house = _hotel().house
    return built


def _write(built: Build, step, number: int) -> None:
    """What a person writes down on a day, where there is anything to write it down of."""
    what, which, place = step
    built.on(number)
    known = list(built.house.sightings)
    case = known[place % len(known)] if known else None
    if what == "see":
        _see(built, ROOMS[place % len(ROOMS)], which, number)
    elif what == "look":
        _look(built, ROOMS[place % len(ROOMS)], which, number)
    elif case is None:
        return
    elif what == "judge":
        was = "a flea" if which is Outcome.NOT_BED_BUG else ""
        built.record(CaseJudged(case, which, "Dr. Vey", "entomologist", day(number), was=was))
    elif what == "treat":
        room, back = case_of(built.house, case).room, moment(number, 18)
        built.record(TreatmentRecorded(case, room, day(number), "heat", "firm", "L-1", back))
    elif what == "lift":
        for room in case_of(built.house, case).quarantined[:1]:
            at = moment(number, 10)
            built.record(QuarantineLifted(room, case, at, "mara", False, "a reason"))
    elif what == "photo":
        built.record(PhotoKept(case, f"{number:064d}", 10))
    else:
        _relabel(built, step, case, number)


def _see(built: Build, room: str, sign: Sign, number: int) -> None:
    at_hand = built.house
    sighted = Sighted(CaseNo(""), RoomNo(room), "", "", sign, 1, "ana", moment(number, 8))
    built.record(*answer_sighting(at_hand, neighbours(at_hand, lay_out(at_hand)), sighted).facts)


def _look(built: Build, room: str, which: str, number: int) -> None:
    built._room = RoomNo(room)
    found = ("base_staple_line:dark_spots",) if which == "found" else ()
    kind = CheckKind.CLEARANCE if number % 2 else CheckKind.ASKED
    built.checked("A", day(number), kind=kind, found=found)


def _relabel(built: Build, step, case: CaseNo, number: int) -> None:
    """Cases joined and split, and entries taken back."""
    what, which, place = step
    known = list(built.house.sightings)
    if what == "take back":
        going = _of_cases(built)
        take_back(built, going[place % len(going)])
    elif what == "join":
        joined = CasesJoined(case, known[which % len(known)], "mara", "same guests")
        try:
            check_joining(built.house, joined)
        except Refusal:
            return
        built.record(joined)
    else:
        signs = sorted({row.entry for row in built.house.kept_of_case(Sighted, case)})
        if len(signs) > 1:
            entry = signs[which % len(signs)]
            moved = split(built.house, case, [entry], by="mara", reason="apart", today=day(number))
            at_hand = built.house
            near = neighbours(at_hand, lay_out(at_hand))
            built.record(*moved, *wanted_apart(at_hand, near, moved))


def _of_cases(built: Build) -> list[int]:
    """Entries with a sign that count."""
    return sorted({row.entry for row in built.house.kept_of(Sighted)})


def take_back(built: Build, entry: int) -> None:
    """As a person takes an entry back."""
    at_hand = built.house
    near = neighbours(at_hand, lay_out(at_hand))
    built.record(*still_wanted(at_hand, near, entry), corrects=entry, note="a mistake")


def shown(at_hand, number: int):
    """All that is shown of cases on a day: stages, stories, steps, front desk's list."""
    now = moment(number, 12)
    around = Around(neighbours(at_hand, lay_out(at_hand)), record_of(at_hand))
    desk = desk_list(at_hand, occupancy(at_hand, day(number)), now, around=around)
    told = {
        case.no: (case, story_of(at_hand, case.no, now=now), next_steps(at_hand, case, now=now))
        for case in cases(at_hand)
    }
    return told, desk


def play(history) -> list[Build]:
    """The house as it stood after each step; a step a day."""
    built = _begin()
    stands = []
    for number, step in enumerate(history):
        _write(built, step, number)
        copy = Build(built.house.shipped)
        copy.house = built.house
        stands.append(copy.on(number))
    return stands


@LAW
@given(HISTORIES)
def test_the_past_is_shown_as_it_was_shown_then(history):
    stands = play(history)
    last = stands[-1].house
    event(f"{len(cases(last))} cases at the end")
    for number, stand in enumerate(stands):
        # An hour after what was written down that morning, and before the next day's.
        then = last.as_of(moment(number, 12))
        assert shown(then, number) == shown(stand.house, number)


TREATED_BETWEEN = [
    ("see", Sign.LIVE_INSECT, 0), ("see", Sign.LIVE_INSECT, 0), ("split", 0, 0), ("treat", 0, 1),
    ("see", Sign.LIVE_INSECT, 0), ("join", 0, 1),
]  # fmt: skip
"""Joined, the case has a treatment after which earlier signs' wishes no longer stand."""


@LAW
@given(HISTORIES, st.sampled_from(list(Sign)), PLACES)
@example(TREATED_BETWEEN, Sign.LIVE_INSECT, 0)
def test_a_sign_written_down_by_mistake_and_taken_back_leaves_nothing(history, sign, place):
    built = play(history)[-1]
    today = len(history)
    before = shown(built.house, today)
    built.on(today)
    _see(built, ROOMS[place % len(ROOMS)], sign, today)
    assert shown(built.house, today) != before
    take_back(built, max(built.house.entries))
    assert shown(built.house, today) == before


@LAW
@given(HISTORIES, PLACES)
def test_taking_back_an_early_sign_leaves_what_every_other_entry_wrote(history, place):
    built = play(history)[-1]
    going = _of_cases(built)
    if not going:
        return
    entry = going[place % len(going)]
    before = built.house
    take_back(built, entry)
    written = max(built.house.entries)
    for kind, rows in before.kept.items():
        stands = [r for r in rows if r.entry not in before.corrected and r.entry != entry]
        now = [r for r in built.house.kept[kind] if r.entry not in built.house.corrected]
        assert [r for r in now if r.entry != written] == stands
    _nothing_new_is_closed(before, built.house)
    _signs_stay_closed(before, built.house)


def _nothing_new_is_closed(before, after) -> None:
    """Taking back closes no room that was open."""
    at = moment(40)
    assert after.quarantined(at) <= before.quarantined(at)


def _signs_stay_closed(before, after) -> None:
    """A room stays closed, if it was, for a sign that still counts and came after its lifting."""
    at = moment(40)
    lifted = {row.fact.room: row.entry for row in before.kept_of(QuarantineLifted)}
    signed = {
        room
        for row in after.kept_of(Sighted)
        for room in (SUITE if row.fact.room in SUITE else {row.fact.room})
        if row.entry > lifted.get(room, 0)
    }
    assert signed & before.quarantined(at) <= after.quarantined(at)


def test_a_sign_left_behind_by_a_split_keeps_its_room_closed():
    built = _begin()
    for number in (0, 1):
        _write(built, ("see", Sign.LIVE_INSECT, 5), number)
    _write(built, ("split", 0, 0), 2)
    one, two = cases(built.house)
    assert one.quarantined == two.quarantined == ("203",)
    assert {state.asked.room for state in one.asked} == {state.asked.room for state in two.asked}
    # Given back for one of them, the room stays closed for the other.
    lifted = QuarantineLifted(RoomNo("203"), two.no, moment(3), "mara", False, "a reason")
    built.on(3).record(lifted)
    assert built.house.quarantined(moment(4)) == {"203"}


def test_a_room_given_back_stays_given_back_when_a_later_sign_was_a_mistake():
    built = _begin()
    for number, step in enumerate((("see", Sign.LIVE_INSECT, 5), ("lift", 0, 0))):
        _write(built, step, number)
    assert not built.house.quarantined(moment(2))
    _write(built, ("see", Sign.LIVE_INSECT, 5), 2)
    take_back(built, max(built.house.entries))
    assert not built.house.quarantined(moment(3))


def test_a_room_given_back_stays_given_back_when_its_sign_is_split_off():
    built = _begin()
    for number, what in enumerate(("see", "see", "lift", "split")):
        _write(built, (what, Sign.LIVE_INSECT if what == "see" else 0, 5 * (what == "see")), number)
    assert len(cases(built.house)) == 2
    assert not built.house.quarantined(moment(5))
