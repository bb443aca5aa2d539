"""Which undersides were due in a month, which were looked at in time, and why others not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from hotelwatch.core.checks.coverage import Look, looks, underside_seen
from hotelwatch.core.checks.seasons import Pace, pace
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CycleChosen,
    RiskPlaced,
    RoomDescribed,
    RoundPublished,
)
from hotelwatch.core.house import House
from hotelwatch.core.month.due_rows import DueRow, DueState, WhyDays
from hotelwatch.core.month.known import Days, entry_days, house_at
from hotelwatch.core.month.why import Reasons
from hotelwatch.core.round_facts import SeasonNoted

RULES = (
    CycleChosen,
    RiskPlaced,
    SeasonNoted,
    RoomDescribed,
    BedDescribed,
    FigureChosen,
    RoundPublished,
)
"""Kinds of fact on which due dates rest, beside checks."""


@dataclass(frozen=True, slots=True)
class Span:
    """The days of the account: the month's first day, its last, and how far it goes."""

    first_on: date
    last_on: date
    until_on: date
    """Last day that is over or running: no later than ``last_on``."""
    overdue_before: date
    """Due dates before this day have passed."""

    def holds(self, day: date) -> bool:
        """Whether the account tells of a day."""
        return self.first_on <= day <= self.until_on


@dataclass(frozen=True, slots=True)
class _BedStory:
    """What happened to a bed in the month, as far as its due dates go."""

    start: Look
    """As of the day before the month, or of the day on which the bed came."""
    start_pace: Pace
    """How fast cycles ran by what was known then."""
    changed: Look | None
    """By the rules of the month's end, where they give another due date or pace."""
    end_pace: Pace
    changed_on: date
    gone_on: date | None
    looked_on: tuple[date, ...]


def due_rows(
    house: House, span: Span, reasons: Reasons, days: Days | None = None
) -> tuple[DueRow, ...]:
    """One row for each underside due in the month or overdue at its start.

    A look settles the due date before it; the next one follows from the look, so
    that a short cycle can bring a bed twice. A cycle chosen or a season noted within
    the month counts from the day it was written down and never makes a bed late before it.
    ``days`` as in ``house_at``.
    """
    days = entry_days(house, house.zone) if days is None else days
    rows: list[DueRow] = []
    for story in _stories(reasons.house, span, days):
        for due_on, looked_on in _dues(story, span):
            rows.append(_row(story, span, due_on=due_on, looked_on=looked_on, reasons=reasons))
    return tuple(sorted(rows, key=lambda row: (row.due_on, row.room, row.bed)))


def underside_days(house: House, first_on: date, last_on: date) -> Mapping[BedNo, tuple[date, ...]]:
    """The days of a span on which each bed's underside was looked at, oldest first."""
    days: dict[BedNo, tuple[date, ...]] = {}
    for bed, rows in house.checks_by_bed.items():
        found = {
            row.fact.checked_on
            for row in rows
            if first_on <= row.fact.checked_on <= last_on and underside_seen(house, row.fact)
        }
        if found:
            days[bed] = tuple(sorted(found))
    return days


def _stories(after: House, span: Span, days: Days) -> Iterator[_BedStory]:
    """Each bed that was in use at some time in the month, in house order."""
    unlooked = _unlooked(after, span)
    started = _looks_at_start(unlooked, span, days)
    by_end_rules = _looks_by_end_rules(unlooked, started, span, days)
    end_pace = pace(unlooked)
    looked = underside_days(after, span.first_on, span.until_on)
    changed_on = _rules_changed_on(after, span, days)
    gone = _gone_on(after, span, days)
    for bed, (look, start_pace) in started.items():
        changed = by_end_rules.get(bed)
        is_changed = changed is not None and (
            changed.due_on != look.due_on or start_pace.seasons != end_pace.seasons
        )
        yield _BedStory(
            start=look,
            start_pace=start_pace,
            changed=changed if is_changed else None,
            end_pace=end_pace,
            changed_on=changed_on,
            gone_on=None if bed in by_end_rules else gone.get(bed, span.until_on),
            looked_on=looked.get(bed, ()),
        )


def _looks_at_start(unlooked: House, span: Span, days: Days) -> Mapping[BedNo, tuple[Look, Pace]]:
    """Each bed as of the start of the month, or as of the end of the day on which it came.

    With it the pace of cycles known by then.
    """
    came = {days[rows[0].entry] for rows in unlooked.builds_by_bed.values()}
    before = span.first_on - timedelta(days=1)
    found: dict[BedNo, tuple[Look, Pace]] = {}
    for day in [before, *sorted(day for day in came if day > before)]:
        then = house_at(unlooked, day, days)
        runs = pace(then)
        for look in looks(then, span.first_on):
            found.setdefault(look.bed, (look, runs))
    return found


