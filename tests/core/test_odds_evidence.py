"""From facts of a house to records of its rooms: what counts as a look, a word, a find."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CaseJudged, GuestMoved, Outcome, Sighted, Sign
from hotelwatch.core.facts import BedChecked, BedNo, CaseNo, CheckKind, RoomChecked, RoomNo
from hotelwatch.core.odds.evidence import (
    DAYS_BEFORE,
    DAYS_OF_RECORD,
    record_in,
    records,
    records_of,
)
from hotelwatch.core.odds.record import Found, Looked, Told, Treated, Unreported
from hotelwatch.core.odds.room import Tables, room_odds
from hotelwatch.core.odds.settings import settings_of
from hotelwatch.core.odds_figures import PLACES, Stance
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.stays.openings import Occupancy, occupancy
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead, TreatmentRecorded
from tests.build import day, house, moment, rules

SETTINGS = settings_of(rules().odds)
CENTRAL = SETTINGS[Stance.CENTRAL]
ONE, TWO = CaseNo("2026-001"), CaseNo("2026-002")
HERE, THERE = RoomNo("101"), RoomNo("102")
TODAY = 200
BED = rules().bed_kinds["box_spring"]
CLOSED = tuple(place.code for place in BED.places_of(encased=False) if not place.optional)


def hotel(*rooms, beds=1):
    built = house()
    for room in rooms or ("101", "102"):
        built.room(room)
        for letter in "ABC"[:beds]:
            built.bed(letter)
    return built


def sign(kind, number, *, case=ONE, room=HERE):
    return Sighted(case, room, "", "base_staple_line", kind, 1, "anna", moment(number))


def judged(outcome, number, *, case=ONE):
    return CaseJudged(case, outcome, "Dr. Vey", "entomologist", day(number))


def treated(number, *, room=HERE):
    return TreatmentRecorded(
        ONE, room, day(number), "heat", "an invented firm", "L-1", moment(number, 18)
    )


def check(number, *, room=HERE, bed="A", **more):
    kept = {"kind": CheckKind.DEEP, "seen": CLOSED, **more}
    return BedChecked(BedNo(f"{room}/{bed}"), room, day(number), by=("anna",), minutes=14, **kept)


def look_around(number, seen, *, room=HERE, kind=CheckKind.DEEP):
    return RoomChecked(room, day(number), kind, ("anna",), seen)


def known(built, today=TODAY):
    return records(built.house, occupancy(built.house, day(today)), day(today))


def evidence(built, room=HERE, today=TODAY, setting=CENTRAL):
    """A room's evidence with days as the tests count them."""
    at_hand = known(built, today)
    first = (at_hand.nights.first_on - day(0)).days
    record = record_in(built.house, at_hand, room, setting)
    return [(first + one.day, one) for one in record.in_order() if one not in record.extra]


def chance(built, room=HERE, today=TODAY, setting=CENTRAL):
    record = record_in(built.house, known(built, today), room, setting)
    return room_odds(record, Tables(setting)).chance


def kinds(built, room=HERE):
    return [(number, type(one)) for number, one in evidence(built, room)]


# --- looks ---------------------------------------------------------------------------------------


def test_a_check_is_a_look_at_what_was_ticked():
    built = hotel("101").record(check(100))
    [(number, look)] = evidence(built)
    assert number == 100
    assert look.look.notice == CENTRAL.notice["notice_deep"]
    seen = dict(zip(PLACES, look.look.seen, strict=True))
    assert seen == pytest.approx(
        {
            "mattress_top": 1.0,
            "mattress_under": 1.0,
            "base_outside": 1.0,
            "base_inside": 0.0,
            "headboard_frame": 0.6,
            "elsewhere": 0.0,
        }
    )


def test_a_look_without_places_changes_nothing():
    """A ticked box without places is no look."""
    before = hotel("101")
    bare = chance(before)
    assert evidence(hotel("101").record(check(100, seen=()))) == []
    assert chance(hotel("101").record(check(100, seen=()))) == bare
    assert chance(hotel("101").record(look_around(100, ()))) == bare
    assert chance(hotel("101").record(check(100))) < bare


