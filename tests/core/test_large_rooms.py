"""Rooms that fill a sheet or more than one: divided by beds, and never passed over for ever."""

from __future__ import annotations

import string
from collections import Counter, defaultdict
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.asked import asked_states
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.facts import (
    BedChecked,
    BedNo,
    CaseNo,
    CheckKind,
    CycleChosen,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    Scope,
)
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import CheckPinned
from hotelwatch.core.rounds.demand import demand, early_days
from hotelwatch.core.rounds.plan import WhyNot, Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, moment
from tests.build import house as any_house

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
CASE = CaseNo("2026-001")


def house():
    """A house in which no way takes a team's minutes, so that sums are easily followed."""
    return any_house(corridor_minutes=0)


# From the shipped assumptions: 6 minutes a room, 12 a bunk, 14 a box spring, 4 a crib.
SETUP, BUNK, BOX, CRIB = 6, 12, 14, 4


def plan(built, *, days=14, today=0):
    seen = occupancy(built.house, day(today))
    return plan_rounds(built.house, seen, Wish(day(today), days, moment(today, 6)))


def room(built, label, kinds, due_in, *, cycle=91):
    """One more room with a bed of each kind; due in so many days, all or one by one."""
    built.room(label)
    days = due_in if isinstance(due_in, list) else [due_in] * len(kinds)
    for letter, kind, in_days in zip(string.ascii_uppercase, kinds, days, strict=False):
        built.bed(letter, kind).checked(letter, day(in_days - cycle))
    return built


def bunk_room(built, label="001", *, beds=24, due_in=0):
    return room(built, label, ["bunk"] * beds, due_in)


def visits(planned):
    return [
        ((slot.on - day(0)).days, slot.team, slot.room, len(slot.beds)) for slot in planned.slots
    ]


def ask(built, label, *, case=CASE, by=1, on=0):
    built.on(on).record(
        Sighted(case, RoomNo(label), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(on, 1)),
        CheckAsked(case, RoomNo(label), ("sighting",), moment(by)),
    )
    return built


def publish(built, planned, on=0):
    return built.on(on).record(RoundPublished(planned.from_on, planned.until_on), *planned.slots)


def look_at(built, beds, on, *, in_vain=()):
    """All beds were looked at on a day; of those in vain an underside was left out."""
    checks = []
    for no in beds:
        bed = built.house.beds[BedNo(no)]
        places = built.house.rules.bed_kinds[bed.kind].places_of(encased=bed.encased)
        seen = tuple(p.code for p in places if no not in in_vain or not p.underside)
        checks.append(BedChecked(bed.bed, bed.room, day(on), CheckKind.DEEP, ("a", "b"), 10, seen))
    return built.on(on).record(*checks) if checks else built


# --- divided by beds ----------------------------------------------------------------------


def test_a_bunk_room_too_long_for_a_day_is_divided_over_days():
    built = bunk_room(house().team("blue", SETUP + 10 * BUNK, works_on=EVERY_DAY))
    planned = plan(built)
    assert [(on, team) for on, team, _, _ in visits(planned)] == [(n, "blue") for n in range(3)]
    assert sorted(len(slot.beds) for slot in planned.slots) == [4, 10, 10]
    # Set-up counts for each visit.
    assert all(slot.minutes == SETUP + len(slot.beds) * BUNK for slot in planned.slots)
    assert planned.left_out == ()


def test_two_teams_may_divide_a_room_on_one_day():
    built = house().team("blue", SETUP + 10 * BUNK).team("red", SETUP + 14 * BUNK)
    planned = plan(bunk_room(built))
    assert visits(planned) == [(0, "blue", "001", 10), (0, "red", "001", 14)]
    publish(built, planned)
    seen = occupancy(built.house, day(0))
    sheets = [team_sheet(built.house, seen, on=day(0), team=team) for team in ("blue", "red")]
    beds = [bed.bed for sheet in sheets for sheet_room in sheet.rooms for bed in sheet_room.beds]
    assert sorted(beds) == sorted(built.house.beds)
    assert [sheet.minutes for sheet in sheets] == [126, 174]


