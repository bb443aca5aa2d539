"""What finds have cost so far, year by year: nights closed, treatments, by the hotel's prices.

Nights are counted as in ``costs``: closed at the hour from which guests arrive, and nobody
stayed; a night counts once, however many cases closed the room. Tonight is to come. Rooms
held only until somebody looked at them are not in it, nor the work of looking: the first
leave no trace of their own, the second is the cost of the cycle and of the ring.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from hotelwatch.core.case_facts import Outcome
from hotelwatch.core.cases.lets import LetAgainstBlock
from hotelwatch.core.cases.stock import nights_of
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.checks.signs import treatments_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.past.back_rows import FindBack, FoundBy
from hotelwatch.core.odds_figures import ByStance, OddsFigures, Stance
from hotelwatch.core.stays.nights import first_night_after

RoomNight = tuple[RoomNo, date]


@dataclass(frozen=True, slots=True)
class YearCost:
    """One year's finds and what went with them, or all years'."""

    year: int
    """0: all years."""
    finds: int
    guest_finds: int
    """Of these, noticed first by guests."""
    nights: int
    """Room nights closed because of cases in which bed bugs were confirmed."""
    nights_of_others: int
    """Room nights closed because of cases that were ruled out or left without an answer."""
    rooms_treated: int
    """Rooms of a case; several visits to one count once, in the year of the first."""
    visits: int
    """Of licensed firms, room by room."""
    for_nights: ByStance
    """Money: all closed nights, by the price of a night."""
    for_treatments: ByStance
    """Money: rooms treated, by the price of a treatment."""
    for_guests: ByStance
    """Money: finds noticed first by guests, by what these cost more."""

    @property
    def money(self) -> ByStance:
        """All of it."""
        return {
            stance: self.for_nights[stance] + self.for_treatments[stance] + self.for_guests[stance]
            for stance in Stance
        }


def cost_years(
    house: House,
    figures: OddsFigures,
    finds: Iterable[FindBack],
    *,
    lets: tuple[LetAgainstBlock, ...],
    now: datetime,
) -> tuple[YearCost, ...]:
    """What finds cost, the latest year first; all years come last if there are several."""
    for_finds, for_others = _nights(house, lets, now)
    visits, rooms = _treatments(house)
    every = list(finds)
    counts = (
        Counter(find.found_on.year for find in every),
        Counter(find.found_on.year for find in every if find.found_by is FoundBy.GUEST),
        Counter(night.year for _room, night in for_finds),
        Counter(night.year for _room, night in for_others),
        rooms,
        visits,
    )
    years = sorted({year for count in counts for year in count}, reverse=True)
    rows = [_year(figures, year, [count[year] for count in counts]) for year in years]
    if len(years) > 1:
        rows.append(_year(figures, 0, [sum(count.values()) for count in counts]))
    return tuple(rows)


def _year(figures: OddsFigures, year: int, counts: list[int]) -> YearCost:
    finds, guest_finds, nights, of_others, rooms, visits = counts

    def money(count: int, key: str) -> ByStance:
        return {stance: count * getattr(figures, key).of(stance) for stance in Stance}

    return YearCost(
        year=year,
        finds=finds,
        guest_finds=guest_finds,
        nights=nights,
        nights_of_others=of_others,
        rooms_treated=rooms,
        visits=visits,
        for_nights=money(nights + of_others, "price_room_night"),
        for_treatments=money(rooms, "price_treatment"),
        for_guests=money(guest_finds, "price_guest_find"),
    )


def _nights(
    house: House, lets: tuple[LetAgainstBlock, ...], now: datetime
) -> tuple[set[RoomNight], set[RoomNight]]:
    """Nights lost to confirmed cases, and those lost to others only."""
    today = local_day(now, house.zone)
    slept = {
        (let.room, night)
        for let in lets
        for night in nights_of((let.first_night, let.first_night + timedelta(days=let.nights)))
    }
    found: dict[bool, set[RoomNight]] = {True: set(), False: set()}
    for placed, lifted in house.quarantines:
        first = first_night_after(house, placed.from_at)
        end = today if lifted is None else min(today, first_night_after(house, lifted.lifted_at))
        held = {(placed.room, night) for night in nights_of((first, end))}
        found[_is_confirmed(house, placed.case)] |= held - slept
    return found[True], found[False] - found[True]


def _treatments(house: House) -> tuple[Counter[int], Counter[int]]:
    """Visits, and rooms of a case that were treated, by year."""
    visits: Counter[int] = Counter()
    rooms: dict[tuple[CaseNo, RoomNo], int] = {}
    for case in house.sightings:
        for treated in treatments_of(house, case):
            visits[treated.treated_on.year] += 1
            rooms.setdefault((case, treated.room), treated.treated_on.year)
    return visits, Counter(rooms.values())


def _is_confirmed(house: House, case: CaseNo) -> bool:
    judged = judgement_of(house, case)
    return judged is not None and judged.outcome is Outcome.CONFIRMED
