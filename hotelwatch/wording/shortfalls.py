"""Why a round can't be in time, in sums that one can add up again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.reasons import Load
from hotelwatch.core.planning.shortfall import Binds, Shortfall
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m

MOST_NAMED = 5
"""Rooms, or stretches of rooms, that a sentence names; the others are counted."""
STRETCH = 3
"""So many rooms in a row are told by the first and the last."""


def rooms_text(
    rooms: Iterable[RoomNo], roster: Sequence[RoomNo] = (), *, most: int = MOST_NAMED
) -> str:
    """Rooms in the roster's order: "401 to 418, 420 and 12 more"."""
    wanted = set(rooms)
    known = [room for room in roster if room in wanted]
    named = list(_stretches(known, roster))
    named += [(room, 1) for room in dict.fromkeys(rooms) if room not in set(known)]
    told = [text for text, _count in named[:most]]
    more = sum(count for _text, count in named[most:])
    if more:
        told.append(ngettext("{n} more", "{n} more", more).format(n=more))
    return join(told)


def _stretches(known: Sequence[RoomNo], roster: Sequence[RoomNo]) -> Iterator[tuple[str, int]]:
    place = {room: number for number, room in enumerate(roster)}
    numbered = enumerate(known)
    for _key, run in groupby(numbered, key=lambda item: place[item[1]] - item[0]):
        of_run = [room for _number, room in run]
        if len(of_run) >= STRETCH and _is_read_so(of_run, roster):
            yield (
                _("{first} to {last}").format(first=of_run[0], last=of_run[-1]),
                len(of_run),
            )
        else:
            yield from ((room, 1) for room in of_run)


def _is_read_so(run: Sequence[RoomNo], roster: Sequence[RoomNo]) -> bool:
    """Whether who reads "first to last" thinks of no other: 508, 510, 511 leave 509 out."""
    first, last = (len(run[0]), run[0]), (len(run[-1]), run[-1])
    others = set(roster).difference(run)
    return not any(first <= (len(room), room) <= last for room in others)


def shortfall_sentence(one: Shortfall, roster: Sequence[RoomNo] = ()) -> str:
    """One reason, with its sum and its late days."""
    rooms = rooms_text(one.rooms, roster)
    until = short_day_text(one.until_on)
    if one.wanted_at is not None:
        until = _("{day}, {clock}").format(
            day=short_day_text(one.wanted_at.date()), clock=f"{one.wanted_at:%H:%M}"
        )
    if one.binds in ALONE:
        return _alone(one, rooms, until)
    said = _late_in_plan if one.binds in IN_PLAN else _short_of_minutes
    late = one.overdue_bed_days
    sentences = [said(one, rooms, until)]
    if late:
        sentences.append(
            ngettext(
                "On these sheets that is {late} late day.",
                "On these sheets that is {late} late days.",
                late,
            ).format(late=late)
        )
    if one.held:
        sentences.append(
            ngettext(
                "Room {rooms} is pinned by hand; unpinned it could go elsewhere.",
                "Rooms {rooms} are pinned by hand; unpinned they could go elsewhere.",
                len(one.held),
            ).format(rooms=rooms_text(one.held, roster))
        )
    return " ".join(sentences)


