"""How well a look notices one insect, as the hotel's own confirmed finds fit it.

Each find has a record of looks before it: the clean ones missed what was there, and perhaps
one found it. How likely that record is depends on how well an insect is noticed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
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
    tables = Tables(setting)
    finds = [
        _Find(room, one.day, _weight(_unlooked(record, one.day), tables))
        for room in known.plain
        for record in [record_in(house, known, room, setting, with_silence=False)]
        for one in record.evidence
        if isinstance(one, Found)
    ]
    if not finds:
        return None
    spread = house.rules.odds.figures.notice_spread.value

    def stories(notice: float) -> list[float]:
        moved = Tables(_with_notice(setting, notice))
        return [_story(house, known, find, moved) for find in finds]

    return notice_from_finds(setting.notice[DEEP], stories, spread=spread)


@dataclass(frozen=True, slots=True)
class _Find:
    """A find, and how likely something was there by then, whatever looks saw."""

    room: RoomNo
    day: int
    before: float


def _with_notice(setting: Setting, notice: float) -> Setting:
    factor = notice / setting.notice[DEEP]
    moved = {key: min(1.0, setting.notice[key] * factor) for key in BY_LOOKING}
    return replace(setting, notice={**setting.notice, **moved})


def _story(house: House, known: Records, find: _Find, tables: Tables) -> float:
    """How likely a find's record of looks is, were something there when it was found."""
    record = record_in(house, known, find.room, tables.setting, with_silence=False)
    return _weight(until(record, find.day), tables) / find.before if find.before else 0.0


def _unlooked(record: RoomRecord, day: int) -> RoomRecord:
    treated = tuple(one for one in record.evidence if isinstance(one, Treated))
    return until(replace(record, evidence=treated), day)


def _weight(record: RoomRecord, tables: Tables) -> float:
    return float(room_odds(record, tables).weights.sum())
