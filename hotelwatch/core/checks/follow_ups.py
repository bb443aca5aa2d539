"""Looks that rooms want after a treatment, or to be given back at all, each with its days.

The planner asks for them and cases count them. Each has a first day, before which it
would not count, and a day by which it is to be made: the treatment's evaluation, the last
day before a new female could lay, the usual follow-up visits by method, then the pace at
which clean checks count.

Source: evaluated within two weeks where no local rule sets another time: StopPests in
Housing, Confirming bed bug elimination. Visits after 14, 28, 42 days (chemical) and 7,
14, 28 (heat): derived from egg hatch, an assumption; see resources/parameters.toml.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from hotelwatch.core.case_facts import Outcome, QuarantinePlaced, Sighted
from hotelwatch.core.checks.asked import SERVING, judgement_of
from hotelwatch.core.checks.clean import CleanCount, CleanWanted, clean_counts, days_between
from hotelwatch.core.checks.eggs import EggDates, egg_dates
from hotelwatch.core.checks.signs import (
    as_one,
    finds,
    is_alert_alone,
    strong_sign_since,
    treatments_of,
    weight_of,
)
from hotelwatch.core.clocks import clock_for, due_on
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedNo, CaseNo, CheckKind, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.treatment_facts import TreatmentRecorded

ONE_DAY = timedelta(days=1)
HEAT = "heat"
RING_HELD = "ring_held"
CLEARANCE_ONLY = frozenset({CheckKind.CLEARANCE})
DEEP_TOO = "deep_too"
"""The choice for "clean_kinds" by which deep and asked checks count after a treatment too."""


class DueBy(StrEnum):
    """What fixes the day by which a look is to be made."""

    EVALUATION = "evaluation"
    """The treatment is evaluated by then."""
    EGGS = "eggs"
    """After it a new female could lay."""
    VISIT = "visit"
    """A usual follow-up visit."""
    COUNT = "count"
    """A further clean check counts by then."""
    WATCH = "watch"
    """After it the room under watch would no longer be covered."""


class ReleasePath(StrEnum):
    """Which conditions a quarantined room has to meet."""

    JUDGEMENT = "judgement"
    """None can be named before a competent person has judged."""
    NOTHING = "nothing"
    """It was no bed bug."""
    LOOKS = "looks"
    """Clean checks: undetermined, or weak signs alone; a dog's alert in a confirmed case."""
    HELD = "held"
    """Closed only as a neighbour, with no sign of its own."""
    TREATED = "treated"
    """Confirmed: treatment, then clean checks."""


@dataclass(frozen=True, slots=True)
class FollowUp:
    """A look that a room wants because of a case."""

    case: CaseNo
    room: RoomNo
    beds: tuple[BedNo, ...]
    """Beds that still want one; empty for a room without beds."""
    kind: CheckKind
    from_on: date
    """Made before, it would not count."""
    by_on: date
    """The last day that is not late."""
    because: DueBy
    is_full: bool = False
    """Whether every place is to be looked at, dust cover and corner caps among them."""


def quarantine_follow_ups(house: House, today: date) -> tuple[FollowUp, ...]:
    """Looks that quarantined rooms want next, the earliest deadline first."""
    found: dict[tuple[CaseNo, RoomNo], FollowUp] = {}
    for placed, lifted in house.quarantines:
        if lifted is not None or placed.case not in house.sightings:
            continue
        look = follow_up(house, placed.case, placed.room, today)
        if look is not None:
            found.setdefault((placed.case, placed.room), look)
    return tuple(sorted(found.values(), key=lambda look: (look.by_on, look.case, look.room)))


def follow_up(house: House, case: CaseNo, room: RoomNo, today: date) -> FollowUp | None:
    """The look that a quarantined room wants next; None if it wants none, or not yet."""
    wanted, path = clean_wanted(house, case, room, today), path_of(house, case, room)
    if wanted is None:
        return None
    left = [count for count in clean_counts(house, room, wanted) if not count.is_met]
    if not left:
        return None
    from_on = min(count.next_from for count in left)
    by_on, because = _by(house, case, room, left=left)
    return FollowUp(
        case=case,
        room=room,
        beds=tuple(BedNo(count.bed) for count in left if count.bed),
        kind=CheckKind.CLEARANCE if path is ReleasePath.TREATED else CheckKind.ASKED,
        from_on=from_on,
        by_on=max(by_on, from_on),
        because=because,
        is_full=any(count.full < count.need_full for count in left),
    )


# --- which conditions ---------------------------------------------------------------------


def path_of(house: House, case: CaseNo, room: RoomNo) -> ReleasePath:
    """Which conditions count for a room of a case."""
    judged = judgement_of(house, case)
    if judged is not None and judged.outcome is Outcome.NOT_BED_BUG:
        return ReleasePath.NOTHING
    if _only_held(house, case, room):
        return ReleasePath.HELD
    if judged is None:
        return ReleasePath.LOOKS if only_weak_signs(house, case) else ReleasePath.JUDGEMENT
    if judged.outcome is Outcome.UNDETERMINED or is_alert_alone(house, case, room):
        return ReleasePath.LOOKS
    return ReleasePath.TREATED


def only_weak_signs(house: House, case: CaseNo) -> bool:
    """Whether a case has nothing but signs that leave nothing to judge."""
    sightings = house.kept_of_case(Sighted, case)
    responses = house.rules.responses
    return bool(sightings) and not any(
        responses[weight_of(house, row.fact)].wants_judgement for row in sightings
    )


