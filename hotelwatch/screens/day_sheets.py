"""Printing the sheets of a day from any page: where to, then a notice with the way to them."""

from __future__ import annotations

from datetime import date
from functools import partial
from pathlib import Path

from hotelwatch.printing.day_sheets import print_day_sheets
from hotelwatch.screens.context import Context
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext


def ask_and_print(context: Context, on: date) -> None:
    """Ask for a folder, beside the hotel's file at first, and print every team's sheet there."""
    context.files.folder(
        _("Folder for the sheets of {day}").format(day=day_text(on)),
        context.hotel.path.parent,
        partial(_print_into, context, on),
    )


def _print_into(context: Context, on: date, folder: Path) -> None:
    hotel = context.hotel
    context.jobs.run(
        partial(print_day_sheets, on=on),
        hotel.house,
        hotel.occupancy(),
        folder,
        label=_("Printing the sheets"),
        on_done=partial(_tell, context, on, folder),
    )


def _tell(context: Context, on: date, folder: Path, printed: tuple[Path, ...]) -> None:
    told = ngettext(
        "{n} sheet of {day} printed into {folder}.",
        "{n} sheets of {day} printed into {folder}.",
        len(printed),
    ).format(n=len(printed), day=day_text(on), folder=folder)
    only = printed[0] if len(printed) == 1 else folder
    context.notices.done(told, _("Open"), partial(context.files.show, only))
