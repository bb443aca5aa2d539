"""A half-entered check as plain values, to be kept in a file and taken up again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, replace
from datetime import date, datetime
from typing import Any

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.checks.looking import BedLook, RoomLook
from hotelwatch.core.facts import BedNo, CheckKind, RoomNo
from hotelwatch.screens.checks.draft import Draft, draft_of_entry, new_draft


def values_of(draft: Draft) -> dict[str, Any]:
    """A draft as values that JSON can hold."""
    look = draft.look
    return {
        "corrects": draft.corrects,
        "reason": draft.reason,
        "look": {
            **asdict(look),
            "checked_on": look.checked_on.isoformat(),
            "kind": look.kind.value,
            "found_at": look.found_at.isoformat() if look.found_at else None,
        },
    }


def draft_from(hotel: OpenHotel, values: Mapping[str, Any]) -> Draft:
    """The draft that such values tell of, begun anew on the house as it is now.

    Refusal where its room or its entry is no longer there. ValueError where the values are
    not those of a check.
    """
    try:
        look, corrects = _look(values["look"]), values.get("corrects")
        reason = str(values.get("reason", ""))
        number = None if corrects is None else int(corrects)
    except (AttributeError, KeyError, TypeError) as problem:
        raise ValueError("not the values of a check") from problem
    if number is None:
        begun = new_draft(hotel, look.room, look.by)
    else:
        begun = draft_of_entry(hotel, number, look.room)
    return replace(begun, look=look, reason=reason)


def _look(values: Mapping[str, Any]) -> RoomLook:
    found_at = values["found_at"]
    return RoomLook(
        room=RoomNo(values["room"]),
        checked_on=date.fromisoformat(values["checked_on"]),
        kind=CheckKind(values["kind"]),
        by=_texts(values["by"]),
        beds=tuple(_bed(bed) for bed in values["beds"]),
        seen=_texts(values["seen"]),
        unseen=_texts(values["unseen"]),
        found=_texts(values["found"]),
        asked_by=str(values["asked_by"]),
        noted=str(values["noted"]),
        found_at=datetime.fromisoformat(found_at) if found_at else None,
        from_clock=str(values.get("from_clock", "")),
        until_clock=str(values.get("until_clock", "")),
        aids=_texts(values.get("aids", ())),
        form_version=int(values.get("form_version", 0)),
    )


def _bed(values: Mapping[str, Any]) -> BedLook:
    return BedLook(
        bed=BedNo(values["bed"]),
        seen=_texts(values["seen"]),
        unseen=_texts(values["unseen"]),
        found=_texts(values["found"]),
        minutes=int(values["minutes"]),
        noted=str(values["noted"]),
    )


def _texts(values: object) -> tuple[str, ...]:
    """A list of texts; TypeError for anything else, a single text too."""
    if not isinstance(values, list | tuple) or not all(isinstance(one, str) for one in values):
        raise TypeError("a list of texts is wanted")
    return tuple(values)
