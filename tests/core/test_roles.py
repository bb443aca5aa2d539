from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import (
    CheckAsked,
    PhotoKept,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import BedChecked, CheckKind
from hotelwatch.core.people import described, is_guarded, people, role_of, wait_until, wrong_pins
from hotelwatch.core.people_facts import DeedRefused, PersonDescribed, StaffRole, WhyRefused
from hotelwatch.core.problems import Refusal
from hotelwatch.core.roles import (
    SEES,
    WRITES,
    Replaced,
    Say,
    Seat,
    Sight,
    may_correct,
    may_write,
    refused_kinds,
    say_of,
    sees,
    who_may,
    who_sees,
)
from tests.build import day, house, moment, rules

EXEC, SUPERVISOR, HOUSEKEEPER, DESK, ENGINEER, MANAGER = StaffRole
CASE, ROOM = "2026-001", "101"
SIGHTED = Sighted(CASE, ROOM, "", "", Sign.LIVE_INSECT, 1, "Ana", moment(1))
PLACED = QuarantinePlaced(ROOM, CASE, moment(1), "sighting")
LIFTED = QuarantineLifted(ROOM, CASE, moment(2), "Ana", conditions_met=True)
ASKED = CheckAsked(CASE, "102", ("shares_wall",), moment(2))
PHOTO = PhotoKept(CASE, "0" * 64, 10)
LOOK = BedChecked("101/A", ROOM, day(1), CheckKind.DEEP, ("Ana",), 10, ("base_underside",))


def seat(role, person="Ana"):
    return Seat(person, role)


def person(name, role=EXEC, *, in_use=True):
    return PersonDescribed(name, role, f"hash of {name}", in_use)


# --- the tables -------------------------------------------------------------------------


def table(text):
    heading, *lines = [line.split() for line in text.strip().splitlines()]
    return heading[1:], {name: words for name, *words in lines}


def test_every_kind_of_fact_has_a_decision_for_every_role_and_nothing_else_has():
    columns, rows = table(WRITES)
    assert [StaffRole[name.upper()] for name in columns] == list(StaffRole)
    assert set(rows) == {kind.__name__ for kind in FACT_KINDS}
    assert len(rows) == len(WRITES.strip().splitlines()) - 1
    for words in rows.values():
        assert len(words) == len(StaffRole)
        assert set(words) <= {say.value for say in Say}


def test_everything_to_be_seen_has_a_decision_for_every_role():
    columns, rows = table(SEES)
    assert [StaffRole[name.upper()] for name in columns] == list(StaffRole)
    assert set(rows) == {sight.value for sight in Sight}
    assert all(set(words) <= {"see", "-"} and len(words) == 6 for words in rows.values())


def test_a_kind_that_nobody_decided_on_is_not_written():
    class Odd:
        pass

    assert say_of(EXEC, Odd) is Say.NO


def test_what_each_role_is_for():
    # What the hotel wants of its roles, said once more apart from the table.
    assert may_write(HOUSEKEEPER, BedChecked)
    assert not may_write(HOUSEKEEPER, QuarantineLifted)
    assert not sees(DESK, Sight.CASES)
    assert not sees(DESK, Sight.TODAY)
    assert sees(DESK, Sight.DESK)
    assert who_sees(Sight.TRIALS) == (EXEC, SUPERVISOR)
    assert who_may(["QuarantineLifted"]) == (EXEC, SUPERVISOR)
    assert not any(may_write(MANAGER, kind) for kind in FACT_KINDS)
    assert who_may(["PersonDescribed"]) == (EXEC,)
    assert who_may(["DeedRefused"]) == ()


@given(st.sampled_from(FACT_KINDS))
def test_the_head_may_whatever_another_may(kind):
    for role in StaffRole:
        if say_of(role, kind) is Say.MAY:
            assert say_of(EXEC, kind) is Say.MAY


# --- entries ----------------------------------------------------------------------------


@pytest.mark.parametrize("role", [HOUSEKEEPER, DESK, ENGINEER])
def test_a_sighting_closes_its_room_whoever_logs_it(role):
    assert refused_kinds(seat(role), [SIGHTED, PLACED, ASKED]) == ()


@pytest.mark.parametrize("role", [HOUSEKEEPER, DESK, ENGINEER, MANAGER])
def test_a_room_is_not_closed_at_will(role):
    assert refused_kinds(seat(role), [PLACED]) == ("QuarantinePlaced",)


def test_what_goes_with_a_sighting_does_not_go_with_what_is_refused():
    assert refused_kinds(seat(DESK), [LOOK, PLACED, PHOTO]) == (
        "BedChecked",
        "QuarantinePlaced",
        "PhotoKept",
    )


def test_who_may_log_a_sighting_may_not_lift_beside_it():
    assert refused_kinds(seat(HOUSEKEEPER), [SIGHTED, PLACED, LIFTED]) == ("QuarantineLifted",)


KINDS_AT_HAND = st.lists(st.sampled_from([SIGHTED, PLACED, LIFTED, ASKED, PHOTO, LOOK]))


@given(st.sampled_from(StaffRole), KINDS_AT_HAND)
def test_more_facts_beside_never_allow_what_a_role_does_not_write(role, facts):
    refused = refused_kinds(seat(role), facts)
    for fact in facts:
        if say_of(role, type(fact)) is Say.NO:
            assert type(fact).__name__ in refused
        if say_of(role, type(fact)) is Say.MAY:
            assert type(fact).__name__ not in refused


# --- corrections ------------------------------------------------------------------------


def test_one_takes_back_ones_own_check_and_not_anothers():
    own, anothers = Replaced("Ana", (LOOK,)), Replaced("Ben", (LOOK,))
    assert may_correct(seat(HOUSEKEEPER), own)
    assert not may_correct(seat(HOUSEKEEPER), anothers)
    assert may_correct(seat(SUPERVISOR), anothers)


def test_taking_back_a_sighting_would_open_its_room_so_it_is_refused():
    logged = Replaced("Ana", (SIGHTED, PLACED))
    assert refused_kinds(seat(HOUSEKEEPER), (), logged) == ("QuarantinePlaced",)
    assert refused_kinds(seat(SUPERVISOR), (), logged) == ()


def test_a_corrected_look_may_close_the_same_room_again_but_not_let_it_go():
    logged = Replaced("Ana", (LOOK, SIGHTED, PLACED))
    assert refused_kinds(seat(HOUSEKEEPER), (LOOK, SIGHTED, PLACED), logged) == ()
    assert refused_kinds(seat(HOUSEKEEPER), (LOOK,), logged) == ("QuarantinePlaced",)


@given(st.sampled_from(StaffRole), KINDS_AT_HAND)
def test_what_one_could_not_write_one_cannot_wipe_out(role, facts):
    refused = refused_kinds(seat(role), (), Replaced("Ana", tuple(facts)))
    for fact in facts:
        assert (type(fact).__name__ in refused) is (say_of(role, type(fact)) is not Say.MAY)


# --- people -----------------------------------------------------------------------------


def test_ones_own_pin_is_ones_own_to_change_but_not_ones_role():
    mine = person("Ana", HOUSEKEEPER)
    assert refused_kinds(seat(HOUSEKEEPER), [mine]) == ()
    for other in (
        person("Ana", EXEC),
        person("Ben", HOUSEKEEPER),
        person("Ana", HOUSEKEEPER, in_use=False),
    ):
        assert refused_kinds(seat(HOUSEKEEPER), [other]) == ("PersonDescribed",)


def test_nobody_described_leaves_everything_open():
    built = house()
    assert not is_guarded(built.house)
    built.record(person("Ana"))
    assert is_guarded(built.house)
    assert role_of(built.house, "Ana") is EXEC
    assert role_of(built.house, "Ben") is None


def test_who_left_is_nobody():
    built = house().record(person("Ana"), person("Ben", DESK))
    built.record(person("Ben", DESK, in_use=False))
    assert list(people(built.house)) == ["Ana"]
    assert role_of(built.house, "Ben") is None


def test_the_first_is_an_executive_housekeeper_and_one_always_stays():
    built = house()
    with pytest.raises(Refusal, match="first_is_executive"):
        described(built.house, person("Ben", SUPERVISOR))
    built.record(*described(built.house, person("Ana")))
    for last in (person("Ana", SUPERVISOR), person("Ana", in_use=False)):
        with pytest.raises(Refusal, match="last_executive"):
            described(built.house, last)
    built.record(*described(built.house, person("Eva")))
    assert described(built.house, person("Ana", in_use=False))
    assert described(built.house, person("Eva")) == ()


# --- wrong PINs -------------------------------------------------------------------------


def test_waits_double_up_to_a_longest_one():
    figures = rules().figures
    last = moment(3)
    waits = []
    for count in range(12):
        until = wait_until((last,) * count, figures)
        waits.append((until - last).total_seconds() if until else 0)
    # 3 tries free, 30 s, doubled each time, at most 15 min: worked out by hand.
    assert waits == [0, 0, 0, 30, 60, 120, 240, 480, 900, 900, 900, 900]


@given(st.integers(0, 400))
def test_a_wrong_pin_more_never_shortens_the_wait(count):
    figures, last = rules().figures, moment(3)
    fewer, more = (wait_until((last,) * n, figures) or last for n in (count, count + 1))
    assert fewer <= more <= last + timedelta(minutes=figures.pin_wait_most_minutes.value)


def test_only_the_wrong_pins_of_that_person_count_and_only_those_since():
    built = house().record(person("Ana"))

    def refuse(name, why, number):
        built.on(number).record(DeedRefused(name, EXEC, "sit_down", (), why))

    refuse("Ana", WhyRefused.WRONG_PIN, 1)
    refuse("Ana", WhyRefused.ROLE, 2)
    refuse("Ben", WhyRefused.WRONG_PIN, 2)
    refuse("Ana", WhyRefused.WRONG_PIN, 3)
    assert len(wrong_pins(built.house, "Ana", since=moment(0))) == 2
    assert len(wrong_pins(built.house, "Ana", since=moment(2))) == 1
