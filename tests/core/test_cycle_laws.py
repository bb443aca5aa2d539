"""Laws of a cycle that hold whatever the figures are, and of steps away from it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.facts import CheckKind, RoomChecked, RoomNo
from hotelwatch.core.odds.cycles.closed_forms import mean_delay
from hotelwatch.core.odds.cycles.cycle import Eyes, detection, eyes_of
from hotelwatch.core.odds.cycles.cycle_costs import Practice, check_work, work_hours
from hotelwatch.core.odds.cycles.cycle_hotel import (
    circumstances_of,
    let_nights,
    mean_neighbours,
    now_of,
    usual_room,
    way_kept,
)
from hotelwatch.core.odds.cycles.cycle_rows import HORIZON_DAYS, Circumstances, Finder, Now
from hotelwatch.core.odds.cycles.cycle_table import cycle_table
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS, CheckWay, Step, room_of, steps_from
from hotelwatch.core.odds.cycles.next_hour import next_hour
from hotelwatch.core.odds.settings import setting_of
from hotelwatch.core.odds_figures import Stance
from tests.build import day, house, rules

ODDS = rules().odds
ROOM = room_of(rules(), [("box_spring", False)])
ROUND_HOUSE = Circumstances(0.64, neighbours={(Kind.SHARES_WALL,): 2.0, (Kind.ACROSS,): 1.0})

stances = st.sampled_from(Stance)
ways = st.builds(
    CheckWay,
    cover_opened=st.booleans(),
    headboard_off=st.booleans(),
    encased=st.booleans(),
    traps=st.booleans(),
    longer=st.sampled_from([1.0, 1.5, 2.0]),
)
arounds = st.builds(
    Circumstances,
    let_share=st.floats(0.05, 1.0),
    glances=st.booleans(),
    glance_weight=st.none() | st.floats(0.0, 1.0),
    traps_every_days=st.integers(7, 28),
)


def eyes(stance, way, around):
    return eyes_of(ODDS, setting_of(ODDS, stance), way, room=ROOM, around=around)


@given(stances, ways, arounds, st.integers(1, 400), st.integers(1, 60))
@settings(deadline=None, max_examples=60)
def test_a_longer_cycle_finds_nothing_sooner(stance, way, around, cycle_days, more):
    seen_by = eyes(stance, way, around)
    short, long = detection(seen_by, cycle_days), detection(seen_by, cycle_days + more)
    assert long.mean_days >= short.mean_days - 1e-6
    assert long.first[Finder.GUEST] >= short.first[Finder.GUEST] - 1e-9
    for of in ("median_days", "late_days"):
        before, after = getattr(short, of), getattr(long, of)
        assert after is None or (before is not None and after >= before - 1)


@given(stances, ways, arounds, st.integers(1, 400))
@settings(deadline=None, max_examples=60)
def test_somebody_or_nobody_finds_each_and_shares_are_those_of_the_days(
    stance, way, around, cycle_days
):
    seen = detection(eyes(stance, way, around), cycle_days, around.traps_every_days)
    assert sum(seen.first.values()) == pytest.approx(1.0, abs=1e-9)
    assert min(seen.first.values()) >= 0.0
    assert seen.found.min() >= -1e-12
    assert seen.found.sum() == pytest.approx(1.0 - seen.first[Finder.NOBODY], abs=1e-9)
    if not way.traps:
        assert seen.first[Finder.TRAPS] == 0.0


@given(stances, ways, arounds, st.integers(1, 400), st.floats(1.05, 2.0))
@settings(deadline=None, max_examples=60)
def test_whoever_notices_more_finds_it_no_later(stance, way, around, cycle_days, better):
    setting = setting_of(ODDS, stance)
    sharper = replace(
        setting, notice={key: min(1.0, value * better) for key, value in setting.notice.items()}
    )
    usual, sharp = (
        detection(eyes_of(ODDS, one, way, room=ROOM, around=around), cycle_days)
        for one in (setting, sharper)
    )
    assert sharp.mean_days <= usual.mean_days + 1e-6
    for of in ("median_days", "late_days"):
        before, after = getattr(usual, of), getattr(sharp, of)
        assert before is None or (after is not None and after <= before)


@given(stances, ways, st.integers(1, 400))
@settings(deadline=None, max_examples=30)
def test_without_guests_no_guest_finds_anything(stance, way, cycle_days):
    seen = detection(eyes(stance, way, Circumstances(let_share=0.0)), cycle_days)
    assert seen.first[Finder.GUEST] == seen.first[Finder.GLANCE] == 0.0


def steady(check, guest):
    """Eyes that see the same at every age, in one place."""
    ages = np.ones(HORIZON_DAYS)
    at_place = ages[np.newaxis]
    return Eyes(ages, np.ones(1), check * at_place, None, 0 * at_place, guest * ages, ages)


@given(st.integers(1, 400), st.floats(0.0, 1.0), st.floats(0.002, 0.3))
@settings(deadline=None)
def test_a_steady_guest_finds_first_in_proportion_to_the_days_it_was_there(
    cycle_days, chance, guest
):
    """P(guest first) = g (1 + mean days): on the day that it comes in somebody sleeps there.
    Within the horizon, beyond which less than 0.1 % is left at these chances."""
    seen = detection(steady(chance, guest), cycle_days)
    left = seen.first[Finder.NOBODY]
    assert seen.first[Finder.GUEST] == pytest.approx(guest * (1 + seen.mean_days - left), rel=1e-9)


@pytest.mark.parametrize(("cycle_days", "chance"), [(90, 0.7), (60, 0.5), (30, 1.0), (7, 0.2)])
def test_a_steady_check_delays_as_the_short_formula_says_and_half_a_day(cycle_days, chance):
    seen = detection(steady(chance, 0.0), cycle_days)
    assert seen.mean_days == pytest.approx(mean_delay(cycle_days, chance) + 0.5, abs=1e-6)


# --- a room's year ---------------------------------------------------------------------------


def test_rooms_infested_at_any_time_are_introductions_times_days_undetected():
    """Little's law: what is there on average is what comes in a day times how long it stays."""
    around = Circumstances(0.64)
    (row,) = cycle_table(ODDS, [CheckWay()], [90], room=ROOM, around=around)
    for stance, outcome in row.by_stance.items():
        per_year = ODDS.figures.introductions_per_room_year.of(stance)
        assert outcome.year.introductions == pytest.approx(per_year)
        assert outcome.year.infested_days == pytest.approx(per_year * outcome.seen.mean_days)


