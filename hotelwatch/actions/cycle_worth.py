"""What a cycle buys: the hotel's figures read once, then any cycle and way weighed by them.

Their arrays take time to load, so nothing here is imported at the start.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from hotelwatch.actions.odds import Around
from hotelwatch.core.checks.cycles import cycle_rows
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.cycles.cycle_rows import (
    Circumstances,
    CycleRow,
    KeptWay,
    LetNights,
    NextHour,
)
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS, CheckWay, UsualRoom
from hotelwatch.core.odds_figures import OddsRules
from hotelwatch.core.progress import Progress, silent

Known = Mapping[tuple[CheckWay, int], CycleRow]
"""Rows at hand, by way and cycle length in days."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A way of checking and a cycle length in days that somebody thinks about."""

    way: CheckWay
    cycle_days: int


@dataclass(frozen=True, slots=True, eq=False)
class CycleBasis:
    """What a hotel's cycles are weighed by, and how things are today."""

    rules: OddsRules
    room: UsualRoom
    around: Circumstances
    rooms: int
    today: Trial
    """The way that most checks kept to, and the middle room's cycle."""
    house_days: int
    """The house's cycle, which rooms have that have none of their own."""
    own_cycles: int
    """Rooms whose cycle is another one."""
    kept: KeptWay
    let: LetNights
    hour: NextHour
    """On what the next hour is best spent, from today's way and cycle."""


@dataclass(frozen=True, slots=True)
class BasisWish:
    """What a basis is read from; ``rules`` are those that count, with measured figures."""

    house: House
    around: Around
    today: date
    rules: OddsRules


def read_basis(wish: BasisWish, progress: Progress = silent) -> CycleBasis:
    """Read how things are, and weigh every step from there."""
    from hotelwatch.core.odds.cycles.cycle_hotel import (
        circumstances_of,
        let_nights,
        now_of,
        usual_room,
        way_kept,
    )
    from hotelwatch.core.odds.cycles.next_hour import next_hour

    progress(0.0, "")
    house, today = wish.house, wish.today
    around, now = circumstances_of(house, today, wish.around), now_of(house, today)
    room = usual_room(house)
    whole = cycle_rows(house)[0].cycle_days
    return CycleBasis(
        rules=wish.rules,
        room=room,
        around=around,
        rooms=len(house.rooms),
        today=Trial(now.way, now.cycle_days),
        house_days=whole,
        own_cycles=sum(house.cycle_of(RoomNo(no)) != whole for no in house.rooms),
        kept=way_kept(house, today),
        let=let_nights(house, today),
        hour=next_hour(wish.rules, now, room=room, around=around),
    )


@dataclass(frozen=True, slots=True)
class Question:
    """What is tried, and against what it is held."""

    basis: CycleBasis
    tried: Trial
    against: Trial


@dataclass(frozen=True, slots=True, eq=False)
class Weighed:
    """What is tried beside what it is held against, each over the same cycle lengths."""

    asked: Question
    tried: tuple[CycleRow, ...]
    """The way that is tried, by rising cycle length."""
    against: tuple[CycleRow, ...]

    @property
    def row(self) -> CycleRow:
        """What is tried."""
        return _at(self.tried, self.asked.tried.cycle_days)

    @property
    def against_row(self) -> CycleRow:
        """What it is held against."""
        return _at(self.against, self.asked.against.cycle_days)


def _at(rows: tuple[CycleRow, ...], days: int) -> CycleRow:
    return next(row for row in rows if row.cycle_days == days)


def weigh(asked: Question, before: Weighed | None, progress: Progress = silent) -> Weighed:
    """Weigh a trial at its own length exactly; what ``before`` has is not reckoned again."""
    known: Known = {}
    if before is not None and before.asked.basis is asked.basis:
        known = {(row.way, row.cycle_days): row for row in (*before.tried, *before.against)}
    days = (asked.basis.today.cycle_days, asked.tried.cycle_days, asked.against.cycle_days)
    lengths = sorted({*LENGTHS, *days})
    ways = tuple(dict.fromkeys((asked.tried.way, asked.against.way)))
    by_way: dict[CheckWay, tuple[CycleRow, ...]] = {}
    for number, way in enumerate(ways):
        progress(number / len(ways), "")
        by_way[way] = _rows(asked.basis, way, lengths=lengths, known=known)
    return Weighed(asked, by_way[asked.tried.way], by_way[asked.against.way])


def _rows(
    basis: CycleBasis, way: CheckWay, *, lengths: Sequence[int], known: Known
) -> tuple[CycleRow, ...]:
    from hotelwatch.core.odds.cycles.cycle_table import cycle_table

    missing = [days for days in lengths if (way, days) not in known]
    fresh = cycle_table(basis.rules, (way,), missing, room=basis.room, around=basis.around)
    found = {row.cycle_days: row for row in fresh}
    return tuple(found.get(days) or known[way, days] for days in lengths)
