"""Rooms guessed for bookings that front desk has given none."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import combinations, permutations
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.records import Stay
from hotelwatch.core.stays.gaps import Gap, Span, gaps_between, trim_to_rooms
from hotelwatch.core.stays.packing import pack
from hotelwatch.core.stays.provisional import place_bookings
from tests.build import day

TWINS = {"twin": (RoomNo("101"), RoomNo("102"))}


def booking(name, arrives, leaves, *, room="", kind="twin"):
    return Stay(name, room, kind, day(arrives), day(leaves))


def place(rooms, fixed, unplaced, today=0):
    return place_bookings(rooms, fixed, unplaced=unplaced, today=day(today))


def where(placement):
    return [
        (stay.booking, stay.room, (stay.arrives_on - day(0)).days, (stay.leaves_on - day(0)).days)
        for stay in placement.placed
    ]


def test_bookings_that_follow_one_another_share_a_room():
    placed = place(TWINS, [], [booking("a", 0, 3), booking("b", 1, 4), booking("c", 3, 5)])
    assert placed.moves == 0
    assert ("c", "101", 3, 5) in where(placed)
    assert not placed.unplaced


def test_a_room_that_front_desk_gave_is_left_alone():
    placed = place(TWINS, [booking("x", 1, 3, room="101")], [booking("a", 0, 2)])
    assert where(placed) == [("a", "102", 0, 2)]


def test_a_stay_is_split_only_where_no_room_is_free_for_all_of_it():
    fixed = [booking("x", 0, 2, room="101"), booking("y", 2, 4, room="102")]
    placed = place(TWINS, fixed, [booking("a", 0, 4)])
    assert where(placed) == [("a", "102", 0, 2), ("a", "101", 2, 4)]
    assert placed.moves == 1
    assert not placed.other_type


def test_another_type_is_given_only_when_the_own_one_is_full_and_it_is_said():
    rooms = {"double": (RoomNo("201"),), "twin": (RoomNo("101"),)}
    placed = place(rooms, [], [booking("a", 0, 2), booking("b", 1, 3)])
    assert where(placed) == [("a", "101", 0, 2), ("b", "201", 1, 3)]
    assert placed.other_type == {"b"}


def test_the_own_type_goes_to_those_who_booked_it_first():
    rooms = {"double": (RoomNo("201"),), "twin": (RoomNo("101"),)}
    wanted = [booking("a", 0, 2), booking("b", 0, 2), booking("c", 0, 2, kind="double")]
    placed = place(rooms, [], wanted)
    assert ("c", "201", 0, 2) in where(placed)
    assert len(placed.unplaced) == 1
    assert not placed.other_type


def test_an_overbooked_hotel_leaves_the_fewest_without_a_room():
    wanted = [booking("long", 0, 9), booking("a", 0, 3), booking("b", 1, 3), booking("c", 3, 9)]
    placed = place({"twin": (RoomNo("101"),)}, [], wanted)
    assert [stay.booking for stay in placed.unplaced] == ["long", "b"]


def test_a_booking_of_no_type_or_an_unknown_one_takes_what_is_left():
    rooms = {"double": (RoomNo("201"),), "twin": (RoomNo("101"),)}
    wanted = [booking("a", 0, 2, kind=""), booking("b", 0, 2), booking("c", 3, 5, kind="loft")]
    placed = place(rooms, [], wanted)
    assert ("a", "201", 0, 2) in where(placed)
    assert placed.other_type == {"c"}


def test_nights_past_are_not_guessed():
    placed = place(TWINS, [], [booking("a", -5, 2), booking("b", -5, 0)])
    assert where(placed) == [("a", "101", 0, 2)]


# --- against every way there is --------------------------------------------------------

NIGHTS = 7


@st.composite
def hotels(draw):
    """Gaps of up to four rooms and up to seven spans within a week."""
    gaps = []
    for room in range(draw(st.integers(1, 4))):
        taken = draw(st.lists(st.tuples(st.integers(0, NIGHTS - 1), st.integers(1, 3)), max_size=2))
        spans = [(first, first + nights) for first, nights in taken]
        gaps += [Gap(room, first, last) for first, last in gaps_between(spans, 0, NIGHTS)]
    rows = st.tuples(st.integers(0, NIGHTS - 1), st.integers(1, NIGHTS))
    wanted = draw(st.lists(rows, min_size=1, max_size=7))
    spans = [
        Span(number, first, min(NIGHTS, first + nights))
        for number, (first, nights) in enumerate(wanted)
    ]
    return spans, gaps


def fits(spans, gaps):
    return all(
        sum(s.arrives <= night < s.leaves for s in spans)
        <= sum(g.first <= night < g.last for g in gaps)
        for night in range(NIGHTS)
    )


def fewest_moves(spans, gaps):
    """Every night, every way of giving rooms; moves wherever a guest's room changes."""
    best = {(): 0}
    for night in range(NIGHTS):
        guests = [s.number for s in spans if s.arrives <= night < s.leaves]
        rooms = [g.room for g in gaps if g.first <= night < g.last]
        following = {}
        for before, moves in best.items():
            last = dict(before)
            for given_rooms in permutations(rooms, len(guests)):
                changes = sum(
                    last.get(guest, room) != room
                    for guest, room in zip(guests, given_rooms, strict=True)
                )
                way = tuple(zip(guests, given_rooms, strict=True))
                following[way] = min(following.get(way, NIGHTS**2), moves + changes)
        best = following
    return min(best.values())