@pytest.mark.parametrize("is_strict", [False, True])
def test_parts_that_fit_an_opening_each_but_not_together_stand_on_days_apart(is_strict):
    built = house().team("blue", 400, works_on=EVERY_DAY, from_clock="08:00", until_clock="16:00")
    # Ten bunks, 126 minutes; each day a guest leaves by 11:00 and another comes at 13:00.
    bunk_room(built, beds=10).stays(*(("001", on, on + 1) for on in range(-1, 20)))
    built.record(
        HotelDescribed("House of tests", "Europe/Vienna", leave_by="11:00", arrive_from="13:00")
    )
    seen = occupancy(built.house, day(0))
    wish = Wish(day(0), 5, moment(0, 6), is_strict=is_strict)
    planned = plan_rounds(built.house, seen, wish)
    assert sorted((slot.on - day(0)).days for slot in planned.slots) == [0, 1]
    assert sorted(slot.minutes for slot in planned.slots) == [SETUP + BUNK, SETUP + 9 * BUNK]
    assert planned.left_out == ()
    # Opened for one day only, the last bed stands on no sheet, and it is said which.
    short = plan_rounds(built.house, seen, replace(wish, days=1))
    assert [slot.minutes for slot in short.slots] == [SETUP + 9 * BUNK]
    (left_out,) = short.left_out
    assert len(left_out.only_beds) == 1


def test_a_room_that_fits_a_sheet_is_never_divided():
    built = house().team("blue", SETUP + 24 * BUNK, works_on=("thu",)).team("red", 60)
    # In time on Thursday, day 3, for which the team comes that can do it in one visit.
    assert visits(plan(bunk_room(built, due_in=3))) == [(3, "blue", "001", 24)]


def test_the_beds_that_are_due_first_are_looked_at_first():
    built = house().team("blue", SETUP + 2 * BUNK, works_on=EVERY_DAY)
    bunk_room(built, beds=4, due_in=[5, 0, 6, 1])
    assert [slot.beds for slot in plan(built).slots] == [("001/B", "001/D"), ("001/A", "001/C")]


def test_what_is_left_of_a_divided_room_is_as_urgent_as_its_own_beds():
    built = house().team("blue", SETUP + 2 * BUNK, works_on=EVERY_DAY)
    bunk_room(built, beds=4, due_in=[0, 0, 6, 6])
    room(built, "002", ["box_spring"], 3)
    assert visits(plan(built)) == [
        (0, "blue", "001", 2),
        (1, "blue", "002", 1),
        (2, "blue", "001", 2),
    ]


@pytest.mark.parametrize("beds_before", [1, 3, 5])
def test_a_divided_room_is_not_visited_for_a_scrap_of_what_a_day_could_do(beds_before):
    built = house().team("blue", SETUP + 10 * BUNK)
    room(built, "002", ["box_spring"] * beds_before, -40)
    planned = plan(bunk_room(built, due_in=-1))
    # Whatever is left of a day beside another room, the visits are those of whole days.
    assert sorted(n for _, _, label, n in visits(planned) if label == "001") == [4, 10, 10]


def test_what_a_case_asks_for_is_divided_and_done_within_its_deadline():
    built = house().team("blue", SETUP + 10 * BUNK, works_on=EVERY_DAY)
    room(built, "002", ["box_spring"] * 7, 50)
    bunk_room(built, due_in=50)
    ask(ask(built, "002"), "001", case=CaseNo("2026-002"), by=3)
    room(built, "003", ["box_spring"], -90)
    planned = plan(built)
    # 104 minutes, and 126, 126 and 54: four days, though 003 has long been overdue.
    assert [(on, n) for on, _, label, n in visits(planned) if label == "002"] == [(0, 7)]
    parts = [(on, n) for on, _, label, n in visits(planned) if label == "001"]
    assert [on for on, _ in parts] == [1, 2, 3]
    assert sorted(n for _, n in parts) == [4, 10, 10]
    asked_by = {slot.room: slot.asked_by for slot in planned.slots}
    assert asked_by == {"002": CASE, "001": "2026-002", "003": ""}


def test_an_asked_check_is_divided_where_the_team_for_all_of_it_comes_too_late():
    built = house().team("blue", SETUP + 24 * BUNK, works_on=("thu",))
    built.team("red", SETUP + 12 * BUNK, works_on=EVERY_DAY)
    built = ask(bunk_room(built, due_in=50), "001", by=1)
    assert visits(plan(built)) == [(0, "red", "001", 12), (1, "red", "001", 12)]


