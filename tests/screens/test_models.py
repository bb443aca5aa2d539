"""Every model of the program under Qt's own model tester, in the window, and none forgotten."""

from __future__ import annotations

import importlib
import pkgutil

import pytest
from PySide6.QtCore import QAbstractItemModel, QAbstractProxyModel, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QAbstractItemView, QTableView

import hotelwatch.screens
from hotelwatch.actions.checks import record_looks
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CheckKind
from hotelwatch.screens.tables.model import RowOrder
from tests.walk import build_invented, places, settle, window_on

WARN = QAbstractItemModelTester.FailureReportingMode.Warning
"""A warning of Qt's fails a test here: see qt_log_level_fail in pyproject.toml."""


def model_classes():
    """Every class of a model that the program has, from all its modules."""
    for module in pkgutil.walk_packages(hotelwatch.screens.__path__, "hotelwatch.screens."):
        importlib.import_module(module.name)
    found, left = set(), [QAbstractItemModel]
    while left:
        for kind in left.pop().__subclasses__():
            left.append(kind)
            if kind.__module__.startswith("hotelwatch."):
                found.add(kind)
    return found


class Watch:
    """Puts each model that it meets under Qt's tester, once, with those that it stands on."""

    def __init__(self):
        self.testers = {}

    def meet(self, window):
        for view in window.findChildren(QAbstractItemView):
            model = view.model()
            while model is not None:
                if type(model).__module__.startswith("hotelwatch.") and model not in self.testers:
                    self.testers[model] = QAbstractItemModelTester(model, WARN)
                model = model.sourceModel() if isinstance(model, QAbstractProxyModel) else None

    def kinds(self):
        return {type(model) for model in self.testers}


def stir(window):
    """Sort, narrow and widen whatever is in view."""
    for view in window.findChildren(QTableView):
        order = view.model()
        if view.isVisible() and isinstance(order, RowOrder):
            order.sort(0, Qt.SortOrder.DescendingOrder)
            order.narrow("1")
            order.narrow("")
            order.sort(-1)


@pytest.fixture
def window(look, tmp_path, qtbot):
    made = window_on(build_invented(tmp_path), look, tmp_path / "choices")
    qtbot.addWidget(made)
    made.show()
    settle(made)
    yield made
    made._stop_and_close()


@pytest.mark.walk
@pytest.mark.timeout(300)
def test_no_model_breaks_qts_rules_while_one_works(window):
    watch = Watch()
    for _where in places(window):
        watch.meet(window)
        stir(window)
    room = next(iter(window.hotel.house.rooms))
    window.stack.go_to("checks", room)
    settle(window)
    watch.meet(window)
    hotel = window.hotel
    look = full_look(hotel.house, room, on=hotel.today(), by=("Ana", "Bogdan"), kind=CheckKind.DEEP)
    record_looks(hotel, [look])
    for page in ("checks", "building", "rounds", "today", "desk", "cases"):
        window.walk_to(page)
        settle(window)
        watch.meet(window)
        stir(window)
    assert model_classes() - watch.kinds() == set()
    assert len(watch.testers) > 2 * len(model_classes())


def test_the_tester_says_when_a_model_breaks_the_rules(qtbot, qtlog):
    from PySide6.QtCore import QAbstractTableModel

    class Wrong(QAbstractTableModel):
        """It grows and tells nobody."""

        rows = 1

        def rowCount(self, parent=None):
            return self.rows

        def columnCount(self, parent=None):
            return 1

        def data(self, index, role=0):
            return "0" if role == Qt.ItemDataRole.TextAlignmentRole else None

    model = Wrong()
    with qtlog.disabled():
        import PySide6.QtCore as core

        heard = []
        before = core.qInstallMessageHandler(lambda _kind, _where, text: heard.append(text))
        tester = QAbstractItemModelTester(model, WARN)
        model.dataChanged.emit(model.index(0, 0), model.index(0, 5))
        core.qInstallMessageHandler(before)
    assert tester is not None
    assert heard
