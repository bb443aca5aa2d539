"""Reasons and repairs as sentences: every number of the sum stands in them."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.reasons import Load
from hotelwatch.core.planning.repairs import Mend, Repair
from hotelwatch.core.planning.shortfall import Binds, Shortfall, TeamTime
from hotelwatch.core.planning.standing import Effect
from hotelwatch.wording.repairs import ranking_sentence, repair_sentence
from hotelwatch.wording.shortfalls import (
    ALONE,
    IN_PLAN,
    load_sentence,
    rooms_text,
    shortfall_sentence,
    sum_lines,
)
from tests.build import day, rules

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
    # A corridor's even side ends with the room across its end: 509 lies on the other side.
    sides = [RoomNo(label) for label in ("505", "507", "509", "506", "508", "510", "511")]
    assert rooms_text(sides[4:], sides) == "508, 510 and 511"


def test_a_sum_can_be_added_up_again():
    said = shortfall_sentence(shortfall(Binds.MINUTES, ROSTER[:18]), ROSTER)
    assert said.startswith("Rooms 401 to 418 need 620 minutes by Wed 7 Jan; teams have 540 minutes")
    assert "80 short" in said
    people = shortfall_sentence(shortfall(Binds.PEOPLE, ROSTER[:1]), ROSTER)
    assert people.startswith("Room 401 needs 620 minutes")
    assert "teams with enough people have 540" in people


def test_a_sum_is_listed_item_by_item():
    one = shortfall(
        Binds.MINUTES,
        ["401", "402"],
        needed=60,
        minutes=50,
        each=(("401", 34), ("402", 26)),
        counted=(TeamTime(day(0), TeamName("Early"), 20), TeamTime(day(1), TeamName("Late"), 30)),
    )
    assert sum_lines(one) == (
        "Needed: 401 34 + 402 26 = 60 minutes",
        "There: Mon 5 Jan Early 20 + Tue 6 Jan Late 30 = 50 minutes",
    )
    assert sum_lines(shortfall(Binds.NO_OPENING, ["401"])) == ()


def test_a_room_that_does_not_open_is_told_with_the_day_on_which_it_does():
    one = shortfall(Binds.NO_OPENING, ["412"], opens_on=day(9), overdue_bed_days=7)
    said = shortfall_sentence(one)
    assert "Room 412 can't be entered by Wed 7 Jan" in said
    assert "The first day for it is Wed 14 Jan: 7 late days." in said
    never = shortfall_sentence(shortfall(Binds.NO_OPENING, ["412"], overdue_bed_days=3))
    assert "at least 3 late days" in never
    # Due on the last day planned: it is late only after them.
    last = shortfall_sentence(shortfall(Binds.NO_OPENING, ["412"], overdue_bed_days=0))
    assert "None of these days will do. Agree" in last


def test_who_agreed_already_is_not_to_be_asked_and_no_guest_for_what_was_begun():
    agreed = shortfall(Binds.AGREED_LATER, ["412"], days=(), opens_on=day(4), overdue_bed_days=2)
    assert shortfall_sentence(agreed) == (
        "Room 412 can't be entered by Wed 7 Jan, when it is due; its guest agreed to a look after"
        " that. The first day for it is Fri 9 Jan: 2 late days."
    )
    begun = shortfall(Binds.LOOKED_TODAY, ["412"], days=(), opens_on=day(4), overdue_bed_days=2)
    assert shortfall_sentence(begun) == (
        "Somebody came to room 412, due by Wed 7 Jan, today, and could not look at all that is due"
        " there."
        " The first day for it is Fri 9 Jan: 2 late days."
        " Look at the rest of it today, or accept it."
    )


def test_every_cause_is_worded_and_names_the_room_and_the_day():
    sums = {Binds.MINUTES, Binds.PEOPLE}
    assert set(ALONE) | set(IN_PLAN) | sums == set(Binds)
    for binds in Binds:
        said = shortfall_sentence(shortfall(binds, ["412"]))
        assert "412" in said
        assert "Wed 7 Jan" in said
    assert len({shortfall_sentence(shortfall(binds, ["412"])) for binds in Binds}) == len(Binds)
    whole = shortfall_sentence(shortfall(Binds.WHOLE_ROOMS, ["412"], needed=20, minutes=10))
    assert (
        "it needs 20 min at once, and after what comes first, and the way there, no team has more"
        " than 10 min left on any of these days."
    ) in whole
    full = shortfall_sentence(shortfall(Binds.WHOLE_ROOMS, ["412"], needed=20, minutes=-3))
    assert (
        "and on each of these days what comes first, and the way there, takes all that the teams"
        " have."
    ) in full


def test_a_case_room_is_told_with_the_deadline_that_its_case_shows():
    at = datetime(2026, 1, 8, 7, 7)
    said = shortfall_sentence(shortfall(Binds.NO_OPENING, ["412"], wanted_at=at))
    assert said.startswith("Room 412 can't be entered by Thu 8 Jan, 07:07, when it is due.")


def test_every_cause_tells_its_days_and_its_late_days():
    for binds in set(Binds) - {Binds.IN_QUARANTINE, Binds.NO_OPENING}:
        said = shortfall_sentence(
            shortfall(
                binds, ["412"], days=(day(0), day(1)), overdue_bed_days=3, needed=9, minutes=5
            )
        )
        assert "Mon 5 Jan and Tue 6 Jan" in said, binds
    for binds in Binds:
        assert "3 late days" in shortfall_sentence(shortfall(binds, ["412"], overdue_bed_days=3))


def repair(mend, before=(80, 2, 90), after=(0, 1, 81), **more):
    return Repair(mend, Effect(*before), Effect(*after), **more)


def test_repairs_say_what_and_what_for():
    team = repair(Mend.TEAM_DAYS, team=TeamName("Early"), days=(day(1),), minutes=240)
    assert repair_sentence(team) == (
        "One more day of Early, or of a team like it, 240 minutes: Tue 6 Jan."
        " Minutes short: 0 instead of 80. Rooms without a day in time: 1 instead of 2."
        " Late days, at the least: 81 instead of 90."
    )
    kept = repair(
        Mend.KEEP_FREE,
        before=(80, 2, 90),
        after=(80, 1, 81),
        rooms=(RoomNo("412"),),
        nights=(day(3),),
        each_saves=(9,),
    )
    assert repair_sentence(kept) == (
        "Keep free: 412 on the night of Thu 8 Jan. A guest is booked then, whom front desk has to"
        " move. It costs 1 room-night. Rooms without a day in time: 1 instead of 2."
        " Late days, at the least: 81 instead of 90."
    )
    two = replace(
        kept, rooms=("412", "415"), nights=(day(3), day(4)), each_saves=(6, 3), after=kept.after
    )
    assert repair_sentence(two).startswith(
        "Keep free: 412 on the night of Thu 8 Jan (saves 6 late days) and 415 on the night of"
        " Fri 9 Jan (saves 3 late days). Guests are booked then, whom front desk has to move."
        " Late days saved together: 9; each night counts beside those before it."
    )
    longer = repair(Mend.LONGER_CYCLE, rooms=tuple(ROSTER[:4]), more_days=2, beds=5, waits=10)
    assert repair_sentence(longer, ROSTER).startswith(
        "Choose a cycle that is 2 days longer for 401 to 404."
        " Its beds then wait up to 10 days longer in all."
    )
    window = repair(Mend.LONGER_WINDOW, days=(day(0), day(1)))
    assert repair_sentence(window).startswith(
        "Set shifts to the hours in which the rooms can be entered, on 2 days"
    )
    encase = repair(Mend.ENCASE, rooms=tuple(ROSTER[:3]), beds=4)
    assert repair_sentence(encase, ROSTER).startswith("Encase 4 beds, in 401 to 403.")
    # Who does it must know where: each room is named, up to as many as one can read.
    apart = repair_sentence(repair(Mend.ENCASE, rooms=tuple(ROSTER[::2]), beds=15), ROSTER)
    assert all(room in apart for room in ROSTER[::2])
    many = [RoomNo(f"R{n}") for n in range(30)]
    assert "R23 and 6 more" in repair_sentence(repair(Mend.ENCASE, rooms=tuple(many), beds=30))


def test_the_order_of_repairs_says_what_it_assumes():
    said = ranking_sentence(rules().figures)
    assert "Assumed, not measured" in said
    figures = rules().figures
    for figure in (figures.kept_night_minutes, figures.encasing_minutes):
        assert figure.standing == "assumption"
        assert f"{figure.value:g} " in said


def test_cycles_that_ask_for_too_much_for_ever_are_told_with_the_least_stretch():
    assert "for ever" not in load_sentence(Load(100, 120))
    fair = load_sentence(Load(80, 120, 4, faster=1.25))
    assert fair.endswith("Seasons noted make that 100.0 and 5.0 on these days.")
    assert "1.25 times as long" in load_sentence(Load(150, 120))
    # Ways count: 110 and 20 of 120 minutes a day.
    assert "1.08 times as long" in load_sentence(Load(110, 120, 20))
