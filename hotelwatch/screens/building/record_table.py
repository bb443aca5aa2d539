"""A room's record as a table: who looked, when, with what; where a dog was led."""

from __future__ import annotations

from hotelwatch.core.checks.room_record import LookedAt, RecordRow
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.room_record import outcome_text, record_sentence


def record_table() -> RowTable[RecordRow]:
    """Looks and dogs' visits, the latest first."""
    return RowTable(
        [
            Column[RecordRow](
                _("Day"),
                lambda row: short_day_text(row.on),
                sort=lambda row: (row.on, row.entry),
            ),
            Column[RecordRow](
                _("What came of it"),
                record_sentence,
                hint=outcome_text,
                tint=_tone,
                wraps=True,
            ),
        ],
        key=lambda row: (row.entry, isinstance(row, LookedAt)),
        name=_("Record of the room"),
        empty=Empty(_("Nobody has written down a look at this room.")),
        filtered=False,
    )


def _tone(row: RecordRow) -> Tone | None:
    return Tone.LATE if isinstance(row, LookedAt) and row.found else None
