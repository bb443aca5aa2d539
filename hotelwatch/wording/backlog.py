"""The backlog in words: how fast teams go, and by when every underside will have been seen."""

from __future__ import annotations

from hotelwatch.core.rounds.backlog import Backlog
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext


def backlog_sentence(told: Backlog) -> str:
    """Where the present pace leads, labelled as the assumption that it is."""
    pace = ngettext(
        "At the pace of the {days} days until yesterday ({looked} bed looked at, {wanted} asked"
        " for by the cycle)",
        "At the pace of the {days} days until yesterday ({looked} beds looked at, {wanted} asked"
        " for by the cycle)",
        told.looked_at,
    ).format(days=told.pace_days, looked=told.looked_at, wanted=told.wanted)
    if told.caught_up_on is None:
        said = _("{pace} no week of the next year is without an overdue underside (an assumption).")
        return said.format(pace=pace)
    if not told.overdue_beds:
        if told.late_again_on is None:
            return _("{pace} every underside stays within its cycle (an assumption).").format(
                pace=pace
            )
        return _("{pace} one falls behind its cycle on {day} (an assumption).").format(
            pace=pace, day=day_text(told.late_again_on)
        )
    by = day_text(told.caught_up_on)
    if told.late_again_on is None:
        return _(
            "{pace} every underside will have been seen within its cycle by {day} (an assumption)."
        ).format(pace=pace, day=by)
    return _(
        "{pace} every underside will have been seen within its cycle by {day}; the next one"
        " falls behind on {again} (an assumption)."
    ).format(pace=pace, day=by, again=day_text(told.late_again_on))
