"""Centres of a case: its rooms with a sign that asks for the rooms around."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.case_facts import Sighted
from hotelwatch.core.cases.case import treatments_of
from hotelwatch.core.cases.ring_rule import Around, Wanted, asks_ring, rooms_wanted
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class Centre:
    """A room with a sign that asks for the rooms around it."""

    room: RoomNo
    since: Sighted
    """The sign from which its ring counts: the first, or the first after a treatment."""
    entry: int
    """That of the last sign in it."""
    wave: int
    """0 for the first; one more than that of the centre in whose ring it was found."""
    wanted: tuple[Wanted, ...]


def centres_of(house: House, around: Around, case: CaseNo, *, today: date) -> tuple[Centre, ...]:
    """Rooms of a case with a sign that asks for a ring, in the order of their signs."""
    by_room: defaultdict[RoomNo, list[Sighted]] = defaultdict(list)
    entries: dict[RoomNo, int] = {}
    for row in house.kept_of_case(Sighted, case):
        if row.fact.room in house.rooms and asks_ring(house, row.fact):
            by_room[row.fact.room].append(row.fact)
            entries[row.fact.room] = row.entry
    starts = sorted(
        (ring_counts_from(house, case, signs) for signs in by_room.values()),
        key=lambda sign: sign.seen_at,
    )
    found: list[Centre] = []
    for sign in starts:
        near = [c.wave for c in found if any(w.room == sign.room for w in c.wanted)]
        wave = min(near) + 1 if near else 0
        wanted = rooms_wanted(house, around, sign, today=today)
        found.append(Centre(sign.room, sign, entries[sign.room], wave, wanted))
    return tuple(found)


def ring_counts_from(house: House, case: CaseNo, signs: Iterable[Sighted]) -> Sighted:
    """Of a room's signs that from which its ring counts.

    The first; after a treatment of the case, the first one later than it.
    """
    treated = [treatment.treated_on for treatment in treatments_of(house, case)]
    first, *later = sorted(signs, key=lambda sign: sign.seen_at)
    for sign in later:
        since = local_day(first.seen_at, house.zone)
        if any(since <= day < local_day(sign.seen_at, house.zone) for day in treated):
            first = sign
    return first
