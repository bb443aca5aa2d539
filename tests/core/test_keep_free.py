"""What a night asked of front desk costs and saves, worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.cases.keep_free import keep_free
from hotelwatch.core.facts import CycleChosen, RoomNo, Scope, TeamName
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import NightAnswered, NightAsked, TeamDaysChanged
from hotelwatch.core.stays.agreed import PlannedSaving
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house

ROOM = RoomNo("101")
TODAY = 40


def inn():
    """101, due on day 45 and 50: one guest stays from day 38 to day 60, night 46 asked for."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 30))
    built.room("101").bed("A").bed("B").checked("A", day(15)).checked("B", day(20))
    built.stays(("101", 38, 60)).on(39)
    return built.record(NightAsked(ROOM, day(46), "case 2026-001 next door, live insects"))


def found(built):
    return keep_free(built.house, occupancy(built.house, day(TODAY)), day(TODAY))


def test_a_night_tells_what_it_saves_and_nothing_of_its_reason():
    (row,) = found(inn())
    assert (row.room, row.night, row.is_kept, row.booked_until) == (ROOM, day(46), None, day(60))
    assert row.next_open_on == day(60)
    # Looked at on day 46 in place of day 60: bed A, due on 45, saves 14; bed B, due on 50, 10.
    assert row.overdue_bed_days == 24
    assert not any("case" in str(getattr(row, name)) for name in row.__slots__)


def test_an_answer_counts_and_a_withdrawn_night_is_gone():
    built = inn().record(NightAnswered(ROOM, day(46), is_kept=True, by="ines"))
    (row,) = found(built)
    assert (row.is_kept, row.answered_by) == (True, "ines")
    built.record(NightAsked(ROOM, day(46), "", holds=False))
    assert found(built) == ()


def test_a_booking_that_front_desk_gave_the_room_is_told():
    built = inn()
    built.house = built.house.with_stays(())
    built.stays(("101", 38, 52))
    (row,) = found(built)
    assert (row.booked_until, row.next_open_on) == (day(52), day(52))


@pytest.mark.parametrize(
    ("stays", "open_on"),
    [
        ((), 40),
        ((("101", 38, 46), ("101", 47, 60)), 46),
        ((("101", 38, 46), ("101", 46, 60)), 46),
        ((("101", 46, 60),), 40),
        # Vacant for two days before the guest comes: it can be looked at then.
        ((("101", 38, 42), ("101", 44, 60)), 42),
    ],
)
def test_a_night_saves_nothing_where_its_own_day_or_one_before_is_open_anyhow(stays, open_on):
    built = inn()
    built.house = built.house.with_stays(())
    built.stays(*stays)
    (row,) = found(built)
    assert (row.next_open_on, row.overdue_bed_days) == (day(open_on), 0)


def test_a_night_that_a_plan_asked_for_saves_what_the_plan_showed():
    built = inn().room("102").bed("A").room("103").bed("A")
    nights = (("102", 47, 3), ("103", 48, 2))
    built.record(*(NightAsked(RoomNo(r), day(on), "late", saves=n) for r, on, n in nights))
    by_hand, first, second = found(built)
    assert by_hand.planned is None
    assert first.planned == PlannedSaving(3, day(39), nights=2, together=5)
    assert (first.overdue_bed_days, second.overdue_bed_days) == (3, 2)


def test_a_guest_who_leaves_on_the_next_day_makes_a_night_save_one_day():
    built = inn()
    built.house = built.house.with_stays(())
    (row,) = found(built.stays(("101", 38, 47)))
    # Bed A, due on 45, waits one day less; bed B is not due by then.
    assert (row.next_open_on, row.overdue_bed_days) == (day(47), 1)


def test_a_kept_night_goes_on_telling_what_it_saves():
    built = house().record(CycleChosen(Scope.HOUSE, "", 30))
    # Day 40, on which the guest comes, is a Saturday: nobody works.
    built.room("101").bed("A").checked("A", day(15)).team("blue")
    booked = Stay("b1", "", "", day(40), day(60))
    built.house = built.house.with_stays((booked,))
    before = found(built.on(39).record(NightAsked(ROOM, day(46), "beds due")))
    kept = found(built.record(NightAnswered(ROOM, day(46), is_kept=True, by="ines")))
    assert (before[0].next_open_on, before[0].overdue_bed_days) == (day(60), 14)
    assert (kept[0].next_open_on, kept[0].overdue_bed_days) == (day(60), 14)


WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
spans = st.lists(st.tuples(st.integers(-4, 14), st.integers(1, 9)), max_size=4)


@given(
    spans,
    st.lists(st.sampled_from(WEEK), min_size=1, unique=True),
    st.integers(0, 8),
    st.sets(st.integers(0, 24), max_size=6),
)
def test_what_a_night_saves_is_the_difference_of_two_first_looks(made, works_on, night, away):
    """By brute force: the bookings as they are, and with the night taken out of its stay."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 30))
    built.room("101").bed("A").checked("A", day(10)).team("blue", works_on=tuple(works_on))
    built.on(39).record(NightAsked(ROOM, day(40 + night), "beds due"))
    for on in sorted(away):
        built.record(TeamDaysChanged(TeamName("blue"), day(40 + on), day(40 + on), 0, "leave"))
    stays, free = [], -100
    for begins, nights in sorted(made):
        begins = max(begins, free)
        free = begins + nights
        stays.append((begins, free))
    built.stays(*(("101", 40 + a, 40 + b) for a, b in stays))
    (row,) = found(built)

    def first_look(nights_of):
        # From today on; fourteen days, as shipped, after the two that a night opens.
        for on in range(night + 16):
            both = nights_of(on - 1), nights_of(on)
            is_at_work = WEEK[day(40 + on).weekday()] in works_on and on not in away
            if is_at_work and (None in both or both[0] != both[1]):
                return on
        return night + 16

    def booked(on):
        return next((n for n, (a, b) in enumerate(stays) if a <= on < b), None)

    anyhow = first_look(booked)
    kept = first_look(lambda on: None if on == night else booked(on))
    # Due on day 40, the bed is late from then on: each day of waiting is one bed-day.
    is_by_night = kept <= night + 1
    assert row.overdue_bed_days == (max(0, anyhow - kept) if is_by_night else 0)
