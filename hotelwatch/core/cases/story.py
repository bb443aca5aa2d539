"""A case's story: what was seen, decided and done, line by line in the order of its days.

Codes and values of a line: "sighted" (fact: Sighted); "quarantined" (rooms, reason);
"asked" (rows: AskedRow, by_at); "looked" (room, kind, by, beds, beds_seen, found);
"judged" (fact: CaseJudged); "treated" (fact: TreatmentRecorded); "photos" (facts:
PhotoKept); those of ``story_facts`` (fact); "lifted" (fact: QuarantineLifted);
"word_given" (fact: NoticeGiven of a release); "trap_read" (fact: MonitorRead); "closed"
(fact: CaseClosed).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from hotelwatch.core.case_facts import (
    CaseClosed,
    CaseJudged,
    NoticeGiven,
    PhotoKept,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
)
from hotelwatch.core.cases.case import Case, case_of
from hotelwatch.core.cases.conditions import RELEASE_WORD
from hotelwatch.core.cases.rows import asked_of_case
from hotelwatch.core.cases.story_facts import CODES, facts_told
from hotelwatch.core.checks.asked import SERVING
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, CheckKind, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept
from hotelwatch.core.treatment_facts import MonitorRead, TreatmentRecorded

ORDER = (
    "looked",
    "trap_read",
    "sighted",
    "quarantined",
    "asked",
    "judged",
    "treated",
    "photos",
    *CODES,
    "word_given",
    "lifted",
    "closed",
)
"""How lines of one entry follow each other."""
RECORD, TAKE_BACK = "record_check", "take_back"
"""The actions that record a check, and that take an entry back."""


@dataclass(frozen=True, slots=True)
class StoryLine:
    """Something that happened in a case."""

    code: str
    on: date
    """The hotel's day on which it happened, whenever it was written down."""
    at: datetime | None
    """Its moment, where one is known."""
    entry: int
    """The entry that wrote it down."""
    values: dict[str, Any] = field(default_factory=dict)


def story_of(house: House, no: CaseNo, *, now: datetime) -> tuple[StoryLine, ...]:
    """A case's story, the oldest line first. Refusal("unknown_case") if there is none."""
    lines = [
        *_sightings(house, no),
        *_quarantines(house, no),
        *_asked(house, no, now),
        *_looks(house, no),
        *_judgements(house, no),
        *_treatments(house, no),
        *_photos(house, no),
        *_release(house, no),
        *_others(house, no),
    ]
    lines.sort(key=lambda line: (line.on, line.entry, ORDER.index(line.code)))
    return tuple(lines)


def _at_moment(
    house: House, code: str, at: datetime, entry: int, values: dict[str, Any]
) -> StoryLine:
    return StoryLine(code, local_day(at, house.zone), at, entry, values)


def _sightings(house: House, no: CaseNo) -> Iterator[StoryLine]:
    for row in house.kept_of_case(Sighted, no):
        yield _at_moment(house, "sighted", row.fact.seen_at, row.entry, {"fact": row.fact})


def _quarantines(house: House, no: CaseNo) -> Iterator[StoryLine]:
    together: defaultdict[tuple[int, datetime, str], list[RoomNo]] = defaultdict(list)
    for row in house.kept_of_case(QuarantinePlaced, no):
        together[row.entry, row.fact.from_at, row.fact.reason].append(row.fact.room)
    for (entry, from_at, reason), rooms in together.items():
        values = {"rooms": tuple(rooms), "reason": reason}
        yield _at_moment(house, "quarantined", from_at, entry, values)
    for lifted in house.kept_of_case(QuarantineLifted, no):
        told = {"fact": lifted.fact}
        yield _at_moment(house, "lifted", lifted.fact.lifted_at, lifted.entry, told)


def _asked(house: House, no: CaseNo, now: datetime) -> Iterator[StoryLine]:
    together: defaultdict[tuple[int, datetime], list[Any]] = defaultdict(list)
    for row in asked_of_case(house, no, now=now):
        together[row.entry, row.by_at].append(row)
    for (entry, by_at), rows in together.items():
        recorded_at = house.entries[entry].recorded_at
        values = {"rows": tuple(rows), "by_at": by_at}
        yield _at_moment(house, "asked", recorded_at, entry, values)


