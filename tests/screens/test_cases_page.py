from __future__ import annotations

from datetime import timedelta

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.hotel import describe_teams
from hotelwatch.actions.release import lift_quarantine
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    PhotoKept,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.case import Stage, case_of
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CaseNo, CheckKind, TeamDescribed, TeamName
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.screens.cases.page import CasesPage
from hotelwatch.screens.look.theme import Tone
from tests.build import day, house, moment


@pytest.fixture
def hotel(make_hotel):
    """Four rooms in a row; the last two are a suite."""
    build = house()
    build.room("101").bed("A")
    build.room("102").bed("A")
    build.room("103", suite="S").bed("A")
    build.room("104", suite="S").bed("A")
    return make_hotel(build)


def sight(hotel, room="101", sign=Sign.LIVE_INSECT):
    said = Sighted(CaseNo(""), room, "", "", sign, 0, "Esther", hotel.now())
    return log_sighting(hotel, said)


def judge(hotel, case, outcome=Outcome.CONFIRMED):
    was = "Carpet beetle" if outcome is Outcome.NOT_BED_BUG else ""
    judged = CaseJudged(case, outcome, "J. Marder", "Entomologist", hotel.today(), was=was)
    judge_case(hotel, judged)


def at_treatment(page):
    page.panel.tabs.setCurrentWidget(page.panel.treat_part)
    page.panel.treat.to_treat.click()
    return page.panel.treat.treatment


def at_release(page):
    page.panel.tabs.setCurrentWidget(page.panel.release_part)
    page.panel.release.to_lift.click()
    return page.panel.release.lift


def next_button(page, text):
    return next(b for b in page.panel.next.findChildren(QPushButton) if b.text() == text)


@pytest.fixture
def make_page(make_context, hotel, qtbot):
    def make(pages=("checks", "cases", "desk")):
        made = CasesPage(make_context(hotel, pages=pages))
        qtbot.addWidget(made)
        made._context.bus.changed.connect(lambda _changes: made.refresh())
        made.resize(1060, 680)
        with qtbot.waitActive(made):
            made.show()
            made.activateWindow()
        made.refresh()
        return made

    return make


def texts(table):
    return [[column.text(row) for column in table.model.columns] for row in table.shown_rows()]


def press(qtbot, *told):
    """Keys as a person presses them, wherever the keyboard is."""
    for one in told:
        where = QApplication.activePopupWidget() or QApplication.focusWidget()
        if isinstance(one, str):
            for char in one:
                where = QApplication.activePopupWidget() or QApplication.focusWidget()
                qtbot.keyClicks(where, char)
        else:
            qtbot.keyClick(where, one)


TAB, ENTER, DOWN = Qt.Key.Key_Tab, Qt.Key.Key_Return, Qt.Key.Key_Down


# --- the list ------------------------------------------------------------------------


def test_without_a_case_the_page_says_so_and_leads_to_the_form(make_page):
    page = make_page()
    assert page.table.empty_text.text() == "No case is open."
    assert page.panel.title.text() == "No case chosen"
    page.table.empty_step.click()
    assert page.sighting.isVisible()


def test_a_case_stands_with_its_stage_evidence_and_next_step(make_page, hotel):
    sight(hotel)
    page = make_page()
    assert texts(page.table) == [
        [
            "2026-001",
            "101",
            "Sat 14 Feb 2026",
            "Suspected",
            "Strong",
            "Look at 101",
            "Sun 15 Feb 2026, 10:00 CET",
        ]
    ]


def test_a_late_case_is_first_and_says_so_in_word_and_tint(make_page, hotel, clock):
    sight(hotel, "101")
    clock.moment += timedelta(hours=20)
    sight(hotel, "103")
    clock.moment += timedelta(hours=5)
    page = make_page()
    first, second = page.table.shown_rows()
    column = page.table.model.columns[-1]
    assert first.no == "2026-001"
    assert column.text(first) == "late: Sun 15 Feb 2026, 10:00 CET"
    assert column.tint(first) is Tone.LATE
    assert column.tint(second) is None


