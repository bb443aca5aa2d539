"""Lists of what the record shows: finds, groups of them, undersides, years."""

from __future__ import annotations

from collections.abc import Callable

from hotelwatch.core.cases.cost_years import YearCost
from hotelwatch.core.checks.coverage import Look
from hotelwatch.core.checks.cycle_kept import DayKept
from hotelwatch.core.odds.past.back_rows import FindBack, FindGroup
from hotelwatch.core.odds_figures import ByStance, Stance
from hotelwatch.screens.tables.model import natural
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import plain_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.looking_back import (
    days_cell,
    group_name,
    insects_cell,
    kept_cell,
    money_text,
    treated_cell,
    treated_text,
    treatment_cell,
    window_cell,
    year_text,
)
from hotelwatch.wording.names import label


def finds_table() -> RowTable[FindBack]:
    """Each confirmed find."""
    return RowTable(
        [
            Column[FindBack](_("Room"), lambda row: row.room, sort=lambda row: natural(row.room)),
            Column[FindBack](
                _("Found on"),
                lambda row: plain_day_text(row.found_on),
                sort=lambda row: row.found_on.toordinal(),
            ),
            Column[FindBack](_("Noticed first by"), lambda row: label(row.found_by), wraps=True),
            Column[FindBack](
                _("Came in (assumed)"),
                window_cell,
                sort=lambda row: row.middle_on[Stance.CENTRAL].toordinal(),
                wraps=True,
            ),
            Column[FindBack](
                _("Days to find (assumed)"), days_cell, sort=lambda row: row.days[Stance.CENTRAL]
            ),
            Column[FindBack](
                _("Insects then (assumed)"),
                insects_cell,
                sort=lambda row: row.insects[Stance.CENTRAL],
            ),
            Column[FindBack](_("Treated before"), treatment_cell, wraps=True),
        ],
        key=lambda row: (row.case, row.room, row.found_on),
        name=_("Confirmed finds"),
        empty=Empty(_("No confirmed find is on record. That says nothing of what was missed.")),
    )


def treated_table() -> RowTable[FindBack]:
    """Finds in rooms that were treated before: left over or come in anew."""
    return RowTable(
        [
            Column[FindBack](_("Room"), lambda row: row.room, sort=lambda row: natural(row.room)),
            Column[FindBack](
                _("Found on"),
                lambda row: plain_day_text(row.found_on),
                sort=lambda row: row.found_on.toordinal(),
            ),
            Column[FindBack](_("Left over or anew"), treated_text, wraps=True),
        ],
        key=lambda row: (row.case, row.room, row.found_on),
        name=_("Finds in rooms treated before"),
        empty=Empty(_("No find on record is of a room that was treated before.")),
        filtered=False,
    )


def groups_table() -> RowTable[FindGroup]:
    """Rooms, stacks and wings with more than one find."""
    return RowTable(
        [
            Column[FindGroup](_("What"), lambda row: label(row.of)),
            Column[FindGroup](_("Which"), group_name, wraps=True),
            Column[FindGroup](
                _("Finds"), lambda row: str(row.finds), sort=lambda row: row.finds, right=True
            ),
            Column[FindGroup](
                _("Rooms with one"),
                lambda row: _("{n} of {rooms}").format(n=len(row.found_in), rooms=row.rooms),
                sort=lambda row: len(row.found_in),
            ),
        ],
        key=lambda row: (row.of, row.name, row.found_in),
        name=_("More than one find"),
        empty=Empty(_("No room, no rooms above one another and no wing has more than one find.")),
        filtered=False,
    )


def months_table() -> RowTable[DayKept]:
    """Shares of undersides looked at, at the ends of months, the latest first."""
    return RowTable(
        [
            Column[DayKept](
                _("At the end of"),
                lambda row: plain_day_text(row.on),
                sort=lambda row: row.on.toordinal(),
            ),
            Column[DayKept](
                _("Undersides"),
                lambda row: str(row.undersides),
                sort=lambda row: row.undersides,
                right=True,
            ),
            Column[DayKept](
                _("Within the usual cycle"),
                lambda row: kept_cell(row, row.in_usual),
                sort=lambda row: row.in_usual,
            ),
            Column[DayKept](
                _("Within its own"),
                lambda row: kept_cell(row, row.in_cycle),
                sort=lambda row: row.in_cycle,
            ),
        ],
        key=lambda row: row.on,
        name=_("Undersides looked at, month by month"),
        empty=Empty(_("No bed is on record yet.")),
        filtered=False,
    )


def never_table() -> RowTable[Look]:
    """Undersides of which no whole look is on record."""
    return RowTable(
        [
            Column[Look](_("Bed"), lambda row: row.bed, sort=lambda row: natural(row.bed)),
            Column[Look](
                _("First due"),
                lambda row: plain_day_text(row.due_on),
                sort=lambda row: row.due_on.toordinal(),
            ),
        ],
        key=lambda row: row.bed,
        name=_("No whole look on record"),
        empty=Empty(_("Of each underside at least one whole look is on record.")),
        filtered=False,
    )


def years_table() -> RowTable[YearCost]:
    """What finds cost, year by year."""
    return RowTable(
        [
            Column[YearCost](_("Year"), year_text, sort=lambda row: (not row.year, row.year)),
            Column[YearCost](
                _("Finds"), lambda row: str(row.finds), sort=lambda row: row.finds, right=True
            ),
            Column[YearCost](
                _("By guests"),
                lambda row: str(row.guest_finds),
                sort=lambda row: row.guest_finds,
                right=True,
            ),
            Column[YearCost](
                _("Nights closed"),
                lambda row: str(row.nights),
                sort=lambda row: row.nights,
                right=True,
            ),
            Column[YearCost](
                _("Not confirmed"),
                lambda row: str(row.nights_of_others),
                sort=lambda row: row.nights_of_others,
                right=True,
            ),
            Column[YearCost](_("Rooms treated"), treated_cell, sort=lambda row: row.rooms_treated),
            _money(_("Nights"), lambda row: row.for_nights),
            _money(_("Treatments"), lambda row: row.for_treatments),
            _money(_("Guests"), lambda row: row.for_guests),
            _money(_("Money in all"), lambda row: row.money),
        ],
        key=lambda row: row.year,
        name=_("What finds cost, year by year"),
        empty=Empty(_("No room was closed and none was treated so far.")),
        filtered=False,
    )


def _money(title: str, of_year: Callable[[YearCost], ByStance]) -> Column[YearCost]:
    return Column(
        title,
        lambda row: money_text(of_year(row)),
        sort=lambda row: of_year(row)[Stance.CENTRAL],
        right=True,
    )
