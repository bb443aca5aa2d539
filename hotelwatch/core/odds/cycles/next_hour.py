"""On what the next hour of work, and the next money, are best spent.

Each step away from today's cycle and way is weighed by the infested room-days that it saves:
days on which somebody may sleep in a room with an infestation that nobody has found. They are
not weighed by the number of insects: its mean hangs on the few infestations that go longest
unseen, and so on where growth is taken to end, which is the weakest of all figures here.
"""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.core.odds.cycles.cycle_rows import (
    NEGLIGIBLE,
    Circumstances,
    CycleRow,
    NextHour,
    Now,
    StepWorth,
    gains_of,
)
from hotelwatch.core.odds.cycles.cycle_table import cycle_table
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS, CheckWay, Step, UsualRoom, steps_from
from hotelwatch.core.odds_figures import OddsRules, Stance


def next_hour(
    rules: OddsRules,
    now: Now,
    *,
    room: UsualRoom,
    around: Circumstances,
    lengths: Sequence[int] = LENGTHS,
) -> NextHour:
    """Weigh every step away from today's way and cycle; a shorter cycle is one of ``lengths``."""

    def row(way: CheckWay, days: int) -> CycleRow:
        return cycle_table(rules, (way,), (days,), room=room, around=around)[0]

    today = row(now.way, now.cycle_days)
    changes = steps_from(now.way, now.cycle_days, room, lengths=lengths)
    rows = {step: row(*changed) for step, changed in changes.items()}
    steps = tuple(StepWorth(step, after, gains_of(today, after)) for step, after in rows.items())
    return NextHour(
        today=today,
        steps=steps,
        best={stance: _best(steps, stance) for stance in Stance},
        best_for_money={stance: _best_for_money(steps, stance) for stance in Stance},
    )


def _best(steps: Sequence[StepWorth], stance: Stance) -> Step | None:
    rates = {worth.step: worth.by_stance[stance].days_per_hour or 0.0 for worth in steps}
    best = max(rates, key=rates.__getitem__, default=None)
    return best if best is not None and rates[best] > NEGLIGIBLE else None


def _best_for_money(steps: Sequence[StepWorth], stance: Stance) -> Step | None:
    gains = {worth.step: worth.by_stance[stance] for worth in steps}
    saving = {step: gain for step, gain in gains.items() if gain.days_saved > NEGLIGIBLE}
    if not saving:
        return None
    free = {step: gain for step, gain in saving.items() if gain.days_per_money is None}
    if free:
        return max(free, key=lambda step: free[step].days_saved)
    return max(saving, key=lambda step: saving[step].days_per_money or 0.0)
