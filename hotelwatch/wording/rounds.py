"""Calendars, agreed visits, asked nights and a supervisor's hand, as sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from hotelwatch.core.checks.coverage import FirstRound
from hotelwatch.core.checks.cycles import CycleFrom
from hotelwatch.core.checks.risk import Risky
from hotelwatch.core.facts import Risk, RoomNo, Scope, TeamDescribed, TeamName
from hotelwatch.core.round_facts import SeasonNoted
from hotelwatch.core.stays.agreed import ArrangedVisit, AskedNight
from hotelwatch.wording.asked import with_note
from hotelwatch.wording.dates import day_text, days_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.reasons import neighbour_reasons


def shift_text(team: TeamDescribed) -> str:
    """A team's shift: "08:00 to 16:00", or that none is said."""
    if team.from_clock and team.until_clock:
        return _("{from_clock} to {until_clock}").format(
            from_clock=team.from_clock, until_clock=team.until_clock
        )
    if team.from_clock:
        return _("from {from_clock}").format(from_clock=team.from_clock)
    if team.until_clock:
        return _("until {until_clock}").format(until_clock=team.until_clock)
    return _("at any hour")


def span_text(from_on: date, until_on: date) -> str:
    """Days from one to another: "Mon 5 Jan 2026 to Fri 9 Jan 2026"; one day alone bare."""
    if from_on == until_on:
        return day_text(from_on)
    return _("{first} to {last}").format(first=day_text(from_on), last=day_text(until_on))


def away_sentences(team: TeamName, away: Sequence[tuple[date, str]]) -> list[str]:
    """That a team is away on days, a sentence for each reason: "Blue is away that day: ill."."""
    by_reason: dict[str, list[date]] = {}
    for day, reason in away:
        by_reason.setdefault(reason, []).append(day)
    said = []
    for reason, days in by_reason.items():
        told = (
            _("{team} is away on {days}: {reason}.") if reason else _("{team} is away on {days}.")
        )
        named = join([short_day_text(day) for day in days])
        said.append(told.format(team=team, days=named, reason=reason))
    return said


CYCLE_FROM = {
    Scope.ROOM: m("Due every {days}: chosen for this room."),
    Scope.RISK: m("Due every {days}: chosen for rooms of {risk}, as the hotel judged it."),
    Scope.ROOM_TYPE: m("Due every {days}: chosen for rooms of type {room_type}."),
    Scope.HOUSE: m("Due every {days}: chosen for the whole hotel."),
    None: m("Due every {days}: nobody chose (an assumption, nobody measured it)."),
}


RISK_IN_SENTENCE = {
    Risk.HIGHER: m("higher risk"),
    Risk.LOWER: m("lower risk"),
    Risk.USUAL: m("usual risk"),
}


def rooms_of_risk_sentence(rooms: Sequence[RoomNo]) -> str:
    """Rooms that the hotel placed in a risk."""
    if not rooms:
        return _("no room.")
    told = ngettext("{n} room, {rooms}.", "{n} rooms, {rooms}.", len(rooms))
    return told.format(n=len(rooms), rooms=", ".join(rooms))


def risky_lines(found: Iterable[Risky]) -> list[str]:
    """A line for each room with a find: its day, and the rooms that touch it."""
    by_find: dict[tuple[RoomNo, date], list[RoomNo]] = {}
    for one in found:
        touching = by_find.setdefault((one.found_in, one.found_on), [])
        if one.room != one.found_in:
            touching.append(one.room)
    said = []
    for (room, on), touching in by_find.items():
        line = _("{room}: a sign was found there on {day}.").format(room=room, day=day_text(on))
        if touching:
            told = ngettext("{rooms} touches it.", "{rooms} touch it.", len(touching))
            line = f"{line} {told.format(rooms=join(list(touching)))}"
        said.append(line)
    return said


def risky_sentence(one: Risky) -> str:
    """Why the record speaks for a higher risk of a room."""
    day = day_text(one.found_on)
    if one.room == one.found_in:
        return _("{room}: a sign was found there on {day}.").format(room=one.room, day=day)
    how = neighbour_reasons(one.kinds, source=one.found_in)
    return _("{room}: {how}, where a sign was found on {day}.").format(
        room=one.room, how=how, day=day
    )


def cycle_sentence(told: CycleFrom, seasons: Iterable[SeasonNoted] = ()) -> str:
    """Every how many days a room is due, whose choice that is, and which seasons hasten it."""
    said = _(CYCLE_FROM[told.scope]).format(
        days=days_text(told.cycle_days),
        room_type=told.room_type,
        risk=_(RISK_IN_SENTENCE[told.risk]),
    )
    return " ".join((said, *map(season_sentence, seasons)))


def season_sentence(season: SeasonNoted) -> str:
    """What a season does to cycles, with its standing."""
    return _(
        "{name}, {days}: each day counts as {share} days of a cycle"
        " (an assumption, nobody measured it)."
    ).format(
        name=season.name,
        days=span_text(season.from_on, season.until_on),
        share=f"{1 + season.faster_percent / 100:g}",
    )


def first_round_sentence(one: FirstRound) -> str:
    """That nobody has looked at some beds yet, and by what they are due."""
    if one.beds == one.of:
        seen = _("No bed was looked at yet.")
    else:
        seen = ngettext(
            "{n} bed was not looked at yet.", "{n} beds were not looked at yet.", one.beds
        ).format(n=one.beds)
    spread = _(
        "First due dates are spread over the cycle, from {first} to {last}, rooms with more beds"
        " not encased first (assumption: the greater risk)."
    )
    if one.first_on == one.last_on:
        spread = _("First due dates are spread over the cycle, here to {first}.")
    first, last = short_day_text(one.first_on), short_day_text(one.last_on)
    return f"{seen} {spread.format(first=first, last=last)}"


def visit_sentence(visit: ArrangedVisit) -> str:
    """A look agreed with a guest who stays."""
    return _("{room}, {day}, {from_clock} to {until_clock}: agreed with the guest by {who}").format(
        room=visit.room,
        day=day_text(visit.on),
        from_clock=visit.from_clock,
        until_clock=visit.until_clock,
        who=visit.agreed_by,
    )


def night_sentence(night: AskedNight) -> str:
    """A night asked of front desk with its answer."""
    said = _("{room}, night of {day}: {reason}").format(
        room=night.room, day=day_text(night.night), reason=night.reason
    )
    if night.is_kept is None:
        return _("{said} – front desk has not answered").format(said=said)
    if night.is_kept:
        told = _("{said} – kept free by {who}").format(said=said, who=night.answered_by)
        if night.is_sold:
            told = _("{said}, but sold all the same").format(said=told)
    else:
        told = _("{said} – {who} can't keep it free").format(said=said, who=night.answered_by)
    return with_note(told, night.note)


def pin_text(room: RoomNo, day: date | None, team: str | None) -> str:
    """A room's pin: "101: Mon 5 Jan 2026, by Early"."""
    if day is None:
        return _("{room}: on any day, by {team}").format(room=room, team=team)
    if not team:
        return _("{room}: {day}, by any team").format(room=room, day=day_text(day))
    return _("{room}: {day}, by {team}").format(room=room, day=day_text(day), team=team)


def forbidden_text(room: RoomNo, day: date) -> str:
    """A day on which a room is not to be looked at."""
    return _("{room}: not on {day}").format(room=room, day=day_text(day))