def test_an_asked_check_goes_on_with_the_beds_that_are_left_and_is_then_done():
    built = house().team("blue", SETUP + 10 * BUNK, works_on=EVERY_DAY)
    ask(bunk_room(built, due_in=50), "001", by=2)
    seen = []
    for today in range(3):
        (state,) = asked_states(built.house, CASE)
        assert state.is_open
        assert len(state.beds_left) == 24 - len(seen)
        planned = plan(built, today=today)
        publish(built, planned, on=today)
        beds = [bed for slot in planned.slots if slot.on == day(today) for bed in slot.beds]
        look_at(built, beds, today)
        seen += beds
    assert sorted(seen) == sorted(built.house.beds)
    (state,) = asked_states(built.house, CASE)
    assert (state.done_on, state.beds_left) == (day(2), ())
    assert plan(built, today=3).slots == ()


def test_planning_again_in_the_day_keeps_a_done_part_and_sends_nobody_there_twice():
    built = bunk_room(house().team("blue", SETUP + 10 * BUNK, works_on=EVERY_DAY), beds=15)
    first = plan(built).slots[0]
    few = replace(first, beds=first.beds[:5], minutes=SETUP + 5 * BUNK)
    built.record(RoundPublished(day(0), day(13)), few)
    look_at(built, few.beds, 0, in_vain=["001/A"])
    again = plan(built)
    # Minutes are left today, but blue has been there; and A, left out, waits with the others.
    assert [on for on, *_ in visits(again)] == [0, 1, 2]
    assert sorted(len(slot.beds) for slot in again.slots[1:]) == [1, 10]
    assert again.slots[0].beds == few.beds
    assert {bed for slot in again.slots[1:] for bed in slot.beds} == {
        "001/A",
        *(f"001/{letter}" for letter in "FGHIJKLMNO"),
    }
    built.team("red", SETUP + 10 * BUNK, works_on=EVERY_DAY)
    # Another team may go there today; only the bed that was left out waits for tomorrow.
    assert visits(plan(built))[:2] == [(0, "blue", "001", 5), (0, "red", "001", 10)]
    assert plan(built).slots[2].beds == ("001/A",)


# --- what can stand on no sheet -------------------------------------------------------------


def left(planned):
    return [(one.room, one.why, one.only_beds) for one in planned.left_out]


def test_a_bed_that_is_too_long_for_any_day_leaves_its_room_out_with_its_own_reason():
    built = room(house().team("blue", SETUP + BOX - 1), "101", ["box_spring"], 0)
    assert left(plan(built)) == [("101", WhyNot.TOO_LONG, ())]
    built.team("blue", SETUP + BOX)
    assert left(plan(built)) == []


def test_a_team_with_minutes_but_without_people_does_not_make_a_bed_short_enough():
    built = house().team("blue", SETUP + BOX - 1).team("one", 200, people=1)
    assert left(plan(room(built, "101", ["box_spring"], 0))) == [("101", WhyNot.TOO_LONG, ())]
    built.team("blue", in_use=False)
    assert left(plan(built)) == [("101", WhyNot.NO_TEAM, ())]


def test_the_other_beds_of_a_room_are_looked_at_all_the_same():
    built = room(house().team("blue", SETUP + BUNK), "101", ["bunk", "box_spring", "crib"], 0)
    planned = plan(built)
    assert sorted(slot.beds for slot in planned.slots) == [("101/A",), ("101/C",)]
    assert left(planned) == [("101", WhyNot.TOO_LONG, ("101/B",))]
    one = room(house().team("one", 60, people=1), "101", ["box_spring", "crib"], 0)
    planned = plan(one)
    assert [(slot.beds, slot.minutes) for slot in planned.slots] == [(("101/B",), SETUP + CRIB)]
    assert left(planned) == [("101", WhyNot.NO_TEAM, ("101/A",))]


def test_a_divided_room_for_which_the_days_do_not_suffice_says_which_beds_are_left():
    built = bunk_room(house().team("blue", SETUP + 2 * BUNK), beds=5)
    planned = plan(built, days=2)
    on_sheets = {bed for slot in planned.slots for bed in slot.beds}
    ((label, why, beds),) = left(planned)
    assert (label, why) == ("001", WhyNot.NO_MINUTES)
    assert set(beds) == set(built.house.beds) - on_sheets
    assert 1 <= len(beds) <= 2


