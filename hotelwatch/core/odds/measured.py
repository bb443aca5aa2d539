"""The figures that count: assumed ones, with what the hotel's own record says in their place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hotelwatch.core.house import House
from hotelwatch.core.odds.cycles.cycle import detection, eyes_of
from hotelwatch.core.odds.cycles.cycle_hotel import circumstances_of, now_of, usual_room
from hotelwatch.core.odds.learning.learned import Learned, learned
from hotelwatch.core.odds.settings import setting_of
from hotelwatch.core.odds_figures import OddsRules, Stance


@dataclass(frozen=True, slots=True)
class Measured:
    """The odds' rules with measured figures in place, and what was learned."""

    rules: OddsRules
    learned: Learned


def measured(house: House, today: date) -> Measured:
    """What counts on a day; a figure that the hotel chose itself stays as chosen."""
    told = learned(house, today, found_share=found_share(house, today))
    rules = house.rules.odds
    return Measured(rules.with_figures(told.measured(rules)), told)


def found_share(house: House, today: date) -> float:
    """The share of introductions since bookings begin that are found by now, as modelled.

    Of a span S in which each stays hidden for m days on average, about 1 - m / S.
    """
    arrivals = [stay.arrives_on for stay in house.stays if stay.counts and stay.arrives_on <= today]
    span = (today - min(arrivals, default=today)).days
    if not span:
        return 0.0
    rules = house.rules.odds
    now = now_of(house, today)
    around = circumstances_of(house, today, {})
    setting = setting_of(rules, Stance.CENTRAL)
    eyes = eyes_of(rules, setting, now.way, room=usual_room(house), around=around)
    seen = detection(eyes, now.cycle_days, around.traps_every_days)
    return max(0.0, 1.0 - seen.mean_days / span)
