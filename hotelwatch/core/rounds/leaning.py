"""Which planned visits lean on a window that may close, and where each falls back to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.facts import RoomNo, SlotPublished
from hotelwatch.core.stays.chances import Chances


@dataclass(frozen=True, slots=True)
class Leaning:
    """A planned visit whose window is uncertain."""

    room: RoomNo
    on: date
    chance: float
    """That the room is open that day."""
    fallback_on: date | None
    """The last other day, due day included, on which it is likely open; None if there is none."""
    nights: int = 0
    """Of the hotel's own nights the chance was learned from so many; 0: it is assumed."""


def leaning(
    slots: Iterable[SlotPublished],
    chances: Chances,
    *,
    due_on: Mapping[RoomNo, date],
    certain_enough: float,
) -> tuple[Leaning, ...]:
    """The slots whose chance is below ``certain_enough``, in their order, with a fallback each.

    A day that is likely open has at least that chance. Where it lies before the planned
    day, the visit is to be moved there as soon as its window closes. A room without a
    due day may fall back to any day known.
    """
    found = []
    for slot in slots:
        by_day = chances.of(slot.room)
        chance = by_day.get(slot.on)
        if chance is None or chance >= certain_enough:
            continue
        latest = due_on.get(slot.room, date.max)
        others = (
            day
            for day, other in by_day.items()
            if day != slot.on and day <= latest and other >= certain_enough
        )
        found.append(Leaning(slot.room, slot.on, chance, max(others, default=None), chances.nights))
    return tuple(found)
