"""Whether rooms were closed at once, not let, given back on the right word, looked at anew.

A block counts by core.stays.nights, as everywhere; a look bears a day and no hour, so one
before a guest comes counts on the day of arrival or on the days that its hours reach back.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, timedelta

from hotelwatch.core.case_facts import NoticeGiven, Outcome, QuarantineLifted, Sighted
from hotelwatch.core.cases.conditions import RELEASE_WORD
from hotelwatch.core.cases.lets import lets_against_blocks
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo, StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.local_rules.rows import Item, ItemState, Period
from hotelwatch.core.profile import Releaser
from hotelwatch.core.records import Kept, Stay
from hotelwatch.core.rule_facts import RuleClause
from hotelwatch.core.treatment_facts import TreatmentRecorded

CONFIRMED = "confirmed"
HOURS_A_DAY = 24


def close_items(house: House, clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Each room with a sign in the month: closed on its day; each let against a block."""
    return (*_closings(house, clause, period), *_lets(house, period))


def release_items(house: House, clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Each room given back in the month: whether the word that the clause wants was there."""
    whose = Releaser(clause.releaser)
    return tuple(
        _release(house, row.fact, whose)
        for row in house.kept_of(QuarantineLifted)
        if _in(period, local_day(row.fact.lifted_at, house.zone))
        and _had_sign(house, row.fact)
        and (clause.holds_for != CONFIRMED or _is_confirmed(house, row.fact.case))
    )


def eliminate_items(house: House, _clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Each room with a confirmed case: given back in the month on its conditions, or still held.

    No look proves that nothing is there: the conditions are what the hotel asks before it
    gives a room back.
    """
    return tuple(_eliminations(house, period))


def vacant_items(house: House, clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Each guest's arrival in the month after a room stood empty: looked at before."""
    return tuple(_arrivals(house, clause, period))


# --- closed -----------------------------------------------------------------------------------


def _closings(house: House, clause: RuleClause, period: Period) -> Iterator[Item]:
    first: dict[tuple[CaseNo, RoomNo], Kept[Sighted]] = {}
    for row in house.kept_of(Sighted):
        if clause.signs and row.fact.sign not in clause.signs:
            continue
        if clause.holds_for == CONFIRMED and not _is_confirmed(house, row.fact.case):
            continue
        key = (row.fact.case, row.fact.room)
        if key not in first or row.fact.seen_at < first[key].fact.seen_at:
            first[key] = row
    for (case, room), row in first.items():
        if _in(period, local_day(row.fact.seen_at, house.zone)):
            yield _closing(house, case, room, row.fact.seen_at)


def _closing(house: House, case: CaseNo, room: RoomNo, seen_at: datetime) -> Item:
    """Closed for any case on the day of the sign counts: the room is closed all the same."""
    placed = [
        (fact.from_at, lifted.lifted_at if lifted else None)
        for fact, lifted in house.quarantines
        if fact.room == room
    ]
    held = [start for start, end in placed if end is None or end > seen_at]
    closed_at = min(held, default=None)
    day = local_day(seen_at, house.zone)
    if closed_at is None:
        state = ItemState.MISSING
    elif local_day(closed_at, house.zone) <= day:
        state = ItemState.DONE
    else:
        state = ItemState.LATE
    return Item("closed", case, room, state, seen_at, day, closed_at, "quarantines")


def _lets(house: House, period: Period) -> Iterator[Item]:
    for let in lets_against_blocks(house, period.end):
        if _in(period, let.first_night):
            yield Item(
                what="not_let",
                case="",
                room=let.room,
                state=ItemState.MISSING,
                since=let.from_at,
                done=let.first_night,
                table="lets",
            )


def _eliminations(house: House, period: Period) -> Iterator[Item]:
    for placed, lifted in house.quarantines:
        is_with_sign = any(
            row.fact.room == placed.room for row in house.kept_of_case(Sighted, placed.case)
        )
        if not is_with_sign or not _is_confirmed(house, placed.case):
            continue
        if lifted is None:
            state, done = ItemState.AHEAD, None
        elif _in(period, local_day(lifted.lifted_at, house.zone)):
            state = ItemState.DONE if lifted.conditions_met else ItemState.MISSING
            done = lifted.lifted_at
        else:
            continue
        since = placed.from_at
        yield Item(
            "eliminated",
            placed.case,
            placed.room,
            state,
            since,
            done=done,
            table="quarantines",
        )


# --- given back -------------------------------------------------------------------------------


def _had_sign(house: House, lifted: QuarantineLifted) -> bool:
    return any(row.fact.room == lifted.room for row in house.kept_of_case(Sighted, lifted.case))


def _is_confirmed(house: House, case: CaseNo) -> bool:
    judged = judgement_of(house, case)
    return judged is not None and judged.outcome is Outcome.CONFIRMED


def _release(house: House, lifted: QuarantineLifted, whose: Releaser) -> Item:
    """The hotel's own name stands with every lifting; another's word must have been given.

    "Not a bed bug", judged by somebody whose competence is named, is such a word too,
    except where an officer's is wanted.
    """
    treated = [
        row.fact.treated_on
        for row in house.kept_of_case(TreatmentRecorded, lifted.case)
        if row.fact.room == lifted.room
    ]
    words = [
        row.fact.given_at
        for row in house.kept_of_case(NoticeGiven, lifted.case)
        if row.fact.notice == RELEASE_WORD
        and row.fact.room in ("", lifted.room)
        and row.fact.given_at <= lifted.lifted_at
        and local_day(row.fact.given_at, house.zone) >= max(treated, default=date.min)
    ]
    word: date | datetime | None = max(words, default=None)
    if whose is Releaser.HOTEL:
        word = lifted.lifted_at
    elif word is None and whose is Releaser.LICENSED:
        word = _ruled_out_on(house, lifted)
    state = ItemState.MISSING if word is None else ItemState.DONE
    what = f"word_{whose}"
    return Item(
        what, lifted.case, lifted.room, state, by=lifted.lifted_at, done=word, table="quarantines"
    )


def _ruled_out_on(house: House, lifted: QuarantineLifted) -> date | None:
    judged = judgement_of(house, lifted.case)
    if judged is None or judged.outcome is not Outcome.NOT_BED_BUG or not judged.competence:
        return None
    is_before = judged.judged_on <= local_day(lifted.lifted_at, house.zone)
    return judged.judged_on if is_before else None


# --- empty before -------------------------------------------------------------------------------


def _arrivals(house: House, clause: RuleClause, period: Period) -> Iterator[Item]:
    read = [fact.replaces_from for fact in house.all_of(StaysImported)]
    known_from = min(read, default=None)
    if known_from is None:
        yield Item("looked_before", "", "", ItemState.UNKNOWN)
    by_room: defaultdict[str, list[Stay]] = defaultdict(list)
    for stay in house.stays:
        if stay.room and stay.arrives_on <= period.last_on and stay.counts:
            by_room[stay.room].append(stay)
    for _room, stays in sorted(by_room.items()):
        if all(stay.arrives_on < period.first_on for stay in stays):
            continue
        stays.sort(key=lambda stay: (stay.arrives_on, stay.leaves_on))
        left_on: date | None = None
        for stay in stays:
            if _in(period, stay.arrives_on):
                item = _arrival(house, clause, stay, left_on or known_from, left_on is not None)
                if item is not None:
                    yield item
            left_on = max(stay.leaves_on, left_on or stay.leaves_on)


def _arrival(
    house: House, clause: RuleClause, stay: Stay, empty_from: date | None, was_let: bool
) -> Item | None:
    if empty_from is None or (stay.arrives_on - empty_from).days < clause.vacant_days:
        # Before the first bookings that were read in, nobody can say how long it stood empty.
        if was_let:
            return None
        return Item("looked_before", "", stay.room, ItemState.UNKNOWN, by=stay.arrives_on)
    reach = timedelta(days=-(-clause.amount // HOURS_A_DAY))
    days = [
        day
        for day in _looked_on(house, RoomNo(stay.room))
        if stay.arrives_on - reach <= day <= stay.arrives_on
    ]
    state = ItemState.DONE if days else ItemState.MISSING
    done = max(days, default=None)
    return Item("looked_before", "", stay.room, state, empty_from, stay.arrives_on, done, "checks")


def _looked_on(house: House, room: RoomNo) -> Iterator[date]:
    for bed in house.beds_of(room):
        yield from (check.checked_on for check in house.checks_of(bed.bed))
    yield from (check.checked_on for check in house.room_checks.get(room, ()))


def _in(period: Period, day: date) -> bool:
    return period.first_on <= day <= period.last_on
