"""The rows of the book's further pages, put together."""

from __future__ import annotations

from datetime import datetime

from hotelwatch.core.house import House
from hotelwatch.core.month import after, care, dogs, evidence, policy, schooling
from hotelwatch.core.month.deadlines import clock_rows
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.page_rows import PageRows
from hotelwatch.core.month.rooms import room_rows
from hotelwatch.core.month.rows import MonthRows
from hotelwatch.core.trainings import training_states


def page_rows(
    known: House, at_end: House, rows: MonthRows, *, month: str, span: Span, end: datetime
) -> PageRows:
    """What the further pages hold; ``known`` is what the book knows, ``at_end`` its month's end."""
    return PageRows(
        rooms=room_rows(at_end, rows),
        clocks=clock_rows(at_end, span, end),
        lifts=care.lift_rows(at_end, span),
        left_lifts=care.left_lift_rows(at_end, span),
        kept=evidence.kept_rows(at_end, span),
        notices=evidence.notice_rows(at_end, span),
        visits=after.visit_rows(at_end, span),
        watches=after.watch_rows(at_end, span),
        care=care.care_rows(at_end, span),
        dogs=dogs.dog_rows(at_end, span),
        trainings=schooling.training_rows(known, span),
        training_states=training_states(at_end, span.until_on),
        trials=schooling.trial_rows(known, month, span),
        policy=policy.policy_rows(known, span),
        refusals=policy.refusals(known, span),
        in_force=policy.in_force(at_end),
        prices=policy.prices(at_end),
    )
