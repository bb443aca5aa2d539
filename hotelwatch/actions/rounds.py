"""Rounds: draft one, publish it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.facts import Fact, RoomNo, RoundPublished
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.records import Changes
from hotelwatch.core.rounds.plan import Plan, Wish
from hotelwatch.core.rounds.team_days import PUBLISHED_WHOLE
from hotelwatch.core.stays.openings import Occupancy


def wish_for(hotel: OpenHotel, days: int = 0, *, is_strict: bool = False) -> Wish:
    """What to plan: so many days from today; 0 takes the house's usual span."""
    span = days or int(hotel.house.rules.figures.plan_days.value)
    return Wish(hotel.today(), span, hotel.now(), is_strict)


def draft_round(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Plan:
    """The planner, brought in when it is first asked for: its arrays take their time to load.

    Where the hotel lets its rounds go by odds, rooms weigh by what a look saves there.
    """
    from hotelwatch.core.planning.planner import plan_rounds

    if house.choices.get("rounds_by") == "odds":
        wish = replace(wish, weights=weights_of(house, occupancy, wish.from_on))
    return replace(plan_rounds(house, occupancy, wish, progress), weights=wish.weights)


def weights_of(house: House, occupancy: Occupancy, today: date) -> Mapping[RoomNo, float]:
    """How much lateness weighs by room, as the odds of today say."""
    from hotelwatch.core.odds.hotel import reckon
    from hotelwatch.core.odds.weights import risk_weights

    around = neighbours(house, lay_out(house))
    return risk_weights(reckon(house, occupancy, around, today))


def publish_round(hotel: OpenHotel, plan: Plan, *, whole: bool = False) -> Changes:
    """Make a draft the round that teams follow; it replaces those days' slots.

    Its first day is promised as it stands, of later days what is firm: what is only
    likely is planned again on its morning. ``whole`` promises all of it, and the entry
    says so by its action.
    """
    if not hotel.house.teams:
        raise Refusal("no_team")

    def decide(house: House) -> Sequence[Fact]:
        published = RoundPublished(plan.from_on, plan.until_on)
        known = tuple(
            slot
            for day, slots in house.slots.items()
            if plan.from_on <= day <= plan.until_on
            for slot in slots
        )
        slots = plan.slots if whole else plan.promised
        wanted = sorted(slots, key=lambda slot: (slot.on, slot.team, slot.position))
        return () if known == tuple(wanted) else (published, *wanted)

    return hotel.record(decide, action=PUBLISHED_WHOLE if whole else "publish_round")
