"""A release by command: what is missing, lift, traps, the word, closing."""

from __future__ import annotations

from datetime import timedelta

import pytest

PAIR = ("--who", "Ana", "--who", "Bogdan")
CASE = "2026-001"


@pytest.fixture
def confirmed(hotel):
    hotel("sighting", hotel.file, "101", "live_insect", "--seen-by", "Ana")
    told = ("--judged-by", "Dr. Vey", "--competence", "zoologist")
    hotel("judge", hotel.file, CASE, "confirmed", *told)
    return hotel


@pytest.fixture
def ready(confirmed):
    licensed = ("--method", "heat", "--firm", "a firm", "--licence", "L-1")
    reenter = f"{confirmed.now:%Y-%m-%d}T23:00"
    confirmed("treatment", confirmed.file, CASE, "101", *licensed, "--reenter", reenter)
    for _ in range(4):
        confirmed.now += timedelta(days=7)
        confirmed("record", confirmed.file, "101", *PAIR, "--kind", "clearance")
    return confirmed


def test_a_release_says_what_is_met_what_is_missing_and_when(confirmed):
    said = confirmed("release", confirmed.file, CASE)
    assert "[met] A competent person has judged what was found." in said
    assert "[missing] No licensed treatment of 101 is recorded." in said
    assert "At the earliest:" in said
    assert "Expected:" in said
    assert "one more find" in said
    assert "Leaving the room empty is no condition" in said


def test_a_release_tells_the_eggs_days_after_a_treatment(ready):
    said = ready("release", ready.file, CASE, "101")
    assert "missing" not in said
    assert "slowest egg takes about 13 days at 22 °C" in said
    assert "Usual follow-up visits" in said
    assert "it waits for a named person" in said


def test_who_lifts_on_conditions_names_what_makes_them_competent(ready):
    lift = ("lift", ready.file, CASE, "101", "--lifted-by", "Maria")
    assert "what makes the person competent" in ready(*lift, exit_code=1)
    said = ready(*lift, "--competence", "trained by the firm")
    assert "Released, under watch" in said
    assert "Keep watch over 101" in said


def test_a_watch_is_ended_when_it_is_over_or_on_a_reason(ready):
    ready("lift", ready.file, CASE, "101", "--lifted-by", "Maria", "--competence", "trained")
    assert "of 60 clean covered days" in ready("release", ready.file, CASE)
    close = ("close-case", ready.file, CASE, "--closed-by", "Maria")
    assert "of 60 clean covered days" in ready(*close, exit_code=1)
    assert "Closed" in ready(*close, "--reason", "the wing is torn down")
    assert "No room of case 2026-001 is in quarantine." in ready("release", ready.file, CASE)


def test_traps_are_placed_read_listed_and_taken_away(hotel):
    file = hotel.file
    assert "No trap stands anywhere." in hotel("list", "monitors", file)
    said = hotel("monitor", file, "T1", "101", "--where", "bed A", "--who", "Ana")
    assert "T1: in 101 (bed A)" in said
    hotel.now += timedelta(days=14)
    assert "no proof" in hotel("read-monitor", file, "T1", 0, "--who", "Ana")
    assert "T1: in 101" in hotel("list", "monitors", file)
    hotel("monitor", file, "T1", "--taken", "--who", "Ana")
    assert "No trap stands anywhere." in hotel("list", "monitors", file)
    assert "T1: stood in 101" in hotel("list", "monitors", file, "--all")
    assert "No trap T1" in hotel("read-monitor", file, "T1", 0, "--who", "Ana", exit_code=1)
    assert "Name the room" in hotel("monitor", file, "T2", "--who", "Ana", exit_code=2)


def test_a_catch_is_a_sighting_at_once(hotel):
    hotel("monitor", hotel.file, "T1", "101", "--who", "Ana")
    hotel.now += timedelta(days=14)
    said = hotel("read-monitor", hotel.file, "T1", 2, "--who", "Ana")
    assert "In quarantine: 101" in said
    assert "Live insect (counted: 2): 101" in said


def test_the_officers_word_is_waited_for_where_the_rules_say_so(ready):
    ready("choose", ready.file, "release_by", "health_officer")
    said = ready("release", ready.file, CASE)
    assert "[missing] The health officer has yet to give the word that 101 may be let." in said
    ready("release-word", ready.file, CASE, "county office", "--receipt", "no. 7")
    said = ready("release", ready.file, CASE)
    assert "[met] The word that 101 may be let was given." in said
    assert "county office" in said


# Trade check case: a bite report only, two clean deep checks: "not confirmed", the block
# released by a named person, a watch advised.
def test_bites_alone_end_as_not_confirmed_with_a_watch_advised(hotel):
    hotel("sighting", hotel.file, "101", "bites_reported", "--seen-by", "Ana")
    hotel("record", hotel.file, "101", *PAIR)
    said = hotel("list", "quarantine", hotel.file)
    assert "101: case 2026-001" in said
    assert "Earliest" in said
    hotel.now += timedelta(days=7)
    hotel("record", hotel.file, "101", *PAIR)
    said = hotel("lift", hotel.file, CASE, "101", "--lifted-by", "Maria")
    assert "Closed" in said
    told = hotel("release", hotel.file, CASE)
    assert "Not confirmed." in told
    assert "A watch is advised" in told
