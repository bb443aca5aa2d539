"""A case on one page: all that its paper says, gathered from the facts, corrections and all."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.cases.case import Case, case_of
from hotelwatch.core.cases.desk_duties import what_is_next_in
from hotelwatch.core.cases.duties import Duty
from hotelwatch.core.cases.ring import Ring, ring_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.story import StoryLine, story_of
from hotelwatch.core.cases.treatment import Doubt, doubts_of_case, papers_of_case
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.core.lethal.logs import KeptLog, logs_of_case
from hotelwatch.core.records import Entry
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.core.treatment_facts import PaperKept


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """A line of the story with who wrote it down, and when."""

    line: StoryLine
    entry: Entry


@dataclass(frozen=True, slots=True)
class TakenBack:
    """An entry of this case whose facts no longer count, and the one that took it back."""

    entry: Entry
    by_entry: Entry


@dataclass(frozen=True, slots=True)
class CasePage:
    """What a case's paper says, as of a moment."""

    case: Case
    made_at: datetime
    duties: tuple[Duty, ...]
    lines: tuple[WrittenLine, ...]
    ring: Ring
    logs: tuple[KeptLog, ...]
    doubts: tuple[Doubt, ...]
    photos: tuple[PhotoKept, ...]
    papers: tuple[PaperKept, ...]
    taken_back: tuple[TakenBack, ...]


def case_page(
    house: House, occupancy: Occupancy, no: CaseNo, *, around: Around, now: datetime
) -> CasePage:
    """Everything about a case. Refusal("unknown_case") if there is none."""
    case = case_of(house, no)
    return CasePage(
        case=case,
        made_at=now,
        duties=what_is_next_in(house, occupancy, no, now),
        lines=tuple(
            WrittenLine(line, house.entries[line.entry]) for line in story_of(house, no, now=now)
        ),
        ring=ring_of(house, around, no, now=now),
        logs=logs_of_case(house, no),
        doubts=doubts_of_case(house, no),
        photos=case.photos,
        papers=papers_of_case(house, no),
        taken_back=_taken_back(house, no),
    )


def _taken_back(house: House, no: CaseNo) -> tuple[TakenBack, ...]:
    touched = {
        row.entry
        for rows in house.kept.values()
        for row in rows
        if row.entry in house.corrected and getattr(row.fact, "case", "") == no
    }
    by = {entry.corrects: entry for entry in house.entries.values() if entry.corrects}
    return tuple(TakenBack(house.entries[number], by[number]) for number in sorted(touched))
