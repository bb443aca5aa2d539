"""What a draft changes of the round that is published."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.facts import RoomNo, SlotPublished, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.plan import Plan
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, slots=True)
class Moved:
    """A published visit that a draft has on another day, with another team, or nowhere."""

    room: RoomNo
    was_on: date
    was_team: TeamName
    now_on: date | None
    """None where the draft's days have no look at its beds."""
    now_team: TeamName
    """Empty where it is on no sheet."""
    was_possible: bool
    """Whether the room can still be entered on the day that was published."""
    had_team: bool
    """Whether its team still works then."""
    is_forbidden: bool = False
    """Whether a supervisor said: not on the day that was published."""
    is_pinned_away: bool = False
    """Whether a supervisor pinned it to another day or team."""


def moved_visits(house: House, occupancy: Occupancy, plan: Plan) -> tuple[Moved, ...]:
    """The published visits from the draft's first day on that it does not leave as they are.

    By day and team as published. Those looked at already, and rooms gone, are left out.
    """
    by_room: defaultdict[RoomNo, list[SlotPublished]] = defaultdict(list)
    for slot in plan.slots:
        by_room[slot.room].append(slot)
    found, calendar, hand = [], Calendar(house), Hand(house)
    for day, slots in sorted(house.slots.items()):
        if not plan.from_on <= day <= plan.until_on:
            continue
        for slot in slots:
            if slot.room not in house.rooms or is_looked_at(house, slot):
                continue
            now = _now(slot, by_room[slot.room])
            if now is not None and (now.on, now.team) == (slot.on, slot.team):
                continue
            found.append(
                Moved(
                    room=slot.room,
                    was_on=slot.on,
                    was_team=slot.team,
                    now_on=now.on if now else None,
                    now_team=now.team if now else TeamName(""),
                    was_possible=occupancy.opening(slot.room, slot.on) is not None,
                    had_team=calendar.minutes(slot.team, slot.on) > 0,
                    is_forbidden=slot.on in hand.forbidden(slot.room),
                    is_pinned_away=_is_pinned_away(hand, slot, plan.from_on),
                )
            )
    return tuple(sorted(found, key=lambda one: (one.was_on, one.was_team, one.room)))


def _is_pinned_away(hand: Hand, was: SlotPublished, today: date) -> bool:
    """Whether a pin names another day or another team than was published."""
    day, team = hand.pinned_day(was.room, today), hand.pinned_team(was.room, today)
    return day not in (None, was.on) or team not in (None, was.team)


def _now(was: SlotPublished, planned: list[SlotPublished]) -> SlotPublished | None:
    """Where beds of a published visit stand now: on its own sheet if some do, else the first."""
    beds = set(was.beds)
    same = [slot for slot in planned if beds & set(slot.beds)]
    own = [slot for slot in same if (slot.on, slot.team) == (was.on, was.team)]
    return next(iter(own or same), None)
