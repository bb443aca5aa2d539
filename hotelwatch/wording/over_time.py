"""What the charts over time say: titles, what a bar stands for, and the whole in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.core.odds_figures import ByStance, Stance
from hotelwatch.core.whole.ages import TENTHS, Age
from hotelwatch.core.whole.case_weeks import CaseWeek, SignCount
from hotelwatch.core.whole.weeks import Week, Work
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import chance_text

HUNDREDTHS_A_TENTH = 10


def week_text(week: Week | CaseWeek) -> str:
    """A week by its Monday."""
    return _("Week of {day}").format(day=short_day_text(week.from_on))


def work_text(work: Work) -> str:
    """Undersides with the minutes they take: "34 (6 h 52 min)"."""
    if not work.beds:
        return _("none")
    return _("{n} ({time})").format(n=work.beds, time=minutes_text(work.minutes))


def week_said(week: Week) -> str:
    """A week in full."""
    if week.is_ahead:
        return _(
            "{week}: undersides due: {due}; on published sheets: {planned}; teams have {time}."
        ).format(
            week=week_text(week),
            due=work_text(week.due),
            planned=work_text(week.planned),
            time=minutes_text(week.capacity_minutes),
        )
    return _(
        "{week}: undersides due: {due}; looked at: {done}; still on sheets: {planned}; overdue at"
        " its end: {late}; teams had {time}."
    ).format(
        week=week_text(week),
        due=work_text(week.due),
        done=work_text(week.done),
        planned=work_text(week.planned),
        late=week.late.beds,
        time=minutes_text(week.capacity_minutes),
    )


def weeks_told(weeks: Sequence[Week]) -> str:
    """Due and done of the weeks that are over, in a sentence."""
    past = [week for week in weeks if not week.is_ahead][:-1]
    if not past:
        return ""
    due, done = (sum(work.beds for work in works) for works in _due_and_done(past))
    said = ngettext(
        "In the last {n} week, by today's cycles: undersides due {due}, looked at {done}.",
        "In the last {n} weeks, by today's cycles: undersides due {due}, looked at {done}.",
        len(past),
    )
    return said.format(n=len(past), due=due, done=done)


def _due_and_done(weeks: Sequence[Week]) -> tuple[list[Work], list[Work]]:
    return [week.due for week in weeks], [week.done for week in weeks]


# --- ages ---------------------------------------------------------------------------------------


def age_text(age: Age) -> str:
    """How much of the cycle is used up: "20 to 30 %"."""
    if age.from_tenth is None:
        return _("never looked at")
    first = age.from_tenth * HUNDREDTHS_A_TENTH
    if age.is_open:
        return _("{n} % and more").format(n=first)
    return _("{first} to {last} %").format(first=first, last=first + HUNDREDTHS_A_TENTH)


def age_short(age: Age) -> str:
    """The same for below a bar."""
    if age.from_tenth is None:
        return _("never")
    return _("{n} %").format(n=age.from_tenth * HUNDREDTHS_A_TENTH)


def age_said(age: Age) -> str:
    """A bar of ages in full."""
    n = age.beds
    if age.from_tenth is None:
        return ngettext(
            "{n} underside was never looked at.", "{n} undersides were never looked at.", n
        ).format(n=n)
    said = (
        ngettext(
            "{n} underside was last looked at so long ago: {share} of its cycle. Overdue.",
            "{n} undersides were last looked at so long ago: {share} of their cycle. Overdue.",
            n,
        )
        if age.is_overdue
        else ngettext(
            "{n} underside was last looked at so long ago: {share} of its cycle.",
            "{n} undersides were last looked at so long ago: {share} of their cycle.",
            n,
        )
    )
    return said.format(n=n, share=age_text(age))


def ages_told(ages: Sequence[Age]) -> str:
    """How many are within their cycle, in a sentence."""
    all_of = sum(age.beds for age in ages)
    within = sum(age.beds for age in ages if age.from_tenth is not None and age.from_tenth < TENTHS)
    return ngettext(
        "{within} of {n} underside was looked at within its cycle.",
        "{within} of {n} undersides were looked at within their cycle.",
        all_of,
    ).format(within=within, n=all_of)


# --- cases ---------------------------------------------------------------------------------------


def case_week_said(week: CaseWeek) -> str:
    """A week of cases in full."""
    return _("{week}: {opened} opened, {closed} closed, {open_now} open as it ended.").format(
        week=week_text(week),
        opened=_listed(week.opened),
        closed=_listed(week.closed),
        open_now=len(week.open_at_end),
    )


def _listed(cases: Sequence[str]) -> str:
    if not cases:
        return _("none")
    return _("{n} ({cases})").format(n=len(cases), cases=join(tuple(cases)))


def cases_told(weeks: Sequence[CaseWeek]) -> str:
    """Opened and closed in all, and open now."""
    said = ngettext(
        "In the last {n} week: {opened} opened, {closed} closed; {open_now} open now.",
        "In the last {n} weeks: {opened} opened, {closed} closed; {open_now} open now.",
        len(weeks),
    )
    return said.format(
        opened=len({case for week in weeks for case in week.opened}),
        closed=len({case for week in weeks for case in week.closed}),
        n=len(weeks),
        open_now=len(weeks[-1].open_at_end) if weeks else 0,
    )


def sign_said(row: SignCount) -> str:
    """A kind of sign in full."""
    n = row.sightings
    seen = ngettext("{n} time", "{n} times", n).format(n=n)
    rooms = ngettext("{n} room", "{n} rooms", len(row.rooms)).format(n=len(row.rooms))
    return _("{sign}: seen {times}, in {rooms}.").format(
        sign=label(row.sign), times=seen, rooms=rooms
    )


# --- certainty ------------------------------------------------------------------------------------


def floor_text(name: str) -> str:
    """A floor's name."""
    return _("Floor {name}").format(name=name)


def floor_said(name: str, rooms: int, chance: ByStance) -> str:
    """The chance that something was missed on a floor, in full."""
    return ngettext(
        "Floor {name}, {n} room: chance that something is there that no look has found: {chance},"
        " assumed.",
        "Floor {name}, {n} rooms: chance that something is there that no look has found: {chance},"
        " assumed.",
        rooms,
    ).format(name=name, n=rooms, chance=chance_text(chance))


def floors_told(chances: Sequence[tuple[str, ByStance]]) -> str:
    """The floor with the highest chance."""
    if not chances:
        return ""
    name, chance = max(chances, key=lambda one: one[1][Stance.CENTRAL])
    return _("Highest on floor {name}: {chance}. The range spans the assumptions.").format(
        name=name, chance=chance_text(chance)
    )
