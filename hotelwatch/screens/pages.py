"""The pages of the window, in the order of the navigation. A new page is one line here."""

from __future__ import annotations

from hotelwatch.screens.building.bookings_wizard import BookingsWizard
from hotelwatch.screens.building.page import BuildingPage
from hotelwatch.screens.building.roster_wizard import RosterWizard
from hotelwatch.screens.cases.page import CasesPage
from hotelwatch.screens.checks.page import ChecksPage
from hotelwatch.screens.context import PageSpec
from hotelwatch.screens.desk.page import DeskPage
from hotelwatch.screens.month.page import MonthPage
from hotelwatch.screens.odds.page import OddsPage
from hotelwatch.screens.rounds.page import RoundsPage
from hotelwatch.screens.rules.page import RulesPage
from hotelwatch.screens.today.page import TodayPage
from hotelwatch.wording.language import _


def page_specs() -> tuple[PageSpec, ...]:
    """Every page: key, title, drawing, and what makes it."""
    return (
        PageSpec("today", _("Today"), "today", TodayPage),
        PageSpec("rounds", _("Rounds"), "rounds", RoundsPage),
        PageSpec("checks", _("Checks"), "check", ChecksPage),
        PageSpec("building", _("Building"), "building", BuildingPage),
        PageSpec("cases", _("Cases"), "cases", CasesPage),
        PageSpec("desk", _("Front desk"), "desk", DeskPage),
        PageSpec("odds", _("How sure"), "odds", OddsPage),
        PageSpec("month", _("Month"), "month", MonthPage),
        PageSpec("rules", _("House rules"), "rules", RulesPage),
        PageSpec("load_roster", _("Load a roster"), "building", RosterWizard, in_navigation=False),
        PageSpec("load_bookings", _("Load bookings"), "desk", BookingsWizard, in_navigation=False),
    )
