"""Why a round can't be in time, and what would mend it, in sums that one can add up again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.reasons import Load
from hotelwatch.core.planning.repairs import Mend, Repair
from hotelwatch.core.planning.shortfall import Binds, Shortfall
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, join, ngettext

MOST_NAMED = 5
"""Rooms, or stretches of rooms, that a sentence names; the others are counted."""
STRETCH = 3
"""So many rooms in a row are told by the first and the last."""


def rooms_text(rooms: Iterable[RoomNo], roster: Sequence[RoomNo] = ()) -> str:
    """Rooms in the roster's order: "401 to 418, 420 and 12 more"."""
    wanted = set(rooms)
    known = [room for room in roster if room in wanted]
    named = list(_stretches(known, roster))
    named += [(room, 1) for room in dict.fromkeys(rooms) if room not in set(known)]
    told = [text for text, _count in named[:MOST_NAMED]]
    more = sum(count for _text, count in named[MOST_NAMED:])
    if more:
        told.append(ngettext("{n} more", "{n} more", more).format(n=more))
    return join(told)


def _stretches(known: Sequence[RoomNo], roster: Sequence[RoomNo]) -> Iterator[tuple[str, int]]:
    place = {room: number for number, room in enumerate(roster)}
    numbered = enumerate(known)
    for _key, run in groupby(numbered, key=lambda item: place[item[1]] - item[0]):
        of_run = [room for _number, room in run]
        if len(of_run) >= STRETCH:
            yield (
                _("{first} to {last}").format(first=of_run[0], last=of_run[-1]),
                len(of_run),
            )
        else:
            yield from ((room, 1) for room in of_run)


def shortfall_sentence(one: Shortfall, roster: Sequence[RoomNo] = ()) -> str:
    """One reason, with its sum."""
    rooms = rooms_text(one.rooms, roster)
    until = short_day_text(one.until_on)
    if one.binds is Binds.NO_OPENING:
        return _unopened(one, rooms, until)
    if one.binds is Binds.WHOLE_ROOMS:
        return ngettext(
            "{rooms} is due by {until}: it would fit only in parts, or without the ways to "
            "corridors.",
            "{rooms} are due by {until}: they would fit only in parts, or without the ways to "
            "corridors.",
            len(one.rooms),
        ).format(rooms=rooms, until=until)
    if one.binds is Binds.PEOPLE:
        said = ngettext(
            "Room {rooms} needs {needed} minutes by {until}; teams with enough people have {had} "
            "minutes on the days on which it is open ({days}): {short} short, ways to corridors "
            "not counted.",
            "Rooms {rooms} need {needed} minutes by {until}; teams with enough people have {had} "
            "minutes on the days on which they are open ({days}): {short} short, ways to "
            "corridors not counted.",
            len(one.rooms),
        )
    else:
        said = ngettext(
            "Room {rooms} needs {needed} minutes by {until}; {had} minutes of team time meet the "
            "days on which it is open ({days}): {short} short, ways to corridors not counted.",
            "Rooms {rooms} need {needed} minutes by {until}; {had} minutes of team time meet the "
            "days on which they are open ({days}): {short} short, ways to corridors not counted.",
            len(one.rooms),
        )
    return said.format(
        rooms=rooms,
        needed=one.needed,
        until=until,
        had=one.minutes,
        days=days_text(one.days),
        short=one.short,
    )


def _unopened(one: Shortfall, rooms: str, until: str) -> str:
    late = one.overdue_bed_days
    if one.opens_on is None:
        return ngettext(
            "{room} has no opening by {until}, when it is due, nor on any later day of these: "
            "agree on a look with the guest, or accept at least {late} overdue bed-day.",
            "{room} has no opening by {until}, when it is due, nor on any later day of these: "
            "agree on a look with the guest, or accept at least {late} overdue bed-days.",
            late,
        ).format(room=rooms, until=until, late=late)
    return ngettext(
        "{room} has no opening by {until}, when it is due; the first is on {opens}: "
        "{late} overdue bed-day, unless the guest agrees to a look.",
        "{room} has no opening by {until}, when it is due; the first is on {opens}: "
        "{late} overdue bed-days, unless the guest agrees to a look.",
        late,
    ).format(room=rooms, until=until, opens=short_day_text(one.opens_on), late=late)


def days_text(days: Sequence[date]) -> str:
    """Days by name; of many the first and the last, and how many."""
    if len(days) <= STRETCH:
        return join([short_day_text(day) for day in days])
    return _("{n} days from {first} to {last}").format(
        n=len(days), first=short_day_text(days[0]), last=short_day_text(days[-1])
    )


def repair_sentence(one: Repair, roster: Sequence[RoomNo] = ()) -> str:
    """One repair, with its effect."""
    return _("{what} {effect}").format(what=_what(one, roster), effect=_effect(one))


def _what(one: Repair, roster: Sequence[RoomNo]) -> str:
    rooms = rooms_text(one.rooms, roster)
    if one.mend is Mend.KEEP_FREE:
        named = [
            _("{room} on the night of {night}").format(room=room, night=short_day_text(night))
            for room, night in zip(one.rooms, one.nights, strict=True)
        ]
        return _("Keep {rooms} free.").format(rooms=join(named))
    if one.mend is Mend.TEAM_DAYS:
        return ngettext(
            "One more day of {team}, or of a team like it: {days}.",
            "{n} more days of {team}, or of a team like it: {days}.",
            len(one.days),
        ).format(n=len(one.days), team=one.team, days=days_text(one.days))
    if one.mend is Mend.LONGER_WINDOW:
        return _("Let shifts meet every opening of the rooms.")
    if one.mend is Mend.ENCASE:
        return ngettext(
            "Encase {n} bed, in {rooms}.", "Encase {n} beds, in {rooms}.", one.beds
        ).format(n=one.beds, rooms=rooms)
    return ngettext(
        "Choose a cycle that is {n} day longer for {rooms}.",
        "Choose a cycle that is {n} days longer for {rooms}.",
        one.more_days,
    ).format(n=one.more_days, rooms=rooms)


def _effect(one: Repair) -> str:
    told = []
    if one.short_before != one.short_after:
        told.append(
            _("Minutes short: {after} instead of {before}.").format(
                before=one.short_before, after=one.short_after
            )
        )
    if one.unopened_before != one.unopened_after:
        told.append(
            _("Rooms without an opening in time: {after} instead of {before}.").format(
                before=one.unopened_before, after=one.unopened_after
            )
        )
    if one.saved_bed_days:
        told.append(
            ngettext(
                "It costs {cost} and saves {n} overdue bed-day.",
                "It costs {cost} and saves {n} overdue bed-days.",
                one.saved_bed_days,
            ).format(
                n=one.saved_bed_days,
                cost=ngettext("{n} room-night", "{n} room-nights", len(one.nights)).format(
                    n=len(one.nights)
                ),
            )
        )
    return " ".join(told)


def load_sentence(load: Load) -> str:
    """What the cycles ask for ever, against what the teams have."""
    said = _("All cycles together ask for {asked} minutes a day; the teams have {had}.").format(
        asked=round(load.asked_a_day), had=round(load.had_a_day)
    )
    if not load.is_too_much:
        return said
    more = _("No plan keeps them for ever: cycles would have to be {times} times as long.").format(
        times=f"{load.least_stretch:.2f}"
    )
    return f"{said} {more}"
