"""Where a roster's rooms lie, as far as it says, and what is assumed where it does not."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from hotelwatch.core.facts import Side
from hotelwatch.core.problems import Problem
from hotelwatch.intake.cells import fold
from hotelwatch.intake.codes import RosterCode
from hotelwatch.intake.roster_rows import RoomRow
from hotelwatch.intake.words import Words

_HUNDRED = 100
_LONGEST_NUMBER = 6
_BELOW, _TOP = -1000, 1000


@dataclass(frozen=True, slots=True)
class Report:
    """Says a problem of a row by field; knows the file and the headings."""

    where: str
    mapping: Mapping[str, str]

    def of(self, row: int, name: str, code: str, **values: str) -> Problem:
        """The problem of a field in a row that keeps the row out."""
        return Problem(self.where, row, self.mapping.get(name, ""), code, values)

    def note(self, row: int, name: str, code: str, **values: str) -> Problem:
        """What a person should know of a field; row 0 where no single row is meant."""
        column = self.mapping.get(name, "")
        return Problem(self.where, row, column, code, values, blocking=False)


# --- floors ----------------------------------------------------------------------------


def floor_rank(label: str, words: Words) -> tuple[float, float] | None:
    """A key that sorts floors from bottom to top by label; None where it says nothing."""
    parts = re.findall(r"[^\W\d_]+|\d+", fold(label))
    named = {words.floors.get(part, "") for part in parts if not part.isdecimal()}
    whole = words.floors.get(fold(label))
    if whole in ("below", "ground", "mezzanine", "top"):
        named = {whole}
    numbers = [int(part) for part in parts if part.isdecimal() and len(part) < _LONGEST_NUMBER]
    number = numbers[0] if numbers else None
    if "" in named or len(numbers) > 1 or not parts:
        return None
    if "below" in named:
        return (_BELOW, -float(number or 1))
    if "top" in named:
        return (_TOP, float(number or 0))
    if "mezzanine" in named:
        return (0.0, 0.5 + float(number or 0) / _HUNDRED)
    if "ground" in named:
        return (0.0, 0.0)
    if number is None:
        return None
    return (0.0, -float(number) if re.match(r"\s*[-−]\s*\d", label) else float(number))


def levels(
    rows: Sequence[RoomRow], known: Mapping[str, int], words: Words, report: Report
) -> tuple[dict[str, int], list[Problem]]:
    """The level of each floor: as the rows say, as known, else by the order of labels."""
    if any(row.level is not None for row in rows):
        return _stated_levels(rows, report)
    floors = dict.fromkeys(row.floor for row in rows)
    if all(floor in known for floor in floors):
        return {floor: known[floor] for floor in floors}, []
    order = sorted(known, key=lambda floor: known[floor])
    ranks = {floor: floor_rank(floor, words) for floor in (*floors, *known)}
    strange = {floor for floor in floors if floor not in known and ranks[floor] is None}
    new = [(rank, floor) for floor in floors if floor not in known and (rank := ranks[floor])]
    for rank, floor in sorted(new):
        later = (n for n, other in enumerate(order) if (r := ranks[other]) and r > rank)
        order.insert(next(later, len(order)), floor)
    problems = [
        report.of(row.number, "floor", RosterCode.FLOOR_ORDER_UNKNOWN, floor=row.floor)
        for row in rows
        if row.floor in strange
    ]
    lowest = _lowest_level(order, known, words)
    return {floor: lowest + n for n, floor in enumerate(order)}, problems


def _lowest_level(order: Sequence[str], known: Mapping[str, int], words: Words) -> int:
    """The level of the lowest floor, so that the ground floor or floor 1 keeps its number."""
    first_known = next((n for n, floor in enumerate(order) if floor in known), None)
    if first_known is not None:
        return known[order[first_known]] - first_known
    ranks = [floor_rank(floor, words) or (0.0, 0.0) for floor in order]
    above = [(n, int(number)) for n, (group, number) in enumerate(ranks) if group == 0.0]
    if not above:
        return -len(order)
    place, number = above[0]
    return number - place


def _stated_levels(rows: Sequence[RoomRow], report: Report) -> tuple[dict[str, int], list[Problem]]:
    """Levels from the column of levels, gaps closed; floors without or with two are problems."""
    said: dict[str, RoomRow] = {}
    problems: list[Problem] = []
    for row in rows:
        first = said.setdefault(row.floor, row) if row.level is not None else None
        if first is not None and first.level != row.level:
            values = {"floor": row.floor, "level": str(row.level)}
            values |= {"other_level": str(first.level), "other_row": str(first.number)}
            problems.append(report.of(row.number, "level", RosterCode.LEVEL_CONFLICT, **values))
    for row in rows:
        if row.floor not in said:
            code = RosterCode.FLOOR_ORDER_UNKNOWN
            problems.append(report.of(row.number, "level", code, floor=row.floor))
    by_level: dict[int, RoomRow] = {}
    for row in said.values():
        other = by_level.setdefault(row.level or 0, row)
        if other is not row:
            values = {"floor": row.floor, "other_floor": other.floor, "level": str(row.level)}
            values["other_row"] = str(other.number)
            problems.append(report.of(row.number, "level", RosterCode.LEVEL_SHARED, **values))
    lowest = min(by_level, default=0)
    return {
        by_level[level].floor: lowest + place for place, level in enumerate(sorted(by_level))
    }, problems


# --- sides and bays ----------------------------------------------------------------------


def number_of(room: str) -> int | None:
    """The number in a room's label: 12 in "12A"; None where it has no digits."""
    digits = re.search(r"\d+", room, re.ASCII)
    return int(digits.group()) if digits else None


