"""Per bed: when its underside was last looked at, its cycle and when it is due again.

The due date counts from the last complete look at that bed, never from a plan's day;
a check that left out an underside place does not reset it. Beds carry dates, not rooms.
Days of a season count more than one each (see ``seasons``).
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.checks.seasons import pace
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, BedDescribed, BedNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept


@dataclass(frozen=True, slots=True)
class Look:
    """Where a bed's underside stands on a day."""

    bed: BedNo
    room: RoomNo
    last_on: date | None
    """The last day on which every underside place was looked at; None if never."""
    cycle_days: int
    due_on: date
    """The last day that is not late."""
    days_since: int | None
    is_spread: bool
    """Never looked at: due on a day given by spreading a first round over the cycle."""

    def is_overdue(self, today: date) -> bool:
        """Whether the last look is more than the cycle old as ``today`` begins."""
        return self.due_on < today


def looks(house: House, today: date, *, rooms: Iterable[RoomNo] | None = None) -> tuple[Look, ...]:
    """Every bed in use, rooms in the house's order, as known from checks up to ``today``.

    Or those of some rooms, in their order.
    """
    runs = pace(house)
    first_round: Mapping[BedNo, date] = {}
    found = []
    for room in house.rooms if rooms is None else rooms:
        cycle = house.cycle_of(room)
        for bed in house.beds_of(room):
            last = last_look(house, bed.bed, today)
            if last is None:
                # Spread over all rooms: worked out only where some bed waits for its first look.
                first_round = first_round or first_due_dates(house)
                due = first_round[bed.bed]
            else:
                due = runs.due_on(last, cycle)
            since = None if last is None else (today - last).days
            found.append(Look(bed.bed, room, last, cycle, due, since, last is None))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class FirstRound:
    """Beds that nobody has looked at yet, whose first due dates are spread."""

    beds: int
    of: int
    """Beds in use."""
    first_on: date
    last_on: date
    """The first and the last of those due dates."""


def first_round(known: Sequence[Look]) -> FirstRound | None:
    """What is spread of these looks; None if every bed was looked at once."""
    due = [look.due_on for look in known if look.is_spread]
    return FirstRound(len(due), len(known), min(due), max(due)) if due else None


def last_look(house: House, bed: BedNo, until: date) -> date | None:
    """The last day up to ``until`` on which a bed's whole underside was looked at."""
    known = house.latest_looks
    if bed not in known:
        known[bed] = _last_look(house, bed, date.max)
    latest = known[bed]
    return latest if latest is None or latest <= until else _last_look(house, bed, until)


def _last_look(house: House, bed: BedNo, until: date) -> date | None:
    earlier = house.earlier_looks.get(bed)
    if earlier is not None and earlier > until:
        earlier = None
    for row in reversed(house.checks_by_bed.get(bed, ())):
        check = row.fact
        if earlier is not None and check.checked_on <= earlier:
            break
        if check.checked_on <= until and underside_seen(house, check):
            return check.checked_on
    return earlier


def underside_seen(house: House, check: BedChecked) -> bool:
    """Whether a check looked at every underside place of the bed as it was then built.

    Where the bed was changed on the day of the check, either build will do.
    """
    seen = set(check.seen)
    return any(
        needed and needed <= seen
        for build in builds_on(house, check.bed, check.checked_on)
        if (needed := underside_of(house, build)) is not None
    )


def underside_of(house: House, bed: BedDescribed) -> frozenset[str] | None:
    """Places without which a bed's underside was not looked at; None for an unknown kind."""
    return house.undersides.get((bed.kind, bed.encased))


def first_due_dates(house: House) -> Mapping[BedNo, date]:
    """When each bed is due as long as nobody has looked at it.

    The rooms whose beds entered the roster on one day are spread over the cycle that
    begins that day, so that no first day has them all: those with the most beds that
    are not encased first, else in the house's order. That an open bed is the greater
    risk is an assumption.
    """
    groups: defaultdict[tuple[date, int], dict[RoomNo, list[BedNo]]] = defaultdict(dict)
    for room in house.rooms:
        cycle = house.cycle_of(room)
        for bed in house.beds_of(room):
            entered = _day_of(house, house.builds_by_bed[bed.bed][0])
            groups[entered, cycle].setdefault(room, []).append(bed.bed)
    runs = pace(house)
    due: dict[BedNo, date] = {}
    for (entered, cycle), rooms in groups.items():
        riskiest = sorted(rooms.values(), key=lambda beds: -_open_beds(house, beds))
        for number, beds in enumerate(riskiest, 1):
            # Rounded up: the last room is due as the cycle ends, the first not at once.
            days = -(-number * cycle // len(rooms))
            due.update(dict.fromkeys(beds, runs.due_on(entered, days)))
    return due


def _open_beds(house: House, beds: Iterable[BedNo]) -> int:
    """How many beds had no encasement as they entered the roster."""
    return sum(not house.builds_by_bed[bed][0].fact.encased for bed in beds)


def builds_on(house: House, bed: BedNo, day: date) -> Sequence[BedDescribed]:
    """The build in force as a day begins and those written down on it; else the first."""
    rows = house.builds_by_bed.get(bed, ())
    if len(rows) <= 1:
        return [row.fact for row in rows]
    known_on = [_day_of(house, row) for row in rows]
    in_force = max(0, bisect_right(known_on, day - timedelta(days=1)) - 1)
    return [row.fact for row in rows[in_force : max(1, bisect_right(known_on, day))]]


def _day_of(house: House, row: Kept[BedDescribed]) -> date:
    return local_day(house.entry_of(row).recorded_at, house.zone)
