"""Some rooms reckoned again, as reckoning all anew would: after an entry, or as more are asked for.

How hard a room presses on its neighbours is read from its own record alone, so that nothing
reaches farther than from a room to its neighbours.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.evidence import Records, record_in, records_of
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.hotel import Reckoning, StanceOdds, odds_of, pressed_by, reckon_again
from hotelwatch.core.odds_figures import ByStance


def again(before: Reckoning, house: House, touched: Iterable[RoomNo]) -> Reckoning:
    """The same day's odds after something about these rooms was written down.

    They and their neighbours are as if all were reckoned anew.
    """
    rooms = [room for room in dict.fromkeys(touched) if room in before.records.plain]
    known = records_of(house, before.records, rooms)
    near = [other.room for room in rooms for other in before.around.get(room, ())]
    return reckon_again(_pressed(before, house, known, rooms), house, [*rooms, *near])


def chances_beside(
    reckoning: Reckoning, house: House, rooms: Iterable[RoomNo], *, case: CaseNo
) -> dict[RoomNo, ByStance]:
    """Chances today of rooms farther from a case, whose signs are taken to be bed bugs."""
    wanted = [room for room in dict.fromkeys(rooms) if room in house.rooms]
    around = (other.room for room in wanted for other in reckoning.around.get(room, ()))
    more = [
        room for room in dict.fromkeys((*wanted, *around)) if room not in reckoning.records.plain
    ]
    known = records_of(house, reckoning.records, more, taken_as_found=frozenset({case}))
    beside = replace(_pressed(reckoning, house, known, more), records=known)
    return {
        room: {stance: odds_of(beside, house, room, stance)[1].chance for stance in beside.of}
        for room in wanted
    }


def _pressed(before: Reckoning, house: House, known: Records, rooms: list[RoomNo]) -> Reckoning:
    """The same with how hard these rooms press by these records."""
    columns = [(day - known.nights.first_on).days for day in before.past_on]
    of = {
        stance: replace(
            odds,
            pressures={**odds.pressures, **_pressures(house, known, odds, rooms, columns)},
        )
        for stance, odds in before.of.items()
    }
    return replace(before, of=of)


def _pressures(
    house: House, known: Records, odds: StanceOdds, rooms: list[RoomNo], columns: list[int]
) -> dict[RoomNo, Floats]:
    """How hard rooms pressed on their neighbours on those days, by their own records."""
    records = {
        room: record_in(house, known, room, odds.setting, with_silence=False) for room in rooms
    }
    return {room: pressed_by(one, odds.tables, columns) for room, one in records.items()}