def test_few_cases_leave_the_case_in_view_the_room_unless_one_drags(make_page, hotel, qtbot):
    sight(hotel, "101")
    sight(hotel, "103")
    page = make_page()
    page.resize(1000, 720)
    page.show()
    view = page.table.view

    def spare():
        shown = [
            view.rowViewportPosition(n) + view.rowHeight(n) for n in range(len(texts(page.table)))
        ]
        return view.viewport().height() - max(shown)

    qtbot.waitUntil(lambda: 0 <= spare() < view.rowHeight(0))
    split = page._cases
    split.moveSplitter(split.sizes()[0] + 120, 1)
    held = split.sizes()
    sight(hotel, "102")
    page.refresh()
    qtbot.wait(20)
    assert split.sizes() == held


def test_closed_cases_come_on_wish(make_page, hotel):
    case = sight(hotel)
    judge(hotel, case, Outcome.NOT_BED_BUG)
    lift_quarantine(hotel, "101", case, by="Ana")
    page = make_page()
    assert texts(page.table) == []
    page.with_closed.setChecked(True)
    assert [row.no for row in page.table.shown_rows()] == [case]
    assert page.panel.title.text() == "Case 2026-001, room 101"


def test_a_room_leads_to_its_open_case_else_its_latest_else_to_the_form(make_page, hotel):
    closed = sight(hotel, "101")
    judge(hotel, closed, Outcome.NOT_BED_BUG)
    lift_quarantine(hotel, "101", closed, by="Ana")
    still_open = sight(hotel, "103")
    page = make_page()
    page.focus_room("104")  # another key of the suite, in quarantine with it
    assert page.panel.case.no == still_open
    page.focus_room("101")
    assert page.panel.case.no == closed
    page.focus_room("102")
    (bar,) = page._context.notices.bars()
    assert "no case in room 102" in bar.label.text()
    bar.button.click()
    assert page.sighting.form.room.value() == "102"


def test_arrows_choose_a_case_and_enter_goes_to_what_one_can_do(make_page, hotel, qtbot):
    sight(hotel, "101")
    sight(hotel, "103")
    page = make_page()
    page.setFocus()
    assert page.panel.case.no == "2026-001"
    press(qtbot, DOWN)
    assert page.panel.case.no == "2026-002"
    press(qtbot, ENTER)
    assert QApplication.focusWidget() is page.panel.to_judge


# --- checks asked for -------------------------------------------------------------------


def test_asked_checks_stand_with_reason_deadline_and_state(make_page, hotel, qtbot, went):
    case = sight(hotel, "102")
    look = full_look(hotel.house, "101", on=hotel.today(), by=("Ana", "Bo"), kind=CheckKind.ASKED)
    record_looks(hotel, [look])
    page = make_page()
    assert page.tabs.tabText(1) == "Checks asked for (2 left)"
    rows = {row[0]: row[1:] for row in texts(page.asked)}
    deadline = "Sun 15 Feb 2026, 10:00 CET"
    assert rows["102"] == [deadline, "to be done", "the room itself", case]
    assert rows["103"] == [deadline, "to be done", "shares a wall with 102", case]
    assert rows["101"][1] == "looked at Sat 14 Feb"
    page.tabs.setFocus()
    press(qtbot, Qt.Key.Key_Right)
    page.asked.select((case, "103", page.asked.shown_rows()[0].entry))
    page.asked.view.setFocus()
    press(qtbot, ENTER)
    assert went(page._context) == [("checks", "103")]


def test_the_check_to_record_is_that_of_the_case_then_of_a_neighbour(make_page, hotel, went):
    sight(hotel, "101")
    page = make_page()
    next_button(page, "Record the check").click()
    look = full_look(hotel.house, "101", on=hotel.today(), by=("Ana", "Bo"), kind=CheckKind.ASKED)
    record_looks(hotel, [look])
    next_button(page, "Record the check").click()
    assert went(page._context) == [("checks", "101"), ("checks", "102")]


