"""Who was trained in what and when, and who is due for it again.

Which topics a role needs is common practice, no source. That training comes at the start,
with a new task and every year, in a language understood: figures.training_again_days.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.facts import BedChecked
from hotelwatch.core.house import House
from hotelwatch.core.people import people
from hotelwatch.core.people_facts import (
    PersonDescribed,
    StaffRole,
    TrainingRecorded,
    TrainingTopic,
)
from hotelwatch.core.record_facts import is_gone

NEEDS: Mapping[StaffRole, tuple[TrainingTopic, ...]] = {
    StaffRole.EXECUTIVE: tuple(TrainingTopic),
    StaffRole.SUPERVISOR: tuple(TrainingTopic),
    StaffRole.HOUSEKEEPER: tuple(TrainingTopic),
    StaffRole.FRONT_DESK: (TrainingTopic.RESPONSE,),
    StaffRole.ENGINEER: (TrainingTopic.SIGNS, TrainingTopic.RESPONSE, TrainingTopic.LIFTING),
    StaffRole.MANAGER: (),
}
"""Common practice, no source."""


@dataclass(frozen=True, slots=True)
class TrainingState:
    """How somebody stands with a topic."""

    person: str
    subject: TrainingTopic
    last: TrainingRecorded | None
    """None: nothing is written down."""
    due_on: date | None
    """When it comes again; None where there was none yet."""
    is_overdue: bool


def training_states(house: House, today: date) -> tuple[TrainingState, ...]:
    """Each topic that each person needs, by name, what is overdue marked.

    People are those who work with the file and those who looked at beds within the
    days after which a training comes again; what somebody was trained in beyond their
    needs stands too.
    """
    latest: dict[tuple[str, TrainingTopic], TrainingRecorded] = {}
    for fact in house.all_of(TrainingRecorded):
        if fact.on <= today:
            known = latest.get((fact.person, fact.subject))
            if known is None or fact.on >= known.on:
                latest[fact.person, fact.subject] = fact
    again = int(house.rules.figures.training_again_days.value)
    needed = [(name, topic) for name, role in _at_work(house, today) for topic in NEEDS[role]]
    here = {name for name, _role in _at_work(house, today)}
    beyond = [key for key in latest if key[0] in here]
    order = list(TrainingTopic)
    keys = sorted({*needed, *beyond}, key=lambda key: (key[0], order.index(key[1])))
    return tuple(
        _state(*key, latest.get(key), needed=key in needed, again=again, today=today)
        for key in keys
    )


def overdue(states: tuple[TrainingState, ...]) -> tuple[TrainingState, ...]:
    """Those that are overdue, never trained first, then by the day they were due."""
    late = [state for state in states if state.is_overdue]
    return tuple(sorted(late, key=lambda state: (state.due_on or date.min, state.person)))


def _state(
    person: str,
    subject: TrainingTopic,
    last: TrainingRecorded | None,
    *,
    needed: bool,
    again: int,
    today: date,
) -> TrainingState:
    due_on = last.on + timedelta(days=again) if last else None
    is_overdue = needed and (due_on is None or due_on < today)
    return TrainingState(person, subject, last, due_on, is_overdue)


def _at_work(house: House, today: date) -> Iterator[tuple[str, StaffRole]]:
    """Who works here and in which role; who looks and is not described is a housekeeper."""
    known = people(house)
    for name, person in known.items():
        if not is_gone(name):
            yield name, person.role
    gone = {fact.person for fact in house.all_of(PersonDescribed)}
    since = today - timedelta(days=int(house.rules.figures.training_again_days.value))
    looked = {
        name
        for check in house.all_of(BedChecked)
        if since <= check.checked_on <= today
        for name in check.by
    }
    for name in sorted(looked - gone):
        if not is_gone(name):
            yield name, StaffRole.HOUSEKEEPER
