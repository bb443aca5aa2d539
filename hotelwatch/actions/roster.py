"""Loading rosters and bookings: look first, then decide, then write down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hotelwatch.actions.links import follow_bookings
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.building.columns import RoomSaid, facts_of_columns
from hotelwatch.core.building.roster import RosterChange, compare, needed_facts
from hotelwatch.core.facts import Fact, StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.problems import InputRefused
from hotelwatch.core.records import Changes
from hotelwatch.core.stays.replaced import Replaced, replaced_by
from hotelwatch.intake.room_columns import read_columns
from hotelwatch.intake.roster_file import RosterReading, read_roster, take
from hotelwatch.intake.stays_file import StaysReading, stays_in, stays_table, take_stays
from hotelwatch.intake.tables import TablePlace


@dataclass(frozen=True, slots=True)
class RosterPreview:
    """A roster as read, and what loading its good rows would change."""

    path: Path
    reading: RosterReading
    changes: tuple[RosterChange, ...]


@dataclass(frozen=True, slots=True)
class ColumnsPreview:
    """Columns about known rooms as read, and what writing them down would change."""

    path: Path
    reading: RosterReading
    rows: tuple[RoomSaid, ...]
    changes: tuple[RosterChange, ...]


@dataclass(frozen=True, slots=True)
class StaysPreview:
    """Bookings as read, and what they would change in those known."""

    path: Path
    reading: StaysReading
    replaced: Replaced


def preview_roster(
    house: House,
    path: Path,
    mapping: Mapping[str, str] | None = None,
    *,
    at: TablePlace | None = None,
) -> RosterPreview:
    """Read a roster and say what it would change; nothing is written down.

    ``at`` says in which sheet and below which row it stands, where that was not found.
    """
    reading = read_roster(path, house.rules, mapping, floors=house.floors, at=at)
    # A table whose columns were not understood says nothing of any room.
    understood = not any(p.blocking and p.row <= reading.heading_row for p in reading.problems)
    changes = compare(house, reading.facts, leave=reading.kept_out) if understood else ()
    return RosterPreview(path, reading, changes)


def load_roster(hotel: OpenHotel, preview: RosterPreview, *, keep_good: bool) -> Changes:
    """Write down what differs. Refused whole where rows are bad and not ``keep_good``.

    Rooms of rows that could not be read stay as they were.
    """
    facts = take(preview.reading, keep_good=keep_good)

    def decide(house: House) -> tuple[Fact, ...]:
        return needed_facts(house, facts, leave=preview.reading.kept_out)

    return hotel.record(decide, action="load_roster", note=preview.path.name)


def preview_columns(
    house: House,
    path: Path,
    mapping: Mapping[str, str] | None = None,
    *,
    at: TablePlace | None = None,
) -> ColumnsPreview:
    """Read what a table says of rooms of the house; rooms that it does not name stay."""
    found = read_columns(path, house, mapping, at=at)
    changes = compare(house, found.reading.facts, leave=tuple(house.rooms))
    return ColumnsPreview(path, found.reading, found.rows, changes)


def change_columns(hotel: OpenHotel, preview: ColumnsPreview, *, keep_good: bool) -> Changes:
    """Write down what the columns change, as one entry.

    InputRefused whole where rows are bad and not ``keep_good``.
    """
    problems = preview.reading.problems
    if not preview.rows or (not keep_good and any(p.blocking for p in problems)):
        raise InputRefused(list(problems))

    def decide(house: House) -> tuple[Fact, ...]:
        facts = facts_of_columns(house, preview.rows)
        return needed_facts(house, facts, leave=tuple(house.rooms))

    return hotel.record(decide, action="change_rooms", note=preview.path.name)


def preview_stays(
    house: House,
    path: Path,
    mapping: Mapping[str, str] | None = None,
    *,
    today: date,
    day_first: bool | None = None,
    at: TablePlace | None = None,
) -> StaysPreview:
    """Read bookings; nothing is written down, and names are dropped at once."""
    types = frozenset(room.room_type for room in house.rooms.values())
    reading = stays_in(
        stays_table(path, mapping, at=at),
        mapping,
        day_first=day_first,
        rooms=frozenset(house.rooms),
        room_types=types,
    )
    # Of a table that will be refused nothing is lost, whatever it does not name.
    named = house.stays if reading.is_bad_whole else reading.stays
    replaced = replaced_by(house.stays, named, today, since=house.complete_from)
    return StaysPreview(path, reading, replaced)


def load_stays(hotel: OpenHotel, preview: StaysPreview, *, keep_good: bool) -> Changes:
    """Replace what was known of bookings from today on; past stays are kept and added.

    Guests who by it changed rooms are written down, and open cases ask for what that ties.

    Refused whole where rows are bad and not ``keep_good``, and where no row is good:
    a file that was not understood must not wipe out what is known.
    """
    reading = preview.reading
    stays = take_stays(reading, keep_good)
    blocking = [problem for problem in reading.problems if problem.blocking]
    imported = StaysImported(
        file_name=preview.path.name,
        file_sha256=reading.sha256,
        replaces_from=hotel.today(),
        taken=len(stays),
        refused=len({problem.row for problem in blocking if problem.row}),
    )
    before = hotel.house
    changes = hotel.record_stays(stays, imported)
    followed = follow_bookings(hotel, before)
    hotel.session.join_last(hotel.by, "import_stays")
    return Changes(changes.topics | followed.topics, changes.rooms | followed.rooms)
