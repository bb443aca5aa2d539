"""What if, in sentences: what is tried, and what would come of it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, join, ngettext

WHOLE = 100


def teams_text(teams: int, gone: Sequence[str] = ()) -> str:
    """So many teams more or fewer: "1 more team", "1 team fewer (Red)"."""
    if teams >= 0:
        return ngettext("{n} more team", "{n} more teams", teams).format(n=teams)
    fewer = len(gone) or -teams
    said = ngettext("{n} team fewer", "{n} teams fewer", fewer).format(n=fewer)
    return _("{said} ({teams})").format(said=said, teams=join(list(gone))) if gone else said


def minutes_percent_text(percent: int) -> str:
    """Other minutes a day: "20 % more minutes a day"."""
    if percent >= WHOLE:
        return _("{percent} % more minutes a day").format(percent=percent - WHOLE)
    return _("{percent} % fewer minutes a day").format(percent=WHOLE - percent)


def cycle_percent_text(percent: int) -> str:
    """Another cycle: "cycles 10 % longer"."""
    if percent >= WHOLE:
        return _("cycles {percent} % longer").format(percent=percent - WHOLE)
    return _("cycles {percent} % shorter").format(percent=WHOLE - percent)


def kept_rooms_text(rooms: int) -> str:
    """Rooms not sold so that they can be looked at: "2 rooms a day left unsold"."""
    return ngettext("{n} room a day left unsold", "{n} rooms a day left unsold", rooms).format(
        n=rooms
    )


def trial_text(
    teams: int,
    minutes_percent: int,
    *,
    cycle_percent: int,
    kept_rooms: int,
    gone: Sequence[str] = (),
) -> str:
    """What is tried: "1 more team and cycles 10 % longer"; empty for nothing.

    ``gone`` names the teams let go.
    """
    parts = []
    if teams:
        parts.append(teams_text(teams, gone))
    if minutes_percent != WHOLE:
        parts.append(minutes_percent_text(minutes_percent))
    if cycle_percent != WHOLE:
        parts.append(cycle_percent_text(cycle_percent))
    if kept_rooms:
        parts.append(kept_rooms_text(kept_rooms))
    return join(parts)


def teams_set_text(teams: int) -> str:
    """What a slider named Teams stands at: "1 more"."""
    if not teams:
        return _("as now")
    return (_("{n} more") if teams > 0 else _("{n} fewer")).format(n=abs(teams))


def minutes_set_text(percent: int) -> str:
    """What a slider named Minutes a day stands at: "20 % more"."""
    if percent == WHOLE:
        return _("as now")
    said = _("{percent} % more") if percent > WHOLE else _("{percent} % fewer")
    return said.format(percent=abs(percent - WHOLE))


def cycle_set_text(percent: int) -> str:
    """What a slider named Cycles stands at: "10 % longer"."""
    if percent == WHOLE:
        return _("as now")
    said = _("{percent} % longer") if percent > WHOLE else _("{percent} % shorter")
    return said.format(percent=abs(percent - WHOLE))


def kept_set_text(rooms: int) -> str:
    """What a slider named Rooms left unsold stands at: "2 a day"."""
    return _("{n} a day").format(n=rooms) if rooms else _("as now")


def outcome_sentence(trial: str, tried: int, *, as_is: int, last: date) -> str:
    """What would come of a trial, beside what comes as things are."""
    day = short_day_text(last)
    if not trial:
        return ngettext(
            "As things are: {n} late day by {day}.",
            "As things are: {n} late days by {day}.",
            as_is,
        ).format(n=as_is, day=day)
    if tried == as_is:
        said = ngettext(
            "{trial}: {n} late day by {day}, as now.",
            "{trial}: {n} late days by {day}, as now.",
            as_is,
        )
    else:
        said = ngettext(
            "{trial}: {tried} instead of {n} late day by {day}.",
            "{trial}: {tried} instead of {n} late days by {day}.",
            as_is,
        )
    return said.format(trial=trial[:1].upper() + trial[1:], tried=tried, n=as_is, day=day)


def on_time_sentence(on_time_from: date | None, first: date) -> str:
    """From when on no bed is overdue within the days looked at."""
    if on_time_from is None:
        return _("Some bed is overdue up to the last of these days.")
    if on_time_from <= first:
        return _("On none of these days is a bed overdue.")
    return _("From {day} on no bed is overdue.").format(day=short_day_text(on_time_from))


def openings_sentence(fewest: int) -> str:
    """What no amount of minutes would mend."""
    if not fewest:
        return _("Every room can be entered in time: minutes decide.")
    return ngettext(
        "{n} late day would stay even with endless minutes: no team that may and can look at its"
        " bed works sooner while its room can be entered.",
        "{n} late days would stay even with endless minutes: no team that may and can look at these"
        " beds works sooner while their rooms can be entered.",
        fewest,
    ).format(n=fewest)
