"""The odds of a real file: reckoned again after an entry as if anew, and what a case's find says.

What the odds themselves must come to is checked in tests/core/test_odds_*.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from hotelwatch.actions.calendar import move_furniture
from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import correct_look, record_looks
from hotelwatch.actions.choices import choose_figure
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.joining import join_cases, split_case
from hotelwatch.actions.odds import OddsWish, case_odds, odds_view
from hotelwatch.actions.release import close_case, lift_quarantine, place_monitor, read_monitor
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import CaseJudged, CasesJoined, Outcome, Sighted, Sign
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo, StaysImported
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.progress import Stopped
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead, TreatmentRecorded
from hotelwatch.wording.since import (
    case_lines,
    limit_lines,
    move_text,
    neighbour_text,
    since_lines,
)

TODAY = date(2026, 3, 9)
FEWER_DAYS = 60
NAMES = ("chance", "is_found", "by_day", "finds", "saves_days")


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


def stays(hotel, *, last=0, every=4):
    """A stay of two nights every few days in each room, over the last 200 days."""
    return [
        Stay(f"{room}-{first}", room, "", ago(first), ago(first - 2))
        for room in hotel.house.rooms
        for first in range(200, last, -every)
    ]


def load_stays(hotel, rows):
    told = StaysImported("list.csv", "00", ago(200), len(rows), 0, 0)
    hotel.record_stays(rows, told)


@pytest.fixture
def lived_in(hotel):
    """The hotel with 200 days of stays; each room was looked at 150 and 60 days ago."""
    load_stays(hotel, stays(hotel))
    for days in (150, FEWER_DAYS):
        record_looks(hotel, [look(hotel, room, ago(days)) for room in hotel.house.rooms])
    return hotel


def look(hotel, room, on=TODAY, kind=CheckKind.DEEP):
    return full_look(hotel.house, RoomNo(room), on=on, by=("Ana", "Bo"), kind=kind)


def sign(hotel, room, *, sign=Sign.LIVE_INSECT, days=0, **more) -> CaseNo:
    at = hotel.now() - timedelta(days=days)
    return log_sighting(
        hotel, Sighted(CaseNo(""), RoomNo(room), "", "", sign, 1, "Ana", at, **more)
    )


def judge(hotel, case, outcome=Outcome.CONFIRMED):
    was = "carpet_beetle" if outcome is Outcome.NOT_BED_BUG else ""
    judge_case(hotel, CaseJudged(case, outcome, "Dr. Vey", "zoologist", hotel.today(), was=was))


def treat(hotel, case, room, on=TODAY):
    treated = TreatmentRecorded(case, RoomNo(room), on, "heat", "a firm", "L-1", hotel.now())
    record_treatment(hotel, treated)


def close(hotel, case):
    """Lift its quarantines and end its watch, by a person's reason."""
    for placed, lifted in hotel.house.quarantines:
        if placed.case == case and lifted is None:
            more = {"by": "Ana", "reason": "as the firm says", "competence": "L-1"}
            lift_quarantine(hotel, placed.room, case, **more)
    close_case(hotel, case, by="Ana", reason="as the firm says")


def last_entry(hotel) -> int:
    return max(hotel.house.entries)


def wish(hotel, before=None):
    return OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today(), before)


def view(hotel, before=None):
    return odds_view(wish(hotel, before))


def odds(hotel, case, **more):
    return case_odds(wish(hotel), case, **more)


def chances(of, room):
    return {stance: one.rooms[RoomNo(room)].chance for stance, one in of.reckoning.of.items()}


def held(again, anew):
    """The same odds of every room, in every stance."""
    assert again.reckoning.records.plain == anew.reckoning.records.plain
    for stance, there in anew.reckoning.of.items():
        here = again.reckoning.of[stance]
        assert set(here.rooms) == set(there.rooms)
        for room, figures in there.rooms.items():
            same = [getattr(here.rooms[room], name) for name in NAMES]
            told = [getattr(figures, name) for name in NAMES]
            assert same == pytest.approx(told, rel=1e-9), (room, stance)
            assert here.past[room] == pytest.approx(there.past[room], rel=1e-9)
    assert again.hotel == anew.hotel


