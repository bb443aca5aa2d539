from __future__ import annotations

import json
from dataclasses import replace
from hashlib import sha256

import pytest

from hotelwatch.core.case_facts import Sign
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.checks.looking import (
    NOT_ASKED,
    BedLook,
    RoomLook,
    check_look,
    checked_facts,
    find,
    finds,
    full_look,
    leave_out,
)
from hotelwatch.core.clock_text import clock_said
from hotelwatch.core.facts import BedChecked, CheckKind, RoomChecked
from hotelwatch.core.problems import Refusal
from tests.build import day, house, moment, rules

WHO = ("Anna", "Boris")
TODAY = day(40)


@pytest.fixture
def inn():
    build = house().room("101").bed("A").bed("B", "slats", encased=True)
    return build.room("102").bed("A").room("103").house


def full(inn, room="101", by=WHO, kind=CheckKind.DEEP):
    return full_look(inn, room, on=TODAY, by=by, kind=kind)


def refused(inn, look):
    with pytest.raises(Refusal) as told:
        check_look(inn, look, today=TODAY)
    return told.value.code, told.value.values


def with_bed(look, **changed):
    return replace(look, beds=(replace(look.beds[0], **changed), *look.beds[1:]))


# --- the look one begins with -----------------------------------------------------------


def test_a_full_look_saw_every_place_but_those_of_the_long_form(inn):
    look = full(inn)
    kind = rules().bed_kinds["box_spring"]
    routine = [place.code for place in kind.places if not place.optional]
    assert list(look.beds[0].seen) == routine
    assert look.beds[0].unseen == (f"base_inside:{NOT_ASKED}",)
    assert "headboard_back" not in look.seen
    assert look.unseen == (f"headboard_back:{NOT_ASKED}",)
    assert {bed.bed for bed in look.beds} == {"101/A", "101/B"}


def test_an_encased_bed_has_its_own_places_and_minutes(inn):
    encased = full(inn).beds[1]
    kind = rules().bed_kinds["slats"]
    assert set(encased.seen) <= {place.code for place in kind.encased_places}
    assert encased.minutes == kind.encased_minutes != kind.minutes


def test_a_full_look_may_be_written_down_and_counts(inn):
    look = full(inn)
    check_look(inn, look, today=TODAY)
    checks = [fact for fact in checked_facts(look) if isinstance(fact, BedChecked)]
    assert len(checks) == 2
    assert all(underside_seen(inn, check) for check in checks)


def test_there_is_no_look_at_a_room_that_is_not_there(inn):
    with pytest.raises(Refusal) as told:
        full(inn, "999")
    assert told.value.code == "unknown_room"


# --- leaving out and finding ---------------------------------------------------------------


def test_a_place_left_out_is_not_seen_and_says_why(inn):
    look = leave_out(full(inn), "101/A", "base_underside", "no_time")
    assert "base_underside" not in look.beds[0].seen
    assert "base_underside:no_time" in look.beds[0].unseen
    assert look.beds[1] == full(inn).beds[1]
    check_look(inn, look, today=TODAY)
    (check, *_) = checked_facts(look)
    assert not underside_seen(inn, check)


def test_a_place_left_out_twice_keeps_the_last_reason(inn):
    look = leave_out(full(inn), "101/A", "base_underside", "no_time")
    look = leave_out(look, "101/A", "base_underside", "fixed_to_floor")
    told = [text for text in look.beds[0].unseen if text.startswith("base_underside")]
    assert told == ["base_underside:fixed_to_floor"]


def test_a_place_of_the_room_is_left_out_of_the_room_alone(inn):
    look = leave_out(full(inn), "", "seats", "guest_belongings")
    assert "seats" not in look.seen
    assert "seats:guest_belongings" in look.unseen
    assert look.beds == full(inn).beds


@pytest.mark.parametrize(("bed", "place"), [("101/A", "base_inside"), ("", "headboard_back")])
def test_where_something_is_found_somebody_looked(inn, bed, place):
    look = find(full(inn), bed, place, Sign.EGGS)
    told = look.beds[0] if bed else look
    assert place in told.seen
    assert not any(text.startswith(f"{place}:") for text in told.unseen)
    assert f"{place}:eggs" in told.found
    check_look(inn, look, today=TODAY)


def test_a_place_seen_already_is_not_seen_twice(inn):
    look = find(full(inn), "101/A", "mattress_top", Sign.EGGS)
    assert look.beds[0].seen.count("mattress_top") == 1


# --- what can't be true ----------------------------------------------------------------------


def test_the_room_and_the_bed_must_be_in_use(inn):
    assert refused(inn, replace(full(inn), room="999"))[0] == "unknown_room"
    told = replace(full(inn), beds=full(inn, "102").beds)
    assert refused(inn, told) == ("unknown_bed", {"bed": "102/A", "room": "101"})


