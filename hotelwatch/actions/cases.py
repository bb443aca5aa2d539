"""Cases: log a sighting, judge it, record treatment."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    PhotoKept,
    Sighted,
    SpecimenNoted,
    SpecimenStep,
)
from hotelwatch.core.cases.blocks import Block, BlockKind, blocks
from hotelwatch.core.cases.case import next_case_no
from hotelwatch.core.cases.desk import moves_for
from hotelwatch.core.cases.response import Answer, answer_sighting
from hotelwatch.core.cases.touched import TouchedArrival
from hotelwatch.core.cases.watch import case_for_sign
from hotelwatch.core.facts import CaseNo, Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes, Entry
from hotelwatch.store.photos import keep_photo


def propose_answer(hotel: OpenHotel, house: House, sighted: Sighted) -> Answer:
    """What a sighting would set going: its case, the quarantine, the checks asked for.

    A sighting without a case joins its room's open case or opens the next one.
    """
    if sighted.room not in house.rooms:
        raise Refusal("unknown_room", room=sighted.room)
    case = sighted.case or case_for_sign(house, sighted.room, sighted.seen_at)
    case = case or next_case_no(house, hotel.today())
    around = hotel.around(house)
    named = replace(sighted, case=case)
    return answer_sighting(house, around.neighbours, named, record=around.record)


@dataclass(frozen=True, slots=True)
class Preview:
    """What would follow from a sighting, were it written down now."""

    answer: Answer
    blocks: tuple[Block, ...]
    """Rooms that front desk would have to block because of it, or to hold for a look."""
    arrivals: tuple[TouchedArrival, ...]
    """Guests whom these blocks would touch, each with the room proposed."""


def preview_sighting(hotel: OpenHotel, sighted: Sighted) -> Preview:
    """What a sighting would set going, for a person to look at first; nothing is written."""
    now = hotel.now()
    answer = propose_answer(hotel, hotel.house, sighted)
    supposed = hotel.house.add(_supposed_entry(hotel.house, now), answer.facts)
    closing = {placed.room for placed in answer.quarantine}
    asked = {wish.room for wish in answer.asked}
    found = blocks(supposed, hotel.occupancy(), now)
    around = hotel.around(supposed)
    touched = moves_for(supposed, hotel.occupancy(), found, around=around, now=now)
    because_of_it = tuple(
        block
        for block in found
        if block.room in (asked if block.kind is BlockKind.HELD else closing)
    )
    rooms = {block.room for block in because_of_it}
    return Preview(answer, because_of_it, tuple(row for row in touched if row.room in rooms))


def answer_in_turn(hotel: OpenHotel, house: House, finds: Iterable[Sighted]) -> list[Fact]:
    """The facts that several sightings set going; each sees the cases before it."""
    facts: list[Fact] = []
    for sighted in finds:
        answer = propose_answer(hotel, house, sighted)
        house = house.add(_supposed_entry(house, hotel.now()), answer.facts)
        facts += answer.facts
    return facts


def log_sighting(
    hotel: OpenHotel,
    sighted: Sighted,
    *,
    photos: Sequence[Path] = (),
    not_asked: frozenset[RoomNo] = frozenset(),
    specimen: tuple[str, str] | None = None,
) -> CaseNo:
    """Write down a sighting with its whole answer; returns the case it belongs to.

    ``not_asked`` are neighbours that the person struck out; the room itself can't be.
    ``specimen`` is the label of one that was kept, and where.
    """
    if not sighted.seen_by.strip():
        raise Refusal("who_saw_missing")
    if sighted.seen_at > hotel.now():
        local = sighted.seen_at.astimezone(hotel.zone)
        raise Refusal("moment_to_come", moment=local.isoformat())
    if specimen and not specimen[0].strip():
        raise Refusal("specimen_needs_label")
    if specimen and not specimen[1].strip():
        raise Refusal("specimen_needs_place")
    hotel.require(Sighted, action="log_sighting")
    kept = [keep_photo(hotel.path, photo) for photo in photos]
    case = CaseNo("")

    def decide(house: House) -> Sequence[Fact]:
        nonlocal case
        answer = propose_answer(hotel, house, sighted)
        case = answer.sighted.case
        struck = not_asked - {sighted.room}
        if lost := sorted(struck - {asked.room for asked in answer.asked}):
            raise Refusal("not_to_be_asked", room=lost[0], source=sighted.room)
        facts = answer.without(asked=struck).facts
        pictures = [PhotoKept(case, digest, size) for digest, size in kept]
        return [*facts, *pictures, *_kept_specimen(sighted, case, specimen)]

    hotel.record(decide, action="log_sighting")
    return case


def _kept_specimen(
    sighted: Sighted, case: CaseNo, specimen: tuple[str, str] | None
) -> Iterator[Fact]:
    if specimen:
        name, where = specimen
        yield SpecimenNoted(
            case,
            name,
            sighted.room,
            SpecimenStep.KEPT,
            where,
            sighted.seen_by,
            sighted.seen_at,
        )


def add_photo(hotel: OpenHotel, case: CaseNo, photo: Path, caption: str = "") -> Changes:
    """Keep one more photo with a case."""
    hotel.require(PhotoKept, action="add_photo")
    digest, size = keep_photo(hotel.path, photo)
    return _record_of_case(hotel, PhotoKept(case, digest, size, caption), action="add_photo")


def judge_case(hotel: OpenHotel, judged: CaseJudged) -> Changes:
    """Write down a competent person's judgement; of what is no bed bug also what it was."""
    if not judged.judged_by.strip():
        raise Refusal("who_judged_missing")
    if not judged.competence.strip():
        raise Refusal("competence_missing")
    if judged.judged_on > hotel.today():
        raise Refusal("day_to_come", day=judged.judged_on.isoformat())
    if judged.outcome is Outcome.NOT_BED_BUG and not judged.was.strip():
        raise Refusal("what_was_it_missing")
    return _record_of_case(hotel, judged, action="judge_case")


def _record_of_case(hotel: OpenHotel, fact: CaseJudged | PhotoKept, *, action: str) -> Changes:
    def decide(house: House) -> Sequence[Fact]:
        # Another window may have opened the case or taken it back since we looked.
        if fact.case not in house.sightings:
            raise Refusal("unknown_case", case=fact.case)
        return [fact]

    return hotel.record(decide, action=action)


def _supposed_entry(house: House, at: datetime) -> Entry:
    number = max(house.entries, default=0) + 1
    return Entry(number, at, "", "", "", None, "", "")
