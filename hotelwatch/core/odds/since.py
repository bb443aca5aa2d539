"""At a find: between which days it came in, who stayed then, what moved, and the neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.case_facts import GuestMoved, Outcome
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.evidence import record_in
from hotelwatch.core.odds.find import until
from hotelwatch.core.odds.hotel import Reckoning, odds_of
from hotelwatch.core.odds.room import RoomOdds, room_odds
from hotelwatch.core.odds_figures import ByStance, Stance
from hotelwatch.core.parameters import Evidence as Weight
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.stays.openings import Occupancy

LOW, HIGH = 0.05, 0.95
"""The quantiles between which it most likely came in."""
HALF = 0.5
DAYS_A_WEEK = 7
Window = tuple[date, date]


@dataclass(frozen=True, slots=True)
class StayThen:
    """A stay that touches the days in which it most likely came in; whose is never known."""

    booking: str
    arrives_on: date
    leaves_on: date
    chance: ByStance
    """That it came in on the day of this arrival."""
    is_guess: bool
    """Whether the room is a guess of ours: front desk gave the booking none."""


@dataclass(frozen=True, slots=True)
class MoveThen:
    """Guests or furniture that came to the room in those days, or left it since."""

    moved_on: date
    other: RoomNo
    is_outgoing: bool
    what: str
    """Furniture in a few words; empty for guests."""


@dataclass(frozen=True, slots=True)
class NeighbourThen:
    """A neighbour and its chance today, with the find next door reckoned in."""

    room: RoomNo
    kinds: tuple[Kind, ...]
    is_found: bool
    """Whether it has a find itself: of this case, or a confirmed one."""
    is_of_case: bool
    """Whether that find is one of this case."""
    is_judged: bool
    """Whether that find was judged to be of bed bugs."""
    chance: ByStance
    without: ByStance
    """What its own record alone says, had nothing been found next door."""


@dataclass(frozen=True, slots=True)
class BeforeRecord:
    """What is not known of the days in which it may have come in."""

    record_from: date
    """Looks at the room are read from this day on."""
    bookings_from: date | None
    """Bookings are at hand from this day on; None: there are none."""
    before_bookings: ByStance
    """The chance that it came in before that day."""


@dataclass(frozen=True, slots=True)
class Survival:
    """A treatment before the find, and the chance that what was found outlived it."""

    treated_on: date
    chance: ByStance


@dataclass(frozen=True, slots=True)
class CameIn:
    """When what a find met came in, as ``FindSince`` has it."""

    window: Mapping[Stance, Window]
    middle_on: Mapping[Stance, date]
    insects: ByStance
    survival: Survival | None


@dataclass(frozen=True, slots=True)
class FindSince:
    """What a find says of the time before it."""

    room: RoomNo
    found_on: date
    is_judged: bool
    """Whether it was judged to be of bed bugs; else all of this holds only if it is."""
    window: Mapping[Stance, Window]
    """From the 5 to the 95 % quantile of the day on which it came in."""
    middle_on: Mapping[Stance, date]
    """The day before which it came in as likely as after it."""
    insects: ByStance
    """How many there were on the day of the find, in the middle case."""
    survival: Survival | None
    before: BeforeRecord
    looks: tuple[date, ...]
    """Days of looks in the window that found nothing."""
    stays: tuple[StayThen, ...]
    """The likeliest first."""
    moves: tuple[MoveThen, ...]
    neighbours: tuple[NeighbourThen, ...]
    """The likeliest first."""

    @property
    def span(self) -> Window:
        """From the earliest to the latest day of all stances."""
        windows = self.window.values()
        return min(first for first, _ in windows), max(last for _, last in windows)

    @property
    def likely_outlived(self) -> bool:
        """Whether it more likely outlived a treatment than came in after it."""
        return self.survival is not None and self.survival.chance[Stance.CENTRAL] > HALF

    @property
    def age_weeks(self) -> ByStance:
        """Its middle age on the day of the find, in weeks."""
        return {s: (self.found_on - day).days / DAYS_A_WEEK for s, day in self.middle_on.items()}


@dataclass(frozen=True, slots=True)
class CaseOdds:
    """What a case's signs say of the time before them and of the rooms around."""

    case: CaseNo
    is_judged: bool
    """Whether they were judged to be bed bugs; else this holds only if they are."""
    is_ruled_out: bool
    """Whether they were judged to be something else: nothing is reckoned then."""
    finds: tuple[FindSince, ...]
    """Of each room with a sign, in the order written down."""
    gone: tuple[RoomNo, ...]
    """Rooms with a sign that left the roster: nothing can be reckoned for them."""
    chances: Mapping[RoomNo, ByStance]
    """Chances today of rooms around and of those asked after, if they have no find."""

    def is_latest(self, found: FindSince) -> bool:
        """Whether no later find of the case was in the same room."""
        return found is [one for one in self.finds if one.room == found.room][-1]

    @property
    def found_in(self) -> frozenset[RoomNo]:
        """Rooms with a find of this case."""
        return frozenset(found.room for found in self.finds)