# --- reckoned again as anew -----------------------------------------------------------------------


def confirmed_in_101(hotel):
    judge(hotel, sign(hotel, "101", days=10))


def before_nothing(_hotel):
    """No case yet."""


def a_trap_stands(hotel):
    place_monitor(hotel, MonitorPlaced("T1", RoomNo("102"), "leg", ago(20), "Ana"))


def not_bed_bugs_in_101(hotel):
    judge(hotel, sign(hotel, "101", days=5), Outcome.NOT_BED_BUG)


def two_cases(hotel):
    judge(hotel, sign(hotel, "101", days=10))
    sign(hotel, "204", days=5, sign=Sign.CAST_SKIN)


def one_case_of_two_rooms(hotel):
    two_cases(hotel)
    first, second = hotel.house.sightings
    join_cases(hotel, CasesJoined(second, first, "Ana", "same guests"))


def checked(hotel):
    record_looks(hotel, [look(hotel, "102")])


def check_corrected(hotel):
    kept = hotel.house.checks_by_bed["102/A"][-1]
    shorter = look(hotel, "102", kept.fact.checked_on, CheckKind.BRIEF)
    correct_look(hotel, kept.entry, shorter, reason="only the linen was off")


def sighted(hotel):
    sign(hotel, "103")


def one_more_sign_in_a_confirmed_case(hotel):
    (case,) = hotel.house.sightings
    found = Sighted(case, RoomNo("102"), "", "", Sign.EGGS, 1, "Ana", hotel.now())
    hotel.record(lambda _: [found], action="log_sighting")


def one_more_sign_after_it_was_ruled_out(hotel):
    (case,) = hotel.house.sightings
    found = Sighted(case, RoomNo("102"), "", "", Sign.EGGS, 1, "Ana", hotel.now())
    hotel.record(lambda _: [found], action="log_sighting")


def judged(hotel):
    for case in hotel.house.sightings:
        judge(hotel, case)


def ruled_out(hotel):
    for case in hotel.house.sightings:
        judge(hotel, case, Outcome.NOT_BED_BUG)


def treated(hotel):
    (case,) = hotel.house.sightings
    treat(hotel, case, "101", ago(3))


def trap_read(hotel):
    read_monitor(hotel, MonitorRead("T1", RoomNo("102"), TODAY, "Ana", 0))


def last_taken_back(hotel):
    take_back(hotel, last_entry(hotel), reason="a slip")


def joined(hotel):
    first, second = hotel.house.sightings
    join_cases(hotel, CasesJoined(second, first, "Ana", "same guests"))


def furniture_came(hotel):
    move_furniture(hotel, FurnitureMoved(RoomNo("101"), RoomNo("203"), ago(12), "armchair"))


def furniture_of_101_stands_in_203(hotel):
    furniture_came(hotel)
    sign(hotel, "101", days=10)


@pytest.mark.parametrize(
    ("at_first", "then"),
    [
        (before_nothing, checked),
        (before_nothing, check_corrected),
        (before_nothing, sighted),
        (confirmed_in_101, one_more_sign_in_a_confirmed_case),
        (not_bed_bugs_in_101, one_more_sign_after_it_was_ruled_out),
        (sighted, judged),
        (sighted, ruled_out),
        (confirmed_in_101, ruled_out),
        (confirmed_in_101, treated),
        (a_trap_stands, trap_read),
        (checked, last_taken_back),
        (confirmed_in_101, last_taken_back),
        (two_cases, joined),
        (one_case_of_two_rooms, last_taken_back),
        (furniture_of_101_stands_in_203, judged),
        (confirmed_in_101, furniture_came),
    ],
)
def test_after_an_entry_the_odds_are_what_they_would_be_anew(lived_in, at_first, then):
    at_first(lived_in)
    before = view(lived_in)
    then(lived_in)
    anew = view(lived_in)
    assert chances(anew, "101").keys() == set(Stance)
    held(view(lived_in, before), anew)


