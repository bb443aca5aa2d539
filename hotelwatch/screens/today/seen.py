"""What of the day concerns who sits at the desk: a housekeeper the sheets, a manager the whole."""

from __future__ import annotations

from dataclasses import replace

from hotelwatch.core.cases.duties import Role
from hotelwatch.core.roles import Sight
from hotelwatch.core.whole.day import DayPicture, LateKind, Part
from hotelwatch.screens.at_hand.context import Context

LOOKS = frozenset(
    {
        LateKind.AGREED_BROKEN,
        LateKind.LOOK_MISSED,
        LateKind.NOT_PLANNED,
        LateKind.UNDERSIDE_OVERDUE,
        LateKind.SOONER_MISSED,
    }
)


def seen(told: DayPicture, context: Context) -> DayPicture:
    """The day without what is none of their business.

    Who sees the months sees everybody's duties; others those of teams where they look at beds
    themselves, those of the firm where they do not, and those that bear their name.
    """
    looks, sheets = context.sees(Sight.CHECKS), context.sees(Sight.ROUNDS)
    parts = tuple(part for part in told.parts if _concerns(part, context))
    duties = {id(duty) for part in parts for duty in part.duties}
    return replace(
        told,
        rooms=told.rooms if looks else (),
        teams=told.teams if sheets else (),
        parts=parts,
        closed=told.closed if context.sees(Sight.CASES) else (),
        late=tuple(
            one
            for one in told.late
            if (looks if one.kind in LOOKS else one.duty is not None and id(one.duty) in duties)
        ),
    )


def _concerns(part: Part, context: Context) -> bool:
    if context.sees(Sight.MONTH) or part.owner == context.hotel.by:
        return True
    return part.role is (Role.TEAM if context.sees(Sight.CHECKS) else Role.FIRM)