def _release(house: House, no: CaseNo) -> Iterator[StoryLine]:
    """The word given, traps read in the case's rooms while it goes on, and its closing."""
    for given in house.kept_of_case(NoticeGiven, no):
        if given.fact.notice == RELEASE_WORD:
            told = {"fact": given.fact}
            yield _at_moment(house, "word_given", given.fact.given_at, given.entry, told)
    closed = house.kept_of_case(CaseClosed, no)
    for row in closed:
        yield _at_moment(house, "closed", row.fact.closed_at, row.entry, {"fact": row.fact})
    case = case_of(house, no)
    first = min(local_day(sighted.seen_at, house.zone) for sighted in case.sightings)
    last = _last_day(house, case)
    for read in house.kept_of(MonitorRead):
        if read.fact.room in case.rooms and first <= read.fact.read_on <= last:
            yield StoryLine("trap_read", read.fact.read_on, None, read.entry, {"fact": read.fact})


def _last_day(house: House, case: Case) -> date:
    """The last day of a case's story: of its closing, or of the last room given back."""
    if case.is_open:
        return date.max
    closed = [row.fact.closed_at for row in house.kept_of_case(CaseClosed, case.no)]
    lifted = [row.fact.lifted_at for row in house.kept_of_case(QuarantineLifted, case.no)]
    return max((local_day(at, house.zone) for at in closed or lifted), default=date.max)


def _looks(house: House, no: CaseNo) -> Iterator[StoryLine]:
    """Checks that can answer the case in its own rooms; those of neighbours stand with "asked"."""
    case = case_of(house, no)
    first = min(local_day(sighted.seen_at, house.zone) for sighted in case.sightings)
    last = _last_day(house, case)
    together: defaultdict[tuple[RoomNo, date, CheckKind, int], list[Kept[BedChecked]]]
    together = defaultdict(list)
    for room in case.rooms:
        for bed in house.beds_of(room):
            for row in house.checks_by_bed.get(bed.bed, ()):
                day = row.fact.checked_on
                in_case = first <= day <= last
                if in_case and row.fact.room == room and row.fact.kind in SERVING:
                    together[room, day, row.fact.kind, row.entry].append(row)
    for (room, day, kind, entry), rows in together.items():
        yield StoryLine("looked", day, None, entry, _look_values(house, room, kind, rows))


def _look_values(
    house: House, room: RoomNo, kind: CheckKind, rows: list[Kept[BedChecked]]
) -> dict[str, Any]:
    return {
        "room": room,
        "kind": kind,
        "by": rows[0].fact.by,
        "beds": len(house.beds_of(room)),
        "beds_seen": sum(underside_seen(house, row.fact) for row in rows),
        "found": any(row.fact.found for row in rows),
    }


def _judgements(house: House, no: CaseNo) -> Iterator[StoryLine]:
    for row in house.kept_of_case(CaseJudged, no):
        yield StoryLine("judged", row.fact.judged_on, None, row.entry, {"fact": row.fact})


def _treatments(house: House, no: CaseNo) -> Iterator[StoryLine]:
    for row in house.kept_of_case(TreatmentRecorded, no):
        yield StoryLine("treated", row.fact.treated_on, None, row.entry, {"fact": row.fact})


def _photos(house: House, no: CaseNo) -> Iterator[StoryLine]:
    together: defaultdict[int, list[PhotoKept]] = defaultdict(list)
    for row in house.kept_of_case(PhotoKept, no):
        together[row.entry].append(row.fact)
    for entry, facts in together.items():
        recorded_at = house.entries[entry].recorded_at
        yield _at_moment(house, "photos", recorded_at, entry, {"facts": tuple(facts)})


def _others(house: House, no: CaseNo) -> Iterator[StoryLine]:
    for code, when, row in facts_told(house, no):
        values = {"fact": row.fact}
        if when is None or isinstance(when, datetime):
            recorded_at = house.entries[row.entry].recorded_at
            yield _at_moment(house, code, when or recorded_at, row.entry, values)
        else:
            yield StoryLine(code, when, None, row.entry, values)


def entries_to_take_back(house: House, no: CaseNo, *, now: datetime) -> tuple[StoryLine, ...]:
    """For each entry of a case, the line that stands for it; the latest first.

    Not those of checks, which are corrected where checks are recorded, nor what a taking
    back left in force.
    """
    first: dict[int, StoryLine] = {}
    for line in story_of(house, no, now=now):
        action = house.entries[line.entry].action
        if line.code not in ("looked", "asked") and action not in (RECORD, TAKE_BACK):
            first.setdefault(line.entry, line)
    return tuple(reversed(first.values()))
