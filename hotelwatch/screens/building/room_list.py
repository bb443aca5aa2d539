"""The list of rooms beside the drawings: the same rooms, the same selection, in words."""

from __future__ import annotations

from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.building.rows import FOUND_SIGN, GLYPHS, TONES, RoomRow, state_text
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _


def make_room_list(context: Context) -> RowTable[RoomRow]:
    """An empty list of rooms."""
    can_load = "load_roster" in context.pages
    return RowTable(
        [
            Column[RoomRow](_("Room"), lambda row: row.room),
            Column[RoomRow](
                _("State"),
                _state,
                sort=lambda row: list(GLYPHS).index(row.state),
                tint=lambda row: TONES[row.state],
                spoken=lambda row: row.why,
            ),
            Column[RoomRow](
                _("Days"),
                _days,
                sort=lambda row: -1.0 if row.share is None else row.share,
                spoken=lambda row: row.used,
            ),
            Column[RoomRow](
                _("Due by"),
                lambda row: short_day_text(row.due_on) if row.due_on else "",
                sort=lambda row: row.due_on,
            ),
            Column[RoomRow](
                _("All seen since"),
                lambda row: short_day_text(row.last_on) if row.last_on else _("not yet in full"),
                sort=lambda row: row.last_on,
            ),
            Column[RoomRow](_("Floor"), lambda row: row.floor, sort=lambda row: row.level),
            Column[RoomRow](_("Wing"), lambda row: row.wing),
            Column[RoomRow](_("Beds"), lambda row: str(len(row.stand.looks)), right=True),
            Column[RoomRow](_("Type"), lambda row: row.room_type, hint=lambda row: row.room_type),
        ],
        key=lambda row: row.room,
        name=_("Rooms"),
        empty=Empty(
            _("No room is known yet. Rooms and beds come from your roster."),
            _("Load a roster…") if can_load else "",
            lambda: context.go_to("load_roster"),
        ),
    )


def _state(row: RoomRow) -> str:
    sign = GLYPHS[row.state]
    if row.stand.found_on is not None and sign != FOUND_SIGN:
        sign = f"{sign}{FOUND_SIGN}"
    return f"{sign} {state_text(row.state)}".strip()


def _days(row: RoomRow) -> str:
    """Days since the underside was looked at, and days of the cycle."""
    if row.stand.due_on is None:
        return ""
    if row.stand.days_since is None:
        return _("never")
    return _("{n} of {cycle}").format(n=row.stand.days_since, cycle=row.stand.cycle_days)
