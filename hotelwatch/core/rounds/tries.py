"""Whom teams came for: today, and when an overdue bed was last tried for in vain."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from hotelwatch.core.checks.sheet import of_beds
from hotelwatch.core.checks.slots import tried_beds, was_tried
from hotelwatch.core.checks.stood import stood
from hotelwatch.core.facts import BedNo, CheckKind, SlotPublished, TeamName
from hotelwatch.core.house import House


def done_part(house: House, slot: SlotPublished) -> SlotPublished | None:
    """As much of a slot as somebody came for on its day; None if nobody did."""
    if was_tried(house, slot):
        return slot
    beds = tried_beds(house, slot)
    return of_beds(house, slot, beds) if beds else None


def last_tries(house: House, overdue: Mapping[BedNo, date], today: date) -> Mapping[BedNo, date]:
    """The last day up to ``today`` on which each bed was tried for since it fell due.

    ``overdue`` gives beds with the day by which they were due. A try is a look that
    left something out, or a place on the sheet of an earlier day on which its team
    looked at something: where the whole sheet was left lying, nobody tried.
    """
    tries = {
        bed: day
        for bed, due_on in overdue.items()
        if (day := latest_look(house, bed, today)) is not None and day > due_on
    }
    since = min(overdue.values(), default=today)
    sheets = stood(house) if since < today else {}
    for day, slots in sheets.items():
        if since < day < today:
            for bed in _left_lying(house, day, slots, overdue):
                tries[bed] = max(day, tries.get(bed, day))
    return tries


def latest_look(house: House, bed: BedNo, today: date) -> date | None:
    """The last day up to ``today`` on which somebody looked at a bed, whole or in part."""
    for row in reversed(house.checks_by_bed.get(bed, ())):
        if row.fact.checked_on <= today and row.fact.kind is not CheckKind.BRIEF:
            return row.fact.checked_on
    return None


def is_looked_at_since(house: House, bed: BedNo, entry: int, day: date) -> bool:
    """Whether somebody saw a place of a bed after an entry of that day was written.

    Who came and saw nothing did not look.
    """
    return any(
        row.entry > entry
        and row.fact.checked_on >= day
        and row.fact.kind is not CheckKind.BRIEF
        and row.fact.seen
        for row in house.checks_by_bed.get(bed, ())
    )


def _left_lying(
    house: House, day: date, slots: Sequence[SlotPublished], overdue: Mapping[BedNo, date]
) -> Iterator[BedNo]:
    """Overdue beds on the sheets of a day that their teams worked on."""
    worked: dict[TeamName, bool] = {}
    for slot in slots:
        waiting = [BedNo(bed) for bed in slot.beds if overdue.get(BedNo(bed), day) < day]
        if waiting and slot.team not in worked:
            worked[slot.team] = _was_worked_on(house, day, slots, slot.team)
        if waiting and worked[slot.team]:
            yield from waiting


def _was_worked_on(house: House, day: date, slots: Sequence[SlotPublished], team: TeamName) -> bool:
    return any(
        row.fact.checked_on == day
        for slot in slots
        if slot.team == team
        for bed in slot.beds
        for row in house.checks_by_bed.get(BedNo(bed), ())
    )
