"""A day and a moment can be typed as they are shown, and never lead out of their field."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDateTimeEdit, QLineEdit, QVBoxLayout, QWidget

from hotelwatch.screens.forms.entry_form import MomentField
from hotelwatch.screens.forms.fields import DayField

pytestmark = pytest.mark.usefixtures("qapp")


def shown(*fields: QWidget) -> QWidget:
    frame = QWidget()
    lines = QVBoxLayout(frame)
    for field in fields:
        lines.addWidget(field)
    frame.show()
    frame.activateWindow()
    assert QTest.qWaitForWindowActive(frame)
    fields[0].setFocus()
    return frame


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("2026-11-26 10:40", datetime(2026, 11, 26, 10, 40, tzinfo=UTC)),
        ("2025-01-02 3:07", datetime(2025, 1, 2, 3, 7, tzinfo=UTC)),
        ("202611260905", datetime(2026, 11, 26, 9, 5, tzinfo=UTC)),
    ],
)
def test_a_moment_typed_as_shown_stays_in_its_field(typed: str, read: datetime) -> None:
    moment, after = MomentField(), QLineEdit()
    frame = shown(moment, after)
    moment.show_moment(datetime(2026, 3, 25, 14, 46, tzinfo=UTC), UTC)
    QTest.keyClick(moment, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(moment, typed)
    assert moment.moment(UTC) == read
    assert after.text() == ""
    assert frame.focusWidget() is moment
    QTest.keyClick(moment, Qt.Key.Key_Tab)
    assert frame.focusWidget() is after


def test_an_hour_alone_is_typed_with_its_colon() -> None:
    moment, after = MomentField(), QLineEdit()
    frame = shown(moment, after)
    moment.show_moment(datetime(2026, 11, 25, 14, 46, tzinfo=UTC), UTC)
    moment.setSelectedSection(QDateTimeEdit.Section.HourSection)
    QTest.keyClicks(moment, "9:05")
    assert moment.moment(UTC) == datetime(2026, 11, 25, 9, 5, tzinfo=UTC)
    assert frame.focusWidget() is moment


def test_a_day_typed_as_shown_is_the_day() -> None:
    day = DayField(date(2026, 11, 25))
    frame = shown(day)
    QTest.keyClick(day, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(day, "2026-12-03")
    assert day.day() == date(2026, 12, 3)
    assert frame.focusWidget() is day
