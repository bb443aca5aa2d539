"""The journal of facts: one SQLite file is one hotel. SQL stays in this folder."""

from __future__ import annotations

import sys

_ARRAYS = ("numpy", "pandas")
"""What sqlite_utils takes along where it is installed; no array is ever written here."""


def _bring_in_quickly() -> None:
    """Load sqlite_utils without arrays, which would hold up the first page."""
    hidden = [name for name in _ARRAYS if name not in sys.modules]
    sys.modules.update(dict.fromkeys(hidden))  # type: ignore[arg-type]
    try:
        import sqlite_utils  # noqa: F401
    finally:
        for name in hidden:
            del sys.modules[name]


_bring_in_quickly()
