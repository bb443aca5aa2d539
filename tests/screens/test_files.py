"""Files shown by whatever the system opens them with."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget

from hotelwatch.screens.at_hand.files import FileDialogs


@pytest.mark.parametrize("answer", [True, False])
def test_whether_anything_shows_a_file_is_what_the_system_answers(
    qtbot, monkeypatch, tmp_path, answer
):
    window = QWidget()
    qtbot.addWidget(window)
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda _url: answer)
    assert FileDialogs(window).show(tmp_path / "a.pdf") is answer
