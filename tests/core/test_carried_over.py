"""What a house keeps of its lookups over one more entry is what it would work out anew."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest

from hotelwatch.core.carried_over import CHECKS, READS
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.choice_facts import FigureChosen, RuleChosen
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    CheckKind,
    FloorPlaced,
    HotelDescribed,
    RoomDescribed,
    Side,
)
from hotelwatch.core.house import House
from tests.build import day, house, rules


class Watched(House):
    """A house that says which kinds of fact were read."""

    def kept_of(self, kind):
        """Note the kind."""
        vars(self).setdefault("read", set()).add(kind)
        return super().kept_of(kind)


def full():
    build = house().floors("1", "2").wing("A", 0, 0, 0).team("blue")
    build.room("101", wing="A").bed("A").checked("A", day(5)).bed("B").checked("B", day(3))
    return build.room("201", floor="2", wing="A").bed("A").checked("A", day(7))


@pytest.mark.parametrize("name", READS)
def test_a_lookup_reads_the_kinds_that_it_is_said_to_read(name):
    this = full().house
    of = {field.name: getattr(this, field.name) for field in fields(House) if field.init}
    watched = Watched(**of)
    getattr(watched, name)
    assert vars(watched)["read"] == READS[name]
    assert not any("case" in kind.__slots__ for kind in READS[name])


ONE_MORE = {
    "an earlier check": BedChecked("101/A", "101", day(4), CheckKind.DEEP, ("Ana",), 9, ("seams",)),
    "a later check": BedChecked("101/A", "101", day(9), CheckKind.DEEP, ("Ana",), 9, ("seams",)),
    "a first check": BedChecked("201/B", "201", day(9), CheckKind.DEEP, ("Ana",), 9, ("seams",)),
    "a room": RoomDescribed("102", "1", "A", Side.LEFT, 2),
    "a floor": FloorPlaced("2", 7),
    "a figure": FigureChosen("default_cycle_days", 50.0, "so decided"),
    "a rule": RuleChosen("ring_kinds", "shares_wall"),
}


@pytest.mark.parametrize("fact", ONE_MORE.values(), ids=ONE_MORE)
@pytest.mark.parametrize("corrects", [None, 4])
def test_after_one_more_entry_every_lookup_is_as_if_worked_out_anew(fact, corrects):
    build = full()
    for name in (*READS, CHECKS):
        getattr(build.house, name)
    after = build.record(fact, corrects=corrects).house
    anew = replace(after)
    assert {name: getattr(after, name) for name in (*READS, CHECKS)} == {
        name: getattr(anew, name) for name in (*READS, CHECKS)
    }


def whole(bed, on):
    """A check that saw every place of that bed."""
    places = rules().bed_kinds["box_spring"].places_of(encased=False)
    codes = tuple(place.code for place in places)
    return BedChecked(bed, bed[:3], on, CheckKind.DEEP, ("Ana",), 9, codes)


LOOKS = {
    **ONE_MORE,
    "a whole look": whole("101/A", day(9)),
    "a whole look found later": whole("101/A", day(4)),
    "an encasement": BedDescribed("101/A", "101", "box_spring", True),
    "another zone": HotelDescribed("Inn", "Asia/Tokyo"),
}


@pytest.mark.parametrize("fact", LOOKS.values(), ids=LOOKS)
@pytest.mark.parametrize("corrects", [None, 7])
def test_after_one_more_entry_looks_on_every_day_are_as_if_worked_out_anew(fact, corrects):
    build = full()
    for on in range(12):
        looks(build.house, day(on))
    after = build.record(fact, corrects=corrects).house
    anew = replace(after)
    for on in range(12):
        assert looks(after, day(on)) == looks(anew, day(on))
    assert looks(after, day(11)) == looks(anew, day(11))
