"""Who is to be told of a case, what, and by when: what stands on the paper of those who go.

A code for who and one for what, with the values of its sentence. The executive housekeeper,
front desk and laundry: common practice, no source. A guest's answer, an authority's notice, a
competent person's judgement and a treatment have the deadlines of the case's own steps.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.steps import next_steps
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House

LISTENERS = {
    "answer_guest": "front_desk",
    "tell_authority": "authority",
    "judge_specimen": "competent_person",
    "record_treatment": "firm",
}
"""Steps of a case that are somebody's to hear of, and who that is."""


@dataclass(frozen=True, slots=True)
class Telling:
    """Somebody who is to be told something."""

    who: str
    """housekeeper, front_desk, laundry, authority, competent_person or firm."""
    what: str
    """looked, closed, bags or a code of ``LISTENERS``."""
    values: dict[str, Any] = field(default_factory=dict)
    by_at: datetime | None = None
    """By when; None: at once."""


def to_be_told(house: House, no: CaseNo, *, now: datetime) -> tuple[Telling, ...]:
    """Everybody whom a case wants told, those to be told at once first."""
    case = case_of(house, no)
    told = [Telling("housekeeper", "looked")]
    if case.quarantined:
        rooms = {"rooms": case.quarantined}
        told += [Telling("front_desk", "closed", rooms), Telling("laundry", "bags", rooms)]
    return (*told, *_steps(house, no, now))


def _steps(house: House, no: CaseNo, now: datetime) -> Iterator[Telling]:
    for step in next_steps(house, case_of(house, no), now=now):
        if step.code in LISTENERS:
            yield Telling(LISTENERS[step.code], step.code, dict(step.values), step.due_at)
