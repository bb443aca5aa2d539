"""Cycle lengths and ways beside one another, and on what the next hour of work is best spent.

Three stances stand side by side in everything here and are never averaged.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from hotelwatch.core.odds.cycles.cycle import detection, eyes_of, spread_on
from hotelwatch.core.odds.cycles.cycle_costs import Practice, room_year
from hotelwatch.core.odds.cycles.cycle_rows import Circumstances, CycleRow, Outcome
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS, CheckWay, UsualRoom
from hotelwatch.core.odds.settings import Setting, settings_of
from hotelwatch.core.odds_figures import OddsRules


def cycle_table(
    rules: OddsRules,
    ways: Iterable[CheckWay],
    lengths: Sequence[int] = LENGTHS,
    *,
    room: UsualRoom,
    around: Circumstances,
) -> tuple[CycleRow, ...]:
    """Every way with every cycle length in days, in their order; a way's lengths together."""
    settings = settings_of(rules)
    rows: list[CycleRow] = []
    for way in ways:
        practice = Practice(rules, way, room, around)
        found = {
            stance: outcomes(practice, setting, lengths) for stance, setting in settings.items()
        }
        rows += [
            CycleRow(days, way, {stance: found[stance][days] for stance in settings})
            for days in lengths
        ]
    return tuple(rows)


def outcomes(practice: Practice, setting: Setting, lengths: Iterable[int]) -> Mapping[int, Outcome]:
    """What each of some cycle lengths brings in one stance, by length."""
    around = practice.around
    eyes = eyes_of(practice.rules, setting, practice.way, room=practice.room, around=around)
    found: dict[int, Outcome] = {}
    for days in lengths:
        seen = detection(eyes, days, around.traps_every_days)
        spread = spread_on(setting, eyes, seen, around.neighbours)
        year = room_year(practice, setting, seen, cycle_days=days, spread=spread)
        found[days] = Outcome(seen, year)
    return found
