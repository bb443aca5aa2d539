"""A case's ring: every room that it wants looked at, once, with every reason and its state.

A room with a sign that asks for a ring is a centre. Around each lie rooms by the
profile's rule, and rooms that the record ties to it. A find in one of them joins the
case as a centre of its own, and the list grows from it. It stops growing when every
room around every centre was looked at and nothing was found; or where it covers so much
of a floor that a look at the whole floor is offered instead. Which of them holds is said.

Source: grow until a whole ring is clean: a city's 2013 draft for housing, read
second-hand. That a ring is clean is no proof: looks miss infestations (national pest
management association, best management practices for bed bugs (2011), 14.3).
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from typing import Any

from hotelwatch.core.case_facts import CheckAsked, Sighted
from hotelwatch.core.cases.case import treatments_of
from hotelwatch.core.cases.ring_rule import (
    NEAREST,
    PLACE,
    Around,
    Wanted,
    asks_ring,
    look_by,
    rooms_wanted,
)
from hotelwatch.core.checks.asked import AskedState, asked_states, open_asked, still_asks
from hotelwatch.core.choice_facts import ProfileChosen, RuleChosen
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomDescribed, RoomNo
from hotelwatch.core.house import House

SIGHTING = "sighting"
"""Why a room with a sign is closed and asked for."""
WHOLE_FLOOR = "whole_floor"
"""Why a room is asked for that no ring reaches."""
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


class Growth(StrEnum):
    """Whether a ring still grows, and by which rule it stopped."""

    NO_CENTRE = "no_centre"
    """No sign of it asks for the rooms around."""
    OFFER_FLOOR = "offer_floor"
    """It covers so much of a floor that a look at the whole floor is offered."""
    GOES_ON = "goes_on"
    """Rooms are still to be looked at, and each find makes a centre."""
    CLEAN_AS_ASKED = "clean_as_asked"
    """Nothing was found in the rooms asked for, but some were left out."""
    CLEAN_RING = "clean_ring"
    """Every room around every centre was looked at, and nothing was found."""
    CALLED_OFF = "called_off"
    """Somebody judged that it was no bed bug."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a room is in a ring: how it is near, and to which centre."""

    code: str
    source: RoomNo


@dataclass(frozen=True, slots=True)
class Centre:
    """A room with a sign that asks for the rooms around it."""

    room: RoomNo
    since: Sighted
    """The sign from which its ring counts: the first, or the first after a treatment."""
    entry: int
    """That of the last sign in it."""
    wave: int
    """0 for the first; one more than that of the centre in whose ring it was found."""
    wanted: tuple[Wanted, ...]


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
    """Other cases that ask for the same look."""

    def is_late(self, now: datetime) -> bool:
        """Whether its deadline passed and nobody has looked."""
        return self.is_open and now > self.by_at


@dataclass(frozen=True, slots=True)
class FloorOffer:
    """A floor so much of which is asked for that all of it may as well be looked at."""

    floor: str
    asked: int
    rooms: int
    rest: tuple[RoomNo, ...]
    """Its rooms that nobody asked for, in the order of the roster."""


@dataclass(frozen=True, slots=True)
class Ring:
    """A case's list of rooms, and whether it still grows."""

    case: CaseNo
    centres: tuple[Centre, ...]
    rooms: tuple[RingRoom, ...]
    """By rank."""
    growth: Growth
    values: Mapping[str, Any]
    """What the sentence of ``growth`` names: left, rooms, centres, struck, floors."""
    floors: tuple[FloorOffer, ...]


def ring_of(house: House, around: Around, case: CaseNo, *, now: datetime) -> Ring:
    """The ring of a case as of a moment."""
    today = local_day(now, house.zone)
    centres = centres_of(house, around, case, today=today)
    drafts = _drafts(house, case, centres)
    rooms = _ranked(house, case, drafts)
    floors = _floor_offers(house, rooms) if still_asks(house, case) else ()
    growth, values = _growth(house, case, centres=centres, rooms=rooms, floors=floors)
    return Ring(case, centres, rooms, growth, values, floors)


