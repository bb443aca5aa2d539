"""A visit place by place, while it is typed: how each place stands, and what is still lacking."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeVar

from hotelwatch.core.beds import Place
from hotelwatch.core.case_facts import Sign
from hotelwatch.core.checks.coverage import underside_of
from hotelwatch.core.checks.looking import NOT_ASKED, OTHER_REASON, BedLook, RoomLook, leave_out
from hotelwatch.core.facts import BedNo, CheckKind
from hotelwatch.core.house import House

T = TypeVar("T", BedLook, RoomLook)
REPORTED = (Sign.BITES_REPORTED, Sign.GUEST_WORD)
SEEN_SIGNS = tuple(sign for sign in Sign if sign not in REPORTED)
"""Signs that somebody who looks at a place can see there; others are reported."""
WHY_UNSEEN = (
    "no_second_person",
    "guest_belongings",
    "fixed_to_floor",
    "cannot_be_moved",
    "no_time",
    "guest_present",
    OTHER_REASON,
)
"""Why a place is left that was asked for, the commonest first (common practice, no source)."""
WHY_NOBODY = (
    "guest_present",
    "no_time",
    "no_second_person",
    "guest_belongings",
    OTHER_REASON,
)
"""Those for which a whole visit comes to nothing, the commonest first (common practice, no
source)."""
WHY_NUMBERS = {why: number for number, why in enumerate((*WHY_UNSEEN, NOT_ASKED), 1)}
"""The number of each reason, on a sheet as in the window: teams write it, the office presses it."""


class PlaceState(StrEnum):
    """How a place stands in a visit."""

    SEEN = "seen"
    UNSEEN = "unseen"
    FOUND = "found"
    UNSAID = "unsaid"
    """An earlier record that says nothing of it."""


@dataclass(frozen=True, slots=True)
class PlaceLook:
    """A place in a visit: what was said of it."""

    bed: str
    """A bed's label; empty for a place of the room beside its beds."""
    place: Place
    state: PlaceState
    why: str = ""
    """Why it was not looked at."""
    signs: tuple[Sign, ...] = ()
    """What was found there."""

    @property
    def is_gap(self) -> bool:
        """Whether it was left though it was asked for."""
        return self.state is PlaceState.UNSAID or (
            self.state is PlaceState.UNSEEN and self.why != NOT_ASKED
        )


@dataclass(frozen=True, slots=True)
class UndersideCount:
    """Whether a bed's underside will count as looked at."""

    bed: BedNo
    counts: bool
    lacks: tuple[PlaceLook, ...]
    """Underside places not looked at, in looking order."""


def place_looks(house: House, look: RoomLook) -> tuple[PlaceLook, ...]:
    """Every place of a visit's beds in looking order, then the room's other places."""
    found: list[PlaceLook] = []
    for bed in look.beds:
        described = house.beds.get(bed.bed)
        if described is not None:
            kind = house.rules.bed_kinds[described.kind]
            places = kind.places_of(encased=described.encased)
            found += _stand(bed.bed, places, bed)
    found += _stand("", house.rules.room_places, look)
    return tuple(found)


def _stand(bed: str, places: Iterable[Place], told: BedLook | RoomLook) -> Iterator[PlaceLook]:
    why = dict(_parted(told.unseen))
    seen = set(told.seen)
    for place in places:
        signs = tuple(Sign(sign) for code, sign in _parted(told.found) if code == place.code)
        if signs:
            yield PlaceLook(bed, place, PlaceState.FOUND, signs=signs)
        elif place.code in why:
            yield PlaceLook(bed, place, PlaceState.UNSEEN, why[place.code])
        else:
            state = PlaceState.SEEN if place.code in seen else PlaceState.UNSAID
            yield PlaceLook(bed, place, state)


def _parted(texts: Iterable[str]) -> Iterator[tuple[str, str]]:
    for text in texts:
        code, _, said = text.partition(":")
        yield code, said


# --- saying it ------------------------------------------------------------------------


def look_at(look: RoomLook, bed: str, place: str) -> RoomLook:
    """The visit with one place looked at and nothing found there."""
    return _retold(look, bed, place, seen=True)


def leave(look: RoomLook, bed: str, place: str, why: str) -> RoomLook:
    """The visit with one place not looked at; what was found there is gone."""
    return leave_out(_retold(look, bed, place, seen=False), bed, place, why)


