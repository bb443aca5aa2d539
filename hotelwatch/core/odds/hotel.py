"""All rooms together: each room's odds in each stance, and what they come to for the hotel.

Stances are run side by side. A sum over rooms is one within a stance; nothing is averaged
or multiplied across them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from hotelwatch.core.building.neighbours import Neighbour
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.evidence import Records, nights_at_hand, record_in, records, records_of
from hotelwatch.core.odds.find import finds_in, is_found_on, last_find, pair_odds
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.measured import measured
from hotelwatch.core.odds.next_look import UsualLook, days_left_unseen, usual_look
from hotelwatch.core.odds.record import Given, RoomRecord
from hotelwatch.core.odds.room import RoomOdds, Tables, room_odds, room_past
from hotelwatch.core.odds.settings import Look, Setting, setting_of
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.stays.openings import Occupancy

Around = Mapping[RoomNo, tuple[Neighbour, ...]]
WEEKS_APART = 28
"""Days between looks back: how hard a room presses on its neighbours changes slowly."""
LOOKS_BACK = 13
WEEK = 7
FIND_COUNTS_DAYS = 365
"""A find next door longer ago than this is covered by looks since."""


@dataclass(frozen=True, slots=True)
class RoomFigures:
    """Where a room stands in one stance, in numbers that can be kept for every room."""

    chance: float
    """That something is there and was missed."""
    is_found: bool
    """Confirmed and not treated since: the chance says nothing more."""
    by_day: float
    """The chance that something comes in on one more day, as of today's stays and neighbours."""
    finds: float
    """The chance that the usual look today finds something."""
    saves_days: float
    """Infested room days that such a look saves, expected."""


@dataclass(frozen=True)
class StanceOdds:
    """Every room in one stance."""

    setting: Setting
    tables: Tables
    rooms: Mapping[RoomNo, RoomFigures]
    past: Mapping[RoomNo, Floats]
    """Chances on ``Reckoning.past_on``, by room."""
    pressures: Mapping[RoomNo, Floats]
    """How hard each room pressed on its neighbours on those days, 0 to 1."""


@dataclass(frozen=True)
class Reckoning:
    """The odds of all rooms on a day, in every stance, and what they were reckoned from."""

    today: date
    rules: OddsRules
    """Assumed figures with measured ones in their place."""
    records: Records
    around: Around
    past_on: tuple[date, ...]
    of: Mapping[Stance, StanceOdds]
    looks: Mapping[RoomNo, UsualLook]


def reckon(
    house: House,
    occupancy: Occupancy,
    around: Around,
    today: date,
    *,
    rules: OddsRules | None = None,
    progress: Progress = silent,
) -> Reckoning:
    """The odds of every room. Progress may stop it with Stopped.

    ``rules`` are those with measured figures in place, where they are at hand already.
    """
    if rules is None:
        rules = measured(house, today).rules
    return _reckon(house, rules, records(house, occupancy, today), around, progress)


def reckon_case(
    house: House, occupancy: Occupancy, around: Around, today: date, *, case: CaseNo
) -> Reckoning:
    """The odds of a case's rooms and their neighbours, were its signs judged to be bed bugs.

    How hard other rooms press on these is left out: beside a find it weighs little.
    """
    signs = dict.fromkeys(row.fact.room for row in house.sightings.get(case, ()))
    near = [other.room for room in signs for other in around.get(room, ())]
    bare = nights_at_hand(house, occupancy, today)
    known = records_of(house, bare, [*signs, *near], taken_as_found=frozenset({case}))
    return _reckon(house, measured(house, today).rules, known, around, silent)


def _reckon(
    house: House, rules: OddsRules, known: Records, around: Around, progress: Progress
) -> Reckoning:
    today = known.day_of(known.today)
    columns = _columns_back(known.today)
    looks = {room: usual_look(house, room) for room in known.plain}
    found: dict[Stance, StanceOdds] = {}
    bare = Reckoning(today, rules, known, around, tuple(map(known.day_of, columns)), found, looks)
    for number, stance in enumerate(Stance):
        part = _part_of(progress, number, len(Stance))
        found[stance] = _stance_odds(house, bare, stance, part)
    return bare


def reckon_again(before: Reckoning, house: House, rooms: Iterable[RoomNo]) -> Reckoning:
    """The same after something about some rooms was written down on the same day.

    They are reckoned anew, and their neighbours where a find is concerned; how hard others
    press on them stays as it was.
    """
    touched = [room for room in dict.fromkeys(rooms) if room in before.around]
    known = records_of(house, before.records, touched)
    finds = [room for room in touched if _has_find(known, room) or _has_find(before.records, room)]
    near = [other.room for room in finds for other in before.around[room]]
    anew = list(dict.fromkeys([*touched, *near]))
    looks = {**before.looks, **{room: usual_look(house, room) for room in touched}}
    after = replace(before, records=known, looks=looks, of={})
    return replace(
        after, of={stance: _anew(house, after, odds, anew) for stance, odds in before.of.items()}
    )


def _has_find(known: Records, room: RoomNo) -> bool:
    plain = known.plain.get(room)
    return plain is not None and any(is_judged for _day, _weight, is_judged, _entry in plain.signs)


