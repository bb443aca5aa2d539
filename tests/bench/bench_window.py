"""The window at 2,000 rooms and ten years of record, each against bare Qt in the same run.

Run as ``python -m tests.bench.bench_window``. Start to first paint is a process of its own
(see bench_start). A page switch counts until the page is painted; what a page reckons after
that is told beside it, with the longest time that the window answered nobody meanwhile.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime, time
from pathlib import Path
from time import perf_counter

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QAbstractTableModel, QSortFilterProxyModel, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QStackedWidget, QTableView, QVBoxLayout, QWidget

from hotelwatch.screens.tables.row_table import RowTable
from hotelwatch.screens.window import MainWindow
from tests.bench import bench_start
from tests.bench.bench_store import TODAY, build_ten_years
from tests.walk import app_of, window_on

ROUNDS = 7
WATCHED_S = 8.0
"""What a page reckons for longer is stopped then, and said to take at least so long."""
NOW = datetime.combine(TODAY, time(9), tzinfo=UTC)
TICK_MS = 2
KEYS = ("1", "0", "2")
SCREENFUL_PX = 400


def main() -> None:
    """Print every figure beside its baseline."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--file", help="a file built before, or where to keep the one built now")
    chosen = parser.parse_args()
    _app, look = app_of()
    with tempfile.TemporaryDirectory() as kept:
        folder = Path(kept)
        path = Path(chosen.file) if chosen.file else folder / "ten_years.hotelwatch"
        if not path.exists():
            print("building ten years of 2,000 rooms", flush=True)
            build_ten_years(path)
        bench_first_paint(path, folder)
        window = window_on(None, look, folder / "choices", clock=lambda: NOW)
        window.resize(1280, 800)
        window.show()
        opened = timed(lambda: window.open_path(path))
        print(f"{'opening it in a window':28} {ms(opened)}", flush=True)
        watched(window)
        bench_switches(window)
        bench_table(window)
        window._stop_and_close()


def bench_first_paint(path: Path, folder: Path) -> None:
    """A process each time, ours and a bare window in turn."""
    ours, bare = [], []
    for number in range(4):
        taken = (
            bench_start.seconds(bench_start.OURS, str(path), str(folder)),
            bench_start.seconds(bench_start.BARE),
        )
        if number:
            ours.append(taken[0])
            bare.append(taken[1])
    tell("start to first paint", statistics.median(ours), "bare window", statistics.median(bare))


def bench_switches(window: MainWindow) -> None:
    """To every page for the first time, and again; a bare stack of labels beside it."""
    bare = bare_switch()
    for key, spec in window.stack.specs.items():
        if not spec.in_navigation:
            continue
        window.stack.go_to("rules" if key != "rules" else "month")
        watched(window)
        shown, made = first_time(window, key)
        stalled, filled = watched(window)
        again = []
        for _ in range(ROUNDS):
            window.stack.go_to("rules" if key != "rules" else "month")
            window.grab()
            window.jobs.stop_all()
            QTest.qWait(30)
            again.append(timed(lambda key=key: painted(window, key)))
        tell(f"to {key}, again", statistics.median(again), "bare stack", bare)
        print(
            f"{'':28} the first time its place {ms(shown)}, itself {ms(made)},"
            f" filled after {ms(filled)}, longest stall meanwhile {ms(stalled)}",
            flush=True,
        )


def first_time(window: MainWindow, key: str) -> tuple[float, float]:
    """Until a page that was never shown has its place painted, and until it is painted itself."""
    start = perf_counter()
    window.walk_to(key)
    window.grab()
    shown = perf_counter() - start
    while window.stack.place != key:
        QTest.qWait(1)
    window.grab()
    return shown, perf_counter() - start


def painted(window: MainWindow, key: str) -> None:
    """Go to a page and paint the whole window."""
    window.stack.go_to(key)
    window.grab()


def watched(window: MainWindow) -> tuple[float, float]:
    """The longest time between two ticks of a fast timer until all is filled, and until then."""
    gaps, last = [0.0], [perf_counter()]

    def tick() -> None:
        now = perf_counter()
        gaps.append(now - last[0])
        last[0] = now

    timer = QTimer(interval=TICK_MS)
    timer.timeout.connect(tick)
    timer.start()
    began, filled = perf_counter(), 0.0
    while perf_counter() - began < WATCHED_S:
        QTest.qWait(50)
        if not window.jobs.is_busy and not filled:
            filled = perf_counter() - began
            break
    timer.stop()
    window.jobs.stop_all()
    return max(gaps), filled or WATCHED_S


