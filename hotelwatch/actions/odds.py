"""How sure one may be: the odds of all rooms, brought in when first asked for.

Their arrays take time to load, so nothing here is imported at the start.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from hotelwatch.core.building.neighbours import Neighbour, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import CaseJudged, GuestMoved, Outcome
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.facts import CaseNo, RoomNo, Topic
from hotelwatch.core.house import House
from hotelwatch.core.odds.simulation.measures import CalibrationRow
from hotelwatch.core.odds_figures import ByStance, OddsRules, Stance
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.stays.openings import Occupancy

if TYPE_CHECKING:
    from hotelwatch.core.odds.hotel import Reckoning
    from hotelwatch.core.odds.learning.estimates import Estimate
    from hotelwatch.core.odds.learning.learned import Learned
    from hotelwatch.core.odds.rows import GroupRow, PastPoint, RoomRow
    from hotelwatch.core.odds.since import CaseOdds, FindSince
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
    by_finds: Estimate | None
    """How well a deep look notices one insect, as the confirmed finds fit it."""
    rooms: tuple[RoomRow, ...]
    hotel: GroupRow
    floors: tuple[GroupRow, ...]
    wings: tuple[GroupRow, ...]
    past: tuple[PastPoint, ...]
    around: Around
    """Who is whose neighbour, which takes a while to find in a large house."""


@dataclass(frozen=True, slots=True)
class OddsWish:
    """What the odds are reckoned from; ``before`` is what they were, if they were."""

    house: House
    occupancy: Occupancy
    around: Around | None
    """None lets the job find who is whose neighbour."""
    today: date
    before: OddsView | None = None


def odds_view(wish: OddsWish, progress: Progress = silent) -> OddsView:
    """The odds of every room; anew only where something was written down, if that will do."""
    from hotelwatch.core.odds.again import again
    from hotelwatch.core.odds.hotel import reckon
    from hotelwatch.core.odds.learning.finds import notice_of_finds
    from hotelwatch.core.odds.measured import measured
    from hotelwatch.core.odds.rows import floor_rows, hotel_row, past_points, room_rows, wing_rows

    told = measured(wish.house, wish.today)
    around = _around(wish)
    touched = _touched(wish)
    before = wish.before
    if before is not None and touched is not None and before.reckoning.rules == told.rules:
        reckoning = again(before.reckoning, wish.house, sorted(touched))
        by_finds = before.by_finds
    else:
        by_finds = notice_of_finds(wish.house, wish.occupancy, wish.today)
        reckoning = reckon(
            wish.house,
            wish.occupancy,
            around,
            wish.today,
            rules=told.rules,
            progress=progress,
        )
    rows = room_rows(wish.house, reckoning)
    return OddsView(
        house=wish.house,
        reckoning=reckoning,
        learned=told.learned,
        by_finds=by_finds,
        rooms=rows,
        hotel=hotel_row(rows),
        floors=floor_rows(wish.house, rows),
        wings=wing_rows(rows),
        past=past_points(reckoning),
        around=around,
    )


def _around(wish: OddsWish) -> Around:
    if wish.around is not None:
        return wish.around
    return neighbours(wish.house, lay_out(wish.house))


def _touched(wish: OddsWish) -> frozenset[RoomNo] | None:
    """The few rooms that something was written down about since; None where that won't do."""
    before = wish.before
    if before is None or before.reckoning.today != wish.today:
        return None
    if before.house.stays is not wish.house.stays:
        return None
    changes = wish.house.changes_since(before.house)
    touched = changes.rooms | _of_changed_cases(before.house, wish.house)
    touched |= _moved_into(before.house, touched) | _moved_into(wish.house, touched)
    if not changes.topics <= TOUCHING_ROOMS or len(touched) > FEW:
        return None
    return touched


def _of_changed_cases(one: House, other: House) -> frozenset[RoomNo]:
    """Rooms with signs of cases that other signs belong to now, or another judgement.

    An entry about a case may name none of its rooms, or only one of them.
    """
    there, here = _cases(one), _cases(other)
    changed = [case for case in {*there, *here} if there.get(case) != here.get(case)]
    return frozenset(
        row.fact.room
        for case in changed
        for house in (one, other)
        for row in house.sightings.get(case, ())
    )


def _cases(house: House) -> dict[CaseNo, tuple[CaseJudged | None, tuple[int, ...]]]:
    return {
        case: (judgement_of(house, case), tuple(row.entry for row in rows))
        for case, rows in house.sightings.items()
    }


def _moved_into(house: House, rooms: Collection[RoomNo]) -> frozenset[RoomNo]:
    """Rooms that guests or furniture came into from one of these, and insects perhaps."""
    guests = (move.to_room for move in house.all_of(GuestMoved) if move.from_room in rooms)
    things = (move.to_room for move in house.all_of(FurnitureMoved) if move.from_room in rooms)
    return frozenset((*guests, *things))


def measured_rules(house: House, today: date) -> OddsRules:
    """The odds' figures with measured ones in the place of those assumed."""
    from hotelwatch.core.odds.measured import measured

    return measured(house, today).rules


def odds_checked(
    rules: OddsRules, progress: Progress = silent
) -> Mapping[Stance, tuple[CalibrationRow, ...]]:
    """Whether odds come true: simulated rooms by what was told of them, in every stance."""
    from hotelwatch.core.odds.simulation.calibration import calibration

    found = {}
    for number, stance in enumerate(Stance):
        progress(number / len(Stance), "calibrating")
        found[stance] = calibration(rules, stance)
    return found


def story_of(view: OddsView, room: RoomNo) -> RoomStory:
    """What a room's odds rest on."""
    from hotelwatch.core.odds.story import room_story

    return room_story(view.house, view.reckoning, room)


def case_odds(
    wish: OddsWish, case: CaseNo, *, also: Iterable[RoomNo] = (), progress: Progress = silent
) -> CaseOdds:
    """When what a case found came in, and the odds of its neighbours and of rooms asked after."""
    from hotelwatch.core.odds.hotel import reckon_case
    from hotelwatch.core.odds.since import CaseOdds, find_since, finds_of_case

    house = wish.house
    signs = dict.fromkeys(row.fact.room for row in house.sightings.get(case, ()))
    gone = tuple(room for room in signs if room not in house.rooms)
    judged = judgement_of(house, case)
    outcome = judged.outcome if judged is not None else None
    if outcome is Outcome.NOT_BED_BUG:
        return CaseOdds(case, False, True, (), gone, {})
    progress(0.0, "odds_neighbours")
    reckoning = reckon_case(house, wish.occupancy, _around(wish), wish.today, case=case)
    finds = finds_of_case(house, reckoning, case)
    found: list[FindSince] = []
    for number, find in enumerate(finds):
        progress(number / len(finds), "odds_rooms")
        found.append(find_since(house, wish.occupancy, reckoning, find))
    chances = _chances(house, reckoning, case, also)
    return CaseOdds(case, outcome is Outcome.CONFIRMED, False, tuple(found), gone, chances)


def _chances(
    house: House, reckoning: Reckoning, case: CaseNo, also: Iterable[RoomNo]
) -> dict[RoomNo, ByStance]:
    """Chances of the find's neighbours and of others, without rooms that have a find."""
    from hotelwatch.core.odds.again import chances_beside

    near = reckoning.records.plain
    chances = {
        room: {stance: odds.rooms[room].chance for stance, odds in reckoning.of.items()}
        for room in near
        if not any(odds.rooms[room].is_found for odds in reckoning.of.values())
    }
    farther = (room for room in also if room not in near)
    return {**chances, **chances_beside(reckoning, house, farther, case=case)}
