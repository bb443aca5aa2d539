"""The odds a day later against all reckoned anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.odds.day_later import chances_later, comes_in, day_later
from hotelwatch.core.odds.record import Looked, RoomRecord, introductions
from hotelwatch.core.odds.room import Tables, room_odds
from hotelwatch.core.odds.settings import settings_of
from tests.build import rules
from tests.core.test_odds_room_laws import LOOKS, kept_settings, records

PER_ROOM = st.lists(records(), min_size=1, max_size=4)


def a_day_more(record, arrivals, let):
    return replace(
        record, arrivals=np.append(record.arrivals, arrivals), let=np.append(record.let, let)
    )


@settings(max_examples=60, deadline=None)
@given(PER_ROOM, kept_settings(), st.sampled_from((0.0, 1.0, 3.0)), st.floats(0, 0.1))
def test_a_day_on_which_nobody_looked_is_all_reckoned_anew(rooms, setting, arrivals, press):
    tables = Tables(setting)
    rooms = [replace(room, began=0) for room in rooms]
    pressures = [np.linspace(0, press, room.days + 1) for room in rooms]
    before = [
        room_odds(room, tables, pressure=pressure[:-1]).chance
        for room, pressure in zip(rooms, pressures, strict=True)
    ]
    anew = [
        room_odds(a_day_more(room, arrivals, 1.0), tables, pressure=pressure).chance
        for room, pressure in zip(rooms, pressures, strict=True)
    ]
    coming = comes_in(setting, np.full(len(rooms), arrivals), pressure=press)
    assert chances_later(before, coming) == pytest.approx(anew, abs=1e-12)


@settings(max_examples=30, deadline=None)
@given(PER_ROOM, kept_settings(), LOOKS)
def test_rooms_looked_at_on_that_day_are_reckoned_from_their_records(rooms, setting, look):
    tables = Tables(setting)
    before = [room_odds(room, tables).chance for room in rooms]
    tomorrow = [a_day_more(replace(room, began=0), 1.0, 0.64) for room in rooms]
    looked = replace(tomorrow[0], evidence=(*tomorrow[0].evidence, Looked(rooms[0].days, look)))
    coming = comes_in(setting, np.ones(len(rooms)))
    later = day_later(before, coming, anew={0: looked}, tables=tables)
    assert later[0] == room_odds(looked, tables).chance
    assert later[1:] == pytest.approx(chances_later(before, coming)[1:], abs=0)


@given(records(with_finds=False), kept_settings())
def test_what_comes_in_is_what_a_record_says_of_its_days(record, setting):
    record = replace(record, began=0, moved_in=())
    assert comes_in(setting, record.arrivals) == pytest.approx(
        introductions(record, setting), abs=1e-15
    )


def test_silence_of_bed_making_only_lowers_it():
    """A week ends: all anew says less, never more."""
    for setting in settings_of(rules().odds).values():
        glance = setting.look(rules().odds.looks["glance"])
        room = replace(records_of_a_year(), extra=(Looked(363, glance, 4.5),))
        before = room_odds(replace(room, extra=()), Tables(setting)).chance
        anew = room_odds(a_day_more(room, 1.0, 1.0), Tables(setting)).chance
        assert anew <= chances_later(before, comes_in(setting, 1.0))


def records_of_a_year():
    return RoomRecord(np.full(365, 0.32), np.full(365, 0.64))


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_chance_stays_one_and_never_falls(before, coming):
    later = float(chances_later(before, coming))
    assert before <= later <= 1.0 + 1e-15
    assert chances_later(1.0, coming) == 1.0
