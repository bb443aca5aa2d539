"""Joining and splitting cases, and the way of a specimen."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import CasesJoined, SpecimenNoted
from hotelwatch.core.cases.joining import check_joining, split
from hotelwatch.core.cases.response import wanted_apart
from hotelwatch.core.facts import CaseNo, Fact
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes


def join_cases(hotel: OpenHotel, joined: CasesJoined) -> Changes:
    """Let one case go into another; taking the entry back parts them again.

    Refusal as of core.cases.joining.check_joining.
    """

    def decide(house: House) -> Sequence[Fact]:
        check_joining(house, joined)
        return [joined]

    return hotel.record(decide, action="join_cases", note=joined.reason)


def split_case(hotel: OpenHotel, case: CaseNo, entries: Collection[int], *, reason: str) -> CaseNo:
    """Take entries with signs out of a case into a new one; the new case's label.

    What the signs of either case lack then, apart, is written down with it.
    Refusal as of core.cases.joining.split.
    """
    into = CaseNo("")

    def decide(house: House) -> Sequence[Fact]:
        nonlocal into
        moved = split(house, case, entries, by=hotel.by, reason=reason, today=hotel.today())
        into = moved[0].into_case
        return (*moved, *wanted_apart(house, hotel.neighbours(house), moved))

    hotel.record(decide, action="split_case", note=reason)
    return into


def note_specimen(hotel: OpenHotel, noted: SpecimenNoted) -> Changes:
    """Write down where a specimen is.

    Refusal("unknown_case"), ("specimen_needs_label"), ("specimen_needs_place"),
    ("moment_to_come").
    """
    if not noted.label.strip():
        raise Refusal("specimen_needs_label")
    if not noted.where.strip():
        raise Refusal("specimen_needs_place")
    if noted.at > hotel.now():
        raise Refusal("moment_to_come", moment=noted.at.astimezone(hotel.zone).isoformat())

    def decide(house: House) -> Sequence[Fact]:
        if noted.case not in house.sightings:
            raise Refusal("unknown_case", case=noted.case)
        return [noted]

    return hotel.record(decide, action="note_specimen")
