"""Checks as they were written down, the latest first, and one of them as it was typed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache

from hotelwatch.core.case_facts import CheckAsked, Sighted
from hotelwatch.core.checks.asked import asked_states
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.checks.looking import BedLook, RoomLook
from hotelwatch.core.facts import (
    BedChecked,
    CaseNo,
    CheckKind,
    Fact,
    RoomChecked,
    RoomNo,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Entry, Kept

SHOWN_DAYS = 28
"""Checks of so many days are shown to be taken back or corrected; a choice of ours."""


@dataclass(frozen=True, slots=True)
class RecordedRow:
    """What one check says of a bed, or of a room's other places."""

    entry: int
    room: RoomNo
    bed: str
    """A bed's label; empty for the room's other places."""
    checked_on: date
    kind: CheckKind
    by: tuple[str, ...]
    unseen: tuple[str, ...]
    """Each as "place:why"."""
    found: tuple[str, ...]
    """Each as "place:sign"."""
    counts: bool | None
    """Whether the underside counts as looked at; None where there is none."""
    from_clock: str
    """When the visit began, hotel's clock; empty: not said."""
    until_clock: str
    aids: tuple[str, ...]
    recorded_at: datetime
    recorded_by: str


@dataclass(frozen=True, slots=True)
class EntryScope:
    """What falls with an entry when it is taken back."""

    entry: int
    rooms: tuple[RoomNo, ...]
    """Rooms whose checks it holds, in the order written down."""
    cases: tuple[CaseNo, ...]
    """Cases that its finds opened or joined."""


def recorded_rows(house: House, today: date) -> tuple[RecordedRow, ...]:
    """Checks made in the last days, the one written down last first."""
    since = today - timedelta(days=SHOWN_DAYS)
    rows = [
        _row(house, check, check.fact.bed, counts=underside_seen(house, check.fact))
        for check in house.kept_of(BedChecked)
        if check.fact.checked_on >= since
    ]
    rows += [
        _row(house, check, "", counts=None)
        for check in house.kept_of(RoomChecked)
        if check.fact.checked_on >= since
    ]
    place = {room: number for number, room in enumerate(house.rooms)}
    rows.sort(key=lambda row: (place.get(row.room, len(place)), row.room, not row.bed, row.bed))
    rows.sort(key=lambda row: (row.checked_on, row.entry), reverse=True)
    return tuple(rows)


def _row(
    house: House, check: Kept[BedChecked] | Kept[RoomChecked], bed: str, *, counts: bool | None
) -> RecordedRow:
    fact, entry = check.fact, house.entry_of(check)
    return RecordedRow(
        entry=check.entry,
        room=fact.room,
        bed=bed,
        checked_on=fact.checked_on,
        kind=fact.kind,
        by=fact.by,
        unseen=fact.unseen,
        found=fact.found,
        counts=counts,
        from_clock=fact.from_clock,
        until_clock=fact.until_clock,
        aids=fact.aids,
        recorded_at=entry.recorded_at,
        recorded_by=entry.by,
    )


def facts_of_entry(house: House, entry: int) -> tuple[Fact, ...]:
    """What an entry wrote down, as far as it counts; kind by kind."""
    return tuple(
        row.fact for kind in house.kept for row in house.kept_of(kind) if row.entry == entry
    )


def entry_scope(house: House, entry: int) -> EntryScope:
    """What falls with an entry of checks when it is taken back."""
    facts = facts_of_entry(house, entry)
    rooms = [f.room for f in facts if isinstance(f, BedChecked | RoomChecked)]
    cases = [f.case for f in facts if isinstance(f, Sighted)]
    return EntryScope(entry, tuple(dict.fromkeys(rooms)), tuple(dict.fromkeys(cases)))


def moved_on(house: House, entry: int) -> tuple[CaseNo, ...]:
    """Cases of an entry's finds of which more is known than the entry wrote down."""
    scope = entry_scope(house, entry)
    return tuple(case for case in scope.cases if _moved_on(house, case, scope))


