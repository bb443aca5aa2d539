"""Floor space beside minutes."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.facts import RoundPublished, SlotPublished, TeamName
from hotelwatch.core.rounds.loads import area_m2, floor_space, loads
from hotelwatch.core.rounds.team_days import published_round, team_days
from tests.build import day, house, rules


def test_a_room_is_its_width_times_the_usual_depth():
    built = house().room("101", width_m=5.0).room("102")
    drawn = lay_out(built.house)
    figures = rules().figures
    depth = figures.room_depth_m.value
    assert floor_space(drawn, "101") == pytest.approx(5.0 * depth)
    assert floor_space(drawn, "102") == pytest.approx(figures.bay_width_m.value * depth)
    assert floor_space(drawn, "999") == 0.0


@pytest.mark.parametrize(
    "outline",
    [
        ((0.0, 0.0), (4.0, 0.0), (4.0, 7.0), (0.0, 7.0)),
        ((1.0, 1.0), (5.0, 2.0), (6.0, 6.0), (2.0, 5.5)),
        ((0.0, 0.0), (3.0, 0.0), (1.0, 2.0)),
    ],
)
def test_the_area_is_that_of_a_library(outline):
    # Against Shapely's own area (GEOS).
    assert area_m2(outline) == pytest.approx(Polygon(outline).area)


def test_a_team_s_day_has_both_in_sums():
    built = house().wing("East", 0, 0, 30).team("blue", 120)
    built.room("101", wing="East", width_m=5.0).bed("A").room("102", wing="East").bed("A")
    blue = TeamName("blue")
    built.record(
        RoundPublished(day(0), day(1)),
        SlotPublished(day(0), blue, 1, "101", ("101/A",), 20),
        SlotPublished(day(0), blue, 2, "102", ("102/A",), 27),
    )
    first, second = loads(
        lay_out(built.house),
        team_days(built.house, published_round(built.house, day(0), day(1))),
    )
    figures = rules().figures
    wide = 5.0 + figures.bay_width_m.value
    # 20 and 27 for the rooms, 8 for the way to their corridor.
    assert (first.rooms, first.used, first.minutes) == (2, 55, 120)
    assert first.floor_m2 == pytest.approx(wide * figures.room_depth_m.value)
    assert (second.rooms, second.floor_m2, second.used) == (0, 0, 0)
