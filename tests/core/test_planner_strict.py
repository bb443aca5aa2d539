"""The strict order, asked for: never more overdue bed-days in these days than the long run has."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings

from hotelwatch.core.facts import RoomNo, RoundPublished, SlotPublished, TeamName
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


def test_idle_teams_move_published_visits_before_a_bed_is_late():
    """One visit a day: 103 is in time on day 1 if 101 goes to day 2 and 102 to day 3.

    Left where they were published, 103 waits for day 4, a day late. Three rooms are little
    for a team, so its minutes are worth nothing; two moves still count less than a late day.
    """
    built = house().team("blue", 30, works_on=("mon", "tue", "wed", "thu", "fri"))
    for room, due_on in (("101", 8), ("102", 8), ("103", 3)):
        built.room(room).bed("A").checked("A", day(due_on - 91))
    built.stays(("101", -5, 1), ("101", 2, 30), ("102", -5, 2), ("102", 3, 30))
    built.stays(("103", -5, 1), ("103", 1, 4), ("103", 4, 30))
    built.record(
        RoundPublished(day(0), day(6)),
        *(
            SlotPublished(day(on), TeamName("blue"), 1, RoomNo(room), (f"{room}/A",), 20)
            for room, on in (("101", 1), ("102", 2))
        ),
    )
    strict = plan_rounds(built.house, occupancy(built.house, day(0)), replace(WISH, is_strict=True))
    assert {slot.room: (slot.on - day(0)).days for slot in strict.slots} == {
        "101": 2,
        "102": 3,
        "103": 1,
    }
