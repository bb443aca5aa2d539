"""What a hotel's own record says of how it looks today: rooms, cycle, way, nights let."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from statistics import median_low

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.facts import BedNo, CheckKind, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.cycles.cycle_rows import Circumstances, KeptWay, LetNights, Now
from hotelwatch.core.odds.cycles.cycle_ways import (
    HEADBOARD_BACK,
    UsualRoom,
    inside_of,
    room_of,
)

LOOK_BACK_DAYS = 365
"""Today's way is that of so many days."""


def usual_room(house: House) -> UsualRoom:
    """The mean of the hotel's rooms."""
    beds = [(bed.kind, bed.encased) for bed in house.beds.values()]
    return room_of(house.rules, beds, rooms=max(1, len(house.rooms)))


def usual_cycle(house: House) -> int:
    """The cycle length in days of the middle room."""
    cycles = [house.cycle_of(room) for room in house.rooms]
    return median_low(cycles) if cycles else int(house.rules.figures.cycle_days.value)


def way_kept(house: House, today: date) -> KeptWay:
    """How deep checks of the last year looked at dust covers and headboards."""
    first = today - timedelta(days=LOOK_BACK_DAYS)
    covered = _covered_beds(house)
    bases = [
        inside & set(check.seen)
        for bed, inside in covered.items()
        for check in house.checks_of(bed)
        if check.kind is CheckKind.DEEP and first < check.checked_on <= today
    ]
    rooms = [
        HEADBOARD_BACK in check.seen
        for checks in house.room_checks.values()
        for check in checks
        if check.kind is CheckKind.DEEP and first < check.checked_on <= today
    ]
    return KeptWay(len(bases), sum(map(bool, bases)), len(rooms), sum(rooms))


def now_of(house: House, today: date) -> Now:
    """Today's way, as the record has it, and the middle room's cycle."""
    return Now(way_kept(house, today).way, usual_cycle(house))


def let_nights(house: House, today: date) -> LetNights:
    """The share of nights let in the last year, as far as bookings tell; else the usual one.

    Nights before the first departure known do not count: lists of bookings leave out
    stays that were over before.
    """
    stays = [stay for stay in house.stays if stay.counts]
    departures = [stay.leaves_on for stay in stays if stay.leaves_on <= today]
    first = max(min(departures, default=today), today - timedelta(days=LOOK_BACK_DAYS))
    nights = (today - first).days
    if not nights or not house.rooms:
        return LetNights(house.rules.odds.figures.usual_let_share.value, 0)
    let = sum(
        max(0, (min(stay.leaves_on, today) - max(stay.arrives_on, first)).days) for stay in stays
    )
    return LetNights(min(1.0, let / (nights * len(house.rooms))), nights)


def circumstances_of(
    house: House, today: date, neighbours: Mapping[RoomNo, tuple[Neighbour, ...]]
) -> Circumstances:
    """What holds in the hotel whatever its cycle."""
    return Circumstances(
        let_share=let_nights(house, today).share,
        neighbours=mean_neighbours(neighbours.values()),
        traps_every_days=int(house.rules.figures.trap_days.value),
    )


def mean_neighbours(
    of_rooms: Iterable[tuple[Neighbour, ...]],
) -> Mapping[tuple[Kind, ...], float]:
    """How many neighbours a mean room has, by all their kinds."""
    rooms = list(of_rooms)
    counted = Counter(other.kinds for others in rooms for other in others)
    return {kinds: number / len(rooms) for kinds, number in sorted(counted.items())}


def _covered_beds(house: House) -> Mapping[BedNo, frozenset[str]]:
    """Beds that have an inside behind a dust cover, not encased, with its places."""
    kinds, odds = house.rules.bed_kinds, house.rules.odds
    found = {
        bed.bed: inside_of(odds, kinds[bed.kind], encased=bed.encased)
        for bed in house.beds.values()
    }
    return {bed: inside for bed, inside in found.items() if inside}