def test_nobody_looks_tomorrow(inn):
    look = replace(full(inn), checked_on=day(41))
    assert refused(inn, look) == ("day_to_come", {"day": day(41).isoformat()})


@pytest.mark.parametrize("by", [(), ("",), ("Anna", " ")])
def test_somebody_looked(inn, by):
    assert refused(inn, replace(full(inn), by=by))[0] == "who_looked_missing"


def test_a_look_says_something(inn):
    empty = RoomLook("103", TODAY, CheckKind.DEEP, WHO, ())
    assert refused(inn, empty)[0] == "nothing_looked_at"


@pytest.mark.parametrize("field", ["seen", "unseen", "found"])
def test_a_place_belongs_to_the_bed_as_it_is_built(inn, field):
    told = ("divan_drawers:eggs",) if field != "seen" else ("divan_drawers",)
    code, values = refused(inn, with_bed(full(inn), **{field: told}))
    assert (code, values["place"]) == ("unknown_place", "divan_drawers")


def test_a_place_is_not_both_seen_and_left(inn):
    look = full(inn)
    look = with_bed(look, unseen=(*look.beds[0].unseen, "mattress_top:no_time"))
    assert refused(inn, look)[0] == "seen_and_not_seen"


def test_nothing_is_found_where_nobody_looked(inn):
    look = leave_out(full(inn), "101/A", "mattress_top", "no_time")
    assert refused(inn, with_bed(look, found=("mattress_top:eggs",)))[0] == "found_but_not_seen"


def test_a_place_left_says_why(inn):
    look = leave_out(full(inn), "101/A", "mattress_top", "")
    assert refused(inn, look)[0] == "why_not_seen_missing"


def test_another_reason_is_one_only_with_a_note(inn):
    of_bed = leave_out(full(inn), "101/A", "mattress_top", "other")
    of_room = leave_out(full(inn), "", "seats", "other")
    for look, where in ((of_bed, "101/A"), (of_room, "101")):
        code, values = refused(inn, look)
        assert (code, values["where"]) == ("other_reason_needs_note", where)
        assert refused(inn, replace(look, noted="  "))[0] == "other_reason_needs_note"
        check_look(inn, replace(look, noted="the door is stuck"), today=TODAY)
    check_look(inn, with_bed(of_bed, noted="the bed is screwed down"), today=TODAY)


def test_a_sign_is_one_of_the_list(inn):
    look = with_bed(full(inn), found=("mattress_top:smell",))
    assert refused(inn, look) == ("unknown_sign", {"where": "101/A", "sign": "smell"})


def test_one_person_cannot_have_stood_a_mattress(inn):
    # Two to stand a mattress or a base: common practice, no source.
    code, values = refused(inn, full(inn, by=("Anna",)))
    assert (code, values["people"]) == ("needs_two_people", "2")
    alone = full(inn, by=("Anna",))
    for bed in alone.beds:
        described = inn.beds[bed.bed]
        kind = rules().bed_kinds[described.kind]
        for place in kind.places_of(encased=described.encased):
            if place.people > 1:
                alone = leave_out(alone, bed.bed, place.code, "no_second_person")
    check_look(inn, alone, today=TODAY)


def test_the_rooms_own_places_are_held_to_the_same(inn):
    look = replace(full(inn), seen=(*full(inn).seen, "headboard_back"), unseen=())
    check_look(inn, look, today=TODAY)
    assert refused(inn, replace(look, by=("Anna",), beds=()))[0] == "needs_two_people"
    assert refused(inn, replace(full(inn), seen=("base_edge",)))[0] == "unknown_place"


# --- as facts ----------------------------------------------------------------------------------


def test_a_look_becomes_a_check_of_each_bed_and_of_the_room(inn):
    look = replace(full(inn), asked_by="2026-001", noted="Lamp broken")
    *beds, room = checked_facts(look)
    assert [(fact.bed, fact.room, fact.by) for fact in beds] == [
        ("101/A", "101", WHO),
        ("101/B", "101", WHO),
    ]
    assert {fact.asked_by for fact in (*beds, room)} == {"2026-001"}
    assert isinstance(room, RoomChecked)
    assert (room.seen, room.noted) == (look.seen, "Lamp broken")


def test_without_a_word_on_the_room_there_is_no_check_of_it(inn):
    look = replace(full(inn), seen=(), unseen=(), found=())
    assert all(isinstance(fact, BedChecked) for fact in checked_facts(look))


def test_each_sign_is_a_sighting_of_no_case_yet(inn):
    look = find(full(inn), "101/B", "slat_ends", Sign.DARK_SPOTS)
    look = find(look, "", "seats", Sign.DEAD_INSECT)
    told = [
        (one.case, one.bed, one.place, one.sign, one.seen_by, one.seen_at)
        for one in finds(look, moment(40))
    ]
    assert told == [
        ("", "101/B", "slat_ends", Sign.DARK_SPOTS, "Anna, Boris", moment(40)),
        ("", "", "seats", Sign.DEAD_INSECT, "Anna, Boris", moment(40)),
    ]


