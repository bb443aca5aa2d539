"""What is late before a plan begins, and rooms that are late for one cause, told together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.late_before import LateBefore, LateSum
from hotelwatch.core.planning.shortfall import Binds, Shortfall
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.proofs import outside_sentence
from hotelwatch.wording.shortfalls import MENDED, days_text, shortfall_sentence


def late_before_sentence(late_before: LateBefore) -> str:
    """How much is late already, since when, by when it can be worked off, and what binds."""
    said = ngettext(
        "Late already: {beds} bed since {since}, {minutes} minutes of work, walking not counted.",
        "Late already: {beds} beds, the oldest since {since}, {minutes} minutes of work, walking"
        " not counted.",
        late_before.beds,
    ).format(
        beds=late_before.beds,
        minutes=late_before.minutes,
        since=short_day_text(late_before.since_on),
    )
    late = late_before.overdue_bed_days
    if late:
        on_these = ngettext(
            "On these days that is {late} late day.",
            "On these days that is {late} late days.",
            late,
        ).format(late=late)
        said = f"{said} {on_these}"
    return f"{said} {_worked_off(late_before)}"


def late_sum_sentence(late: LateSum) -> str:
    """What the late days add up to, "14 = 8 of beds late already + 6 of …"; else ""."""
    said = []
    parts = _parts(late)
    if late.total:
        total = str(late.total)
        if late.others >= 0 and len(parts) > 1:
            counted = [_("{n} {whose}").format(n=n, whose=whose) for n, whose in parts]
            total = f"{total} = {' + '.join(counted)}"
        elif late.others >= 0:
            total = _("{n}, all {whose}").format(n=total, whose=parts[0][1])
        said.append(_("Late days within the days planned: {sum}.").format(sum=total))
    if late.outside:
        said.append(outside_sentence(late.outside))
    return " ".join(said)


def _parts(late: LateSum) -> list[tuple[int, str]]:
    parts = (
        (late.already, _("of beds late already")),
        (late.told, _("of the rooms below")),
        (late.others, _("more than these reasons bring by themselves")),
    )
    return [(n, whose) for n, whose in parts if n]


def _worked_off(late_before: LateBefore) -> str:
    if late_before.enough_on is None:
        return _(
            "There are too few minutes: on all of these days the teams have {had}, so it can't be"
            " caught up."
        ).format(had=late_before.had_minutes)
    if late_before.open_on is None:
        return ngettext(
            "Room {rooms} can't be entered on any of these days while a team that can do it works.",
            "Rooms {rooms} can't be entered on any of these days while a team that can do them"
            " works.",
            len(late_before.shut),
        ).format(rooms=", ".join(late_before.shut))
    if late_before.is_minutes:
        return _(
            "There are too few minutes to catch up before {day}, even if the teams did nothing"
            " else; by then they have {had}."
        ).format(had=late_before.had_minutes, day=short_day_text(late_before.enough_on))
    return _(
        "It can't be caught up before {day}: only then can the last of these rooms be entered while"
        " a team that can do it works; minutes are enough by {enough} ({had})."
    ).format(
        day=short_day_text(late_before.open_on),
        had=late_before.had_minutes,
        enough=short_day_text(late_before.enough_on),
    )


Told = tuple[str, tuple[Shortfall, ...]]
"""A sentence, and the shortfalls of which it tells."""


TOGETHER = {
    Binds.NO_OPENING: m("{n} rooms can't be entered by their due day."),
    Binds.FORBIDDEN: m(
        "{n} rooms could be looked at by their due day, but on days alone that are forbidden by"
        " hand ({days})."
    ),
    Binds.NO_TEAM: m(
        "{n} rooms can be entered by their due day, but only while no team with enough people for"
        " their beds works ({days})."
    ),
    Binds.HOUSE_CLOSED: m(
        "{n} rooms can be entered by their due day, but only while the house has no rounds"
        " ({days}: {closed_for})."
    ),
    Binds.SPENT_TODAY: m(
        "{n} rooms can be entered by their due day, but only today, and no team that could do them"
        " has the minutes left."
    ),
    Binds.TOO_EARLY: m(
        "{n} rooms can be entered by their due day, but only so soon after their last look that"
        " plans leave them alone ({days})."
    ),
    Binds.OUTSIDE_SHIFTS: m(
        "{n} rooms can be entered by their due day, but only outside the shifts of the teams that"
        " could do them ({days})."
    ),
}
"""What keeps several rooms alike from being in time."""
NO_TEAM_AT_ALL = m("{n} rooms: no team with enough people for their beds works on these days.")
ADVICE = {
    Binds.NO_OPENING: m("Agree on looks with the guests, or accept it."),
    Binds.FORBIDDEN: MENDED[Binds.FORBIDDEN],
    Binds.NO_TEAM: MENDED[Binds.NO_TEAM],
    Binds.HOUSE_CLOSED: MENDED[Binds.HOUSE_CLOSED],
    Binds.OUTSIDE_SHIFTS: MENDED[Binds.OUTSIDE_SHIFTS],
    Binds.SPENT_TODAY: MENDED[Binds.SPENT_TODAY],
    Binds.TOO_EARLY: m("Pin them to such days, or accept it."),
}


def told_together(shortfalls: Sequence[Shortfall], roster: Sequence[RoomNo] = ()) -> list[Told]:
    """A sentence for each shortfall; rooms shut for one cause until the same day share one.

    What lacks the most minutes comes first, then what is late for longest.
    """
    groups: defaultdict[object, list[Shortfall]] = defaultdict(list)
    for number, one in enumerate(shortfalls):
        is_shared = one.binds in TOGETHER
        groups[(one.binds, one.opens_on) if is_shared else number].append(one)
    return [_told(some, roster) for some in sorted(groups.values(), key=_weight)]


def _told(some: Sequence[Shortfall], roster: Sequence[RoomNo]) -> Told:
    """A sentence for them; a room that stands in several visits is one."""
    by_room: defaultdict[object, list[Shortfall]] = defaultdict(list)
    for one in some:
        by_room[one.rooms].append(one)
    rooms = [
        replace(
            of_room[0],
            until_on=min(one.until_on for one in of_room),
            overdue_bed_days=sum(one.overdue_bed_days for one in of_room),
        )
        for of_room in by_room.values()
    ]
    said = _together(rooms) if len(rooms) > 1 else shortfall_sentence(rooms[0], roster)
    return said, tuple(some)


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
    days = days_text(sorted({day for one in some for day in one.days}))
    is_nobody = some[0].binds is Binds.NO_TEAM and not days
    why = _(NO_TEAM_AT_ALL if is_nobody else TOGETHER[some[0].binds])
    reasons = dict.fromkeys(reason for one in some for reason in one.closed_for)
    why = why.format(n=len(some), days=days, closed_for=join(list(reasons)))
    opens = some[0].opens_on
    if opens is None:
        late = ngettext(
            "None of these days will do: at least {total} late day.",
            "None of these days will do: at least {total} late days.",
            total,
        ).format(total=total)
    else:
        late = ngettext(
            "The first day for them is {opens}: {total} late day.",
            "The first day for them is {opens}: {total} late days.",
            total,
        ).format(total=total, opens=short_day_text(opens))
    each = _("Room, due day and its late days: {rooms}.").format(rooms=rooms)
    return f"{why} {late} {each} {_(ADVICE[some[0].binds])}"
