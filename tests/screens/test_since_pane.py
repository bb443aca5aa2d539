"""Since when, in the window: reckoned in the background, kept while reckoned again, stopped."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import record_looks
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo, StaysImported
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.screens.cases.case_panel import CasePanel
from hotelwatch.screens.cases.ring_pane import RingPane
from hotelwatch.screens.cases.since_pane import SincePane
from tests.build import day, house
from tests.core.test_ring import three_floors

PAGES = ("checks", "cases", "building")
NEVER = ("certain", "clear", "guarantee", "bed-bug free", "safe", " 0 %", "100 %")


@pytest.fixture
def hotel(make_hotel):
    build = house().room("101").bed("A").room("102").bed("A").room("103").bed("A").team("Dawn")
    hotel = make_hotel(build)
    rows = [
        Stay(f"{room}-{first}", room, "", day(first), day(first + 2))
        for room in ("101", "102", "103")
        for first in range(-200, 38, 4)
    ]
    hotel.record_stays(rows, StaysImported("list.csv", "00", day(-200), len(rows), 0, 0))
    for on in (-120, 10):
        look = (
            full_look(hotel.house, RoomNo(r), on=day(on), by=("a", "b"), kind=CheckKind.DEEP)
            for r in ("101", "102", "103")
        )
        record_looks(hotel, list(look))
    return hotel


def sighted(hotel, room="102", case="") -> CaseNo:
    found = Sighted(CaseNo(case), RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "Ana", hotel.now())
    if not case:
        return log_sighting(hotel, found)
    hotel.record(lambda _: [found], action="log_sighting")
    return CaseNo(case)


def judge(hotel, case, outcome=Outcome.CONFIRMED):
    was = "carpet_beetle" if outcome is Outcome.NOT_BED_BUG else ""
    judge_case(hotel, CaseJudged(case, outcome, "Dr. Vey", "zoologist", hotel.today(), was=was))


@pytest.fixture
def make_pane(make_context, qtbot):
    def make(hotel, kind=SincePane):
        pane = kind(make_context(hotel, pages=PAGES))
        qtbot.addWidget(pane)
        pane.resize(1040, 460)
        pane.show()
        return pane

    return make


@pytest.fixture
def settled(qtbot):
    """Waits until nothing is being reckoned."""

    def wait(pane):
        jobs = pane._context.jobs
        qtbot.waitUntil(lambda: not jobs.is_busy and not pane._reckoning.is_running, timeout=20000)

    return wait


def show(pane, case):
    pane.show_case(case_of(pane._context.hotel.house, case))


def words(pane):
    return "\n".join((pane.told.text(), pane.limits.text(), pane.of_case.text()))


def test_what_was_found_is_told_once_it_is_reckoned_with_if_until_it_is_judged(
    hotel, make_pane, settled
):
    case = sighted(hotel)
    pane = make_pane(hotel)
    show(pane, case)
    assert "Working out since when" in pane.state.text()
    assert not pane.heading.isVisible()
    assert not pane.picture.isVisible()
    settled(pane)
    assert not pane.state.isVisible()
    assert pane.heading.text().startswith("Room 102, sign seen on")
    assert pane.told.text().startswith(
        "If what was found in 102 is bed bugs, it was brought in most"
    )
    assert "assumed" in pane.told.text()
    assert pane.picture.isVisible()
    assert "cautious" in pane.picture.accessibleDescription()
    assert not any(word in words(pane).lower() for word in NEVER)
    assert pane.holds_if.text().startswith("These chances hold if what was found in 102 is bed")
    judge(hotel, case)
    show(pane, case)
    # What was said stays in sight while it is reckoned again.
    assert "being worked out again" in pane.state.text()
    assert pane.told.text().startswith("If what was found")
    settled(pane)
    assert pane.told.text().startswith("Brought in most likely")
    assert pane.heading.text().startswith("Room 102, found on")
    assert pane.holds_if.text().startswith("Assumed: how often it goes from room to room.")


def test_lists_have_neighbours_stays_without_guests_and_moves(hotel, make_pane, settled):
    lamp = FurnitureMoved(RoomNo("103"), RoomNo("102"), day(25), "lamp")
    hotel.record(lambda _: [lamp], action="furniture_moved")
    case = sighted(hotel)
    pane = make_pane(hotel)
    show(pane, case)
    settled(pane)
    near = pane.neighbours.as_text(pane.neighbours.shown_rows()).splitlines()
    assert near[0].split("\t") == ["Room", "Chance today", "Without this find", "Where it is"]
    assert {line.split("\t")[0] for line in near[1:]} == {"101", "103"}
    assert all("about 1 in" in line and "Shares a wall" in line for line in near[1:])
    stays = pane.stays.shown_rows()
    assert stays
    assert all(row.booking.startswith("102-") for row in stays)
    chances = [row.chance[Stance.CENTRAL] for row in stays]
    assert chances == sorted(chances, reverse=True)
    assert "lamp came from 103" in pane.moves.as_text(pane.moves.shown_rows())
    assert pane._tables.tabText(0) == "Next door (2)"
    assert pane._tables.tabText(2) == "What moved (1)"


def test_enter_on_a_row_leads_to_its_room(hotel, make_pane, settled, qtbot, went):
    case = sighted(hotel)
    pane = make_pane(hotel)
    show(pane, case)
    settled(pane)
    pane.neighbours.select("103")
    qtbot.keyClick(pane.neighbours.view, Qt.Key.Key_Return)
    pane._tables.setCurrentIndex(1)
    pane.stays.select((pane.stays.shown_rows()[0].booking, pane.stays.shown_rows()[0].arrives_on))
    qtbot.keyClick(pane.stays.view, Qt.Key.Key_Return)
    assert went(pane._context) == [("building", "103"), ("building", "102")]


def test_a_case_that_was_ruled_out_says_why_nothing_is_shown(hotel, make_pane, settled):
    case = sighted(hotel)
    judge(hotel, case, Outcome.NOT_BED_BUG)
    pane = make_pane(hotel)
    show(pane, case)
    settled(pane)
    assert pane.of_case.text().startswith("A competent person judged that it was no bed bug")
    for part in (pane.heading, pane.told, pane.picture, pane.rests, pane._tables):
        assert not part.isVisible()


def test_of_two_rooms_with_signs_one_chooses_which(hotel, make_pane, settled):
    case = sighted(hotel)
    pane = make_pane(hotel)
    show(pane, case)
    settled(pane)
    assert not pane.which.isVisible()
    sighted(hotel, "101", case)
    show(pane, case)
    settled(pane)
    assert pane.which.isVisible()
    assert pane.heading.text().startswith("Room 102")
    pane.which.choose("1")
    assert pane.heading.text().startswith("Room 101")
    rows = {row.room: row for row in pane.neighbours.shown_rows()}
    assert set(rows) == {"102"}
    assert "sign of this case" in pane.neighbours.as_text(rows.values())
    assert "one may have come by it from another" in pane.of_case.text()


def test_it_is_reckoned_again_only_where_something_changed(hotel, make_pane, settled, clock, qtbot):
    case = sighted(hotel)
    pane = make_pane(hotel)
    show(pane, case)
    settled(pane)
    with qtbot.assertNotEmitted(pane._context.jobs.began, wait=50):
        show(pane, case)
    with qtbot.waitSignal(pane._context.jobs.began):
        clock.moment += timedelta(days=1)
        show(pane, case)
    settled(pane)
    other = sighted(hotel, "101", "2026-007")
    with qtbot.waitSignal(pane._context.jobs.began):
        show(pane, other)
    assert not pane.heading.isVisible()
    settled(pane)
    assert pane.heading.text().startswith("Room 101")


def test_a_change_while_it_is_reckoned_is_reckoned_after_it(hotel, make_pane, settled):
    case = sighted(hotel)
    pane = make_pane(hotel)
    show(pane, case)
    judge(hotel, case)
    show(pane, case)
    settled(pane)
    assert pane.told.text().startswith("Brought in most likely")


def test_what_was_stopped_says_so_and_begins_again_by_its_button(hotel, make_pane, settled, qtbot):
    case = sighted(hotel)
    pane = make_pane(hotel)
    show(pane, case)
    pane._context.jobs.stop()
    settled(pane)
    assert pane.state.text() == "It was not worked out: it was stopped."
    assert pane.again.isVisible()
    # A minute's tick shows the case again: what somebody stopped stays stopped.
    with qtbot.assertNotEmitted(pane._context.jobs.began, wait=50):
        show(pane, case)
    qtbot.mouseClick(pane.again, Qt.MouseButton.LeftButton)
    settled(pane)
    assert pane.heading.isVisible()
    assert not pane.again.isVisible()


def test_the_ring_shows_chances_in_its_own_order_dots_before(make_hotel, make_pane, settled):
    built = three_floors().on(30)
    hotel = make_hotel(built)
    case = sighted(hotel, "305")
    pane = make_pane(hotel, RingPane)
    show(pane, case)
    before = [line.room for line in pane.table.shown_rows()]
    assert {line.said for line in pane.table.shown_rows()} == {"…"}
    assert not pane.odds_note.isVisible()
    settled(pane)
    lines = pane.table.shown_rows()
    assert [line.room for line in lines] == before
    said = {line.room: line.said for line in lines}
    assert said.pop("305") == "sign of this case"
    assert all("1 in " in text for text in said.values())
    assert "if what this case found is bed bugs" in pane.odds_note.text()
    assert "assumed" in pane.odds_note.text()


def test_the_tab_is_made_when_it_is_looked_at_and_shares_its_answer_with_the_ring(
    hotel, make_context, qtbot
):
    case = sighted(hotel)
    panel = CasePanel(make_context(hotel, pages=PAGES))
    qtbot.addWidget(panel)
    panel.show()
    panel.show_case(case_of(hotel.house, case))
    assert panel.since_part.made is None
    assert not panel.reckoning.is_running
    panel.tabs.setCurrentWidget(panel.ring_part)
    qtbot.waitUntil(lambda: panel.reckoning.of(case) is not None, timeout=20000)
    with qtbot.assertNotEmitted(panel._context.jobs.began, wait=50):
        panel.tabs.setCurrentWidget(panel.since_part)
    assert panel.since.heading.text().startswith("Room 102")


def test_everything_reached_by_keys_has_a_name(hotel, make_pane, settled, nameless):
    case = sighted(hotel)
    sighted(hotel, "101", case)
    pane = make_pane(hotel)
    show(pane, case)
    settled(pane)
    assert nameless(pane) == []


def test_without_a_case_nothing_is_shown_and_nothing_reckoned(hotel, make_pane):
    pane = make_pane(hotel)
    pane.show_case(None)
    assert not pane.state.isVisible()
    assert not pane._reckoning.is_running
    assert pane.neighbours.shown_rows() == ()
