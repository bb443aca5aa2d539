"""What is missing before a room may be given back, and whether a lifting is allowed.

Conditions by the judgement that stands:

- not a bed bug: none;
- confirmed: treated (again, after a live insect or eggs), the firm's time of re-entry
  past, and for each bed enough clean clearance checks with the underside seen;
- undetermined, or nothing but weak signs and no judgement: enough clean checks of each
  bed with the underside seen, since there is nothing to identify;
- anything else: a judgement.

A find sets the count back to nought: for the room and the other keys of its suite.
Checks closer together than figures.days_between_clean_checks count once. No check
proves that nothing is there; the figures say what was assumed.

Source: "cleared" means no new evidence found and verified: national pest management
association, best management practices for bed bugs (2011), 14.2, and 14.3: certainty is
not attainable. The numbers' standing is in resources/parameters.toml.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from hotelwatch.core.case_facts import Outcome, QuarantineLifted, Sighted
from hotelwatch.core.cases.case import (
    strong_sign_since,
    suite_mates,
    treatments_of,
    weight_of,
)
from hotelwatch.core.cases.held import is_held, look_left
from hotelwatch.core.checks.asked import SERVING, is_ruled_out, judgement_of
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import (
    BedChecked,
    BedNo,
    CaseNo,
    CheckKind,
    RoomChecked,
    RoomNo,
)
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Kept
from hotelwatch.core.treatment_facts import TreatmentRecorded

ONE_DAY = timedelta(days=1)
CLEARANCE_ONLY = frozenset({CheckKind.CLEARANCE})


@dataclass(frozen=True, slots=True)
class Missing:
    """A condition that is not met, by code, with the values its sentence names.

    Codes and values: "look_around" (room; of one closed only because it lies around a
    sign); "judgement" (room); "treatment" (room); "treatment_after_find"
    (room, found_on); "reentry" (room, until: a moment); "clean_checks" (room, bed,
    have, need, next_from: a day; ``bed`` is empty for a room without beds).
    """

    code: str
    values: dict[str, Any] = field(default_factory=dict)


def missing_for_release(
    house: House, case_no: CaseNo, room: RoomNo, *, now: datetime
) -> tuple[Missing, ...]:
    """What is missing before this case may give this room back; empty if nothing is.

    Finds count whenever they were made; checks and treatments of days to come do not.
    """
    judged = judgement_of(house, case_no)
    if is_held(house, case_no, room) and not is_ruled_out(house, case_no):
        left = look_left(house, case_no, room)
        return (Missing("look_around", {"room": room}),) if left else ()
    if judged is None:
        if not _only_weak_signs(house, case_no):
            return (Missing("judgement", {"room": room}),)
        return tuple(_missing_looks(house, case_no, room, now))
    if judged.outcome is Outcome.NOT_BED_BUG:
        return ()
    if judged.outcome is Outcome.UNDETERMINED:
        return tuple(_missing_looks(house, case_no, room, now))
    return tuple(_missing_after_confirming(house, case_no, room, now))


def earliest_release(house: House, case_no: CaseNo, room: RoomNo, *, now: datetime) -> date | None:
    """The earliest day on which the conditions can be met if all goes well from today.

    None while a judgement is missing: nobody can say. Nobody promises this day.
    """
    today = local_day(now, house.zone)
    missing = missing_for_release(house, case_no, room, now=now)
    codes = {lack.code for lack in missing}
    if "judgement" in codes:
        return None
    if codes & {"treatment", "treatment_after_find"}:
        return if_treated_on(house, today)
    between = _days_between(house)
    day = today
    for lack in missing:
        if lack.code == "reentry":
            day = max(day, local_day(lack.values["until"], house.zone))
        if lack.code == "clean_checks":
            left = lack.values["need"] - lack.values["have"]
            first = max(today, lack.values["next_from"])
            day = max(day, first + (left - 1) * between)
    return day


def if_treated_on(house: House, day: date) -> date:
    """The earliest day of release for a room treated on that day, were nothing found after."""
    need = int(house.rules.figures.clean_checks_after_treatment.value)
    return day + ONE_DAY + (need - 1) * _days_between(house)


def check_lifting(house: House, lifted: QuarantineLifted, now: datetime) -> None:
    """Raise Refusal where a quarantine may not be lifted so.

    Codes: "not_in_quarantine", "lifting_to_come" (a moment ahead of now),
    "lifting_needs_name", "conditions_missing" (said to be met and are not),
    "lifting_needs_reason" (not said to be met, and no reason given).
    """
    in_force = [
        placed
        for placed, ending in house.quarantines_by_case.get(lifted.case, ())
        if placed.room == lifted.room and ending is None and placed.from_at <= lifted.lifted_at
    ]
    named = {"room": str(lifted.room), "case": str(lifted.case)}
    if not in_force:
        raise Refusal("not_in_quarantine", **named)
    if lifted.lifted_at > now:
        raise Refusal("lifting_to_come", **named)
    if not lifted.by.strip():
        raise Refusal("lifting_needs_name", **named)
    if lifted.conditions_met:
        missing = missing_for_release(house, lifted.case, lifted.room, now=lifted.lifted_at)
        if missing:
            raise Refusal("conditions_missing", **named, count=str(len(missing)))
    elif not lifted.reason.strip():
        raise Refusal("lifting_needs_reason", **named)


# --- conditions ---------------------------------------------------------------------------


def _only_weak_signs(house: House, case_no: CaseNo) -> bool:
    sightings = house.kept_of_case(Sighted, case_no)
    return bool(sightings) and all(weight_of(house, row.fact) is Evidence.WEAK for row in sightings)


def _missing_after_confirming(
    house: House, case_no: CaseNo, room: RoomNo, now: datetime
) -> Iterator[Missing]:
    today = local_day(now, house.zone)
    done = [t for t in treatments_of(house, case_no, room) if t.treated_on <= today]
    if not done:
        yield Missing("treatment", {"room": room})
        return
    found_on = strong_sign_since(house, case_no, done[-1].treated_on, rooms=_as_one(house, room))
    if found_on is not None:
        yield Missing("treatment_after_find", {"room": room, "found_on": found_on})
    reenter_at = max(treated.reenter_at for treated in done)
    if now < reenter_at:
        yield Missing("reentry", {"room": room, "until": reenter_at})
    need = int(house.rules.figures.clean_checks_after_treatment.value)
    first = _first_clearance_day(house, done)
    yield from _missing_clean(house, room, _Wanted(CLEARANCE_ONLY, need, first, today))


def _first_clearance_day(house: House, done: list[TreatmentRecorded]) -> date:
    """The day after the last treatment, or the day of re-entry if that is later."""
    reenter_on = max(local_day(treated.reenter_at, house.zone) for treated in done)
    return max(done[-1].treated_on + ONE_DAY, reenter_on)


def _missing_looks(house: House, case_no: CaseNo, room: RoomNo, now: datetime) -> Iterator[Missing]:
    need = int(house.rules.figures.clean_checks_undetermined.value)
    signs = [row.fact for row in house.kept_of_case(Sighted, case_no)]
    first = min((local_day(s.seen_at, house.zone) for s in signs), default=date.min)
    today = local_day(now, house.zone)
    yield from _missing_clean(house, room, _Wanted(SERVING, need, first, today))


# --- clean checks -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Wanted:
    """Which clean checks are wanted: kinds, how many, on days from first to last."""

    kinds: frozenset[CheckKind]
    need: int
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class _Find:
    """A find sets the count back; after a weak sign a check of the same day can count."""

    day: date
    entry: int
    is_weak: bool

    @property
    def counts_from(self) -> date:
        """The first day on which a clean check can count after it."""
        return self.day if self.is_weak else self.day + ONE_DAY

    def is_before(self, check: Kept[BedChecked] | Kept[RoomChecked]) -> bool:
        """Whether a check can count after this find: on its day only if written down later."""
        day = check.fact.checked_on
        return day >= self.counts_from and (day > self.day or check.entry > self.entry)


def _missing_clean(house: House, room: RoomNo, wanted: _Wanted) -> Iterator[Missing]:
    finds = tuple(_finds(house, room))
    beds = house.beds_of(room)
    between = _days_between(house)
    for bed in [bed.bed for bed in beds] or [BedNo("")]:
        days = [
            check.fact.checked_on
            for check in _clean_looks(house, room, bed)
            if check.fact.kind in wanted.kinds
            and wanted.first <= check.fact.checked_on <= wanted.last
            and all(find.is_before(check) for find in finds)
        ]
        counted = _spaced(sorted(days), between)
        if len(counted) >= wanted.need:
            continue
        from_on = max([wanted.first, *(find.counts_from for find in finds)])
        next_from = counted[-1] + between if counted else from_on
        yield Missing(
            "clean_checks",
            {
                "room": room,
                "bed": bed,
                "have": len(counted),
                "need": wanted.need,
                "next_from": next_from,
            },
        )


def _clean_looks(
    house: House, room: RoomNo, bed: BedNo
) -> Iterator[Kept[BedChecked] | Kept[RoomChecked]]:
    """Checks of a bed with its underside seen, or of a room without beds; without a find."""
    if bed:
        for check in house.checks_by_bed.get(bed, ()):
            is_here = check.fact.room == room and not check.fact.found
            if is_here and underside_seen(house, check.fact):
                yield check
        return
    for look in house.kept_of(RoomChecked):
        if look.fact.room == room and not look.fact.found:
            yield look


def _finds(house: House, room: RoomNo) -> Iterator[_Find]:
    """Signs in a room and its suite: sighted or found by a check, of cases not ruled out."""
    rooms = _as_one(house, room)
    for case_no, sightings in house.sightings.items():
        here = [row for row in sightings if row.fact.room in rooms]
        if here and not is_ruled_out(house, case_no):
            for row in here:
                day = local_day(row.fact.seen_at, house.zone)
                is_weak = weight_of(house, row.fact) is Evidence.WEAK
                yield _Find(day, row.entry, is_weak=is_weak)
    beds = (bed.bed for mate in sorted(rooms) for bed in house.beds_of(mate))
    for bed in beds:
        for check in house.checks_by_bed.get(bed, ()):
            if check.fact.found and check.fact.room in rooms:
                yield _Find(check.fact.checked_on, check.entry, is_weak=False)
    for look in house.kept_of(RoomChecked):
        if look.fact.found and look.fact.room in rooms:
            yield _Find(look.fact.checked_on, look.entry, is_weak=False)


def _spaced(days: list[date], between: timedelta) -> list[date]:
    """As many of these days as count, the earliest first."""
    counted: list[date] = []
    for day in days:
        if not counted or day - counted[-1] >= between:
            counted.append(day)
    return counted


def _days_between(house: House) -> timedelta:
    return timedelta(days=int(house.rules.figures.days_between_clean_checks.value))


def _as_one(house: House, room: RoomNo) -> frozenset[RoomNo]:
    return frozenset({room, *suite_mates(house, room)})