def odds_of(
    reckoning: Reckoning, house: House, room: RoomNo, stance: Stance
) -> tuple[RoomRecord, RoomOdds]:
    """A room's record in a stance and its full odds, by day of introduction."""
    of_stance = reckoning.of[stance]
    columns = _columns_back(reckoning.records.today)
    record = _with_finds_near(house, reckoning, of_stance, room)
    pressure = _pressure(reckoning, of_stance.setting, of_stance.pressures, room, columns)
    return record, room_odds(record, of_stance.tables, pressure=pressure)


# --- one stance --------------------------------------------------------------------------------


def _stance_odds(house: House, known: Reckoning, stance: Stance, progress: Progress) -> StanceOdds:
    setting = setting_of(known.rules, stance)
    tables = Tables(setting)
    columns = _columns_back(known.records.today)
    rooms = list(known.records.plain)
    pressures: dict[RoomNo, Floats] = {}
    for number, room in enumerate(rooms):
        progress(number / len(rooms) / 2, "odds_neighbours")
        record = record_in(house, known.records, room, setting, with_silence=False)
        pressures[room] = pressed_by(record, tables, columns)
    bare = StanceOdds(setting, tables, {}, {}, pressures)
    figures: dict[RoomNo, RoomFigures] = {}
    pasts: dict[RoomNo, Floats] = {}
    for number, room in enumerate(rooms):
        progress((1.0 + number / len(rooms)) / 2, "odds_rooms")
        figures[room], pasts[room] = _room(house, known, bare, room, columns)
    return replace(bare, rooms=figures, past=pasts)


def pressed_by(record: RoomRecord, tables: Tables, columns: Sequence[int]) -> Floats:
    """How hard a room pressed on its neighbours on these days, by its record without silence.

    Until a find nothing: the pair of the find with each neighbour says what it did to them.
    """
    _odds, past = room_past(record, tables, columns)
    find = last_find(record)
    if find is not None:
        past.pressures[: np.searchsorted(columns, find, side="right")] = 0.0
    return past.pressures


def _anew(
    house: House, known: Reckoning, before: StanceOdds, rooms: Iterable[RoomNo]
) -> StanceOdds:
    columns = _columns_back(known.records.today)
    figures, pasts = dict(before.rooms), dict(before.past)
    for room in rooms:
        figures[room], pasts[room] = _room(house, known, before, room, columns)
    return replace(before, rooms=figures, past=pasts)


def _room(
    house: House, known: Reckoning, odds: StanceOdds, room: RoomNo, columns: Sequence[int]
) -> tuple[RoomFigures, Floats]:
    record = _with_finds_near(house, known, odds, room)
    pressure = _pressure(known, odds.setting, odds.pressures, room, columns)
    of_room, past = room_past(record, odds.tables, columns, pressure=pressure)
    look = known.looks[room]
    today = Look(look.seen, odds.setting.notice["notice_deep"])
    let, cycle = house.rules.figures.usual_occupancy.value, house.cycle_of(room)
    left = odds.tables.once(
        ("left unseen", cycle, let), lambda: days_left_unseen(odds.tables, cycle, let)
    )
    figures = RoomFigures(
        chance=of_room.chance,
        is_found=of_room.is_found,
        by_day=of_room.by_day(WEEK),
        finds=of_room.chance_of_find(odds.tables, today),
        saves_days=of_room.chance_of_find(odds.tables, today, worth=left),
    )
    return figures, past.chances


def _with_finds_near(house: House, known: Reckoning, odds: StanceOdds, room: RoomNo) -> RoomRecord:
    """A room's record with what a find next door says of it.

    Where several finds were next door, the one counts that leaves the highest chance today.
    """
    setting = odds.setting
    record = record_in(house, known.records, room, setting)
    with_each: list[RoomRecord] = []
    for neighbour in known.around.get(room, ()):
        if not _has_find(known.records, neighbour.room):
            continue
        found = record_in(house, known.records, neighbour.room, setting)
        spread = max(setting.spread[kind] for kind in neighbour.kinds)
        for day in finds_in(found):
            if day >= record.days - FIND_COUNTS_DAYS and not is_found_on(record, day):
                pair = pair_odds(found, record, odds.tables, spread=spread, day=day)
                given = Given(day, pair.first, pair.odds)
                with_each.append(replace(record, evidence=(*record.evidence, given)))
    if len(with_each) <= 1:
        return with_each[0] if with_each else record
    return max(with_each, key=lambda one: room_odds(one, odds.tables).chance)


def _pressure(
    known: Reckoning,
    setting: Setting,
    pressures: Mapping[RoomNo, Floats],
    room: RoomNo,
    columns: Sequence[int],
) -> Floats | None:
    """The chance a day that a room's neighbours infest it (days,); None without neighbours."""
    near = [n for n in known.around.get(room, ()) if n.room in pressures]
    if not near:
        return None
    kept = np.ones(len(columns))
    for neighbour in near:
        spread = max(setting.spread[kind] for kind in neighbour.kinds)
        kept *= 1.0 - spread * pressures[neighbour.room]
    return np.interp(np.arange(known.records.today + 1), columns, 1.0 - kept)


def _columns_back(today: int) -> list[int]:
    """Columns on which the past is looked back on, the last one today's."""
    back = range(today, max(-1, today - WEEKS_APART * LOOKS_BACK), -WEEKS_APART)
    return list(reversed(back))


def _part_of(progress: Progress, number: int, parts: int) -> Progress:
    def of_part(share: float, step: str) -> None:
        progress((number + share) / parts, step)

    return of_part
