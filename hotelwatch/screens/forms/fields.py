"""Pieces of forms: labelled fields, days, choices by typing, who did it, problems in place.

::

    form = Form()
    self.room = form.add(_("&Room"), ChoiceField(rooms), hint=_("Type its number."))
    ...
    form.say(self.room, _("There is no room {room}.").format(room=typed))   # in place
    form.clear()                                                            # before each try

``form.add`` makes a label that is the field's buddy (Alt+letter), its accessible name,
and a line below it for what is wrong, which goes as soon as the person changes the field.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import partial
from typing import TypeVar

from PySide6.QtCore import (
    QDate,
    QEvent,
    QObject,
    QSize,
    QStringListModel,
    Qt,
    QTimer,
    Signal,
    SignalInstance,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QComboBox,
    QCompleter,
    QDateTimeEdit,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QWidget,
)

from hotelwatch.screens.forms.suggestions import suggest
from hotelwatch.screens.forms.typed_parts import TypedParts
from hotelwatch.screens.tables.model import folded
from hotelwatch.wording.language import _

W = TypeVar("W", bound=QWidget)
MOST_SHOWN = 12
TEXT_AIR_PX = 8


class Form(QWidget):
    """Labels and fields below one another, each with room for what is wrong with it."""

    def __init__(self) -> None:
        """An empty form."""
        super().__init__()
        self._lines = QGridLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setVerticalSpacing(4)
        self._lines.setColumnStretch(1, 1)
        self._problems: dict[QWidget, QLabel] = {}
        self._chosen: set[QWidget] = set()
        self.fields: dict[str, QWidget] = {}
        """Each field by what stands beside it, in their order."""
        self._row = 0

    def add(self, text: str, field: W, *, hint: str = "") -> W:
        """Put a field below the others; ``text`` may hold & before its Alt letter."""
        label = _Beside(text, field)
        if not field.accessibleName():
            field.setAccessibleName(text.replace("&", ""))
        if hint:
            field.setAccessibleDescription(hint)
            field.setToolTip(hint)
        _give_air(field)
        leave_wheel(field)
        problem = QLabel(wordWrap=True)
        problem.setProperty("role", "problem")
        problem.hide()
        self._lines.addWidget(label, self._row, 0, Qt.AlignmentFlag.AlignTop)
        self._lines.addWidget(field, self._row, 1)
        self._lines.addWidget(problem, self._row + 1, 1)
        self._problems[field] = problem
        for changed in _changes_of(field):
            changed.connect(partial(self._forgive, field))
        for chosen in _choices_of(field):
            chosen.connect(partial(self._take_choice, field))
        self.fields[_free_name(text.replace("&", ""), self.fields)] = field
        self._row += 2
        return field

    # --- what a person began ------------------------------------------------------

    def is_typed(self) -> bool:
        """Whether a person typed anything that still stands there."""
        return any(line.isModified() and line.text() for line in self.findChildren(QLineEdit))

    def is_chosen(self) -> bool:
        """Whether a person chose or ticked anything since ``settle``."""
        return bool(self._chosen)

    def count_as_begun(self) -> None:
        """What stands there is what a person entered, put back."""
        self._chosen.update(self.fields.values())

    def settle(self) -> None:
        """What stands there is written down, or is what the program put there."""
        self._chosen.clear()
        for line in self.findChildren(QLineEdit):
            line.setModified(False)

    def _take_choice(self, field: QWidget, *_what: object) -> None:
        self._chosen.add(field)

    # --- what is shown, and what is wrong with it ---------------------------------

    def show_field(self, field: QWidget, *, visible: bool) -> None:
        """Show a field with its label, or hide both."""
        field.setVisible(visible)
        for label in self.findChildren(QLabel):
            if label.buddy() is field:
                label.setVisible(visible)

    def say(self, field: QWidget, text: str) -> None:
        """Say below a field what is wrong with it, and bring the first such field forward."""
        first = not self.has_problems()
        problem = self._problems[field]
        problem.setText(text)
        problem.show()
        field.setAccessibleDescription(text)
        _mark(field, wrong=True)
        if first:
            field.setFocus()
            QTimer.singleShot(0, problem, partial(_bring_into_view, field, problem))

    def problem_of(self, field: QWidget) -> str:
        """What is said to be wrong with a field; empty for nothing."""
        problem = self._problems[field]
        return "" if problem.isHidden() else problem.text()

    def has_problems(self) -> bool:
        """Whether anything is said to be wrong."""
        return any(not problem.isHidden() for problem in self._problems.values())

    def clear(self) -> None:
        """Say of nothing that it is wrong."""
        for field in self._problems:
            self._forgive(field)

    def _forgive(self, field: QWidget, *_what_it_says: object) -> None:
        problem = self._problems[field]
        if not problem.isHidden():
            problem.hide()
            field.setAccessibleDescription(field.toolTip())
            _mark(field, wrong=False)


class _Beside(QLabel):
    """What a field is called, as high as the field, in whatever look."""

    def __init__(self, text: str, field: QWidget) -> None:
        super().__init__(text)
        self._field = field
        self.setBuddy(field)

    def sizeHint(self) -> QSize:
        return super().sizeHint().expandedTo(QSize(0, self._field.minimumSizeHint().height()))

    def minimumSizeHint(self) -> QSize:
        return super().minimumSizeHint().expandedTo(QSize(0, self.sizeHint().height()))


def _changes_of(field: QWidget) -> list[SignalInstance]:
    """What tells that a person changes a field."""
    changes = [field.activated] if isinstance(field, QComboBox) else []
    line = field if isinstance(field, QLineEdit) else field.findChild(QLineEdit)
    if isinstance(line, QLineEdit):
        changes.append(line.textEdited)
    if isinstance(field, QDateTimeEdit):
        changes.append(field.dateTimeChanged)
    own = getattr(field, "changed", None)
    if isinstance(own, SignalInstance):
        changes.append(own)
    return changes


def _choices_of(field: QWidget) -> list[SignalInstance]:
    """What tells that a person chooses something in a field without typing."""
    if isinstance(field, QComboBox):
        return [field.activated]
    return [field.clicked] if isinstance(field, QAbstractButton) else []


def _free_name(text: str, taken: Mapping[str, QWidget]) -> str:
    number = 1
    while (name := text if number == 1 else f"{text} {number}") in taken:
        number += 1
    return name


class _NoWheel(QObject):
    """Lets the wheel pass on to what scrolls, as if the field were not there."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() != QEvent.Type.Wheel:
            return super().eventFilter(watched, event)
        event.ignore()
        return True