def test_the_day_turns_and_bookings_are_replaced_all_is_reckoned_anew(lived_in, clock):
    before = view(lived_in)
    clock.moment += timedelta(days=1)
    tomorrow = view(lived_in, before)
    assert tomorrow.reckoning.today == TODAY + timedelta(days=1)
    held(tomorrow, view(lived_in))
    load_stays(lived_in, [row for row in stays(lived_in) if row.room != "102"])
    fewer = view(lived_in, tomorrow)
    held(fewer, view(lived_in))
    assert chances(fewer, "102")[Stance.CENTRAL] < chances(tomorrow, "102")[Stance.CENTRAL]


def test_a_choice_of_figures_counts_at_once(lived_in):
    before = view(lived_in)
    choose_figure(lived_in, "introductions_per_room_year", 0.02, reason="a city of trade fairs")
    after = view(lived_in, before)
    held(after, view(lived_in))
    assert chances(after, "101")[Stance.CENTRAL] > 2 * chances(before, "101")[Stance.CENTRAL]


# --- what a case's find says ------------------------------------------------------------------


def said(odds) -> str:
    lines = []
    for found in odds.finds:
        lines += [*since_lines(found), *limit_lines(found)]
    return " ".join([*lines, *case_lines(odds)])


def test_what_nobody_judged_is_told_with_if_and_neighbours_odds_rise(lived_in):
    case = sign(lived_in, "101")
    told = odds(lived_in, case)
    (found,) = told.finds
    assert not told.is_judged
    assert said(told).startswith(
        "If what was found in 101 is bed bugs, it was brought in most likely"
    )
    near = {row.room: row for row in found.neighbours}
    assert set(near) == {"102", "201"}
    for row in near.values():
        for stance in Stance:
            assert row.chance[stance] > 2 * row.without[stance]
            assert told.chances[row.room][stance] == row.chance[stance]
    # Side walls are taken as more of a way than floors.
    assert near["102"].chance[Stance.CENTRAL] > near["201"].chance[Stance.CENTRAL]
    judge(lived_in, case)
    confirmed = odds(lived_in, case)
    assert confirmed.is_judged
    assert "If what" not in said(confirmed)
    assert confirmed.finds[0].window == found.window


def test_judged_or_not_neighbours_have_the_odds_that_the_odds_page_has_once_it_is_judged(lived_in):
    case = sign(lived_in, "101")
    judge(lived_in, case)
    whole = view(lived_in)
    for row in odds(lived_in, case).finds[0].neighbours:
        # The page reckons in how hard rooms farther away press, too: a little more.
        there = chances(whole, row.room)
        for stance in Stance:
            assert row.chance[stance] == pytest.approx(there[stance], rel=0.05)


def test_a_case_that_was_ruled_out_says_so_and_nothing_else(lived_in):
    case = sign(lived_in, "101")
    judge(lived_in, case, Outcome.NOT_BED_BUG)
    told = odds(lived_in, case)
    assert (told.finds, told.chances, told.is_ruled_out) == ((), {}, True)
    assert said(told).startswith("A competent person judged that it was no bed bug")


def test_the_stays_of_the_window_share_the_chance_among_them(lived_in):
    case = sign(lived_in, "101")
    (found,) = odds(lived_in, case).finds
    earliest, latest = found.span
    for row in found.stays:
        assert row.leaves_on >= earliest
        assert row.arrives_on <= latest
    for stance in Stance:
        listed = sum(row.chance[stance] for row in found.stays)
        before = found.before.before_bookings[stance]
        assert 0.9 <= listed + before <= 1.0 + 1e-9
    assert found.looks == (ago(150), ago(60))
    assert [row.chance[Stance.CENTRAL] for row in found.stays] == sorted(
        (row.chance[Stance.CENTRAL] for row in found.stays), reverse=True
    )


