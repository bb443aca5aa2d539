"""The frame of an inline form, and fields that such forms share: a local moment, photos."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, tzinfo
from pathlib import Path
from typing import Any

from PySide6.QtCore import QDate, QDateTime, Qt, QTime, QTimeZone, QUrl, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.days import local_moment
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.forms.typed_parts import TypedParts
from hotelwatch.screens.layout.enter import ENTER
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.look.theme import MAIN, QUIET
from hotelwatch.wording.cautions import photo_caution
from hotelwatch.wording.language import _, join
from hotelwatch.wording.problems import refusal_sentence

NAME_PX = 100
PHOTO_ENDINGS = ("jpg", "jpeg", "png", "webp", "tif", "tiff", "bmp", "gif")


class MomentField(TypedParts):
    """A moment by the hotel's clock, shown and typed as 2026-11-25 14:05."""

    def __init__(self) -> None:
        """No moment said yet; ``show_moment`` gives one."""
        super().__init__()
        # Qt would move a time that the computer's own zone skips; the hotel's may not.
        self.setTimeZone(QTimeZone(QTimeZone.Initialization.UTC))
        self.setDisplayFormat("yyyy-MM-dd HH:mm")
        self.was_edited = False
        self.dateTimeChanged.connect(self._take_note)

    def show_moment(self, moment: datetime, zone: tzinfo) -> None:
        """Show a moment; it counts as not edited by a person."""
        local = moment.astimezone(zone)
        self.setDateTime(
            QDateTime(
                QDate(local.year, local.month, local.day),
                QTime(local.hour, local.minute),
                QTimeZone(QTimeZone.Initialization.UTC),
            )
        )
        self.was_edited = False

    def moment(self, zone: tzinfo) -> datetime:
        """The moment shown, in UTC."""
        day, clock = self.date(), self.time()
        local = datetime(day.year(), day.month(), day.day(), clock.hour(), clock.minute())
        return local_moment(local, zone)

    def _take_note(self) -> None:
        self.was_edited = True


class PhotoField(QWidget):
    """Photos to keep: dragged here or onto the form around it, or chosen as files."""

    changed = Signal()

    def __init__(self, context: Context) -> None:
        """No photo yet."""
        super().__init__()
        self._context = context
        self.photos: tuple[Path, ...] = ()
        self.said = QLabel(wordWrap=True)
        self.said.setProperty("role", "muted")
        self.choose = QPushButton(_("Choose a file…"))
        self.choose.setAutoDefault(True)
        self.choose.clicked.connect(self._ask)
        self.forget = QPushButton(_("Leave out"))
        self.forget.setProperty("role", QUIET)
        self.forget.setAutoDefault(True)
        self.forget.clicked.connect(self.clear)
        self.reminder = QLabel(photo_caution(), wordWrap=True)
        self.reminder.setProperty("role", "muted")
        line = QHBoxLayout()
        line.addWidget(self.choose)
        line.addWidget(self.said, 1)
        line.addWidget(self.forget)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(2)
        lines.addLayout(line)
        lines.addWidget(self.reminder)
        self.setFocusProxy(self.choose)
        self.clear()

    def add(self, *photos: Path) -> None:
        """Keep these too."""
        self.photos = tuple(dict.fromkeys((*self.photos, *photos)))
        self._say()

    def clear(self) -> None:
        """Keep none."""
        self.photos = ()
        self._say()

    def to_keep(self) -> list[str]:
        """The photos, to be kept with a form that is half entered."""
        return [str(photo) for photo in self.photos]

    def take_kept(self, photos: list[str]) -> None:
        """Take photos that were kept; those that are gone by now are left out."""
        self.add(*(photo for photo in map(Path, photos) if photo.exists()))

    def _say(self) -> None:
        middle, metrics = Qt.TextElideMode.ElideMiddle, self.fontMetrics()
        names = [metrics.elidedText(photo.name, middle, NAME_PX) for photo in self.photos]
        self.said.setText(join(names) or _("or drag it here"))
        self.said.setToolTip(join([photo.name for photo in self.photos]))
        self.forget.setVisible(bool(self.photos))
        self.changed.emit()

    def _ask(self) -> None:
        patterns = " ".join(f"*.{ending}" for ending in PHOTO_ENDINGS)
        kinds = _("Photos ({patterns})").format(patterns=patterns)
        self._context.files.open(_("Choose a photo"), kinds, self.add)


def dropped_photos(urls: list[QUrl]) -> tuple[Path, ...]:
    """The photos among what is dragged."""
    files = (Path(url.toLocalFile()) for url in urls if url.isLocalFile())
    return tuple(file for file in files if file.suffix.lower().removeprefix(".") in PHOTO_ENDINGS)


