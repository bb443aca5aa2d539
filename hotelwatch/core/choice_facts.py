"""Kinds of fact by which a hotel chooses its own rules: profile, figures, holidays, carts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from hotelwatch.core.facts import Fact, Topic


@dataclass(frozen=True, slots=True)
class CartServes(Fact):
    """Which rooms a cart serves from a day on; the latest word counts."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    cart: str
    rooms: tuple[str, ...]
    """None: the cart is no longer used."""
    from_on: date


@dataclass(frozen=True, slots=True)
class ProfileChosen(Fact):
    """Under which set of local rules the hotel works: the key of one at hand."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    profile: str


@dataclass(frozen=True, slots=True)
class RuleChosen(Fact):
    """A choice of the hotel's that is no number, as which neighbours count; "" takes it back."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    rule: str
    choice: str


@dataclass(frozen=True, slots=True)
class FigureChosen(Fact):
    """The hotel's own value of a shipped figure, with the person's reason."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    figure: str
    """A key of resources/parameters.toml."""
    value: float
    reason: str
    holds: bool = True
    """False takes it back: the shipped value counts again."""


@dataclass(frozen=True, slots=True)
class PublicHoliday(Fact):
    """A day that is no business day."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    on: date
    name: str
    holds: bool = True


@dataclass(frozen=True, slots=True)
class RoomTypesRanked(Fact):
    """Types of room from the plainest to the best, so that a guest is never moved down."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    types: tuple[str, ...]
