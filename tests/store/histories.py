"""Invented facts and histories for the store's tests: small alphabets, so that they meet."""

from __future__ import annotations

import string
from dataclasses import fields
from datetime import UTC, date, datetime, timedelta, timezone
from enum import StrEnum
from typing import NewType, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    RoomNo,
    StaysImported,
)
from hotelwatch.core.record_facts import ContentExpired
from hotelwatch.core.records import Stay
from tests.build import day, rules

DAYS = st.integers(0, 40).map(day)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
CODES = st.text(string.ascii_lowercase + "_:é ", min_size=1, max_size=8)
ZONES = st.sampled_from([UTC, timezone(timedelta(hours=5, minutes=45))])
MOMENTS = st.datetimes(datetime(2025, 12, 1), datetime(2026, 3, 1), timezones=ZONES)
BEDS = ("101/A", "101/B", "102/A")
KINDS = ("box_spring", "platform", "bunk", "no_such_kind")


def of_type(hint):
    """Values of a field's type."""
    while isinstance(hint, NewType):
        hint = hint.__supertype__
    if get_origin(hint) is tuple:
        return st.lists(of_type(get_args(hint)[0]), max_size=4).map(tuple)
    if hint == date | None:
        return st.none() | DAYS
    if issubclass(hint, StrEnum):
        return st.sampled_from(list(hint))
    return {
        str: TEXTS,
        bool: st.booleans(),
        int: st.integers(-(2**63), 2**63 - 1),
        float: st.floats(allow_nan=False, allow_infinity=False),
        date: DAYS,
        datetime: MOMENTS,
    }[hint]


def facts_of(kind):
    """Facts of a kind; its codes hold no line break."""
    hints = get_type_hints(kind)
    made = {}
    for field in fields(kind):
        hint = hints[field.name]
        is_codes = get_origin(hint) is tuple and get_args(hint)[0] is str
        made[field.name] = st.lists(CODES, max_size=4).map(tuple) if is_codes else of_type(hint)
    return st.builds(kind, **made)


NOT_BY_CHANCE = (StaysImported, ContentExpired)
ANY_FACT = st.one_of([facts_of(kind) for kind in FACT_KINDS if kind not in NOT_BY_CHANCE])
"""Bookings are read in by Journal.replace_stays alone, which adds their digest; what
expires is what is there."""
STAYS = facts_of(Stay)
PLACES = sorted(
    {p.code for kind in rules().bed_kinds.values() for p in (*kind.places, *kind.encased_places)}
)


@st.composite
def looks_and_beds(draw):
    """Checks and descriptions of the same few beds."""
    bed = BedNo(draw(st.sampled_from(BEDS)))
    room = RoomNo(bed.split("/")[0])
    if draw(st.integers(0, 3)) == 0:
        return BedDescribed(bed, room, draw(st.sampled_from(KINDS)), draw(st.booleans()))
    check = draw(facts_of(BedChecked))
    left_out = draw(st.sets(st.sampled_from(PLACES), max_size=2))
    seen = tuple(code for code in PLACES if code not in left_out)
    return BedChecked(bed, room, check.checked_on, check.kind, check.by, check.minutes, seen)


FACTS = st.lists(st.one_of(ANY_FACT, looks_and_beds()), min_size=1, max_size=5)