def _short_of_minutes(one: Shortfall, rooms: str, until: str) -> str:
    if one.binds is Binds.PEOPLE:
        said = ngettext(
            "Room {rooms} needs {needed} minutes by {until}; teams with enough people have {had} "
            "minutes on the days on which it can be entered ({days}): {short} short, walking "
            "not counted.",
            "Rooms {rooms} need {needed} minutes by {until}; teams with enough people have {had} "
            "minutes on the days on which they can be entered ({days}): {short} short, walking "
            "not counted.",
            len(one.rooms),
        )
    else:
        said = ngettext(
            "Room {rooms} needs {needed} minutes by {until}; teams have {had} minutes on the days "
            "on which it can be entered ({days}): {short} short, walking not counted.",
            "Rooms {rooms} need {needed} minutes by {until}; teams have {had} minutes on the days "
            "on which they can be entered ({days}): {short} short, walking not counted.",
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


ALONE = {
    Binds.IN_QUARANTINE: m(
        "Room {room}, due by {until}, is in quarantine; only its case's checks are made there."
    ),
    Binds.NO_OPENING: m("Room {room} can't be entered by {until}, when it is due."),
    Binds.LOOKED_TODAY: m(
        "Somebody came to room {room}, due by {until}, today, and could not look at all that is due"
        " there."
    ),
    Binds.AGREED_LATER: m(
        "Room {room} can't be entered by {until}, when it is due; its guest agreed to a look"
        " after that."
    ),
    Binds.FORBIDDEN: m(
        "Room {room} could be looked at by {until}, when it is due, but its days are forbidden by"
        " hand."
    ),
    Binds.PINNED: m(
        "Room {room} could be looked at by {until}, when it is due, but is pinned to another day"
        " or team."
    ),
    Binds.NO_TEAM: m(
        "Room {room} is due by {until}, but no team with enough people for its beds works while"
        " it can be entered."
    ),
    Binds.HOUSE_CLOSED: m(
        "Room {room} is due by {until}, but while it can be entered the house has no rounds:"
        " {closed_for}."
    ),
    Binds.OUTSIDE_SHIFTS: m(
        "Room {room} can be entered by {until}, when it is due, but only outside the shifts of"
        " the teams that could do it."
    ),
    Binds.TOO_LONG: m(
        "Room {room} is due by {until}, but needs {needed} minutes, walking not counted: more"
        " than such a team has in a day."
    ),
    Binds.HOURS_TOO_SHORT: m(
        "Room {room} can be entered by {until}, when it is due, but not for the {needed} minutes"
        " that its look takes."
    ),
    Binds.TOO_EARLY: m(
        "Room {room} can be entered by {until}, when it is due, but only so soon after its last"
        " look that plans leave it alone."
    ),
    Binds.SPENT_TODAY: m(
        "Room {room} is due by {until} and needs {needed} minutes, walking not counted; no team"
        " that could do it has so many left today."
    ),
}
"""What keeps a room told alone from being in time."""
MENDED = {
    Binds.NO_OPENING: m("Agree on a look with the guest, or accept it."),
    Binds.LOOKED_TODAY: m("Look at the rest of it today, or accept it."),
    Binds.FORBIDDEN: m("Allow one of these days again, or accept it."),
    Binds.PINNED: m("Take the pin away, or accept it."),
    Binds.NO_TEAM: m("Change a team's people or its days, or accept it."),
    Binds.HOUSE_CLOSED: m("Make rounds on one of these days after all, or accept it."),
    Binds.OUTSIDE_SHIFTS: m("Change a shift, or accept it."),
    Binds.TOO_LONG: m("Give a team more minutes on one day, or accept it."),
    Binds.HOURS_TOO_SHORT: m("Agree on longer hours, or accept it."),
    Binds.TOO_EARLY: m("Pin it to one of these days, or accept it."),
    Binds.SPENT_TODAY: m("Give a team more minutes today, or accept it."),
}


def _alone(one: Shortfall, room: str, until: str) -> str:
    told = _(ALONE[one.binds])
    closed_for = join(one.closed_for)
    said = [told.format(room=room, until=until, needed=one.needed, closed_for=closed_for)]
    if one.days:
        said.append(_("It can be entered on {days}.").format(days=days_text(one.days)))
    late = one.overdue_bed_days
    if one.opens_on is not None:
        said.append(
            ngettext(
                "The first day for it is {opens}: {late} late day.",
                "The first day for it is {opens}: {late} late days.",
                late,
            ).format(opens=short_day_text(one.opens_on), late=late)
        )
    elif not late:
        said.append(_("None of these days will do."))
    else:
        said.append(
            ngettext(
                "None of these days will do: at least {late} late day.",
                "None of these days will do: at least {late} late days.",
                late,
            ).format(late=late)
        )
    if one.binds in MENDED:
        said.append(_(MENDED[one.binds]))
    return " ".join(said)


IN_PLAN = (Binds.WHOLE_ROOMS, Binds.PUT_OFF)


def _late_in_plan(one: Shortfall, rooms: str, until: str) -> str:
    if one.binds is Binds.PUT_OFF:
        said = ngettext(
            "Room {rooms} is due by {until} and would fit beside all else ({days}), but these"
            " sheets put it off: in the long run that saves minutes.",
            "Rooms {rooms} are due by {until} and each would fit beside all else ({days}), but"
            " these sheets put them off: in the long run that saves minutes.",
            len(one.rooms),
        )
    else:
        said = ngettext(
            "Room {rooms} is due by {until}. Could looks be split and were corridors next door,"
            " the minutes on its days ({days}) would do; but it needs {needed} at once, and {left}."
            " More minutes on these days help; What if tells how much.",
            "Rooms {rooms} are due by {until}. Could looks be split and were corridors next door,"
            " the minutes on their days ({days}) would do; but the shortest needs {needed} at once,"
            " and {left}. More minutes on these days help; What if tells how much.",
            len(one.rooms),
        )
    return said.format(
        rooms=rooms,
        until=until,
        days=days_text(one.days),
        needed=minutes_text(one.needed),
        left=_left_text(one.minutes),
    )


def _left_text(minutes: int) -> str:
    """What the plan leaves one team on one day for a room, at the most."""
    if minutes <= 0:
        return _(
            "on each of these days what comes first, and the way there, takes all that the teams"
            " have"
        )
    return _(
        "after what comes first, and the way there, no team has more than {left} left on any of"
        " these days"
    ).format(left=minutes_text(minutes))


def sum_lines(one: Shortfall) -> tuple[str, ...]:
    """The sum behind a shortfall of minutes, item by item; nothing for others."""
    if not one.short:
        return ()
    visits = [f"{room} {minutes}" for room, minutes in one.each]
    teams = [f"{short_day_text(time.on)} {time.team} {time.minutes}" for time in one.counted]
    return (
        _("Needed: {items} = {total} minutes").format(items=" + ".join(visits), total=one.needed),
        _("There: {items} = {total} minutes").format(items=" + ".join(teams), total=one.minutes),
    )


def days_text(days: Sequence[date], *, by_name: int = STRETCH) -> str:
    """Days by name; of many the first and the last, and how many."""
    if len(days) <= by_name:
        return join([short_day_text(day) for day in days])
    return _("{n} days from {first} to {last}").format(
        n=len(days), first=short_day_text(days[0]), last=short_day_text(days[-1])
    )


def load_sentence(load: Load) -> str:
    """What the cycles ask for ever, against what the teams have."""
    said = _(
        "All cycles together ask for {asked} minutes a day, and at least {ways} for walking; the"
        " teams have {had} on average on these days."
    ).format(
        asked=f"{load.asked_a_day:.1f}",
        ways=f"{load.ways_a_day:.1f}",
        had=f"{load.had_a_day:.1f}",
    )
    if load.faster > 1:
        season = _("Seasons noted make that {asked} and {ways} on these days.").format(
            asked=f"{load.asked_a_day * load.faster:.1f}",
            ways=f"{load.ways_a_day * load.faster:.1f}",
        )
        said = f"{said} {season}"
    if not load.is_too_much:
        return said
    if not load.had_a_day:
        none = _("On none of these days a team works that has people enough for a bed.")
        return f"{said} {none}"
    more = _(
        "With so much no plan keeps them for ever: cycles would have to be {times} times as long."
    ).format(times=f"{load.least_stretch:.2f}")
    return f"{said} {more}"
