"""Front desk's list: rooms not to sell, guests it touches, rooms let, nights to keep free.

Nothing on it says more than a guest may read over a shoulder: no sign, no case, no
reason but a neutral condition code.

Source: a block needs a named release, and every letting against a block must leave a
trace: 347 F.3d 672 (7th Cir. 2003), where rooms flagged not to be let were let.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from hotelwatch.core.case_facts import CheckAsked, QuarantineLifted, QuarantinePlaced
from hotelwatch.core.cases.case import is_open, suite_mates
from hotelwatch.core.cases.keep_free import KeepFree, keep_free
from hotelwatch.core.cases.release import earliest_release, if_treated_on, missing_for_release
from hotelwatch.core.days import days_from, local_day, moment_of
from hotelwatch.core.facts import CaseNo, HotelDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.stays.openings import Occupancy

ONE_DAY = timedelta(days=1)
MOST_CANDIDATES = 3


class Condition(StrEnum):
    """What a block waits for, in words that a guest may read; the slowest one is named."""

    UNTIL_RELEASED = "until_released"
    """Nobody can name a day yet."""
    WORK_TO_BE_DONE = "work_to_be_done"
    WORK_GOING_ON = "work_going_on"
    TO_BE_LOOKED_AT = "to_be_looked_at"
    READY_FOR_RELEASE = "ready_for_release"
    """Waits only for a named person to give it back."""


class Touched(StrEnum):
    """How a block touches a guest."""

    IN_HOUSE = "in_house"
    """In the room now, or taken to be, and staying on: to be moved."""
    ARRIVING = "arriving"


@dataclass(frozen=True, slots=True)
class Block:
    """A room not to sell."""

    room: RoomNo
    from_at: datetime
    earliest_until: date | None
    """The first day on which it might be let again; None while nobody can say."""
    condition: Condition


@dataclass(frozen=True, slots=True)
class TouchedArrival:
    """A guest who is in a blocked room or is to come into one."""

    stay: Stay
    room: RoomNo
    block: Block
    touched: Touched
    is_provisional: bool
    """The room is a guess of ours; front desk has given none."""
    from_on: date
    """The first night for which another room is wanted."""
    candidates: tuple[RoomNo, ...]
    """Rooms of the same type, free for the rest of the stay, that no case wants looked at."""


@dataclass(frozen=True, slots=True)
class LetAgainstBlock:
    """Nights for which a room was let although it was blocked; one row a booking and room."""

    room: RoomNo
    stay: Stay
    first_night: date
    nights: int
    from_at: datetime
    until_at: datetime | None
    """When the block ended; None while it holds."""
    was_let_blocked: bool
    """Whether the guest came into a blocked room; else a guest in house stayed on."""


@dataclass(frozen=True, slots=True)
class DeskList:
    """What front desk acts on, as of a moment."""

    made_at: datetime
    blocks: tuple[Block, ...]
    """In the order of the roster."""
    arrivals: tuple[TouchedArrival, ...]
    """The most urgent first: guests in house, then by arrival."""
    lets_against: tuple[LetAgainstBlock, ...]
    nights: tuple[KeepFree, ...]
    """Nights for which rounds ask that a room be kept free, by night and room."""


def desk_list(house: House, occupancy: Occupancy, now: datetime) -> DeskList:
    """Front desk's list as of a moment."""
    found = blocks(house, now)
    return DeskList(
        made_at=now,
        blocks=found,
        arrivals=touched_arrivals(house, occupancy, found, now=now),
        lets_against=lets_against_blocks(house, now),
        nights=keep_free(house, occupancy, local_day(now, house.zone)),
    )


# --- blocks -------------------------------------------------------------------------------


