"""The open hotel: what is written is announced, two windows see each other's facts."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.hotel import choose_cycle, describe_hotel, place_wings, start_hotel
from hotelwatch.actions.open_hotel import open_hotel, read_house, whole_house
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import (
    CheckKind,
    FloorPlaced,
    HotelDescribed,
    MonthClosed,
    Scope,
    StaysImported,
    Topic,
    WingPlaced,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay
from tests.build import rules


def look(hotel, room, *, by=("ana", "bogdan"), on=None):
    on = on or hotel.today()
    return full_look(hotel.house, room, on=on, by=by, kind=CheckKind.DEEP)


def last_on(hotel, bed):
    return next(one.last_on for one in looks(hotel.house, hotel.today()) if one.bed == bed)


def test_a_second_window_sees_what_the_first_wrote_without_a_restart(hotel, clock):
    other = open_hotel(hotel.path, rules(), clock=clock, by="second desk")
    heard = []
    other.announce = heard.append
    record_looks(hotel, [look(hotel, "101")])
    assert last_on(other, "101/A") is None
    changes = other.refresh()
    assert changes.topics == {Topic.CHECKS}
    assert changes.rooms == {"101"}
    assert heard == [changes]
    assert last_on(other, "101/A") == date(2026, 3, 9)
    assert other.refresh() is None
    other.close()


def test_two_windows_that_write_in_turn_keep_one_unbroken_record(hotel, clock):
    other = open_hotel(hotel.path, rules(), clock=clock, by="second desk")
    for room in ("101", "102", "103"):
        record_looks(hotel, [look(hotel, room)])
        record_looks(other, [look(other, f"2{room[1:]}")])
    assert set(other.house.checks_by_bed) == {
        f"{n}/A" for n in ("101", "102", "103", "201", "202", "203")
    }
    hotel.refresh()
    assert hotel.house.kept == other.house.kept
    other.close()


def test_what_was_written_before_one_wrote_oneself_is_announced_too(hotel, clock):
    other = open_hotel(hotel.path, rules(), clock=clock, by="second desk")
    heard = []
    other.announce = heard.append
    record_looks(hotel, [look(hotel, "101")])
    record_looks(other, [look(other, "102")])
    assert frozenset().union(*(changes.rooms for changes in heard)) == {"101", "102"}
    other.close()


def test_a_check_taken_back_gives_the_clock_its_earlier_day(hotel, clock):
    record_looks(hotel, [look(hotel, "101")])
    clock.moment += timedelta(days=30)
    record_looks(hotel, [look(hotel, "101")])
    assert last_on(hotel, "101/A") == date(2026, 4, 8)
    changes = take_back(hotel, max(hotel.house.entries), reason="Typed for the wrong room.")
    assert changes.topics == {Topic.CHECKS}
    assert last_on(hotel, "101/A") == date(2026, 3, 9)
    assert whole_house(hotel.path, rules()).kept == hotel.house.kept


@pytest.mark.parametrize("action", ["describe_hotel", "load_roster", "import_stays", "take_back"])
def test_what_all_later_entries_stand_on_is_not_taken_back(hotel, action):
    record_looks(hotel, [look(hotel, "101")])
    take_back(hotel, max(hotel.house.entries), reason="Typed for the wrong room.")
    hotel.record_stays([], StaysImported("list.csv", "0" * 64, hotel.today(), 0, 0))
    entry = next(no for no, told in hotel.house.entries.items() if told.action == action)
    before = hotel.house
    with pytest.raises(Refusal) as refused:
        take_back(hotel, entry, reason="Why not?")
    assert refused.value.code == "not_to_be_taken_back"
    assert hotel.house is before


def test_a_correction_without_a_reason_is_refused(hotel):
    record_looks(hotel, [look(hotel, "101")])
    with pytest.raises(Refusal) as refused:
        take_back(hotel, max(hotel.house.entries), reason="  ")
    assert refused.value.code == "correction_needs_reason"


def test_bookings_change_when_a_room_can_be_entered(hotel):
    today = hotel.today()
    assert hotel.occupancy().opening("101", today) is not None
    stay = Stay("b1", "101", "", today - timedelta(days=1), today + timedelta(days=2))
    imported = StaysImported("list.csv", "0" * 64, today, 1, 0)
    changes = hotel.record_stays([stay], imported)
    assert Topic.STAYS in changes.topics
    assert hotel.occupancy().opening("101", today) is None


def test_a_new_day_is_seen_without_reopening(hotel, clock):
    before = hotel.occupancy()
    assert hotel.occupancy() is before
    clock.moment += timedelta(days=1)
    assert hotel.occupancy() is not before


@pytest.mark.parametrize(
    ("moment", "day"),
    [
        # Europe/Vienna's clocks go forward on 29 March 2026 at 02:00 (IANA time zone
        # database): local midnight is 23:00 UTC before that night and 22:00 after it.
        (datetime(2026, 3, 28, 22, 59, tzinfo=UTC), date(2026, 3, 28)),
        (datetime(2026, 3, 28, 23, 0, tzinfo=UTC), date(2026, 3, 29)),
        (datetime(2026, 3, 29, 21, 59, tzinfo=UTC), date(2026, 3, 29)),
        (datetime(2026, 3, 29, 22, 0, tzinfo=UTC), date(2026, 3, 30)),
    ],
)
def test_the_hotel_s_day_follows_its_own_clock_through_the_change(hotel, clock, moment, day):
    clock.moment = moment
    assert hotel.today() == day


def test_wings_and_floors_move_rooms_and_their_neighbours(hotel):
    assert {n.room for n in hotel.neighbours()["101"]} == {"102", "201"}
    place_wings(hotel, [WingPlaced("", 10.0, 0.0, 90.0)], [FloorPlaced("2", 0)])
    assert {n.room for n in hotel.neighbours()["101"]} == {"102", "201"}
    below = next(n for n in hotel.neighbours()["101"] if n.room == "201")
    assert below.kinds == ("below",)
    with pytest.raises(Refusal) as refused:
        place_wings(hotel, [], [FloorPlaced("1", 0), FloorPlaced("2", 0)])
    assert refused.value.code == "two_floors_on_a_level"


@pytest.mark.parametrize(
    ("described", "code"),
    [
        (HotelDescribed(" ", "Europe/Vienna"), "hotel_needs_name"),
        (HotelDescribed("Inn", "Europe/Nowhere"), "unknown_zone"),
        (HotelDescribed("Inn", "Europe/Vienna", paper="A5"), "unknown_paper"),
        (HotelDescribed("Inn", "Europe/Vienna", leave_by="eleven"), "unknown_clock_time"),
        (HotelDescribed("Inn", "Europe/Vienna", leave_by=""), "unknown_clock_time"),
        (HotelDescribed("Inn", "Europe/Vienna", leave_by="15:00"), "no_time_between_guests"),
    ],
)
def test_a_hotel_described_wrongly_leaves_no_file(tmp_path, clock, described, code):
    path = tmp_path / "inn.hotelwatch"
    with pytest.raises(Refusal) as refused:
        start_hotel(path, described, rules(), clock=clock, by="maria")
    assert refused.value.code == code
    assert not path.exists()


def test_the_same_description_again_writes_nothing(hotel):
    before = max(hotel.house.entries)
    describe_hotel(hotel, hotel.house.hotel)
    assert max(hotel.house.entries) == before


def test_the_hours_of_guests_say_when_a_room_can_be_entered(hotel):
    today = hotel.today()
    stays = [
        Stay("b1", "101", "", today - timedelta(days=2), today),
        Stay("b2", "101", "", today, today + timedelta(days=2)),
    ]
    hotel.record_stays(stays, StaysImported("list.csv", "0" * 64, today, 2, 0))
    describe_hotel(hotel, replace(hotel.house.hotel, leave_by="10:00", arrive_from="13:30"))
    opening = hotel.occupancy().opening("101", today)
    assert (opening.from_clock, opening.until_clock) == ("10:00", "13:30")
    assert whole_house(hotel.path, rules()).hotel == hotel.house.hotel


def test_the_time_zone_stays_once_a_month_is_closed(hotel):
    elsewhere = replace(hotel.house.hotel, zone="America/Chicago")
    describe_hotel(hotel, elsewhere)
    assert str(hotel.house.zone) == "America/Chicago"
    hotel.record(lambda _: [MonthClosed("2026-02")], action="close_month")
    with pytest.raises(Refusal) as refused:
        describe_hotel(hotel, replace(elsewhere, zone="Asia/Tokyo"))
    assert refused.value.code == "zone_of_closed_months"
    describe_hotel(hotel, replace(elsewhere, name="Another name"))
    assert hotel.house.hotel.name == "Another name"


def test_the_narrowest_cycle_counts_and_can_be_taken_back(hotel):
    choose_cycle(hotel, Scope.HOUSE, "", 60)
    choose_cycle(hotel, Scope.ROOM_TYPE, "Double", 45)
    choose_cycle(hotel, Scope.ROOM, "101", 30)
    assert (hotel.house.cycle_of("101"), hotel.house.cycle_of("102")) == (30, 45)
    choose_cycle(hotel, Scope.ROOM, "101", 0)
    choose_cycle(hotel, Scope.ROOM_TYPE, "Double", 0)
    assert hotel.house.cycle_of("101") == 60


@pytest.mark.parametrize(
    ("scope", "which", "days", "code"),
    [
        (Scope.HOUSE, "", 0, "cycle_out_of_range"),
        (Scope.HOUSE, "", 731, "cycle_out_of_range"),
        (Scope.ROOM, "999", 30, "unknown_room"),
        (Scope.ROOM_TYPE, "Palace", 30, "unknown_room_type"),
    ],
)
def test_a_cycle_that_can_t_be_is_refused(hotel, scope, which, days, code):
    with pytest.raises(Refusal) as refused:
        choose_cycle(hotel, scope, which, days)
    assert refused.value.code == code


def test_what_a_worker_holds_stays_as_it_is(hotel):
    held = hotel.as_it_is()
    before = held.house
    choose_cycle(hotel, Scope.HOUSE, "", 33)
    assert held.house is before is not hotel.house
    assert held.neighbours() == hotel.neighbours()


def test_a_house_read_before_is_taken_with_what_came_since(hotel, clock):
    read = read_house(hotel.path, rules(), now=clock())
    choose_cycle(hotel, Scope.HOUSE, "", 33)
    other = open_hotel(hotel.path, rules(), clock=clock, by="other", house=read)
    alone = open_hotel(hotel.path, rules(), clock=clock, by="other")
    assert other.house == alone.house != read
    other.close()
    alone.close()
