"""Care for the record: a backup of the hotel's file, and going through it whole."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject

from hotelwatch.actions import reports
from hotelwatch.actions.exporting import Exported, export_everything, take_in
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.screens.at_hand.context import Files
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.loading.drops import HOTEL_ENDING
from hotelwatch.store.verify import Verification
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.verification import fault_sentence

MOST_FAULTS_TOLD = 5


class RecordCare(QObject):
    """Backs up and checks the record of a hotel, and tells how that went."""

    def __init__(self, notices: Notices, *, files: Files, jobs: Jobs, parent: QObject) -> None:
        """Tell in these notices, ask for files here, work in these jobs."""
        super().__init__(parent)
        self._notices, self._files, self._jobs = notices, files, jobs

    def back_up(self, hotel: OpenHotel) -> None:
        """Ask where to, and copy the hotel's file."""
        name = f"{hotel.path.stem}-{hotel.today().isoformat()}{hotel.path.suffix}"
        suggested = hotel.path.with_name(name)
        kinds = _("Hotel files ({patterns})").format(patterns=f"*{hotel.path.suffix}")
        self._files.save(_("Back up to"), kinds, suggested, partial(self._back_up_to, hotel))

    def _back_up_to(self, hotel: OpenHotel, path: Path) -> None:
        self._jobs.run(
            reports.back_up_file, hotel.path, path, label=_("Backing up"), on_done=self._tell_backup
        )

    def _tell_backup(self, path: Path) -> None:
        said = _("Backed up to {file}.").format(file=path)
        self._notices.done(said, _("Show the folder"), partial(self._files.show, path.parent))

    def export(self, hotel: OpenHotel) -> None:
        """Ask where to, and write everything out in open formats, into one file."""
        suggested = hotel.path.with_name(f"{hotel.path.stem}-{hotel.today().isoformat()}.zip")
        kinds = _("Exports ({patterns})").format(patterns="*.zip")
        self._files.save(_("Export everything"), kinds, suggested, partial(self._export, hotel))

    def _export(self, hotel: OpenHotel, path: Path) -> None:
        self._jobs.run(
            partial(export_everything, zipped=True),
            hotel.path,
            path if path.suffix == ".zip" else path.with_name(f"{path.name}.zip"),
            label=_("Exporting everything"),
            on_done=self._tell_export,
        )

    def _tell_export(self, done: Exported) -> None:
        said = _("Exported to {file}. It names staff: keep it as you keep the hotel's file.")
        shows = partial(self._files.show, done.to.parent)
        self._notices.done(said.format(file=done.to), _("Show the folder"), shows)

    def take_in(self, opens: Callable[[Path], object]) -> None:
        """Ask for an export and where the file goes that is made of it; then offer to open it."""
        kinds = _("Exports ({patterns})").format(patterns="*.zip")
        self._files.open(_("Take in an export"), kinds, partial(self._ask_where, opens))

    def _ask_where(self, opens: Callable[[Path], object], source: Path) -> None:
        kinds = _("Hotel files ({patterns})").format(patterns=f"*{HOTEL_ENDING}")
        suggested = source.with_suffix(HOTEL_ENDING)
        then = partial(self._take_in, opens, source)
        self._files.save(_("Hotel's file to make"), kinds, suggested, then)

    def _take_in(self, opens: Callable[[Path], object], source: Path, to: Path) -> None:
        self._jobs.run(
            take_in,
            source,
            to,
            label=_("Taking in an export"),
            on_done=partial(self._tell_taken, opens),
        )

    def _tell_taken(self, opens: Callable[[Path], object], done: Exported) -> None:
        said = _("Taken in: {file}.").format(file=done.to)
        self._notices.done(said, _("Open it"), partial(opens, done.to))

    def check(self, hotel: OpenHotel) -> None:
        """Go through the whole record, off the window's thread."""
        self._jobs.run(
            reports.check_file,
            hotel.path,
            {},
            label=_("Checking the record"),
            on_done=self._tell_verification,
        )

    def _tell_verification(self, found: Verification) -> None:
        faults = (*found.problems, *found.remarks)
        lines = [fault_sentence(fault) for fault in faults[:MOST_FAULTS_TOLD]]
        if len(faults) > len(lines):
            lines.append(_("And {n} more.").format(n=len(faults) - len(lines)))
        if found.is_sound:
            sound = ngettext(
                "The record holds: {n} entry, unbroken. Its last digest is {digest}.",
                "The record holds: {n} entries, unbroken. The last digest is {digest}.",
                found.entries,
            ).format(n=found.entries, digest=found.last_digest)
            self._notices.done("\n".join([sound, *lines]))
        else:
            self._notices.warn("\n".join([_("The record does not hold."), *lines]))
