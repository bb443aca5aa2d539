from __future__ import annotations

import shutil
import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CheckKind,
    FloorPlaced,
    RoomNo,
    RoundPublished,
    SlotPublished,
    StaysImported,
)
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from hotelwatch.store.verify import verify
from tests.build import day, moment, rules
from tests.store.conftest import Desk
from tests.store.histories import DAYS, FACTS, MOMENTS, STAYS

SINCE = day(20)

STEPS = st.one_of(
    st.tuples(st.just("write"), FACTS, MOMENTS),
    st.tuples(st.just("correct"), st.integers(1, 12), FACTS | st.just([])),
    st.tuples(st.just("stays"), st.lists(STAYS, max_size=4), DAYS),
    st.tuples(st.just("refresh"), st.none(), st.none()),
)


def take(desk, step):
    """One step of a history at a desk."""
    what, first, second = step
    if what == "write":
        desk.write(*first, at=second)
    elif what == "correct":
        try:
            desk.write(*second, corrects=first, note="why")
        except Refusal as refusal:
            event(refusal.code)
    elif what == "stays":
        fact = StaysImported("list.csv", "0" * 64, second, len(first), 0)
        desk.house = desk.journal.replace_stays(
            first, fact, by="anna", at=moment(1), house=desk.house
        )
    else:
        desk.refresh()


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.tuples(st.booleans(), STEPS), max_size=10))
def test_loading_gives_the_house_that_appending_gave(steps):
    folder = Path(tempfile.mkdtemp())
    try:
        path = folder / "law.hotel"
        whole = Desk(create(path))
        cut = Desk(open_file(path), House(shipped=rules(), complete_from=SINCE))
        for at_whole, step in steps:
            take(whole if at_whole else cut, step)
        whole.refresh()
        cut.refresh()
        assert load(whole.journal, rules()) == whole.house
        assert load(cut.journal, rules(), checks_since=SINCE) == cut.house
        whole.journal.close()
        cut.journal.close()
        found = verify(path)
        assert found.is_sound
        assert found.entries == len(whole.house.entries)
    finally:
        shutil.rmtree(folder)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(STEPS, max_size=8))
def test_earlier_looks_are_the_last_whole_looks_before_the_horizon(steps):
    folder = Path(tempfile.mkdtemp())
    try:
        desk = Desk(create(folder / "looks.hotel"))
        for step in steps:
            take(desk, step)
        cut = load(desk.journal, rules(), checks_since=SINCE)
        desk.journal.close()
        assert cut.earlier_looks == looks_one_by_one(desk.house)
    finally:
        shutil.rmtree(folder)


def looks_one_by_one(house):
    """The same, the slow way."""
    built = {bed.bed: bed for bed in house.all_of(BedDescribed)}
    looks = {}
    for check in house.all_of(BedChecked):
        bed = built.get(check.bed)
        kind = rules().bed_kinds.get(bed.kind) if bed else None
        if kind is None or check.checked_on >= SINCE:
            continue
        places = kind.places_of(encased=bed.encased)
        needed = {p.code for p in places if p.underside and not p.optional}
        if needed <= set(check.seen):
            looks[check.bed] = max(check.checked_on, looks.get(check.bed, check.checked_on))
    return looks


def whole_look(on, seen=None):
    places = rules().bed_kinds["box_spring"].places
    codes = tuple(p.code for p in places) if seen is None else seen
    return BedChecked(BedNo("101/A"), RoomNo("101"), on, CheckKind.DEEP, ("anna",), 9, codes)


@pytest.fixture
def with_bed(desk):
    desk.write(BedDescribed(BedNo("101/A"), RoomNo("101"), "box_spring"))
    return desk


def test_only_a_look_at_every_underside_place_counts_as_an_earlier_look(with_bed):
    every = [p.code for p in rules().bed_kinds["box_spring"].places]
    # A name that begins like a place is not the place.
    almost = tuple("base_underside_edge" if c == "base_underside" else c for c in every)
    with_bed.write(whole_look(day(1)), whole_look(day(2), almost), at=moment(2))
    with_bed.write(whole_look(day(3), ("bedding",)), at=moment(3))
    cut = load(with_bed.journal, rules(), checks_since=day(10))
    assert cut.earlier_looks == {"101/A": day(1)}
    assert cut.all_of(BedChecked) == ()


