"""A day in one picture, said in a few large words and the lines below them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, tzinfo

from hotelwatch.core.odds_figures import ByStance, Stance
from hotelwatch.core.whole.day import (
    ClosedRoom,
    DayPicture,
    Late,
    LateKind,
    Part,
    TeamToday,
)
from hotelwatch.wording.dates import clock_text, days_text, minutes_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import one_in
from hotelwatch.wording.reasons import pull_sentence
from hotelwatch.wording.steps import step_sentence

NAMED = 2
"""So many rooms in quarantine have a line of their own."""
MORE_NAMED = 5
"""So many more are named."""

UNTIL = {
    "judgement": m("until judged"),
    "treatment": m("until treated"),
    "treatment_after_find": m("until treated again"),
    "reentry": m("until it may be entered"),
    "clean_checks": m("until enough clean checks"),
    "full_check": m("until looked at whole"),
    "after_hatch": m("until looked at after hatching"),
    "eggs_not_known": m("until its temperature is known"),
    "traps_read": m("until its traps are read"),
    "trap_readings": m("until its traps are read"),
    "release_word": m("until the word is given"),
}


def moment_near(moment: datetime, zone: tzinfo, *, today: date) -> str:
    """A moment near today: "15:40", or "Wed 25 Nov, 15:40"."""
    day, clock = moment.astimezone(zone).date(), clock_text(moment, zone)
    if day == today:
        return clock
    return _("{day}, {clock}").format(day=short_day_text(day), clock=clock)


# --- rooms to look at -----------------------------------------------------------------------


def looks_words(told: DayPicture) -> str:
    """How many rooms are left to look at."""
    if told.left:
        return ngettext("{n} room to look at", "{n} rooms to look at", told.left).format(
            n=told.left
        )
    if told.done:
        return ngettext("{n} room looked at", "All {n} rooms looked at", told.done).format(
            n=told.done
        )
    return _("No room to look at today")


def looks_lines(told: DayPicture, zone: tzinfo, *, today: date) -> tuple[str, ...]:
    """How many are done, and by when cases want the first one."""
    lines = []
    if told.left:
        so_far = _("{done} of {all} looked at").format(done=told.done, all=told.done + told.left)
        lines.append("; ".join((so_far, *in_vain_words(told.in_vain))))
    asked = [row.asked.by_at for row in told.rooms if row.asked and not row.asked.is_late]
    count = len({row.room for row in told.rooms if row.asked})
    if asked:
        said = ngettext(
            "Cases ask for {n}, the next by {when}", "Cases ask for {n}, the next by {when}", count
        )
        lines.append(said.format(n=count, when=moment_near(min(asked), zone, today=today)))
    elif count:
        lines.append(ngettext("Cases ask for {n}", "Cases ask for {n}", count).format(n=count))
    return tuple(lines)


def in_vain_words(rooms: int) -> tuple[str, ...]:
    """That somebody came for nothing: such a room is still to look at, all over the day."""
    said = ngettext("{n} where nobody could look", "{n} where nobody could look", rooms)
    return (said.format(n=rooms),) if rooms else ()


# --- who has what to do ----------------------------------------------------------------------


def team_count(told: TeamToday) -> str:
    """How far a team is: "1 of 4 rooms"."""
    if not told.sums.rooms:
        return _("no room today")
    return ngettext("{done} of {n} room", "{done} of {n} rooms", told.sums.rooms).format(
        done=told.sums.done, n=told.sums.rooms
    )


def team_minutes(told: TeamToday) -> str:
    """Minutes that its sheet takes, of those it has."""
    if not told.sums.minutes:
        return minutes_text(told.sums.used)
    return _("{used} of {all} min").format(used=told.sums.used, all=told.sums.minutes)


def team_next(told: TeamToday, enter: str) -> str:
    """Where it goes next; ``enter`` says when that room can be entered."""
    if told.next is not None:
        return _("Next {room}, {when}").format(room=told.next.room, when=enter)
    said = []
    if n := len(told.shut):
        counted = ngettext("{n} room cannot be entered", "{n} rooms cannot be entered", n)
        said.append(counted.format(n=n))
    said += in_vain_words(len(told.in_vain))
    if said:
        return "; ".join(said)
    return _("Done for today") if told.sums.rooms else _("Its minutes are free")


def part_name(part: Part) -> str:
    """Who: a person's name, else the role."""
    return part.owner or label(part.role)


def part_count(part: Part) -> str:
    """How much: "3 to do", "1 late of 3"."""
    n = len(part.duties)
    if part.late:
        return ngettext("{late} late, {n} to do", "{late} late, {n} to do", n).format(
            late=part.late, n=n
        )
    return ngettext("{n} to do", "{n} to do", n).format(n=n)


def part_next(part: Part, zone: tzinfo, *, today: date) -> str:
    """What is next for them, and by when."""
    first = part.duties[0]
    said = step_sentence(first.step, zone)
    if first.step.due_at is None:
        return said
    when = moment_near(first.step.due_at, zone, today=today)
    return _("By {when}: {what}").format(when=when, what=said)


# --- quarantine -------------------------------------------------------------------------------


def closed_words(closed: Sequence[ClosedRoom]) -> str:
    """How many rooms are closed."""
    if not closed:
        return _("No room in quarantine")
    return ngettext("{n} room in quarantine", "{n} rooms in quarantine", len(closed)).format(
        n=len(closed)
    )


