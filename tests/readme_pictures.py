"""The README's pictures, taken of the invented hotel on a day that never changes.

Run as ``python -m tests.readme_pictures`` after the window changed, and look at them.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("QT_SCALE_FACTOR", "1")

from PIL import Image
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QPushButton

from hotelwatch.screens.look.theme import TextSize, Theme
from hotelwatch.screens.window import MainWindow
from tests.walk import app_of, build_invented, places, settle, window_on

FOLDER = Path(__file__).parents[1] / "resources" / "pictures"
SIZE = QSize(1280, 800)
PLACES = {"case": "cases/other-rooms", "odds": "odds/what-a-cycle-buys"}
"""What the pictures show that are taken of a page as it opens, by their names."""


def press(window: MainWindow, text: str) -> None:
    """Press the button that says so."""
    shown = (button for button in window.findChildren(QPushButton) if button.isVisible())
    next(button for button in shown if button.text().replace("&", "") == text).click()
    settle(window)


def take(window: MainWindow, name: str) -> None:
    """Write the window as it is, in few colours: the file is a third as large."""
    file = FOLDER / f"{name}.png"
    assert window.grab().save(str(file)), file
    with Image.open(file) as whole:
        few = whole.convert("RGB").quantize(dither=Image.Dither.NONE)
    few.save(file, optimize=True)


def main() -> None:
    """Take all four."""
    _app, look = app_of()
    look.choose(Theme.LIGHT, TextSize.NORMAL)
    with tempfile.TemporaryDirectory() as kept:
        window = window_on(build_invented(Path(kept)), look, Path(kept) / "choices")
        window.resize(SIZE)
        window.show()
        settle(window)
        press(window, "Close")  # the way round for newcomers
        for name, place in PLACES.items():
            walk = places(window, place)
            assert next(walk) == place, place
            take(window, name)
        window.walk_to("rounds")
        settle(window)
        press(window, "Plan again")
        take(window, "rounds")
        window.walk_to("today")
        settle(window)
        take(window, "today")
        window.jobs.close()
        window.close()


if __name__ == "__main__":
    main()
