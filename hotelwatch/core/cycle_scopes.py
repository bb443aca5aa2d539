"""Whose choices of a cycle a room may follow, the narrowest first."""

from __future__ import annotations

from hotelwatch.core.facts import Risk, RoomDescribed, RoomNo, Scope


def cycle_scopes(
    room: RoomNo, described: RoomDescribed | None, risk: Risk
) -> tuple[tuple[Scope, str], ...]:
    """The room's own, its risk's, its type's, the hotel's: scope and which of it."""
    return (
        (Scope.ROOM, room),
        (Scope.RISK, risk),
        (Scope.ROOM_TYPE, described.room_type if described else ""),
        (Scope.HOUSE, ""),
    )
