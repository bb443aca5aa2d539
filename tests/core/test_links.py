"""Rooms that the record ties to a room with a sign.

Insects are carried by people, belongings and furniture: Wang et al. 2010, J Econ Entomol
103:172-177. Which ties to follow is common practice, no source; how far back, an assumption.
"""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.links import Link, links_of, record_of
from hotelwatch.core.choice_facts import CartServes, FigureChosen
from hotelwatch.core.facts import BedDescribed, RoomNo
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.round_facts import FurnitureMoved
from tests.build import Build, day, house

SIGN = 100
"""Day of the sign; the look-back ships as 60 days, so it begins on day 40."""


@pytest.fixture
def built() -> Build:
    made = house()
    for number in range(101, 111):
        made.room(str(number)).bed("A")
    return made


def links(built: Build, room: str = "101", *, today: int = SIGN) -> tuple[Link, ...]:
    at_hand = built.house
    return links_of(at_hand, record_of(at_hand), RoomNo(room), sign_on=day(SIGN), today=day(today))


def tied(built: Build, room: str = "101", *, today: int = SIGN) -> dict[str, str]:
    return {link.room: link.kind.value for link in links(built, room, today=today)}


def with_stays(built: Build, *rows) -> Build:
    """Bookings as (booking, room, day of arrival, day of departure)."""
    stays = [Stay(b, room, "", day(comes), day(goes)) for b, room, comes, goes in rows]
    built.house = built.house.with_stays(stays)
    return built


def moved(from_room: str, to_room: str, number: int, booking: str = "") -> GuestMoved:
    return GuestMoved(RoomNo(from_room), RoomNo(to_room), day(number), booking, "mara")


def test_guests_who_moved_tie_both_rooms_whichever_way_they_went(built):
    built.record(moved("101", "105", 90), moved("107", "101", 91))
    assert tied(built) == {"105": "same_guests", "107": "same_guests"}
    assert tied(built, "105") == {"101": "same_guests"}


def test_a_move_before_the_look_back_or_after_today_ties_nothing(built):
    built.record(moved("101", "105", 39), moved("101", "106", 40), moved("101", "107", 101))
    assert tied(built) == {"106": "same_guests"}
    assert tied(built, today=101) == {"106": "same_guests", "107": "same_guests"}


def test_the_look_back_is_the_hotels_to_choose(built):
    built.record(moved("101", "105", 39), FigureChosen("look_back_days", 90, "old case"))
    assert tied(built) == {"105": "same_guests"}


def test_guests_who_moved_twice_tie_every_room_they_had(built):
    built.record(moved("101", "105", 80, "b1"), moved("105", "108", 82, "b1"))
    assert tied(built) == {"105": "same_guests", "108": "same_guests"}
    assert tied(built, "108") == {"101": "same_guests", "105": "same_guests"}


def test_one_booking_in_several_rooms_ties_them(built):
    with_stays(
        built,
        ("b1", "101", 95, 97),
        ("b1", "104", 97, 99),
        ("b2", "101", 97, 99),
        ("b3", "9", 1, 2),
    )
    assert tied(built) == {"104": "same_guests"}


def test_a_booking_that_fell_through_or_left_long_ago_ties_nothing(built):
    built.house = built.house.with_stays(
        [
            Stay("b1", "101", "", day(95), day(97), StayStatus.CANCELLED),
            Stay("b1", "104", "", day(95), day(97), StayStatus.CANCELLED),
            Stay("b2", "101", "", day(10), day(12)),
            Stay("b2", "105", "", day(10), day(12)),
        ]
    )
    assert tied(built) == {}


def test_of_a_group_only_rooms_that_were_changed_from_or_to_count(built):
    rows = [("g", str(number), 95, 97) for number in range(101, 107)]
    with_stays(built, *rows, ("g", "109", 97, 99), ("g", "110", 98, 99))
    assert tied(built) == {"109": "same_guests"}


def test_a_room_to_which_guests_of_a_booking_are_still_to_come_is_not_tied_yet(built):
    with_stays(built, ("b1", "101", 95, 105), ("b1", "104", 105, 107))
    assert tied(built) == {}
    assert tied(built, today=105) == {"104": "same_guests"}


def test_furniture_and_beds_that_were_carried_tie_both_rooms(built):
    built.record(FurnitureMoved(RoomNo("101"), RoomNo("103"), day(70), "armchair"))
    built.record(BedDescribed("R1", RoomNo("101"), "rollaway"))
    built.on(90).record(BedDescribed("R1", RoomNo("108"), "rollaway"))
    assert tied(built) == {"103": "furniture", "108": "furniture"}
    assert {link.room: link.on for link in links(built)}["108"] == day(90)


def test_rooms_of_one_cart_are_tied_while_it_served_both(built):
    built.record(CartServes("one", ("101", "102"), day(10)))
    built.record(CartServes("one", ("101", "103"), day(45)))
    built.record(CartServes("two", ("101", "109"), day(5)))
    built.record(CartServes("two", (), day(20)))
    assert tied(built) == {"102": "same_cart", "103": "same_cart"}
    assert [link.on for link in links(built)] == [day(40), day(45)]


def test_a_room_that_left_the_roster_is_not_asked_for(built):
    built.record(moved("101", "105", 90)).room("105", in_use=False)
    assert tied(built) == {}


def test_guests_come_before_furniture_and_furniture_before_carts(built):
    built.record(CartServes("one", ("101", "102"), day(10)))
    built.record(FurnitureMoved(RoomNo("101"), RoomNo("103"), day(70), "armchair"))
    built.record(moved("101", "105", 90))
    assert [link.room for link in links(built)] == ["105", "103", "102"]