def placed(rows: Sequence[RoomRow], report: Report) -> tuple[list[RoomRow], list[Problem]]:
    """Every row with a side and a bay; what had to be assumed is said once."""
    problems: list[Problem] = []
    rows = list(rows)
    if rows and "side" not in report.mapping:
        rows, how = _with_sides(rows)
        problems.append(report.note(0, "side", RosterCode.SIDES_ASSUMED, how=how))
    if rows and "order" not in report.mapping:
        rows = _with_orders(rows)
        problems.append(report.note(0, "order", RosterCode.ORDER_ASSUMED))
    return rows, problems


def _with_sides(rows: list[RoomRow]) -> tuple[list[RoomRow], str]:
    """Odd left and even right in a wing where some floor has both, else all on the left."""
    parities: defaultdict[tuple[str, str], set[int]] = defaultdict(set)
    for row in rows:
        if (number := number_of(row.room)) is not None:
            parities[row.wing, row.floor].add(number % 2)
    both = {wing for (wing, _), seen in parities.items() if len(seen) == len((0, 1))}
    sided = [
        replace(row, side=Side.RIGHT if row.wing in both and _is_even(row) else Side.LEFT)
        for row in rows
    ]
    return sided, "odd_even" if both else "one_side"


def _is_even(row: RoomRow) -> bool:
    number = number_of(row.room)
    return number is not None and number % 2 == 0


def _with_orders(rows: list[RoomRow]) -> list[RoomRow]:
    """Bays by room number, the same along a wing on each floor.

    A number that is missing on every floor of the wing leaves no bay; one that other
    floors have (or its opposite, where odd faces even) leaves an empty one.
    """
    wings: defaultdict[str, list[RoomRow]] = defaultdict(list)
    for row in rows:
        wings[row.wing].append(row)
    orders: dict[int, int] = {}
    for members in wings.values():
        orders |= _orders_of_wing(members)
    return [replace(row, order=orders[row.number]) for row in rows]


def _orders_of_wing(rows: list[RoomRow]) -> dict[int, int]:
    """Bay by row number."""
    is_paired = _odd_faces_even(rows)
    keys = {row.number: _bay_key(row, is_paired=is_paired) for row in rows}
    spots = {(row.floor, row.side, keys[row.number]) for row in rows}
    if None in keys.values() or len(spots) < len(rows):
        return _ranked(rows)
    orders: dict[int, int] = {}
    both = [(Side.LEFT, Side.RIGHT), (Side.END,)]
    for group in both if is_paired else [(side,) for side in Side]:
        members = [row for row in rows if row.side in group]
        bays = sorted({key for row in members if (key := keys[row.number]) is not None})
        bay_of = {key: bay for bay, key in enumerate(bays, 1)}
        orders |= {r.number: bay_of[key] for r in members if (key := keys[r.number]) is not None}
    return orders


def _odd_faces_even(rows: list[RoomRow]) -> bool:
    seen: defaultdict[Side | None, set[bool]] = defaultdict(set)
    for row in rows:
        if row.side is not Side.END:
            seen[row.side].add(_is_even(row))
    sides = list(seen.values())
    return len(sides) == len((Side.LEFT, Side.RIGHT)) and sides[0].isdisjoint(sides[1])


def _bay_key(row: RoomRow, *, is_paired: bool) -> int | None:
    """The room's number on its floor, halved where odd faces even."""
    number = number_of(row.room)
    if number is None:
        return None
    along = number % _HUNDRED if number >= _HUNDRED else number
    return (along + 1) // 2 if is_paired else along


def _ranked(rows: list[RoomRow]) -> dict[int, int]:
    """Bays in the order of labels, side by side, floor by floor."""
    groups: defaultdict[tuple[str, Side | None], list[RoomRow]] = defaultdict(list)
    for row in rows:
        groups[row.floor, row.side].append(row)
    orders: dict[int, int] = {}
    for members in groups.values():
        members.sort(key=lambda row: (number_of(row.room) or 0, row.room))
        orders |= {row.number: bay for bay, row in enumerate(members, 1)}
    return orders
