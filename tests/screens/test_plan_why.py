"""Why a round can't be in time, from the house to the button that mends it."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.facts import RoomNo, RoundPublished, SlotPublished, StaysImported, TeamName
from hotelwatch.core.planning.repairs import Mend, Repair
from hotelwatch.core.planning.standing import Effect
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import NightAsked, TeamDaysChanged
from hotelwatch.core.stays.agreed import asked_nights
from hotelwatch.screens.rounds.page import RoundsPage
from hotelwatch.screens.rounds.plan_details import ROOMS, WHY
from tests.build import day, house

Key = Qt.Key
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
TODAY = 40
"""Saturday, 14 February 2026."""


@pytest.fixture
def make_page(make_hotel, make_context, qtbot):
    """Makes the page with a draft of a week, read through."""

    def make(build, *stays):
        context = make_context(make_hotel(build), ("building", "rounds"))
        context.hotel.record_stays(stays, StaysImported("b.csv", "1", day(0), len(stays), 0))
        page = RoundsPage(context)
        qtbot.addWidget(page)
        context.bus.changed.connect(lambda _: page.refresh())
        page.resize(1100, 760)
        page.show()
        with qtbot.waitActive(page):
            page.activateWindow()
        page.refresh()
        page.plan.bar.days.setValue(7)
        page.plan.bar.make_draft.click()
        settled(page, qtbot, context)
        return page, context

    return make


def settled(page, qtbot, context):
    def is_read():
        return page.plan.draft is not None and not context.jobs.is_busy

    qtbot.waitUntil(is_read, timeout=10_000)


def crowded():
    """Six rooms of 20 minutes due by Sunday; 30 minutes a day until a larger team comes Monday."""
    build = house().team("blue", 30, works_on=EVERY_DAY).team("red", 200, works_on=("mon",))
    for number in range(1, 7):
        build.room(f"10{number}").bed("A").checked("A", day(41 - 91))
    return build


def press(qtbot, page, text):
    button = next(one for one in page.plan.details.why.buttons if one.text() == text)
    qtbot.keyClick(button, Key.Key_Space)


def test_a_reason_says_its_sum_and_is_drawn_while_one_looks_at_it(make_page, qtbot):
    page, _ = make_page(crowded())
    plan = page.plan
    assert plan.details.isTabVisible(WHY)
    (reason,) = plan.details.why.reasons.model.rows
    # By hand: 6 rooms of 6 + 14 minutes; 30 minutes on each of two days.
    for said in ("101 to 106", "120 minutes", "teams have 60 minutes", "60 short"):
        assert said in reason.text
    plan.details.setCurrentIndex(WHY)
    view = plan.details.why.reasons.view
    view.setFocus()
    qtbot.keyClick(view, Key.Key_Down)
    assert plan.view.scene.tinted_days == {day(40), day(41)}
    needed, there = plan.details.why.sums.text().split("\n")
    assert needed == "Needed: " + " + ".join(f"10{n} 20" for n in range(1, 7)) + " = 120 minutes"
    assert there == "There: Sat 14 Feb blue 30 + Sun 15 Feb blue 30 = 60 minutes"
    assert plan.view.scene.tinted_rooms == {RoomNo(f"10{n}") for n in range(1, 7)}
    plan.details.setCurrentIndex(ROOMS)
    assert plan.view.scene.tinted_days == plan.view.scene.tinted_rooms == frozenset()


def test_what_is_late_already_is_told_though_nothing_more_has_to_be(make_page, qtbot):
    build = house().team("blue", 60, works_on=EVERY_DAY)
    build.room("101").bed("A").checked("A", day(TODAY - 95))
    page, _ = make_page(build)
    details = page.plan.details
    assert page.plan.draft.plan.proof.overdue_bed_days > 0
    assert details.isTabVisible(WHY)
    assert details.tabText(WHY) == "Not in time"
    assert "Late already: 1 bed since" in details.why.load.text()
    assert not details.why.reasons.model.rows


def test_more_days_of_a_team_are_asked_for_then_written_down_and_planned(make_page, qtbot):
    page, context = make_page(crowded())
    late = page.plan.draft.plan.proof.overdue_bed_days
    page.plan.details.setCurrentIndex(WHY)
    press(qtbot, page, "Add the days…")
    bar = context.notices.bars()[0]
    assert bar.label.text() == "Let red work 3 h 20 min on Sat 14 Feb too?"
    assert context.hotel.house.all_of(TeamDaysChanged) == ()
    bar.button.click()
    assert Calendar(context.hotel.house).minutes(TeamName("red"), day(TODAY)) == 200
    settled(page, qtbot, context)
    assert page.plan.draft.plan.proof.overdue_bed_days < late


def test_more_days_bring_the_minutes_told_whatever_the_team_has_by_now(make_page, qtbot):
    # Red has 200 minutes on that Monday alone, else 30, of which it keeps 10 free.
    build = crowded().team("red", 30, works_on=("mon",), kept_free=10)
    monday = day(TODAY + 2)
    build.record(TeamDaysChanged(TeamName("red"), monday, monday, 200, "extra hands"))
    page, context = make_page(build)
    page.plan.details.setCurrentIndex(WHY)
    press(qtbot, page, "Add the days…")
    bar = context.notices.bars()[0]
    assert bar.label.text() == "Let red work 3 h 20 min on Sat 14 Feb too?"
    bar.button.click()
    assert Calendar(context.hotel.house).minutes(TeamName("red"), day(TODAY)) == 190


def test_who_lets_a_team_that_is_ill_work_is_told_so_first(make_page, qtbot):
    build = house().team("red", 200, works_on=("sat", "mon"))
    build.room("101").bed("A").checked("A", day(TODAY - 91 + 1))
    build.record(TeamDaysChanged(TeamName("red"), day(TODAY), day(TODAY + 1), 0, "ill"))
    page, context = make_page(build)
    said = " ".join(button.accessibleDescription() for button in page.plan.details.why.buttons)
    assert "red is away on Sat 14 Feb: ill." in said
    page.plan.details.setCurrentIndex(WHY)
    press(qtbot, page, "Add the days…")
    bar = context.notices.bars()[0]
    assert bar.label.text() == (
        "Let red work 3 h 20 min on Sat 14 Feb too? red is away on Sat 14 Feb: ill."
    )


def test_of_days_that_a_team_works_in_part_only_the_others_are_asked_for(make_page, qtbot):
    page, context = make_page(crowded())
    red, saturday = TeamName("red"), day(TODAY)
    repair = Repair(
        Mend.TEAM_DAYS,
        Effect(0, 0, 9),
        Effect(0, 0, 1),
        team=red,
        days=(saturday, day(TODAY + 2)),
        minutes=200,
    )
    calendar = Calendar(context.hotel.house)
    assert [bool(calendar.minutes(red, on)) for on in repair.days] == [False, True]
    page.plan.why._ask_days(repair)
    bar = context.notices.bars()[0]
    assert bar.label.text() == (
        "Let red work 3 h 20 min on Sat 14 Feb too?"
        " On Mon 16 Feb it works already: there another team has to."
    )
    bar.button.click()
    assert [one.from_on for one in context.hotel.house.all_of(TeamDaysChanged)] == [saturday]


def test_a_longer_cycle_leads_to_the_cycles(make_page, qtbot):
    page, _ = make_page(crowded())
    page.plan.details.setCurrentIndex(WHY)
    press(qtbot, page, "To the cycles")
    assert page.tabs.currentWidget() is page.cycles


def test_encasing_leads_to_the_room(make_page, qtbot, went):
    page, context = make_page(crowded())
    page.plan.details.setCurrentIndex(WHY)
    press(qtbot, page, "To the first room")
    (place,) = went(context)
    assert place[0] == "building"
    assert place[1] in context.hotel.house.rooms


def test_a_night_to_be_kept_free_is_asked_of_front_desk(make_page, qtbot):
    build = house().team("blue", 60).room("101").bed("A").checked("A", day(43 - 91))
    # A guest until Sunday, the next one from then on; the team comes on Monday.
    stays = Stay("b1", "101", "", day(35), day(41)), Stay("b2", "101", "", day(41), day(45))
    page, context = make_page(build, *stays)
    (reason,) = page.plan.details.why.reasons.model.rows
    # It can be entered on the Sunday between them, when nobody works.
    assert reason.text.startswith("Room 101 is due by Tue 17 Feb, but no team")
    assert "It can be entered on Sun 15 Feb." in reason.text
    page.plan.details.setCurrentIndex(WHY)
    cards = [button.accessibleDescription() for button in page.plan.details.why.buttons]
    said = next(card for card in cards if card.startswith("Keep free"))
    press(qtbot, page, "Ask front desk")
    (asked,) = context.hotel.house.all_of(NightAsked)
    assert (asked.room, asked.night, asked.holds) == ("101", day(41), True)
    saved = asked_nights(context.hotel.house, day(TODAY))[0].planned
    assert f"Late days, at the least: 0 instead of {saved.days}." in said
    told = [bar.label.text() for bar in context.notices.bars()]
    assert told[0] == "Front desk is asked to keep 1 night free."
    settled(page, qtbot, context)


def test_a_round_without_any_visit_says_why_too(make_page):
    build = house().team("blue", 60).room("101").bed("A").checked("A", day(43 - 91))
    page, _ = make_page(build, Stay("b1", "101", "", day(35), day(60)))
    assert page.plan.draft.plan.slots == ()
    (reason,) = page.plan.details.why.reasons.model.rows
    assert "None of these days will do" in reason.text


def test_reasons_stopped_on_their_way_come_when_the_page_is_read_again(
    make_page, qtbot, monkeypatch
):
    from threading import Event

    from hotelwatch.screens.rounds import plan_work

    begun = Event()

    def endless(*_values, progress, **_named):
        begun.set()
        while True:
            progress(0.5, "reading_plan")

    page, context = make_page(crowded())
    monkeypatch.setattr(plan_work, "read_plan", endless)
    page.plan.bar.days.setValue(8)
    page.plan.bar.make_draft.click()
    qtbot.waitUntil(begun.is_set)
    context.jobs.stop()
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    monkeypatch.undo()
    assert not page.plan.details.isTabVisible(WHY)
    page.refresh()
    qtbot.waitUntil(lambda: page.plan.details.isTabVisible(WHY))
    assert page.plan.details.why.reasons.model.rows


def test_reasons_that_could_not_be_read_are_told_and_read_again(make_page, qtbot, monkeypatch):
    from hotelwatch.core.problems import Refusal
    from hotelwatch.screens.rounds import plan_work

    def refuses(*_values, **_named):
        raise Refusal("unknown_room", room="999")

    page, context = make_page(crowded())
    monkeypatch.setattr(plan_work, "read_plan", refuses)
    page.plan.bar.days.setValue(8)
    page.plan.bar.make_draft.click()
    qtbot.waitUntil(lambda: bool(context.notices.bars()))
    assert not page.plan.details.isTabVisible(WHY)
    monkeypatch.undo()
    page.refresh()
    qtbot.waitUntil(lambda: page.plan.details.isTabVisible(WHY))


def test_without_a_draft_the_calendar_and_its_reasons_follow_the_days_ahead(make_page, qtbot):
    page, context = make_page(crowded())
    plan = page.plan
    plan.bar.throw_away.trigger()
    published = SlotPublished(day(TODAY), TeamName("blue"), 1, RoomNo("101"), ("101/A",), 20)
    context.hotel.record(lambda _: [RoundPublished(day(TODAY), day(TODAY)), published], action="x")
    qtbot.waitUntil(lambda: not context.jobs.is_busy)
    assert plan.view.rows.days[-1] == day(TODAY + 6)
    # Only on Monday, the day after the rooms were due, the larger team comes.
    assert plan.details.isTabVisible(WHY)
    plan.bar.days.setValue(14)
    assert plan.view.rows.days[-1] == day(TODAY + 13)
    assert not plan.details.isTabVisible(WHY)
    qtbot.waitUntil(lambda: plan.details.isTabVisible(WHY))
    plan.bar.make_draft.click()
    settled(page, qtbot, context)
    plan.bar.days.setValue(7)
    assert plan.view.rows.days[-1] == day(TODAY + 13)


def test_with_time_enough_there_is_no_such_list(make_page):
    build = house().team("blue", 200, works_on=EVERY_DAY).room("101").bed("A")
    build.checked("A", day(30))
    page, _ = make_page(build)
    assert not page.plan.details.isTabVisible(WHY)
