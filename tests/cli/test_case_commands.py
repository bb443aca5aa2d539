"""Checks and cases by command: what is refused, and what is said of what was written down."""

from __future__ import annotations

from datetime import timedelta

import pytest

PAIR = ("--who", "Ana", "--who", "Bogdan")


@pytest.fixture
def sighted(hotel):
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    return hotel


def last_entry(hotel):
    return hotel("list", "entries", hotel.file, "--last", 1).splitlines()[-1]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--not-seen", "Z:base_underside:no_time"), "no bed 101/Z"),
        (("--not-seen", "A:base_underside:lazy"), "no_second_person"),
        (("--not-seen", "A:base:no_time"), "list places"),
        (("--found", "A:base_underside:bug"), "live_insect"),
        (("--for-case", "2026-009"), "no case 2026-009"),
        (("--who", "ANA"), "named twice"),
    ],
)
def test_what_can_not_be_true_of_a_check_is_refused_and_not_left_out(hotel, more, said):
    before = last_entry(hotel)
    code = 2 if said in ("no_second_person", "live_insect") else 1
    assert said in hotel("record", hotel.file, "101", *PAIR, *more, exit_code=code)
    assert last_entry(hotel) == before


def test_a_recorded_check_says_of_each_bed_whether_it_counts_and_when_it_is_due(hotel):
    told = hotel(
        "record", hotel.file, "102", *PAIR, "--not-seen", "B:base_underside:fixed_to_floor"
    )
    # 9 March and the 91 days of the house's cycle.
    assert "102/A: underside looked at; next due Mon 8 Jun 2026." in told
    assert "102/B: underside not looked at, for want of: underside of the box spring" in told


def test_a_brief_check_by_one_person_asks_for_nothing_that_takes_two(hotel):
    told = hotel("record", hotel.file, "101", "--who", "Ana", "--kind", "brief")
    assert "101/A: underside not looked at" in told


def test_the_codes_of_places_reasons_and_signs_can_be_looked_up(hotel):
    told = hotel("list", "places", hotel.file, "104")
    for code in ("base_encasement_underside", "night_stands", "no_second_person", "cast_skin"):
        assert code in told
    assert "base_staple_line" not in told


def test_a_correction_names_an_entry_that_holds_the_room(hotel):
    hotel("record", hotel.file, "101", *PAIR)
    entry = last_entry(hotel).split()[0]
    wrong = ("record", hotel.file, "103", *PAIR, "--corrects", entry, "--reason", "typed wrong")
    assert "holds no check of room 103" in hotel(*wrong, exit_code=1)
    hotel("record", hotel.file, "101", *PAIR, "--corrects", entry, "--reason", "typed wrong")
    assert f"instead of entry {entry}" in last_entry(hotel)


def test_a_sighting_shows_what_was_seen_and_joins_the_open_case(sighted):
    told = sighted("sighting", sighted.file, "102", "cast_skin", "--seen-by", "Bogdan")
    assert "Added to case 2026-001" in told
    assert "Live insect: 102. Seen or reported by Ana." in told
    assert "Cast skins: 102. Seen or reported by Bogdan." in told


def test_a_moment_to_come_is_told_by_the_hotels_clock(hotel):
    at = "2026-03-09T10:00"
    told = hotel("sighting", hotel.file, "102", "eggs", "--at", at, exit_code=1)
    assert "Mon 9 Mar 2026, 10:00 has not come yet" in told


def test_only_a_neighbour_that_would_be_asked_is_struck_out(hotel):
    far = ("sighting", hotel.file, "101", "eggs", "--not-asked", "104")
    assert "104" in hotel(*far, exit_code=1)
    assert "No case is open." in hotel("list", "cases", hotel.file)
    near = hotel("sighting", hotel.file, "101", "eggs", "--not-asked", "102")
    assert "Check 102" not in near


def test_a_lifting_refused_names_each_condition_that_is_missing(sighted):
    lift = ("lift", sighted.file, "2026-001", "102", "--lifted-by", "Maria")
    missing = "A competent person has yet to judge what was found in 102."
    assert missing in sighted(*lift, exit_code=1)
    assert missing in sighted("list", "quarantine", sighted.file)


def test_a_check_asked_for_too_soon_for_the_round_is_marked_in_the_plan(sighted):
    sighted("team", sighted.file, "Pair", "--minutes", 30, "--works-on", "thu fri")
    sighted.now += timedelta(hours=1)
    planned = sighted("plan", sighted.file, "--days", 7)
    asked = [line for line in planned.splitlines() if "asked by case" in line]
    assert asked
    assert all("too late: by Tue 10 Mar 2026" in line for line in asked)


def test_front_desks_list_names_the_guest_the_free_rooms_and_what_was_let_all_the_same(sighted):
    bookings = sighted.table(
        "bookings.csv",
        "Booking,Room,Arrival,Departure,Status\n"
        "B1,102,2026-03-08,2026-03-12,in house\nB2,102,2026-03-12,2026-03-15,booked\n",
    )
    sighted("load", "bookings", sighted.file, bookings)
    told = sighted("list", "front-desk", sighted.file)
    # 101 and 103 share a wall with 102 and are to be looked at: nobody is moved there.
    assert "B1 is in house until Thu 12 Mar 2026. Move the guest. To: 104: have it" in told
    assert "B2 comes Thu 12 Mar 2026" in told
    assert "although blocked" not in told
    sighted.now += timedelta(days=2)
    told = sighted("list", "front-desk", sighted.file)
    assert "booking B1, 2 nights from Mon 9 Mar 2026 (guest in house stayed on)" in told


def test_a_team_keeps_what_is_not_named_anew(hotel):
    hotel("team", hotel.file, "Pair", "--minutes", 45, "--people", 3, "--works-on", "sat sun",
          "--shift-from", "09:00", "--shift-until", "15:00", "--keep-free", 10)  # fmt: skip
    hotel("team", hotel.file, "Pair", "--minutes", 60)
    assert hotel("list", "teams", hotel.file).splitlines()[-1].split()[1:] == [
        "3", "60", "10", "09:00", "to", "15:00", "sat", "sun",
    ]  # fmt: skip
    assert "--minutes" in hotel("team", hotel.file, "Other", exit_code=2)
    for words in (["--keep-free", 60], ["--shift-from", "16:00"], ["--shift-until", "late"]):
        assert "Pair" in hotel("list", "teams", hotel.file)
        hotel("team", hotel.file, "Pair", *words, exit_code=1)


def test_every_command_says_in_full_what_it_does_where_commands_are_listed(command):
    for words in ((), ("list",), ("load",)):
        listed = command(*words, "--help").partition("Commands:")[2]
        assert listed.strip()
        assert "..." not in listed
