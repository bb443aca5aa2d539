"""What the hotel's own record says of the figures that the odds rest on.

A learned figure takes the place of an assumed one only once enough stands behind it, and
it brings its own range: cautious and optimistic are then the two ends of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from hotelwatch.core.case_facts import Outcome
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.days import local_day
from hotelwatch.core.house import House
from hotelwatch.core.odds.learning.estimates import Estimate, TwoInspectors, introductions, planted
from hotelwatch.core.odds.learning.occupancy import Repeated
from hotelwatch.core.odds.learning.people import People, people
from hotelwatch.core.odds.learning.repeats import blind_pairs, repeated_looks
from hotelwatch.core.odds.learning.trials import (
    Tally,
    TrialState,
    counted,
    states,
    tally,
    tally_by_person,
    tally_by_place,
    trials,
)
from hotelwatch.core.odds_figures import OddsFigure, OddsRules
from hotelwatch.core.standing import Standing

NOTICE = "notice_deep"
INTRODUCTIONS = "introductions_per_room_year"
SOURCE = "The hotel's own record"


@dataclass(frozen=True, slots=True)
class LearnedFigure:
    """A figure of resources/odds.toml as the record gives it, and how much stands behind it."""

    key: str
    value: float
    cautious: float
    optimistic: float
    found: int
    """Dummies found; introductions: confirmed cases."""
    behind: int
    """Blind trials; introductions: stays that began."""
    is_enough: bool
    """Whether it takes the assumption's place."""


@dataclass(frozen=True, slots=True)
class Learned:
    """What the record says now, each with what stands behind it."""

    notice: LearnedFigure | None
    """None before the first blind trial that counts."""
    introductions: LearnedFigure | None
    """None while no stay is at hand, or where nobody said how much is found by now."""
    by_place: Mapping[str, Estimate]
    """How well a deep look sees in each place, by its code."""
    brief: Tally
    """Dummies that a brief look met first; they are no trial of a deep one."""
    people: People
    states: Mapping[TrialState, int]
    """How many dummies stand where; those that say nothing are counted apart."""
    needed: int
    """Blind trials that must stand behind a figure before it takes the assumption's place."""
    pairs: TwoInspectors | None
    """Two blind looks at the same rooms; None without any."""
    repeats: tuple[Repeated, ...]
    """Rooms looked at several times within days, for core.odds.occupancy."""

    @property
    def enough(self) -> tuple[LearnedFigure, ...]:
        """Figures that take an assumption's place."""
        known = (self.notice, self.introductions)
        return tuple(figure for figure in known if figure is not None and figure.is_enough)

    def measured(self, rules: OddsRules) -> Mapping[str, OddsFigure]:
        """Those figures as the odds take them, marked as measured: for rules.with_figures.

        A figure that the hotel chose itself stays as it was chosen.
        """
        found = {}
        for learned in self.enough:
            figure = rules.figure(learned.key)
            if figure is not None and figure.standing is not Standing.CHOSEN:
                found[learned.key] = _measured(figure, learned)
        return found


def _measured(figure: OddsFigure, learned: LearnedFigure) -> OddsFigure:
    """The figure with learned values, none of them beyond what is plausible."""

    def held(value: float) -> float:
        return min(max(value, figure.low), figure.high)

    return replace(
        figure,
        value=held(learned.value),
        cautious=held(learned.cautious),
        optimistic=held(learned.optimistic),
        standing=Standing.MEASURED,
        source=SOURCE,
    )


def learned(house: House, today: date, *, found_share: float | None = None) -> Learned:
    """What the record says by ``today`` of noticing and of introductions.

    ``found_share`` is the share (0 to 1) of introductions since the record began that would
    have been found by now, as a model of the checks says; without it nothing is learned of
    introductions, since what is not found yet would be taken for none.
    """
    all_trials = trials(house)
    deep = counted(all_trials)
    figures = house.rules.figures
    needed = int(figures.trials_before_learned.value)
    return Learned(
        notice=_notice(tally(deep), needed),
        introductions=None if found_share is None else _introductions(house, today, found_share),
        by_place={p: planted(t.found, t.trials) for p, t in tally_by_place(deep).items()},
        brief=tally(counted(all_trials, deep=False)),
        people=people(tally_by_person(deep), needed=int(figures.trials_before_own.value)),
        states=states(all_trials),
        needed=needed,
        pairs=blind_pairs(house),
        repeats=repeated_looks(house),
    )


def _notice(seen: Tally, needed: int) -> LearnedFigure | None:
    if not seen.trials:
        return None
    estimate = planted(seen.found, seen.trials)
    return LearnedFigure(
        key=NOTICE,
        value=estimate.value,
        cautious=estimate.low,
        optimistic=estimate.high,
        found=seen.found,
        behind=seen.trials,
        is_enough=seen.trials >= needed,
    )


def _introductions(house: House, today: date, found_share: float) -> LearnedFigure | None:
    """Enough stands behind it once the stays weigh as much as the assumption does."""
    arrivals = [stay.arrives_on for stay in house.stays if stay.counts and stay.arrives_on <= today]
    if not arrivals:
        return None
    finds = _confirmed(house, min(arrivals), today)
    assumed = house.rules.odds.figures
    stays_a_year = assumed.stays_per_room_year.value
    per_stay = assumed.introductions_per_room_year.value / stays_a_year
    strength = assumed.introduction_strength.value
    weighed = len(arrivals) * found_share
    rate = introductions(per_stay, strength=strength, finds=finds, stays=weighed)
    return LearnedFigure(
        key=INTRODUCTIONS,
        value=rate.value * stays_a_year,
        cautious=rate.high * stays_a_year,
        optimistic=rate.low * stays_a_year,
        found=finds,
        behind=len(arrivals),
        is_enough=weighed * per_stay >= strength,
    )


def _confirmed(house: House, from_on: date, until_on: date) -> int:
    """Confirmed cases whose first sign was seen within these days; rooms of one case count once."""
    count = 0
    for case, sightings in house.sightings.items():
        judged = judgement_of(house, case)
        if judged is not None and judged.outcome is Outcome.CONFIRMED:
            first = min(local_day(row.fact.seen_at, house.zone) for row in sightings)
            count += from_on <= first <= until_on
    return count