def next_first(rooms: Iterable[RingRoom]) -> tuple[RingRoom, ...]:
    """Rooms of a ring by what is next: those to be looked at by deadline, then the rest."""
    order = {state: number for number, state in enumerate(RoomState)}
    return tuple(
        sorted(
            rooms,
            key=lambda row: (
                (0, row.by_at.timestamp(), row.rank)
                if row.is_open
                else (1 + order[row.state], 0.0, row.rank)
            ),
        )
    )


def to_ask(ring: Ring) -> tuple[CheckAsked, ...]:
    """Wishes for the rooms that a ring wants and nobody has asked for yet."""
    return tuple(
        CheckAsked(
            ring.case,
            row.room,
            tuple(r.code for r in row.reasons if r.source == row.reasons[0].source),
            row.by_at,
            row.reasons[0].source,
        )
        for row in ring.rooms
        if row.state is RoomState.NOT_ASKED
    )


# --- centres ----------------------------------------------------------------------------------


def centres_of(house: House, around: Around, case: CaseNo, *, today: date) -> tuple[Centre, ...]:
    """Rooms of a case with a sign that asks for a ring, in the order of their signs."""
    by_room: defaultdict[RoomNo, list[Sighted]] = defaultdict(list)
    entries: dict[RoomNo, int] = {}
    for row in house.kept_of_case(Sighted, case):
        if row.fact.room in house.rooms and asks_ring(house, row.fact):
            by_room[row.fact.room].append(row.fact)
            entries[row.fact.room] = row.entry
    starts = sorted(
        (ring_counts_from(house, case, signs) for signs in by_room.values()),
        key=lambda sign: sign.seen_at,
    )
    found: list[Centre] = []
    for sign in starts:
        near = [c.wave for c in found if any(w.room == sign.room for w in c.wanted)]
        wave = min(near) + 1 if near else 0
        wanted = rooms_wanted(house, around, sign, today=today)
        found.append(Centre(sign.room, sign, entries[sign.room], wave, wanted))
    return tuple(found)


def ring_counts_from(house: House, case: CaseNo, signs: Iterable[Sighted]) -> Sighted:
    """Of a room's signs that from which its ring counts.

    The first; after a treatment of the case, the first one later than it.
    """
    treated = [treatment.treated_on for treatment in treatments_of(house, case)]
    first, *later = sorted(signs, key=lambda sign: sign.seen_at)
    for sign in later:
        since = local_day(first.seen_at, house.zone)
        if any(since <= day < local_day(sign.seen_at, house.zone) for day in treated):
            first = sign
    return first


# --- rooms --------------------------------------------------------------------------------------


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


def _drafts(house: House, case: CaseNo, centres: tuple[Centre, ...]) -> dict[RoomNo, _Draft]:
    drafts: defaultdict[RoomNo, _Draft] = defaultdict(_Draft)
    for row in house.kept_of_case(Sighted, case):
        draft = drafts[row.fact.room]
        draft.reasons[Reason(SIGHTING, row.fact.room)] = None
        draft.waves.append(0)
        draft.deadlines.append(look_by(house, row.fact))
        draft.needed_from = max(draft.needed_from, local_day(row.fact.seen_at, house.zone))
        draft.entry = row.entry
    for centre in centres:
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
    wishes = house.kept_of_case(CheckAsked, case)
    for wish, state in zip(wishes, asked_states(house, case), strict=True):
        draft = drafts[wish.fact.room]
        draft.asked.append(state)
        if not draft.reasons:
            source = RoomNo(wish.fact.source) or _first_room(house, case, wish.fact.room)
            draft.reasons.update((Reason(code, source), None) for code in wish.fact.reasons)
            draft.waves.append(1)
    return drafts


def _first_room(house: House, case: CaseNo, otherwise: RoomNo) -> RoomNo:
    signs = house.kept_of_case(Sighted, case)
    return signs[0].fact.room if signs else otherwise