def test_a_full_house_has_more_introductions():
    for let_share, times in ((0.32, 0.5), (0.96, 1.5)):
        around = Circumstances(let_share)
        (row,) = cycle_table(ODDS, [CheckWay()], [90], room=ROOM, around=around)
        assert row.by_stance[Stance.CENTRAL].year.introductions == pytest.approx(0.005 * times)


def test_hours_by_hand():
    """6 minutes to set up and 14 for the bed, two people, 365/73 = 5 checks: 200 minutes. With
    dust cover (8) and headboard (6) 14 minutes of two more: 340. Longer looking: 270. Encased
    7 for 14: 130. Traps: 365/14 readings of 2 minutes by one person."""

    def hours(**way):
        return work_hours(Practice(ODDS, CheckWay(**way), ROOM, ROUND_HOUSE), Stance.CENTRAL, 73)

    assert hours() == pytest.approx(200 / 60)
    assert hours(cover_opened=True, headboard_off=True) == pytest.approx(340 / 60)
    assert hours(longer=1.5) == pytest.approx(270 / 60)
    assert hours(encased=True, cover_opened=True) == pytest.approx(130 / 60)
    assert hours(traps=True) == pytest.approx((200 + 365 / 14 * 2) / 60)


def test_money_by_hand():
    """A room's year from its parts: prices are those shipped, per hour, night, treatment, find."""
    (row,) = cycle_table(
        ODDS, [CheckWay(encased=True, traps=True)], [73], room=ROOM, around=ROUND_HOUSE
    )
    year = row.by_stance[Stance.CENTRAL].year
    assert year.work == pytest.approx(25 * year.hours)
    assert year.material == pytest.approx(80 + 20)
    assert year.nights_closed == pytest.approx(14 * year.finds)
    money = year.finds * 1225 + year.nights_closed * 100 + year.guest_finds * 500
    assert year.cost == pytest.approx(year.work + 100 + money)