def find_signs(look: RoomLook, bed: str, place: str, signs: Iterable[Sign]) -> RoomLook:
    """The visit with just these signs at a place; none: looked at, nothing found."""
    return _retold(look, bed, place, seen=True, signs=tuple(signs))


def look_at_all(house: House, look: RoomLook, bed: str) -> RoomLook:
    """The visit with every place of a bed looked at; finds stay, and what is only for doubt.

    ``bed`` is empty for the room's other places.
    """
    told = look
    for one in place_looks(house, look):
        is_open = one.state in (PlaceState.UNSEEN, PlaceState.UNSAID)
        if one.bed != bed or not is_open:
            continue
        code = one.place.code
        if not one.place.optional:
            told = look_at(told, bed, code)
        elif one.state is PlaceState.UNSAID:
            told = leave(told, bed, code, NOT_ASKED)
    return told


def leave_all(house: House, look: RoomLook, why: str) -> RoomLook:
    """A visit that could not be made: nothing looked at for one reason, no minutes at a bed.

    What was found stays found, and looked at.
    """
    told = look
    for one in place_looks(house, look):
        if one.state is not PlaceState.FOUND:
            told = leave(told, one.bed, one.place.code, NOT_ASKED if one.place.optional else why)
    beds = (bed if bed.seen else replace(bed, minutes=0) for bed in told.beds)
    return replace(told, beds=tuple(beds))


def _retold(
    look: RoomLook, bed: str, place: str, *, seen: bool, signs: Sequence[Sign] = ()
) -> RoomLook:
    if not bed:
        return _tell(look, place, seen=seen, signs=signs)
    beds = tuple(
        _tell(one, place, seen=seen, signs=signs) if one.bed == bed else one for one in look.beds
    )
    return replace(look, beds=beds)


def _tell(told: T, place: str, *, seen: bool, signs: Sequence[Sign]) -> T:
    others: tuple[str, ...] = tuple(code for code in told.seen if code != place)
    return replace(
        told,
        seen=(*others, place) if seen else others,
        unseen=_without(told.unseen, place),
        found=(*_without(told.found, place), *(f"{place}:{sign}" for sign in signs)),
    )


def _without(told: Iterable[str], place: str) -> tuple[str, ...]:
    return tuple(text for text in told if text.partition(":")[0] != place)


def as_kind(house: House, look: RoomLook, kind: CheckKind) -> RoomLook:
    """The visit as another kind of check.

    A brief one asks for nothing that must be moved or lies underneath; turned into
    another kind, those places are looked at again. What a person said stays.
    """
    told = replace(look, kind=kind)
    for one in place_looks(house, look):
        code = one.place.code
        is_routine = not one.place.optional
        if kind is CheckKind.BRIEF and _is_hidden(one.place) and one.state is PlaceState.SEEN:
            told = leave(told, one.bed, code, NOT_ASKED)
        elif kind is not CheckKind.BRIEF and is_routine and one.why == NOT_ASKED:
            told = look_at(told, one.bed, code)
    return told


def _is_hidden(place: Place) -> bool:
    return place.underside or bool(place.move)


def reasons_for(look: RoomLook, place: Place) -> tuple[str, ...]:
    """Why this place may have been left, the likeliest reason first."""
    is_asked_for = not place.optional and look.kind is not CheckKind.BRIEF
    return WHY_UNSEEN if is_asked_for else (NOT_ASKED, *WHY_UNSEEN)


# --- before it is saved -----------------------------------------------------------------


def underside_counts(house: House, look: RoomLook) -> tuple[UndersideCount, ...]:
    """For each bed of a visit, whether its underside will count, and what it lacks."""
    places = place_looks(house, look)
    counts = []
    for bed in look.beds:
        described = house.beds.get(bed.bed)
        needed = underside_of(house, described) if described else None
        seen = set(bed.seen)
        lacks = tuple(
            one
            for one in places
            if one.bed == bed.bed
            and one.place.code in (needed or ())
            and one.place.code not in seen
        )
        counts.append(UndersideCount(bed.bed, bool(needed) and not lacks, lacks))
    return tuple(counts)


def people_needed(house: House, look: RoomLook) -> int:
    """How many must have been there to look at what was looked at."""
    done = (PlaceState.SEEN, PlaceState.FOUND)
    return max(
        (one.place.people for one in place_looks(house, look) if one.state in done), default=1
    )
