"""Where each room stands: what one should know of it first, and why."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from hotelwatch.core.case_facts import CheckAsked, QuarantineLifted, QuarantinePlaced, Sighted
from hotelwatch.core.checks.asked import asked_states, is_ruled_out, still_asks
from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.checks.watching import was_closed
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence

Closing = tuple[QuarantinePlaced, QuarantineLifted | None]
"""A quarantine with its lifting, if it was lifted."""


class RoomStanding(StrEnum):
    """What one should know of a room first; the earlier one of two counts."""

    QUARANTINE = "quarantine"
    FOUND = "found"
    """A sign was found in it, its case is not over, and it is let again."""
    TO_CHECK = "to_check"
    OVERDUE = "overdue"
    DUE_SOON = "due_soon"
    LATER = "later"
    NO_BED = "no_bed"


@dataclass(frozen=True, slots=True)
class RoomStand:
    """Where a room stands at a moment, as it was known then."""

    room: RoomNo
    state: RoomStanding
    looks: tuple[Look, ...]
    """Of each bed of the room."""
    last_on: date | None
    """The day since which every bed was looked at; None if one never was."""
    days_since: int | None
    cycle_days: int
    due_on: date | None
    """The first day on which one of its beds is due; None without a bed."""
    closed: QuarantinePlaced | None
    """Why it is in quarantine; the last of several reasons."""
    asked: CheckAsked | None
    """The look that a case wants first."""
    found_on: date | None
    """When a sign was last found in it whose case is not over; weak signs do not count."""


@dataclass(frozen=True, slots=True)
class CaseStand:
    """What a case makes of rooms."""

    asked: tuple[CheckAsked, ...] = ()
    """Looks that it still wants, in the order asked."""
    found: tuple[tuple[RoomNo, date], ...] = ()
    """Rooms with a sign, each with its last day."""


@dataclass(frozen=True, slots=True)
class Around:
    """What is known of all rooms at a moment beside their looks."""

    closed: Mapping[RoomNo, QuarantinePlaced]
    asked: Mapping[RoomNo, CheckAsked]
    found: Mapping[RoomNo, date]
    today: date
    soon: date
    """What is due until then is due soon."""


def stands(house: House, now: datetime, today: date) -> Mapping[RoomNo, RoomStand]:
    """Where every room stands, in the order of the roster."""
    by_room: defaultdict[RoomNo, list[Look]] = defaultdict(list)
    for look in looks(house, today):
        by_room[look.room].append(look)
    closed = {placed.room: placed for placed in closed_at(house.quarantines, now)}
    cases = {case: case_stand(house, case) for case in house.sightings}
    around = around_of(closed, cases, today=today, soon_days=soon_days(house))
    return {
        room: stand_of(room, by_room[room], house.cycle_of(room), around) for room in house.rooms
    }


def soon_days(house: House) -> int:
    """What is due within so many days is due soon."""
    return int(house.rules.figures.plan_days.value)


def closed_at(quarantines: Sequence[Closing], now: datetime) -> Iterator[QuarantinePlaced]:
    """Quarantines that hold at a moment, in the order placed."""
    for placed, lifted in quarantines:
        if placed.from_at <= now and (lifted is None or now < lifted.lifted_at):
            yield placed


def case_stand(house: House, case: CaseNo) -> CaseStand:
    """What a case makes of rooms: nothing once it was ruled out."""
    if not still_asks(house, case):
        return CaseStand()
    asked = tuple(state.asked for state in asked_states(house, case) if state.is_open)
    return CaseStand(asked, tuple(_found(house, case).items()))


def _found(house: House, case: CaseNo) -> Mapping[RoomNo, date]:
    if is_ruled_out(house, case) or was_closed(house, case):
        return {}
    found: dict[RoomNo, date] = {}
    for row in house.kept_of_case(Sighted, case):
        seen = row.fact
        if house.rules.evidence[seen.sign].weight is not Evidence.WEAK:
            day = local_day(seen.seen_at, house.zone)
            found[seen.room] = max(day, found.get(seen.room, day))
    return found


def around_of(
    closed: Mapping[RoomNo, QuarantinePlaced],
    cases: Mapping[CaseNo, CaseStand],
    *,
    today: date,
    soon_days: int,
) -> Around:
    """What cases and quarantines make of rooms on a day; the earliest deadline counts."""
    wishes = sorted(
        (wish for case in cases.values() for wish in case.asked),
        key=lambda wish: (wish.by_at, wish.case, wish.room),
    )
    asked: dict[RoomNo, CheckAsked] = {}
    for wish in wishes:
        asked.setdefault(wish.room, wish)
    found: dict[RoomNo, date] = {}
    for case in cases.values():
        for room, day in case.found:
            found[room] = max(day, found.get(room, day))
    return Around(closed, asked, found, today, today + timedelta(days=soon_days))


def stand_of(room: RoomNo, looks: Sequence[Look], cycle_days: int, around: Around) -> RoomStand:
    """Where a room stands, given its beds' looks and what is known around."""
    last: date | None = None
    due: date | None = None
    is_seen = bool(looks)
    for look in looks:
        if due is None or look.due_on < due:
            due = look.due_on
        if look.last_on is None:
            is_seen = False
        elif last is None or look.last_on < last:
            last = look.last_on
    last = last if is_seen else None
    return RoomStand(
        room=room,
        state=_state(room, due, around),
        looks=tuple(looks),
        last_on=last,
        days_since=None if last is None else (around.today - last).days,
        cycle_days=cycle_days,
        due_on=due,
        closed=around.closed.get(room),
        asked=around.asked.get(room),
        found_on=around.found.get(room),
    )


def _state(room: RoomNo, due: date | None, around: Around) -> RoomStanding:
    if room in around.closed:
        return RoomStanding.QUARANTINE
    if room in around.found:
        return RoomStanding.FOUND
    if room in around.asked:
        return RoomStanding.TO_CHECK
    if due is None:
        return RoomStanding.NO_BED
    if due < around.today:
        return RoomStanding.OVERDUE
    return RoomStanding.DUE_SOON if due <= around.soon else RoomStanding.LATER
