"""Hotel files opened lately: those that are not there now are marked, and can be forgotten."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QMenu, QWidget

from hotelwatch.wording.language import _


class RecentMenu(QMenu):
    """A menu of files, the one opened last first."""

    def __init__(
        self,
        parent: QWidget,
        *,
        open_path: Callable[[Path], object],
        forget: Callable[[tuple[str, ...]], object],
    ) -> None:
        """Empty; ``show_files`` fills it."""
        super().__init__(_("&Recent"), parent)
        self._open_path, self._forget = open_path, forget
        self._files: tuple[str, ...] = ()
        # Whether files are there is looked up only when one wants to see them.
        self.aboutToShow.connect(self._fill)

    def show_files(self, files: Sequence[str]) -> None:
        """Offer these files."""
        self._files = tuple(files)
        self._fill(marks_lost=False)
        self.setEnabled(bool(files))

    def _fill(self, *, marks_lost: bool = True) -> None:
        self.clear()
        lost = [file for file in self._files if marks_lost and not Path(file).exists()]
        for file in self._files:
            shown = file.replace("&", "&&")
            text = _("{file} – not there now").format(file=shown) if file in lost else shown
            self._add(text, partial(self._open_path, Path(file)))
        self.addSeparator()
        if lost:
            self._add(_("Forget those that are &not there"), partial(self._forget, tuple(lost)))
        if self._files:
            self._add(_("&Forget all recent files"), partial(self._forget, self._files))

    def _add(self, text: str, act: Callable[[], object]) -> None:
        self.addAction(text).triggered.connect(partial(_call, act))


def _call(act: Callable[[], object], _checked: bool = False) -> None:
    act()
