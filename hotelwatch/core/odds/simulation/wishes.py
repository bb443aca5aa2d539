"""What somebody wants simulated, without arrays: a house, its rule, one to try, how long."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.building.neighbours import Neighbour
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.simulation.policies import HouseRule

USUAL_YEARS = 300
"""Hotel-years where nobody says how many: enough to tell rules apart, in seconds."""
USUAL_SEED = 1


@dataclass(frozen=True, slots=True)
class SimulationWish:
    """A simulation that somebody wants."""

    house: House
    around: Mapping[RoomNo, tuple[Neighbour, ...]]
    today: date
    usual: HouseRule
    tried: HouseRule | None = None
    years: int = USUAL_YEARS
    seed: int = USUAL_SEED
