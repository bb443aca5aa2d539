"""Tab comes to every control of a page in turn, whichever of them a page would begin with.

A page hands the keyboard on to the control that one comes for. Qt follows such a handing on
for Tab, too, and would leave out whatever stands before that control.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise

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


def come_after(holder: QWidget, *parts: QWidget) -> None:
    """Let Tab come to parts made later where their holder stands.

    They would come last of all things in the window. Qt takes no place from a widget to
    which Tab does not come, so what stands before the holder gives it.
    """
    by_tab = Qt.FocusPolicy.TabFocus.value
    before = holder.previousInFocusChain()
    while (
        before is not None
        and before is not holder
        and (before in parts or not before.focusPolicy().value & by_tab)
    ):
        before = before.previousInFocusChain()
    if before is not None and before is not holder:
        for one, next_one in pairwise((before, *parts)):
            QWidget.setTabOrder(one, next_one)
