"""Joining cases and splitting one: what may be put together, and what may be taken apart."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from hotelwatch.core.case_facts import CaseEntryMoved, CasesJoined, Sighted
from hotelwatch.core.cases.case import is_open, next_case_no
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal


def check_joining(house: House, joined: CasesJoined) -> None:
    """Refusal where two cases can't be joined.

    Codes: "unknown_case", "same_case", "case_not_open" (into a closed one),
    "joining_needs_reason".
    """
    for case in (joined.from_case, joined.into_case):
        if case not in house.sightings:
            raise Refusal("unknown_case", case=case)
    if joined.from_case == joined.into_case:
        raise Refusal("same_case", case=joined.from_case)
    if not is_open(house, joined.into_case):
        raise Refusal("case_not_open", case=joined.into_case)
    if not joined.reason.strip():
        raise Refusal("joining_needs_reason")


def split(
    house: House, case: CaseNo, entries: Collection[int], *, by: str, reason: str, today: date
) -> tuple[CaseEntryMoved, ...]:
    """What takes these entries out of a case into a new one.

    An entry goes whole, with the quarantine and the checks that it set going. Refusal
    codes: "unknown_case", "splitting_needs_reason", "not_of_case" (an entry without a
    sign of the case), "nothing_left" (all signs would go), "nothing_to_split".
    """
    if case not in house.sightings:
        raise Refusal("unknown_case", case=case)
    if not reason.strip():
        raise Refusal("splitting_needs_reason")
    signs = {row.entry for row in house.kept_of_case(Sighted, case)}
    going = frozenset(entries)
    if not going:
        raise Refusal("nothing_to_split", case=case)
    if strange := sorted(going - signs):
        raise Refusal("not_of_case", entry=str(strange[0]), case=case)
    if going == signs:
        raise Refusal("nothing_left", case=case)
    into = next_case_no(house, today)
    return tuple(
        CaseEntryMoved(number, written, into, by, reason)
        for number in sorted(going)
        for written in _written(house, number, case)
    )


def _written(house: House, number: int, case: CaseNo) -> tuple[CaseNo, ...]:
    """Under which numbers an entry wrote down what belongs to a case now."""
    kept = (row for rows in house.kept.values() for row in rows if row.entry == number)
    names = (getattr(row.fact, "case", None) for row in kept)
    raw = dict.fromkeys(name for name in names if name)
    return tuple(name for name in raw if house.case_now(number, name) == case)