def test_encasing_changes_where_it_sits_and_what_need_not_be_opened():
    """Half of what sits inside the base goes to headboard and frame, half elsewhere: assumed."""
    shares = dict(
        zip(("top", "under", "out", "in", "head", "else"), ROOM.encased_shares, strict=True)
    )
    assert shares["in"] == 0.0
    assert shares["head"] == pytest.approx(0.33)
    assert shares["else"] == pytest.approx(0.29)
    assert CheckWay(cover_opened=True, encased=True).look == "deep_closed"
    practice = Practice(ODDS, CheckWay(cover_opened=True, encased=True), ROOM, ROUND_HOUSE)
    plain = replace(practice, way=CheckWay(encased=True))
    assert check_work(practice, Stance.CENTRAL) == check_work(plain, Stance.CENTRAL)


def test_rows_stand_by_way_and_length_with_three_stances():
    both = (CheckWay(), CheckWay(traps=True))
    rows = cycle_table(ODDS, both, room=ROOM, around=ROUND_HOUSE)
    assert [(row.way, row.cycle_days) for row in rows] == [
        (way, days) for way in both for days in LENGTHS
    ]
    assert all(tuple(row.by_stance) == tuple(Stance) for row in rows)


# --- the next hour ----------------------------------------------------------------------------


@given(ways, st.sampled_from([14, 28, 60, 91, 365]))
@settings(deadline=None, max_examples=25)
def test_the_best_step_has_the_highest_rate_in_each_stance(way, cycle_days):
    answer = next_hour(ODDS, Now(way, cycle_days), room=ROOM, around=ROUND_HOUSE)
    for stance in Stance:
        rates = {worth.step: worth.by_stance[stance].days_per_hour or 0.0 for worth in answer.steps}
        best = answer.best[stance]
        if best is None:
            assert max(rates.values()) <= 1e-9
        else:
            assert rates[best] == max(rates.values()) > 0.0
    assert answer.agrees is (len({answer.best[stance] for stance in Stance}) == 1)


def test_a_step_is_the_difference_of_two_rows():
    answer = next_hour(ODDS, Now(CheckWay(), 90), room=ROOM, around=ROUND_HOUSE)
    worth = answer.worth(Step.COVER)
    before, after = cycle_table(
        ODDS, [CheckWay(), CheckWay(cover_opened=True)], [90], room=ROOM, around=ROUND_HOUSE
    )
    for stance in Stance:
        old, new = before.by_stance[stance].year, after.by_stance[stance].year
        gain = worth.by_stance[stance]
        assert gain.days_saved == pytest.approx(old.infested_days - new.infested_days)
        assert gain.hours == pytest.approx(new.hours - old.hours)
        assert gain.spent == pytest.approx(new.work + new.material - old.work - old.material)
        assert gain.cost == pytest.approx(new.cost - old.cost)
        assert gain.days_per_hour == pytest.approx(gain.days_saved / gain.hours)


def test_encasing_saves_hours_and_is_told_apart():
    answer = next_hour(ODDS, Now(CheckWay(), 90), room=ROOM, around=ROUND_HOUSE)
    assert [worth.step for worth in answer.without_hours] == [Step.ENCASING]
    gain = answer.worth(Step.ENCASING).by_stance[Stance.CENTRAL]
    assert gain.days_per_hour is None
    assert gain.hours < 0 < gain.days_saved


