"""Blocked rooms as an iCalendar file (RFC 5545), and apart from it housekeeping's deadlines.

Front desk's file says no more than its list: an all-day event for each blocked room until
the day on which it is expected back. Deadlines name cases and work, and stand in a file of
their own.

Importing a later file replaces what an earlier one put into a calendar: an event's UID
comes from the hotel's file, the room and when its block began; its SEQUENCE is the number
of the last entry, and where a day alone moved an end, the later DTSTAMP tells. A block
that is over ends on its day; one that was taken back is cancelled.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path

import icalendar

from hotelwatch.core.case_facts import QuarantinePlaced
from hotelwatch.core.cases.blocks import Block, BlockKind, blocks
from hotelwatch.core.cases.duties import Duty, duties
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.nights import first_night_after
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.papers.calendar_parts import new_calendar, uid_of
from hotelwatch.papers.target import refuse_calendar_target, write_calendar_safely
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.desk import release_by_text, state_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.steps import step_sentence

ONE_DAY = timedelta(days=1)


def write_block_calendar(house: House, occupancy: Occupancy, path: Path, *, now: datetime) -> int:
    """Write blocked rooms as a calendar; how many events it has.

    Refusal("nothing_blocked"), or as ``write_calendar_safely`` says.
    """
    calendar = block_calendar(house, occupancy, now=now)
    if not calendar.subcomponents:
        raise Refusal("nothing_blocked")
    return _write(calendar, path)


def write_deadline_calendar(house: House, path: Path, *, now: datetime) -> int:
    """Write the deadlines of open cases as a calendar; how many events it has.

    Refusal("nothing_due"), or as ``write_calendar_safely`` says.
    """
    calendar = deadline_calendar(house, now=now)
    if not calendar.subcomponents:
        raise Refusal("nothing_due")
    return _write(calendar, path)


def _write(calendar: icalendar.Calendar, path: Path) -> int:
    refuse_calendar_target(path)
    write_calendar_safely(calendar.to_ical(), path)
    return len(calendar.subcomponents)


# --- blocked rooms -------------------------------------------------------------------------------


def block_calendar(house: House, occupancy: Occupancy, *, now: datetime) -> icalendar.Calendar:
    """Blocked rooms, those given back within the days that a plan spans, those taken back."""
    hotel = house.hotel.name if house.hotel else ""
    calendar = new_calendar("blocks", _("Rooms not to sell, {hotel}").format(hotel=hotel))
    found = blocks(house, occupancy, now)
    held = {block.room: block for block in found if block.kind is BlockKind.CLOSED}
    since = local_day(now, house.zone) - timedelta(days=int(house.rules.figures.plan_days.value))
    told = set()
    for spell in _spells(house, now):
        told.add((spell.room, spell.from_at))
        if spell.until_at is None or local_day(spell.until_at, house.zone) >= since:
            calendar.add_component(_block_event(house, spell, held.get(spell.room), now))
    for block in found:
        if block.kind is not BlockKind.CLOSED:
            calendar.add_component(_waiting(house, block, now))
    for room, from_at in _taken_back(house):
        if (room, from_at) not in told and local_day(from_at, house.zone) >= since:
            calendar.add_component(_cancelled(house, room, from_at, now))
    return calendar


@dataclass(frozen=True, slots=True)
class _Spell:
    """A room's blocks that follow one another without a gap, as one."""

    room: RoomNo
    from_at: datetime
    until_at: datetime | None


def _spells(house: House, now: datetime) -> Iterator[_Spell]:
    by_room: defaultdict[RoomNo, list[tuple[datetime, datetime | None]]] = defaultdict(list)
    for placed, lifted in house.quarantines:
        if placed.from_at <= now:
            by_room[placed.room].append((placed.from_at, lifted.lifted_at if lifted else None))
    for room, spans in by_room.items():
        spans.sort(key=lambda span: span[0])
        from_at, until_at = spans[0]
        for begins, ends in spans[1:]:
            if until_at is not None and begins > until_at:
                yield _Spell(room, from_at, until_at)
                from_at, until_at = begins, ends
            elif until_at is not None:
                until_at = None if ends is None else max(until_at, ends)
        yield _Spell(room, from_at, until_at)


def _taken_back(house: House) -> Iterator[tuple[RoomNo, datetime]]:
    for row in house.kept.get(QuarantinePlaced, ()):
        if row.entry in house.corrected and isinstance(row.fact, QuarantinePlaced):
            yield row.fact.room, row.fact.from_at


