"""Simulations said in a line, for tests and benchmarks."""

from __future__ import annotations

from dataclasses import replace

from hotelwatch.core.odds.cycles.cycle_ways import CheckWay
from hotelwatch.core.odds.simulation.hotel import corridor_hotel
from hotelwatch.core.odds.simulation.lets import usual_pattern
from hotelwatch.core.odds.simulation.policies import RINGS, HouseRule
from hotelwatch.core.odds.simulation.run import Simulation
from hotelwatch.core.odds_figures import Stance
from tests.build import rules

FULL = CheckWay(cover_opened=True, headboard_off=True)
AMPLE = (10_000.0,) * 7


def house_rule(**changes):
    """A cycle of 90 days with everything opened, and minutes for it on five days a week."""
    usual = HouseRule(
        cycle_days=90,
        minutes_by_weekday=(160.0,) * 5 + (0.0, 0.0),
        way=FULL,
        ring=RINGS["all"],
        ring_days=1,
        follow_ups=4,
        follow_up_days=7,
        trap_days=14,
        early_share=0.25,
        corridor_minutes=8.0,
    )
    return replace(usual, **changes)


def odds(**values):
    """The shipped odds, with figures of the same value in every stance."""
    shipped = rules().odds
    own = {
        key: replace(shipped.figure(key), value=v, cautious=v, optimistic=v)
        for key, v in values.items()
    }
    return shipped.with_figures(own)


def simulation(*chosen, rooms=200, years=50, seed=1, let=0.64, nights=2.0, **more):
    """A simulation of an invented hotel; ``figures`` change its odds."""
    figures = more.pop("figures", {})
    plan = Simulation(
        hotel=corridor_hotel(rules(), rooms),
        lets=usual_pattern(let, nights),
        odds=odds(**figures),
        rules=chosen or (house_rule(),),
        years=years,
        seed=seed,
        stances=(Stance.CENTRAL,),
    )
    return replace(plan, **more)
