"""Care for the record: a backup of the hotel's file, and going through it whole."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject

from hotelwatch.actions import reports
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.screens.context import Files
from hotelwatch.screens.jobs import Jobs
from hotelwatch.screens.notices import Notices
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
