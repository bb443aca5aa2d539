"""What a look through the record found, as sentences."""

from __future__ import annotations

from typing import Protocol

from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m

FAULTS = {
    "damaged": m("The file is damaged: {detail}. Open the latest backup."),
    "schema_changed": m("The file's own rules were changed: {detail}."),
    "schema_extra": m("The file holds something that is not ours: {detail}."),
    "lost_reference": m("Entry {entry}: a fact points to an entry that is gone ({detail})."),
    "number_missing": m("Entry {entry} is missing: the numbers before and after it are there."),
    "fact_without_entry": m("A fact belongs to entry {entry}, which is not there ({detail})."),
    "digest_differs": m("Entry {entry} is not what was written down: its digest differs."),
    "not_as_printed": m("Entry {entry} is not what the printed digest stands for."),
    "stays_differ": m("The bookings are not those that entry {entry} left: a row was changed."),
    "clock_went_back": m("Remark: entry {entry} bears an earlier moment than the one before it."),
    "was_restored": m(
        "Remark: entry {entry} says that the record went back to a backup; what was written down"
        " after it stands in the file set aside (last entry of the backup, digest of the file"
        " set aside: {detail})."
    ),
    "photo_missing": m("Remark: a photo of entry {entry} is not beside the file ({detail})."),
    "photo_changed": m("A photo of entry {entry} is not the one that was kept ({detail})."),
    "log_missing": m("Remark: the log of entry {entry} is not beside the file ({detail})."),
    "log_changed": m("The log of entry {entry} is not the one that was kept ({detail})."),
    "paper_missing": m("Remark: the paper of entry {entry} is not beside the file ({detail})."),
    "paper_changed": m("The paper of entry {entry} is not the one that was kept ({detail})."),
    "words_missing": m(
        "A name or a note of entry {entry} is gone, and no entry says that it expired ({detail})."
    ),
    "words_changed": m(
        "A name or a note of entry {entry} is not the one that was written down ({detail})."
    ),
    "expired_photo": m("Remark: entry {entry} says that photos expired: {detail}."),
    "expired_paper": m("Remark: entry {entry} says that papers expired: {detail}."),
    "expired_log": m("Remark: entry {entry} says that logs expired: {detail}."),
    "expired_name": m("Remark: entry {entry} says that names expired: {detail}."),
    "expired_note": m("Remark: entry {entry} says that notes expired: {detail}."),
    "expired_but_there": m(
        "Remark: what entry {entry} kept has expired, and its file is still there ({detail})."
        " Let what is due expire again: it is deleted then."
    ),
}


class Fault(Protocol):
    """Something found: a code, the entry it concerns, and what exactly."""

    @property
    def code(self) -> str:
        """A key of FAULTS."""

    @property
    def entry(self) -> int:
        """The entry's number; 0 where none is meant."""

    @property
    def detail(self) -> str:
        """What exactly."""


def fault_sentence(fault: Fault) -> str:
    """A fault of the record, or a remark on it, in a sentence."""
    return _(FAULTS[fault.code]).format(entry=fault.entry, detail=fault.detail)
