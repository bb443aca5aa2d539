"""How well a look notices one insect, as the hotel's own confirmed finds fit it.

Each find has a record of looks before it: the clean ones missed what was there, and perhaps
one found it. How likely that record is depends on how well an insect is noticed.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.evidence import Records, record_in, records
from hotelwatch.core.odds.find import until
from hotelwatch.core.odds.learning.estimates import Estimate
from hotelwatch.core.odds.learning.other_route import notice_from_finds
from hotelwatch.core.odds.record import Found, RoomRecord, Treated
from hotelwatch.core.odds.room import Tables, room_odds
from hotelwatch.core.odds.settings import Setting, setting_of
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.stays.openings import Occupancy

DEEP = "notice_deep"
BY_LOOKING = (DEEP, "notice_linen")
"""Figures that one factor moves; what guests and bed-making notice is left as assumed."""


def notice_of_finds(house: House, occupancy: Occupancy, today: date) -> Estimate | None:
    """The chance that a deep look notices one insect, by all confirmed finds; None without any.

    By the central stance. Finds that nobody made yet tell nothing: a range that holds few.
    """
    setting = setting_of(house.rules.odds, Stance.CENTRAL)
    known = records(house, occupancy, today)
    finds = [
        (room, one.day)
        for room in known.plain
        for one in record_in(house, known, room, setting).evidence
        if isinstance(one, Found)
    ]
    if not finds:
        return None
    spread = house.rules.odds.figures.notice_spread.value

    def stories(notice: float) -> list[float]:
        moved = _with_notice(setting, notice)
        tables = Tables(moved)
        return [_story(house, known, find, tables) for find in finds]

    return notice_from_finds(setting.notice[DEEP], stories, spread=spread)


def _with_notice(setting: Setting, notice: float) -> Setting:
    factor = notice / setting.notice[DEEP]
    moved = {key: min(1.0, setting.notice[key] * factor) for key in BY_LOOKING}
    return replace(setting, notice={**setting.notice, **moved})


def _story(house: House, known: Records, find: tuple[RoomNo, int], tables: Tables) -> float:
    """How likely a find's record of looks is, were something there when it was found."""
    room, day = find
    record = until(record_in(house, known, room, tables.setting), day)
    there = float(room_odds(record, tables).weights.sum())
    before = float(room_odds(_unlooked(record), tables).weights.sum())
    return there / before if before else 0.0


def _unlooked(record: RoomRecord) -> RoomRecord:
    treated = tuple(one for one in record.evidence if isinstance(one, Treated))
    return replace(record, evidence=treated, extra=())
