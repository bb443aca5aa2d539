"""Loading a roster and bookings by command: what is said, and what is written down."""

from __future__ import annotations

from tests.cli.conftest import ROSTER

AMBIGUOUS = "Booking,Room,Arrival,Departure\nB1,101,05/04/2026,06/04/2026\n"


def test_a_refused_roster_names_each_bad_row_once_and_says_how_to_take_the_rest(hotel):
    bad = hotel.table("bad.csv", ROSTER + "105,1,left,5,Double,1 cloud,no\n")
    told = hotel("load", "roster", hotel.file, bad, exit_code=1)
    assert told.count("cloud") == 1
    assert "Nothing was written down." in told
    assert "4 good rows with --keep-good" in told


def test_columns_that_were_not_understood_empty_no_roster(hotel):
    strange = hotel.table("strange.csv", "Zimmer,Floor,Side,Order,Beds\n9,1,left,1,1 divan\n")
    told = hotel("load", "roster", hotel.file, strange, "--keep-good", exit_code=1)
    assert "gone" not in told
    assert "--heading" in told
    assert "104" in hotel("list", "due", hotel.file, "--within", 200)


def test_one_heading_that_a_person_names_leaves_the_others_as_understood(hotel):
    renamed = hotel.table("renamed.csv", ROSTER.replace("Room,", "Chamber,"))
    told = hotel("load", "roster", hotel.file, renamed, "--heading", "room=Chamber")
    assert "4 rooms and 5 beds" in told
    wrong = hotel("load", "roster", hotel.file, renamed, "--heading", "chamber=Room", exit_code=2)
    assert "encased" in wrong


def test_bookings_that_no_one_understands_do_not_wipe_out_those_known(hotel):
    good = "Booking,Room,Arrival,Departure\nB1,101,2026-03-09,2026-03-12\n"
    assert "1 booking taken" in hotel("load", "bookings", hotel.file, hotel.table("g.csv", good))
    entries = hotel("list", "entries", hotel.file)
    unclear = hotel.table("unclear.csv", AMBIGUOUS)
    told = hotel("load", "bookings", hotel.file, unclear, "--keep-good", exit_code=1)
    assert "--day-first" in told
    assert hotel("list", "entries", hotel.file) == entries


def test_the_first_bookings_show_which_way_dates_were_read(hotel):
    unclear = hotel.table("unclear.csv", AMBIGUOUS)
    day_first = hotel("load", "bookings", hotel.file, unclear, "--day-first", "--look")
    assert "Sun 5 Apr 2026 to Mon 6 Apr 2026" in day_first
    month_first = hotel("load", "bookings", hotel.file, unclear, "--month-first", "--look")
    assert "Mon 4 May 2026 to Thu 4 Jun 2026" in month_first


def test_what_is_not_read_is_said_and_a_booking_without_a_number_shows_no_code(hotel):
    text = (
        "Guest name,Room,Arrival,Departure\n"
        "Quillfeather,101,2026-03-09,2026-03-12\nUmberly,101,2026-03-10,2026-03-12\n"
    )
    told = hotel("load", "bookings", hotel.file, hotel.table("names.csv", text))
    assert "Not read: Guest name" in told
    assert "row-" not in told
    assert "Quillfeather" not in told
    assert b"Quillfeather" not in hotel.file.read_bytes()


def test_a_list_without_most_bookings_known_is_loaded_only_where_it_is_said_to_be_whole(hotel):
    rows = [f"B{n},101,2026-03-{9 + n},2026-03-{10 + n}\n" for n in range(3)]
    head = "Booking,Room,Arrival,Departure\n"
    first = hotel.table("all.csv", head + "".join(rows))
    assert "no longer" not in hotel("load", "bookings", hotel.file, first)
    short = hotel.table("short.csv", head + rows[1])
    said = "2 of 3 bookings known from today on are not in this file"
    assert said in hotel("load", "bookings", hotel.file, short, "--look")
    refused = hotel("load", "bookings", hotel.file, short, exit_code=1)
    assert said in refused
    assert "--whole-list" in refused
    assert "Nothing was written down" in refused
    told = hotel("load", "bookings", hotel.file, short, "--whole-list")
    assert "1 booking taken" in told
    assert "2 of 3 known before are not in the list" in told