def _block_event(
    house: House, spell: _Spell, block: Block | None, now: datetime
) -> icalendar.Event:
    begins = local_day(spell.from_at, house.zone)
    event = _event(house, spell.room, spell.from_at, now)
    event.add("status", "CONFIRMED")
    event.add("summary", _("Room {room} not to sell").format(room=spell.room))
    if block is None or spell.until_at is not None:
        over = spell.until_at or now
        ends = first_night_after(house, over)
        told = _("Given back {moment}.").format(moment=moment_text(over, house.zone))
    else:
        ends = block.expected_until or date.min
        ends = max(ends, local_day(now, house.zone) + ONE_DAY)
        told = _description(block)
    event.add("dtstart", begins)
    event.add("dtend", max(ends, begins + ONE_DAY))
    made = _("As of {moment}; load the file again after every change.")
    event.add("description", "\n".join([told, made.format(moment=moment_text(now, house.zone))]))
    return event


def _waiting(house: House, block: Block, now: datetime) -> icalendar.Event:
    """A room that is not sold until somebody has looked: for today, the next file tells on."""
    today = local_day(now, house.zone)
    event = _event(house, block.room, block.from_at, now)
    event.add("status", "TENTATIVE")
    event.add("summary", _("Room {room} not to sell before a look").format(room=block.room))
    event.add("dtstart", min(local_day(block.from_at, house.zone), today))
    event.add("dtend", today + ONE_DAY)
    event.add("description", _description(block))
    return event


def _description(block: Block) -> str:
    return "\n".join(
        [
            _("Until: earliest {earliest}, expected {expected}, latest {latest}.").format(
                earliest=_day(block.earliest_until),
                expected=_day(block.expected_until),
                latest=_day(block.latest_until),
            ),
            _("Waits for: {state}.").format(state=state_text(block)),
            _("Given back by: {who}.").format(who=release_by_text(block)),
        ]
    )


def _day(day: date | None) -> str:
    return day_text(day) if day else _("not known yet")


def _cancelled(house: House, room: RoomNo, from_at: datetime, now: datetime) -> icalendar.Event:
    event = _event(house, room, from_at, now)
    begins = local_day(from_at, house.zone)
    event.add("status", "CANCELLED")
    event.add("summary", _("Room {room} is not blocked").format(room=room))
    event.add("dtstart", begins)
    event.add("dtend", begins + ONE_DAY)
    return event


def _event(house: House, room: RoomNo, from_at: datetime, now: datetime) -> icalendar.Event:
    event = icalendar.Event()
    event.add("uid", uid_of(house, "block", room, from_at.isoformat()))
    _stamp(event, house, now)
    # A blocked room keeps nobody busy.
    event.add("transp", "TRANSPARENT")
    return event


def _stamp(event: icalendar.Event, house: House, now: datetime) -> None:
    last = max(house.entries)
    event.add("dtstamp", now)
    event.add("sequence", last)
    event.add("last-modified", house.entries[last].recorded_at)


# --- deadlines -----------------------------------------------------------------------------------


def deadline_calendar(house: House, *, now: datetime) -> icalendar.Calendar:
    """Every duty with a deadline, at that moment; for housekeeping, never for front desk."""
    hotel = house.hotel.name if house.hotel else ""
    calendar = new_calendar("deadlines", _("Housekeeping's deadlines, {hotel}").format(hotel=hotel))
    for duty in duties(house, now):
        if duty.step.due_at is not None:
            calendar.add_component(_deadline(house, duty, duty.step.due_at, now))
    return calendar


def _deadline(house: House, duty: Duty, due_at: datetime, now: datetime) -> icalendar.Event:
    event = icalendar.Event()
    room = str(duty.step.values.get("room", ""))
    event.add("uid", uid_of(house, "deadline", duty.case, duty.step.code, room))
    _stamp(event, house, now)
    said = step_sentence(duty.step, house.zone)
    event.add("summary", _("{case}: {what}").format(case=duty.case, what=said))
    made = _("As of {moment}; one that was met since stands here until then.")
    lines = [duty.owner or label(duty.role), made.format(moment=moment_text(now, house.zone))]
    event.add("description", "\n".join(lines))
    event.add("dtstart", due_at)
    event.add("transp", "TRANSPARENT")
    event.add("status", "CONFIRMED")
    return event
