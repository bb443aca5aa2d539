from __future__ import annotations

from math import inf, nan

import pytest

from hotelwatch.actions.hotel import place_stairs
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import Climb, StairPlaced


def test_a_stair_is_placed_once_moved_and_taken_away(hotel):
    stair = StairPlaced("Back stair", "", 6.0)
    place_stairs(hotel, [stair])
    entries = len(hotel.house.entries)
    assert not place_stairs(hotel, [stair]).topics
    assert len(hotel.house.entries) == entries
    place_stairs(hotel, [StairPlaced("Back stair", "", 8.0, Climb.LIFT)])
    assert hotel.house.stairs == {"Back stair": StairPlaced("Back stair", "", 8.0, Climb.LIFT)}
    place_stairs(hotel, [StairPlaced("Back stair", "", 8.0, Climb.LIFT, in_use=False)])
    assert hotel.house.stairs == {}


@pytest.mark.parametrize(
    ("stair", "code"),
    [
        (StairPlaced(" ", "", 0.0), "stair_needs_name"),
        (StairPlaced("Good", "", 3.0), "two_stairs_of_a_name"),
        (StairPlaced("Stair", "Moon", 0.0), "unknown_wing"),
        (StairPlaced("Stair", "", -0.1), "stair_before_wing"),
        (StairPlaced("Stair", "", inf), "stair_before_wing"),
        (StairPlaced("Stair", "", nan), "stair_before_wing"),
        (StairPlaced("Stair", "", 0.0, in_use=False), "unknown_stair"),
    ],
)
def test_a_stair_that_can_not_be_is_refused(hotel, stair, code):
    with pytest.raises(Refusal) as refused:
        place_stairs(hotel, [StairPlaced("Good", "", 0.0), stair])
    assert refused.value.code == code
    assert hotel.house.stairs == {}