def test_the_room_around_counts_with_the_beds_of_the_same_visit():
    built = hotel("101").record(check(100), look_around(100, ("night_stands", "headboard_back")))
    [(_number, look)] = evidence(built)
    seen = dict(zip(PLACES, look.look.seen, strict=True))
    assert seen["headboard_frame"] == pytest.approx(0.95)
    assert seen["elsewhere"] == pytest.approx(0.2)


def test_one_of_two_beds_is_half_a_look():
    one = hotel("101", beds=2).record(check(100))
    [(_number, look)] = evidence(one)
    assert look.look.seen[0] == 0.5
    both = hotel("101", beds=2).record(check(100), check(100, bed="B"))
    [(_number, whole)] = evidence(both)
    assert whole.look.seen[0] == 1.0
    assert chance(both) < chance(one)


def test_kinds_of_check_notice_as_their_figures_say():
    for kind in CheckKind:
        [(_number, look)] = evidence(hotel("101").record(check(100, kind=kind)))
        figure = "notice_linen" if kind is CheckKind.BRIEF else "notice_deep"
        assert look.look.notice == CENTRAL.notice[figure]


def test_a_check_of_today_counts_and_one_of_tomorrow_does_not():
    assert kinds(hotel("101").record(check(TODAY))) == [(TODAY, Looked)]
    assert kinds(hotel("101").record(check(TODAY + 1))) == []


def test_a_bed_is_read_by_its_build_of_that_day():
    built = hotel("101").record(check(10)).on(50).bed("A", encased=True)
    ((_, before),) = evidence(built)
    assert before.look.seen[PLACES.index("base_outside")] == 1.0
    shares = known(built).plain[HERE].shares
    assert shares[PLACES.index("base_inside")] == 0.0


# --- words and finds -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "weight"),
    [
        (Sign.BITES_REPORTED, "weak"),
        (Sign.DOG_ALERT, "weak"),
        (Sign.CAST_SKIN, "moderate"),
        (Sign.LIVE_INSECT, "strong"),
    ],
)
def test_a_sign_that_nobody_judged_is_a_word(kind, weight):
    bare = hotel("101")
    told = hotel("101").record(sign(kind, 150))
    [(number, word)] = evidence(told)
    assert (number, word.ratio) == (150, CENTRAL.sign_ratios[weight])
    assert chance(told) > chance(bare)
    assert not room_odds(
        record_in(told.house, known(told), HERE, CENTRAL), Tables(CENTRAL)
    ).is_found


def test_a_confirmed_sign_is_a_find_and_a_weak_one_of_a_confirmed_case_a_word():
    built = hotel().record(sign(Sign.LIVE_INSECT, 150), sign(Sign.BITES_REPORTED, 151, room=THERE))
    built.record(judged(Outcome.CONFIRMED, 152))
    assert kinds(built, HERE) == [(150, Found)]
    assert kinds(built, THERE) == [(151, Told)]
    assert chance(built, HERE) == 1.0


def test_an_undetermined_case_stays_a_word():
    built = hotel("101").record(sign(Sign.EGGS, 150)).record(judged(Outcome.UNDETERMINED, 152))
    assert kinds(built) == [(150, Told)]


def test_a_sign_that_was_ruled_out_is_nothing():
    built = hotel("101").record(sign(Sign.LIVE_INSECT, 150))
    assert chance(built) > chance(hotel("101"))
    built.record(judged(Outcome.NOT_BED_BUG, 152))
    assert kinds(built) == []
    assert chance(built) == chance(hotel("101"))
    # Another sign after that verdict is not covered by it.
    built.record(sign(Sign.LIVE_INSECT, 160))
    assert [kind for _day, kind in kinds(built)] == [Told]


def find_at(number, room=HERE):
    return check(number, room=room, found=("base_staple_line:live_insect",))