@dataclass(frozen=True, slots=True)
class Find:
    """A find of a case: where, and in which column."""

    case: CaseNo
    room: RoomNo
    day: int
    is_judged: bool
    """Whether it was judged to be of bed bugs; a weak sign never was."""


def finds_of_case(house: House, reckoning: Reckoning, case: CaseNo) -> tuple[Find, ...]:
    """The finds that a case's signs are, by room in the order written down."""
    rows = house.sightings.get(case, ())
    entries = {row.entry for row in rows}
    return tuple(
        Find(case, room, day, is_confirmed(house, case, weight))
        for room in dict.fromkeys(row.fact.room for row in rows)
        if room in reckoning.records.plain
        for day, weight, is_taken, entry in reckoning.records.plain[room].signs
        if is_taken and entry in entries
    )


def is_confirmed(house: House, case: CaseNo, weight: Weight) -> bool:
    """Whether a sign of this weight is of bed bugs by the judgement of its case."""
    judged = judgement_of(house, case)
    is_so = judged is not None and judged.outcome is Outcome.CONFIRMED
    return is_so and weight is not Weight.WEAK


def find_since(house: House, occupancy: Occupancy, reckoning: Reckoning, find: Find) -> FindSince:
    """What a find says of the time before it, as known today."""
    known = reckoning.records
    of = odds_at(house, reckoning, find)
    came = came_in(reckoning, of)
    windows = came.window.values()
    span = min(first for first, _ in windows), max(last for _, last in windows)
    return FindSince(
        room=find.room,
        found_on=known.day_of(find.day),
        is_judged=find.is_judged,
        window=came.window,
        middle_on=came.middle_on,
        insects=came.insects,
        survival=came.survival,
        before=_before(reckoning, find.room, of),
        looks=_looks(reckoning, find, span),
        stays=tuple(_stays(occupancy, reckoning, find.room, of, span)),
        moves=_moves(house, find.room, known.day_of(find.day), span),
        neighbours=_neighbours(house, reckoning, find),
    )


def odds_at(house: House, reckoning: Reckoning, find: Find) -> dict[Stance, RoomOdds]:
    """A room's odds on the evening of a find, before what was done about it."""
    return {
        stance: room_odds(
            until(odds_of(reckoning, house, find.room, stance)[0], find.day), odds.tables
        )
        for stance, odds in reckoning.of.items()
    }


def came_in(reckoning: Reckoning, of: Mapping[Stance, RoomOdds]) -> CameIn:
    """When what is there came in, by odds on the evening of its find."""
    known = reckoning.records
    middle = {stance: odds.since_window(0.5, 0.5)[0] for stance, odds in of.items()}
    return CameIn(
        window={
            stance: (known.day_of(first), known.day_of(last))
            for stance, odds in of.items()
            for first, last in [odds.since_window(LOW, HIGH)]
        },
        middle_on={stance: known.day_of(column) for stance, column in middle.items()},
        insects={stance: float(of[stance].insects[column]) for stance, column in middle.items()},
        survival=_survival(reckoning, of),
    )


def _survival(reckoning: Reckoning, of: Mapping[Stance, RoomOdds]) -> Survival | None:
    since = of[Stance.CENTRAL].since
    if not since:
        return None
    left = {stance: float(odds.since_chances[since]) for stance, odds in of.items()}
    return Survival(reckoning.records.day_of(since), left)


def _before(reckoning: Reckoning, room: RoomNo, of: Mapping[Stance, RoomOdds]) -> BeforeRecord:
    known = reckoning.records
    first = known.nights.known_from
    return BeforeRecord(
        record_from=known.day_of(known.plain[room].began),
        bookings_from=None if first is None else known.day_of(first),
        before_bookings={
            stance: float(odds.since_chances[:first].sum()) for stance, odds in of.items()
        },
    )


