"""Finds on record: how noticed first, since when, left over or anew, and where they recur."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from hotelwatch.core.building.neighbours import MIRRORED, Kind, Neighbour
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.facts import BedChecked, BedNo, CaseNo, CheckKind, RoomNo
from hotelwatch.core.odds.evidence import record_in
from hotelwatch.core.odds.find import until
from hotelwatch.core.odds.growth import age_when, insects_at
from hotelwatch.core.odds.hotel import reckon
from hotelwatch.core.odds.past.back_rows import (
    FindBack,
    FoundBy,
    GroupOf,
    LeftOver,
    Treatment,
    finds_in_all,
)
from hotelwatch.core.odds.past.found_groups import find_groups
from hotelwatch.core.odds.past.looking_back import all_finds, finds_back
from hotelwatch.core.odds.record import Found, Treated, clock_of, introductions
from hotelwatch.core.odds.sensitivity import chance_seen
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import FirmDescribed, MonitorRead, TreatmentRecorded
from tests.build import day, house, moment, rules

ONE, TWO = CaseNo("2026-001"), CaseNo("2026-002")
HERE = RoomNo("101")
PLACE = "base_staple_line"
PLACES = tuple(p.code for p in rules().bed_kinds["box_spring"].places_of(encased=False))


def inn(*rooms):
    build = house()
    for room in rooms or ("101", "102"):
        build.room(room).bed("A")
    return build


def sign(number, *, case=ONE, room=HERE, kind=Sign.LIVE_INSECT, **more):
    return Sighted(
        case, room, "", PLACE, kind, 1, **{"seen_by": "anna", **more}, seen_at=moment(number)
    )


def confirmed(number, case=ONE):
    return CaseJudged(case, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(number))


def treated(number, room=HERE, case=ONE):
    return TreatmentRecorded(
        case, room, day(number), "heat", "an invented firm", "L-1", moment(number, 18)
    )


def look(number, kind=CheckKind.DEEP, *, room=HERE, found=()):
    return BedChecked(
        BedNo(f"{room}/A"), room, day(number), kind, ("anna",), 14, PLACES, found=found
    )


def reckoned(build, today=200, around=None):
    at_hand = occupancy(build.house, day(today))
    around = around or dict.fromkeys(build.house.rooms, ())
    return reckon(build.house, at_hand, around, day(today))


def finds(build, today=200):
    return finds_back(build.house, reckoned(build, today))


# --- how it was noticed first -----------------------------------------------------------------


def ways(*facts):
    """By which way the one find was noticed, of entries one after another."""
    build = inn().record(FirmDescribed("Heat & Co", "L-1", None))
    for together in facts:
        build.record(*(together if isinstance(together, tuple) else (together,)))
    (find,) = finds(build.record(confirmed(60)))
    return find.found_by


FOUND_THERE = (f"{PLACE}:live_insect",)


@pytest.mark.parametrize(
    ("kind", "way"),
    [
        (CheckKind.DEEP, FoundBy.DEEP),
        (CheckKind.BRIEF, FoundBy.BRIEF),
        (CheckKind.ASKED, FoundBy.ASKED),
        (CheckKind.CLEARANCE, FoundBy.CLEARANCE),
    ],
)
def test_a_sign_written_down_with_a_look_was_found_by_it(kind, way):
    assert ways((look(50, kind, found=FOUND_THERE), sign(50))) is way
    # Written down by itself, it still belongs to that day's look, which found something.
    assert ways(look(50, kind, found=FOUND_THERE), sign(50)) is way


def test_other_ways_follow_from_the_facts():
    read = MonitorRead("T1", HERE, day(50), "anna", 2)
    assert ways((read, sign(50))) is FoundBy.TRAP
    assert ways(sign(50, by_guest=True)) is FoundBy.GUEST
    assert ways(sign(50, seen_by="heat & co")) is FoundBy.FIRM
    assert ways(sign(50)) is FoundBy.STAFF
    assert ways(look(50), sign(50)) is FoundBy.STAFF  # that look found nothing


def test_a_guests_word_before_the_look_that_found_it_was_first():
    told = sign(48, kind=Sign.BITES_REPORTED)
    build = inn().record(told).record(look(50, CheckKind.ASKED, found=FOUND_THERE), sign(50))
    (find,) = finds(build.record(confirmed(51)))
    assert (find.found_by, find.noticed_on, find.found_on) == (FoundBy.GUEST, day(48), day(50))


def test_who_looked_is_nowhere_in_a_row():
    build = inn().record(look(50, found=FOUND_THERE), sign(50, seen_by="Zoe")).record(confirmed(51))
    assert "anna" not in repr(finds(build))
    assert "Zoe" not in repr(finds(build))


# --- which finds ------------------------------------------------------------------------------


def test_what_was_not_confirmed_is_no_find():
    build = inn().record(sign(50))
    assert finds(build) == ()
    judged = CaseJudged(ONE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(51))
    assert finds(build.record(judged)) == ()


def test_finds_without_a_treatment_between_are_one():
    build = inn().record(sign(50)).record(confirmed(51)).record(sign(60, case=TWO))
    build.record(confirmed(61, TWO))
    (find,) = finds(build)
    assert (find.case, find.found_on) == (ONE, day(50))
    build.record(treated(55))
    assert [(one.case, one.found_on) for one in finds(build)] == [(TWO, day(60)), (ONE, day(50))]


def test_a_room_that_left_the_roster_is_named():
    build = inn().record(sign(50)).record(confirmed(51))
    build.record(replace(build.house.rooms[HERE], in_use=False))
    told = reckoned(build)
    of = all_finds(build.house, told, finds_back(build.house, told))
    assert (of.finds, of.gone, of.guests_share) == (0, (HERE,), None)


# --- left over or anew ------------------------------------------------------------------------


def test_a_find_soon_after_a_treatment_more_likely_outlived_it_and_one_much_later_came_in():
    build = inn().record(sign(50)).record(confirmed(51)).record(treated(52))
    soon = inn().record(sign(50)).record(confirmed(51)).record(treated(52)).record(sign(66))
    (again, _first) = finds(soon)
    assert again.treatment.treated_on == day(52)
    assert again.treatment.left_over is LeftOver.OUTLIVED
    assert not again.is_new
    for number in range(100, 700, 50):
        build.record(look(number))
    build.record(sign(700, case=TWO)).record(confirmed(701, TWO))
    (later, _first) = finds(build, 720)
    assert later.treatment.left_over is LeftOver.ANEW
    assert later.is_new


@pytest.mark.parametrize("stance", list(Stance))
def test_the_share_that_outlived_is_that_of_the_equations_written_out(stance):
    """A residual column of (1 - success) against later days' own chances, look by look.

    The filter of introduction dates written out for one room, without its tables.
    """
    build = inn().record(sign(50)).record(confirmed(51)).record(treated(52))
    build.record(look(90)).record(look(150, found=FOUND_THERE), sign(150, case=TWO))
    build.record(confirmed(151, TWO))
    told = reckoned(build)
    (find, _first) = finds_back(build.house, told)
    setting = told.of[stance].setting
    column = (day(150) - told.records.nights.first_on).days
    record = until(record_in(build.house, told.records, HERE, setting), column)
    (treated_at,) = (one.day for one in record.evidence if isinstance(one, Treated))
    assert column - treated_at == 150 - 52
    clock, chance = clock_of(record, setting), introductions(record, setting)
    ages = clock[-1] - clock[treated_at:]
    ages[0] += age_when(setting.growth, setting.survivors)
    left = 1.0 - setting.treatment_success
    free = (1.0 - left) * np.cumprod(1.0 - np.concatenate([[0.0], chance[treated_at + 1 :]]))
    weights = np.concatenate([[left], chance[treated_at + 1 :] * free[:-1]])
    shares = np.array(record.shares)[:, None] * np.ones(len(ages))
    for one in (*record.evidence, *record.extra):
        if isinstance(one, Treated) or one.day <= treated_at:
            continue
        then = ages - (clock[-1] - clock[one.day])
        there = np.arange(treated_at, column + 1) <= one.day
        many = insects_at(setting.growth, np.maximum(then, 0.0), most=setting.most_insects)
        seen = chance_seen(setting, one.look, many, shares=record.shares)
        factor = seen if isinstance(one, Found) else (1.0 - seen) ** one.times
        shares *= np.where(there, factor, 0.0 if isinstance(one, Found) else 1.0)
    weights = weights * shares.sum(axis=0)
    # Ages are looked up in steps of a fraction of a day.
    assert find.treatment.outlived[stance] == pytest.approx(weights[0] / weights.sum(), rel=0.02)


def test_where_the_settings_differ_nothing_is_claimed():
    def of(*chances):
        return Treatment(day(3), dict(zip(Stance, chances, strict=True))).left_over

    assert of(0.6, 0.8, 0.9) is LeftOver.OUTLIVED
    assert of(0.1, 0.2, 0.4) is LeftOver.ANEW
    assert of(0.3, 0.55, 0.7) is LeftOver.CANNOT_TELL


# --- all together -----------------------------------------------------------------------------


def row(room="101", way=FoundBy.DEEP, days=30, outlived=None):
    treatment = None
    if outlived is not None:
        treatment = Treatment(day(1), dict.fromkeys(Stance, outlived))
    window = dict.fromkeys(Stance, (day(0), day(90)))
    middle = dict.fromkeys(Stance, day(100 - days))
    return FindBack(
        case=ONE,
        room=RoomNo(room),
        found_on=day(100),
        noticed_on=day(100),
        found_by=way,
        window=window,
        middle_on=middle,
        insects=dict.fromkeys(Stance, 12.0),
        treatment=treatment,
        record_from=day(0),
    )


def test_the_middle_of_days_leaves_out_what_outlived_a_treatment():
    of = finds_in_all(
        [row(days=10), row(days=20), row(days=70), row(days=1, outlived=0.9)],
        first_on=day(0),
        gone=(),
    )
    assert (of.finds, of.new) == (4, 3)
    assert of.days == dict.fromkeys(Stance, 20)


def test_the_share_of_guests_comes_with_its_range_by_jeffreys_prior():
    # Brown, Cai, DasGupta 2001, Statist. Sci. 16:101-133 (from memory); quantiles by scipy.
    of = finds_in_all([row(way=FoundBy.GUEST), *[row()] * 4], first_on=day(0), gone=())
    assert (of.by_guests, of.by) == (1, {FoundBy.DEEP: 4, FoundBy.GUEST: 1})
    low, high = beta(1.5, 4.5).ppf([0.05, 0.95])
    assert (of.guests_share.low, of.guests_share.high) == pytest.approx((low, high), abs=1e-6)


# --- found again ------------------------------------------------------------------------------


def tower(*links):
    """Pairs (lower, upper) as neighbours."""
    around = {}
    for lower, upper in links:
        around.setdefault(RoomNo(lower), []).append(Neighbour(RoomNo(upper), (Kind.ABOVE,)))
        below = Neighbour(RoomNo(lower), (MIRRORED[Kind.ABOVE],))
        around.setdefault(RoomNo(upper), []).append(below)
    return {room: tuple(others) for room, others in around.items()}


def hotel_of_towers():
    build = house().floors("1", "2", "3")
    for floor in "123":
        for place, wing in (("01", "East"), ("02", "East"), ("03", "West")):
            build.room(f"{floor}{place}", floor=floor, wing=wing).bed("A")
    links = [
        (f"{low}{place}", f"{low + 1}{place}") for low in (1, 2) for place in ("01", "02", "03")
    ]
    return build.house, tower(*links)


def test_rooms_stacks_and_wings_with_more_than_one_find():
    here, around = hotel_of_towers()
    groups = find_groups(here, around, [row("301"), row("101"), row("101"), row("203")])
    told = [(one.of, one.name, one.finds, one.found_in, one.rooms) for one in groups]
    assert told == [
        (GroupOf.ROOM, "101", 2, ("101",), 1),
        (GroupOf.STACK, "", 3, ("101", "301"), 3),
        (GroupOf.WING, "East", 3, ("101", "301"), 6),
    ]


def test_rooms_side_by_side_are_no_stack_though_both_lie_under_one_room():
    here, _around = hotel_of_towers()
    around = tower(("101", "201"), ("102", "201"))
    groups = find_groups(here, around, [row("101"), row("102")])
    assert [one.of for one in groups] == [GroupOf.WING]


@given(st.lists(st.sampled_from(["101", "102", "103", "201", "203", "301"]), max_size=8))
def test_stacks_count_each_find_once_and_hold_what_a_plain_count_by_tower_holds(rooms):
    here, around = hotel_of_towers()
    groups = find_groups(here, around, [row(room) for room in rooms])
    by_tower = {
        place: [room for room in rooms if room.endswith(place)] for place in ("01", "02", "03")
    }
    plain = {tuple(sorted(set(of))): len(of) for of in by_tower.values() if len(set(of)) > 1}
    assert {one.found_in: one.finds for one in groups if one.of is GroupOf.STACK} == plain
