"""What the odds rest on: figures with three values each, growth, places, kinds of look.

Filled from resources/odds.toml. The three values are stances, never averaged: central,
cautious (something is missed more easily) and optimistic.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from enum import StrEnum

from hotelwatch.core.standing import Standing


class Stance(StrEnum):
    """From which side a figure is taken, where nobody knows it well."""

    CAUTIOUS = "cautious"
    CENTRAL = "central"
    OPTIMISTIC = "optimistic"


ByStance = Mapping[Stance, float]
"""One number for each stance."""


@dataclass(frozen=True, slots=True)
class OddsFigure:
    """A number with one value for each stance, what is plausible, and how well it is known."""

    key: str
    value: float
    cautious: float
    optimistic: float
    low: float
    high: float
    unit: str
    standing: Standing
    source: str
    note: str

    def of(self, stance: Stance) -> float:
        """The value of a stance."""
        values = {Stance.CAUTIOUS: self.cautious, Stance.OPTIMISTIC: self.optimistic}
        return values.get(stance, self.value)

    def chosen(self, value: float) -> OddsFigure:
        """The hotel's own value in place of the central one; the others keep their distance."""
        ratio = value / self.value if self.value else 1.0

        def moved(other: float) -> float:
            return min(max(other * ratio, self.low), self.high)

        return replace(
            self,
            value=value,
            cautious=moved(self.cautious),
            optimistic=moved(self.optimistic),
            standing=Standing.CHOSEN,
        )


@dataclass(frozen=True, slots=True)
class GrowthCurve:
    """Insects by age in days: through knots, log-linear, then at a steady rate."""

    key: str
    days: tuple[float, ...]
    insects: tuple[float, ...]
    rate: float
    """Per day after the last knot."""
    let_share: float
    """Share of nights with guests for which its days count as calendar days."""
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class LookKind:
    """A usual way of looking: which part of each place is seen, and which figure notices."""

    key: str
    seen: tuple[float, ...]
    """In the order of PLACES."""
    notice: str
    standing: Standing


PLACES = (
    "mattress_top",
    "mattress_under",
    "base_outside",
    "base_inside",
    "headboard_frame",
    "elsewhere",
)
"""Where most of an infestation may sit; the order of all arrays over places."""


@dataclass(frozen=True, slots=True)
class OddsFigures:
    """Every figure that the odds use, by name."""

    introductions_per_room_year: OddsFigure
    stays_per_room_year: OddsFigure
    introduction_strength: OddsFigure
    moved_in: OddsFigure
    days_before_record: OddsFigure
    most_insects: OddsFigure
    vacant_night: OddsFigure
    away_share: OddsFigure
    clumping: OddsFigure
    highest_chance: OddsFigure
    notice_deep: OddsFigure
    notice_linen: OddsFigure
    notice_glance: OddsFigure
    notice_traps: OddsFigure
    glance_weight: OddsFigure
    guest_silence: OddsFigure
    weak_sign_ratio: OddsFigure
    moderate_sign_ratio: OddsFigure
    strong_sign_ratio: OddsFigure
    guest_notices: OddsFigure
    guest_most: OddsFigure
    spread_side: OddsFigure
    spread_across: OddsFigure
    spread_above_below: OddsFigure
    spread_half: OddsFigure
    treatment_success: OddsFigure
    survivors: OddsFigure
    survey_confidence: OddsFigure
    survey_prevalence: OddsFigure
    survey_insects: OddsFigure
    notice_spread: OddsFigure
    random_share: OddsFigure
    risk_weight_most: OddsFigure
    price_work_hour: OddsFigure
    price_room_night: OddsFigure
    price_treatment: OddsFigure
    price_guest_find: OddsFigure
    price_encasing: OddsFigure
    price_traps: OddsFigure
    nights_lost_by_find: OddsFigure
    glances_per_week: OddsFigure
    usual_let_share: OddsFigure
    extra_minutes_cover: OddsFigure
    extra_minutes_headboard: OddsFigure
    minutes_read_traps: OddsFigure


@dataclass(frozen=True, slots=True)
class OddsRules:
    """Figures of the odds with growth curves, places and looks."""

    figures: OddsFigures
    growth: Mapping[str, GrowthCurve]
    growth_by_stance: Mapping[Stance, str]
    shares: tuple[float, ...]
    """Share of infestations that mainly sit in each of PLACES; they sum to 1."""
    shares_standing: Standing
    shares_source: str
    looks: Mapping[str, LookKind]
    shows: Mapping[str, Mapping[str, float]]
    """Which part of which of PLACES a look at a place of a bed or room shows, by its code."""
    shows_standing: Standing

    def figure(self, key: str) -> OddsFigure | None:
        """A figure by its key; None if there is none."""
        found: OddsFigure | None = getattr(self.figures, key, None)
        return found

    def with_figures(self, figures: Mapping[str, OddsFigure]) -> OddsRules:
        """These rules with some figures in place of theirs."""
        return replace(self, figures=replace(self.figures, **figures))

    def with_chosen(self, chosen: Mapping[str, float]) -> OddsRules:
        """These rules with a hotel's own values of some figures; other keys are left out."""
        own = {
            key: figure.chosen(value)
            for key, value in chosen.items()
            if (figure := self.figure(key)) is not None
        }
        return self.with_figures(own) if own else self


FIGURE_KEYS = tuple(field.name for field in fields(OddsFigures))
"""Names of all figures, in the order of the file."""