def test_a_room_without_beds_that_is_asked_for_needs_its_set_up():
    built = ask(house().team("blue", SETUP - 1).room("101"), "101")
    assert left(plan(built)) == [("101", WhyNot.TOO_LONG, ())]
    built.team("blue", SETUP)
    assert [slot.minutes for slot in plan(built).slots] == [SETUP]


def test_quarantine_and_bookings_come_before_minutes_among_the_reasons():
    built = bunk_room(house().team("blue", SETUP + 2 * BUNK)).stays(("001", -2, 40))
    assert left(plan(built)) == [("001", WhyNot.NO_OPENING, ())]
    built.record(QuarantinePlaced(RoomNo("001"), CASE, moment(0, 1), "sighting"))
    assert left(plan(built)) == [("001", WhyNot.IN_QUARANTINE, ())]


# --- nobody is passed over for ever ----------------------------------------------------------


def live(built, days, *, in_vain=(), before=None):
    """Plan, publish and do the sheets day after day; when each bed was looked at in full."""
    looked_on = defaultdict(list)
    for today in range(days):
        if before is not None:
            before(today)
        planned = plan(built, days=3, today=today)
        publish(built, planned, on=today)
        beds = [bed for slot in planned.slots if slot.on == day(today) for bed in slot.beds]
        look_at(built, beds, today, in_vain=in_vain)
        for bed in set(beds) - set(in_vain):
            looked_on[bed].append(today)
    return looked_on


def a_large_and_two_small_rooms(cycle, large_due_in=3, small_due_in=-5):
    """60 minutes a day; a room of 54 among rooms of 20 that are due earlier."""
    built = house().team("blue", 60, works_on=EVERY_DAY)
    built.record(CycleChosen(Scope.HOUSE, "", cycle))
    room(built, "101", ["box_spring"], small_due_in, cycle=cycle)
    room(built, "102", ["box_spring"], small_due_in + 1, cycle=cycle)
    return room(built, "103", ["bunk"] * 4, large_due_in, cycle=cycle)


def test_smaller_rooms_that_are_due_earlier_delay_a_large_one_only_once_each():
    looked_on = live(a_large_and_two_small_rooms(20, -3), 2)
    assert set(looked_on) == {"101/A", "102/A", *(f"103/{letter}" for letter in "ABCD")}
    assert all(len(days) == 1 for days in looked_on.values())


def test_a_room_tried_for_in_vain_day_after_day_lets_the_large_one_have_its_day():
    # 101 can never be finished, so it stays the one that has been due the longest.
    looked_on = live(a_large_and_two_small_rooms(20), 12, in_vain=["101/A"])
    assert looked_on["103/A"][0] <= 5


def test_a_room_left_lying_on_worked_sheets_lets_others_go_first_too():
    # The small ones have been overdue so long that they go before the four beds of 103.
    built = a_large_and_two_small_rooms(20, -3, -100)
    publish(built, plan(built, days=1), on=0)
    # Nobody worked on this sheet: who went first does so again.
    assert {slot.room for slot in plan(built, today=1).slots if slot.on == day(1)} == {"101", "102"}
    look_at(built, ["102/A"], 0)
    # Its team worked on it, but did not get into 101.
    assert {slot.room for slot in plan(built, today=1).slots if slot.on == day(1)} == {"103"}


def test_a_bed_tried_for_in_vain_lets_the_other_beds_of_its_room_go_first():
    built = house().team("blue", SETUP + 2 * BUNK, works_on=EVERY_DAY)
    bunk_room(built, beds=6, due_in=-1)
    looked_on = live(built, 4, in_vain=["001/A"])
    assert looked_on["001/B"] == [0]
    # A is tried for once more at the most before the others are done.
    assert {bed: len(days) for bed, days in looked_on.items()} == {
        f"001/{letter}": 1 for letter in "BCDEF"
    }
    asked = bunk_room(house().team("blue", SETUP + 2 * BUNK, works_on=EVERY_DAY), beds=6, due_in=50)
    assert live(ask(asked, "001", by=9), 3, in_vain=["001/A"]).keys() == {
        f"001/{letter}" for letter in "BCDEF"
    }


@pytest.mark.parametrize("in_days", [[-2, -1], [-1, -2]])
def test_small_beds_do_not_go_before_a_large_one_of_their_room_for_ever(in_days):
    built = house().team("blue", SETUP + BOX, works_on=EVERY_DAY)
    room(built, "101", ["crib", "box_spring"], in_days)
    ask(room(built, "102", ["crib"], 50), "102")
    # Ten minutes are left beside what is asked for, enough for the crib; then the large one.
    on = {slot.beds: (slot.on - day(0)).days for slot in plan(built).slots}
    assert on == {("102/A",): 0, ("101/A",): 0, ("101/B",): 1}


