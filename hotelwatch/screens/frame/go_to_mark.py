"""What a room's mark means that a scanner typed from a sheet: where it leads, or why nowhere."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from hotelwatch.core.checks.room_mark import RoomMark, file_number, read_mark
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.screens.frame.go_to_box import Goal, Kind
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class MarkRead:
    """Where a mark leads; ``problem`` says why it leads nowhere."""

    goals: tuple[Goal, ...]
    problem: str = ""


@dataclass(frozen=True, slots=True)
class WaysFromMark:
    """How one comes to a sheet's check, filled in, and to its room; None: no page shows it."""

    to_check: Callable[[RoomMark], object] | None
    to_room: Callable[[RoomNo], object] | None


def goals_of_mark(house: House, ways: WaysFromMark, typed: str) -> MarkRead | None:
    """Where the mark that was typed leads, recording its check first; None if it is no mark."""
    mark = read_mark(typed)
    if mark is None:
        return None
    if mark.file != file_number(house):
        return MarkRead((), _("This mark is from a sheet of another hotel's file."))
    room = next((no for no in house.rooms if no.casefold() == mark.room.casefold()), None)
    if room is None:
        gone = _("Room {room} of this sheet is not on the roster any more.")
        return MarkRead((), gone.format(room=mark.room))
    of = _("Sheet of {day}").format(day=day_text(mark.on))
    goals = []
    if ways.to_check is not None:
        text = _("Record the check of room {room}").format(room=room)
        known = replace(mark, room=room)
        goals.append(Goal(Kind.ROOM, room, text, of, partial(ways.to_check, known)))
    if ways.to_room is not None:
        text = _("Room {room}").format(room=room)
        goals.append(Goal(Kind.ROOM, room, text, of, partial(ways.to_room, room)))
    return MarkRead(tuple(goals))
