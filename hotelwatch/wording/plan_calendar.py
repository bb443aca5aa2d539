"""The rounds' calendar in words: corridors, days without a team, what hinders a move."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from hotelwatch.core.checks.slots import SlotRow
from hotelwatch.core.facts import TeamName
from hotelwatch.core.rounds.calendar_rows import Cell, Chip
from hotelwatch.core.rounds.morning import Morning, WaitingRoom
from hotelwatch.core.rounds.moving import Hindrance
from hotelwatch.wording.dates import day_text, minutes_text, short_day_text
from hotelwatch.wording.forecast import fallback_sentence, leaning_sentence
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import opening_text, pull_sentence

NAMED_ROOMS = 6
"""Of more rooms than these the first are named."""
HINDRANCE = {
    Hindrance.DAY_IS_OVER: m("{day} is over."),
    Hindrance.HOUSE_CLOSED: m("There are no rounds on {day}."),
    Hindrance.TEAM_AWAY: m("{team} does not work on {day}."),
    Hindrance.TOO_FEW_PEOPLE: m("The beds of room {room} need more people than {team} has."),
    Hindrance.IN_QUARANTINE: m("Room {room} is in quarantine; only its case's checks go there."),
    Hindrance.GUEST_STAYS: m("The same guests stay in room {room} before and after {day}."),
    Hindrance.TOO_SOON: m("Room {room} was treated: nobody may enter it yet on {day}."),
    Hindrance.OUTSIDE_SHIFT: m(
        "On {day} room {room} can't be entered long enough within the shift of {team}."
    ),
    Hindrance.DAY_FORBIDDEN: m("You said: room {room} not on {day}. Allow the day again first."),
    Hindrance.TOO_LONG: m("The visit to room {room} takes longer than {team} has on {day}."),
    Hindrance.DAY_TOO_SHORT: m(
        "All rooms of the sheet of {other} together, walking counted, take longer than {team} has"
        " on {day}."
        " Move some of them by hand instead."
    ),
    Hindrance.IS_DONE: m("Somebody looked at room {room} already."),
    Hindrance.COMES_AGAIN: m(
        "This is the second look at room {room} in the plan. Move the first one instead."
    ),
}


def corridor_text(floor: str, wing: str) -> str:
    """A corridor: "Floor 4, east"."""
    if wing:
        return _("Floor {floor}, {wing}").format(floor=floor, wing=wing)
    return _("Floor {floor}").format(floor=floor)


def corridor_count_text(floor: str, wing: str, rooms: int) -> str:
    """A corridor with how many of its rooms: "Floor 4, east: 9 rooms"."""
    return ngettext("{corridor}: {n} room", "{corridor}: {n} rooms", rooms).format(
        corridor=corridor_text(floor, wing), n=rooms
    )


def load_text(used: int, minutes: int) -> str:
    """Minutes used of those had: "46 of 50 min"."""
    return _("{used} of {minutes} min").format(used=used, minutes=minutes)


def away_text(cell: Cell) -> str:
    """Why a team has no minutes that day: "House closed: Boathouse day"; empty if it has some."""
    if cell.away is None:
        return ""
    said = label(cell.away)
    if not cell.reason:
        return said
    return _("{said}: {reason}").format(said=said, reason=cell.reason)


def cell_sentence(cell: Cell) -> str:
    """A team's day in a sentence, as a screen reader says it."""
    if cell.away is not None and not cell.chips:
        return _("{day}, {team}: {away}.").format(
            day=day_text(cell.on), team=cell.team, away=away_text(cell)
        )
    rooms = ngettext("{n} room", "{n} rooms", len(cell.chips)).format(n=len(cell.chips))
    said = _("{day}, {team}: {rooms}, {load}.").format(
        day=day_text(cell.on), team=cell.team, rooms=rooms, load=load_text(cell.used, cell.minutes)
    )
    if cell.is_changed and cell.reason:
        other = _("Other minutes than usual: {reason}.").format(reason=cell.reason)
        said = f"{said} {other}"
    return said


def morning_sentence(told: Morning) -> str:
    """Why today is worth planning again."""
    said = []
    if told.closed_rooms:
        said.append(
            ngettext(
                "{rooms} stands on today's sheets and can't be entered today after all.",
                "{rooms} stand on today's sheets and can't be entered today after all.",
                len(told.closed_rooms),
            ).format(rooms=join(_first(told.closed_rooms)))
        )
    said += [
        _waiting_sentence([*rooms]) for _by, rooms in groupby(told.waiting, lambda row: row.by_on)
    ]
    said += [
        _("{team}: today's sheet takes {used}, and the team has {minutes} by now.").format(
            team=day.team, used=minutes_text(day.used), minutes=minutes_text(day.minutes)
        )
        for day in told.overfull
    ]
    if told.free_minutes:
        said.append(
            _("{teams}: {time} of today are still free.").format(
                teams=join([str(team) for team in told.teams]),
                time=minutes_text(told.free_minutes),
            )
        )
    said.append(_("Plan again."))
    return " ".join(said)


