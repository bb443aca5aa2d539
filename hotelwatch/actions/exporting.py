"""Everything that a hotel's file holds, out in open formats, and in again elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hotelwatch import paths
from hotelwatch.core.progress import Progress, silent
from hotelwatch.store import exporting, importing
from hotelwatch.store.verify import verify

HOW_TO_VERIFY = "HOW_TO_VERIFY.md"
README = "README.txt"


@dataclass(frozen=True, slots=True)
class Exported:
    """Where an export went, and what it ends with."""

    to: Path
    entries: int
    last_digest: str


def how_to_verify() -> str:
    """How a stranger verifies a record with common tools."""
    return (paths.resources() / "verify" / HOW_TO_VERIFY).read_text("utf-8")


def export_everything(
    path: Path, to: Path, *, zipped: bool = False, progress: Progress = silent
) -> Exported:
    """Write a hotel's file out into a folder, or into one zip file named so.

    It is read through a connection of its own; stopping leaves nothing behind.
    Refusal("export_not_empty"), ("no_such_folder"), ("file_exists"); "disk_full".
    """
    texts = {
        name: (paths.resources() / "verify" / name).read_bytes() for name in (README, HOW_TO_VERIFY)
    }
    write = exporting.export_zip if zipped else exporting.export
    entries, digest = write(path, to, texts, progress)
    return Exported(to, entries, digest)


def take_in(source: Path, to: Path, progress: Progress = silent) -> Exported:
    """Make a hotel's file of an export, a folder or a zip, where there is none yet.

    Refusal("export_mangled"), ("export_of_another_shape"), ("file_exists"); nothing is left.
    """
    entries, digest = importing.take_in(source, to, progress)
    progress(0.95, "checking_copy")
    found = verify(to)
    assert (found.entries, found.last_digest) == (entries, digest), "taken in as it came"
    return Exported(to, entries, digest)
