"""A button that prints what a team looks at because of the case in view, in its language."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QMenu, QPushButton

from hotelwatch.core.cases.case import Case
from hotelwatch.core.facts import CaseNo, TeamDescribed
from hotelwatch.printing.case_walk import CaseWish, print_case_walk
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import folder_to_print, open_to_print
from hotelwatch.wording import language
from hotelwatch.wording.language import _
from hotelwatch.wording.languages import language_name

ROUNDS_PAGE = "rounds"


class TeamSheetButton(QPushButton):
    """Offers each team that is in use, with the language of its sheets."""

    def __init__(self, context: Context) -> None:
        """No case in view."""
        super().__init__(_("Print a team's sheet"))
        self.setAutoDefault(True)
        self.setToolTip(_("The rooms that this case wants looked at, for the people who go"))
        self._context = context
        self._case: Case | None = None
        self.teams = QMenu(self)
        self.teams.aboutToShow.connect(self._list_teams)
        self.setMenu(self.teams)

    def show_case(self, case: Case | None) -> None:
        """Print for this case from now on."""
        self._case = case
        self.setEnabled(case is not None and bool(self._context.hotel.house.teams))

    def _list_teams(self) -> None:
        self.teams.clear()
        for team in self._context.hotel.house.teams.values():
            spoken = language_name(team.language or language.SOURCE)
            said = _("{team}, in {language}").format(team=team.team, language=spoken)
            self.teams.addAction(said).triggered.connect(partial(self._print, team))
        if self._context.may(TeamDescribed) and ROUNDS_PAGE in self._context.pages:
            self.teams.addSeparator()
            other = self.teams.addAction(_("Another language: Rounds, Teams"))
            other.triggered.connect(lambda: self._context.go_to(ROUNDS_PAGE))

    def _print(self, team: TeamDescribed) -> None:
        if self._case is None:
            return
        hotel, case = self._context.hotel, self._case.no
        target = folder_to_print(hotel.path) / f"{hotel.path.stem}-{case}-sheet.pdf"
        self._context.jobs.run(
            print_case_walk,
            hotel.as_it_is(),
            CaseWish(case, team.team, hotel.today()),
            target,
            label=_("Printing the sheet of case {case}").format(case=case),
            on_done=partial(self._tell_printed, case, team, target),
        )

    def _tell_printed(self, case: CaseNo, team: TeamDescribed, target: Path, _pages: int) -> None:
        told = _("The sheet of case {case} for {team} is open as PDF, to print: {file}")
        said = told.format(case=case, team=team.team, file=target)
        open_to_print(self._context, said, [target])
