"""What is kept and for how long, in the window; export and taking in from the file menu."""

from __future__ import annotations

from datetime import timedelta

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu

from hotelwatch.core.facts import BedChecked
from hotelwatch.core.record_facts import ContentExpired, ExpiryStopped, is_gone
from hotelwatch.screens.rules.page import RulesPage
from hotelwatch.store.verify import verify
from tests.build import day, house
from tests.screens.test_backups import SPECS


@pytest.fixture
def hotel(make_hotel):
    made = house().room("101").bed("A").checked("A", day(0), by=("Berta Quill",))
    return make_hotel(made)


@pytest.fixture
def page(make_context, hotel, qtbot):
    page = RulesPage(make_context(hotel))
    qtbot.addWidget(page)
    page.refresh()
    page.show()
    page.tabs.setCurrentWidget(page.kept)
    return page


def press(qtbot, button):
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def idle(qtbot, pane):
    qtbot.waitUntil(lambda: not pane._context.jobs.is_busy, timeout=10_000)


def look(qtbot, pane):
    press(qtbot, pane.look)
    idle(qtbot, pane)


def test_one_looks_before_anything_goes_and_then_it_is_gone(page, hotel, qtbot):
    pane = page.kept
    assert not pane.go.isEnabled()
    look(qtbot, pane)
    assert not pane.go.isEnabled(), "nothing is due yet"
    pane.years["keeps_names"].setCurrentIndex(pane.years["keeps_names"].findData("1"))
    press(qtbot, pane.save)
    assert hotel.house.choices == {"keeps_names": "1"}
    then = hotel.now() + timedelta(days=800)
    hotel._clock = lambda: then
    look(qtbot, pane)
    assert pane.go.isEnabled()
    assert "(this hotel's choice; fewer than its local rules say)" in str(pane.table.shown_rows())
    press(qtbot, pane.go)
    idle(qtbot, pane)
    assert hotel.house.all_of(ContentExpired)
    (check,) = hotel.house.all_of(BedChecked)
    assert is_gone(check.by[0]), "the window shows it no more"
    assert not pane.go.isEnabled()
    assert verify(hotel.path).is_sound


def test_a_dispute_stops_it_with_a_name_and_a_reason(page, hotel, qtbot):
    pane = page.kept
    press(qtbot, pane.stop)
    assert pane.stop_form.problem_of(pane.who)
    pane.who.setText("Eve Marsh")
    press(qtbot, pane.stop)
    assert pane.stop_form.problem_of(pane.reason)
    pane.reason.setText("a guest's claim")
    press(qtbot, pane.stop)
    assert hotel.house.all_of(ExpiryStopped)[-1].holds
    assert "Nothing may expire: Eve Marsh, a guest's claim" in pane.told.text()
    pane.who.setText("Eve Marsh")
    pane.reason.setText("settled")
    press(qtbot, pane.end)
    assert not hotel.house.all_of(ExpiryStopped)[-1].holds
    assert pane.told.isHidden()


def test_everything_goes_out_and_in_from_the_file_menu(make_window, hotel, qtbot):
    hotel.close()
    window = make_window(SPECS)
    assert window.open_path(hotel.path)
    out, other = hotel.path.with_name("out.zip"), hotel.path.with_name("other.hotelwatch")
    window.care._export(window.hotel, out)
    qtbot.waitUntil(lambda: not window.jobs.is_busy, timeout=10_000)
    window.care._take_in(window.open_path, out, other)
    qtbot.waitUntil(lambda: not window.jobs.is_busy, timeout=10_000)
    assert verify(other).last_digest == verify(hotel.path).last_digest
    texts = [action.text() for menu in window.findChildren(QMenu) for action in menu.actions()]
    assert any("Export everything" in text for text in texts)
    assert any("Take in an export" in text for text in texts)
