"""Tab comes to every control of a page in turn, whichever of them a page would begin with.

A page hands the keyboard on to the control that one comes for. Qt follows such a handing on
for Tab, too, and would leave out whatever stands before that control.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


@contextmanager
def in_turn(within: QWidget) -> Iterator[None]:
    """Let holders that take no keys themselves hand none on meanwhile."""
    handing = [
        (holder, proxy)
        for holder in within.findChildren(QWidget)
        if holder.focusPolicy() is Qt.FocusPolicy.NoFocus
        and (proxy := holder.focusProxy()) is not None
        and holder.isAncestorOf(proxy)
    ]
    for holder, _proxy in handing:
        holder.setFocusProxy(None)  # type: ignore[arg-type]
    try:
        yield
    finally:
        for holder, proxy in handing:
            if holder.focusProxy() is None:
                holder.setFocusProxy(proxy)