def blocks(house: House, now: datetime) -> tuple[Block, ...]:
    """Every room not to sell, each once, in the order of the roster.

    A room that several cases keep in quarantine is blocked from the first of them
    until the last of them can be lifted.
    """
    held: defaultdict[RoomNo, list[QuarantinePlaced]] = defaultdict(list)
    for placed, lifted in house.quarantines:
        if placed.from_at <= now and (lifted is None or now < lifted.lifted_at):
            held[placed.room].append(placed)
    order = {room: number for number, room in enumerate(house.rooms)}
    rooms = sorted(held, key=lambda room: (order.get(room, len(order)), room))
    return tuple(_block(house, room, held[room], now) for room in rooms)


def _block(house: House, room: RoomNo, held: list[QuarantinePlaced], now: datetime) -> Block:
    waits = [_wait(house, placed.case, room, now) for placed in held]
    days = [day for day, _ in waits]
    known = [day for day in days if day is not None]
    until = max(known) if len(known) == len(days) else None
    slowest = next(condition for day, condition in waits if day == until)
    return Block(room, min(placed.from_at for placed in held), until, slowest)


def _wait(house: House, case: CaseNo, room: RoomNo, now: datetime) -> tuple[date | None, Condition]:
    if case not in house.sightings:
        # The sighting was corrected and its quarantine, of another entry, was not.
        return None, Condition.UNTIL_RELEASED
    codes = {lack.code for lack in missing_for_release(house, case, room, now=now)}
    until = earliest_release(house, case, room, now=now)
    if "judgement" in codes:
        return until, Condition.UNTIL_RELEASED
    if codes & {"treatment", "treatment_after_find"}:
        return until, Condition.WORK_TO_BE_DONE
    if "reentry" in codes:
        return until, Condition.WORK_GOING_ON
    if codes:
        return until, Condition.TO_BE_LOOKED_AT
    return until, Condition.READY_FOR_RELEASE


# --- guests -------------------------------------------------------------------------------


def touched_arrivals(
    house: House, occupancy: Occupancy, found: tuple[Block, ...], *, now: datetime
) -> tuple[TouchedArrival, ...]:
    """Guests in blocked rooms and to come into them, the most urgent first.

    Arrivals count up to the earliest day of release. Where nobody can name one, they
    count up to the day that a treatment today would make possible.
    """
    today = local_day(now, house.zone)
    no_day = if_treated_on(house, today)
    shunned = rooms_to_shun(house, found)
    rows = [
        _touch(house, occupancy, (stay, block), today=today, shunned=shunned)
        for block in found
        for stay in occupancy.stays_by_room.get(block.room, ())
        if stay.counts and stay.status is not StayStatus.LEFT and stay.leaves_on > today
        if stay.arrives_on < max(block.earliest_until or no_day, today + ONE_DAY)
    ]
    rows.sort(key=_urgency)
    return tuple(rows)


def rooms_to_shun(house: House, found: tuple[Block, ...]) -> frozenset[RoomNo]:
    """Rooms into which no guest is moved: blocked, suite of one blocked, or asked for.

    A room that an open case asked for counts even where it has been looked at since:
    one clean look proves nothing, and the case is not closed.
    """
    blocked = {block.room for block in found}
    mates = {mate for room in blocked for mate in suite_mates(house, room)}
    asked = {
        row.fact.room
        for case in house.sightings
        if is_open(house, case)
        for row in house.kept_of_case(CheckAsked, case)
    }
    return frozenset(blocked | mates | asked)


def _touch(
    house: House,
    occupancy: Occupancy,
    touch: tuple[Stay, Block],
    *,
    today: date,
    shunned: frozenset[RoomNo],
) -> TouchedArrival:
    stay, block = touch
    in_house = stay.status is StayStatus.IN_HOUSE or stay.arrives_on < today
    from_on = max(stay.arrives_on, today)
    return TouchedArrival(
        stay=stay,
        room=block.room,
        block=block,
        touched=Touched.IN_HOUSE if in_house else Touched.ARRIVING,
        is_provisional=stay.booking in occupancy.provisional,
        from_on=from_on,
        candidates=_candidates(house, occupancy, block.room, (from_on, stay.leaves_on), shunned),
    )


