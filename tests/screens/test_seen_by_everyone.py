"""Whoever sees badly, presses keys only or listens: every page of the invented hotel measured.

WCAG 2.2: 1.4.4 (text to 200 %), 1.4.10 (nobody scrolls in two directions), 2.1.1 and 2.1.2
(all by keys, no trap), 2.4.7 and 2.4.13 (focus is seen), 2.5.8 (targets), 4.1.2 (names).
"""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QRadioButton,
    QTableView,
    QWidget,
)

from hotelwatch.screens import pages
from hotelwatch.screens.look.theme import TextSize
from tests import seen
from tests.screens.test_theme import contrast
from tests.walk import focusable, forms, places, settle

pytestmark = pytest.mark.walk
MOST_TABS = 250
FOCUS_CHANGE = 3.0
"""WCAG 2.2, 2.4.13: the same pixels with and without focus differ by at least 3:1."""
LEAST_PIXELS = 40
PAGES = [spec.key for spec in pages.page_specs()]
AS_LONG_AS_ITS_ROWS = "desk"
"""The one page that scrolls as a whole, so that no table within it scrolls by itself."""


def told_once(faults):
    """Each fault once, with the first place where it shows and how many places do."""
    places_of = {}
    for fault in faults:
        where, _, what = fault.partition(": ")
        places_of.setdefault(what, []).append(where)
    lines = (f"{what} ({at[0]}, {len(at)} places)" for what, at in places_of.items())
    return "\n" + "\n".join(lines)


def frame_of(window):
    return window.stack.currentWidget()


def layout_faults(window, where):
    """What is cut, outside, overlapping or too small to press; a page that scrolls sideways."""
    faults = [
        f"{where}: {look_for.__name__}: {fault}"
        for look_for in (seen.cut, seen.outside, seen.overlapping, seen.small_targets)
        for fault in look_for(window)
    ]
    if frame_of(window).horizontalScrollBar().maximum():
        faults.append(f"{where}: scrolls sideways")
    return faults


@pytest.mark.timeout(300)
def test_text_of_twice_the_size_loses_nothing(make_invented):
    window = make_invented(TextSize.DOUBLE)
    faults = [fault for where in places(window) for fault in layout_faults(window, where)]
    assert not faults, told_once(faults)


@pytest.mark.timeout(300)
def test_every_page_fits_at_its_usual_size_and_everything_on_it_has_a_name(make_invented):
    window = make_invented()
    faults = []
    for where in places(window):
        faults += layout_faults(window, where)
        faults += [f"{where}: {fault}" for fault in without_name_or_titles(window)]
        if frame_of(window).verticalScrollBar().maximum() and where != AS_LONG_AS_ITS_ROWS:
            faults.append(f"{where}: scrolls")
    for where, form in forms(window):
        faults += [f"{where}: {fault}" for fault in without_name_or_titles(form)]
    assert not faults, told_once(faults)


@pytest.mark.timeout(300)
def test_a_small_window_loses_nothing(make_invented):
    window = make_invented(wide=960, tall=600)
    faults = []
    for where in places(window):
        for look_for in (seen.outside, seen.overlapping):
            faults += [f"{where}: {look_for.__name__}: {fault}" for fault in look_for(window)]
    assert not faults, told_once(faults)


def without_name_or_titles(window):
    """What a screen reader could not name, tables whose columns have no title, silent pictures."""
    faults = list(seen.nameless(focusable(window)))
    for table in window.findChildren(QTableView):
        model = table.model()
        if not table.isVisible() or model is None:
            continue
        titles = [
            model.headerData(n, Qt.Orientation.Horizontal)
            for n in range(model.columnCount())
            if not table.isColumnHidden(n)
        ]
        if not all(str(title or "").strip() for title in titles):
            faults.append(f"{seen.told(table)}: titles {titles}")
    return faults + [seen.told(one) for one in pictures(window) if not said_of(one)]


