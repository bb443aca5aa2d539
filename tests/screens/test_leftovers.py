"""The watch over what a test leaves behind sees what it is meant to see."""

from __future__ import annotations

from PySide6.QtCore import QObject, QThread, QTimer
from PySide6.QtWidgets import QWidget


def test_a_timer_left_ticking_is_seen(made):
    timer = QTimer(interval=60_000)
    assert made.at_work() == []
    timer.start()
    assert made.at_work() == [timer]
    timer.stop()
    assert made.at_work() == []


def test_a_timer_made_with_a_parent_is_seen_until_its_parent_goes(made):
    parent = QObject()
    timer = QTimer(parent, singleShot=True, interval=60_000)
    timer.start()
    assert made.at_work() == [timer]
    del parent
    assert made.at_work() == []


def test_a_thread_left_running_is_seen(made):
    thread = QThread()
    thread.start()
    assert made.at_work() == [thread]
    thread.quit()
    thread.wait()
    assert made.at_work() == []


def test_what_a_closed_widget_owns_goes_with_it(qtbot, made):
    widget = QWidget()
    qtbot.addWidget(widget)
    QTimer(widget, interval=60_000).start()
    assert len(made.at_work()) == 1  # pytest-qt deletes the widget after the test
