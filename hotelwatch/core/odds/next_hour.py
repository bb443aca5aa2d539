"""On what the next hour of work, and the next money, are best spent.

Each step away from today's cycle and way is weighed by the infested room-days that it saves:
days on which somebody may sleep in a room with an infestation that nobody has found. They are
not weighed by the number of insects: its mean hangs on the few infestations that go longest
unseen, and so on where growth is taken to end, which is the weakest of all figures here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hotelwatch.core.odds.cycle import Circumstances
from hotelwatch.core.odds.cycle_table import CycleRow, cycle_table
from hotelwatch.core.odds.cycle_ways import LENGTHS, CheckWay, Step, UsualRoom, steps_from
from hotelwatch.core.odds_figures import OddsRules, Stance

NEGLIGIBLE = 1e-9
"""Less than this is a rounding of arithmetic."""


@dataclass(frozen=True, slots=True)
class Gain:
    """What a step brings in one stance, of one room in a year."""

    days_saved: float
    """Infested room-days less; negative where there are more."""
    hours: float
    """More hours of one person; negative where it saves some."""
    spent: float
    """More money for work and material; negative where it saves some."""
    cost: float
    """More money in all, with what finds bring."""

    @property
    def days_per_hour(self) -> float | None:
        """Infested room-days saved by each hour more; None where it takes no more hours."""
        return self.days_saved / self.hours if self.hours > NEGLIGIBLE else None

    @property
    def days_per_money(self) -> float | None:
        """Infested room-days saved by each unit of money more; None where it takes no more."""
        return self.days_saved / self.spent if self.spent > NEGLIGIBLE else None


@dataclass(frozen=True, slots=True)
class StepWorth:
    """A step away from today's cycle and way, and what it brings in the three stances."""

    step: Step
    row: CycleRow
    """After the step."""
    by_stance: Mapping[Stance, Gain]


@dataclass(frozen=True, slots=True)
class NextHour:
    """Today, every step from it, and the best one in each stance."""

    today: CycleRow
    steps: tuple[StepWorth, ...]
    best: Mapping[Stance, Step | None]
    """Most days saved by an hour, of steps that take hours; None: no such step saves any."""
    best_for_money: Mapping[Stance, Step | None]
    """The same by money; a step that saves days and money goes before all others."""

    @property
    def agrees(self) -> bool:
        """Whether an hour is best spent on the same step in all stances."""
        return len(set(self.best.values())) == 1

    @property
    def agrees_for_money(self) -> bool:
        """Whether money is."""
        return len(set(self.best_for_money.values())) == 1

    @property
    def without_hours(self) -> tuple[StepWorth, ...]:
        """Steps that save infested room-days and take no more hours, in every stance."""
        return tuple(
            worth
            for worth in self.steps
            if all(
                gain.hours <= NEGLIGIBLE and gain.days_saved > NEGLIGIBLE
                for gain in worth.by_stance.values()
            )
        )

    def worth(self, step: Step) -> StepWorth:
        """What a step brings."""
        return next(worth for worth in self.steps if worth.step is step)


@dataclass(frozen=True, slots=True)
class Now:
    """Today's way and cycle length in days."""

    way: CheckWay
    cycle_days: int


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
    after = steps_from(now.way, now.cycle_days, room, lengths=lengths)
    steps = tuple(_worth(today, step, row(*changed)) for step, changed in after.items())
    return NextHour(
        today=today,
        steps=steps,
        best={stance: _best(steps, stance) for stance in Stance},
        best_for_money={stance: _best_for_money(steps, stance) for stance in Stance},
    )


def _worth(today: CycleRow, step: Step, row: CycleRow) -> StepWorth:
    gains: dict[Stance, Gain] = {}
    for stance, outcome in row.by_stance.items():
        before, after = today.by_stance[stance].year, outcome.year
        gains[stance] = Gain(
            days_saved=before.infested_days - after.infested_days,
            hours=after.hours - before.hours,
            spent=after.spent - before.spent,
            cost=after.cost - before.cost,
        )
    return StepWorth(step, row, gains)


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
