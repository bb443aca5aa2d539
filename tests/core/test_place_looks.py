from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import Sign
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.checks.looking import NOT_ASKED, check_look, checked_facts, full_look
from hotelwatch.core.checks.place_looks import (
    SEEN_SIGNS,
    WHY_UNSEEN,
    PlaceState,
    as_kind,
    find_signs,
    leave,
    leave_all,
    look_at,
    look_at_all,
    people_needed,
    place_looks,
    reasons_for,
    underside_counts,
)
from hotelwatch.core.facts import BedChecked, CheckKind
from hotelwatch.wording import names
from tests.build import day, house, rules

INN = house().room("101").bed("A").bed("B", "slats", encased=True).house


def full(kind=CheckKind.DEEP, by=("Anna", "Boris")):
    return full_look(INN, "101", on=day(40), by=by, kind=kind)


def stand(look, bed, place):
    return next(one for one in place_looks(INN, look) if (one.bed, one.place.code) == (bed, place))


def test_places_stand_bed_by_bed_in_looking_order_then_the_rooms():
    told = [(one.bed, one.place.code) for one in place_looks(INN, full())]
    box_spring, slats = rules().bed_kinds["box_spring"], rules().bed_kinds["slats"]
    assert told == [
        *(("101/A", place.code) for place in box_spring.places),
        *(("101/B", place.code) for place in slats.encased_places),
        *(("", place.code) for place in rules().room_places),
    ]


@pytest.mark.parametrize(("bed", "place"), [("101/A", "base_edge"), ("", "seats")])
def test_a_place_can_be_said_anew_as_often_as_one_likes(bed, place):
    look = find_signs(full(), bed, place, [Sign.EGGS, Sign.DARK_SPOTS])
    assert stand(look, bed, place).state is PlaceState.FOUND
    assert stand(look, bed, place).signs == (Sign.EGGS, Sign.DARK_SPOTS)
    look = leave(look, bed, place, "no_time")
    assert (stand(look, bed, place).state, stand(look, bed, place).why) == (
        PlaceState.UNSEEN,
        "no_time",
    )
    look = look_at(look, bed, place)
    assert stand(look, bed, place).state is PlaceState.SEEN
    check_look(INN, look, today=day(40))


def test_a_place_of_which_nothing_was_said_is_a_gap():
    look = replace(full(), seen=(), unseen=())
    assert stand(look, "", "seats").state is PlaceState.UNSAID
    assert stand(look, "", "seats").is_gap


@pytest.mark.parametrize("bed", ["101/A", "101/B", ""])
def test_all_of_a_bed_is_looked_at_but_for_what_is_found_and_what_is_for_doubt(bed):
    look = full()
    for one in place_looks(INN, look):
        look = leave(look, one.bed, one.place.code, "no_time")
    first, *others = [one.place.code for one in place_looks(INN, look) if one.bed == bed]
    look = find_signs(look, bed, first, [Sign.EGGS])
    told = look_at_all(INN, look, bed)
    assert stand(told, bed, first).signs == (Sign.EGGS,)
    for code in others:
        one = stand(told, bed, code)
        kept = PlaceState.UNSEEN if one.place.optional else PlaceState.SEEN
        assert one.state is kept
    untouched = [one for one in place_looks(INN, told) if one.bed != bed]
    assert untouched == [one for one in place_looks(INN, look) if one.bed != bed]


def test_all_of_a_bed_is_said_of_an_earlier_record_too():
    look = full()
    silent = replace(look, beds=(replace(look.beds[0], seen=(), unseen=()), look.beds[1]))
    assert stand(look_at_all(INN, silent, "101/A"), "101/A", "bedding").state is PlaceState.SEEN
    assert stand(look_at_all(INN, silent, "101/A"), "101/A", "base_inside").why == NOT_ASKED
    assert look_at_all(INN, full(), "101/A") == full()


def test_leaving_the_long_form_is_no_gap():
    assert not stand(full(), "101/A", "base_inside").is_gap
    assert stand(leave(full(), "101/A", "base_inside", "no_time"), "101/A", "base_inside").is_gap


