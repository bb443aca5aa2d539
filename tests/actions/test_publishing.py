"""What publishing a round writes down in a real file, and when it writes nothing."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from hotelwatch.actions.by_hand import pin_check
from hotelwatch.actions.rounds import publish_round, wish_for
from hotelwatch.core.facts import BedChecked, BedNo, CheckKind, RoomNo
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import CheckPinned
from hotelwatch.core.rounds.morning import morning
from hotelwatch.core.rounds.team_days import is_filled_up_later, published_round

TODAY = date(2026, 3, 9)


def drafted(hotel, days):
    return plan_rounds(hotel.house, hotel.occupancy(), wish_for(hotel, days))


def day_in(days):
    return TODAY + timedelta(days=days)


def days_of(hotel, room):
    return [
        (slot.on - TODAY).days
        for slots in hotel.house.slots.values()
        for slot in slots
        if slot.room == room
    ]


def test_a_morning_published_unchanged_is_written_down_as_settled(hotel, clock):
    # Nothing is due for weeks; one room was chosen for tomorrow, and nothing else comes.
    pin_check(hotel, CheckPinned(RoomNo("101"), TODAY + timedelta(days=1), "Early"))
    draft = drafted(hotel, 2)
    only = tuple(slot for slot in draft.slots if slot.room == "101")
    publish_round(hotel, replace(draft, slots=only), whole=False)
    clock.moment += timedelta(days=1)
    before = max(hotel.house.entries)
    again = drafted(hotel, 1)
    publish_round(hotel, replace(again, slots=only, until_on=again.from_on))
    assert max(hotel.house.entries) == before + 1
    told = published_round(hotel.house, TODAY + timedelta(days=1), TODAY + timedelta(days=1))
    assert told.slots == only
    assert not is_filled_up_later(hotel.house, told, told.from_on, TODAY)
    assert morning(hotel.house, hotel.occupancy(), hotel.now()) is None
    publish_round(hotel, replace(again, slots=only, until_on=again.from_on))
    assert max(hotel.house.entries) == before + 1


def test_a_bed_put_sooner_leaves_its_sheet_on_a_day_after_the_draft(hotel):
    pin_check(hotel, CheckPinned(RoomNo("203"), TODAY + timedelta(days=9), "Early"))
    publish_round(hotel, drafted(hotel, 14), whole=True)
    assert days_of(hotel, "203") == [9]
    others = {room: days_of(hotel, room) for room in hotel.house.rooms if room != "203"}
    pin_check(hotel, CheckPinned(RoomNo("203"), TODAY, "Early"))
    draft = drafted(hotel, 3)
    publish_round(hotel, draft, whole=True)
    assert days_of(hotel, "203") == [0]
    planned = {slot.room for slot in draft.slots}
    for room, days in others.items():
        if room not in planned and days and days[0] > 2:
            assert days_of(hotel, room) == days


def test_a_look_with_gaps_keeps_its_next_one_when_only_the_next_days_are_published(hotel):
    pin_check(hotel, CheckPinned(RoomNo("203"), TODAY, "Early"))
    publish_round(hotel, drafted(hotel, 1))
    look = BedChecked(
        BedNo("203/A"), RoomNo("203"), TODAY, CheckKind.DEEP, ("anna",), 5, ("seams",)
    )
    hotel.record(lambda _: [look], action="record_check")
    pin_check(hotel, CheckPinned(RoomNo("203"), TODAY + timedelta(days=9), "Early"))
    publish_round(hotel, drafted(hotel, 14))
    assert days_of(hotel, "203") == [0, 9]
    publish_round(hotel, drafted(hotel, 3))
    assert days_of(hotel, "203") == [0, 9]


@pytest.mark.parametrize("whole", [True, False])
def test_a_later_day_that_loses_a_bed_stays_as_whole_as_it_was_published(hotel, whole):
    nine = day_in(9)
    for room in ("203", "204"):
        pin_check(hotel, CheckPinned(RoomNo(room), nine, "Early"))
    publish_round(hotel, drafted(hotel, 28), whole=whole)
    pin_check(hotel, CheckPinned(RoomNo("203"), TODAY, "Early"))
    publish_round(hotel, drafted(hotel, 3), whole=not whole)
    told = published_round(hotel.house, TODAY, day_in(27))
    assert days_of(hotel, "203") == [0]
    assert [slot.room for slot in told.slots if slot.on == nine] == ["204"]
    filled_up = [n for n in range(1, 28) if is_filled_up_later(hotel.house, told, day_in(n), TODAY)]
    assert filled_up == (list(range(1, 3)) if whole else list(range(3, 28)))
