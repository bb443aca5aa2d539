"""Who works with the file, and how long to wait after wrong PINs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures
from hotelwatch.core.people_facts import DeedRefused, PersonDescribed, StaffRole, WhyRefused
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import is_gone

MOST_DOUBLINGS = 30
"""Later ones change nothing: the longest wait is reached long before."""


@dataclass(frozen=True, slots=True)
class RefusedRow:
    """Something refused: when, to whom, what and why."""

    entry: int
    at: datetime
    refused: DeedRefused


def people(house: House) -> Mapping[str, PersonDescribed]:
    """Everybody who has not left, by name, in name order."""
    latest = {fact.person: fact for fact in house.all_of(PersonDescribed)}
    return {
        name: fact
        for name, fact in sorted(latest.items())
        if fact.in_use and not is_gone(name)  # an older word about somebody who has left
    }


def is_guarded(house: House) -> bool:
    """Whether roles count: nobody described yet leaves everything open."""
    return bool(house.all_of(PersonDescribed))


def role_of(house: House, person: str) -> StaffRole | None:
    """What somebody does in the hotel now; None for nobody's name, and who has left."""
    found = people(house).get(person)
    return found.role if found else None


def described(house: House, fact: PersonDescribed) -> tuple[Fact, ...]:
    """What to write down for a person; nothing where the same is known already.

    Refusal("first_is_executive") where nobody is known and the person may not add
    others, ("last_executive") where nobody would be left who may.
    """
    known = people(house)
    if not is_guarded(house) and fact.role is not StaffRole.EXECUTIVE:
        raise Refusal("first_is_executive")
    after = {**known, fact.person: fact}
    if not any(one.in_use and one.role is StaffRole.EXECUTIVE for one in after.values()):
        raise Refusal("last_executive", person=fact.person)
    return () if known.get(fact.person) == fact else (fact,)


def wrong_pins(house: House, person: str, *, since: datetime) -> tuple[datetime, ...]:
    """When wrong PINs were given in somebody's name since a moment, in that order."""
    return tuple(
        house.entry_of(kept).recorded_at
        for kept in house.kept_of(DeedRefused)
        if kept.fact.why is WhyRefused.WRONG_PIN
        and kept.fact.person == person
        and house.entry_of(kept).recorded_at > since
    )


def counted_since(figures: Figures, now: datetime) -> datetime:
    """From which moment on wrong PINs count."""
    return now - timedelta(hours=figures.pin_counted_hours.value)


def wait_until(wrong: tuple[datetime, ...], figures: Figures) -> datetime | None:
    """Before which moment no PIN is looked at; None: at once.

    After so many wrong ones each further one doubles the wait, up to a longest one.
    """
    over = len(wrong) - int(figures.pin_free_tries.value)
    if over < 0 or not wrong:
        return None
    seconds = figures.pin_wait_seconds.value * 2 ** min(over, MOST_DOUBLINGS)
    most = timedelta(minutes=figures.pin_wait_most_minutes.value)
    return wrong[-1] + min(timedelta(seconds=seconds), most)


def refused_rows(house: House) -> tuple[RefusedRow, ...]:
    """What was refused, the latest first."""
    rows = (
        RefusedRow(kept.entry, house.entry_of(kept).recorded_at, kept.fact)
        for kept in house.kept_of(DeedRefused)
    )
    return tuple(sorted(rows, key=lambda row: -row.entry))
