"""Why a round can't be in time: told in a list, drawn on the calendar, mended by a button."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.rounds.why_pane import MendCard, Reason, WhyPane
from tests.build import day

Key = Qt.Key
LONG = "Rooms 401 to 418 need 620 minutes by 14 March; 540 minutes of team time meet them. " * 6


@pytest.fixture
def pane(qtbot):
    made = WhyPane()
    qtbot.addWidget(made)
    made.resize(700, 260)
    made.show()
    with qtbot.waitActive(made):
        made.activateWindow()
    return made


def reasons():
    return [
        Reason(0, "101 has no opening.", frozenset(), frozenset({RoomNo("101")})),
        Reason(1, LONG, frozenset({day(1), day(2)}), frozenset({RoomNo("401"), RoomNo("418")})),
    ]


def test_arrows_choose_a_reason_and_long_ones_are_read_whole(pane, qtbot):
    heard = []
    pane.chosen.connect(heard.append)
    pane.show_reasons(reasons(), [])
    view = pane.reasons.view
    view.setFocus()
    qtbot.keyClick(view, Key.Key_Down)
    assert heard[-1].days == {day(1), day(2)}
    qtbot.waitUntil(lambda: view.rowHeight(1) > 2 * view.rowHeight(0))


def test_each_repair_is_done_by_its_button(pane, qtbot):
    done = []
    cards = [MendCard(f"Mend {n}", f"Do {n}", lambda n=n: done.append(n)) for n in (1, 2, 3)]
    pane.show_reasons(reasons(), cards)
    assert [button.text() for button in pane.buttons] == ["Do 1", "Do 2", "Do 3"]
    qtbot.keyClick(pane.buttons[1], Key.Key_Space)
    assert done == [2]
    assert pane.buttons[1].accessibleDescription() == "Mend 2"
    pane.show_reasons(reasons(), cards[:1])
    assert [button.text() for button in pane.buttons] == ["Do 1"]


def test_with_nothing_late_it_says_so_and_offers_nothing(pane):
    pane.show_reasons([], [])
    assert "has to be late" in pane.reasons.empty_text.text()
    assert pane.buttons == []


def test_its_list_keeps_to_qts_rules_and_all_has_a_name(pane, qtmodeltester, nameless):
    pane.show_reasons(reasons(), [MendCard("Mend", "Do", list)])
    qtmodeltester.check(pane.reasons.model)
    assert nameless(pane) == []
