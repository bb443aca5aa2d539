"""How sure one may be, by command."""

from __future__ import annotations


def test_the_hotel_its_floors_and_the_rooms_to_look_at_next(hotel):
    said = hotel("odds", hotel.file)
    assert "Infested rooms that nobody knows of, expected now: about" in said
    assert "Main assumption: bed bugs come into a room and stay once in 200 years" in said
    assert "all of it rests on assumptions" in said
    rooms = [line.split()[0] for line in said.splitlines() if " 1 in " in line]
    assert len(rooms) == 4


def test_what_a_rooms_odds_rest_on_changes_with_a_look(hotel):
    before = hotel("odds", hotel.file, "--room", "101")
    assert "Nobody has looked at this room" in before
    hotel("record", hotel.file, "101", "--who", "Ana", "--who", "Ben")
    after = hotel("odds", hotel.file, "--room", "101")
    assert "Nothing found on" in after
    assert "Not looked at: Inside, behind the dust cover" in after
    assert chance_in(after) > chance_in(before)


def chance_in(said):
    """The N of "about 1 in N"."""
    line = next(line for line in said.splitlines() if line.startswith("Chance that something"))
    return int(line.split("about 1 in ")[1].split()[0].replace(",", ""))


def test_odds_are_held_against_simulated_rooms_in_every_setting(hotel):
    said = hotel("odds", hotel.file, "--check")
    for stance in ("cautious", "central", "optimistic"):
        assert f"By the {stance} settings:" in said
    assert said.count("not the assumed figures that they rest on") == 3


def test_a_list_may_be_shorter_and_an_unknown_room_is_refused(hotel):
    said = hotel("odds", hotel.file, "--most", 1)
    assert len([line for line in said.splitlines() if " 1 in " in line]) == 1
    refused = hotel("odds", hotel.file, "--room", "999", exit_code=1)
    assert "999" in refused
