"""Recording checks: what was looked at, what was not and why, what was found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from hotelwatch.actions.cases import answer_in_turn
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted
from hotelwatch.core.checks.looking import (
    RoomLook,
    check_look,
    checked_facts,
    finds,
)
from hotelwatch.core.checks.recorded import facts_of_entry, look_of_entry, moved_on
from hotelwatch.core.clock_text import clock_said
from hotelwatch.core.days import local_day, moment_of
from hotelwatch.core.facts import BedChecked, CaseNo, Fact, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes


def record_looks(hotel: OpenHotel, looks: Sequence[RoomLook]) -> Changes:
    """Write down visits as one entry; a find opens or joins its room's case at once.

    Raises Refusal, and writes nothing, where a look can't be true: an unknown
    bed or place, a day or moment to come, or one person where two are needed.
    """
    today, now = hotel.today(), hotel.now()

    def decide(house: House) -> Sequence[Fact]:
        for look in looks:
            check_look(house, look, today=today)
            _check_moment(hotel, look, now)
        facts = [fact for look in looks for fact in checked_facts(look)]
        sighted = [one for look in looks for one in finds(look, now)]
        return [*facts, *answer_in_turn(hotel, house, sighted)]

    return hotel.record(decide, action="record_check")


def correct_look(hotel: OpenHotel, entry: int, look: RoomLook, *, reason: str) -> Changes:
    """Write a room's look of an earlier entry anew; its looks at other rooms stay.

    A find keeps its case and its moment. Raises Refusal("case_moved_on") where more
    was written down of a case that the entry opened, or an asked look was made: it
    would all have to be done again.
    """
    today, now = hotel.today(), hotel.now()

    def decide(house: House) -> Sequence[Fact]:
        look_of_entry(house, entry, look.room)
        if cases := moved_on(house, entry):
            raise Refusal("case_moved_on", entry=str(entry), case=", ".join(cases))
        # A room that only this entry closed would else seem to be closed already.
        left = house.without(entry)
        check_look(left, look, today=today)
        _check_moment(hotel, look, now)
        before = facts_of_entry(house, entry)
        others = [fact for fact in before if getattr(fact, "room", "") != look.room]
        stay = [fact for fact in others if isinstance(fact, BedChecked | RoomChecked)]
        sighted = [fact for fact in others if isinstance(fact, Sighted)]
        sighted += _found(look, before, now)
        return [*stay, *checked_facts(look), *answer_in_turn(hotel, left, sighted)]

    return hotel.record(decide, action="record_check", note=reason, corrects=entry)


# --- what a find sets going ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SetGoing:
    """What the finds of a visit set going; empty without a find."""

    cases: tuple[CaseNo, ...] = ()
    joined: tuple[CaseNo, ...] = ()
    """Those of them that were open before."""
    quarantine: tuple[RoomNo, ...] = ()
    to_look_at: tuple[RoomNo, ...] = ()
    """The room itself and its neighbours."""
    by_at: datetime | None = None
    """By when they are to be looked at."""


def preview_finds(hotel: OpenHotel, look: RoomLook, *, corrects: int | None = None) -> SetGoing:
    """What a visit's finds would set going, were it written down now."""
    house, now = hotel.house, hotel.now()
    replaced = () if corrects is None else facts_of_entry(house, corrects)
    left = house if corrects is None else house.without(corrects)
    facts = answer_in_turn(hotel, left, _found(look, replaced, now))
    return _set_going(facts, frozenset(left.sightings))


def set_going_by(hotel: OpenHotel, entry: int) -> SetGoing:
    """What an entry set going."""
    before = (case for case, rows in hotel.house.sightings.items() if rows[0].entry < entry)
    return _set_going(facts_of_entry(hotel.house, entry), frozenset(before))


def _set_going(facts: Sequence[Fact], before: frozenset[CaseNo]) -> SetGoing:
    cases = tuple(dict.fromkeys(fact.case for fact in facts if isinstance(fact, Sighted)))
    asked = [fact for fact in facts if isinstance(fact, CheckAsked)]
    closed = [fact.room for fact in facts if isinstance(fact, QuarantinePlaced)]
    return SetGoing(
        cases=cases,
        joined=tuple(case for case in cases if case in before),
        quarantine=tuple(dict.fromkeys(closed)),
        to_look_at=tuple(dict.fromkeys(fact.room for fact in asked)),
        by_at=min((fact.by_at for fact in asked), default=None),
    )


def _found(look: RoomLook, replaced: Sequence[Fact], now: datetime) -> list[Sighted]:
    """The finds of a look; what it replaces has given them their case."""
    cases = {fact.room: fact.case for fact in replaced if isinstance(fact, Sighted)}
    return [replace(one, case=cases.get(one.room, one.case)) for one in finds(look, now)]


def _check_moment(hotel: OpenHotel, look: RoomLook, now: datetime) -> None:
    """A find is of the check's day: deadlines and the quarantine count from its moment."""
    day = look.checked_on.isoformat()
    for clock in filter(None, map(clock_said, (look.from_clock, look.until_clock))):
        if (at := moment_of(look.checked_on, clock, hotel.zone)) > now:
            raise Refusal("visit_to_come", moment=at.astimezone(hotel.zone).isoformat())
    if look.found_at is None:
        if look.checked_on < hotel.today() and finds(look, now):
            raise Refusal("moment_of_find_missing", room=look.room, day=day)
        return
    if look.found_at > now:
        local = look.found_at.astimezone(hotel.zone)
        raise Refusal("moment_to_come", moment=local.isoformat())
    if local_day(look.found_at, hotel.zone) != look.checked_on:
        raise Refusal("found_on_another_day", room=look.room, day=day)
