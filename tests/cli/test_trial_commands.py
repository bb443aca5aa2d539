"""Blind trials by command: hide, look, end, list, and what they say of one's own checks."""

from __future__ import annotations

from datetime import timedelta

import pytest

PAIR = ("--who", "Ana", "--who", "Bogdan")
MARIA = ("--who", "Maria")


def run_trials(hotel, count, *, found):
    for number in range(count):
        label = f"D{number}"
        hotel("trial", "hide", hotel.file, label, "101", "base_underside", "--bed", "A", *MARIA)
        hotel("record", hotel.file, "101", *PAIR)
        seen = "--found" if number < found else "--missed"
        hotel("trial", "end", hotel.file, label, seen, "--fate", "collected")
        hotel.now += timedelta(days=1)


def test_a_dummy_is_hidden_looked_for_and_collected(hotel):
    file = hotel.file
    assert "No dummy lies hidden" in hotel("trial", "list", file)
    said = hotel("trial", "hide", file, "D1", "101", "base_underside", "--bed", "A", *MARIA)
    assert "D1: 101/A, Underside of the box spring, hidden" in said
    assert "never live or dead insects" in said
    assert "two people" in said
    assert "Nobody has looked there yet" in hotel("trial", "list", file)
    hotel("record", file, "101", *PAIR)
    assert "Ana and Bogdan looked there" in hotel("trial", "list", file)
    still = hotel("trial", "end", file, "D1", "--missed", exit_code=1)
    assert "still lies in 101/A" in still
    assert "Missed; ended" in hotel("trial", "end", file, "D1", "--missed", "--fate", "collected")
    assert "No dummy lies hidden" in hotel("trial", "list", file)
    assert "Missed; ended" in hotel("trial", "list", file, "--all")


def test_found_without_a_recorded_look_does_not_count_and_says_so(hotel):
    file = hotel.file
    hotel("trial", "hide", file, "D1", "101", "skirting", *MARIA)
    said = hotel("trial", "end", file, "D1", "--found", "--fate", "collected")
    assert "Nobody looked; ended" in said
    assert "Look twice: D1 is said to be found" in said


def test_a_wrong_place_names_where_the_right_ones_are(hotel):
    told = ("trial", "hide", hotel.file, "D1", "101", "nowhere", "--bed", "A", *MARIA)
    said = hotel(*told, exit_code=1)
    assert "101/A has no place “nowhere”" in said
    assert "list places" in said


def test_the_list_of_entries_never_tells_where_a_dummy_lies(hotel):
    hotel("trial", "hide", hotel.file, "D1", "103", "skirting", *MARIA)
    said = hotel("list", "entries", hotel.file, "--last", 1)
    assert "Blind trial begun" in said
    assert "103" not in said
    assert "D1" not in said


@pytest.mark.long
def test_nineteen_trials_leave_the_assumption_and_the_twentieth_replaces_it(hotel):
    run_trials(hotel, 19, found=13)
    said = hotel("trial", "learned", hotel.file)
    assert "with chance 0.30 (0.20 to 0.45): assumed." in said
    assert "So far 13 of 19 dummies found" in said
    assert "No figure of their own before 20 trials each: Ana and Bogdan." in said
    run_trials(hotel, 1, found=1)
    said = hotel("trial", "learned", hotel.file)
    # Beta(14.5, 6.5): 5 and 95 % by scipy are 0.518 and 0.842.
    assert "measured here: 14 of 20 dummies found (0.52 to 0.84)" in said
    assert "Underside of the box spring: 14 of 20 dummies found" in said
    assert "Ana: 14 of 20" in said
    assert said.index("Ana: ") < said.index("Bogdan: ")
    # What was measured counts wherever the figure does.
    assert "measured here" in hotel("cycle-worth", hotel.file)


def test_two_blind_looks_and_introductions_are_told(hotel):
    first = ("--first", "Ana", "--first-at", "2026-03-08T10:00", "--first-found")
    second = ("--second", "Bogdan", "--second-nothing")
    assert "Written down." in hotel("trial", "pair", hotel.file, "101", *first, *second)
    said = hotel("trial", "learned", hotel.file, "--found-share", "0.8")
    assert "1 by the first, 0 by the second, 0 by both; about 1 had something" in said
    assert "Brought into a room a year: 0.005 (0.002 to 0.01): assumed." in said
    assert "100 %" not in said
