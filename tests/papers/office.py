"""A second program that opens workbooks, for tests: LibreOffice without a window."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path

import pytest

SOFFICE = shutil.which("soffice")
needs_office = pytest.mark.skipif(
    SOFFICE is None, reason="LibreOffice is not installed: nothing recalculates the workbook"
)


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
    done = subprocess.run(command, capture_output=True, text=True, timeout=110, check=True)
    out = folder / f"{path.stem}.{to}"
    assert out.exists(), done.stdout + done.stderr
    return out
