"""Since when a case's find may have been there, by command."""

from __future__ import annotations

from datetime import date, timedelta

FIRST = date(2025, 8, 1)


def weekly(room, letter, weeks=30):
    """A stay of two nights a week in a room."""
    for week in range(weeks):
        arrives = FIRST + timedelta(days=7 * week)
        yield f"{letter}{week:02},{room},{arrives},{arrives + timedelta(days=2)}"


STAYS = "\n".join(["Booking,Room,Arrival,Departure", *weekly("102", "B"), *weekly("103", "C")])


def test_a_sign_that_nobody_judged_is_told_with_if_and_its_neighbours_with_a_range(hotel):
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    told = hotel("since", hotel.file, "2026-001")
    assert told.startswith("Room 102, sign seen on Mon 9 Mar 2026\nIf what was found in 102")
    assert "is bed bugs, it was brought in most likely between" in told
    assert "(90 %, assumed)" in told
    near = [line for line in told.splitlines() if line[:3] in ("101", "103")]
    assert len(near) == 2
    assert all("about 1 in" in line and " to 1 in " in line for line in near)
    assert told.splitlines()[-1].startswith("Assumed: ")
    assert "no case 2026-009" in hotel("since", hotel.file, "2026-009", exit_code=1)


def test_stays_are_listed_by_booking_alone_and_only_those_of_the_room(hotel):
    hotel("load", "bookings", hotel.file, hotel.table("stays.csv", STAYS))
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    assert "B20" not in hotel("since", hotel.file, "2026-001")
    told = hotel("since", hotel.file, "2026-001", "--stays")
    assert "B20  " in told
    assert "C20" not in told
    assert "this names nobody" in told
    assert "Bookings are at hand from Fri 1 Aug 2025 on." in told


def test_a_case_that_was_ruled_out_says_so(hotel):
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    beetle = ("--judged-by", "Dr. Vey", "--competence", "zoologist", "--was", "carpet_beetle")
    hotel("judge", hotel.file, "2026-001", "not_bed_bug", *beetle)
    told = hotel("since", hotel.file, "2026-001")
    assert told == "A competent person judged that it was no bed bug: nothing is worked out.\n"
