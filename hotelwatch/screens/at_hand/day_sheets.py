"""Printing the sheets of a day from any page: as PDF, opened at once."""

from __future__ import annotations

from datetime import date
from functools import partial
from pathlib import Path

from hotelwatch.printing.day_sheets import print_day_sheets
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import folder_to_print, open_to_print
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext


def print_sheets_of(context: Context, on: date) -> None:
    """Print every team's sheet of a day, each in its team's language."""
    hotel = context.hotel
    context.jobs.run(
        partial(print_day_sheets, on=on, today=hotel.today()),
        hotel.house,
        hotel.occupancy(),
        folder_to_print(hotel.path),
        label=_("Printing the sheets"),
        on_done=partial(_tell, context, on),
    )


def _tell(context: Context, on: date, printed: tuple[Path, ...]) -> None:
    told = ngettext(
        "{n} sheet of {day} is open as PDF, to be printed from there. It lies in {folder}",
        "{n} sheets of {day} are open as PDF, to be printed from there. They lie in {folder}",
        len(printed),
    ).format(n=len(printed), day=day_text(on), folder=printed[0].parent)
    open_to_print(context, told, printed)