def test_no_button_leads_to_a_page_that_is_not_there(make_page, hotel):
    sight(hotel)
    page = make_page(pages=("cases",))
    said = [button.text() for button in page.panel.next.findChildren(QPushButton)]
    assert "Judge…" in said
    assert "Record the check" not in said


# --- the case in view ---------------------------------------------------------------------


def test_the_story_and_what_is_next_are_told(make_page, hotel):
    sight(hotel)
    page = make_page()
    story = page.panel.story.text()
    assert "Live insect: 101. Seen or reported by Esther." in story
    assert "101 in quarantine: a sign was seen or reported." in story
    assert "2 rooms to be looked at by Sun 15 Feb 2026, 10:00 CET: 2 left." in story
    assert "102 (shares a wall with 101): to be done" in story
    coming = page.panel.next.text()
    assert "Look at 101: deep check, with its undersides." in coming
    assert "Have a competent person judge what was found in 101" in coming
    assert "by Tue 17 Feb 2026, 10:00 CET" in coming  # 72 hours


def test_what_is_late_says_late(make_page, hotel, clock):
    sight(hotel)
    clock.moment += timedelta(hours=25)
    page = make_page()
    assert "Late · was to be done by Sun 15 Feb 2026, 10:00 CET" in page.panel.next.text()


def test_suspected_becomes_confirmed_only_by_a_named_competent_persons_judgement(
    make_page, hotel, qtbot
):
    case = sight(hotel)
    page = make_page()
    assert page.panel.stage.text().startswith("Suspected.")
    page.panel.to_judge.setFocus()
    press(qtbot, ENTER)
    form = page.panel.judge
    assert QApplication.focusWidget() is form.outcome
    press(qtbot, "bed bug c", TAB, "Marder", TAB)
    form.try_to_save()
    assert "competent" in form.form.problem_of(form.competence)
    assert form.who.text() == "Marder"
    assert case_of(hotel.house, case).stage is Stage.SUSPECTED
    form.competence.setFocus()
    press(qtbot, "Entomologist", ENTER)
    judged = judgement_of(hotel.house, case)
    assert (judged.judged_by, judged.competence) == ("Marder", "Entomologist")
    assert judged.outcome is Outcome.CONFIRMED
    assert page.panel.stage.text().startswith("Confirmed.")
    assert "Suspected" not in page.panel.stage.text()
    assert page.panel.open_form() is None


def test_a_judgement_needs_an_outcome_a_name_and_a_day_that_has_come(make_page, hotel):
    sight(hotel)
    page = make_page()
    page.panel.to_judge.click()
    form = page.panel.judge
    form.try_to_save()
    assert form.form.problem_of(form.outcome)
    form.outcome.choose("undetermined")
    form.try_to_save()
    assert "Nobody is named" in form.form.problem_of(form.who)
    form.who.setText("Marder")
    form.competence.setText("Entomologist")
    form.day.set_day(day(41))
    form.try_to_save()
    assert form.form.problem_of(form.day)
    assert not hotel.house.all_of(CaseJudged)


def test_a_treatment_needs_the_firms_licence_and_a_time_of_reentry(make_page, hotel):
    case = sight(hotel)
    judge(hotel, case)
    page = make_page()
    form = at_treatment(page)
    assert "Only licensed professionals" in form.caution.text()
    assert "Nobody enters a treated room before its re-entry time." in form.caution.text()
    form.method.setText("Whole-room heat")
    form.firm.setText("Firm (invented)")
    form.try_to_save()
    assert "Give the time" in form.form.problem_of(form.reenter)
    assert form.form.problem_of(form.licence)
    form.reenter.setDateTime(form.reenter.dateTime().addDays(-1))
    form.licence.setText("W-1")
    form.try_to_save()
    assert "before its treatment" in form.form.problem_of(form.reenter)
    form.reenter.setDateTime(form.reenter.dateTime().addDays(2))
    form.licence.clear()
    form.try_to_save()
    assert form.form.problem_of(form.licence) == "Copy it from the firm's report."
    assert not hotel.house.all_of(TreatmentRecorded)
    form.licence.setText("W-1")
    form.try_to_save()
    (treated,) = hotel.house.all_of(TreatmentRecorded)
    assert (treated.room, treated.case, treated.treated_on) == ("101", case, day(40))
    assert treated.reenter_at == moment(41)
    assert page.panel.stage.text().startswith("In treatment.")
    assert "Nobody enters before Sun 15 Feb 2026, 10:00 CET." in page.panel.story.text()


