"""PySide counts some holders of widgets wrongly: a collection of garbage then takes live ones.

Seen with PySide 6.11.3: a scroll area that nothing but its stack held was collected while it
showed, what lay in it lost its Python half, and the program crashed.
"""

from __future__ import annotations

import gc

import pytest
from PySide6.QtWidgets import QScrollArea, QWidget
from shiboken6 import isValid

from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.screens.layout.page_frame import PageFrame
from hotelwatch.screens.pages import page_specs
from tests.walk import build_invented, copied, settle, window_on

pytestmark = pytest.mark.walk


def told(widget):
    words = [one.text() for one in widget.findChildren(QWidget) if hasattr(one, "text")]
    return f"{type(widget).__name__} {widget.objectName()} {words[:4]}"


@pytest.mark.timeout(300)
def test_no_widget_that_lives_is_taken_for_garbage(look, tmp_path, qtbot):
    path = copied(build_invented(tmp_path), tmp_path / "hotel")
    gc.collect()
    gc.set_debug(gc.DEBUG_SAVEALL)
    try:
        window = window_on(path, look, tmp_path / "choices")
        qtbot.addWidget(window)
        window.show()
        settle(window)
        for spec in page_specs():
            window.stack.go_to(spec.key)
            settle(window)
        gc.collect()
    finally:
        gc.set_debug(0)
    taken = [one for one in gc.garbage if isinstance(one, QWidget) and isValid(one)]
    living = [told(one) for one in taken if one.isVisible() or one.window() is window]
    gc.garbage.clear()
    assert living == []
    areas = window.findChildren(QScrollArea)
    assert areas
    assert [told(one) for one in areas if not isinstance(one, HeldScroll | PageFrame)] == []
    window._stop_and_close()
