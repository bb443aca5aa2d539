"""What lies above a page or in its place, and every form: seen and reached by everyone, too.

Boxes, the lock and its pad, the first screen, the strip and the bars of notices, measured as
test_seen_by_everyone.py measures pages (WCAG 2.2: 1.4.3, 1.4.4, 2.1.1, 2.4.7, 2.5.8, 4.1.2).
"""

from __future__ import annotations

from functools import partial

import argon2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QLineEdit

from hotelwatch.screens.cases.dog_pane import DogForm
from hotelwatch.screens.forms.entry_form import EntryForm
from hotelwatch.screens.look.theme import LOOKS, TextSize, Theme
from tests import seen
from tests.overlays import BOXES, boxes, covers, kinds_of, opened, stand_in
from tests.screens.test_painted import faint
from tests.screens.test_seen_by_everyone import (
    chosen_by_arrows,
    focus_faults,
    tab_faults,
    told_once,
    without_name_or_titles,
)
from tests.walk import focusable, forms, settle

pytestmark = [pytest.mark.walk, pytest.mark.timeout(600)]
ABOVE = (boxes, covers)
BESIDE_ITS_LIST = (DogForm,)
"""Forms that are there all the time, and so take no keyboard when they are opened."""


@pytest.fixture(autouse=True)
def _pins_hashed_quickly(monkeypatch):
    """PINs are hashed with the least costs."""
    hasher = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    monkeypatch.setattr("hotelwatch.actions.people.hash_of", hasher.hash)


def test_every_form_is_opened_named_reached_and_seen(make_invented, qapp):
    qapp.setCursorFlashTime(0)
    window = make_invented()
    faults, opened = [], set()
    for where, form in forms(window):
        if form.isVisible():
            opened.add(type(form))
        held = QApplication.focusWidget()
        if not isinstance(form, BESIDE_ITS_LIST) and not form.isAncestorOf(held):
            faults.append(f"{where}: it has not the keyboard")
        found = [*faults_of(form), *missed_by_tab(form), *focus_faults(form)]
        faults += [f"{where}: {fault}" for fault in found]
    assert not faults, told_once(faults)
    assert opened == kinds_of(EntryForm), "a form that the walk does not open"


def test_every_box_and_cover_is_opened_named_reached_and_seen(make_invented, qapp):
    assert set(BOXES) == kinds_of(QDialog), "a box that the walk does not open"
    qapp.setCursorFlashTime(0)
    window = make_invented()
    faults, shown = [], set()
    stacks = (window.desk.cover, window.welcome._panes)
    for above in ABOVE:
        for where, top in above(window):
            shown |= {(stack, stack.currentIndex()) for stack in stacks}
            found = faults_of(top)
            if QApplication.focusWidget() is None:
                found.append("nothing has the keyboard")
                top.focusNextChild()
            if focusable(top):
                found += [*tab_faults(top), *focus_faults(top)]
            faults += [f"{where}: {fault}" for fault in found]
    assert not faults, told_once(faults)
    assert shown == {(stack, place) for stack in stacks for place in range(stack.count())}


def missed_by_tab(form):
    """What in a form Tab does not come to, or not back from."""
    first = next(one for one in focusable(form) if not chosen_by_arrows(one))
    reached = []
    for key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
        found, held = [], first
        first.setFocus(Qt.FocusReason.TabFocusReason)
        while form.isAncestorOf(held) and held not in found:
            found.append(held)
            QTest.keyClick(held, key)
            held = QApplication.focusWidget()
        first = found[-1]
        reached.append(set(found))
    wanted = {one for one in focusable(form) if not chosen_by_arrows(one)}
    return [f"Tab does not reach {seen.told(one)}" for one in wanted - (reached[0] & reached[1])]


def faults_of(top):
    """What of a box, a cover or a form is cut, outside, overlapping, too small or nameless."""
    measures = (seen.cut, seen.outside, seen.overlapping, seen.small_targets)
    found = [f"{measure.__name__}: {fault}" for measure in measures for fault in measure(top)]
    below = top.parentWidget() if isinstance(top, QDialog) else None
    if below is not None and top.size() != top.size().boundedTo(below.window().size()):
        found.append("larger than the window")
    return found + without_name_or_titles(top)


@pytest.mark.parametrize(
    ("text", "wide", "tall"), [(TextSize.NORMAL, 960, 600), (TextSize.DOUBLE, 1280, 800)]
)
def test_nothing_is_lost_in_a_small_window_or_at_twice_the_text(make_invented, text, wide, tall):
    window = make_invented(text, wide=wide, tall=tall)
    faults = []
    for above in (forms, *ABOVE):
        for where, top in above(window):
            faults += [f"{where}: {fault}" for fault in faults_of(top)]
    assert not faults, told_once(faults)


def test_a_box_fits_a_small_window_at_twice_the_text(make_invented):
    window = make_invented(TextSize.DOUBLE, wide=960, tall=600)
    faults = [f"{where}: {fault}" for where, box in boxes(window) for fault in faults_of(box)]
    assert not faults, told_once(faults)


def test_words_above_a_page_stand_out_from_their_ground_in_every_look(make_invented, look):
    window = make_invented()
    faults = []
    for above in ABOVE:
        for where, top in above(window):
            for worn, colours in LOOKS.items():
                look.choose(worn, TextSize.NORMAL)
                settle(window)
                found = faint(top.grab().toImage(), colours)
                faults += [f"{where}, {worn}: {fault}" for fault in found]
            look.choose(Theme.LIGHT, TextSize.NORMAL)
    assert not faults, told_once(faults)


def test_enter_in_a_field_of_a_box_presses_no_button_but_the_one_it_names(make_invented):
    window = make_invented()
    for where, box in boxes(window):
        pressed = []
        buttons = [one for one in box.findChildren(QAbstractButton) if one.isVisible()]
        for button in buttons:
            button.clicked.connect(partial(_note, pressed, button))
        lines = [one for one in box.findChildren(QLineEdit) if one.isVisible()]
        for line in (one for one in lines if one is not getattr(box, "line", None)):
            line.setFocus()
            QTest.keyClick(line, Qt.Key.Key_Return)
        assert pressed == [box.enter] * len(pressed), where
        assert box.isVisible(), where


def _note(pressed, button, _checked=False):
    pressed.append(button)


def test_escape_closes_every_box(make_invented):
    window = make_invented()
    for kind, open_it in BOXES.items():
        next(open_it(window))
        box = opened(kind)
        stand_in(box, window)
        closed = []
        box.finished.connect(closed.append)
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
        assert closed == [QDialog.DialogCode.Rejected], kind
