"""Each confirmed find on record: how it was noticed first, and since when it was there.

Days of coming in are reckoned by the room's filter, so they rest on its assumptions.
"""

from __future__ import annotations

from collections.abc import Iterator

from hotelwatch.core.case_facts import Outcome
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.hotel import Reckoning
from hotelwatch.core.odds.past.back_rows import FindBack, FindsInAll, Treatment, finds_in_all
from hotelwatch.core.odds.past.found_by import (
    Ways,
    by_stretch,
    first_noticed,
    treatments_before,
    ways_of,
)
from hotelwatch.core.odds.since import Find, Survival, came_in, finds_of_case, odds_at
from hotelwatch.core.progress import Progress, silent


def finds_back(
    house: House, reckoning: Reckoning, *, progress: Progress = silent
) -> tuple[FindBack, ...]:
    """Every confirmed find that the odds reach back to, the latest first.

    Of several in a room without a treatment between them the first counts: the others met
    what was there by then. Progress may stop it with Stopped.
    """
    ways = ways_of(house)
    found = []
    every = list(_finds(house, reckoning))
    for number, find in enumerate(every):
        progress(number / len(every), "odds_rooms")
        found.append(_find_back(house, reckoning, find, ways))
    return tuple(sorted(found, key=lambda one: (-one.found_on.toordinal(), one.room)))


def all_finds(house: House, reckoning: Reckoning, finds: tuple[FindBack, ...]) -> FindsInAll:
    """All finds together, with what they leave out."""
    known = reckoning.records
    return finds_in_all(
        finds, first_on=known.day_of(0) if known.plain else None, gone=tuple(_gone(house))
    )


def _finds(house: House, reckoning: Reckoning) -> Iterator[Find]:
    """The first find of each room between two treatments."""
    known = reckoning.records
    every = [
        find
        for case in house.sightings
        if _is_confirmed(house, case)
        for find in finds_of_case(house, reckoning, case)
    ]
    taken: set[tuple[RoomNo, int]] = set()
    for find in sorted(every, key=lambda one: (one.day, one.room, one.case)):
        stretch = find.room, treatments_before(house, find.room, known.day_of(find.day))
        if stretch not in taken:
            taken.add(stretch)
            yield find


def _find_back(house: House, reckoning: Reckoning, find: Find, ways: Ways) -> FindBack:
    known = reckoning.records
    found_on = known.day_of(find.day)
    came = came_in(reckoning, odds_at(house, reckoning, find))
    stretches = by_stretch(house, house.sightings[find.case])
    signs = stretches[find.room, treatments_before(house, find.room, found_on)]
    noticed_on, found_by = first_noticed(house, ways, signs)
    return FindBack(
        case=find.case,
        room=find.room,
        found_on=found_on,
        noticed_on=noticed_on,
        found_by=found_by,
        window=came.window,
        middle_on=came.middle_on,
        insects=came.insects,
        treatment=_treatment(came.survival),
        record_from=known.day_of(known.plain[find.room].began),
    )


def _treatment(survival: Survival | None) -> Treatment | None:
    return None if survival is None else Treatment(survival.treated_on, survival.chance)


def _gone(house: House) -> Iterator[RoomNo]:
    rooms = dict.fromkeys(
        row.fact.room
        for case, rows in house.sightings.items()
        if _is_confirmed(house, case)
        for row in rows
    )
    yield from (room for room in rooms if room not in house.rooms)


def _is_confirmed(house: House, case: CaseNo) -> bool:
    judged = judgement_of(house, case)
    return judged is not None and judged.outcome is Outcome.CONFIRMED
