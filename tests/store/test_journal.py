from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from hotelwatch.core.facts import FloorPlaced, RoomDescribed, Side, StaysImported, Topic
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes, Stay
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from tests.build import day, moment, rules
from tests.store.conftest import Desk


def refused(code):
    return pytest.raises(Refusal, check=lambda refusal: refusal.code == code)


@pytest.fixture
def other(desk):
    made = Desk(open_file(desk.journal.path))
    yield made
    made.journal.close()


def test_an_entry_says_who_when_and_with_what(desk):
    written = desk.write(FloorPlaced("1", 1), at=datetime.fromisoformat("2026-01-05T10:00+01:00"))
    entry = desk.house.entries[1]
    assert written == (FloorPlaced("1", 1),)
    assert (entry.number, entry.by, entry.action, entry.corrects) == (1, "anna", "test", None)
    assert entry.recorded_at == datetime(2026, 1, 5, 9, tzinfo=UTC)
    assert entry.program.startswith("hotelwatch ")
    assert load(desk.journal, rules()) == desk.house


def test_nothing_is_written_where_nothing_was_decided(desk):
    assert desk.write() == ()
    assert desk.house.entries == {}
    assert load(desk.journal, rules()).entries == {}


def test_nothing_is_written_where_a_fact_can_not_be_kept(desk):
    before = desk.house
    with pytest.raises(TypeError):
        desk.write(FloorPlaced("1", 1), FloorPlaced("2", "second"))
    assert load(desk.journal, rules()) == before
    desk.write(FloorPlaced("1", 1))
    assert list(desk.house.entries) == [1]


def test_nothing_is_written_where_the_decision_is_refused(desk):
    def decide(house):
        raise Refusal("not_now")

    with refused("not_now"):
        desk.journal.append(decide, by="a", action="x", at=moment(0), house=desk.house)
    assert load(desk.journal, rules()).entries == {}


def test_a_moment_without_zone_is_no_moment(desk):
    with pytest.raises(ValueError, match="zone"):
        desk.write(FloorPlaced("1", 1), at=datetime(2026, 1, 5, 9))


def test_a_correction_takes_back_and_needs_a_reason(desk):
    desk.write(FloorPlaced("1", 1))
    with refused("correction_needs_reason"):
        desk.write(FloorPlaced("1", 2), corrects=1, note=" ")
    desk.write(FloorPlaced("1", 2), corrects=1, note="a cellar was forgotten")
    assert desk.house.floors == {"1": 2}
    assert load(desk.journal, rules()) == desk.house


def test_a_correction_may_take_back_without_a_new_fact(desk):
    desk.write(FloorPlaced("1", 1))
    desk.write(corrects=1, note="written down by mistake")
    assert desk.house.floors == {}
    assert load(desk.journal, rules()) == desk.house


def test_an_entry_is_corrected_once_and_must_be_there(desk):
    desk.write(FloorPlaced("1", 1))
    desk.write(FloorPlaced("1", 2), corrects=1, note="why")
    with refused("already_corrected") as caught:
        desk.write(FloorPlaced("1", 3), corrects=1, note="why")
    assert caught.value.values == {"entry": "1", "by_entry": "2"}
    with refused("no_such_entry"):
        desk.write(FloorPlaced("1", 3), corrects=9, note="why")
    desk.write(FloorPlaced("1", 3), corrects=2, note="why")
    assert desk.house.floors == {"1": 3}


def test_two_windows_see_each_other(desk, other):
    desk.write(FloorPlaced("1", 1))
    newer, changes = other.refresh()
    assert newer == desk.house
    assert changes == Changes(frozenset({Topic.ROSTER}))
    assert other.refresh() is None
    assert desk.refresh() is None
    other.write(RoomDescribed("101", "1", "", Side.LEFT, 1))
    _, changes = desk.refresh()
    assert changes.rooms == {"101"}
    assert desk.house == other.house


def test_a_window_learns_of_a_correction_which_rooms_it_touches(desk, other):
    desk.write(RoomDescribed("101", "1", "", Side.LEFT, 1))
    other.refresh()
    desk.write(corrects=1, note="no such room")
    newer, changes = other.refresh()
    assert changes.rooms == {"101"}
    assert not newer.rooms


