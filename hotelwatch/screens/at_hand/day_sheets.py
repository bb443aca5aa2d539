"""Printing the sheets of a day from any page: as PDF, opened at once; of many the folder."""

from __future__ import annotations

from datetime import date
from functools import partial
from pathlib import Path

from hotelwatch.printing.day_sheets import print_day_sheets
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import folder_to_print, open_to_print, opens_folder
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
    if opens_folder(printed):
        told = ngettext(
            "The folder with {n} sheet of {day} is open, a PDF to be printed from there: {folder}",
            "The folder with {n} sheets of {day} is open, PDFs to be printed from there: {folder}",
            len(printed),
        )
    else:
        told = ngettext(
            "{n} sheet of {day} is open as PDF, to be printed from there. It lies in {folder}",
            "{n} sheets of {day} are open as PDF, to be printed from there. They lie in {folder}",
            len(printed),
        )
    said = told.format(n=len(printed), day=day_text(on), folder=printed[0].parent)
    open_to_print(context, said, printed)


def tip_for_sheets() -> str:
    """What a button that prints a day's sheets does."""
    return _("Opens as PDF, many sheets as a folder, to be looked at and printed from there")
