"""The days of a calendar, in words: what a team's day, or the hotel's, is like."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from hotelwatch.core.facts import TeamName
from hotelwatch.core.rounds.days_ahead import HOUSE, DayAhead, DayKind, Special
from hotelwatch.core.rounds.lost_visits import LostVisit
from hotelwatch.wording.dates import day_text, minutes_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext

MOST_NAMED = 12
"""Of more visits that lose their team the first are named."""


def who_text(team: TeamName) -> str:
    """A team's name, or that the whole hotel is meant."""
    return _("Whole hotel") if team == HOUSE else team


def day_kind_text(kind: DayKind, minutes: int, given: int = 0) -> str:
    """What a day is like: "away", "45 min in place of the usual".

    ``given`` are its minutes where more than fit its shift.
    """
    if kind in (DayKind.USUAL, DayKind.CHANGED) and not minutes:
        return _("all of its minutes are in reserve")
    what = {
        DayKind.USUAL: _("{minutes}, as usual"),
        DayKind.FREE: _("does not work"),
        DayKind.AWAY: _("away"),
        DayKind.CHANGED: _("{minutes} in place of the usual"),
        DayKind.CLOSED: _("no rounds"),
    }[kind].format(minutes=minutes_text(minutes))
    if not given:
        return what
    return _("{what}; its shift is too short for {given}").format(
        what=what, given=minutes_text(given)
    )


def day_ahead_sentence(team: TeamName, day: DayAhead) -> str:
    """A team's day in full: "Early, Mon 7 Dec 2026: away (training)"."""
    told = {
        "who": who_text(team),
        "day": day_text(day.on),
        "what": day_kind_text(day.kind, day.minutes, day.given),
        "reason": day.reason,
    }
    if day.reason:
        return _("{who}, {day}: {what} ({reason})").format(**told)
    return _("{who}, {day}: {what}").format(**told)


def team_day_text(team: TeamName, day: DayAhead) -> str:
    """A team's day in short: "Early: away, training"."""
    what = day_kind_text(day.kind, day.minutes, day.given)
    said = _("{who}: {what}").format(who=who_text(team), what=what)
    return _("{said}, {reason}").format(said=said, reason=day.reason) if day.reason else said


def special_text(special: Special) -> str:
    """What is other than usual on some days: "away"."""
    return day_kind_text(special.kind, special.minutes, special.given)


def lost_visits_sentences(lost: Sequence[LostVisit]) -> list[str]:
    """Published visits that are without their team now; those agreed with guests first."""
    agreed = [
        _("{room} on {day}, {from_clock} to {until_clock}").format(
            room=one.room,
            day=short_day_text(one.on),
            from_clock=one.agreed.from_clock,
            until_clock=one.agreed.until_clock,
        )
        for one in lost
        if one.agreed is not None
    ]
    others = [one for one in lost if one.agreed is None]
    said = []
    if agreed:
        said.append(
            _(
                "Agreed with a guest, and now without a team: {visits}. Where nobody else can"
                " come then, somebody has to tell the guest."
            ).format(visits=join(agreed))
        )
    if others:
        said.append(
            _("Published, and now without a team: {visits}.").format(visits=_by_day(others))
        )
    return said


def _by_day(lost: Sequence[LostVisit]) -> str:
    """Rooms by day: "101 and 102 on Mon 5 Jan"."""
    more = len(lost) - MOST_NAMED
    told = [
        _("{rooms} on {day}").format(rooms=_rooms(of_day), day=short_day_text(day))
        for day, of_day in groupby(lost[:MOST_NAMED], key=lambda one: one.on)
    ]
    if more > 0:
        told.append(ngettext("{n} more", "{n} more", more).format(n=more))
    return _("; ").join(told)


def _rooms(lost: Iterable[LostVisit]) -> str:
    return join([str(one.room) for one in lost])
