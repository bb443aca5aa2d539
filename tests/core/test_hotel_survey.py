"""A survey of the house against tables, full enumeration and the hypergeometric distribution.

Chances of a look are worked out here anew from the formula: search effort over the insects
(Koopman's coverage), clumped as in Green and Young 1993.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import prod

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import hypergeom

from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.facts import CaseNo, CheckKind, RoomChecked, RoomNo
from hotelwatch.core.odds.hotel import reckon
from hotelwatch.core.odds.settings import settings_of
from hotelwatch.core.odds.surveys.hotel_survey import infested_asked, plan_survey
from hotelwatch.core.odds.surveys.hotel_survey_shown import shown_by_looks
from hotelwatch.core.odds.surveys.survey_answers import Candidate
from hotelwatch.core.odds.surveys.survey_choice import least_infested_by_weight
from hotelwatch.core.odds.surveys.survey_wish import (
    SurveyLook,
    SurveyOrder,
    SurveyQuestion,
    SurveyWish,
    usual_question,
)
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead
from tests.build import Build, day, house, moment, rules

TODAY = 200
SETTINGS = settings_of(rules().odds)
SHARES = rules().odds.shares
SHEET = (1.0, 1.0, 1.0, 0.0, 0.6, 0.6)
"""A box spring by its sheet: dust cover closed, headboard on the wall, floor and stands seen."""
FULL = (1.0, 1.0, 1.0, 0.9, 0.95, 0.6)
BY_LOT = SurveyOrder.AT_RANDOM
ONE = CaseNo("2026-001")


def by_place(stance, seen, insects, *, notice="notice_deep", shares=SHARES):
    """The chance that a look sees so many insects, by main place: the formula, in plain Python."""
    s = SETTINGS[stance]
    mean = sum(share * part for share, part in zip(shares, seen, strict=True))
    effort = [
        insects * s.notice[notice] * ((1 - s.away_share) * part + s.away_share * mean)
        for part in seen
    ]
    return [s.highest_chance * (1 - 1 / (1 + each)) for each in effort]


def sees(stance, seen, insects, *, times=1, **more):
    """The chance that one of ``times`` looks at the same places sees them."""
    missed = [(1 - each) ** times for each in by_place(stance, seen, insects, **more)]
    return 1 - sum(share * each for share, each in zip(SHARES, missed, strict=True))


def inn(rooms, *, shipped=None, floor_of=lambda number: "1"):
    """Rooms 101, 102 … with one box spring each."""
    build = Build(shipped) if shipped else house()
    for number in range(rooms):
        build.room(str(101 + number), floor=floor_of(number)).bed("A")
    return build


def reckoned(build, today=TODAY):
    at_hand = occupancy(build.house, day(today))
    return at_hand, reckon(build.house, at_hand, {}, day(today))


def wish(question, **more):
    return SurveyWish(question, day(TODAY), 7, **more)


def planned(build, asked):
    at_hand, reckoning = reckoned(build)
    return plan_survey(build.house, at_hand, reckoning, asked)


def question(number=1, *, insects=12, confidence=0.95):
    return SurveyQuestion(insects, confidence, 0.01, number)


def found_by(hypergeometric_rooms, infested, looks, seen):
    """At least one of the infested rooms among those looked at is seen; scipy's distribution."""
    hits = range(infested + 1)
    pmf = hypergeom.pmf(hits, hypergeometric_rooms, infested, looks)
    return 1 - sum(p * (1 - seen) ** hit for hit, p in zip(hits, pmf, strict=True))


def enumerated(weights, seen, infested):
    """The same by going through every set of infested rooms, as likely as its weights' product."""
    sets = list(combinations(range(len(weights)), infested))
    likely = [prod(weights[n] for n in each) for each in sets]
    missed = [prod(1 - seen[n] for n in each) for each in sets]
    both = sum(p * m for p, m in zip(likely, missed, strict=True))
    return 1 - both / sum(likely)


# --- how many rooms ---------------------------------------------------------------------------


