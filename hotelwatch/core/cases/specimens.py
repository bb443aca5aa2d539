"""Specimens of a case: where each was found and by whom, and its way since.

A label names room, place, date and finder, so that who identifies it can say of what:
a university's response kit for hotels; a specimen goes to a licensed professional or an
entomologist. Which further boxes a label has is common practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from hotelwatch.core.case_facts import CaseJudged, Sighted, SpecimenNoted, SpecimenStep
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.checks.room_mark import file_number
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Kept

BEGINS = "KEPT"


@dataclass(frozen=True, slots=True)
class Specimen:
    """A specimen as its label tells it."""

    case: CaseNo
    label: str
    room: RoomNo
    bed: str
    """Empty where no sign of that room says it."""
    place: str
    """A place's code; empty where no sign of that room says it."""
    found_at: datetime
    found_by: str
    """Empty where no sign of that room says it."""
    steps: Mapping[SpecimenStep, SpecimenNoted]
    """The last word of each step."""
    judged: CaseJudged | None
    """The judgement that stands; None while there is none, or where it may be about another."""


def specimens(house: House, case: CaseNo) -> tuple[Specimen, ...]:
    """Specimens of a case, in the order written down. Refusal("unknown_case")."""
    if case not in house.sightings:
        raise Refusal("unknown_case", case=case)
    by_label: dict[str, list[Kept[SpecimenNoted]]] = {}
    for row in house.kept_of_case(SpecimenNoted, case):
        by_label.setdefault(row.fact.label, []).append(row)
    # One judgement of a case with several specimens does not say of which.
    judged = judgement_of(house, case) if len(by_label) == 1 else None
    return tuple(_specimen(house, case, rows, judged) for rows in by_label.values())


def specimens_named(house: House, case: CaseNo, labels: tuple[str, ...]) -> tuple[Specimen, ...]:
    """These specimens of a case, or all. Refusal("no_specimen"), ("no_specimens")."""
    found = specimens(house, case)
    known = {one.label: one for one in found}
    if lost := [label for label in labels if label not in known]:
        raise Refusal("no_specimen", case=case, label=lost[0])
    if not found:
        raise Refusal("no_specimens", case=case)
    return tuple(known[label] for label in labels) if labels else found


def specimen_text(house: House, specimen: Specimen) -> str:
    """What a label's mark says to a scanner: "KEPT", the file's number, case, label.

    As a room's mark: parted by blanks, in letters that lie alike on most keyboards; the
    case's year and number stand apart, since a hyphen does not.
    """
    case = specimen.case.replace("-", " ")
    return f"{BEGINS} {file_number(house)} {case} {specimen.label}"


def _specimen(
    house: House, case: CaseNo, rows: list[Kept[SpecimenNoted]], judged: CaseJudged | None
) -> Specimen:
    first = rows[0]
    sign = _sign(house, case, first)
    return Specimen(
        case=case,
        label=first.fact.label,
        room=first.fact.room,
        bed=sign.bed if sign else "",
        place=sign.place if sign else "",
        found_at=sign.seen_at if sign else first.fact.at,
        found_by=sign.seen_by if sign else "",
        steps={row.fact.step: row.fact for row in rows},
        judged=judged,
    )


def _sign(house: House, case: CaseNo, first: Kept[SpecimenNoted]) -> Sighted | None:
    """The sign that a specimen was taken of: written down with it, else the room's last before."""
    here = [row for row in house.kept_of_case(Sighted, case) if row.fact.room == first.fact.room]
    with_it = [row.fact for row in here if row.entry == first.entry]
    before = [row.fact for row in here if row.fact.seen_at <= first.fact.at]
    return next(iter(with_it), None) or max(before, key=lambda one: one.seen_at, default=None)
