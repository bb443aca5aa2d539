"""Papers that were made to be printed bear names and cases: they go by themselves."""

from __future__ import annotations

import os
from datetime import timedelta

import pytest

from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.actions.retention import expire
from hotelwatch.store.print_folder import folder_of
from tests.build import rules

DAY = timedelta(days=1)
SECOND = timedelta(seconds=1)


@pytest.fixture
def printed(hotel, clock):
    """A paper of just over a day ago, one of just under it, and a note that a person put there."""
    folder = folder_of(hotel.path)
    folder.mkdir()
    for name, age in (("old.pdf", DAY + SECOND), ("new.pdf", DAY - SECOND), ("note.txt", 9 * DAY)):
        (folder / name).write_text("Room 101, carla")
        written = (clock() - age).timestamp()
        os.utime(folder / name, (written, written))
    return folder


def names_in(folder):
    return sorted(path.name for path in folder.iterdir())


def test_what_is_older_than_a_day_goes_when_the_hotel_is_opened(hotel, clock, printed):
    other = open_hotel(hotel.path, rules(), clock=clock, by="ana")
    assert names_in(printed) == ["new.pdf", "note.txt"]
    other.close()
    assert names_in(printed) == ["new.pdf", "note.txt"]


def test_and_when_it_is_closed_and_an_empty_folder_goes_with_it(hotel, clock, printed):
    other = open_hotel(hotel.path, rules(), clock=clock, by="ana")
    (printed / "note.txt").unlink()
    clock.moment += DAY
    other.close()
    assert not printed.exists()


def test_every_paper_goes_with_what_expires(hotel, printed):
    expire(hotel)
    assert names_in(printed) == ["note.txt"]
