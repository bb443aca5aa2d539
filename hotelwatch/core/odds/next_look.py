"""What a look today would save: how likely it finds something, and how much sooner.

Without it, what is there stays until the look after it, one cycle on, or until a guest
notices; the days in between are what a find today saves. Nobody measured how likely guests
are to notice: an assumption.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.places import NOTHING, Parts, seen_of_beds, shares_of_bed, shown, together
from hotelwatch.core.odds.room import STEPS, Tables
from hotelwatch.core.odds.sensitivity import guest_notices


@dataclass(frozen=True, slots=True)
class UsualLook:
    """The deep look that a room's sheet asks for, dust covers closed."""

    seen: Parts
    minutes: int
    """Of a team, setting up the room included (assumption)."""


def usual_look(house: House, room: RoomNo) -> UsualLook:
    """What the routine sheet of a room looks at, and what it takes."""
    rules = house.rules
    minutes = int(rules.figures.room_setup_minutes.value)
    of_beds: list[tuple[Parts, Parts]] = []
    for bed in house.beds_of(room):
        kind = rules.bed_kinds[bed.kind]
        places = kind.places_of(encased=bed.encased)
        routine = {place.code for place in places if not place.optional}
        shares = shares_of_bed(rules.odds, kind, encased=bed.encased)
        of_beds.append((shares, shown(rules.odds, [place.code for place in places], routine)))
        minutes += kind.minutes_of(encased=bed.encased)
    codes = [place.code for place in rules.room_places]
    routine = {place.code for place in rules.room_places if not place.optional}
    of_room = shown(rules.odds, codes, routine) if of_beds else NOTHING
    return UsualLook(together(seen_of_beds(of_beds), of_room), minutes)


def days_left_unseen(tables: Tables, cycle_days: int, let_share: float) -> Floats:
    """Days that an infestation would stay unnoticed, by its age now in steps (steps,).

    Until the end of a cycle from today, or until a guest notices.
    """
    ages = len(tables.insects)
    kept = np.ones(ages)
    left = np.zeros(ages)
    noticed = let_share * guest_notices(tables.setting, tables.insects)
    age = np.arange(ages)
    for _day in range(cycle_days):
        age = np.minimum(age + STEPS, ages - 1)
        kept *= 1.0 - noticed[age]
        left += kept
    return left