def test_a_check_with_a_find_is_no_clean_look():
    built = hotel("101").record(find_at(150), sign(Sign.LIVE_INSECT, 150))
    assert kinds(built) == [(150, Told)]
    built.record(judged(Outcome.CONFIRMED, 151))
    [(number, found)] = evidence(built)
    assert (number, type(found)) == (150, Found)
    assert found.look.notice == CENTRAL.notice["notice_deep"]


def test_a_check_whose_find_was_ruled_out_is_a_clean_look():
    built = hotel("101").record(find_at(150), sign(Sign.LIVE_INSECT, 150))
    built.record(judged(Outcome.NOT_BED_BUG, 151))
    assert kinds(built) == [(150, Looked)]
    assert chance(built) == chance(hotel("101").record(check(150)))


def test_what_was_ruled_out_in_one_room_leaves_the_other_rooms_find_alone():
    """Two rooms of one sheet, written down in one entry, two cases."""
    built = hotel().record(
        find_at(150),
        sign(Sign.LIVE_INSECT, 150),
        find_at(150, THERE),
        sign(Sign.LIVE_INSECT, 150, case=TWO, room=THERE),
    )
    built.record(judged(Outcome.NOT_BED_BUG, 151))
    assert kinds(built, HERE) == [(150, Looked)]
    assert kinds(built, THERE) == [(150, Told)]


def test_two_finds_of_a_visit_of_which_one_was_ruled_out_are_no_clean_look():
    built = hotel("101").record(
        find_at(150), sign(Sign.LIVE_INSECT, 150), sign(Sign.DARK_SPOTS, 150, case=TWO)
    )
    built.record(judged(Outcome.NOT_BED_BUG, 151, case=TWO))
    assert kinds(built) == [(150, Told)]


def test_the_strongest_of_a_cases_words_counts_once():
    """Signs of one case belong together: three bites are not three times three."""
    bites = hotel("101").record(*(sign(Sign.BITES_REPORTED, number) for number in (150, 151, 152)))
    assert len(evidence(bites)) == 1
    more = bites.record(sign(Sign.CAST_SKIN, 153))
    [(number, word)] = evidence(more)
    assert (number, word.ratio) == (153, CENTRAL.sign_ratios["moderate"])


def test_the_first_of_a_cases_finds_says_by_when_it_was_there():
    built = hotel("101").record(sign(Sign.DARK_SPOTS, 120), sign(Sign.LIVE_INSECT, 150))
    built.record(judged(Outcome.CONFIRMED, 151))
    assert kinds(built) == [(120, Found)]


def test_a_find_after_the_treatment_of_the_same_case_is_a_find_again():
    built = hotel("101").record(sign(Sign.LIVE_INSECT, 100)).record(judged(Outcome.CONFIRMED, 101))
    built.record(treated(110)).record(check(125))
    assert kinds(built) == [(100, Found), (110, Treated), (125, Looked)]
    assert 0 < chance(built) < 0.1
    built.record(sign(Sign.LIVE_INSECT, 140))
    assert kinds(built)[-1] == (140, Found)
    assert chance(built) == 1.0
    built.record(treated(145))
    assert 0.05 < chance(built) < 0.11


def test_each_stance_weighs_words_and_treatments_its_own_way():
    built = hotel("101").record(sign(Sign.BITES_REPORTED, 190))
    cautious, central, optimistic = (
        chance(built, setting=SETTINGS[stance])
        for stance in (Stance.CAUTIOUS, Stance.CENTRAL, Stance.OPTIMISTIC)
    )
    assert cautious > central > optimistic


# --- treatments, traps, moves --------------------------------------------------------------------


def test_a_treatment_starts_anew():
    built = hotel("101").record(sign(Sign.LIVE_INSECT, 100)).record(judged(Outcome.CONFIRMED, 101))
    built.record(treated(100))
    assert kinds(built) == [(100, Found), (100, Treated)]
    assert chance(built, today=100) == pytest.approx(0.1, abs=1e-3)


