"""Nights that front desk said it keeps free, held against the bookings loaded since."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from hotelwatch.core.facts import StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.stays.agreed import AskedNight, asked_nights
from hotelwatch.core.stays.openings import Occupancy


def nights_as_booked(house: House, occupancy: Occupancy, from_on: date) -> tuple[AskedNight, ...]:
    """Nights asked for from a day on, by night and room; those kept and sold all the same said.

    A booking that front desk has yet to move breaks no word until bookings are loaded anew.
    """
    loaded = max((row.entry for row in house.kept_of(StaysImported)), default=0)

    def is_sold(one: AskedNight) -> bool:
        is_loaded_since = loaded > one.answer_entry
        return bool(one.is_kept) and is_loaded_since and occupancy.is_given(one.room, one.night)

    return tuple(replace(one, is_sold=is_sold(one)) for one in asked_nights(house, from_on))


def sold_nights(house: House, occupancy: Occupancy, from_on: date) -> tuple[AskedNight, ...]:
    """Nights said to be kept free on which a booking was given the room all the same."""
    return tuple(one for one in nights_as_booked(house, occupancy, from_on) if one.is_sold)
