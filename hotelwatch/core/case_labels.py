"""Under which case a fact stands now, where cases were joined or split since."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar, cast

from hotelwatch.core.case_facts import CaseEntryMoved, CasesJoined
from hotelwatch.core.facts import CaseNo, Fact
from hotelwatch.core.records import Kept

F = TypeVar("F", bound=Fact)
LABELLING: tuple[type[Fact], ...] = (CasesJoined, CaseEntryMoved)
"""Kinds of fact that say under which case others stand."""


@dataclass(frozen=True, slots=True)
class CaseLabels:
    """The case of each moved entry, and the case into which each joined one went."""

    moved: Mapping[tuple[int, CaseNo], CaseNo]
    joined: Mapping[CaseNo, CaseNo]

    @staticmethod
    def of(rows: Iterable[Kept[Fact]]) -> CaseLabels:
        """The labels after these joins and moves, in the order written down.

        A join that would lead back to its own case is left out.
        """
        moved: dict[tuple[int, CaseNo], CaseNo] = {}
        joined: dict[CaseNo, CaseNo] = {}
        for row in sorted(rows, key=lambda row: row.entry):
            fact = row.fact
            if isinstance(fact, CaseEntryMoved):
                moved[fact.number, fact.from_case] = fact.into_case
            elif isinstance(fact, CasesJoined):
                into = _end(joined, fact.into_case)
                if into != fact.from_case:
                    joined[fact.from_case] = into
        return CaseLabels(moved, {case: _end(joined, case) for case in joined})

    def now(self, row: Kept[F]) -> Kept[F]:
        """The fact under the case to which it belongs now."""
        written = cast("CaseNo", row.fact.case)  # type: ignore[attr-defined]
        case = self.case_of(row.entry, written)
        if case == written:
            return row
        return Kept(row.entry, replace(row.fact, case=case))  # type: ignore[call-arg]

    def case_of(self, entry: int, written: CaseNo) -> CaseNo:
        """The case to which what an entry wrote down for a case belongs now."""
        case = self.moved.get((entry, written), written)
        return self.joined.get(case, case)


def _end(joined: Mapping[CaseNo, CaseNo], case: CaseNo) -> CaseNo:
    seen = {case}
    while (further := joined.get(case)) is not None and further not in seen:
        seen.add(further)
        case = further
    return case
