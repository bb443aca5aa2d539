"""What every test stands on: no screen, a private home, and Qt left out where asked."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

_home = Path(tempfile.mkdtemp(prefix="hotelwatch-tests-"))
os.environ.update(
    QT_QPA_PLATFORM="offscreen",
    QT_SCALE_FACTOR="1",
    LC_ALL="C.UTF-8",
    LANGUAGE="en",
    XDG_CONFIG_HOME=str(_home / "config"),
    XDG_DATA_HOME=str(_home / "data"),
    XDG_CACHE_HOME=str(_home / "cache"),
)


class _NoQt:
    """An import finder that behaves as if PySide6 were not installed."""

    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] == "PySide6":
            raise ModuleNotFoundError("PySide6 is left out of this run")


if os.environ.get("WITHOUT_QT"):
    sys.meta_path.insert(0, _NoQt())
