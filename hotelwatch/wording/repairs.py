"""What would mend a round that can't be in time, each with its effect, and their order."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.parameters import Figures
from hotelwatch.core.planning.catching_up import WITHIN_DAYS
from hotelwatch.core.planning.repairs import Mend, Repair
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.rounds import away_sentences
from hotelwatch.wording.shortfalls import days_text, rooms_text

MOST_DAYS_NAMED = 7
"""Days that a repair names one by one: whoever does it must know which."""
MOST_NAMED_TO_MEND = 24
"""Rooms, or stretches of rooms, that it names: whoever does it must know which."""


def repair_sentence(one: Repair, roster: Sequence[RoomNo] = ()) -> str:
    """One repair, with its effect."""
    return _("{what} {effect}").format(what=_what(one, roster), effect=_effect(one))


def _what(one: Repair, roster: Sequence[RoomNo]) -> str:
    rooms = rooms_text(one.rooms, roster, most=MOST_NAMED_TO_MEND)
    if one.mend is Mend.KEEP_FREE:
        said = ngettext(
            "Keep free: {rooms}. A guest is booked then, whom front desk has to move.",
            "Keep free: {rooms}. Guests are booked then, whom front desk has to move.",
            len(one.nights),
        ).format(rooms=join(_nights(one)))
        if len(one.nights) == 1:
            return said
        together = _("Late days saved together: {all}; each night counts beside those before it.")
        return f"{said} {together.format(all=sum(one.each_saves))}"
    if one.mend is Mend.TEAM_DAYS:
        said = ngettext(
            "One more day of {team}, or of a team like it, {minutes} minutes: {days}.",
            "{n} more days of {team}, or of a team like it, {minutes} minutes each: {days}.",
            len(one.days),
        ).format(
            n=len(one.days),
            team=one.team,
            minutes=one.minutes,
            days=days_text(one.days, by_name=MOST_DAYS_NAMED),
        )
        return " ".join([said, *away_sentences(one.team or TeamName(""), one.away)])
    if one.mend is Mend.LONGER_WINDOW:
        return ngettext(
            "Set shifts to the hours in which the rooms can be entered, on one day: {days}.",
            "Set shifts to the hours in which the rooms can be entered, on {n} days: {days}.",
            len(one.days),
        ).format(n=len(one.days), days=days_text(one.days))
    if one.mend is Mend.ENCASE:
        return ngettext(
            "Encase {n} bed, in {rooms}.", "Encase {n} beds, in {rooms}.", one.beds
        ).format(n=one.beds, rooms=rooms)
    longer = ngettext(
        "Choose a cycle that is {n} day longer for {rooms}.",
        "Choose a cycle that is {n} days longer for {rooms}.",
        one.more_days,
    ).format(n=one.more_days, rooms=rooms)
    waits = ngettext(
        "Its bed then waits up to {waits} days longer.",
        "Its beds then wait up to {waits} days longer in all.",
        one.beds,
    ).format(waits=one.waits)
    return f"{longer} {waits}"


def _nights(one: Repair) -> list[str]:
    parts = zip(one.rooms, one.nights, one.each_saves, strict=True)
    if len(one.nights) == 1:
        return [
            _("{room} on the night of {night}").format(room=room, night=short_day_text(night))
            for room, night, _saves in parts
        ]
    return [
        ngettext(
            "{room} on the night of {night} (saves {n} late day)",
            "{room} on the night of {night} (saves {n} late days)",
            saves,
        ).format(room=room, night=short_day_text(night), n=saves)
        for room, night, saves in parts
    ]


def _effect(one: Repair) -> str:
    before, after, told = one.before, one.after, []
    if one.mend is Mend.KEEP_FREE:
        told.append(
            ngettext(
                "It costs {n} room-night.", "It costs {n} room-nights.", len(one.nights)
            ).format(n=len(one.nights))
        )
    if before.short != after.short:
        told.append(
            _("Minutes short: {after} instead of {before}.").format(
                before=before.short, after=after.short
            )
        )
    if before.unopened != after.unopened:
        told.append(
            _("Rooms without a day in time: {after} instead of {before}.").format(
                before=before.unopened, after=after.unopened
            )
        )
    if before.bed_days != after.bed_days:
        told.append(
            _("Late days, at the least: {after} instead of {before}.").format(
                before=before.bed_days, after=after.bed_days
            )
        )
    return " ".join(told)


def ranking_sentence(figures: Figures) -> str:
    """In which order repairs are told, and what is assumed for it."""
    return _(
        "What saves the most late days for its effort stands first; a longer cycle stands last:"
        " no bed is looked at sooner by it. Assumed, not measured: a night kept free counts as"
        " {night} minutes of a team, encasing a bed as {bed}, other shifts as {shift} a day; what"
        " is late already should be done within {days} days. Sums leave"
        " walking out and let visits be split; planning anew tells more."
    ).format(
        night=round(figures.kept_night_minutes.value),
        bed=round(figures.encasing_minutes.value),
        shift=round(figures.longer_window_minutes.value),
        days=WITHIN_DAYS,
    )
