"""Repeated and double looks in the record: who looked twice within days, and with what result."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date

from hotelwatch.core.checks.asked import SERVING
from hotelwatch.core.facts import BedChecked, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.learning.estimates import TwoInspectors, two_inspectors
from hotelwatch.core.odds.learning.occupancy import Repeated
from hotelwatch.core.trial_facts import BlindPair


def repeated_looks(house: House) -> tuple[Repeated, ...]:
    """Rooms looked at on two days or more within figures.repeat_look_days, treatments apart.

    Deep, asked and clearance checks; all of a room's checks of one day are one look.
    """
    within = int(house.rules.figures.repeat_look_days.value)
    spells: list[Repeated] = []
    for room, looks in sorted(_looks_by_day(house).items()):
        treated = house.treated_on.get(room, ())
        spell: list[date] = []
        for day in sorted(looks):
            is_near = bool(spell) and (day - spell[0]).days <= within
            if is_near and not any(spell[0] < other <= day for other in treated):
                spell.append(day)
                continue
            spells.append(_spell(spell, looks))
            spell = [day]
        spells.append(_spell(spell, looks))
    return tuple(spell for spell in spells if spell.looks > 1)


def _spell(days: list[date], looks: Mapping[date, bool]) -> Repeated:
    return Repeated(sum(looks[day] for day in days), len(days))


def _looks_by_day(house: House) -> Mapping[RoomNo, Mapping[date, bool]]:
    """For each room the days of its checks, and whether any of that day found something."""
    found: defaultdict[RoomNo, dict[date, bool]] = defaultdict(dict)
    checks: list[BedChecked | RoomChecked] = [*house.all_of(BedChecked), *house.all_of(RoomChecked)]
    for check in checks:
        if check.kind in SERVING and (check.seen or check.found):
            days = found[check.room]
            days[check.checked_on] = days.get(check.checked_on, False) or bool(check.found)
    return found


def blind_pairs(house: House) -> TwoInspectors | None:
    """All double looks together, the first and the second one of each; None without any."""
    pairs = house.all_of(BlindPair)
    if not pairs:
        return None
    return two_inspectors(
        sum(pair.first_found for pair in pairs),
        sum(pair.second_found for pair in pairs),
        sum(pair.first_found and pair.second_found for pair in pairs),
    )
