"""Today's three tables: looks that cases want, what is on the sheets, what is next in cases."""

from __future__ import annotations

from datetime import datetime, tzinfo

from hotelwatch.core.cases.duties import Duty, DutyState
from hotelwatch.core.checks.slots import SlotRow
from hotelwatch.core.checks.today import AskedRoom
from hotelwatch.screens.context import Context
from hotelwatch.screens.slot_words import (
    opening_short,
    state_text,
    state_tone,
    why_text,
    why_tone,
    work_text,
)
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.screens.theme import Tone
from hotelwatch.wording.dates import clock_text, minutes_text, short_day_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import neighbour_reasons, opening_text
from hotelwatch.wording.steps import step_sentence


def asked_table(context: Context) -> RowTable[AskedRoom]:
    """Rooms that cases want looked at, late ones first."""
    zone = context.hotel.zone
    return RowTable(
        [
            Column[AskedRoom](_("Room"), lambda row: row.room),
            Column[AskedRoom](
                _("By"),
                lambda row: _by_text(row, zone),
                sort=lambda row: row.by_at,
                tint=_by_tone,
            ),
            Column[AskedRoom](
                _("On a sheet"),
                _sheet_text,
                sort=lambda row: row.planned.on if row.planned else None,
                tint=lambda row: None if row.is_planned_in_time else Tone.LATE,
                hint=_sheet_hint,
            ),
            Column[AskedRoom](_("Why"), _wishes_text, hint=_wishes_in_full, spoken=_wishes_in_full),
        ],
        key=lambda row: row.room,
        name=_("What cases want looked at"),
        empty=Empty(_("No case waits for a look.")),
        filtered=False,
    )


TEAM_COLUMN = 1


def slots_table() -> RowTable[SlotRow]:
    """Today's sheets, team by team in walking order."""
    return RowTable(
        [
            Column[SlotRow](_("Room"), lambda row: row.room),
            Column[SlotRow](_("Team"), lambda row: row.team),
            Column[SlotRow](
                _("Enter"),
                lambda row: opening_short(row.opening),
                sort=lambda row: row.opening.from_clock if row.opening else None,
                hint=lambda row: opening_text(row.opening),
            ),
            Column[SlotRow](_("How far"), state_text, tint=state_tone),
            Column[SlotRow](
                _("Work"),
                lambda row: minutes_text(row.minutes),
                sort=lambda row: row.minutes,
                hint=work_text,
            ),
            Column[SlotRow](
                _("Why"), why_text, sort=lambda row: row.due_on, tint=why_tone, hint=why_text
            ),
        ],
        key=lambda row: (row.team, row.room),
        name=_("Today's sheets"),
        empty=Empty(_("No team has a room on its sheet today.")),
    )


def duties_table(context: Context) -> RowTable[Duty]:
    """What cases want beside looks asked for, the overdue first."""
    zone, now = context.hotel.zone, context.hotel.now
    return RowTable(
        [
            Column[Duty](
                _("By"),
                lambda row: _duty_by(row, zone, now()),
                sort=lambda row: row.step.due_at or row.step.not_before,
                tint=lambda row: Tone.LATE if row.state is DutyState.LATE else None,
            ),
            Column[Duty](
                _("What"),
                lambda row: step_sentence(row.step, zone),
                hint=lambda row: step_sentence(row.step, zone),
                wraps=True,
            ),
            Column[Duty](_("Who"), lambda row: row.owner or label(row.role)),
            Column[Duty](_("Case"), lambda row: row.case),
        ],
        key=lambda row: (row.case, row.step.code, row.room),
        name=_("What is next in cases"),
        empty=Empty(_("No case waits for anything else.")),
        filtered=False,
    )


def _moment(moment: datetime, zone: tzinfo) -> str:
    """A moment near today, without its year: "Wed 25 Nov, 14:05"."""
    day = short_day_text(moment.astimezone(zone).date())
    return _("{day}, {clock}").format(day=day, clock=clock_text(moment, zone))


def _by_text(row: AskedRoom, zone: tzinfo) -> str:
    if row.is_late:
        return _("Late: {moment}").format(moment=_moment(row.by_at, zone))
    if row.is_due_today:
        return _("today, {clock}").format(clock=clock_text(row.by_at, zone))
    return _moment(row.by_at, zone)


def _duty_by(row: Duty, zone: tzinfo, now: datetime) -> str:
    step = row.step
    if step.due_at is not None:
        said = _moment(step.due_at, zone)
        return _("Late: {moment}").format(moment=said) if step.is_late(now) else said
    if row.state is DutyState.WAITS and step.not_before is not None:
        return _("from {moment}").format(moment=_moment(step.not_before, zone))
    return _("now")


def _by_tone(row: AskedRoom) -> Tone | None:
    if row.is_late:
        return Tone.LATE
    return Tone.DUE if row.is_due_today else None


def _sheet_text(row: AskedRoom) -> str:
    if row.planned is None:
        return _("on no sheet")
    if row.is_planned_today:
        return _("today, {team}").format(team=row.planned.team)
    day = short_day_text(row.planned.on)
    return _("too late: {day}").format(day=day) if row.is_planned_late else day


def _sheet_hint(row: AskedRoom) -> str:
    if row.planned is None:
        return _("No team has it on a sheet. Draft the round again.")
    return _("On the sheet of {team}").format(team=row.planned.team)


def _wishes_text(row: AskedRoom) -> str:
    return join([neighbour_reasons(wish.reasons, source=wish.source) for wish in row.wishes])


def _wishes_in_full(row: AskedRoom) -> str:
    return join(
        [
            _("{reasons} (case {case})").format(
                reasons=neighbour_reasons(wish.reasons, source=wish.source), case=wish.case
            )
            for wish in row.wishes
        ]
    )
