"""A booking's row read by itself: nothing about people is among what it knows."""

from __future__ import annotations

import hashlib
from collections import Counter, defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from hotelwatch.core.problems import Problem
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.intake.cells import Mark, fold, shown
from hotelwatch.intake.codes import StaysCode
from hotelwatch.intake.day_text import TwoWays, parsed
from hotelwatch.intake.mapping import RowCells
from hotelwatch.intake.roster_links import alike
from hotelwatch.intake.words import Words

EARLIEST_YEAR, LATEST_YEAR = 1990, 2100
MOST_NIGHTS = 1500
_REFERENCE_LENGTH = 12


@dataclass(frozen=True, slots=True)
class StayRow:
    """A good row's stay with its row number."""

    number: int
    stay: Stay


@dataclass(slots=True)
class StayReader:
    """Reads rows one after the other; knows the house's rooms and what was said already."""

    words: Words
    day_first: bool
    rooms: Collection[str]
    types: Collection[str]
    day_uses: int = 0
    _loose: dict[str, set[str]] = field(default_factory=dict)
    _types: dict[str, str] = field(default_factory=dict)
    _told: set[str] = field(default_factory=set)
    _repeats: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        """Prepare the look-ups of rooms and types."""
        for room in self.rooms:
            self._loose.setdefault(alike(room), set()).add(room)
        self._types = {fold(name): name for name in self.types if name}

    def read(self, cells: RowCells) -> StayRow | None:
        """The stay of a row; None where it is kept out, with the reason noted in ``cells``."""
        arrives_on, leaves_on = self._span(cells)
        room, room_type = self._room(cells), cells.text("type")
        if not room and cells.is_good:
            room_type = self._type(cells, room_type)
        status = self._status(cells)
        written = cells.text("booking")
        if not cells.is_good or arrives_on is None or leaves_on is None:
            return None
        if arrives_on == leaves_on:
            self.day_uses += 1
            cells.note(StaysCode.DAY_USE, "arrival", arrival=arrives_on.isoformat())
            return None
        booking = written or self._reference(room, room_type, arrives_on, leaves_on)
        booked_on = self._booked(cells, arrives_on)
        stay = Stay(booking, room, room_type, arrives_on, leaves_on, status, booked_on)
        return StayRow(cells.row.number, stay)

    # --- days ------------------------------------------------------------------

    def _span(self, cells: RowCells) -> tuple[date | None, date | None]:
        arrives_on = self._day(cells, "arrival")
        leaves_on = self._day(cells, "departure")
        nights = cells.whole("nights", 0, MOST_NIGHTS)
        if not cells.is_good:
            return None, None
        if arrives_on is None:
            cells.say(StaysCode.ARRIVAL_MISSING, "arrival")
            return None, None
        if leaves_on is None and nights is None:
            cells.say(StaysCode.DEPARTURE_MISSING, "departure")
            return None, None
        leaves_on = leaves_on or arrives_on + timedelta(days=nights or 0)
        _check_span(cells, arrives_on, leaves_on, nights)
        return arrives_on, leaves_on

    def _day(self, cells: RowCells, name: str) -> date | None:
        cell = cells.cell(name)
        if cell == "":
            return None
        day = parsed(cell, self.words) if isinstance(cell, str) else cell
        if isinstance(day, TwoWays):
            day = day.day(day_first=self.day_first)
        if day is None:
            cells.say(StaysCode.NOT_A_DATE, name, field=name, value=shown(cell))
        elif not EARLIEST_YEAR <= day.year < LATEST_YEAR:
            cells.say(StaysCode.DATE_ABSURD, name, field=name, value=day.isoformat())
        else:
            return day
        return None

    def _booked(self, cells: RowCells, arrives_on: date) -> date | None:
        """The day of booking, on arrival at the latest; no booking is lost for its sake."""
        cell = cells.row.cell(cells.mapping.get("booked", ""))
        if cell == "" or isinstance(cell, Mark):
            return None
        day = parsed(cell, self.words) if isinstance(cell, str) else cell
        if isinstance(day, TwoWays):
            day = day.day(day_first=self.day_first)
        if day is None or not EARLIEST_YEAR <= day.year < LATEST_YEAR:
            cells.note(StaysCode.BOOKING_DAY_UNREAD, "booked", value=shown(cell))
            return None
        return min(day, arrives_on)

    # --- room, type, status -------------------------------------------------------

    def _room(self, cells: RowCells) -> str:
        cell = cells.cell("room")
        text = cell if isinstance(cell, str) else ""
        if not isinstance(cell, str):
            cells.say(StaysCode.ROOM_UNKNOWN, "room", value=shown(cell))
        if self.words.is_nothing(text):
            return ""
        if not self._compares or text in self.rooms:
            return text
        found = self._loose.get(alike(text), set())
        if len(found) != 1:
            cells.say(StaysCode.ROOM_UNKNOWN, "room", value=text)
            return ""
        room = next(iter(found))
        if text not in self._told:
            self._told.add(text)
            cells.note(StaysCode.ROOM_READ_AS, "room", value=text, room=room)
        return room

    @property
    def _compares(self) -> bool:
        return bool(self.rooms or self._types)

    def _type(self, cells: RowCells, text: str) -> str:
        """The house's own spelling of a type; needed where there is no room."""
        if self.words.is_nothing(text):
            cells.say(StaysCode.NEITHER_ROOM_NOR_TYPE, "type")
            return ""
        if not self._compares:
            return text
        name = self._types.get(fold(text))
        if name is None:
            cells.say(StaysCode.TYPE_UNKNOWN, "type", value=text)
        return name or ""

    def _status(self, cells: RowCells) -> StayStatus:
        text = cells.text("status")
        code = self.words.statuses.get(fold(text)) if text else StayStatus.BOOKED
        if code is None:
            cells.say(StaysCode.STATUS_UNKNOWN, "status", value=text)
        return StayStatus(code or StayStatus.BOOKED)

    def _reference(self, room: str, room_type: str, arrives_on: date, leaves_on: date) -> str:
        """A reference made of the row's content, so that the same row has it again."""
        content = f"{room}|{room_type}|{arrives_on}|{leaves_on}"
        self._repeats[content] += 1
        digest = hashlib.sha256(f"{content}|{self._repeats[content]}".encode()).hexdigest()
        return f"row-{digest[:_REFERENCE_LENGTH]}"


