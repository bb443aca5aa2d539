"""The rooms of a case's ring, each once: every reason, its rank, deadline and state."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.case_facts import CheckAsked, Sighted
from hotelwatch.core.cases.centres import Centre
from hotelwatch.core.cases.ring_rule import NEAREST, PLACE, look_by
from hotelwatch.core.checks.asked import (
    AskedState,
    asked_states,
    done_for,
    open_asked_in,
    still_asks,
)
from hotelwatch.core.choice_facts import ProfileChosen, RuleChosen
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomDescribed, RoomNo
from hotelwatch.core.house import House

SIGHTING = "sighting"
"""Why a room with a sign is closed and asked for."""
RING_RULES = frozenset({"ring_kinds", "ring_radius"})


class RoomState(StrEnum):
    """How a room of a ring stands; the most pressing first."""

    OPEN = "open"
    """Asked for, and nobody has looked."""
    LEFT_OVER = "left_over"
    """Some of its beds were looked at; others are left."""
    NOT_ASKED = "not_asked"
    """It became one after the sign was written down, or was looked at before a later sign."""
    FOUND = "found"
    """A centre."""
    CLEAN = "clean"
    """Looked at since, and nothing found."""
    STRUCK_OUT = "struck_out"
    """A person left it out."""
    WITHDRAWN = "withdrawn"
    """Its case wants nothing more, or the room left the roster."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a room is in a ring: how it is near, and to which centre."""

    code: str
    source: RoomNo


@dataclass(frozen=True, slots=True)
class RingRoom:
    """A room of a ring."""

    room: RoomNo
    reasons: tuple[Reason, ...]
    """The nearest first."""
    wave: int
    """0: a first centre; 1: around one; 2: around a centre found there; and so on."""
    rank: int
    """From 1: in which order rooms are best looked at."""
    by_at: datetime
    state: RoomState
    is_centre: bool
    is_open: bool
    """Whether it is still to be looked at; a centre may be, too."""
    looked_on: date | None
    """When the last look for it was finished."""
    beds_left: int
    serves: tuple[CaseNo, ...]
    """Other cases that ask for the same look, by their numbers."""

    def is_late(self, now: datetime) -> bool:
        """Whether its deadline passed and nobody has looked."""
        return self.is_open and now > self.by_at


def ring_rooms(house: House, case: CaseNo, centres: tuple[Centre, ...]) -> tuple[RingRoom, ...]:
    """Every room that a case wants looked at, or wanted, by rank."""
    return _ranked(house, case, _drafts(house, case, centres))


@dataclass(slots=True)
class _Draft:
    """What is gathered about a room before it is ranked."""

    reasons: dict[Reason, None] = field(default_factory=dict)
    waves: list[int] = field(default_factory=list)
    needed_from: date = date.min
    """The last day of a centre's sign that asks for it."""
    deadlines: list[datetime] = field(default_factory=list)
    """Of each wish, by the rule."""
    entry: int = 0
    """The latest that made it wanted."""
    signs_entry: int = 0
    """That of the last sign which asks for it."""
    is_centre: bool = False
    asked: list[AskedState] = field(default_factory=list)
    unasked_on: date | None = None
    """When somebody looked all the same, though nobody had asked."""

    @property
    def done(self) -> list[date]:
        """Days of finished looks."""
        days = [state.done_on for state in self.asked if state.done_on is not None]
        return days if self.unasked_on is None else [*days, self.unasked_on]


def _drafts(house: House, case: CaseNo, centres: tuple[Centre, ...]) -> dict[RoomNo, _Draft]:
    drafts: defaultdict[RoomNo, _Draft] = defaultdict(_Draft)
    for row in house.kept_of_case(Sighted, case):
        draft = drafts[row.fact.room]
        draft.reasons[Reason(SIGHTING, row.fact.room)] = None
        draft.deadlines.append(look_by(house, row.fact))
        draft.needed_from = max(draft.needed_from, local_day(row.fact.seen_at, house.zone))
        draft.entry = row.entry
    for centre in centres:
        _add_centre(house, centre, drafts)
    _add_asked(house, case, drafts)
    for room, draft in drafts.items():
        if not draft.asked and draft.signs_entry:
            unasked = CheckAsked(case, room, (), draft.deadlines[0])
            draft.unasked_on = done_for(house, unasked, draft.signs_entry)
    return drafts


def _add_centre(house: House, centre: Centre, drafts: Mapping[RoomNo, _Draft]) -> None:
    """What a centre wants; ``drafts`` makes a room's when it is first asked for."""
    of_centre = drafts[centre.room]
    of_centre.is_centre, of_centre.waves = True, [centre.wave]
    sign_on = local_day(centre.since.seen_at, house.zone)
    for wanted in centre.wanted:
        draft = drafts[wanted.room]
        draft.reasons.update((Reason(code, centre.room), None) for code in wanted.codes)
        draft.waves.append(centre.wave + 1)
        draft.needed_from = max(draft.needed_from, sign_on)
        draft.deadlines.append(wanted.by_at)
        draft.entry = max(draft.entry, wanted.entry)
        draft.signs_entry = max(draft.signs_entry, centre.entry)