def leave_wheel(field: QWidget) -> None:
    """Let the wheel change nothing in a field; whoever scrolls past means the page."""
    if isinstance(field, QComboBox | QAbstractSpinBox):
        field.installEventFilter(_NoWheel(field))
        field.setFocusPolicy(Qt.FocusPolicy.StrongFocus)


def _bring_into_view(field: QWidget, problem: QLabel) -> None:
    holder = field.parentWidget()
    while holder is not None and not isinstance(holder, QScrollArea):
        holder = holder.parentWidget()
    if isinstance(holder, QScrollArea):
        holder.ensureWidgetVisible(problem)
        holder.ensureWidgetVisible(field)


def _give_air(field: QWidget) -> None:
    # The stylesheet's padding does not reach the text of a field with two arrows.
    if isinstance(field, QAbstractSpinBox) and not isinstance(field, DayField):
        line = field.findChild(QLineEdit)
        if isinstance(line, QLineEdit):
            line.setTextMargins(TEXT_AIR_PX, 0, 0, 0)


def _mark(field: QWidget, *, wrong: bool) -> None:
    field.setProperty("wrong", "true" if wrong else "false")
    field.style().unpolish(field)
    field.style().polish(field)


class DayField(TypedParts):
    """A day, shown and typed as ISO 8601 has it (2026-11-25), with a calendar to pick from."""

    chosen = Signal(object)
    """The day, whenever it changes."""

    def __init__(self, day: date) -> None:
        """Show this day."""
        super().__init__()
        self.setCalendarPopup(True)
        leave_wheel(self)
        self.setDisplayFormat("yyyy-MM-dd")
        self.set_day(day)
        self.dateChanged.connect(self._tell)

    def day(self) -> date:
        """The day shown."""
        shown = self.date()
        return date(shown.year(), shown.month(), shown.day())

    def set_day(self, day: date) -> None:
        """Show another day."""
        self.setDate(QDate(day.year, day.month, day.day))

    def keep_within(self, first: date, last: date) -> None:
        """Allow no day before the first or after the last."""
        self.setDateRange(
            QDate(first.year, first.month, first.day), QDate(last.year, last.month, last.day)
        )

    def _tell(self, _day: QDate) -> None:
        self.chosen.emit(self.day())