def _ranked(house: House, case: CaseNo, drafts: Mapping[RoomNo, _Draft]) -> tuple[RingRoom, ...]:
    bare = {room for room, draft in drafts.items() if not draft.asked}
    whole = _Whole(
        still_asks(house, case),
        _last_rule(house),
        _came_by(house, bare),
        _asked_by_others(house, case),
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
    codes = [
        -1 if reason.code == SIGHTING else PLACE.get(reason.code, len(NEAREST))
        for reason in draft.reasons
    ]
    return min(codes), min(draft.waves)


def _row(house: House, room: RoomNo, draft: _Draft, *, rank: int, whole: _Whole) -> RingRoom:
    waiting = [one for one in draft.asked if one.is_open]
    done = [one.done_on for one in draft.asked if one.done_on is not None]
    state = _state(house, room, draft, whole)
    return RingRoom(
        room=room,
        reasons=tuple(sorted(draft.reasons, key=lambda one: PLACE.get(one.code, len(NEAREST)))),
        wave=min(draft.waves),
        rank=rank,
        by_at=_by_at(draft, state),
        state=state,
        is_centre=draft.is_centre,
        is_open=bool(waiting),
        looked_on=max(done, default=None),
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
    done = [state.done_on for state in draft.asked if state.done_on is not None]
    if done and max(done) >= draft.needed_from:
        return RoomState.CLEAN
    if done or max(draft.entry, whole.last_rule, whole.came_by.get(room, 0)) > draft.signs_entry:
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


def _asked_by_others(house: House, case: CaseNo) -> Mapping[RoomNo, tuple[CaseNo, ...]]:
    found: defaultdict[RoomNo, list[CaseNo]] = defaultdict(list)
    for state in open_asked(house):
        if state.asked.case != case and state.asked.case not in found[state.asked.room]:
            found[state.asked.room].append(state.asked.case)
    return {room: tuple(cases) for room, cases in found.items() if cases}


# --- whether it grows ---------------------------------------------------------------------------


def _floor_offers(house: House, rooms: tuple[RingRoom, ...]) -> tuple[FloorOffer, ...]:
    """Floors of which a ring has more than figures.whole_floor_share, from the lowest up."""
    gone = (RoomState.STRUCK_OUT, RoomState.WITHDRAWN)
    in_ring = {row.room for row in rooms if row.state not in gone}
    asked = Counter(house.rooms[room].floor for room in in_ring)
    all_rooms = Counter(room.floor for room in house.rooms.values())
    share = house.rules.figures.whole_floor_share.value
    offers = []
    for floor in house.floors:
        if asked[floor] > share * all_rooms[floor] and asked[floor] < all_rooms[floor]:
            rest = tuple(
                no for no, room in house.rooms.items() if room.floor == floor and no not in in_ring
            )
            offers.append(FloorOffer(floor, asked[floor], all_rooms[floor], rest))
    return tuple(offers)


def _growth(
    house: House,
    case: CaseNo,
    *,
    centres: tuple[Centre, ...],
    rooms: tuple[RingRoom, ...],
    floors: tuple[FloorOffer, ...],
) -> tuple[Growth, Mapping[str, Any]]:
    by_state: defaultdict[RoomState, list[RoomNo]] = defaultdict(list)
    for row in rooms:
        around = any(reason.code != SIGHTING for reason in row.reasons)
        if around:
            by_state[row.state].append(row.room)
    left = [
        *by_state[RoomState.OPEN],
        *by_state[RoomState.LEFT_OVER],
        *by_state[RoomState.NOT_ASKED],
    ]
    struck = tuple(by_state[RoomState.STRUCK_OUT])
    values = {
        "left": len(left),
        "rooms": len(by_state[RoomState.CLEAN]),
        "centres": len(centres),
        "struck": struck,
        "floors": tuple(offer.floor for offer in floors),
    }
    if not still_asks(house, case):
        return Growth.CALLED_OFF, values
    if not centres:
        return Growth.NO_CENTRE, values
    if left:
        return (Growth.OFFER_FLOOR if floors else Growth.GOES_ON), values
    return (Growth.CLEAN_AS_ASKED if struck else Growth.CLEAN_RING), values
