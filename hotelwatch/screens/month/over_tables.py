"""The tables of the charts over time: the same rows, to read, sort and copy."""

from __future__ import annotations

from hotelwatch.core.odds_figures import ByStance, Stance
from hotelwatch.core.whole.ages import Age
from hotelwatch.core.whole.case_weeks import CaseWeek, SignCount
from hotelwatch.core.whole.weeks import Week
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import central_text, range_cell
from hotelwatch.wording.over_time import age_text, work_text

FloorRow = tuple[str, int, ByStance]
"""A floor's name, its rooms, and the chance that something was missed there."""


def weeks_table() -> RowTable[Week]:
    """Due, done, on sheets and overdue, week by week."""
    return RowTable(
        [
            Column[Week](
                _("Week of"),
                lambda row: short_day_text(row.from_on),
                sort=lambda row: row.from_on,
            ),
            Column[Week](_("Due"), lambda row: work_text(row.due), sort=lambda row: row.due.beds),
            Column[Week](
                _("Looked at"), lambda row: work_text(row.done), sort=lambda row: row.done.beds
            ),
            Column[Week](
                _("On sheets"),
                lambda row: work_text(row.planned),
                sort=lambda row: row.planned.beds,
            ),
            Column[Week](
                _("Overdue"),
                lambda row: str(row.late.beds),
                sort=lambda row: row.late.beds,
                tint=lambda row: Tone.LATE if row.late.beds else None,
                right=True,
            ),
            Column[Week](
                _("Teams have"),
                lambda row: minutes_text(row.capacity_minutes),
                sort=lambda row: row.capacity_minutes,
            ),
        ],
        key=lambda row: row.from_on,
        name=_("Due and done by week"),
        empty=Empty(_("No week yet.")),
        filtered=False,
    )


def ages_table() -> RowTable[Age]:
    """Beds by how much of their cycle is used up."""
    return RowTable(
        [
            Column[Age](
                _("Of the cycle"),
                age_text,
                sort=lambda row: row.from_tenth,
                tint=lambda row: Tone.LATE if row.is_overdue and row.beds else None,
            ),
            Column[Age](
                _("Undersides"), lambda row: str(row.beds), sort=lambda row: row.beds, right=True
            ),
            Column[Age](
                _("Rooms"),
                lambda row: str(len(row.rooms)),
                sort=lambda row: len(row.rooms),
                right=True,
            ),
        ],
        key=lambda row: row.from_tenth,
        name=_("Age of last looks"),
        empty=Empty(_("No bed yet.")),
        filtered=False,
    )


def cases_table() -> RowTable[CaseWeek]:
    """Cases opened, closed and open, week by week."""
    return RowTable(
        [
            Column[CaseWeek](
                _("Week of"),
                lambda row: short_day_text(row.from_on),
                sort=lambda row: row.from_on,
            ),
            Column[CaseWeek](
                _("Opened"),
                lambda row: str(len(row.opened)),
                hint=lambda row: join(tuple(row.opened)),
                right=True,
            ),
            Column[CaseWeek](
                _("Closed"),
                lambda row: str(len(row.closed)),
                hint=lambda row: join(tuple(row.closed)),
                right=True,
            ),
            Column[CaseWeek](
                _("Open"),
                lambda row: str(len(row.open_at_end)),
                hint=lambda row: join(tuple(row.open_at_end)),
                right=True,
            ),
        ],
        key=lambda row: row.from_on,
        name=_("Cases by week"),
        empty=Empty(_("No case yet.")),
        filtered=False,
    )


def signs_table() -> RowTable[SignCount]:
    """Kinds of signs, how often and in how many rooms."""
    return RowTable(
        [
            Column[SignCount](_("Sign"), lambda row: label(row.sign)),
            Column[SignCount](_("Seen"), lambda row: str(row.sightings), right=True),
            Column[SignCount](_("Rooms"), lambda row: str(len(row.rooms)), right=True),
        ],
        key=lambda row: row.sign,
        name=_("Kinds of signs"),
        empty=Empty(_("No sign yet.")),
        filtered=False,
    )


def floors_table() -> RowTable[FloorRow]:
    """The chance that something was missed, floor by floor."""
    return RowTable(
        [
            Column[FloorRow](_("Floor"), lambda row: row[0]),
            Column[FloorRow](_("Rooms"), lambda row: str(row[1]), right=True),
            Column[FloorRow](
                _("Chance (assumed)"),
                lambda row: central_text(row[2]),
                sort=lambda row: row[2][Stance.CENTRAL],
            ),
            Column[FloorRow](
                _("Range"), lambda row: range_cell(row[2]), sort=lambda row: max(row[2].values())
            ),
        ],
        key=lambda row: row[0],
        name=_("Certainty by floor"),
        empty=Empty(_("Not worked out yet.")),
        filtered=False,
    )
