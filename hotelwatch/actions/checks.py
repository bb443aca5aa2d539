"""Recording checks: what was looked at, what was not and why, what was found."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.cases import answer_in_turn
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.checks.looking import RoomLook, check_look, checked_facts, finds
from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.records import Changes


def record_looks(
    hotel: OpenHotel,
    looks: Sequence[RoomLook],
    *,
    corrects: int | None = None,
    note: str = "",
) -> Changes:
    """Write down visits as one entry; a find opens or joins its room's case at once.

    Raises Refusal, and writes nothing, where a look can't be true: an unknown
    bed or place, a day to come, or one person where two are needed.
    """
    today, now = hotel.today(), hotel.now()

    def decide(house: House) -> Sequence[Fact]:
        for look in looks:
            check_look(house, look, today=today)
        facts = [fact for look in looks for fact in checked_facts(look)]
        sighted = [one for look in looks for one in finds(look, now)]
        return [*facts, *answer_in_turn(hotel, house, sighted)]

    return hotel.record(decide, action="record_check", note=note, corrects=corrects)