def _add_asked(house: House, case: CaseNo, drafts: Mapping[RoomNo, _Draft]) -> None:
    """What was asked for, with the reasons written down where no rule gives one now."""
    wishes = house.kept_of_case(CheckAsked, case)
    for wish, state in zip(wishes, asked_states(house, case), strict=True):
        draft = drafts[wish.fact.room]
        draft.asked.append(state)
        if not draft.reasons:
            source = RoomNo(wish.fact.source) or _first_room(house, case, wish.fact.room)
            draft.reasons.update((Reason(code, source), None) for code in wish.fact.reasons)
            draft.waves.append(1)


def _first_room(house: House, case: CaseNo, otherwise: RoomNo) -> RoomNo:
    signs = house.kept_of_case(Sighted, case)
    return signs[0].fact.room if signs else otherwise


def _ranked(house: House, case: CaseNo, drafts: Mapping[RoomNo, _Draft]) -> tuple[RingRoom, ...]:
    bare = {room for room, draft in drafts.items() if not draft.asked}
    whole = _Whole(
        still_asks(house, case),
        _last_rule(house),
        _came_by(house, bare),
        _asked_by_others(house, case, drafts.keys()),
    )
    ordered = sorted(drafts.items(), key=lambda item: _nearness(item[1]))
    return tuple(
        _row(house, room, draft, rank=rank, whole=whole)
        for rank, (room, draft) in enumerate(ordered, 1)
    )


@dataclass(frozen=True, slots=True)
class _Whole:
    """What is asked once for all rooms of a ring."""

    is_wanted: bool
    last_rule: int
    """The latest entry that chose how far rings reach."""
    came_by: Mapping[RoomNo, int]
    """The entry that brought a room nobody asked for on the roster."""
    others: Mapping[RoomNo, tuple[CaseNo, ...]]


def _nearness(draft: _Draft) -> tuple[int, int]:
    """Rooms with a sign first, then by the nearest reason, then by wave."""
    return min(map(_place, draft.reasons)), min(draft.waves, default=0)


def _place(reason: Reason) -> int:
    return -1 if reason.code == SIGHTING else PLACE.get(reason.code, len(NEAREST))


def _row(house: House, room: RoomNo, draft: _Draft, *, rank: int, whole: _Whole) -> RingRoom:
    waiting = [one for one in draft.asked if one.is_open]
    state = _state(house, room, draft, whole)
    return RingRoom(
        room=room,
        reasons=tuple(sorted(draft.reasons, key=_place)),
        wave=min(draft.waves, default=0),
        rank=rank,
        by_at=_by_at(draft, state),
        state=state,
        is_centre=draft.is_centre,
        is_open=bool(waiting),
        looked_on=max(draft.done, default=None),
        beds_left=max((len(one.beds_left) for one in waiting), default=0),
        serves=whole.others.get(room, ()),
    )


def _by_at(draft: _Draft, state: RoomState) -> datetime:
    waiting = [one.asked.by_at for one in draft.asked if one.is_open]
    if waiting:
        return min(waiting)
    asked = [one.asked.by_at for one in draft.asked]
    if state is RoomState.NOT_ASKED and draft.deadlines:
        return max(draft.deadlines) if asked else min(draft.deadlines)
    return max(asked or draft.deadlines)


def _state(house: House, room: RoomNo, draft: _Draft, whole: _Whole) -> RoomState:
    if not whole.is_wanted or room not in house.rooms:
        return RoomState.WITHDRAWN
    if draft.is_centre:
        return RoomState.FOUND
    waiting = [state for state in draft.asked if state.is_open]
    if waiting:
        beds = len(house.beds_of(room))
        is_partly = all(0 < len(state.beds_left) < beds for state in waiting)
        return RoomState.LEFT_OVER if is_partly else RoomState.OPEN
    if draft.done and max(draft.done) >= draft.needed_from:
        return RoomState.CLEAN
    if (
        draft.done
        or max(draft.entry, whole.last_rule, whole.came_by.get(room, 0)) > draft.signs_entry
    ):
        return RoomState.NOT_ASKED
    return RoomState.STRUCK_OUT


def _last_rule(house: House) -> int:
    """The latest entry that chose by which rule rooms are asked for."""
    rules = (row.entry for row in house.kept_of(RuleChosen) if row.fact.rule in RING_RULES)
    profiles = (row.entry for row in house.kept_of(ProfileChosen))
    return max((*rules, *profiles), default=0)


def _came_by(house: House, rooms: set[RoomNo]) -> Mapping[RoomNo, int]:
    came: dict[RoomNo, int] = {}
    for row in house.kept_of(RoomDescribed) if rooms else ():
        if row.fact.room in rooms:
            came.setdefault(row.fact.room, row.entry)
    return came


def _asked_by_others(
    house: House, case: CaseNo, rooms: Collection[RoomNo]
) -> Mapping[RoomNo, tuple[CaseNo, ...]]:
    found: defaultdict[RoomNo, list[CaseNo]] = defaultdict(list)
    for state in open_asked_in(house, rooms):
        if state.asked.case != case and state.asked.case not in found[state.asked.room]:
            found[state.asked.room].append(state.asked.case)
    return {room: tuple(sorted(cases)) for room, cases in found.items() if cases}