def _only_held(house: House, case: CaseNo, room: RoomNo) -> bool:
    """Whether a room was closed as a neighbour alone, and nothing was found in it since."""
    placed = [p for p, _ in house.quarantines_by_case.get(case, ()) if p.room == room]
    if not placed or any(p.reason != RING_HELD for p in placed):
        return False
    held_on = _held_on(house, placed)
    return not any(find.day >= held_on for find in finds(house, room))


def _held_on(house: House, placed: list[QuarantinePlaced]) -> date:
    return min((local_day(one.from_at, house.zone) for one in placed), default=date.min)


def clean_wanted(house: House, case: CaseNo, room: RoomNo, today: date) -> CleanWanted | None:
    """Which clean checks a room wants before it is given back; None if none can count yet."""
    figures = house.rules.figures
    path = path_of(house, case, room)
    if path is ReleasePath.LOOKS:
        signs = [row.fact for row in house.kept_of_case(Sighted, case)]
        first = min((local_day(s.seen_at, house.zone) for s in signs), default=date.min)
        return CleanWanted(SERVING, int(figures.clean_checks_undetermined.value), first, today)
    if path is ReleasePath.HELD:
        placed = [p for p, _ in house.quarantines_by_case.get(case, ()) if p.room == room]
        need = int(figures.clean_checks_held.value)
        return CleanWanted(SERVING, need, _held_on(house, placed), today)
    done = treatments_done(house, case, room, today)
    if (
        path is not ReleasePath.TREATED
        or not done
        or found_since(house, case, room, done[-1].treated_on)
    ):
        return None
    return CleanWanted(
        kinds=SERVING if house.choices.get("clean_kinds") == DEEP_TOO else CLEARANCE_ONLY,
        need=int(figures.clean_checks_after_treatment.value),
        first=first_clearance_on(house, done),
        last=today,
        need_full=int(figures.full_checks_after_treatment.value),
        hatched_on=eggs_after(house, done).hatched_on,
    )


def treatments_done(
    house: House, case: CaseNo, room: RoomNo, today: date
) -> tuple[TreatmentRecorded, ...]:
    """Treatments of a room up to a day, by day."""
    return tuple(t for t in treatments_of(house, case, room) if t.treated_on <= today)


def found_since(house: House, case: CaseNo, room: RoomNo, day: date) -> date | None:
    """The last day after a treatment on which a strong sign was seen, which wants another."""
    return strong_sign_since(house, case, day, rooms=as_one(house, room))


def first_clearance_on(house: House, done: tuple[TreatmentRecorded, ...]) -> date:
    """The day after the last treatment, or the day of re-entry if that is later."""
    reenter_on = max(local_day(treated.reenter_at, house.zone) for treated in done)
    return max(done[-1].treated_on + ONE_DAY, reenter_on)


def eggs_after(house: House, done: tuple[TreatmentRecorded, ...]) -> EggDates:
    """When eggs hatch that the last treatment may have spared."""
    return egg_dates(house, done[-1].treated_on)


# --- by when ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class VisitDay:
    """A usual follow-up visit after a treatment."""

    on: date
    is_before_hatch: bool
    """Too early to tell of the slowest eggs."""


def visit_days(house: House, treated: TreatmentRecorded) -> tuple[VisitDay, ...]:
    """The usual follow-up visits by method; one more where all would miss the eggs.

    A method with the word "heat" has its own days; every other one counts as chemical.
    """
    eggs = egg_dates(house, treated.treated_on)
    days = {treated.treated_on + timedelta(days=number) for number in _usual_days(house, treated)}
    hatched_on, lays_from = eggs.hatched_on, eggs.lays_from
    if hatched_on is not None and lays_from is not None:
        in_time = [day for day in days if hatched_on <= day <= lays_from]
        days |= set() if in_time else {hatched_on}
    return tuple(VisitDay(day, hatched_on is not None and day < hatched_on) for day in sorted(days))


def _usual_days(house: House, treated: TreatmentRecorded) -> tuple[int, ...]:
    figures = house.rules.figures
    if HEAT in treated.method.lower().split():
        usual = figures.heat_first_days, figures.heat_second_days, figures.heat_third_days
    else:
        usual = (
            figures.chemical_first_days,
            figures.chemical_second_days,
            figures.chemical_third_days,
        )
    return tuple(int(figure.value) for figure in usual)


def evaluate_on(house: House, treated: TreatmentRecorded) -> date | None:
    """The day by which a treatment is evaluated, by local rules or house; None: no day."""
    clock = clock_for(house, "evaluate_treatment")
    return due_on(house, clock, treated.treated_on) if clock else None


def _by(house: House, case: CaseNo, room: RoomNo, *, left: list[CleanCount]) -> tuple[date, DueBy]:
    """The earliest of the days that still call for a look; else the pace at which they count."""
    done = treatments_of(house, case, room)
    days: list[tuple[date, DueBy]] = []
    if path_of(house, case, room) is ReleasePath.TREATED and done:
        days += _after_treatment(house, done[-1], left)
    from_on = min(count.next_from for count in left)
    return min(days, default=(from_on + days_between(house), DueBy.COUNT))


def _after_treatment(
    house: House, treated: TreatmentRecorded, left: list[CleanCount]
) -> Iterator[tuple[date, DueBy]]:
    looked_on = min((count.last_on or date.min for count in left), default=date.min)
    evaluate = evaluate_on(house, treated)
    if evaluate is not None and looked_on <= treated.treated_on:
        yield evaluate, DueBy.EVALUATION
    lays_from = egg_dates(house, treated.treated_on).lays_from
    if lays_from is not None and any(not count.is_after_hatch for count in left):
        yield lays_from, DueBy.EGGS
    for visit in visit_days(house, treated):
        if looked_on < visit.on:
            yield visit.on, DueBy.VISIT
            return
