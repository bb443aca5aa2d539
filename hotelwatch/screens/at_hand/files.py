"""Asks for files with the system's own dialog, without waiting in place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget


class FileDialogs(QObject):
    """Opens one file dialog at a time over a window, where the last file was."""

    def __init__(self, window: QWidget) -> None:
        """Ask over this window."""
        super().__init__(window)
        self._window = window
        self._folder = Path.home()
        self._dialog: QFileDialog | None = None
        self._then: Callable[[Path], object] | None = None

    def open(self, title: str, patterns: str, then: Callable[[Path], object]) -> None:
        """Ask for a file that exists."""
        dialog = QFileDialog(self._window, title, str(self._folder), patterns)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        self._ask(dialog, then)

    def save(
        self, title: str, patterns: str, suggested: Path, then: Callable[[Path], object]
    ) -> None:
        """Ask where to write a file; the suggestion stands in the dialog."""
        dialog = QFileDialog(self._window, title, str(suggested.parent), patterns)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(suggested.suffix.removeprefix("."))
        dialog.selectFile(suggested.name)
        self._ask(dialog, then)

    def folder(self, title: str, suggested: Path, then: Callable[[Path], object]) -> None:
        """Ask for a folder that exists."""
        dialog = QFileDialog(self._window, title, str(suggested))
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        self._ask(dialog, then)

    def show(self, path: Path) -> bool:
        """Open a file or folder with whatever the system opens it with; False: nothing does."""
        return QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def _ask(self, dialog: QFileDialog, then: Callable[[Path], object]) -> None:
        if self._dialog is not None:
            self._dialog.deleteLater()
        self._dialog, self._then = dialog, then
        dialog.fileSelected.connect(self._chosen)
        dialog.open()

    def _chosen(self, chosen: str) -> None:
        self._folder = Path(chosen).parent
        then, self._then = self._then, None
        if then is not None:
            then(Path(chosen))
