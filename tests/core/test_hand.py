"""Pins and forbidden days: when they hold, and when they lapse."""

from __future__ import annotations

from hotelwatch.core.facts import CheckKind, RoomNo, TeamName
from hotelwatch.core.round_facts import CheckPinned, DayForbidden, TeamPinned
from hotelwatch.core.rounds.hand import Hand
from tests.build import day, house

R101 = RoomNo("101")


def pinned_house(*facts):
    built = house().team("blue").team("red").room("101").bed("A").bed("B").on(1)
    for fact in facts:
        built.record(fact)
    return built


def hand(built, today=1):
    """The pinned day, as its number, and the pinned team."""
    found = Hand(built.house)
    on = found.pinned_day(R101, day(today))
    return (on - day(0)).days if on else None, found.pinned_team(R101, day(today))


def test_a_pin_to_a_day_holds_until_its_day_is_past():
    built = pinned_house(CheckPinned(R101, day(5), "red"))
    assert hand(built, 1) == hand(built, 5) == (5, "red")
    assert hand(built, 6) == (None, None)
    assert Hand(built.house).pinned_rooms(day(5)) == (R101,)
    assert Hand(built.house).pinned_rooms(day(6)) == ()


def test_a_pin_to_a_team_holds_on_whatever_day_until_the_team_is_no_more():
    built = pinned_house(TeamPinned(R101, TeamName("red")))
    assert hand(built, 400) == (None, "red")
    assert hand(built.team("red", in_use=False)) == (None, None)


def test_the_later_word_on_a_team_counts():
    day_first = pinned_house(CheckPinned(R101, day(5), "red"), TeamPinned(R101, TeamName("blue")))
    assert hand(day_first) == (5, "blue")
    team_first = pinned_house(TeamPinned(R101, TeamName("blue")), CheckPinned(R101, day(5), "red"))
    assert hand(team_first) == (5, "red")
    assert hand(team_first, 6) == (None, "blue")
    any_team = pinned_house(
        CheckPinned(R101, day(5), "red"), TeamPinned(R101, TeamName("red"), holds=False)
    )
    assert hand(any_team) == (5, None)


def test_a_pin_is_moved_or_taken_away_by_a_later_word():
    built = pinned_house(CheckPinned(R101, day(5), "red"), CheckPinned(R101, day(8)))
    assert hand(built) == (8, None)
    assert hand(built.record(CheckPinned(R101, day(8), holds=False))) == (None, None)
    built = pinned_house(TeamPinned(R101, TeamName("red")))
    built.record(TeamPinned(R101, TeamName("red"), holds=False))
    assert hand(built) == (None, None)


def test_pins_lapse_once_every_bed_was_looked_at_after_they_were_written_down():
    built = pinned_house(CheckPinned(R101, day(5)), TeamPinned(R101, TeamName("red")))
    built.on(2).checked("A", day(2))
    assert hand(built, 3) == (5, "red")
    built.checked("B", day(2), seen=("bedding",))
    assert hand(built, 3) == (None, None)
    assert hand(built.record(CheckPinned(R101, day(9))), 3) == (9, None)


def test_a_brief_look_or_one_before_the_pin_lets_it_stand():
    built = pinned_house(CheckPinned(R101, day(5)))
    for bed in "AB":
        built.on(2).checked(bed, day(2), kind=CheckKind.BRIEF)
        # Written down after the pin, but of a day before it.
        built.checked(bed, day(0))
    assert hand(built, 3) == (5, None)
    early = house().team("blue").room("101").bed("A").on(1).checked("A", day(1))
    assert hand(early.record(CheckPinned(R101, day(5))), 2) == (5, None)


def test_a_look_that_is_taken_back_lets_the_pin_hold_again():
    built = house().room("101").bed("A").on(1).record(CheckPinned(R101, day(5)))
    built.on(2).checked("A", day(2))
    assert hand(built, 3) == (None, None)
    last = max(built.house.entries)
    assert hand(built.record(corrects=last, note="wrong room"), 3) == (5, None)


def test_days_are_forbidden_one_by_one_and_allowed_again():
    built = pinned_house(
        DayForbidden(R101, day(3)), DayForbidden(R101, day(4)), DayForbidden(R101, day(3), False)
    )
    assert Hand(built.house).forbidden(R101) == {day(4)}
    assert Hand(built.house).forbidden(RoomNo("102")) == frozenset()
    # Unlike a pin, a forbidden day outlasts a look.
    built.on(2).checked("A", day(2)).checked("B", day(2))
    assert Hand(built.house).forbidden(R101) == {day(4)}


def test_who_came_and_saw_nothing_lets_the_pin_stand():
    built = pinned_house(CheckPinned(R101, day(5)), TeamPinned(R101, TeamName("red")))
    for bed in "AB":
        built.on(2).checked(bed, day(2), seen=())
    assert hand(built, 3) == (5, "red")
