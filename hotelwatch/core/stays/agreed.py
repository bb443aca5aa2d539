"""What people agreed to: looks while a guest stays, and nights that front desk keeps free."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import NightAnswered, NightAsked, VisitArranged, VisitDeclined


@dataclass(frozen=True, slots=True)
class ArrangedVisit:
    """The hours of a look to which a guest agreed, hotel's clock."""

    room: RoomNo
    on: date
    from_clock: str
    until_clock: str
    agreed_by: str
    """Who of the staff asked."""
    agreed_on: date
    """The day it was written down: a guest who came later did not agree."""
    entry: int
    """Under which it was written down."""

    def says(self, told: VisitArranged) -> bool:
        """Whether a fact says the same hours, and the same person asked."""
        return (told.room, told.on, told.from_clock, told.until_clock, told.agreed_by) == (
            self.room,
            self.on,
            self.from_clock,
            self.until_clock,
            self.agreed_by,
        )


@dataclass(frozen=True, slots=True)
class DeclinedVisit:
    """A look to which a guest said no."""

    room: RoomNo
    on: date
    """The day asked."""
    declined_to: str
    """Who of the staff asked."""
    until_on: date | None
    """The day on which a later yes was written down; None: the no stands."""

    def stands(self, stay: Stay | None, day: date) -> bool:
        """Whether it is the word, on a day, of the guest who then stays: another said nothing."""
        is_theirs = stay is not None and stay.arrives_on <= self.on
        return is_theirs and self.on <= day and (self.until_on is None or day < self.until_on)


@dataclass(frozen=True, slots=True)
class AskedNight:
    """A night for which front desk is asked to keep a room free, and its answer."""

    room: RoomNo
    night: date
    reason: str
    is_kept: bool | None
    """None while front desk has not answered."""
    answered_by: str
    note: str = ""
    """Front desk's, to its answer."""


def arranged_visits(house: House) -> Mapping[tuple[RoomNo, date], ArrangedVisit]:
    """Visits that hold, the latest word on each room and day."""
    found: dict[tuple[RoomNo, date], ArrangedVisit] = {}
    for row in house.kept_of(VisitArranged):
        told = row.fact
        found.pop((told.room, told.on), None)
        if told.holds:
            found[told.room, told.on] = ArrangedVisit(
                room=told.room,
                on=told.on,
                from_clock=told.from_clock,
                until_clock=told.until_clock,
                agreed_by=told.agreed_by,
                agreed_on=local_day(house.entry_of(row).recorded_at, house.zone),
                entry=row.entry,
            )
    return found


def declined_visits(house: House) -> Mapping[RoomNo, tuple[DeclinedVisit, ...]]:
    """Every no of guests by room, in the order written down; a yes after it ends it."""
    agreed: dict[RoomNo, list[tuple[int, date]]] = {}
    for row in house.kept_of(VisitArranged):
        if row.fact.holds:
            told_on = local_day(house.entry_of(row).recorded_at, house.zone)
            agreed.setdefault(row.fact.room, []).append((row.entry, told_on))
    found: dict[RoomNo, tuple[DeclinedVisit, ...]] = {}
    for no in house.kept_of(VisitDeclined):
        told = no.fact
        yes = agreed.get(told.room, ())
        after = (on for entry, on in yes if entry > no.entry or on > told.on)
        one = DeclinedVisit(told.room, told.on, told.declined_to, next(after, None))
        found[told.room] = (*found.get(told.room, ()), one)
    return found


def asked_nights(house: House, from_on: date) -> tuple[AskedNight, ...]:
    """Nights asked for from a day on, by night and room; those withdrawn are left out.

    An answer counts for the asking before it: whoever asks again waits for a new one.
    """
    asked = {(row.fact.room, row.fact.night): row for row in house.kept_of(NightAsked)}
    answers = {(row.fact.room, row.fact.night): row for row in house.kept_of(NightAnswered)}
    found = []
    for key, row in asked.items():
        if not row.fact.holds or row.fact.night < from_on:
            continue
        answer = answers.get(key)
        told = answer.fact if answer is not None and answer.entry > row.entry else None
        found.append(
            AskedNight(
                room=row.fact.room,
                night=row.fact.night,
                reason=row.fact.reason,
                is_kept=None if told is None else told.is_kept,
                answered_by="" if told is None else told.by,
                note="" if told is None else told.note,
            )
        )
    return tuple(sorted(found, key=lambda one: (one.night, one.room)))


def kept_as_stays(house: House, from_on: date) -> Iterator[Stay]:
    """Kept nights as stays of nobody, so that no booking is foreseen there."""
    for one in asked_nights(house, from_on):
        if one.is_kept:
            yield Stay("", one.room, "", one.night, one.night + timedelta(days=1))
