"""What a recorded look shows of each place, for every kind of bed. Shares are assumptions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.odds.places import (
    NOTHING,
    SCALED,
    mean_parts,
    seen_of_beds,
    shares_of_bed,
    shown,
    together,
)
from hotelwatch.core.odds_figures import PLACES
from tests.build import rules

ODDS = rules().odds
KINDS = rules().bed_kinds
BUILDS = [(kind, encased) for kind in KINDS for encased in (False, True)]
ROOM = [place.code for place in rules().room_places]
TAKEN_OFF = {"headboard_back"}
SHOW_NOTHING: frozenset[str] = frozenset()
"""Codes of beds.toml that tell nothing of the six places."""


def codes(kind, encased):
    return [place.code for place in KINDS[kind].places_of(encased=encased)]


def at(parts, place):
    return parts[PLACES.index(place)]


def whole(kind, encased, *, beside=True):
    """A bed and, if asked, the room around it, every listed part of both looked at."""
    listed = codes(kind, encased)
    of_room = shown(ODDS, ROOM, set(ROOM)) if beside else NOTHING
    return together(shown(ODDS, listed, set(listed)), of_room)


@pytest.mark.parametrize(("kind", "encased"), BUILDS)
def test_every_part_of_every_bed_shows_something(kind, encased):
    for code in codes(kind, encased):
        assert (code in ODDS.shows) != (code in SHOW_NOTHING), code
        assert any(shown(ODDS, codes(kind, encased), {code})) != (code in SHOW_NOTHING), code


@pytest.mark.parametrize("code", ROOM)
def test_every_part_of_the_room_beside_its_beds_shows_something(code):
    assert any(shown(ODDS, ROOM, {code}))


def test_nothing_is_said_of_parts_that_no_bed_and_no_room_has():
    known = {code for build in BUILDS for code in codes(*build)} | set(ROOM)
    assert set(ODDS.shows) <= known


@pytest.mark.parametrize(("kind", "encased"), BUILDS)
def test_shares_sum_to_one_and_lie_where_a_look_can_get(kind, encased):
    shares = shares_of_bed(ODDS, KINDS[kind], encased=encased)
    assert sum(shares) == pytest.approx(1.0)
    assert min(shares) >= 0.0
    everything = whole(kind, encased)
    for place, share, seen in zip(PLACES, shares, everything, strict=True):
        assert not share or seen, f"{place} holds {share:.0%} and nothing listed shows it"


def test_a_box_spring_has_the_usual_shares():
    assert shares_of_bed(ODDS, KINDS["box_spring"], encased=False) == ODDS.shares


def test_an_encased_base_holds_nothing_behind_its_cover():
    """Half to headboard and frame, half elsewhere: an assumption."""
    shares = shares_of_bed(ODDS, KINDS["box_spring"], encased=True)
    assert at(shares, "base_inside") == 0.0
    assert at(shares, "headboard_frame") == pytest.approx(0.22 + 0.11)
    assert at(shares, "elsewhere") == pytest.approx(0.18 + 0.11)


def test_a_platform_has_one_base_place():
    shares = shares_of_bed(ODDS, KINDS["platform"], encased=False)
    assert at(shares, "base_inside") == 0.0
    assert at(shares, "base_outside") == pytest.approx(0.14 + 0.22)


@pytest.mark.parametrize(
    ("look", "left_out"),
    [("deep_closed", {"base_inside", *TAKEN_OFF}), ("deep_cover", TAKEN_OFF), ("deep_full", set())],
)
def test_a_box_springs_sheet_is_the_look_that_the_plan_compares(look, left_out):
    """Elsewhere, a sheet names .6 of what could be looked at; a plan's closed look only .4."""
    listed = codes("box_spring", encased=False)
    of_bed = shown(ODDS, listed, set(listed) - left_out)
    of_room = shown(ODDS, ROOM, set(ROOM) - left_out)
    for place, seen, of_plan in zip(
        PLACES, together(of_bed, of_room), ODDS.looks[look].seen, strict=True
    ):
        if place != "elsewhere":
            assert seen == pytest.approx(of_plan), place
        else:
            assert seen == pytest.approx(0.6)
            assert of_plan <= 0.6


@pytest.mark.parametrize(("kind", "encased"), BUILDS)
def test_all_parts_of_mattress_and_base_together_show_them_whole(kind, encased):
    for place in SCALED:
        seen = at(whole(kind, encased, beside=False), place)
        assert seen == 1.0, place


@given(st.sampled_from(BUILDS), st.data())
def test_more_ticks_never_show_less(build, data):
    listed = codes(*build)
    some = data.draw(st.sets(st.sampled_from(listed)))
    more = some | data.draw(st.sets(st.sampled_from(listed)))
    less, greater = shown(ODDS, listed, some), shown(ODDS, listed, more)
    assert all(0.0 <= one <= other <= 1.0 for one, other in zip(less, greater, strict=True))


@given(st.sampled_from(BUILDS))
def test_no_ticks_and_foreign_ticks_show_nothing(build):
    listed = codes(*build)
    assert shown(ODDS, listed, ()) == NOTHING
    assert shown(ODDS, listed, {"no_such_part", *ROOM}) == NOTHING


def test_one_of_two_beds_shows_half_of_both():
    one = shown(ODDS, codes("slats", False), set(codes("slats", False)))
    both = mean_parts([one, NOTHING])
    assert at(both, "mattress_top") == 0.5
    assert mean_parts([]) == NOTHING
    assert together(one, one) == tuple(min(1.0, 2 * part) for part in one)


def test_a_bed_counts_at_each_place_by_how_likely_it_has_insects_there():
    """Two beds: what was seen of the room is the chance that insects sit where one looked."""
    shares = [(0.1, 0.1, 0.2, 0.2, 0.2, 0.2), (0.1, 0.3, 0.4, 0.0, 0.0, 0.2)]
    seen = [(1.0, 1.0, 0.0, 0.9, 0.6, 0.0), (0.0, 0.5, 1.0, 0.3, 0.0, 0.0)]
    of_room = seen_of_beds(list(zip(shares, seen, strict=True)))
    together_shares = mean_parts(shares)
    met = sum(s * x for s, x in zip(together_shares, of_room, strict=True))
    by_bed = [
        sum(s * x for s, x in zip(*one, strict=True)) for one in zip(shares, seen, strict=True)
    ]
    assert met == pytest.approx(sum(by_bed) / 2)
    assert of_room[3] == pytest.approx(0.9), "only the first bed has an inside"
    assert seen_of_beds([]) == NOTHING
