"""Beside what a role may not do: who may, so that one knows whom to ask before trying."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QAbstractButton, QLabel

from hotelwatch.core.facts import Fact
from hotelwatch.core.roles import who_may
from hotelwatch.screens.context import Context
from hotelwatch.screens.only_if import only_if
from hotelwatch.wording.people import for_others_text

Deed = tuple[QAbstractButton, tuple[type[Fact], ...]]


def offer_if_allowed(context: Context, deeds: Sequence[Deed]) -> QLabel:
    """Hide the buttons of what the role may not do; a line says who may do it, and is to be placed.

    The line is empty and hidden where everything is offered.
    """
    told: dict[str, list[str]] = {}
    for button, kinds in deeds:
        only_if(context.may(*kinds), button)
        if not context.may(*kinds):
            roles = ",".join(who_may(kind.__name__ for kind in kinds))
            told.setdefault(roles, []).append(button.text().replace("&", "").rstrip("…"))
    line = QLabel(for_others_text(told), wordWrap=True)
    line.setProperty("role", "muted")
    only_if(bool(told), line)
    return line
