"""What stands in the fields of a form, as plain values to be kept on disk, and back.

A field of its own kind offers ``to_keep()``, what JSON can hold, and ``take_kept(value)``.
A field that hides what is typed (a PIN) is never read.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from PySide6.QtCore import QDateTime, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QDateTimeEdit,
    QDoubleSpinBox,
    QLineEdit,
    QSpinBox,
    QWidget,
)

from hotelwatch.screens.forms.entry_form import MomentField
from hotelwatch.screens.forms.fields import ChoiceField

PARTS = (QAbstractButton, QLineEdit, QSpinBox, QDoubleSpinBox, QComboBox)


def values_of(fields: Mapping[str, QWidget]) -> dict[str, Any]:
    """The value of each field by its name; a moment that nobody typed is left out."""
    told = {name: _value_of(field) for name, field in fields.items()}
    return {name: value for name, value in told.items() if value is not None}


def put_back(fields: Mapping[str, QWidget], values: Mapping[str, Any]) -> None:
    """Fill fields with what they held; those without a value stay as they are.

    Give the fields in the order in which one decides what another offers.
    """
    for name, field in fields.items():
        if name in values:
            _put(field, values[name])


def _value_of(field: QWidget) -> Any:  # noqa: ANN401 whatever JSON can hold
    if hasattr(field, "to_keep"):
        return field.to_keep()
    if isinstance(field, ChoiceField):
        value = field.value()
        return field.typed() or None if value is None else value
    if isinstance(field, QComboBox):
        value = field.currentData()
        return value if isinstance(value, str) and value else field.currentText()
    if isinstance(field, QLineEdit):
        return field.text() if field.echoMode() is QLineEdit.EchoMode.Normal else None
    if isinstance(field, QAbstractButton):
        return field.isChecked() if field.isCheckable() else None
    if isinstance(field, QSpinBox | QDoubleSpinBox):
        return _number_in(field)
    if isinstance(field, QDateTimeEdit):
        if isinstance(field, MomentField) and not field.was_edited:
            return None
        return field.dateTime().toString(Qt.DateFormat.ISODate)
    return [_value_of(part) for part in _parts_of(field)] or None


def _number_in(field: QSpinBox | QDoubleSpinBox) -> float:
    """The number typed, though the field may not have told of it yet."""
    line = field.lineEdit()
    if line.isModified() and line.hasAcceptableInput():
        return field.valueFromText(line.text())
    return field.value()


def _put(field: QWidget, value: Any) -> None:  # noqa: ANN401
    if hasattr(field, "take_kept"):
        field.take_kept(value)
    elif isinstance(field, QComboBox):
        _put_choice(field, str(value))
    elif isinstance(field, QLineEdit):
        field.setText(str(value))
        field.setModified(bool(value))
    elif isinstance(field, QAbstractButton):
        field.setChecked(bool(value))
    elif isinstance(field, QSpinBox):
        field.setValue(int(value))
        field.lineEdit().setModified(True)
    elif isinstance(field, QDoubleSpinBox):
        field.setValue(float(value))
        field.lineEdit().setModified(True)
    elif isinstance(field, QDateTimeEdit):
        moment = datetime.fromisoformat(value)
        shown = QDateTime.fromString(moment.strftime("%Y-%m-%dT%H:%M:%S"), Qt.DateFormat.ISODate)
        shown.setTimeZone(field.timeZone())
        field.setDateTime(shown)
        field.lineEdit().setModified(True)
    else:
        for part, kept in zip(_parts_of(field), value, strict=False):
            if kept is not None:
                _put(part, kept)


def _put_choice(field: QComboBox, value: str) -> None:
    """By what is meant, else by what is shown; else, where one may type, as typed."""
    place = field.findData(value)
    place = field.findText(value) if place < 0 else place
    if place >= 0:
        if isinstance(field, ChoiceField):
            field.choose(str(field.itemData(place)))
        else:
            field.setCurrentIndex(place)
    elif field.isEditable():
        field.setEditText(value)
        if (line := field.lineEdit()) is not None:
            line.setModified(True)


def _parts_of(field: QWidget) -> list[QWidget]:
    """The fields that stand side by side in one, as days of the week to tick."""
    return [
        part
        for part in field.findChildren(QWidget)
        if isinstance(part, PARTS) and not isinstance(part.parentWidget(), PARTS)
    ]