def pictures(window):
    """Widgets of our own that paint themselves."""
    return [
        one
        for one in window.findChildren(QWidget)
        if one.isVisible()
        and type(one).__module__.startswith("hotelwatch")
        and "paintEvent" in vars(type(one))
    ]


def said_of(picture):
    """A picture's own words, or those of the text beside the small sample that it is."""
    beside = picture.parentWidget().findChildren(QWidget)
    words = any(hasattr(one, "text") and one.text() for one in beside if one is not picture)
    return picture.accessibleName() or picture.accessibleDescription() or words


def reached_by_tab(window, key=Qt.Key.Key_Tab):
    """Everything that Tab comes to, from where the keyboard is round to there again."""
    start = QApplication.focusWidget()
    found = [start]
    for _ in range(MOST_TABS):
        QTest.keyClick(QApplication.focusWidget(), key)
        now = QApplication.focusWidget()
        if now is start:
            return found
        if now in found:
            raise AssertionError(f"Tab goes round between {seen.told(now)} and others")
        found.append(now)
    raise AssertionError("Tab never comes round")


def chosen_by_arrows(widget):
    """Of radio buttons that exclude one another Tab comes to one; arrows lead to the others."""
    return isinstance(widget, QRadioButton) and not widget.isChecked()


def tab_faults(window):
    """What Tab does not come to, or comes to one way only."""
    forward = reached_by_tab(window)
    back = reached_by_tab(window, Qt.Key.Key_Backtab)
    missed = [one for one in focusable(window) if one not in forward and not chosen_by_arrows(one)]
    odd = set(forward) ^ set(back)
    return [f"Tab does not reach {seen.told(one)}" for one in missed] + [
        f"one way only: {seen.told(one)}" for one in odd
    ]


def seen_change(before, after):
    """How many pixels differ by as much as a shape must stand out."""
    pixels = np.stack([inks_of(before), inks_of(after)], axis=-1)
    changed = pixels[pixels[..., 0] != pixels[..., 1]]
    pairs, counts = np.unique(changed, axis=0, return_counts=True)
    return sum(
        int(count)
        for (one, other), count in zip(pairs.tolist(), counts, strict=True)
        if contrast(f"#{one:06x}", f"#{other:06x}") >= FOCUS_CHANGE
    )


def inks_of(image):
    """Each pixel as 0xrrggbb."""
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    lines = np.frombuffer(image.constBits(), np.uint32).reshape(image.height(), -1)
    return lines[:, : image.width()] & 0xFFFFFF


def focus_faults(window):
    faults = []
    for widget in focusable(window):
        widget.setFocus(Qt.FocusReason.TabFocusReason)  # the page scrolls to it
        if not widget.hasFocus():
            continue  # it hands the keyboard on
        widget.clearFocus()
        around = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())
        shown = around.adjusted(-4, -4, 4, 4).intersected(window.rect())
        without = window.grab(shown).toImage()
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        held = window.grab(shown).toImage()
        count = seen_change(without, held)
        if count < LEAST_PIXELS:
            faults.append(f"{seen.told(widget)}: {count} pixels")
    return faults


@pytest.mark.timeout(300)
@pytest.mark.parametrize("page", PAGES)
def test_tab_comes_to_everything_and_one_sees_where_it_is(make_invented, page, qapp):
    qapp.setCursorFlashTime(0)
    window = make_invented()
    faults = []
    for where in places(window, page):
        found = [*tab_faults(window), *focus_faults(window)]
        faults += [f"{where}: {fault}" for fault in found]
    assert not faults, told_once(faults)


def test_a_list_scrolls_to_the_row_that_has_the_keyboard(make_invented):
    window = make_invented(TextSize.DOUBLE)
    window.walk_to("cases")
    settle(window)
    for view in window.findChildren(QAbstractItemView):
        if view.isVisible() and view.model() is not None and view.model().rowCount():
            view.setFocus(Qt.FocusReason.TabFocusReason)
            frame = frame_of(window)
            at = QRect(view.mapTo(frame, QPoint(0, 0)), view.size())
            assert frame.rect().intersects(at), seen.told(view)
