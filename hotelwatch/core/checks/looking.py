"""One visit to a room, before it is written down: what was looked at, what not, what found."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from hotelwatch.core.beds import Place
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.clock_text import clock_said
from hotelwatch.core.facts import (
    Aid,
    BedChecked,
    BedNo,
    CaseNo,
    CheckKind,
    Fact,
    RoomChecked,
    RoomNo,
)
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal

NOT_ASKED = "not_asked"
"""Why a place of the long form was left: nobody asked for it."""
OTHER_REASON = "other"
"""Why a place was left: for what a note says, and says nothing without one."""


@dataclass(frozen=True, slots=True)
class BedLook:
    """What was looked at on one bed."""

    bed: BedNo
    seen: tuple[str, ...]
    unseen: tuple[str, ...] = ()
    """Each as "place:why"."""
    found: tuple[str, ...] = ()
    """Each as "place:sign"."""
    minutes: int = 0
    noted: str = ""


@dataclass(frozen=True, slots=True)
class RoomLook:
    """One visit to a room: who, when, and what of its beds and other places."""

    room: RoomNo
    checked_on: date
    kind: CheckKind
    by: tuple[str, ...]
    beds: tuple[BedLook, ...]
    seen: tuple[str, ...] = ()
    unseen: tuple[str, ...] = ()
    found: tuple[str, ...] = ()
    asked_by: str = ""
    noted: str = ""
    found_at: datetime | None = None
    """When a find was made; the moment of recording if not said."""
    from_clock: str = ""
    """When the visit began, hotel's clock, "HH:MM"; empty: not said."""
    until_clock: str = ""
    aids: tuple[str, ...] = ()
    """Codes of Aid; empty: not said."""
    form_version: int = 0
    """Of the form that was filled in, see Rules; 0: not said."""


def full_look(
    house: House, room: RoomNo, *, on: date, by: tuple[str, ...], kind: CheckKind
) -> RoomLook:
    """A visit in which every place was looked at but those of the long form, on today's form.

    Minutes are what the kind of bed is planned with. Raises Refusal("unknown_room").
    """
    if room not in house.rooms:
        raise Refusal("unknown_room", room=room)
    beds = []
    for bed in house.beds_of(room):
        kind_of_bed = house.rules.bed_kinds[bed.kind]
        seen, unseen = _routine(kind_of_bed.places_of(encased=bed.encased))
        minutes = kind_of_bed.minutes_of(encased=bed.encased)
        beds.append(BedLook(bed.bed, seen, unseen, minutes=minutes))
    seen, unseen = _routine(house.rules.room_places)
    version = house.rules.form_version
    return RoomLook(room, on, kind, by, tuple(beds), seen, unseen, form_version=version)