def trap(number, *, is_there=True, label="T1", room=HERE):
    return MonitorPlaced(label, room, "bed leg", day(number), "anna", is_there)


def read(number, caught=0, *, label="T1", room=HERE):
    return MonitorRead(label, room, day(number), "anna", caught)


@pytest.mark.parametrize("counts", [(1, 0), (0, 1)])
def test_a_trap_read_twice_on_a_day_is_not_empty_if_it_caught_something(counts):
    built = hotel("101").record(trap(100))
    for caught in counts:
        built.record(read(110, caught))
    assert evidence(built) == []


def test_an_empty_trap_is_a_look_by_how_long_it_stood():
    must = rules().figures.trap_days.value
    built = hotel("101").record(trap(100)).record(read(100 + int(must)), read(107 + int(must)))
    (_, whole), (_, part) = evidence(built)
    assert whole.times == 1.0
    assert part.times == pytest.approx(7 / must)
    assert whole.look == CENTRAL.look(rules().odds.looks["traps"])


def test_several_empty_traps_are_one_look():
    """Four found no more than one: Vail, Chandler 2017, J Econ Entomol 110:1187-1194."""
    one = hotel("101").record(trap(100)).record(read(120))
    four = hotel("101").record(*(trap(100, label=f"T{n}") for n in range(4)))
    four.record(*(read(120, label=f"T{n}") for n in range(4)))
    assert chance(one) == chance(four) < chance(hotel("101"))


def test_a_trap_that_caught_something_or_was_never_placed_is_no_look():
    assert evidence(hotel("101").record(trap(100)).record(read(120, caught=1))) == []
    assert evidence(hotel("101").record(read(120))) == []
    assert evidence(hotel("101").record(trap(130)).record(read(120))) == []


@pytest.mark.parametrize(
    "move",
    [
        GuestMoved(HERE, THERE, day(150), "b1", "mara"),
        FurnitureMoved(HERE, THERE, day(150), "armchair"),
    ],
)
@pytest.mark.parametrize(("found_on", "counts"), [(160, True), (149, True), (120, False)])
def test_what_moved_out_of_an_infested_room_may_bring_it_along(move, found_on, counts):
    built = hotel().record(move).record(sign(Sign.LIVE_INSECT, found_on))
    bare = chance(hotel(), THERE)
    assert chance(built, THERE) == bare
    built.record(judged(Outcome.CONFIRMED, found_on))
    assert (chance(built, THERE) > bare + 0.04) == counts
    assert (known(built).plain[THERE].moved_in != ()) == counts


def test_a_room_changed_before_arrival_moves_nothing():
    move = GuestMoved(HERE, THERE, day(150), "b1", "mara", before_arrival=True)
    built = hotel().record(move, sign(Sign.LIVE_INSECT, 155)).record(judged(Outcome.CONFIRMED, 156))
    assert known(built).plain[THERE].moved_in == ()


# --- stays ---------------------------------------------------------------------------------------


def test_without_bookings_every_day_is_the_mean_day():
    built = hotel("101")
    at_hand = known(built)
    assert at_hand.nights.known_from is None
    wanted = rules().odds.figures.stays_per_room_year.value / 365
    assert at_hand.nights.arrivals_of(0) == pytest.approx(wanted)
    assert at_hand.nights.let_of(0) == pytest.approx(rules().figures.usual_occupancy.value)
    assert 0 < chance(built) < 0.01


def test_stays_put_arrivals_and_nights_where_they_were():
    built = hotel().stays(("101", 100, 103), ("102", 90, 91), ("101", 103, 104), ("101", 195, 240))
    nights = known(built).nights
    row, first = nights.rooms.index(HERE), (nights.first_on - day(0)).days
    # Unknown before the first booking that is at hand: the mean day, of each room alike.
    assert nights.known_from == 90 - first
    assert (nights.arrivals_of(row)[: 90 - first] > 0).all()
    came = nights.arrivals_of(row)[90 - first :]
    arrivals = {first + int(n) for n in np.flatnonzero(came == 1) + 90 - first}
    let = {first + int(n) for n in np.flatnonzero(nights.let_of(row) == 1.0)}
    assert arrivals == {100, 103, 195}
    assert let == {100, 101, 102, 103, *range(195, TODAY + 1)}


