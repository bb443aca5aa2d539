"""A file that the first format's program wrote, opened by today's."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from hotelwatch.core.facts import TeamDescribed
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import TeamDaysChanged
from hotelwatch.store import hotel_file, upgrade
from hotelwatch.store.loading import load
from hotelwatch.store.schema import FORMAT, objects
from hotelwatch.store.verify import verify
from tests.build import day, rules

FORMAT_1 = Path(__file__).with_name("format_1.sql")
"""Tables and rows as the program of format 1 wrote them, with the digests it computed."""
LAST_DIGEST = "1ab4ad56641325b1811c011b0c47ec35a3da12b3af6c4c6d6eb3514430415b90"


@pytest.fixture
def old_file(tmp_path):
    path = tmp_path / "old.hotelwatch"
    with closing(sqlite3.connect(path)) as db:
        db.executescript(FORMAT_1.read_text("utf-8"))
    return path


def test_an_older_file_is_brought_up_to_date_and_says_the_same(old_file):
    hotel_file.open_file(old_file).close()
    found = verify(old_file)
    assert found.is_sound
    assert (found.entries, found.last_digest) == (6, LAST_DIGEST)
    with closing(sqlite3.connect(old_file)) as db:
        made = dict(db.execute("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL"))
        assert made == objects()
        assert db.execute("PRAGMA user_version").fetchone() == (FORMAT,)


def test_what_an_older_file_did_not_know_is_not_said(old_file):
    journal = hotel_file.open_file(old_file)
    house = load(journal, rules())
    journal.close()
    weekdays = ("mon", "tue", "wed", "thu", "fri")
    assert house.all_of(TeamDescribed) == (
        TeamDescribed("Early", 2, 120, weekdays),
        TeamDescribed("Weekend", 2, 60, ("sat", "sun")),
        TeamDescribed("Early", 3, 90, weekdays),
    )
    assert list(house.rooms) == ["101", "102"]
    assert [(stay.booking, stay.booked_on) for stay in house.stays] == [("b1", None)]


def test_todays_facts_go_into_an_older_file(old_file):
    journal = hotel_file.open_file(old_file)
    house = load(journal, rules())
    facts = (
        TeamDaysChanged("Early", day(0), day(4), 0, "leave"),
        TeamDescribed("Early", 2, 90, from_clock="08:00", until_clock="16:00", kept_free=10),
    )
    at = datetime(2026, 3, 10, 9, tzinfo=UTC)
    house, _ = journal.append(lambda _: facts, by="maria", action="test", at=at, house=house)
    assert load(journal, rules()) == house
    journal.close()
    assert verify(old_file).is_sound


def test_an_older_file_is_not_changed_by_one_who_only_reads(old_file):
    before = old_file.read_bytes()
    with pytest.raises(Refusal, match="older_file"):
        hotel_file.open_file(old_file, read_only=True)
    with pytest.raises(Refusal, match="older_file"):
        verify(old_file)
    assert old_file.read_bytes() == before


def test_an_upgrade_cut_short_leaves_the_file_as_it_was(old_file, monkeypatch):
    def stops(db):
        raise OSError("the machine stops here")

    with closing(sqlite3.connect(old_file)) as db:
        before = list(db.iterdump())
    monkeypatch.setattr(upgrade, "_make_missing", stops)
    with pytest.raises(OSError, match="stops here"):
        hotel_file.open_file(old_file)
    with closing(sqlite3.connect(old_file)) as db:
        assert list(db.iterdump()) == before
        assert db.execute("PRAGMA user_version").fetchone() == (1,)
    monkeypatch.undo()
    hotel_file.open_file(old_file).close()
    assert verify(old_file).is_sound
