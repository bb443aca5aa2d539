"""Cases split and joined by command, and the way of a specimen."""

from __future__ import annotations

import pytest


@pytest.fixture
def twice(hotel):
    """Two signs in one room, an entry each, in one case."""
    for who in ("Ana", "Bogdan"):
        hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", who)
    return hotel


def last_entry(hotel):
    return int(hotel("list", "entries", hotel.file, "--last", 1).split("\n")[-2].split()[0])


def test_a_sign_is_split_off_joined_again_and_the_join_taken_back(twice):
    entry = last_entry(twice)
    told = twice("split-case", twice.file, "2026-001", entry, "--reason", "other guests")
    assert "2026-002" in told
    assert "Seen or reported by Bogdan." in told
    assert "Seen or reported by Ana." not in told
    told = twice("join-cases", twice.file, "2026-002", "2026-001", "--reason", "the same after all")
    assert "Seen or reported by Ana." in told
    assert "Seen or reported by Bogdan." in told
    assert "2026-002" not in twice("list", "cases", twice.file)
    twice("take-back", twice.file, last_entry(twice), "--reason", "typed wrong")
    assert "2026-002" in twice("list", "cases", twice.file)


@pytest.mark.parametrize(
    "words",
    [
        ("join-cases", "2026-001", "2026-001", "2026-001"),
        ("join-cases", "2026-001", "2026-009", "2026-009"),
        ("split-case", "2026-001", "1", "2026-001"),
        ("split-case", "2026-009", "1", "2026-009"),
    ],
)
def test_what_can_not_be_joined_or_split_is_refused_and_writes_nothing(twice, words):
    before = last_entry(twice)
    command, *rest, named = words
    told = twice(command, twice.file, *rest, "--reason", "x", exit_code=1)
    assert named in told
    assert last_entry(twice) == before


def test_a_specimen_is_told_in_the_story(twice):
    twice("specimen", twice.file, "2026-001", "S-7", "sent", "an entomologist")
    told = twice("sighting", twice.file, "102", "cast_skin", "--seen-by", "Ana")
    assert "S-7" in told
    assert "an entomologist" in told
