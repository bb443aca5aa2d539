from __future__ import annotations

import subprocess
import sys
import textwrap
import threading
from typing import ClassVar

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QWidget

from hotelwatch.core.problems import Refusal
from hotelwatch.screens.app import Alarm, QuietReading, make_window, refuse_broken_qt
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.pages import READ_IN_QUIET, page_specs


@pytest.mark.parametrize(
    ("qt", "python", "starts"),
    [
        ((6, 12, 0), (3, 11), False),
        ((6, 12, 0), (3, 12), True),
        ((6, 11, 3), (3, 11), True),
        ((6, 12, 1), (3, 11), True),
    ],
)
def test_a_qt_that_aborts_on_this_python_is_refused(qt, python, starts):
    # PYSIDE-3474: PySide6 6.12.0 gives back None and True too often below Python 3.12.
    if starts:
        refuse_broken_qt(qt, python)
    else:
        with pytest.raises(Refusal, match="qt_breaks_on_this_python"):
            refuse_broken_qt(qt, python)


def test_the_qt_at_hand_survives_many_calls_that_return_nothing():
    # PYSIDE-3474 again: the child aborts after a few thousand such calls where it is broken.
    body = """
        from PySide6.QtCore import QCoreApplication, QObject, Signal

        class Bell(QObject):
            rang = Signal()

        app = QCoreApplication([])
        bell = Bell()
        heard = []
        bell.rang.connect(lambda: heard.append(True))
        for number in range(20_000):
            bell.setObjectName(str(number))
            bell.rang.emit()
        print(len(heard))
    """
    child = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(body)], capture_output=True, text=True, check=False
    )
    assert (child.returncode, child.stdout.strip()) == (0, "20000"), child.stderr


def test_errors_nobody_caught_ring_the_alarm_on_any_thread(qtbot):
    alarm, heard = Alarm(), []
    alarm.rang.connect(heard.append)
    error = ValueError("here")
    alarm.hook(ValueError, error, None)
    elsewhere = ValueError("elsewhere")
    args = threading.ExceptHookArgs((ValueError, elsewhere, None, None))
    thread = threading.Thread(target=alarm.thread_hook, args=(args,))
    thread.start()
    thread.join()
    qtbot.waitUntil(lambda: len(heard) == 2)
    assert heard == [error, elsewhere]


def test_pages_nobody_asked_for_are_read_in_one_after_the_other(qtbot, monkeypatch):
    read = []
    monkeypatch.setattr("hotelwatch.screens.app.import_module", read.append)
    monkeypatch.setattr("hotelwatch.screens.app.QUIET_MS", 1)
    parent = QObject()
    reading = QuietReading(READ_IN_QUIET, parent)
    qtbot.waitUntil(lambda: not reading.is_reading)
    assert read == list(READ_IN_QUIET)


def test_keys_and_titles_of_pages_are_unlike():
    specs = page_specs()
    assert len({spec.key for spec in specs}) == len(specs)
    titles = [spec.title for spec in specs if spec.in_navigation]
    assert len(set(titles)) == len(titles)


@pytest.mark.long
def test_every_page_opens_on_a_hotel_and_everything_in_it_has_a_name(
    qapp, qtbot, tmp_path, make_hotel, two_floors, nameless
):
    hotel = make_hotel(two_floors)
    hotel.close()
    window = make_window(qapp, ChoiceStore(tmp_path))
    qtbot.addWidget(window)
    window.show()
    assert window.open_path(hotel.path)
    for key in window.stack.specs:
        window.walk_to(key)
        qtbot.waitUntil(lambda key=key: window.stack.place == key, timeout=60_000)
        qtbot.waitUntil(lambda: not window.jobs.is_busy)
        assert window.stack.pages[key].isVisible()
        assert nameless(window) == [], key
    window.close()
    qtbot.waitUntil(lambda: not window.isVisible())  # a backup comes first


@pytest.mark.long
def test_nothing_but_the_window_shows_while_its_pages_are_made(make_window, make_hotel, two_floors):
    class Watch(QObject):
        shown: ClassVar[list[QWidget]] = []

        def eventFilter(self, watched, event):
            if event.type() == QEvent.Type.Show and isinstance(watched, QWidget):
                self.shown += [watched] if watched.isWindow() else []
            return False

    hotel = make_hotel(two_floors)
    hotel.close()
    watch = Watch()
    QApplication.instance().installEventFilter(watch)
    window = make_window(page_specs())
    window.open_path(hotel.path)
    for key in window.stack.specs:
        window.stack.go_to(key)
    QApplication.instance().removeEventFilter(watch)
    assert watch.shown == [window]
