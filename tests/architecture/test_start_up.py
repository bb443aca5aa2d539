"""What the window does not load before its first page: arrays, the solver, workbooks."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

SLOW = ("numpy", "highspy", "pandas", "openpyxl", "xlsxwriter", "mpmath", "argon2")
EVERY_PAGE = """
import importlib, pkgutil, sys
import hotelwatch.screens, hotelwatch.screens.app
loaded = ["hotelwatch.screens.app"]
for module in pkgutil.walk_packages(hotelwatch.screens.__path__, "hotelwatch.screens."):
    loaded.append(importlib.import_module(module.name).__name__)
print(len(loaded), *(name for name in {slow!r} if name in sys.modules))
"""
BEFORE_A_PAGE = """
import sys
import hotelwatch.screens.app
from hotelwatch.screens.pages import READ_IN_QUIET
print(len(READ_IN_QUIET), *(name for name in READ_IN_QUIET if name in sys.modules))
"""
EVERY_COMMAND = """
import sys
import hotelwatch.cli.main
print(1, *(name for name in {slow!r} if name in sys.modules))
"""


def loaded(program):
    found = subprocess.run(
        [sys.executable, "-c", program.format(slow=SLOW)],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=True,
    )
    modules, *slow = found.stdout.split()
    return int(modules), slow


def test_no_page_loads_arrays_or_the_solver():
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    modules, slow = loaded(EVERY_PAGE)
    assert modules > 40
    assert slow == []


def test_a_page_is_read_in_once_it_is_wanted():
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    assert loaded(BEFORE_A_PAGE) == (8, [])


def test_no_command_loads_them_before_it_is_called():
    assert loaded(EVERY_COMMAND) == (1, [])


def test_sqlite_utils_knows_no_arrays_where_the_store_was_first():
    program = "import hotelwatch.store, sqlite_utils.db as db; print(1, *[db.np, db.pd])"
    assert loaded(program) == (1, ["None", "None"])