def _moved_on(house: House, case: CaseNo, scope: EntryScope) -> bool:
    kinds = (house.kept_of_case(kind, case) for kind in house.kept)
    if any(row.entry > scope.entry for rows in kinds for row in rows):
        return True
    asked = zip(house.kept_of_case(CheckAsked, case), asked_states(house, case), strict=True)
    # The look that found something answers the wish for its own room.
    return any(
        state.done_on is not None and state.asked.room not in scope.rooms
        for row, state in asked
        if row.entry == scope.entry
    )


def look_of_entry(house: House, entry: int, room: RoomNo) -> RoomLook:
    """What an entry says of a room, as it was typed.

    Refusal("no_such_entry"), or ("entry_of_other_rooms") if it says nothing of this one.
    """
    facts = facts_of_entry(house, entry)
    beds = [f for f in facts if isinstance(f, BedChecked) and f.room == room]
    rooms = [f for f in facts if isinstance(f, RoomChecked) and f.room == room]
    if not beds and not rooms:
        if entry not in house.entries:
            raise Refusal("no_such_entry", entry=str(entry))
        raise Refusal("entry_of_other_rooms", entry=str(entry), room=room)
    first: BedChecked | RoomChecked = beds[0] if beds else rooms[0]
    found_at = [f.seen_at for f in facts if isinstance(f, Sighted) and f.room == room]
    told = {
        fact.bed: BedLook(fact.bed, fact.seen, fact.unseen, fact.found, fact.minutes, fact.noted)
        for fact in beds
    }
    return RoomLook(
        room=room,
        checked_on=first.checked_on,
        kind=first.kind,
        by=first.by,
        beds=tuple(told.values()),
        seen=rooms[-1].seen if rooms else (),
        unseen=rooms[-1].unseen if rooms else (),
        found=rooms[-1].found if rooms else (),
        asked_by=first.asked_by,
        noted=rooms[-1].noted if rooms else "",
        found_at=min(found_at, default=None),
        from_clock=first.from_clock,
        until_clock=first.until_clock,
        aids=first.aids,
        form_version=first.form_version,
    )


def checked_that_day(house: House, look: RoomLook) -> Entry | None:
    """The last entry that holds a check of a look's beds, or its room, on its day."""
    entries = [
        row.entry
        for bed in look.beds
        for row in house.checks_by_bed.get(bed.bed, ())
        if row.fact.checked_on == look.checked_on and row.fact.room == look.room
    ]
    if not look.beds:
        entries = [
            row.entry
            for row in house.kept_of(RoomChecked)
            if (row.fact.room, row.fact.checked_on) == (look.room, look.checked_on)
        ]
    return house.entries[max(entries)] if entries else None


def last_people(house: House, team: TeamName | None = None) -> tuple[str, ...]:
    """Who made the check that was written down last; nobody before the first one.

    With a team only checks from its own sheets tell, unless the hotel has no other team.
    """
    if len(house.teams) <= 1:
        team = None

    @cache
    def own(day: date) -> tuple[SlotPublished, ...]:
        return tuple(slot for slot in house.slots.get(day, ()) if slot.team == team)

    latest: defaultdict[int, tuple[str, ...]] = defaultdict(tuple)
    kinds: list[Sequence[Kept[BedChecked] | Kept[RoomChecked]]]
    kinds = [house.kept_of(BedChecked), house.kept_of(RoomChecked)]
    for rows in kinds:
        for row in reversed(rows):
            if team is None or _stood_on(own(row.fact.checked_on), row.fact):
                latest[row.entry] = row.fact.by
                break
    return latest[max(latest)] if latest else ()


def _stood_on(sheet: Sequence[SlotPublished], check: BedChecked | RoomChecked) -> bool:
    """Whether a check was of a team's sheet; a long room's beds may be of several."""
    bed = check.bed if isinstance(check, BedChecked) else None
    return any(slot.room == check.room and (bed is None or bed in slot.beds) for slot in sheet)
