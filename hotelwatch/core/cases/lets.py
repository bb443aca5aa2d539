"""Rooms let although they were blocked, as the bookings tell, and how that was explained.

A night counts if the block held at the hour from which guests arrive
(core.stays.nights). A let without a night, for the day alone, counts by that same hour.
Where the block was written down later than it began, the earlier time counts, and the
conflict is shown: whoever gave the room away could not know.

Source: every letting against a block must leave a trace: 347 F.3d 672 (7th Cir. 2003).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from hotelwatch.core.case_facts import (
    GuestMoved,
    LetExplained,
    QuarantineLifted,
    QuarantinePlaced,
)
from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import RoomNo, StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept, Stay, StayStatus
from hotelwatch.core.stays.nights import arrivals_begin, first_night_after

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class LetAgainstBlock:
    """Nights for which a room was let although it was blocked; one row a booking and room."""

    room: RoomNo
    stay: Stay
    first_night: date
    nights: int
    """0 where it was let for the day alone."""
    from_at: datetime
    until_at: datetime | None
    """When the block ended; None while it holds."""
    was_let_blocked: bool
    """Whether the guest came into a blocked room; else a guest in house stayed on."""
    was_known: bool = True
    """Whether the block had been written down when the first of these nights began."""
    explained: str = ""
    """How it came, in a named person's words; empty while nobody said."""
    explained_by: str = ""


def lets_against_blocks(house: House, now: datetime) -> tuple[LetAgainstBlock, ...]:
    """Rooms let while blocked, as the bookings tell: what happened, never what is to come.

    Tonight counts only for a guest who is in house and came today, into a blocked room.
    A stay that began on the day of the block, before it, counts from its second night.
    A guest of whom it was written down that they moved out counts no more from that day
    on, unless bookings that were loaded later say otherwise.
    """
    today = local_day(now, house.zone)
    spans: defaultdict[RoomNo, list[_Span]] = defaultdict(list)
    placings = house.kept_of(QuarantinePlaced)
    for kept, (placed, lifted) in zip(placings, house.quarantines, strict=True):
        if placed.from_at <= now:
            spans[placed.room].append(_span(house, kept, lifted))
    moves = moves_told(house)
    told: dict[tuple[str, str, date], LetExplained] = {
        (word.room, word.booking, word.first_night): word for word in house.all_of(LetExplained)
    }
    rows = []
    for stay in [stay for stay in house.stays if stay.room in spans]:
        if stay.counts:
            days = days_in_room(house, stay, today, moves)
            row = _let_against(house, stay, spans[RoomNo(stay.room)], days)
            if row is not None:
                rows.append(_with_word(row, told))
    return tuple(sorted(rows, key=lambda row: (row.first_night, row.room, row.stay.booking)))


# --- guests of whom somebody wrote down that they moved ---------------------------------------


def moves_told(house: House) -> Mapping[tuple[str, str], Kept[GuestMoved]]:
    """The last word that a booking's guests moved, by booking and the room they left."""
    rows = house.kept_of(GuestMoved)
    return {(row.fact.booking, row.fact.from_room): row for row in rows}


def is_awaited(house: House, stay: Stay, moved: Kept[GuestMoved]) -> bool:
    """Whether the bookings do not show a move yet: none that tell of the stay came later."""
    return not any(
        row.entry > moved.entry and stay.leaves_on > row.fact.replaces_from
        for row in house.kept_of(StaysImported)
    )


# --- nights -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Span:
    """A quarantine by the nights on which it held at the hour from which guests arrive."""

    from_at: datetime
    until_at: datetime | None
    written_at: datetime
    first_night: date
    end_night: date | None
    """The first night on which it no longer held."""

    def holds_on(self, night: date) -> bool:
        return self.first_night <= night and (self.end_night is None or night < self.end_night)


def _span(house: House, row: Kept[QuarantinePlaced], lifted: QuarantineLifted | None) -> _Span:
    until_at = lifted.lifted_at if lifted else None
    return _Span(
        from_at=row.fact.from_at,
        until_at=until_at,
        written_at=house.entry_of(row).recorded_at,
        first_night=first_night_after(house, row.fact.from_at),
        end_night=first_night_after(house, until_at) if until_at else None,
    )


def days_in_room(
    house: House,
    stay: Stay,
    today: date,
    moves: Mapping[tuple[str, str], Kept[GuestMoved]],
) -> tuple[date, ...]:
    """A stay's nights in its room before today; tonight if the guest came today, in house.

    A stay without a night counts by its day, once that has come.
    """
    came_today = stay.arrives_on == today and stay.status is StayStatus.IN_HOUSE
    known_until = today + ONE_DAY if came_today else today
    if stay.arrives_on == stay.leaves_on:
        is_told = came_today or stay.arrives_on < today or stay.status is StayStatus.LEFT
        return (stay.arrives_on,) if is_told and stay.arrives_on <= today else ()
    end = min(stay.leaves_on, known_until)
    moved = moves.get((stay.booking, stay.room))
    if moved is not None and is_awaited(house, stay, moved):
        end = min(end, moved.fact.moved_on)
    return tuple(days_from(stay.arrives_on, max(0, (end - stay.arrives_on).days)))


def _let_against(
    house: House, stay: Stay, spans: list[_Span], days: tuple[date, ...]
) -> LetAgainstBlock | None:
    held = [
        (night, span)
        for night in days
        if (span := next((s for s in spans if s.holds_on(night)), None)) is not None
    ]
    if not held:
        return None
    first_night, span = held[0]
    return LetAgainstBlock(
        room=RoomNo(stay.room),
        stay=stay,
        first_night=first_night,
        nights=len(held) if stay.leaves_on > stay.arrives_on else 0,
        from_at=span.from_at,
        until_at=span.until_at,
        was_let_blocked=first_night == stay.arrives_on,
        was_known=span.written_at <= arrivals_begin(house, first_night),
    )


def _with_word(
    row: LetAgainstBlock, told: Mapping[tuple[str, str, date], LetExplained]
) -> LetAgainstBlock:
    word = told.get((row.room, row.stay.booking, row.first_night))
    return row if word is None else replace(row, explained=word.note, explained_by=word.by)