def test_append_decides_on_what_others_have_written_meanwhile(desk, other):
    desk.write(FloorPlaced("1", 1))
    asked = []

    def decide(house):
        asked.append(dict(house.floors))
        return [FloorPlaced("2", 2)]

    house, _ = other.journal.append(decide, by="b", action="x", at=moment(1), house=other.house)
    assert asked == [{"1": 1}]
    assert house.floors == {"1": 1, "2": 2}
    assert load(other.journal, rules()) == house


def test_a_house_of_another_file_is_not_written_to_this_one(desk, tmp_path):
    desk.write(FloorPlaced("1", 1))
    stranger = Desk(create(tmp_path / "other.hotel"), desk.house)
    with refused("file_replaced"):
        stranger.write(FloorPlaced("2", 2))
    assert load(stranger.journal, rules()).entries == {}
    stranger.journal.close()


def test_a_file_put_in_place_of_the_open_one_is_noticed(desk, tmp_path):
    desk.write(FloorPlaced("1", 1))
    desk.journal.backup(tmp_path / "older.hotel")
    (tmp_path / "older.hotel").replace(desk.journal.path)
    with refused("file_replaced"):
        desk.write(FloorPlaced("2", 2))


def test_a_reader_does_not_write(desk):
    desk.write(FloorPlaced("1", 1))
    reader = Desk(open_file(desk.journal.path, read_only=True), desk.house)
    assert load(reader.journal, rules()) == desk.house
    with refused("read_only_file"):
        reader.write(FloorPlaced("2", 2))
    reader.journal.close()


def test_who_waits_too_long_for_another_is_told(desk, other):
    other.journal.db.execute("PRAGMA busy_timeout = 50")
    desk.journal.db.execute("BEGIN IMMEDIATE")
    with refused("file_busy"):
        other.write(FloorPlaced("1", 1))
    desk.journal.db.rollback()
    other.write(FloorPlaced("1", 1))
    assert load(desk.journal, rules()) == other.house


# --- stays ------------------------------------------------------------------------


def stay(booking, room, arrives, leaves):
    return Stay(booking, room, "double", day(arrives), day(leaves))


def imported(taken, from_on=0):
    return StaysImported("bookings.csv", "0" * 64, day(from_on), taken, 0)


def take_in(desk, stays, from_on=0):
    desk.house = desk.journal.replace_stays(
        stays, imported(len(stays), from_on), by="anna", at=moment(0), house=desk.house
    )


def test_an_import_replaces_what_is_to_come_and_keeps_what_was(desk):
    over, goes_on, to_come = stay("a", "101", 0, 3), stay("b", "102", 1, 9), stay("c", "", 6, 8)
    take_in(desk, [over, goes_on, to_come])
    assert desk.house.stays == (over, goes_on, to_come)
    moved = replace(goes_on, leaves_on=day(7))
    take_in(desk, [moved], from_on=5)
    assert desk.house.stays == (over, moved)
    assert load(desk.journal, rules()) == desk.house


def test_an_import_mends_a_stay_that_is_over(desk):
    take_in(desk, [stay("a", "101", 0, 3)])
    left_early = stay("a", "101", 0, 2)
    take_in(desk, [left_early], from_on=5)
    assert desk.house.stays == (left_early,)


def test_a_booking_of_two_rooms_not_given_yet_stays_two(desk):
    pair = [stay("g", "", 6, 8), stay("g", "", 6, 8)]
    take_in(desk, pair)
    take_in(desk, pair)
    assert desk.house.stays == tuple(pair)


def test_stays_and_their_entry_come_together_or_not_at_all(desk):
    take_in(desk, [stay("a", "101", 0, 3)])
    before = desk.house
    with pytest.raises(TypeError):
        take_in(desk, [stay("b", "102", 0, 3), stay("c", 103, 0, 3)])
    assert load(desk.journal, rules()) == before


def test_another_window_sees_the_stays(desk, other):
    take_in(desk, [stay("a", "101", 0, 3)])
    newer, changes = other.refresh()
    assert newer.stays == desk.house.stays
    assert changes.topics == {Topic.STAYS}
