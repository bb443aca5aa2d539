"""What a simulation says: yearly means with 95 % intervals, and differences of two rules.

Hotel-years are independent of each other, so a mean's interval follows from how they scatter.
A difference is taken year by year: two rules on the same seed had the same guests and luck.
Quantiles over finds have intervals from their ranks, which need no assumption on their form.
All of it is simulation error only: that the figures behind it are assumed comes on top.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor, sqrt

import numpy as np

from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.simulation.hotel import Ints, SimulatedHotel
from hotelwatch.core.odds.simulation.measures import (
    Comparison,
    Estimate,
    Measure,
    MeasureRow,
    OfFinds,
)
from hotelwatch.core.odds.simulation.policies import HouseRule
from hotelwatch.core.odds.simulation.tally import FINDS, Count, Tally
from hotelwatch.core.odds_figures import OddsRules, Stance

NORMAL_95 = 1.959964
"""Standard errors each way that hold 95 % of a normal distribution."""
RULE_OF_THREE = 3.0
HOUR_MINUTES = 60.0
TRAPS_A_YEAR_DAYS = 365.0
MIDDLE, NEARLY_ALL = 0.5, 0.9


@dataclass(frozen=True, eq=False)
class Outcome:
    """What some hotel-years came to under one rule in one stance."""

    rule: HouseRule
    stance: Stance
    by_measure: Mapping[Measure, Floats]
    """One number for each hotel-year."""
    insects: Floats
    """At each find."""
    nights: Floats
    """For which each had gone unfound."""
    found_in: Ints
    """The hotel-year of each find."""

    def mean(self, measure: Measure) -> Estimate:
        """The yearly mean of a measure."""
        numbers = self.by_measure[measure]
        if numbers.any() or not can_happen(self.rule, measure):
            return mean_of(numbers)
        return none_of(len(numbers))

    def insects_at_find(self, share: float) -> Estimate | None:
        """With how many insects this share of finds is found at most; None without finds."""
        return quantile_of(self.insects, share)

    def nights_unfound(self) -> Estimate | None:
        """Mean nights for which a find had gone unfound; None without finds."""
        return mean_of(self.nights) if len(self.nights) else None


def can_happen(rule: HouseRule, measure: Measure) -> bool:
    """Whether a rule has what a measure counts."""
    has = {
        Measure.FOUND_BY_TRAPS: rule.way.traps,
        Measure.FOUND_BY_RING: bool(rule.ring),
        Measure.FOUND_BY_FOLLOW_UP: rule.follow_ups > 0,
    }
    return has.get(measure, True)


def mean_of(numbers: Floats) -> Estimate:
    """The mean of independent numbers; with fewer than two nobody can say how sure it is."""
    mean = float(numbers.mean())
    if len(numbers) < 2:  # noqa: PLR2004 two are needed to scatter
        return Estimate(mean, -np.inf, np.inf)
    half = NORMAL_95 * float(numbers.std(ddof=1)) / sqrt(len(numbers))
    return Estimate(mean, mean - half, mean + half)


def none_of(years: int) -> Estimate:
    """What never happened in so many years: with 95 % it is rarer than this in a year.

    Source: a Poisson count of 0 has 3.0 as its upper limit (the rule of three).
    """
    return Estimate(0.0, 0.0, RULE_OF_THREE / years)


def quantile_of(numbers: Floats, share: float) -> Estimate | None:
    """A quantile with the interval between two ranks, whatever the distribution.

    Source: order statistics and the binomial distribution, here by its normal approximation.
    """
    number = len(numbers)
    if not number:
        return None
    ordered = np.sort(numbers)
    half = NORMAL_95 * sqrt(number * share * (1.0 - share))
    low, high = floor(number * share - half) - 1, ceil(number * share + half)
    place = min(number - 1, ceil(number * share) - 1)
    return Estimate(
        float(ordered[place]),
        float(ordered[low]) if low >= 0 else 0.0,
        float(ordered[high]) if high < number else np.inf,
    )


def difference(tried: Outcome, usual: Outcome, measure: Measure) -> Estimate:
    """By how much a rule changes a yearly mean: year by year, on the same luck."""
    return mean_of(tried.by_measure[measure] - usual.by_measure[measure])


def apart(tried: Outcome, usual: Outcome, measure: Measure) -> Estimate:
    """The same as if the two had nothing in common: a wider interval."""
    one, other = tried.by_measure[measure], usual.by_measure[measure]
    value = float(one.mean() - other.mean())
    error = sqrt(one.var(ddof=1) / len(one) + other.var(ddof=1) / len(other))
    return Estimate(value, value - NORMAL_95 * error, value + NORMAL_95 * error)


def outcome_of(
    tallies: list[Tally],
    rules: OddsRules,
    *,
    rule: HouseRule,
    stance: Stance,
    hotel: SimulatedHotel,
) -> Outcome:
    """Counts of all hotel-years as measures, with the hotel's prices."""
    counts = {count: np.concatenate([t.counts[count] for t in tallies]) for count in Count}
    measures = {
        Measure(count.value): some for count, some in counts.items() if count is not Count.MINUTES
    }
    measures[Measure.FINDS] = np.sum([counts[count] for count in FINDS], axis=0)
    measures[Measure.HOURS] = hours_of(counts, rules, rule=rule, stance=stance, hotel=hotel)
    measures[Measure.MONEY] = _money(measures, rules, rule=rule, stance=stance, hotel=hotel)
    return Outcome(
        rule=rule,
        stance=stance,
        by_measure=measures,
        insects=np.concatenate([np.array(t.insects, float) for t in tallies]),
        nights=np.concatenate([np.array(t.nights, float) for t in tallies]),
        found_in=np.concatenate(
            [
                np.array(t.found_in, np.int64) + before
                for t, before in zip(tallies, _years_before(tallies), strict=True)
            ]
        ),
    )


