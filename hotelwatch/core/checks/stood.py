"""What stood on each day's sheets while its teams worked.

``House.slots`` has a day as last published: what the sheets in hand should say. Planned anew
in the afternoon, the day keeps what was done, and what was not goes to another day; yet it
stood on the sheet, and whoever asks why it was not looked at on that day asks here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta

from hotelwatch.core.checks.sheet import of_beds
from hotelwatch.core.days import days_from, local_day, moment_of
from hotelwatch.core.facts import RoundPublished, SlotPublished, TeamName
from hotelwatch.core.house import House

Sheets = Sequence[SlotPublished]


def stood(house: House) -> Mapping[date, tuple[SlotPublished, ...]]:
    """Slots of each day, by team and walking order.

    Those last published, and of an earlier sheet of the day what the next one no longer has,
    where that came after its team's shift had begun; a bed stands where it stood last. A
    team of which no hours are said begins when guests are to leave.
    """
    found = dict(house.slots)
    written = _by_entry(house)
    for day, numbers in _published(house, written).items():
        if len(numbers) > 1:
            kept = _kept(house, day, [(no, written[day].get(no, ())) for no in numbers])
            found[day] = tuple(sorted(kept, key=lambda slot: (slot.team, slot.position)))
    return found


def _by_entry(house: House) -> Mapping[date, Mapping[int, Sheets]]:
    found: defaultdict[date, defaultdict[int, list[SlotPublished]]]
    found = defaultdict(lambda: defaultdict(list))
    for row in house.kept_of(SlotPublished):
        found[row.fact.on][row.entry].append(row.fact)
    return found


def _published(house: House, days: Mapping[date, object]) -> Mapping[date, list[int]]:
    """The entries that published each of these days, in the order written down."""
    found: defaultdict[date, list[int]] = defaultdict(list)
    for row in house.kept_of(RoundPublished):
        span = (row.fact.until_on - row.fact.from_on).days + 1
        for day in days_from(row.fact.from_on, span):
            if day in days:
                found[day].append(row.entry)
    return {day: sorted(numbers) for day, numbers in found.items()}


def _kept(house: House, day: date, sheets: Sequence[tuple[int, Sheets]]) -> list[SlotPublished]:
    """The last of a day's sheets, and what was left of each one before as teams worked."""
    following, last = sheets[-1]
    kept = list(last)
    if local_day(house.entries[following].recorded_at, house.zone) > day:
        return kept  # Put right when the day was over: it tells of the whole day.
    for number, slots in reversed(sheets[:-1]):
        replaced_at = house.entries[following].recorded_at
        if local_day(replaced_at, house.zone) < day:
            break
        beds = {bed for slot in kept for bed in slot.beds}
        rooms = {slot.room for slot in kept}
        for slot in slots:
            if _begins(house, slot.team, day) >= replaced_at:
                continue
            if slot.beds:
                left = set(slot.beds) - beds
                kept += [of_beds(house, slot, left)] if left else []
            elif slot.room not in rooms:
                kept.append(slot)
        following = number
    return kept


def _begins(house: House, team: TeamName, day: date) -> datetime:
    """When a team sets to work on a day."""
    described, hotel = house.teams.get(team), house.hotel
    clock = described.from_clock if described else ""
    clock = clock or (hotel.leave_by if hotel else "")
    if not clock:
        return moment_of(day + timedelta(days=1), "00:00", house.zone)
    return moment_of(day, clock, house.zone)
