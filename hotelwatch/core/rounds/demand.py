"""Which rooms want a visit, and by when: what cases ask for, then what is due."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from math import ceil

from hotelwatch.core.checks.asked import AskedState, open_asked
from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.checks.follow_ups import FollowUp
from hotelwatch.core.checks.sheet import visit_minutes
from hotelwatch.core.checks.sooner import Pull
from hotelwatch.core.checks.watching import follow_ups
from hotelwatch.core.days import local_day, moment_of
from hotelwatch.core.facts import BedNo, RoomNo
from hotelwatch.core.house import House

DAY_ENDS = "23:59"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A visit that a room wants: beds of one room are looked at together."""

    room: RoomNo
    beds: tuple[BedNo, ...]
    bed_due_on: tuple[date, ...]
    """When each bed's underside is due, in the order of ``beds``."""
    due_on: date
    """The last day that is not late: the earliest bed's, or the day of the deadline."""
    minutes: int
    """The beds and, once, setting up the room."""
    asked_by: str
    """The case with the earliest deadline; empty for a routine check."""
    by_at: datetime | None
    """That deadline; None for a routine check."""
    cases: tuple[str, ...] = ()
    """Every case that asks for the room, the earliest deadline first."""
    early_days: int = 0
    """So many days before it is due a routine check is not yet too early."""
    earliest_on: date = date.min
    """Before this day a check is too early, or would not count towards a release."""
    asked_on: date = date.min
    """The day on which the first of its cases asked."""
    pull: Pull | None = None
    """Why it is wanted earlier than the cycle asks; None if it is not."""
    is_follow_up: bool = False
    """Wanted by a case after a treatment, within a window of days, rather than asked for."""
    by_on: date = date.max
    """The last day of that window."""


def demand(
    house: House,
    today: date,
    until: date,
    *,
    pulled: Mapping[RoomNo, Pull] | None = None,
    anyway: Collection[RoomNo] = (),
) -> tuple[Wanted, ...]:
    """Visits wanted by ``until``, as known from checks up to ``today``.

    Checks that cases ask for come first, the earliest deadline before the others; of
    such a room every bed that has not been looked at for each of its cases. So do the
    follow-ups of rooms in quarantine or under watch whose days begin by ``until``.
    Then routine checks, the earliest due first, in the house's order: of every room
    with another bed that is due, or may be looked at a share of its cycle early, by ``until``.
    A room ``pulled`` forward (see ``pulls``) is due by its earlier day, if a look by
    ``until`` would settle it. Rooms ``anyway`` are wanted however early that is.
    """
    known = looks(house, today)
    sooner = {
        room: pull for room, pull in (pulled or {}).items() if max(pull.from_on, today) <= until
    }
    due_on = {look.bed: look.due_on for look in known}
    asked = _with_follow_ups(house, tuple(_asked(house, due_on)), due_on, span=(today, until))
    spoken_for = {bed for wanted in asked for bed in wanted.beds}
    by_room: defaultdict[RoomNo, list[Look]] = defaultdict(list)
    for look in known:
        if look.bed in spoken_for:
            continue
        pull = sooner.get(look.room)
        is_pulled = pull is not None and look.bed in pull.beds
        if is_pulled or look.room in anyway or _usual_from(house, look) <= until:
            by_room[look.room].append(look)
    routine = [_routine(house, room, due, sooner.get(room)) for room, due in by_room.items()]
    return (*asked, *sorted(routine, key=lambda wanted: wanted.due_on))


def _asked(house: House, due_on: Mapping[BedNo, date]) -> Iterator[Wanted]:
    by_room: defaultdict[RoomNo, list[AskedState]] = defaultdict(list)
    for state in open_asked(house):
        if state.asked.room in house.rooms:
            by_room[state.asked.room].append(state)
    for room, states in by_room.items():
        left = {bed for state in states for bed in state.beds_left}
        beds = [bed for bed in house.beds_of(room) if bed.bed in left]
        yield Wanted(
            room=room,
            beds=tuple(bed.bed for bed in beds),
            bed_due_on=tuple(due_on[bed.bed] for bed in beds),
            due_on=states[0].due_on,
            minutes=visit_minutes(house, beds),
            asked_by=states[0].asked.case,
            by_at=states[0].asked.by_at,
            cases=tuple(dict.fromkeys(state.asked.case for state in states)),
            asked_on=min(local_day(state.asked_at, house.zone) for state in states),
        )


