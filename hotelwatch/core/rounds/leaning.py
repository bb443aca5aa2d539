"""Which planned visits lean on a window that may close, and where each falls back to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.walked import sheet_minutes, ways_minutes
from hotelwatch.core.facts import RoomNo, SlotPublished, TeamName
from hotelwatch.core.rounds.visits import View, Visit
from hotelwatch.core.stays.chances import Chances


@dataclass(frozen=True, slots=True)
class Fallback:
    """Another day on which a visit could be made, likely open and in time."""

    on: date
    is_later: bool
    """Than the planned day. An earlier one is past when a guest is found in the room: it helps
    only who moves the visit there ahead."""
    has_minutes: bool
    """Whether a team has minutes left for the visit then; else another would have to give way."""


@dataclass(frozen=True, slots=True)
class Leaning:
    """A planned visit whose window is uncertain."""

    room: RoomNo
    on: date
    chance: float
    """That the room is open that day."""
    fallback: Fallback | None
    """None if no other of the plan's days is likely open and in time."""
    nights: int = 0
    """Of the hotel's own nights the chance was learned from so many; 0: it is assumed."""


def leaning(view: View, slots: Sequence[SlotPublished], chances: Chances) -> tuple[Leaning, ...]:
    """The slots after the first day that are not certain enough, in their order.

    A day that is likely open has at least the chance that is certain enough. Later days go
    before earlier ones, those with minutes left before others, and the last before the first:
    a visit long before its due day gives away days of its cycle. What is late already is in
    time on no day: it falls back to any of them, the first before the last. What no visit of
    these days wants any more leans on nothing.
    """
    enough = view.house.rules.figures.certain_enough.value
    sheets = _Sheets(view, slots)
    visits: defaultdict[RoomNo, list[Visit]] = defaultdict(list)
    for visit in view.visits:
        visits[visit.room].append(visit)
    found = []
    for slot in slots:
        if slot.on <= view.days[0]:
            continue
        by_day = chances.of(slot.room)
        chance = by_day.get(slot.on)
        of_slot = [visit for visit in visits[slot.room] if _is_of(slot, visit)]
        if chance is None or chance >= enough or not of_slot:
            continue
        others = [day for day in view.days if day != slot.on and by_day.get(day, 0) >= enough]
        fallback = sheets.fallback(slot, of_slot, others)
        found.append(Leaning(slot.room, slot.on, chance, fallback, chances.nights))
    return tuple(found)


def _is_of(slot: SlotPublished, visit: Visit) -> bool:
    beds = {bed.bed for bed in visit.beds}
    return not beds or not beds.isdisjoint(slot.beds)


class _Sheets:
    """What the plan leaves of each team's days."""

    def __init__(self, view: View, slots: Sequence[SlotPublished]) -> None:
        self.view = view
        self._rooms: defaultdict[tuple[date, TeamName], list[RoomNo]] = defaultdict(list)
        self._minutes: defaultdict[tuple[date, TeamName], int] = defaultdict(int)
        for slot in slots:
            self._rooms[slot.on, slot.team].append(slot.room)
            self._minutes[slot.on, slot.team] += slot.minutes

    def fallback(
        self, slot: SlotPublished, visits: Sequence[Visit], days: Sequence[date]
    ) -> Fallback | None:
        """The best of some days for a slot that does these visits; None if none will do."""
        due_on = min(visit.due_on for visit in visits)
        is_late = due_on < self.view.days[0]
        first_on = max(visit.first_on for visit in visits)
        left = {
            day: most
            for day in days
            if first_on <= day
            and (is_late or day <= due_on)
            and (most := max(self._left(slot, visits, day), default=None)) is not None
        }
        for is_later in (True, False):
            able = [day for day in left if (day > slot.on) is is_later]
            if able:
                roomy = [day for day in able if left[day] >= 0]
                on = (min if is_late else max)(roomy or able)
                return Fallback(on, is_later, bool(roomy))
        return None

    def _left(self, slot: SlotPublished, visits: Sequence[Visit], day: date) -> Iterator[int]:
        """Minutes that each team that could do it would have left after it; below 0 too few."""
        view = self.view
        openings = [view.opening(visit, day) for visit in visits]
        if None in openings:
            return
        people = max(visit.people for visit in visits)
        pinned = view.hand.pinned_team(slot.room, view.days[0])
        for team in view.crews.working(day):
            if team.people < people or pinned not in (None, team.team):
                continue
            if view.crews.has_shifts and not view.calendar.meets(
                team.team, openings[0], slot.minutes
            ):
                continue
            whole = view.calendar.minutes(team.team, day)
            if sheet_minutes(view.house, [slot]) > whole:
                continue
            rooms = [*self._rooms[day, team.team], slot.room]
            spent = self._minutes[day, team.team] + ways_minutes(view.house, rooms)
            yield whole - spent - slot.minutes
