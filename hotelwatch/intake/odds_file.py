"""What the odds rest on, read from the shipped odds.toml."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

from hotelwatch.core.odds_figures import (
    FIGURE_KEYS,
    PLACES,
    GrowthCurve,
    LookKind,
    OddsFigure,
    OddsFigures,
    OddsRules,
    Stance,
)
from hotelwatch.core.standing import Standing


def read_odds(path: Path) -> OddsRules:
    """Read every figure of the odds.

    Raises ValueError, naming the table, where one is missing, unknown or out of its
    range, where shares do not sum to 1, or where a look names an unknown place.
    """
    with path.open("rb") as file:
        tables = tomllib.load(file)
    if strange := sorted(tables["figures"].keys() ^ set(FIGURE_KEYS)):
        raise ValueError(f"{path.name}: missing or unknown figures: {', '.join(strange)}")
    figures = OddsFigures(**{key: _figure(key, row) for key, row in tables["figures"].items()})
    growth = {key: _growth(key, row) for key, row in tables["growth"].items()}
    by_stance = {Stance(key): curve for key, curve in tables["growth_by_stance"].items()}
    if set(by_stance) != set(Stance) or not set(by_stance.values()) <= set(growth):
        raise ValueError(f"{path.name}: growth_by_stance must name a curve for each stance")
    shares = tuple(float(tables["places"][place]) for place in PLACES)
    if not math.isclose(sum(shares), 1.0):
        raise ValueError(f"{path.name}: shares of places sum to {sum(shares)}, not to 1")
    shows = dict(tables["shows"])
    shows_standing = Standing(shows.pop("standing"))
    for code, parts in shows.items():
        if strange := sorted(set(parts) - set(PLACES)):
            raise ValueError(f"{path.name}: shows.{code} names unknown {', '.join(strange)}")
    return OddsRules(
        figures=figures,
        growth=growth,
        growth_by_stance=by_stance,
        shares=shares,
        shares_standing=Standing(tables["places"]["standing"]),
        shares_source=tables["places"]["source"],
        looks={key: _look(key, row) for key, row in tables["looks"].items()},
        shows={code: dict(parts) for code, parts in shows.items()},
        shows_standing=shows_standing,
    )


def _figure(key: str, row: dict[str, Any]) -> OddsFigure:
    figure = OddsFigure(
        key=key,
        value=float(row["value"]),
        cautious=float(row["cautious"]),
        optimistic=float(row["optimistic"]),
        low=float(row["low"]),
        high=float(row["high"]),
        unit=row["unit"],
        standing=Standing(row["standing"]),
        source=row["source"],
        note=row["note"],
    )
    for stance in Stance:
        if not figure.low <= figure.of(stance) <= figure.high:
            raise ValueError(f"{key}: {stance} is not within {figure.low} to {figure.high}")
    return figure


def _growth(key: str, row: dict[str, Any]) -> GrowthCurve:
    days = tuple(map(float, row["days"]))
    insects = tuple(map(float, row["insects"]))
    if len(days) != len(insects) or list(days) != sorted(set(days)) or min(insects) <= 0:
        raise ValueError(f"growth.{key}: days must rise, with one number of insects each")
    return GrowthCurve(
        key=key,
        days=days,
        insects=insects,
        rate=float(row["rate"]),
        let_share=float(row["let_share"]),
        standing=Standing(row["standing"]),
        source=row["source"],
    )


def _look(key: str, row: dict[str, Any]) -> LookKind:
    seen = tuple(map(float, row["seen"]))
    if len(seen) != len(PLACES) or not all(0.0 <= part <= 1.0 for part in seen):
        raise ValueError(f"looks.{key}: one part from 0 to 1 for each of {', '.join(PLACES)}")
    if row["notice"] not in FIGURE_KEYS:
        raise ValueError(f"looks.{key}: no figure {row['notice']}")
    return LookKind(key, seen, row["notice"], Standing(row["standing"]))
