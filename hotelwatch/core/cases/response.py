"""What a sighting sets going: its case, rooms to close, rooms to look at, each with why.

Whatever the sign, its room is in quarantine at once, on suspicion, from the moment of
the sign; with it every other key of its suite. The room itself is asked for a deep
check. A sign of weight asks for the rooms around it and for those that the record ties
to it, each once (core.cases.ring_rule); where the profile says so, neighbours are closed
as well. All of it is a proposal: a person may strike out before saving.

A find in a room that an open case asked for joins that case, and its ring grows from
there; a person may split it off. A room that another case asked for too is asked for
again: each case keeps its own ring whole, and one check serves every case that asked
(core.checks.asked).

Source: closing the rooms around as well: a state hospitality association's advice; that
they are looked at and served if something is found: national pest management
association, best management practices for bed bugs (2011), 13.2.2. The profile chooses.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.case_facts import (
    CaseEntryMoved,
    CheckAsked,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
)
from hotelwatch.core.cases.case import next_case_no, suite_mates, treatments_of
from hotelwatch.core.cases.centres import ring_counts_from
from hotelwatch.core.cases.links import Record, record_of
from hotelwatch.core.cases.ring_rooms import SIGHTING
from hotelwatch.core.cases.ring_rule import Around, Wanted, asks_ring, look_by, rooms_wanted
from hotelwatch.core.cases.watch import case_for_sign
from hotelwatch.core.checks.asked import asked_states, open_asked, open_asked_in
from hotelwatch.core.checks.follow_ups import RING_HELD
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, Fact, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.profile import Hold
from hotelwatch.core.records import Entry, Kept

NEIGHBOUR_FOUND = "neighbour_found"
"""Why a room is closed that was asked for as a neighbour and has a sign itself."""
NEVER, ONCE = (math.inf,), (0,)
"""Entries where there are none: none before any other, none after any other."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What is proposed; saved as one entry."""

    sighted: Sighted
    quarantine: tuple[QuarantinePlaced, ...]
    asked: tuple[CheckAsked, ...]
    """The room itself first, then its neighbours from the nearest kind on."""
    joins: bool
    """Whether the sighting joins a case that is open."""

    @property
    def facts(self) -> tuple[Fact, ...]:
        """All of it, as it will be written down."""
        return (self.sighted, *self.quarantine, *self.asked)

    def without(
        self, *, asked: Collection[RoomNo] = (), quarantine: Collection[RoomNo] = ()
    ) -> Answer:
        """The answer with these rooms struck out by a person.

        Who is not looked at is not closed until looked at either.
        """
        return replace(
            self,
            asked=tuple(fact for fact in self.asked if fact.room not in asked),
            quarantine=tuple(
                fact
                for fact in self.quarantine
                if fact.room not in quarantine
                and not (fact.reason == RING_HELD and fact.room in asked)
            ),
        )


def answer_sighting(
    house: House,
    neighbours: Mapping[RoomNo, tuple[Neighbour, ...]],
    sighted: Sighted,
    *,
    record: Record | None = None,
) -> Answer:
    """What a sighting should set going.

    It joins the open case of its room or suite, or the one that asked for its room;
    else it opens the case that it names, or the next one if it names none. What a joined
    case has in quarantine or asked for already is not proposed twice; after a treatment
    the whole ring is asked for again. ``record`` spares reading the house's record.
    Refusal("unknown_room"), ("unknown_bed") or ("unknown_place") where the roster has no
    such room, or no such bed or place in it.
    """
    _check_place(house, sighted)
    joined = case_for_sign(house, sighted.room, sighted.seen_at)
    of_case = replace(sighted, case=joined or _new_case(house, sighted))
    around = Around(neighbours, record_of(house) if record is None else record)
    wishes = _wishes(house, around, of_case)
    return Answer(
        sighted=of_case,
        quarantine=tuple(_rooms_to_close(house, of_case, wishes)),
        asked=_asked_for(of_case, wishes),
        joins=joined is not None,
    )


def left_without_sign(
    house: House, entry: int, *, at: datetime, by: str, reason: str
) -> tuple[QuarantineLifted, ...]:
    """Rooms that a case holds without any sign once an entry is taken back, given back.

    An earlier taking back or a split may have closed them in an entry of its own.
    """
    left = house.without(entry)
    of_entry = {row.fact.case for row in house.kept_of(Sighted) if row.entry == entry}
    return tuple(
        QuarantineLifted(placed.room, case, at, by, conditions_met=False, reason=reason)
        for case in sorted(of_entry - left.sightings.keys())
        for placed, lifted in left.quarantines_by_case.get(case, ())
        if lifted is None
    )