def test_of_a_suite_the_room_of_the_sign_is_offered_and_more_can_be_named(make_page, hotel):
    sight(hotel, "103")
    page = make_page()
    form = at_treatment(page)
    assert form.rooms.rooms() == ("103",)
    assert set(form.rooms.boxes) >= {"103", "104"}


def test_lifting_says_what_is_missing_and_then_needs_a_name_and_a_reason(make_page, hotel):
    case = sight(hotel)
    page = make_page()
    form = at_release(page)
    assert "A competent person has yet to judge what was found in 101." in form.told.text()
    assert "answers for it by name, with a reason" in form.told.text()
    assert form.reason.isVisible()
    form.who.clear()
    form.try_to_save()
    assert form.form.problem_of(form.reason)
    assert form.form.problem_of(form.who)
    assert hotel.house.quarantined(hotel.now()) == {"101"}
    form.who.setText("Ana")
    form.reason.setText("Full house")
    form.try_to_save()
    (lifted,) = hotel.house.all_of(QuarantineLifted)
    assert (lifted.by, lifted.reason, lifted.conditions_met) == ("Ana", "Full house", False)
    assert page.panel.case.no == case
    assert not page.panel.release.to_lift.isVisible()


def test_lifting_on_met_conditions_asks_for_no_reason_and_promises_nothing(make_page, hotel):
    judge(hotel, sight(hotel), Outcome.NOT_BED_BUG)
    page = make_page()
    form = at_release(page)
    assert form.told.text() == "The conditions for room 101 are met."
    assert not form.reason.isVisible()
    assert form.caution.text() == "A clean look does not prove a clean room."
    form.try_to_save()
    (lifted,) = hotel.house.all_of(QuarantineLifted)
    assert (lifted.conditions_met, lifted.by) == (True, "tester")
    (bar,) = page._context.notices.bars()
    assert "does not prove" in bar.label.text()


def test_each_room_of_a_suite_is_lifted_on_its_own(make_page, hotel):
    judge(hotel, sight(hotel, "103"), Outcome.NOT_BED_BUG)
    page = make_page()
    form = at_release(page)
    form.room.choose("104")
    assert form.told.text() == "The conditions for room 104 are met."
    form.try_to_save()
    assert hotel.house.quarantined(hotel.now()) == {"103"}


def test_what_is_missing_follows_what_comes_in_while_the_form_is_open(make_page, hotel):
    case = sight(hotel)
    page = make_page()
    form = at_release(page)
    form.reason.setText("Full house")
    judge(hotel, case, Outcome.CONFIRMED)
    assert form.isVisible()
    assert "No licensed treatment of 101 is recorded." in form.told.text()
    assert form.reason.text() == "Full house"


def test_a_treated_room_lists_every_bed_that_lacks_clean_checks(make_page, hotel, clock):
    case = sight(hotel)
    judge(hotel, case)
    record_treatment(
        hotel,
        TreatmentRecorded(case, "101", hotel.today(), "Heat", "Firm", "W-1", moment(41)),
    )
    clock.moment = moment(42)
    page = make_page()
    # 4 clean checks after treatment: resources/parameters.toml, an assumption.
    assert "101/A: 0 of 4 clean checks" in at_release(page).told.text()


