"""How much a day of lateness weighs by room, where the hotel lets odds say so.

A room in which a look saves more for its minutes than in the middle room weighs more, up
to a limit; none weighs less than by its cycle alone. A share of rooms, drawn anew each
week, weighs as much as the heaviest: where only likely rooms are looked at first, the
record could never tell what was missed elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from random import Random
from statistics import median

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.hotel import Reckoning
from hotelwatch.core.odds_figures import Stance


def risk_weights(reckoning: Reckoning) -> Mapping[RoomNo, float]:
    """The weight of each room, 1 or more, by the central stance.

    Rooms in which a find is known already have the usual weight: their case asks for them.
    """
    figures = reckoning.rules.figures
    most = figures.risk_weight_most.value
    saves = {
        room: row.saves_days / max(reckoning.looks[room].minutes, 1)
        for room, row in reckoning.of[Stance.CENTRAL].rooms.items()
        if not row.is_found
    }
    middle = median(saves.values()) if saves else 0.0
    if not middle:
        return {}
    drawn = _drawn(reckoning, figures.random_share.value)
    return {
        room: most if room in drawn else min(max(saved / middle, 1.0), most)
        for room, saved in saves.items()
    }


def _drawn(reckoning: Reckoning, share: float) -> frozenset[RoomNo]:
    """Rooms drawn for a week: the same for everybody who asks in it."""
    week = _week_of(reckoning.today)
    rooms = reckoning.of[Stance.CENTRAL].rooms
    return frozenset(room for room in rooms if Random(f"{week} {room}").random() < share)


def _week_of(day: date) -> str:
    """The week as ISO 8601 has it."""
    year, week, _weekday = day.isocalendar()
    return f"{year}-W{week:02}"