def ask_every_day(built, labels):
    def before(today):
        label = labels[today % len(labels)]
        ask(built, label, case=CaseNo(f"2026-{today + 1:03}"), by=today + 1, on=today)

    return before


def test_what_cases_ask_for_day_after_day_goes_first_and_then_what_is_long_overdue():
    built = house().team("blue", 60, works_on=EVERY_DAY)
    built.record(CycleChosen(Scope.HOUSE, "", 20))
    room(built, "103", ["bunk"] * 4, -40, cycle=20)
    for number in range(4, 7):
        room(built, f"10{number}", ["box_spring"], 15, cycle=20)
    asks = ask_every_day(built, ["104", "105", "106"])
    looked_on = live(built, 9, before=lambda today: asks(today) if today < 6 else None)
    # 54 minutes do not fit beside the 20 of a case: cases come first for as long as they ask.
    assert [looked_on[f"10{n}/A"][:2] for n in (4, 5, 6)] == [[0, 3], [1, 4], [2, 5]]
    assert looked_on["103/A"] == [6]


def test_what_was_asked_for_goes_to_another_team_rather_than_to_the_next_day():
    built = house().team("blue", 60, works_on=EVERY_DAY).team("red", 20, works_on=EVERY_DAY)
    built.record(CycleChosen(Scope.HOUSE, "", 20))
    room(built, "103", ["bunk"] * 4, -15, cycle=20)
    room(built, "104", ["box_spring"], 15, cycle=20)
    room(built, "105", ["box_spring"], 15, cycle=20)
    publish(ask(built, "104"), plan(ask(built, "104"), days=1))
    look_at(built, ["104/A"], 0)
    ask(built, "105", case=CaseNo("2026-002"), by=2, on=1)
    assert visits(plan(built, days=1, today=1)) == [(1, "blue", "103", 4), (1, "red", "105", 1)]


