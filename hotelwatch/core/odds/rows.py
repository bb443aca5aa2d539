"""What the odds come to, as rows: rooms by what a look saves, floors and wings, the hotel."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.counting import chance_of_at_most, chance_of_none, expected_rooms
from hotelwatch.core.odds.hotel import Reckoning, RoomFigures
from hotelwatch.core.odds_figures import ByStance, Stance

MINUTES_AN_HOUR = 60


@dataclass(frozen=True, slots=True)
class RoomRow:
    """A room among those to look at next, with what its rank rests on."""

    room: RoomNo
    floor: str
    wing: str
    is_found: bool
    """A confirmed find that was not treated since: no odds are needed."""
    chance: ByStance
    """That something is there and was missed."""
    finds: ByStance
    """That the usual look today finds something."""
    saves_days: ByStance
    """Infested room days that such a look saves, expected."""
    minutes: int
    """Of a team, for the usual look."""
    last_on: date | None
    """When the last of its undersides was looked at; None if one never was."""
    due_on: date | None
    """When the first of its undersides is due; None without beds."""

    @property
    def saves_per_hour(self) -> ByStance:
        """Infested room days saved for each hour of a team."""
        minutes = max(self.minutes, 1)
        return {key: days * MINUTES_AN_HOUR / minutes for key, days in self.saves_days.items()}


def room_rows(house: House, reckoning: Reckoning) -> tuple[RoomRow, ...]:
    """Every room, first where a look saves most for its minutes by the central stance."""
    last: dict[RoomNo, list[date | None]] = defaultdict(list)
    due: dict[RoomNo, list[date]] = defaultdict(list)
    for look in looks(house, reckoning.today):
        last[look.room].append(look.last_on)
        due[look.room].append(look.due_on)
    rows = [
        RoomRow(
            room=room,
            floor=house.rooms[room].floor,
            wing=house.rooms[room].wing,
            is_found=_figures(reckoning, room, Stance.CENTRAL).is_found,
            chance=_by_stance(reckoning, room, lambda figures: figures.chance),
            finds=_by_stance(reckoning, room, lambda figures: figures.finds),
            saves_days=_by_stance(reckoning, room, lambda figures: figures.saves_days),
            minutes=reckoning.looks[room].minutes,
            last_on=_earliest(last[room]),
            due_on=min(due[room], default=None),
        )
        for room in reckoning.records.plain
        if room in house.rooms
    ]
    return tuple(
        sorted(rows, key=lambda row: (row.is_found, -row.saves_per_hour[Stance.CENTRAL], row.room))
    )


def _earliest(days: list[date | None]) -> date | None:
    known = [day for day in days if day is not None]
    return min(known) if known and len(known) == len(days) else None


def _figures(reckoning: Reckoning, room: RoomNo, stance: Stance) -> RoomFigures:
    return reckoning.of[stance].rooms[room]


def _by_stance(
    reckoning: Reckoning, room: RoomNo, what: Callable[[RoomFigures], float]
) -> dict[Stance, float]:
    return {stance: what(_figures(reckoning, room, stance)) for stance in Stance}


@dataclass(frozen=True, slots=True)
class GroupRow:
    """A floor, a wing, or the whole hotel: rooms in which nothing confirmed is known."""

    name: str
    """Empty for the whole hotel."""
    rooms: int
    found: int
    """Rooms with a confirmed find, not treated since; they are not among ``rooms``."""
    expected: ByStance
    """How many of the rooms have something that was missed."""
    none: ByStance
    """The chance that none of them has, if its assumptions hold."""
    at_most_one: ByStance


def hotel_row(rows: Iterable[RoomRow]) -> GroupRow:
    """All rooms together."""
    return _group("", list(rows))


def floor_rows(house: House, rows: Iterable[RoomRow]) -> tuple[GroupRow, ...]:
    """Floor by floor, from bottom to top."""
    groups: defaultdict[str, list[RoomRow]] = defaultdict(list)
    for row in rows:
        groups[row.floor].append(row)
    return tuple(_group(floor, groups[floor]) for floor in house.floors if floor in groups)


def wing_rows(rows: Iterable[RoomRow]) -> tuple[GroupRow, ...]:
    """Wing by wing, by name."""
    groups: defaultdict[str, list[RoomRow]] = defaultdict(list)
    for row in rows:
        groups[row.wing].append(row)
    return tuple(_group(wing, groups[wing]) for wing in sorted(groups))


def _group(name: str, rows: list[RoomRow]) -> GroupRow:
    unknown = [row for row in rows if not row.is_found]
    chances = {stance: [row.chance[stance] for row in unknown] for stance in Stance}
    return GroupRow(
        name=name,
        rooms=len(unknown),
        found=len(rows) - len(unknown),
        expected={stance: expected_rooms(each) for stance, each in chances.items()},
        none={stance: chance_of_none(each) for stance, each in chances.items()},
        at_most_one={stance: chance_of_at_most(each, 1) for stance, each in chances.items()},
    )


@dataclass(frozen=True, slots=True)
class PastPoint:
    """How many rooms had something that was missed, expected, as the record then stood."""

    on: date
    expected: ByStance


def past_points(reckoning: Reckoning) -> tuple[PastPoint, ...]:
    """Every four weeks back to the first day on record, the oldest first.

    Rooms with a find that was known count no more. Of days before the record it says nothing:
    how far back something may have come in is assumed there.
    """
    known = reckoning.records
    first_on = min(
        (known.day_of(plain.began) for plain in known.plain.values()), default=reckoning.today
    )
    return tuple(
        PastPoint(
            on,
            {
                stance: expected_rooms(
                    [chance for past in odds.past.values() if (chance := float(past[n])) < 1.0]
                )
                for stance, odds in reckoning.of.items()
            },
        )
        for n, on in enumerate(reckoning.past_on)
        if on >= first_on
    )
