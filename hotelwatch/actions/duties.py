"""Duties of cases: who sees to them, and word that was given."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import NoticeGiven, OwnerNamed
from hotelwatch.core.cases.desk_duties import what_is_next_in
from hotelwatch.core.cases.notices import NOTICES
from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes


def give_notice(hotel: OpenHotel, given: NoticeGiven) -> Changes:
    """Write down that somebody was told.

    Refusal("unknown_case"), ("unknown_notice"), ("notice_needs_receiver"),
    ("moment_to_come").
    """
    if given.notice not in NOTICES:
        raise Refusal("unknown_notice", notice=given.notice, among=", ".join(NOTICES))
    if not given.to.strip():
        raise Refusal("notice_needs_receiver")
    if given.given_at > hotel.now():
        local = given.given_at.astimezone(hotel.zone)
        raise Refusal("moment_to_come", moment=local.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        if given.case not in house.sightings:
            raise Refusal("unknown_case", case=given.case)
        return [given]

    return hotel.record(decide, action="give_notice")


def name_owner(hotel: OpenHotel, named: OwnerNamed) -> Changes:
    """Say who sees to a duty of a case; an empty name takes it back.

    Refusal("unknown_case"), ("unknown_duty").
    """

    def decide(house: House) -> Sequence[Fact]:
        if named.case not in house.sightings:
            raise Refusal("unknown_case", case=named.case)
        occupied, now = hotel.occupancy(), hotel.now()
        known = {duty.step.code for duty in what_is_next_in(house, occupied, named.case, now)}
        if named.duty not in known:
            raise Refusal("unknown_duty", case=named.case, duty=named.duty)
        return [named]

    return hotel.record(decide, action="name_owner")
