"""A case's ring: who is in it and why, how it grows, by which rule it stops."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import MIRRORED, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.cases.links import LinkKind, record_of
from hotelwatch.core.cases.response import answer_sighting
from hotelwatch.core.cases.ring import (
    Ring,
    floor_wishes,
    next_first,
    ring_of,
    to_ask,
)
from hotelwatch.core.cases.ring_growth import Growth
from hotelwatch.core.cases.ring_rooms import Reason, RoomState
from hotelwatch.core.cases.ring_rule import Around, Further, look_by, ring_around
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.choice_facts import CartServes, ProfileChosen, PublicHoliday, RuleChosen
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo, Side
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, day, house, moment
from tests.core.hotels import hotels, with_facts
from tests.core.rule_clauses import deadline

ONE = CaseNo("2026-001")


def around(built: Build) -> Around:
    at_hand = built.house
    return Around(neighbours(at_hand, lay_out(at_hand)), record_of(at_hand))


def find(built: Build, room: str, number: int = 0, *, sign=Sign.LIVE_INSECT, without=()) -> CaseNo:
    """A sign with its whole answer; the case that it belongs to."""
    sighted = Sighted(CaseNo(""), RoomNo(room), "", "", sign, 1, "anna", moment(number))
    answer = answer_sighting(built.house, around(built).neighbours, sighted)
    built.on(number).record(*answer.without(asked=set(without)).facts)
    return answer.sighted.case


def look(built: Build, room: str, number: int, letter: str = "A", **more) -> None:
    built._room = RoomNo(room)
    built.on(number).checked(letter, day(number), kind=CheckKind.ASKED, **more)


def ring(built: Build, number: int = 0, case: CaseNo = ONE) -> Ring:
    return ring_of(built.house, around(built), case, now=moment(number, 12))


def why(built: Build, room: str) -> dict[str, set[str]]:
    """Who is around a room by the rule, and in which ways."""
    at_hand = built.house
    near = ring_around(at_hand, neighbours(at_hand, lay_out(at_hand)), RoomNo(room))
    return {other: set(codes) for other, codes in near.items()}


def state_of(found: Ring, room: str) -> RoomState:
    return next(row.state for row in found.rooms if row.room == room)


def row_of_rooms(first: int = 101, last: int = 107) -> Build:
    built = house()
    for number in range(first, last + 1):
        built.room(str(number)).bed("A")
    return built


def three_floors(*, labels=("2", "3", "4"), last=12) -> Build:
    """Odd rooms on one side, even ones on the other, x01 to x12 on every floor."""
    built = house().floors(*labels)
    for floor in labels:
        for number in range(1, last + 1):
            side = Side.LEFT if number % 2 else Side.RIGHT
            more = {"connects_to": (f"{floor}07",)} if (floor, number) == ("3", 5) else {}
            built.room(f"{floor}{number:02}", floor=floor, side=side, **more).bed("A")
    return built


# --- who is around: check cases of the trade ------------------------------------------------


# Both sides, directly above, directly below: best management practices for bed bugs
# (2011), 13.2.2; across and connecting: Wang et al. 2010, J Econ Entomol 103:172-177.
def test_305_of_three_floors_has_its_sides_above_below_across_and_its_door():
    assert why(three_floors(), "305") == {
        "303": {"shares_wall"},
        "307": {"shares_wall", "connects"},
        "405": {"above"},
        "205": {"below"},
        "306": {"across"},
    }


# Floor 13 is left out: the floor above 12 is the next one in order, never 13 or "+ 100"
# (common practice, no source).
def test_above_1205_lies_1405_where_floors_go_from_12_to_14():
    built = three_floors(labels=("11", "12", "14"))
    assert why(built, "1205")["1405"] == {"above"}
    assert why(built, "1205")["1105"] == {"below"}
    assert not any(room.startswith("13") for room in built.house.rooms)


def test_an_end_room_of_the_top_floor_has_one_side_one_below_and_nothing_above():
    built = three_floors(labels=("1", "2", "3"))
    assert {room for room, codes in why(built, "301").items() if "shares_wall" in codes} == {"303"}
    assert {room for room, codes in why(built, "301").items() if "below" in codes} == {"201"}
    assert not any("above" in codes for codes in why(built, "301").values())


# Numbering by sides and numbering straight along are both met with (common practice).
def test_numbers_that_follow_one_another_are_no_neighbours_by_that():
    assert "shares_wall" not in why(three_floors(), "305").get("304", set())
    straight = house()
    for number in range(301, 313):
        straight.room(str(number), side=Side.LEFT if number < 307 else Side.RIGHT)
    assert {r for r, codes in why(straight, "305").items() if "shares_wall" in codes} == {
        "304",
        "306",
    }


# A number left out may be a shaft or nothing at all: the bay says which (common practice).
def test_a_shaft_parts_two_rooms_and_a_skipped_number_does_not():
    built = house().room("309", order=1).room("313", order=2).room("317", order=4)
    assert set(why(built, "313")) == {"309"}
    assert why(built, "317") == {}


# A room across the end of a corridor: corners have one side only (common practice).
def test_a_room_at_the_end_of_a_corridor_has_the_last_rooms_of_both_sides():
    built = house()
    for side in (Side.LEFT, Side.RIGHT):
        for number in range(1, 4):
            built.room(f"{side[0]}{number}", side=side)
    built.room("end", side=Side.END)
    walls = {room for room, codes in why(built, "end").items() if "shares_wall" in codes}
    assert walls == {"l3", "r3"}


# Stacks that do not line up: above is a set, by overlap (common practice).
def test_two_small_rooms_lie_above_a_large_one_and_nothing_below_the_lowest():
    built = house().floors("1", "2").room("101", floor="1", width_m=8.0)
    built.room("201", floor="2", width_m=4.0).room("202", floor="2", width_m=4.0)
    assert {r for r, codes in why(built, "101").items() if "above" in codes} == {"201", "202"}
    assert not any("below" in codes for codes in why(built, "101").values())


# One guest, two keys: both (common practice, no source).
def test_the_other_key_of_a_suite_counts_even_where_the_rule_leaves_suites_out():
    built = house().room("101", suite="Linden").room("102").room("103", suite="Linden")
    built.record(RuleChosen("ring_kinds", "shares_wall"))
    assert why(built, "101") == {"102": {"shares_wall"}, "103": {"same_suite"}}


# A connecting door may join rooms that are not next to one another (common practice).
def test_a_connecting_door_makes_a_neighbour_of_a_room_further_off():
    built = house().room("101", connects_to=("104",)).room("102").room("103").room("104")
    assert why(built, "101") == {"102": {"shares_wall"}, "104": {"connects"}}


# Rooms of parallel corridors, back to back, share the wall behind the beds (common practice).
def test_rooms_back_to_back_on_parallel_corridors_share_a_wall():
    built = house().wing("A", 0.0, 0.0, 0.0)
    depth = built.house.rules.figures.room_depth_m.value
    corridor = built.house.rules.figures.corridor_width_m.value
    built.wing("B", 0.0, 2 * depth + corridor, 0.0)
    for number in range(1, 4):
        built.room(f"A{number}", wing="A", side=Side.LEFT)
        built.room(f"B{number}", wing="B", side=Side.RIGHT)
    assert "shares_wall" in why(built, "A2")["B2"]


# Cottages have no walls in common: what ties them is the cart (common practice).
def test_cottages_have_no_neighbours_and_the_cart_ties_them():
    built = house()
    for number in range(3):
        built.wing(f"C{number}", 60.0 * number, 0.0, 0.0)
        built.room(f"cot{number}", wing=f"C{number}").bed("A")
    assert why(built, "cot1") == {}
    built.record(CartServes("one", ("cot0", "cot1"), day(-3)))
    find(built, "cot1")
    assert {row.room: row.reasons for row in ring(built).rooms if not row.is_centre} == {
        "cot0": (Reason("same_cart", "cot1"),)
    }


# The wall behind two headboards is the strongest side: walls come before floors and the
# corridor (order: side, across, above and below by Wang et al. 2010; which wall bears
# headboards no roster says).
def test_rooms_behind_a_door_or_wall_are_looked_at_before_those_above_below_and_across():
    built = three_floors()
    find(built, "305")
    assert [row.room for row in ring(built).rooms] == ["305", "307", "303", "405", "205", "306"]


# Two units each way: a city's 2013 draft for housing, read second-hand.
def test_a_radius_of_two_adds_the_second_room_each_way():
    built = three_floors(labels=("1", "2", "3", "4", "5")).record(RuleChosen("ring_radius", "2"))
    further = {
        room: codes
        for room, codes in why(built, "305").items()
        if codes & {code.value for code in Further}
    }
    assert further == {
        "301": {"two_along"},
        "309": {"two_along"},
        "505": {"two_above"},
        "105": {"two_below"},
    }


def test_kinds_that_the_hotel_left_out_are_not_asked_for():
    built = three_floors().record(RuleChosen("ring_kinds", "shares_wall above below"))
    assert set(why(built, "305")) == {"303", "307", "405", "205"}


MIRRORS = {
    **{kind.value: other.value for kind, other in MIRRORED.items()},
    "two_above": "two_below",
    "two_below": "two_above",
}


# A law of ours: whoever has to look at B because of A has to look at A because of B.
@settings(max_examples=60, deadline=None)
@given(hotels(), st.sampled_from(("1", "2")))
def test_the_list_of_neighbours_is_symmetric(at_hand, radius):
    at_hand = with_facts(at_hand, RuleChosen("ring_radius", radius))
    near = neighbours(at_hand, lay_out(at_hand))
    rings = {room: ring_around(at_hand, near, room) for room in at_hand.rooms}
    for room, those in rings.items():
        assert room not in those
        for other, codes in those.items():
            mirrored = {MIRRORS.get(code, code) for code in codes}
            assert set(rings[other][room]) == mirrored


# --- the list ------------------------------------------------------------------------------


def test_each_room_stands_once_with_every_reason_and_its_centre():
    built = row_of_rooms()
    find(built, "102")
    find(built, "104", 1, sign=Sign.GUEST_WORD)  # a weak sign elsewhere is another case
    find(built, "103", 1)
    found = ring(built, 1)
    assert [row.room for row in found.rooms if row.is_centre] == ["102", "103"]
    reasons = {row.room: set(row.reasons) for row in found.rooms}
    assert len(reasons) == len(found.rooms)
    assert reasons["103"] == {Reason("sighting", "103"), Reason("shares_wall", "102")}
    assert reasons["104"] == {Reason("shares_wall", "103")}
    assert {row.room: row.wave for row in found.rooms} == {
        "101": 1,
        "102": 0,
        "103": 1,
        "104": 2,
    }


def test_a_weak_sign_asks_for_its_own_room_and_the_other_key_only():
    built = house().room("101", suite="Linden").bed("A").room("102").bed("A")
    built.room("103", suite="Linden").bed("A")
    find(built, "101", sign=Sign.BITES_REPORTED)
    found = ring(built)
    assert {row.room for row in found.rooms} == {"101", "103"}
    assert found.growth is Growth.NO_CENTRE


# Blood spots "shall be considered an infestation": K.A.R. 28-36-77(p) (2008, hosted copy).
def test_a_sign_that_local_rules_count_as_an_infestation_asks_for_the_ring():
    built = row_of_rooms().record(ProfileChosen("kansas"))
    find(built, "102", sign=Sign.BLOOD_SPOT)
    assert {row.room for row in ring(built).rooms} == {"101", "102", "103"}
    plain = row_of_rooms()
    find(plain, "102", sign=Sign.BLOOD_SPOT)
    assert {row.room for row in ring(plain).rooms} == {"102"}


def test_a_stronger_sign_in_the_same_room_makes_it_a_centre():
    built = row_of_rooms()
    find(built, "102", sign=Sign.BITES_REPORTED)
    find(built, "102", 1)
    found = ring(built, 1)
    assert found.growth is Growth.GOES_ON
    assert {row.room: row.state for row in found.rooms} == {
        "102": RoomState.FOUND,
        "101": RoomState.OPEN,
        "103": RoomState.OPEN,
    }


def test_what_is_next_stands_first():
    built = row_of_rooms()
    find(built, "103")
    look(built, "102", 0)
    assert [row.room for row in next_first(ring(built).rooms)] == ["103", "104", "102"]
    look(built, "103", 0)
    assert [row.room for row in next_first(ring(built).rooms)] == ["104", "103", "102"]


def test_a_room_with_a_bed_left_is_not_done():
    built = house().room("101").bed("A").bed("B").room("102").bed("A")
    find(built, "102")
    look(built, "101", 0, "A")
    assert state_of(ring(built), "101") is RoomState.LEFT_OVER
    look(built, "101", 0, "B")
    assert state_of(ring(built), "101") is RoomState.CLEAN


def test_what_a_person_struck_out_is_shown_as_such_and_is_no_clean_ring():
    built = row_of_rooms()
    find(built, "103", without={"104"})
    assert state_of(ring(built), "104") is RoomState.STRUCK_OUT
    assert to_ask(ring(built)) == ()
    look(built, "102", 0)
    found = ring(built)
    assert found.growth is Growth.CLEAN_AS_ASKED
    assert found.values["struck"] == ("104",)


def test_a_rule_chosen_later_wants_rooms_that_nobody_struck_out():
    built = row_of_rooms()
    find(built, "103")
    built.record(RuleChosen("ring_radius", "2"))
    found = ring(built)
    assert state_of(found, "105") is RoomState.NOT_ASKED
    wishes = to_ask(found)
    assert {(fact.room, fact.reasons, fact.source) for fact in wishes} == {
        ("101", ("two_along",), "103"),
        ("105", ("two_along",), "103"),
    }
    built.record(*wishes)
    assert state_of(ring(built), "105") is RoomState.OPEN
    assert to_ask(ring(built)) == ()


def test_a_case_judged_no_bed_bug_wants_nothing_more():
    built = row_of_rooms()
    find(built, "103")
    built.record(CaseJudged(ONE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(0)))
    found = ring(built)
    assert found.growth is Growth.CALLED_OFF
    assert {row.state for row in found.rooms} == {RoomState.WITHDRAWN}


# --- growing and stopping --------------------------------------------------------------------


# Repeat until a whole ring is clean: a city's 2013 draft for housing, read second-hand.
def test_the_ring_grows_from_a_find_and_stops_when_all_around_was_looked_at():
    built = row_of_rooms()
    find(built, "103")
    assert ring(built).growth is Growth.GOES_ON
    look(built, "102", 0)
    assert find(built, "104", 1) == ONE
    assert {row.room for row in ring(built, 1).rooms} == {"102", "103", "104", "105"}
    assert ring(built, 1).values["left"] == 1
    look(built, "105", 1)
    found = ring(built, 1)
    assert found.growth is Growth.CLEAN_RING
    assert (found.values["centres"], found.values["rooms"]) == (2, 2)


# Found after the first centre was treated: the list grows, and one check of the room
# between serves both centres where its day fits both (common practice, no source).
def test_a_neighbour_found_late_asks_again_for_a_shared_room_looked_at_before_it():
    built = row_of_rooms()
    find(built, "102")
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(0)))
    look(built, "101", 0)
    look(built, "103", 0)
    built.on(2).record(
        TreatmentRecorded(ONE, RoomNo("102"), day(2), "heat", "firm", "L-1", moment(2, 18))
    )
    assert ring(built, 2).growth is Growth.CLEAN_RING
    built.record(RuleChosen("ring_radius", "2")).record(*to_ask(ring(built, 2)))
    assert find(built, "104", 9) == ONE
    found = ring(built, 9)
    # 103 lies beside both; it was looked at nine days before the find beside it.
    assert state_of(found, "103") is RoomState.OPEN
    assert state_of(found, "101") is RoomState.CLEAN
    look(built, "103", 9)
    assert state_of(ring(built, 9), "103") is RoomState.CLEAN


def test_one_check_serves_two_cases_that_share_a_neighbour():
    built = row_of_rooms()
    find(built, "102")
    two = find(built, "104", 1)
    assert two != ONE
    shared = next(row for row in ring(built, 1).rooms if row.room == "103")
    assert shared.serves == (two,)
    look(built, "103", 1)
    assert not [state for state in open_asked(built.house) if state.asked.room == "103"]
    assert state_of(ring(built, 1), "103") is RoomState.CLEAN
    assert state_of(ring(built, 1, two), "103") is RoomState.CLEAN


# A growing ring may cover a floor: offer all of it instead (common practice, no source);
# the share is an assumption of ours.
def test_a_ring_over_more_than_half_of_a_floor_offers_the_whole_floor():
    built = row_of_rooms(101, 108)
    find(built, "103")
    assert ring(built).floors == ()
    find(built, "104")
    find(built, "105")
    found = ring(built)
    assert found.growth is Growth.OFFER_FLOOR
    (offer,) = found.floors
    assert (offer.floor, offer.asked, offer.rooms) == ("1", 5, 8)
    assert offer.rest == ("101", "107", "108")
    built.record(*floor_wishes(built.house, found, "1", now=moment(0, 12)))
    after = ring(built)
    assert after.floors == ()
    assert after.growth is Growth.GOES_ON
    assert {row.room for row in after.rooms} == set(built.house.rooms)
    assert floor_wishes(built.house, after, "1", now=moment(0, 12)) == ()


def test_rooms_that_the_record_ties_come_after_those_that_lie_around():
    built = row_of_rooms().record(CartServes("one", ("101", "102", "106"), day(-1)))
    find(built, "102")
    found = ring(built)
    assert [row.room for row in found.rooms] == ["102", "101", "103", "106"]
    assert set(next(r for r in found.rooms if r.room == "101").reasons) == {
        Reason("shares_wall", "102"),
        Reason(LinkKind.SAME_CART.value, "102"),
    }
    by_room = {row.room: row.by_at for row in found.rooms}
    assert by_room["101"] == moment(1)
    assert by_room["106"] == moment(3)


def test_a_room_left_out_that_was_looked_at_all_the_same_counts_as_looked_at():
    built = row_of_rooms()
    find(built, "103", without={"104"})
    look(built, "102", 0)
    look(built, "104", 0)
    found = ring(built)
    assert state_of(found, "104") is RoomState.CLEAN
    assert found.growth is Growth.CLEAN_RING


# Three business days for housing: HUD notice 2012-17, read second-hand. Found on Friday
# 23 May 2025; Monday 26 is a public holiday in the United States: Tuesday is the first.
def test_a_profiles_clock_sets_the_deadline_of_neighbours_in_its_own_kind_of_days():
    built = three_floors()
    profile = built.house.shipped.profiles["house"]
    clause = deadline("check_neighbours", 3, "business_days", "sighting")
    profiles = {"house": replace(profile, clauses=(clause,))}
    built.house = replace(built.house, shipped=replace(built.house.shipped, profiles=profiles))
    built.record(PublicHoliday(date(2025, 5, 26), "Memorial Day"))
    seen_at = datetime(2025, 5, 23, 14, tzinfo=UTC)
    sighted = Sighted(ONE, RoomNo("305"), "", "", Sign.LIVE_INSECT, 1, "anna", seen_at)
    due = look_by(built.house, sighted).astimezone(built.house.zone)
    assert (due.date(), due.hour, due.minute) == (date(2025, 5, 29), 23, 59)


STEPS = st.lists(
    st.tuples(st.sampled_from(("find", "weak", "look")), st.integers(0, 7), st.integers(0, 2)),
    min_size=1,
    max_size=10,
)


# A law of ours: by whatever order of finds and looks, the list holds each room around each
# centre once, and a ring is called whole only if each was looked at since the sign beside it.
@settings(max_examples=60, deadline=None)
@given(STEPS)
def test_a_ring_is_called_whole_only_if_all_around_every_sign_was_looked_at_since(steps):
    built = house().floors("1", "2")
    for floor in "12":
        for number in range(1, 5):
            built.room(f"{floor}0{number}", floor=floor).bed("A")
    rooms, at, looked = list(built.house.rooms), 0, {}
    for what, place, later in steps:
        at += later
        if what == "look":
            look(built, rooms[place], at)
            looked[rooms[place]] = at
        else:
            find(built, rooms[place], at, sign=Sign.EGGS if what == "find" else Sign.GUEST_WORD)
    near = around(built)
    for case in built.house.sightings:
        found = ring_of(built.house, near, case, now=moment(at, 20))
        listed = [row.room for row in found.rooms]
        assert len(listed) == len(set(listed))
        centres = {centre.room: centre.since.seen_at for centre in found.centres}
        for room, seen_at in centres.items():
            beside = set(ring_around(built.house, near.neighbours, room))
            assert beside <= set(listed)
            if found.growth is Growth.CLEAN_RING:
                since = (seen_at - moment(0)).days
                assert all(looked.get(one, -1) >= since for one in beside - set(centres))
