"""Neighbours against shapely: every pair of rooms must come out exactly as ours."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from hotelwatch.core.facts import Side
from tests.build import house
from tests.core.by_shapely import FIGURES, by_hotelwatch, by_shapely
from tests.core.hotels import hotels


@given(hotels())
@settings(max_examples=40, deadline=None)
def test_random_hotels_have_the_neighbours_that_shapely_finds(hotel):
    assert by_hotelwatch(hotel) == by_shapely(hotel)


@pytest.mark.parametrize("gap", [-0.36, -0.2, 0.0, 0.2, 0.33, 0.34, 0.36, 0.4])
@pytest.mark.parametrize("bearing", [-0.5, 0.0, 0.5, 3.0])
def test_walls_that_are_not_quite_parallel_share_what_lies_within_the_gap(gap, bearing):
    up = 2 * FIGURES.room_depth_m.value + FIGURES.corridor_width_m.value + gap
    build = house().wing("A", 0, 0, 0).wing("B", 0, up, bearing)
    for number in range(1, 8):
        build.room(f"A{number}", wing="A").room(f"B{number}", wing="B", side=Side.RIGHT)
    ours = by_hotelwatch(build.house)
    shared = {(a, b) for a, b in ours if a[0] != b[0]}
    if abs(bearing) < 1:
        assert ours == by_shapely(build.house)
        assert shared or abs(gap) > FIGURES.wall_gap_m.value
    else:
        assert not shared


def test_a_wide_room_over_two_of_a_turned_wing_lies_above_both():
    build = house().floors("1", "2").wing("A", 4.1, -0.1, 135.0)
    build.room("101", wing="A", side=Side.RIGHT, order=1)
    build.room("102", wing="A", side=Side.RIGHT, order=2, width_m=3.5)
    build.room("201", floor="2", wing="A", side=Side.RIGHT, order=1, width_m=8.0)
    above = {
        (low, high) for (low, high), kinds in by_hotelwatch(build.house).items() if "above" in kinds
    }
    assert above == {("101", "201"), ("102", "201")}
    assert by_hotelwatch(build.house) == by_shapely(build.house)
