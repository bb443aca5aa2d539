"""Corrections: an entry that replaces an earlier one, with the reason for it."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.cases.response import left_without_sign, still_wanted
from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes

STANDING = frozenset(
    {
        "describe_hotel",
        "load_roster",
        "import_stays",
        "close_month",
        "take_back",
        "restore_record",
        "expire",
        "expire_in_copy",
    }
)
"""Actions on which all that came later stands.

A hotel without its name, time zone or rooms can't be read, bookings are kept beside the
entries, a closed month stays closed, an entry taken back stays taken back, and what is gone
is gone.
"""


def take_back(hotel: OpenHotel, entry: int, *, reason: str) -> Changes:
    """Let an entry's facts count no more; they stay in the file, and so does the reason.

    Where the entry began a case that has another sign by now, its rooms stay closed and
    its neighbours stay asked for: what that sign wants is written down with the taking back.
    Where its case has no sign any more, rooms that another entry had closed for it are
    given back in the person's name.

    Refusal("not_to_be_taken_back") where everything after it stands on the entry.
    """

    def decide(house: House) -> Sequence[Fact]:
        told = house.entries.get(entry)
        if told is not None and told.action in STANDING:
            raise Refusal("not_to_be_taken_back", entry=str(entry), action=told.action)
        wanted = still_wanted(house, hotel.neighbours(house), entry)
        freed = left_without_sign(house, entry, at=hotel.now(), by=hotel.by, reason=reason)
        return (*wanted, *freed)

    return hotel.record(decide, action="take_back", note=reason, corrects=entry)
