"""The checks of a month and the time recorded for them, by team and day and by person."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from hotelwatch.core.beds import Place
from hotelwatch.core.checks.coverage import builds_on, underside_seen
from hotelwatch.core.checks.stood import stood
from hotelwatch.core.facts import BedChecked, BedDescribed, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.rows import CheckRow, PersonRow, PlaceList, TeamDayRow
from hotelwatch.core.records import Kept


def check_rows(house: House, span: Span) -> tuple[CheckRow, ...]:
    """The checks of the month, of beds and of rooms' other places, by day and room."""
    rows = [
        *(
            _of_bed(house, row)
            for row in house.kept_of(BedChecked)
            if span.holds(row.fact.checked_on)
        ),
        *(
            _of_room(house, row)
            for row in house.kept_of(RoomChecked)
            if span.holds(row.fact.checked_on)
        ),
    ]
    return tuple(sorted(rows, key=lambda row: (row.checked_on, row.room, row.bed, row.entry)))


def _of_bed(house: House, row: Kept[BedChecked]) -> CheckRow:
    check = row.fact
    return CheckRow(
        checked_on=check.checked_on,
        room=check.room,
        bed=check.bed,
        kind=check.kind,
        by=check.by,
        minutes=check.minutes,
        seen=check.seen,
        unseen=check.unseen,
        found=check.found,
        is_underside_seen=underside_seen(house, check),
        is_list_seen=any(
            _is_list_seen(_places_of(house, build), check.seen)
            for build in builds_on(house, check.bed, check.checked_on)
        ),
        asked_by=check.asked_by,
        noted=check.noted,
        form_version=check.form_version,
        from_clock=check.from_clock,
        until_clock=check.until_clock,
        aids=check.aids,
        entry=row.entry,
        recorded_at=house.entry_of(row).recorded_at,
    )


def _of_room(house: House, row: Kept[RoomChecked]) -> CheckRow:
    check = row.fact
    return CheckRow(
        checked_on=check.checked_on,
        room=check.room,
        bed="",
        kind=check.kind,
        by=check.by,
        minutes=None,
        seen=check.seen,
        unseen=check.unseen,
        found=check.found,
        is_underside_seen=None,
        is_list_seen=_is_list_seen(house.rules.room_places, check.seen),
        asked_by=check.asked_by,
        noted=check.noted,
        form_version=check.form_version,
        from_clock=check.from_clock,
        until_clock=check.until_clock,
        aids=check.aids,
        entry=row.entry,
        recorded_at=house.entry_of(row).recorded_at,
    )


def place_lists(house: House) -> tuple[PlaceList, ...]:
    """The list of every kind of bed in use, then that of a room."""
    kinds = sorted({(bed.kind, bed.encased) for bed in house.beds.values()})
    known = house.rules.bed_kinds
    lists = [
        PlaceList(kind, encased, known[kind].places_of(encased=encased))
        for kind, encased in kinds
        if kind in known
    ]
    return (*lists, PlaceList("", encased=False, places=house.rules.room_places))


def _places_of(house: House, bed: BedDescribed) -> tuple[Place, ...]:
    kind = house.rules.bed_kinds.get(bed.kind)
    return kind.places_of(encased=bed.encased) if kind else ()


def _is_list_seen(places: tuple[Place, ...], seen: tuple[str, ...]) -> bool:
    needed = {place.code for place in places if not place.optional}
    return bool(needed) and needed <= set(seen)


@dataclass(slots=True)
class _Day:
    planned_rooms: set[RoomNo] = field(default_factory=set)
    planned_minutes: int = 0
    beds: int = 0
    minutes: int = 0
    people_minutes: int = 0


def team_days(house: House, span: Span, checks: Iterable[CheckRow]) -> tuple[TeamDayRow, ...]:
    """Planned and recorded time of each team and day.

    A check belongs to the team on whose sheet its bed stood that day, else its room;
    one that stood on no sheet belongs to none.
    """
    days: defaultdict[tuple[date, str], _Day] = defaultdict(_Day)
    team_of: dict[tuple[date, str], str] = {}
    for on, slots in stood(house).items():
        if not span.holds(on):
            continue
        for slot in slots:
            day = days[on, slot.team]
            day.planned_rooms.add(slot.room)
            day.planned_minutes += slot.minutes
            team_of[on, slot.room] = slot.team
            team_of.update(((on, bed), slot.team) for bed in slot.beds)
    for check in checks:
        if check.minutes is None:
            continue
        of_room = team_of.get((check.checked_on, check.room), "")
        day = days[check.checked_on, team_of.get((check.checked_on, check.bed), of_room)]
        day.beds += 1
        day.minutes += check.minutes
        day.people_minutes += check.minutes * max(1, len(check.by))
    return _team_rows(days)


def _team_rows(days: Mapping[tuple[date, str], _Day]) -> tuple[TeamDayRow, ...]:
    return tuple(
        TeamDayRow(
            on=on,
            team=team,
            planned_rooms=len(day.planned_rooms),
            planned_minutes=day.planned_minutes,
            beds=day.beds,
            minutes=day.minutes,
            people_minutes=day.people_minutes,
        )
        for (on, team), day in sorted(days.items())
    )


def people_rows(checks: Iterable[CheckRow]) -> tuple[PersonRow, ...]:
    """Each person's recorded time, by name; never what they found."""
    days: defaultdict[str, set[date]] = defaultdict(set)
    beds: defaultdict[str, int] = defaultdict(int)
    minutes: defaultdict[str, int] = defaultdict(int)
    for check in checks:
        for person in check.by:
            if check.minutes is not None:
                days[person].add(check.checked_on)
                beds[person] += 1
                minutes[person] += check.minutes
    return tuple(
        PersonRow(person, days=len(days[person]), beds=beds[person], minutes=minutes[person])
        for person in sorted(days)
    )
