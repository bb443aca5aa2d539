"""The two tables of the page: cases, and the checks that they asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from hotelwatch.core.cases.rows import AskedRow, CaseRow
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import evidence_sentence, neighbour_reasons, stage_sentence
from hotelwatch.wording.steps import step_sentence
from hotelwatch.wording.story import asked_state_text, step_short

R = TypeVar("R")


def cases_table(context: Context, log: Callable[[], object]) -> RowTable[CaseRow]:
    """Cases with what is to be done next in each."""
    zone = context.hotel.zone
    return RowTable(
        [
            Column[CaseRow](_("Case"), lambda row: row.no),
            Column[CaseRow](_("Room"), lambda row: join([str(room) for room in row.rooms])),
            Column[CaseRow](
                _("Since"), lambda row: day_text(row.since_on), sort=lambda row: row.since_on
            ),
            Column[CaseRow](
                _("Stage"), lambda row: label(row.stage), hint=lambda row: stage_sentence(row.stage)
            ),
            Column[CaseRow](
                _("Evidence"),
                lambda row: label(row.evidence),
                hint=lambda row: evidence_sentence(row.evidence),
            ),
            Column[CaseRow](
                _("Next step"),
                lambda row: step_short(row.step),
                hint=lambda row: step_sentence(row.step, zone),
            ),
            Column[CaseRow](
                _("By when"),
                lambda row: (
                    _by_when(row, moment_text(row.step.due_at, zone)) if row.step.due_at else ""
                ),
                sort=lambda row: row.step.due_at,
                tint=lambda row: Tone.LATE if row.is_late else None,
            ),
        ],
        key=lambda row: row.no,
        name=_("Cases"),
        empty=Empty(_("No case is open."), _("Log a sighting"), log),
        filtered=False,
    )


def asked_table(context: Context) -> RowTable[AskedRow]:
    """Checks that open cases asked for."""
    zone = context.hotel.zone
    return RowTable(
        [
            Column[AskedRow](_("Room"), lambda row: row.room),
            Column[AskedRow](
                _("By when"),
                lambda row: moment_text(row.by_at, zone),
                sort=lambda row: row.by_at,
            ),
            Column[AskedRow](
                _("State"),
                asked_state_text,
                sort=lambda row: (not row.is_open, row.by_at),
                tint=_tone,
            ),
            Column[AskedRow](
                _("Why"), lambda row: neighbour_reasons(row.reasons, source=row.source)
            ),
            Column[AskedRow](_("Case"), lambda row: row.case),
        ],
        key=lambda row: (row.case, row.room, row.entry),
        name=_("Checks that cases asked for"),
        empty=Empty(_("No open case wants a room looked at.")),
        filtered=False,
    )


def show_fitted(table: RowTable[R], rows: Sequence[R]) -> None:
    """Show these rows; where there are more than before, fit the columns to them anew."""
    has_more = len(rows) > len(table.model.rows)
    table.show_rows(rows)
    if not has_more:
        return
    header = table.view.horizontalHeader()
    header.setStretchLastSection(False)
    table.view.resizeColumnsToContents()
    header.setStretchLastSection(True)


def _tone(row: AskedRow) -> Tone | None:
    if not row.is_open:
        return Tone.DONE if row.done_on is not None else None
    return Tone.LATE if row.is_late else Tone.ASKED


def _by_when(row: CaseRow, moment: str) -> str:
    return _("late: {moment}").format(moment=moment) if row.is_late else moment
