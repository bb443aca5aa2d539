"""What people agreed to: looks while a guest stays, and nights that front desk keeps free."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept, Stay
from hotelwatch.core.round_facts import (
    NOBODY_KNOWS,
    NightAnswered,
    NightAsked,
    VisitArranged,
    VisitDeclined,
)


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
    yeses: tuple[tuple[date, date | None], ...] = ()
    """Of each yes after it the day it was written down, and that on which it was called off."""

    @property
    def is_ended(self) -> bool:
        """Whether a later yes holds."""
        return any(off_on is None for _on, off_on in self.yeses)

    def stands(self, stay: Stay | None, day: date) -> bool:
        """Whether it is the word, on a day, of the guest who then stays: another said nothing."""
        is_theirs = stay is not None and stay.arrives_on <= self.on
        agreed = any(on <= day and (off is None or day < off) for on, off in self.yeses)
        return is_theirs and self.on <= day and not agreed


@dataclass(frozen=True, slots=True)
class PlannedSaving:
    """Late days that a plan showed a night to save, when it was asked for."""

    days: int
    """Beside the other nights asked for with it."""
    on: date
    nights: int
    """Asked for at once, this one among them."""
    together: int
    """Late days that all of these save."""


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
    planned: PlannedSaving | None = None
    """None where no plan showed what it saves."""
    answer_entry: int = 0
    """Under which the answer was written down; 0 while there is none."""
    is_sold: bool = False
    """Kept free, and sold all the same; only ``kept_nights`` tells."""


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
    """Every no of guests by room, in the order written down; a yes after it ends it.

    A yes that is called off leaves it standing again.
    """
    agreed = _yeses(house)
    found: dict[RoomNo, tuple[DeclinedVisit, ...]] = {}
    for no in house.kept_of(VisitDeclined):
        told = no.fact
        yeses = tuple(
            (on, off_on)
            for entry, on, off_on in agreed.get(told.room, ())
            if entry > no.entry or on > told.on
        )
        one = DeclinedVisit(told.room, told.on, told.declined_to, yeses)
        found[told.room] = (*found.get(told.room, ()), one)
    return found


def _yeses(house: House) -> Mapping[RoomNo, list[tuple[int, date, date | None]]]:
    """Every yes by room: its entry, the day written down, and the day it was called off."""
    found: dict[RoomNo, list[tuple[int, date, date | None]]] = {}
    off: dict[tuple[RoomNo, date], date] = {}
    for row in reversed(house.kept_of(VisitArranged)):
        told, on = row.fact, local_day(house.entry_of(row).recorded_at, house.zone)
        if not told.holds:
            off[told.room, told.on] = on
            continue
        found.setdefault(told.room, []).append((row.entry, on, off.get((told.room, told.on))))
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
                planned=_planned(house, row),
                answer_entry=0 if answer is None or told is None else answer.entry,
            )
        )
    return tuple(sorted(found, key=lambda one: (one.night, one.room)))


def _planned(house: House, row: Kept[NightAsked]) -> PlannedSaving | None:
    if row.fact.saves == NOBODY_KNOWS:
        return None
    with_it = [one.fact.saves for one in house.kept_of(NightAsked) if one.entry == row.entry]
    on = local_day(house.entry_of(row).recorded_at, house.zone)
    return PlannedSaving(row.fact.saves, on, len(with_it), sum(with_it))


def kept_as_stays(house: House, from_on: date) -> Iterator[Stay]:
    """Kept nights as stays of nobody, so that no booking is foreseen there."""
    for one in asked_nights(house, from_on):
        if one.is_kept:
            yield Stay("", one.room, "", one.night, one.night + timedelta(days=1))
