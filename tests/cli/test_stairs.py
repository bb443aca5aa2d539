"""Stairs and lifts by command."""

from __future__ import annotations

STAIRS = "name,wing,along_m,kind\nFront stair,,0,Stair\nLift,,9.5,lift\n"


def listed(hotel):
    told = hotel("list", "stairs", hotel.file).splitlines()[1:]
    return [line.split() for line in told if "Assumed" not in line]


def test_stairs_come_from_a_table_and_one_by_one(hotel):
    hotel("stairs", hotel.file, hotel.table("stairs.csv", STAIRS))
    assert listed(hotel) == [["Front", "stair", "Stair", "0"], ["Lift", "Lift", "9.5"]]
    hotel("stair", hotel.file, "Lift", "--along", "8")
    assert listed(hotel)[1] == ["Lift", "Lift", "8"]
    hotel("stair", hotel.file, "Lift", "--gone")
    assert listed(hotel) == [["Front", "stair", "Stair", "0"]]
    assert "Stairs and lifts placed" in hotel("list", "entries", hotel.file)


def test_what_is_assumed_of_the_way_is_said(hotel):
    told = hotel("list", "stairs", hotel.file)
    assert "Assumed: A stair where each wing begins" in told
    assert "a storey of stairs counts as 16 m" in told
    hotel("stair", hotel.file, "Back stair", "--along", "16")
    assert "Assumed: A stair" not in hotel("list", "stairs", hotel.file)


def test_a_stair_that_can_not_be_is_refused_in_words(hotel):
    wrong = hotel.table("wrong.csv", STAIRS.replace("Lift,,", "Lift,Moon,"))
    assert "wing Moon" in hotel("stairs", hotel.file, wrong, exit_code=1)
    ladder = hotel.table("ladder.csv", STAIRS.replace(",lift", ",ladder"))
    assert "row 3" in hotel("stairs", hotel.file, ladder, exit_code=1)
    hotel("stair", hotel.file, "New stair", exit_code=2)
    assert "no stair or lift Attic" in hotel("stair", hotel.file, "Attic", "--gone", exit_code=1)