def visits_alone(built):
    """Visits to all rooms if each had a sheet to itself, a divided one at its worst."""
    (minutes,) = {team.minutes for team in built.house.teams.values()}
    total = 0
    for label in built.house.rooms:
        beds = built.house.beds_of(label)
        needs = [built.house.rules.bed_kinds[bed.kind].minutes for bed in beds]
        if SETUP + sum(needs) <= minutes:
            total += 1
        else:
            # A visit but the last does at least what the longest beds allow in a day.
            total += -(-len(beds) // ((minutes - SETUP) // max(needs)))
    return total


@st.composite
def open_hotels(draw, *, cycles=(12, 20, 32), rooms=5):
    """Rooms that are open every day, small and large, and teams that work every day."""
    cycle = draw(st.sampled_from(cycles))
    built = house().record(CycleChosen(Scope.HOUSE, "", cycle))
    minutes = draw(st.sampled_from([20, 34, 60, 70]))
    for name in draw(st.sampled_from([("blue",), ("blue", "red")])):
        built.team(name, minutes, works_on=EVERY_DAY)
    for number in range(draw(st.integers(1, rooms))):
        kinds = draw(
            st.lists(st.sampled_from(["box_spring", "bunk", "crib"]), min_size=1, max_size=7)
        )
        in_days = draw(st.lists(st.integers(-3, cycle), min_size=7, max_size=7))
        room(built, f"10{number}", kinds, in_days[: len(kinds)], cycle=cycle)
    return built, cycle


def longest_gap(built, looked_on, days):
    """The most days without a look at a bed, from its first due day on if that comes later."""
    gaps = []
    for no in built.house.beds:
        first = min(c.checked_on for c in built.house.checks_of(no))
        looks = [(first - day(0)).days, *looked_on[no], days]
        # Whatever was overdue as it began is overdue from the first day on.
        gaps += [
            b - max(a, -built.house.cycle_of(built.house.beds[no].room)) for a, b in pairwise(looks)
        ]
    return max(gaps)


@settings(deadline=None, max_examples=40)
@given(open_hotels())
def test_every_bed_is_looked_at_within_its_cycle_and_a_day_for_each_visit(hotel):
    built, cycle = hotel
    longest = cycle + visits_alone(built)
    days = longest + 5
    # Whoever is before an overdue room is so once, and each day brings one onto a sheet.
    assert longest_gap(built, live(built, days), days) <= longest


@settings(deadline=None, max_examples=40)
@given(open_hotels())
def test_with_minutes_enough_no_bed_is_ever_overdue(hotel):
    built, cycle = hotel
    early = -(-cycle // 4)
    assume(visits_alone(built) <= early)
    days = 2 * cycle
    looked_on = live(built, days)
    for no in built.house.beds:
        for a, b in pairwise([*looked_on[no], days]):
            assert b - a <= cycle


@settings(deadline=None, max_examples=25)
@given(open_hotels(cycles=(12,), rooms=3), st.data())
def test_vain_tries_do_not_pass_a_room_over_for_ever(hotel, data):
    built, cycle = hotel
    vain = data.draw(st.sets(st.sampled_from(sorted(built.house.beds)), max_size=2), "in vain")
    # Each visit may come once more, for a bed of its room that could not be seen.
    longest = cycle + 2 * visits_alone(built)
    days = longest + 5
    looked_on = live(built, days, in_vain=vain)
    for no in set(built.house.beds) - vain:
        assert max(b - a for a, b in pairwise([0, *looked_on[no], days])) <= longest


@settings(deadline=None)
@given(open_hotels(), st.integers(1, 9), st.booleans())
def test_no_bed_stands_on_two_sheets_and_no_sheet_is_longer_than_its_day(hotel, days, is_asked):
    built, cycle = hotel
    if is_asked:
        ask(built, "100")
    planned = plan(built, days=days)
    beds = Counter(bed for slot in planned.slots for bed in slot.beds)
    assert set(beds.values()) <= {1}
    assert all(used.used <= used.minutes for used in planned.minutes_by_day)
    per_team = Counter((slot.on, slot.team, slot.room) for slot in planned.slots)
    assert set(per_team.values()) <= {1}
    kinds = built.house.rules.bed_kinds
    for slot in planned.slots:
        needs = [kinds[built.house.beds[BedNo(bed)].kind].minutes for bed in slot.beds]
        assert slot.minutes == SETUP + sum(needs)
    # Nothing is looked at too early: all beds are due within a share of the cycle after the
    # last day, or after the day on which the first of their room is due.
    asked = {slot.room for slot in planned.slots if slot.asked_by}
    due_on = {look.bed: look.due_on for look in looks(built.house, day(0))}
    for slot in planned.slots:
        if slot.room not in asked:
            first = min(due_on[bed.bed] for bed in built.house.beds_of(slot.room))
            latest = max(first, day(days - 1)) + timedelta(days=early_days(built.house, cycle))
            assert all(due_on[BedNo(bed)] <= latest for bed in slot.beds)


@settings(deadline=None)
@given(open_hotels())
def test_only_a_room_longer_than_a_day_is_divided_and_every_bed_is_accounted_for(hotel):
    built, _ = hotel
    (minutes,) = {team.minutes for team in built.house.teams.values()}
    planned = plan(built)
    visited = Counter(slot.room for slot in planned.slots)
    for want in demand(built.house, day(0), day(13)):
        if want.minutes <= minutes:
            assert visited[want.room] <= 1
    out = {one.room: one.only_beds for one in planned.left_out}
    on_sheets = {bed for slot in planned.slots for bed in slot.beds}
    for look in looks(built.house, day(0)):
        if look.due_on <= day(13) and look.bed not in on_sheets:
            assert not out[look.room] or look.bed in out[look.room]


@pytest.mark.parametrize("beds", [1, 9, 10, 11, 24])
def test_a_divided_room_takes_as_few_visits_as_can_be(beds):
    built = bunk_room(house().team("blue", SETUP + 10 * BUNK, works_on=EVERY_DAY), beds=beds)
    assert len(plan(built).slots) == -(-beds // 10)


def test_a_pinned_day_takes_the_beds_that_wait_the_longest():
    """Two of three beds fit 40 minutes; where the third one would have stood, they stand."""
    built = room(house().team("blue", 40, works_on=EVERY_DAY), "101", ["box_spring"] * 3, -10)
    assert [len(slot.beds) for slot in plan(built).slots] == [2, 1]
    built.record(CheckPinned(RoomNo("101"), day(1)))
    (slot,) = plan(built).slots
    assert (slot.on, len(slot.beds)) == (day(1), 2)
