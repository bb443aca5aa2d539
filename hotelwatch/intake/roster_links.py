"""What is wrong between a roster's rows: rooms twice, bays shared, doors to nowhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from hotelwatch.core.problems import Problem
from hotelwatch.intake.codes import RosterCode
from hotelwatch.intake.roster_order import Report
from hotelwatch.intake.roster_rows import RoomRow


def alike(label: str) -> str:
    """What labels that differ by leading zeros or case only have in common."""
    return label.casefold().lstrip("0") or "0"


def without_twins(rows: Sequence[RoomRow], report: Report) -> tuple[list[RoomRow], list[Problem]]:
    """Rows without repeated ones; two different rows of one room are both problems."""
    by_room: defaultdict[str, list[RoomRow]] = defaultdict(list)
    for row in rows:
        by_room[row.room].append(row)
    problems: list[Problem] = []
    kept: list[RoomRow] = []
    for room, same in by_room.items():
        first = same[0]
        different = [row for row in same if replace(row, number=first.number) != first]
        kept.extend(same if different else [first])
        for place, row in enumerate(same if len(same) > 1 else ()):
            if not different and row is not first:
                values = {"room": room, "other_row": str(first.number)}
                code = RosterCode.ROW_REPEATED
                problems.append(report.note(row.number, "room", code, **values))
            elif different:
                other = same[0 if place else 1]
                values = {"room": room, "other_row": str(other.number)}
                problems.append(report.of(row.number, "room", RosterCode.ROOM_TWICE, **values))
    return sorted(kept, key=lambda row: row.number), problems


def rooms_alike(rows: Sequence[RoomRow], report: Report) -> list[Problem]:
    """Labels that differ by zeros or case only: perhaps one room written twice."""
    first: dict[str, RoomRow] = {}
    problems: list[Problem] = []
    for row in rows:
        other = first.setdefault(alike(row.room), row)
        if other.room != row.room:
            values = {"room": row.room, "other_room": other.room, "other_row": str(other.number)}
            code = RosterCode.ROOMS_ALIKE
            problems.append(report.note(row.number, "room", code, **values))
    return problems


def shared_bays(rows: Sequence[RoomRow], report: Report) -> list[Problem]:
    """Two rooms in one bay of one side would lie one in the other: both are problems."""
    bays: defaultdict[tuple[object, ...], list[RoomRow]] = defaultdict(list)
    for row in rows:
        bays[row.floor, row.wing, row.side, row.order].append(row)
    problems: list[Problem] = []
    for same in bays.values():
        rooms = {row.room for row in same}
        for row in same if len(rooms) > 1 else ():
            other = next(r for r in same if r.room != row.room)
            values = {"room": row.room, "other_room": other.room}
            values |= {"other_row": str(other.number), "order": str(row.order)}
            values["side"] = str(row.side)
            problems.append(report.of(row.number, "order", RosterCode.SAME_BAY, **values))
    return problems


def matched_doors(
    rows: Sequence[RoomRow], labels: Sequence[str], report: Report
) -> tuple[list[RoomRow], list[Problem]]:
    """Rows whose connecting rooms are labels of the roster; others are problems.

    ``labels`` are all rooms that the roster names, those of bad rows too.
    """
    exact = set(labels)
    loose: defaultdict[str, set[str]] = defaultdict(set)
    for label in labels:
        loose[alike(label)].add(label)
    problems: list[Problem] = []
    matched: list[RoomRow] = []
    for row in rows:
        doors: list[str] = []
        for value in row.connecting:
            found = {value} if value in exact else loose.get(alike(value), set())
            room = next(iter(found)) if len(found) == 1 else ""
            if not room:
                values = {"room": row.room, "value": value}
                code = RosterCode.CONNECTING_UNKNOWN
                problems.append(report.of(row.number, "connecting", code, **values))
            elif room == row.room:
                code = RosterCode.CONNECTING_ITSELF
                problems.append(report.of(row.number, "connecting", code, room=room))
            else:
                doors.append(room)
                problems += _read_as(row, value, room, report)
        matched.append(replace(row, connecting=tuple(dict.fromkeys(doors))))
    return matched, problems


def _read_as(row: RoomRow, value: str, room: str, report: Report) -> list[Problem]:
    if value == room:
        return []
    code = RosterCode.CONNECTING_READ_AS
    values = {"value": value, "room": room}
    return [report.note(row.number, "connecting", code, **values)]


def mutual_doors(rows: Sequence[RoomRow], report: Report) -> tuple[list[RoomRow], list[Problem]]:
    """Good rows with each door on both its sides; doors to rooms kept out are left out."""
    by_room = {row.room: row for row in rows}
    doors: dict[str, set[str]] = {row.room: set() for row in rows}
    problems: list[Problem] = []
    for row in rows:
        for other in row.connecting:
            code = RosterCode.CONNECTING_ONE_SIDED
            if other not in by_room:
                code = RosterCode.CONNECTING_KEPT_OUT
            else:
                doors[row.room].add(other)
                doors[other].add(row.room)
            if other not in by_room or row.room not in by_room[other].connecting:
                values = {"room": row.room, "other_room": other}
                problems.append(report.note(row.number, "connecting", code, **values))
    return [replace(row, connecting=tuple(sorted(doors[row.room]))) for row in rows], problems
