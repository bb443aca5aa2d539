"""Files dropped onto the window: a hotel's file opens, a table goes to the page that loads it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData, QObject

from hotelwatch.intake.table_kind import TableKind, kinds_of, settings_kind
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.loading.import_wizard import TABLE_FILES
from hotelwatch.wording.language import _

HOTEL_ENDING = ".hotelwatch"
TABLE_ENDINGS = frozenset(pattern.removeprefix("*") for pattern in TABLE_FILES.split())
LOADERS = {TableKind.ROSTER: "load_roster", TableKind.BOOKINGS: "load_bookings"}
"""The page that loads each kind of table."""


def files_in(dragged: QMimeData) -> tuple[Path, ...]:
    """Files of this computer among what is dragged, if the window can do something with one."""
    paths = tuple(Path(url.toLocalFile()) for url in dragged.urls() if url.isLocalFile())
    endings = {path.suffix.casefold() for path in paths}
    return paths if endings & {HOTEL_ENDING, *TABLE_ENDINGS} else ()


class Drops(QObject):
    """Takes dropped files to where they belong; asks where that is unclear."""

    def __init__(
        self,
        notices: Notices,
        *,
        jobs: Jobs,
        open_path: Callable[[Path], object],
        load: Callable[[str, Path], object],
        settings: Callable[[Path, TableKind], object],
        parent: QObject,
    ) -> None:
        """``load`` gives a table to the page of that key, ``settings`` takes a small one."""
        super().__init__(parent)
        self._notices, self._jobs = notices, jobs
        self._open_path, self._load, self._settings = open_path, load, settings

    def take(self, paths: Sequence[Path], *, is_open: bool) -> None:
        """Do with dropped files what they are for; ``is_open`` if a hotel is open."""
        if len(paths) != 1:
            self._notices.warn(_("Several files were dropped. Drop one file at a time."))
        elif paths[0].suffix.casefold() == HOTEL_ENDING:
            self._open_path(paths[0])
        elif not is_open:
            self._notices.warn(
                _(
                    "{file} is loaded into a hotel. Open or start a hotel, then drop it again."
                ).format(file=paths[0].name)
            )
        else:
            self._jobs.run(
                what_it_is,
                paths[0],
                label=_("Reading {file}").format(file=paths[0].name),
                on_done=self._place,
            )

    def _place(self, found: tuple[Path, frozenset[TableKind]]) -> None:
        path, kinds = found
        if len(kinds) == 1:
            (kind,) = kinds
            if kind in LOADERS:
                self._load(LOADERS[kind], path)
            else:
                self._settings(path, kind)
            return
        self._notices.choose(
            _("What is {file}? Its headings do not tell.").format(file=path.name),
            [
                (_("A roster"), partial(self._load, LOADERS[TableKind.ROSTER], path)),
                (_("Bookings"), partial(self._load, LOADERS[TableKind.BOOKINGS], path)),
            ],
        )


def what_it_is(path: Path) -> tuple[Path, frozenset[TableKind]]:
    """The file, and what it may be: a roster or bookings, else a small table."""
    if kinds := kinds_of(path):
        return path, kinds
    kind = settings_kind(path)
    return path, frozenset() if kind is None else frozenset({kind})
