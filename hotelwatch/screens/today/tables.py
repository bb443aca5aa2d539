"""The rows behind each of today's numbers: rooms to look at, duties, rooms closed, what is late."""

from __future__ import annotations

from datetime import date, datetime, tzinfo

from hotelwatch.core.cases.duties import Duty, DutyState
from hotelwatch.core.whole.day import ClosedRoom, Late, LateKind, RoomToday
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.look.slot_words import (
    opening_short,
    state_text,
    state_tone,
    why_in_full,
    why_text,
    work_text,
)
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import clock_text, moment_text, short_day_text
from hotelwatch.wording.day_picture import (
    late_since,
    late_what,
    moment_near,
    until_words,
)
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import neighbour_reasons, opening_text
from hotelwatch.wording.steps import step_sentence

TEAM_COLUMN = 1
LATE_TONES = {
    LateKind.AGREED_BROKEN: Tone.LATE,
    LateKind.LOOK_MISSED: Tone.LATE,
    LateKind.DUTY_MISSED: Tone.LATE,
    LateKind.NOT_PLANNED: Tone.DUE,
    LateKind.UNDERSIDE_OVERDUE: Tone.DUE,
    LateKind.SOONER_MISSED: Tone.DUE,
}


def rooms_table(context: Context) -> RowTable[RoomToday]:
    """Rooms to look at today: those on sheets, and those that cases want by now."""
    hotel = context.hotel
    return RowTable(
        [
            Column[RoomToday](_("Room"), lambda row: row.room),
            Column[RoomToday](_("Team"), _team_text, tint=_team_tone, hint=_team_hint, wraps=True),
            Column[RoomToday](
                _("Can go in"),
                _enter_text,
                sort=lambda row: (
                    row.slot.opening.from_clock if row.slot and row.slot.opening else None
                ),
                hint=lambda row: opening_text(row.slot.opening) if row.slot else "",
                wraps=True,
            ),
            Column[RoomToday](
                _("State"),
                lambda row: state_text(row.slot) if row.slot else _("To do"),
                tint=lambda row: state_tone(row.slot) if row.slot else None,
                wraps=True,
            ),
            Column[RoomToday](
                _("By"),
                lambda row: _by_text(row, hotel.zone, hotel.today()),
                sort=_by_order,
                tint=_by_tone,
            ),
            Column[RoomToday](
                _("Why"),
                _why_text,
                hint=_why_in_full,
                spoken=_why_in_full,
                wraps=True,
            ),
        ],
        key=lambda row: (row.team, row.room),
        name=_("Rooms to look at today"),
        empty=Empty(_("No room is to be looked at here today.")),
    )


def duties_table(context: Context) -> RowTable[Duty]:
    """What cases want beside looks, the overdue first."""
    hotel = context.hotel
    return RowTable(
        [
            Column[Duty](
                _("By"),
                lambda row: _duty_by(row, hotel.zone, hotel.now(), hotel.today()),
                sort=lambda row: row.step.due_at or row.step.not_before,
                tint=lambda row: Tone.LATE if row.state is DutyState.LATE else None,
            ),
            Column[Duty](
                _("What"),
                lambda row: step_sentence(row.step, hotel.zone),
                hint=lambda row: step_sentence(row.step, hotel.zone),
                wraps=True,
            ),
            Column[Duty](_("Room"), lambda row: row.room),
            Column[Duty](_("Case"), lambda row: row.case),
        ],
        key=lambda row: (row.case, row.step.code, row.room),
        name=_("What cases want"),
        empty=Empty(_("No case waits for anything here.")),
        filtered=False,
    )


def closed_table(context: Context) -> RowTable[ClosedRoom]:
    """Rooms in quarantine, since when and until what."""
    hotel = context.hotel
    return RowTable(
        [
            Column[ClosedRoom](_("Room"), lambda row: row.room, hint=_cases_text),
            Column[ClosedRoom](
                _("Since"),
                lambda row: short_day_text(row.since.astimezone(hotel.zone).date()),
                sort=lambda row: row.since,
                hint=lambda row: moment_text(row.since, hotel.zone),
            ),
            Column[ClosedRoom](_("Until"), until_words),
            Column[ClosedRoom](
                _("What is next"),
                lambda row: step_sentence(row.rows[0].step, hotel.zone),
                hint=lambda row: step_sentence(row.rows[0].step, hotel.zone),
                wraps=True,
            ),
        ],
        key=lambda row: row.room,
        name=_("Rooms in quarantine"),
        empty=Empty(_("No room is in quarantine.")),
    )


