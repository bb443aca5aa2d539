"""A dog's visit written down: each alert asks for a look at its room, nothing counts as one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hotelwatch.actions.cases import answer_in_turn
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.facts import CaseNo, Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.core.treatment_facts import DogVisit


def record_dog_visit(hotel: OpenHotel, visit: DogVisit) -> Changes:
    """Write down where a dog was led and where it alerted, as one entry.

    Each alert is a weak sign of its room: it joins the room's open case or opens one, closes
    the room on suspicion and asks for a look. Refusal("firm_needs_name"),
    ("dog_needs_rooms"), ("unknown_room"), ("alert_elsewhere") where the dog was not led,
    ("moment_to_come"), ("who_led_missing").
    """
    if not visit.firm.strip():
        raise Refusal("firm_needs_name")
    if not visit.by.strip():
        raise Refusal("who_led_missing")
    if not visit.rooms:
        raise Refusal("dog_needs_rooms")
    if visit.visited_at > hotel.now():
        local = visit.visited_at.astimezone(hotel.zone)
        raise Refusal("moment_to_come", moment=local.isoformat())
    if lost := [room for room in visit.alerts if room not in visit.rooms]:
        raise Refusal("alert_elsewhere", room=lost[0])
    told = replace(
        visit,
        rooms=tuple(dict.fromkeys(visit.rooms)),
        alerts=tuple(dict.fromkeys(visit.alerts)),
    )

    def decide(house: House) -> Sequence[Fact]:
        if strange := [room for room in told.rooms if room not in house.rooms]:
            raise Refusal("unknown_room", room=strange[0])
        signs = [_sign(told, RoomNo(room)) for room in told.alerts]
        return [told, *answer_in_turn(hotel, house, signs)]

    return hotel.record(decide, action="record_dog_visit")


def _sign(visit: DogVisit, room: RoomNo) -> Sighted:
    return Sighted(
        case=CaseNo(""),
        room=room,
        bed="",
        place="",
        sign=Sign.DOG_ALERT,
        count=0,
        seen_by=visit.handler or visit.by,
        seen_at=visit.visited_at,
        noted=visit.firm,
    )
