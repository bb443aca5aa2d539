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
    try:
        return _rules(path.name, tables)
    except KeyError as missing:
        raise ValueError(f"{path.name}: {missing} is missing") from missing


def _rules(name: str, tables: dict[str, Any]) -> OddsRules:
    if strange := sorted(tables["figures"].keys() ^ set(FIGURE_KEYS)):
        raise ValueError(f"{name}: missing or unknown figures: {', '.join(strange)}")
    figures = OddsFigures(**{key: _figure(key, row) for key, row in tables["figures"].items()})
    growth = {key: _growth(key, row) for key, row in tables["growth"].items()}
    by_stance = {Stance(key): curve for key, curve in tables["growth_by_stance"].items()}
    if set(by_stance) != set(Stance) or not set(by_stance.values()) <= set(growth):
        raise ValueError(f"{name}: growth_by_stance must name a curve for each stance")
    shares = tuple(float(tables["places"][place]) for place in PLACES)
    if not math.isclose(sum(shares), 1.0) or min(shares) < 0.0:
        raise ValueError(f"{name}: places: shares {shares} must be of one whole")
    shows = dict(tables["shows"])
    shows_standing = Standing(shows.pop("standing"))
    for code, parts in shows.items():
        if strange := sorted(set(parts) - set(PLACES)):
            raise ValueError(f"{name}: shows.{code} names unknown {', '.join(strange)}")
        if not all(0.0 <= part <= 1.0 for part in parts.values()):
            raise ValueError(f"{name}: shows.{code}: parts must be from 0 to 1")
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
    if len(days) != len(insects) or list(days) != sorted(set(days)) or days[:1] != (0.0,):
        raise ValueError(f"growth.{key}: days must rise from 0, with one number of insects each")
    if insects[0] <= 0 or list(insects) != sorted(insects):
        raise ValueError(f"growth.{key}: insects must be some, and never become fewer")
    rate, let_share = float(row["rate"]), float(row["let_share"])
    if rate <= 0.0 or not 0.0 < let_share <= 1.0:
        raise ValueError(f"growth.{key}: rate and let_share must be more than none")
    return GrowthCurve(
        key=key,
        days=days,
        insects=insects,
        rate=rate,
        let_share=let_share,
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
