"""The Qt that is installed does not let go of None, as one release does on Python 3.11.

Source: PYSIDE-3474; seen as ``Fatal Python error: none_dealloc`` after some thousand calls.
"""

from __future__ import annotations

import subprocess
import sys

CALLS = """
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication, QStandardItem

app = QGuiApplication([])

class Teller(QObject):
    told = Signal(bool)

teller, item = Teller(), QStandardItem()
teller.told.connect(lambda _told: None)
for number in range(20_000):
    item.setText("x")
    teller.told.emit(True)
print("alive", item.text())
"""


def test_twenty_thousand_void_calls_and_signals_leave_the_interpreter_alive():
    done = subprocess.run(
        [sys.executable, "-X", "faulthandler", "-c", CALLS],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout == "alive x\n", done.stderr
    assert done.returncode == 0
