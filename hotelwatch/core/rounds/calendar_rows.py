"""The rounds as a calendar shows them: teams by days, each cell with its minutes and its rooms.

A cell is a team's day; its rooms stand as chips, by corridor in walking order. A day
without the team says why.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.calendar import Away, Calendar
from hotelwatch.core.checks.slots import SlotRow
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.leaning import Leaning


@dataclass(frozen=True, slots=True)
class Chip:
    """A room on a team's day."""

    row: SlotRow
    floor: str
    wing: str
    is_firm: bool
    """Published, or promised by publishing; others fill the day on its morning."""
    is_day_pinned: bool
    is_team_pinned: bool
    leaning: Leaning | None = None
    """What it leans on where its window is uncertain; None where it is certain enough."""

    @property
    def room(self) -> RoomNo:
        """Its label."""
        return self.row.room

    @property
    def corridor(self) -> tuple[str, str]:
        """Floor and wing."""
        return self.floor, self.wing

    @property
    def is_pinned(self) -> bool:
        """Whether a supervisor's hand holds it here, by day or by team."""
        return self.is_day_pinned or self.is_team_pinned


@dataclass(frozen=True, slots=True)
class CorridorChips:
    """The rooms of one corridor (a floor of a wing) in a cell."""

    floor: str
    wing: str
    chips: tuple[Chip, ...]

    @property
    def corridor(self) -> tuple[str, str]:
        """Floor and wing."""
        return self.floor, self.wing


@dataclass(frozen=True, slots=True)
class Cell:
    """A team's day."""

    on: date
    team: TeamName
    used: int
    """Minutes that its rooms take, and the ways to their corridors."""
    minutes: int
    """What plans may use of its day; 0 where it does not work."""
    corridors: tuple[CorridorChips, ...]
    away: Away | None
    """Why it has no minutes; None where it has some."""
    reason: str
    """In the words of whoever closed or changed the day; empty if none were said."""
    is_changed: bool = False
    """Whether it has other minutes than usual that day."""

    @property
    def key(self) -> tuple[date, TeamName]:
        """What the sheet is known by."""
        return self.on, self.team

    @property
    def chips(self) -> tuple[Chip, ...]:
        """All of its rooms, in walking order within each corridor."""
        return tuple(chip for corridor in self.corridors for chip in corridor.chips)


@dataclass(frozen=True, slots=True)
class CalendarRows:
    """Days across, teams down."""

    days: tuple[date, ...]
    teams: tuple[TeamName, ...]
    cells: Mapping[tuple[date, TeamName], Cell]
    """One for every day and team."""

    def find(self, room: RoomNo, beds: tuple[str, ...] | None = None) -> Chip | None:
        """The first chip of a room, of these beds if there is one; None if it stands nowhere."""
        cells = (self.cells[day, team] for day in self.days for team in self.teams)
        found = [chip for cell in cells for chip in cell.chips if chip.room == room]
        return next((chip for chip in found if chip.row.beds == beds), next(iter(found), None))


@dataclass(frozen=True, slots=True)
class Shown:
    """What a calendar is made of beside the house: a draft's, or what is published."""

    rows: Sequence[SlotRow]
    likely: frozenset[tuple[date, RoomNo]] = frozenset()
    """Visits that publishing does not promise."""
    leanings: Sequence[Leaning] = ()
    """The visits whose window is uncertain."""


def calendar_rows(house: House, days: Sequence[date], shown: Shown, *, today: date) -> CalendarRows:
    """Every team's every day. Teams stand by name; one that is gone stands while it has rooms."""
    calendar, hand = Calendar(house), Hand(house)
    leanings = {(one.on, one.room): one for one in shown.leanings}
    by_sheet: defaultdict[tuple[date, TeamName], list[Chip]] = defaultdict(list)
    for row in shown.rows:
        room = house.rooms[row.room]
        chip = Chip(
            row=row,
            floor=room.floor,
            wing=room.wing,
            is_firm=(row.on, row.room) not in shown.likely,
            is_day_pinned=hand.pinned_day(row.room, today) == row.on,
            is_team_pinned=hand.pinned_team(row.room, today) == row.team,
            leaning=leanings.get((row.on, row.room)),
        )
        by_sheet[row.on, row.team].append(chip)
    teams = tuple(sorted({*house.teams, *(team for _on, team in by_sheet)}))
    cells = {
        (day, team): _cell(house, calendar, by_sheet.get((day, team), []), on=day, team=team)
        for day in days
        for team in teams
    }
    return CalendarRows(tuple(days), teams, cells)


def _cell(
    house: House, calendar: Calendar, chips: Sequence[Chip], *, on: date, team: TeamName
) -> Cell:
    changed = calendar.changed(team, on)
    return Cell(
        on=on,
        team=team,
        used=sheet_minutes(house, [chip.row for chip in chips]),
        minutes=calendar.minutes(team, on),
        corridors=_corridors(chips),
        away=calendar.why_away(team, on),
        reason=calendar.closed_reason(on) or (changed.reason if changed else ""),
        is_changed=changed is not None,
    )


def _corridors(chips: Iterable[Chip]) -> tuple[CorridorChips, ...]:
    """Chips by corridor, the corridors in the order in which a team comes to them first."""
    by_corridor: dict[tuple[str, str], list[Chip]] = {}
    for chip in sorted(chips, key=lambda one: one.row.position):
        by_corridor.setdefault(chip.corridor, []).append(chip)
    return tuple(
        CorridorChips(floor, wing, tuple(found)) for (floor, wing), found in by_corridor.items()
    )
