"""The pages of the window, in the order of the navigation. A new page is one line here."""

from __future__ import annotations

from hotelwatch.core.case_facts import Sighted
from hotelwatch.core.facts import RoomDescribed, StaysImported
from hotelwatch.core.roles import Sight
from hotelwatch.screens.building.bookings_wizard import BookingsWizard
from hotelwatch.screens.building.columns_wizard import ColumnsWizard
from hotelwatch.screens.building.page import BuildingPage
from hotelwatch.screens.building.roster_wizard import RosterWizard
from hotelwatch.screens.cases.page import CasesPage
from hotelwatch.screens.cases.report_page import ReportPage
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
        PageSpec("today", _("Today"), "today", TodayPage, needs=Sight.TODAY),
        PageSpec("rounds", _("Rounds"), "rounds", RoundsPage, needs=Sight.ROUNDS),
        PageSpec("checks", _("Checks"), "check", ChecksPage, needs=Sight.CHECKS),
        PageSpec("building", _("Building"), "building", BuildingPage, needs=Sight.HOUSE),
        PageSpec("cases", _("Cases"), "cases", CasesPage, needs=Sight.CASES),
        PageSpec("desk", _("Front desk"), "desk", DeskPage, needs=Sight.DESK),
        PageSpec("odds", _("How sure"), "odds", OddsPage, needs=Sight.ODDS),
        PageSpec("month", _("Month"), "month", MonthPage, needs=Sight.MONTH),
        PageSpec("rules", _("House rules"), "rules", RulesPage, needs=Sight.RULES),
        PageSpec(
            "load_roster",
            _("Load a roster"),
            "building",
            RosterWizard,
            in_navigation=False,
            writes=(RoomDescribed,),
        ),
        PageSpec(
            "change_rooms",
            _("Change rooms from a table"),
            "building",
            ColumnsWizard,
            in_navigation=False,
            writes=(RoomDescribed,),
        ),
        PageSpec(
            "load_bookings",
            _("Load bookings"),
            "desk",
            BookingsWizard,
            in_navigation=False,
            writes=(StaysImported,),
        ),
        PageSpec(
            "report",
            _("Log a sighting"),
            "sighting",
            ReportPage,
            in_navigation=False,
            writes=(Sighted,),
        ),
    )
