"""A look that is written down anew by command."""

from __future__ import annotations

import re

from hotelwatch.actions.open_hotel import whole_house
from tests.build import rules


def test_a_correction_replaces_one_rooms_look_and_nothing_is_lost(hotel):
    hotel("record", hotel.file, "101", "--who", "ana", "--who", "bo")
    house = whole_house(hotel.file, rules())
    entry = max(house.entries)
    gap = "A:base_underside:no_time"
    words = ("record", hotel.file, "101", "--who", "ana", "--who", "bo", "--not-seen", gap)
    hotel(*words, "--corrects", entry, "--reason", "They had no time")
    house = whole_house(hotel.file, rules())
    assert house.entries[max(house.entries)].corrects == entry
    assert [check.unseen[-1] for check in house.checks_of("101/A")] == ["base_underside:no_time"]


def test_a_find_of_an_earlier_day_is_taken_with_its_time_only(hotel):
    words = ("record", hotel.file, "101", "--who", "ana", "--who", "bo", "--day", "2026-03-08")
    words += ("--found", "A:mattress_top:live_insect")
    said = hotel(*words, exit_code=1)
    assert re.search("when on .*2026.* the find in room 101 was made", said)
    hotel(*words, "--found-at", "2026-03-08T10:40")
    (sighted,) = whole_house(hotel.file, rules()).sightings.values()
    assert f"{sighted[0].fact.seen_at:%Y-%m-%dT%H:%MZ}" == "2026-03-08T09:40Z"
