"""Words that people write in rosters and bookings, from resources/headings.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from hotelwatch import paths
from hotelwatch.intake.cells import fold


@dataclass(frozen=True, slots=True)
class Words:
    """What each folded word means: synonym → code."""

    roster: Mapping[str, str]
    """Heading → field."""
    stays: Mapping[str, str]
    people: frozenset[str]
    """Headings of columns about people, which are never read."""
    sides: Mapping[str, str]
    answers: Mapping[str, str]
    """Word → "yes" or "no"."""
    nothing: frozenset[str]
    """Ways to say that there is none."""
    beds: Mapping[str, str]
    """Word → kind of bed."""
    bed_sizes: frozenset[str]
    statuses: Mapping[str, str]
    months: Mapping[str, int]
    floors: Mapping[str, str]
    """Word → "below", "ground", "mezzanine", "top" or "beside"."""

    def is_roster_heading(self, text: str) -> bool:
        """Whether a roster's column may be headed so."""
        folded = fold(text)
        return folded in self.roster or folded in self.beds

    def is_stays_heading(self, text: str) -> bool:
        """Whether a column of a list of bookings may be headed so."""
        folded = fold(text)
        return folded in self.stays or folded in self.people

    def is_nothing(self, text: str) -> bool:
        """Whether a cell says that there is none: empty, a dash, "none"."""
        return not text or text.casefold() in self.nothing


@cache
def shipped_words() -> Words:
    """The words of the shipped headings.toml."""
    return read_words(paths.resources() / "headings.toml")


def read_words(path: Path) -> Words:
    """Read a headings.toml; ValueError where a word stands in two lists of a table."""
    with path.open("rb") as file:
        tables = tomllib.load(file)
    answers = dict(tables["answers"])
    nothing = frozenset(word.casefold() for word in answers.pop("nothing"))
    return Words(
        roster=_turned(tables, "roster"),
        stays=_turned(tables, "stays"),
        people=frozenset(fold(word) for word in tables["people"]["columns"]),
        sides=_turned(tables, "sides"),
        answers=_turned({"answers": answers}, "answers"),
        nothing=nothing,
        beds=_turned(tables, "beds"),
        bed_sizes=frozenset(fold(word) for word in tables["bed_sizes"]["words"]),
        statuses=_turned(tables, "statuses"),
        months={word: number for number, word in enumerate(tables["months"]["names"], 1)},
        floors=_turned(tables, "floors"),
    )


def _turned(tables: Mapping[str, Any], name: str) -> dict[str, str]:
    meanings: dict[str, str] = {}
    for code, words in tables[name].items():
        for word in words:
            folded = fold(word) or word
            if meanings.setdefault(folded, code) != code:
                raise ValueError(f"[{name}]: {word!r} stands for {meanings[folded]} and {code}")
    return meanings
