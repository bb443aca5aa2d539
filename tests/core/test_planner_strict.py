"""The strict order, asked for: never more overdue bed-days in these days than the long run has."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings

from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.progress import Stopped
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, moment
from tests.core.test_planner import due, house, houses

WISH = Wish(day(0), 10, moment(0, 6))


@settings(deadline=None, max_examples=25)
@given(houses())
def test_the_strict_order_has_no_more_overdue_bed_days_and_none_below_the_proof(built):
    seen = occupancy(built.house, day(0))
    usual = plan_rounds(built.house, seen, WISH)
    strict = plan_rounds(built.house, seen, replace(WISH, is_strict=True))
    assert strict.proof.fewest <= strict.proof.overdue_bed_days
    assert strict.proof.overdue_bed_days <= usual.proof.overdue_bed_days
    assert strict == plan_rounds(built.house, seen, replace(WISH, is_strict=True))


def test_stopped_while_it_searches_it_says_so_and_gives_the_best_until_then():
    built = house().team("blue", 40)
    for number in range(6):
        due(built, f"10{number}", number)

    def stop(share, step):
        if step == "strict_plan":
            raise Stopped

    seen = occupancy(built.house, day(0))
    planned = plan_rounds(built.house, seen, replace(WISH, is_strict=True), stop)
    assert planned.proof.was_stopped
    assert len(planned.slots) == 6