def _waiting_sentence(waiting: Sequence[WaitingRoom]) -> str:
    """Rooms that cases want by one day, and that it is over, or that only today will do."""
    if waiting[0].is_late:
        said = ngettext(
            "A case wanted {rooms} looked at by {day}: it is late since then, and no sheet of"
            " today has it.",
            "Cases wanted {rooms} looked at by {day}: they are late since then, and no sheet of"
            " today has them.",
            len(waiting),
        )
    elif waiting[0].is_today_last:
        said = ngettext(
            "A case wants {rooms} looked at by {day}: after today nobody can be there in time, and"
            " no sheet of today has it.",
            "Cases want {rooms} looked at by {day}: after today nobody can be there in time, and no"
            " sheet of today has them.",
            len(waiting),
        )
    else:
        said = ngettext(
            "A case wants {rooms} looked at by today, and no sheet of today has it.",
            "Cases want {rooms} looked at by today, and no sheet of today has them.",
            len(waiting),
        )
    rooms = join(_first([row.room for row in waiting]))
    return said.format(rooms=rooms, day=short_day_text(waiting[0].by_on))


def _first(rooms: Sequence[str]) -> list[str]:
    """Rooms by name; of many the first, and how many more there are."""
    shown = [str(room) for room in rooms[:NAMED_ROOMS]]
    more = len(rooms) - len(shown)
    return [*shown, *([_("{n} more").format(n=more)] if more else [])]


def chip_sentences(chip: Chip) -> tuple[str, ...]:
    """A room on the calendar, sentence by sentence: what, how firm, why, what it leans on."""
    row = chip.row
    head = _("Room {room}, {corridor}: {day} by {team}, {time}.").format(
        room=row.room,
        corridor=corridor_text(chip.floor, chip.wing),
        day=short_day_text(row.on),
        team=row.team,
        time=minutes_text(row.minutes),
    )
    said = [head, _standing_sentence(chip), *_why_sentences(row), *_pin_sentences(chip)]
    when = _("Can be entered: {when}.").format(when=opening_text(row.opening))
    if not row.is_done:
        said.append(when)
    if chip.leaning is not None:
        leaning = chip.leaning
        said.append(leaning_sentence(leaning.chance, nights=leaning.nights))
        said.append(fallback_sentence(leaning.fallback))
    return tuple(said)


def hindrance_sentence(hindrance: Hindrance, *, row: SlotRow, on: date, team: TeamName) -> str:
    """Why a room can't be looked at by a team on a day."""
    told = _(HINDRANCE[hindrance])
    return told.format(room=row.room, day=short_day_text(on), team=team, other=row.team)


def no_swap_sentence(row: SlotRow, team: TeamName, hindrance: Hindrance) -> str:
    """Why two teams can't swap their sheets: a room that its new team can't do."""
    why = hindrance_sentence(hindrance, row=row, on=row.on, team=team)
    return _("The sheets can't be swapped. {why}").format(why=why)


def _standing_sentence(chip: Chip) -> str:
    if chip.row.is_done:
        return _("{state}.").format(state=label(chip.row.state))
    if chip.is_firm:
        return _("Fixed: once published it stays, unless something more urgent takes its minutes.")
    if chip.row.is_again:
        return _("Likely: the room comes due again here, and is planned anew after its first look.")
    return _("Likely: it fills the day, and is settled on its morning.")


def _why_sentences(row: SlotRow) -> list[str]:
    if row.is_done or row.due_on is None:
        return []
    due = short_day_text(row.due_on)
    if row.asked_by:
        said = m("Case {case} asks for it by {day}.")
        if row.is_late:
            said = m("Late: case {case} asked for it by {day}.")
        return [_(said).format(case=row.asked_by, day=due)]
    said = m("Late: due by {day}.") if row.is_late else m("Due by {day}.")
    sooner = [] if row.sooner is None else [pull_sentence(row.sooner)]
    return [*sooner, _(said).format(day=due)]


def _pin_sentences(chip: Chip) -> list[str]:
    if chip.is_day_pinned:
        return [_("Pinned to this day by hand.")]
    return [_("Pinned to this team by hand.")] if chip.is_team_pinned else []