def _check_span(cells: RowCells, arrives_on: date, leaves_on: date, nights: int | None) -> None:
    span = {"arrival": arrives_on.isoformat(), "departure": leaves_on.isoformat()}
    long = (leaves_on - arrives_on).days
    if long < 0:
        cells.say(StaysCode.DEPARTURE_BEFORE_ARRIVAL, "departure", **span)
    elif long > MOST_NIGHTS:
        cells.say(StaysCode.STAY_ABSURD, "departure", limit=str(MOST_NIGHTS), **span)
    elif nights is not None and nights != long:
        cells.say(StaysCode.NIGHTS_DO_NOT_MATCH, "nights", nights=str(nights), **span)


# --- between rows -------------------------------------------------------------------------


def without_repeats(
    rows: Sequence[StayRow], where: str, mapping: Mapping[str, str]
) -> tuple[list[StayRow], list[Problem]]:
    """Rows without those that say the same of the same room again.

    A booking without a room may stand twice: two rooms of one type, one reference.
    """
    column = mapping.get("booking", mapping.get("room", ""))
    is_named = "booking" in mapping
    first: dict[tuple[str, ...], StayRow] = {}
    problems: list[Problem] = []
    kept: list[StayRow] = []
    for row in rows:
        stay = row.stay
        days = (stay.arrives_on.isoformat(), stay.leaves_on.isoformat())
        booking = stay.booking if is_named else ""
        other = first.setdefault((booking, stay.room, *days, stay.status), row)
        if other is row or not stay.room:
            kept.append(row)
            continue
        values = {"booking": stay.booking, "other_row": str(other.number)}
        code = StaysCode.STAY_REPEATED
        problems.append(Problem(where, row.number, column, code, values, blocking=False))
    return kept, problems


def overlaps(rows: Sequence[StayRow], where: str, mapping: Mapping[str, str]) -> list[Problem]:
    """Two stays in one room on one night: both rows are named, none is kept out."""
    by_room: defaultdict[str, list[StayRow]] = defaultdict(list)
    for row in rows:
        if row.stay.room and row.stay.counts:
            by_room[row.stay.room].append(row)
    problems: list[Problem] = []
    for room, members in by_room.items():
        members.sort(key=lambda row: (row.stay.arrives_on, row.number))
        latest = members[0]
        for row in members[1:]:
            if row.stay.arrives_on < latest.stay.leaves_on:
                early, late = sorted((latest, row), key=lambda r: r.number)
                values = {"room": room, "other_row": str(early.number)}
                values |= {"booking": late.stay.booking, "other_booking": early.stay.booking}
                code, column = StaysCode.STAYS_OVERLAP, mapping.get("room", "")
                problems.append(Problem(where, late.number, column, code, values, blocking=False))
            latest = max(latest, row, key=lambda r: r.stay.leaves_on)
    return problems
