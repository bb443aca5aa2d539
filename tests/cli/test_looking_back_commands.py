"""What the record shows, by command."""

from __future__ import annotations


def test_a_hotel_without_finds_says_what_that_does_not_say(hotel):
    said = hotel("looking-back", hotel.file)
    assert "0 of 5 undersides" in said
    assert "Of 5 undersides no whole look is on record." in said
    assert "104/A: no whole look on record, first due on" in said
    assert "No confirmed find since" in said
    assert "what nobody found is in none of these numbers" in said
    assert "No room was closed and none was treated so far." in said


def test_a_confirmed_find_is_told_with_how_it_was_noticed_and_what_it_cost(hotel):
    hotel("record", hotel.file, "102", "--who", "Ana", "--who", "Ben")
    hotel("sighting", hotel.file, "101", "live_insect", "--seen-by", "Ana")
    hotel(
        "judge",
        hotel.file,
        "2026-001",
        "confirmed",
        "--judged-by",
        "Dr. Vey",
        "--competence",
        "licence 7",
    )
    said = hotel("looking-back", hotel.file)
    assert "2 of 5 undersides (40 %)" in said
    assert "1 confirmed find is on record" in said
    assert "Room 101, found on Mon 9 Mar 2026; noticed first by: bed-making or other staff." in said
    assert "Came in most likely (90 %, assumed), by setting: central:" in said
    assert "Ana" not in said