def test_stances_may_disagree_and_each_is_told():
    """With everything opened and traps out, the optimistic setting's looks already see most of
    what is there, and only more of them help."""
    now = Now(CheckWay(cover_opened=True, headboard_off=True, traps=True), 90)
    answer = next_hour(ODDS, now, room=ROOM, around=ROUND_HOUSE)
    assert not answer.agrees
    assert answer.best == {
        Stance.CAUTIOUS: Step.LONGER,
        Stance.CENTRAL: Step.LONGER,
        Stance.OPTIMISTIC: Step.SHORTER,
    }


def test_steps_that_are_taken_or_can_not_be_are_left_out():
    steps = steps_from(CheckWay(True, True, True, True), 14, ROOM)
    assert set(steps) == {Step.LONGER}
    assert steps_from(CheckWay(), 91, ROOM)[Step.SHORTER] == (CheckWay(), 60)
    platform = room_of(rules(), [("platform", False)])
    assert not {Step.COVER, Step.ENCASING} & set(steps_from(CheckWay(), 91, platform))


# --- what the record says of today --------------------------------------------------------------


def test_the_way_of_today_is_that_of_most_checks_of_the_year():
    built = house().room("101").bed("A").room("102").bed("A", encased=True)
    built.room("103").bed("A", "platform")
    assert way_kept(built.house, day(400)).way == CheckWay()
    built = house().room("101").bed("A")
    for number, seen in ((10, ["base_inside"]), (100, ["base_inside"]), (200, ["base_underside"])):
        built.checked("A", day(number), seen=seen)
    for number, seen in ((10, ("headboard_back",)), (100, ("skirting",)), (200, ("skirting",))):
        built.record(RoomChecked(RoomNo("101"), day(number), CheckKind.DEEP, ("anna",), seen=seen))
    kept = way_kept(built.house, day(250))
    assert (kept.bases, kept.covers_opened, kept.rooms, kept.headboards_off) == (3, 2, 3, 1)
    assert kept.way == CheckWay(cover_opened=True)
    assert way_kept(built.house, day(500)).bases == 1


def test_brief_checks_and_encased_beds_say_nothing_of_dust_covers():
    built = house().room("101").bed("A").checked("A", day(1), kind=CheckKind.BRIEF)
    built.room("102").bed("A", encased=True).checked("A", day(1))
    assert way_kept(built.house, day(2)).bases == 0


def test_nights_let_are_counted_from_the_first_departure_known():
    built = house().room("101").bed("A").room("102").bed("A")
    assert let_nights(built.house, day(20)).nights == 0
    assert let_nights(built.house, day(20)).share == 0.64
    built.stays(("101", 0, 10), ("101", 12, 14), ("102", 10, 40))
    known = let_nights(built.house, day(20))
    assert known.nights == 10
    assert known.share == pytest.approx((0 + 2 + 10) / 20)


def test_a_mean_room_and_its_circumstances():
    built = house().room("101").bed("A").bed("B", encased=True).room("102").bed("A", "platform")
    room = usual_room(built.house)
    assert (room.beds, room.covers, room.encased_beds, room.headboards) == (1.5, 0.5, 0.5, 1.5)
    assert room.beds_work == pytest.approx(2 * (14 + 7 + 10) / 2)
    assert room.encased_work == pytest.approx(2 * (7 + 7 + 7) / 2)
    assert sum(room.shares) == pytest.approx(1.0)
    around = circumstances_of(built.house, day(1), {})
    assert around.traps_every_days == 14
    assert now_of(built.house, day(1)) == Now(CheckWay(), 91)


def test_a_mean_rooms_neighbours():
    wall = Neighbour(RoomNo("102"), (Kind.SHARES_WALL,))
    assert mean_neighbours([(wall,), (wall, wall), ()]) == {(Kind.SHARES_WALL,): 1.0}
    assert mean_neighbours([]) == {}
