"""What keeps the window from closing at once: work under way, and what is typed but not saved."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from PySide6.QtWidgets import QMainWindow, QWidget

from hotelwatch.screens.choices import ChoiceStore
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class Doubt:
    """What would be lost or stopped, and the button that leaves all the same."""

    text: str
    yes_text: str


def doubt_about_leaving(pages: Iterable[QWidget], *, is_busy: bool) -> Doubt | None:
    """Why one should not leave now; None if nothing is lost."""
    if is_busy:
        return Doubt(
            _("Something is still being done. What is recorded is saved."), _("Stop it and close")
        )
    told = [said for page in pages for said in getattr(page, "unsaved", tuple)()]
    if not told:
        return None
    text = _("{unsaved} Closing throws it away.").format(unsaved=" ".join(told))
    return Doubt(text, _("Close all the same"))


def keep_size(window: QMainWindow, store: ChoiceStore) -> None:
    """Remember how large the window is for the next start."""
    size = window.normalGeometry().size()
    store.keep(
        replace(
            store.choices,
            width=size.width(),
            height=size.height(),
            is_maximised=window.isMaximized(),
        )
    )