def _looks(reckoning: Reckoning, find: Find, span: Window) -> tuple[date, ...]:
    known = reckoning.records
    clean = {
        known.day_of(visit.day)
        for visit in known.plain[find.room].visits
        if any(visit.seen) and not visit.has_find and visit.day <= find.day
    }
    return tuple(day for day in sorted(clean) if day >= span[0])


def _stays(
    occupancy: Occupancy,
    reckoning: Reckoning,
    room: RoomNo,
    of: Mapping[Stance, RoomOdds],
    span: Window,
) -> list[StayThen]:
    known = reckoning.records
    arrivals = known.nights.arrivals_of(known.plain[room].row)
    found = []
    for stay in occupancy.stays_by_room.get(room, ()):
        column = (stay.arrives_on - known.nights.first_on).days
        is_then = stay.leaves_on >= span[0] and stay.arrives_on <= span[1]
        if not is_then or stay.arrives_on >= stay.leaves_on:
            continue
        chance = {
            # Of two stays that began on one day nobody knows with which it came.
            stance: float(odds.since_chances[column] / max(1.0, arrivals[column]))
            if 0 <= column < len(odds.weights)
            else 0.0
            for stance, odds in of.items()
        }
        is_guess = stay.booking in occupancy.provisional
        found.append(StayThen(stay.booking, stay.arrives_on, stay.leaves_on, chance, is_guess))
    return sorted(found, key=lambda row: (-row.chance[Stance.CENTRAL], row.arrives_on))


def _moves(house: House, room: RoomNo, found_on: date, span: Window) -> tuple[MoveThen, ...]:
    """What came from the window's first day until the find; what left until it was treated."""
    treated = [day for day in house.treated_on.get(room, ()) if day >= found_on]
    last = min(treated, default=date.max)
    found: list[MoveThen] = []
    for move in _told_moves(house):
        if room not in (move.from_room, move.to_room) or move.moved_on < span[0]:
            continue
        is_outgoing = move.from_room == room
        if move.moved_on <= (last if is_outgoing else found_on):
            other = move.to_room if is_outgoing else move.from_room
            what = move.what if isinstance(move, FurnitureMoved) else ""
            found.append(MoveThen(move.moved_on, other, is_outgoing, what))
    return tuple(sorted(found, key=lambda move: (move.moved_on, move.other)))


def _told_moves(house: House) -> Iterator[GuestMoved | FurnitureMoved]:
    yield from (move for move in house.all_of(GuestMoved) if not move.before_arrival)
    yield from house.all_of(FurnitureMoved)


def _neighbours(house: House, reckoning: Reckoning, find: Find) -> tuple[NeighbourThen, ...]:
    found = [
        _neighbour(house, reckoning, other, find.case)
        for other in reckoning.around.get(find.room, ())
        if all(other.room in odds.rooms for odds in reckoning.of.values())
    ]
    return tuple(sorted(found, key=lambda row: (-row.chance[Stance.CENTRAL], row.room)))


def _neighbour(house: House, reckoning: Reckoning, other: Neighbour, case: CaseNo) -> NeighbourThen:
    entries = {row.entry for row in house.sightings.get(case, ())}
    figures = {stance: odds.rooms[other.room] for stance, odds in reckoning.of.items()}
    signs = reckoning.records.plain[other.room].signs
    taken = [(weight, entry) for _day, weight, is_taken, entry in signs if is_taken]
    return NeighbourThen(
        room=other.room,
        kinds=other.kinds,
        is_found=figures[Stance.CENTRAL].is_found,
        is_of_case=any(entry in entries for _weight, entry in taken),
        is_judged=any(
            entry not in entries or is_confirmed(house, case, weight) for weight, entry in taken
        ),
        chance={stance: each.chance for stance, each in figures.items()},
        without=chance_alone(house, reckoning, other.room),
    )


def chance_alone(house: House, reckoning: Reckoning, room: RoomNo) -> ByStance:
    """What a room's own record says today, whatever was found next door."""
    return {
        stance: room_odds(
            record_in(house, reckoning.records, room, odds.setting), odds.tables
        ).chance
        for stance, odds in reckoning.of.items()
    }
