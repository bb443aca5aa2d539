from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.building.roster import RosterChange, compare, needed_facts
from hotelwatch.core.facts import BedDescribed, FloorPlaced, RoomDescribed, Side
from tests.build import house

KINDS = ("box_spring", "platform", "sofa_bed")


def room(no, *beds, floor="1", order=1, **more):
    """A room's facts as a roster file gives them: beds lettered from A."""
    described = replace(RoomDescribed(no, floor, "", Side.LEFT, order), **more)
    lettered = zip("ABCDEFGH", beds, strict=False)
    return (described, *(BedDescribed(f"{no}/{letter}", no, kind) for letter, kind in lettered))


def roster(*rooms, floors=("1",)):
    levels = (FloorPlaced(floor, level) for level, floor in enumerate(floors, 1))
    return (*levels, *(fact for facts in rooms for fact in facts))


def loaded(build, facts, **more):
    """The build after loading these facts."""
    return build.record(*needed_facts(build.house, facts, **more))


def beds_of(build, no):
    return {bed.bed: bed.kind for bed in build.house.beds_of(no)}


FIRST = roster(room("101", "box_spring", "sofa_bed"), room("103", "platform", order=2))


def test_everything_is_added_to_an_empty_house():
    empty = house().house
    assert compare(empty, FIRST) == (
        RosterChange("101", "added", ("bed_added:101/A", "bed_added:101/B")),
        RosterChange("103", "added", ("bed_added:103/A",)),
    )
    rooms, beds = (FIRST[1], FIRST[4]), (FIRST[2], FIRST[3], FIRST[5])
    assert needed_facts(empty, FIRST) == (*rooms, *beds)


def test_loading_the_same_roster_again_changes_nothing():
    build = loaded(house(), FIRST)
    assert compare(build.house, FIRST) == ()
    assert needed_facts(build.house, FIRST) == ()


def test_what_changes_is_told_field_by_field():
    build = loaded(house(), FIRST)
    later = roster(
        room("101", "box_spring", "sofa_bed", room_type="Twin", side=Side.RIGHT),
        room("103", "box_spring", "crib", order=2),
    )
    assert compare(build.house, later) == (
        RosterChange("101", "changed", ("side", "room_type")),
        RosterChange("103", "changed", ("bed_kind:103/A", "bed_added:103/B")),
    )
    assert needed_facts(build.house, later) == (later[1], later[5], later[6])


def test_a_bed_that_is_encased_now_is_told():
    build = loaded(house(), FIRST)
    later = tuple(
        replace(f, encased=True) if isinstance(f, BedDescribed) and f.bed == "101/A" else f
        for f in FIRST
    )
    assert compare(build.house, later) == (RosterChange("101", "changed", ("bed_encased:101/A",)),)


def test_a_room_that_is_not_named_any_more_is_gone_with_its_beds():
    build = loaded(house(), FIRST)
    later = roster(room("101", "box_spring", "sofa_bed"))
    assert compare(build.house, later) == (RosterChange("103", "gone", ()),)
    assert {(type(f).__name__, f.in_use) for f in needed_facts(build.house, later)} == {
        ("RoomDescribed", False),
        ("BedDescribed", False),
    }
    after = loaded(build, later).house
    assert list(after.rooms) == ["101"]
    assert after.beds_of("103") == ()


def test_rooms_of_rows_that_were_kept_out_stay_as_they_are():
    build = loaded(house(), FIRST)
    later = roster(room("101", "box_spring", "sofa_bed"))
    assert compare(build.house, later, leave=("103",)) == ()
    assert needed_facts(build.house, later, leave=("103",)) == ()


def test_a_room_taken_back_gets_its_old_beds_and_their_labels():
    build = loaded(house(), FIRST)
    loaded(build, roster(room("103", "platform", order=2)))
    assert compare(build.house, FIRST) == (
        RosterChange("101", "added", ("bed_added:101/A", "bed_added:101/B")),
    )
    assert beds_of(loaded(build, FIRST), "101") == {"101/A": "box_spring", "101/B": "sofa_bed"}


def test_a_bed_keeps_its_label_when_another_is_written_before_it():
    build = loaded(house(), FIRST)
    later = roster(room("101", "box_spring", "box_spring", "sofa_bed"), FIRST[4:])
    assert compare(build.house, later) == (RosterChange("101", "changed", ("bed_added:101/C",)),)
    kinds = {"101/A": "box_spring", "101/B": "sofa_bed", "101/C": "box_spring"}
    assert beds_of(loaded(build, later), "101") == kinds


def test_a_bed_taken_away_leaves_its_label_to_no_bed_of_another_kind():
    build = loaded(house(), FIRST)
    loaded(build, roster(room("101", "box_spring"), FIRST[4:]))
    later = roster(room("101", "box_spring", "crib"), FIRST[4:])
    assert beds_of(loaded(build, later), "101") == {"101/A": "box_spring", "101/C": "crib"}


def test_a_new_floor_between_moves_the_rooms_above_it():
    first = roster(room("101"), room("301", floor="3"), floors=("1", "3"))
    build = loaded(house(), first)
    later = roster(
        room("101"), room("201", floor="2"), room("301", floor="3"), floors=("1", "2", "3")
    )
    assert compare(build.house, later) == (
        RosterChange("301", "changed", ("level",)),
        RosterChange("201", "added", ()),
    )
    assert needed_facts(build.house, later)[:2] == (FloorPlaced("2", 2), FloorPlaced("3", 3))


ROOMS = st.dictionaries(
    st.sampled_from(["101", "103", "105"]), st.lists(st.sampled_from(KINDS), max_size=4), min_size=1
)


@given(st.lists(ROOMS, min_size=1, max_size=5))
def test_after_loading_the_house_has_what_the_roster_says_and_nothing_is_needed(rosters):
    build = house()
    for wanted in rosters:
        facts = roster(*(room(no, *kinds) for no, kinds in wanted.items()))
        loaded(build, facts)
        assert set(build.house.rooms) == set(wanted)
        for no, kinds in wanted.items():
            assert sorted(beds_of(build, no).values()) == sorted(kinds)
        assert needed_facts(build.house, facts) == ()
        assert compare(build.house, facts) == ()


@given(ROOMS, ROOMS)
def test_a_bed_stays_itself_while_its_room_has_one_of_its_kind(first, second):
    build = house()
    loaded(build, roster(*(room(no, *kinds) for no, kinds in first.items())))
    before = {no: beds_of(build, no) for no in first}
    loaded(build, roster(*(room(no, *kinds) for no, kinds in second.items())))
    for no in first.keys() & second.keys():
        after = beds_of(build, no)
        for kind in KINDS:
            kept = [bed for bed, k in before[no].items() if k == kind and after.get(bed) == kind]
            assert len(kept) == min(first[no].count(kind), second[no].count(kind))
