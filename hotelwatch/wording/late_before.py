"""What is late before a plan begins, and rooms that are late for one cause, told together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.backlog import Backlog
from hotelwatch.core.planning.shortfall import Binds, Shortfall
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.shortfalls import shortfall_sentence


def backlog_sentence(backlog: Backlog) -> str:
    """How much is late already, since when, by when it can be worked off, and what binds."""
    said = ngettext(
        "Late before the first day: {beds} bed, {minutes} minutes, ways to corridors not counted,"
        " the oldest since {since}.",
        "Late before the first day: {beds} beds, {minutes} minutes, ways to corridors not counted,"
        " the oldest since {since}.",
        backlog.beds,
    ).format(beds=backlog.beds, minutes=backlog.minutes, since=short_day_text(backlog.since_on))
    return f"{said} {_worked_off(backlog)}"


def _worked_off(backlog: Backlog) -> str:
    if backlog.enough_on is None:
        return _(
            "Minutes bind: on all of these days the teams have {had}, so it can't be worked off."
        ).format(had=backlog.had_minutes)
    if backlog.open_on is None:
        return _("Openings bind: on none of these days opens {rooms}.").format(
            rooms=", ".join(backlog.shut)
        )
    if backlog.is_minutes:
        return _(
            "Minutes bind: the teams have {had} by {day}, so not before, even with nothing else."
        ).format(had=backlog.had_minutes, day=short_day_text(backlog.enough_on))
    return _(
        "Openings bind: not before {day}, when the last of the rooms opens; the teams have"
        " {had} minutes by {enough}."
    ).format(
        day=short_day_text(backlog.open_on),
        had=backlog.had_minutes,
        enough=short_day_text(backlog.enough_on),
    )


Told = tuple[str, tuple[Shortfall, ...]]
"""A sentence, and the shortfalls of which it tells."""


def told_together(shortfalls: Sequence[Shortfall], roster: Sequence[RoomNo] = ()) -> list[Told]:
    """A sentence for each shortfall; rooms let until the same day share one, each named."""
    groups: defaultdict[object, list[Shortfall]] = defaultdict(list)
    for number, one in enumerate(shortfalls):
        groups[one.opens_on if one.binds is Binds.NO_OPENING else (number,)].append(one)
    return [
        (
            _together(some) if len(some) > 1 else shortfall_sentence(some[0], roster),
            tuple(some),
        )
        for some in groups.values()
    ]


def _together(some: Sequence[Shortfall]) -> str:
    rooms = ", ".join(
        _("{room} (due {due}, {late})").format(
            room=one.rooms[0], due=short_day_text(one.until_on), late=one.overdue_bed_days
        )
        for one in some
    )
    total = sum(one.overdue_bed_days for one in some)
    opens: date | None = some[0].opens_on
    if opens is None:
        return _(
            "{n} rooms have no opening by their due day, nor on any of these days: at least"
            " {total} overdue bed-days. Room, due day and its bed-days: {rooms}. Agree on looks"
            " with the guests, or accept it."
        ).format(n=len(some), total=total, rooms=rooms)
    return _(
        "{n} rooms have no opening by their due day; the first day for them is {opens}: {total}"
        " overdue bed-days. Room, due day and its bed-days: {rooms}. Agree on looks with the"
        " guests, or accept it."
    ).format(n=len(some), opens=short_day_text(opens), total=total, rooms=rooms)