def late_table(context: Context) -> RowTable[Late]:
    """What is late, kind by kind, each the longest first."""
    hotel = context.hotel
    return RowTable(
        [
            Column[Late](_("Room"), lambda row: row.room),
            Column[Late](
                _("Wanted by"),
                lambda row: late_since(row, hotel.zone, today=hotel.today()),
                sort=lambda row: row.due_on,
                tint=lambda row: LATE_TONES[row.kind],
            ),
            Column[Late](_("What"), lambda row: late_what(row, hotel.zone), wraps=True),
            Column[Late](
                _("Who"),
                lambda row: (row.duty.owner or label(row.duty.role)) if row.duty else _("A team"),
            ),
        ],
        key=lambda row: (row.kind, row.room, row.case, row.duty.step.code if row.duty else ""),
        name=_("What is late"),
        empty=Empty(_("Nothing is late.")),
    )


def _cases_text(row: ClosedRoom) -> str:
    cases = join([str(one.case) for one in row.rows])
    return ngettext("Case {cases}", "Cases {cases}", len(row.rows)).format(cases=cases)


# --- rooms to look at -------------------------------------------------------------------------


def _team_text(row: RoomToday) -> str:
    if row.team is not None:
        return row.team
    planned = row.asked.planned if row.asked else None
    if planned is None:
        return _("not planned")
    day = short_day_text(planned.on)
    is_late = row.asked is not None and row.asked.is_planned_late
    return _("too late: {day}").format(day=day) if is_late else day


def _team_tone(row: RoomToday) -> Tone | None:
    is_wanting = row.asked is not None and not row.asked.is_planned_in_time
    return Tone.LATE if is_wanting else None


def _team_hint(row: RoomToday) -> str:
    if row.team is not None:
        return _("On the sheet of {team}").format(team=row.team)
    if row.asked is None or row.asked.planned is None:
        return _("No team has it on a sheet. Draft the round again.")
    return _("On the sheet of {team}").format(team=row.asked.planned.team)


def _enter_text(row: RoomToday) -> str:
    return opening_short(row.slot.opening) if row.slot else ""


def _by_text(row: RoomToday, zone: tzinfo, today: date) -> str:
    if row.asked is not None:
        by_at = row.asked.by_at
        if not row.asked.is_late:
            return moment_near(by_at, zone, today=today)
        day = by_at.astimezone(zone).date()
        said = clock_text(by_at, zone) if day == today else short_day_text(day)
        return _("Late: {moment}").format(moment=said)
    if row.slot is not None and row.slot.due_on is not None and not row.slot.is_done:
        return short_day_text(row.slot.due_on)
    return ""


def _by_order(row: RoomToday) -> str | None:
    if row.asked is not None:
        return row.asked.by_at.isoformat()
    return row.slot.due_on.isoformat() if row.slot and row.slot.due_on else None


def _by_tone(row: RoomToday) -> Tone | None:
    if row.asked is not None:
        return Tone.LATE if row.asked.is_late else Tone.DUE
    return Tone.LATE if row.slot is not None and row.slot.is_late else None


def _why_text(row: RoomToday) -> str:
    if row.asked is not None:
        wishes = row.asked.wishes
        return join([neighbour_reasons(wish.reasons, source=wish.source) for wish in wishes])
    if row.slot is None or row.slot.asked_by:
        return why_text(row.slot) if row.slot else ""
    return _("Cycle") if row.slot.sooner is None else label(row.slot.sooner.why)


def _why_in_full(row: RoomToday) -> str:
    if row.asked is None:
        said = [why_in_full(row.slot), work_text(row.slot)] if row.slot else []
        return join(said)
    return join(
        [
            _("{reasons} (case {case})").format(
                reasons=neighbour_reasons(wish.reasons, source=wish.source), case=wish.case
            )
            for wish in row.asked.wishes
        ]
    )


# --- duties ------------------------------------------------------------------------------------


def _duty_by(row: Duty, zone: tzinfo, now: datetime, today: date) -> str:
    step = row.step
    if step.due_at is not None:
        said = moment_near(step.due_at, zone, today=today)
        return _("Late: {moment}").format(moment=said) if step.is_late(now) else said
    if row.state is DutyState.WAITS and step.not_before is not None:
        return _("from {moment}").format(moment=moment_near(step.not_before, zone, today=today))
    return _("now")
