"""When a bed's underside was last looked at, and when it is due."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.checks.coverage import FirstRound, first_round, looks, underside_seen
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    CheckKind,
    CycleChosen,
    RoomNo,
    Scope,
)
from tests.build import day, house, rules
from tests.core.overdue import overdue_days

UNDERSIDE = rules().bed_kinds["box_spring"].underside_of(encased=False)
EVERY_PLACE = tuple(p.code for p in rules().bed_kinds["box_spring"].places_of(encased=False))


def look_of(built, bed="101/A", today=0):
    (found,) = (look for look in looks(built.house, day(today)) if look.bed == bed)
    return found


def test_the_due_date_counts_from_the_last_complete_look():
    found = look_of(house().room("101").bed("A").checked("A", day(-10)))
    assert (found.last_on, found.days_since, found.cycle_days) == (day(-10), 10, 91)
    assert found.due_on == day(81)
    assert not found.is_spread


def test_a_bed_is_overdue_when_its_look_is_older_than_the_cycle_as_the_day_begins():
    # Common practice, no source: late on day t if at the start of t the last look is more
    # than T days old.
    built = house().room("101").bed("A").checked("A", day(-91))
    assert not look_of(built).is_overdue(day(0))
    assert look_of(built).is_overdue(day(1))


@pytest.mark.parametrize("left_out", sorted(UNDERSIDE))
def test_leaving_out_one_underside_place_does_not_reset_the_cycle(left_out):
    built = house().room("101").bed("A").checked("A", day(-50))
    built.checked("A", day(-3), seen=[p for p in EVERY_PLACE if p != left_out])
    assert look_of(built).last_on == day(-50)


@pytest.mark.parametrize("left_out", sorted(set(EVERY_PLACE) - UNDERSIDE))
def test_leaving_out_another_place_does_reset_it(left_out):
    built = house().room("101").bed("A")
    built.checked("A", day(-3), seen=[p for p in EVERY_PLACE if p != left_out])
    assert look_of(built).last_on == day(-3)


def test_two_halves_on_two_days_are_not_one_look():
    half = sorted(UNDERSIDE)[:2]
    rest = sorted(UNDERSIDE)[2:]
    built = house().room("101").bed("A")
    built.checked("A", day(-3), seen=half).checked("A", day(-2), seen=rest)
    assert look_of(built).last_on is None


@pytest.mark.parametrize("kind", list(CheckKind))
def test_what_was_looked_at_counts_whatever_the_check_was_for(kind):
    built = house().room("101").bed("A").checked("A", day(-3), kind=kind)
    assert look_of(built).last_on == day(-3)


def test_a_corrected_check_counts_no_more():
    built = house().room("101").bed("A").checked("A", day(-50)).checked("A", day(-3))
    wrong = max(built.house.entries)
    built.record(corrects=wrong, note="it was the bed next door")
    assert look_of(built).last_on == day(-50)


def test_a_look_of_a_day_to_come_is_not_known_yet():
    built = house().room("101").bed("A").checked("A", day(-50)).checked("A", day(3))
    assert look_of(built).last_on == day(-50)
    assert look_of(built, today=3).last_on == day(3)


def test_a_look_from_before_the_facts_at_hand_counts():
    built = house().room("101").bed("A").room("102").bed("A").checked("A", day(-5))
    built.house = replace(
        built.house,
        complete_from=day(-20),
        earlier_looks={BedNo("101/A"): day(-60), BedNo("102/A"): day(-70)},
    )
    assert look_of(built).last_on == day(-60)
    assert look_of(built, "102/A").last_on == day(-5)


def test_a_check_is_judged_by_the_bed_as_it_was_then_built():
    bed = BedDescribed(BedNo("101/A"), RoomNo("101"), "box_spring", encased=True)
    built = house().on(-40).room("101").bed("A").on(-10).record(bed)
    built.checked("A", day(-20), seen=EVERY_PLACE)
    assert look_of(built).last_on == day(-20)
    built.checked("A", day(-5), seen=EVERY_PLACE)
    assert look_of(built).last_on == day(-20)
    built.checked("A", day(-4))
    assert look_of(built).last_on == day(-4)


def test_on_the_day_a_bed_changes_either_build_will_do():
    bed = BedDescribed(BedNo("101/A"), RoomNo("101"), "box_spring", encased=True)
    for seen in (EVERY_PLACE, None):
        built = house().on(-40).room("101").bed("A").on(-10).record(bed)
        built.checked("A", day(-10), seen=seen)
        assert look_of(built).last_on == day(-10)


def test_a_check_from_before_the_roster_is_judged_by_the_first_build():
    built = house().room("101").bed("A").checked("A", day(-300))
    (check,) = built.house.checks_of(BedNo("101/A"))
    assert underside_seen(built.house, check)


def test_the_narrowest_chosen_cycle_counts():
    built = house().room("101", room_type="twin").bed("A").checked("A", day(0))
    built.record(CycleChosen(Scope.HOUSE, "", 60))
    assert look_of(built).due_on == day(60)
    built.record(CycleChosen(Scope.ROOM_TYPE, "twin", 50), CycleChosen(Scope.ROOM, "101", 40))
    assert look_of(built).due_on == day(40)


def test_beds_never_looked_at_are_spread_over_their_cycle_in_room_order():
    built = house().on(-5).record(CycleChosen(Scope.HOUSE, "", 30))
    for number in range(10):
        built.room(f"{101 + number}").bed("A").bed("B")
    found = looks(built.house, day(0))
    assert all(look.is_spread and look.days_since is None for look in found)
    expected = [day(-5 + 3 * n) for n in range(1, 11) for _ in range(2)]
    assert [look.due_on for look in found] == expected


def test_rooms_with_more_open_beds_come_first_in_a_first_round():
    built = house().on(-5).record(CycleChosen(Scope.HOUSE, "", 30))
    built.room("101").bed("A", encased=True)
    built.room("102").bed("A").bed("B", encased=True)
    built.room("103").bed("A").bed("B")
    due = {look.room: look.due_on for look in looks(built.house, day(0))}
    assert due == {"103": day(5), "102": day(15), "101": day(25)}


def test_a_first_round_is_counted_by_beds_with_its_first_and_last_day():
    built = house().on(-5).record(CycleChosen(Scope.HOUSE, "", 30))
    for room in ("101", "102", "103"):
        built.room(room).bed("A").bed("B")
    # 103 in part: A of it has been seen, B waits for its day still.
    built.on(-1).checked("A", day(-1))
    assert first_round(looks(built.house, day(0))) == FirstRound(5, 6, day(5), day(25))
    seen = [look for look in looks(built.house, day(0)) if not look.is_spread]
    assert first_round(seen) is None


def test_a_look_at_one_bed_moves_no_other_beds_first_day():
    built = house()
    for number in range(10):
        built.room(f"{101 + number}").bed("A")
    before = {look.bed: look.due_on for look in looks(built.house, day(0))}
    built.checked("A", day(-2))
    after = {look.bed: look.due_on for look in looks(built.house, day(0))}
    assert [bed for bed in before if before[bed] != after[bed]] == ["110/A"]


def test_more_rooms_than_days_share_days_evenly():
    built = house().record(CycleChosen(Scope.HOUSE, "", 28))
    for number in range(109):
        built.room(f"{number:03d}").bed("A")
    due = [look.due_on for look in looks(built.house, day(0))]
    per_day = [due.count(day(n)) for n in range(1, 29)]
    # 109 / 28 = 3.9 a day.
    assert set(per_day) == {3, 4}
    assert sum(per_day) == 109


# Worked by hand beforehand, apart from this program. One room, looked at on every day it
# is free. First case: late at the start of 40 (last look 9) and of 72 to 95 (last look 41).
@pytest.mark.parametrize(
    ("free", "cycle", "last", "horizon", "overdue"),
    [({3, 9, 40, 41, 95}, 30, -5, 100, 25), ({0, 89}, 90, -91, 180, 1)],
)
def test_overdue_days_of_one_room_are_those_worked_by_hand(free, cycle, last, horizon, overdue):
    looked_on = [day(last), *(day(n) for n in free)]
    measured = overdue_days(looked_on, cycle, from_on=day(0), until_on=day(horizon - 1))
    assert measured == overdue


@given(
    st.sets(st.integers(-40, 40), min_size=1),
    st.integers(1, 20),
    st.integers(-10, 10),
    st.integers(0, 40),
)
def test_overdue_days_are_the_days_that_begin_with_too_old_a_look(looked, cycle, first, span):
    one_by_one = 0
    for n in range(first, first + span + 1):
        before = [look for look in looked if look < n]
        one_by_one += bool(before) and n - max(before) > cycle
    counted = overdue_days(
        [day(n) for n in looked], cycle, from_on=day(first), until_on=day(first + span)
    )
    assert counted == one_by_one


@given(st.lists(st.integers(-200, 0), min_size=1, max_size=5), st.integers(0, 300))
def test_one_more_complete_look_never_makes_a_bed_due_earlier(days, extra):
    built = house().room("101").bed("A")
    for n in days:
        built.checked("A", day(n))
    before = look_of(built).due_on
    built.checked("A", day(-extra))
    assert look_of(built).due_on >= before


def test_a_leap_day_is_a_day():
    # ISO 8601 calendar: 2028 has a 29 February, so 91 days from 30 November 2027 end on it.
    built = house().room("101").bed("A").checked("A", date(2027, 11, 30))
    (found,) = looks(built.house, date(2028, 1, 1))
    assert found.due_on == date(2028, 2, 29)
    assert found.due_on == date(2027, 11, 30) + timedelta(days=91)
