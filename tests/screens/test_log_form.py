"""Reading a log in the window: dropped, read in its turn, problems with row and mend."""

from __future__ import annotations

from datetime import datetime

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QLabel

from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.treatment_facts import ProbeLogKept, ProbeRead
from hotelwatch.screens.cases.log_form import LogForm
from tests.build import house, moment
from tests.core.logs_made import heat_log

CASE = CaseNo("2026-001")
COPY, LEFT = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
PLAIN = Qt.KeyboardModifier.NoModifier
BEGINS = datetime(2026, 2, 14, 6)


@pytest.fixture
def hotel(make_hotel):
    built = house().room("101").bed("A").room("102").bed("A").team("Dawn")
    sighted = Sighted(CASE, RoomNo("101"), "", "", Sign.LIVE_INSECT, 1, "maria", moment(39))
    return make_hotel(built.record(sighted))


@pytest.fixture
def form(hotel, make_context, qtbot):
    made = LogForm(make_context(hotel))
    qtbot.addWidget(made)
    made.resize(1000, 560)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.begin(case_of(hotel.house, CASE))
    return made


@pytest.fixture
def write(tmp_path):
    """Writes a log and says where."""

    def make(name, text, folder="."):
        (tmp_path / folder).mkdir(exist_ok=True)
        path = tmp_path / folder / name
        path.write_text(text, "utf-8")
        return path

    return make


def drop(form, *paths):
    """Drag files onto the form and let go; whether it would take them."""
    dragged = QMimeData()
    dragged.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    entering = QDragEnterEvent(QPoint(40, 40), COPY, dragged, LEFT, PLAIN)
    entering.ignore()
    QApplication.sendEvent(form, entering)
    if entering.isAccepted():
        QApplication.sendEvent(form, QDropEvent(QPointF(40, 40), COPY, dragged, LEFT, PLAIN))
    return entering.isAccepted()


def said_in(form):
    """What is said of the log, line by line."""
    return [one.text() for one in form.found.findChildren(QLabel) if one.isVisible()]


def read(form, qtbot, path):
    form.file.take(path)
    qtbot.waitUntil(lambda: not form._readings_left, timeout=5000)


def test_a_log_dropped_anywhere_on_the_form_is_read(form, qtbot, write):
    log = write("core.csv", heat_log(begins=BEGINS))
    assert not drop(form, write("photo.png", ""))
    assert drop(form, log)
    qtbot.waitUntil(lambda: form.looked is not None, timeout=5000)
    assert form.file.said.text() == "core.csv"
    assert "decides" in said_in(form)[0]
    # A field would take the file's name as text.
    assert not form.columns.begins.lineEdit().acceptDrops()
    assert not form.room.lineEdit().acceptDrops()


def test_of_several_logs_dropped_none_is_read(form, write):
    log = heat_log(begins=BEGINS)
    assert drop(form, write("a.csv", log), write("b.csv", log))
    assert form.form.problem_of(form.file) == "Drop one log at a time."
    assert form.file.path is None


def test_only_the_reading_asked_for_last_counts(form, hotel, qtbot, write):
    # Two files of one name: the second is chosen while the first is still being read.
    first = write("log.csv", heat_log(begins=BEGINS, core_celsius=44.5), "first")
    second = write("log.csv", heat_log(begins=BEGINS, core_celsius=53.0), "second")
    form.file.take(first)
    form.file.take(second)
    assert not form.save_button.isEnabled()
    qtbot.waitUntil(lambda: form.looked is not None, timeout=5000)
    assert form.save_button.isEnabled()
    core = next(p for p in form.looked.log.probes if p.place == "mattress_core")
    assert 50 < max(core.celsius) <= 53
    form.try_to_save()
    kept = next(one for one in hotel.house.all_of(ProbeRead) if one.place == "mattress_core")
    assert max(kept.celsius) == max(core.celsius)


def test_a_file_given_up_while_it_fails_takes_nothing_from_the_next(form, qtbot, write):
    form.file.take(write("empty.csv", ""))
    form.file.take(write("core.csv", heat_log(begins=BEGINS)))
    qtbot.waitUntil(lambda: form.looked is not None, timeout=5000)
    assert form.file.path.name == "core.csv"


def test_what_is_wrong_is_said_with_its_row_and_how_to_mend_it(form, qtbot, write):
    text = "Time,Mattress core °C\n2026-02-14 06:00,48\nlater,49\n2026-02-14 06:02,hot\n"
    read(form, qtbot, write("core.csv", text))
    said = "\n".join(said_in(form))
    assert "row 3" in said
    assert "“later” is no time; the row is left out." in said
    assert "Write times as 2026-03-09 10:40." in said
    assert "row 4" in said
    assert "“hot” is no temperature" in said
    assert form.looked.log.is_good


def test_how_a_day_is_written_is_asked_where_it_can_be_read_both_ways(form, qtbot, write):
    text = "Time,Mattress core °C\n02/03/2026 06:00,48\n02/03/2026 06:01,49\n"
    read(form, qtbot, write("core.csv", text))
    order = form.columns.order
    assert order.isVisible()
    assert not form.looked.log.is_good
    form.try_to_save()
    assert form.form.problem_of(form.found)
    order.setFocus()
    qtbot.keyClick(order, Qt.Key.Key_Down)
    assert order.currentData() == "day"
    qtbot.waitUntil(lambda: not form._readings_left, timeout=5000)
    (probe,) = form.looked.log.probes
    assert probe.begins_at.date().isoformat() == "2026-03-02"


def test_a_log_is_kept_by_keys_alone_as_degrees_celsius(form, hotel, qtbot, write):
    read(form, qtbot, write("core.csv", heat_log(begins=BEGINS, fahrenheit=True)))
    assert form.columns.unit.currentData() == "f"
    form.room.setFocus()
    qtbot.keyClick(form.room, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    (kept,) = hotel.house.all_of(ProbeLogKept)
    assert (kept.room, kept.treated_on) == ("101", hotel.today())
    hottest = max(max(one.celsius) for one in hotel.house.all_of(ProbeRead))
    assert hottest == pytest.approx(56, abs=0.1)


def test_leaving_keeps_the_file_and_another_case_does_not(form, hotel, qtbot, write):
    read(form, qtbot, write("core.csv", heat_log(begins=BEGINS)))
    qtbot.keyClick(form.file.choose, Qt.Key.Key_Escape)
    form.begin(case_of(hotel.house, CASE))
    assert form.is_begun()
    form.case = None
    form.begin(case_of(hotel.house, CASE))
    assert not form.is_begun()
    assert not form.columns.isVisible()
