"""The house stands without its windows: everything below them can be read in without Qt."""

from __future__ import annotations

import subprocess
import sys

BELOW_THE_WINDOWS = """
import importlib, pkgutil, sys

class NoQt:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] == "PySide6":
            raise ModuleNotFoundError("PySide6 is left out")

sys.meta_path.insert(0, NoQt())
count = 0
for part in ("core", "store", "intake", "wording", "papers", "actions", "cli"):
    folder = importlib.import_module(f"hotelwatch.{part}")
    for module in pkgutil.walk_packages(folder.__path__, f"hotelwatch.{part}."):
        importlib.import_module(module.name)
        count += 1
print(count)
"""


def test_everything_below_the_windows_is_read_in_without_qt():
    found = subprocess.run(
        [sys.executable, "-c", BELOW_THE_WINDOWS], capture_output=True, text=True, check=False
    )
    assert found.returncode == 0, found.stderr
    assert int(found.stdout) > 300
