"""The days of a calendar, in words: what a team's day, or the hotel's, is like."""

from __future__ import annotations

from hotelwatch.core.facts import TeamName
from hotelwatch.core.rounds.days_ahead import HOUSE, DayAhead, DayKind, Special
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.language import _


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