@settings(max_examples=150, deadline=None)
@given(hotels())
def test_moves_are_the_fewest_there_are_in_a_small_hotel(hotel):
    spans, gaps = hotel
    fitting, _ = trim_to_rooms(spans, gaps)
    assert len(pack(fitting, gaps)) - len(fitting) == fewest_moves(fitting, gaps)


@settings(deadline=None)
@given(hotels())
def test_the_fewest_bookings_are_left_out_of_a_small_hotel(hotel):
    spans, gaps = hotel
    fitting, dropped = trim_to_rooms(spans, gaps)
    assert fits(fitting, gaps)
    assert {span.number for span in fitting}.isdisjoint(dropped)
    assert len(fitting) + len(dropped) == len(spans)
    if dropped:
        fewer = combinations(spans, len(spans) - len(dropped) + 1)
        assert not any(fits(some, gaps) for some in fewer)


# --- laws ----------------------------------------------------------------------------------

rows = st.lists(
    st.tuples(
        st.sampled_from(["twin", "double", "loft", ""]),
        st.integers(-3, 12),
        st.integers(1, 9),
        st.sampled_from(["", "", "", "101", "201"]),
    ),
    max_size=25,
)
HOTEL = {
    "double": (RoomNo("201"), RoomNo("202"), RoomNo("203")),
    "twin": (RoomNo("101"), RoomNo("102")),
}


def split_up(table):
    """Those with a room, without a room let twice, and those without."""
    stays = [
        booking(f"k{number}", first, first + nights, room=room, kind=kind)
        for number, (kind, first, nights, room) in enumerate(table)
    ]
    fixed = []
    for stay in stays:
        if stay.room and not any(
            other.room == stay.room
            and other.arrives_on < stay.leaves_on
            and stay.arrives_on < other.leaves_on
            for other in fixed
        ):
            fixed.append(stay)
    return fixed, [stay for stay in stays if not stay.room]


@given(rows)
def test_no_room_is_given_twice_and_every_night_of_a_placed_booking_is_covered(table):
    fixed, wanted = split_up(table)
    placed = place(HOTEL, fixed, wanted)
    nights = Counter(
        (stay.room, night)
        for stay in (*fixed, *placed.placed)
        for night in range(stay.arrives_on.toordinal(), stay.leaves_on.toordinal())
    )
    assert not [night for night, times in nights.items() if times > 1]
    without = {stay.booking for stay in placed.unplaced}
    for stay in wanted:
        covered = sorted(
            night
            for part in placed.placed
            if part.booking == stay.booking
            for night in range(part.arrives_on.toordinal(), part.leaves_on.toordinal())
        )
        first = max(stay.arrives_on, day(0)).toordinal()
        expected = list(range(first, stay.leaves_on.toordinal()))
        assert covered == ([] if stay.booking in without else expected)


