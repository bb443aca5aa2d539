"""What keeps a hotel's file from being left at once: work under way, and what is not saved."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from PySide6.QtWidgets import QMainWindow, QWidget

from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.forms.half_entered import not_saved
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class Doubt:
    """What would be lost or stopped, and the button that leaves all the same."""

    text: str
    yes_text: str
    is_of_work: bool = False
    """It is only about what is being done, and over with it."""


def doubt_about_leaving(pages: Iterable[QWidget], *, is_busy: bool) -> Doubt | None:
    """Why one should not leave now; None if nothing is lost."""
    if is_busy:
        return Doubt(
            _("Something is still being done. What is recorded is saved."),
            _("Stop it and close"),
            is_of_work=True,
        )
    told = unsaved_on(pages)
    if not told:
        return None
    text = _("{unsaved} Closing throws it away.").format(unsaved=" ".join(told))
    return Doubt(text, _("Close all the same"))


def doubt_about_another_file(pages: Iterable[QWidget], *, is_busy: bool) -> Doubt | None:
    """Why one should not open another hotel's file now; None if nothing is lost."""
    if is_busy:
        return Doubt(
            _("Something is still being done. What is recorded is saved."),
            _("Stop it and open"),
            is_of_work=True,
        )
    told = unsaved_on(pages)
    if not told:
        return None
    text = _("{unsaved} Opening another hotel's file throws it away.")
    return Doubt(text.format(unsaved=" ".join(told)), _("Open all the same"))


def unsaved_on(pages: Iterable[QWidget]) -> tuple[str, ...]:
    """What is typed on pages but not saved, as they say it; else by their forms."""
    return tuple(said for page in pages for said in _unsaved(page))


def _unsaved(page: QWidget) -> tuple[str, ...]:
    own: Callable[[], tuple[str, ...]] | None = getattr(page, "unsaved", None)
    return not_saved(page) if own is None else own()


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
