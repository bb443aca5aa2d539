"""Two house rules in words: what is tried otherwise, and what a year of it changes by all settings.

A change is told as one only where its interval leaves out none, and as the hotel's only where
all three settings say so; else that is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.simulation.measures import Comparison, Estimate, Measure, MeasureRow
from hotelwatch.core.odds.simulation.policies import RINGS, HouseRule
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording.cycle import stance_text
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.simulation import FIRST_SAID, change_text, measure_text

DRAWN = (*FIRST_SAID, Measure.FOUND_BY_GUEST)
"""Measures of a comparison that are drawn and told, in this order."""
IN_ALL = 100
LEAST_PERCENT = 0.5
RING_NAMES: Mapping[str, str] = {
    "none": m("none"),
    "walls": m("by wall or door"),
    "all": m("all kinds"),
}


class Verdict(StrEnum):
    """What the three settings together say of a change."""

    LESS = "less"
    MORE = "more"
    UNTOLD = "untold"
    """None of them tells it from no change."""
    DIFFER = "differ"


def verdict_of(row: MeasureRow) -> Verdict:
    """What all settings say of a measure's change."""
    said = {tells(row.change[stance]) for stance in Stance}
    if said == {-1}:
        return Verdict.LESS
    if said == {1}:
        return Verdict.MORE
    return Verdict.UNTOLD if said == {0} else Verdict.DIFFER


def tells(change: Estimate) -> int:
    """-1 or 1 where a change shows as less or more; 0 where none shows."""
    if change.high < 0:
        return -1
    return 1 if change.low > 0 else 0


def verdict_lines(told: Comparison) -> Iterator[str]:
    """What the tried rule changes, first what every setting agrees on."""
    by_verdict: dict[Verdict, list[str]] = {verdict: [] for verdict in Verdict}
    for measure in DRAWN:
        said = measure_text(measure)
        by_verdict[verdict_of(told.row(measure))].append(said[:1].lower() + said[1:])
    texts = {
        Verdict.LESS: _("Less by every setting: {what}."),
        Verdict.MORE: _("More by every setting: {what}."),
        Verdict.DIFFER: _("The settings differ on: {what}."),
        Verdict.UNTOLD: _("Can't be told from no change: {what}; more hotel-years may tell."),
    }
    for verdict, text in texts.items():
        if by_verdict[verdict]:
            yield text.format(what=join(by_verdict[verdict]))


def by_setting_text(row: MeasureRow) -> str:
    """A measure's change in a year by each setting."""
    return _("{what}, a year: {changes}.").format(
        what=measure_text(row.measure),
        changes="; ".join(
            _("{stance}: {change}").format(
                stance=stance_text(stance), change=change_text(row.change[stance])
            )
            for stance in Stance
        ),
    )


def percent_change_text(share: Estimate | None) -> str:
    """A change in hundredths of today's figure, or that none can be told."""
    if share is None:
        return _("none today")
    if not tells(share):
        return _("can't tell")
    percent = round(share.value * IN_ALL)
    if abs(share.value * IN_ALL) < LEAST_PERCENT:
        return _("under 1 %")
    sign = "−" if percent < 0 else "+"
    return _("{sign}{percent} %").format(sign=sign, percent=f"{abs(percent):,}")


def drawing_note() -> str:
    """What the drawing of changes leaves out."""
    return _("The drawing takes today's figure as exact; the numbers have its interval too.")


def ring_text(ring: tuple[Kind, ...]) -> str:
    """Which neighbours of a find are looked at, short."""
    for code, kinds in RINGS.items():
        if set(ring) == set(kinds):
            return _(RING_NAMES[code])
    return ngettext("{n} kind", "{n} kinds", len(ring)).format(n=len(ring))


def tried_text(usual: HouseRule, tried: HouseRule) -> str:
    """What a rule does otherwise than today's, in a sentence."""
    return _("Tried: {changes}.").format(changes="; ".join(_differences(usual, tried)))


def _differences(usual: HouseRule, tried: HouseRule) -> Iterator[str]:
    if tried.cycle_days != usual.cycle_days:
        yield _("a look every {days} instead of {before}").format(
            days=days_text(tried.cycle_days), before=days_text(usual.cycle_days)
        )
    yield from _ways(usual, tried)
    if set(tried.ring) != set(usual.ring):
        yield _("neighbours of a find: {ring} instead of {before}").format(
            ring=ring_text(tried.ring), before=ring_text(usual.ring)
        )
    after = (tried.follow_ups, tried.follow_up_days)
    if after != (usual.follow_ups, usual.follow_up_days):
        yield _("follow-ups: {after} instead of {before}").format(
            after=follow_ups_text(tried), before=follow_ups_text(usual)
        )
    week, before = sum(tried.minutes_by_weekday), sum(usual.minutes_by_weekday)
    if tried.minutes_by_weekday != usual.minutes_by_weekday:
        yield _("{minutes} minutes a week instead of {before}").format(
            minutes=f"{week:,.0f}", before=f"{before:,.0f}"
        )


def _ways(usual: HouseRule, tried: HouseRule) -> Iterator[str]:
    now, then = usual.way, tried.way
    if then.encased != now.encased:
        yield _("all beds encased") if then.encased else _("beds encased as they are")
    if then.cover_opened != now.cover_opened:
        yield _("dust covers opened") if then.cover_opened else _("dust covers left closed")
    if then.headboard_off != now.headboard_off:
        yield _("headboards off") if then.headboard_off else _("headboards left on the wall")
    if then.traps != now.traps:
        yield _("traps under the beds") if then.traps else _("no traps")


def follow_ups_text(rule: HouseRule) -> str:
    """How many looks follow a treatment, and how far apart."""
    if not rule.follow_ups:
        return _("none")
    said = ngettext("{n}, {days} after it", "{n}, {days} apart", rule.follow_ups)
    return said.format(n=rule.follow_ups, days=days_text(rule.follow_up_days))


def settings_text(stance: Stance) -> str:
    """The settings of a stance, to choose from."""
    return _("{stance} settings").format(stance=stance_text(stance)).capitalize()