def surely_seen():
    """Rules under which a full look at very many insects misses once in e^30 or less."""
    odds = rules().odds
    same = {
        key: replace(figure, value=value, cautious=value, optimistic=value)
        for key, value in (("highest_chance", 1.0), ("clumping", 1e6))
        if (figure := odds.figure(key)) is not None
    }
    return replace(rules(), odds=odds.with_figures(same))


@pytest.mark.parametrize(("share", "looks"), [(0.05, 45), (0.02, 78), (0.01, 95)])
def test_as_many_rooms_as_the_tables_of_plant_health_say(share, looks):
    # ISPM 31, table 1, 100 units, from memory; the same by R 4.2.2's dhyper.
    asked = SurveyQuestion(1000, 0.95, share)
    plan = planned(inn(100, shipped=surely_seen()), wish(asked, look=SurveyLook.FULL, order=BY_LOT))
    assert len(plan.chosen) == looks
    assert plan.is_reached


@pytest.mark.parametrize("infested", [6, 10, 20])
def test_no_room_more_than_the_hypergeometric_rule_asks_for(infested):
    plan = planned(inn(60), wish(question(infested), order=BY_LOT))
    seen = {stance: sees(stance, SHEET, 12) for stance in Stance}
    looks = len(plan.chosen)
    for stance in Stance:
        expected = found_by(60, infested, looks, seen[stance])
        assert plan.finds[stance] == pytest.approx(expected, abs=1e-12)
        assert plan.chosen[0].seen[stance] == pytest.approx(seen[stance], abs=1e-12)
    assert plan.is_reached
    assert min(plan.finds.values()) >= 0.95
    assert found_by(60, infested, looks - 1, seen[Stance.CAUTIOUS]) < 0.95
    assert plan.alike == plan.finds


def test_likely_rooms_come_first_and_the_sum_over_all_sets_of_rooms_agrees():
    build = inn(7)
    build.record(Sighted(ONE, RoomNo("104"), "", "", Sign.CAST_SKIN, 1, "anna", moment(199)))
    build.room("108").bed("A", encased=True).bed("B").checked("A", day(190))
    build.room("109").bed("A").checked("A", day(150))
    at_hand, reckoning = reckoned(build)
    plan = plan_survey(build.house, at_hand, reckoning, wish(question(4, confidence=0.8)))
    assert plan.chosen[0].room == "104"
    assert 1 < len(plan.chosen) < 9
    chosen = {row.room: row for row in plan.chosen}
    for stance in Stance:
        weights = [reckoning.of[stance].rooms[room].chance for room in build.house.rooms]
        seen = [chosen[room].seen[stance] if room in chosen else 0.0 for room in build.house.rooms]
        assert plan.finds[stance] == pytest.approx(enumerated(weights, seen, 4), abs=1e-12)
        alike = enumerated([1.0] * 9, seen, 4)
        assert plan.alike[stance] == pytest.approx(alike, abs=1e-12)
    assert plan.is_reached
    assert min(plan.finds.values()) >= 0.8


def test_enough_is_what_is_enough_in_every_stance():
    build = inn(30)
    for number in range(0, 30, 2):
        room = RoomNo(str(101 + number))
        build.record(
            RoomChecked(room, day(100 + 3 * number), CheckKind.DEEP, ("anna",), ("seats",))
        )
    for order in SurveyOrder:
        plan = planned(build, wish(question(8), order=order))
        assert plan.is_reached
        assert min(plan.finds.values()) >= 0.95 - 1e-9


def test_where_no_number_of_rooms_is_enough_rounds_are_counted():
    plan = planned(inn(20), wish(question(1), order=BY_LOT))
    assert not plan.is_reached
    assert not plan.can_be_reached
    assert len(plan.chosen) == 20
    for stance in Stance:
        assert plan.census[stance] == pytest.approx(sees(stance, SHEET, 12), abs=1e-12)
    # Every round looks at the same places: what sits behind the cover shows only by strays.
    enough = next(n for n in range(1, 500) if sees(Stance.CAUTIOUS, SHEET, 12, times=n) >= 0.95)
    assert plan.rounds == enough
    if_by_itself = next(
        n for n in range(1, 500) if 1 - (1 - sees(Stance.CAUTIOUS, SHEET, 12)) ** n >= 0.95
    )
    assert plan.rounds > if_by_itself
    least = next(
        n for n in range(1, 21) if found_by(20, n, 20, sees(Stance.CAUTIOUS, SHEET, 12)) >= 0.95
    )
    assert plan.least_infested == least