def test_of_two_stays_that_began_on_one_day_each_has_half_the_chance(lived_in):
    case = sign(lived_in, "101")
    likeliest = odds(lived_in, case).finds[0].stays[0]
    twin = Stay("twin", "101", "", likeliest.arrives_on, likeliest.leaves_on)
    load_stays(lived_in, [*stays(lived_in), twin])
    rows = {row.booking: row for row in odds(lived_in, case).finds[0].stays}
    one, other = rows[likeliest.booking], rows["twin"]
    assert one.chance == other.chance
    together = one.chance[Stance.CENTRAL] + other.chance[Stance.CENTRAL]
    assert together > likeliest.chance[Stance.CENTRAL] > one.chance[Stance.CENTRAL]


def test_a_look_that_was_corrected_to_a_brief_one_lets_it_be_older(lived_in):
    case = sign(lived_in, "102")
    (thorough,) = odds(lived_in, case).finds
    check_corrected(lived_in)
    (brief,) = odds(lived_in, case).finds
    assert brief.middle_on[Stance.CENTRAL] < thorough.middle_on[Stance.CENTRAL]


def test_a_find_keeps_its_day_whatever_was_treated_or_found_after_it(lived_in):
    first = sign(lived_in, "101", days=30)
    judge(lived_in, first)
    (before,) = odds(lived_in, first).finds
    treat(lived_in, first, "101", ago(25))
    close(lived_in, first)
    second = sign(lived_in, "101")
    assert second != first
    (after,) = odds(lived_in, first).finds
    assert (after.found_on, after.window) == (ago(30), before.window)
    (again,) = odds(lived_in, second).finds
    assert again.found_on == TODAY
    assert again.survival.treated_on == ago(25)
    # One in ten treatments is taken to leave some alive; in 25 days little else comes in.
    assert again.survival.chance[Stance.CENTRAL] > 0.9
    assert "is bed bugs, it most likely outlived the treatment of" in said(odds(lived_in, second))
    assert "weeks old" not in said(odds(lived_in, second))


def test_two_rooms_with_signs_in_one_case_have_a_window_each(lived_in):
    case = sign(lived_in, "101")
    second = Sighted(case, RoomNo("102"), "", "", Sign.EGGS, 1, "Ana", lived_in.now())
    lived_in.record(lambda _: [second], action="log_sighting")
    told = odds(lived_in, case)
    assert [found.room for found in told.finds] == ["101", "102"]
    assert told.found_in == {"101", "102"}
    assert not told.found_in & set(told.chances)
    other = next(row for row in told.finds[0].neighbours if row.room == "102")
    assert neighbour_text(other) == "sign of this case"
    judge(lived_in, case)
    other = next(row for row in odds(lived_in, case).finds[0].neighbours if row.room == "102")
    assert neighbour_text(other) == "find of this case"
    assert "one may have come by it from another" in said(told)


def test_bites_told_of_elsewhere_stay_an_if_when_the_case_is_confirmed(lived_in):
    case = sign(lived_in, "101")
    bites = Sighted(case, RoomNo("102"), "", "", Sign.BITES_REPORTED, 0, "Ana", lived_in.now())
    lived_in.record(lambda _: [bites], action="log_sighting")
    judge(lived_in, case)
    there, told_of = odds(lived_in, case).finds
    assert (there.is_judged, told_of.is_judged) == (True, False)
    assert since_lines(told_of)[0].startswith(
        "If what was found in 102 is bed bugs, it was brought in"
    )
    near = next(row for row in there.neighbours if row.room == "102")
    assert neighbour_text(near) == "sign of this case"


def test_a_find_after_a_treatment_is_one_more_find_of_the_same_case(lived_in):
    case = sign(lived_in, "101", days=30)
    judge(lived_in, case)
    treat(lived_in, case, "101", ago(25))
    again = Sighted(case, RoomNo("101"), "", "", Sign.EGGS, 1, "Ana", lived_in.now())
    lived_in.record(lambda _: [again], action="log_sighting")
    first, second = odds(lived_in, case).finds
    assert (first.found_on, second.found_on) == (ago(30), TODAY)
    assert (first.survival, second.survival.treated_on) == (None, ago(25))
    assert "itself" not in said(odds(lived_in, case))


