"""A house's own hotel simulated: its rooms, neighbours, guests, prices and measured figures."""

from __future__ import annotations

from datetime import date

from hotelwatch.core.house import House
from hotelwatch.core.odds.cycles.cycle_hotel import let_nights
from hotelwatch.core.odds.measured import measured
from hotelwatch.core.odds.settings import DAYS_A_YEAR
from hotelwatch.core.odds.simulation.hotel import hotel_of
from hotelwatch.core.odds.simulation.lets import LetPattern, own_pattern, usual_pattern
from hotelwatch.core.odds.simulation.measures import Comparison
from hotelwatch.core.odds.simulation.results import comparison_of
from hotelwatch.core.odds.simulation.run import Simulation, simulate
from hotelwatch.core.odds.simulation.wishes import SimulationWish
from hotelwatch.core.progress import Progress, silent


def simulated(wish: SimulationWish, progress: Progress = silent) -> Comparison:
    """What a house's rule comes to over many hotel-years, and what another one changes."""
    plan = simulation_of(wish)
    outcomes = simulate(plan, progress).outcomes
    return comparison_of(outcomes, plan.stances, tried=len(plan.rules) > 1)


def simulation_of(wish: SimulationWish) -> Simulation:
    """The simulation that a wish asks for."""
    return Simulation(
        hotel=hotel_of(wish.house, wish.around),
        lets=lets_of(wish.house, wish.today),
        odds=measured(wish.house, wish.today).rules,
        rules=(wish.usual,) if wish.tried is None else (wish.usual, wish.tried),
        years=wish.years,
        seed=wish.seed,
    )


def lets_of(house: House, today: date) -> LetPattern:
    """How rooms are let: by the stays that have begun; by figures where those are too few."""
    begun = (stay for stay in house.stays if stay.arrives_on <= today)
    own = own_pattern(begun)
    if own is not None:
        return own
    figures = house.rules.odds.figures
    nights = DAYS_A_YEAR * figures.usual_let_share.value / figures.stays_per_room_year.value
    return usual_pattern(let_nights(house, today).share, max(1.0, nights))
