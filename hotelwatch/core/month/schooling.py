"""Trainings of a month, and the blind trials that ended in it."""

from __future__ import annotations

from collections.abc import Mapping

from hotelwatch.core.days import month_of
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.known import book_of, closings
from hotelwatch.core.month.page_rows import TrainingRow, TrialRow
from hotelwatch.core.odds.learning.trials import Trial, trials
from hotelwatch.core.people_facts import TrainingRecorded
from hotelwatch.core.trial_facts import DummyEnded


def training_rows(house: House, span: Span) -> tuple[TrainingRow, ...]:
    """The trainings of the month, by day and person."""
    rows = [
        TrainingRow(
            on=kept.fact.on,
            person=kept.fact.person,
            subject=kept.fact.subject,
            language=kept.fact.language,
            by=kept.fact.by,
            entry=kept.entry,
        )
        for kept in house.kept_of(TrainingRecorded)
        if span.holds(kept.fact.on)
    ]
    return tuple(sorted(rows, key=lambda row: (row.on, row.person, row.subject)))


def trial_rows(known: House, month: str, span: Span) -> tuple[TrialRow, ...]:
    """Blind trials that ended in the month, and those of a closed month told after its closing.

    ``known`` is the house as the book knows it: a trial of this month whose end is
    written down later stands in a later month's book. An open trial stands in none.
    """
    ends = {kept.fact: kept.entry for kept in known.kept_of(DummyEnded)}
    rows = [
        _row(trial, ends, is_late=is_late)
        for trial in trials(known)
        if trial.ended is not None
        for is_late in _stands_here(known, trial, month, span, ends[trial.ended])
    ]
    return tuple(sorted(rows, key=lambda row: (row.ended_on, row.room, row.place, row.entry)))


def _stands_here(known: House, trial: Trial, month: str, span: Span, told: int) -> tuple[bool, ...]:
    """Nothing where it does not stand in this book; else whether it was told late."""
    assert trial.ended is not None
    ended_on = trial.ended.ended_on
    if span.holds(ended_on):
        return (False,)
    own = month_of(ended_on)
    closing = closings(known).get(own)
    if own >= month or closing is None or told <= closing:
        return ()
    return (True,) if book_of(known, told, own) == month else ()


def _row(trial: Trial, ends: Mapping[DummyEnded, int], *, is_late: bool) -> TrialRow:
    assert trial.ended is not None
    return TrialRow(
        ended_on=trial.ended.ended_on,
        hidden_on=trial.hidden.hidden_on,
        room=trial.hidden.room,
        place=trial.hidden.place,
        state=trial.state,
        checks=len(trial.checks),
        is_late=is_late,
        entry=ends[trial.ended],
    )
