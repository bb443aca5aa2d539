"""The lists of a find: rooms next door, stays of those days, what moved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import central_text, chance_text
from hotelwatch.wording.since import booking_text, kinds_text, move_text, neighbour_text

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import MoveThen, NeighbourThen, StayThen


def neighbours_table() -> RowTable[NeighbourThen]:
    """Rooms next door with their chance today, and what their own record alone says."""
    return RowTable(
        [
            Column(_("Room"), lambda row: row.room),
            Column(
                _("Chance today"),
                lambda row: neighbour_text(row),
                sort=lambda row: row.chance[Stance.CENTRAL],
                tint=lambda row: Tone.QUARANTINE if row.is_found else None,
                wraps=True,
            ),
            Column(
                _("Without this find"),
                lambda row: "" if row.is_found else central_text(row.without),
                sort=lambda row: row.without[Stance.CENTRAL],
            ),
            Column(_("Where it is"), lambda row: kinds_text(row), wraps=True),
        ],
        key=lambda row: row.room,
        name=_("Rooms next door, the likeliest first"),
        empty=Empty(_("No room next door is known.")),
        filtered=False,
    )


def stays_table() -> RowTable[StayThen]:
    """Stays that touch the days of the find, by their booking's label."""
    return RowTable(
        [
            Column(_("Booking"), booking_text),
            Column(
                _("Arrival"),
                lambda row: day_text(row.arrives_on),
                sort=lambda row: row.arrives_on,
            ),
            Column(
                _("Departure"),
                lambda row: day_text(row.leaves_on),
                sort=lambda row: row.leaves_on,
            ),
            Column(
                _("Came in that day"),
                lambda row: chance_text(row.chance),
                sort=lambda row: row.chance[Stance.CENTRAL],
                wraps=True,
            ),
        ],
        key=lambda row: (row.booking, row.arrives_on),
        name=_("Stays of the days in which it most likely came in, the likeliest first"),
        empty=Empty(_("No stay is known for these days.")),
        filtered=False,
    )


def moves_table() -> RowTable[MoveThen]:
    """Guests and furniture that came in those days, or left until it was treated."""
    return RowTable(
        [
            Column(_("Day"), lambda row: day_text(row.moved_on), sort=lambda row: row.moved_on),
            Column(_("What moved"), move_text, wraps=True),
        ],
        key=lambda row: (row.moved_on, row.other, row.is_outgoing, row.what),
        name=_("What moved in those days"),
        empty=Empty(_("No move of guests or furniture is on record for these days.")),
        filtered=False,
    )
