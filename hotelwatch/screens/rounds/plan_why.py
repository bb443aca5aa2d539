"""Why a round can't be in time: told, drawn on the calendar, and mended here or where it is done.

Sentences on shortfalls name codes of the planner's arrays, which nothing at start-up waits
for: they are brought in once there is something to say.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from hotelwatch.actions.by_hand import ask_nights
from hotelwatch.actions.calendar import change_team_days
from hotelwatch.actions.plan_reading import Reading
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.facts import TeamName
from hotelwatch.core.round_facts import NightAsked, TeamDaysChanged
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.rounds.plan_details import PlanDetails
from hotelwatch.screens.rounds.plan_view import PlanView
from hotelwatch.screens.rounds.why_pane import MendCard, Reason
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.rounds import away_sentences

if TYPE_CHECKING:
    from hotelwatch.core.planning.repairs import Repair
    from hotelwatch.core.planning.shortfall import Shortfall

DAYS_TAB, TEAMS_TAB, CYCLES_TAB = "days", "teams", "cycles"


class PlanWhy(QObject):
    """Shows reasons and repairs beside the calendar, and does what a repair's button says."""

    tab_wanted = Signal(str)
    """Another tab of the rounds, where the repair is done."""
    written = Signal(str, object)
    """Something was written down: what, in words, and of which rooms. Time to plan anew."""

    def __init__(self, context: Context, view: PlanView, details: PlanDetails) -> None:
        """Act on this hotel; draw on this calendar."""
        super().__init__(details)
        self._context, self._view, self._details = context, view, details
        self._shown: Reading | None = None
        details.reason_chosen.connect(self._draw)

    def show(self, reading: Reading) -> None:
        """Show what was read off a round."""
        if reading is self._shown:
            return
        self._shown = reading
        is_late = bool(reading.why) or reading.late_before is not None
        if reading.load is None or not (is_late or reading.load.is_too_much):
            self._details.show_why((), ())
            return
        from hotelwatch.wording.late_before import (
            late_before_sentence,
            late_sum_sentence,
            told_together,
        )
        from hotelwatch.wording.repairs import ranking_sentence, repair_sentence
        from hotelwatch.wording.shortfalls import (
            load_sentence,
            sum_lines,
        )

        roster = tuple(self._context.hotel.house.rooms)
        reasons = [
            Reason(
                number,
                said,
                frozenset().union(*map(_days, some)),
                frozenset(room for one in some for room in one.rooms),
                tuple(line for one in some for line in sum_lines(one)),
            )
            for number, (said, some) in enumerate(told_together(reading.why, roster))
        ]
        mends = [MendCard(repair_sentence(one, roster), *self._way(one)) for one in reading.repairs]
        told = load_sentence(reading.load)
        if reading.late_before is not None:
            told += "\n" + late_before_sentence(reading.late_before)
        if reading.late is not None and (said := late_sum_sentence(reading.late)):
            told += "\n" + said
        order = ranking_sentence(self._context.hotel.house.rules.figures) if mends else ""
        self._details.show_why(reasons, mends, told, order)

    def _draw(self, reason: Reason | None) -> None:
        none: frozenset[date] = frozenset()
        self._view.tint(reason.days if reason else none, reason.rooms if reason else frozenset())

    def _way(self, repair: Repair) -> tuple[str, Callable[[], object]]:
        ways: dict[str, tuple[str, Callable[[], object]]] = {
            "keep_free": (_("Ask front desk"), partial(self._ask_nights, repair)),
            "team_days": (_("Add the days…"), partial(self._ask_days, repair)),
            "longer_window": (_("To the shifts"), partial(self.tab_wanted.emit, TEAMS_TAB)),
            "longer_cycle": (_("To the cycles"), partial(self.tab_wanted.emit, CYCLES_TAB)),
            "encase": (_("To the first room"), partial(self._go_to_room, repair)),
        }
        return ways[repair.mend.value]

    def _ask_nights(self, repair: Repair) -> None:
        reason = _("to look at its beds before they are overdue")
        nights = [
            NightAsked(room, night, reason, saves=saves)
            for room, night, saves in zip(
                repair.rooms, repair.nights, repair.each_saves, strict=True
            )
        ]
        with self._context.notices.refusals():
            ask_nights(self._context.hotel, nights)
            told = ngettext(
                "Front desk is asked to keep {n} night free.",
                "Front desk is asked to keep {n} nights free.",
                len(nights),
            ).format(n=len(nights))
            self.written.emit(told, frozenset(repair.rooms))

    def _ask_days(self, repair: Repair) -> None:
        """Ask before a team gets more days; for days that it works already, go and see."""
        team = repair.team
        if team is None:
            self.tab_wanted.emit(DAYS_TAB)
            return
        calendar = Calendar(self._context.hotel.house)
        worked = [day for day in repair.days if calendar.minutes(team, day)]
        free = [day for day in repair.days if day not in worked]
        if not free:
            self.tab_wanted.emit(DAYS_TAB)
            self._say_what_to_do(team, worked)
            return
        asked = _("Let {team} work {time} on {days} too?").format(
            team=team, time=minutes_text(repair.minutes), days=_named(free)
        )
        if worked:
            asked += " " + _("On {days} it works already: there another team has to.").format(
                days=_named(worked)
            )
        away = [(day, told.reason) for day in free if (told := calendar.away(team, day))]
        asked = " ".join([asked, *away_sentences(team, away)])
        self._context.notices.ask(
            asked, _("Write it down"), partial(self._add_days, team, free, repair.minutes)
        )

    def _say_what_to_do(self, team: TeamName, days: Sequence[date]) -> None:
        """Where the team works already, somebody else has to, or it works longer."""
        self._context.notices.warn(
            _(
                "{team} works on {days} already. Let another team work then too, or give {team}"
                " other minutes."
            ).format(team=team, days=_named(days))
        )

    def _add_days(self, team: TeamName, days: Sequence[date], minutes: int) -> None:
        hotel = self._context.hotel
        reason = _("so that beds are looked at in time")
        with self._context.notices.refusals():
            for day in days:
                change_team_days(hotel, TeamDaysChanged(team, day, day, minutes, reason))
            told = ngettext(
                "{team} works on {n} day more.", "{team} works on {n} days more.", len(days)
            ).format(team=team, n=len(days))
            self.written.emit(told, frozenset())

    def _go_to_room(self, repair: Repair) -> None:
        if repair.rooms and "building" in self._context.pages:
            self._context.go_to("building", repair.rooms[0])


def _named(days: Sequence[date]) -> str:
    return join([short_day_text(day) for day in days])


def _days(one: Shortfall) -> frozenset[date]:
    """The days to draw: those whose minutes bind; else the due day and the first opening."""
    if one.days:
        return frozenset(one.days)
    return frozenset({one.until_on, one.opens_on or one.until_on})
