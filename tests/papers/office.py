"""A second program that opens workbooks, for tests: LibreOffice without a window."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

SOFFICE = shutil.which("soffice")
MOST_SECONDS = 400
"""A machine that does much else at the same time starts it slowly."""
_only_with_office = pytest.mark.skipif(
    SOFFICE is None, reason="LibreOffice is not installed: nothing recalculates the workbook"
)


def needs_office(test: Callable[..., None]) -> Callable[..., None]:
    """Mark a test that starts LibreOffice: left out where there is none, and given its time."""
    return _only_with_office(pytest.mark.timeout(MOST_SECONDS)(test))


ALWAYS_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode"
 oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


@cache
def profile() -> Path:
    """A profile of this run's own: the first start makes it, the later ones are quick.

    It computes every formula anew on loading; by default LibreOffice believes results that
    a file brings along.
    """
    folder = Path(tempfile.mkdtemp(prefix="hotelwatch-office-"))
    (folder / "user").mkdir()
    (folder / "user" / "registrymodifications.xcu").write_text(ALWAYS_RECALCULATE)
    return folder


def converted(path: Path, to: str = "xlsx") -> Path:
    """The workbook opened, recalculated and saved anew by LibreOffice, with its own profile."""
    folder = path.parent / "by_office"
    command = [
        str(SOFFICE),
        "--headless",
        f"-env:UserInstallation={profile().as_uri()}",
        "--convert-to",
        to,
        "--outdir",
        str(folder),
        str(path),
    ]
    done = subprocess.run(command, capture_output=True, text=True, timeout=MOST_SECONDS, check=True)
    out = folder / f"{path.stem}.{to}"
    assert out.exists(), done.stdout + done.stderr
    return out
