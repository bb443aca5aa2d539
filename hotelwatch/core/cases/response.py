"""What a sighting sets going: its case, rooms to close, rooms to look at, each with why.

Whatever the sign, its room is in quarantine at once, on suspicion, from the moment of
the sign; with it every other key of its suite. The room itself is asked for a deep
check, and each neighbour once, with every way in which it is one. All of it is a
proposal: a person may strike out before saving.

A neighbour that another open case asked for is asked for again: each case keeps its
own ring whole, and one check serves every case that asked (core.checks.asked). A find
in an asked neighbour is a sighting with a case of its own, so the ring grows from it.

Source: neighbours on both sides, above and below: national pest management association,
best management practices for bed bugs (2011), 13.2.2; across the corridor: Wang et al.
2010, J Econ Entomol 103:172-177 (53 % of the homes next to infested ones had bed bugs
too; an upper bound for a hotel, where finds come earlier).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted
from hotelwatch.core.cases.case import next_case_no, open_case_in, suite_mates, treatments_of
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.days import add_hours, local_day
from hotelwatch.core.facts import CaseNo, Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal

SIGHTING = "sighting"
"""Why a room with a sign is closed and asked for."""
NEIGHBOUR_FOUND = "neighbour_found"
"""Why a room is closed that was asked for as a neighbour and has a sign itself."""

NEAREST = (
    Kind.SAME_SUITE,
    Kind.CONNECTS,
    Kind.SHARES_WALL,
    Kind.ABOVE,
    Kind.BELOW,
    Kind.ACROSS,
)
"""In which order neighbours are looked at: doors, then walls, then the rest.

Common practice; no share was found for rooms above and below.
"""


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
        """The answer with these rooms struck out by a person."""
        return replace(
            self,
            asked=tuple(fact for fact in self.asked if fact.room not in asked),
            quarantine=tuple(fact for fact in self.quarantine if fact.room not in quarantine),
        )


def answer_sighting(
    house: House, neighbours: Mapping[RoomNo, tuple[Neighbour, ...]], sighted: Sighted
) -> Answer:
    """What a sighting should set going.

    It joins the open case of its room or suite; else it opens the case that it
    names, or the next one if it names none. What a joined case has in quarantine or
    asked for already is not proposed twice; after a treatment the whole ring is
    asked for again. Refusal("unknown_room"), ("unknown_bed") or ("unknown_place")
    where the roster has no such room, or no such bed or place in it.
    """
    _check_place(house, sighted)
    joined = open_case_in(house, sighted.room)
    case = joined or _new_case(house, sighted)
    return Answer(
        sighted=replace(sighted, case=case),
        quarantine=tuple(_rooms_to_close(house, case, sighted)),
        asked=tuple(_rooms_to_look_at(house, neighbours, replace(sighted, case=case))),
        joins=joined is not None,
    )


def still_wanted(
    house: House, neighbours: Mapping[RoomNo, tuple[Neighbour, ...]], entry: int
) -> tuple[Fact, ...]:
    """What an entry set going and the other signs of its cases want even without it.

    Of what the entry closed and asked for, that is: a quarantine that was not lifted,
    and a look that nobody has made.
    """
    left = house.without(entry)
    of_entry = {row.fact.case for row in house.kept_of(Sighted) if row.entry == entry}
    in_force = {
        (placed.case, placed.room) for placed, lifted in house.quarantines if lifted is None
    }
    waiting = {(state.asked.case, state.asked.room) for state in open_asked(house)}
    closed: dict[tuple[CaseNo, RoomNo], Fact] = {}
    asked: dict[tuple[CaseNo, RoomNo], Fact] = {}
    for case in sorted(of_entry):
        for row in left.kept_of_case(Sighted, case):
            for placed in _rooms_to_close(left, case, row.fact):
                closed.setdefault((case, placed.room), placed)
            for wish in _rooms_to_look_at(left, neighbours, row.fact):
                asked.setdefault((case, wish.room), wish)
    return (
        *(fact for key, fact in closed.items() if key in in_force),
        *(fact for key, fact in asked.items() if key in waiting),
    )


def deadline(house: House, seen_at: datetime) -> datetime:
    """By when neighbours are to be looked at: real hours from the sign, whatever clocks do.

    It counts from the sign and not from the typing, so it may have passed already.
    """
    return add_hours(seen_at, house.rules.figures.neighbour_check_hours.value)


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


def _rooms_to_close(house: House, case: CaseNo, sighted: Sighted) -> Iterator[QuarantinePlaced]:
    closed = {
        placed.room for placed, lifted in house.quarantines_by_case.get(case, ()) if lifted is None
    }
    others_ask = any(
        state.asked.room == sighted.room and state.asked.case != case for state in open_asked(house)
    )
    own = NEIGHBOUR_FOUND if others_ask else SIGHTING
    reasons = {sighted.room: own}
    reasons.update((mate, Kind.SAME_SUITE.value) for mate in suite_mates(house, sighted.room))
    for room, reason in reasons.items():
        if room not in closed:
            yield QuarantinePlaced(room, case, sighted.seen_at, reason)


def _rooms_to_look_at(
    house: House, neighbours: Mapping[RoomNo, tuple[Neighbour, ...]], sighted: Sighted
) -> Iterator[CheckAsked]:
    kinds = {near.room: near.kinds for near in neighbours.get(sighted.room, ())}
    for mate in suite_mates(house, sighted.room):
        kinds.setdefault(mate, (Kind.SAME_SUITE,))
    place = {room: number for number, room in enumerate(house.rooms)}
    nearest = sorted(
        (room for room in kinds if room in place and room != sighted.room),
        key=lambda room: (min(map(NEAREST.index, kinds[room])), place[room]),
    )
    reasons: dict[RoomNo, tuple[str, ...]] = {sighted.room: (SIGHTING,)}
    reasons.update((room, tuple(kind.value for kind in kinds[room])) for room in nearest)
    already = _asked_since_treatment(house, sighted.case)
    by_at = deadline(house, sighted.seen_at)
    for room, why in reasons.items():
        if room not in already:
            yield CheckAsked(sighted.case, room, why, by_at)


def _asked_since_treatment(house: House, case: CaseNo) -> frozenset[RoomNo]:
    """Rooms that a case asked for and that its last treatment did not overtake."""
    treated = treatments_of(house, case)
    asked = house.kept_of_case(CheckAsked, case)
    return frozenset(
        row.fact.room
        for row in asked
        if not treated
        or local_day(house.entry_of(row).recorded_at, house.zone) > treated[-1].treated_on
    )