def test_a_look_that_sees_next_to_nothing_is_never_enough():
    plan = planned(inn(5), wish(question(1, insects=1), order=BY_LOT))
    assert sees(Stance.CAUTIOUS, SHEET, 1, times=52) < 0.95
    assert plan.rounds is None
    assert found_by(5, 5, 5, sees(Stance.CAUTIOUS, SHEET, 1)) < 0.95
    assert plan.least_infested is None


def test_a_share_is_rounded_down_to_rooms_but_never_to_none():
    # As the tables of ISPM 31 do (from memory): the cautious side.
    assert infested_asked(SurveyQuestion(12, 0.95, 0.01), 63) == 1
    assert infested_asked(SurveyQuestion(12, 0.95, 0.01), 250) == 2
    assert infested_asked(SurveyQuestion(12, 0.95, 0.05), 50) == 2
    assert infested_asked(question(9), 4) == 4


def test_what_is_asked_unless_told_otherwise():
    usual = usual_question(rules().odds)
    assert (usual.insects, usual.confidence, usual.share, usual.number) == (12, 0.95, 0.01, None)


def test_from_how_many_infested_rooms_on_weighted_looks_are_enough():
    weights, seen = [5.0, 3.0, 1.0, 1.0, 2.0, 0.5], [0.6, 0.5, 0.0, 0.7, 0.4, 0.6]
    hotel = [
        Candidate(RoomNo(str(n)), each, 20.0, weight, each > 0)
        for n, (each, weight) in enumerate(zip(seen, weights, strict=True))
    ]
    for confidence in (0.3, 0.6, 0.8, 0.9):
        by_sets = (n for n in range(1, 7) if enumerated(weights, seen, n) >= confidence)
        least = least_infested_by_weight(hotel, confidence=confidence, most=6)
        assert least == next(by_sets, None)


# --- which rooms --------------------------------------------------------------------------------


def test_the_same_lot_draws_the_same_rooms_and_another_one_others():
    build = inn(40)
    drawn = {
        lot: [row.room for row in planned(build, wish(question(10), order=BY_LOT, draw=lot)).chosen]
        for lot in (1, 2)
    }
    again = planned(build, wish(question(10), order=BY_LOT, draw=1))
    assert [row.room for row in again.chosen] == drawn[1]
    assert len(drawn[1]) == len(drawn[2]) < 40
    assert set(drawn[1]) != set(drawn[2])
    assert drawn[1] != sorted(drawn[1])


def test_a_room_is_looked_at_when_it_is_open_or_not_at_all():
    build = inn(4)
    build.stays(("101", 190, 220), ("102", 195, 203), ("103", 201, 204))
    plan = planned(build, wish(question(4), order=BY_LOT))
    open_on = {row.room: row.on for row in plan.chosen}
    assert open_on == {"102": day(203), "103": day(200), "104": day(200)}
    assert plan.closed == 1
    assert not plan.is_reached
    assert not plan.is_cut_short
    # The room that stays shut may be among the infested ones: three looks of four rooms.
    seen = [sees(Stance.CENTRAL, SHEET, 12)] * 3 + [0.0]
    assert plan.finds[Stance.CENTRAL] == pytest.approx(enumerated([1.0] * 4, seen, 4))
    longer = SurveyWish(question(4), day(TODAY), 30, order=BY_LOT)
    assert planned(build, longer).closed == 0


def test_minutes_are_not_exceeded_and_a_room_too_long_is_passed_over():
    build = inn(12)
    build.room("201").bed("A").bed("B").bed("C")
    free = planned(build, wish(question(6), order=BY_LOT, draw=3))
    each = min(row.minutes for row in free.chosen)
    tight = planned(build, wish(question(6), order=BY_LOT, draw=3, minutes_at_most=2 * each + 1))
    assert [row.minutes for row in tight.chosen] == [each, each]
    assert tight.minutes == 2 * each
    assert tight.is_cut_short
    assert tight.can_be_reached
    assert not tight.is_reached
    plenty = planned(build, wish(question(6), order=BY_LOT, draw=3, minutes_at_most=10_000))
    assert plenty.chosen == free.chosen
    assert not plenty.is_cut_short


