"""The work of the teams on the days published: minutes and floor space side by side."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from hotelwatch.core.rounds.loads import Load, loads
from hotelwatch.core.rounds.team_days import (
    is_filled_up_later,
    published_ahead,
    published_round,
    team_days,
)
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _

WHOLE = 100


class LoadsPane(QWidget):
    """Each team's days ahead, as published, in minutes and in square metres."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        heading = QLabel(_("Their work, day by day"))
        heading.setProperty("role", "heading")
        self.table = _loads_table()
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(heading)
        lines.addWidget(self.table, 1)
        lines.addWidget(self.note)

    def refresh(self) -> None:
        """Read the round anew."""
        hotel = self._context.hotel
        today = hotel.today()
        span = published_ahead(hotel.house, today)
        told = published_round(hotel.house, *span) if span else None
        days = team_days(hotel.house, told) if told else ()
        self.table.show_rows(loads(hotel.building, days))
        depth = hotel.house.rules.figures.room_depth_m
        said = _("As published.")
        if told and any(is_filled_up_later(hotel.house, told, day.on, today) for day in days):
            said = _("As published: only what is fixed, each morning fills up its own day.")
        space = _("Floor space is width as drawn times {depth:g} m (an assumption).").format(
            depth=depth.value
        )
        self.note.setText(f"{said} {space}")
        self.note.setVisible(bool(self.table.model.rows))


def _loads_table() -> RowTable[Load]:
    return RowTable(
        [
            Column[Load](_("Day"), lambda row: short_day_text(row.on), sort=lambda row: row.on),
            Column[Load](_("Team"), lambda row: row.team, hint=lambda row: row.team),
            Column[Load](
                _("Rooms"), lambda row: str(row.rooms), sort=lambda row: row.rooms, right=True
            ),
            Column[Load](
                _("Floor space"),
                lambda row: _("{metres:.0f} m²").format(metres=row.floor_m2),
                sort=lambda row: row.floor_m2,
                right=True,
            ),
            Column[Load](_("Minutes"), _minutes_text, sort=lambda row: row.used),
            Column[Load](_("Filled"), _share_text, sort=_share),
        ],
        key=lambda row: (row.on, row.team),
        name=_("Work of the teams, day by day"),
        empty=Empty(_("Nothing is published from today on.")),
        filtered=False,
    )


def _minutes_text(row: Load) -> str:
    return _("{used} of {minutes}").format(used=row.used, minutes=row.minutes)


def _share(row: Load) -> float:
    return row.used / row.minutes if row.minutes else 0.0


def _share_text(row: Load) -> str:
    if not row.minutes:
        return _("away")
    return _("{percent} %").format(percent=round(_share(row) * WHOLE))
