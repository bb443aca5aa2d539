"""One application for the whole run, a pinned font, and nothing left behind."""

from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from hotelwatch.screens.theme import Look, TextSize, Theme

FONT = "DejaVu Sans"


@pytest.fixture(scope="session")
def look(qapp):
    """The look of the program, worn once for the whole run."""
    qapp.setFont(QFont(FONT))
    return Look(qapp)


@pytest.fixture(autouse=True)
def worn(look):
    """Every test starts in the light look at normal size."""
    if (look.theme, look.text_size) != (Theme.LIGHT, TextSize.NORMAL):
        look.choose(Theme.LIGHT, TextSize.NORMAL)


@pytest.fixture(autouse=True)
def _nothing_left_behind(qapp):
    """Fail a test that leaves a window open though its widgets were closed."""
    before = set(QApplication.topLevelWidgets())
    yield
    left = [w for w in QApplication.topLevelWidgets() if w.isVisible() and w not in before]
    for widget in left:
        widget.close()
    assert not left, f"left open: {left}"
