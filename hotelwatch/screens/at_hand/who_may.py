"""Beside what a role may not do: who may, so that one knows whom to ask before trying."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget

from hotelwatch.core.facts import Fact
from hotelwatch.core.roles import who_may
from hotelwatch.screens.at_hand.only_if import only_if
from hotelwatch.wording.people import for_others_text

Kinds = tuple[type[Fact], ...]


class Seated(Protocol):
    """Who knows what the role at the desk may write down: a page's context, an open hotel."""

    def may(self, *kinds: type[Fact]) -> bool:
        """Whether it may write each of these."""


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that a page offers: what it is called, what it writes, what does it."""

    words: str
    kinds: Kinds
    widgets: tuple[QWidget, ...] = ()


def offer_if_allowed(seated: Seated, buttons: Sequence[tuple[QAbstractButton, Kinds]]) -> QLabel:
    """``offer`` for buttons that say themselves what they do."""
    return offer(
        seated,
        *(
            Deed(button.text().replace("&", "").rstrip("…"), kinds, (button,))
            for button, kinds in buttons
        ),
    )


def offer(seated: Seated, *deeds: Deed) -> QLabel:
    """Hide what does a deed that the role may not; a line says who may, and is to be placed.

    The line is empty and hidden where everything is offered.
    """
    for deed in deeds:
        only_if(seated.may(*deed.kinds), *deed.widgets)
    said = who_else(seated, *deeds)
    line = QLabel(said, wordWrap=True)
    line.setProperty("role", "muted")
    only_if(bool(said), line)
    return line


def who_else(seated: Seated, *deeds: Deed) -> str:
    """Of deeds that the role may not do, who may, in words; empty where it may do all."""
    told: dict[str, list[str]] = {}
    for deed in deeds:
        if not seated.may(*deed.kinds):
            roles = ",".join(who_may(kind.__name__ for kind in deed.kinds))
            told.setdefault(roles, []).append(deed.words)
    return for_others_text(told) if told else ""
