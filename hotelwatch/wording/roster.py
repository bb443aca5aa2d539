"""What loading a roster would change, in sentences."""

from __future__ import annotations

from hotelwatch.core.building.roster import RosterChange
from hotelwatch.wording.language import _, join
from hotelwatch.wording.language import marked as m

FIELDS = {
    "floor": m("floor"),
    "level": m("place of its floor"),
    "wing": m("wing"),
    "side": m("side of the corridor"),
    "order": m("order along the corridor"),
    "room_type": m("room type"),
    "connects_to": m("connecting door"),
    "suite": m("suite"),
    "width_m": m("width"),
    "in_use": m("in use again"),
}

BEDS = {
    "bed_added": m("bed {bed} is new"),
    "bed_gone": m("bed {bed} is gone"),
    "bed_kind": m("kind of bed {bed}"),
    "bed_encased": m("encasement of bed {bed}"),
}


def roster_change_sentence(change: RosterChange) -> str:
    """What happens to one room: "Room 101 changes: room type and bed 101/B is new."."""
    if change.kind == "added":
        return _("Room {room} is new.").format(room=change.room)
    if change.kind == "gone":
        return _("Room {room} is gone from the roster.").format(room=change.room)
    told = join([_part(code) for code in change.what])
    return _("Room {room} changes: {what}.").format(room=change.room, what=told)


def _part(code: str) -> str:
    name, _colon, bed = code.partition(":")
    return _(BEDS[name]).format(bed=bed) if bed else _(FIELDS[name])
