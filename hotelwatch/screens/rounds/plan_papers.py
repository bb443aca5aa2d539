"""What else can be done with a round: on paper, into calendars, away. One button, one menu."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QMenu, QPushButton

from hotelwatch.actions.round_papers import calendar_ahead, write_calendar, write_calendars
from hotelwatch.core.rounds.day_changes import ever_published_ahead
from hotelwatch.core.rounds.team_days import Round
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import folder_to_print, open_to_print
from hotelwatch.wording.language import _, ngettext

CALENDAR_FILES = "iCalendar (*.ics)"


class PlanPapers(QPushButton):
    """Prints the round that is shown on one page, and writes it for calendars.

    ``throw_away`` is only offered here; whoever holds the draft does it.
    """

    def __init__(self, context: Context, shown: Callable[[], Round]) -> None:
        """``shown`` gives the round as it is shown now, drafted or published."""
        super().__init__(_("&More"))
        self._context, self._shown = context, shown
        menu = QMenu(self)
        self.page = menu.addAction(_("Print the round on one &page"), self._print)
        self.calendar = menu.addAction(_("A &calendar of all teams…"), self._ask_calendar)
        self.calendars = menu.addAction(_("A calendar for each &team…"), self._ask_calendars)
        menu.addSeparator()
        self.throw_away = menu.addAction(_("Thro&w the draft away"))
        self.setMenu(menu)

    def allow(self, *, has_round: bool) -> None:
        """Offer what there is to be taken away; calendars are told of what is no more, too."""
        hotel = self._context.hotel
        was_published = has_round or ever_published_ahead(hotel.house, hotel.today()) is not None
        self.setVisible(was_published)
        self.page.setEnabled(has_round)

    def _ask_calendar(self) -> None:
        told = self._for_calendars()
        self._context.files.save(
            _("Write the round as a calendar"),
            CALENDAR_FILES,
            self._suggested(told, "ics"),
            partial(self._write, told),
        )

    def _ask_calendars(self) -> None:
        self._context.files.folder(
            _("Folder for the teams' calendars"),
            self._context.hotel.path.parent,
            partial(self._write_each, self._for_calendars()),
        )

    def _for_calendars(self) -> Round:
        """The draft that is shown; else what is published, with the days that were once."""
        told = self._shown()
        return told if told.is_draft else calendar_ahead(self._context.hotel)

    def _suggested(self, told: Round, ending: str) -> Path:
        name = f"round-{told.from_on.isoformat()}.{ending}"
        return self._context.hotel.path.parent / name

    def _print(self) -> None:
        from hotelwatch.printing.round_page import print_round

        context, told = self._context, self._shown()
        path = folder_to_print(context.hotel.path) / self._suggested(told, "pdf").name
        with context.notices.refusals():
            print_round(context.hotel.house, told, path, now=context.hotel.now())
            said = _("The round is open as PDF, to be printed from there: {path}")
            open_to_print(context, said.format(path=path), [path])

    def _write(self, told: Round, path: Path) -> None:
        with self._context.notices.refusals():
            write_calendar(self._context.hotel, told, path)
            self._tell(_("The round is written into {path}.").format(path=path), path)

    def _write_each(self, told: Round, folder: Path) -> None:
        with self._context.notices.refusals():
            written = write_calendars(self._context.hotel, told, folder)
            said = ngettext(
                "{n} calendar is written into {folder}.",
                "{n} calendars are written into {folder}.",
                len(written),
            ).format(n=len(written), folder=folder)
            self._tell(said, folder)

    def _tell(self, said: str, path: Path) -> None:
        self._context.notices.done(said, _("Open"), partial(self._context.files.show, path))
