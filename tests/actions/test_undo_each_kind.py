"""Undo and redo after every kind of thing that can be written down, one by one."""

from __future__ import annotations

from dataclasses import fields
from datetime import date, datetime
from enum import StrEnum
from typing import NewType, get_origin, get_type_hints

import pytest

from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.gate import NEVER_CORRECTED
from hotelwatch.actions.undo import redo, undo
from hotelwatch.core.case_facts import CaseNo, Sighted, Sign
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import HotelDescribed, MonthClosed, RoomNo, StaysImported
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import RecordRestored
from hotelwatch.core.rule_facts import RuleSetKept
from hotelwatch.core.rule_sets import facts_of
from hotelwatch.core.undoing import LOOKED_AT_ANEW
from hotelwatch.wording.problems import refusal_sentence
from tests.actions.test_undo import derived

NAMED = {
    "room": "102",
    "rooms": ("102",),
    "from_room": "102",
    "to_room": "103",
    "bed": "102/A",
    "beds": ("102/A",),
    "team": "Early",
    "floor": "1",
}
"""What fields name is there in the house of the test; cases are that of its one sighting."""
OF_ONE_CASE = {"case", "from_case", "into_case", "because_of", "asked_by"}
BY_ITS_OWN_DEED = {
    HotelDescribed: "describe_hotel",
    StaysImported: "import_stays",
    MonthClosed: "close_month",
    RecordRestored: "restore_record",
}
UNDOABLE = [kind for kind in FACT_KINDS if kind not in {*BY_ITS_OWN_DEED, *NEVER_CORRECTED}]


def example_of(kind, hotel):
    """A fact of that kind about what is there."""
    if kind is RuleSetKept:  # its codes are read back when the set is used
        return facts_of(hotel.house.profile)[0]
    hints = get_type_hints(kind)
    (case,) = hotel.house.sightings
    known = {**NAMED, **dict.fromkeys(OF_ONE_CASE, case)}
    values = {
        one.name: known.get(one.name, value_of(hints[one.name], hotel)) for one in fields(kind)
    }
    return kind(**values)


def value_of(hint, hotel):
    while isinstance(hint, NewType):
        hint = hint.__supertype__
    if get_origin(hint) is tuple:
        return ()
    if hint == date | None or hint is date:
        return hotel.today()
    if issubclass(hint, StrEnum):
        return next(iter(hint))
    return {str: "x", bool: True, int: 1, float: 1.0, datetime: hotel.now()}[hint]


@pytest.fixture
def with_a_case(hotel):
    seen = Sighted(CaseNo(""), RoomNo("102"), "", "", Sign.LIVE_INSECT, 0, "ana", hotel.now())
    log_sighting(hotel, seen)
    return hotel


@pytest.mark.parametrize("kind", UNDOABLE, ids=lambda kind: kind.__name__)
def test_every_kind_is_undone_and_done_again(with_a_case, kind):
    hotel, fact = with_a_case, example_of(kind, with_a_case)
    before = derived(hotel)
    hotel.record(lambda _: [fact], action="record_check")
    after = derived(hotel)
    assert after[0] != before[0]
    undo(hotel)
    assert derived(hotel) == before
    if kind in LOOKED_AT_ANEW:
        with pytest.raises(Refusal, match="redo_looked_at_anew") as refused:
            redo(hotel)
        assert all(refusal_sentence(refused.value))
        return
    redo(hotel)
    assert derived(hotel) == after
    undo(hotel)
    assert derived(hotel) == before