def _urgency(row: TouchedArrival) -> tuple[bool, date, RoomNo, str]:
    return (row.touched is Touched.ARRIVING, row.from_on, row.room, row.stay.booking)


def _candidates(
    house: House,
    occupancy: Occupancy,
    room: RoomNo,
    nights: tuple[date, date],
    shunned: frozenset[RoomNo],
) -> tuple[RoomNo, ...]:
    described = house.rooms.get(room)
    if described is None:
        return ()
    first, leaves_on = nights
    free = (
        no
        for no, other in house.rooms.items()
        if no != room
        and other.room_type == described.room_type
        and no not in shunned
        and not any(
            stay.arrives_on < leaves_on and first < stay.leaves_on
            for stay in occupancy.stays_by_room.get(no, ())
        )
    )
    return tuple(no for no, _ in zip(free, range(MOST_CANDIDATES), strict=False))


# --- let against a block ------------------------------------------------------------------


def lets_against_blocks(house: House, now: datetime) -> tuple[LetAgainstBlock, ...]:
    """Rooms let while blocked, as the bookings tell: what happened, never what is to come.

    A night counts if the block held at the hour from which guests arrive. Tonight
    counts only for a guest who is in house and came today, into a blocked room. A
    stay that began on the day of the block, before it, counts from its second night.
    """
    today = local_day(now, house.zone)
    spans: defaultdict[RoomNo, list[_Span]] = defaultdict(list)
    for placed, lifted in house.quarantines:
        spans[placed.room].append(_span(house, placed, lifted))
    rows = [
        row
        for stay in house.stays
        if stay.room in spans and stay.counts
        if (row := _let_against(stay, spans[RoomNo(stay.room)], today)) is not None
    ]
    return tuple(sorted(rows, key=lambda row: (row.first_night, row.room, row.stay.booking)))


@dataclass(frozen=True, slots=True)
class _Span:
    """A quarantine by the nights on which it held at the hour from which guests arrive."""

    from_at: datetime
    until_at: datetime | None
    first_night: date
    end_night: date | None
    """The first night on which it no longer held."""

    def holds_on(self, night: date) -> bool:
        return self.first_night <= night and (self.end_night is None or night < self.end_night)


def _span(house: House, placed: QuarantinePlaced, lifted: QuarantineLifted | None) -> _Span:
    until_at = lifted.lifted_at if lifted else None
    return _Span(
        from_at=placed.from_at,
        until_at=until_at,
        first_night=_next_night(house, placed.from_at),
        end_night=_next_night(house, until_at) if until_at else None,
    )


def _next_night(house: House, moment: datetime) -> date:
    """The first night whose hour of arrival is not before a moment."""
    clock = house.hotel.arrive_from if house.hotel else HotelDescribed("", "").arrive_from
    day = local_day(moment, house.zone)
    return day if moment <= moment_of(day, clock, house.zone) else day + ONE_DAY


def _let_against(stay: Stay, spans: list[_Span], today: date) -> LetAgainstBlock | None:
    held = [
        (night, span)
        for night in _nights_slept(stay, today)
        if (span := next((s for s in spans if s.holds_on(night)), None)) is not None
    ]
    if not held:
        return None
    first_night, span = held[0]
    return LetAgainstBlock(
        room=RoomNo(stay.room),
        stay=stay,
        first_night=first_night,
        nights=len(held),
        from_at=span.from_at,
        until_at=span.until_at,
        was_let_blocked=first_night == stay.arrives_on,
    )


def _nights_slept(stay: Stay, today: date) -> Iterator[date]:
    """Nights before today, and tonight for a guest who came today and is in house."""
    came_today = stay.arrives_on == today and stay.status is StayStatus.IN_HOUSE
    end = min(stay.leaves_on, today + ONE_DAY if came_today else today)
    return days_from(stay.arrives_on, max(0, (end - stay.arrives_on).days))