def test_a_neighbours_own_confirmed_case_is_no_sign_of_this_one(lived_in):
    judge(lived_in, sign(lived_in, "102", days=40))
    case = sign(lived_in, "101")
    if len(lived_in.house.sightings) == 1:
        (row,) = [r for r in lived_in.house.sightings[case] if r.fact.room == "101"]
        case = split_case(lived_in, case, {row.entry}, reason="another story")
    near = {row.room: row for row in odds(lived_in, case).finds[0].neighbours}
    assert neighbour_text(near["102"]) == "confirmed find"


def test_a_joined_case_has_the_finds_of_both(lived_in):
    two_cases(lived_in)
    first, second = lived_in.house.sightings
    (alone,) = odds(lived_in, second).finds
    join_cases(lived_in, CasesJoined(second, first, "Ana", "same guests"))
    told = odds(lived_in, first)
    assert [found.room for found in told.finds] == ["101", "204"]
    assert told.finds[1].window == alone.window
    assert odds(lived_in, second).finds == ()


def test_a_guest_who_found_it_counts_from_the_day_that_it_was_seen(lived_in):
    case = sign(lived_in, "101", days=3, by_guest=True)
    (found,) = odds(lived_in, case).finds
    assert found.found_on == ago(3)
    assert all(last <= ago(3) for _first, last in found.window.values())
    assert all(row.arrives_on <= ago(3) for row in found.stays)


def test_where_the_record_began_yesterday_what_lies_before_is_said_to_be_assumed(hotel, clock):
    clock.moment += timedelta(days=1)
    case = sign(hotel, "101")
    told = odds(hotel, case)
    (found,) = told.finds
    assert found.before.record_from == TODAY
    assert found.span[0] < found.before.record_from
    assert found.looks == ()
    assert "How far back of that day it may have come in is assumed, not known." in said(told)
    assert "No bookings are at hand" in said(told)
    assert found.stays == ()
    # No stance reaches farther back than it takes the time before a record to be.
    reach = hotel.house.rules.odds.figures.days_before_record
    for stance, (first, _last) in found.window.items():
        assert first >= TODAY - timedelta(days=reach.of(stance))


def test_a_room_that_left_the_roster_is_named_and_not_reckoned(lived_in):
    case = sign(lived_in, "104")
    left = replace(lived_in.house.rooms[RoomNo("104")], in_use=False)
    lived_in.record(lambda _: [left], action="load_roster")
    told = odds(lived_in, case)
    assert (told.gone, told.finds) == (("104",), ())
    assert said(told) == "Room 104 left the roster: nothing can be worked out for it."


def test_what_left_the_room_until_it_was_treated_is_listed_with_what_came_in(lived_in):
    case = sign(lived_in, "101", days=5)
    judge(lived_in, case)
    move_furniture(lived_in, FurnitureMoved(RoomNo("204"), RoomNo("101"), ago(20), "lamp"))
    for days, room in ((20, "103"), (4, "203"), (1, "204")):
        to = FurnitureMoved(RoomNo("101"), RoomNo(room), ago(days), "armchair")
        move_furniture(lived_in, to)
    treat(lived_in, case, "101", ago(2))
    (found,) = odds(lived_in, case).finds
    told = [move_text(row) for row in found.moves]
    assert told == ["armchair went to 103", "lamp came from 204", "armchair went to 203"]


def test_rooms_asked_after_that_are_no_neighbours_have_the_odds_that_the_odds_page_has(lived_in):
    case = sign(lived_in, "101")
    assert RoomNo("204") not in odds(lived_in, case).chances
    told = odds(lived_in, case, also=[RoomNo("204"), RoomNo("999")])
    whole = view(lived_in)
    assert RoomNo("999") not in told.chances
    assert told.chances[RoomNo("204")] == pytest.approx(chances(whole, "204"), rel=0.05)


def test_reckoning_a_case_can_be_stopped(lived_in):
    case = sign(lived_in, "101")

    def stop(_share, _step):
        raise Stopped

    with pytest.raises(Stopped):
        case_odds(wish(lived_in), case, progress=stop)
