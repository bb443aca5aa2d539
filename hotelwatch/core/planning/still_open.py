"""How likely a room that today's bookings leave open will be open still when its day comes.

Where a known stay begins or ends, it is, whoever else is booked. In a gap between stays
somebody may come to stay over the day: the farther ahead, the more the room is like any
other of the house on any other day.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from hotelwatch.core.planning.problem import Claims, Floats
from hotelwatch.core.rounds.visits import View, Visit

AT_AN_EDGE = 0.97
"""Where a known stay begins or ends: some leave later than booked. An assumption, as is the
next one; both were chosen on invented hotels."""
BOOKED_DAYS = 6.0
"""Days ahead up to which two thirds of what will be booked into a gap are still to come."""
ONE_DAY = timedelta(days=1)


def still_open(is_edge: Claims, usually: float) -> Floats:
    """The chance of each room on each day, if it is open as known today (R, H).

    ``is_edge`` (R, H): a known stay begins or ends then. ``usually``: the share of all days on
    which rooms are open. The first day is certain.
    """
    days = np.arange(is_edge.shape[1])
    in_gap = usually + (1 - usually) * np.exp(-days / BOOKED_DAYS)
    found: Floats = np.where(is_edge, AT_AN_EDGE, in_gap[None, :])
    found[:, :1] = 1.0
    return found


def edges(view: View, visits: Sequence[Visit]) -> Claims:
    """On which days a stay begins or ends in each visit's room (R, H).

    In a room that front desk gave; or its guest agreed to a look.
    """
    found = np.zeros((len(visits), len(view.days)), bool)
    first, occupancy = view.days[0], view.occupancy
    for row, visit in enumerate(visits):
        for stay in occupancy.stays_from(visit.room, first - ONE_DAY):
            if stay.booking not in occupancy.provisional:
                for day in (stay.arrives_on, stay.leaves_on):
                    if first <= day <= view.days[-1]:
                        found[row, (day - first).days] = True
        if (agreed_on := view.agreed_on(visit.room)) is not None:
            found[row, (agreed_on - first).days] = True
    return found
