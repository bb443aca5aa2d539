"""The Qt application that painting needs, with or without a screen."""

from __future__ import annotations

import os
import sys

from PySide6.QtWidgets import QApplication


def ensure_application() -> QApplication:
    """The running Qt application, or a new one that needs no screen if there is none.

    It is one that could show windows too: a command that prints may open one next.
    """
    running = QApplication.instance()
    if isinstance(running, QApplication):
        return running
    without_screen = [] if has_screen() else ["-platform", "offscreen"]
    return QApplication(["hotelwatch", *without_screen])


def has_screen() -> bool:
    """Whether a window can be shown here."""
    if sys.platform in ("win32", "darwin"):
        return True
    named = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    return any(os.environ.get(name) for name in named)
