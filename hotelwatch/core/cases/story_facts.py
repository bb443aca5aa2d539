"""What a case's story tells beside signs, looks and releases: each fact as a line of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime
from typing import Any, cast

from hotelwatch.core.case_facts import (
    CaseEntryMoved,
    CasesJoined,
    GuestMoved,
    NoticeGiven,
    OwnerNamed,
    SpecimenNoted,
)
from hotelwatch.core.cases.conditions import RELEASE_WORD
from hotelwatch.core.facts import CaseNo, Fact
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept
from hotelwatch.core.treatment_facts import (
    CareDone,
    ItemDiscarded,
    PaperKept,
    ProbeLogKept,
    TreatmentOrdered,
)

Told = tuple[str, datetime | date | None, Kept[Fact]]
"""Code, when it happened (None: when it was written down), the fact."""

WHEN: Mapping[type[Fact], tuple[str, Callable[[Any], datetime | date | None]]] = {
    SpecimenNoted: ("specimen", lambda fact: fact.at),
    NoticeGiven: ("told", lambda fact: fact.given_at),
    OwnerNamed: ("owner", lambda _fact: None),
    TreatmentOrdered: ("ordered", lambda _fact: None),
    ProbeLogKept: ("probe_log", lambda fact: fact.treated_on),
    PaperKept: ("paper", lambda _fact: None),
    CareDone: ("care", lambda fact: fact.done_at),
    ItemDiscarded: ("discarded", lambda fact: fact.discarded_on),
}
"""Kinds that bear their case, with the code of their line."""
CODES = ("joined", "split", "guest_moved", *(code for code, _when in WHEN.values()))


def facts_told(house: House, case: CaseNo) -> Iterator[Told]:
    """Every such fact of a case."""
    for kind, (code, when) in WHEN.items():
        for row in house.kept_of_case(kind, case):
            if isinstance(row.fact, NoticeGiven) and row.fact.notice == RELEASE_WORD:
                continue
            yield code, when(row.fact), row
    for joined in house.kept_of(CasesJoined):
        if house.case_now(joined.entry, joined.fact.into_case) == case:
            yield "joined", None, cast("Kept[Fact]", joined)
    for moved in house.kept_of(CaseEntryMoved):
        if case in (moved.fact.from_case, moved.fact.into_case):
            yield "split", None, cast("Kept[Fact]", moved)
    for guest in house.kept_of(GuestMoved):
        because = CaseNo(guest.fact.because_of)
        if because and house.case_now(guest.entry, because) == case:
            yield "guest_moved", guest.fact.moved_on, cast("Kept[Fact]", guest)
