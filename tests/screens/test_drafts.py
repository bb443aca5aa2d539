from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.cases.page import CasesPage
from hotelwatch.screens.checks.page import ChecksPage
from hotelwatch.screens.drafts.draft_file import DraftFile, KeptDraft
from hotelwatch.screens.forms.half_entered import half_entered, take_up
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.rules.page import RulesPage
from tests.build import moment, rules

Key = Qt.Key
SPECS = (
    PageSpec("checks", "Checks", "check", ChecksPage),
    PageSpec("cases", "Cases", "cases", CasesPage),
    PageSpec("rules", "House rules", "rules", RulesPage),
)
PIN = "271828"


@pytest.fixture
def inn(make_hotel, two_floors):
    hotel = make_hotel(two_floors)
    hotel.close()
    return hotel.path


@pytest.fixture
def open_window(make_window, inn):
    def make(folder="choices"):
        made = make_window(SPECS, folder=folder)
        assert made.open_path(inn)
        return made

    return make


def begin_check(window, qtbot, room="101"):
    window.stack.go_to("checks", room)
    form = window.stack.pages["checks"].form
    form.head.who.setText("Anna, Boris")
    form.note.setFocus()
    qtbot.keyClicks(form.note, "bed by the window")
    return form


def kept(tmp_path):
    return [
        one for path in (tmp_path / "drafts").glob("*.json") for one in json.loads(path.read_text())
    ]


def crash(window):
    """What is left on disk when the program is killed, put back after this window is closed."""
    folder = window.doors.drafts
    left = {path: path.read_bytes() for path in folder.glob("*.json")}
    window.stack.pages["checks"].unsaved = tuple
    window.close()
    for path, data in left.items():
        path.write_bytes(data)


def offered(window):
    return next(bar for bar in window.notices.bars() if bar.tone is Tone.ASKED)