def _looks_by_end_rules(
    unlooked: House, started: Mapping[BedNo, tuple[Look, Pace]], span: Span, days: Days
) -> Mapping[BedNo, Look]:
    """Each bed as it would have stood at the start by what is known at the end."""
    last_told = [days[row.entry] for kind in RULES for row in unlooked.kept.get(kind, ())]
    if max(last_told, default=span.first_on) < span.first_on:
        # Nothing on which due dates rest was told within the month.
        return {bed: look for bed, (look, _pace) in started.items()}
    return {look.bed: look for look in looks(unlooked, span.first_on)}


def _unlooked(house: House, span: Span) -> House:
    """The house without the checks of the month."""
    rows = house.kept.get(BedChecked, ())
    earlier = tuple(
        row
        for row in rows
        if isinstance(row.fact, BedChecked) and row.fact.checked_on < span.first_on
    )
    return replace(house, kept={**house.kept, BedChecked: earlier})


def _rules_changed_on(house: House, span: Span, days: Days) -> date:
    """The last day of the month on which a cycle, risk, season, room or bed was told anew."""
    changes = [
        days[row.entry]
        for kind in (CycleChosen, RiskPlaced, SeasonNoted, RoomDescribed, BedDescribed)
        for row in house.kept_of(kind)
    ]
    return max([span.first_on, *changes])


def _gone_on(house: House, span: Span, days: Days) -> Mapping[BedNo, date]:
    """The day on which each bed that is in use no longer left the roster."""
    rooms = {
        row.fact.room: days[row.entry]
        for row in house.kept_of(RoomDescribed)
        if not row.fact.in_use
    }
    return {
        row.fact.bed: max(
            span.first_on, days[row.entry] if not row.fact.in_use else rooms[row.fact.room]
        )
        for row in house.kept_of(BedDescribed)
        if not row.fact.in_use or row.fact.room in rooms
    }


def _dues(story: _BedStory, span: Span) -> Iterator[tuple[date, date | None]]:
    """Each due date of the month with the day of the look that settled it, if one did."""
    due_on, cycle_days = story.start.due_on, story.start.cycle_days
    runs, changed = story.start_pace, story.changed
    for looked_on in story.looked_on:
        if changed and story.changed_on <= looked_on:
            due_on, cycle_days = _by_choice(due_on, changed, story), changed.cycle_days
            runs, changed = story.end_pace, None
        if due_on <= span.last_on:
            yield due_on, looked_on
        due_on = runs.due_on(looked_on, cycle_days)
    if changed:
        due_on = (
            max(story.end_pace.due_on(story.looked_on[-1], changed.cycle_days), story.changed_on)
            if story.looked_on
            else _by_choice(due_on, changed, story)
        )
    if due_on <= span.last_on:
        yield due_on, None


def _by_choice(due_on: date, changed: Look, story: _BedStory) -> date:
    """The due date once the rules changed: what was overdue by then stays as it was."""
    if due_on < story.changed_on:
        return due_on
    return max(changed.due_on, story.changed_on)


def _row(
    story: _BedStory, span: Span, *, due_on: date, looked_on: date | None, reasons: Reasons
) -> DueRow:
    look = story.start
    state = _state(story, span, due_on, looked_on)
    late_days = 0
    why: tuple[WhyDays, ...] = ()
    left_out: tuple[str, ...] = ()
    if state in (DueState.LATE, DueState.NOT_DONE):
        end = looked_on or span.overdue_before
        late_days = ((looked_on or span.until_on) - due_on).days
        why, left_out = reasons.of(
            look.bed,
            look.room,
            (due_on, end),
            is_running=looked_on is None and end == span.until_on,
        )
    return DueRow(
        bed=look.bed,
        room=look.room,
        due_on=due_on,
        is_spread=look.is_spread and due_on == look.due_on,
        was_overdue_at_start=due_on < span.first_on,
        state=state,
        looked_on=looked_on,
        late_days=late_days,
        why=why,
        left_out=left_out,
    )


def _state(story: _BedStory, span: Span, due_on: date, looked_on: date | None) -> DueState:
    if looked_on is not None:
        return DueState.IN_TIME if looked_on <= due_on else DueState.LATE
    if story.gone_on is not None:
        return DueState.NO_LONGER_DUE
    return DueState.NOT_DONE if due_on < span.overdue_before else DueState.AHEAD