def test_days_after_the_last_booking_at_hand_count_as_the_mean_day():
    """A list read in long ago says nothing of last week: the room was not vacant for that."""
    nights = known(hotel().stays(("101", 100, 103), ("102", 110, 112))).nights
    row, first = nights.rooms.index(HERE), (nights.first_on - day(0)).days
    assert nights.let_of(row)[112 - first :] == pytest.approx(nights.usual_let)
    assert nights.let_of(row)[104 - first : 112 - first] == pytest.approx(0.0)


def test_that_guests_reported_nothing_counts_only_where_the_hotel_says_so():
    built = hotel().on(0)
    silent = replace(CENTRAL, guest_silence=0.5)
    assert chance(built, setting=silent) < chance(built)
    quiet = list(record_in(built.house, known(built), HERE, silent).extra)
    assert sum(isinstance(one, Unreported) for one in quiet) == len(quiet) / 2
    shipped = record_in(built.house, known(built), HERE, CENTRAL).extra
    assert not any(isinstance(one, Unreported) for one in shipped)


def test_a_room_let_more_is_likelier_than_one_let_once_or_never():
    """Once adds no more than its bed-making takes away; of a room never let nobody is silent."""
    built = hotel("101", "102", "103").stays(
        *(("101", n, n + 1) for n in range(0, TODAY, 2)), ("102", 0, 1)
    )
    often, once, never = (chance(built, RoomNo(room)) for room in ("101", "102", "103"))
    assert often > 1.5 * never > 0
    assert once == pytest.approx(never, rel=0.01)


def test_a_room_never_let_since_records_began_grows_slowly_and_still_may_be_told_of():
    built = hotel("101", "102").stays(("102", -400, 1), *(("102", n, n + 1) for n in range(1, 202)))
    assert chance(built) == 0.0
    built.record(sign(Sign.LIVE_INSECT, 150)).record(judged(Outcome.CONFIRMED, 151))
    assert chance(built) == 1.0


# --- where a record begins and ends --------------------------------------------------------------


def test_a_house_without_rooms_and_one_without_beds():
    assert known(house()).plain == {}
    no_beds = house().room("101")
    assert 0 < chance(no_beds) < 0.01
    no_beds.record(look_around(150, ("night_stands", "headboard_back")))
    assert [kind for _n, kind in kinds(no_beds)] == [Looked]
    assert chance(no_beds) < chance(house().room("101"))


def test_a_record_begins_with_the_roster_or_an_earlier_look():
    built = hotel("101")
    late = house().on(150).room("101").bed("A")
    # Where silence counts for nothing, as in the cautious stance: fewer days, less that came.
    cautious = SETTINGS[Stance.CAUTIOUS]
    assert chance(late, setting=cautious) < chance(built, setting=cautious)
    began = {name: known(one).plain[HERE].began for name, one in (("late", late), ("old", built))}
    assert began == {"late": DAYS_BEFORE, "old": DAYS_BEFORE}
    earlier = house().on(150).room("101").bed("A").record(check(100))
    assert known(earlier).nights.first_on == day(100) - timedelta(days=DAYS_BEFORE)
    assert kinds(earlier) == [(100, Looked)]


def test_a_record_goes_back_so_far_and_no_further():
    built = hotel("101").record(check(0), check(700))
    at_hand = known(built, 900)
    assert at_hand.nights.first_on == day(900 - DAYS_OF_RECORD - DAYS_BEFORE)
    assert at_hand.today == DAYS_OF_RECORD + DAYS_BEFORE
    assert len(record_in(built.house, at_hand, HERE, CENTRAL).arrivals) == at_hand.today + 1


