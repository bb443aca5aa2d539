"""The Qt application that painting needs, with or without a display."""

from __future__ import annotations

import os
import sys

from PySide6.QtGui import QGuiApplication


def ensure_application() -> QGuiApplication:
    """The running Qt application, or a new one that needs no display if there is none."""
    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    if not _has_display():
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    return QGuiApplication(["hotelwatch"])


def _has_display() -> bool:
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
