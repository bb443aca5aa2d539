"""What is missing before a room may be given back, whether a lifting is allowed, and when.

Conditions stand in core.cases.conditions. A room is given back on them, by a named
competent person where bed bugs were confirmed, or without them on a named person's stated
reason. No check proves that nothing is there; the figures say what was assumed.

Source: "cleared" means no new evidence found and verified: national pest management
association, best management practices for bed bugs (2011), 14.2, and 14.3: certainty is
not attainable. The numbers' standing is in resources/parameters.toml.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from hotelwatch.core.case_facts import QuarantineLifted
from hotelwatch.core.cases.conditions import conditions
from hotelwatch.core.checks.clean import days_between
from hotelwatch.core.checks.eggs import egg_dates
from hotelwatch.core.checks.follow_ups import ReleasePath, path_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.profile import Releaser
from hotelwatch.core.treatment_facts import TreatmentOrdered

ONE_DAY = timedelta(days=1)
JUDGEMENT = "judgement"
UNTREATED = frozenset({"treatment", "treatment_after_find"})
LOOKS = frozenset({"clean_checks", "full_check", "after_hatch"})


@dataclass(frozen=True, slots=True)
class Missing:
    """A condition that is not met, by code, with the values its sentence names.

    Codes and values: "judgement" (room); "treatment" (room); "treatment_after_find"
    (room, found_on); "reentry" (room, until: a moment); "clean_checks" (room, bed, have,
    need, next_from: a day; ``bed`` is empty for a room without beds); "full_check" (room,
    beds that lack it, next_from); "after_hatch" (room, beds, next_from, celsius);
    "eggs_not_known" (room, why: a code of EggsUnknown, celsius); "traps_read" (room,
    monitors: labels); "trap_readings" (room, have, need, next_from); "release_word"
    (room, whose).
    """

    code: str
    values: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ReleaseRange:
    """When a room may be let again; nobody promises any of these days.

    None where nobody can say: ``earliest`` before a judgement (it may turn out to be no
    bed bug), all three where the eggs' time is not known.
    """

    earliest: date | None
    """Were all that is left done as fast as the rules allow, from today, without a find."""
    expected: date | None
    """With the usual waits, which are assumptions, without a find; confirmed if not judged."""
    latest: date | None
    """With the usual waits and one more find at the end, treated and followed up anew."""
    because: str
    """What it waits for first: a code of a condition; "ready" if nothing is missing."""


def missing_for_release(
    house: House, case_no: CaseNo, room: RoomNo, *, now: datetime
) -> tuple[Missing, ...]:
    """What is missing before this case may give this room back; empty if nothing is.

    Finds count whenever they were made; checks and treatments of days to come do not.
    """
    return tuple(
        Missing(one.code, one.values)
        for one in conditions(house, case_no, room, now=now)
        if not one.is_met
    )


def if_treated_on(house: House, day: date) -> date:
    """The earliest day of release for a room treated on that day, were nothing found after."""
    return _followed_up(house, day, day, wait=0)


def check_lifting(house: House, lifted: QuarantineLifted, now: datetime) -> None:
    """Raise Refusal where a quarantine may not be lifted so.

    Codes: "not_in_quarantine", "lifting_to_come" (a moment ahead of now),
    "lifting_needs_name", "conditions_missing" (said to be met and are not),
    "lifting_needs_competence" (bed bugs were confirmed, and the person's is not named),
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
        if needs_competence(house, lifted.case, lifted.room) and not lifted.competence.strip():
            raise Refusal("lifting_needs_competence", **named)
    elif not lifted.reason.strip():
        raise Refusal("lifting_needs_reason", **named)


def needs_competence(house: House, case_no: CaseNo, room: RoomNo) -> bool:
    """Whether only a person whose competence is named may sign that the conditions are met.

    The choice "sign_off" says "named" where any named person may. Common practice, no
    source: where bed bugs were confirmed and the room was treated.
    """
    is_treated = path_of(house, case_no, room) is ReleasePath.TREATED
    return is_treated and house.choices.get("sign_off") != "named"


# --- when -----------------------------------------------------------------------------------


def release_range(house: House, case_no: CaseNo, room: RoomNo, now: datetime) -> ReleaseRange:
    """The earliest, the expected and the latest day of a room's release, from what is left."""
    today = local_day(now, house.zone)
    missing = missing_for_release(house, case_no, room, now=now)
    if not missing:
        return ReleaseRange(today, today, today, "ready")
    because = missing[0].code
    codes = {lack.code for lack in missing}
    if "eggs_not_known" in codes or (codes & {JUDGEMENT, *UNTREATED} and _eggs_unknown(house)):
        return ReleaseRange(None, None, None, "eggs_not_known")
    figures = house.rules.figures
    wait = int(figures.usual_look_wait_days.value)
    word = 0 if house.profile.release_by is Releaser.HOTEL else int(figures.usual_word_days.value)
    treated_on = _usual_treatment(house, case_no, today, is_judged=JUDGEMENT not in codes)
    if codes & {JUDGEMENT, *UNTREATED}:
        earliest = None if JUDGEMENT in codes else if_treated_on(house, today)
        expected = _followed_up(house, treated_on, treated_on, wait=wait) + word * ONE_DAY
    else:
        earliest = _from_missing(house, missing, today, wait=0)
        asks_word = "release_word" in codes
        expected = _from_missing(house, missing, today, wait=wait)
        expected += (word if asks_word else 0) * ONE_DAY
    again_on = expected + int(figures.usual_treatment_days.value) * ONE_DAY
    latest = _followed_up(house, again_on, again_on, wait=wait) + word * ONE_DAY
    if path_of(house, case_no, room) is ReleasePath.HELD:
        # A find in a room closed as a neighbour is to be judged first.
        latest += int(figures.usual_judgement_days.value) * ONE_DAY
    return ReleaseRange(earliest, expected, latest, because)


def _eggs_unknown(house: House) -> bool:
    return egg_dates(house, date.min).hatched_on is None


def _usual_treatment(house: House, case_no: CaseNo, today: date, *, is_judged: bool) -> date:
    """The day of an ordered visit that is still to come; else after the usual waits."""
    ahead = [
        day
        for row in house.kept_of_case(TreatmentOrdered, case_no)
        if (day := local_day(row.fact.for_at, house.zone)) >= today
    ]
    if ahead:
        return min(ahead)
    figures = house.rules.figures
    judged = 0 if is_judged else int(figures.usual_judgement_days.value)
    return today + timedelta(days=judged + int(figures.usual_treatment_days.value))


def _followed_up(house: House, treated_on: date, reenter_on: date, *, wait: int) -> date:
    """The day of the last clean check after a treatment, each so many days after it may count."""
    need = int(house.rules.figures.clean_checks_after_treatment.value)
    between = days_between(house) + wait * ONE_DAY
    first = max(treated_on + ONE_DAY, reenter_on) + wait * ONE_DAY
    hatched_on = egg_dates(house, treated_on).hatched_on or first
    return max(first + max(0, need - 1) * between, hatched_on + wait * ONE_DAY)


def _from_missing(house: House, missing: tuple[Missing, ...], today: date, *, wait: int) -> date:
    between = days_between(house) + wait * ONE_DAY
    day = today
    for lack in missing:
        if lack.code == "reentry":
            day = max(day, local_day(lack.values["until"], house.zone))
        if lack.code in LOOKS or lack.code == "trap_readings":
            first = max(today, lack.values["next_from"]) + wait * ONE_DAY
            left = lack.values.get("need", 1) - lack.values.get("have", 0)
            step = between if lack.code == "clean_checks" else timedelta(0)
            if lack.code == "trap_readings":
                step = timedelta(days=int(house.rules.figures.trap_days.value))
            day = max(day, first + (left - 1) * step)
    return day
