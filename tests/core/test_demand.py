"""Which rooms want a visit, and by when."""

from __future__ import annotations

from hotelwatch.core.case_facts import CaseJudged, CheckAsked, Outcome, Sighted, Sign
from hotelwatch.core.facts import BedNo, CaseNo, CheckKind, CycleChosen, RoomNo, Scope
from hotelwatch.core.rounds.demand import demand
from tests.build import day, house, moment

CASE = CaseNo("2026-001")


def wanted(built, today=0, until=13):
    return demand(built.house, day(today), day(until))


def rooms(built, today=0, until=13):
    return [want.room for want in wanted(built, today, until)]


def asked(built, room, by, *, case=CASE, on=0):
    built.on(on)
    if case not in built.house.sightings:
        built.record(
            Sighted(case, RoomNo("109"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(on))
        )
    return built.record(CheckAsked(case, RoomNo(room), ("shares_wall",), moment(by)))


def two_rooms(first=-85, second=-90):
    built = house().room("101").bed("A").checked("A", day(first))
    return built.room("102").bed("A").checked("A", day(second))


def test_the_earliest_due_comes_first():
    found = wanted(two_rooms())
    assert [(want.room, want.due_on) for want in found] == [("102", day(1)), ("101", day(6))]


def test_a_bed_may_be_planned_a_share_of_its_cycle_early_and_no_earlier():
    built = house().record(CycleChosen(Scope.HOUSE, "", 40))
    built.room("101").bed("A").checked("A", day(-40 + 13 + 14))
    # Assumption of the shipped figures: 35 % of the cycle, here 14 days of forty.
    assert built.house.rules.figures.early_share.value == 0.35
    assert rooms(built) == ["101"]
    later = house().record(CycleChosen(Scope.HOUSE, "", 40))
    later.room("101").bed("A").checked("A", day(-40 + 13 + 15))
    assert rooms(later) == []


def test_beds_of_one_room_are_looked_at_together_and_its_set_up_counts_once():
    built = house().room("101").bed("A").bed("B").checked("A", day(-90)).checked("B", day(-85))
    (want,) = wanted(built)
    assert want.beds == ("101/A", "101/B")
    assert want.due_on == day(1)
    # Assumption of the shipped figures: 6 minutes a room, 14 a bare box spring.
    assert want.minutes == 6 + 14 + 14


def test_a_bed_looked_at_lately_is_left_in_peace():
    built = house().room("101").bed("A").bed("B").checked("A", day(-90)).checked("B", day(-5))
    (want,) = wanted(built)
    assert want.beds == ("101/A",)
    assert want.minutes == 20


def test_what_cases_ask_for_comes_before_what_is_due_by_its_deadline():
    built = two_rooms(second=-200).room("103").bed("A").checked("A", day(-1))
    asked(asked(built, "103", 2), "101", 1)
    assert rooms(built) == ["101", "103", "102"]
    first = wanted(built)[0]
    assert (first.asked_by, first.by_at, first.due_on) == (CASE, moment(1), day(1))


def test_an_asked_room_is_looked_at_whole():
    built = house().room("101").bed("A").bed("B").checked("A", day(-1)).checked("B", day(-90))
    (want,) = wanted(asked(built, "101", 1))
    assert want.beds == ("101/A", "101/B")


def test_two_cases_ask_for_a_room_once():
    other = CaseNo("2026-002")
    built = asked(asked(two_rooms(), "101", 5), "101", 2, case=other)
    first, *_ = wanted(built)
    assert (first.asked_by, first.cases) == (other, (other, CASE))
    assert rooms(built) == ["101", "102"]


def test_an_asked_check_is_open_until_every_bed_was_looked_at():
    built = house().room("101").bed("A").bed("B")
    asked(built, "101", 1)
    built.checked("A", day(1), kind=CheckKind.ASKED)
    assert wanted(built, today=1)[0].asked_by == CASE
    built.checked("B", day(1), kind=CheckKind.ASKED)
    assert not [want for want in wanted(built, today=1) if want.asked_by]


def test_a_brief_look_or_a_partial_one_answers_no_case():
    built = asked(house().room("101").bed("A"), "101", 1)
    built.checked("A", day(1), kind=CheckKind.BRIEF)
    built.checked("A", day(1), kind=CheckKind.ASKED, seen=["mattress_top"])
    assert wanted(built, today=1)[0].asked_by == CASE


def test_a_look_from_before_the_asking_does_not_answer_it():
    built = house().room("101").bed("A").checked("A", day(-1))
    assert wanted(asked(built, "101", 1))[0].asked_by == CASE


def test_a_case_that_was_ruled_out_asks_no_more():
    built = asked(house().room("101").bed("A").checked("A", day(-1)), "101", 1)
    built.record(CaseJudged(CASE, Outcome.NOT_BED_BUG, "boris", "entomologist", day(1)))
    assert wanted(built) == ()


def test_a_room_without_beds_can_be_asked_for_but_is_never_due():
    built = house().room("101").room("102")
    (want,) = wanted(asked(built, "102", 1))
    assert (want.room, want.beds, want.minutes) == ("102", (), 6)


def test_rooms_due_on_one_day_stand_in_the_houses_order():
    built = house()
    for room in ("103", "101", "102"):
        built.room(room).bed("A").checked("A", day(-91))
    assert rooms(built) == ["103", "101", "102"]
    assert list(built.house.rooms) == ["103", "101", "102"]


def test_a_first_round_is_wanted_bit_by_bit():
    built = house().record(CycleChosen(Scope.HOUSE, "", 80))
    for number in range(80):
        built.room(f"{100 + number}").bed("A")
    # Of 80 rooms spread over 80 days, those due by day 13 + 28 are wanted by day 13.
    assert len(wanted(built)) == 41
    assert {want.beds[0] for want in wanted(built)} == {
        BedNo(f"{100 + number}/A") for number in range(41)
    }
