"""Treatment in the window: orders, work as reported, logs with their chart, care of things."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.choices import choose_rule
from hotelwatch.core.case_facts import CaseJudged, CheckAsked, Outcome, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.treatment_facts import (
    CareDone,
    FirmDescribed,
    ItemDiscarded,
    PaperKept,
    PaperKind,
    ProbeLogKept,
    TreatmentOrdered,
    TreatmentRecorded,
)
from hotelwatch.screens.cases.treatment_pane import TreatmentPane
from hotelwatch.store.kept_files import kept_file
from tests.build import day, house, moment
from tests.core.logs_made import heat_log
from tests.screens.test_log_form import drop

ROOM = RoomNo("101")
FIRM = "Firm (invented)"


@pytest.fixture
def hotel(make_hotel):
    return make_hotel(house().room("101").bed("A").room("102").bed("A").room("210").team("Dawn"))


@pytest.fixture
def pane(hotel, make_context, qtbot):
    made = TreatmentPane(make_context(hotel))
    qtbot.addWidget(made)
    made.resize(1000, 560)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made._context.bus.changed.connect(lambda _changes: made.show_case(case_of(hotel.house, CASE)))
    return made


CASE = CaseNo("2026-001")


@pytest.fixture
def case(hotel, pane):
    sighted = Sighted(CaseNo(""), ROOM, "", "", Sign.LIVE_INSECT, 1, "maria", hotel.now())
    assert log_sighting(hotel, sighted) == CASE
    judge_case(hotel, CaseJudged(CASE, Outcome.CONFIRMED, "Dr. Vey", "zoologist", hotel.today()))
    pane.show_case(case_of(hotel.house, CASE))
    return CASE


def only(hotel, kind):
    (fact,) = hotel.house.all_of(kind)
    return fact


def keep_log(pane, qtbot, path):
    pane.to_log.click()
    pane.log_form.file.take(path)
    qtbot.waitUntil(lambda: pane.log_form.looked is not None, timeout=5000)
    return pane.log_form


@pytest.fixture
def log_file(tmp_path):
    path = tmp_path / "core.csv"
    path.write_text(heat_log(begins=datetime(2026, 2, 14, 6)), "utf-8")
    return path


def test_several_rooms_are_recorded_with_all_that_the_firm_reported(pane, hotel, case, qtbot):
    pane.to_firm.click()
    form = pane.firm
    form.try_to_save()
    assert form.form.problem_of(form.firm)
    form.firm.setText(FIRM)
    form.licence.setText("L-7")
    form.expires.setChecked(True)
    form.day.set_day(day(30))
    form.try_to_save()
    assert only(hotel, FirmDescribed) == FirmDescribed(FIRM, "L-7", day(30))
    pane.to_treat.click()
    form = pane.treatment
    assert form.rooms.rooms() == ("101",)
    form.method.setText("Whole-room heat")
    form.firm.setText(FIRM)
    form.firm.editingFinished.emit()
    assert form.licence.text() == "L-7"
    form.reenter.setDateTime(form.reenter.dateTime().addDays(1))
    form.areas.setText("bed,  skirting , wall")
    form.preparation.choose("partly")
    form.bedding.choose("left")
    form.product.setText("as reported")
    assert set(form.rooms.boxes) >= {"101", "102"}
    form.rooms.boxes["101"].click()
    form.try_to_save()
    assert "Tick the rooms" in form.form.problem_of(form.rooms)
    form.rooms.boxes["101"].setFocus()
    for room in ("101", "102"):
        qtbot.keyClick(form.rooms.boxes[room], Qt.Key.Key_Space)
    assert not form.form.problem_of(form.rooms)
    form.try_to_save()
    first, second = hotel.house.all_of(TreatmentRecorded)
    assert (first.room, second.room) == ("101", "102")
    assert first.areas == ("bed", "skirting", "wall")
    assert (first.preparation, first.bedding, first.product) == ("partly", "left", "as reported")
    said = pane.text()
    assert f"The licence of {FIRM} ran out on" in said
    assert ": preparation done in part." in said
    assert "heat without a log" in said
    assert "Parts treated: bed, skirting and wall." in said
    # In sight however far one has scrolled.
    assert "Nobody of the staff is in a room under heat" in pane.caution.text()
    assert pane.caution.isVisible()
    assert not pane._inside.isAncestorOf(pane.caution)


def test_a_room_that_comes_to_the_case_is_offered_and_ticks_stay(pane, hotel, case):
    pane.to_treat.click()
    form = pane.treatment
    assert not pane.is_begun()
    form.rooms.boxes["102"].click()
    assert pane.is_begun()
    form.leave()
    asked = CheckAsked(case, RoomNo("210"), ("linen",), hotel.now())
    hotel.record(lambda _house: [asked], action="test")
    pane.to_treat.click()
    assert form.rooms.rooms() == ("101", "102")
    assert list(form.rooms.boxes) == ["101", "102", "210"]


def test_a_licence_follows_the_firm_until_somebody_types_one(pane, hotel, case, qtbot):
    for firm, licence in (("One (invented)", "L-1"), ("Two (invented)", "L-2")):
        described = FirmDescribed(firm, licence, None)
        hotel.record(lambda _house, fact=described: [fact], action="test")
    pane.to_treat.click()
    form = pane.treatment
    for firm, licence in (("One (invented)", "L-1"), ("Two (invented)", "L-2")):
        form.firm.setText(firm)
        form.firm.editingFinished.emit()
        assert form.licence.text() == licence
    form.licence.setFocus()
    form.licence.selectAll()
    qtbot.keyClicks(form.licence, "as reported")
    form.firm.setText("One (invented)")
    form.firm.editingFinished.emit()
    assert form.licence.text() == "as reported"


def test_an_order_needs_the_moment_that_the_firm_named(pane, hotel, case):
    pane.to_order.click()
    form = pane.order
    form.firm.setText(FIRM)
    form.who.setText("Ines")
    form.try_to_save()
    assert "that the firm named" in form.form.problem_of(form.at)
    form.at.setDateTime(form.at.dateTime().addDays(2))
    form.preparation.setText("open the drawers")
    form.try_to_save()
    ordered = only(hotel, TreatmentOrdered)
    assert (ordered.rooms, ordered.for_at) == (("101",), moment(42))
    assert "as the firm wrote: open the drawers" in pane.text()


def test_a_log_is_read_aside_shown_and_kept(pane, hotel, case, qtbot, log_file):
    form = keep_log(pane, qtbot, log_file)
    assert form.columns.probes["Mattress core °C"].currentData() == "mattress_core"
    assert pane.is_begun()
    form.try_to_save()
    kept = only(hotel, ProbeLogKept)
    assert (kept.log, kept.room, kept.file_name) == ("1", "101", "core.csv")
    assert not pane.is_begun()
    assert pane.log_view.isVisible()
    view = pane.log_view
    assert view.curves.curves[0].name == "Mattress core °C"
    assert "Mattress core °C decides" in view.text()
    assert "Kells and Goblirsch 2011" in view.text()
    assert "free of" not in view.text()
    assert "killed" not in view.text().lower()


def test_a_log_without_a_unit_is_kept_only_once_somebody_said_it(
    pane, hotel, case, qtbot, log_file
):
    log_file.write_text(log_file.read_text("utf-8").replace(" °C", ""), "utf-8")
    form = keep_log(pane, qtbot, log_file)
    assert "°C or °F" in "\n".join(label.text() for label in form.found.children()[1:])
    form.try_to_save()
    assert form.form.problem_of(form.found)
    assert not hotel.house.all_of(ProbeLogKept)
    form.form.clear()
    unit = form.columns.unit
    unit.setCurrentIndex(unit.findData("c"))
    unit.activated.emit(unit.currentIndex())
    qtbot.waitUntil(lambda: form.looked.verdict is not None, timeout=5000)
    form.try_to_save()
    assert only(hotel, ProbeLogKept)


def test_the_beginning_is_asked_only_where_the_file_names_no_day(
    pane, hotel, case, qtbot, tmp_path, log_file
):
    form = keep_log(pane, qtbot, log_file)
    assert not form.columns.begins.isVisible()
    assert not form.columns.order.isVisible()
    clocks = tmp_path / "clocks.csv"
    clocks.write_text("Time,Mattress °C\n08:00,48\n08:30,49\n", "utf-8")
    form.file.take(clocks)
    qtbot.waitUntil(lambda: form.looked is not None, timeout=5000)
    assert form.columns.begins.isVisible()
    assert not form.looked.log.is_good
    form.columns.begins.setDateTime(form.columns.begins.dateTime().addSecs(8 * 3600))
    form.columns.begins.editingFinished.emit()
    qtbot.waitUntil(lambda: form.looked.log.is_good, timeout=5000)
    (probe,) = form.looked.log.probes
    assert (probe.minutes, probe.begins_at.hour) == ((0.0, 30.0), 7)


def test_a_mapping_that_is_still_being_read_is_not_kept(pane, hotel, case, qtbot, log_file):
    form = keep_log(pane, qtbot, log_file)
    place = form.columns.probes["Air °C"]
    place.setCurrentIndex(place.findData("-"))
    place.activated.emit(place.currentIndex())
    form.try_to_save()
    assert "wait until it is read" in form.form.problem_of(form.file)
    qtbot.waitUntil(lambda: len(form.looked.log.probes) == 4, timeout=5000)
    form.try_to_save()
    assert [probe.name for probe in pane.logs[0].probes] == [
        "Headboard °C",
        "Base inside °C",
        "Mattress core °C",
        "Wall void °C",
    ]


def test_the_pointer_reads_the_chart_too(pane, hotel, case, qtbot, log_file):
    keep_log(pane, qtbot, log_file).try_to_save()
    chart = pane.log_view.chart
    qtbot.wait(1)  # laid out
    upper, _lower = chart._areas()
    qtbot.mouseMove(chart, upper.center().toPoint())
    qtbot.waitUntil(lambda: chart.row() is not None, timeout=2000)
    # Half of six hours after six, give or take a reading.
    assert 176 <= chart.row().minute <= 184


def test_a_file_that_is_no_table_is_said_and_can_be_chosen_again(
    pane, hotel, case, qtbot, log_file, tmp_path
):
    empty = tmp_path / "empty.csv"
    empty.write_text("", "utf-8")
    pane.to_log.click()
    pane.log_form.file.take(empty)
    qtbot.waitUntil(lambda: pane.log_form.file.path is None, timeout=5000)
    assert pane.log_form.looked is None
    pane.log_form.file.take(log_file)
    qtbot.waitUntil(lambda: pane.log_form.looked is not None, timeout=5000)


def test_the_chart_is_read_by_keys_and_its_table_says_the_same(pane, hotel, case, qtbot, log_file):
    keep_log(pane, qtbot, log_file).try_to_save()
    view = pane.log_view
    view.chart.setFocus()
    qtbot.keyClick(view.chart, Qt.Key.Key_Home)
    assert "06:00 CET" in view.reading.text()
    assert "dose of A so far 0.00 of 2.00" in view.reading.text()
    qtbot.keyClick(view.chart, Qt.Key.Key_Right)
    assert "06:02 CET" in view.reading.text()
    assert view.chart.accessibleDescription() == view.reading.text()
    qtbot.keyClick(view.chart, Qt.Key.Key_End)
    row = view.chart.row()
    assert f"{row.celsius[0]:.1f} °C" in view.reading.text()
    view.as_table.click()
    rows = view.table.shown_rows()
    assert len(rows) == 181
    assert rows[-1] == row
    assert view.as_table.text() == "Show as chart"
    # One line of the table for each reading: its dose runs up to what the verdict says.
    assert rows[-1].dose == pytest.approx(pane.logs[0].verdict.deciding.dose_eggs)


def test_for_the_tropical_species_no_dose_is_shown(pane, hotel, case, qtbot, log_file):
    keep_log(pane, qtbot, log_file).try_to_save()
    choose_rule(hotel, "species", "tropical")
    said = pane.log_view.text()
    assert "Nothing is concluded from this log." in said
    assert "dose for eggs" not in said
    assert "Dose at A" not in [column.title for column in pane.log_view.table.model.columns]


# Source: wash at 60 °C, or a hot dryer above 40 °C for 30 minutes: Naylor and Boase 2010,
# J Econ Entomol 103:136-139.
def test_care_is_compared_with_the_published_wash_and_dryer(pane, hotel, case):
    pane.to_care.click()
    form = pane.care
    form.step.choose("cart")
    assert not form.celsius.isVisible()
    form.step.choose("linen")
    assert "60 °C" in form.caution.text()
    form.celsius.setValue(40)
    form.minutes.setValue(60)
    form.try_to_save()
    assert form.form.problem_of(form.who)
    form.who.setText("Ines")
    form.try_to_save()
    assert only(hotel, CareDone).celsius == 40
    assert "less than the published wash" in pane.text()


def test_a_thing_thrown_away_says_whether_it_can_still_be_used(pane, hotel, case):
    pane.to_discard.click()
    form = pane.discard
    form.what.setText("armchair")
    form.labelled.setChecked(True)
    form.try_to_save()
    assert form.form.problem_of(form.who)
    form.who.setText("Ines")
    form.try_to_save()
    assert only(hotel, ItemDiscarded).is_labelled
    assert "labelled, but it can still be used" in pane.text()


@pytest.fixture
def report(tmp_path):
    path = tmp_path / "report.pdf"
    path.write_bytes(b"abc")
    return path


# Source: FIPS 180-4, SHA-256; the digest of "abc" is the standard's worked example.
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def keep_paper(pane, path, what="report"):
    pane.to_paper.click()
    pane.paper.file.take(path)
    pane.paper.what.choose(what)
    pane.paper.try_to_save()
    return pane.paper


def test_a_paper_is_chosen_kept_listed_and_opened(pane, hotel, case, report, nameless):
    assert pane.papers is None
    assert "Papers" not in pane.text()
    pane.to_paper.click()
    form = pane.paper
    form.try_to_save()
    assert "Choose a file" in form.form.problem_of(form.file)
    assert "Say what it is" in form.form.problem_of(form.what)
    pane._context.files.chosen = report
    form.file.choose.click()
    ((title, patterns),) = pane._context.files.asked
    assert title == "Choose a paper"
    assert "*.pdf" in patterns
    assert pane.is_begun()
    assert nameless(pane) == []
    form.what.choose("report")
    form.try_to_save()
    kept = PaperKept(case, ABC, "report.pdf", PaperKind.REPORT, hotel.by)
    assert only(hotel, PaperKept) == kept
    assert not pane.is_begun()
    assert f"Report kept: report.pdf, SHA-256 {ABC[:16]}…" in pane.text()
    assert nameless(pane) == []
    (button,) = pane.papers.buttons
    button.click()
    assert pane._context.files.shown == [kept_file(hotel.path, ABC)]


def test_what_cannot_be_kept_is_said_at_the_file_and_nothing_typed_is_lost(
    pane, hotel, case, report
):
    keep_paper(pane, report)
    form = keep_paper(pane, report, "receipt")
    assert "kept with the case already: report.pdf" in form.form.problem_of(form.file)
    assert (form.file.path, form.what.value()) == (report, "receipt")
    form = keep_paper(pane, report.rename(report.with_suffix(".exe")), "other")
    assert "no kind of file" in form.form.problem_of(form.file)
    form = keep_paper(pane, report, "other")
    assert form.form.problem_of(form.file)
    assert len(hotel.house.all_of(PaperKept)) == 1


def test_one_paper_is_dropped_at_a_time(pane, case, report):
    pane.to_paper.click()
    form = pane.paper
    drop(form, report, report.with_name("second.pdf"))
    assert "one paper at a time" in form.form.problem_of(form.file)
    assert form.file.path is None
    drop(form, report)
    assert form.file.path == report
    assert not form.form.problem_of(form.file)


def test_a_paper_that_is_gone_from_beside_the_file_says_so(pane, hotel, case, report, qtbot):
    keep_paper(pane, report)
    kept_file(hotel.path, ABC).unlink()
    pane.show_case(case_of(hotel.house, case))
    assert pane.papers.buttons == []
    gone = "No longer beside the hotel's file."
    qtbot.waitUntil(lambda: gone in pane.text(), timeout=2000)  # a new label is shown in its turn


def test_a_closed_form_of_another_case_keeps_no_file(pane, hotel, case, report):
    pane.to_paper.click()
    pane.paper.file.take(report)
    pane.paper.leave()
    sighted = Sighted(CaseNo(""), RoomNo("210"), "", "", Sign.EGGS, 1, "maria", hotel.now())
    other = log_sighting(hotel, sighted)
    assert other != case
    pane.show_case(case_of(hotel.house, other))
    pane.to_paper.click()
    assert pane.paper.file.path is None


def test_no_case_shows_nothing(pane):
    pane.show_case(None)
    assert pane.text() == ""
    assert not pane.is_begun()
    assert not pane.to_treat.isVisible()


def test_everything_by_keys_has_a_name(pane, hotel, case, qtbot, log_file, nameless):
    keep_log(pane, qtbot, log_file)
    assert nameless(pane) == []
    pane.log_form.try_to_save()
    assert nameless(pane) == []
    assert date(2026, 2, 14) == only(hotel, ProbeLogKept).treated_on
