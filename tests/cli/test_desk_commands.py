"""Front desk by commands: moves, types by rank, lets explained, calendars."""

from __future__ import annotations

from datetime import timedelta

import icalendar
import pytest

from hotelwatch.core.days import month_of

BOOKINGS = (
    "Booking,Room,Type,Arrival,Departure,Status\n"
    "b1,101,Double,2026-03-07,2026-03-12,in house\n"
    "b2,101,Double,2026-03-14,2026-03-16,booked\n"
)


@pytest.fixture
def desk(hotel):
    hotel("load", "bookings", hotel.file, hotel.table("bookings.csv", BOOKINGS))
    hotel("sighting", hotel.file, "101", "live_insect", "--by", "ana")
    return hotel


def test_the_list_proposes_a_room_and_a_command_agrees_to_it(desk):
    said = desk("list", "front-desk", desk.file)
    assert "101: booking b1 is in house until Thu 12 Mar 2026. Move the guest. To: 103" in said
    assert "All together:" in said
    assert "Written down: b1 to 103" in desk("move-guest", desk.file, "101", "--by", "ines")
    said = desk("list", "front-desk", desk.file)
    assert "To: 103: agreed; the bookings do not show it yet" in said
    said = desk("list", "entries", desk.file)
    assert "Guests moved to another room" in said


def test_a_room_is_named_by_hand_or_refused_where_it_is_blocked(desk):
    said = desk("move-guest", desk.file, "101", "--booking", "b2", "--to", "102", exit_code=1)
    assert "Room 102 is itself not to be sold." in said
    said = desk("move-guest", desk.file, "101", "--booking", "b2", "--to", "104")
    assert "b2 to 104" in said
    assert "No guest is to be moved from room 104" in desk(
        "move-guest", desk.file, "104", exit_code=1
    )


# A room beside it is only held: once looked at, it is theirs.
def test_who_comes_into_a_held_room_may_have_it_once_somebody_has_looked(desk):
    more = BOOKINGS + f"b3,102,Double,{desk.now:%Y-%m-%d},2026-03-12,booked\n"
    desk("load", "bookings", desk.file, desk.table("bookings.csv", more))
    said = desk("list", "front-desk", desk.file)
    assert "102: booking b3 comes Mon 9 Mar 2026 and leaves Thu 12 Mar 2026. Look first" in said
    assert "101: booking b2 comes Sat 14 Mar 2026 and leaves Mon 16 Mar 2026. Change the" in said


def test_a_guest_s_move_is_said_with_its_case_and_somebody_named_for_it(desk):
    said = desk("list", "cases", desk.file)
    assert "Next: Give the guest of 101, who stays until Thu 12 Mar 2026" in said
    desk("owner", desk.file, "2026-001", "move_guest", "Ines")
    (line,) = (line for line in desk("next", desk.file).splitlines() if "move_guest" in line)
    assert "Ines" in line


def test_types_are_put_in_order_shown_and_taken_back(desk):
    assert "within a type only" in desk("rank-types", desk.file)
    assert "From plain to best: Double" in desk("rank-types", desk.file, "Double")
    assert "No room is of type Castle" in desk("rank-types", desk.file, "Castle", exit_code=1)
    assert "within a type only" in desk("rank-types", desk.file, "--none")


# Trade check case K15: such a month can't be signed without a note.
def test_a_month_is_closed_only_after_its_lets_were_explained(desk):
    month = month_of(desk.now.date())
    desk.now += timedelta(days=30)
    said = desk("month", desk.file, month, "--close", exit_code=1)
    assert "Room 101 was let although blocked, the night of Mon 9 Mar 2026" in said
    assert "explain-let" in said
    desk("explain-let", desk.file, "101", "2026-03-09", "Nobody else had room.", "--by", "ines")
    said = desk("list", "front-desk", desk.file)
    assert "Explained: Nobody else had room. (ines)." in said
    said = desk("month", desk.file, month, "--close", exit_code=1)
    assert "the night of Sat 14 Mar 2026" in said
    desk("explain-let", desk.file, "101", "2026-03-15", "An error.", "--by", "ines")
    assert "March 2026" in desk("month", desk.file, month, "--close")
    assert "was not let against a block" in desk(
        "explain-let", desk.file, "102", "2026-03-09", "x", exit_code=1
    )


def test_calendars_are_written_for_front_desk_and_for_housekeeping(desk, tmp_path):
    desk("desk-calendar", desk.file, tmp_path / "rooms.ics")
    desk("desk-calendar", desk.file, tmp_path / "deadlines.ics", "--deadlines")
    for name, least in (("rooms.ics", 1), ("deadlines.ics", 2)):
        read = icalendar.Calendar.from_ical((tmp_path / name).read_bytes())
        assert len(read.walk("VEVENT")) >= least
    assert b"2026-001" not in (tmp_path / "rooms.ics").read_bytes()
    said = desk("desk-calendar", desk.file, tmp_path / "rooms.txt", exit_code=1)
    assert "is not the name of a calendar" in said


def test_a_night_kept_free_that_new_bookings_have_sold_is_told_wherever_nights_are(hotel):
    hotel("ask-night", hotel.file, "103", "2026-03-14", "--reason", "overdue")
    hotel("answer-night", hotel.file, "103", "2026-03-14", "--kept", "--by", "Lea")
    sold = BOOKINGS + "b3,103,Double,2026-03-14,2026-03-16,booked\n"
    said = hotel("load", "bookings", hotel.file, hotel.table("bookings.csv", sold))
    assert "but sold all the same: 103 on the night of Sat 14 Mar. Speak with front desk" in said
    assert "kept free by Lea, but sold all the same" in hotel("list", "by-hand", hotel.file)
    assert "kept free, Lea, but sold all the same" in hotel("list", "front-desk", hotel.file)
