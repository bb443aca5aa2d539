"""Papers to print: written as PDF without asking for a place, and opened at once.

Whatever opens a PDF on this computer shows its pages before it prints them. The papers lie
in a folder beside the hotel's file for a day, the next ones of the same name in their place.
"""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from hotelwatch.screens.at_hand.context import Context
from hotelwatch.store import print_folder
from hotelwatch.wording.language import _

MOST_OPENED = 4
"""So many papers are opened one by one; of more the folder."""


def folder_to_print(hotel_file: Path) -> Path:
    """Where papers to print lie; where nothing may be written there, a folder of this session."""
    beside = print_folder.folder_of(hotel_file)
    try:
        beside.mkdir(exist_ok=True)
    except OSError:
        return _folder_of_session()
    return beside


@cache
def _folder_of_session() -> Path:
    """A folder that goes when the program ends."""
    folder = tempfile.mkdtemp(prefix="hotelwatch-print-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return Path(folder)


def open_to_print(context: Context, told: str, papers: Sequence[Path]) -> None:
    """Open papers that were written, and say so; the notice opens them again."""
    shown = papers if len(papers) <= MOST_OPENED else [papers[0].parent]

    def show() -> None:
        for paper in shown:
            context.files.show(paper)

    show()
    context.notices.done(told, _("Open again"), show)


def tip_to_print() -> str:
    """What a button that prints does, for whoever wonders where the dialog is."""
    return _("Opens as PDF, to be looked at and printed from there")
