"""The pages of the window, in the order of the navigation. A new page is a few lines here.

A page is read in when it is first shown, or in a quiet moment before: reading in all of
them took two fifths of the start.
"""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hotelwatch.core.case_facts import Sighted
from hotelwatch.core.facts import RoomDescribed, StaysImported
from hotelwatch.core.roles import Sight
from hotelwatch.screens.at_hand.context import Context, PageSpec
from hotelwatch.wording.language import _

Keys = tuple[tuple[str, str], ...]
READ_IN_QUIET = (
    "hotelwatch.screens.checks.page",
    "hotelwatch.screens.building.page",
    "hotelwatch.screens.cases.page",
    "hotelwatch.screens.rounds.page",
    "hotelwatch.screens.desk.page",
    "hotelwatch.screens.odds.page",
    "hotelwatch.screens.month.page",
    "hotelwatch.screens.rules.page",
)
"""Pages that are read in one after the other once the first one shows, those used most first."""


def page_specs() -> tuple[PageSpec, ...]:
    """Every page: key, title, drawing, and what makes it."""
    return (
        PageSpec("today", _("Today"), "today", _today_page, needs=Sight.TODAY),
        PageSpec(
            "rounds", _("Rounds"), "rounds", _rounds_page, needs=Sight.ROUNDS, own_keys=_rounds_keys
        ),
        PageSpec(
            "checks", _("Checks"), "check", _checks_page, needs=Sight.CHECKS, own_keys=_checks_keys
        ),
        PageSpec(
            "building",
            _("Building"),
            "building",
            _building_page,
            needs=Sight.HOUSE,
            own_keys=_building_keys,
        ),
        PageSpec("cases", _("Cases"), "cases", _cases_page, needs=Sight.CASES),
        PageSpec("desk", _("Front desk"), "desk", _desk_page, needs=Sight.DESK),
        PageSpec("odds", _("How sure"), "odds", _odds_page, needs=Sight.ODDS),
        PageSpec("month", _("Month"), "month", _month_page, needs=Sight.MONTH),
        PageSpec("rules", _("House rules"), "rules", _rules_page, needs=Sight.RULES),
        PageSpec(
            "load_roster",
            _("Load a roster"),
            "building",
            _roster_wizard,
            in_navigation=False,
            writes=(RoomDescribed,),
            deed="load_roster",
        ),
        PageSpec(
            "change_rooms",
            _("Change rooms from a table"),
            "building",
            _columns_wizard,
            in_navigation=False,
            writes=(RoomDescribed,),
            deed="change_rooms",
        ),
        PageSpec(
            "load_bookings",
            _("Load bookings"),
            "desk",
            _bookings_wizard,
            in_navigation=False,
            writes=(StaysImported,),
            deed="import_stays",
        ),
        PageSpec(
            "report",
            _("Log a sighting"),
            "sighting",
            _report_page,
            in_navigation=False,
            writes=(Sighted,),
            deed="log_sighting",
        ),
    )


def _bookings_wizard(context: Context) -> QWidget:
    from hotelwatch.screens.building.bookings_wizard import BookingsWizard

    return BookingsWizard(context)


def _columns_wizard(context: Context) -> QWidget:
    from hotelwatch.screens.building.columns_wizard import ColumnsWizard

    return ColumnsWizard(context)


def _building_keys() -> Keys:
    from hotelwatch.screens.building.page import BuildingPage

    return BuildingPage.keys()


def _building_page(context: Context) -> QWidget:
    from hotelwatch.screens.building.page import BuildingPage

    return BuildingPage(context)


def _roster_wizard(context: Context) -> QWidget:
    from hotelwatch.screens.building.roster_wizard import RosterWizard

    return RosterWizard(context)


def _cases_page(context: Context) -> QWidget:
    from hotelwatch.screens.cases.page import CasesPage

    return CasesPage(context)


def _report_page(context: Context) -> QWidget:
    from hotelwatch.screens.cases.report_page import ReportPage

    return ReportPage(context)


def _checks_keys() -> Keys:
    from hotelwatch.screens.checks.page import ChecksPage

    return ChecksPage.keys()


def _checks_page(context: Context) -> QWidget:
    from hotelwatch.screens.checks.page import ChecksPage

    return ChecksPage(context)


def _desk_page(context: Context) -> QWidget:
    from hotelwatch.screens.desk.page import DeskPage

    return DeskPage(context)


def _month_page(context: Context) -> QWidget:
    from hotelwatch.screens.month.page import MonthPage

    return MonthPage(context)


def _odds_page(context: Context) -> QWidget:
    from hotelwatch.screens.odds.page import OddsPage

    return OddsPage(context)


def _rounds_keys() -> Keys:
    from hotelwatch.screens.rounds.page import RoundsPage

    return RoundsPage.keys()


def _rounds_page(context: Context) -> QWidget:
    from hotelwatch.screens.rounds.page import RoundsPage

    return RoundsPage(context)


def _rules_page(context: Context) -> QWidget:
    from hotelwatch.screens.rules.page import RulesPage

    return RulesPage(context)


def _today_page(context: Context) -> QWidget:
    from hotelwatch.screens.today.page import TodayPage

    return TodayPage(context)
