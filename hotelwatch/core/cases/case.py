"""A case: a room's story from the first sign until the room is given back.

Nothing here is typed in: evidence, judgement, stage and what is still open follow
from the facts, so a correction undoes exactly what it corrects.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.case_facts import CaseEntryMoved, CaseJudged, Outcome, PhotoKept, Sighted
from hotelwatch.core.checks.asked import AskedState as AskedState
from hotelwatch.core.checks.asked import asked_states, judgement_of, unjudged_sightings
from hotelwatch.core.checks.signs import strong_sign_since as strong_sign_since
from hotelwatch.core.checks.signs import suite_mates as suite_mates
from hotelwatch.core.checks.signs import treatments_of as treatments_of
from hotelwatch.core.checks.signs import weight_of as weight_of
from hotelwatch.core.checks.watching import was_closed, was_released
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence as Evidence
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import TreatmentRecorded


class Stage(StrEnum):
    """Where a case stands; always derived."""

    SUSPECTED = "suspected"
    """Not judged, or a sign was written down after the judgement."""
    CONFIRMED = "confirmed"
    """Treatment is wanted: none yet, or a strong sign since the last one."""
    IN_TREATMENT = "in_treatment"
    """Treated, and nobody has looked since."""
    UNDER_FOLLOW_UP = "under_follow_up"
    RULED_OUT = "ruled_out"
    UNDETERMINED = "undetermined"
    RELEASED = "released"
    """Confirmed, every room of it given back, no sign written down since: the watch runs."""
    CLOSED = "closed"
    """A named person ended the watch; or the rooms were given back of what nobody confirmed."""


@dataclass(frozen=True, slots=True)
class Case:
    """A case as its facts tell it."""

    no: CaseNo
    room: RoomNo
    """Where the first sign was."""
    rooms: tuple[RoomNo, ...]
    """Every room with a sign or a quarantine of this case, the first sign's room first."""
    opened_at: datetime
    """When its first sighting was written down."""
    sightings: tuple[Sighted, ...]
    """In the order written down."""
    evidence: Evidence
    """The strongest of its signs."""
    stage: Stage
    judged: CaseJudged | None
    """The judgement that stands; None while none covers every sign."""
    answer_from: datetime
    """When the first sign that no judgement covers was seen; else the first sign of all."""
    asked: tuple[AskedState, ...]
    quarantined: tuple[RoomNo, ...]
    """Rooms that this case keeps in quarantine, in the order placed."""
    treatments: tuple[TreatmentRecorded, ...]
    """By day, then in the order written down."""
    photos: tuple[PhotoKept, ...]
    is_open: bool
    """Whether anything is left to do."""


def cases(house: House) -> tuple[Case, ...]:
    """Every case, by its number."""
    return tuple(case_of(house, no) for no in house.sightings)


def case_of(house: House, no: CaseNo) -> Case:
    """One case as its facts tell it. Refusal("unknown_case") if there is none."""
    kept = house.sightings.get(no)
    if not kept:
        raise Refusal("unknown_case", case=no)
    sightings = tuple(row.fact for row in kept)
    placed = house.quarantines_by_case.get(no, ())
    quarantined = _each_once(fact.room for fact, lifted in placed if lifted is None)
    return Case(
        no=no,
        room=sightings[0].room,
        rooms=_each_once([*(s.room for s in sightings), *(fact.room for fact, _ in placed)]),
        opened_at=house.entry_of(kept[0]).recorded_at,
        sightings=sightings,
        evidence=min((weight_of(house, s) for s in sightings), key=list(Evidence).index),
        stage=stage_of(house, no),
        judged=judgement_of(house, no),
        answer_from=min(row.fact.seen_at for row in unjudged_sightings(house, no) or kept),
        asked=asked_states(house, no),
        quarantined=quarantined,
        treatments=treatments_of(house, no),
        photos=tuple(row.fact for row in house.kept_of_case(PhotoKept, no)),
        is_open=is_open(house, no),
    )


def stage_of(house: House, no: CaseNo) -> Stage:
    """Where a case stands."""
    judged = judgement_of(house, no)
    if judged is not None and judged.outcome is Outcome.NOT_BED_BUG:
        return Stage.RULED_OUT
    if was_released(house, no):
        is_confirmed = judged is not None and judged.outcome is Outcome.CONFIRMED
        return Stage.RELEASED if is_confirmed and not was_closed(house, no) else Stage.CLOSED
    if judged is None:
        return Stage.SUSPECTED
    if judged.outcome is Outcome.UNDETERMINED:
        return Stage.UNDETERMINED
    treated = treatments_of(house, no)
    if not treated or strong_sign_since(house, no, treated[-1].treated_on):
        return Stage.CONFIRMED
    if _looked_after(house, no, treated[-1].treated_on):
        return Stage.UNDER_FOLLOW_UP
    return Stage.IN_TREATMENT


def is_open(house: House, no: CaseNo) -> bool:
    """Whether anything is left to do: judge, look at a neighbour, give a room back, watch."""
    if any(lifted is None for _, lifted in house.quarantines_by_case.get(no, ())):
        return True
    stage = stage_of(house, no)
    if stage is Stage.CLOSED:
        return not was_closed(house, no) and any(state.is_open for state in asked_states(house, no))
    # Unless ruled out, a case whose quarantine somebody struck out still wants an answer.
    return stage is not Stage.RULED_OUT


def open_case_in(house: House, room: RoomNo) -> CaseNo | None:
    """The open case that a sighting in this room belongs to.

    That of the room itself; else that of another key of its suite, since a suite is
    let and treated as one; else that which asked for the room, whose ring grows from it.
    The earliest, if there are several.
    """
    for rooms in ({room}, set(suite_mates(house, room))):
        for no, sightings in house.sightings.items():
            if any(row.fact.room in rooms for row in sightings) and is_open(house, no):
                return no
    for no in house.sightings:
        asked = house.asked.get(no, ())
        if any(row.fact.room == room for row in asked) and is_open(house, no):
            return no
    return None


def next_case_no(house: House, today: date) -> CaseNo:
    """The next case's label; a number once given is never given again."""
    year = f"{today.year}-"
    # Those of corrected entries too: a sheet somewhere may bear the number.
    ever = [row.fact for kind in (Sighted, CaseEntryMoved) for row in house.kept.get(kind, ())]
    given = {fact.case for fact in ever if isinstance(fact, Sighted)}
    given |= {fact.into_case for fact in ever if isinstance(fact, CaseEntryMoved)}
    numbers = (no.removeprefix(year) for no in given if no.startswith(year))
    last = max((int(number) for number in numbers if number.isdecimal()), default=0)
    return CaseNo(f"{year}{last + 1:03d}")


# --- what a case is made of ---------------------------------------------------------------


def _looked_after(house: House, no: CaseNo, day: date) -> bool:
    rooms = {row.fact.room for row in house.sightings[no]}
    beds = [bed.bed for room in rooms for bed in house.beds_of(room)]
    return any(
        check.kind is CheckKind.CLEARANCE and check.checked_on > day
        for bed in beds
        for check in house.checks_of(bed)
    )


def _each_once(rooms: Iterable[RoomNo]) -> tuple[RoomNo, ...]:
    return tuple(dict.fromkeys(rooms))
