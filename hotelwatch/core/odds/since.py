"""At a find: between which days it came in, who stayed then, what moved, and the neighbours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.find import last_find, until
from hotelwatch.core.odds.hotel import Reckoning, odds_of
from hotelwatch.core.odds.room import RoomOdds, room_odds
from hotelwatch.core.odds_figures import ByStance, Stance
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.stays.openings import Occupancy

LOW, HIGH = 0.05, 0.95
"""The quantiles between which it most likely came in."""
ONE_DAY = timedelta(days=1)
Window = tuple[date, date]


@dataclass(frozen=True, slots=True)
class StayThen:
    """A stay that touches the days in which it most likely came in; whose is never known."""

    booking: str
    arrives_on: date
    leaves_on: date
    chance: ByStance
    """That it came in on the day of this arrival, if it came by itself."""


@dataclass(frozen=True, slots=True)
class MoveThen:
    """Guests or furniture that left the room, or came to it, in those days."""

    moved_on: date
    other: RoomNo
    is_outgoing: bool
    what: str
    """Furniture in a few words; empty for guests."""


@dataclass(frozen=True, slots=True)
class NeighbourThen:
    """A neighbour and its chance, with the find next door reckoned in."""

    room: RoomNo
    kinds: tuple[Kind, ...]
    is_found: bool
    chance: ByStance


@dataclass(frozen=True, slots=True)
class FindSince:
    """What a find says of the time before it."""

    room: RoomNo
    found_on: date
    window: Mapping[Stance, Window]
    """From the 5 to the 95 % quantile of the day on which it came in."""
    age_weeks: ByStance
    """Its middle age on the day of the find, in weeks."""
    insects: ByStance
    """How many there were, in the middle case."""
    stays: tuple[StayThen, ...]
    moves: tuple[MoveThen, ...]
    neighbours: tuple[NeighbourThen, ...]
    """The likeliest first."""


def find_since(
    house: House, occupancy: Occupancy, reckoning: Reckoning, room: RoomNo
) -> FindSince | None:
    """What the last find of a room says; None where it has none."""
    of: dict[Stance, RoomOdds] = {}
    day = None
    for stance, odds in reckoning.of.items():
        record, _now = odds_of(reckoning, house, room, stance)
        day = last_find(record)
        if day is None:
            return None
        of[stance] = room_odds(until(record, day), odds.tables)
    if day is None:
        return None
    known = reckoning.records
    window = {
        stance: (known.day_of(first), known.day_of(last))
        for stance, odds in of.items()
        for first, last in [odds.since_window(LOW, HIGH)]
    }
    middle = {stance: odds.since_window(0.5, 0.5)[0] for stance, odds in of.items()}
    span = min(first for first, _ in window.values()), max(last for _, last in window.values())
    return FindSince(
        room=room,
        found_on=known.day_of(day),
        window=window,
        age_weeks={stance: (day - column) / 7 for stance, column in middle.items()},
        insects={stance: float(of[stance].insects[column]) for stance, column in middle.items()},
        stays=_stays(occupancy, reckoning, room, of, span),
        moves=_moves(house, room, span),
        neighbours=_neighbours(reckoning, room),
    )


def _stays(
    occupancy: Occupancy,
    reckoning: Reckoning,
    room: RoomNo,
    of: Mapping[Stance, RoomOdds],
    span: Window,
) -> tuple[StayThen, ...]:
    first_on = reckoning.records.nights.first_on
    found = []
    for stay in occupancy.stays_by_room.get(room, ()):
        if stay.leaves_on < span[0] or stay.arrives_on > span[1]:
            continue
        column = (stay.arrives_on - first_on).days
        chance = {
            stance: float(odds.since_chances[column]) if 0 <= column < len(odds.weights) else 0.0
            for stance, odds in of.items()
        }
        found.append(StayThen(stay.booking, stay.arrives_on, stay.leaves_on, chance))
    return tuple(found)


def _moves(house: House, room: RoomNo, span: Window) -> tuple[MoveThen, ...]:
    found: list[MoveThen] = []
    told: list[GuestMoved | FurnitureMoved] = [
        *(move for move in house.all_of(GuestMoved) if not move.before_arrival),
        *house.all_of(FurnitureMoved),
    ]
    for move in told:
        if room in (move.from_room, move.to_room) and span[0] <= move.moved_on <= span[1]:
            is_outgoing = move.from_room == room
            other = move.to_room if is_outgoing else move.from_room
            what = move.what if isinstance(move, FurnitureMoved) else ""
            found.append(MoveThen(move.moved_on, other, is_outgoing, what))
    return tuple(sorted(found, key=lambda move: (move.moved_on, move.other)))


def _neighbours(reckoning: Reckoning, room: RoomNo) -> tuple[NeighbourThen, ...]:
    found = []
    for other in reckoning.around.get(room, ()):
        figures = {
            stance: odds.rooms[other.room]
            for stance, odds in reckoning.of.items()
            if other.room in odds.rooms
        }
        if len(figures) == len(Stance):
            chance = {stance: each.chance for stance, each in figures.items()}
            is_found = figures[Stance.CENTRAL].is_found
            found.append(NeighbourThen(other.room, other.kinds, is_found, chance))
    return tuple(sorted(found, key=lambda row: (-row.chance[Stance.CENTRAL], row.room)))
