from __future__ import annotations

import pytest

from hotelwatch.core.house import House
from hotelwatch.store.hotel_file import create
from tests.build import moment, rules


class Desk:
    """A journal, the house that its desk has, and a short way to write."""

    def __init__(self, journal, house=None):
        self.journal = journal
        self.house = house or House(shipped=rules())

    def write(self, *facts, at=None, note="", corrects=None):
        self.house, written = self.journal.append(
            lambda _: facts,
            by="anna",
            action="test",
            at=at or moment(0),
            note=note,
            corrects=corrects,
            house=self.house,
        )
        return written

    def refresh(self):
        newer = self.journal.refresh(self.house)
        if newer is not None:
            changes = newer.changes_since(self.house)
            self.house = newer
            return newer, changes
        return None


@pytest.fixture
def desk(tmp_path):
    made = Desk(create(tmp_path / "test.hotel"))
    yield made
    made.journal.close()
