"""What a cycle buys, as values for a page, a paper or a sentence; no arrays are loaded here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, Step
from hotelwatch.core.odds_figures import Stance

if TYPE_CHECKING:
    from hotelwatch.core.odds.growth import Floats

HORIZON_DAYS = 3650
"""Whatever nobody found by this age counts as found by nobody."""
MOSTLY = 0.5
"""A way is today's where at least this share of checks kept to it."""
NEGLIGIBLE = 1e-9
"""Less than this is a rounding of arithmetic."""


class Finder(StrEnum):
    """Who finds an infestation first."""

    CHECK = "check"
    TRAPS = "traps"
    GLANCE = "glance"
    """Whoever makes the bed."""
    GUEST = "guest"
    NOBODY = "nobody"
    """Within the horizon."""


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What holds in the hotel whatever its cycle."""

    let_share: float
    """Share of nights with guests, 0 to 1."""
    neighbours: Mapping[tuple[Kind, ...], float] = field(default_factory=dict)
    """How many neighbours a mean room has, by all their kinds; none: spread is left out."""
    glances: bool = True
    """Whether whoever makes the bed reports what they see."""
    glances_a_night: float | None = None
    """Of bed-making, for each let night; None: as the figures say."""
    glance_weight: float | None = None
    """How much a glance counts, as a power; None: as the stance says."""
    traps_every_days: int = 14
    """Traps are read every so many days, as many as they must stand before one counts."""


@dataclass(frozen=True, slots=True)
class Now:
    """Today's way and cycle length in days."""

    way: CheckWay
    cycle_days: int


@dataclass(frozen=True, slots=True)
class Detection:
    """What becomes of one infestation; days count from the day on which it came in."""

    mean_days: float
    """One that nobody found counts up to the horizon."""
    median_days: int | None
    """None where fewer are found within the horizon; likewise below."""
    late_days: int | None
    """By then 9 in 10 are found."""
    median_insects: float | None
    """At detection; quantiles hold where means hang on the few largest ones."""
    many_insects: float | None
    """9 in 10 are found with fewer."""
    first: Mapping[Finder, float]
    """Share found first by each; they sum to 1."""
    found: Floats
    """Chance to be found on each day of age (ages,)."""


@dataclass(frozen=True, slots=True)
class RoomYear:
    """What one room has and costs in a mean year; money as in the hotel's prices."""

    introductions: float
    spread_on: float
    """Neighbouring rooms that each of them reaches before it is found; one step only."""
    infested_days: float
    """Room-days with an infestation that nobody has found yet; introductions and spread."""
    finds: float
    guest_finds: float
    """Of these, found first by a guest."""
    nights_closed: float
    """Nights on which it can't be sold after finds."""
    hours: float
    """Of one person: checks, and readings of traps; bed-making takes no longer."""
    work: float
    """Money for these hours."""
    material: float
    """Money for covers and traps."""
    after_finds: float
    """Money for treatments, for nights closed, and for what a guest's find costs more."""

    @property
    def spent(self) -> float:
        """Money for looking: work and material."""
        return self.work + self.material

    @property
    def cost(self) -> float:
        """All of it."""
        return self.spent + self.after_finds


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a cycle and a way bring in one stance."""

    seen: Detection
    year: RoomYear


@dataclass(frozen=True, slots=True)
class CycleRow:
    """What a cycle and a way bring, in the three stances."""

    cycle_days: int
    way: CheckWay
    by_stance: Mapping[Stance, Outcome]


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


def gains_of(before: CycleRow, after: CycleRow) -> Mapping[Stance, Gain]:
    """What going from one cycle and way to another brings, stance by stance."""
    gains: dict[Stance, Gain] = {}
    for stance, outcome in after.by_stance.items():
        was, is_now = before.by_stance[stance].year, outcome.year
        gains[stance] = Gain(
            days_saved=was.infested_days - is_now.infested_days,
            hours=is_now.hours - was.hours,
            spent=is_now.spent - was.spent,
            cost=is_now.cost - was.cost,
        )
    return gains


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


# --- what the record says of today ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class KeptWay:
    """In how many deep checks of the last year the hidden places were looked at."""

    bases: int
    """Looks at beds that have an inside behind a dust cover, not encased."""
    covers_opened: int
    rooms: int
    """Looks at the places of a room beside its beds."""
    headboards_off: int
    """Of these, with the back of the headboard."""

    @property
    def way(self) -> CheckWay:
        """The way that most checks kept to; nothing opened where none is known."""
        return CheckWay(
            cover_opened=self.bases > 0 and self.covers_opened >= MOSTLY * self.bases,
            headboard_off=self.rooms > 0 and self.headboards_off >= MOSTLY * self.rooms,
        )


@dataclass(frozen=True, slots=True)
class LetNights:
    """The share of nights with guests, and of how many nights it is known."""

    share: float
    nights: int
    """0: assumed."""
