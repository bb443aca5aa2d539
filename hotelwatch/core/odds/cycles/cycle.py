"""What a cycle buys: how long an infestation goes unseen, how large it gets, who finds it.

Exact: summed over the day of the cycle on which it comes in, over the place where it mainly
sits, and over days. By age, four may find it, in this order on a day: a guest, whoever makes
the bed, traps, the check. Given the place they are independent, and the day within the cycle
matters to the check alone; so each keeps its own curve and curves are multiplied.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.cycles.cycle_rows import HORIZON_DAYS, Circumstances, Detection, Finder
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, UsualRoom, look_of, shares_of
from hotelwatch.core.odds.growth import Floats, ageing, insects_at
from hotelwatch.core.odds.sensitivity import chance_seen, guest_notices
from hotelwatch.core.odds.settings import Setting
from hotelwatch.core.odds_figures import OddsRules

HALF, MOST = 0.5, 0.9
"""Quantiles that are told: the middle one, and the one that a tenth is above."""
WEEK = 7.0


@dataclass(frozen=True, slots=True)
class Eyes:
    """The chance that each finder notices an infestation on a day, by its age in days."""

    insects: Floats
    """(ages,)"""
    shares: Floats
    """Where it mainly sits (places,)."""
    check: Floats
    """Of one check, were it on that day (places, ages)."""
    traps: Floats | None
    """Of one reading, were it on that day (places, ages); None: no traps."""
    glance: Floats
    """Of a mean day (places, ages)."""
    guest: Floats
    """Of a mean day (ages,)."""
    pressure: Floats
    """Pressure on neighbours summed over the days before each age (ages,)."""


def eyes_of(
    rules: OddsRules, setting: Setting, way: CheckWay, *, room: UsualRoom, around: Circumstances
) -> Eyes:
    """Who would notice what, for a way of checking in one stance."""
    ages = np.arange(HORIZON_DAYS)
    aged = ages * ageing(setting, around.let_share)
    insects = insects_at(setting.growth, aged, setting.most_insects)
    shares = shares_of(way, room)
    traps = None
    if way.traps:
        stood = np.minimum(ages, around.traps_every_days) / around.traps_every_days
        kind = setting.look(rules.looks["traps"])
        traps = chance_seen(setting, kind, insects * stood, shares=shares)
    pressing = insects / (insects + setting.spread_half)
    return Eyes(
        insects=insects,
        shares=np.asarray(shares),
        check=chance_seen(setting, look_of(rules, setting, way), insects, shares=shares),
        traps=traps,
        glance=_glance(rules, setting, insects, shares=shares, around=around),
        guest=around.let_share * guest_notices(setting, insects),
        pressure=np.concatenate([[0.0], np.cumsum(pressing)[:-1]]),
    )


def _glance(
    rules: OddsRules,
    setting: Setting,
    insects: Floats,
    *,
    shares: tuple[float, ...],
    around: Circumstances,
) -> Floats:
    nights = around.glances_a_night
    if nights is None:
        usual = rules.figures.usual_let_share.of(setting.stance)
        nights = rules.figures.glances_per_week.of(setting.stance) / WEEK / usual
    weight = setting.glance_weight if around.glance_weight is None else around.glance_weight
    seen = chance_seen(setting, setting.look(rules.looks["glance"]), insects, shares=shares)
    a_day = min(1.0, nights * around.let_share) if around.glances else 0.0
    return a_day * (1.0 - (1.0 - seen) ** weight)


def detection(eyes: Eyes, cycle_days: int, traps_every_days: int = 14) -> Detection:
    """When an infestation is found with a check every ``cycle_days`` days, and by whom.

    It comes in on any day of the cycle alike; so do readings of traps, apart from checks.
    """
    guests = _all_days(eyes.guest)
    glances = _all_days(eyes.glance)
    checks = rounds_curve(eyes.check, cycle_days)
    traps = (
        np.ones_like(checks) if eyes.traps is None else rounds_curve(eyes.traps, traps_every_days)
    )
    hidden = eyes.shares @ (guests * glances * traps * checks)
    daily = guests[1:] * glances[:, 1:]
    first = {
        Finder.CHECK: daily * traps[:, 1:] * _fallen(checks),
        Finder.TRAPS: daily * _fallen(traps) * checks[:, :-1],
        Finder.GLANCE: guests[1:] * _fallen(glances) * traps[:, :-1] * checks[:, :-1],
        Finder.GUEST: _fallen(guests) * glances[:, :-1] * traps[:, :-1] * checks[:, :-1],
    }
    shares = {finder: float(eyes.shares @ by.sum(axis=1)) for finder, by in first.items()}
    shares[Finder.NOBODY] = float(hidden[-1])
    days = [_first_day(hidden, quantile) for quantile in (HALF, MOST)]
    insects = [None if day is None else float(eyes.insects[day]) for day in days]
    return Detection(
        mean_days=float(hidden[1:].sum()),
        median_days=days[0],
        late_days=days[1],
        median_insects=insects[0],
        many_insects=insects[1],
        first=shares,
        found=_fallen(hidden),
    )


def rounds_curve(chances: Floats, every_days: int) -> Floats:
    """The chance that looks every so many days missed it up to each age (places, ages + 1).

    Column a stands before the looks of age a. The first look comes 1 to ``every_days`` days
    after it came in, each alike: on each day of age one of these is looked at.
    """
    places, ages = chances.shape
    turns = -(-(ages - 1) // every_days)
    missed = np.ones((places, turns * every_days))
    missed[:, : ages - 1] = 1.0 - chances[:, 1:]
    after = np.cumprod(missed.reshape(places, turns, every_days), axis=1)
    before = np.concatenate([np.ones((places, 1, every_days)), after[:, :-1]], axis=1)
    fallen = (before - after).reshape(places, -1)[:, : ages - 1] / every_days
    curve = np.ones((places, ages + 1))
    curve[:, 2:] = np.maximum(1.0 - np.cumsum(fallen, axis=1), 0.0)
    return curve


def _all_days(chances: Floats) -> Floats:
    """The chance that looks of every day missed it, before each age and after the last one."""
    ones = np.ones((*chances.shape[:-1], 1))
    return np.concatenate([ones, np.cumprod(1.0 - chances, axis=-1)], axis=-1)


def _fallen(curve: Floats) -> Floats:
    return curve[..., :-1] - curve[..., 1:]


def _first_day(hidden: Floats, quantile: float) -> int | None:
    """The first age by whose end so large a share is found; None within the horizon."""
    day = int(np.argmax(hidden[1:] <= 1.0 - quantile))
    return day if hidden[day + 1] <= 1.0 - quantile else None


def spread_on(
    setting: Setting, eyes: Eyes, seen: Detection, neighbours: Mapping[tuple[Kind, ...], float]
) -> float:
    """How many neighbouring rooms one infestation reaches before it is found, expected.

    One step only: rooms that those infest in turn are left out, so it is a lower figure.
    """
    hidden = seen.first[Finder.NOBODY]
    rooms = 0.0
    for kinds, number in neighbours.items():
        rate = max(setting.spread.get(kind, 0.0) for kind in kinds)
        reached = -np.expm1(-rate * eyes.pressure)
        rooms += number * float(seen.found @ reached + hidden * reached[-1])
    return rooms
