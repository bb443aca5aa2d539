"""Blind trials: hide a dummy, end its trial, note what two people found apart.

Whoever is to look must not learn of it: what is written down here shows on the supervisor's
list and nowhere among sheets, rounds or checks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.facts import BedNo, Fact
from hotelwatch.core.house import House
from hotelwatch.core.odds.learning.trials import hidden_now
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.core.trial_facts import BlindPair, DummyEnded, DummyFate, DummyHidden

HOUR_SECONDS = 3600


def hide_dummy(hotel: OpenHotel, hidden: DummyHidden) -> Changes:
    """Write down that a harmless marked dummy was hidden.

    Refusal("dummy_needs_label"), ("dummy_needs_hider"), ("day_to_come"), ("unknown_room"),
    ("unknown_bed"), ("unknown_place"), ("dummy_still_hidden") where its label is in use.
    """
    if not hidden.dummy.strip():
        raise Refusal("dummy_needs_label")
    if not hidden.by.strip():
        raise Refusal("dummy_needs_hider", dummy=hidden.dummy)
    if hidden.hidden_on > hotel.today():
        raise Refusal("day_to_come", day=hidden.hidden_on.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        _check_place(house, hidden)
        known = hidden_now(house).get(hidden.dummy)
        if known is not None:
            raise Refusal("dummy_still_hidden", dummy=hidden.dummy, room=known.room)
        return [hidden]

    return hotel.record(decide, action="hide_dummy")


def _check_place(house: House, hidden: DummyHidden) -> None:
    if hidden.room not in house.rooms:
        raise Refusal("unknown_room", room=hidden.room)
    places = house.rules.room_places
    if hidden.bed:
        bed = house.beds.get(BedNo(hidden.bed))
        if bed is None or bed.room != hidden.room:
            raise Refusal("unknown_bed", bed=hidden.bed, room=hidden.room)
        places = house.rules.bed_kinds[bed.kind].places_of(encased=bed.encased)
    if hidden.place not in {place.code for place in places}:
        where = hidden.bed or hidden.room
        raise Refusal("unknown_place", where=where, place=hidden.place)


@dataclass(frozen=True, slots=True)
class TrialEnding:
    """How a dummy's trial ended, as somebody types it."""

    dummy: str
    ended_on: date
    """The day on which it was found, or collected unfound."""
    was_found: bool
    fate: DummyFate | None
    """None: it is still where it was hidden."""
    looked_by: tuple[str, ...] = ()
    noted: str = ""


def end_trial(hotel: OpenHotel, ending: TrialEnding) -> Changes:
    """Write down that a trial is over, the dummy collected or lost.

    Refusal("unknown_dummy"), ("day_to_come"), ("trial_ends_before_hidden"),
    ("dummy_not_collected") while it lies where it was hidden.
    """
    if ending.ended_on > hotel.today():
        raise Refusal("day_to_come", day=ending.ended_on.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        hidden = hidden_now(house).get(ending.dummy)
        if hidden is None:
            raise Refusal("unknown_dummy", dummy=ending.dummy)
        if ending.ended_on < hidden.hidden_on:
            day = hidden.hidden_on.isoformat()
            raise Refusal("trial_ends_before_hidden", dummy=ending.dummy, day=day)
        if ending.fate is None:
            where = hidden.bed or hidden.room
            raise Refusal(
                "dummy_not_collected", dummy=ending.dummy, where=where, place=hidden.place
            )
        looked_by = tuple(name.strip() for name in ending.looked_by if name.strip())
        return [
            DummyEnded(
                dummy=ending.dummy,
                room=hidden.room,
                ended_on=ending.ended_on,
                was_found=ending.was_found,
                looked_by=looked_by,
                fate=ending.fate,
                noted=ending.noted,
            )
        ]

    return hotel.record(decide, action="end_trial")


def note_blind_pair(hotel: OpenHotel, pair: BlindPair) -> Changes:
    """Write down what two people found in a room, neither knowing of the other.

    A find is recorded as a check or a sighting besides, as always. Refusal("unknown_room"),
    ("blind_pair_needs_two"), ("named_twice"), ("moment_to_come"), ("blind_looks_too_far_apart").
    """
    names = [" ".join(name.split()).casefold() for name in (pair.first_by, pair.second_by)]
    if not all(names):
        raise Refusal("blind_pair_needs_two", room=pair.room)
    if names[0] == names[1]:
        raise Refusal("named_twice", name=pair.second_by, room=pair.room)
    if (latest := max(pair.first_at, pair.second_at)) > hotel.now():
        raise Refusal("moment_to_come", moment=latest.astimezone(hotel.zone).isoformat())

    def decide(house: House) -> Sequence[Fact]:
        if pair.room not in house.rooms:
            raise Refusal("unknown_room", room=pair.room)
        most = house.rules.figures.blind_pair_hours.value
        if abs((pair.second_at - pair.first_at).total_seconds()) > most * HOUR_SECONDS:
            raise Refusal("blind_looks_too_far_apart", room=pair.room, hours=f"{most:g}")
        return [pair]

    return hotel.record(decide, action="note_blind_pair")
