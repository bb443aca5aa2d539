"""Looking back: reckoned when in view and once for each record, told in lists and sentences."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.cases import judge_case
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.odds import OddsWish, odds_view
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sign
from hotelwatch.core.checks.looking import find, full_look
from hotelwatch.core.facts import CheckKind, RoomNo
from hotelwatch.core.odds.past.back_rows import FoundBy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.screens.odds.back_pane import BackPane
from hotelwatch.screens.odds.page import OddsPage
from tests.build import house

ROOMS = ("101", "102", "103", "104")


@pytest.fixture
def hotel(make_hotel):
    build = house()
    for number in ROOMS:
        build.room(number).bed("A")
    return make_hotel(build)


def view_of(hotel):
    return odds_view(
        OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today(), None)
    )


@pytest.fixture
def pane(hotel, make_context, qtbot):
    made = BackPane(make_context(hotel))
    qtbot.addWidget(made)
    made.resize(1080, 640)
    return made


def look_back(pane, qtbot):
    """Show the pane with today's odds, and wait until it has looked back on them."""
    view = view_of(pane._context.hotel)
    pane.show()
    pane.show_view(view)
    qtbot.waitUntil(lambda: pane.shown is not None and pane.shown.wish.view is view, timeout=20_000)


def found(hotel, room="101"):
    """A deep check meets a live insect, and a competent person confirms it."""
    look = full_look(
        hotel.house, RoomNo(room), on=hotel.today(), by=("Ana", "Boris"), kind=CheckKind.DEEP
    )
    record_looks(hotel, [find(look, f"{room}/A", "base_staple_line", Sign.LIVE_INSECT)])
    case = next(reversed(hotel.house.sightings))
    judge_case(hotel, CaseJudged(case, Outcome.CONFIRMED, "Dr. Vey", "entomologist", hotel.today()))


def test_nothing_is_reckoned_before_somebody_looks(pane, hotel, qtbot):
    pane.show_view(view_of(hotel))
    assert not pane._context.jobs.is_busy
    assert pane.shown is None
    assert not pane.tabs.isVisibleTo(pane)
    pane.show()
    qtbot.waitUntil(lambda: pane.shown is not None, timeout=20_000)
    assert pane.tabs.isVisible()
    assert pane.state.isHidden()


def test_one_record_is_looked_back_on_once(pane, qtbot):
    look_back(pane, qtbot)
    shown = pane.shown
    pane.hide()
    pane.show()
    assert not pane._context.jobs.is_busy
    assert pane.shown is shown


def test_without_finds_it_says_what_that_does_not_say(pane, qtbot):
    look_back(pane, qtbot)
    assert "No confirmed find since" in pane.of_finds.text()
    assert "says nothing of what was missed" in pane.finds.empty_text.text()
    assert pane.of_find.isHidden()
    assert "Of 4 undersides no whole look is on record." in pane.of_kept.text()
    assert [row.bed for row in pane.never.shown_rows()] == [f"{room}/A" for room in ROOMS]


def test_a_find_comes_with_its_days_and_how_it_was_noticed(pane, hotel, clock, qtbot):
    clock.moment += timedelta(days=30)
    found(hotel)
    clock.moment += timedelta(days=5)
    look_back(pane, qtbot)
    (row,) = pane.finds.shown_rows()
    assert (row.room, row.found_by) == ("101", FoundBy.DEEP)
    assert pane.finds.current() is row
    assert "Room 101, found on" in pane.of_find.text()
    assert "Came in most likely (90 %, assumed)" in pane.of_find.text()
    assert "no treatment before" in pane.finds.as_text([row])
    (year,) = pane.years.shown_rows()
    assert (year.finds, year.nights) == (1, 5)
    assert "5 room nights closed for finds" in pane.of_cost.text()
    said = pane.of_finds.text() + pane.of_find.text() + pane.finds.as_text([row])
    assert "Ana" not in said
    assert "Boris" not in said


def test_a_find_after_a_treatment_says_which_is_likelier(pane, hotel, clock, qtbot):
    found(hotel)
    (case,) = hotel.house.sightings
    done = TreatmentRecorded(
        case, RoomNo("101"), hotel.today(), "heat", "an invented firm", "L-1", hotel.now()
    )
    record_treatment(hotel, done)
    clock.moment += timedelta(days=14)
    found(hotel)
    look_back(pane, qtbot)
    (row,) = pane.after_treatment.shown_rows()
    assert row.treatment.treated_on == done.treated_on
    assert "More likely left over from the treatment of" in pane.after_treatment.as_text([row])
    assert "assumed" in pane.after_treatment.as_text([row])
    assert [(one.name, one.finds) for one in pane.groups.shown_rows()] == [("101", 2)]
    assert "Those that may have outlived a treatment are left out." in pane.of_finds.text()


def test_what_is_written_down_meanwhile_is_looked_back_on_next(pane, hotel, clock, qtbot):
    clock.moment += timedelta(days=30)
    pane.show()
    pane.show_view(view_of(hotel))
    assert pane._context.jobs.is_busy
    found(hotel)
    later = view_of(hotel)
    pane.show_view(later)
    qtbot.waitUntil(lambda: pane.shown is not None, timeout=20_000)
    qtbot.waitUntil(lambda: pane.shown.wish.view is later, timeout=20_000)
    assert len(pane.finds.shown_rows()) == 1


def test_stopped_work_is_said_and_taken_up_at_the_next_showing(pane, qtbot):
    pane.show()
    pane._wish = None
    pane._stopped()
    assert "It was stopped" in pane.state.text()
    look_back(pane, qtbot)
    assert pane.state.isHidden()


def test_every_widget_reached_by_keys_has_a_name(pane, hotel, nameless, clock, qtbot):
    clock.moment += timedelta(days=30)
    found(hotel)
    look_back(pane, qtbot)
    for number in range(pane.tabs.count()):
        pane.tabs.setCurrentIndex(number)
        assert nameless(pane) == []


def test_the_page_leads_from_costs_to_other_rules(hotel, make_context, qtbot):
    context = make_context(hotel)
    page = OddsPage(context)
    qtbot.addWidget(page)
    page.resize(1080, 680)
    page.show()
    with qtbot.waitSignal(context.jobs.idle, timeout=20_000):
        page.refresh()
    titles = [page.tabs.tabText(n) for n in range(page.tabs.count())]
    assert titles.index("Looking back") == titles.index("What it rests on") - 1
    page.tabs.setCurrentWidget(page.back)
    qtbot.waitUntil(lambda: page.back.shown is not None, timeout=20_000)
    page.back.tabs.setCurrentIndex(page.back.tabs.count() - 1)
    page.back.to_compare.setFocus()
    qtbot.keyClick(page.back.to_compare, Qt.Key.Key_Space)
    assert page.tabs.currentWidget() is page.compare
    page.tabs.setCurrentWidget(page.back)
    qtbot.mouseClick(page.back.to_cycle, Qt.MouseButton.LeftButton)
    assert page.tabs.currentWidget() is page.cycle
