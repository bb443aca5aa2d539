"""What a key says of the place that one stands on, in the list as on the drawn bed."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from PySide6.QtCore import Qt


class Saying(StrEnum):
    """What a key says of the place that one stands on."""

    TOGGLE = "toggle"
    SEEN = "seen"
    LEAVE = "leave"
    FIND = "find"
    ALL_SEEN = "all_seen"
    """Every place of its bed was looked at."""


KEYS: Mapping[int, Saying] = {
    Qt.Key.Key_Space: Saying.TOGGLE,
    Qt.Key.Key_L: Saying.SEEN,
    Qt.Key.Key_N: Saying.LEAVE,
    Qt.Key.Key_F: Saying.FIND,
    Qt.Key.Key_A: Saying.ALL_SEEN,
}