def comparison_of(
    outcomes: Mapping[tuple[int, Stance], Outcome], stances: Sequence[Stance], *, tried: bool
) -> Comparison:
    """What the first rule comes to, and, where one is ``tried``, what the second changes."""
    usual = {stance: outcomes[0, stance] for stance in stances}
    other = {stance: outcomes[1, stance] for stance in stances} if tried else {}
    rows = [
        MeasureRow(
            measure=measure,
            usual={stance: one.mean(measure) for stance, one in usual.items()},
            tried={stance: one.mean(measure) for stance, one in other.items()},
            change={
                stance: difference(one, usual[stance], measure) for stance, one in other.items()
            },
        )
        for measure in Measure
    ]
    rows += [
        MeasureRow(
            measure=told,
            usual={stance: of_finds(one, told) for stance, one in usual.items()},
            tried={stance: of_finds(one, told) for stance, one in other.items()},
            change={},
        )
        for told in OfFinds
    ]
    years = len(next(iter(usual.values())).by_measure[Measure.FINDS])
    return Comparison(years, tuple(rows))


def of_finds(outcome: Outcome, told: OfFinds) -> Estimate | None:
    """What finds were like; None without finds."""
    if told is OfFinds.NIGHTS_UNFOUND:
        return outcome.nights_unfound()
    share = MIDDLE if told is OfFinds.MIDDLE_INSECTS else NEARLY_ALL
    return outcome.insects_at_find(share)


def _years_before(tallies: list[Tally]) -> Ints:
    return np.cumsum([0, *(tally.years for tally in tallies[:-1])], dtype=np.int64)


def hours_of(
    counts: Mapping[Count, Floats],
    rules: OddsRules,
    *,
    rule: HouseRule,
    stance: Stance,
    hotel: SimulatedHotel,
) -> Floats:
    """Hours of one person a year: looks and ways by a team, traps read by one."""
    minutes = counts[Count.MINUTES] * hotel.usual.people
    if rule.way.traps:
        readings = hotel.size * TRAPS_A_YEAR_DAYS / rule.trap_days
        minutes = minutes + readings * rules.figures.minutes_read_traps.of(stance)
    return minutes / HOUR_MINUTES


def _money(
    measures: Mapping[Measure, Floats],
    rules: OddsRules,
    *,
    rule: HouseRule,
    stance: Stance,
    hotel: SimulatedHotel,
) -> Floats:
    figures = rules.figures
    encased = hotel.usual.beds if rule.way.encased else hotel.usual.encased_beds
    material = encased * figures.price_encasing.of(stance)
    material += figures.price_traps.of(stance) if rule.way.traps else 0.0
    return (
        measures[Measure.HOURS] * figures.price_work_hour.of(stance)
        + measures[Measure.NIGHTS_LOST] * figures.price_room_night.of(stance)
        + measures[Measure.FINDS] * figures.price_treatment.of(stance)
        + measures[Measure.FOUND_BY_GUEST] * figures.price_guest_find.of(stance)
        + material * hotel.size
    )
