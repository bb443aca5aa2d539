"""The one gate that everything written down goes through: whether who sits there may."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.people import is_guarded, role_of
from hotelwatch.core.people_facts import DeedRefused, PersonDescribed, StaffRole, WhyRefused
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import ContentExpired
from hotelwatch.core.roles import (
    CORRECTS_OTHERS,
    Replaced,
    Seat,
    Sight,
    may_correct,
    may_write,
    refused_kinds,
    sees,
    who_may,
    who_sees,
)

SEE = "see"
"""The deed of a refusal to show something."""
NEVER_CORRECTED = (PersonDescribed, DeedRefused, ContentExpired)
"""A person is described anew; what was refused stays refused, and what is gone is gone."""


class Denied(Refusal):
    """Refused because of who sits at the desk; ``told`` is what the record keeps of it."""

    def __init__(self, code: str, told: DeedRefused, **values: str) -> None:
        """Keep what is written down beside what is said."""
        super().__init__(code, **values)
        self.told = told


def seat_of(house: House, person: str) -> Seat | None:
    """The person as seated, in the role that the house knows now; None: nobody sits there."""
    role = role_of(house, person)
    return Seat(person, role) if role is not None else None


def check(
    house: House,
    person: str,
    facts: Sequence[Fact],
    *,
    action: str,
    corrects: int | None = None,
) -> None:
    """Raise Denied unless that person may write these facts down, or correct that entry.

    Codes: "nobody_at_desk", "role_may_not", "not_ones_own_entry"; and Refusal
    "not_to_be_taken_back" for what is never corrected, whoever asks.
    """
    for kind in NEVER_CORRECTED:
        if any(kept.entry == corrects for kept in house.kept.get(kind, ())):
            raise Refusal("not_to_be_taken_back", entry=str(corrects), action="describe_person")
    if not is_guarded(house) or (corrects is None and not facts):
        return
    replaced = None if corrects is None else _replaced(house, corrects)
    seat = _seated(house, person, facts, action)
    if replaced is not None and not may_correct(seat, replaced):
        told = DeedRefused(seat.person, seat.role, action, _kinds(replaced.facts), WhyRefused.ROLE)
        roles = ",".join(role for role in StaffRole if role in CORRECTS_OTHERS)
        raise Denied("not_ones_own_entry", told, by=replaced.by, roles=roles)
    if kinds := refused_kinds(seat, facts, replaced):
        raise _role_may_not(seat, action, kinds)


def check_kind(house: House, person: str, kind: type[Fact], *, action: str) -> None:
    """Raise Denied unless that person may write a kind of fact down by itself."""
    if not is_guarded(house):
        return
    seat = seat_of(house, person)
    if seat is None:
        told = DeedRefused(person, "", action, (kind.__name__,), WhyRefused.NOBODY)
        raise Denied("nobody_at_desk", told)
    if not may_write(seat.role, kind):
        raise _role_may_not(seat, action, (kind.__name__,))


def check_sight(house: House, person: str, sight: Sight) -> None:
    """Raise Denied, "nobody_at_desk" or "role_may_not_see", unless that person may see this."""
    if not is_guarded(house):
        return
    seat = seat_of(house, person)
    if seat is None:
        told = DeedRefused(person, "", SEE, (sight,), WhyRefused.NOBODY)
        raise Denied("nobody_at_desk", told)
    if not sees(seat.role, sight):
        told = DeedRefused(seat.person, seat.role, SEE, (sight,), WhyRefused.ROLE)
        roles = ",".join(who_sees(sight))
        raise Denied("role_may_not_see", told, sight=sight, role=seat.role, roles=roles)


def _seated(house: House, person: str, facts: Sequence[Fact], action: str) -> Seat:
    seat = seat_of(house, person)
    if seat is None:
        told = DeedRefused(person, "", action, _kinds(facts), WhyRefused.NOBODY)
        raise Denied("nobody_at_desk", told)
    return seat


def _role_may_not(seat: Seat, action: str, kinds: tuple[str, ...]) -> Denied:
    told = DeedRefused(seat.person, seat.role, action, kinds, WhyRefused.ROLE)
    roles = ",".join(who_may(kinds))
    return Denied("role_may_not", told, action=action, role=seat.role, roles=roles)


def _replaced(house: House, entry: int) -> Replaced:
    """What an entry wrote down, as far as it is at hand, and who wrote it."""
    told = house.entries.get(entry)
    facts = tuple(row.fact for rows in house.kept.values() for row in rows if row.entry == entry)
    return Replaced(told.by if told else "", facts)


def _kinds(facts: Sequence[Fact]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(type(fact).__name__ for fact in facts))
