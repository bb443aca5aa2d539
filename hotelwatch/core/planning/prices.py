"""What the planner weighs against what: the house's figures, and how busy its teams are."""

from __future__ import annotations

from dataclasses import dataclass

from hotelwatch.core.parameters import Figures

BUSY = 0.94
"""Minutes wanted of each that there is (``busyness``) where a minute is worth what the
house's figure says: 85 % of them, did every look come on its last day."""
STEEP = 6
"""What nobody needs is worth nothing: so many times the share of that, multiplied by itself."""
MOST_TIMES = 2.0
"""The figure, however overloaded a house is."""


@dataclass(frozen=True, slots=True)
class Prices:
    """What the planner weighs against what; each is a Figure of the house."""

    minute: float
    """Overdue bed-days that a minute of a team's day prevents in the long run, so busy as it is."""
    alone: float
    """Share of visits for which a team goes to a corridor for that room only."""
    ageing_cycles: float
    """Late by so many of its cycles a further day of a bed counts double."""
    moved: float
    """Overdue bed-days worth of keeping a published visit where it is."""
    firm: float
    """A visit is firm if a minute spent on it saves so many overdue bed-days."""
    firm_days: int
    """Days ahead that are promised at all, today among them."""


def prices_of(figures: Figures, *, busy: float) -> Prices:
    """What a house weighs against what; ``busy``: minutes wanted of each that there is."""
    usual = figures.minute_worth.value
    minute = usual * min(MOST_TIMES, (busy / BUSY) ** STEEP)
    return Prices(
        minute=minute,
        alone=figures.alone_share.value,
        ageing_cycles=figures.ageing_cycles.value,
        moved=figures.moved_worth.value,
        # Idle teams work ahead: what can wait is not tied to its last day.
        firm=figures.firm_times.value * max(minute, usual),
        firm_days=int(figures.promised_days.value),
    )