def still_wanted(
    house: House, neighbours: Mapping[RoomNo, tuple[Neighbour, ...]], entry: int
) -> tuple[Fact, ...]:
    """What an entry set going and later signs of its cases want even without it.

    Of what the entry closed and asked for, that is: a quarantine that was not lifted,
    and a look that nobody has made. Earlier signs found nothing of it when they were
    written down, and lack nothing through its going.
    """
    of_entry = {row.fact.case for row in house.kept_of(Sighted) if row.entry == entry}
    # A look that goes with the entry answered nobody.
    looks: dict[type[Fact], tuple[Kept[Fact], ...]] = {
        kind: tuple(row for row in house.kept.get(kind, ()) if row.entry != entry)
        for kind in (BedChecked, RoomChecked)
    }
    unlooked = replace(house, kept={**house.kept, **looks})
    return _wanted_in(unlooked, house.without(entry), neighbours, of_entry, after_entry=entry)


def wanted_apart(
    house: House,
    neighbours: Mapping[RoomNo, tuple[Neighbour, ...]],
    moved: Sequence[CaseEntryMoved],
) -> tuple[Fact, ...]:
    """What the signs of either case want once these entries have left the one for the other.

    A quarantine and the looks asked for go along with the entry that set them going: a
    sign that stays behind, in the same room perhaps, must not stand without its own.
    """
    cases = {case for fact in moved for case in (fact.from_case, fact.into_case)}
    cases |= {house.case_now(fact.number, fact.from_case) for fact in moved}
    last = max(house.entries)
    at = house.entries[last].recorded_at
    apart = house.add(Entry(last + 1, at, "", "", "", None, "", ""), moved)
    return (
        *_lifted_along(house, apart, cases),
        *_wanted_in(house, apart, neighbours, cases),
    )


def _lifted_along(
    before: House, apart: House, cases: Collection[CaseNo]
) -> Iterator[QuarantineLifted]:
    """The lifting of a room that had been given back before its quarantine went along."""
    lifted = {
        row.fact.room: row.fact for no in cases for row in before.kept_of_case(QuarantineLifted, no)
    }
    closed = {
        placed.room for placed, end in before.quarantines if end is None and placed.case in cases
    }
    for placed, end in apart.quarantines:
        if end is None and placed.case in cases and placed.room not in closed:
            yield replace(lifted[placed.room], case=placed.case)


def _wanted_in(
    before: House,
    after: House,
    neighbours: Mapping[RoomNo, tuple[Neighbour, ...]],
    cases: Collection[CaseNo],
    *,
    after_entry: int = 0,
) -> tuple[Fact, ...]:
    """What signs of these cases lack now of what was in force before, for whatever case of them.

    A sign lacks only what stood when it was written down: not what a person had struck
    out of its answer or gave back since.
    """
    closed_before = {
        placed.room
        for placed, lifted in before.quarantines
        if lifted is None and placed.case in cases
    }
    waiting = {state.asked.room for state in open_asked(before) if state.asked.case in cases}
    placed_at = _entries(before, QuarantinePlaced, cases)
    lifted_at = _entries(before, QuarantineLifted, cases)
    asked_at = _entries(before, CheckAsked, cases)
    around = Around(neighbours, record_of(after))
    closed: dict[tuple[CaseNo, RoomNo], Fact] = {}
    asked: dict[tuple[CaseNo, RoomNo], Fact] = {}
    for case in sorted(cases):
        signs = (row for row in after.kept_of_case(Sighted, case) if row.entry > after_entry)
        for row in signs:
            wishes = _wishes(after, around, row.fact)
            for placed in _rooms_to_close(after, row.fact, wishes):
                room = placed.room
                stood = min(placed_at.get(room, NEVER)) <= row.entry
                if room in closed_before and stood and max(lifted_at.get(room, ONCE)) < row.entry:
                    closed.setdefault((case, room), placed)
            for wish in _asked_for(row.fact, wishes):
                if wish.room in waiting and min(asked_at.get(wish.room, NEVER)) <= row.entry:
                    asked.setdefault((case, wish.room), wish)
    return (*closed.values(), *asked.values())


