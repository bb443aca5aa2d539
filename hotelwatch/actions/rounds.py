"""Rounds: draft one, publish it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.checks.sheet import of_beds
from hotelwatch.core.checks.slots import beds_to_come
from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import Fact, RoomNo, RoundPublished
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.records import Changes
from hotelwatch.core.rounds.plan import Plan, Wish
from hotelwatch.core.rounds.team_days import Round, published_round
from hotelwatch.core.stays.openings import Occupancy


def wish_for(hotel: OpenHotel, days: int = 0, *, is_strict: bool = False) -> Wish:
    """What to plan: so many days from today; 0 takes the house's usual span."""
    span = days or int(hotel.house.rules.figures.plan_days.value)
    return Wish(hotel.today(), span, hotel.now(), is_strict)


def draft_round(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Plan:
    """The planner, brought in when it is first asked for: its arrays take their time to load."""
    from hotelwatch.core.planning.planner import plan_rounds

    wish = weighed(house, occupancy, wish)
    return replace(plan_rounds(house, occupancy, wish, progress), weights=wish.weights)


def weighed(house: House, occupancy: Occupancy, wish: Wish) -> Wish:
    """A wish as the hotel wants it planned; whoever plans, tries or explains asks for it.

    Where the hotel lets its rounds go by odds, rooms weigh by what a look saves there.
    """
    if wish.weights or house.choices.get("rounds_by") != "odds":
        return wish
    return replace(wish, weights=weights_of(house, occupancy, wish.from_on))


def weights_of(house: House, occupancy: Occupancy, today: date) -> Mapping[RoomNo, float]:
    """How much lateness weighs by room, as the odds of today say."""
    from hotelwatch.core.odds.hotel import reckon
    from hotelwatch.core.odds.weights import risk_weights

    around = neighbours(house, lay_out(house))
    return risk_weights(reckon(house, occupancy, around, today))


def publish_round(hotel: OpenHotel, plan: Plan, *, whole: bool = False) -> Changes:
    """Make a draft the round that teams follow; it replaces those days' slots.

    Its first day is promised as it stands, of later days what is firm: what is only
    likely is planned again on its morning. ``whole`` promises all of it. A bed that stood on
    a sheet after those days leaves it; whether such a day is whole stays as it was. Nothing
    is written where the same was published already, on the first day's own morning.
    """
    if not hotel.house.teams:
        raise Refusal("no_team")
    today = hotel.today()

    def decide(house: House) -> Sequence[Fact]:
        slots = plan.slots if whole else plan.promised
        wanted = sorted(slots, key=lambda slot: (slot.on, slot.team, slot.position))
        later = _left_later(
            house, plan.until_on, {bed for slot in wanted for bed in beds_to_come(house, slot)}
        )
        told = published_round(house, plan.from_on, plan.until_on)
        if not later and told.slots == tuple(wanted) and _is_told(house, told, today, whole=whole):
            return ()
        return (RoundPublished(plan.from_on, plan.until_on, whole), *wanted, *later)

    return hotel.record(decide, action="publish_whole_round" if whole else "publish_round")


def _is_told(house: House, told: Round, today: date, *, whole: bool) -> bool:
    """Whether its days were published in this way, a day that has begun not before it began."""
    days = set(days_from(told.from_on, (told.until_on - told.from_on).days + 1))
    if not days <= told.entries.keys() or (whole and not days <= told.whole):
        return False
    began = min(told.from_on, today)
    return local_day(told.entries[told.from_on].recorded_at, house.zone) >= began


def _left_later(house: House, last: date, planned: Collection[str]) -> Sequence[Fact]:
    """The sheets after a day anew, without beds that are planned before; none if none has one."""
    facts: list[Fact] = []
    for day, slots in house.slots.items():
        if day <= last or not any(set(slot.beds) & set(planned) for slot in slots):
            continue
        told = published_round(house, day, day)
        facts.append(RoundPublished(day, day, is_whole=day in told.whole))
        for slot in slots:
            left = set(slot.beds).difference(planned)
            if left or not slot.beds:
                facts.append(of_beds(house, slot, left))
    return facts
