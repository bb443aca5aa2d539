"""A plan's first answer to a change, at once: only the rooms that changed are looked at.

What was looked at meanwhile leaves the plan, and so does what can no longer be entered;
what a supervisor pinned stands where it was pinned, if it can. Planning anew, which takes
longer, then fills what this leaves open.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import last_look
from hotelwatch.core.checks.sheet import joined, walking_order
from hotelwatch.core.checks.slots import tried_beds
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.facts import BedNo, RoomNo, SlotPublished, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.plan import Plan, TeamDay
from hotelwatch.core.stays.openings import Occupancy


def mended(
    house: House, occupancy: Occupancy, plan: Plan, *, rooms: Collection[RoomNo], today: date
) -> Plan:
    """The plan after a change to these rooms; what is proven is still of the plan before."""
    hand, calendar = Hand(house), Calendar(house)
    kept: list[SlotPublished] = []
    touched: set[tuple[date, TeamName]] = set()
    for slot in plan.slots:
        if slot.room not in rooms or slot.on < today:
            kept.append(slot)
            continue
        touched.add((slot.on, slot.team))
        now = _after(house, occupancy, slot, today, told=(hand, calendar))
        if now is not None:
            touched.add((now.on, now.team))
            same = next((n for n, one in enumerate(kept) if _is_with(house, one, now)), None)
            if same is None:
                kept.append(now)
            else:
                kept[same] = joined(house, kept[same], now)
    if not touched:
        return plan
    slots = _in_order(house, kept, touched)
    there = {(slot.on, slot.room) for slot in slots}
    again = tuple(one for one in plan.again if one.slot.room not in rooms)
    left_again = tuple(one for one in plan.left_again if one.room not in rooms)
    pinned = {(on, room) for on, room in there if hand.pinned_day(room, today) == on}
    return replace(
        plan,
        slots=slots,
        minutes_by_day=tuple(_counted(house, plan.minutes_by_day, slots, touched)),
        firm=frozenset((plan.firm & there) | pinned),
        again=again,
        left_again=left_again,
        proof=replace(
            plan.proof,
            again=len(again) + len(left_again),
            again_in_time=sum(not one.is_late for one in again),
        ),
    )


def _is_with(house: House, one: SlotPublished, other: SlotPublished) -> bool:
    """Whether a part of a room stands on the sheet of another one, and nobody has come for it."""
    same = (one.on, one.team, one.room) == (other.on, other.team, other.room)
    return same and not tried_beds(house, one)


def _after(
    house: House,
    occupancy: Occupancy,
    slot: SlotPublished,
    today: date,
    *,
    told: tuple[Hand, Calendar],
) -> SlotPublished | None:
    """Where a slot stands after the change; None if it is done, or can't be."""
    if slot.room not in house.rooms or _was_looked_at(house, slot, today):
        return None
    hand, calendar = told
    on = hand.pinned_day(slot.room, today) or slot.on
    team = hand.pinned_team(slot.room, today) or slot.team
    if not calendar.minutes(team, on) or on in hand.forbidden(slot.room):
        return None
    if occupancy.opening(slot.room, on) is None:
        return None
    return replace(slot, on=on, team=team)


def _was_looked_at(house: House, slot: SlotPublished, today: date) -> bool:
    """Whether every bed's underside was looked at today, ahead of its slot."""
    if slot.asked_by or slot.on == today:
        return False
    beds = [BedNo(bed) for bed in slot.beds]
    return bool(beds) and all(last_look(house, bed, today) == today for bed in beds)


def _in_order(
    house: House, slots: Iterable[SlotPublished], touched: Collection[tuple[date, TeamName]]
) -> tuple[SlotPublished, ...]:
    """Slots by day, team and walking order; only sheets that changed are walked anew."""
    sheets: dict[tuple[date, TeamName], list[SlotPublished]] = {}
    for slot in slots:
        sheets.setdefault((slot.on, slot.team), []).append(slot)
    ordered: list[SlotPublished] = []
    for key in sorted(sheets):
        sheet = sheets[key]
        if key in touched:
            place = {
                room: number
                for number, room in enumerate(walking_order(house, (s.room for s in sheet)), 1)
            }
            sheet = sorted(
                (replace(slot, position=place[slot.room]) for slot in sheet),
                key=lambda slot: slot.position,
            )
        ordered += sheet
    return tuple(ordered)


def _counted(
    house: House,
    days: Iterable[TeamDay],
    slots: Iterable[SlotPublished],
    touched: Collection[tuple[date, TeamName]],
) -> Iterable[TeamDay]:
    changed = [slot for slot in slots if (slot.on, slot.team) in touched]
    for day in days:
        if (day.on, day.team) not in touched:
            yield day
            continue
        sheet = [slot for slot in changed if (slot.on, slot.team) == (day.on, day.team)]
        yield replace(day, used=sheet_minutes(house, sheet))