def test_one_form_at_a_time_and_escape_goes_back_to_its_button(make_page, hotel, qtbot):
    sight(hotel)
    page = make_page()
    page.panel.to_judge.click()
    page.panel.to_photo.click()
    page.panel.to_judge.click()
    assert page.panel.open_form() is page.panel.judge
    page.panel.judge.note.setText("in hand")
    press(qtbot, Qt.Key.Key_Escape)
    assert page.panel.open_form() is None
    assert QApplication.focusWidget() is page.panel.to_judge
    press(qtbot, ENTER)
    assert page.panel.judge.note.text() == "in hand"


def test_another_case_closes_the_form_and_gets_none_of_what_was_typed(make_page, hotel):
    sight(hotel, "101")
    other = sight(hotel, "103")
    page = make_page()
    page.panel.to_judge.click()
    page.panel.judge.note.setText("of 101")
    page.choose(other)
    assert page.panel.open_form() is None
    page.panel.to_judge.click()
    assert page.panel.judge.note.text() == ""
    assert other in page.panel.judge.title.text()


def test_a_photo_is_kept_and_shown_with_its_caption(make_page, hotel, tmp_path):
    sight(hotel)
    page = make_page()
    page.panel.to_photo.click()
    form = page.panel.photo
    form.try_to_save()
    assert form.form.problem_of(form.photo)
    Image.new("RGB", (900, 600), (90, 30, 30)).save(tmp_path / "spots.png")
    page._context.files.chosen = tmp_path / "spots.png"
    form.photo.choose.click()
    form.caption.setText("At the mattress label")
    form.try_to_save()
    (kept,) = hotel.house.all_of(PhotoKept)
    assert kept.caption == "At the mattress label"
    captions = [one.text() for one in page.panel.story.widget().findChildren(QLabel)]
    assert "At the mattress label" in captions


def test_a_sighting_logged_by_mistake_is_taken_back_with_its_reason(make_page, hotel, qtbot):
    sight(hotel, "101")
    page = make_page()
    page.panel.to_take_back.click()
    form = page.panel.take_back
    form.try_to_save()
    assert form.form.problem_of(form.entry)
    assert form.form.problem_of(form.reason)
    form.entry.setFocus()
    press(qtbot, "live insect", TAB, "Wrong room", ENTER)
    assert not hotel.house.sightings
    assert not hotel.house.quarantined(hotel.now())
    assert max(hotel.house.entries.values(), key=lambda e: e.number).note == "Wrong room"
    assert page.panel.title.text() == "No case chosen"


def test_a_released_room_is_never_called_free(make_page, hotel):
    judge(hotel, sight(hotel), Outcome.NOT_BED_BUG)
    page = make_page()
    said = " ".join(label.text() for label in page.findChildren(QLabel)).lower()
    assert "free of" not in said
    assert "bed-bug-free" not in said


def test_every_field_has_a_name_for_a_screen_reader(make_page, hotel, nameless):
    sight(hotel, "103")
    page = make_page()
    panel = page.panel
    for button in (
        panel.to_judge,
        panel.to_specimen,
        panel.to_photo,
        panel.to_join,
        panel.to_take_back,
    ):
        button.click()
        assert nameless(page) == []
    for opened in (at_treatment, at_release):
        opened(page)
        assert nameless(page) == []
    panel.tabs.setCurrentWidget(panel.ring_part)
    assert nameless(page) == []


def test_a_form_of_a_case_is_told_as_not_saved_once_something_is_typed(make_page, hotel, qtbot):
    sight(hotel, "101")
    page = make_page()
    form = at_release(page)
    assert page.unsaved() == ()
    qtbot.keyClicks(form.who, "Esther")
    assert page.unsaved() == ("Not saved: “Release”.",)
    page.panel.to_judge.click()
    page.panel.judge.outcome.choose("confirmed")
    assert page.unsaved() == ("Not saved: “Judge case 2026-001”.", "Not saved: “Release”.")