def test_a_corrected_look_is_no_look(with_bed):
    with_bed.write(whole_look(day(1)), at=moment(1))
    with_bed.write(whole_look(day(2)), at=moment(2))
    with_bed.write(corrects=3, note="wrong room", at=moment(3))
    cut = load(with_bed.journal, rules(), checks_since=day(10))
    assert cut.earlier_looks == {"101/A": day(1)}


def test_the_horizon_cuts_checks_slots_and_rounds_and_nothing_else(with_bed):
    slot = SlotPublished(day(3), "a", 1, RoomNo("101"), ("101/A",), 20)
    old = [RoundPublished(day(1), day(9)), slot, whole_look(day(9)), FloorPlaced("1", 1)]
    new = [RoundPublished(day(1), day(10)), replace(slot, on=day(10)), whole_look(day(10))]
    with_bed.write(*old, at=moment(9))
    with_bed.write(*new, at=moment(10))
    cut = load(with_bed.journal, rules(), checks_since=day(10))
    kept = {row.fact for rows in cut.kept.values() for row in rows}
    assert set(new) <= kept
    assert kept & set(old) == {FloorPlaced("1", 1)}
    assert cut.complete_from == day(10)
    assert list(cut.entries) == [1, 2, 3]


def test_entries_without_a_fact_at_hand_are_left_out(with_bed):
    with_bed.write(whole_look(day(1)), at=moment(1))
    with_bed.write(whole_look(day(12)), at=moment(12))
    cut = load(with_bed.journal, rules(), checks_since=day(10))
    assert list(cut.entries) == [1, 3]


def test_stays_that_were_over_before_the_horizon_are_left_out(desk):
    stays = [Stay("a", "101", "", day(1), day(9)), Stay("b", "101", "", day(9), day(10))]
    fact = StaysImported("list.csv", "0" * 64, day(0), 2, 0)
    desk.journal.replace_stays(stays, fact, by="a", at=moment(0), house=desk.house)
    assert load(desk.journal, rules(), checks_since=day(10)).stays == (stays[1],)


def test_a_late_look_before_the_horizon_becomes_an_earlier_look(with_bed):
    cut = Desk(with_bed.journal, load(with_bed.journal, rules(), checks_since=day(10)))
    cut.write(whole_look(day(4)), at=moment(12))
    assert cut.house.earlier_looks == {"101/A": day(4)}
    assert cut.house.all_of(BedChecked) == ()
    assert load(cut.journal, rules(), checks_since=day(10)) == cut.house


def test_another_windows_late_look_becomes_an_earlier_look_too(with_bed):
    cut = Desk(with_bed.journal, load(with_bed.journal, rules(), checks_since=day(10)))
    other = Desk(open_file(with_bed.journal.path), with_bed.house)
    other.write(whole_look(day(4)), at=moment(12))
    newer, _ = cut.refresh()
    assert newer.earlier_looks == {"101/A": day(4)}
    other.write(corrects=2, note="wrong bed", at=moment(13))
    cut.refresh()
    assert cut.house.earlier_looks == {}
    assert load(cut.journal, rules(), checks_since=day(10)) == cut.house
    other.journal.close()


def test_an_entry_older_than_the_horizon_with_nothing_at_hand_is_left_out_at_once(with_bed):
    cut = Desk(with_bed.journal, load(with_bed.journal, rules(), checks_since=day(10)))
    cut.write(whole_look(day(4)), at=moment(4))
    assert list(cut.house.entries) == [1]
    assert cut.refresh() is None
    cut.write(whole_look(day(5)), at=moment(12))
    assert list(cut.house.entries) == [1, 3]
    assert load(cut.journal, rules(), checks_since=day(10)) == cut.house