def bare_switch() -> float:
    """A stack of two labels, switched and painted."""
    stack = QStackedWidget()
    for text in ("one", "two"):
        stack.addWidget(QLabel(text))
    stack.resize(1280, 800)
    stack.show()
    QTest.qWait(20)

    def switch() -> None:
        stack.setCurrentIndex(1 - stack.currentIndex())
        stack.grab()

    return statistics.median(timed(switch) for _ in range(ROUNDS))


class Bare(QAbstractTableModel):
    """The same cells, and nothing else."""

    def __init__(self, cells: list[list[str]]) -> None:
        """Hold these texts."""
        super().__init__()
        self.cells = cells

    def rowCount(self, parent=None):
        """How many rows."""
        return len(self.cells)

    def columnCount(self, parent=None):
        """How many columns."""
        return len(self.cells[0])

    def data(self, index, role=0):
        """A text."""
        return self.cells[index.row()][index.column()] if role == 0 else None


def largest_table(window: MainWindow) -> RowTable:
    """The table with the most rows on the page of the house."""
    window.stack.go_to("building")
    watched(window)
    tables = window.stack.pages["building"].findChildren(RowTable)
    return max(tables, key=lambda table: len(table.model.rows))


def bench_table(window: MainWindow) -> None:
    """Keystrokes in a filter line, and scrolling, of the table of all rooms."""
    table = largest_table(window)
    cells = [[column.text(row) for column in table.model.columns] for row in table.model.rows]
    view, order = QTableView(), QSortFilterProxyModel()
    order.setFilterKeyColumn(-1)
    model = Bare(cells)
    order.setSourceModel(model)
    view.setModel(order)
    holder = QWidget()
    QVBoxLayout(holder).addWidget(view)
    view.setFixedSize(table.view.size())
    holder.show()
    QTest.qWait(20)
    ours, bare = [], []
    for _ in range(ROUNDS):
        for typed in ("", *("".join(KEYS[: n + 1]) for n in range(len(KEYS)))):
            ours.append(timed(lambda typed=typed: type_in(table, typed)))
            bare.append(timed(lambda typed=typed: filter_bare(view, order, typed)))
    table.show_all()
    order.setFilterFixedString("")
    name = f"filter, {len(cells)} rooms"
    tell(name, statistics.median(ours), "bare table, filtered", statistics.median(bare))
    print(f"{'':28} worst {ms(max(ours))} against {ms(max(bare))}")
    tell(
        "scroll by a screenful",
        statistics.median(scrolled(table.view)),
        "bare table",
        statistics.median(scrolled(view)),
    )


def type_in(table: RowTable, typed: str) -> None:
    """What a keystroke comes to once the pause after typing is over."""
    table.filter.setText(typed)
    table._narrow()
    table.grab()


def filter_bare(view: QTableView, order: QSortFilterProxyModel, typed: str) -> None:
    """The same in a bare view."""
    order.setFilterFixedString(typed)
    view.grab()


def scrolled(view: QTableView) -> list[float]:
    """Times of one screenful each, painted."""
    bar = view.verticalScrollBar()
    view.setVerticalScrollMode(QTableView.ScrollMode.ScrollPerPixel)
    taken = []
    for number in range(40):
        taken.append(timed(lambda number=number: step(view, bar, number)))
    return taken


def step(view: QTableView, bar, number: int) -> None:
    """Scroll on and paint."""
    bar.setValue((number * SCREENFUL_PX) % max(1, bar.maximum()))
    view.viewport().grab()


def timed(what: Callable[[], object]) -> float:
    """Seconds that it takes."""
    start = perf_counter()
    what()
    return perf_counter() - start


def ms(seconds: float) -> str:
    """In milliseconds, or in seconds where it is long."""
    return f"{seconds:.2f} s" if seconds >= 1 else f"{seconds * 1000:.1f} ms"


def tell(name: str, ours: float, base: str, theirs: float) -> None:
    """One line: ours, the baseline, the ratio."""
    print(f"{name:28} {ms(ours):>9}; {base} {ms(theirs)}; {ours / theirs:.1f} times", flush=True)


if __name__ == "__main__":
    main()
