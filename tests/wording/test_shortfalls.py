"""Reasons and repairs as sentences: every number of the sum stands in them."""

from __future__ import annotations

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.reasons import Load
from hotelwatch.core.planning.repairs import Mend, Repair
from hotelwatch.core.planning.shortfall import Binds, Shortfall
from hotelwatch.wording.shortfalls import (
    load_sentence,
    repair_sentence,
    rooms_text,
    shortfall_sentence,
)
from tests.build import day

ROSTER = [RoomNo(f"4{n:02}") for n in range(1, 30)]


def shortfall(binds, rooms, **more):
    given = {"needed": 620, "minutes": 540, "days": (day(0), day(1), day(2)), "until_on": day(2)}
    return Shortfall(binds, rows=(), rooms=tuple(rooms), **{**given, **more})


def test_rooms_in_a_row_of_the_roster_are_told_by_the_first_and_the_last():
    assert rooms_text(ROSTER[:18], ROSTER) == "401 to 418"
    assert rooms_text([ROSTER[4], ROSTER[0], ROSTER[1]], ROSTER) == "401, 402 and 405"
    every_other = ROSTER[::2]
    assert rooms_text(every_other, ROSTER) == "401, 403, 405, 407, 409 and 10 more"
    # Labels are no arithmetic: where the roster skips a number, nothing is missing.
    skipping = [RoomNo(label) for label in ("3", "12A", "14", "G2")]
    assert rooms_text(skipping, skipping) == "3 to G2"
    assert rooms_text(skipping[:2]) == "3 and 12A"


def test_a_sum_can_be_added_up_again():
    said = shortfall_sentence(shortfall(Binds.MINUTES, ROSTER[:18]), ROSTER)
    assert said.startswith("Rooms 401 to 418 need 620 minutes by Wed 7 Jan; 540 minutes of team")
    assert "80 short" in said
    people = shortfall_sentence(shortfall(Binds.PEOPLE, ROSTER[:1]), ROSTER)
    assert people.startswith("Room 401 needs 620 minutes")
    assert "teams with enough people have 540" in people


def test_a_room_that_does_not_open_is_told_with_the_day_on_which_it_does():
    one = shortfall(Binds.NO_OPENING, ["412"], opens_on=day(9), overdue_bed_days=7)
    said = shortfall_sentence(one)
    assert "412 has no opening by Wed 7 Jan" in said
    assert "Wed 14 Jan" in said
    assert "7 overdue bed-days" in said
    never = shortfall_sentence(shortfall(Binds.NO_OPENING, ["412"], overdue_bed_days=3))
    assert "at least 3 overdue bed-days" in never


def test_repairs_say_what_and_what_for():
    team = Repair(
        Mend.TEAM_DAYS, team=TeamName("Early"), days=(day(1),), short_before=80, short_after=0
    )
    assert repair_sentence(team) == (
        "One more day of Early, or of a team like it: Tue 6 Jan. Minutes short: 0 instead of 80."
    )
    kept = Repair(
        Mend.KEEP_FREE,
        rooms=(RoomNo("412"),),
        nights=(day(3),),
        unopened_before=2,
        unopened_after=1,
        saved_bed_days=9,
    )
    assert repair_sentence(kept) == (
        "Keep 412 on the night of Thu 8 Jan free. Rooms without an opening in time: 1 instead"
        " of 2. It costs 1 room-night and saves 9 overdue bed-days."
    )
    longer = Repair(Mend.LONGER_CYCLE, rooms=tuple(ROSTER[:4]), more_days=2, short_before=5)
    assert repair_sentence(longer, ROSTER).startswith(
        "Choose a cycle that is 2 days longer for 401 to 404."
    )


def test_cycles_that_ask_for_too_much_for_ever_are_told_with_the_least_stretch():
    assert "for ever" not in load_sentence(Load(100, 120))
    assert "1.25 times as long" in load_sentence(Load(150, 120))
