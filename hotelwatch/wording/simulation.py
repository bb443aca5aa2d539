"""A simulated hotel in words: between what and what, in which setting, resting on what.

No figure stands without its interval, no interval without what it leaves out: it says how
far simulating scatters, not how true the figures behind it are. Where two rules can't be
told apart that is said. Numbers have two figures.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isfinite

from hotelwatch.core.odds.cycles.cycle_ways import Step
from hotelwatch.core.odds.simulation.measures import (
    CalibrationRow,
    Comparison,
    Estimate,
    Measure,
    MeasureRow,
    OfFinds,
)
from hotelwatch.core.odds.simulation.policies import HouseRule
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.wording.cycle import caution_lines, stance_text, way_text
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import LEAST_NUMBER, main_assumption, number_text, one_in

FIRST_SAID = (
    Measure.INFESTED_NIGHTS,
    Measure.GUESTS_EXPOSED,
    Measure.NIGHTS_LOST,
    Measure.HOURS,
    Measure.MONEY,
)
"""By these rules are compared in sentences."""


def measure_text(measure: Measure | OfFinds) -> str:
    """What is measured, for the head of a row."""
    return label(measure)


def between_text(told: Estimate | None) -> str:
    """An estimate by its interval: "between 60 and 80", "up to 0.03"."""
    if told is None:
        return _("nothing was found")
    low, high = max(0.0, told.low), told.high
    if not isfinite(high) and low < LEAST_NUMBER:
        return _("too few to say")
    if not isfinite(high):
        return _("{low} or more").format(low=number_text(low))
    if high < LEAST_NUMBER:
        return number_text(high)
    if low < LEAST_NUMBER:
        return _("up to {high}").format(high=number_text(high))
    if number_text(low) == number_text(high):
        return _("about {number}").format(number=number_text(low))
    return _("between {low} and {high}").format(low=number_text(low), high=number_text(high))


def change_text(told: Estimate) -> str:
    """A change by its interval: "between 60 and 80 fewer", or that none shows."""
    if not _ends(told):
        return _("too few hotel-years to say")
    if told.low <= 0.0 <= told.high:
        least, most = _signed(told.low), _signed(told.high)
        if least == most:
            return _("no change that shows")
        return _("no change that shows ({low} to {high})").format(low=least, high=most)
    least_change, most_change = sorted((abs(told.low), abs(told.high)))
    said = between_text(Estimate(abs(told.value), least_change, most_change))
    if told.high < 0:
        return _("{between} less").format(between=said)
    return _("{between} more").format(between=said)


def _ends(told: Estimate) -> bool:
    return isfinite(told.high) and isfinite(told.low)


def _signed(number: float) -> str:
    if abs(number) < LEAST_NUMBER:
        return "0"
    if number < 0:
        return _("−{number}").format(number=number_text(-number))
    return number_text(number)


def measure_cells(row: MeasureRow, stance: Stance) -> tuple[str, ...]:
    """A row of a stance: what is measured, as it is; where a rule is tried, that and the change.

    What is told of single finds has no change: the two rules' finds are not the same ones.
    """
    cells = (measure_text(row.measure), between_text(row.usual[stance]))
    if not row.tried:
        return cells
    change = change_text(row.change[stance]) if row.change else "–"
    return (*cells, between_text(row.tried[stance]), change)


def change_lines(told: Comparison, stance: Stance) -> Iterator[str]:
    """What trying a rule changes in a year, each as a sentence."""
    for measure in FIRST_SAID:
        row = told.row(measure)
        yield _("{what} a year, {stance} settings: {change}.").format(
            what=measure_text(measure),
            stance=stance_text(stance),
            change=change_text(row.change[stance]),
        )


def rule_lines(rule: HouseRule) -> Iterator[str]:
    """A house rule in words."""
    yield _("A look every {days}: {way}.").format(
        days=days_text(rule.cycle_days), way=way_text(rule.way)
    )
    week = sum(rule.minutes_by_weekday)
    yield _("All teams together have {minutes} minutes a week for it.").format(
        minutes=number_text(week)
    )
    if rule.ring:
        kinds = ", ".join(_in_a_row(label(kind)) for kind in rule.ring)
        yield _("After a find these neighbours are looked at within {days}: {kinds}.").format(
            days=days_text(max(1, rule.ring_days)), kinds=kinds
        )
    else:
        yield _("After a find no neighbour is looked at.")
    if not rule.follow_ups:
        yield _("After a treatment nobody looks again before the next round.")
        return
    yield ngettext(
        "A room is closed until {n} follow-up, {days} after the treatment.",
        "A room is closed until {n} follow-ups, {days} apart.",
        rule.follow_ups,
    ).format(n=rule.follow_ups, days=days_text(rule.follow_up_days))


def _in_a_row(said: str) -> str:
    return said[:1].lower() + said[1:]


def mind_lines(rule: HouseRule) -> Iterator[str]:
    """What to mind where a rule is followed: looking takes lifting, covers, headboards."""
    steps = {Step.SHORTER}
    if rule.way.cover_opened and not rule.way.encased:
        steps.add(Step.COVER)
    if rule.way.headboard_off:
        steps.add(Step.HEADBOARD)
    if rule.way.traps:
        steps.add(Step.TRAPS)
    yield from caution_lines(steps)


def rests_on_lines(told: Comparison, odds: OddsRules, *, is_own_pattern: bool) -> Iterator[str]:
    """What the figures rest on, and what their intervals leave out."""
    yield ngettext(
        "Simulated over {n} hotel-year under each rule, not observed.",
        "Simulated over {n} hotel-years under each rule, not observed.",
        told.years,
    ).format(n=told.years)
    yield _(
        "Intervals hold 95 % of what simulating scatters; that the figures behind it are assumed"
        " comes on top, and the three settings show how much that is."
    )
    yield main_assumption(odds)
    if is_own_pattern:
        yield _("Nights with guests: drawn from this hotel's own stays.")
    else:
        yield _("Nights with guests: assumed from their share and usual length; too few stays.")
    yield _(
        "Left out: seasons, what bookings to come would tell the planner, cycles of single rooms,"
        " insects that come other than with guests and from next door."
    )
    yield _("A year of this hotel may lie outside: these are means of many years.")


# --- do the odds come true? -----------------------------------------------------------------


def check_headings() -> tuple[str, ...]:
    """What stands above ``calibration_cells``."""
    return (_("Simulated rooms"), _("Told"), _("Came true"), _("Range"))


def calibration_cells(row: CalibrationRow) -> tuple[str, ...]:
    """Simulated rooms by their odds: how many, what was told, what came, from where to where."""
    return (
        f"{row.rooms:,}",
        one_in(row.told),
        one_in(row.seen),
        _("{most} to {least}").format(most=one_in(row.high), least=one_in(row.low)),
    )


def calibration_lines(rows: Sequence[CalibrationRow]) -> Iterator[str]:
    """Whether odds come true among simulated rooms, and what that does not show."""
    off = sum(not row.low <= row.told <= row.high for row in rows)
    yield ngettext(
        "In {off} of {n} group of simulated rooms the odds lie outside of what was seen.",
        "In {off} of {n} groups of simulated rooms the odds lie outside of what was seen.",
        len(rows),
    ).format(off=off, n=len(rows))
    yield _("By chance alone about one group in 20 lies outside.")
    yield _("This checks how odds are worked out, not the assumed figures that they rest on.")