@given(rows)
def test_without_rooms_given_ahead_nobody_moves_within_his_type(table):
    # Left-edge argument: spans taken by arrival need no more rooms than the fullest night.
    _, wanted = split_up(table)
    for kind, rooms in HOTEL.items():
        own = [stay for stay in wanted if stay.room_type == kind]
        assert place({kind: rooms}, [], own).moves == 0


@given(rows, st.randoms(use_true_random=False))
def test_the_order_in_which_bookings_are_named_does_not_matter(table, random):
    fixed, wanted = split_up(table)
    shuffled = random.sample(wanted, len(wanted))
    assert place(HOTEL, fixed, wanted) == place(HOTEL, fixed[::-1], shuffled)


@given(rows)
def test_another_type_is_given_only_on_a_night_on_which_the_own_one_is_full(table):
    fixed, wanted = split_up(table)
    placed = place(HOTEL, fixed, wanted)
    type_of = {room: kind for kind, rooms in HOTEL.items() for room in rooms}
    for stay in wanted:
        if stay.booking not in placed.other_type or stay.room_type not in HOTEL:
            continue
        own = HOTEL[stay.room_type]
        first = max(stay.arrives_on, day(0)).toordinal()
        full = [
            night
            for night in range(first, stay.leaves_on.toordinal())
            if sum(
                other.arrives_on.toordinal() <= night < other.leaves_on.toordinal()
                for other in (*fixed, *placed.placed)
                if other.booking != stay.booking and other.room in own
            )
            == len(own)
        ]
        parts = [p for p in placed.placed if p.booking == stay.booking]
        assert any(type_of[part.room] != stay.room_type for part in parts)
        assert full


def nearly_full(seed):
    """60 rooms, 95 % of nights let; a third of the bookings have their room."""
    random = Random(seed)
    stays = []
    for number in range(60):
        at = random.randint(0, 3)
        while at < 60:
            nights = random.choice((1, 1, 2, 2, 3, 4, 5, 7, 7, 9, 14))
            if random.random() >= 0.05:
                stays.append(booking(f"{number}-{at}", at, at + nights, room=f"{number:03d}"))
            at += nights
    wanted = [replace(stay, room="") for number, stay in enumerate(stays) if number % 3]
    return stays[::3], wanted


def moves_of_first_fit(rooms, fixed, wanted):
    """Each by arrival into the first room free all along, else into the first free that night."""
    taken = {
        (stay.room, night)
        for stay in fixed
        for night in range(stay.arrives_on.toordinal(), stay.leaves_on.toordinal())
    }
    moves = 0
    for stay in sorted(wanted, key=lambda s: (s.arrives_on, s.booking)):
        nights = list(range(stay.arrives_on.toordinal(), stay.leaves_on.toordinal()))
        all_along = [r for r in rooms if not any((r, night) in taken for night in nights)]
        now = all_along[0] if all_along else None
        for night in nights:
            if now is None or (now, night) in taken:
                moves += now is not None
                now = next(room for room in rooms if (room, night) not in taken)
            taken.add((now, night))
    return moves


@pytest.mark.parametrize("seed", range(5))
def test_a_large_hotel_nearly_full_moves_far_fewer_than_first_come_first_room(seed):
    # All could be placed without a move, since the bookings were cut out of rooms' nights.
    fixed, wanted = nearly_full(seed)
    rooms = [RoomNo(f"{number:03d}") for number in range(60)]
    placed = place({"twin": rooms}, fixed, wanted)
    assert not placed.unplaced
    assert 4 * placed.moves < moves_of_first_fit(rooms, fixed, wanted)
