"""What a night asked of front desk costs and saves, worked by hand."""

from __future__ import annotations

from hotelwatch.core.cases.keep_free import keep_free
from hotelwatch.core.facts import CycleChosen, RoomNo, Scope
from hotelwatch.core.round_facts import NightAnswered, NightAsked
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house

ROOM = RoomNo("101")
TODAY = 40


def inn():
    """101, due on day 45: let from day 47 to day 60, the night of day 46 asked for."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 30))
    built.room("101").bed("A").bed("B").checked("A", day(15)).checked("B", day(20))
    built.stays(("101", 38, 46), ("101", 47, 60)).on(39)
    return built.record(NightAsked(ROOM, day(46), "case 2026-001 next door, live insects"))


def found(built):
    return keep_free(built.house, occupancy(built.house, day(TODAY)), day(TODAY))


def test_a_night_tells_what_it_saves_and_nothing_of_its_reason():
    (row,) = found(inn())
    assert (row.room, row.night, row.is_kept, row.booked_until) == (ROOM, day(46), None, None)
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
    built.stays(("101", 44, 52))
    (row,) = found(built)
    assert (row.booked_until, row.next_open_on) == (day(52), day(52))


def test_a_room_that_opens_soon_anyway_saves_little():
    built = inn()
    built.house = built.house.with_stays(())
    (row,) = found(built)
    assert (row.next_open_on, row.overdue_bed_days) == (day(48), 2)