def test_a_house_at_hand_only_in_part_begins_where_it_is_complete():
    """The first page knows every check since a day; what was before counts as unknown."""
    built = hotel("101").record(check(10), check(120))
    part = replace(built.house, complete_from=day(100))
    at_hand = records(part, Occupancy({}), day(TODAY))
    first = (at_hand.nights.first_on - day(0)).days
    assert at_hand.plain[HERE].began + first == 100


def test_a_check_in_a_room_that_the_bed_has_left_does_not_count_for_its_new_one():
    built = hotel().record(check(50))
    moved = built.house.beds[BedNo("101/A")]
    built.on(60).record(replace(moved, room=THERE))
    assert [kind for _n, kind in kinds(built, THERE)] == []


# --- order, corrections --------------------------------------------------------------------------


STEPS = st.one_of(
    st.builds(check, st.integers(0, TODAY), seen=st.sampled_from((CLOSED, ("mattress_top",), ()))),
    st.builds(look_around, st.integers(0, TODAY), st.just(("night_stands",))),
    st.builds(sign, st.sampled_from(list(Sign)), st.integers(0, TODAY)),
    st.builds(treated, st.integers(0, TODAY)),
    st.builds(trap, st.integers(0, TODAY)),
    st.builds(read, st.integers(0, TODAY), st.integers(0, 1)),
    st.builds(lambda n: FurnitureMoved(THERE, HERE, day(n), "lamp"), st.integers(0, TODAY)),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(STEPS, max_size=8), st.booleans(), st.randoms(use_true_random=False))
def test_the_order_of_entry_never_matters(steps, is_confirmed, random):
    def told(order):
        built = hotel()
        for step in order:
            built.record(step)
        if is_confirmed:
            built.record(judged(Outcome.CONFIRMED, TODAY))
        return built

    shuffled = list(steps)
    random.shuffle(shuffled)
    assert chance(told(shuffled)) == pytest.approx(chance(told(steps)), abs=1e-14)


@settings(max_examples=40, deadline=None)
@given(st.lists(STEPS, max_size=6), STEPS)
def test_an_entry_taken_back_restores_the_odds(steps, mistaken):
    built = hotel()
    for step in steps:
        built.record(step)
    before = chance(built)
    built.record(mistaken)
    built.record(corrects=max(built.house.entries), note="typed for the wrong room")
    assert chance(built) == before


@settings(max_examples=40, deadline=None)
@given(st.lists(STEPS, max_size=6), STEPS)
def test_one_rooms_record_made_anew_is_that_of_all_made_anew(steps, later):
    built = hotel()
    for step in steps:
        built.record(step)
    before = known(built)
    built.record(later)
    again, anew = records_of(built.house, before, [HERE]), known(built)
    if again.nights.first_on == anew.nights.first_on:
        assert again.plain[HERE] == anew.plain[HERE]


# --- silence -------------------------------------------------------------------------------------


def test_bed_making_that_reports_nothing_says_a_little_or_as_the_cautious_stance_nothing():
    built = hotel("101")
    at_hand = known(built)
    by_stance = {s: record_in(built.house, at_hand, HERE, SETTINGS[s]).extra for s in Stance}
    assert by_stance[Stance.CAUTIOUS] == ()
    weeks = by_stance[Stance.CENTRAL]
    assert len(weeks) == pytest.approx(TODAY / 7, abs=1)
    assert {one.look for one in weeks} == {CENTRAL.look(rules().odds.looks["glance"])}
    let = rules().figures.usual_occupancy.value
    assert weeks[0].times == pytest.approx(7 * let * CENTRAL.glance_weight, abs=0.04)
    assert weeks[-1].day == at_hand.today


def test_no_beds_are_made_where_nobody_stays():
    built = hotel("101", "102").stays(("102", -400, 1), ("102", 1, 2), ("102", TODAY, TODAY + 2))
    at_hand = known(built)
    assert record_in(built.house, at_hand, HERE, CENTRAL).extra == ()
