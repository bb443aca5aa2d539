"""All rooms of a house together: neighbours, stances, what is reckoned again."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import Outcome, Sign
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.evidence import record_in
from hotelwatch.core.odds.find import pair_odds
from hotelwatch.core.odds.hotel import FIND_COUNTS_DAYS, odds_of, reckon, reckon_again
from hotelwatch.core.odds.room import room_odds
from hotelwatch.core.odds.rows import past_points
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.progress import Stopped
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house
from tests.core.test_odds_evidence import (
    STEPS,
    TODAY,
    TWO,
    check,
    find_at,
    judged,
    look_around,
    sign,
    treated,
)

ROOMS = ("101", "102", "103", "104", "105")
HERE, NEXT, FAR = RoomNo("101"), RoomNo("102"), RoomNo("105")


def corridor(*rooms):
    built = house()
    for room in rooms or ROOMS:
        built.room(room).bed("A")
    return built


def around(built):
    return neighbours(built.house, lay_out(built.house))


def reckoned(built, today=TODAY, **more):
    at_hand = occupancy(built.house, day(today))
    return reckon(built.house, at_hand, around(built), day(today), **more)


def chances(built, stance=Stance.CENTRAL, today=TODAY):
    return {
        room: figures.chance for room, figures in reckoned(built, today).of[stance].rooms.items()
    }


def found(built, number, room=HERE, case=None):
    more = {} if case is None else {"case": case}
    built.record(find_at(number, room), sign(Sign.LIVE_INSECT, number, room=room, **more))
    return built.record(judged(Outcome.CONFIRMED, number, **more))


# --- neighbours ------------------------------------------------------------------------------


@pytest.mark.parametrize("stance", Stance)
def test_a_find_raises_its_neighbours_and_no_room_far_away(stance):
    before, after = chances(corridor(), stance), chances(found(corridor(), 190), stance)
    assert after[HERE] == 1.0
    assert after[NEXT] > 1.5 * before[NEXT]
    assert after[FAR] == pytest.approx(before[FAR], rel=0.05)


def test_a_neighbours_odds_at_a_find_are_those_of_the_pair():
    built = found(corridor("101", "102"), TODAY)
    told = reckoned(built)
    for stance, odds in told.of.items():
        here, there = (
            record_in(built.house, told.records, room, odds.setting) for room in (HERE, NEXT)
        )
        spread = odds.setting.spread[Kind.SHARES_WALL]
        pair = pair_odds(here, there, odds.tables, spread=spread, day=told.records.today)
        assert odds.rooms[NEXT].chance == pytest.approx(pair.chance, rel=1e-9), stance


def test_a_clean_look_at_the_neighbour_lowers_it_before_and_after_the_find():
    after_find = chances(found(corridor(), 150))[NEXT]
    before, after = (
        chances(found(corridor().record(check(number, room=NEXT)), 150))[NEXT]
        for number in (140, 180)
    )
    assert before < after_find
    assert after < after_find


def test_a_word_next_door_raises_a_room_by_its_pressure():
    """Nobody judged it: no find, but insects there would press on the neighbours."""
    before = chances(corridor())
    after = chances(corridor().record(sign(Sign.LIVE_INSECT, 60)))
    assert after[NEXT] > before[NEXT]


def test_without_neighbours_a_find_next_door_changes_nothing():
    built = found(corridor(), 150)
    at_hand = occupancy(built.house, day(TODAY))
    alone = reckon(built.house, at_hand, {}, day(TODAY)).of[Stance.CENTRAL].rooms[NEXT].chance
    bare = reckon(corridor().house, at_hand, {}, day(TODAY)).of[Stance.CENTRAL].rooms[NEXT].chance
    assert alone == bare


def test_the_find_counts_in_which_no_look_since_answers():
    """An old one that looks since have answered, a fresh one on the other side."""
    built = found(corridor("101", "102", "103"), 20)
    built.record(treated(21))
    for number in (60, 90, 120, 150, 180):
        built.record(check(number, room=NEXT), look_around(number, ("skirting",), room=NEXT))
    looked = chances(built)[NEXT]
    fresh = chances(found(built, 195, RoomNo("103"), TWO))[NEXT]
    only_fresh = corridor("101", "102", "103")
    for number in (60, 90, 120, 150, 180):
        only_fresh.record(check(number, room=NEXT), look_around(number, ("skirting",), room=NEXT))
    alone = chances(found(only_fresh, 195, RoomNo("103"), TWO))[NEXT]
    assert fresh > looked
    assert fresh == pytest.approx(alone, rel=0.25)


def test_a_second_find_after_a_treatment_does_not_wipe_out_the_first():
    built = found(corridor("101", "102"), 150).record(treated(155))
    first = chances(built)[NEXT]
    again = chances(built.record(sign(Sign.LIVE_INSECT, 175)))[NEXT]
    assert again >= first


def test_a_treated_room_is_warned_again_by_a_find_next_door():
    built = found(corridor("101", "102"), 100, NEXT).record(treated(105, room=NEXT))
    built.record(*(check(number, room=NEXT) for number in (125, 140)))
    before = chances(built)[NEXT]
    after = chances(found(built, 190, HERE, TWO))[NEXT]
    assert after > before
    # Found itself and not treated, nothing next door says more.
    itself = found(found(corridor("101", "102"), 100, NEXT), 190, HERE, TWO)
    assert chances(itself)[NEXT] == 1.0


def test_a_find_of_long_ago_is_covered_by_looks_since():
    long_ago = 30
    built = found(corridor("101", "102"), long_ago)
    today = long_ago + FIND_COUNTS_DAYS + 10
    told = reckoned(built, today)
    record, _odds = odds_of(told, built.house, NEXT, Stance.CENTRAL)
    assert not [one for one in record.evidence if type(one).__name__ == "Given"]


# --- figures -----------------------------------------------------------------------------------


def test_what_a_look_finds_and_saves_follows_the_chance():
    built = corridor().record(*(check(n, room=NEXT) for n in (150, 199)))
    told = reckoned(built)
    for odds in told.of.values():
        for figures in odds.rooms.values():
            assert 0 < figures.finds < figures.chance
            assert 0 < figures.saves_days < figures.finds * built.house.cycle_of(HERE)
            assert 0 < figures.by_day < 1e-3
        assert odds.rooms[NEXT].finds < odds.rooms[FAR].finds
        assert odds.rooms[NEXT].saves_days < odds.rooms[FAR].saves_days


def test_survivors_of_a_treatment_are_nothing_that_comes_in():
    """What may come in on a day is the same before a treatment and a day, a week after it."""
    before = reckoned(corridor("101")).of[Stance.CENTRAL].rooms[HERE].by_day
    for number in (TODAY, TODAY - 1, TODAY - 6, TODAY - 7):
        built = found(corridor("101"), number).record(treated(number))
        after = reckoned(built).of[Stance.CENTRAL].rooms[HERE]
        assert after.chance > 0.05
        assert after.by_day == pytest.approx(before, rel=1e-9)


def test_the_past_that_is_told_begins_with_the_record():
    told = reckoned(corridor())
    known = told.records
    first_on = min(known.day_of(plain.began) for plain in known.plain.values())
    points = past_points(told)
    assert points[-1].on == told.today
    assert [point.on for point in points] == [on for on in told.past_on if on >= first_on]
    assert min(told.past_on) < first_on


def test_the_past_ends_today_and_says_what_was_known_then():
    built = corridor().record(check(150, room=NEXT))
    told = reckoned(built)
    assert told.past_on[-1] == day(TODAY)
    assert list(told.past_on) == sorted(told.past_on)
    for odds in told.of.values():
        for room, figures in odds.rooms.items():
            assert odds.past[room][-1] == pytest.approx(figures.chance, rel=1e-12)
    place = next(n for n, on in enumerate(told.past_on) if day(140) <= on < day(150))
    before = reckoned(corridor().on(0)).of[Stance.CENTRAL].past[NEXT][place]
    assert told.of[Stance.CENTRAL].past[NEXT][place] == pytest.approx(before, rel=1e-3)


@pytest.mark.parametrize(
    "built",
    [
        corridor(),
        corridor().record(check(150)),
        corridor().record(sign(Sign.BITES_REPORTED, 180)),
        found(corridor(), 150).record(treated(152)),
    ],
    ids=["bare", "looked", "told", "treated"],
)
def test_stances_are_in_order(built):
    """Cautious says most, optimistic least, room by room: all they assume points one way."""
    told = reckoned(built)
    for room in ROOMS:
        cautious, central, optimistic = (
            told.of[stance].rooms[RoomNo(room)].chance
            for stance in (Stance.CAUTIOUS, Stance.CENTRAL, Stance.OPTIMISTIC)
        )
        assert cautious >= central >= optimistic > 0


def test_full_odds_of_a_room_are_those_that_stand_in_its_figures():
    built = found(corridor(), 150).record(check(180, room=NEXT))
    told = reckoned(built)
    for stance, odds in told.of.items():
        for room in odds.rooms:
            record, full = odds_of(told, built.house, room, stance)
            assert full.chance == pytest.approx(odds.rooms[room].chance, rel=1e-12)
            assert len(full.weights) == record.days


@pytest.mark.parametrize("rooms", [1, 0])
def test_a_house_with_hardly_anything_in_it(rooms):
    built = house()
    if rooms:
        built.room("101")
    told = reckoned(built)
    assert len(told.of) == len(Stance)
    for odds in told.of.values():
        assert len(odds.rooms) == rooms
        assert all(0 < figures.chance < 0.05 for figures in odds.rooms.values())


# --- progress ----------------------------------------------------------------------------------


def test_progress_runs_from_nothing_to_all_and_stops_it():
    shares: list[float] = []

    def told(share, step):
        assert step in {"odds_neighbours", "odds_rooms"}
        shares.append(share)

    reckoned(corridor(), progress=told)
    assert shares == sorted(shares)
    assert shares[0] == 0.0
    assert 0.9 < shares[-1] < 1.0

    def stop(share, _step):
        if share > 0.5:
            raise Stopped

    with pytest.raises(Stopped):
        reckoned(corridor(), progress=stop)


# --- again -------------------------------------------------------------------------------------


def same(one, other, rooms, rel=1e-12):
    for stance in Stance:
        for room in rooms:
            left, right = one.of[stance].rooms[room], other.of[stance].rooms[room]
            assert left.chance == pytest.approx(right.chance, rel=rel)
            assert left.finds == pytest.approx(right.finds, rel=rel)
            assert left.saves_days == pytest.approx(right.saves_days, rel=rel)
            assert left.is_found == right.is_found


ENTRIES = STEPS.filter(lambda step: type(step).__name__ not in {"FurnitureMoved"})


@settings(max_examples=25, deadline=None)
@given(st.lists(STEPS, max_size=4), ENTRIES, st.booleans())
def test_a_room_reckoned_again_stands_where_all_anew_puts_it(steps, later, is_confirmed):
    """The room that an entry names: to the last digit, whatever was written down."""
    built = corridor("101", "102", "103")
    for step in steps:
        built.record(step)
    if is_confirmed and any(type(step).__name__ == "Sighted" for step in steps):
        built.record(judged(Outcome.CONFIRMED, TODAY))
    before = reckoned(built)
    built.record(later)
    again, anew = reckon_again(before, built.house, [HERE]), reckoned(built)
    if anew.records.nights.first_on == before.records.nights.first_on:
        same(again, anew, [HERE])


def test_a_find_of_today_reckoned_again_puts_its_neighbours_where_all_anew_would():
    """How hard rooms press on others stays as it was; a find of today changes none of it yet."""
    built = corridor()
    before = reckoned(built)
    found(built, TODAY)
    again, anew = reckon_again(before, built.house, [HERE]), reckoned(built)
    same(again, anew, [HERE, NEXT])
    same(again, before, [FAR])


def test_a_corrected_entry_restores_its_room_and_neighbours():
    built = corridor()
    before = reckoned(built)
    found(built, 150)
    entries = sorted(built.house.entries)[-2:]
    with_find = reckon_again(before, built.house, [HERE])
    assert with_find.of[Stance.CENTRAL].rooms[NEXT].chance > 0.01
    for number in entries:
        built.record(corrects=number, note="another room")
    after = reckon_again(with_find, built.house, [HERE])
    same(after, before, map(RoomNo, ROOMS), rel=0)


def test_what_is_reckoned_again_leaves_all_else_alone():
    built = corridor()
    before = reckoned(built)
    kept = {stance: dict(odds.rooms) for stance, odds in before.of.items()}
    built.record(check(150, room=NEXT))
    after = reckon_again(before, built.house, [NEXT, NEXT, RoomNo("no such room")])
    assert {stance: dict(odds.rooms) for stance, odds in before.of.items()} == kept
    for room in set(map(RoomNo, ROOMS)) - {NEXT}:
        same(after, before, [room], rel=0)
    assert after.of[Stance.CENTRAL].rooms[NEXT].chance < kept[Stance.CENTRAL][NEXT].chance


def test_order_of_entry_and_of_rooms_is_free():
    looks = [check(150), check(170, room=NEXT), find_at(150, FAR)]
    one, other = corridor(), corridor()
    for look in looks:
        one.record(look)
    for look in reversed(looks):
        other.record(look)
    same(reckoned(one), reckoned(other), map(RoomNo, ROOMS), rel=1e-12)


def test_pressure_is_what_neighbours_expected_insects_would_do():
    """Mean field, once in four weeks: a room's odds with it, reckoned from the pieces."""
    built = corridor("101", "102").record(sign(Sign.LIVE_INSECT, 60))
    told = reckoned(built)
    odds = told.of[Stance.CENTRAL]
    columns = [told.records.today - 28 * n for n in range(len(told.past_on))][::-1]
    spread = odds.setting.spread[Kind.SHARES_WALL]
    pressure = np.interp(np.arange(told.records.today + 1), columns, spread * odds.pressures[HERE])
    record = record_in(built.house, told.records, NEXT, odds.setting)
    wanted = room_odds(record, odds.tables, pressure=pressure).chance
    assert odds.rooms[NEXT].chance == pytest.approx(wanted, rel=1e-12)
