"""Small houses for tests, said in a line: ``house().room("101").bed("A").checked("A", day(3))``."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache

from hotelwatch import paths
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CheckKind,
    Fact,
    FloorPlaced,
    HotelDescribed,
    RoomDescribed,
    RoomNo,
    Side,
    TeamDescribed,
    TeamName,
    WingPlaced,
)
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Rules
from hotelwatch.core.records import Entry, Stay
from hotelwatch.intake.rules_file import read_rules

FIRST = date(2026, 1, 5)
"""Day 0 of the tests: a Monday."""


def day(number: int) -> date:
    """The test's day ``number``."""
    return FIRST + timedelta(days=number)


def moment(number: int, hour: int = 9) -> datetime:
    """A moment on the test's day ``number``, UTC."""
    return datetime(FIRST.year, FIRST.month, FIRST.day, hour, tzinfo=UTC) + timedelta(days=number)


@cache
def rules() -> Rules:
    """The shipped rules."""
    return read_rules(paths.resources())


class Build:
    """A House in the making; every step is one entry, recorded on ``recorded``'s day."""

    def __init__(self, rules: Rules) -> None:
        self.house = House(shipped=rules)
        self._day = 0
        self._room = RoomNo("")
        self.record(
            HotelDescribed(name="House of tests", zone="Europe/Vienna"), FloorPlaced("1", 1)
        )

    def on(self, number: int) -> Build:
        """Entries from here on are recorded on that day."""
        self._day = number
        return self

    def record(self, *facts: Fact, corrects: int | None = None, note: str = "") -> Build:
        number = max(self.house.entries, default=0) + 1
        entry = Entry(
            number=number,
            recorded_at=moment(self._day) + timedelta(seconds=number),
            by="tester",
            action="test",
            note=note,
            corrects=corrects,
            program="test",
            digest="",
        )
        self.house = self.house.add(entry, facts)
        return self

    def floors(self, *labels: str) -> Build:
        """Floors from bottom to top."""
        return self.record(*(FloorPlaced(label, level) for level, label in enumerate(labels, 1)))

    def wing(self, name: str, x_m: float, y_m: float, bearing_deg: float) -> Build:
        return self.record(WingPlaced(name, x_m, y_m, bearing_deg))

    def room(
        self,
        room: str,
        *,
        floor: str = "1",
        wing: str = "",
        side: Side = Side.LEFT,
        order: int = 0,
        **more: object,
    ) -> Build:
        """One more room; without ``order`` it stands after those of its side."""
        self._room = RoomNo(room)
        like = [
            r for r in self.house.rooms.values() if (r.floor, r.wing, r.side) == (floor, wing, side)
        ]
        order = order or max((r.order for r in like), default=0) + 1
        described = RoomDescribed(self._room, floor, wing, side, order)
        return self.record(replace(described, **more))

    def bed(self, letter: str, kind: str = "box_spring", *, encased: bool = False) -> Build:
        """One more bed in the room named last."""
        no = BedNo(f"{self._room}/{letter}")
        return self.record(BedDescribed(no, self._room, kind, encased))

    def checked(
        self,
        letter: str,
        on: date,
        *,
        seen: Iterable[str] | None = None,
        kind: CheckKind = CheckKind.DEEP,
        **more: object,
    ) -> Build:
        """A check of a bed in the room named last; every place seen unless said otherwise."""
        bed = self.house.beds[BedNo(f"{self._room}/{letter}")]
        places = rules().bed_kinds[bed.kind].places_of(encased=bed.encased)
        codes = tuple(p.code for p in places) if seen is None else tuple(seen)
        fact = BedChecked(bed.bed, bed.room, on, kind, ("anna", "boris"), 14, codes)
        return self.record(replace(fact, **more))

    def team(self, name: str, minutes: int = 120, people: int = 2, **more: object) -> Build:
        return self.record(replace(TeamDescribed(TeamName(name), people, minutes), **more))

    def stays(self, *spans: tuple[str, int, int]) -> Build:
        """Bookings as (room, day of arrival, day of departure)."""
        more = (
            Stay(f"b{len(self.house.stays) + n}", room, "", day(arrives), day(leaves))
            for n, (room, arrives, leaves) in enumerate(spans)
        )
        self.house = self.house.with_stays((*self.house.stays, *more))
        return self


def house(**figures: float) -> Build:
    """An empty house, with figures of its own where they are given."""
    shipped = rules()
    own = {key: replace(getattr(shipped.figures, key), value=v) for key, v in figures.items()}
    return Build(replace(shipped, figures=replace(shipped.figures, **own)))
