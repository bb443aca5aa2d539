"""What people agreed to: looks while a guest stays, and nights that front desk keeps free."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import NightAnswered, NightAsked, VisitArranged


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
class AskedNight:
    """A night for which front desk is asked to keep a room free, and its answer."""

    room: RoomNo
    night: date
    reason: str
    is_kept: bool | None
    """None while front desk has not answered."""
    answered_by: str


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
            )
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
            )
        )
    return tuple(sorted(found, key=lambda one: (one.night, one.room)))


def kept_as_stays(house: House, from_on: date) -> Iterator[Stay]:
    """Kept nights as stays of nobody, so that no booking is foreseen there."""
    for one in asked_nights(house, from_on):
        if one.is_kept:
            yield Stay("", one.room, "", one.night, one.night + timedelta(days=1))
