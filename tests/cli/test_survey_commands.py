"""Surveys by command: what one takes, which rooms, and what looks already done show."""

from __future__ import annotations

import pytest

from hotelwatch.wording import language

MANY = "Room,Floor,Side,Order,Type,Beds,Encased\n" + "".join(
    f"{100 + n},1,left,{n},Double,1 box spring,no\n" for n in range(1, 41)
)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


@pytest.fixture
def large(command):
    command("new", command.file, "--name", "Inn", "--zone", "Europe/Vienna", "--by", "maria")
    command("load", "roster", command.file, command.table("roster.csv", MANY))
    return command


def rooms_in(said):
    return [line.split()[0] for line in said.splitlines() if line[:1].isdigit() and " min " in line]


def test_one_infested_room_of_few_is_not_to_be_shown(hotel):
    said = hotel("survey", "plan", hotel.file)
    assert said.startswith("One infested room cannot be ruled out to 95 % in one round")
    assert "If one or more of the 4 rooms had at least 12 bed bugs" in said
    assert "rounds through every room would be enough" in said
    assert "(assumed)" in said
    assert sorted(rooms_in(said)) == ["101", "102", "103", "104"]


def test_enough_rooms_are_listed_with_what_they_take(large):
    said = large("survey", "plan", large.file, "--number", 8, "--order", "lot")
    rooms = rooms_in(said)
    assert f"Look at {len(rooms)} rooms, " in said
    assert 10 < len(rooms) < 40
    assert rooms != sorted(rooms)
    assert "is reached with each of the settings" in said
    again = large("survey", "plan", large.file, "--number", 8, "--order", "lot")
    assert rooms_in(again) == rooms
    by_share = large("survey", "plan", large.file, "--share", 20, "--order", "lot")
    assert rooms_in(by_share) == rooms


def test_a_better_look_and_more_insects_take_fewer_rooms(large):
    asked = ("survey", "plan", large.file, "--number", 8)
    usual = rooms_in(large(*asked))
    full = large(*asked, "--look", "full")
    assert len(rooms_in(full)) < len(usual)
    assert "Decide first: a cover once opened may not go back" in full
    assert len(rooms_in(large(*asked, "--insects", 60))) < len(usual)
    assert len(rooms_in(large(*asked, "--times", 60))) < len(usual)


def test_minutes_are_kept_to(large):
    said = large("survey", "plan", large.file, "--number", 8, "--minutes", 60)
    assert said.startswith("In 1 h not enough rooms can be looked at.")
    assert "More minutes, or asking for more infested rooms, would do." in said
    assert 0 < len(rooms_in(said)) < 5


def test_looks_done_are_put_together_into_what_they_show(hotel):
    nothing = hotel("survey", "shown", hotel.file)
    assert "Looked at from Tue 24 Feb 2026 to Mon 9 Mar 2026: 0 of 4 rooms." in nothing
    assert "No room was looked at: this survey shows nothing." in nothing
    hotel("record", hotel.file, "101", "--who", "Ana", "--who", "Ben")
    hotel("record", hotel.file, "102", "--who", "Ana", "--who", "Ben")
    said = hotel("survey", "shown", hotel.file, "--number", 2)
    assert ": 2 of 4 rooms." in said
    assert "If 2 or more of the 4 rooms had at least 12 bed bugs, this survey would have" in said
    assert "It says nothing about smaller infestations." in said
    early = hotel("survey", "shown", hotel.file, "--from", "2026-03-01", "--until", "2026-03-08")
    assert "No room was looked at" in early


def test_a_sighting_among_them_leaves_nothing_shown(hotel):
    hotel("record", hotel.file, "101", "--who", "Ana", "--who", "Ben")
    hotel("sighting", hotel.file, "103", "live_insect", "--by", "Ana")
    said = hotel("survey", "shown", hotel.file)
    assert "something was found or told: room 103 on Mon 9 Mar 2026, not judged yet." in said
    assert "times in 100" not in said


def test_a_hotel_without_rooms_is_told_so(command):
    command("new", command.file, "--name", "Inn", "--zone", "Europe/Vienna")
    assert "no room of which" in command("survey", "plan", command.file)
    assert "no room of which" in command("survey", "shown", command.file)


@pytest.mark.parametrize(
    "wrong", [("--share", 0), ("--number", 0), ("--times", 100), ("--look", "dog"), ("--from", "x")]
)
def test_what_can_not_be_is_refused(hotel, wrong):
    assert "Error" in hotel("survey", "plan", hotel.file, *wrong, exit_code=2)


def test_days_the_wrong_way_round_are_refused(hotel):
    said = hotel(
        "survey", "shown", hotel.file, "--from", "2026-03-05", "--until", "2026-03-01", exit_code=2
    )
    assert "The first day comes after the last one." in said
