"""Rooms not to sell: from when, until when, what each waits for and who gives it back.

Nothing here says more than a guest may read over a shoulder: no sign, no case, no
reason but a neutral condition code.

Source: a block names room, start, end, a neutral reason, who may release it and when it
is looked at again: hotel practice, no source. A block needs a named release: 347 F.3d 672
(7th Cir. 2003), where rooms flagged not to be let were let.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.case_facts import Outcome, QuarantinePlaced
from hotelwatch.core.cases.held import HeldRoom, rooms_held_until_looked_at
from hotelwatch.core.cases.held_looks import HeldLooks
from hotelwatch.core.cases.release import Missing, missing_for_release, release_range
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.days import add_hours, local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.profile import Releaser
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.core.treatment_facts import TreatmentOrdered


class Condition(StrEnum):
    """What a block waits for, in words that a guest may read; the slowest one is named."""

    UNTIL_RELEASED = "until_released"
    """Nobody can name a day yet."""
    WORK_TO_BE_DONE = "work_to_be_done"
    WORK_GOING_ON = "work_going_on"
    TO_BE_LOOKED_AT = "to_be_looked_at"
    READY_FOR_RELEASE = "ready_for_release"
    """Waits only for a named person to give it back."""


class BlockKind(StrEnum):
    """Why a room is not to sell, as far as front desk needs to know."""

    CLOSED = "closed"
    """Until a named person gives it back."""
    HELD = "held"
    """Until somebody has looked at it; then it may be let at once."""


@dataclass(frozen=True, slots=True)
class Block:
    """A room not to sell."""

    room: RoomNo
    from_at: datetime
    earliest_until: date | None
    """The first day on which it might be let again; None while nobody can say."""
    condition: Condition
    kind: BlockKind = BlockKind.CLOSED
    expected_until: date | None = None
    """The day on which it is likely to be let again; None while nobody can say."""
    latest_until: date | None = None
    """The latest day foreseen; None while nobody can say. It may be later still."""
    release_by: Releaser = Releaser.HOTEL
    review_on: date | None = None
    """When more is known: the day of what comes next."""


@dataclass(frozen=True, slots=True)
class _Wait:
    """What one case makes a room wait for."""

    earliest: date | None
    expected: date | None
    latest: date | None
    condition: Condition
    review_on: date
    release_by: Releaser


def blocks(house: House, occupancy: Occupancy, now: datetime) -> tuple[Block, ...]:
    """Every room not to sell, each once, in the order of the roster.

    A room that several cases keep in quarantine is blocked from the first of them
    until the last of them can be lifted. Where the profile says so, rooms around a sign
    are held until somebody has looked at them; the days of those looks follow from the
    published sheets and from when each room can be entered.
    """
    found = [block for _case, block in closed_rooms(house, now)]
    waiting = rooms_held_until_looked_at(house, now)
    if waiting:
        when = HeldLooks(house, occupancy, now)
        found += [_held(house, row, when) for row in waiting]
    order = {room: number for number, room in enumerate(house.rooms)}
    return tuple(sorted(found, key=lambda block: (order.get(block.room, len(order)), block.room)))


def closed_rooms(
    house: House, now: datetime, *, only: CaseNo | None = None
) -> Iterator[tuple[CaseNo, Block]]:
    """Rooms in quarantine, each with the case that closed it first; ``only`` those of one."""
    held: defaultdict[RoomNo, list[QuarantinePlaced]] = defaultdict(list)
    for placed, lifted in house.quarantines:
        if placed.from_at <= now and (lifted is None or now < lifted.lifted_at):
            held[placed.room].append(placed)
    for room, placings in held.items():
        closed_by = min(placings, key=lambda placed: placed.from_at).case
        if only in (None, closed_by):
            yield closed_by, _block(house, room, placings, now)


def _block(house: House, room: RoomNo, held: list[QuarantinePlaced], now: datetime) -> Block:
    waits = [_wait(house, placed.case, room, now) for placed in held]
    until = _last(wait.earliest for wait in waits)
    slowest = max(waits, key=_slowness)
    return Block(
        room=room,
        from_at=min(placed.from_at for placed in held),
        earliest_until=until,
        condition=slowest.condition,
        expected_until=_last(wait.expected for wait in waits),
        latest_until=_last(wait.latest for wait in waits),
        release_by=max((wait.release_by for wait in waits), key=list(Releaser).index),
        review_on=min(wait.review_on for wait in waits),
    )


def _slowness(wait: _Wait) -> tuple[bool, date, bool, date]:
    return (
        wait.earliest is None,
        wait.earliest or date.max,
        wait.expected is None,
        wait.expected or date.max,
    )


def _held(house: House, row: HeldRoom, when: HeldLooks) -> Block:
    expected = when.expected(row)
    return Block(
        room=row.room,
        from_at=row.from_at,
        earliest_until=when.earliest(row),
        condition=Condition.TO_BE_LOOKED_AT,
        kind=BlockKind.HELD,
        expected_until=expected,
        review_on=expected or local_day(row.by_at, house.zone),
    )


def _last(days: Iterable[date | None]) -> date | None:
    """The last of these days; None where one of them is not known."""
    every = list(days)
    known = [day for day in every if day is not None]
    return max(known) if len(known) == len(every) else None


def _wait(house: House, case: CaseNo, room: RoomNo, now: datetime) -> _Wait:
    today = local_day(now, house.zone)
    if case not in house.sightings:
        # The sighting was corrected and its quarantine, of another entry, was not.
        return _Wait(None, None, None, Condition.UNTIL_RELEASED, today, Releaser.HOTEL)
    missing = missing_for_release(house, case, room, now=now)
    when = release_range(house, case, room, now)
    return _Wait(
        earliest=when.earliest,
        expected=when.expected,
        latest=when.latest,
        condition=_condition({lack.code for lack in missing}),
        review_on=max(today, _review_on(house, case, missing, today)),
        release_by=_releaser(house, case),
    )


def _condition(codes: set[str]) -> Condition:
    if "judgement" in codes:
        return Condition.UNTIL_RELEASED
    if codes & {"treatment", "treatment_after_find"}:
        return Condition.WORK_TO_BE_DONE
    if "reentry" in codes:
        return Condition.WORK_GOING_ON
    return Condition.TO_BE_LOOKED_AT if codes - {"release_word"} else Condition.READY_FOR_RELEASE


def _releaser(house: House, case: CaseNo) -> Releaser:
    """Whose word gives the room back: the profile's where a bed bug was confirmed."""
    judged = judgement_of(house, case)
    is_confirmed = judged is not None and judged.outcome is Outcome.CONFIRMED
    return house.profile.release_by if is_confirmed else Releaser.HOTEL


def _review_on(house: House, case: CaseNo, missing: Iterable[Missing], today: date) -> date:
    """The day of what comes next for a room; today where it can be done at once."""
    days = [_day_of(house, case, lack, today) for lack in missing]
    return min(days, default=today)


def _day_of(house: House, case: CaseNo, lack: Missing, today: date) -> date:
    if lack.code == "judgement":
        seen_at = min(row.fact.seen_at for row in house.sightings[case])
        by_at = add_hours(seen_at, house.rules.figures.specimen_hours.value)
        return local_day(by_at, house.zone)
    if lack.code == "reentry":
        return local_day(lack.values["until"], house.zone)
    if "next_from" in lack.values:
        next_from: date = lack.values["next_from"]
        return next_from
    ordered = (row.fact.for_at for row in house.kept_of_case(TreatmentOrdered, case))
    return max((local_day(for_at, house.zone) for for_at in ordered), default=today)
