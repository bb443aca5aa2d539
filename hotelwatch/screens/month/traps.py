"""The register of traps: where each stands or stood, since when, what was in it, by whom read."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.core.checks.monitors import Monitor, monitors
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import days_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext


class TrapsPane(QWidget):
    """Every trap, those that stand first; a row leads to its room, and all to the house."""

    def __init__(self, context: Context) -> None:
        """No trap yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        limit = QLabel(_("An empty trap is no proof that nothing is there."), wordWrap=True)
        limit.setProperty("role", "muted")
        self.table = _traps_table(context)
        self.table.activated.connect(self._open_room)
        self.show_all = QPushButton(_("Show in the &building"))
        self.show_all.clicked.connect(self._show_rooms)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(limit)
        lines.addWidget(self.table, 1)
        lines.addWidget(self.show_all)

    def refresh(self) -> None:
        """Read the register anew."""
        rows = monitors(self._context.hotel.house)
        self.table.show_rows(rows)
        self.show_all.setVisible(any(row.is_there for row in rows))

    def _open_room(self, row: Monitor) -> None:
        self._context.go_to("building", row.room)

    def _show_rooms(self) -> None:
        rooms = frozenset(row.room for row in self.table.shown_rows() if row.is_there)
        self._context.go_to_rooms(_("Rooms with traps"), rooms)


def _traps_table(context: Context) -> RowTable[Monitor]:
    return RowTable(
        [
            Column[Monitor](_("Trap"), lambda row: row.monitor),
            Column[Monitor](_("Room"), lambda row: row.room),
            Column[Monitor](_("Where"), lambda row: row.where, hint=lambda row: row.where),
            Column[Monitor](
                _("Placed"),
                lambda row: _by(short_day_text(row.placed_on), row.placed_by),
                sort=lambda row: row.placed_on,
            ),
            Column[Monitor](_("Last read"), _read_text, sort=_read_order, hint=_all_readings),
            Column[Monitor](
                _("Found in it"),
                _caught_text,
                sort=lambda row: sum(reading.caught for reading in row.readings),
                tint=lambda row: Tone.LATE if any(r.caught for r in row.readings) else None,
            ),
            Column[Monitor](
                _("Still there"),
                lambda row: _stands_text(row, context),
                sort=lambda row: row.taken_on,
            ),
        ],
        key=lambda row: (row.monitor, row.room, row.placed_on),
        name=_("Traps"),
        empty=Empty(_("No trap stands anywhere. Traps are placed from a room's case.")),
    )


def _by(day: str, who: str) -> str:
    return _("{day}, {who}").format(day=day, who=who) if who else day


def _read_text(row: Monitor) -> str:
    if not row.readings:
        return _("never")
    last = row.readings[-1]
    said = _by(short_day_text(last.read_on), last.by)
    return _("{read}; replaced").format(read=said) if last.is_replaced else said


def _read_order(row: Monitor) -> int | None:
    return row.readings[-1].read_on.toordinal() if row.readings else None


def _all_readings(row: Monitor) -> str:
    return join(
        [
            _("{day}: {n}").format(day=short_day_text(one.read_on), n=one.caught)
            for one in row.readings
        ]
    )


def _caught_text(row: Monitor) -> str:
    if not row.readings:
        return ""
    n = sum(reading.caught for reading in row.readings)
    return ngettext("{n} insect", "{n} insects", n).format(n=n) if n else _("empty each time")


def _stands_text(row: Monitor, context: Context) -> str:
    today = context.hotel.today()
    if row.taken_on is not None:
        return _("taken away {day}").format(day=short_day_text(row.taken_on))
    waited = (today - row.last_on(today)).days
    return _("not looked into for {days}").format(days=days_text(waited)) if waited else _("yes")
