"""What a rule's deep look is in one stance: what it sees, where insects sit, its minutes."""

from __future__ import annotations

from dataclasses import dataclass

from hotelwatch.core.odds.cycles.cycle_ways import look_of, shares_of
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.settings import Look, Setting
from hotelwatch.core.odds.simulation.hotel import SimulatedHotel
from hotelwatch.core.odds.simulation.policies import HouseRule
from hotelwatch.core.odds_figures import OddsRules


@dataclass(frozen=True, slots=True)
class Checking:
    """A deep look as one stance has it."""

    look: Look
    shares: tuple[float, ...]
    minutes: Floats
    """Of a team, for each room."""


def checking(
    rules: OddsRules, setting: Setting, rule: HouseRule, hotel: SimulatedHotel
) -> Checking:
    """A rule's deep look in one stance."""
    figures, stance, way, usual = rules.figures, setting.stance, rule.way, hotel.usual
    beds = hotel.encased_minutes if way.encased else hotel.beds_minutes
    extra = 0.0
    if way.cover_opened and not way.encased:
        extra += usual.covers * figures.extra_minutes_cover.of(stance)
    if way.headboard_off:
        extra += usual.headboards * figures.extra_minutes_headboard.of(stance)
    return Checking(
        look=look_of(rules, setting, way),
        shares=shares_of(way, usual),
        minutes=hotel.setup_minutes + beds * way.longer + extra,
    )