class EntryForm(QFrame):
    """A form that saves on Enter or Ctrl+Enter, goes away on Esc and takes photos dragged on it."""

    done = Signal()
    """It was saved or left; nothing more is to be shown of it."""

    def __init__(self, context: Context, save_text: str) -> None:
        """A form without fields; ``save_text`` names its one main button."""
        super().__init__()
        self.setProperty("role", "card")
        self.context = context
        self.form = Form()
        self.photos: PhotoField | None = None
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.caution = QLabel(wordWrap=True)
        self.caution.setProperty("role", "muted")
        self.save_button = QPushButton(save_text)
        self.save_button.setProperty("role", MAIN)
        self.save_button.setAutoDefault(True)
        self.save_button.setToolTip(_("Enter or Ctrl+Enter"))
        self.save_button.clicked.connect(self.try_to_save)
        self.leave_button = QPushButton(_("Not now"))
        self.leave_button.setAutoDefault(True)
        self.leave_button.setToolTip(_("Esc"))
        self.leave_button.clicked.connect(self.leave)
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            saving = QShortcut(QKeySequence(keys), self)
            saving.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            saving.setAutoRepeat(False)
            saving.activated.connect(self.try_to_save)

    # --- what a form of its own fills in -------------------------------------

    def save(self) -> bool:
        """Write it down; False if something is wrong, said where it is."""
        raise NotImplementedError

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal of this code concerns; None for a bar above the page."""
        return None

    def is_begun(self) -> bool:
        """Whether a person has typed, chosen or dragged anything into it."""
        photos = self.photos.photos if self.photos is not None else ()
        return bool(photos) or self.form.is_typed() or self.form.is_chosen()

    def in_words(self) -> str:
        """What it is, in words, where it was left half entered."""
        return self.title.text()

    def about(self) -> Any:  # noqa: ANN401
        """What it is about besides its fields, as JSON can hold it; None: nothing."""
        return None

    # --- making --------------------------------------------------------------

    def lay_out(self, *above: QWidget, last: QWidget | None = None) -> QVBoxLayout:
        """Title, what stands above the fields, the fields, the caution, what is long, buttons."""
        buttons = QHBoxLayout()
        buttons.addStretch()
        buttons.addWidget(self.leave_button)
        buttons.addWidget(self.save_button)
        inside = QWidget()
        inside.setProperty("role", "plain")
        inner = QVBoxLayout(inside)
        inner.setContentsMargins(0, 0, 8, 0)
        below = () if self.caution in above else (self.caution,)
        for widget in (*above, self.form, *below):
            inner.addWidget(widget)
        if last is not None:
            inner.addWidget(last)
        inner.addStretch()
        scroll = UprightScroll()
        scroll.setWidget(inside)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(16, 12, 8, 12)
        lines.addWidget(self.title)
        lines.addWidget(scroll, 1)
        lines.addLayout(buttons)
        self.caution.setVisible(bool(self.caution.text()))
        return lines

    def take_drops(self, photos: PhotoField) -> None:
        """Let photos be dropped anywhere on the form."""
        self.photos = photos
        self.setAcceptDrops(True)
        for kind in (QLineEdit, QComboBox, QAbstractSpinBox):
            for field in self.findChildren(kind):
                field.setAcceptDrops(False)  # else a field takes the file's name as text

    # --- what happens --------------------------------------------------------

    def try_to_save(self) -> None:
        """Save once; what is wrong is said at its field, and nothing typed is lost."""
        self.form.clear()
        with self._refusals():
            if self.save():
                self.form.settle()
                self.done.emit()

    def leave(self) -> None:
        """Go away without saving; what was typed stays for the next time."""
        self.form.clear()
        self.done.emit()

    @contextmanager
    def _refusals(self) -> Iterator[None]:
        try:
            yield
        except Refusal as refusal:
            field = self.field_of(refusal.code)
            if field is None:
                self.context.notices.refuse(refusal)
            else:
                self.form.say(field, " ".join(refusal_sentence(refusal)).strip())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter saves, Esc leaves; fields and buttons have had the key before."""
        if event.key() in ENTER:
            self.try_to_save()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Let photos come."""
        if self.photos is not None and dropped_photos(event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Keep the photos dropped."""
        if self.photos is not None:
            self.photos.add(*dropped_photos(event.mimeData().urls()))
            event.acceptProposedAction()


def clear_layout(layout: QVBoxLayout) -> None:
    """Take away everything that a column holds."""
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.setParent(None)
            widget.deleteLater()


def text_label(text: str, *, role: str = "") -> QLabel:
    """A label of words that wrap and can be selected."""
    label = QLabel(text, wordWrap=True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    if role:
        label.setProperty("role", role)
    return label


__all__ = [
    "EntryForm",
    "MomentField",
    "PhotoField",
    "clear_layout",
    "dropped_photos",
    "text_label",
]