def _routine(places: Sequence[Place]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    seen = tuple(place.code for place in places if not place.optional)
    unseen = tuple(f"{place.code}:{NOT_ASKED}" for place in places if place.optional)
    return seen, unseen


def leave_out(look: RoomLook, bed: str, place: str, why: str) -> RoomLook:
    """The visit with one place not looked at; ``bed`` is empty for a place of the room."""
    if not bed:
        seen = tuple(code for code in look.seen if code != place)
        return replace(look, seen=seen, unseen=_with(look.unseen, place, why))
    beds = tuple(
        replace(
            one,
            seen=tuple(code for code in one.seen if code != place),
            unseen=_with(one.unseen, place, why),
        )
        if one.bed == bed
        else one
        for one in look.beds
    )
    return replace(look, beds=beds)


def find(look: RoomLook, bed: str, place: str, sign: Sign) -> RoomLook:
    """The visit with a sign found at a place, which was looked at, then."""
    if not bed:
        return replace(
            look,
            seen=_once(look.seen, place),
            unseen=_without(look.unseen, place),
            found=(*look.found, f"{place}:{sign}"),
        )
    beds = tuple(
        replace(
            one,
            seen=_once(one.seen, place),
            unseen=_without(one.unseen, place),
            found=(*one.found, f"{place}:{sign}"),
        )
        if one.bed == bed
        else one
        for one in look.beds
    )
    return replace(look, beds=beds)


def _once(codes: tuple[str, ...], place: str) -> tuple[str, ...]:
    return codes if place in codes else (*codes, place)


def _without(told: tuple[str, ...], place: str) -> tuple[str, ...]:
    return tuple(text for text in told if text.partition(":")[0] != place)


def _with(told: tuple[str, ...], place: str, why: str) -> tuple[str, ...]:
    return (*_without(told, place), f"{place}:{why}")


# --- may it be written down? ------------------------------------------------------------


def check_look(house: House, look: RoomLook, *, today: date) -> None:
    """Refusal where a look can't be true; its values name the bed and the place."""
    if look.room not in house.rooms:
        raise Refusal("unknown_room", room=look.room)
    if look.checked_on > today:
        raise Refusal("day_to_come", day=look.checked_on.isoformat())
    if not look.by or not all(name.strip() for name in look.by):
        raise Refusal("who_looked_missing", room=look.room)
    if twice := named_twice(look.by):
        raise Refusal("named_twice", name=twice, room=look.room)
    _check_visit(look)
    check_form_version(house, look.form_version)
    if look.asked_by and look.asked_by not in house.sightings:
        raise Refusal("unknown_case", case=look.asked_by)
    if not look.beds and not (look.seen or look.unseen or look.found):
        raise Refusal("nothing_looked_at", room=look.room)
    for bed in look.beds:
        described = house.beds.get(bed.bed)
        if described is None or described.room != look.room:
            raise Refusal("unknown_bed", bed=bed.bed, room=look.room)
        kind = house.rules.bed_kinds[described.kind]
        places = kind.places_of(encased=described.encased)
        _check_places(bed.bed, places, bed, people=len(look.by))
    _check_places(look.room, house.rules.room_places, look, people=len(look.by))
    _check_other_reason(look)


def check_form_version(house: House, version: int) -> None:
    """Refusal("unknown_form_version") for a form that this program has not had yet."""
    newest = house.rules.form_version
    if not 0 <= version <= newest:
        raise Refusal("unknown_form_version", version=str(version), newest=str(newest))


def _check_visit(look: RoomLook) -> None:
    """From when to when, and with what, as far as it was said."""
    begun, ended = clock_said(look.from_clock), clock_said(look.until_clock)
    if begun and ended and ended < begun:
        raise Refusal("clock_goes_back", from_clock=begun, until_clock=ended)
    if lost := sorted(set(look.aids) - set(Aid)):
        raise Refusal("unknown_aid", aid=lost[0])


def named_twice(names: Iterable[str]) -> str:
    """A name that stands there twice, in whatever case: one person is not two. Else empty."""
    known: set[str] = set()
    for name in names:
        folded = " ".join(name.split()).casefold()
        if folded in known:
            return name
        known.add(folded)
    return ""


def _check_places(
    where: str, places: Iterable[Place], told: BedLook | RoomLook, *, people: int
) -> None:
    known = {place.code: place for place in places}
    not_seen = [text.partition(":")[0] for text in told.unseen]
    found_at = [text.partition(":")[0] for text in told.found]
    for code in (*told.seen, *not_seen, *found_at):
        if code not in known:
            raise Refusal("unknown_place", where=where, place=code)
    _check_contradictions(where, told.seen, not_seen, found_at)
    for text in told.unseen:
        if not text.partition(":")[2]:
            raise Refusal("why_not_seen_missing", where=where, place=text)
    for text in told.found:
        if text.partition(":")[2] not in set(Sign):
            raise Refusal("unknown_sign", where=where, sign=text.partition(":")[2])
    for code in told.seen:
        if known[code].people > people:
            needed = str(known[code].people)
            raise Refusal("needs_two_people", where=where, place=code, people=needed)


def _check_other_reason(look: RoomLook) -> None:
    told = [(str(bed.bed), bed.unseen, bed.noted) for bed in look.beds]
    for where, unseen, noted in (*told, (str(look.room), look.unseen, "")):
        for text in unseen:
            place, _, why = text.partition(":")
            if why == OTHER_REASON and not (look.noted.strip() or noted.strip()):
                raise Refusal("other_reason_needs_note", where=where, place=place)


def _check_contradictions(
    where: str, seen: Iterable[str], not_seen: Iterable[str], found_at: Iterable[str]
) -> None:
    if both := sorted(set(seen) & set(not_seen)):
        raise Refusal("seen_and_not_seen", where=where, place=both[0])
    if lost := sorted(set(found_at) - set(seen)):
        raise Refusal("found_but_not_seen", where=where, place=lost[0])


# --- as facts ------------------------------------------------------------------------


def checked_facts(look: RoomLook) -> tuple[Fact, ...]:
    """The check as facts; finds are told apart by ``finds``."""
    beds = tuple(
        BedChecked(
            bed=bed.bed,
            room=look.room,
            checked_on=look.checked_on,
            kind=look.kind,
            by=look.by,
            minutes=bed.minutes,
            seen=bed.seen,
            unseen=bed.unseen,
            found=bed.found,
            asked_by=look.asked_by,
            noted=bed.noted,
            from_clock=clock_said(look.from_clock),
            until_clock=clock_said(look.until_clock),
            aids=look.aids,
            form_version=look.form_version,
        )
        for bed in look.beds
    )
    if not (look.seen or look.unseen or look.found or look.noted):
        return beds
    room = RoomChecked(
        room=look.room,
        checked_on=look.checked_on,
        kind=look.kind,
        by=look.by,
        seen=look.seen,
        unseen=look.unseen,
        found=look.found,
        asked_by=look.asked_by,
        noted=look.noted,
        from_clock=clock_said(look.from_clock),
        until_clock=clock_said(look.until_clock),
        aids=look.aids,
        form_version=look.form_version,
    )
    return (*beds, room)


def finds(look: RoomLook, at: datetime) -> tuple[Sighted, ...]:
    """A sighting, not yet of any case, for each sign found."""
    told = [(bed.bed, text) for bed in look.beds for text in bed.found]
    told += [(BedNo(""), text) for text in look.found]
    return tuple(
        Sighted(
            case=CaseNo(""),
            room=look.room,
            bed=bed,
            place=text.partition(":")[0],
            sign=Sign(text.partition(":")[2]),
            count=0,
            seen_by=", ".join(look.by),
            seen_at=look.found_at or at,
            noted=look.noted,
        )
        for bed, text in told
    )
