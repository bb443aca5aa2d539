"""Papers printed by command: the sheets of a day, the demo hotel's month."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest


def test_a_team_that_is_gone_still_has_its_published_sheet(hotel):
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    hotel("team", hotel.file, "Early", "--minutes", "200")
    hotel("cycle", hotel.file, "1")
    # A day later everything is due.
    hotel.now += timedelta(days=1)
    hotel("plan", hotel.file, "--publish", "--days", "3")
    hotel("team", hotel.file, "Early", "--minutes", "200", "--gone")
    said = hotel("sheet", hotel.file, "--folder", hotel.folder / "sheets")
    assert "sheet-2026-03-10-early.pdf" in said


def test_the_demo_hotels_month_is_that_of_its_own_clock(hotel):
    shutil.copy(hotel.file, hotel.folder / "demo.hotelwatch")
    # Half past one on 1 April in Vienna.
    hotel.now = datetime(2026, 3, 31, 23, 30, tzinfo=UTC)
    hotel("demo", "--no-window", "--folder", hotel.folder)
    assert [book.name for book in hotel.folder.glob("*.xlsx")] == ["month-2026-04.xlsx"]


@pytest.mark.long
def test_a_demo_hotel_of_an_earlier_trial_is_set_aside_and_built_afresh(hotel):
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    demo = hotel.folder / "demo.hotelwatch"
    shutil.copy(hotel.file, demo)
    with closing(sqlite3.connect(demo)) as plain:
        plain.execute("PRAGMA user_version = 1")
    earlier = demo.read_bytes()
    kept = hotel.folder / "demo.papers" / "paper"
    kept.parent.mkdir()
    kept.write_text("a photo", "utf-8")
    said = hotel("demo", "--no-window", "--folder", hotel.folder)
    assert "earlier-demo.hotelwatch" in said
    assert (hotel.folder / "earlier-demo.hotelwatch").read_bytes() == earlier
    assert (hotel.folder / "earlier-demo.papers" / "paper").read_text("utf-8") == "a photo"
    assert "Hotel file" in said
    # Built afresh over papers that are there.
    assert "Hotel file" in hotel("demo", "--no-window", "--anew", "--folder", hotel.folder)
    assert demo.read_bytes() != earlier
