"""Whether a file lies on a network share, where SQLite's locks can't be relied on."""

from __future__ import annotations

import os
import re
from pathlib import Path, PurePosixPath

SHARES = frozenset({"nfs", "nfs4", "cifs", "smb3", "smbfs", "9p", "fuse.sshfs"})
_MOUNTINFO = Path("/proc/self/mountinfo")


def network_kind_of(path: Path) -> str:
    """The kind of share that a file lies on; empty if it lies on none known."""
    if os.name == "nt":
        return "unc" if is_unc(str(path.resolve())) else ""
    if not _MOUNTINFO.is_file():
        return ""
    text = _MOUNTINFO.read_text(encoding="utf-8", errors="surrogateescape")
    return network_kind(PurePosixPath(path.resolve()), text)


def is_unc(path: str) -> bool:
    r"""Whether a path of Windows names a computer, as ``\\server\share``."""
    plain = path.replace("/", "\\")
    if plain.upper().startswith("\\\\?\\"):
        return plain.upper().startswith("\\\\?\\UNC\\")
    return plain.startswith("\\\\") and not plain.startswith("\\\\.\\")


def network_kind(path: PurePosixPath, mountinfo: str) -> str:
    """The kind of share an absolute path lies on, by Linux's list of mounts.

    Source: the manual page proc(5): the fifth field is the mount point, the first
    after the lone hyphen the type; a blank in a name stands as its octal code.
    """
    where, best, kind = f"{path}/", -1, ""
    for line in mountinfo.splitlines():
        left, _, right = line.partition(" - ")
        fields = left.split(" ")
        if not right or len(fields) <= _MOUNT_POINT:
            continue
        point = _without_octal(fields[_MOUNT_POINT]).rstrip("/")
        # A later line hides an earlier one at the same place.
        if where.startswith(f"{point}/") and len(point) >= best:
            best, kind = len(point), right.split(" ")[0]
    return kind if kind in SHARES else ""


_MOUNT_POINT = 4


def _without_octal(text: str) -> str:
    return re.sub(r"\\([0-7]{3})", lambda found: chr(int(found[1], 8)), text)
