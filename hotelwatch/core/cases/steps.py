"""What is to be done next in a case, each step by code with its values and its moment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

from hotelwatch.core.cases.case import AskedState, Case, Stage
from hotelwatch.core.cases.notices import owed_notices, started_at
from hotelwatch.core.cases.release import LOOKS, Missing, missing_for_release
from hotelwatch.core.cases.treatment import orders_to_come
from hotelwatch.core.checks.follow_ups import follow_up
from hotelwatch.core.checks.monitors import unread_since
from hotelwatch.core.checks.watching import looks_under_watch, watch_of
from hotelwatch.core.clocks import clock_for, due_at
from hotelwatch.core.days import add_hours, local_day, moment_of
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.treatment_facts import CareDone, CareStep

NOTHING_OPEN = "nothing_open"
DAY_STARTS = "00:00"
DAY_ENDS = "23:59"
CARE = (CareStep.LUGGAGE, CareStep.LINEN, CareStep.CART)
"""What is taken care of in every room with a sign of weight."""


@dataclass(frozen=True, slots=True)
class Step:
    """Something to do in a case.

    Codes and values: "check_room" (room) and "check_neighbours" (rooms, count, late);
    "judge_specimen" (room, evidence); "record_treatment" (rooms, found_on: a day or
    None); "await_treatment" (rooms, firm, at: a moment); "answer_guest" (room); "move_guest"
    (room, day, came_at: a moment, where the guest came after the room was closed) and
    "other_room" (room, day), which need the bookings and come from ``desk_duties``;
    "tell_authority" (room, to); "take_care" (room, left: codes of CareStep);
    "wait_for_reentry" (room, until: a moment); "clean_checks" (before a
    judgement or undetermined), "clearance_checks" (after treatment), both with
    room, bed, have, need, next_from; "full_check" and "after_hatch" (room, beds, next_from);
    "measure_room" (room, celsius, why); "read_monitors" (room, monitors); "count_reading"
    (room, have, need, next_from); "ask_release_word" (room, whose); under watch "watch_look"
    (room, covered_until), "keep_watch" (rooms, counted, need), "close_case" (rooms);
    "lift_quarantine" (rooms); "nothing_open".
    """

    code: str
    values: dict[str, Any] = field(default_factory=dict)
    due_at: datetime | None = None
    """By when; None where no deadline is set."""
    not_before: datetime | None = None
    """Before which it can't be done; None where it can be done now."""

    def is_late(self, now: datetime) -> bool:
        """Whether its deadline has passed."""
        return self.due_at is not None and now > self.due_at


def next_steps(house: House, case: Case, *, now: datetime) -> tuple[Step, ...]:
    """What is to be done in a case, the most pressing first; never empty."""
    steps = [
        *_looks_asked(case, now),
        *_notices(house, case),
        *_judgement(house, case),
        *_towards_release(house, case, now),
        *_watch(house, case, now),
        *_care(house, case),
    ]
    steps.sort(key=lambda step: (step.due_at is None, step.due_at or now))
    return tuple(steps) or (Step(NOTHING_OPEN),)


def next_step(house: House, case: Case, *, now: datetime) -> Step:
    """The most pressing step of a case."""
    return next_steps(house, case, now=now)[0]


def _looks_asked(case: Case, now: datetime) -> Iterator[Step]:
    own = [state for state in case.asked if state.is_open and state.asked.room in case.rooms]
    others = [state for state in case.asked if state.is_open and state.asked.room not in case.rooms]
    for state in own:
        yield Step("check_room", {"room": state.asked.room}, state.asked.by_at)
    if others:
        yield Step(
            "check_neighbours",
            {
                "rooms": _rooms_by_deadline(others),
                "count": len({state.asked.room for state in others}),
                "late": sum(state.is_late(now) for state in others),
            },
            min(state.asked.by_at for state in others),
        )


def _rooms_by_deadline(states: list[AskedState]) -> tuple[RoomNo, ...]:
    ordered = sorted(states, key=lambda state: state.asked.by_at)
    return tuple(dict.fromkeys(state.asked.room for state in ordered))


def _notices(house: House, case: Case) -> Iterator[Step]:
    for owed in owed_notices(house, case.no):
        values = {"room": owed.room, "to": owed.to} if owed.to else {"room": owed.room}
        yield Step(owed.notice, values, owed.due_at)


def _care(house: House, case: Case) -> Iterator[Step]:
    """Luggage, linen and cart of each room with a sign, until somebody wrote down what was done."""
    if case.evidence is Evidence.WEAK or case.stage not in (Stage.SUSPECTED, Stage.CONFIRMED):
        return
    done = {(row.fact.room, row.fact.step) for row in house.kept_of_case(CareDone, case.no)}
    for room in dict.fromkeys(sighted.room for sighted in case.sightings):
        left = tuple(step for step in CARE if (room, step) not in done)
        if left:
            yield Step("take_care", {"room": room, "left": left})


