"""What stands in the fields of a form, as plain values to be kept on disk, and back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from PySide6.QtCore import QDateTime, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QDateTimeEdit,
    QDoubleSpinBox,
    QLineEdit,
    QSpinBox,
    QWidget,
)

from hotelwatch.screens.entry_form import MomentField
from hotelwatch.screens.forms import ChoiceField


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
    if isinstance(field, ChoiceField):
        return field.value()
    if isinstance(field, QLineEdit):
        return field.text()
    if isinstance(field, QAbstractButton):
        return field.isChecked()
    if isinstance(field, QSpinBox | QDoubleSpinBox):
        return field.value()
    if isinstance(field, QDateTimeEdit):
        if isinstance(field, MomentField) and not field.was_edited:
            return None
        return field.dateTime().toString(Qt.DateFormat.ISODate)
    raise TypeError(type(field).__name__)


def _put(field: QWidget, value: Any) -> None:  # noqa: ANN401
    if isinstance(field, ChoiceField):
        field.choose(str(value))
    elif isinstance(field, QLineEdit):
        field.setText(str(value))
        field.setModified(bool(value))
    elif isinstance(field, QAbstractButton):
        field.setChecked(bool(value))
    elif isinstance(field, QSpinBox):
        field.setValue(int(value))
    elif isinstance(field, QDoubleSpinBox):
        field.setValue(float(value))
    elif isinstance(field, QDateTimeEdit):
        moment = datetime.fromisoformat(value)
        shown = QDateTime.fromString(moment.strftime("%Y-%m-%dT%H:%M:%S"), Qt.DateFormat.ISODate)
        shown.setTimeZone(field.timeZone())
        field.setDateTime(shown)