def test_a_find_has_the_moment_that_was_given(inn):
    look = replace(find(full(inn), "", "seats", Sign.EGGS), found_at=moment(39))
    assert [one.seen_at for one in finds(look, moment(40))] == [moment(39)]


def test_a_clean_look_sees_nothing(inn):
    assert finds(full(inn), moment(40)) == ()
    assert BedLook("101/A", ()).found == ()


@pytest.mark.parametrize("by", [("Anna", "Anna"), ("Anna", "Boris", " anna ")])
def test_one_person_named_twice_is_not_two(inn, by):
    assert refused(inn, full(inn, by=by))[0] == "named_twice"


def test_a_look_for_a_case_that_is_not_there_is_refused(inn):
    look = replace(full(inn, kind=CheckKind.ASKED), asked_by="2026-009")
    assert refused(inn, look) == ("unknown_case", {"case": "2026-009"})


# --- who, with whom, from when to when, with what ----------------------------------------------
# What a record of an inspection holds beside the result: national pest management association,
# best management practices for bed bugs (2011), 4.2. Which aids there are: common practice.


def test_a_visit_says_from_when_to_when_and_with_what_on_each_fact(inn):
    look = replace(
        full(inn), from_clock="9:05", until_clock="0925", aids=("bright_light", "thin_card")
    )
    check_look(inn, look, today=TODAY)
    facts = checked_facts(look)
    assert [type(fact) for fact in facts] == [BedChecked, BedChecked, RoomChecked]
    assert {(f.from_clock, f.until_clock, f.aids, f.by) for f in facts} == {
        ("09:05", "09:25", ("bright_light", "thin_card"), WHO)
    }


def test_nothing_of_it_is_said_unless_somebody_says_it(inn):
    assert {(f.from_clock, f.until_clock, f.aids) for f in checked_facts(full(inn))} == {
        ("", "", ())
    }


@pytest.mark.parametrize(
    ("told", "clock"),
    [
        ("", ""),
        ("9:05", "09:05"),
        ("9.05", "09:05"),
        ("905", "09:05"),
        ("9", "09:00"),
        ("15", "15:00"),
        (" 23:59 ", "23:59"),
    ],
)
def test_a_clock_time_is_read_as_people_type_it(told, clock):
    assert clock_said(told) == clock


@pytest.mark.parametrize("told", ["24:00", "9:60", "25", "noon", "9:5", "-1:00", "12:00:00", "٩:٠"])
def test_what_is_no_clock_time_is_refused(inn, told):
    code, values = refused(inn, replace(full(inn), from_clock=told))
    assert (code, values["clock"]) == ("unknown_clock_time", told)


def test_a_visit_does_not_end_before_it_begins(inn):
    backwards = replace(full(inn), from_clock="9:25", until_clock="9:05")
    assert refused(inn, backwards)[0] == "clock_goes_back"
    check_look(inn, replace(full(inn), from_clock="9:05", until_clock="9:05"), today=TODAY)


def test_an_aid_that_nobody_knows_is_refused(inn):
    assert refused(inn, replace(full(inn), aids=("sonar",)))[0] == "unknown_aid"


# --- which form it was -------------------------------------------------------------------------
# A record of an inspection says by which version of which form it was made: common practice.

FORMS = {1: "2db3eeaf0508617c"}
"""What each version of the form asked for. A list that changes is a new version: add a line,
and raise ``form_version`` in resources/beds.toml; the old lines are what old sheets said."""


def form_digest():
    shipped = rules()
    lists = [("room", shipped.room_places)]
    for code, kind in sorted(shipped.bed_kinds.items()):
        lists += [(code, kind.places), (f"{code} encased", kind.encased_places)]
    told = [
        [name, [(p.code, p.underside, p.people, p.optional, p.move) for p in places]]
        for name, places in lists
    ]
    return sha256(json.dumps(told).encode()).hexdigest()[:16]


def test_the_forms_version_is_kept_on_each_fact(inn):
    facts = checked_facts(full(inn))
    assert {fact.form_version for fact in facts} == {rules().form_version}
    assert [type(fact) for fact in facts] == [BedChecked, BedChecked, RoomChecked]
    by_an_older_sheet = replace(full(inn), form_version=1)
    assert {fact.form_version for fact in checked_facts(by_an_older_sheet)} == {1}


def test_a_changed_list_of_places_is_a_new_version_of_the_form():
    assert max(FORMS) == rules().form_version
    assert FORMS[rules().form_version] == form_digest()


@pytest.mark.parametrize("version", [-1, rules().form_version + 1])
def test_a_form_that_never_was_is_refused(inn, version):
    code, values = refused(inn, replace(full(inn), form_version=version))
    assert (code, values["version"]) == ("unknown_form_version", str(version))
    check_look(inn, replace(full(inn), form_version=0), today=TODAY)  # nobody said