def test_opening_covers_and_taking_headboards_off_sees_more_and_takes_longer():
    build = inn(1)
    build.room("102").bed("A", encased=True)
    plans = {
        look: {row.room: row for row in planned(build, wish(question(), look=look)).chosen}
        for look in SurveyLook
    }
    figures = rules().odds.figures
    sheet, cover, board, full = (plans[look] for look in SurveyLook)
    plain = sheet["101"].minutes
    assert cover["101"].minutes == plain + figures.extra_minutes_cover.value
    assert board["101"].minutes == plain + figures.extra_minutes_headboard.value
    assert full["101"].minutes == board["101"].minutes + figures.extra_minutes_cover.value
    assert cover["102"].minutes == sheet["102"].minutes
    for stance in Stance:
        assert full["101"].seen[stance] == pytest.approx(sees(stance, FULL, 12), abs=1e-12)
        assert sheet["101"].seen[stance] < cover["101"].seen[stance] < full["101"].seen[stance]
        assert cover["102"].seen[stance] == pytest.approx(sheet["102"].seen[stance])


def test_a_room_without_beds_is_looked_at_by_nobody_and_still_counts():
    build = inn(3)
    build.room("104")
    plan = planned(build, wish(question(1), order=BY_LOT))
    assert {row.room for row in plan.chosen} == {"101", "102", "103"}
    assert (plan.rooms, plan.unseen) == (4, 1)
    assert plan.finds[Stance.CENTRAL] == pytest.approx(0.75 * sees(Stance.CENTRAL, SHEET, 12))


def sighted(room, number, sign=Sign.LIVE_INSECT):
    return Sighted(ONE, RoomNo(room), "", "", sign, 1, "anna", moment(number))


def judged(outcome, number):
    return CaseJudged(ONE, outcome, "Dr. Vey", "entomologist", day(number))


def test_a_confirmed_find_is_not_asked_about():
    build = inn(4).record(sighted("102", 150), judged(Outcome.CONFIRMED, 151))
    plan = planned(build, wish(question(1)))
    assert (plan.rooms, plan.found) == (3, 1)
    assert "102" not in {row.room for row in plan.chosen}
    alone = inn(1).record(sighted("101", 150), judged(Outcome.CONFIRMED, 151))
    assert planned(alone, wish(question(1))) is None
    assert planned(house(), wish(question(1))) is None


# --- what looks of some days show -------------------------------------------------------------


def span(build, first, last, asked=None):
    _, reckoning = reckoned(build)
    return shown_by_looks(
        build.house,
        reckoning,
        asked or question(1),
        first_on=day(first),
        last_on=day(last),
    )


LINEN = ("mattress_top", "mattress_label")


def test_looks_of_these_days_count_and_no_others():
    build = house()
    for number, on in (("101", 179), ("102", 180), ("103", 190), ("104", 191)):
        build.room(number).bed("A").checked("A", day(on))
    told = span(build, 180, 190)
    assert [(row.room, row.looks, row.last_on) for row in told.looked] == [
        ("102", 1, day(180)),
        ("103", 1, day(190)),
    ]
    assert told.rooms == 4
    assert {shown.looked_at for shown in told.of.values()} == {2}
    everywhere = (1.0, 1.0, 1.0, 0.9, 0.6, 0.0)
    for stance in Stance:
        seen = sees(stance, everywhere, 12)
        assert told.looked[0].seen[stance] == pytest.approx(seen, abs=1e-12)
        assert told.of[stance].finds == pytest.approx(found_by(4, 1, 2, seen), abs=1e-12)