def test_what_is_typed_is_kept_a_moment_later_and_gone_once_saved(open_window, qtbot, tmp_path):
    window = open_window()
    assert kept(tmp_path) == []
    form = begin_check(window, qtbot)
    qtbot.waitUntil(lambda: len(kept(tmp_path)) == 1, timeout=3000)
    (draft,) = kept(tmp_path)
    assert (draft["page"], draft["by"]) == ("checks", "tester")
    assert draft["values"]["what"] == "check of room 101"
    qtbot.keyClick(form.note, Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert window.hotel.house.checks_of("101/A")[-1].by == ("Anna", "Boris")
    qtbot.waitUntil(lambda: kept(tmp_path) == [], timeout=500)


def test_after_a_crash_it_is_offered_in_words_and_never_filled_in_by_itself(
    open_window, qtbot, clock
):
    window = open_window()
    begin_check(window, qtbot)
    window.drafts.keep()
    crash(window)
    window = open_window("again")
    bar = offered(window)
    assert bar.label.text() == "Half entered (10:00) and kept: check of room 101."
    assert [button.text() for button in bar.buttons] == ["Go on with it", "Throw it away"]
    assert window.stack.pages["checks"].unsaved() == ()
    bar.buttons[0].click()
    form = window.stack.pages["checks"].form
    assert form.note.text() == "bed by the window"
    assert form.draft.look.by == ("Anna", "Boris")
    assert len(window.hotel.house.checks_of("101/A")) == 1  # nothing was written down by it
    window.stack.pages["checks"].unsaved = tuple


def test_thrown_away_it_is_gone(open_window, qtbot, tmp_path):
    window = open_window()
    begin_check(window, qtbot)
    window.drafts.keep()
    crash(window)
    window = open_window("again")
    offered(window).buttons[1].click()
    assert kept(tmp_path) == []
    assert window.stack.pages["checks"].unsaved() == ()


def test_put_aside_it_is_offered_the_next_time_too(open_window, qtbot, tmp_path):
    window = open_window()
    begin_check(window, qtbot)
    window.drafts.keep()
    crash(window)
    window = open_window("again")
    offered(window).put_away.click()
    begin_check(window, qtbot, "201")
    window.drafts.keep()
    assert len(kept(tmp_path)) == 2
    window.stack.pages["checks"].unsaved = tuple
    window.close()
    assert [one["values"]["what"] for one in kept(tmp_path)] == ["check of room 101"]


def test_of_another_person_and_day_it_says_so(open_window, qtbot, clock):
    window = open_window()
    begin_check(window, qtbot)
    window.drafts.keep()
    crash(window)
    clock.moment = moment(42)
    window = open_window("again")
    window.write_as("Jon")
    window.drafts.offer()
    assert offered(window).label.text() == (
        "Half entered by tester (Sat 14 Feb 2026, 10:00 CET) and kept: check of room 101."
    )


def test_a_sighting_comes_back_with_every_field(open_window, qtbot):
    window = open_window()
    window.log_sighting("102")
    form = window.stack.pages["cases"].sighting.form
    form.sign.choose("live_insect")
    form.bed.choose("102/B")
    form.count.setValue(3)
    form.note.setText("behind the headboard")
    window.drafts.keep()
    page = window.stack.pages["cases"]
    (left,) = half_entered(page, "Cases")
    assert left["what"] == "sighting in room 102"
    form._empty()
    take_up(page, json.loads(json.dumps(left)))
    said = form.sighted()
    assert (said.room, said.bed, said.count) == ("102", "102/B", 3)
    assert said.noted == "behind the headboard"
    window.stack.pages["cases"].unsaved = tuple


def test_a_damaged_file_or_a_room_that_is_gone_stops_nobody(open_window, inn, tmp_path):
    folder = tmp_path / "drafts"
    folder.mkdir()
    file = DraftFile(folder, inn)
    file.open()
    look = {"room": "999"}
    file.write(
        [KeptDraft("checks", "ana", moment(40).isoformat(), {"what": "x", "checks": [look]})]
    )
    file.close()
    window = open_window()
    offered(window).buttons[0].click()
    assert any("can't go on with what was kept, x" in b.label.text() for b in window.notices.bars())
    window.close()
    (path,) = [folder / f"{name}.json" for name in file._names[:1]]
    path.write_text('[{"page": "checks", ')
    window = open_window("again")
    assert not window.notices.bars()
    assert window.hotel is not None


def test_two_windows_on_one_file_keep_their_drafts_apart(inn, tmp_path):
    folder = tmp_path / "drafts"
    one, two = DraftFile(folder, inn), DraftFile(folder, inn)
    assert one.open() == two.open() == ()
    one.write([KeptDraft("checks", "ana", moment(40).isoformat(), {"what": "one"})])
    two.write([KeptDraft("checks", "ben", moment(41).isoformat(), {"what": "two"})])
    third = DraftFile(folder, inn)
    assert third.open() == ()  # both windows still run
    third.close()
    one.close()
    two.close()
    fourth = DraftFile(folder, inn)
    assert [draft.what for draft in fourth.open()] == ["one", "two"]
    fourth.close()


def a_case(inn):
    """The number of the second of two cases, so that it is not in view by itself."""
    hotel = open_hotel(inn, rules(), clock=lambda: moment(39), by="Ana")
    for room in ("101", "202"):
        seen = Sighted(CaseNo(""), RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "Ana", moment(39), "")
        case = log_sighting(hotel, seen)
    other = next(no for no in hotel.house.sightings if no != case)
    hotel.close()
    return other


CHILD = """
    import sys
    from pathlib import Path
    from PySide6.QtCore import QTimer
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication
    from hotelwatch.actions.open_hotel import open_hotel
    from hotelwatch.screens.at_hand.choices import ChoiceStore
    from hotelwatch.screens.look.theme import Look
    from hotelwatch.screens.window import Doors, MainWindow
    from hotelwatch.core.facts import CaseNo
    from tests.build import moment, rules
    from tests.screens.test_drafts import PIN, SPECS

    app = QApplication([])
    folder = Path(sys.argv[2])
    opening = lambda path: open_hotel(path, rules(), clock=lambda: moment(40), by="Ana")
    doors = Doors(open=opening, start=None, make_demo=None, folder=folder,
                  drafts=folder / "drafts", zone="Europe/Vienna")
    window = MainWindow(doors, SPECS, look=Look(app), store=ChoiceStore(folder))
    window.show()
    assert window.open_path(Path(sys.argv[1]))
    window.stack.go_to("checks", "201")
    QTest.keyClicks(window.stack.pages["checks"].form.note, "half a check")
    window.stack.go_to_case(CaseNo(sys.argv[3]))
    panel = window.stack.pages["cases"].panel
    panel.tabs.setCurrentWidget(panel.treat_part)
    panel.treat.show_form(panel.treat.treatment)
    QTest.keyClicks(panel.treat.treatment.method, "heat, as the firm said")
    window.stack.go_to("rules")
    people = window.stack.pages["rules"].people
    QTest.keyClicks(people.name, "Mara Who-Is-New")
    QTest.keyClicks(people.pin, PIN)
    QTest.keyClicks(people.again, PIN)
    print("typed", flush=True)
    app.exec()
"""


@pytest.mark.long
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal here")
def test_a_killed_program_leaves_what_was_typed_to_the_next_one(open_window, inn, tmp_path):
    case = a_case(inn)
    here = Path(__file__).parents[2]
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(here)}
    child = subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(CHILD), str(inn), str(tmp_path), case],
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert child.stdout.readline().strip() == "typed"
        until = time.monotonic() + 20
        while len(kept(tmp_path)) < 3 and time.monotonic() < until:
            time.sleep(0.05)
    finally:
        child.kill()
        child.wait()
        child.stdout.close()
    assert all(PIN not in path.read_text() for path in (tmp_path / "drafts").iterdir())
    window = open_window()
    bar = offered(window)
    assert bar.label.text() == (
        "Half entered by Ana (10:00) and kept: check of room 201. Half entered by Ana (10:00) and"
        f" kept: Treatment in case {case}. Half entered by Ana (10:00) and kept: House rules,"
        " People."
    )
    bar.buttons[0].click()
    form = window.stack.pages["checks"].form
    assert form.draft.look.room == "201"
    assert form.note.text() == "half a check"
    panel = window.stack.pages["cases"].panel
    assert (panel.case.no, panel.treat.treatment.case.no) == (case, case)
    assert panel.treat.treatment.method.text() == "heat, as the firm said"
    people = window.stack.pages["rules"].people
    assert window.stack.pages["rules"].tabs.currentWidget() is people
    assert (people.name.text(), people.pin.text()) == ("Mara Who-Is-New", "")
    for page in window.stack.pages.values():
        page.unsaved = tuple
