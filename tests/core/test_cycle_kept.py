"""Is the cycle kept: shares looked at, the late tail, undersides without any whole look."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.checks.cycle_kept import cycle_kept
from hotelwatch.core.facts import CycleChosen, Scope
from tests.build import day, house, rules

USUAL = int(rules().figures.cycle_days.value)


def looked_at(*ages, today=200, cycle=None):
    """One bed a room, looked at so many days before ``today``; None: never."""
    build = house()
    if cycle:
        build.record(CycleChosen(Scope.HOUSE, "", cycle))
    for number, age in enumerate(ages):
        build.room(str(101 + number)).bed("A")
        if age is not None:
            build.checked("A", day(today - age))
    return cycle_kept(build.house, day(today))


def test_the_usual_yardstick_is_ninety_one_days_whatever_the_hotel_chose():
    # A quarter is the interval hotels are told to keep; 91 days: common practice.
    kept = looked_at(40, 91, 92, cycle=50)
    assert kept.usual_days == 91
    assert (kept.today.undersides, kept.today.in_usual, kept.today.in_cycle) == (3, 2, 1)
    assert kept.overdue == 2
    assert kept.worst_days == 92 - 50


def test_a_bed_never_looked_at_is_in_no_share_even_before_it_is_due():
    kept = looked_at(3, None, today=10)
    assert (kept.today.in_usual, kept.today.in_cycle, kept.overdue) == (1, 1, 0)
    (never,) = kept.never
    assert never.bed == "102/A"


def test_a_look_that_left_out_the_underside_counts_for_nothing():
    build = house().room("101").bed("A").checked("A", day(150), seen=("mattress_top",))
    kept = cycle_kept(build.house, day(160))
    assert kept.today.in_usual == 0
    assert len(kept.never) == 1


def test_the_latest_tenth_is_told_by_its_least_late_one():
    late = [100, 120, *[10] * 18]
    kept = looked_at(*late)
    assert (kept.latest, kept.latest_days, kept.worst_days) == (2, 100 - 91, 120 - 91)
    assert looked_at(120, *[10] * 19).latest_days < 0


def test_months_are_told_as_far_as_the_beds_are_on_record():
    build = house().on(40).room("101").bed("A").checked("A", day(45))
    kept = cycle_kept(build.house, day(150))  # 4 June; beds written down on 14 February
    ends = [(row.on.month, row.on.day) for row in kept.months]
    assert ends == [(2, 28), (3, 31), (4, 30), (5, 31)]
    assert [row.in_usual for row in kept.months] == [1, 1, 1, 0]  # 91 days end on 21 May


def test_without_beds_nothing_is_told():
    kept = cycle_kept(house().room("101").house, day(10))
    assert (kept.today.undersides, kept.latest, kept.worst_days, kept.months) == (0, 0, 0, ())


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(0, 199), min_size=1, max_size=25))
def test_the_tail_is_that_of_a_plain_sort(ages):
    kept = looked_at(*ages)
    late = sorted((age - USUAL for age in ages), reverse=True)
    tail = late[: -(-len(ages) // 10)]
    assert (kept.latest, kept.latest_days, kept.worst_days) == (len(tail), tail[-1], tail[0])
    assert kept.overdue == sum(days > 0 for days in late)
    assert kept.today.in_cycle == sum(days <= 0 for days in late)