def test_two_looks_at_the_same_places_are_less_than_two_that_miss_by_themselves():
    build = house().room("101").bed("A").checked("A", day(181)).checked("A", day(188))
    told = span(build, 180, 190)
    (room,) = told.looked
    assert room.looks == 2
    everywhere = (1.0, 1.0, 1.0, 0.9, 0.6, 0.0)
    for stance in Stance:
        expected = sees(stance, everywhere, 12, times=2)
        assert room.seen[stance] == pytest.approx(expected, abs=1e-12)
        once = sees(stance, everywhere, 12)
        assert once < room.seen[stance] < 1 - (1 - once) ** 2


def test_a_brief_look_notices_less_than_a_deep_one():
    deep = house().room("101").bed("A").checked("A", day(185), seen=LINEN)
    brief = house().room("101").bed("A").checked("A", day(185), seen=LINEN, kind=CheckKind.BRIEF)
    for stance in Stance:
        assert (
            span(brief, 180, 190).looked[0].seen[stance]
            < (span(deep, 180, 190).looked[0].seen[stance])
        )


def test_traps_read_empty_count_as_long_as_they_stood():
    build = inn(1).record(
        MonitorPlaced("M1", RoomNo("101"), "bed leg", day(170), "anna"),
        MonitorRead("M1", RoomNo("101"), day(184), "anna", caught=0),
    )
    must = rules().figures.trap_days.value
    traps = rules().odds.looks["traps"]
    told = span(build, 180, 190)
    places = by_place(Stance.CENTRAL, traps.seen, 12, notice="notice_traps")
    part = min(1.0, 14 / must)
    expected = 1 - sum(
        share * (1 - each) ** part for share, each in zip(SHARES, places, strict=True)
    )
    assert told.looked[0].seen[Stance.CENTRAL] == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("outcome", [None, Outcome.CONFIRMED])
def test_with_a_find_among_them_looks_show_nothing(outcome):
    build = inn(3).record(sighted("102", 185))
    if outcome is not None:
        build.record(judged(outcome, 186))
    told = span(build, 180, 190)
    assert told.of == {}
    assert [(sign.room, sign.on, sign.is_judged) for sign in told.signs] == [
        ("102", day(185), outcome is not None)
    ]
    before = span(build, 170, 184)
    assert before.signs == ()
    assert set(before.of) == set(Stance)


def test_what_was_judged_to_be_something_else_is_no_find():
    build = inn(3).record(sighted("102", 185), judged(Outcome.NOT_BED_BUG, 186))
    told = span(build, 180, 190)
    assert told.signs == ()
    assert told.of[Stance.CENTRAL].looked_at == 0


def test_a_look_that_found_something_is_a_sign_even_before_a_case_is_told():
    build = house().room("101").bed("A").checked("A", day(185), found=True)
    told = span(build, 180, 190)
    assert [(sign.room, sign.is_judged) for sign in told.signs] == [("101", False)]
    assert told.looked == ()


def test_a_hotel_without_rooms_shows_nothing():
    told = span(house(), 180, 190)
    assert (told.rooms, told.of, told.looked) == (0, {}, ())


# --- laws ----------------------------------------------------------------------


@settings(max_examples=25, deadline=None)
@given(
    st.integers(2, 40),
    st.integers(1, 12),
    st.sampled_from([0.5, 0.8, 0.95]),
    st.sampled_from(list(SurveyOrder)),
)
def test_larger_infestations_never_take_more_rooms_by_lot(insects, infested, confidence, order):
    build, (at_hand, reckoning) = SOME, SOME_ODDS
    small, large = (
        plan_survey(
            build.house,
            at_hand,
            reckoning,
            wish(question(infested, insects=count, confidence=confidence), order=order),
        )
        for count in (insects, insects + 5)
    )
    for stance in Stance:
        assert large.census[stance] >= small.census[stance] - 1e-9
        assert small.finds[stance] <= small.census[stance] + 1e-9
    if order is BY_LOT:
        assert len(large.chosen) <= len(small.chosen)
    assert small.is_reached == (min(small.finds.values()) >= confidence - 1e-9)
    assert small.minutes == sum(row.minutes for row in small.chosen)
    assert len({row.room for row in small.chosen}) == len(small.chosen)


SOME = inn(12)
SOME.room("201").bed("A", encased=True).bed("B").checked("A", day(150))
SOME_ODDS = reckoned(SOME)
