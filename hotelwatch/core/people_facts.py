"""Kinds of fact about who works with the file: role, training, and what was refused.

A PIN stands nowhere in plain, only its argon2id hash. Whoever has the file can read all
of it all the same: roles keep honest people from mistakes, no thief from a copied file.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import ClassVar

from hotelwatch.core.facts import Fact, Name, Topic


class StaffRole(StrEnum):
    """What somebody does in the hotel; what it may write and see stands in ``core.roles``."""

    EXECUTIVE = "executive_housekeeper"
    SUPERVISOR = "supervisor"
    HOUSEKEEPER = "housekeeper"
    FRONT_DESK = "front_desk_clerk"
    ENGINEER = "engineer"
    MANAGER = "hotel_manager"
    """Reads, and writes nothing down."""


class WhyRefused(StrEnum):
    """Why a deed was refused."""

    ROLE = "role"
    NOBODY = "nobody"
    """Nobody had shown a PIN."""
    WRONG_PIN = "wrong_pin"


@dataclass(frozen=True, slots=True)
class PersonDescribed(Fact):
    """Somebody of the hotel who works with the file; the latest word counts."""

    topic: ClassVar[Topic] = Topic.PEOPLE
    person: Name
    """The name that stands beside what this person writes down."""
    role: StaffRole
    pin_hash: str
    """In argon2's own form: variant, costs, salt and digest. Never the PIN."""
    in_use: bool = True
    """False: has left; what was written down stays."""


@dataclass(frozen=True, slots=True)
class DeedRefused(Fact):
    """Somebody tried what their role may not do, or gave a wrong PIN; nothing else was done."""

    topic: ClassVar[Topic] = Topic.PEOPLE
    person: Name
    """Who sat there, or whose PIN was tried; empty: nobody."""
    role: str
    """The role at that moment; empty: none."""
    deed: str
    """The action, as entries name it; "sit_down" for a PIN, "see" for looking."""
    kinds: tuple[str, ...]
    """What could not be written, by kinds of fact; or what could not be seen."""
    why: WhyRefused


class TrainingTopic(StrEnum):
    """What somebody was trained in."""

    SIGNS = "training_signs"
    """Telling bed bugs and their signs from what is taken for them."""
    LOOKING = "training_looking"
    """How a room and a bed are looked at, place by place."""
    RESPONSE = "training_response"
    """What to do and not to do when something is seen or reported."""
    LIFTING = "training_lifting"
    """Lifting and turning mattresses and bases, in twos, with which aids."""


@dataclass(frozen=True, slots=True)
class TrainingRecorded(Fact):
    """Somebody was trained in something, in a language that they understand."""

    topic: ClassVar[Topic] = Topic.PEOPLE
    person: Name
    subject: TrainingTopic
    language: str
    """As it was said, "español"."""
    on: date
    by: Name
    """Who trained."""
