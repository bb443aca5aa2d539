"""What keeps a drawn room from being written down, and how to mend it; what a drawing changes."""

from __future__ import annotations

from hotelwatch.core.building.drawing import Flaw
from hotelwatch.core.building.neighbours import Kind
from hotelwatch.wording.dates import number_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

DRAWN: dict[str, tuple[str, str]] = {
    "too_few_corners": (
        m("Room {room} has fewer than three corners."),
        m("Add a corner, or type width and depth."),
    ),
    "walls_meet": (
        m("Room {room} has walls that cross or touch one another."),
        m("Move a corner so that its walls meet only at corners, one after the other."),
    ),
    "too_small": (
        m("Room {room} is drawn with {m2} square metres, which is too small for a room."),
        m("Type its width and depth in metres."),
    ),
    "overlaps": (
        m("Room {room} lies on room {other}, {m2} square metres of it."),
        m("Move it, or make one of the two smaller; let its wall snap to the other's."),
    ),
    "outline_without_pairs": (
        m("An outline is a row of corners, each with metres to the east and to the north."),
        m("Write each corner as east,north, for instance 0,0 4,0 4,7 0,7."),
    ),
    "room_exists": (
        m("There is already a room {room}."),
        m("Give the new room a number of its own."),
    ),
    "new_room_needs_number": (
        m("The new room has no number."),
        m("Type the number that stands on its door."),
    ),
}


def flaw_values(flaw: Flaw) -> dict[str, str]:
    """What the sentences of a flaw name."""
    return {"room": flaw.room, "other": flaw.other, "m2": number_text(round(flaw.square_metres, 1))}


def flaw_text(flaw: Flaw) -> str:
    """What is wrong with a drawing, and how to mend it."""
    what, mend = DRAWN[flaw.code]
    values = flaw_values(flaw)
    return " ".join((_(what).format(**values), _(mend).format(**values)))


def ways_text(kinds: tuple[Kind, ...]) -> str:
    """Ways to be a neighbour, one after the other."""
    return join([label(kind) for kind in kinds])