def test_an_underside_counts_only_with_every_place_of_it():
    assert [one.counts for one in underside_counts(INN, full())] == [True, True]
    look = leave(full(), "101/A", "base_corner_caps", "no_time")
    look = leave(look, "101/A", "mattress_underside", "no_second_person")
    first, second = underside_counts(INN, look)
    assert not first.counts
    assert [(one.place.code, one.why) for one in first.lacks] == [
        ("mattress_underside", "no_second_person"),
        ("base_corner_caps", "no_time"),
    ]
    assert second.counts


places = st.sampled_from([(one.bed, one.place.code) for one in place_looks(INN, full())])
sayings = st.lists(st.tuples(places, st.sampled_from(["see", "leave", "find"])), max_size=12)


@given(sayings)
def test_whatever_is_said_what_is_foretold_is_what_the_record_says(said):
    look = full()
    for (bed, place), what in said:
        if what == "see":
            look = look_at(look, bed, place)
        elif what == "leave":
            look = leave(look, bed, place, "no_time")
        else:
            look = find_signs(look, bed, place, [Sign.EGGS])
    check_look(INN, look, today=day(40))
    foretold = {one.bed: one.counts for one in underside_counts(INN, look)}
    checks = [fact for fact in checked_facts(look) if isinstance(fact, BedChecked)]
    assert foretold == {check.bed: underside_seen(INN, check) for check in checks}


def test_two_are_needed_as_long_as_something_was_lifted():
    assert people_needed(INN, full()) == 2
    look = full()
    for one in place_looks(INN, look):
        if one.place.people > 1:
            look = leave(look, one.bed, one.place.code, "no_second_person")
    assert people_needed(INN, look) == 1
    check_look(INN, replace(look, by=("Anna",)), today=day(40))


def test_a_brief_check_asks_for_nothing_that_must_be_moved():
    brief = as_kind(INN, full(), CheckKind.BRIEF)
    left = [one for one in place_looks(INN, brief) if one.state is PlaceState.UNSEEN]
    assert left
    assert all(one.why == NOT_ASKED for one in left)
    assert people_needed(INN, brief) == 1
    assert not any(one.counts for one in underside_counts(INN, brief))
    again = as_kind(INN, brief, CheckKind.DEEP)
    assert [(o.state, o.why) for o in place_looks(INN, again)] == [
        (o.state, o.why) for o in place_looks(INN, full())
    ]


def test_what_a_person_said_outlives_another_kind():
    look = find_signs(full(), "101/A", "base_underside", [Sign.EGGS])
    look = leave(look, "101/A", "mattress_top", "guest_belongings")
    brief = as_kind(INN, look, CheckKind.BRIEF)
    assert stand(brief, "101/A", "base_underside").state is PlaceState.FOUND
    assert stand(brief, "101/A", "mattress_top").why == "guest_belongings"


def test_not_asked_is_no_excuse_for_a_place_that_was_asked_for():
    underside = stand(full(), "101/A", "base_underside").place
    inside = stand(full(), "101/A", "base_inside").place
    assert NOT_ASKED not in reasons_for(full(), underside)
    assert NOT_ASKED in reasons_for(full(), inside)
    assert NOT_ASKED in reasons_for(as_kind(INN, full(), CheckKind.BRIEF), underside)


def test_every_reason_and_sign_has_its_words():
    assert {*WHY_UNSEEN, NOT_ASKED} == set(names.WHY_UNSEEN)
    assert Sign.GUEST_WORD not in SEEN_SIGNS
    assert {*SEEN_SIGNS, Sign.GUEST_WORD, Sign.BITES_REPORTED} == set(Sign)


def test_a_visit_that_could_not_be_made_leaves_every_place_and_takes_no_minutes():
    look = leave_all(INN, full(by=("Anna",)), "no_time")
    asked = [one for one in place_looks(INN, look) if not one.place.optional]
    assert {(one.state, one.why) for one in asked} == {(PlaceState.UNSEEN, "no_time")}
    assert [bed.minutes for bed in look.beds] == [0, 0]
    assert not any(bed.seen for bed in look.beds)
    assert not look.seen
    # Nothing was lifted: one person's word is enough.
    assert people_needed(INN, look) == 1
    check_look(INN, look, today=day(40))


def test_what_was_found_is_not_left_with_the_rest():
    look = leave_all(INN, find_signs(full(), "101/A", "base_edge", [Sign.EGGS]), "no_time")
    assert stand(look, "101/A", "base_edge").state is PlaceState.FOUND
    assert stand(look, "101/A", "mattress_top").state is PlaceState.UNSEEN
