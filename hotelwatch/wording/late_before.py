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
        "Late already: {beds} bed since {since}, {minutes} minutes of work, walking not counted.",
        "Late already: {beds} beds, the oldest since {since}, {minutes} minutes of work, walking"
        " not counted.",
        backlog.beds,
    ).format(beds=backlog.beds, minutes=backlog.minutes, since=short_day_text(backlog.since_on))
    return f"{said} {_worked_off(backlog)}"


def _worked_off(backlog: Backlog) -> str:
    if backlog.enough_on is None:
        return _(
            "There are too few minutes: on all of these days the teams have {had}, so it can't be"
            " caught up."
        ).format(had=backlog.had_minutes)
    if backlog.open_on is None:
        return ngettext(
            "Guests are in the way: room {rooms} can't be entered on any of these days.",
            "Guests are in the way: rooms {rooms} can't be entered on any of these days.",
            len(backlog.shut),
        ).format(rooms=", ".join(backlog.shut))
    if backlog.is_minutes:
        return _(
            "There are too few minutes to catch up before {day}, even if the teams did nothing"
            " else; by then they have {had}."
        ).format(had=backlog.had_minutes, day=short_day_text(backlog.enough_on))
    return _(
        "It can't be caught up before {day}, when the last of these rooms can be entered;"
        " minutes are enough by {enough} ({had})."
    ).format(
        day=short_day_text(backlog.open_on),
        had=backlog.had_minutes,
        enough=short_day_text(backlog.enough_on),
    )


Told = tuple[str, tuple[Shortfall, ...]]
"""A sentence, and the shortfalls of which it tells."""


def told_together(shortfalls: Sequence[Shortfall], roster: Sequence[RoomNo] = ()) -> list[Told]:
    """A sentence for each shortfall; rooms let until the same day share one, each named.

    What lacks the most minutes comes first, then what is late for longest.
    """
    groups: defaultdict[object, list[Shortfall]] = defaultdict(list)
    for number, one in enumerate(shortfalls):
        groups[one.opens_on if one.binds is Binds.NO_OPENING else (number,)].append(one)
    return [
        (
            _together(some) if len(some) > 1 else shortfall_sentence(some[0], roster),
            tuple(some),
        )
        for some in sorted(groups.values(), key=_weight)
    ]


def _weight(some: Sequence[Shortfall]) -> tuple[int, int]:
    return -sum(one.short for one in some), -sum(one.overdue_bed_days for one in some)


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
            "{n} rooms can't be entered by their due day, nor on any of these days: at least"
            " {total} late days. Room, due day and its late days: {rooms}. Agree on looks with"
            " the guests, or accept it."
        ).format(n=len(some), total=total, rooms=rooms)
    return _(
        "{n} rooms can't be entered by their due day; the first day for them is {opens}: {total}"
        " late days. Room, due day and its late days: {rooms}. Agree on looks with the guests,"
        " or accept it."
    ).format(n=len(some), opens=short_day_text(opens), total=total, rooms=rooms)
