"""A case's story on screen: one block a line, its day beside it, its photos as small pictures."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon, QImageReader, QPixmap
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.cases.story import StoryLine
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import show_file
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.store.photos import photo_path
from hotelwatch.wording.language import _
from hotelwatch.wording.story import days_line, story_details, story_sentence

PICTURE = QSize(132, 99)
PICTURE_AIR_PX = 12
WIDEST_DAY = "Wed 30 Nov 2026, 00:00 "


class StoryView(HeldScroll):
    """What happened in a case, the oldest first."""

    def __init__(self, context: Context) -> None:
        """Nothing to tell yet."""
        super().__init__()
        self._context = context
        self._shown: tuple[StoryLine, ...] | None = None
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(_("Story of the case"))
        self.viewport().setAutoFillBackground(False)
        self.show_lines(())

    def show_lines(self, lines: Sequence[StoryLine]) -> None:
        """Show these lines; the place stays where the same lines come again."""
        if self._shown == tuple(lines):
            return
        self._shown = tuple(lines)
        inside = QWidget()
        inside.setProperty("role", "plain")
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, 8, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(1, 1)
        for row, line in enumerate(lines):
            self._add_line(grid, row, line)
        grid.setRowStretch(len(lines), 1)
        self._inside = inside
        self.setWidget(inside)

    def text(self) -> str:
        """Everything told, line by line."""
        return "\n".join(label.text() for label in self._inside.findChildren(QLabel))

    def _add_line(self, grid: QGridLayout, row: int, line: StoryLine) -> None:
        zone = self._context.hotel.zone
        day = text_label(days_line(line, zone), role="muted")
        day.setFixedWidth(self.fontMetrics().horizontalAdvance(WIDEST_DAY))
        told = QVBoxLayout()
        told.setSpacing(2)
        told.addWidget(text_label(story_sentence(line, zone)))
        for detail in story_details(line):
            told.addWidget(text_label(f"–  {detail}"))
        if line.code == "photos":
            told.addLayout(self._pictures(line.values["facts"]))
        told.addStretch()
        grid.addWidget(day, row, 0, Qt.AlignmentFlag.AlignTop)
        grid.addLayout(told, row, 1)

    def _pictures(self, photos: Sequence[PhotoKept]) -> QHBoxLayout:
        line = QHBoxLayout()
        for photo in photos:
            line.addWidget(self._picture(photo), alignment=Qt.AlignmentFlag.AlignTop)
        line.addStretch()
        return line

    def _picture(self, photo: PhotoKept) -> QWidget:
        path = photo_path(self._context.hotel.path, photo.sha256)
        if path is None:
            return text_label(_("The photo is no longer beside the hotel's file."), role="muted")
        caption = photo.caption or _("Photo without caption")
        button = QToolButton()
        button.setProperty("role", "place")
        button.setIcon(QIcon(_small(str(path))))
        button.setIconSize(PICTURE)
        button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        button.setToolTip(_("{caption} (opens the picture)").format(caption=caption))
        button.setAccessibleName(caption)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

        def show() -> None:
            show_file(self._context, path)

        button.clicked.connect(show)
        held = QWidget()
        held.setFixedWidth(PICTURE.width() + 3 * PICTURE_AIR_PX)
        lines = QVBoxLayout(held)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(button)
        lines.addWidget(text_label(caption, role="" if photo.caption else "muted"))
        return held


def _small(path: str) -> QPixmap:
    """The picture decoded at the size shown, so that large photos cost little."""
    reader = QImageReader(path)
    whole = reader.size()
    if whole.isValid():
        reader.setScaledSize(whole.scaled(PICTURE, Qt.AspectRatioMode.KeepAspectRatio))
    return QPixmap.fromImage(reader.read())