def closed_lines(closed: Sequence[ClosedRoom], zone: tzinfo) -> tuple[str, ...]:
    """The most pressing rooms with since when and until what; the others by name."""
    lines = [closed_line(row, zone) for row in closed[:NAMED]]
    others = [str(row.room) for row in closed[NAMED:]]
    if others:
        shown = others[:MORE_NAMED]
        if len(others) > MORE_NAMED:
            shown.append(_("{n} more").format(n=len(others) - MORE_NAMED))
        lines.append(_("and {rooms}").format(rooms=join(shown)))
    return tuple(lines)


def closed_line(row: ClosedRoom, zone: tzinfo) -> str:
    """A room with since when and until what: "303 since Tue 24 Nov, until judged"."""
    since = short_day_text(row.since.astimezone(zone).date())
    return _("{room} since {day}, {until}").format(room=row.room, day=since, until=until_words(row))


def until_words(row: ClosedRoom) -> str:
    """Until what a room stays closed: the first condition of its release that is not met."""
    if row.missing is None:
        return _("ready to be given back")
    return _(UNTIL[row.missing.code])


# --- late ---------------------------------------------------------------------------------------


def late_words(told: DayPicture) -> str:
    """How much is late."""
    if not told.late:
        return _("Nothing is late")
    return ngettext("{n} thing late", "{n} things late", len(told.late)).format(n=len(told.late))


def late_lines(told: DayPicture) -> tuple[str, ...]:
    """What is late, kind by kind."""
    lines = []
    if broken := len(told.late_of(LateKind.AGREED_BROKEN)):
        said = ngettext(
            "{n} agreed look that nobody can keep", "{n} agreed looks that nobody can keep", broken
        )
        lines.append(said.format(n=broken))
    if missed := told.late_of(LateKind.LOOK_MISSED) + told.late_of(LateKind.DUTY_MISSED):
        n = len(missed)
        lines.append(ngettext("{n} deadline missed", "{n} deadlines missed", n).format(n=n))
    if unplanned := told.late_of(LateKind.NOT_PLANNED):
        n = len(unplanned)
        said = ngettext("{n} look not planned in time", "{n} looks not planned in time", n)
        lines.append(said.format(n=n))
    if overdue := told.late_of(LateKind.UNDERSIDE_OVERDUE):
        beds = sum(one.beds for one in overdue)
        said = ngettext(
            "{n} room overdue ({undersides}), by {days}",
            "{n} rooms overdue ({undersides}), the longest {days}",
            len(overdue),
        )
        undersides = ngettext("{n} underside", "{n} undersides", beds).format(n=beds)
        days = days_text(max(one.days for one in overdue))
        lines.append(said.format(n=len(overdue), undersides=undersides, days=days))
    if sooner := told.late_of(LateKind.SOONER_MISSED):
        n = len(sooner)
        said = ngettext(
            "{n} room wanted before its cycle is over, and not looked at",
            "{n} rooms wanted before their cycle is over, and not looked at",
            n,
        )
        lines.append(said.format(n=n))
    return tuple(lines)


def late_what(one: Late, zone: tzinfo) -> str:
    """What is late about a room."""
    if one.kind is LateKind.UNDERSIDE_OVERDUE:
        return ngettext(
            "{n} underside not looked at for longer than its cycle",
            "{n} undersides not looked at for longer than their cycle",
            one.beds,
        ).format(n=one.beds)
    if one.sooner is not None:
        return pull_sentence(one.sooner)
    if one.agreed is not None:
        return _(
            "The guest agreed to {from_clock} to {until_clock}, and no team can come: name another"
            " time with the guest"
        ).format(from_clock=one.agreed.from_clock, until_clock=one.agreed.until_clock)
    if one.duty is not None:
        return step_sentence(one.duty.step, zone)
    if one.kind is LateKind.LOOK_MISSED:
        return _("Case {case} wanted it looked at").format(case=one.case)
    return _("Case {case} wants it looked at; it is not planned in time").format(case=one.case)


def late_since(one: Late, zone: tzinfo, *, today: date) -> str:
    """By when it was wanted, and how long ago that is."""
    if one.due_at is not None:
        when = moment_near(one.due_at, zone, today=today)
    else:
        when = short_day_text(one.due_on)
    if not one.days:
        return when
    return _("{when} ({days} ago)").format(when=when, days=days_text(one.days))


# --- how sure ------------------------------------------------------------------------------------


def missed_chance(none: ByStance) -> ByStance:
    """The chance that some room has bed bugs that no look has found, from that of none."""
    return {stance: 1.0 - chance for stance, chance in none.items()}


def sure_words(none: ByStance) -> str:
    """The chance in the central stance alone, to stand above its lines."""
    said = one_in(missed_chance(none)[Stance.CENTRAL])
    return said[:1].upper() + said[1:]


def sure_lines(none: ByStance, rooms: int) -> tuple[str, ...]:
    """What that chance is of, from where to where, and that it is assumed."""
    chance = missed_chance(none)
    most, least = one_in(max(chance.values())), one_in(min(chance.values()))
    about = ngettext(
        "is the chance that something was missed in {n} room",
        "is the chance that something was missed among {n} rooms",
        rooms,
    ).format(n=rooms)
    return about, _("Assumed; from {least} to {most}").format(least=least, most=most)
