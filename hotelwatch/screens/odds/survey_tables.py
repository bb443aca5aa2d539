"""The rooms of a survey, and the rooms that looks of some days took in."""

from __future__ import annotations

from hotelwatch.core.odds.surveys.survey_wish import LookedRoom, PlannedRoom
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import central_text, range_text
from hotelwatch.wording.survey_plan import in_100_text


def planned_table() -> RowTable[PlannedRoom]:
    """Rooms to look at, in the order in which they were taken."""
    return RowTable(
        [
            Column(_("Room"), lambda row: row.room),
            Column(_("Floor"), lambda row: row.floor),
            Column(
                _("Can go in"),
                lambda row: short_day_text(row.on),
                sort=lambda row: row.on.toordinal(),
            ),
            Column(
                _("Takes"),
                lambda row: minutes_text(row.minutes),
                sort=lambda row: row.minutes,
                right=True,
            ),
            Column(
                _("Sees it, in 100"),
                lambda row: in_100_text(row.seen),
                sort=lambda row: row.seen[Stance.CENTRAL],
            ),
            Column(
                _("Missed"),
                lambda row: central_text(row.chance),
                sort=lambda row: row.chance[Stance.CENTRAL],
            ),
            Column(
                _("Range"),
                lambda row: range_text(row.chance),
                sort=lambda row: max(row.chance.values()),
                hint=lambda row: range_text(row.chance),
            ),
        ],
        key=lambda row: row.room,
        name=_("Rooms of the survey"),
        empty=Empty(_("No room can be looked at.")),
    )


def looked_table() -> RowTable[LookedRoom]:
    """Rooms that were looked at on some days."""
    return RowTable(
        [
            Column(_("Room"), lambda row: row.room),
            Column(_("Floor"), lambda row: row.floor),
            Column(_("Looks"), lambda row: str(row.looks), sort=lambda row: row.looks, right=True),
            Column(
                _("Last on"),
                lambda row: short_day_text(row.last_on),
                sort=lambda row: row.last_on.toordinal(),
            ),
            Column(
                _("They see it, times in 100"),
                lambda row: in_100_text(row.seen),
                sort=lambda row: row.seen[Stance.CENTRAL],
            ),
        ],
        key=lambda row: row.room,
        name=_("Rooms looked at on these days"),
        empty=Empty(_("No room was looked at on these days.")),
    )
