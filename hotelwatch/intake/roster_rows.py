"""A roster's row read by itself: what it says of one room, and what is wrong in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from hotelwatch.core.facts import Side
from hotelwatch.core.parameters import Rules
from hotelwatch.intake.bed_text import BedsSaid, beds_said, kind_of_bed
from hotelwatch.intake.cells import fold, shown
from hotelwatch.intake.codes import RosterCode
from hotelwatch.intake.mapping import RowCells
from hotelwatch.intake.words import Words

COUNT_OF = "count_of_"
"""Fields of columns headed by a kind of bed: count_of_box_spring."""
LONGEST_LABEL = 24
MOST_BEDS = 60
MOST_BAYS = 400
LOWEST_LEVEL, HIGHEST_LEVEL = -20, 200
NARROWEST_M, WIDEST_M = 1.0, 60.0
ODD_EVEN = "odd_even"

_DATE_LIKE = re.compile(
    r"\d{4}-\d{1,2}-\d{1,2}(?:[ T].*)?|\d{1,2}[./]\d{1,2}[./](?:\d{2}|\d{4})"
    r"|\d{1,2}[- ][A-Za-z]{3}(?:[- ]\d{2,4})?|[A-Za-z]{3}-\d{1,2}",
    re.ASCII,
)
_POWER = re.compile(r"\d(?:[.,]\d+)?E\+\d+|\d[.,]\d+E\d+", re.ASCII | re.IGNORECASE)
_SEVERAL = re.compile(r"[/,;\n]")
_CONNECTING = re.compile(r"[,;/&+\n]|\band\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class RoomRow:
    """What a good row says; side and order may be left for later."""

    number: int
    room: str
    floor: str
    wing: str
    side: Side | None
    order: int | None
    room_type: str
    beds: tuple[tuple[str, bool], ...]
    """Kind and whether encased, one for each bed."""
    connecting: tuple[str, ...]
    """As written; matched with labels later."""
    suite: str
    width_m: float
    level: int | None


def read_row(cells: RowCells, rules: Rules, words: Words) -> RoomRow:
    """The room of a row; what is wrong is noted in ``cells``."""
    room = _room(cells, words)
    floor = cells.text("floor")
    if not floor:
        cells.say(RosterCode.FLOOR_MISSING, "floor", room=room)
    return RoomRow(
        number=cells.row.number,
        room=room,
        floor=floor,
        wing=_said(cells, "wing", words),
        side=_side(cells, room, words),
        order=_order(cells, room),
        room_type=_said(cells, "type", words),
        beds=_beds(cells, room, rules, words),
        connecting=_connecting(cells, words),
        suite=_suite(cells, room, words),
        width_m=_width(cells),
        level=cells.whole("level", LOWEST_LEVEL, HIGHEST_LEVEL),
    )


def _room(cells: RowCells, words: Words) -> str:
    cell = cells.cell("room")
    before = len(cells.problems)
    text = shown(cell)
    if not isinstance(cell, str) or (_DATE_LIKE.fullmatch(cell) and _is_date(cell, words)):
        cells.say(RosterCode.DATE_FOR_ROOM, "room", value=text)
    elif not cell and cells.is_good:
        cells.say(RosterCode.ROOM_MISSING, "room")
    elif _POWER.fullmatch(cell):
        cells.say(RosterCode.ROOM_AS_POWER, "room", value=text)
    elif len(cell) > LONGEST_LABEL or _SEVERAL.search(cell):
        cells.say(RosterCode.ROOM_LABEL_ODD, "room", value=text)
    return text if len(cells.problems) == before else ""


def _is_date(text: str, words: Words) -> bool:
    """Whether letters in it name a month: "16-Apr" does, "12-Abc" does not."""
    letters = re.sub(r"[^a-z]", "", text.casefold().split("t")[0][:12])
    return not letters or letters in words.months


def _said(cells: RowCells, name: str, words: Words) -> str:
    text = " ".join(cells.text(name).split())
    return "" if words.is_nothing(text) else text


def _side(cells: RowCells, room: str, words: Words) -> Side | None:
    if "side" not in cells.mapping:
        return None
    text = cells.text("side")
    code = words.sides.get(fold(text))
    if code is None:
        cells.say(RosterCode.SIDE_UNKNOWN, "side", value=text)
        return None
    if code in ("odd", "even"):
        return Side.LEFT if code == "odd" else Side.RIGHT
    return Side(code)


def _order(cells: RowCells, room: str) -> int | None:
    if "order" not in cells.mapping:
        return None
    before = len(cells.problems)
    order = cells.whole("order", 1, MOST_BAYS)
    if order is None and len(cells.problems) == before:
        cells.say(RosterCode.ORDER_MISSING, "order", room=room)
    return order


def _width(cells: RowCells) -> float:
    text = cells.text("width")
    if text in ("", "0"):
        return 0.0
    return cells.number("width", NARROWEST_M, WIDEST_M) or 0.0


def _suite(cells: RowCells, room: str, words: Words) -> str:
    text = _said(cells, "suite", words)
    answer = words.answers.get(fold(text) or text)
    if answer == "yes" and not re.search(r"\d", text):
        # Taken as a name, "yes" would join all suites of the house into one.
        cells.note(RosterCode.SUITE_WITHOUT_NAME, "suite", room=room, value=text)
    return "" if answer and not re.search(r"\d", text) else text


def _connecting(cells: RowCells, words: Words) -> tuple[str, ...]:
    text = cells.text("connecting")
    if words.is_nothing(text):
        return ()
    parts = (part.strip() for part in _CONNECTING.split(text))
    return tuple(dict.fromkeys(part for part in parts if part))


# --- beds ------------------------------------------------------------------------------


def _beds(cells: RowCells, room: str, rules: Rules, words: Words) -> tuple[tuple[str, bool], ...]:
    before = len(cells.problems)
    counts = _counted(cells)
    for kind, count in _written(cells, rules, words).items():
        counts[kind] = counts.get(kind, 0) + count
    kinds = [kind for kind, count in counts.items() for _ in range(min(count, MOST_BEDS + 1))]
    if len(kinds) > MOST_BEDS:
        cells.say(RosterCode.BED_COUNT_UNCLEAR, "beds", value=str(sum(counts.values())))
        return ()
    if not kinds and len(cells.problems) == before:
        cells.note(RosterCode.NO_BEDS, "beds", room=room)
    return encased_beds(cells, kinds, rules, words)


def _counted(cells: RowCells) -> dict[str, int]:
    """Beds by kind from the columns of counts."""
    counts: dict[str, int] = {}
    for name in cells.mapping:
        if name.startswith(COUNT_OF) and (count := _count(cells, name)):
            counts[name.removeprefix(COUNT_OF)] = count
    return counts


def _count(cells: RowCells, name: str) -> int:
    text = cells.cell(name)
    if isinstance(text, str) and text in ("-", "–", "—"):
        return 0
    if isinstance(text, str) and text.casefold() in ("x", "yes"):
        return 1
    if isinstance(text, str) and text.casefold() == "no":
        return 0
    return cells.whole(name, 0, MOST_BEDS) or 0


def _written(cells: RowCells, rules: Rules, words: Words) -> dict[str, int]:
    """Beds by kind from the columns of text, a bare count taken with its kind."""
    said = beds_said(cells.text("beds"), words)
    kinds = beds_said(cells.text("bed_kind"), words)
    for name, one in (("beds", said), ("bed_kind", kinds)):
        if not _makes_sense(cells, name, one, rules):
            return {}
    count = cells.whole("bed_count", 0, MOST_BEDS)
    if count is None:
        count = said.bare_count
    counts = dict(said.counts or kinds.counts)
    if count is None:
        return counts
    if not counts and count and not _has_counts(cells):
        cells.say(RosterCode.BED_KIND_NOT_SAID, _beds_field(cells), value=str(count))
    if len(counts) == 1 and sum(counts.values()) in (1, count):
        return dict.fromkeys(counts, count)
    if counts and sum(counts.values()) != count:
        cells.say(RosterCode.BED_COUNT_UNCLEAR, _beds_field(cells), value=str(count))
        return {}
    return counts


def _beds_field(cells: RowCells) -> str:
    return "bed_count" if "bed_count" in cells.mapping else "beds"


def _has_counts(cells: RowCells) -> bool:
    return any(name.startswith(COUNT_OF) for name in cells.mapping)


def _makes_sense(cells: RowCells, name: str, said: BedsSaid, rules: Rules) -> bool:
    if said.unknown:
        known = ",".join(rules.bed_kinds)
        cells.say(RosterCode.BED_KIND_UNKNOWN, name, value=said.unknown, known=known)
    elif said.without_kind:
        cells.say(RosterCode.BED_KIND_NOT_SAID, name, value=said.without_kind)
    elif said.unclear:
        cells.say(RosterCode.BED_COUNT_UNCLEAR, name, value=said.unclear)
    else:
        return True
    return False


def encased_beds(
    cells: RowCells, kinds: list[str], rules: Rules, words: Words
) -> tuple[tuple[str, bool], ...]:
    """Each bed with whether it is encased; a number counts from the first that can be."""
    text = cells.text("encased")
    can = [_can_be_encased(kind, rules) for kind in kinds]
    answer = words.answers.get(fold(text) or text)
    whole = int(text) if re.fullmatch(r"\d{1,3}", text, re.ASCII) else None
    if words.is_nothing(text) or answer == "no":
        number = 0
    elif whole is not None:
        number = whole
    elif answer == "yes":
        number = sum(can)
    else:
        cells.say(RosterCode.ENCASED_UNCLEAR, "encased", value=text)
        number = 0
    if number > len(kinds) and cells.is_good:
        values = {"value": text, "beds": str(len(kinds))}
        cells.say(RosterCode.ENCASED_TOO_MANY, "encased", **values)
    first = sorted(range(len(kinds)), key=lambda place: not can[place])[:number]
    return tuple((kind, place in first) for place, kind in enumerate(kinds))


def _can_be_encased(kind: str, rules: Rules) -> bool:
    described = rules.bed_kinds[kind]
    return described.encased_places != described.places


def count_fields(headings: Mapping[str, str], words: Words) -> dict[str, str]:
    """Fields of the columns that a kind of bed heads: count_of_<kind> → heading.

    ``headings`` gives for each heading the text to look at.
    """
    fields: dict[str, str] = {}
    for heading, text in headings.items():
        kind = kind_of_bed(text, words)
        if kind:
            fields.setdefault(COUNT_OF + kind, heading)
    return fields
