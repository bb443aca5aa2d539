"""Each room in use at the end of the month, with what the month's rows say of it."""

from __future__ import annotations

from collections import Counter

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.month.due_rows import DueState
from hotelwatch.core.month.page_rows import RoomRow
from hotelwatch.core.month.rows import MonthRows

LATE = frozenset({DueState.LATE, DueState.NOT_DONE})


def room_rows(house: House, rows: MonthRows) -> tuple[RoomRow, ...]:
    """Every room in use, in house order, counted from the month's rows."""
    beds = Counter(row.room for row in rows.looks)
    overdue = Counter(row.room for row in rows.looks if row.is_overdue)
    looks = Counter(row.room for row in rows.checks if row.is_underside_seen)
    late = Counter(row.room for row in rows.due if row.state in LATE)
    signs = Counter(row.room for row in rows.sightings)
    quarantines = Counter(row.room for row in rows.quarantines)
    nights: Counter[RoomNo] = Counter()
    for row in rows.quarantines:
        nights[row.room] += row.nights
    return tuple(
        RoomRow(
            room=no,
            floor=room.floor,
            wing=room.wing,
            room_type=room.room_type,
            beds=beds[no],
            overdue=overdue[no],
            looks=looks[no],
            late=late[no],
            signs=signs[no],
            quarantines=quarantines[no],
            nights=nights[no],
        )
        for no, room in house.rooms.items()
    )