def _with_follow_ups(
    house: House,
    asked: tuple[Wanted, ...],
    due_on: Mapping[BedNo, date],
    *,
    span: tuple[date, date],
) -> tuple[Wanted, ...]:
    """What is asked for and what is followed up, by deadline; one visit serves both.

    A room in quarantine is entered for its own case's checks only, so what other cases ask
    of it is answered by its follow-up.
    """
    by_room: defaultdict[RoomNo, list[FollowUp]] = defaultdict(list)
    for look in follow_ups(house, span[0]):
        if look.from_on <= span[1] and look.room in house.rooms:
            by_room[look.room].append(look)
    left = {}
    for one in asked:
        own = {look.case for look in by_room.get(one.room, ())}
        if own and own.isdisjoint(one.cases):
            left[one.room] = one
        else:
            by_room.pop(one.room, None)
    followed = [
        _follow_up(house, looks_of, due_on, left.get(room)) for room, looks_of in by_room.items()
    ]
    both = [*(one for one in asked if one.room not in left), *followed]
    return tuple(sorted(both, key=lambda one: one.by_at or datetime.max.replace(tzinfo=UTC)))


def _follow_up(
    house: House, looks_of: list[FollowUp], due_on: Mapping[BedNo, date], asked: Wanted | None
) -> Wanted:
    wanted = {bed for look in looks_of for bed in look.beds} | set(asked.beds if asked else ())
    beds = [bed for bed in house.beds_of(looks_of[0].room) if bed.bed in wanted]
    from_on = min(look.from_on for look in looks_of)
    by_on = looks_of[0].by_on
    if asked is not None:
        by_on = min(by_on, max(from_on, asked.due_on))
    cases = [look.case for look in looks_of] + list(asked.cases if asked else ())
    dues = tuple(due_on[bed.bed] for bed in beds)
    return Wanted(
        room=looks_of[0].room,
        beds=tuple(bed.bed for bed in beds),
        bed_due_on=dues,
        # A follow-up is the next look of the cycle too.
        due_on=min((by_on, *dues)),
        minutes=visit_minutes(house, beds),
        asked_by=cases[0],
        by_at=moment_of(by_on, DAY_ENDS, house.zone),
        cases=tuple(dict.fromkeys(cases)),
        earliest_on=from_on,
        asked_on=from_on,
        is_follow_up=True,
        by_on=by_on,
    )


def _routine(house: House, room: RoomNo, due: list[Look], pull: Pull | None) -> Wanted:
    first = min(due, key=lambda look: look.due_on)
    early = early_days(house, first.cycle_days)
    wanted = Wanted(
        room=room,
        beds=tuple(look.bed for look in due),
        bed_due_on=tuple(look.due_on for look in due),
        due_on=first.due_on,
        minutes=visit_minutes(house, (house.beds[look.bed] for look in due)),
        asked_by="",
        by_at=None,
        early_days=early,
        earliest_on=first.last_on + timedelta(days=early) if first.last_on else date.min,
    )
    return wanted if pull is None else _pulled(wanted, pull)


def _pulled(wanted: Wanted, pull: Pull) -> Wanted:
    """The same visit wanted by the earlier day; a look before ``from_on`` would not settle it."""
    dues = zip(wanted.beds, wanted.bed_due_on, strict=True)
    wanted = replace(
        wanted,
        bed_due_on=tuple(
            min(due_on, pull.by_on) if bed in pull.beds else due_on for bed, due_on in dues
        ),
    )
    if wanted.due_on <= pull.by_on:
        return wanted
    return replace(
        wanted,
        due_on=pull.by_on,
        early_days=(pull.by_on - pull.from_on).days,
        earliest_on=pull.from_on,
        pull=pull,
    )


def early_days(house: House, cycle_days: int) -> int:
    """So many days before it is due a bed of that cycle may be looked at."""
    return ceil(house.rules.figures.early_share.value * cycle_days)


def _usual_from(house: House, look: Look) -> date:
    return look.due_on - timedelta(days=early_days(house, look.cycle_days))
