"""Half-entered forms on disk: one small file for each hotel's file and open window.

It lies in the user's own data folder, never beside the hotel's file, and holds what was
typed as plain JSON. A lock beside it says that its window still runs; where the program
was ended from outside the lock is stale, and the next window takes the file over.
"""

from __future__ import annotations

import hashlib
import json
import logging
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import QLockFile

MOST_WINDOWS = 9
LOG = logging.getLogger("hotelwatch")


@dataclass(frozen=True, slots=True)
class KeptDraft:
    """What was half entered on one page, by whom, and when it was last changed."""

    page: str
    by: str
    at: str
    """ISO, UTC."""
    values: Mapping[str, Any]

    @property
    def moment(self) -> datetime:
        """When it was last changed."""
        return datetime.fromisoformat(self.at)

    @property
    def what(self) -> str:
        """What it is, in the page's words."""
        return str(self.values.get("what", ""))


class DraftFile:
    """The file of this window; ``open`` also takes over those of windows that died."""

    def __init__(self, folder: Path, hotel_file: Path) -> None:
        """Stand for drafts of this hotel's file; nothing is touched yet."""
        self._folder = folder
        name = hashlib.sha256(str(hotel_file.resolve()).encode()).hexdigest()[:16]
        self._names = [f"{name}.{number}" for number in range(MOST_WINDOWS)]
        self._lock: QLockFile | None = None
        self._path: Path | None = None

    def open(self) -> tuple[KeptDraft, ...]:
        """Take a file for this window; what dead windows left, the earliest first."""
        left: list[KeptDraft] = []
        try:
            self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            LOG.warning("drafts can't be kept: %s", error)
            return ()
        for name in self._names:
            path = self._folder / f"{name}.json"
            if self._path is not None and not path.exists():
                continue
            lock = QLockFile(str(self._folder / f"{name}.lock"))
            lock.setStaleLockTime(0)  # stale only once its program is gone
            if not lock.tryLock(0):
                continue
            left += read_drafts(path)
            if self._path is None:
                self._lock, self._path = lock, path
            else:
                path.unlink(missing_ok=True)
                lock.unlock()
        return tuple(sorted(left, key=lambda draft: draft.at))

    def write(self, drafts: Sequence[KeptDraft]) -> None:
        """Keep exactly these; a disk that can't be written to is no reason to stop work."""
        if self._path is None:
            return
        try:
            if not drafts:
                self._path.unlink(missing_ok=True)
                return
            beside = self._path.with_suffix(".new")
            text = json.dumps([asdict(draft) for draft in drafts], ensure_ascii=False)
            beside.write_text(text, "utf-8")
            beside.replace(self._path)
        except (OSError, TypeError, ValueError) as error:
            LOG.warning("a draft was not kept: %s", error)

    def close(self) -> None:
        """Let go of the file."""
        if self._lock is not None:
            self._lock.unlock()
        self._lock = self._path = None


def read_drafts(path: Path) -> list[KeptDraft]:
    """The drafts of a file; none, and a line in the log, where it can't be read."""
    try:
        told = json.loads(path.read_text("utf-8"))
        drafts = [KeptDraft(**one) for one in told]
        for draft in drafts:
            if draft.moment.tzinfo is None or not isinstance(draft.values, dict):
                raise ValueError("no draft of ours")
    except FileNotFoundError:
        return []
    except (OSError, ValueError, TypeError, AttributeError) as error:
        LOG.warning("kept drafts could not be read: %s", error)
        return []
    return drafts
