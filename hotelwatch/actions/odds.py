"""How sure one may be: the odds of all rooms, brought in when first asked for.

Their arrays take time to load, so nothing here is imported at the start.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from hotelwatch.core.building.neighbours import Neighbour
from hotelwatch.core.case_facts import CaseEntryMoved, CaseJudged, CasesJoined, Outcome
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.facts import CaseNo, RoomNo, Topic
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.stays.openings import Occupancy

if TYPE_CHECKING:
    from hotelwatch.core.odds.hotel import Reckoning
    from hotelwatch.core.odds.learning import Learned
    from hotelwatch.core.odds.rows import GroupRow, PastPoint, RoomRow
    from hotelwatch.core.odds.since import FindSince
    from hotelwatch.core.odds.story import RoomStory

Around = Mapping[RoomNo, tuple[Neighbour, ...]]
TOUCHING_ROOMS = frozenset({Topic.CHECKS, Topic.CASES, Topic.QUARANTINE, Topic.ROUNDS})
"""What changes no more than the odds of the rooms it names."""
FEW = 40
"""More rooms than these are reckoned anew with all others."""


@dataclass(frozen=True, slots=True)
class OddsView:
    """The odds of a house on a day, and what they come to."""

    house: House
    reckoning: Reckoning
    learned: Learned
    rooms: tuple[RoomRow, ...]
    hotel: GroupRow
    floors: tuple[GroupRow, ...]
    wings: tuple[GroupRow, ...]
    past: tuple[PastPoint, ...]


@dataclass(frozen=True, slots=True)
class OddsWish:
    """What the odds are reckoned from; ``before`` is what they were, if they were."""

    house: House
    occupancy: Occupancy
    around: Around
    today: date
    before: OddsView | None = None


def odds_view(wish: OddsWish, progress: Progress = silent) -> OddsView:
    """The odds of every room; anew only where something was written down, if that will do."""
    from hotelwatch.core.odds.hotel import reckon, reckon_again
    from hotelwatch.core.odds.measured import measured
    from hotelwatch.core.odds.rows import floor_rows, hotel_row, past_points, room_rows, wing_rows

    told = measured(wish.house, wish.today)
    touched = _touched(wish)
    before = wish.before
    if before is not None and touched is not None and before.reckoning.rules == told.rules:
        reckoning = reckon_again(before.reckoning, wish.house, sorted(touched))
    else:
        reckoning = reckon(wish.house, wish.occupancy, wish.around, wish.today, progress=progress)
    rows = room_rows(wish.house, reckoning)
    return OddsView(
        house=wish.house,
        reckoning=reckoning,
        learned=told.learned,
        rooms=rows,
        hotel=hotel_row(rows),
        floors=floor_rows(wish.house, rows),
        wings=wing_rows(rows),
        past=past_points(reckoning),
    )


def _touched(wish: OddsWish) -> frozenset[RoomNo] | None:
    """The few rooms that something was written down about since; None where that won't do."""
    before = wish.before
    if before is None or before.reckoning.today != wish.today:
        return None
    if before.house.stays is not wish.house.stays:
        return None
    changes = wish.house.changes_since(before.house)
    if not changes.topics <= TOUCHING_ROOMS or len(changes.rooms) > FEW:
        return None
    if _of_whole_cases(before.house) != _of_whole_cases(wish.house):
        return None
    return changes.rooms


def _of_whole_cases(house: House) -> list[int]:
    """Entries that say something of all rooms of a case and name none of them."""
    kinds = (CaseJudged, CasesJoined, CaseEntryMoved)
    return [row.entry for kind in kinds for row in house.kept_of(kind)]


def story_of(view: OddsView, room: RoomNo) -> RoomStory:
    """What a room's odds rest on."""
    from hotelwatch.core.odds.story import room_story

    return room_story(view.house, view.reckoning, room)


@dataclass(frozen=True, slots=True)
class CaseOdds:
    """What a case's signs say of the time before them and of the rooms around."""

    case: CaseNo
    is_judged: bool
    """Whether they were judged to be bed bugs; else this holds only if they are."""
    finds: tuple[FindSince, ...]
    """Of each room with a sign, in the order written down."""


def case_odds(wish: OddsWish, case: CaseNo, progress: Progress = silent) -> CaseOdds:
    """When what a case found came in, and the odds of its neighbours."""
    from hotelwatch.core.odds.hotel import reckon_case
    from hotelwatch.core.odds.since import find_since

    house = wish.house
    progress(0.0, "odds_neighbours")
    reckoning = reckon_case(house, wish.occupancy, wish.around, wish.today, case=case)
    rooms = dict.fromkeys(row.fact.room for row in house.sightings.get(case, ()))
    found = [
        since
        for room in rooms
        if room in reckoning.records.plain
        and (since := find_since(house, wish.occupancy, reckoning, room)) is not None
    ]
    judged = judgement_of(house, case)
    is_judged = judged is not None and judged.outcome is Outcome.CONFIRMED
    return CaseOdds(case, is_judged, tuple(found))