def _judgement(house: House, case: Case) -> Iterator[Step]:
    """Signs of weight wait for a competent person; a weak one leaves nothing to identify."""
    wants = house.rules.responses[case.evidence].wants_judgement
    if case.stage is Stage.SUSPECTED and wants:
        due_at = add_hours(case.answer_from, house.rules.figures.specimen_hours.value)
        yield Step("judge_specimen", {"room": case.room, "evidence": case.evidence}, due_at)


def _towards_release(house: House, case: Case, now: datetime) -> Iterator[Step]:
    missing = {
        room: missing_for_release(house, case.no, room, now=now) for room in case.quarantined
    }
    lacks = [lack for of_room in missing.values() for lack in of_room]
    untreated = [lack for lack in lacks if lack.code in ("treatment", "treatment_after_find")]
    if untreated:
        found_on = max(
            (lack.values["found_on"] for lack in untreated if "found_on" in lack.values),
            default=None,
        )
        rooms = tuple(lack.values["room"] for lack in untreated)
        yield _treatment(house, case, rooms, found_on)
    to_treat = {lack.values["room"] for lack in untreated}
    for room, of_room in missing.items():
        if room not in to_treat:
            yield from _waiting(house, case, of_room, now=now)
    ready = tuple(room for room, of_room in missing.items() if not of_room)
    if ready:
        yield Step("lift_quarantine", {"rooms": ready})


def _watch(house: House, case: Case, now: datetime) -> Iterator[Step]:
    """What keeps released rooms covered, until the watch is over and somebody closes the case."""
    if case.stage is not Stage.RELEASED:
        return
    today = local_day(now, house.zone)
    watch = watch_of(house, case.no, today)
    if watch.is_over:
        yield Step("close_case", {"rooms": watch.rooms})
        return
    for look in looks_under_watch(house, case.no, today):
        by_at = moment_of(look.by_on, DAY_ENDS, house.zone)
        from_at = moment_of(look.from_on, DAY_STARTS, house.zone)
        values = {"room": look.room, "covered_until": look.by_on}
        yield Step("watch_look", values, by_at, not_before=from_at)
    for room in watch.rooms:
        if unread := unread_since(house, room, today):
            labels = tuple(trap.monitor for trap in unread)
            yield Step("read_monitors", {"room": room, "monitors": labels})
    ends_at = moment_of(watch.ends_on, DAY_STARTS, house.zone)
    values = {"rooms": watch.rooms, "counted": watch.counted, "need": watch.need}
    yield Step("keep_watch", values, not_before=ends_at)


def _treatment(house: House, case: Case, rooms: tuple[RoomNo, ...], found_on: date | None) -> Step:
    """Order a treatment, by the clock of local rules or house; or await the one ordered."""
    orders = orders_to_come(house, case)
    if orders:
        values = {"rooms": rooms, "firm": orders[-1].firm, "at": orders[-1].for_at}
        by_at = add_hours(orders[-1].for_at, house.rules.figures.visit_written_hours.value)
        return Step("await_treatment", values, by_at, not_before=orders[-1].for_at)
    clock = clock_for(house, "treat")
    start = started_at(house, case.no, clock.starts) if clock and not case.treatments else None
    by_at_or_none = due_at(house, clock, start) if clock and start else None
    return Step("record_treatment", {"rooms": rooms, "found_on": found_on}, by_at_or_none)


def _waiting(
    house: House, case: Case, lacks: tuple[Missing, ...], *, now: datetime
) -> Iterator[Step]:
    """What a room waits for beside a treatment; one step for each bed that wants a look."""
    counts = {lack.values["bed"] for lack in lacks if lack.code == "clean_checks"}
    may_enter = all(lack.code != "reentry" for lack in lacks)
    for lack in lacks:
        if lack.code == "reentry":
            yield Step("wait_for_reentry", dict(lack.values), not_before=lack.values["until"])
        elif lack.code == "clean_checks":
            step = _look(house, case, lack, now)
            yield step if may_enter else replace(step, due_at=None)
        elif lack.code in LOOKS and not counts:
            # While clean checks are counted, one of them is made a full one, or late enough.
            yield _look(house, case, lack, now)
        elif lack.code == "eggs_not_known":
            yield Step("measure_room", dict(lack.values))
        elif lack.code == "traps_read":
            yield Step("read_monitors", dict(lack.values))
        elif lack.code == "trap_readings":
            from_at = moment_of(lack.values["next_from"], DAY_STARTS, house.zone)
            yield Step("count_reading", dict(lack.values), not_before=from_at)
        elif lack.code == "release_word" and len(lacks) == 1:
            yield Step("ask_release_word", dict(lack.values))


def _look(house: House, case: Case, lack: Missing, now: datetime) -> Step:
    """A look at a bed, by the day that the eggs, the evaluation or the usual visits set."""
    code = lack.code
    if code == "clean_checks" and case.treatments:
        code = "clearance_checks"
    today = local_day(now, house.zone)
    wanted = follow_up(house, case.no, lack.values["room"], today)
    by_at = moment_of(wanted.by_on, DAY_ENDS, house.zone) if wanted else None
    from_at = moment_of(lack.values["next_from"], DAY_STARTS, house.zone)
    return Step(code, dict(lack.values), by_at, not_before=from_at)
