"""Rows pasted from a spreadsheet go the way of a file: looked at first, loaded then.

The text lies in a folder of its own while it is looked at, and is gone with the window or
the next paste: pasted bookings may hold names, which are never read.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from PySide6.QtCore import QObject
from PySide6.QtGui import QGuiApplication

from hotelwatch.intake.table_kind import TableKind
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.loading.drops import LOADERS, what_it_is
from hotelwatch.screens.loading.import_wizard import PASTED
from hotelwatch.wording.language import _

COLUMNS_PAGE = "change_rooms"


class Pasting(QObject):
    """Takes what is on the clipboard to the page that loads such rows."""

    def __init__(
        self,
        notices: Notices,
        *,
        jobs: Jobs,
        load: Callable[[str, Path], object],
        settings: Callable[[Path, TableKind], object],
        has_rooms: Callable[[], bool],
        parent: QObject,
    ) -> None:
        """``load`` gives a table to the page of that key, ``settings`` takes a small one."""
        super().__init__(parent)
        self._notices, self._jobs, self._load = notices, jobs, load
        self._settings, self._has_rooms = settings, has_rooms
        self._folder: TemporaryDirectory[str] | None = None

    def paste(self) -> None:
        """Look at the rows on the clipboard and lead on to where they are loaded."""
        text = QGuiApplication.clipboard().text()
        if "\t" not in text and "\n" not in text.strip():
            self._notices.warn(
                _(
                    "There are no rows to paste. Copy some rows of a spreadsheet, with rooms in "
                    "one column, then paste again."
                )
            )
            return
        path = self.kept(text)
        self._jobs.run(what_it_is, path, label=_("Reading what was pasted"), on_done=self._place)

    def kept(self, text: str) -> Path:
        """The text as a file; what was pasted before is gone."""
        self.forget()
        self._folder = TemporaryDirectory(prefix="hotelwatch-")
        path = Path(self._folder.name) / PASTED
        path.write_text(text, "utf-8")
        return path

    def forget(self) -> None:
        """Let go of what was pasted."""
        if self._folder is not None:
            self._folder.cleanup()
        self._folder = None

    def _place(self, found: tuple[Path, frozenset[TableKind]]) -> None:
        path, kinds = found
        if kinds == {TableKind.BOOKINGS}:
            self._load(LOADERS[TableKind.BOOKINGS], path)
        elif kinds - LOADERS.keys():
            self._settings(path, next(iter(kinds)))
        elif not self._has_rooms():
            self._load(LOADERS[TableKind.ROSTER], path)
        elif TableKind.ROSTER in kinds:
            self._notices.choose(
                _("These rows name rooms and floors. What are they?"),
                [
                    (_("Only the rooms that change"), partial(self._load, COLUMNS_PAGE, path)),
                    (
                        _("The whole roster"),
                        partial(self._load, LOADERS[TableKind.ROSTER], path),
                    ),
                ],
            )
        else:
            self._load(COLUMNS_PAGE, path)
