"""Blind trials as the record tells them: which look was first, and whether it looked there."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import hotelwatch
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.recorded import recorded_rows
from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.facts import (
    CheckKind,
    CycleChosen,
    RoomChecked,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.odds.learning.trials import (
    COUNTING,
    TrialState,
    counted,
    hidden_now,
    states,
    tally,
    tally_by_person,
    tally_by_place,
    trials,
)
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.trial_facts import DummyEnded, DummyFate, DummyHidden
from tests.build import day, house

PLACE = "base_underside"
ROOM = RoomNo("101")


def hidden(dummy="D1", on=1, by="maria", *, bed="101/A", place=PLACE):
    return DummyHidden(dummy, ROOM, bed, place, day(on), by)


def ended(dummy="D1", on=9, *, found, fate=DummyFate.COLLECTED, looked_by=()):
    return DummyEnded(dummy, ROOM, day(on), found, tuple(looked_by), fate)


def inn():
    return house().room("101").bed("A")


def only(build):
    (one,) = trials(build.house)
    return one


def test_a_dummy_lies_hidden_until_its_trial_ends():
    build = inn().record(hidden())
    assert only(build).state is TrialState.HIDDEN
    assert set(hidden_now(build.house)) == {"D1"}
    build.checked("A", day(4))
    waiting = only(build)
    assert waiting.state is TrialState.HIDDEN
    assert waiting.first_look.by == ("anna", "boris")
    build.record(ended(found=True))
    assert only(build).state is TrialState.FOUND
    assert hidden_now(build.house) == {}


def test_the_first_look_at_the_place_found_it_or_missed_it():
    build = inn().record(hidden()).checked("A", day(4))
    assert only(build.record(ended(found=False))).state is TrialState.MISSED


def test_found_by_a_later_look_the_first_one_missed_it():
    build = inn().record(hidden()).checked("A", day(4)).checked("A", day(6))
    one = only(build.record(ended(found=True)))
    assert one.state is TrialState.MISSED
    assert one.first_look.checked_on == day(4)


def test_a_place_that_the_check_left_out_says_nothing():
    build = inn().record(hidden()).checked("A", day(4), seen=["mattress_top"])
    one = only(build.record(ended(found=False)))
    assert one.state is TrialState.NOT_LOOKED_AT
    assert not one.counts
    assert one.first_look is None


def test_a_check_that_left_the_place_out_is_not_the_first_look_at_it():
    build = inn().record(hidden()).checked("A", day(3), seen=["mattress_top"]).checked("A", day(4))
    one = only(build.record(ended(found=True)))
    assert one.state is TrialState.FOUND
    assert one.first_look.checked_on == day(4)


def test_without_a_check_nobody_looked():
    build = inn().checked("A", day(0)).record(hidden(), ended(found=True, looked_by=["anna"]))
    one = only(build)
    assert one.state is TrialState.NOBODY_LOOKED
    assert one.looked_by == ("anna",)


def test_a_check_after_the_end_is_none_of_it():
    build = inn().record(hidden()).record(ended(on=3, found=False)).checked("A", day(4))
    assert only(build).state is TrialState.NOBODY_LOOKED


def test_on_the_day_of_hiding_only_what_is_written_down_later_counts():
    before = inn().checked("A", day(1)).record(hidden(on=1), ended(found=False))
    assert only(before).state is TrialState.NOBODY_LOOKED
    after = inn().record(hidden(on=1)).checked("A", day(1)).record(ended(found=False))
    assert only(after).state is TrialState.MISSED


def test_who_hid_it_does_not_look_blind():
    build = inn().record(hidden(by="Anna ")).checked("A", day(4)).record(ended(found=True))
    assert only(build).state is TrialState.NOT_BLIND


def test_a_lost_dummy_says_nothing_unless_it_was_found():
    build = inn().record(hidden()).checked("A", day(4))
    lost = ended(found=False, fate=DummyFate.LOST)
    assert only(build.record(lost)).state is TrialState.LOST
    build = inn().record(hidden()).checked("A", day(4))
    assert only(build.record(replace(lost, was_found=True))).state is TrialState.FOUND


def test_a_place_of_the_room_is_looked_at_by_its_room_check():
    at_rack = hidden(bed="", place="luggage_rack")
    look = RoomChecked(ROOM, day(4), CheckKind.DEEP, ("anna",), ("luggage_rack",))
    build = inn().record(at_rack).checked("A", day(3)).record(look).record(ended(found=True))
    one = only(build)
    assert one.state is TrialState.FOUND
    assert one.looked_by == ("anna",)


def test_a_label_is_free_again_after_its_trial():
    build = inn().record(hidden()).checked("A", day(4)).record(ended(on=5, found=True))
    build.record(hidden(on=6)).checked("A", day(8)).record(ended(on=9, found=False))
    latest, first = trials(build.house)
    assert (latest.state, first.state) == (TrialState.MISSED, TrialState.FOUND)


def test_a_trial_is_taken_back_like_any_entry():
    build = inn().record(hidden())
    hiding = max(build.house.entries)
    build.checked("A", day(4)).record(ended(found=True))
    ending = max(build.house.entries)
    build.record(corrects=ending, note="wrong label")
    assert only(build).state is TrialState.HIDDEN
    build.record(corrects=hiding, note="wrong room")
    assert trials(build.house) == ()
    assert hidden_now(build.house) == {}


def test_a_corrected_check_changes_what_the_trial_says():
    build = inn().record(hidden()).checked("A", day(4))
    check = max(build.house.entries)
    build.record(ended(found=False))
    assert only(build).state is TrialState.MISSED
    build.record(corrects=check, note="that was room 102")
    assert only(build).state is TrialState.NOBODY_LOOKED


def test_trials_whose_looks_are_not_at_hand_are_left_out():
    build = inn().record(hidden()).checked("A", day(4)).record(ended(found=True))
    assert trials(replace(build.house, complete_from=day(2))) == ()
    assert len(trials(replace(build.house, complete_from=day(1)))) == 1


def test_hidden_dummies_change_no_sheet_and_nothing_to_be_done():
    def shown(*facts):
        slot = SlotPublished(day(2), TeamName("Early"), 1, ROOM, ("101/A",), 20)
        build = inn().team("Early").record(RoundPublished(day(2), day(2)), slot).record(*facts)
        sheet = team_sheet(
            build.house, occupancy(build.house, day(2)), on=day(2), team=TeamName("Early")
        )
        due = looks(build.house, day(2))
        late = [look for look in looks(build.house, day(200)) if look.is_overdue(day(200))]
        return sheet, due, late, recorded_rows(build.house, day(2))

    with_dummy = shown(hidden())
    assert with_dummy == shown(CycleChosen(Scope.ROOM, "999", 30))
    assert [room.room for room in with_dummy[0].rooms] == [ROOM]


def test_pages_and_papers_of_those_who_look_never_ask_for_dummies():
    root = Path(hotelwatch.__file__).parent
    of_teams = ("screens/checks", "screens/today", "screens/rounds", "screens/building")
    folders = (*of_teams, "printing", "core/checks", "core/rounds", "core/planning", "core/cases")
    read = [path for folder in folders for path in sorted((root / folder).rglob("*.py"))]
    assert len(read) > 100
    spying = [
        path.name
        for path in read
        if re.search(r"trial_facts|odds\.trials", path.read_text("utf-8"))
    ]
    assert spying == []


def test_tallies_by_place_and_by_person_each_by_name():
    build = inn()
    for number, (place, found) in enumerate(
        [(PLACE, True), (PLACE, False), ("mattress_top", True)]
    ):
        build.record(hidden(f"D{number}", on=3 * number, place=place))
        who = ("boris", "Anna") if number else ("anna ", "boris")
        build.checked("A", day(3 * number + 1), by=who)
        build.record(ended(f"D{number}", on=3 * number + 2, found=found))
    deep = counted(trials(build.house))
    assert (tally(deep).found, tally(deep).trials) == (2, 3)
    by_place = tally_by_place(deep)
    assert {place: (t.found, t.trials) for place, t in by_place.items()} == {
        PLACE: (1, 2),
        "mattress_top": (1, 1),
    }
    by_person = tally_by_person(deep)
    assert {name.casefold(): (t.found, t.trials) for name, t in by_person.items()} == {
        "anna": (2, 3),
        "boris": (2, 3),
    }
    assert [name.casefold() for name in by_person] == ["anna", "boris"]


def test_a_brief_look_is_counted_apart():
    build = inn().record(hidden(place="mattress_top"))
    build.checked("A", day(4), kind=CheckKind.BRIEF).record(ended(found=True))
    assert counted(trials(build.house)) == ()
    assert tally(counted(trials(build.house), deep=False)).found == 1


STEPS = st.lists(
    st.tuples(
        st.sampled_from(["hide", "end", "check", "gap"]),
        st.sampled_from(["D1", "D2"]),
        st.booleans(),
        st.integers(0, 12),
    ),
    max_size=12,
)


@given(STEPS)
def test_whatever_was_written_down_each_hiding_is_one_trial_in_one_state(steps):
    build = inn()
    for step, dummy, yes, on in steps:
        match step:
            case "hide":
                build.record(hidden(dummy, on=on))
            case "end":
                build.record(ended(dummy, on=on, found=yes))
            case "check":
                build.checked("A", day(on))
            case "gap":
                build.checked("A", day(on), seen=["mattress_top"])
    found = trials(build.house)
    assert len(found) == sum(step == "hide" for step, *_ in steps)
    assert sum(states(found).values()) == len(found)
    assert sum(one.counts for one in found) == sum(states(found)[state] for state in COUNTING)
    for one in found:
        assert one.counts <= (one.first_look is not None)


@pytest.mark.parametrize("moved", [1, 40])
def test_moving_all_days_changes_nothing(moved):
    def story(shift):
        build = inn().record(hidden(on=1 + shift)).checked("A", day(4 + shift))
        return only(build.record(ended(on=5 + shift, found=True))).state

    assert story(moved) is story(0)
