"""Figures, kinds of bed and weights of signs, read from the shipped TOML files."""

from __future__ import annotations

import tomllib
from dataclasses import fields
from pathlib import Path
from typing import Any

from hotelwatch.core.beds import BedKind, Place
from hotelwatch.core.case_facts import Sign
from hotelwatch.core.parameters import (
    Evidence,
    Figure,
    Figures,
    Lookalike,
    Response,
    Rules,
    SignWeight,
)
from hotelwatch.core.profile import SHIPPED_PROFILE, Profile
from hotelwatch.core.standing import Standing
from hotelwatch.intake.odds_file import read_odds
from hotelwatch.intake.rule_sets_file import read_rule_sets


def read_rules(resources: Path) -> Rules:
    """Read the figures, beds, signs, look-alikes and local rules from a folder.

    Raises ValueError, naming the table, where a figure or a sign is missing, unknown
    or out of its range, or where a kind of bed names a place that is not described.
    """
    with (resources / "beds.toml").open("rb") as file:
        beds = tomllib.load(file)
    places = {code: _place(code, row) for code, row in beds["places"].items()}
    kinds = {code: _bed_kind(code, row, places) for code, row in beds["beds"].items()}
    room_places = _listed("room", beds["room"]["places"], places)
    return Rules(
        figures=read_figures(resources / "parameters.toml"),
        bed_kinds=kinds,
        room_places=room_places,
        form_version=beds["form_version"],
        evidence=read_evidence(resources / "evidence.toml"),
        responses=read_responses(resources / "evidence.toml"),
        lookalikes=read_lookalikes(resources / "lookalikes.toml"),
        profiles=read_profiles(resources / "profiles.toml"),
        odds=read_odds(resources / "odds.toml"),
    )


def read_figures(path: Path) -> Figures:
    """Read every figure; ValueError names the one that is missing, unknown or wrong."""
    with path.open("rb") as file:
        tables = tomllib.load(file)
    wanted = {field.name for field in fields(Figures)}
    if strange := sorted(tables.keys() ^ wanted):
        raise ValueError(f"{path.name}: missing or unknown figures: {', '.join(strange)}")
    return Figures(**{key: _figure(key, row) for key, row in tables.items()})


def read_evidence(path: Path) -> dict[str, SignWeight]:
    """Read the weight of every sign; ValueError names those missing or unknown."""
    with path.open("rb") as file:
        tables = tomllib.load(file)
    tables.pop("response", None)
    if strange := sorted(tables.keys() ^ set(Sign)):
        raise ValueError(f"{path.name}: missing or unknown signs: {', '.join(strange)}")
    return {sign: _sign_weight(sign, row) for sign, row in tables.items()}


def read_responses(path: Path) -> dict[Evidence, Response]:
    """Read what signs of each weight set going; ValueError names weights missing or unknown."""
    with path.open("rb") as file:
        tables = tomllib.load(file).get("response", {})
    if strange := sorted(tables.keys() ^ set(Evidence)):
        raise ValueError(f"{path.name}: missing or unknown weights: {', '.join(strange)}")
    return {
        Evidence(weight): Response(
            asks_ring=row["asks_ring"],
            wants_judgement=row["wants_judgement"],
            standing=Standing(row["standing"]),
            source=row["source"],
            note=row["note"],
        )
        for weight, row in tables.items()
    }


def read_lookalikes(path: Path) -> dict[str, Lookalike]:
    """Read what is often taken for a bed bug, in the order of the file."""
    with path.open("rb") as file:
        tables = tomllib.load(file)
    return {
        code: Lookalike(code, row["name"], row["marks"], Standing(row["standing"]), row["source"])
        for code, row in tables.items()
    }


def read_profiles(path: Path) -> dict[str, Profile]:
    """Read every set of local rules; ValueError names what is wrong, and where."""
    reading = read_rule_sets(path.read_text("utf-8"), path.name)
    if reading.problems:
        raise ValueError(f"{path.name}: {reading.problems[0]}")
    sets = {profile.key: profile for profile in reading.sets}
    if SHIPPED_PROFILE not in sets:
        raise ValueError(f"{path.name}: no table [{SHIPPED_PROFILE}]")
    return sets


def _sign_weight(sign: str, row: dict[str, Any]) -> SignWeight:
    return SignWeight(
        sign=sign,
        weight=Evidence(row["weight"]),
        standing=Standing(row["standing"]),
        source=row["source"],
        note=row["note"],
        after_treatment=Evidence(row["after_treatment"]) if "after_treatment" in row else None,
    )


def _figure(key: str, row: dict[str, Any]) -> Figure:
    figure = Figure(
        key=key,
        value=float(row["value"]),
        low=float(row["low"]),
        high=float(row["high"]),
        unit=row["unit"],
        standing=Standing(row["standing"]),
        source=row["source"],
        note=row["note"],
    )
    if not figure.low <= figure.value <= figure.high:
        raise ValueError(f"{key}: {figure.value} is not within {figure.low} to {figure.high}")
    return figure


def _place(code: str, row: dict[str, Any]) -> Place:
    return Place(
        code=code,
        underside=row.get("underside", False),
        people=row["people"],
        likeliness=row["likely"],
        optional=row.get("optional", False),
        one_way=row.get("one_way", False),
        move=row.get("move", ""),
        caution=row.get("caution", ""),
    )


def _listed(owner: str, codes: list[str], places: dict[str, Place]) -> tuple[Place, ...]:
    if strange := [code for code in codes if code not in places]:
        raise ValueError(f"beds.toml: {owner} names places not described: {', '.join(strange)}")
    return tuple(places[code] for code in codes)


def _bed_kind(code: str, row: dict[str, Any], places: dict[str, Place]) -> BedKind:
    return BedKind(
        code=code,
        places=_listed(code, row["places"], places),
        encased_places=_listed(code, row.get("encased", row["places"]), places),
        minutes=row["minutes"],
        encased_minutes=row["encased_minutes"],
        people=row["people"],
        lifts_kg={move: float(weight) for move, weight in row.get("lifts_kg", {}).items()},
    )
