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
from hotelwatch.wording.language import _, ngettext

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
    """Open papers that were written, and say ``told``; the notice opens them again.

    Where no program shows them, that is said instead, and where they lie.
    """
    shown = [papers[0].parent] if opens_folder(papers) else papers

    def show() -> None:
        if all(context.files.show(paper) for paper in shown):
            context.notices.done(told, _("Open again"), show)
        else:
            context.notices.warn(not_shown_text(papers), _("Try again"), show)

    show()


def opens_folder(papers: Sequence[Path]) -> bool:
    """Whether there are so many that their folder is opened rather than each of them."""
    return len(papers) > MOST_OPENED


def show_file(context: Context, file: Path) -> None:
    """Open a file that was written; say so, and where it lies, if no program shows it."""
    if not context.files.show(file):
        context.notices.warn(not_shown_text([file]))


def not_shown_text(files: Sequence[Path]) -> str:
    """That files are written, where, and that this computer showed none of them."""
    if len(files) == 1:
        return _("{file} is written, but no program on this computer showed it.").format(
            file=files[0]
        )
    return ngettext(
        "{n} paper is written in {folder}, but no program on this computer showed it.",
        "{n} papers are written in {folder}, but no program on this computer showed them.",
        len(files),
    ).format(n=len(files), folder=files[0].parent)


def tip_to_print() -> str:
    """What a button that prints does, for whoever wonders where the dialog is."""
    return _("Opens as PDF, to be looked at and printed from there")
