"""A case's ring in sentences: why a room is in it, how it stands, whether it still grows."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, tzinfo
from zoneinfo import ZoneInfo

from hotelwatch.core.cases.ring import Ring
from hotelwatch.core.cases.ring_growth import FloorOffer, Growth
from hotelwatch.core.cases.ring_rooms import Reason, RingRoom, RoomState
from hotelwatch.wording.dates import clock_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import neighbour_reasons


def reasons_text(reasons: Iterable[Reason]) -> str:
    """Every reason of a room, by the room because of which it is asked for."""
    codes: dict[str, list[str]] = {}
    for reason in reasons:
        codes.setdefault(reason.source, []).append(reason.code)
    return join([neighbour_reasons(of_source, source=room) for room, of_source in codes.items()])


def why_text(row: RingRoom) -> str:
    """Every reason of a room, and which other cases the same look serves."""
    said = reasons_text(row.reasons)
    if not row.serves:
        return said
    return _("{why}; the same look serves case {cases}").format(
        why=said, cases=join(list(row.serves))
    )


def state_text(row: RingRoom) -> str:
    """How a room stands, with the day of its look where there was one."""
    if row.is_centre and row.is_open:
        return _("Sign found, to be looked at")
    if row.state is RoomState.LEFT_OVER:
        said = ngettext("{n} bed left over", "{n} beds left over", row.beds_left)
        return said.format(n=row.beds_left)
    if row.looked_on is None:
        return label(row.state)
    day = short_day_text(row.looked_on)
    if row.state is RoomState.CLEAN:
        return _("Nothing found on {day}").format(day=day)
    if row.state is RoomState.NOT_ASKED:
        return _("Looked at on {day}, before a later sign").format(day=day)
    return label(row.state)


def by_when_text(row: RingRoom, zone: tzinfo | str, *, now: datetime) -> str:
    """By when a room is to be looked at; late ones say so; empty where nothing is open."""
    if not row.is_open:
        return ""
    local = row.by_at.astimezone(ZoneInfo(zone) if isinstance(zone, str) else zone)
    said = f"{short_day_text(local.date())}, {clock_text(row.by_at, zone)}"
    return _("Late: {moment}").format(moment=said) if row.is_late(now) else said


def growth_sentence(ring: Ring) -> str:
    """Whether a ring still grows, and by which rule it has stopped."""
    left, rooms = int(ring.values["left"]), int(ring.values["rooms"])
    if ring.growth is Growth.NO_CENTRE:
        return _("A weak sign asks for its own room only: there is no ring around it.")
    if ring.growth is Growth.CALLED_OFF:
        return _("A competent person judged that it was no bed bug: nothing more is asked for.")
    if ring.growth is Growth.CLEAN_AS_ASKED:
        return _(
            "Nothing was found in the rooms asked for, but this is no whole ring: {struck} left"
            " out by a person."
        ).format(struck=join(list(ring.values["struck"])))
    if ring.growth is Growth.CLEAN_RING:
        said = ngettext(
            "The ring has stopped growing: {n} room around every sign was looked at, nothing found."
            " That is no proof that nothing is there.",
            "The ring has stopped growing: {n} rooms around every sign were looked at, nothing"
            " found. That is no proof that nothing is there.",
            rooms,
        )
        return said.format(n=rooms)
    goes_on = ngettext(
        "The ring goes on: {n} room is still to be looked at, and a find there makes it grow.",
        "The ring goes on: {n} rooms are still to be looked at, and each find makes it grow.",
        left,
    ).format(n=left)
    return " ".join([goes_on, *map(offer_sentence, ring.floors)])


def offer_sentence(offer: FloorOffer) -> str:
    """That a floor may as well be looked at as a whole."""
    return _(
        "It covers {asked} of the {rooms} rooms of floor {floor}: better look at the whole floor."
    ).format(asked=offer.asked, rooms=offer.rooms, floor=offer.floor)