class ChoiceField(QComboBox):
    """One of many, found by typing any part of its text; the arrow shows all."""

    chosen = Signal(object)
    """The value, whenever another one is chosen; None for none."""

    def __init__(self, choices: Iterable[tuple[str, str]] = (), *, prompt: str = "") -> None:
        """Choices as (value, text)."""
        super().__init__(editable=True)
        self._last: str | None = None
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setMaxVisibleItems(MOST_SHOWN)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(12)
        suggest(self, QCompleter(self.model(), self), anywhere=True)
        self._line().setPlaceholderText(prompt or _("Type to choose"))
        self._line().editingFinished.connect(self._settle)
        self.activated.connect(self._tell)
        self.offer(choices)

    def offer(self, choices: Iterable[tuple[str, str]]) -> None:
        """Offer these choices; the one chosen stays if it is still there."""
        held = self.value()
        self.clear()
        for value, text in choices:
            self.addItem(text, value)
        self.choose(held)

    def value(self) -> str | None:
        """The value chosen; None while what is typed names none."""
        place = self._place_of(self.currentText())
        return None if place is None else str(self.itemData(place))

    def choose(self, value: str | None) -> None:
        """Choose a value; None, or one that is not there, chooses none."""
        place = -1 if value is None else self.findData(value)
        self.setCurrentIndex(place)
        if place < 0:
            self._line().clear()
        self._tell()

    def typed(self) -> str:
        """What stands in the field."""
        return self.currentText().strip()

    def _line(self) -> QLineEdit:
        line = self.lineEdit()
        assert line is not None  # it is editable
        return line

    def _place_of(self, typed: str) -> int | None:
        """Exactly this text, else the only one that holds it, else that begins with it."""
        wanted = folded(typed.strip())
        if not wanted:
            return None
        texts = [folded(self.itemText(place)) for place in range(self.count())]
        exact = [place for place, text in enumerate(texts) if text == wanted]
        if exact:
            return self.currentIndex() if self.currentIndex() in exact else exact[0]
        holding = [place for place, text in enumerate(texts) if wanted in text]
        if len(holding) > 1:
            holding = [place for place in holding if texts[place].startswith(wanted)]
        return holding[0] if len(holding) == 1 else None

    def _settle(self) -> None:
        place = self._place_of(self.currentText())
        if place is not None:
            self.setCurrentIndex(place)
        self._tell()

    def _tell(self) -> None:
        value = self.value()
        if value != self._last:
            self._last = value
            self.chosen.emit(value)


class WhoField(QLineEdit):
    """Names of whoever did it, typed with commas between; known ones are offered."""

    def __init__(self, known: Sequence[str] = (), *, several: bool = True) -> None:
        """Offer these names; with ``several`` each after a comma anew."""
        super().__init__()
        self._several = several
        self._known = QStringListModel(list(known), self)
        completer = _LastName(self) if several else QCompleter(self)
        completer.setModel(self._known)
        suggest(self, completer)
        self.setPlaceholderText(_("Names, with commas between") if several else _("Name"))

    def offer(self, known: Sequence[str]) -> None:
        """Offer these names from now on."""
        self._known.setStringList(list(known))

    def names(self) -> tuple[str, ...]:
        """Names typed, each once, in the order typed."""
        parts = self.text().split(",") if self._several else [self.text()]
        cleaned = (" ".join(part.split()) for part in parts)
        return tuple(dict.fromkeys(name for name in cleaned if name))

    def set_names(self, names: Iterable[str]) -> None:
        """Show these names."""
        self.setText(", ".join(names))


class _LastName(QCompleter):
    """Completes the name after the last comma and leaves those before it."""

    def splitPath(self, path: str) -> list[str]:
        return [path.rsplit(",", 1)[-1].strip()]

    def pathFromIndex(self, index: object) -> str:
        line = self.widget()
        name = super().pathFromIndex(index)  # type: ignore[arg-type]
        if not isinstance(line, QLineEdit) or "," not in line.text():
            return name
        return f"{line.text().rsplit(',', 1)[0].rstrip()}, {name}"
