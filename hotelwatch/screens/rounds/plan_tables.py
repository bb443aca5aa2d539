"""The tables of a draft or a published round: sheets in sums, their rooms, what was left out."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.slots import SheetSum, SlotRow
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.rounds.changes import Moved
from hotelwatch.core.rounds.plan import LeftOut
from hotelwatch.screens.look.slot_words import (
    opening_short,
    state_text,
    state_tone,
    why_in_full,
    why_text,
    why_tone,
    work_text,
)
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.reasons import opening_text, why_not_sentence

ALL = (None, "")
"""Key of the row that stands for every sheet."""


@dataclass(frozen=True, slots=True)
class SumRow:
    """A sheet in sums, or all of them."""

    on: date | None
    """None for all of them."""
    team: str
    rooms: int
    done: int
    used: int
    minutes: int

    @property
    def sheet(self) -> tuple[date, TeamName] | None:
        """Day and team; None for all sheets."""
        return None if self.on is None else (self.on, TeamName(self.team))


def sum_rows(sums: Iterable[SheetSum]) -> tuple[SumRow, ...]:
    """All sheets in one row, then each of them; nothing where there is none."""
    rows = tuple(
        SumRow(one.on, one.team, one.rooms, one.done, one.used, one.minutes) for one in sums
    )
    if not rows:
        return ()
    whole = SumRow(
        None,
        "",
        sum(row.rooms for row in rows),
        sum(row.done for row in rows),
        sum(row.used for row in rows),
        sum(row.minutes for row in rows),
    )
    return (whole, *rows)


def sums_table(draft: Callable[[], object]) -> RowTable[SumRow]:
    """Sheets by day and team; ``draft`` is the next step while there is none."""
    return RowTable(
        [
            Column[SumRow](
                _("Day"),
                lambda row: short_day_text(row.on) if row.on else _("All days"),
                sort=lambda row: row.on or date.min,
            ),
            Column[SumRow](
                _("Team"),
                lambda row: row.team or _("All teams"),
                hint=lambda row: row.team or _("All teams"),
            ),
            Column[SumRow](_("Rooms"), _rooms_text, sort=lambda row: row.rooms),
            Column[SumRow](_("Minutes"), _minutes_text, sort=lambda row: row.used),
        ],
        key=lambda row: (row.on, row.team),
        name=_("Sheets by day and team"),
        empty=Empty(
            _("Nothing is published from today on. Draft a round, look at it, publish it."),
            _("Draft a round"),
            draft,
        ),
        filtered=False,
    )


TEAM_COLUMN = 5


def rooms_table() -> RowTable[SlotRow]:
    """The rooms of one sheet, or of all, in walking order."""
    return RowTable(
        [
            Column[SlotRow](_("Day"), lambda row: short_day_text(row.on), sort=lambda row: row.on),
            Column[SlotRow](_("Room"), lambda row: row.room, hint=lambda row: row.room),
            Column[SlotRow](
                _("Why"), why_text, sort=lambda row: row.due_on, tint=why_tone, hint=why_in_full
            ),
            Column[SlotRow](
                _("Can go in"),
                lambda row: opening_short(row.opening),
                sort=lambda row: row.opening.from_clock if row.opening else None,
                hint=lambda row: opening_text(row.opening),
            ),
            Column[SlotRow](
                _("Work"),
                lambda row: minutes_text(row.minutes),
                sort=lambda row: row.minutes,
                hint=work_text,
            ),
            Column[SlotRow](_("Team"), lambda row: row.team, hint=lambda row: row.team),
            Column[SlotRow](_("State"), state_text, tint=state_tone),
        ],
        key=room_key,
        name=_("Rooms"),
        empty=Empty(_("No room is on this sheet.")),
    )


def room_key(row: SlotRow) -> tuple[date, TeamName, RoomNo, tuple[str, ...]]:
    """What a room's row is known by: a long room may stand on one sheet in parts."""
    return row.on, row.team, row.room, row.beds


def left_out_table() -> RowTable[LeftOut]:
    """Rooms that a draft leaves out, with the reason in words."""
    return RowTable(
        [
            Column[LeftOut](_("Room"), lambda row: row.room),
            Column[LeftOut](
                _("Due by"), lambda row: short_day_text(row.due_on), sort=lambda row: row.due_on
            ),
            Column[LeftOut](_("Why it is left out"), why_not_text, hint=why_not_text),
        ],
        key=lambda row: (row.room, row.due_on),
        name=_("Left out"),
        empty=Empty(_("No room that is due on these days is left out.")),
    )


def moved_table() -> RowTable[Moved]:
    """Published visits that a draft puts elsewhere."""
    return RowTable(
        [
            Column[Moved](_("Room"), _moved_room_text, sort=lambda row: row.room),
            Column[Moved](_("Published for"), _was_text, sort=lambda row: row.was_on),
            Column[Moved](_("Now on"), _now_text, sort=lambda row: row.now_on or date.max),
            Column[Moved](_("Why"), _moved_why_text, hint=_moved_why_text),
        ],
        key=lambda row: (row.room, row.was_on, row.was_team),
        name=_("Moved"),
        empty=Empty(_("Every published visit stays where it is.")),
    )


def _moved_room_text(row: Moved) -> str:
    if not row.only_beds:
        return row.room
    return ngettext(
        "{room}, only bed {beds}", "{room}, only beds {beds}", len(row.only_beds)
    ).format(room=row.room, beds=join([str(bed) for bed in row.only_beds]))


def _was_text(row: Moved) -> str:
    return _("{day}, {team}").format(day=short_day_text(row.was_on), team=row.was_team)


def _now_text(row: Moved) -> str:
    if row.now_on is None:
        return _("no day of this draft")
    return _("{day}, {team}").format(day=short_day_text(row.now_on), team=row.now_team)


def _moved_why_text(row: Moved) -> str:
    if row.is_if_whole:
        return _("Only if likely visits are published too: it is looked at sooner then.")
    if row.is_forbidden:
        return _("By hand: not on the day published.")
    if row.is_pinned_away:
        return _("By hand: pinned to another day or team.")
    if not row.was_possible:
        return _("The room can't be entered any more on the day published.")
    if not row.had_team:
        return _("{team} doesn't work any more on the day published.").format(team=row.was_team)
    if not row.had_minutes:
        return _("{team} has fewer minutes on the day published than its sheet took.").format(
            team=row.was_team
        )
    if row.now_on is not None and row.now_on < row.was_on:
        return _("It can be looked at sooner.")
    if row.now_on == row.was_on:
        return _("Another team has minutes for it that day.")
    return _("The day published is still possible; other visits took its minutes.")


def _rooms_text(row: SumRow) -> str:
    if row.done:
        return _("{done} of {all} done").format(done=row.done, all=row.rooms)
    return str(row.rooms)


def _minutes_text(row: SumRow) -> str:
    if not row.minutes:
        return str(row.used)
    return _("{used} of {minutes}").format(used=row.used, minutes=row.minutes)


def why_not_text(row: LeftOut) -> str:
    """Why a room is left out, in a sentence."""
    return why_not_sentence(row.why, room=row.room, beds=row.only_beds)
