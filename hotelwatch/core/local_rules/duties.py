"""Whether duties with a deadline were done in time, each case and room by itself.

A duty counts in the month in which its time ends, so that months add up; one whose time
ended before and that was still open when the month began counts again, until it is done.
A case that was ruled out before its time ended owes nothing; ruled out later, it did.

Days count by ``core.clocks``: the day of the event is not counted, the last one ends at
23:59 of the hotel's clock. A treatment, a judgement and a look bear a day, not an hour: they
are in time on the day on which the time ends.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime

from hotelwatch.core.case_facts import CaseJudged, Outcome
from hotelwatch.core.cases.notices import (
    ANSWER_GUEST,
    TELL_AUTHORITY,
    first_given,
    started_at,
    told_by_guest,
)
from hotelwatch.core.checks.asked import SERVING, asked_states, judgement_of
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.clocks import due_at
from hotelwatch.core.days import local_day, moment_of
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.core.local_rules.rows import Item, ItemState, Period
from hotelwatch.core.profile import Clock, clock_of
from hotelwatch.core.rule_facts import RuleClause
from hotelwatch.core.treatment_facts import TreatmentRecorded

NOON = "12:00"
Done = date | datetime | None
Found = tuple[str, str, datetime, Done]
"""A case, a room, the event from which the time runs, and when it was done."""


def deadline_items(house: House, clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Each case's or room's duty by this clause whose time ended in the month, or was open."""
    clock = clock_of(clause)
    found = _FINDERS[clause.duty](house, clock)
    items = (_item(house, clause, one, period) for one in found)
    return tuple(item for item in items if item is not None)


def _item(house: House, clause: RuleClause, found: Found, period: Period) -> Item | None:
    case, room, since, done = found
    by_at = due_at(house, clock_of(clause), since)
    due_on = local_day(by_at, house.zone)
    done_on = local_day(done, house.zone) if isinstance(done, datetime) else done
    is_in_time = done <= by_at if isinstance(done, datetime) else _on_or_before(done, due_on)
    is_earlier = due_on < period.first_on
    if is_earlier and done_on is not None and done_on < period.first_on:
        return None
    if due_on > period.last_on and local_day(since, house.zone) > period.last_on:
        return None
    if not is_in_time and _ruled_out_by(house, case, due_on):
        return None
    if is_in_time:
        # Counted where its time ends; one that ends later is already safe, and not counted yet.
        state = ItemState.DONE if due_on <= period.last_on else None
    elif done is not None:
        state = ItemState.LATE
    else:
        state = ItemState.MISSING if by_at < period.end else ItemState.AHEAD
    if state is None:
        return None
    table = "asked" if clause.duty == "check_neighbours" else "clocks"
    return Item(clause.duty, case, room, state, since, by_at, done, table)


def _on_or_before(done: date | None, due_on: date) -> bool:
    return done is not None and done <= due_on


def _ruled_out_by(house: House, case: str, day: date) -> bool:
    judged = judgement_of(house, CaseNo(case))
    is_out = judged is not None and judged.outcome is Outcome.NOT_BED_BUG
    return is_out and judged is not None and judged.judged_on <= day


# --- duties, each with when its time began and when it was done ------------------------------


def _told(house: House, case: CaseNo, notice: str, since: datetime) -> datetime | None:
    given = first_given(house, case, notice, since)
    return given.given_at if given else None


def _authority(house: House, clock: Clock) -> Iterator[Found]:
    for case, rows in house.sightings.items():
        since = started_at(house, case, clock.starts)
        if since is not None:
            told = _told(house, case, TELL_AUTHORITY, since)
            yield case, rows[0].fact.room, since, told


def _answers(house: House, _clock: Clock) -> Iterator[Found]:
    """One for each room of a case, from what a guest first told of it."""
    for case, rows in house.sightings.items():
        first: dict[str, datetime] = {}
        for row in rows:
            if told_by_guest(row.fact):
                seen_at = row.fact.seen_at
                first[row.fact.room] = min(seen_at, first.get(row.fact.room, seen_at))
        for room, since in first.items():
            yield case, room, since, _told(house, case, ANSWER_GUEST, since)


def _treatments(house: House, clock: Clock) -> Iterator[Found]:
    for case, rows in house.sightings.items():
        since = started_at(house, case, clock.starts)
        if since is not None:
            treated = house.kept_of_case(TreatmentRecorded, case)
            day = min((row.fact.treated_on for row in treated), default=None)
            yield case, rows[0].fact.room, since, day


def _judgements(house: House, clock: Clock) -> Iterator[Found]:
    for case, rows in house.sightings.items():
        since = started_at(house, case, clock.starts)
        if since is not None:
            judged = house.kept_of_case(CaseJudged, case)
            day = min((row.fact.judged_on for row in judged), default=None)
            yield case, rows[0].fact.room, since, day


def _evaluations(house: House, _clock: Clock) -> Iterator[Found]:
    """Each treatment with the first look at a bed of its room after it."""
    for row in house.kept_of(TreatmentRecorded):
        treated = row.fact
        days = [
            check.checked_on
            for bed in house.beds_of(treated.room)
            for check in house.checks_of(bed.bed)
            if check.kind in SERVING
            and check.checked_on > treated.treated_on
            and underside_seen(house, check)
        ]
        since = moment_of(treated.treated_on, NOON, house.zone)
        yield treated.case, treated.room, since, min(days, default=None)


def _neighbours(house: House, clock: Clock) -> Iterator[Found]:
    """Each room that a case wants looked at, beside those with a sign."""
    for case, rows in house.sightings.items():
        since = started_at(house, case, clock.starts)
        with_sign = {row.fact.room for row in rows}
        for state in asked_states(house, case):
            if since is not None and state.is_wanted and state.asked.room not in with_sign:
                yield case, state.asked.room, since, state.done_on


_FINDERS: Mapping[str, Callable[[House, Clock], Iterator[Found]]] = {
    "tell_authority": _authority,
    "answer_guest": _answers,
    "treat": _treatments,
    "judge_specimen": _judgements,
    "evaluate_treatment": _evaluations,
    "check_neighbours": _neighbours,
}
DUTIES = tuple(_FINDERS)
"""Duties that a clause may set a time for."""