def test_cases_are_joined_and_a_sign_is_split_off_again(make_page, hotel):
    one, other = sight(hotel, "101"), sight(hotel, "103")
    page = make_page()
    page.choose(other)
    assert page.panel.to_split.isHidden()
    page.panel.to_join.click()
    form = page.panel.join
    form.try_to_save()
    assert form.form.problem_of(form.into)
    form.into.choose(one)
    form.try_to_save()
    assert form.form.problem_of(form.reason)
    form.reason.setText("same guests")
    form.try_to_save()
    assert list(hotel.house.sightings) == [one]
    page.choose(one)
    page.panel.to_split.click()
    form = page.panel.split
    form.sign.setCurrentIndex(1)
    form.reason.setText("after all")
    form.try_to_save()
    assert len(hotel.house.sightings) == 2


def test_a_specimen_is_followed_in_the_story(make_page, hotel):
    sight(hotel, "101")
    page = make_page()
    page.panel.to_specimen.click()
    form = page.panel.specimen
    form.try_to_save()
    assert form.form.problem_of(form.label)
    form.label.setText("T-7")
    form.where.setText("the housekeeper's safe")
    form.try_to_save()
    assert "Specimen T-7 of 101: kept here, the housekeeper's safe" in page.panel.story.text()


def test_what_is_no_bed_bug_needs_a_name_and_its_marks_are_shown(make_page, hotel):
    case = sight(hotel, "101")
    page = make_page()
    page.panel.to_judge.click()
    form = page.panel.judge
    assert "Bat bug" in form.marks.text()
    form.outcome.choose("not_bed_bug")
    form.who.setText("J. Marder")
    form.competence.setText("Entomologist")
    form.try_to_save()
    assert form.form.problem_of(form.was)
    form.was.setCurrentText("Carpet beetle or its larva")
    assert form.marks.text().startswith("Carpet beetle or its larva: ")
    form.try_to_save()
    assert judgement_of(hotel.house, case).was == "Carpet beetle or its larva"
    assert "It was: Carpet beetle or its larva." in page.panel.story.text()


def test_a_case_is_printed_from_its_panel(make_page, hotel, tmp_path, qtbot):
    case = sight(hotel, "101")
    page = make_page()
    page.panel.to_print.click()
    qtbot.waitUntil(lambda: bool(page._context.notices.bars()), timeout=20_000)
    (shown,) = page._context.files.shown
    assert shown.name == f"{hotel.path.stem}-{case}.pdf"
    assert shown.read_bytes()[:5] == b"%PDF-"


def test_a_teams_sheet_of_a_case_is_printed_for_the_team_one_chooses(make_page, hotel, qtbot):
    case = sight(hotel, "101")
    describe_teams(hotel, [TeamDescribed(TeamName("Night"), 2, 90, language="es")])
    page = make_page()
    menu = page.panel.to_sheet.teams
    menu.aboutToShow.emit()
    named = {action.text(): action for action in menu.actions()}
    named["Night, in Spanish (español)"].trigger()
    qtbot.waitUntil(lambda: bool(page._context.notices.bars()), timeout=20_000)
    (shown,) = page._context.files.shown
    assert shown.name == f"{hotel.path.stem}-{case}-sheet.pdf"
    assert shown.read_bytes()[:5] == b"%PDF-"


def test_a_specimens_label_is_printed_from_where_it_is_written_down(make_page, hotel, qtbot):
    sight(hotel, "101")
    page = make_page()
    case = page.case
    context = page._context
    page.panel.to_specimen.click()
    form = page.panel.specimen
    assert not form.print_labels.isVisible()
    form.label.setText("T-9")
    form.where.setText("safe")
    form.try_to_save()
    page.panel.to_specimen.click()
    assert form.print_labels.isVisible()
    form.print_labels.click()
    qtbot.waitUntil(lambda: bool(context.files.shown), timeout=20_000)
    qtbot.waitUntil(lambda: not context.jobs.is_busy, timeout=20_000)
    assert context.files.shown[0].read_bytes().startswith(b"%PDF")
    assert case == page.case
