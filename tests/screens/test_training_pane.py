"""Training in the window: who is due again, and a training written down."""

from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import Qt

from hotelwatch.core.people_facts import TrainingRecorded, TrainingTopic
from hotelwatch.screens.rules.training_pane import TrainingPane
from tests.build import day, house


def test_a_training_is_written_down_and_no_longer_overdue(qtbot, make_context, make_hotel):
    hotel = make_hotel(house().room("101").bed("A").checked("A", day(0), by=("ana",)))
    pane = TrainingPane(make_context(hotel))
    qtbot.addWidget(pane)
    pane.refresh()
    rows = {row.subject: row for row in pane.table.shown_rows() if row.person == "ana"}
    assert all(row.is_overdue for row in rows.values())
    pane.person.setText("ana")
    pane.subject.setCurrentIndex(pane.subject.findData(TrainingTopic.LIFTING.value))
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    assert hotel.house.all_of(TrainingRecorded) == ()
    pane.language.setText("español")
    pane.by.setText("mira")
    qtbot.mouseClick(pane.save, Qt.MouseButton.LeftButton)
    (told,) = hotel.house.all_of(TrainingRecorded)
    assert (told.person, told.subject, told.language) == ("ana", "training_lifting", "español")
    rows = {row.subject: row for row in pane.table.shown_rows() if row.person == "ana"}
    assert not rows[TrainingTopic.LIFTING].is_overdue
