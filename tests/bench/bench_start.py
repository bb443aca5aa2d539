"""From start to the first painted page, on a hotel of 2,000 rooms and ten years of record.

Run as ``python -m tests.bench.bench_start``. Prints whole-process seconds in a child
process each time, against a bare Qt window in the same run, and their ratio.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.bench_store import build_ten_years

ROUNDS = 5

BARE = """
import sys
from PySide6.QtWidgets import QApplication, QMainWindow
from PySide6.QtCore import QTimer
app = QApplication(sys.argv)
window = QMainWindow()
window.show()
QTimer.singleShot(0, app.quit)
app.exec()
"""

OURS = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
app = QApplication(sys.argv[:1])
from hotelwatch import paths
from hotelwatch.screens.app import make_window
from hotelwatch.screens.at_hand.choices import ChoiceStore
window = make_window(app, ChoiceStore(Path(sys.argv[2])))
window.show()
window.open_path(Path(sys.argv[1]))
window.grab()
assert window.hotel is not None and window.stack.place == next(iter(window.stack.specs))
QTimer.singleShot(0, app.quit)
app.exec()
window.close()
window.jobs.close()
"""


def seconds(code: str, *words: str) -> float:
    """How long a fresh interpreter takes to run this."""
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code, *words], check=True)
    return time.perf_counter() - start


def main() -> None:
    """Build the hotel, then start the window on it and a bare one in turn."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "ten_years.hotelwatch"
        print("building ten years of 2,000 rooms")
        build_ten_years(path)
        ours, bare = [], []
        for number in range(ROUNDS + 1):
            taken = seconds(OURS, str(path), folder), seconds(BARE)
            if number:  # the first one warms the disk's cache
                ours.append(taken[0])
                bare.append(taken[1])
    for name, taken in (("start to first page", ours), ("a bare Qt window", bare)):
        median, least, most = statistics.median(taken), min(taken), max(taken)
        print(f"{name:20} {median:.2f} s ({least:.2f} to {most:.2f})")
    print(f"ratio {statistics.median(ours) / statistics.median(bare):.1f}")


if __name__ == "__main__":
    main()
