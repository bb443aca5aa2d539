"""What a cycle buys, by command."""

from __future__ import annotations

import pytest

from hotelwatch.wording import language


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def row_of(said, start):
    return next(line for line in said.splitlines() if line.startswith(start))


def test_a_cycle_is_told_with_others_beside_it_and_what_it_rests_on(hotel):
    said = hotel("cycle-worth", hotel.file)
    assert "With a look every 91 days (dust cover closed" in said
    for days in (14, 28, 90, 91, 365):
        assert row_of(said, f"{days} days")
    assert "In a year of 4 rooms" in said
    assert "The next hour of work is best spent on traps under the beds" in said
    assert "(assumed)" in said
    assert "How hidden places are looked at today is not on record" in said


def test_another_cycle_and_way_can_be_asked_for(hotel):
    usual = hotel("cycle-worth", hotel.file)
    said = hotel(
        "cycle-worth", hotel.file, "--cycle", 45, "--cover", "--headboard", "--traps", "--let", 80
    )
    assert "With a look every 45 days (dust cover opened, headboard off, traps" in said
    assert "Nights with guests: as told here." in said
    assert "91 days" not in said
    assert row_of(said, "90 days") != row_of(usual, "90 days")
    encased = hotel("cycle-worth", hotel.file, "--encased")
    assert "all beds encased" in encased
    assert "Encasing all beds" not in encased


def test_the_way_of_today_is_read_from_the_record(hotel):
    hotel("record", hotel.file, "101", "--who", "Ana", "--who", "Ben")
    said = hotel("cycle-worth", hotel.file)
    assert "beds with a dust cover 1, cover opened in 0" in said
    assert "checks of rooms 1, headboard taken off in 0." in said
    assert "(dust cover closed, headboard on the wall, no traps)" in said
    assert "of 1 beds" not in hotel("cycle-worth", hotel.file, "--headboard")


def test_the_hotels_own_cycle_counts(hotel):
    hotel("cycle", hotel.file, 60)
    said = hotel("cycle-worth", hotel.file)
    assert "With a look every 60 days" in said
    assert "A look every 45 days" in said


def test_a_hotel_without_rooms_is_told_so(command):
    command("new", command.file, "--name", "Inn", "--zone", "Europe/Vienna")
    assert "No room is known yet" in command("cycle-worth", command.file)


@pytest.mark.parametrize("wrong", [("--cycle", 0), ("--let", 101), ("--cycle", "soon")])
def test_what_can_not_be_is_refused(hotel, wrong):
    assert "Invalid value" in hotel("cycle-worth", hotel.file, *wrong, exit_code=2)