def _entries(
    house: House,
    kind: type[QuarantinePlaced] | type[QuarantineLifted] | type[CheckAsked],
    cases: Collection[CaseNo],
) -> Mapping[RoomNo, list[float]]:
    """The entries that wrote down a kind of fact of each room for any of these cases."""
    entries: defaultdict[RoomNo, list[float]] = defaultdict(list)
    for case in cases:
        for row in house.kept_of_case(kind, case):
            entries[row.fact.room].append(row.entry)
    return entries


def _check_place(house: House, sighted: Sighted) -> None:
    if sighted.room not in house.rooms:
        raise Refusal("unknown_room", room=sighted.room)
    if sighted.bed and sighted.bed not in {bed.bed for bed in house.beds_of(sighted.room)}:
        raise Refusal("unknown_bed", bed=sighted.bed, room=sighted.room)
    if sighted.place and sighted.place not in _places_in(house, sighted.room):
        raise Refusal("unknown_place", where=sighted.room, place=sighted.place)


def _places_in(house: House, room: RoomNo) -> set[str]:
    """Every place of a room and its beds; an encased bed may have been opened."""
    kinds = [house.rules.bed_kinds[bed.kind] for bed in house.beds_of(room)]
    of_beds = (place for kind in kinds for place in (*kind.places, *kind.encased_places))
    return {place.code for place in (*of_beds, *house.rules.room_places)}


def _new_case(house: House, sighted: Sighted) -> CaseNo:
    if sighted.case and sighted.case not in house.sightings:
        return sighted.case
    return next_case_no(house, local_day(sighted.seen_at, house.zone))


def _wishes(house: House, around: Around, sighted: Sighted) -> tuple[Wanted, ...]:
    """The room itself and those around it that its case has not asked for since."""
    today = local_day(sighted.seen_at, house.zone)
    own = Wanted(sighted.room, (SIGHTING,), look_by(house, sighted), 0)
    wanted = (own, *rooms_wanted(house, around, sighted, today=today))
    covered = _covered(house, sighted)
    return tuple(wish for wish in wanted if wish.room not in covered)


def _covered(house: House, sighted: Sighted) -> frozenset[RoomNo]:
    """Rooms that the case asked for, where that wish still stands for this sign.

    It does not if a treatment came between, or if the look was made before the sign
    from which this room's ring counts.
    """
    case = sighted.case
    signs = [
        row.fact
        for row in house.kept_of_case(Sighted, case)
        if row.fact.room == sighted.room and asks_ring(house, row.fact) == asks_ring(house, sighted)
    ]
    since = ring_counts_from(house, case, [*signs, sighted])
    since_on = local_day(since.seen_at, house.zone)
    treated = [treatment.treated_on for treatment in treatments_of(house, case)]

    def stands(asked_on: date, done_on: date | None) -> bool:
        if any(asked_on <= day < since_on for day in treated):
            return False
        return done_on is None or done_on >= since_on

    return frozenset(
        state.asked.room
        for state in asked_states(house, case)
        if stands(local_day(state.asked_at, house.zone), state.done_on)
    )


def _asked_for(sighted: Sighted, wishes: Iterable[Wanted]) -> tuple[CheckAsked, ...]:
    return tuple(
        CheckAsked(sighted.case, wish.room, wish.codes, wish.by_at, sighted.room) for wish in wishes
    )


def _rooms_to_close(
    house: House, sighted: Sighted, wishes: Iterable[Wanted]
) -> Iterator[QuarantinePlaced]:
    case, room = sighted.case, sighted.room
    closed = {
        placed.room for placed, lifted in house.quarantines_by_case.get(case, ()) if lifted is None
    }
    reasons = {room: NEIGHBOUR_FOUND if _was_asked_for(house, room) else SIGHTING}
    reasons.update((mate, Kind.SAME_SUITE.value) for mate in suite_mates(house, room))
    if house.profile.hold is Hold.HOLD and asks_ring(house, sighted):
        for wish in wishes:
            if wish.is_neighbour:
                reasons.setdefault(wish.room, RING_HELD)
    for other, reason in reasons.items():
        if other not in closed:
            yield QuarantinePlaced(other, case, sighted.seen_at, reason)


def _was_asked_for(house: House, room: RoomNo) -> bool:
    """Whether a case wants a room looked at because of a sign in another."""
    return any(SIGHTING not in state.asked.reasons for state in open_asked_in(house, {room}))
