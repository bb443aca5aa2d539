"""What a draft changes of the round that is published."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import beds_to_come, is_looked_at, tried_beds
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.facts import RoomNo, SlotPublished, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.plan import Plan
from hotelwatch.core.stays.entering import after_reentry, from_clock_on, reentries
from hotelwatch.core.stays.openings import Occupancy, Opening


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
    had_minutes: bool = True
    """Whether its team still has the minutes that the sheet published for that day takes."""
    is_forbidden: bool = False
    """Whether a supervisor said: not on the day that was published."""
    is_pinned_away: bool = False
    """Whether a supervisor pinned it to another day or team."""
    only_beds: tuple[str, ...] = ()
    """The beds that go elsewhere while others of the visit stay; empty for all of it."""
    is_if_whole: bool = False
    """Whether it goes only if likely visits are published too: a day after the draft's, of
    which the draft has a likely look sooner."""


def moved_visits(
    house: House, occupancy: Occupancy, plan: Plan, moment: datetime | None = None
) -> tuple[Moved, ...]:
    """The published visits from the draft's first day on that it does not leave as they are.

    By day and team as published. Those looked at already, and rooms gone, are left out.
    Of the days after the draft's those are among them whose beds it has sooner. ``moment``:
    of its day only what is left is possible.
    """
    drafted, promised = _by_room(house, plan.slots), _by_room(house, plan.promised)
    found, calendar, hand = [], Calendar(house), Hand(house)
    entering = reentries(house)
    local = None if moment is None else moment.astimezone(house.zone)
    for day, slots in sorted(house.slots.items()):
        if day < plan.from_on:
            continue
        is_after = day > plan.until_on
        used = _used(house, slots)
        for slot in slots:
            if slot.room not in house.rooms or is_looked_at(house, slot):
                continue
            leaves = _leaves(house, slot, drafted.get(slot.room, ()))
            if leaves is None or (is_after and leaves[1] is None):
                continue
            only, now = leaves
            is_sooner = promised.get(slot.room, ()) if is_after else ()
            opening = occupancy.opening(slot.room, slot.on)
            opening = after_reentry(opening, entering.get(slot.room), house.zone)
            found.append(
                Moved(
                    room=slot.room,
                    was_on=slot.on,
                    was_team=slot.team,
                    now_on=now.on if now else None,
                    now_team=now.team if now else TeamName(""),
                    was_possible=_is_possible(calendar, slot, opening, local),
                    had_team=(has := calendar.minutes(slot.team, slot.on)) > 0,
                    had_minutes=used[slot.team] <= has,
                    is_forbidden=slot.on in hand.forbidden(slot.room),
                    is_pinned_away=_is_pinned_away(hand, slot, plan.from_on),
                    only_beds=only,
                    is_if_whole=is_after and now not in is_sooner,
                )
            )
    return tuple(sorted(found, key=lambda one: (one.was_on, one.was_team, one.room)))


def _is_possible(
    calendar: Calendar, was: SlotPublished, opening: Opening | None, local: datetime | None
) -> bool:
    """Whether the room can still be entered on its day, today for as long as the visit takes."""
    if local is None or local.date() != was.on:
        return opening is not None
    rest = from_clock_on(opening, f"{local:%H:%M}")
    return rest is not None and calendar.meets(was.team, rest, was.minutes)


def _is_pinned_away(hand: Hand, was: SlotPublished, today: date) -> bool:
    """Whether a pin names another day or another team than was published."""
    day, team = hand.pinned_day(was.room, today), hand.pinned_team(was.room, today)
    return day not in (None, was.on) or team not in (None, was.team)


def _by_room(house: House, slots: Iterable[SlotPublished]) -> Mapping[RoomNo, list[SlotPublished]]:
    """Slots by room, without beds for which somebody has come already."""
    by_room: defaultdict[RoomNo, list[SlotPublished]] = defaultdict(list)
    for slot in slots:
        to_do = beds_to_come(house, slot)
        if to_do or not slot.beds:
            by_room[slot.room].append(replace(slot, beds=to_do))
    return by_room


def _used(house: House, slots: Iterable[SlotPublished]) -> Mapping[TeamName, int]:
    """Minutes that each team's published sheet of a day takes, ways among them."""
    sheets: defaultdict[TeamName, list[SlotPublished]] = defaultdict(list)
    for slot in slots:
        if slot.room in house.rooms:
            sheets[slot.team].append(slot)
    return defaultdict(
        int,
        {team: sheet_minutes(house, sheet) for team, sheet in sheets.items()},
    )


def _leaves(
    house: House, was: SlotPublished, planned: Sequence[SlotPublished]
) -> tuple[tuple[str, ...], SlotPublished | None] | None:
    """Which beds leave the sheet of a published visit, and where the first of them goes.

    No beds are named where all go that nobody has come for yet. None: they all stay.
    """
    own = [slot for slot in planned if (slot.on, slot.team) == (was.on, was.team)]
    if not was.beds:
        return None if own else ((), next(iter(planned), None))
    there = {bed.bed for bed in house.beds_of(was.room)} - set(tried_beds(house, was))
    left = [bed for bed in was.beds if bed in there]
    gone = [bed for bed in left if not any(bed in slot.beds for slot in own)]
    if not gone:
        return None
    now = next((slot for slot in planned if not set(gone).isdisjoint(slot.beds)), None)
    return tuple(gone) if len(gone) < len(left) else (), now
